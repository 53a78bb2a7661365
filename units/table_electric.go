package units

var (
	kindVoltage = kind{name: "voltage", si: "V", metric: "kV", us: "kV", units: []unit{
		eng(-9, "nV"), eng(-6, "µV"), eng(-3, "mV"), eng(0, "V"), eng(3, "kV", "KV", "kv", "Kv"), eng(6, "MV")},
		hints: []hint{refuse("what a field meter displays is no voltage of anything: read it as DisplayVoltage",
			"V(display)", "kV(display)")}}
	kindDisplay = kind{name: "field-meter display", si: "V(display)", metric: "kV(display)", us: "kV(display)",
		units: []unit{
			eng(0, "V(display)", "V", "ucum:-"), eng(3, "kV(display)", "kV", "KV", "kv", "Kv", "ucum:-")}}
	kindField = kind{name: "electric field", si: "V/m", metric: "kV/m", us: "kV/in", units: []unit{
		eng(-3, "mV/m"), eng(0, "V/m", "N/C"), eng(3, "kV/m", "V/mm"), eng(6, "MV/m", "kV/mm", "V/µm"), dec(5, "kV/cm"),
		dec(2, "V/cm"),
		ratio(10000, 254, "V/in", "ucum:V/[in_i]"), ratio(1e7, 254, "kV/in", "ucum:kV/[in_i]"),
		ratio(1e7, 254, "V/mil", "ucum:V/[mil_i]"),
		ratio(1e10, 254, "kV/mil", "ucum:kV/[mil_i]")}}
	kindCharge = kind{name: "charge", si: "C", metric: "nC", us: "nC", units: []unit{
		eng(-15, "fC"), eng(-12, "pC"), eng(-9, "nC"), eng(-6, "µC"), eng(-3, "mC"), eng(0, "C"),
		ratioExp(1602176634, 1, -28, "e", "ucum:[e]"),         // exact since the SI of 2019
		ratio(1, 2997924580, "statC", "Fr", "esu", "ucum:-")}} // 1/(10·c) with c in m/s, for old papers
	kindSurfaceCharge = kind{name: "surface charge density", si: "C/m²", metric: "µC/m²", us: "nC/in²", units: []unit{
		eng(-12, "pC/m²"), eng(-9, "nC/m²"), eng(-6, "µC/m²"), eng(-3, "mC/m²"), eng(0, "C/m²"),
		dec(-8, "pC/cm²"), dec(-5, "nC/cm²"), dec(-2, "µC/cm²"),
		ratio(100, 64516e3, "nC/in²", "ucum:nC/[sin_i]"), ratio(1e5, 64516e3, "µC/in²", "ucum:uC/[sin_i]"),
		ratio(1, 92903040, "nC/ft²", "ucum:nC/[sft_i]"),
		ratioExp(1602176634, 1, -28, "e/m²", "ucum:[e]/m2"), ratioExp(1602176634, 1, -24, "e/cm²", "ucum:[e]/cm2"),
		ratio(10000, 2997924580, "statC/cm²", "esu/cm²", "ucum:-")}}
	kindLineCharge = kind{name: "line charge density", si: "C/m", metric: "µC/m", us: "nC/in", units: []unit{
		eng(-12, "pC/m"), eng(-9, "nC/m"), eng(-6, "µC/m"), eng(-3, "mC/m"), eng(0, "C/m"),
		dec(-7, "nC/cm"), ratio(1, 25400000, "nC/in", "ucum:nC/[in_i]")}}
	kindVolumeCharge = kind{name: "volume charge density", si: "C/m³", metric: "µC/m³", us: "µC/m³", units: []unit{
		eng(-12, "pC/m³"), eng(-9, "nC/m³"), eng(-6, "µC/m³", "nC/L", "pC/cm³"), eng(-3, "mC/m³", "µC/L"), eng(0, "C/m³")}}
	kindMassCharge = kind{name: "charge per mass", si: "C/kg", metric: "µC/kg", us: "µC/lb", units: []unit{
		eng(-12, "pC/kg"), eng(-9, "nC/kg", "pC/g"), eng(-6, "µC/kg", "nC/g"), eng(-3, "mC/kg", "µC/g"), eng(0, "C/kg"),
		ratio(100, 45359237, "µC/lb", "ucum:uC/[lb_av]")}}
	kindCurrent = kind{name: "current", si: "A", metric: "µA", us: "µA", units: []unit{
		eng(-15, "fA"), eng(-12, "pA"), eng(-9, "nA"), eng(-6, "µA"), eng(-3, "mA"), eng(0, "A")}}
	kindLineCurrent = kind{name: "current per width", si: "A/m", metric: "µA/m", us: "µA/ft", units: []unit{
		eng(-12, "pA/m"), eng(-9, "nA/m"), eng(-6, "µA/m"), eng(-3, "mA/m", "µA/mm"), eng(0, "A/m"), dec(-4, "µA/cm"),
		ratio(10, 3048e3, "µA/ft", "ucum:uA/[ft_i]"), ratio(1, 25400, "µA/in", "ucum:uA/[in_i]")}}
	kindCurrentDensity = kind{name: "current density", si: "A/m²", metric: "µA/m²", us: "µA/ft²", units: []unit{
		eng(-12, "pA/m²"), eng(-9, "nA/m²"), eng(-6, "µA/m²"), eng(-3, "mA/m²"), eng(0, "A/m²"),
		dec(-5, "nA/cm²"), dec(-2, "µA/cm²"), ratio(100, 9290304, "µA/ft²", "ucum:uA/[sft_i]")}}
	kindCapacitance = kind{name: "capacitance", si: "F", metric: "pF", us: "pF", units: []unit{
		eng(-15, "fF"), eng(-12, "pF"), eng(-9, "nF"), eng(-6, "µF"), eng(-3, "mF"), eng(0, "F")}}
	kindResistance = kind{name: "resistance", si: "Ω", metric: "Ω", us: "Ω", units: []unit{
		eng(-3, "mΩ"), eng(0, "Ω"), eng(3, "kΩ"), eng(6, "MΩ"), eng(9, "GΩ"), eng(12, "TΩ")}}
	kindSheetResistance = kind{name: "surface resistivity", si: "Ω/sq", metric: "Ω/sq", us: "Ω/sq", units: []unit{
		eng(0, "Ω/sq", "ucum:Ohm/{sq}"), eng(3, "kΩ/sq", "ucum:kOhm/{sq}"), eng(6, "MΩ/sq", "ucum:MOhm/{sq}"),
		eng(9, "GΩ/sq", "ucum:GOhm/{sq}"), eng(12, "TΩ/sq", "ucum:TOhm/{sq}")},
		hints: []hint{refuse("a surface resistivity is per square: write Ω/sq (a resistance between two electrodes is "+
			"Resistance)",
			"Ohm", "ohm", "kOhm", "kohm", "MOhm", "Mohm", "GOhm", "Gohm", "TOhm", "Tohm")}}
	kindVolumeResistivity = kind{name: "volume resistivity", si: "Ω·m", metric: "Ω·m", us: "Ω·cm", units: []unit{
		eng(0, "Ω·m", "Ω m", "Ω-m"), eng(3, "kΩ·m"), eng(6, "MΩ·m"), eng(9, "GΩ·m"), eng(12, "TΩ·m"),
		dec(-2, "Ω·cm", "Ω cm", "Ω-cm"), dec(1, "kΩ·cm"), dec(4, "MΩ·cm"), dec(7, "GΩ·cm"), dec(10, "TΩ·cm")}}
	kindAreaResistance = kind{name: "area resistance", si: "Ω·m²", metric: "Ω·m²", us: "Ω·cm²", units: []unit{
		eng(0, "Ω·m²"), eng(3, "kΩ·m²"), eng(6, "MΩ·m²"), eng(9, "GΩ·m²"), dec(-4, "Ω·cm²"), dec(-1, "kΩ·cm²"),
		dec(2, "MΩ·cm²")}}
	kindMassResistivity = kind{name: "mass-specific resistance", si: "Ω·kg/m²", metric: "Ω·g/cm²", us: "Ω·g/cm²",
		units: []unit{
			eng(0, "Ω·kg/m²"), dec(1, "Ω·g/cm²"), dec(-3, "Ω·g/m²")}}
	kindConductivity = kind{name: "conductivity", si: "S/m", metric: "pS/m", us: "pS/m", units: []unit{
		eng(-15, "fS/m"), eng(-12, "pS/m"), eng(-9, "nS/m"), eng(-6, "µS/m"), eng(-3, "mS/m"), eng(0, "S/m"),
		dec(-4, "µS/cm"), dec(2, "S/cm")}}
	kindMobility = kind{name: "ion mobility", si: "m²/(V·s)", metric: "cm²/(V·s)", us: "cm²/(V·s)", units: []unit{
		eng(0, "m²/(V·s)", "m²/Vs", "m²/V/s"), dec(-4, "cm²/(V·s)", "cm²/Vs", "cm²/V/s")}}
	kindDiffusivity = kind{name: "diffusivity", si: "m²/s", metric: "cm²/s", us: "cm²/s", units: []unit{
		eng(-6, "mm²/s", "cSt"), eng(0, "m²/s"), dec(-4, "cm²/s", "St")}}
	kindNumberDensity = kind{name: "number density", si: "1/m³", metric: "1/cm³", us: "1/cm³", units: []unit{
		eng(0, "1/m³", "/m³", "m⁻³"), dec(6, "1/cm³", "/cm³", "cm⁻³", "1/cc", "/cc"), dec(3, "1/L", "/L")}}
	kindRecombination = kind{name: "recombination coefficient", si: "m³/s", metric: "cm³/s", us: "cm³/s", units: []unit{
		eng(0, "m³/s"), dec(-6, "cm³/s")}}
)
