package field

import (
	"math"
	"math/big"
	"testing"

	"example.org/pithball/units"
)

// TestLogSum holds the sum over the wraps against the plain sum, each logarithm by the series
// ln(1 + u) = 2·artanh(u/(2 + u)) and added with 120 bits: thin and thick builds, few wraps and many.
func TestLogSum(t *testing.T) {
	for _, c := range []struct {
		a, t float64
		n    int
	}{{0.1, 20e-6, 0}, {0.1, 20e-6, 1}, {0.1, 20e-6, 2}, {0.1, 20e-6, 24}, {0.1, 20e-6, 25}, {0.1, 20e-6, 30},
		{0.1, 20e-6, 5000},
		{0.1, 1e-9, 25}, {0.1, 1e-9, 3000}, {10, 1e-9, 1000}, {1e-4, 1, 12}, {1e-4, 1, 13}, {1e-4, 1, 14}, {1e-4, 1, 400},
		{0.05, 1e-3, 200},
		{0.05, 1e-4, 126}, {0.05, 1e-4, 200}, {1e-4, 1e-9, 2000}, {0.03, 2.5e-4, 300}} {
		want := plainSum(c.a, c.t, c.n)
		if got := logSum(c.a, c.t, c.n); !(math.Abs(got-want) <= 2e-14*want) {
			t.Errorf("%+v: %.17g, want %.17g, off by %.1e", c, got, want, got/want-1)
		}
	}
}

func plainSum(a, t float64, n int) float64 {
	num := func(x float64) *big.Float { return new(big.Float).SetPrec(120).SetFloat64(x) }
	op := func() *big.Float { return new(big.Float).SetPrec(120) }
	sum, r := num(0), op().Add(num(a), op().Mul(num(float64(n)), num(t)))
	for k := range n {
		x := op().Add(num(a), op().Mul(num(float64(k)), num(t)))
		// ln(r/x): halved until the series is quick.
		ratio, halves := op().Quo(r, x), 0
		for ratio.Cmp(num(1.5)) > 0 {
			ratio.Sqrt(ratio)
			halves++
		}
		z := op().Quo(op().Sub(ratio, num(1)), op().Add(ratio, num(1)))
		square, power, l := op().Mul(z, z), op().Set(z), num(0)
		for j := 1; j < 60; j += 2 {
			l.Add(l, op().Quo(power, num(float64(j))))
			power.Mul(power, square)
		}
		l.Mul(l, num(math.Ldexp(2, halves)))
		sum.Add(sum, op().Mul(x, l))
	}
	f, _ := sum.Float64()
	return f
}

// TestRollOfManyWraps: the state is right on both sides of the number from which the wraps are no longer added one by
// one, and the core of many stays at earth.
func TestRollOfManyWraps(t *testing.T) {
	spec := RollSpec{CoreRadius: 0.05, EarthedCore: true, Thickness: 1e-6, RelativePermittivity: 3, Outer: 2e-9,
		Inner:        -5e-10,
		Surroundings: 4}
	r, err := NewRoll(spec)
	if err != nil {
		t.Fatal(err)
	}
	// A thin roll of uniform charge ρ = σ_net/t in volume: ΔV = ρ·x²/(2ε0·ε_r) where the room is far and the build thin.
	for _, n := range []int{11, 12, 13, 14, 100} {
		x := float64(n) * 1e-6
		hand := (2e-9*x*(x+1e-6) - 5e-10*x*(x-1e-6)) / 1e-6 / (2 * units.Epsilon0 * 3) // faces of a wrap lie t apart
		if got := float64(r.At(n).Voltage); !(math.Abs(got/hand-1) <= 2*x/0.05) {
			t.Errorf("%d wraps: %g V, by hand %g", n, got, hand)
		}
	}
	// Against the layers one by one, as Gauss and the earthed core have them.
	for _, n := range []int{1000, 100_000} {
		s := r.At(n)
		out := float64(s.Radius)
		flux, v := float64(s.Field)*units.Epsilon0*out, float64(s.Free)
		for k := n; k >= 1; k-- {
			a, b := 0.05+float64(k-1)*1e-6, 0.05+float64(k)*1e-6
			flux -= 2e-9 * b
			v += flux / (units.Epsilon0 * 3) * math.Log(b/a)
			flux += 5e-10 * a
		}
		if !(math.Abs(v) <= 1e-8*math.Abs(float64(s.Free))) {
			t.Errorf("%d wraps: core at %g V, surface at %v", n, v, s.Free)
		}
	}
}
