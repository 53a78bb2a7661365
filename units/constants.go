package units

import (
	"math"

	"example.org/pithball/internal/enum"
)

// Shop and SI units as constants, so that 25*Millimetre and 3*Inch read well.
// Each is exact by definition (1 in = 25.4 mm, 1 lb = 0.45359237 kg,
// g0 = 9.80665 m/s²) and rounded once. There is none for °C and °F, which are no
// multiples of anything: see [Celsius] and [Fahrenheit].
//
// A typed constant is rounded when it is declared, so a product can lie one unit
// in the last place beside the number that is meant: 20*Micrometre prints as
// 19.999999999999998 µm. [Of](20, "µm") and [Parse] round once.
const (
	Metre      Length = 1       // SI unit
	Millimetre Length = 1e-3    // 10⁻³ m
	Micrometre Length = 1e-6    // 10⁻⁶ m
	Nanometre  Length = 1e-9    // 10⁻⁹ m
	Centimetre Length = 1e-2    // 10⁻² m
	Inch       Length = 0.0254  // 25.4 mm
	Foot       Length = 0.3048  // 12 in
	Mil        Length = 25.4e-6 // 0.001 in

	SquareMetre      Area = 1               // SI unit
	SquareCentimetre Area = 1e-4            // 10⁻⁴ m²
	SquareFoot       Area = 0.3048 * 0.3048 // 144 in²

	CubicMetre Volume = 1    // SI unit
	Litre      Volume = 1e-3 // dm³

	Second      Time = 1     // SI unit
	Millisecond Time = 1e-3  // 10⁻³ s
	Minute      Time = 60    // 60 s
	Hour        Time = 3600  // 60 min
	Day         Time = 86400 // 24 h

	Hertz Frequency = 1 // SI unit

	MetrePerSecond Speed = 1           // SI unit
	MetrePerMinute Speed = 1.0 / 60    // 1/60 m/s
	FootPerMinute  Speed = 0.3048 / 60 // 0.3048 m/min

	Kilogram Mass = 1          // SI unit
	Gram     Mass = 1e-3       // 10⁻³ kg
	Pound    Mass = 0.45359237 // 7000 gr

	Newton Force = 1 // SI unit

	NewtonPerMetre    ForcePerWidth = 1                        // SI unit
	PoundForcePerInch ForcePerWidth = 4.4482216152605 / 0.0254 // pli

	Pascal     Pressure = 1                                   // SI unit
	Kilopascal Pressure = 1e3                                 // 10³ Pa
	Megapascal Pressure = 1e6                                 // 10⁶ Pa
	Bar        Pressure = 1e5                                 // 10⁵ Pa
	Atmosphere Pressure = 101325                              // standard atmosphere
	PSI        Pressure = 4.4482216152605 / (0.0254 * 0.0254) // lbf/in², absolute

	PascalGauge GaugePressure = 1                                   // SI unit, above ambient
	BarGauge    GaugePressure = 1e5                                 // 10⁵ Pa above ambient
	PSIGauge    GaugePressure = 4.4482216152605 / (0.0254 * 0.0254) // lbf/in² above ambient

	Kelvin               Temperature           = 1       // SI unit
	KelvinDifference     TemperatureDifference = 1       // SI unit
	FahrenheitDifference TemperatureDifference = 5.0 / 9 // 5/9 K

	Volt     Voltage = 1   // SI unit
	Kilovolt Voltage = 1e3 // 10³ V

	VoltDisplayed     DisplayVoltage = 1   // as a field meter shows it
	KilovoltDisplayed DisplayVoltage = 1e3 // as a field meter shows it

	VoltPerMetre          ElectricField = 1            // SI unit
	KilovoltPerMetre      ElectricField = 1e3          // 10³ V/m
	KilovoltPerCentimetre ElectricField = 1e5          // 10⁵ V/m
	KilovoltPerInch       ElectricField = 1e3 / 0.0254 // 39.4 kV/m
	MegavoltPerMetre      ElectricField = 1e6          // 10⁶ V/m

	Coulomb      Charge = 1     // SI unit
	Nanocoulomb  Charge = 1e-9  // 10⁻⁹ C
	Microcoulomb Charge = 1e-6  // 10⁻⁶ C
	Picocoulomb  Charge = 1e-12 // 10⁻¹² C

	CoulombPerSquareMetre          SurfaceChargeDensity = 1    // SI unit
	MicrocoulombPerSquareMetre     SurfaceChargeDensity = 1e-6 // 0.1 nC/cm²
	NanocoulombPerSquareCentimetre SurfaceChargeDensity = 1e-5 // 10 µC/m²

	MicrocoulombPerMetre LineChargeDensity = 1e-6 // 10⁻⁶ C/m

	MicrocoulombPerCubicMetre VolumeChargeDensity = 1e-6 // 10⁻⁶ C/m³

	MicrocoulombPerKilogram ChargePerMass = 1e-6 // 1 nC/g

	Ampere      Current = 1    // SI unit
	Microampere Current = 1e-6 // 10⁻⁶ A
	Nanoampere  Current = 1e-9 // 10⁻⁹ A

	MicroamperePerMetre LineCurrent = 1e-6 // 10⁻⁶ A/m

	AmperePerSquareMetre CurrentDensity = 1 // SI unit

	Farad     Capacitance = 1     // SI unit
	Picofarad Capacitance = 1e-12 // 10⁻¹² F
	Nanofarad Capacitance = 1e-9  // 10⁻⁹ F

	Ohm     Resistance = 1    // SI unit
	Megohm  Resistance = 1e6  // 10⁶ Ω
	Gigohm  Resistance = 1e9  // 10⁹ Ω
	Teraohm Resistance = 1e12 // 10¹² Ω

	OhmPerSquare              SheetResistance   = 1    // SI unit of the sheet
	OhmMetre                  VolumeResistivity = 1    // SI unit
	OhmCentimetre             VolumeResistivity = 1e-2 // 0.01 Ω·m
	OhmSquareMetre            AreaResistance    = 1    // SI unit
	OhmKilogramPerSquareMetre MassResistivity   = 1    // SI unit

	SiemensPerMetre     Conductivity = 1     // SI unit
	PicosiemensPerMetre Conductivity = 1e-12 // 10⁻¹² S/m

	Joule        Energy = 1               // SI unit
	Millijoule   Energy = 1e-3            // 10⁻³ J
	ElectronVolt Energy = 1.602176634e-19 // exact since 2019
	KilowattHour Energy = 3.6e6           // 3.6 MJ

	Watt     Power = 1   // SI unit
	Kilowatt Power = 1e3 // 10³ W

	JoulePerKilogram     EnergyPerMass = 1   // SI unit
	KilojoulePerKilogram EnergyPerMass = 1e3 // 10³ J/kg

	MillijoulePerSquareMetre EnergyPerArea = 1e-3 // 1 mN/m = 1 dyn/cm

	PascalSecond      Viscosity = 1    // SI unit
	MillipascalSecond Viscosity = 1e-3 // 1 cP

	SquareMetrePerVoltSecond      Mobility = 1    // SI unit
	SquareCentimetrePerVoltSecond Mobility = 1e-4 // 10⁻⁴ m²/(V·s)

	SquareMetrePerSecond Diffusivity = 1 // SI unit

	PerCubicMetre      NumberDensity = 1   // SI unit
	PerCubicCentimetre NumberDensity = 1e6 // 10⁶ 1/m³

	CubicMetrePerSecondRecombination RecombinationCoefficient = 1 // SI unit

	MetrePerSecondSquared Acceleration = 1 // SI unit

	PercentRH    RelativeHumidity    = 0.01 // over liquid water
	PercentRHIce RelativeHumidityIce = 0.01 // over ice

	GramPerKilogram      HumidityRatio    = 1e-3       // per kg of dry air
	GrainPerPound        HumidityRatio    = 1.0 / 7000 // per lb of dry air
	GramPerKilogramMoist SpecificHumidity = 1e-3       // per kg of moist air
	GramPerCubicMetre    VapourDensity    = 1e-3       // 10⁻³ kg/m³

	KilogramPerCubicMetre Density = 1 // SI unit

	GramPerSquareMetre BasisWeight = 1e-3 // gsm

	CubicMetrePerSecond VolumeFlow = 1                   // SI unit
	CubicMetrePerHour   VolumeFlow = 1.0 / 3600          // 1/3600 m³/s
	LitrePerMinute      VolumeFlow = 1e-3 / 60           // 1/60 L/s
	CubicFootPerMinute  VolumeFlow = 0.028316846592 / 60 // cfm

	KilogramPerSecond MassFlow = 1          // SI unit
	KilogramPerHour   MassFlow = 1.0 / 3600 // 1/3600 kg/s

	MolePerSecond MolarFlow = 1 // SI unit

	Radian Angle = 1             // SI unit
	Degree Angle = math.Pi / 180 // π/180 rad

	Percent Ratio = 0.01 // 1/100
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
	CODATA2018                // 2018 adjustment
	Before2019                // the SI before its redefinition
)

var editionNames = [...]string{"CODATA 2022", "CODATA 2018", "before 2019, exact"}

// String returns the name of the edition, or "Edition(n)".
func (e Edition) String() string { return enum.Name("Edition", editionNames[:], e) }

// MarshalText writes the name of the edition; a value without one is a [*known.FieldError].
func (e Edition) MarshalText() ([]byte, error) { return enum.Write("edition", editionNames[:], e) }

// UnmarshalText reads the name of the edition; anything else is a [*known.FieldError] and leaves the
// value as it was.
func (e *Edition) UnmarshalText(b []byte) error { return enum.Read("edition", editionNames[:], b, e) }

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
	return Temperature(fromUnit(t, &kindTemperature.units[2]))
}

// Celsius returns the temperature in degrees Celsius.
func (q Temperature) Celsius() float64 { // [°C]
	return (float64(q) - zeroCelsius) - zeroRest
}

// Fahrenheit returns the temperature in degrees Fahrenheit, rounded once.
func (q Temperature) Fahrenheit() float64 { // [°F]
	kindTemperature.link()
	return fromSI(float64(q), &kindTemperature.units[2])
}
