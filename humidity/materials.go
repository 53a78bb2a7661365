package humidity

import (
	"fmt"
	"slices"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Class says how water gets at a material, and with it what humidification can
// do. Source: NFPA 77-2000, 6.4.2: above about 65 %RH most surfaces adsorb
// enough moisture to leak, below about 30 % the same ones may insulate well;
// clean polymer surfaces adsorb too little and may keep charge at 100 %RH. And
// without a path to earth moisture only spreads charge.
type Class uint8

// The classes. The zero value is none of them: nobody has said.
const (
	// Inert are clean polymers: humidity changes nothing that one may rely on.
	Inert Class = iota + 1
	// Adsorbing surfaces carry a film of water and have none inside: glass,
	// porcelain. They follow the air within minutes to an hour.
	Adsorbing
	// Absorbing materials have water inside: paper, board, cotton, wool,
	// polyamide. They follow at the pace of diffusion and keep their past.
	Absorbing
)

var classNames = [...]string{Inert: "inert", Adsorbing: "adsorbing", Absorbing: "absorbing"}

// String returns the name of the class.
func (c Class) String() string { return nameOf("Class", classNames[:], c) }

// MarshalText writes the name; a value that is no class is a
// [*known.FieldError].
func (c Class) MarshalText() ([]byte, error) { return writeName("class", classNames[:], c) }

// UnmarshalText reads a name as written by String.
func (c *Class) UnmarshalText(b []byte) error { return readName("class", classNames[:], b, c) }

// Material is what is known of a material and water. Absent knowledge is nil or
// 0. The values are starting points with wide bands: two samples of one name
// differ by a decade, and a value measured on the plant's own material takes
// the place of all of this.
type Material struct {
	Key   string // closed key, lower case with hyphens
	Name  string // as one says it
	Class Class  // how water gets at it

	Surface     Law[units.SheetResistance]   // surface resistivity
	Volume      Law[units.VolumeResistivity] // volume resistivity
	Sorption    Isotherm                     // equilibrium regain, adsorption branch
	Shift       float64                      // [1] hysteresis in relative humidity at 50 %RH, see [NewHysteresis]; 0 unknown
	Diffusivity units.Diffusivity            // of water in the material at about 25 °C; ×/÷ 3

	ClassSource       known.Source // of Class
	SurfaceSource     known.Source // of Surface
	VolumeSource      known.Source // of Volume
	SorptionSource    known.Source // of Sorption and Shift
	DiffusivitySource known.Source // of Diffusivity
}

// UnknownPolymer is the default for a polymer that is not in the table: inert,
// so that humidity earns no credit, with a surface resistivity of 1e16 Ω and a
// volume resistivity of 1e15 Ω·m ×/÷ 10.
func UnknownPolymer() Material {
	return Material{Key: "unknown-polymer", Name: "unknown polymer", Class: Inert,
		Surface: Constant[units.SheetResistance]{units.SheetResistance(1e16), 1}, Volume: Constant[units.VolumeResistivity]{units.VolumeResistivity(1e15), 1},
		ClassSource: nfpa, SurfaceSource: guess, VolumeSource: guess}
}

// MaterialFor returns the material with the key; an unknown key is a
// [*known.FieldError] that lists the keys.
func MaterialFor(key string) (Material, error) {
	all := Materials()
	i := slices.IndexFunc(all, func(m Material) bool { return m.Key == key })
	if i < 0 {
		var keys []string
		for _, m := range all {
			keys = append(keys, m.Key)
		}
		return Material{}, known.Wrong("key", key, fmt.Sprint("one of ", keys, "; UnknownPolymer for another polymer"))
	}
	return all[i], nil
}

var (
	nfpa     = known.Source{Provenance: known.Published, Cite: "NFPA 77-2000, Recommended Practice on Static Electricity, 6.4.2"}
	guess    = known.Source{Provenance: known.CommonPractice, Note: "order of magnitude"}
	springer = known.Source{Provenance: known.Published, Cite: "W. Martienssen, H. Warlimont (eds.), Springer Handbook of Condensed Matter and Materials Data (2005), table 3.3-12",
		Note: "printed as a lower limit at room conditions, clean; the median here is that limit"}
	regainTable = known.Source{Provenance: known.Memory, Cite: "International Critical Tables, as reprinted in the ASHRAE Handbook, HVAC Applications",
		Note: "least-squares GAB fit to the regain table (10 … 90 %RH, rms 0.06 … 0.2 % regain); not published constants"}
	fibreTest = known.Source{Provenance: known.Memory, Cite: "W. E. Morton, J. W. S. Hearle, Physical Properties of Textile Fibres",
		Note: "two papers agree on three decades between 30 and 65 %RH"}
)

// paperSlope is 3 decades between 23 and 61 %RH, one paper, second-hand. [1/%RH]
const paperSlope = 3.0 / 38

// Materials returns the table, sorted by key. It is made anew at each call.
func Materials() []Material {
	paper := func(key, name string, gab GAB) Material {
		return Material{Key: key, Name: name, Class: Absorbing, Sorption: gab, Shift: 0.10,
			Surface:     logLinear[units.SheetResistance](0.50, 1e10, paperSlope, 1, units.RelativeHumidity(0.23), units.RelativeHumidity(0.61)),
			Volume:      logLinear[units.VolumeResistivity](0.42, 1e12, paperSlope, 1, units.RelativeHumidity(0.23), units.RelativeHumidity(0.61)),
			ClassSource: nfpa, SorptionSource: regainTable,
			SurfaceSource: known.Source{Provenance: known.Memory, Note: "1e10 Ω at 50 %RH, slope a factor of 1000 between 23 and 61 %RH; salts change it by decades"},
			VolumeSource:  known.Source{Provenance: known.Memory, Note: "1e10 … 1e14 Ω·m usual; slope a factor of 1000 between 23 and 61 %RH; salts change it by decades"}}
	}
	fibre := func(key, name string, gab GAB) Material {
		return Material{Key: key, Name: name, Class: Absorbing, Sorption: gab, ClassSource: nfpa, SorptionSource: regainTable}
	}
	fluoro := func(key, name string, v units.VolumeResistivity, s units.SheetResistance) Material {
		return Material{Key: key, Name: name, Class: Inert, Volume: Constant[units.VolumeResistivity]{v, 0.5}, Surface: Constant[units.SheetResistance]{s, 0.5},
			ClassSource: nfpa, VolumeSource: springer, SurfaceSource: springer}
	}
	polyolefin := func(key, name string, d units.Diffusivity) Material {
		m := Material{Key: key, Name: name, Class: Inert, Surface: Constant[units.SheetResistance]{units.SheetResistance(1e16), 1}, Volume: Constant[units.VolumeResistivity]{units.VolumeResistivity(1e15), 1},
			ClassSource: nfpa, SurfaceSource: guess, VolumeSource: guess, Diffusivity: d}
		if d > 0 {
			m.Sorption = Proportional{0.002}
			m.SorptionSource = known.Source{Provenance: known.Memory, Note: "0.1 … 0.3 % by volume at saturation, source of low authority"}
			m.DiffusivitySource = m.SorptionSource
		}
		return m
	}
	nylon := func(key, name string, at60 Regain) Material {
		return Material{Key: key, Name: name, Class: Absorbing, Sorption: Proportional{Regain(float64(at60) / 0.6)}, ClassSource: nfpa,
			SorptionSource: known.Source{Provenance: known.CommonPractice, Note: "equilibrium water at 23 °C, 60 %RH; straight line through it"},
			Volume:         logLinear[units.VolumeResistivity](0.50, 3e10, 0.06, 1, 0, units.RelativeHumidity(1)),
			VolumeSource:   known.Source{Provenance: known.Memory, Note: "of PA66: 1e13 Ω·m dry, 1e10 … 1e11 at 50 %RH, 1e7 wet"}}
	}
	glass := Material{Key: "glass", Name: "ordinary glass, glazed porcelain, quartz", Class: Adsorbing,
		Surface:     AdsorbedFilm[units.SheetResistance]{l0: 4, k: 10, s0: 1.5, lo: units.RelativeHumidity(0.2), hi: units.RelativeHumidity(1), made: true},
		ClassSource: known.Source{Provenance: known.Published, Cite: "W. G. Smail, R. J. Brooksbank, W. M. Thornton, J. IEE 69 (1931) 427", Note: "abstract"},
		SurfaceSource: known.Source{Provenance: known.Memory, Cite: "R. F. Field, J. Appl. Phys. 17 (1946) 318",
			Note: "about 1e4 Ω at 100 %RH from the abstract; ten decades down to dry from memory; contamination rules"}}
	pet := Material{Key: "pet", Name: "polyester (PET) film", Class: Inert, Surface: Constant[units.SheetResistance]{units.SheetResistance(1e16), 1}, Volume: Constant[units.VolumeResistivity]{units.VolumeResistivity(1e15), 1},
		Sorption: Proportional{0.003}, Diffusivity: units.Diffusivity(4e-13), ClassSource: nfpa, SurfaceSource: guess,
		VolumeSource:      known.Source{Provenance: known.CommonPractice, Note: "specifications ask for 1e14 Ω·m and more"},
		SorptionSource:    known.Source{Provenance: known.CommonPractice, Note: "0.3 % in specifications"},
		DiffusivitySource: known.Source{Provenance: known.Memory, Note: "4e-13 m²/s at 25 °C, source of low authority"}}
	cotton := fibre("cotton", "raw cotton", GAB{0.0488, 10.14, 0.747, units.RelativeHumidity(0.1), units.RelativeHumidity(0.9)})
	cotton.SurfaceSource = fibreTest
	cotton.Surface = logLinear[units.SheetResistance](0.65, 1e10, 3.0/35, 1, units.RelativeHumidity(0.3), units.RelativeHumidity(0.65))
	all := []Material{
		{Key: "wood", Name: "wood, cellulose", Class: Absorbing, Sorption: Wood{}, ClassSource: nfpa,
			SorptionSource: known.Source{Provenance: known.Memory, Cite: "USDA Wood Handbook FPL-GTR-282 (2021) ch. 4 eq. 3"}},
		paper("paper-newsprint", "newsprint", GAB{0.03811, 14.56, 0.725, units.RelativeHumidity(0.1), units.RelativeHumidity(0.9)}),
		paper("paper-kraft", "kraft wrapping paper", GAB{0.05605, 14.30, 0.712, units.RelativeHumidity(0.1), units.RelativeHumidity(0.9)}),
		paper("paper-bond", "white bond paper", GAB{0.04671, 11.96, 0.735, units.RelativeHumidity(0.1), units.RelativeHumidity(0.9)}),
		paper("paper-writing", "writing paper", GAB{0.0522, 13.65, 0.721, units.RelativeHumidity(0.1), units.RelativeHumidity(0.9)}),
		cotton,
		fibre("viscose", "viscose rayon", GAB{0.07425, 13.80, 0.630, units.RelativeHumidity(0.1), units.RelativeHumidity(0.9)}),
		fibre("acetate", "cellulose acetate", GAB{0.02207, 4.565, 0.702, units.RelativeHumidity(0.1), units.RelativeHumidity(0.9)}),
		fibre("wool", "wool", GAB{0.10564, 9.435, 0.646, units.RelativeHumidity(0.1), units.RelativeHumidity(0.9)}),
		nylon("pa6", "polyamide 6", 0.035),
		nylon("pa66", "polyamide 66", 0.025),
		nylon("pa610", "polyamide 610", 0.015),
		glass,
		pet,
		polyolefin("pe", "polyethylene", units.Diffusivity(2e-11)),
		polyolefin("pp", "polypropylene", 0),
		fluoro("ptfe", "polytetrafluoroethylene", units.VolumeResistivity(1e16), units.SheetResistance(1e16)),
		fluoro("pctfe", "polychlorotrifluoroethylene", units.VolumeResistivity(1e16), units.SheetResistance(1e16)),
		fluoro("fep", "fluorinated ethylene-propylene", units.VolumeResistivity(1e16), units.SheetResistance(1e16)),
		fluoro("etfe", "ethylene-tetrafluoroethylene", units.VolumeResistivity(1e14), units.SheetResistance(1e14)),
		fluoro("ectfe", "ethylene-chlorotrifluoroethylene", units.VolumeResistivity(1e13), units.SheetResistance(1e12)),
	}
	slices.SortFunc(all, func(a, b Material) int {
		if a.Key < b.Key {
			return -1
		}
		return 1
	})
	return all
}

func logLinear[Q Value](rh float64, v, perPercent, decades float64, lo, hi units.RelativeHumidity) LogLinear[Q] {
	return LogLinear[Q]{rh0: rh, x0: v, b: perPercent * 100, s0: decades, lo: lo, hi: hi}
}
