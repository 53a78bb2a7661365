package humidity

import (
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// AirModel is a set of formulas for moist air. The zero value is [IAPWS].
//
// All models share the relations of the ASHRAE Handbook Fundamentals 2017,
// chapter 1, with p in Pa, t in °C, W in kg/kg and h in kJ per kg of dry air:
//
//	W = 0.621945 e/(p − e)
//	dry air per volume (p − e)/(287.042 T)
//	h = 1.006 t + W (2501 + 1.86 t)
//
// and differ in the saturation pressure and the enhancement factor f of
// e_sat = f·e_s(T), the ratio of saturation in air of pressure p to that of the
// pure substance.
type AirModel uint8

// The models.
const (
	// IAPWS uses [IAPWSWater], [IAPWSIce] and Greenspan's enhancement factor.
	IAPWS AirModel = iota
	// IAPWSIdeal is IAPWS without enhancement (f = 1).
	IAPWSIdeal
	// ASHRAEIdeal uses [HylandWexlerWater] and [HylandWexlerIce] with f = 1, as
	// the ideal-gas form of the ASHRAE handbook does. Its humidity ratios lie
	// 0.4 … 0.6 % below the handbook's own real-gas tables from −20 to 50 °C.
	ASHRAEIdeal
	// WMOMagnus uses [MagnusWater] and [MagnusIce] with f = 1.
	WMOMagnus

	models
)

var modelNames = [models]string{"iapws", "iapws-ideal", "ashrae-ideal", "wmo-magnus"}

// Models lists every model.
func Models() []AirModel { return []AirModel{IAPWS, IAPWSIdeal, ASHRAEIdeal, WMOMagnus} }

// String returns the name, "ashrae-ideal"; "AirModel(n)" for a value that is none.
func (m AirModel) String() string { return enum.Name("AirModel", modelNames[:], m) }

// MarshalText writes the name; a value that is no model is a
// [*known.FieldError].
func (m AirModel) MarshalText() ([]byte, error) { return enum.Write("model", modelNames[:], m) }

// UnmarshalText reads a name as written by String; anything else is a
// [*known.FieldError] and leaves the value as it was.
func (m *AirModel) UnmarshalText(b []byte) error { return enum.Read("model", modelNames[:], b, m) }

// Water returns the model's equation over water.
func (m AirModel) Water() Equation {
	switch m {
	case ASHRAEIdeal:
		return HylandWexlerWater
	case WMOMagnus:
		return MagnusWater
	}
	return IAPWSWater
}

// Ice returns the model's equation over ice.
func (m AirModel) Ice() Equation {
	switch m {
	case ASHRAEIdeal:
		return HylandWexlerIce
	case WMOMagnus:
		return MagnusIce
	}
	return IAPWSIce
}

// EnhancementWater returns Greenspan's factor over water for air of pressure p,
// 1 for the ideal models:
//
//	f = exp[α(1 − e_s/p) + β(p/e_s − 1)],  α = Σ Aᵢtⁱ,  β = exp Σ Bᵢtⁱ  (t in °C)
//
// Published for 0 … 100 °C and up to 2 MPa; below 0 °C, over supercooled water,
// the polynomials are continued to −50 °C and f is held from there. Where e_s >= p, air
// boils and f is 1. Source: L. Greenspan, J. Res. NBS 80A (1976) 41,
// DOI 10.6028/jres.080A.007. NaN gives NaN.
func (m AirModel) EnhancementWater(t units.Temperature, p units.Pressure) (f units.Ratio, v known.Validity) {
	if v = enhancementRange(p); t < units.Temperature(273.15) {
		v |= known.BelowRange
	} else if t > units.Temperature(373.15) {
		v |= known.AboveRange
	}
	es, s := m.Water().at(float64(t))
	lf, _ := m.lnF(&greenspanWater, float64(t), float64(p), es, s)
	return units.Ratio(numeric.Exp(lf)), v
}

// EnhancementIce is EnhancementWater over ice, published for −100 … 0 °C.
func (m AirModel) EnhancementIce(t units.Temperature, p units.Pressure) (f units.Ratio, v known.Validity) {
	if v = enhancementRange(p); t < units.Temperature(173.15) {
		v |= known.BelowRange
	} else if t > units.Temperature(273.16) {
		v |= known.AboveRange
	}
	es, s := m.Ice().at(float64(t))
	lf, _ := m.lnF(&greenspanIce, float64(t), float64(p), es, s)
	return units.Ratio(numeric.Exp(lf)), v
}

func enhancementRange(p units.Pressure) known.Validity {
	if p > units.Pressure(2e6) {
		return known.AboveRange
	}
	return known.Inside
}

// greenspan holds the polynomials α and ln β and the range in °C below
// which f and above which the polynomials are held.
type greenspan struct {
	a, b   [4]float64
	lo, hi float64 // [°C]
}

var (
	greenspanWater = greenspan{[4]float64{3.53624e-4, 2.93228e-5, 2.61474e-7, 8.57538e-9},
		[4]float64{-10.7588, 6.32529e-2, -2.53591e-4, 6.33784e-7}, -50, 100}
	greenspanIce = greenspan{[4]float64{3.64449e-4, 2.93631e-5, 4.88635e-7, 4.36543e-9},
		[4]float64{-10.7271, 7.61989e-2, -1.74771e-4, 2.46721e-6}, -100, 0}
)

func (g *greenspan) alpha(t float64) float64 { return g.a[0] + t*(g.a[1]+t*(g.a[2]+t*g.a[3])) }

func (g *greenspan) beta(t float64) float64 {
	return numeric.Exp(g.b[0] + t*(g.b[1]+t*(g.b[2]+t*g.b[3])))
}

// lnF returns ln f and dln f/dT [1/K] at T [K], p [Pa], with es [Pa] and
// s = dln es/dT [1/K].
func (m AirModel) lnF(g *greenspan, T, p, es, s float64) (l, d float64) {
	if m != IAPWS || es >= p {
		return 0, 0
	}
	t := T - 273.15
	in := 1.0
	if t < g.lo-1e-6 {
		// Far below the range 1/r grows faster than β falls: hold f itself.
		q := m.Ice()
		if g == &greenspanWater {
			q = m.Water()
		}
		es, s := q.at(g.lo + 273.15)
		l, _ = m.lnF(g, g.lo+273.15, p, es, s)
		return l, 0
	}
	if t > g.hi {
		t, in = g.hi, 0
	}
	a := g.alpha(t)
	da := (g.a[1] + t*(2*g.a[2]+t*3*g.a[3])) * in
	b := g.beta(t)
	db := b * (g.b[1] + t*(2*g.b[2]+t*3*g.b[3])) * in
	r := es / p
	l = a*(1-r) + b*(1/r-1)
	d = da*(1-r) - a*r*s + db*(1/r-1) - b*s/r
	return l, d
}

// water returns e_sat [Pa] over water in air of p [Pa] and dln e_sat/dT [1/K].
func (m AirModel) water(T, p float64) (e, s float64) {
	e, s = m.Water().at(T)
	if m != IAPWS {
		return e, s
	}
	l, d := m.lnF(&greenspanWater, T, p, e, s)
	return e * numeric.Exp(l), s + d
}

// ice is water over ice.
func (m AirModel) ice(T, p float64) (e, s float64) {
	e, s = m.Ice().at(T)
	if m != IAPWS {
		return e, s
	}
	l, d := m.lnF(&greenspanIce, T, p, e, s)
	return e * numeric.Exp(l), s + d
}

const coldest = 123.15 // [K] floor of dew and frost points, −150 °C

// dew solves water(T) = e for T [K] in air of p [Pa].
func (m AirModel) dew(e, p float64) float64 { return m.condense(e, p, m.Water(), &greenspanWater) }

// frost solves ice(T) = e for T [K] in air of p [Pa].
func (m AirModel) frost(e, p float64) float64 { return m.condense(e, p, m.Ice(), &greenspanIce) }

func (m AirModel) condense(e, p float64, q Equation, g *greenspan) float64 {
	if math.IsNaN(e) || math.IsNaN(p) {
		return math.NaN()
	}
	if lowest, _ := q.at(coldest); !(e > lowest) {
		return coldest
	}
	le := math.Log(e)
	T := q.inverse(le, e)
	if m != IAPWS {
		return T
	}
	T = solved(numeric.Newton(func(T float64) (y, slope float64) {
		es, s := q.at(T)
		lf, df := m.lnF(g, T, p, es, s)
		return math.Log(es) + lf - le, s + df
	}, T, leastRoot, mostRoot, 1e-11, 0))
	return math.Max(T, coldest)
}
