package units

import (
	"math"
	"time"
)

// Relations between quantities that physics names. Everything else is written
// out at its place in float64. NaN in gives NaN out.

// Sub returns the difference q − o.
func (q Temperature) Sub(o Temperature) TemperatureDifference {
	return TemperatureDifference(float64(q) - float64(o))
}

// Add returns the temperature that lies d above q.
func (q Temperature) Add(d TemperatureDifference) Temperature {
	return Temperature(float64(q) + float64(d))
}

// Absolute returns the absolute pressure at a place with the given ambient.
func (q GaugePressure) Absolute(ambient Pressure) Pressure { return Pressure(q) + ambient }

// Gauge returns the pressure above the ambient of the place.
func (q Pressure) Gauge(ambient Pressure) GaugePressure { return GaugePressure(q - ambient) }

// Specific returns the same vapour per mass of moist air, w/(1 + w).
func (q HumidityRatio) Specific() SpecificHumidity {
	return SpecificHumidity(float64(q) / (1 + float64(q))) // vapour/(dry + vapour)
}

// Ratio returns the same vapour per mass of dry air, s/(1 − s).
func (q SpecificHumidity) Ratio() HumidityRatio {
	return HumidityRatio(float64(q) / (1 - float64(q))) // vapour/(moist − vapour)
}

// Over returns the field of a voltage across a gap between parallel plates, V/d.
func (q Voltage) Over(gap Length) ElectricField {
	return ElectricField(float64(q) / float64(gap)) // E = V/d
}

// Field returns the field before a meter that is calibrated to display field
// times its nominal distance: E = V_display/d0.
func (q DisplayVoltage) Field(nominal Length) ElectricField {
	return ElectricField(float64(q) / float64(nominal)) // E = V/d0
}

// SurfaceCharge returns the charge per area that holds the field on one side
// with none on the other, as on a conductor: σ = ε0·E.
func (q ElectricField) SurfaceCharge() SurfaceChargeDensity {
	return SurfaceChargeDensity(Epsilon0 * float64(q)) // Gauss
}

// Speed returns the drift speed of an ion in a field, µ·E.
func (q Mobility) Speed(e ElectricField) Speed {
	return Speed(float64(q) * float64(e)) // v = µE
}

// Resistivity returns the reciprocal of the conductivity.
func (q Conductivity) Resistivity() VolumeResistivity {
	return VolumeResistivity(1 / float64(q)) // ρ = 1/κ
}

// Conductivity returns the reciprocal of the resistivity.
func (q VolumeResistivity) Conductivity() Conductivity {
	return Conductivity(1 / float64(q)) // κ = 1/ρ
}

// Sheet returns the surface resistivity of a layer of this material, ρ/t.
func (q VolumeResistivity) Sheet(thickness Length) SheetResistance {
	return SheetResistance(float64(q) / float64(thickness)) // Rs = ρ/t
}

// Volume returns the volume resistivity of a layer with this surface
// resistivity, Rs·t.
func (q SheetResistance) Volume(thickness Length) VolumeResistivity {
	return VolumeResistivity(float64(q) * float64(thickness)) // ρ = Rs·t
}

// Energy returns the energy stored in the capacitance at a voltage, ½·C·V².
func (q Capacitance) Energy(v Voltage) Energy {
	return Energy(0.5 * float64(q) * float64(v) * float64(v)) // ½CV²
}

// Stress returns the tensile stress of a web of that thickness, N/t.
func (q ForcePerWidth) Stress(thickness Length) Pressure {
	return Pressure(float64(q) / float64(thickness)) // force per width and thickness
}

// SheetWeight returns the mass per area of a sheet, t·ρ.
func SheetWeight(thickness Length, density Density) BasisWeight {
	return BasisWeight(float64(thickness) * float64(density)) // t·ρ
}

// Thickness returns the thickness of a sheet of that density, m″/ρ.
func (q BasisWeight) Thickness(density Density) Length {
	return Length(float64(q) / float64(density)) // t = m″/ρ
}

// ThermalVoltage returns kT/e, 25.26 mV at 20 °C.
func ThermalVoltage(t Temperature) Voltage {
	return Voltage(Boltzmann / ElementaryCharge * float64(t)) // kT/e
}

// Std returns the duration rounded to nanoseconds. Beyond ±292 years it is the
// largest or least Duration; NaN gives 0.
func (q Time) Std() time.Duration {
	ns := math.Round(float64(q) * 1e9)
	switch {
	case math.IsNaN(ns):
		return 0
	case ns >= math.MaxInt64:
		return math.MaxInt64
	case ns <= math.MinInt64:
		return math.MinInt64
	}
	return time.Duration(ns)
}

// FromStd returns a duration of the standard library in seconds.
func FromStd(d time.Duration) Time { return Time(d.Seconds()) }

// RelativeDensity returns δ = (p/101.325 kPa)·(293.15 K/t), the density of air of
// the pressure q and the temperature t relative to 20 °C and 101.325 kPa, as laws of
// breakdown take it; vapour is not counted. It is the ideal gas law; the reference is that
// of the breakdown law and of IEC 60052. NaN unless q ≥ 0 and t > 0.
func (q Pressure) RelativeDensity(t Temperature) float64 { // [1]
	if !(q >= 0) || !(t > 0) {
		return math.NaN()
	}
	return float64(q) / 101325 * (293.15 / float64(t))
}

// Current returns the current per width that a web of the charge density q carries
// at the speed v, q·v: what a neutraliser has to deliver, per face or net as q is.
func (q SurfaceChargeDensity) Current(v Speed) LineCurrent {
	return LineCurrent(float64(q) * float64(v))
}
