package units

import (
	"math"
	"strconv"
)

// Shop and SI units as constants, so that 25*Millimetre and 3*Inch read well.
// Each is exact by definition (1 in = 25.4 mm, 1 lb = 0.45359237 kg,
// g0 = 9.80665 m/s²) and rounded once.
const (
	Metre      Length = 1
	Millimetre Length = 1e-3
	Micrometre Length = 1e-6
	Nanometre  Length = 1e-9
	Centimetre Length = 1e-2
	Inch       Length = 0.0254
	Foot       Length = 0.3048
	Mil        Length = 25.4e-6

	Second      Time = 1
	Millisecond Time = 1e-3
	Minute      Time = 60
	Hour        Time = 3600
	Day         Time = 86400

	MetrePerSecond Speed = 1
	MetrePerMinute Speed = 1.0 / 60
	FootPerMinute  Speed = 0.3048 / 60

	Pascal     Pressure      = 1
	Kilopascal Pressure      = 1e3
	Bar        Pressure      = 1e5
	Atmosphere Pressure      = 101325
	BarGauge   GaugePressure = 1e5
	PSIGauge   GaugePressure = 4.4482216152605 / (0.0254 * 0.0254)

	Kelvin Temperature = 1

	Volt     Voltage = 1
	Kilovolt Voltage = 1e3

	VoltPerMetre          ElectricField = 1
	KilovoltPerMetre      ElectricField = 1e3
	KilovoltPerCentimetre ElectricField = 1e5
	KilovoltPerInch       ElectricField = 1e3 / 0.0254

	Coulomb      Charge = 1
	Nanocoulomb  Charge = 1e-9
	Microcoulomb Charge = 1e-6

	MicrocoulombPerSquareMetre SurfaceChargeDensity = 1e-6

	MicroamperePerMetre LineCurrent = 1e-6

	Picofarad Capacitance = 1e-12

	Ohm     Resistance = 1
	Megohm  Resistance = 1e6
	Gigohm  Resistance = 1e9
	Teraohm Resistance = 1e12

	OhmPerSquare SheetResistance   = 1
	OhmMetre     VolumeResistivity = 1

	Joule      Energy = 1
	Millijoule Energy = 1e-3

	PercentRH    RelativeHumidity    = 0.01
	PercentRHIce RelativeHumidityIce = 0.01

	GramPerKilogram HumidityRatio = 1e-3

	GramPerSquareMetre BasisWeight = 1e-3

	CubicMetrePerSecond VolumeFlow = 1
	CubicMetrePerHour   VolumeFlow = 1.0 / 3600
	LitrePerMinute      VolumeFlow = 1e-3 / 60
	CubicFootPerMinute  VolumeFlow = 0.028316846592 / 60

	KilogramPerHour MassFlow = 1.0 / 3600

	KelvinDifference     TemperatureDifference = 1
	FahrenheitDifference TemperatureDifference = 5.0 / 9

	NewtonPerMetre    ForcePerWidth = 1
	PoundForcePerInch ForcePerWidth = 4.4482216152605 / 0.0254

	ElectronVolt Energy = 1.602176634e-19

	Radian Angle = 1

	Hertz Frequency = 1

	KilogramPerCubicMetre Density = 1
)

// Fundamental constants, CODATA 2022. Sources: e, k, N_A exact since the SI of
// 2019 (SI Brochure, 9th edition); ε0 measured (CODATA 2022, relative standard
// uncertainty 1.6e-10).
const (
	Epsilon0         = 8.8541878188e-12                        // [F/m] vacuum electric permittivity, CODATA 2022
	ElementaryCharge = 1.602176634e-19                         // [C] exact
	Boltzmann        = 1.380649e-23                            // [J/K] exact
	Avogadro         = 6.02214076e23                           // [1/mol] exact
	MolarGas         = Boltzmann * Avogadro                    // [J/(mol·K)] exact product
	Faraday          = ElementaryCharge * Avogadro             // [C/mol] exact product
	StandardGravity  = 9.80665                                 // [m/s²] exact, conventional
	CODATA           = "CODATA 2022 (SI 2019 exact e, k, N_A)" // edition of the constants
)

// Edition is an edition of the measured constants.
type Edition uint8

// The editions of ε0. Before 2019 it was exact, 1/(µ0·c²) with µ0 = 4π·1e-7
// H/m. They differ by 7e-10 at most: nothing to physics, but not to a golden
// number.
const (
	CODATA2022 Edition = iota // the edition of this library, [Epsilon0]
	CODATA2018
	Before2019
)

// String returns the name of the edition.
func (e Edition) String() string {
	switch e {
	case CODATA2022:
		return "CODATA 2022"
	case CODATA2018:
		return "CODATA 2018"
	case Before2019:
		return "before 2019, exact"
	}
	return "Edition(" + strconv.Itoa(int(e)) + ")"
}

// VacuumPermittivity returns ε0 in an edition, for the comparison with results
// that were computed with an older one; NaN for an unknown edition. Standard
// uncertainty 1.4e-21 (2022) and 1.3e-21 F/m (2018). Sources: CODATA
// recommended values of the fundamental physical constants, 2018 (Tiesinga,
// Mohr, Newell, Taylor, Rev. Mod. Phys. 93, 025010, 2021) and 2022.
func VacuumPermittivity(e Edition) float64 { // [F/m]
	switch e {
	case CODATA2022:
		return Epsilon0
	case CODATA2018:
		return 8.8541878128e-12
	case Before2019:
		return 1e7 / (4 * math.Pi * 299792458 * 299792458)
	}
	return math.NaN()
}

// 273.15 is no float64; zeroCelsius is the nearest and zeroRest what it lacks.
const (
	zeroCelsius float64 = 273.15
	zeroRest    float64 = 2.2737367544323206e-14
)

// Celsius returns the temperature of t degrees Celsius, t + 273.15 K. A number
// of at most four decimals below 1e9 has the bits that Parse gives for it, so
// that Celsius(23.4) prints as 23.4 °C and Celsius(-273.15) is 0 K; any other is
// the exact sum, rounded once.
func Celsius(t float64) Temperature { // t [°C]
	const decimals = 1e4
	if n := math.Round(t * decimals); math.Abs(n) < 1e13 && n/decimals == t {
		return Temperature((n + 273.15*decimals) / decimals) // whole numbers: one rounding
	}
	s := t + zeroCelsius
	b := s - t
	lost := (t - (s - b)) + (zeroCelsius - b) // Knuth's two-sum: exact
	if r := s + (lost + zeroRest); r == r {
		return Temperature(r)
	}
	return Temperature(s) // NaN, Inf
}

// Fahrenheit returns the temperature of t degrees Fahrenheit, (t + 459.67)·5/9 K,
// with the bits that Parse gives for the same number.
func Fahrenheit(t float64) Temperature { // t [°F]
	return Temperature(fromUnit(t, fahrenheit))
}

// Celsius returns the temperature in degrees Celsius.
func (q Temperature) Celsius() float64 { // [°C]
	return (float64(q) - zeroCelsius) - zeroRest
}

// Fahrenheit returns the temperature in degrees Fahrenheit, rounded once.
func (q Temperature) Fahrenheit() float64 { // [°F]
	return fromSI(float64(q), fahrenheit)
}

var fahrenheit = &kindTemperature.units[2]
