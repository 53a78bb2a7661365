package fft

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
)

// One wave that does not decay, among faster ones that have died, is the cosine
// that it was: at every wave number, with and without a lane.
func TestLineKeepsOneWave(t *testing.T) {
	for _, n := range []int{256, 1 << 11, 1 << 14} {
		x, dst := make([]float64, n), make([]float64, n)
		worst := 0.0
		for q := 0; q <= n/2; q += max(1, n/500) {
			for i := range x {
				x[i] = math.Cos(2 * math.Pi * (float64(q*i%n)/float64(n) + 0.1))
			}
			l := NewLine(x, func(k int) float64 { return 1e9 * float64(max(0, k-q)) }, nil)
			l.MapTo(dst, 1, l.NewWork())
			for i := range x {
				worst = math.Max(worst, math.Abs(dst[i]-x[i]))
			}
		}
		if bound := 0x1p-52 * math.Log2(float64(n)); !(worst <= bound) { // one rounding a stage
			t.Errorf("n %d: off by %g, more than %g", n, worst, bound)
		}
	}
}

// Maps at many times against gonum's transform, to the rounding of the greatest
// value then: as the waves die, all lanes are taken.
func TestLineLate(t *testing.T) {
	const n = 1 << 14
	rnd := rand.New(rand.NewPCG(7, 8))
	x, dst := make([]float64, n), make([]float64, n)
	for i := range x {
		x[i] = rnd.NormFloat64()
	}
	f := fourier.NewFFT(n)
	c := f.Coefficients(nil, x)
	c[0], x = 0, f.Sequence(x, append([]complex128{0}, c[1:]...)) // no mean, which would hide the rest
	for i := range x {
		x[i] /= n
	}
	rate := func(q int) float64 { return float64(q) * float64(q) / n }
	l := NewLine(x, rate, nil)
	w, d := l.NewWork(), make([]complex128, len(c))
	for tm := 1e-5; tm < 1e3; tm *= 1.2 {
		for q := range c {
			d[q] = c[q] * complex(math.Exp(-rate(q)*tm)/n, 0)
		}
		want := f.Sequence(nil, d)
		l.MapTo(dst, tm, w)
		top, worst := 0.0, 0.0
		for i := range want {
			top = math.Max(top, math.Abs(want[i]))
			worst = math.Max(worst, math.Abs(dst[i]-want[i]))
		}
		if bound := 0x1p-52 * math.Log2(n) * top; !(worst <= bound) { // of both, one rounding a stage
			t.Errorf("t %g: off by %g, more than %g", tm, worst, bound)
		}
	}
}
