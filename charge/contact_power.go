package charge

import "math"

// The growth of a contact with speed and load takes two logarithms and one
// exponential a step. These kernels use tables and leave out the special values
// that a checked contact has excluded: less than half the time of package math.

// ln returns the natural logarithm of a normal positive x with an absolute error
// of 3e-16·(1 + |ln x|). Zero, subnormal, negative, infinite and NaN arguments
// are the caller's to keep out.
func ln(x float64) float64 {
	b := math.Float64bits(x)
	k := float64(int(b>>52) - 1023)
	c := &logTable[b>>45&127]
	// x = 2^k·c·(1 + r) with |r| ≤ 1/256; the series stops at r⁷/7 < 2e-18.
	r := math.Float64frombits(b&(1<<52-1)|1023<<52)*c[0] - 1
	r2 := r * r
	return (k*math.Ln2 + c[1]) + (r + r2*((-0.5+r*(1.0/3))+r2*((-0.25+r*0.2)-r2*(1.0/6))))
}

// power returns (e^−lx·x)^a·(e^−ly·y)^b for arguments that keep the result
// within e^±700. Its relative error is that of the exponent of e: 1e-15 for a
// factor of 10, 2e-14 at e^±60.
func power(a, x, lx, b, y, ly float64) float64 {
	e := 0.0
	if a != 0 {
		e = a * (ln(x) - lx)
	}
	if b != 0 {
		e += b * (ln(y) - ly)
	}
	const (
		shift = 0x1.8p52 // adding it rounds to a whole number
		stepH = 0x1.62e42fefp-7
		stepL = math.Ln2/64 - stepH
	)
	kf := (e*(64*math.Log2E) + shift) - shift
	k := int(kf)
	r := (e - kf*stepH) - kf*stepL // |r| ≤ ln2/128; the series stops at r⁶/720 < 4e-17
	r2 := r * r
	p := r + r2*((0.5+r*(1.0/6))+r2*(1.0/24+r*(1.0/120)))
	t := expTable[k&63]
	return math.Float64frombits(math.Float64bits(t+t*p) + uint64(k>>6)<<52)
}
