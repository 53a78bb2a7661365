package line_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// TestVariants: a line that takes the room of another runs to the same bits as one that was made afresh, also after
// changes that were refused half-way, and making it costs no room of its own.
func TestVariants(t *testing.T) {
	const v = 250 * units.MetrePerMinute
	d := demoDescription(t)
	for i := range d.Stations {
		if d.Stations[i].Kind == line.Nip {
			d.Stations[i].Roller.Kind, d.Stations[i].Roller.Cover = line.InsulatingCover, 266*units.Second
		}
	}
	l := newLine(t, d)
	u, _, _ := l.Unknowns()
	many := l.Variants(v)
	r := rand.New(rand.NewPCG(1, 2))
	x := make([]float64, len(u))
	want, got := make([]line.Result, l.Len()), make([]line.Result, l.Len())
	before, after := make([]line.Result, l.Len()), make([]line.Result, l.Len())
	l.RunTo(before, v)
	for n := range 50 {
		for k := range x {
			x[k] = 10e-6 * r.NormFloat64()
		}
		e := 2*r.Float64() - 0.5
		exponent := func(k int) float64 { return e + 0.1*float64(k) }
		if n%7 == 3 {
			last := x[len(x)-1]
			x[len(x)-1] = 1 // no face carries a coulomb
			if _, err := many.With(x, exponent); err == nil {
				t.Fatal("1 C/m² is taken")
			}
			x[len(x)-1] = last
		}
		one, err := l.With(x, v, exponent)
		if err != nil {
			t.Fatal(err)
		}
		other, err := many.With(x, exponent)
		if err != nil {
			t.Fatal(err)
		}
		one.RunTo(want, 1.2*v)
		other.RunTo(got, 1.2*v)
		if !slices.Equal(want, got) {
			t.Fatalf("line %d: %+v, want %+v", n, got, want)
		}
	}
	if l.RunTo(after, v); !slices.Equal(before, after) {
		t.Error("the line itself was changed")
	}
	fresh := testing.AllocsPerRun(10, func() { _, _ = l.With(x, v, nil) })
	if again := testing.AllocsPerRun(10, func() { _, _ = many.With(x, nil) }); again > fresh/2 {
		t.Errorf("%v allocations, afresh %v", again, fresh)
	}
	if _, err := many.With(x[1:], nil); err == nil {
		t.Error("a change too few is taken")
	}
}
