package fft

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Grid against gonum's transforms along rows and columns, early and late.
func TestGrid(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for _, s := range [][2]int{{4, 4}, {4, 64}, {64, 4}, {32, 16}, {128, 256}} {
		rows, cols := s[0], s[1]
		v := make([]float64, rows*cols)
		for i := range v {
			v[i] = rnd.NormFloat64() - 0.2
		}
		rate := func(x, y int) float64 {
			return math.Hypot(float64(x), float64(y)*float64(cols)/float64(rows))
		}
		g := NewGrid(v, rows, cols, rate, nil)
		dst, w := make([]float64, len(v)), g.NewWork()
		for _, tm := range []float64{0, 0.02, 0.4, 3, 40} {
			want := plainGrid(v, rows, cols, rate, tm)
			g.MapTo(dst, tm, w)
			for i := range want {
				if !(math.Abs(dst[i]-want[i]) <= 1e-14) {
					t.Fatalf("%d × %d, t %g, value %d: %g, want %g", rows, cols, tm, i, dst[i], want[i])
				}
			}
		}
	}
}

func plainGrid(v []float64, rows, cols int, rate func(x, y int) float64, tm float64) []float64 {
	f, c := fourier.NewFFT(cols), fourier.NewCmplxFFT(rows)
	w := cols/2 + 1
	s := make([][]complex128, rows)
	for r := range rows {
		s[r] = f.Coefficients(nil, v[r*cols:(r+1)*cols])
	}
	col := make([]complex128, rows)
	for x := range w {
		for r := range rows {
			col[r] = s[r][x]
		}
		z := c.Coefficients(nil, col)
		for y := range z {
			z[y] *= complex(math.Exp(-rate(x, min(y, rows-y))*tm)/float64(rows*cols), 0)
		}
		z = c.Sequence(nil, z)
		for r := range rows {
			s[r][x] = z[r]
		}
	}
	out := make([]float64, 0, rows*cols)
	for r := range rows {
		out = append(out, f.Sequence(nil, s[r])...)
	}
	return out
}

func BenchmarkGrid(b *testing.B) {
	const n = 1024
	v := make([]float64, n*n)
	for i := range v {
		v[i] = float64(i*i%977) - 488
	}
	g := NewGrid(v, n, n, func(x, y int) float64 { return math.Hypot(float64(x), float64(y)) }, nil)
	w := g.NewWork()
	for _, c := range []struct {
		name string
		t    float64
	}{{"full", 0}, {"tenth", 40.0 / 50}, {"late", 40.0 / 5}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				g.MapTo(v, c.t, w)
			}
		})
	}
	b.Run("forward", func(b *testing.B) {
		for b.Loop() {
			g.forward(v)
		}
	})
}
