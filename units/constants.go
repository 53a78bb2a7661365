package units

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
	StandardGravity  = 9.80665                                 // [m/s²] exact, conventional
	CODATA           = "CODATA 2022 (SI 2019 exact e, k, N_A)" // edition of the constants
)

// Celsius returns the temperature of t degrees Celsius, t + 273.15 K.
func Celsius(t float64) Temperature { return Temperature(t + 273.15) } // t [°C]

// Fahrenheit returns the temperature of t degrees Fahrenheit, (t + 459.67)·5/9 K.
func Fahrenheit(t float64) Temperature { return Temperature((t + 459.67) * 5 / 9) } // t [°F]

// Celsius returns the temperature in degrees Celsius.
func (q Temperature) Celsius() float64 { return float64(q) - 273.15 } // [°C]

// Fahrenheit returns the temperature in degrees Fahrenheit.
func (q Temperature) Fahrenheit() float64 { return float64(q)*1.8 - 459.67 } // [°F]

// Absolute returns the absolute pressure at a place with the given ambient.
func (q GaugePressure) Absolute(ambient Pressure) Pressure { return Pressure(q) + ambient }
