package humidity

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

// phase holds the constants of the wet-bulb relation over one phase, J and K.
type phase struct {
	l float64 // [J/kg] latent heat at 0 °C
	b float64 // [J/(kg·K)] its fall with the wet-bulb temperature
	c float64 // [J/(kg·K)] heat capacity of the condensate
}

// ASHRAE Handbook Fundamentals 2017 chapter 1, eqs. 33 and 35. In both c − b is
// the heat capacity of the vapour: that puts the root between dew point and dry
// bulb.
var (
	overWater = phase{2501e3, 2326, 4186}
	overIce   = phase{2830e3, 240, 2100}
)

// WetBulb returns the thermodynamic wet-bulb temperature t*, at which water
// evaporating into the air brings it to saturation adiabatically: over liquid
// water where t* >= 0 °C, else the ice bulb. W_s is the saturation ratio at t*:
//
//	W (2501 + 1.86 t − 4.186 t*) = (2501 − 2.326 t*) W_s − 1.006 (t − t*)   water
//	W (2830 + 1.86 t − 2.1 t*)   = (2830 − 0.24 t*) W_s  − 1.006 (t − t*)   ice
//
// Near 0 °C both can have a root; the one over water is returned. It lies
// between dew point (ice: frost point) and dry bulb; air that is supersaturated
// over ice has its ice bulb above the dry bulb. Source: ASHRAE Handbook
// Fundamentals 2017 ch. 1 eqs. 33, 35. Found to 1.5e-13 K, its rounding.
func (a Air) WetBulb() units.Temperature {
	if !a.valid() {
		return units.Temperature(math.NaN())
	}
	return units.Temperature(a.m.wetBulb(float64(a.t), float64(a.e), float64(a.p)))
}

// wetBulb works in K and Pa.
func (m AirModel) wetBulb(T, e, p float64) float64 {
	w := humidityRatio(e, p)
	t := T - 273.15
	if t >= 0 {
		es, _ := m.water(273.15, p)
		if es >= p || w*(latentZero+cpVapour*t) >= latentZero*humidityRatio(es, p)-cpDryAir*t {
			return m.wetRoot(&overWater, t, w, p, m.dew(e, p)-273.15)
		}
	}
	return m.wetRoot(&overIce, t, w, p, m.frost(e, p)-273.15)
}

// wetRoot solves the wet-bulb relation in °C between condensation point and dry bulb;
// result in K.
func (m AirModel) wetRoot(f *phase, t, w, p, dew float64) float64 {
	lo, hi := math.Min(dew, t), math.Max(dew, t)
	q := cpDryAir + w*f.c
	base := cpDryAir*t + w*(f.l+cpVapour*t)
	return solved(numeric.Newton(func(x float64) (y, slope float64) {
		es, s := m.water(x+273.15, p)
		if f == &overIce {
			es, s = m.ice(x+273.15, p)
		}
		if !(es < p) { // boils: above the root
			return math.Inf(1), math.NaN()
		}
		l := f.l - f.b*x
		ws := humidityRatio(es, p)
		return l*ws + q*x - base, l*ws*s*p/(p-es) - f.b*ws + q
	}, lo+0.35*(hi-lo), lo, hi, 1e-11, 3e-9)) + 273.15
}

// ratioFromWet returns W of air of t [°C] whose wet bulb over the phase is tw
// [°C].
func (m AirModel) ratioFromWet(f *phase, t, tw, p float64) float64 {
	es, _ := m.water(tw+273.15, p)
	if f == &overIce {
		es, _ = m.ice(tw+273.15, p)
	}
	ws := humidityRatio(math.Min(es, mostVapour*p), p)
	return ((f.l-f.b*tw)*ws - cpDryAir*(t-tw)) / (f.l + cpVapour*t - f.c*tw)
}
