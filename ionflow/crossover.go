package ionflow

import (
	"math"

	"example.org/pithball/internal/numeric"
)

// plume is what Collect needs of the air about a part.
type plume struct {
	rate   float64 // [1/s] λ·exposed/ε0
	supply float64 // [A]
}

// airborne solves q + β(1−e^(−q)) = τ for q = ln(z₁/z₂), with τ = factor·dwell·λ/ε0
// and β = λz/(ε0·s), the ratio of the undisturbed current to the supply, and
// returns z₁ − z₂ = z(1−e^(−q)).
func (t *plume) airborne(z, fdwell float64) (float64, Regime) {
	tau, beta := t.rate*fdwell, t.rate*z/t.supply
	switch {
	case tau == 0:
		return 0, ConductivityLimited
	case beta > 1e14 || tau > 1e14: // one term is below rounding, or the dwell is without end
		if tau >= beta {
			return z, regimeOf(beta, tau-beta)
		}
		return min(z, t.supply*fdwell), SupplyLimited
	case beta < 1e-14:
		return -z * math.Expm1(-tau), ConductivityLimited
	}
	// y = β·e^(−q) is ω(c), c = ln β + β − τ: y + ln y = c.
	c := math.Log(beta) + beta - tau
	q := tau - beta + omega(c)
	if !(q > 0) { // all digits of q were lost in τ − β + y
		q = tau / (1 + beta)
	}
	// Newton steps in q restore the digits: the residual has no cancellation. After most starts one is enough.
	var done float64
	for range 6 {
		done = -math.Expm1(-q)
		dq := (tau - q - beta*done) / (1 + beta*(1-done))
		q += dq
		done += (1 - done) * dq * (1 - dq/2)
		if math.Abs(dq) <= 1e-8*q { // leaves half its square
			break
		}
	}
	return z * min(done, 1), regimeOf(beta*done, q)
}

// omega returns an approximation of the Wright ω function, y + ln y = c, good to
// a relative 2e-8: the starts leave at most 0.05 in the equation, the step about res⁴/100 of that.
//
// Source of the step: F. N. Fritsch, R. E. Shafer, W. P. Crowley, "Solution of
// the transcendental equation w·e^w = x", Comm. ACM 16 (1973) 123.
func omega(c float64) float64 {
	var y float64
	switch {
	case c < -30:
		return numeric.Exp(c)
	case c < -1:
		e := numeric.Exp(c)
		y = e / (1 + e*(1-0.5*e))
	case c < 4:
		x := c - 1
		y = 1 + x*(0.5+x*(1./16-x*(1./192+x*(1./3072))))
	default:
		l := math.Log(c)
		y = c - l + l/c*(1+(l-2)/(2*c))
	}
	res := c - y - math.Log(y)
	w := 1 + y
	u := 2 * w * (w + 2./3*res)
	return y * (1 + res/w*(u-res)/(u-2*res))
}

// regimeOf names the term that took most of the time.
func regimeOf(bySupply, byAir float64) Regime {
	if bySupply > byAir {
		return SupplyLimited
	}
	return ConductivityLimited
}
