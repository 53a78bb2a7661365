package units

var (
	kindTemperature = kind{name: "temperature", si: "K", shown: "°C", metric: "°C", us: "°F", units: []unit{
		eng(0, "K"), affine(1, 1, 27315, "°C", "degC", "C", "ucum:Cel"),
		affine(5, 9, 45967, "°F", "degF", "F", "ucum:[degF]"),
		ratio(5, 9, "°R", "degR", "ucum:[degR]")}}
	kindTemperatureDifference = kind{name: "temperature difference", si: "K", metric: "K", us: "Δ°F", units: []unit{
		eng(-3, "mK"), eng(0, "K"), dec(0, "Δ°C", "ucum:-"), ratio(5, 9, "Δ°F", "°R", "degR", "ucum:[degR]")},
		hints: []hint{refuse("a difference has no zero of the Celsius scale: write K or Δ°C", "°C", "C", "degC", "Cel"),
			refuse("a difference has no zero of the Fahrenheit scale: write Δ°F", "°F", "F", "degF", "[degF]")}}
	kindRelativeHumidity = kind{name: "relative humidity over water", si: "(fraction)", metric: "%RH", us: "%RH",
		units: []unit{
			eng(-2, "%RH", "%", "%rh", "%rH", "% RH", "%r.h.", "%RH(water)", "ucum:%{RH}")},
		hints: []hint{refuse("a number without its unit: write 45 % or 45 %RH", "")}}
	kindRelativeHumidityIce = kind{name: "relative humidity over ice", si: "(fraction)", metric: "%RH(ice)",
		us: "%RH(ice)", units: []unit{
			eng(-2, "%RH(ice)", "%RHi", "ucum:-")},
		hints: []hint{refuse("over water or over ice? Write %RH(ice), or read it as RelativeHumidity (over water)", "%",
			"%RH",
			"%rh")}}
	kindHumidityRatio = kind{name: "humidity ratio", si: "kg/kg", metric: "g/kg", us: "gr/lb", units: []unit{
		eng(-6, "mg/kg", "mg/kg(dry)"), eng(-3, "g/kg", "g/kg(dry)"), eng(0, "kg/kg", "kg/kg(dry)", "lb/lb"),
		ratio(1, 7000, "gr/lb", "gr/lb(dry)", "ucum:[gr]/[lb_av]")},
		hints: []hint{refuse("per mass of moist air: read it as SpecificHumidity and call Ratio", "g/kg(moist)",
			"mg/kg(moist)",
			"kg/kg(moist)", "gr/lb(moist)")}}
	kindSpecificHumidity = kind{name: "specific humidity", si: "kg/kg(moist)", metric: "g/kg(moist)",
		us: "gr/lb(moist)", units: []unit{
			eng(-6, "mg/kg(moist)", "ucum:-"), eng(-3, "g/kg(moist)", "ucum:-"), eng(0, "kg/kg(moist)", "ucum:-"),
			ratio(1, 7000, "gr/lb(moist)", "ucum:-")},
		hints: []hint{refuse("per mass of dry or of moist air? Write g/kg(moist), or read it as HumidityRatio (dry air)",
			"g/kg",
			"mg/kg", "kg/kg", "gr/lb")}}
	kindVapourDensity = kind{name: "absolute humidity", si: "kg/m³", metric: "g/m³", us: "gr/ft³", units: []unit{
		eng(-6, "mg/m³"), eng(-3, "g/m³"), eng(0, "kg/m³"), ratio(64798910, 28316846592, "gr/ft³", "ucum:[gr]/[cft_i]")}}
	kindMassFlow = kind{name: "mass flow", si: "kg/s", metric: "kg/h", us: "lb/h", units: []unit{
		eng(-6, "mg/s"), eng(-3, "g/s"), eng(0, "kg/s"), ratio(1, 3600, "kg/h"), ratio(1, 60, "kg/min"),
		ratio(1, 60000, "g/min"), ratio(1, 3600000, "g/h"),
		ratioExp(45359237, 3600, -8, "lb/h", "ucum:[lb_av]/h"), ratioExp(45359237, 60, -8, "lb/min", "ucum:[lb_av]/min")}}
	kindMolarFlow = kind{name: "molar flow", si: "mol/s", metric: "mol/s", us: "mol/s", units: []unit{
		eng(-6, "µmol/s"), eng(-3, "mmol/s"), eng(0, "mol/s"), ratio(1, 3600, "mol/h")}}
	kindVolumeFlow = kind{name: "actual volume flow", si: "m³/s", metric: "m³/h", us: "cfm", units: []unit{
		eng(-6, "mL/s", "ml/s", "cm³/s"), eng(-3, "L/s", "l/s"), eng(0, "m³/s"), ratio(1, 3600, "m³/h"),
		ratio(1, 60, "m³/min"),
		ratio(1, 60000, "L/min", "l/min"), ratio(1, 3600000, "L/h", "l/h"), ratio(1, 60e6, "mL/min", "ml/min"),
		ratio(28316846592, 60e12, "cfm", "acfm", "ft³/min", "ucum:[cft_i]/min"),
		ratio(28316846592, 3600e12, "cfh", "ft³/h", "ucum:[cft_i]/h")},
		hints: []hint{refuse("a standard flow is an amount of gas, not a volume: read it as StandardFlow and call "+
			"Actual with "+
			"the state of the place",
			"Nm3/h", "Nm3/min", "Nm3/s", "NL/min", "Nl/min", "scfm", "scfh", "SCFM", "Sm3/h", "L/min(ANR)", "L/min ANR",
			"l/min ANR", "m3/h ANR", "m3/h(ANR)")}}
	kindStandardFlow = kind{name: "standard volume flow", si: "m³/s", build: standardFlowUnits,
		hints: []hint{refuse("a standard flow without its reference state is up to 3 % uncertain: write scfm(60°F), "+
			"scfm(68°F), Nm³/h (0 °C), L/min(ANR) …",
			"scfm", "SCFM", "scfh", "SCFH", "slpm", "SLPM", "slm", "sccm", "cfm", "L/min", "m3/h", "L/s", "m3/s")}}
)
