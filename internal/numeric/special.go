package numeric

import (
	"math"
	"strconv"
)

// The functions below give the same bits on amd64 and as WebAssembly. Those of package math do not:
// its exponential is assembly on some processors, another one on amd64 with fused
// multiplication than without, and Go elsewhere; what is made from it follows. Where package
// math has no exponential in it (logarithms, circular functions, roots, whole powers, an
// error function near zero) it is the same everywhere but for fused multiplications, which
// a build for amd64 and WebAssembly does not have.

// Pow returns x^y, as math.Pow does for all that is no ordinary number. The whole part of
// y by multiplications, the rest e^(y·ln x): about one unit in the last place for each
// factor.
func Pow(x, y float64) float64 { // [1]
	whole, rest := math.Modf(math.Abs(y))
	if rest == 0 || rest == 0.5 && whole == 0 || !(x > 0) || math.IsInf(x, 1) || math.IsInf(y, 0) || whole >= 1<<53 {
		return math.Pow(x, y) // no exponential in it
	}
	if rest > 0.5 {
		rest--
		whole++
	}
	p := Exp(float64(rest * math.Log(x)))
	if y < 0 {
		return math.Pow(x, -whole) / p
	}
	return float64(math.Pow(x, whole) * p)
}

// Sinh returns the hyperbolic sine.
func Sinh(x float64) float64 { // [1]
	a := math.Abs(x)
	if !(a > 0.5) {
		return math.Sinh(x) // no exponential in it
	}
	e := Exp(a)
	return math.Copysign(0.5*(e-1/e), x)
}

// Cosh returns the hyperbolic cosine.
func Cosh(x float64) float64 { // [1]
	e := Exp(math.Abs(x))
	return 0.5 * (e + 1/e)
}

// Tanh returns the hyperbolic tangent.
func Tanh(x float64) float64 { // [1]
	a := math.Abs(x)
	if !(a >= 0.625) || a > 44 {
		return math.Tanh(x) // no exponential in it
	}
	return math.Copysign(1-2/(Exp(2*a)+1), x)
}

// Erf returns the error function.
func Erf(x float64) float64 { // [1]
	if a := math.Abs(x); !(a >= 1.25) || a >= 6 {
		return math.Erf(x) // no exponential in it
	} else {
		return math.Copysign(1-Erfc(a), x)
	}
}

// Erfc returns the complementary error function, for |x| of 1.25 and more by the rational
// approximations of FreeBSD's msun, lib/msun/src/s_erf.c, with this notice:
//
//	Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
//	Developed at SunPro, a Sun Microsystems, Inc. business.
//	Permission to use, copy, modify, and distribute this software is freely granted,
//	provided that this notice is preserved.
func Erfc(x float64) float64 { // [1]
	a := math.Abs(x)
	if !(a >= 1.25) || a >= 28 || x <= -6 {
		return math.Erfc(x) // no exponential in it
	}
	s := 1 / float64(a*a)
	var r float64
	if a < 1/0.35 {
		r = polynomial(s, erfR[:]) / polynomial(s, erfS[:])
	} else {
		r = polynomial(s, tailR[:]) / polynomial(s, tailS[:])
	}
	z := math.Float64frombits(math.Float64bits(a) & 0xffffffff00000000) // its square is exact
	y := float64(Exp(-float64(z*z)-0.5625)*Exp(float64((z-a)*(z+a))+r)) / a
	if x < 0 {
		return 2 - y
	}
	return y
}

// statisticDigits is more than a chance or a band is worth, and five orders above the last
// digits in which the distributions of gonum differ from platform to platform, being made
// from package math's exponential.
const statisticDigits = 10

// Statistic is a chance or a quantile by gonum, rounded to ten significant digits in
// decimal: the same bits on every platform, but for one value in a hundred thousand on an edge.
func Statistic(x float64) float64 { // [unit of x]
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', statisticDigits-1, 64), 64)
	if err != nil {
		return x // rounded up beyond all numbers
	}
	return y
}

// polynomial is c[0] + c[1]·x + c[2]·x² + ….
func polynomial(x float64, c []float64) float64 {
	p := c[len(c)-1]
	for i := len(c) - 2; i >= 0; i-- {
		p = c[i] + float64(x*p)
	}
	return p
}

// Coefficients for 1.25 … 1/0.35 and beyond.
var (
	erfR = [...]float64{
		-9.86494403484714822705e-03, -6.93858572707181764372e-01, -1.05586262253232909814e+01, -6.23753324503260060396e+01,
		-1.62396669462573470355e+02, -1.84605092906711035994e+02, -8.12874355063065934246e+01, -9.81432934416914548592e+00,
	}
	erfS = [...]float64{
		1, 1.96512716674392571292e+01, 1.37657754143519042600e+02, 4.34565877475229228821e+02,
		6.45387271733267880336e+02, 4.29008140027567833386e+02, 1.08635005541779435134e+02, 6.57024977031928170135e+00,
		-6.04244152148580987438e-02,
	}
	tailR = [...]float64{
		-9.86494292470009928597e-03, -7.99283237680523006574e-01, -1.77579549177547519889e+01, -1.60636384855821916062e+02,
		-6.37566443368389627722e+02, -1.02509513161107724954e+03, -4.83519191608651397019e+02,
	}
	tailS = [...]float64{
		1, 3.03380607434824582924e+01, 3.25792512996573918826e+02, 1.53672958608443695994e+03,
		3.19985821950859553908e+03, 2.55305040643316442583e+03, 4.74528541206955367215e+02, -2.24409524465858183362e+01,
	}
)
