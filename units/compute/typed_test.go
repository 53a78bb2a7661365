package compute_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

type thick struct {
	Width length
	Shape shape
	Bent  bool
}

// TestDirect: whatever the parameters and results are made of, the direct call gives what the one by reflection gives,
// results and refusals, again and again from one pool.
func TestDirect(t *testing.T) {
	mixed := func(s thick, n int, r [2]float64) (thick, [2]float64, known.Validity, error) {
		if n < 0 {
			return s, r, 0, known.Wrong("n", n, "0 or more")
		}
		s.Width *= length(n)
		s.Shape, s.Bent = 1-s.Shape, !s.Bent
		return s, [2]float64{r[1], r[0]}, known.Validity(n), nil
	}
	items := []string{"width -9…9; shape; bent; n -5…5; r# -9…9", "-> width; shape; bent; r#; flags"}
	ctx := func(c context.Context, x length) (length, error) { return x, c.Err() }
	short := []string{"x 0…1", "-> y"}
	for _, pair := range [][2]compute.Entry{
		{compute.Of("F", mixed, source, items...), compute.Of34("F", mixed, source, items...)},
		{compute.Of("F", ctx, source, short...), compute.Of22("F", ctx, source, short...)},
	} {
		a, b := &pair[0], &pair[1]
		if len(a.Args) != len(b.Args) || len(a.Results) != len(b.Results) ||
			(a.EvalContext == nil) != (b.EvalContext == nil) {
			t.Fatalf("%+v\n%+v", a, b)
		}
		got, want := make([]float64, len(a.Results)), make([]float64, len(a.Results))
		for _, row := range [][]float64{{2, 1, 0, 3, 5, 7}, {1, 0, 1, 0, 2, 3}, {1, 0, 1, -1, 2, 3}, {4, 1, 1, 5, 0, 9}} {
			row = slices.Clone(row[:len(a.Args)])
			row[0] /= 8
			e1, e2 := a.Call(want, row), b.Call(got, row)
			if (e1 == nil) != (e2 == nil) || e1 != nil && e1.Error() != e2.Error() {
				t.Errorf("%v: %v, %v", row, e2, e1)
			}
			for i := range want {
				if got[i] != want[i] && !(math.IsNaN(got[i]) && math.IsNaN(want[i])) {
					t.Errorf("%v: %v, want %v", row, got, want)
				}
			}
		}
		stopped, cancel := context.WithCancel(t.Context())
		cancel()
		if err := b.CallContext(stopped, got, make([]float64, len(b.Args))); !errors.Is(err, context.Canceled) {
			t.Error(err)
		}
	}
}

// TestDirectForms: each form puts parameters and results where they belong. The digits of a result tell which
// parameters
// came where.
func TestDirectForms(t *testing.T) {
	type x = float64
	f1 := func(a x) x { return a }
	f2 := func(a, b x) x { return a + 10*b }
	f3 := func(a, b, c x) x { return f2(a, b) + 100*c }
	f4 := func(a, b, c, d x) x { return f3(a, b, c) + 1000*d }
	f5 := func(a, b, c, d, e x) x { return f4(a, b, c, d) + 1e4*e }
	f6 := func(a, b, c, d, e, f x) x { return f5(a, b, c, d, e) + 1e5*f }
	in := []string{"a 0…9", "b 0…9", "c 0…9", "d 0…9", "e 0…9", "f 0…9"}
	out := []string{"-> p", "q", "r", "s"}
	of := func(n, m int) []string { return append(slices.Clone(in[:n]), out[:m]...) }
	for _, c := range []struct {
		n, m int
		e    compute.Entry
	}{
		{1, 1, compute.Of11("F", f1, source, of(1, 1)...)},
		{1, 2, compute.Of12("F", func(a x) (x, x) { return a, 2 * a }, source, of(1, 2)...)},
		{1, 3, compute.Of13("F", func(a x) (x, x, x) { return a, 2 * a, 3 * a }, source, of(1, 3)...)},
		{1, 4, compute.Of14("F", func(a x) (x, x, x, x) { return a, 2 * a, 3 * a, 4 * a }, source, of(1, 4)...)},
		{2, 1, compute.Of21("F", f2, source, of(2, 1)...)},
		{2, 2, compute.Of22("F", func(a, b x) (x, x) { y := f2(a, b); return y, 2 * y }, source, of(2, 2)...)},
		{2, 3, compute.Of23("F", func(a, b x) (x, x, x) { y := f2(a, b); return y, 2 * y, 3 * y }, source, of(2, 3)...)},
		{2, 4, compute.Of24("F", func(a, b x) (x, x, x, x) { y := f2(a, b); return y, 2 * y, 3 * y, 4 * y }, source,
			of(2, 4)...)},
		{3, 1, compute.Of31("F", f3, source, of(3, 1)...)},
		{3, 2, compute.Of32("F", func(a, b, c x) (x, x) { y := f3(a, b, c); return y, 2 * y }, source, of(3, 2)...)},
		{3, 3, compute.Of33("F", func(a, b, c x) (x, x, x) { y := f3(a, b, c); return y, 2 * y, 3 * y }, source,
			of(3, 3)...)},
		{3, 4, compute.Of34("F", func(a, b, c x) (x, x, x, x) { y := f3(a, b, c); return y, 2 * y, 3 * y, 4 * y },
			source, of(3, 4)...)},
		{4, 1, compute.Of41("F", f4, source, of(4, 1)...)},
		{4, 2, compute.Of42("F", func(a, b, c, d x) (x, x) { y := f4(a, b, c, d); return y, 2 * y }, source, of(4, 2)...)},
		{4, 3, compute.Of43("F", func(a, b, c, d x) (x, x, x) { y := f4(a, b, c, d); return y, 2 * y, 3 * y }, source,
			of(4, 3)...)},
		{4, 4, compute.Of44("F", func(a, b, c, d x) (x, x, x, x) {
			y := f4(a, b, c, d)
			return y, 2 * y, 3 * y, 4 * y
		}, source, of(4, 4)...)},
		{5, 1, compute.Of51("F", f5, source, of(5, 1)...)},
		{5, 2, compute.Of52("F", func(a, b, c, d, e x) (x, x) { y := f5(a, b, c, d, e); return y, 2 * y }, source,
			of(5, 2)...)},
		{5, 3, compute.Of53("F", func(a, b, c, d, e x) (x, x, x) { y := f5(a, b, c, d, e); return y, 2 * y, 3 * y },
			source, of(5, 3)...)},
		{5, 4, compute.Of54("F", func(a, b, c, d, e x) (x, x, x, x) {
			y := f5(a, b, c, d, e)
			return y, 2 * y, 3 * y, 4 * y
		}, source, of(5, 4)...)},
		{6, 1, compute.Of61("F", f6, source, of(6, 1)...)},
		{6, 2, compute.Of62("F", func(a, b, c, d, e, f x) (x, x) { y := f6(a, b, c, d, e, f); return y, 2 * y }, source,
			of(6, 2)...)},
		{6, 3, compute.Of63("F", func(a, b, c, d, e, f x) (x, x, x) {
			y := f6(a, b, c, d, e, f)
			return y, 2 * y, 3 * y
		}, source, of(6, 3)...)},
		{6, 4, compute.Of64("F", func(a, b, c, d, e, f x) (x, x, x, x) {
			y := f6(a, b, c, d, e, f)
			return y, 2 * y, 3 * y, 4 * y
		}, source, of(6, 4)...)},
	} {
		got, args := make([]float64, c.m), []float64{1, 2, 3, 4, 5, 6}[:c.n]
		if err := c.e.Call(got, args); err != nil {
			t.Fatal(err)
		}
		for i, y := range got {
			if want := []float64{1, 21, 321, 4321, 54321, 654321}[c.n-1] * float64(i+1); y != want {
				t.Errorf("Of%d%d: result %d is %v, want %v", c.n, c.m, i, y, want)
			}
		}
	}
}
