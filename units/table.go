package units

// The closed table. Each kind lists every spelling that Parse accepts; there is
// no free product of prefix and unit. µ stands for both micro signs and u, Ω for
// both ohm signs: the parser folds them before it looks a spelling up.
var (
	kindLength = kind{"length", "m", []unit{
		eng(-9, "nm"), eng(-6, "µm", "micron"), eng(-3, "mm"), eng(0, "m"), eng(3, "km"), dec(-2, "cm"),
		ratio(254, 10000, "in", "inch", "[in_i]"), ratio(3048, 10000, "ft", "[ft_i]"),
		ratio(254, 10000000, "mil", "thou", "[mil_i]"), ratio(254, 1000000000, "gauge", "ga")}}
	kindArea = kind{"area", "m²", []unit{
		eng(-6, "mm²", "mm2"), eng(0, "m²", "m2"), dec(-4, "cm²", "cm2"),
		ratio(64516, 100000000, "in²", "in2", "[sin_i]"), ratio(9290304, 100000000, "ft²", "ft2", "[sft_i]")}}
	kindVolume = kind{"volume", "m³", []unit{
		eng(-9, "mm³", "mm3"), eng(-3, "L", "l", "dm³", "dm3"), eng(0, "m³", "m3"), dec(-6, "mL", "ml", "cm³", "cm3"),
		ratio(28316846592, 1e12, "ft³", "ft3", "[cft_i]")}}
	kindTime = kind{"time", "s", []unit{
		eng(-9, "ns"), eng(-6, "µs"), eng(-3, "ms"), eng(0, "s"),
		ratio(60, 1, "min"), ratio(3600, 1, "h"), ratio(86400, 1, "d")}}
	kindFrequency = kind{"frequency", "Hz", []unit{eng(-3, "mHz"), eng(0, "Hz", "1/s", "s-1"), eng(3, "kHz"), eng(6, "MHz"),
		ratio(1, 60, "1/min", "/min"), ratio(1, 3600, "1/h", "/h")}}
	kindSpeed = kind{"speed", "m/s", []unit{
		eng(-6, "µm/s"), eng(-3, "mm/s"), eng(0, "m/s"), eng(3, "km/s"), ratio(1, 60, "m/min"),
		ratio(508, 100000, "ft/min", "fpm", "[ft_i]/min"), ratio(3048, 10000, "ft/s"), dec(-2, "cm/s"), ratio(10, 36, "km/h")}}
	kindMass = kind{"mass", "kg", []unit{
		eng(-9, "µg"), eng(-6, "mg"), eng(-3, "g"), eng(0, "kg"), dec(3, "t"),
		ratio(45359237, 100000000, "lb", "[lb_av]"), ratio(6479891, 1e11, "gr", "[gr]")}}
	kindForce = kind{"force", "N", []unit{
		eng(-3, "mN"), eng(0, "N"), eng(3, "kN"), ratio(980665, 100000, "kgf"),
		ratio(44482216152605, 1e13, "lbf", "[lbf_av]")}}
	kindLineForce = kind{"force per width", "N/m", []unit{
		eng(0, "N/m"), eng(3, "kN/m", "N/mm"), dec(2, "N/cm"), ratio(980665, 1000, "kgf/cm"),
		ratio(44482216152605, 254e9, "lbf/in", "pli", "[lbf_av]/[in_i]")}}
	kindPressure = kind{"absolute pressure", "Pa", []unit{
		eng(-3, "mPa"), eng(0, "Pa"), eng(3, "kPa"), eng(6, "MPa"), dec(2, "hPa", "mbar"), dec(5, "bar"),
		ratio(101325, 1, "atm"), ratio(101325, 760, "Torr", "torr"), ratio(133322387415, 1e9, "mmHg"),
		ratio(44482216152605, 64516e5, "psi", "psia", "[psi]"), ratio(3386389, 1000, "inHg")}}
	kindGauge = kind{"gauge pressure", "Pa(g)", []unit{
		eng(0, "Pa(g)"), eng(3, "kPa(g)"), eng(6, "MPa(g)"), dec(5, "bar(g)", "barg"), dec(2, "mbar(g)", "mbarg"),
		ratio(44482216152605, 64516e5, "psig", "psi(g)")}}
	kindTemperature = kind{"temperature", "K", []unit{
		eng(0, "K"), affine(1, 1, 273.15, "°C", "degC", "Cel", "C"), affine(5, 9, 459.67*5/9, "°F", "degF", "[degF]", "F")}}
	kindTemperatureDifference = kind{"temperature difference", "K", []unit{
		eng(-3, "mK"), eng(0, "K"), dec(0, "Δ°C"), ratio(5, 9, "Δ°F", "°R")}}
	kindVoltage = kind{"voltage", "V", []unit{
		eng(-6, "µV"), eng(-3, "mV"), eng(0, "V"), eng(3, "kV", "KV", "kv"), eng(6, "MV")}}
	kindDisplay = kind{"field-meter display", "V(display)", []unit{
		eng(0, "V(display)", "V"), eng(3, "kV(display)", "kV", "KV", "kv")}}
	kindField = kind{"electric field", "V/m", []unit{
		eng(-3, "mV/m"), eng(0, "V/m"), eng(3, "kV/m", "V/mm"), eng(6, "MV/m", "kV/mm", "V/µm"), dec(5, "kV/cm"), dec(2, "V/cm"),
		ratio(10000, 254, "V/in", "V/[in_i]"), ratio(1e7, 254, "kV/in", "V/mil", "kV/[in_i]", "V/[mil_i]")}}
	kindCharge = kind{"charge", "C", []unit{
		eng(-15, "fC"), eng(-12, "pC"), eng(-9, "nC"), eng(-6, "µC"), eng(-3, "mC"), eng(0, "C")}}
	kindSurfaceCharge = kind{"surface charge density", "C/m²", []unit{
		eng(-12, "pC/m²", "pC/m2"), eng(-9, "nC/m²", "nC/m2"), eng(-6, "µC/m²", "µC/m2"), eng(-3, "mC/m²", "mC/m2"), eng(0, "C/m²", "C/m2"),
		dec(-5, "nC/cm²", "nC/cm2"), dec(-8, "pC/cm²", "pC/cm2"), ratio(100, 64516e3, "nC/in²", "nC/in2")}}
	kindLineCharge   = kind{"line charge density", "C/m", []unit{eng(-12, "pC/m"), eng(-9, "nC/m"), eng(-6, "µC/m"), eng(-3, "mC/m"), eng(0, "C/m")}}
	kindVolumeCharge = kind{"volume charge density", "C/m³", []unit{
		eng(-12, "pC/m³", "pC/m3"), eng(-9, "nC/m³", "nC/m3"), eng(-6, "µC/m³", "µC/m3"), eng(-3, "mC/m³", "mC/m3"), eng(0, "C/m³", "C/m3")}}
	kindMassCharge = kind{"charge per mass", "C/kg", []unit{
		eng(-12, "pC/kg"), eng(-9, "nC/kg"), eng(-6, "µC/kg", "nC/g"), eng(-3, "mC/kg", "µC/g"), eng(0, "C/kg")}}
	kindCurrent     = kind{"current", "A", []unit{eng(-15, "fA"), eng(-12, "pA"), eng(-9, "nA"), eng(-6, "µA"), eng(-3, "mA"), eng(0, "A")}}
	kindLineCurrent = kind{"current per width", "A/m", []unit{
		eng(-9, "nA/m"), eng(-6, "µA/m"), eng(-3, "mA/m"), eng(0, "A/m"), ratio(10, 3048e3, "µA/ft"), ratio(1, 25400, "µA/in")}}
	kindCurrentDensity = kind{"current density", "A/m²", []unit{
		eng(-9, "nA/m²", "nA/m2"), eng(-6, "µA/m²", "µA/m2"), eng(-3, "mA/m²", "mA/m2"), eng(0, "A/m²", "A/m2"), dec(-5, "nA/cm²", "nA/cm2")}}
	kindCapacitance = kind{"capacitance", "F", []unit{eng(-15, "fF"), eng(-12, "pF"), eng(-9, "nF"), eng(-6, "µF"), eng(-3, "mF"), eng(0, "F")}}
	kindResistance  = kind{"resistance", "Ω", []unit{
		eng(-3, "mΩ", "mOhm"), eng(0, "Ω", "Ohm", "ohm"), eng(3, "kΩ", "kOhm", "kohm"), eng(6, "MΩ", "MOhm", "Mohm"), eng(9, "GΩ", "GOhm", "Gohm"), eng(12, "TΩ", "TOhm", "Tohm")}}
	kindSheetResistance = kind{"surface resistivity", "Ω/sq", []unit{
		eng(0, "Ω/sq", "Ohm/sq", "ohm/sq", "Ω/□", "Ohm/{sq}"), eng(3, "kΩ/sq", "kOhm/sq", "kohm/sq"), eng(6, "MΩ/sq", "MOhm/sq", "Mohm/sq"),
		eng(9, "GΩ/sq", "GOhm/sq", "Gohm/sq"), eng(12, "TΩ/sq", "TOhm/sq", "Tohm/sq")}}
	kindVolumeResistivity = kind{"volume resistivity", "Ω·m", []unit{
		eng(0, "Ω·m", "Ω m", "Ohm.m", "ohm.m", "ohm m", "ohm·m"), eng(3, "kΩ·m", "kOhm.m"), eng(6, "MΩ·m", "MOhm.m"), eng(9, "GΩ·m", "GOhm.m"), eng(12, "TΩ·m", "TOhm.m"),
		dec(-2, "Ω·cm", "Ω cm", "Ohm.cm", "ohm.cm", "ohm cm", "ohm·cm")}}
	kindAreaResistance = kind{"area resistance", "Ω·m²", []unit{
		eng(0, "Ω·m²", "Ω·m2", "Ohm.m2"), eng(3, "kΩ·m²", "kΩ·m2"), eng(6, "MΩ·m²", "MΩ·m2"), dec(-4, "Ω·cm²", "Ω·cm2", "Ohm.cm2"), dec(-1, "kΩ·cm²", "kΩ·cm2", "kOhm.cm2")}}
	kindConductivity = kind{"conductivity", "S/m", []unit{
		eng(-15, "fS/m"), eng(-12, "pS/m"), eng(-9, "nS/m"), eng(-6, "µS/m"), eng(-3, "mS/m"), eng(0, "S/m"), dec(-4, "µS/cm")}}
	kindEnergy = kind{"energy", "J", []unit{
		eng(-9, "nJ"), eng(-6, "µJ"), eng(-3, "mJ"), eng(0, "J"), eng(3, "kJ"), eng(6, "MJ"), dec(-7, "erg"), ratio(3600000, 1, "kWh"), ratio(105505585262, 1e8, "Btu", "[Btu_IT]")}}
	kindPower               = kind{"power", "W", []unit{eng(-6, "µW"), eng(-3, "mW"), eng(0, "W"), eng(3, "kW"), eng(6, "MW")}}
	kindEnergyPerMass       = kind{"energy per mass", "J/kg", []unit{eng(0, "J/kg"), eng(3, "kJ/kg"), eng(6, "MJ/kg"), ratio(3600000, 1, "kWh/kg")}}
	kindEnergyPerArea       = kind{"energy per area", "J/m²", []unit{eng(-6, "µJ/m²", "µJ/m2"), eng(-3, "mJ/m²", "mJ/m2"), eng(0, "J/m²", "J/m2")}}
	kindMobility            = kind{"ion mobility", "m²/(V·s)", []unit{eng(0, "m²/(V·s)", "m2/(V.s)", "m²/Vs", "m2/Vs"), dec(-4, "cm²/(V·s)", "cm2/(V.s)", "cm²/Vs", "cm2/Vs")}}
	kindDiffusivity         = kind{"diffusivity", "m²/s", []unit{eng(-6, "mm²/s", "mm2/s"), eng(0, "m²/s", "m2/s"), dec(-4, "cm²/s", "cm2/s")}}
	kindNumberDensity       = kind{"number density", "1/m³", []unit{eng(0, "1/m³", "m⁻³", "m-3", "/m3", "1/m3"), dec(6, "1/cm³", "cm⁻³", "cm-3", "/cm3", "1/cm3")}}
	kindRecombination       = kind{"recombination coefficient", "m³/s", []unit{eng(0, "m³/s", "m3/s"), dec(-6, "cm³/s", "cm3/s")}}
	kindRelativeHumidity    = kind{"relative humidity over water", "1", []unit{eng(-2, "%RH", "%", "%rh", "% RH")}}
	kindRelativeHumidityIce = kind{"relative humidity over ice", "1", []unit{eng(-2, "%RHi", "%RH(ice)")}}
	kindHumidityRatio       = kind{"humidity ratio", "kg/kg", []unit{eng(-6, "mg/kg"), eng(-3, "g/kg"), eng(0, "kg/kg"), ratio(1, 7000, "gr/lb", "[gr]/[lb_av]")}}
	kindVapourDensity       = kind{"absolute humidity", "kg/m³", []unit{eng(-6, "mg/m³", "mg/m3"), eng(-3, "g/m³", "g/m3"), eng(0, "kg/m³", "kg/m3"), ratio(6479891000, 28316846592e2, "gr/ft³", "gr/ft3")}}
	kindDensity             = kind{"density", "kg/m³", []unit{eng(-3, "g/m³", "g/m3"), eng(0, "kg/m³", "kg/m3"), dec(3, "g/cm³", "g/cm3")}}
	kindBasisWeight         = kind{"mass per area", "kg/m²", []unit{
		eng(-3, "g/m²", "g/m2", "gsm"), eng(0, "kg/m²", "kg/m2"), ratio(45359237, 3000*9290304, "lb/3000ft²", "lb/3000ft2"), ratio(45359237, 1000*9290304, "lb/1000ft²", "lb/MSF")}}
	kindMassFlow   = kind{"mass flow", "kg/s", []unit{eng(-6, "mg/s"), eng(-3, "g/s"), eng(0, "kg/s"), ratio(1, 3600, "kg/h"), ratio(1, 60, "kg/min"), ratio(45359237, 3600e8, "lb/h")}}
	kindVolumeFlow = kind{"actual volume flow", "m³/s", []unit{
		eng(-3, "L/s", "l/s"), eng(0, "m³/s", "m3/s"), ratio(1, 3600, "m³/h", "m3/h"), ratio(1, 60000, "L/min", "l/min"), ratio(28316846592, 60e12, "cfm", "ft³/min", "[cft_i]/min")}}
	kindAngle = kind{"angle", "rad", []unit{eng(-3, "mrad"), eng(0, "rad"), ratio(3.141592653589793, 180, "°", "deg")}}
	kindRatio = kind{"ratio", "1", []unit{{symbol: "", num: 1, den: 1, print: true}, dec(-2, "%"), dec(-6, "ppm")}}
)
