package units

var (
	kindEnergy = kind{name: "energy", si: "J", metric: "mJ", us: "mJ", units: []unit{
		eng(-9, "nJ"), eng(-6, "µJ"), eng(-3, "mJ"), eng(0, "J"), eng(3, "kJ"), eng(6, "MJ"), eng(9, "GJ"), dec(-7, "erg"),
		ratio(3600, 1, "Wh", "W·h", "ucum:W.h"), ratio(3600000, 1, "kWh", "kW·h", "ucum:kW.h"),
		ratioExp(105505585262, 1, -8, "Btu", "BTU", "ucum:[Btu_IT]"),
		ratioExp(1602176634, 1, -31, "meV"), ratioExp(1602176634, 1, -28, "eV"), ratioExp(1602176634, 1, -25, "keV")}}
	kindPower = kind{name: "power", si: "W", metric: "kW", us: "Btu/h", units: []unit{
		eng(-6, "µW"), eng(-3, "mW"), eng(0, "W"), eng(3, "kW"), eng(6, "MW"),
		ratioExp(105505585262, 3600, -8, "Btu/h", "BTU/h", "ucum:[Btu_IT]/h")}}
	kindEnergyPerMass = kind{name: "energy per mass", si: "J/kg", metric: "kJ/kg", us: "Btu/lb", units: []unit{
		eng(0, "J/kg"), eng(3, "kJ/kg", "J/g"), eng(6, "MJ/kg", "kJ/g"),
		ratio(3600000, 1, "kWh/kg", "kW·h/kg", "ucum:kW.h/kg"),
		ratio(2326, 1, "Btu/lb", "BTU/lb", "ucum:[Btu_IT]/[lb_av]")}}
	kindEnergyPerArea = kind{name: "energy per area", si: "J/m²", metric: "mJ/m²", us: "dyn/cm", units: []unit{
		eng(-6, "µJ/m²"), eng(-3, "mJ/m²", "mN/m"), eng(0, "J/m²"), dec(1, "mJ/cm²"), dec(4, "J/cm²"),
		dec(-3, "dyn/cm", "dyne/cm")}}
	kindViscosity = kind{name: "dynamic viscosity", si: "Pa·s", metric: "mPa·s", us: "cP", units: []unit{
		eng(-6, "µPa·s"), eng(-3, "mPa·s"), eng(0, "Pa·s"), dec(-3, "cP"), dec(-1, "P")}}
	kindDensity = kind{name: "density", si: "kg/m³", metric: "kg/m³", us: "lb/ft³", units: []unit{
		eng(-3, "g/m³"), eng(0, "kg/m³", "g/L"), dec(3, "g/cm³", "g/mL", "kg/L", "t/m³"),
		ratio(453592370000, 28316846592, "lb/ft³", "ucum:[lb_av]/[cft_i]")}}
	kindBasisWeight = kind{name: "mass per area", si: "kg/m²", metric: "g/m²", us: "lb/3000ft²", units: []unit{
		eng(-3, "g/m²", "gsm"), eng(0, "kg/m²"), dec(-6, "mg/m²"), dec(-2, "mg/cm²"), dec(1, "g/cm²"),
		ratio(45359237, 3000*9290304, "lb/3000ft²", "lb/3000 ft²", "ucum:[lb_av]/(3000.[sft_i])"),
		ratio(45359237, 1000*9290304, "lb/1000ft²", "lb/1000 ft²", "lb/MSF", "lb/msf", "ucum:[lb_av]/(1000.[sft_i])"),
		ratio(45359237, 100*9290304, "lb/100ft²", "lb/100 ft²", "ucum:[lb_av]/(100.[sft_i])"),
		ratioExp(45359237, 16*83612736, 0, "oz/yd²", "osy", "ucum:[oz_av]/[syd_i]"),
		// Pounds per ream of 500 sheets of the basic size of that grade; half
		// inches, so that all sizes are whole numbers. Basic sizes of the trade;
		// the rows of testdata name the collection they were compared with.
		ratio(pounds, reams*(2*17)*(2*22), "lb bond", "ucum:-"),
		ratio(pounds, reams*(2*25)*(2*38), "lb book", "lb text", "lb offset", "ucum:-"),
		ratio(pounds, reams*(2*20)*(2*26), "lb cover", "ucum:-"),
		ratio(pounds, reams*(2*24)*(2*36), "lb tag", "lb newsprint", "ucum:-"),
		ratio(pounds, reams*51*61, "lb index", "ucum:-"),
		ratio(pounds, reams*(2*19)*(2*24), "lb blotting", "ucum:-"),
		ratio(pounds, reams*45*57, "lb postcard", "lb bristol", "ucum:-")},
		hints: []hint{refuse("a ream weight says nothing without its sheet: write lb bond, lb book, lb cover, lb tag, lb "+
			"index, lb/3000ft² or lb/1000ft²",
			"lb", "lbs", "#", "lb/ream", "lbs/ream", "pound")}}
	kindAngle = kind{name: "angle", si: "rad", metric: "°", us: "°", units: []unit{
		eng(-6, "µrad"), eng(-3, "mrad"), eng(0, "rad"),
		ratioExp(3141592653589793238, 180, -18, "°", "ucum:deg")}} // π to 19 digits: relative error 1.5e-19
	kindRatio = kind{name: "ratio", si: "(fraction)", metric: "%", us: "%", units: []unit{
		eng(0, "", "ucum:-"), dec(-2, "%"), dec(-3, "‰", "ucum:-"), dec(-6, "ppm", "ucum:[ppm]")}}
)

// A weight in pounds of 500 sheets of an area in squares of half an inch is pounds/(reams·area).
const (
	pounds = 4 * 45359237
	reams  = 500 * 64516
)
