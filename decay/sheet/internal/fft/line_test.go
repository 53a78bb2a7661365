package fft

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Line against gonum's transform, at all lengths and early and late times.
func TestLine(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for n := MinLine; n <= 1<<13; n *= 2 {
		x := make([]float64, n)
		for i := range x {
			x[i] = rnd.NormFloat64() + 0.3
		}
		rate := func(q int) float64 { return float64(q) * (1 + float64(q)/float64(n)) }
		l := NewLine(x, rate, nil)
		f := fourier.NewFFT(n)
		c := f.Coefficients(nil, x)
		dst, w := make([]float64, n), l.NewWork()
		d := make([]complex128, len(c))
		for _, tm := range []float64{0, 0.01, 0.3, 2, 30} {
			for q := range c {
				d[q] = c[q] * complex(math.Exp(-rate(q)*tm)/float64(n), 0)
			}
			want := f.Sequence(nil, d)
			l.MapTo(dst, tm, w)
			for i := range want {
				if !(math.Abs(dst[i]-want[i]) <= 1e-14) {
					t.Fatalf("n %d, t %g, sample %d: %g, want %g", n, tm, i, dst[i], want[i])
				}
			}
		}
	}
}

// A map whose only mode is the highest keeps it however small it gets: the rest
// is judged against what is there.
func TestLineKeepsWhatIsThere(t *testing.T) {
	const n = 1024
	x := make([]float64, n)
	for i := range x {
		x[i] = 1 - 2*float64(i%2)
	}
	l := NewLine(x, func(q int) float64 { return float64(q) }, nil)
	dst := make([]float64, n)
	l.MapTo(dst, 0.25, l.NewWork())
	want := math.Exp(-128)
	for i := range dst {
		if d := dst[i]/(want*(1-2*float64(i%2))) - 1; !(math.Abs(d) < 1e-12) {
			t.Fatalf("sample %d: %g, want ±%g", i, dst[i], want)
		}
	}
}

func TestMapToDoesNotAllocate(t *testing.T) {
	x := make([]float64, 4096)
	x[7] = 1
	l := NewLine(x, func(q int) float64 { return float64(q) }, nil)
	w := l.NewWork()
	if n := testing.AllocsPerRun(20, func() { l.MapTo(x, 0.1, w) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkLine(b *testing.B) {
	const n = 1 << 20
	x := make([]float64, n)
	for i := range x {
		x[i] = float64(i*i%977) - 488
	}
	rate := func(q int) float64 { return float64(q) }
	l := NewLine(x, rate, nil)
	w := l.NewWork()
	dst := make([]float64, n)
	for name, t := range map[string]float64{"full": 0, "tenth": 40 / (0.05 * n), "late": 40 / (0.001 * n)} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				l.MapTo(dst, t, w)
			}
		})
	}
	b.Run("forward", func(b *testing.B) {
		for b.Loop() {
			l.forward(x)
		}
	})
}
