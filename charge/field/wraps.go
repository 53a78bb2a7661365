package field

import "math"

// logSum returns Σ a_k·ln(r/a_k) over the wraps k = 0 … n−1 of a roll, with a_k = a + k·t and r = a + n·t: the first
// wraps one by one, the others by the sum of Euler and Maclaurin, whose terms fall with (t/a_k)², so that a million
// wraps take no longer than twenty. With f(k) = a_k·ln(r/a_k) and q = t/a_k, f‴ = t·q², f⁗′ = 6t·q⁴ and f of seven
// strokes is 120t·q⁶; the first term that is left out is below 3e-13·t.
func logSum(a, t float64, n int) float64 { // [m]
	const direct = 12
	sum := 0.0
	for k := range min(n, direct) {
		x := a + float64(k)*t
		sum += x * math.Log1p(float64(n-k)*t/x)
	}
	if n <= direct {
		return sum
	}
	x := a + direct*t
	u := float64(n-direct) * t / x
	l := math.Log1p(u)
	q, p := t/x, t/(a+float64(n)*t) // at the first wrap that is left and at the surface, where f is 0
	q, p = q*q, p*p
	return sum + x*x/t*beyondLog(u) + x*l/2 - t*(l/12+(p-q)/720-(p*p-q*q)/5040+(p*p*p-q*q*q)/10080)
}

// beyondLog is (u + u²/2 − ln(1 + u))/2, the integral of x·ln(r/x) from x to r = (1 + u)·x in units of x²; for a thin
// build it is the small rest of great terms, and a series.
func beyondLog(u float64) float64 { // [1]
	if u > 0.25 {
		return (u + u*u/2 - math.Log1p(u)) / 2
	}
	sum, power := 0.0, u*u
	for j := 3; j < 32; j++ { // 0.25^32 is below 1e-19
		power *= -u
		sum += power / float64(j)
	}
	return (u*u + sum) / 2
}
