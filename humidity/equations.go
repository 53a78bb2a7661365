package humidity

import (
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Equation names one published equation for the saturation vapour pressure of
// pure water or ice. The zero value is [IAPWSWater].
type Equation uint8

// The equations. T is in K, t in °C, pressures in Pa.
const (
	// IAPWSWater is [IF97] from 0 °C upwards and, for supercooled water below
	// 0 °C where IAPWS publishes no vapour pressure, [SonntagWater], scaled by
	// the constant that joins the two at 0 °C (it differs from 1 by 3e-7).
	IAPWSWater Equation = iota
	// IF97 is region 4 of the IAPWS Industrial Formulation 1997, a quadratic in
	// p^¼ and in T + n9/(T − n10). 273.15 … 647.096 K.
	IF97
	// WagnerPruss is ln(p/22.064 MPa) = (647.096/T)·Σ aᵢτ^eᵢ, τ = 1 − T/647.096.
	// 273.16 … 647.096 K.
	WagnerPruss
	// IAPWSIce is the sublimation pressure, ln(p/611.657 Pa) = θ⁻¹·Σ aᵢθ^bᵢ,
	// θ = T/273.16. 50 … 273.16 K.
	IAPWSIce
	// HylandWexlerWater is the ASHRAE equation over water, 0 … 200 °C.
	HylandWexlerWater
	// HylandWexlerIce is the ASHRAE equation over ice, −100 … 0.01 °C.
	HylandWexlerIce
	// SonntagWater covers −100 … 100 °C over liquid, also supercooled, water.
	SonntagWater
	// SonntagIce covers −100 … 0.01 °C over ice.
	SonntagIce
	// MagnusWater is the WMO form 611.2·exp(17.62 t/(243.12 + t)), −45 … 60 °C.
	MagnusWater
	// MagnusIce is the WMO form 611.2·exp(22.46 t/(272.62 + t)), −65 … 0.01 °C.
	MagnusIce
	// Buck1981Water is 611.21·exp(17.502 t/(240.97 + t)), −20 … 50 °C.
	Buck1981Water
	// Buck1996Water is 611.21·exp((18.678 − t/234.5)·t/(257.14 + t)), −40 … 50 °C.
	Buck1996Water
	// CIPMWater is exp(A T² + B T + C + D/T) of the CIPM-2007 equation for the
	// density of moist air, 15 … 27 °C.
	CIPMWater
	// Wexler1976Water is Wexler's equation on IPTS-68, 0 … 100 °C.
	Wexler1976Water
	// MurphyKoopWater covers 123 … 332 K over liquid, also supercooled, water.
	MurphyKoopWater
	// MurphyKoopIce covers 110 … 273.16 K over ice.
	MurphyKoopIce

	equations
)

// TriplePoint is the temperature at which the library changes from ice to
// water, by definition 273.16 K. Changing at 0 °C instead would make a jump.
const TriplePoint units.Temperature = units.Temperature(273.16)

type equationInfo struct {
	name   string
	ice    bool
	lo, hi float64 // [K] published range
	source known.Source
}

var equationTable = [equations]equationInfo{
	IAPWSWater: {"iapws-water", false, 173.15, 647.096, known.Source{Provenance: known.Quoted,
		Cite: "IAPWS R7-97(2012), region 4, from 273.15 K; below it D. Sonntag, Z. Meteorol. 70 (1990) 340",
		Via:  "public implementations of IF97; GOST R 8.811-2012, annex K (typed copy)",
		Note: "no IAPWS equation exists for supercooled water; published equations differ by 0.14 % at −20 " +
			"°C and 0.7 % at −40 °C"}},
	IF97: {"if97", false, 273.15, 647.096, known.Source{Provenance: known.Quoted,
		Cite: "IAPWS R7-97(2012), Revised Release on the IAPWS Industrial Formulation 1997, region 4, eqs. 29–31",
		Via:  "public implementations; their tests print tables 35 and 36"}},
	WagnerPruss: {"wagner-pruss", false, 273.16, 647.096, known.Source{Provenance: known.Quoted,
		Cite: "W. Wagner, A. Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783, eq. 1 (IAPWS SR1-86(1992)), DOI 10.1063/1.555926",
		Via:  "public implementations"}},
	IAPWSIce: {"iapws-ice", true, 50, 273.16, known.Source{Provenance: known.Quoted,
		Cite: "IAPWS R14-08(2011), Revised Release on the Pressure along the Melting and Sublimation Curves, eq. 6",
		Via:  "the tests of a public program, which print table 3"}},
	HylandWexlerWater: {"hyland-wexler-water", false, 273.15, 473.15, known.Source{Provenance: known.Quoted,
		Cite: "R. W. Hyland, A. Wexler, ASHRAE Trans. 89 (2A) (1983) 500; ASHRAE Handbook Fundamentals 2017 ch. 1 eq. 6",
		Via:  "public programs for moist air"}},
	HylandWexlerIce: {"hyland-wexler-ice", true, 173.15, 273.16, known.Source{Provenance: known.Quoted,
		Cite: "R. W. Hyland, A. Wexler, ASHRAE Trans. 89 (2A) (1983) 500; ASHRAE Handbook Fundamentals 2017 ch. 1 eq. 5",
		Via:  "public programs for moist air"}},
	SonntagWater: {"sonntag-water", false, 173.15, 373.15, known.Source{Provenance: known.Quoted,
		Cite: "D. Sonntag, Z. Meteorol. 70 (1990) 340", Via: "GOST R 8.811-2012, annex K (typed copy)"}},
	SonntagIce: {"sonntag-ice", true, 173.15, 273.16, known.Source{Provenance: known.Quoted,
		Cite: "D. Sonntag, Z. Meteorol. 70 (1990) 340", Via: "GOST R 8.811-2012, annex K (typed copy)"}},
	MagnusWater: {"magnus-water", false, 228.15, 333.15, known.Source{Provenance: known.Quoted,
		Cite: "WMO-No. 8, Guide to Instruments and Methods of Observation, annex 4.B",
		Via:  "public code with the constants 6.112, 17.62 and 243.12", Note: "0.3 % below IAPWS at 25 °C"}},
	MagnusIce: {"magnus-ice", true, 208.15, 273.16, known.Source{Provenance: known.Memory,
		Cite: "WMO-No. 8, Guide to Instruments and Methods of Observation, annex 4.B",
		Note: "constants not compared with the source"}},
	Buck1981Water: {"buck1981-water", false, 253.15, 323.15, known.Source{Provenance: known.Quoted,
		Cite: "A. L. Buck, J. Appl. Meteorol. 20 (1981) 1527",
		Via:  "ECMWF IFS documentation, part IV, eq. 7.4, as public code cites it"}},
	Buck1996Water: {"buck1996-water", false, 233.15, 323.15, known.Source{Provenance: known.Quoted,
		Cite: "A. L. Buck, revision (1996) of the equations in J. Appl. Meteorol. 20 (1981) 1527",
		Via:  "Wikipedia, Vapour pressure of water, as public code cites it"}},
	CIPMWater: {"cipm-water", false, 288.15, 300.15, known.Source{Provenance: known.Quoted,
		Cite: "A. Picard, R. S. Davis, M. Gläser, K. Fujii, Metrologia 45 (2008) 149, DOI 10.1088/0026-1394/45/2/004",
		Via:  "public programs"}},
	Wexler1976Water: {"wexler1976-water", false, 273.15, 373.15, known.Source{Provenance: known.Quoted,
		Cite: "A. Wexler, J. Res. NBS 80A (1976) 775, DOI 10.6028/jres.080A.071",
		Via:  "public code after P. J. Flatau, R. L. Walko, W. R. Cotton, J. Appl. Meteorol. 31 (1992) 1507",
		Note: "the coefficients give the 611.657 Pa that the abstract prints"}},
	MurphyKoopWater: {"murphy-koop-water", false, 123, 332, known.Source{Provenance: known.Quoted,
		Cite: "D. M. Murphy, T. Koop, Q. J. R. Meteorol. Soc. 131 (2005) 1539, eq. 10, DOI 10.1256/qj.04.94",
		Via:  "several public programs"}},
	MurphyKoopIce: {"murphy-koop-ice", true, 110, 273.16, known.Source{Provenance: known.Quoted,
		Cite: "D. M. Murphy, T. Koop, Q. J. R. Meteorol. Soc. 131 (2005) 1539, eq. 7, DOI 10.1256/qj.04.94",
		Via:  "several public programs"}},
}

// Equations lists every equation.
func Equations() []Equation {
	out := make([]Equation, equations)
	for i := range out {
		out[i] = Equation(i)
	}
	return out
}

// String returns the name, "if97"; "Equation(n)" for a value that is none.
func (q Equation) String() string { return enum.Name("Equation", equationNames(), q) }

// MarshalText writes the name; a value that is no equation is a
// [*known.FieldError].
func (q Equation) MarshalText() ([]byte, error) { return enum.Write("equation", equationNames(), q) }

// UnmarshalText reads a name as written by String; anything else is a
// [*known.FieldError] and leaves the value as it was.
func (q *Equation) UnmarshalText(b []byte) error { return enum.Read("equation", equationNames(), b, q) }

func equationNames() []string {
	names := make([]string, equations)
	for i := range names {
		names[i] = equationTable[i].name
	}
	return names
}

// OverIce reports whether the equation is for ice.
func (q Equation) OverIce() bool { return q < equations && equationTable[q].ice }

// Range returns the published range.
func (q Equation) Range() (lo, hi units.Temperature) {
	if q >= equations {
		return 0, 0
	}
	return units.Temperature(equationTable[q].lo), units.Temperature(equationTable[q].hi)
}

// Source returns where the equation and its coefficients come from.
func (q Equation) Source() known.Source {
	if q >= equations {
		return known.Source{}
	}
	return equationTable[q].source
}

// Pressure returns the saturation vapour pressure of the pure substance.
// Outside the published range the equation is evaluated all the same and
// flagged; where it has no value (at or below 0 K, above the critical point
// for the IAPWS equations) and for NaN the result is NaN. A coefficient set
// that rests on memory is flagged [known.Unpublished].
func (q Equation) Pressure(t units.Temperature) (units.Pressure, known.Validity) {
	if q >= equations {
		return units.Pressure(math.NaN()), known.WrongShape
	}
	in := &equationTable[q]
	v := known.Inside
	if in.source.Provenance == known.Memory {
		v = known.Unpublished
	}
	switch T := float64(t); {
	case T < in.lo:
		v |= known.BelowRange
	case T > in.hi:
		v |= known.AboveRange
	}
	if !(t > 0) {
		return units.Pressure(math.NaN()), v
	}
	p, _ := q.at(float64(t))
	return units.Pressure(p), v
}

// Temperature returns the temperature at which the saturation pressure is e:
// the closed inverse for IF97, else Newton's method on ln p, good to 4e-12 K. For NaN
// and for e outside 1e-9 Pa … 22.064 MPa the result is NaN; outside the
// published range of temperatures it is flagged as Pressure does.
func (q Equation) Temperature(e units.Pressure) (units.Temperature, known.Validity) {
	if q >= equations || !(e >= units.Pressure(1e-9) && e <= units.Pressure(22.064e6)) {
		return units.Temperature(math.NaN()), known.WrongShape
	}
	T := q.inverse(math.Log(float64(e)), float64(e))
	_, v := q.Pressure(units.Temperature(T))
	return units.Temperature(T), v
}

// at returns the pressure [Pa] and dln p/dT [1/K] at T [K].
func (q Equation) at(T float64) (p, slope float64) {
	switch q {
	case IAPWSWater:
		if T >= 273.15 {
			return if97(T)
		}
		l, s := logLaw(&sonntagWater, T)
		return numeric.Exp(l) * sonntagJoin, s
	case IF97:
		return if97(T)
	case WagnerPruss:
		return wagnerPruss(T)
	case IAPWSIce:
		return iapwsIce(T)
	case MagnusWater:
		return magnus(T, 611.2, 17.62, 243.12)
	case MagnusIce:
		return magnus(T, 611.2, 22.46, 272.62)
	case Buck1981Water:
		return magnus(T, 611.21, 17.502, 240.97)
	case Buck1996Water:
		t := T - 273.15
		d := 1 / (257.14 + t)
		x := (18.678 - t/234.5) * t * d
		return 611.21 * numeric.Exp(x), ((18.678 - 2*t/234.5) - x) * d
	case MurphyKoopWater:
		l0, s0 := logLaw(&murphyKoopA, T)
		l1, s1 := logLaw(&murphyKoopB, T)
		th := numeric.Tanh(0.0415 * (T - 218.8))
		return numeric.Exp(l0 + th*l1), s0 + th*s1 + 0.0415*(1-th*th)*l1
	}
	l, s := logLaw(logLaws[q], T)
	return numeric.Exp(l), s
}

// inverse solves at(T) = e for T [K], given le = ln e and e [Pa].
func (q Equation) inverse(le, e float64) float64 {
	const e0 = 611.212677444345 // [Pa] IF97 at 273.15 K
	if q == IF97 || q == IAPWSWater && e >= e0 {
		return if97Inverse(e)
	}
	m := le - 6.415424 // Magnus, ln(e/611.2)
	T := 273.15 + 243.12*m/(17.62-m)
	if q.OverIce() || !(m < 10) {
		T = 273.15 + 272.62*m/(22.46-m)
	}
	return solved(numeric.Newton(func(T float64) (y, slope float64) {
		p, s := q.at(T)
		return math.Log(p) - le, s
	}, T, leastRoot, mostRoot, 1e-11, 0))
}

// The roots of all saturation equations lie between these [K]; ln p bends down, so that
// Newton's method reaches them from any start below.
const leastRoot, mostRoot = 20, 2000

// solved is a root, NaN without one.
func solved(x float64, err error) float64 { // [as x]
	if err != nil {
		return math.NaN()
	}
	return x
}

// law holds ln p = c[0]/T² + c[1]/T + c[2] + c[3]T + c[4]T² + c[5]T³ + c[6]T⁴ + c[7] ln T.
type law [8]float64

var (
	hwWater      = law{0, -5800.2206, 1.3914993, -0.048640239, 4.1764768e-5, -1.4452093e-8, 0, 6.5459673}
	hwIce        = law{0, -5674.5359, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019}
	sonntagWater = law{0, -6096.9385, 16.635794 + ln100, -2.711193e-2, 1.673952e-5, 0, 0, 2.433502}
	sonntagIce   = law{0, -6024.5282, 24.7219 + ln100, 1.0613868e-2, -1.3198825e-5, 0, 0, -0.49382577}
	cipm         = law{0, -6343.1645, 33.93711047, -1.9121316e-2, 1.2378847e-5, 0, 0, 0}
	wexler1976   = law{-0.29912729e4, -0.60170128e4, 18.87643854, -0.028354721, 0.17838301e-4, -0.84150417e-9,
		0.44412543e-12, 2.858487}
	murphyKoopA = law{0, -6763.22, 54.842763, 0.000367, 0, 0, 0, -4.210}
	murphyKoopB = law{0, -1331.22, 53.878, 0.014025, 0, 0, 0, -9.44523}
	murphyKoopI = law{0, -5723.265, 9.550426, -0.00728332, 0, 0, 0, 3.53068}

	logLaws = [equations]*law{HylandWexlerWater: &hwWater, HylandWexlerIce: &hwIce, SonntagWater: &sonntagWater,
		SonntagIce: &sonntagIce, CIPMWater: &cipm, Wexler1976Water: &wexler1976, MurphyKoopIce: &murphyKoopI}

	sonntagJoin = 0.9999997479800444
)

const ln100 = 4.605170185988092 // Sonntag writes hPa

// logLaw returns ln p and its derivative [1/K].
func logLaw(c *law, T float64) (l, s float64) {
	r := 1 / T
	l = (c[0]*r+c[1])*r + c[2] + T*(c[3]+T*(c[4]+T*(c[5]+T*c[6]))) + c[7]*math.Log(T)
	s = r*(c[7]-r*(c[1]+2*c[0]*r)) + c[3] + T*(2*c[4]+T*(3*c[5]+4*c[6]*T))
	return l, s
}

// magnus returns p0·exp(a t/(b + t)) and a b/(b + t)².
func magnus(T, p0, a, b float64) (p, s float64) {
	t := T - 273.15
	return p0 * numeric.Exp(a*t/(b+t)), a * b / ((b + t) * (b + t))
}

// IF97 region 4 coefficients n1 … n10.
const (
	n1, n2, n3, n4, n5  = 1167.0521452767, -724213.16703206, -17.073846940092, 12020.824702470, -3232555.0322333
	n6, n7, n8, n9, n10 = 14.915108613530, -4823.2657361591, 405113.40542057, -0.23855557567849, 650.17534844798
)

// if97 returns the pressure [Pa] and dln p/dT [1/K] at T [K]; NaN above the
// critical point. With β = (p/MPa)^¼ and ϑ = T + n9/(T − n10),
// β = 2C/(−B + √(B² − 4AC)); the slope comes from the implicit equation
// Aβ² + Bβ + C = 0.
func if97(T float64) (p, s float64) {
	if !(T <= 647.096) {
		return math.NaN(), math.NaN()
	}
	u := 1 / (T - n10)
	th := T + n9*u
	a := (th+n1)*th + n2
	b := (n3*th+n4)*th + n5
	c := (n6*th+n7)*th + n8
	beta := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	b2 := beta * beta
	dth := 1 - n9*u*u
	db := -((2*th+n1)*b2 + (2*n3*th+n4)*beta + (2*n6*th + n7)) / (2*a*beta + b) * dth
	return 1e6 * b2 * b2, 4 * db / beta
}

// if97Inverse is eq. 31 of IAPWS R7-97: T [K] from p [Pa].
func if97Inverse(p float64) float64 {
	b2 := math.Sqrt(p * 1e-6)
	b := math.Sqrt(b2)
	e := b2 + n3*b + n6
	f := n1*b2 + n4*b + n7
	g := n2*b2 + n5*b + n8
	d := 2 * g / (-f - math.Sqrt(f*f-4*e*g))
	x := n10 + d
	return (x - math.Sqrt(x*x-4*(n9+n10*d))) / 2
}

func wagnerPruss(T float64) (p, s float64) {
	const tc, pc = 647.096, 22.064e6
	if !(T <= tc) {
		return math.NaN(), math.NaN()
	}
	tau := 1 - T/tc
	q := math.Sqrt(tau)
	t3 := tau * tau * tau
	sum := tau*(-7.85951783+1.84408259*q) + t3*(-11.7866497+22.6807411*q+tau*(-15.9618719+1.80122502*t3*q))
	d := -7.85951783 + 1.5*1.84408259*q + tau*tau*(3*-11.7866497+3.5*22.6807411*q+tau*(4*-15.9618719+7.5*1.80122502*t3*q))
	l := tc / T * sum
	return pc * numeric.Exp(l), -(l + d) / T
}

func iapwsIce(T float64) (p, s float64) {
	th := T / 273.16
	lt := math.Log(th)
	x := -21.2144006 * numeric.Exp(0.00333333333*lt)
	y := 27.3203819 * numeric.Exp(1.20666667*lt)
	z := -6.10598130 * numeric.Exp(1.70333333*lt)
	l := (x + y + z) / th
	return 611.657 * numeric.Exp(l), (0.00333333333*x + 1.20666667*y + 1.70333333*z - x - y - z) / (th * T)
}
