package units

// The closed table, in four rooms: mechanics here, electricity, gas with
// humidity, and the rest of matter. Each kind lists every spelling that Parse
// accepts (see folds and enter for the variants read alike); there is no free
// product of prefix and unit. Factors follow from 1 in = 25.4 mm, 1 lb =
// 0.45359237 kg = 7000 gr, g0 = 9.80665 m/s² and 1 atm = 101325 Pa (NIST SP
// 811:2008, appendix B; UCUM essence 2.2) and are exact unless a line says so.
var (
	kindLength = kind{name: "length", si: "m", metric: "mm", us: "in", units: []unit{
		eng(-9, "nm"), eng(-6, "µm", "micron", "microns"), eng(-3, "mm"), eng(0, "m"), eng(3, "km"), dec(-2, "cm"),
		ratio(254, 10000, "in", "inch", "ucum:[in_i]"), ratio(3048, 10000, "ft", "ucum:[ft_i]"),
		ratio(9144, 10000, "yd", "ucum:[yd_i]"),
		ratio(254, 10000000, "mil", "thou", "ucum:[mil_i]"),
		ratio(254, 1000000000, "gauge", "ga", "ucum:-"), // of film, 0.01 mil: common practice
		ratio(1200, 3937, "[ft_us]")},                   // US survey foot, out of use since 2023: only by its UCUM code
		hints: []hint{refuse("a point is 1/72 in of type and 0.001 in of board: write mil, in or mm", "pt"),
			refuse("write in", "\""),
			refuse("write ft", "'")}}
	kindArea = kind{name: "area", si: "m²", metric: "m²", us: "ft²", units: []unit{
		eng(-6, "mm²"), eng(0, "m²"), dec(-4, "cm²"),
		ratio(64516, 100000000, "in²", "sq in", "ucum:[sin_i]"), ratio(9290304, 100000000, "ft²", "sq ft", "ucum:[sft_i]")}}
	kindVolume = kind{name: "volume", si: "m³", metric: "L", us: "ft³", units: []unit{
		eng(-9, "mm³"), eng(-3, "L", "l", "dm³"), eng(0, "m³"), dec(-6, "mL", "ml", "cm³"),
		ratio(28316846592, 1e12, "ft³", "cu ft", "ucum:[cft_i]"), ratio(16387064, 1e12, "in³", "cu in", "ucum:[cin_i]"),
		ratioExp(3785411784, 1, -12, "gal(US)", "ucum:[gal_us]")}}
	kindTime = kind{name: "time", si: "s", metric: "s", us: "s", units: []unit{
		eng(-12, "ps"), eng(-9, "ns"), eng(-6, "µs"), eng(-3, "ms"), eng(0, "s"),
		ratio(60, 1, "min"), ratio(3600, 1, "h"), ratio(86400, 1, "d")},
		hints: []hint{refuse("write min for minutes", "m")}}
	kindFrequency = kind{name: "frequency", si: "Hz", metric: "Hz", us: "Hz", units: []unit{
		eng(-3, "mHz"), eng(0, "Hz", "1/s", "/s", "s-1"), eng(3, "kHz"), eng(6, "MHz"),
		ratio(1, 60, "1/min", "/min", "rpm", "r/min"), ratio(1, 3600, "1/h", "/h")}}
	kindSpeed = kind{name: "speed", si: "m/s", metric: "m/min", us: "ft/min", units: []unit{
		eng(-6, "µm/s"), eng(-3, "mm/s"), eng(0, "m/s"), eng(3, "km/s"), dec(-2, "cm/s"),
		ratio(1, 60, "m/min"), ratio(10, 36, "km/h"), ratio(1, 60000, "mm/min"),
		ratio(508, 100000, "ft/min", "fpm", "FPM", "ucum:[ft_i]/min"),
		ratio(3048, 10000, "ft/s", "fps", "ucum:[ft_i]/s"), ratio(254, 10000, "in/s", "ips", "ucum:[in_i]/s"),
		ratio(1609344, 3600000, "mph", "ucum:[mi_i]/h")},
		hints: []hint{refuse("write m/min", "mpm")}}
	kindAcceleration = kind{name: "acceleration", si: "m/s²", metric: "m/s²", us: "ft/s²", units: []unit{
		eng(-3, "mm/s²"), eng(0, "m/s²"), dec(-2, "cm/s²"),
		ratioExp(980665, 1, -5, "gn", "g", "g0", "ucum:[g]"), ratio(3048, 10000, "ft/s²", "ucum:[ft_i]/s2")}}
	kindMass = kind{name: "mass", si: "kg", metric: "kg", us: "lb", units: []unit{
		eng(-9, "µg"), eng(-6, "mg"), eng(-3, "g"), eng(0, "kg"), dec(3, "t"),
		ratioExp(45359237, 1, -8, "lb", "lbm", "ucum:[lb_av]"), ratioExp(45359237, 16, -8, "oz", "ucum:[oz_av]"),
		ratioExp(6479891, 1, -11, "gr", "grain", "ucum:[gr]")}}
	kindForce = kind{name: "force", si: "N", metric: "N", us: "lbf", units: []unit{
		eng(-6, "µN"), eng(-3, "mN"), eng(0, "N"), eng(3, "kN"), dec(-5, "dyn"),
		ratioExp(980665, 1, -5, "kgf"), ratioExp(980665, 1, -8, "gf"),
		ratioExp(44482216152605, 1, -13, "lbf", "ucum:[lbf_av]"), ratioExp(44482216152605, 16, -13, "ozf", "ucum:-")},
		hints: []hint{refuse("a pound is a mass: write lbf", "lb"),
			refuse("a kilogram is a mass: write kgf or N", "kg"),
			refuse("an ounce is a mass: write ozf", "oz"),
			refuse("a gram is a mass: write gf or mN", "g")}}
	kindLineForce = kind{name: "force per width", si: "N/m", metric: "N/m", us: "lbf/in", units: []unit{
		eng(-3, "mN/m"), eng(0, "N/m"), eng(3, "kN/m", "N/mm"), dec(2, "N/cm"), ratioExp(980665, 1, -3, "kgf/cm"),
		ratioExp(980665, 1, -5, "kgf/m"),
		ratioExp(44482216152605, 254, -9, "lbf/in", "pli", "PLI", "ucum:[lbf_av]/[in_i]"),
		ratioExp(44482216152605, 254*16, -9, "ozf/in", "ucum:-")},
		hints: []hint{refuse("a pound is a mass: write lbf/in or pli", "lb/in", "lbs/in"),
			refuse("a kilogram is a mass: write kgf/cm or N/cm", "kg/cm"),
			refuse("a kilogram is a mass: write kgf/m or N/m", "kg/m")}}
	kindPressure = kind{name: "pressure", si: "Pa", metric: "kPa", us: "psi", units: []unit{
		eng(-3, "mPa"), eng(0, "Pa", "N/m²"), eng(3, "kPa"), eng(6, "MPa", "N/mm²"), eng(9, "GPa"),
		dec(2, "hPa"), dec(2, "mbar"), dec(5, "bar", "bara", "bar(a)"), ratio(101325, 1, "atm"),
		ratio(101325, 760, "Torr", "torr", "ucum:-"),
		// Conventional millimetre and inch of mercury (13595.1 kg/m³) and of water
		// (1000 kg/m³); UCUM rounds its m[Hg] to 133.322 kPa.
		ratioExp(133322387415, 1, -9, "mmHg", "ucum:mm[Hg]"), ratioExp(3386388640341, 1, -9, "inHg", "ucum:[in_i'Hg]"),
		ratioExp(24908891, 1, -5, "inH2O", "in H2O", "inWC", "ucum:[in_i'H2O]"),
		ratioExp(980665, 1, -5, "mmH2O", "mmWC", "ucum:mm[H2O]"),
		// Water of 4 °C (39.2 °F) and 60 °F: the rounded factors of NIST SP 811.
		ratioExp(249082, 1, -3, "inH2O(4°C)", "inH2O(39.2°F)", "ucum:-"), ratioExp(24884, 1, -2, "inH2O(60°F)", "ucum:-"),
		ratioExp(980665, 1, -1, "kgf/cm²", "at", "ucum:kgf/cm2"),
		ratioExp(44482216152605, 64516, -5, "psi", "psia", "lbf/in²", "ucum:[psi]"),
		ratioExp(44482216152605, 64516, -2, "ksi", "ucum:-")},
		hints: []hint{refuse("a gauge pressure needs the local ambient to become absolute: read it as GaugePressure and "+
			"call "+
			"Absolute",
			"psig", "psi(g)", "barg", "bar(g)", "mbarg", "mbar(g)", "Pa(g)", "kPa(g)", "MPa(g)", "inH2O(g)", "inWG")}}
	kindGauge = kind{name: "gauge pressure", si: "Pa(g)", metric: "bar(g)", us: "psig", units: []unit{
		eng(0, "Pa(g)", "ucum:-"), eng(3, "kPa(g)", "ucum:-"), eng(6, "MPa(g)", "ucum:-"),
		dec(5, "bar(g)", "barg", "ucum:-"), dec(2, "mbar(g)", "mbarg", "ucum:-"),
		ratioExp(24908891, 1, -5, "inH2O(g)", "inWG", "in w.g.", "ucum:-"),
		ratioExp(980665, 1, -5, "mmH2O(g)", "mmWG", "ucum:-"), ratioExp(980665, 1, -1, "kgf/cm²(g)", "ucum:-"),
		ratioExp(44482216152605, 64516, -5, "psig", "psi(g)", "ucum:-")},
		hints: []hint{refuse("gauge or absolute? Write the unit with (g) for gauge: bar(g), kPa(g), psig",
			"Pa", "kPa", "MPa", "bar", "mbar", "psi", "inH2O", "mmH2O", "kgf/cm2")}}
)
