package fft

import (
	"math"
	"math/bits"
	"slices"
	"sync"
)

// A late map of few waves is a smooth curve: a lane computes it at one point in u,
// with a transform u times as short, and fills in the points between by a local
// sum of taps values. Its window I₀(β√(1 − (2x/taps)²)) (J. F. Kaiser, in System
// Analysis by Digital Computer, 1966, ch. 7) has the transform
//
//	taps·sinh(s)/s, s = √(β² − (π·taps·ξ)²)
//
// at ξ waves a coarse point, by whose inverse the waves are raised before. What
// leaks from the image of a wave at 1 − ξ, and from the others, is below 2e-16 of
// it up to ξ = 3/16 and grows beyond, where most waves are nearly dead.
type lane struct {
	u     int             // fine points a coarse one, a power of two of 2 or more
	first [half]float64   // weights at a coarse point: of itself and of the sums of neighbours equally far off
	mid   [half]float64   // half way to the next, of such sums
	pairs [][taps]float64 // at i/u and 1 − i/u, i = 1 … u/2 − 1: of sums, and of differences
}

const (
	taps = 16
	half = taps / 2
	beta = 0.81 * math.Pi * taps
)

// lanes are made when they are first asked for, by the binary logarithm of u.
var lanes [bits.UintSize]struct {
	once sync.Once
	of   *lane
}

func laneOf(u int) *lane {
	l := &lanes[bits.TrailingZeros(uint(u))]
	l.once.Do(func() { l.of = newLane(u) })
	return l.of
}

func newLane(u int) *lane {
	l := &lane{u: u, mid: [half]float64(weights(0.5)[half:])}
	copy(l.first[:], weights(0))
	slices.Reverse(l.first[:])
	for i := 1; i < u/2; i++ {
		w := weights(float64(i) / float64(u))
		var t [taps]float64
		for k := range half {
			a, b := w[half-1-k], w[half+k]
			t[k], t[half+k] = (a+b)/2, (a-b)/2
		}
		l.pairs = append(l.pairs, t)
	}
	return l
}

// weights returns the window around the place x, 0 ≤ x < 1, at the coarse points
// 1 − half … half. They add up to 1, as the wave of no waves asks.
func weights(x float64) []float64 {
	w, sum := make([]float64, taps), 0.0
	for k := range w {
		r := (x + half - 1 - float64(k)) / half
		y := beta * beta / 4 * (1 - r*r)
		for n, term := 1.0, 1.0; term > 0x1p-60*w[k]; n++ { // I₀(z) = Σ (z²/4)ⁿ/n!²
			w[k] += term
			term *= y / (n * n)
		}
		sum += w[k]
	}
	for k := range w {
		w[k] /= sum
	}
	return w
}

// leak bounds what the images of waves beyond ξ = 3/16 add to any point of the map
// at a time, if live blocks are left of the waves and a block has one wave in p
// coarse points: all images of a wave are less than twice the one at 1 − ξ, where
// the transform of the window has passed its first zero, twice 1.
func (t *tail) leak(at float64, live, p int) float64 {
	transform := func(x float64) float64 { // over taps
		s := beta*beta - math.Pi*taps*x*(math.Pi*taps*x)
		if s <= 0 {
			return 1
		}
		s = math.Sqrt(s)
		return math.Sinh(s) / s
	}
	sum := 0.0
	for b := 3 * p / 16; b < live; b++ {
		x := float64(b+1) / float64(p)
		sum += t.rest(b, at) * 2 * transform(1-x) / transform(x)
	}
	return sum
}

// raise sets y[i] = s[i]·exp(−r[i]·t) over what the window leaves of a wave that
// runs q + i·step times round n coarse points.
func (l *lane) raise(y, s []complex128, r []float64, t float64, q, step, n int) {
	s, r = s[:len(y)], r[:len(y)]
	f := math.Pi * taps / float64(n)
	for i := range y {
		z := f * float64(q+i*step)
		z *= z
		a := math.Sqrt(beta*beta - z)
		y[i] = scale(s[i], a*(1/beta)*math.Exp(z/(beta+a)-r[i]*t))
	}
}

// fill sets dst to the map whose coarse points are c, periodic, with room for
// half−1 values before and half behind them.
func (l *lane) fill(dst, c []float64) {
	m := len(c) - taps + 1
	for k := range half {
		c[m+half-1+k] = c[half-1+k]
	}
	copy(c[:half-1], c[m:])
	u := l.u
	for a := range m {
		v := (*[taps]float64)(c[a:])
		d := dst[a*u:][:u]
		s0, s1, s2, s3 := v[7]+v[8], v[6]+v[9], v[5]+v[10], v[4]+v[11]
		s4, s5, s6, s7 := v[3]+v[12], v[2]+v[13], v[1]+v[14], v[0]+v[15]
		w := &l.first
		d[0] = ((w[0]*v[7] + w[1]*(v[6]+v[8])) + (w[2]*(v[5]+v[9]) + w[3]*(v[4]+v[10]))) +
			((w[4]*(v[3]+v[11]) + w[5]*(v[2]+v[12])) + (w[6]*(v[1]+v[13]) + w[7]*(v[0]+v[14])))
		w = &l.mid
		d[u/2] = ((w[0]*s0 + w[1]*s1) + (w[2]*s2 + w[3]*s3)) + ((w[4]*s4 + w[5]*s5) + (w[6]*s6 + w[7]*s7))
		if len(l.pairs) == 0 {
			continue
		}
		e0, e1, e2, e3 := v[7]-v[8], v[6]-v[9], v[5]-v[10], v[4]-v[11]
		e4, e5, e6, e7 := v[3]-v[12], v[2]-v[13], v[1]-v[14], v[0]-v[15]
		up := d[1:][:len(l.pairs)]
		for i := range up {
			w := &l.pairs[i]
			s := ((w[0]*s0 + w[1]*s1) + (w[2]*s2 + w[3]*s3)) + ((w[4]*s4 + w[5]*s5) + (w[6]*s6 + w[7]*s7))
			e := ((w[8]*e0 + w[9]*e1) + (w[10]*e2 + w[11]*e3)) + ((w[12]*e4 + w[13]*e5) + (w[14]*e6 + w[15]*e7))
			up[i], d[u-1-i] = s+e, s-e
		}
	}
}
