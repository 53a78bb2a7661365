package humidity

import (
	"slices"
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

var (
	nfpa = known.Source{Provenance: known.Published, Cite: "NFPA 77-2000, Recommended Practice on " +
		"Static Electricity, 6.4.2",
		Note: "copy of the text"}
	springer = known.Source{Provenance: known.Published,
		Cite: "W. Martienssen, H. Warlimont (eds.), Springer Handbook of Condensed Matter and Materials " +
			"Data (2005), table 3.3-12",
		Note: "printed as a lower limit at room conditions, clean"}
	polymers = known.Source{Provenance: known.Quoted, Cite: "NPAOP 0.00-1.29-97 (1997), appendix 6",
		Via:  "a copy of the act on a trade page",
		Note: "median and spread of four: polystyrene 1e16, PMMA 6e16, LDPE and HDPE 8e15 Ω, 20 °C, 65 %RH, untreated"}
	regainTable = known.Source{Provenance: known.Memory,
		Cite: "International Critical Tables, as reprinted in the ASHRAE Handbook, HVAC Applications",
		Note: "least-squares GAB fit to the regain table (10 … 90 %RH, rms 0.06 … 0.2 % regain); not published constants"}
	pulpIsotherm = known.Source{Provenance: known.Quoted,
		Cite: "J. Tryding, H. Askfelt, M. Alexandersson, M. Ristinmaa, Drying Technol. (2022), DOI " +
			"10.1080/07373937.2022.2084104, " +
			"fitted to P. Leuk et al., Drying Technol. 34 (2016) 563",
		Via: "the authors' public program", Note: "branch not stated; 25 and 80 °C"}
	nylons = known.Source{Provenance: known.Memory, Cite: "M. I. Kohan (ed.), Nylon Plastics Handbook (1995)",
		Note: "regain at 50 and 100 %RH; volume resistivity dry, at 50 and at 100 %RH"}
	rosenthal = known.Source{Provenance: known.Quoted, Cite: "E. Rosenthal, Electrical Review, 27 November 1942",
		Via: "Nature 150 (1942) 771", Note: "30 and 98 %RH; the law between them is that of W. G. Smail et " +
			"al., J. IEE 69 (1931) 427"}
	paperHeat = known.Source{Provenance: known.Memory,
		Note: "0.1 W/(m·K) across, 0.35 along, 800 kg/m³, 1.4 kJ/(kg·K) and 6 % water; " +
			"the wall of the fibre has 0.157 W/(m·K) and 1.45 kJ/(kg·K)"}
	boardDiffusion = known.Source{Provenance: known.Published,
		Cite: "S. Paunonen, M. Lenes, Ø. Gregersen, Moisture content of polyethylene-coated solid fibreboard after " +
			"industrial lamination, " +
			"Packag. Technol. Sci. (2011), abstract",
		Note: "5.87e-10 m²/s in the plane, one board of 1.7 mm; across 3e-11 m²/s, not compared with a source"}
	fibreDiffusion = known.Source{Provenance: known.Memory,
		Note: "taken as that of one solid fibreboard in the plane (5.87e-10 m²/s) and 3e-11 m²/s across; gaps " +
			"between sheets not counted"}
)

// guessed is the source of an order of magnitude.
func guessed() known.Source {
	return known.Source{Provenance: known.CommonPractice, Note: "order of magnitude"}
}

// Room conditions and the temperature of nothing else.
const roomLow, roomHigh = 288.15 * units.Kelvin, 303.15 * units.Kelvin // 15 °C and 30 °C

func constantLaw[Q Value](v Q, decades float64, src known.Source, low, high units.Temperature) Sourced[Q] {
	return must(NewSourced[Q](must(NewConstant(v, decades)), src, low, high))
}

func atLeast[Q Value](v Q) Sourced[Q] {
	return must(NewSourced[Q](must(NewAtLeast(v)), springer, units.Celsius(18), units.Celsius(28)))
}

func logLinear[Q Value](rh units.RelativeHumidity, v Q, perPercent, decades float64, lo, hi units.RelativeHumidity,
	src known.Source) Sourced[Q] {
	return must(NewSourced[Q](must(NewLogLinear(Point[Q]{rh, v}, perPercent, decades, lo, hi)), src, roomLow, roomHigh))
}

func film(saturated units.SheetResistance, k, decades float64, lo, hi units.RelativeHumidity,
	src known.Source) Sourced[units.SheetResistance] {
	return must(NewSourced[units.SheetResistance](must(NewAdsorbedFilm(saturated, k, decades, lo, hi)), src, roomLow,
		roomHigh))
}

// polymer is a clean inert polymer with the resistivities of common practice.
func polymer(key, name string, volume known.Source) Material {
	return Material{Key: key, Name: name, Class: Inert, ClassSource: nfpa,
		Surface: constantLaw(units.SheetResistance(1e16), 1, guessed(), roomLow, roomHigh),
		Volume:  constantLaw(units.VolumeResistivity(1e15), 1, volume, roomLow, roomHigh)}
}

// measuredPolymer is one whose surface was measured: median and spread of four
// polymers (log10 16.1 ± 0.4), with Student's factor for four.
func measuredPolymer(key, name string) Material {
	m := polymer(key, name, guessed())
	m.Surface = constantLaw(units.SheetResistance(1.4e16), 0.67, polymers, units.Celsius(18), units.Celsius(25))
	return m
}

func filmDiffusion(d units.Diffusivity, note string) Diffusion {
	return Diffusion{Across: d, Along: d, Factor: 3, Source: known.Source{Provenance: known.Memory, Note: note}}
}

// proportional is a straight isotherm through the regain at saturation.
func proportional(saturation Regain, src known.Source) SourcedIsotherm {
	return must(NewSourcedIsotherm(must(NewProportional(saturation)), src, roomLow, roomHigh, 1.5))
}

// paper is a grade with the isotherm fitted at 24 °C, the heats of pulp, and what
// is taken to be common to all grades.
func paper(key, name string, mono Regain, c, k float64) Material {
	m := absorber(key, name, mono, c, k)
	heats := PulpHeats()
	heats.At = units.Celsius(24)
	gab := must(must(NewGAB(mono, c, k, rh(10), rh(90))).WithHeats(heats))
	src := regainTable
	src.Note += "; heats of bleached pulp"
	m.Sorption = must(NewSourcedIsotherm(gab, src, units.Celsius(20), units.Celsius(80), 1.25))
	m.Shift = 0.10
	m.Surface = logLinear(rh(50), units.SheetResistance(1e10), paperSlope, 1, rh(23), rh(61),
		known.Source{Provenance: known.Memory,
			Note: "1e10 Ω at 50 %RH, slope a factor of 1000 between 23 and 61 %RH; salts change it by decades"})
	m.Volume = logLinear(rh(42), units.VolumeResistivity(1e12), paperSlope, 1, rh(23), rh(61),
		known.Source{Provenance: known.Memory,
			Note: "1e10 … 1e14 Ω·m usual; slope a factor of 1000 between 23 and 61 %RH; salts change it by decades"})
	m.Diffusion = Diffusion{Across: units.Diffusivity(3e-11), Along: units.Diffusivity(6e-10), Factor: 4,
		Source: fibreDiffusion}
	m.Heat = Heat{Across: 0.10, Along: 0.35, Capacity: 1.25e6, Factor: 2, Source: paperHeat}
	return m
}

// paperSlope is 3 decades between 23 and 61 %RH, one paper, as another work quotes it. [1/%RH]
const paperSlope = 3.0 / 38

// absorber has an isotherm from the regain table and nothing else.
func absorber(key, name string, mono Regain, c, k float64) Material {
	gab := must(NewGAB(mono, c, k, rh(10), rh(90)))
	return Material{Key: key, Name: name, Class: Absorbing, ClassSource: nfpa,
		Sorption: must(NewSourcedIsotherm(gab, regainTable, units.Celsius(20), units.Celsius(28), 1.15))}
}

// polyamide has the isotherm of GAB with C = 2 through two regains, and a straight
// law through the resistivity at 50 %RH.
func polyamide(key, name string, mono Regain, k float64, at50 units.VolumeResistivity, perPercent float64) Material {
	gab := must(NewGAB(mono, 2, k, 0, rh(100)))
	return Material{Key: key, Name: name, Class: Absorbing, ClassSource: nfpa,
		Sorption: must(NewSourcedIsotherm(gab, nylons, units.Celsius(20), units.Celsius(28), 1.25)),
		Volume:   logLinear(rh(50), at50, perPercent, 1, 0, rh(100), nylons)}
}

func fluoro(key, name string, volume units.VolumeResistivity, surface units.SheetResistance) Material {
	return Material{Key: key, Name: name, Class: Inert, ClassSource: nfpa, Volume: atLeast(volume),
		Surface: atLeast(surface)}
}

func wood() Material {
	iso := must(NewSourcedIsotherm(Wood{}, known.Source{Provenance: known.Memory,
		Cite: "USDA Wood Handbook FPL-GTR-282 (2021) ch. 4 eq. 3"}, units.Celsius(-1), units.Celsius(130), 1.15))
	// Seasoned wood of 15 V along the grain, moisture not stated: taken at 9.2 %,
	// that of 50 %RH. The exponent is that of the handbook's table of resistance
	// between needles, 22 400 MΩ at 7 % and 11.2 MΩ at 16 %.
	// Mean and standard deviation of log10 of all twelve: 6.81 and 0.65.
	seasoned := WetPoint[units.VolumeResistivity, Regain]{0.092, units.VolumeResistivity(6.5e6)}
	law := must(Chain(must(NewMoisturePower(seasoned, 9.2, 0.65, Regain(0.07), Regain(0.16))), iso, 0))
	return Material{Key: "wood", Name: "wood, cellulose", Class: Absorbing, ClassSource: nfpa, Sorption: iso,
		Volume: must(NewSourced[units.VolumeResistivity](law, known.Source{Provenance: known.Memory,
			Cite: "B. O. Peirce, On the Electrical Resistances of Certain Poor Conductors, Proc. Am. Acad. 30 (1894) 390",
			Note: "mean and standard deviation of log10 of 12 values of seven seasoned woods along the grain, moisture not " +
				"stated; " +
				"the exponent 9.2 against moisture (Wood Handbook, Douglas fir) was not compared with the source"}, roomLow,
			roomHigh))}
}

// Materials returns the table, sorted by key. It is made anew at each call.
func Materials() []Material {
	all := table()
	slices.SortFunc(all, func(a, b Material) int { return strings.Compare(a.Key, b.Key) })
	return all
}

// table is in the order in which materials came: rows of testdata refer to it by
// index, so append.
func table() []Material {
	cotton := absorber("cotton", "raw cotton", 0.0488, 10.14, 0.747)
	cotton.Surface = logLinear(rh(65), units.SheetResistance(1e10), 3.0/35, 1, rh(30), rh(65),
		known.Source{Provenance: known.Memory,
			Cite: "W. E. Morton, J. W. S. Hearle, Physical Properties of Textile Fibres",
			Note: "two papers agree on three decades between 30 and 65 %RH"})
	pulp := Material{Key: "pulp", Name: "bleached pulp", Class: Absorbing, ClassSource: nfpa,
		Sorption: must(NewSourcedIsotherm(must(must(NewGAB(0.0578, 12.906, 0.88, rh(10), rh(90))).WithHeats(PulpHeats())),
			pulpIsotherm, units.Celsius(20), units.Celsius(80), 1.1))}
	board := paper("board", "solid board", 0.05605, 14.30, 0.712)
	board.Diffusion = Diffusion{Across: units.Diffusivity(3e-11), Along: units.Diffusivity(5.87e-10), Factor: 3,
		Source: boardDiffusion}
	pet := polymer("pet", "polyester (PET) film", known.Source{Provenance: known.CommonPractice,
		Note: "specifications ask for 1e14 Ω·m and more"})
	pet.Sorption = proportional(0.003, known.Source{Provenance: known.CommonPractice, Note: "0.3 % in specifications"})
	pet.Diffusion = filmDiffusion(units.Diffusivity(4e-13), "4e-13 m²/s at 25 °C, source of low authority")
	pe := measuredPolymer("pe", "polyethylene")
	pe.Sorption = proportional(0.002, known.Source{Provenance: known.Memory, Note: "0.1 … 0.3 % by volume at " +
		"saturation, source of low authority"})
	pe.Diffusion = filmDiffusion(units.Diffusivity(2e-11), "2e-11 m²/s at 25 °C, source of low authority")
	polyimide := Material{Key: "pi", Name: "polyimide film", Class: Inert, ClassSource: nfpa,
		Volume: constantLaw(units.VolumeResistivity(1e16), 0.6, known.Source{Provenance: known.Published,
			Cite: "IEEJ Trans. FM 132 (2012) 88, abstract",
			Note: "by charge storage in vacuum; one decade above the electrode method"}, roomLow, roomHigh)}
	glass := Material{Key: "glass", Name: "ordinary (soda-lime) glass", Class: Adsorbing, ClassSource: smail,
		Surface: film(units.SheetResistance(1.4e7), 32, 1, rh(50), rh(90), known.Source{Provenance: known.Memory,
			Cite: "H. L. Curtis, Insulating Properties of Solid Dielectrics, Bull. Bur. Stand. 11 (1915) 359",
			Note: "plate glass 5e10, 6e8 and 2e7 Ω at 50, 70 and 90 %RH; at 100 %RH, in a film of dew, R. F. Field, " +
				"J. Appl. Phys. 17 (1946) 318 (abstract) has 1e4 Ω, where this law has no say"})}
	glazed := Material{Key: "porcelain-glazed", Name: "glazed porcelain", Class: Adsorbing, ClassSource: smail,
		Surface: film(units.SheetResistance(1e11), 11.5, 0.7, rh(30), rh(98), rosenthal)}
	unglazed := Material{Key: "porcelain-unglazed", Name: "unglazed porcelain", Class: Adsorbing, ClassSource: smail,
		Surface: film(units.SheetResistance(1e9), 20.9, 0.7, rh(30), rh(98), rosenthal)}
	return []Material{
		wood(), pulp, board,
		paper("paper-newsprint", "newsprint", 0.03811, 14.56, 0.725),
		paper("paper-kraft", "kraft wrapping paper", 0.05605, 14.30, 0.712),
		paper("paper-bond", "white bond paper", 0.04671, 11.96, 0.735),
		paper("paper-writing", "writing paper", 0.0522, 13.65, 0.721),
		cotton,
		absorber("viscose", "viscose rayon", 0.07425, 13.80, 0.630),
		absorber("acetate", "cellulose acetate", 0.02207, 4.565, 0.702),
		absorber("wool", "wool", 0.10564, 9.435, 0.646),
		polyamide("pa6", "polyamide 6", 0.03328, 0.7093, units.VolumeResistivity(1e10), 0.06),
		polyamide("pa66", "polyamide 66", 0.03164, 0.6948, units.VolumeResistivity(5e10), 0.055),
		polyamide("pa610", "polyamide 610", 0.04245, 0.3430, units.VolumeResistivity(5e11), 0.035),
		polyamide("pa12", "polyamide 12", 0.01402, 0.4714, units.VolumeResistivity(1e12), 0.03),
		glass, glazed, unglazed,
		pet, pe, measuredPolymer("ps", "polystyrene"), measuredPolymer("pmma", "polymethyl methacrylate"),
		polymer("pp", "polypropylene", guessed()), polyimide,
		fluoro("ptfe", "polytetrafluoroethylene", units.VolumeResistivity(1e16), units.SheetResistance(1e16)),
		fluoro("pctfe", "polychlorotrifluoroethylene", units.VolumeResistivity(1e16), units.SheetResistance(1e16)),
		fluoro("fep", "fluorinated ethylene-propylene", units.VolumeResistivity(1e16), units.SheetResistance(1e16)),
		fluoro("etfe", "ethylene-tetrafluoroethylene", units.VolumeResistivity(1e14), units.SheetResistance(1e14)),
		fluoro("ectfe", "ethylene-chlorotrifluoroethylene", units.VolumeResistivity(1e13), units.SheetResistance(1e12)),
	}
}

var smail = known.Source{Provenance: known.Published, Cite: "W. G. Smail, R. J. Brooksbank, W. M. Thornton, J. IEE " +
	"69 (1931) 427, abstract"}

// rh is a relative humidity in percent.
func rh(percent float64) units.RelativeHumidity { return units.RelativeHumidity(percent / 100) }
