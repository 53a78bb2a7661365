package decay_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// must returns v; the arguments of the caller are known to be right.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func TestTimeToOfAnyLaw(t *testing.T) {
	exp := must(decay.NewExponential(3))
	f := decay.Function(func(t units.Time) float64 { return exp.Fraction(t) })
	for _, q := range []float64{1, 0.9, 0.5, 0.1, 1e-6, 1e-300} {
		got := must(decay.TimeTo(f, q))
		// The inverse of a rounded value: one ulp of f moves t by ε·τ/1 relative to t = τ·ln(1/f).
		tol := 1e-14 + 4*0x1p-52/math.Max(-math.Log(q), 1e-300)
		near(t, fmt.Sprintf("TimeTo(%g)", q), float64(got), 3*-math.Log(q), tol)
	}
	jump := decay.Function(func(t units.Time) float64 {
		if t < 7 {
			return 1
		}
		return 0.2
	})
	near(t, "jump", float64(must(decay.TimeTo(jump, 0.5))), 7, 1e-14)

	var never *decay.NeverError
	if _, err := decay.TimeTo(decay.Constant(1), 0.5); !errors.As(err, &never) || never.Floor != 1 {
		t.Errorf("a charge without a path: got %v, want a NeverError with floor 1", err)
	}
	var field *known.FieldError
	for _, q := range []float64{0, -1, 1.1, math.NaN()} {
		for _, l := range []decay.Law{exp, f} {
			if _, err := decay.TimeTo(l, q); !errors.As(err, &field) {
				t.Errorf("TimeTo(%T, %g): got %v, want a FieldError", l, q, err)
			}
		}
	}
	bad := decay.Function(func(t units.Time) float64 {
		if t > 1 {
			return math.NaN()
		}
		return 1
	})
	if _, err := decay.TimeTo(bad, 0.5); !errors.As(err, &field) || field.Field != "law" {
		t.Errorf("law that returns NaN: got %v", err)
	}
}

func TestRateOfAnyLaw(t *testing.T) {
	exp := must(decay.NewExponential(3))
	f := decay.Function(exp.Fraction)
	for _, x := range []units.Time{0, 1e-3, 1, 10, 100} {
		// Central difference with h = 6e-6 t: truncation h²/6 |f'''|, rounding ε f/h.
		got, want := decay.Rate(f, x), -math.Exp(-float64(x)/3)/3
		tol := 1e-6*math.Abs(want) + 0x1p-52/(6e-6*math.Max(float64(x), 1e-3))
		if !(math.Abs(got-want) <= tol) {
			t.Errorf("Rate at %v: got %g, want %g", x, got, want)
		}
	}
	if r := decay.Rate(f, -1); r != 0 {
		t.Errorf("rate before the start: got %g, want 0", r)
	}
}

func ExampleTimeTo() {
	// A film with a relaxation time of 10 s falls to 10 % in 10·ln 10 = 23.03 s.
	law, err := decay.NewExponential(10 * units.Second)
	if err != nil {
		fmt.Println(err)
		return
	}
	t, err := decay.TimeTo(law, 0.1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f s\n", float64(t))

	// In a free span nothing earthed touches the web: no time is long enough.
	_, err = decay.TimeTo(decay.Constant(1), 0.1)
	fmt.Println(err)
	// Output:
	// 23.03 s
	// the decay never reaches 0.1 of its start value: it stays at or above 1
}

func TestFractionsTo(t *testing.T) {
	exp := must(decay.NewExponential(2))
	times := []units.Time{0, 1, -1, 2, units.Time(math.NaN())}
	dst := make([]float64, len(times))
	err := decay.FractionsTo(dst, exp, times)
	var field *known.FieldError
	if !errors.As(err, &field) || field.Value != "rows [2 4]" {
		t.Errorf("got %v, want an error that lists rows 2 and 4", err)
	}
	for i, want := range []float64{1, math.Exp(-.5), math.NaN(), math.Exp(-1), math.NaN()} {
		if math.IsNaN(want) != math.IsNaN(dst[i]) || !(math.IsNaN(want) || math.Abs(dst[i]-want) < 1e-15) {
			t.Errorf("row %d: got %g, want %g", i, dst[i], want)
		}
	}
	good, l := times[:2], decay.Law(exp)
	if n := testing.AllocsPerRun(50, func() { _ = decay.FractionsTo(dst[:2], l, good) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}
