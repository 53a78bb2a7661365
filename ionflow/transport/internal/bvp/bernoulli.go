package bvp

import "math"

// Bernoulli returns B(z) = z/(eᶻ − 1), the weight of the exponentially fitted
// flux: B(0) = 1, B(−z) = B(z) + z, positive for every z. Relative accuracy is a
// few units in the last place; NaN gives NaN.
func Bernoulli(z float64) float64 {
	t := math.Abs(z)
	bs := 0.0
	switch {
	case t < 1:
		bs, _ = bernoulli(t)
	case t < 700:
		bs = t / math.Expm1(t)
	case t != t:
		return z
	}
	if z < 0 {
		return bs + t
	}
	return bs
}

// bernoulli returns B(t) and B'(t) for t >= 0; above 45, where B is below the
// rounding of B + t, both are 0. Both weights of a face follow
// from it without cancellation: B(−t) = B(t) + t, B'(−t) = −1 − B'(t).
func bernoulli(t float64) (b, db float64) {
	switch {
	case t < 0.02:
		// Taylor series; the first term left out is t⁶/30240 < 3e-15.
		t2 := t * t
		return 1 - t/2 + t2/12*(1-t2/60), -0.5 + t/6*(1-t2/30)
	case t > 45:
		return 0, 0
	}
	var em float64
	if t > 1 {
		em = math.Exp(t) - 1
	} else {
		em = math.Expm1(t)
	}
	b = t / em
	return b, (1 - b - t) / em
}
