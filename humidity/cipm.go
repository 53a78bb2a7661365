package humidity

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// DensityCIPM returns the density of moist air by the CIPM-2007 equation,
//
//	ρ = p M_a/(Z R T)·[1 − x_v(1 − M_v/M_a)],  M_a = (28.96546 + 12.011(x_CO2 − 0.0004)) g/mol
//
// for air with the mole fraction x_CO2 of carbon dioxide (4e-4 is usual) and the
// vapour fraction x_v = e/p. Published for 15 … 27 °C and 600 … 1100 hPa with a
// relative standard uncertainty of 2.2e-5; flagged outside. Source: A. Picard,
// R. S. Davis, M. Gläser, K. Fujii, Metrologia 45 (2008) 149,
// DOI 10.1088/0026-1394/45/2/004.
func DensityCIPM(a Air, co2 units.Ratio) (units.Density, known.Validity) {
	const (
		molarGas = 8.314472 // [J/(mol·K)] as the equation was fitted, CODATA 2006
		mv       = 18.01528e-3
	)
	T, p := float64(a.t), float64(a.p)
	t := T - 273.15
	x := float64(a.e) / p
	ma := (28.96546 + 12.011*(float64(co2)-0.0004)) * 1e-3
	q := p / T
	z := 1 - q*(1.58123e-6+t*(-2.9331e-8+t*1.1043e-10)+(5.707e-6-2.051e-8*t)*x+(1.9898e-4-2.376e-6*t)*x*x) +
		q*q*(1.83e-11-0.765e-8*x*x)
	return units.Density(p * ma / (z * molarGas * T) * (1 - x*(1-mv/ma))), rangeOf(t, 15, 27) | rangeOf(p, 6e4, 1.1e5)
}

// EnhancementCIPM returns the enhancement factor of the CIPM-2007 equation,
// f = 1.00062 + 3.14e-8 p + 5.6e-7 t² with p in Pa and t in °C, flagged outside
// 15 … 27 °C and 600 … 1100 hPa. Source as [DensityCIPM].
func EnhancementCIPM(t units.Temperature, p units.Pressure) (units.Ratio, known.Validity) {
	c := t.Celsius()
	return units.Ratio(1.00062 + 3.14e-8*float64(p) + 5.6e-7*c*c), rangeOf(c, 15, 27) | rangeOf(float64(p), 6e4, 1.1e5)
}

// SaturationSlope returns dln e_s/dT [1/K] of the pure substance; NaN where the
// equation has no value. 6 to 7 % per kelvin at room temperature: the reason
// why a small difference of temperature is a large one of relative humidity.
func (q Equation) SaturationSlope(t units.Temperature) float64 { // [1/K]
	if q >= equations || !(t > 0) {
		return math.NaN()
	}
	_, s := q.at(float64(t))
	return s
}
