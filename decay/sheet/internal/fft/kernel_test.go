package fft

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
)

// The kernel against gonum's transform.
func TestKernel(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for n := 1; n <= 4096; n *= 2 {
		k := newKernel(n)
		x := make([]complex128, n)
		for i := range x {
			x[i] = complex(rnd.NormFloat64(), rnd.NormFloat64())
		}
		want := fourier.NewCmplxFFT(n).Sequence(nil, x)
		k.run(x)
		for m := range want {
			if d := cmplx.Abs(x[k.pos[m]] - want[m]); !(d <= 1e-14*math.Sqrt(float64(n))*math.Log2(float64(n)+2)) {
				t.Fatalf("n %d, output %d: off by %g", n, m, d)
			}
		}
	}
}

func BenchmarkKernel1024(b *testing.B) {
	k := newKernel(1024)
	x := make([]complex128, 1024)
	for b.Loop() {
		k.run(x)
	}
}

func BenchmarkGonum1024(b *testing.B) {
	k := fourier.NewCmplxFFT(1024)
	x := make([]complex128, 1024)
	for b.Loop() {
		k.Sequence(x, x)
	}
}
