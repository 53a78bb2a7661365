// Package numeric has the small numerical methods that several packages of
// pithball need and gonum does not have in the form needed here: a bracketed
// root finder that fails with a typed error, a damped least-squares solver
// that does not allocate while it iterates, and products, factors and inverses
// of matrices that give the same bits on every platform. It knows no physics.
package numeric

import (
	"fmt"
	"math"
)

// BracketError says that a function has the same sign, or NaN, at both ends of
// the interval in which a root was asked for.
type BracketError struct {
	A, B   float64 // [unit of the argument] ends of the interval
	FA, FB float64 // [unit of the function] values there
}

// Error names the interval and both values.
func (e *BracketError) Error() string {
	return fmt.Sprintf("no root bracketed in [%g, %g]: the function is %g and %g there", e.A, e.B, e.FA, e.FB)
}

// ConvergenceError says that an iteration used up its steps.
type ConvergenceError struct {
	Method string  // "Brent", "Levenberg-Marquardt"
	Steps  int     // steps done
	Last   float64 // [see Method] width of the bracket, or relative step, when it gave up
}

// Error names the method, the steps and what was left.
func (e *ConvergenceError) Error() string {
	return fmt.Sprintf("%s: no convergence after %d steps (left: %g)", e.Method, e.Steps, e.Last)
}

// maxBrent bounds the steps: bisection alone halves the widest float64 interval
// to one ulp in fewer than 2100 steps; Brent's method needs about 10.
const maxBrent = 2200

// Brent returns a root of f in [a, b] to within |x|·rel + abs (half the final
// bracket) or the resolution of float64, whichever is coarser. f must change
// sign over the interval (a zero at an end is a root); else the error is a
// [*BracketError]. NaN from f inside the interval also gives a [*BracketError]
// at the point where it was met.
//
// Source: R. P. Brent, Algorithms for Minimization without Derivatives,
// Prentice-Hall 1973, chapter 4 (zeroin).
func Brent(f func(float64) float64, a, b, rel, abs float64) (float64, error) { // [unit of the argument of f]
	fa, fb := f(a), f(b)
	if fa == 0 {
		return a, nil
	}
	if fb == 0 {
		return b, nil
	}
	if !(fa < 0 && fb > 0 || fa > 0 && fb < 0) {
		return math.NaN(), &BracketError{a, b, fa, fb}
	}
	c, fc := a, fa
	d := b - a
	e := d
	for range maxBrent {
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		tol := 2*0x1p-53*math.Abs(b) + 0.5*(abs+rel*math.Abs(b))
		m := 0.5 * (c - b)
		if math.Abs(m) <= tol || fb == 0 {
			return b, nil
		}
		if math.Abs(e) < tol || math.Abs(fa) <= math.Abs(fb) {
			d, e = m, m
		} else {
			var p, q float64
			if s := fb / fa; a == c {
				p, q = 2*m*s, 1-s
			} else {
				u, r := fa/fc, fb/fc
				p = s * (2*m*u*(u-r) - (b-a)*(r-1))
				q = (u - 1) * (r - 1) * (s - 1)
			}
			if p > 0 {
				q = -q
			} else {
				p = -p
			}
			if 2*p < min(3*m*q-math.Abs(tol*q), math.Abs(e*q)) {
				e, d = d, p/q
			} else {
				d, e = m, m
			}
		}
		a, fa = b, fb
		if math.Abs(d) > tol {
			b += d
		} else {
			b += math.Copysign(tol, m)
		}
		fb = f(b)
		if math.IsNaN(fb) {
			return math.NaN(), &BracketError{a, b, fa, fb}
		}
		if (fb > 0) == (fc > 0) {
			c, fc = a, fa
			d = b - a
			e = d
		}
	}
	return b, &ConvergenceError{"Brent", maxBrent, math.Abs(c - b)}
}

// maxNewton bounds the steps of [Newton]: bisection alone, which is its worst case,
// takes 60 to narrow a bracket to one unit in the last place of its width.
const maxNewton = 100

// Newton returns the root of a function that is negative below it and positive
// above it, by Newton's method from x, kept in [lo, hi] and in what the signs leave of
// that by bisection. f gives value and slope; a slope that leads out of the bracket (0,
// NaN, the wrong sign) only costs a bisection, and so does a value of ±Inf. It stops
// when a step is at most abs + |x|·rel or the resolution of float64: the error
// is then far below that step. NaN from f gives a [*BracketError] at the point where it
// was met; steps without end give a [*ConvergenceError] and the last point.
//
// It allocates nothing, and takes about half of the calls of [Brent] where a slope is
// at hand.
func Newton(f func(x float64) (y, slope float64), x, lo, hi, rel, abs float64) (float64, error) { // [as Brent]
	for range maxNewton {
		y, slope := f(x)
		switch {
		case y < 0:
			lo = x
		case y > 0:
			hi = x
		case y == 0:
			return x, nil
		default:
			return math.NaN(), &BracketError{lo, hi, y, y}
		}
		next := x - y/slope
		if !(next >= lo && next <= hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-x) <= abs+(rel+0x1p-52)*math.Abs(next) {
			return next, nil
		}
		x = next
	}
	return x, &ConvergenceError{"Newton", maxNewton, hi - lo}
}

// Edge narrows the interval between good, where ok holds, and bad, where it does not,
// by halves until it is at most abs + |good|·rel wide or has no number inside, and
// returns its ends. It is for conditions that have no value to interpolate; where ok
// changes more than once it finds one of the changes.
func Edge(ok func(x float64) bool, good, bad, rel, abs float64) (float64, float64) { // [as Brent]
	for math.Abs(bad-good) > abs+rel*math.Abs(good) {
		mid := (good + bad) / 2
		if mid == good || mid == bad {
			break
		}
		if ok(mid) {
			good = mid
		} else {
			bad = mid
		}
	}
	return good, bad
}
