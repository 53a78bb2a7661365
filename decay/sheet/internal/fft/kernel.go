// Package fft evolves real maps whose Fourier modes each decay at their own rate
// and reads them back at any time: forward transform once, then for each time
// the decayed spectrum to the full map. Sizes are powers of two. It knows no
// physics.
//
// One length n is cut into rows of length m and columns of length p (D. H.
// Bailey, J. Supercomputing 4 (1990) 23), both short enough for the first-level
// cache, so that a map passes through memory three times in all. Two real rows
// ride in one complex transform. Columns of a late map hold few modes, and only
// these are decayed; of a line, a shorter transform then gives some points of the
// map and a local sum the points between.
package fft

import (
	"math"
	"math/bits"
	"sync"
)

// kernel is the complex transform of one length, a power of two, with the sign +
// in the exponent and without scaling, in place, decimated in frequency: output
// m stands at pos[m], and position i holds output out[i].
type kernel struct {
	n   int
	tw  []complex128 // w, w², w³ of every butterfly of every stage, in order of use
	pos []int32
	out []int32
}

// kernels are made when they are first asked for, by the binary logarithm of n,
// and serve all lines and grids.
var kernels [bits.UintSize]struct {
	once sync.Once
	of   *kernel
}

func kernelOf(n int) *kernel {
	k := &kernels[bits.TrailingZeros(uint(n))]
	k.once.Do(func() { k.of = newKernel(n) })
	return k.of
}

func newKernel(n int) *kernel {
	k := &kernel{n: n, pos: make([]int32, n), out: make([]int32, n)}
	for l := n; l >= 4; l /= 4 {
		if l == 4 {
			break // all factors are 1
		}
		for j := range l / 4 {
			for r := 1; r <= 3; r++ {
				k.tw = append(k.tw, root(r*j, l))
			}
		}
	}
	for i := range n {
		// Position i in stages of 4, then one of 2: digit d of weight n/4, n/16 … is
		// the digit of weight 1, 4 … of the output.
		m, w, x := 0, 1, i
		for l := n; l > 1; {
			r := 4
			if l == 2 {
				r = 2
			}
			l /= r
			m += x / l * w
			x %= l
			w *= r
		}
		k.pos[m], k.out[i] = int32(i), int32(m)
	}
	return k
}

// root returns e^{2πi j/n}, from the first octant so that it is correctly
// rounded in its symmetries.
func root(j, n int) complex128 {
	j %= n
	o := 8 * j / n
	a := 8*j - o*n // angle within the octant is 2π a/(8n)
	if o%2 == 1 {
		a = n - a
	}
	s, c := math.Sincos(math.Pi / 4 * float64(a) / float64(n))
	if o%2 == 1 {
		s, c = c, s
	}
	switch o / 2 {
	case 1:
		s, c = c, -s
	case 2:
		s, c = -s, -c
	case 3:
		s, c = -c, s
	}
	return complex(c, s)
}

// run transforms x in place.
func (k *kernel) run(x []complex128) { k.runFirst(x, k.n) }

// runFirst transforms x in place where all but the first few values are zero:
// while these fit the first quarter of a block, a butterfly has one input.
func (k *kernel) runFirst(x []complex128, few int) {
	x = x[:k.n]
	tw := k.tw
	l := k.n
	for ; l > 4 && few <= l/4; l /= 4 {
		q := l / 4
		for o := 0; o < len(x); o += l {
			x0 := x[o : o+few]
			x1 := x[o+q:][:len(x0)]
			x2 := x[o+2*q:][:len(x0)]
			x3 := x[o+3*q:][:len(x0)]
			w := tw[:3*len(x0)]
			for j, a := range x0 {
				if len(w) < 3 {
					break
				}
				x1[j], x2[j], x3[j] = a*w[0], a*w[1], a*w[2]
				w = w[3:]
			}
		}
		tw = tw[3*q:]
	}
	for ; l > 4; l /= 4 {
		q := l / 4
		t := tw[:3*q]
		tw = tw[3*q:]
		for o := 0; o < len(x); o += l {
			x0 := x[o : o+q]
			x1 := x[o+q : o+2*q][:len(x0)]
			x2 := x[o+2*q : o+3*q][:len(x0)]
			x3 := x[o+3*q : o+4*q][:len(x0)]
			w := t
			for j := range x0 {
				if len(w) < 3 {
					break
				}
				a, b, c, d := x0[j], x1[j], x2[j], x3[j]
				sr, si := real(a)+real(c), imag(a)+imag(c)
				tr, ti := real(a)-real(c), imag(a)-imag(c)
				ur, ui := real(b)+real(d), imag(b)+imag(d)
				vr, vi := imag(d)-imag(b), real(b)-real(d) // i(b−d)
				x0[j] = complex(sr+ur, si+ui)
				x1[j] = complex(tr+vr, ti+vi) * w[0]
				x2[j] = complex(sr-ur, si-ui) * w[1]
				x3[j] = complex(tr-vr, ti-vi) * w[2]
				w = w[3:]
			}
		}
	}
	if l == 4 {
		for o := 0; o+4 <= len(x); o += 4 {
			y := x[o : o+4 : o+4]
			a, b, c, d := y[0], y[1], y[2], y[3]
			sr, si := real(a)+real(c), imag(a)+imag(c)
			tr, ti := real(a)-real(c), imag(a)-imag(c)
			ur, ui := real(b)+real(d), imag(b)+imag(d)
			vr, vi := imag(d)-imag(b), real(b)-real(d)
			y[0] = complex(sr+ur, si+ui)
			y[1] = complex(tr+vr, ti+vi)
			y[2] = complex(sr-ur, si-ui)
			y[3] = complex(tr-vr, ti-vi)
		}
		return
	}
	if l == 2 {
		for o := 0; o+2 <= len(x); o += 2 {
			a, b := x[o], x[o+1]
			x[o], x[o+1] = a+b, a-b
		}
	}
}

// isPow2 reports whether n is a power of two.
func isPow2(n int) bool { return n > 0 && bits.OnesCount(uint(n)) == 1 }
