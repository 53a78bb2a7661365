package charge

import (
	_ "embed" // for the sentences
	"math"
	"slices"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	return compute.List("charge", sentences, slices.Concat(contactComputations(), fitComputations(), pairComputations(),
		partingComputations(),
		particleComputations(), powderComputations(), liquidComputations()))
}

// Items that many declarations share.
const (
	aSpeed   = "speed 0…1e4: speed"
	aEpsr    = "permittivity 1…1e5: relative permittivity"
	aDensity = "density 0.01…5: air density relative to 20 °C and 101.325 kPa"
	aLoad    = "load 0…1e9: nip load or tension per width"
	aNumber  = " 1e-9…700: number of contacts relative to the relaxation number"
	aContact = "saturation -0.1…0.1: charge density the face tends to at the reference; " +
		"exposure 0…700: number of contacts relative to the " +
		"relaxation number; speed_exponent -1…2: growth of the saturation with speed; " +
		"load_exponent -1…2: growth of the saturation with load; " +
		"reference_speed 1e-9…1e4: where the saturation holds; reference_load 1e-9…1e9: where the saturation holds"
)

func derived(note string) known.Source {
	return known.Source{Provenance: known.Computed, Cite: "derived in the doc comment", Note: note}
}

var matsusaka = known.Source{Provenance: known.Memory,
	Cite: "S. Matsusaka and H. Masuda, Electrostatics of particles, Adv. Powder Technol. 14 (2003) 143",
	Note: "form not compared with the paper"}

var noLaw = known.Source{Provenance: known.CommonPractice, Note: "priors; no law"}

func contactComputations() []compute.Entry {
	type sigma = units.SurfaceChargeDensity
	return []compute.Entry{
		compute.Of43("Contact.Transfer", func(s ContactSpec, before sigma, v units.Speed, f units.ForcePerWidth) (sigma,
			sigma, error) {
			c, err := NewContact(s)
			return c.Transfer(before, v, f), c.Saturation(v, f), err
		}, matsusaka, "= Charge density after a contact, σ' = σ∞(v,F) + (σ − σ∞)·exp(−n).", aContact,
			"before -1…1: charge density before", aSpeed, aLoad, "-> after: charge density after; "+
				"saturation_there: σ∞ at this speed and load"),
		compute.Of("CoveredRoller.Steady", coveredSteady,
			derived("condenser law with the field between facing charges; gas cap of the cover"),
			"= Steady state of a roller whose insulating cover keeps charge.", aContact,
			"web -1…1: charge density of the incoming web", aSpeed, aLoad,
			"radius 1e-4…10: of the roller; tau 0…1e30: relaxation time of the cover; thickness 0…1: of the cover, 0 for 10 mm",
			"permittivity 0…1e4: of the cover, 0 for 3; "+
				"returned 0…1: part of what the gas takes from the cover that goes to the web",
			"-> after: web after the contact; cover: cover before the contact; voltage: of the cover over its core; "+
				"gas: whether the gas rules; "+
				"turns: turns to 1/e; validity: flags; bound: what the gas leaves on the cover; "+
				"saturation_back: from the web after the contact, NaN where it tells none"),
		compute.Of11("CoverSwap", func(before sigma) limits {
			b, _ := CoverSwap()
			lo, hi := b.Limits()
			q := float64(before)
			return limits{sigma(lo * q), sigma(b.Value * q), sigma(hi * q)}
		}, known.Source{Provenance: known.CommonPractice, Note: "no published measurement found"},
			"= What a nip adds with a conductive cover for what it added with an insulating one; practice, no source.",
			"before -1…1: change of the web with the insulating cover -> low: 5 %; after: median; high: 95 %"),
		compute.Of("Mode.Elsewhere", func(m Mode, change sigma, from, to units.Speed, fh, th units.RelativeHumidity,
			scatter float64) limits {
			lo, mid, hi := m.Elsewhere(change, from, to, fh, th, scatter)
			return limits{lo, mid, hi}
		}, noLaw, "= What a change measured at one speed and humidity may be at another, before any step test.",
			"mode: kind of contact; change -1…1: measured; from 1e-9…1e4: speed of it; speed 1e-9…1e4: asked for",
			"from_humidity 0…1: of it; humidity 0…1: asked for; scatter 0…10: standard deviation of the logarithm of repeats",
			"-> low: 5 %; median: 50 %; high: 95 %"),
		compute.Of34("Surroundings.Factor", func(from, to units.RelativeHumidity, dt units.TemperatureDifference) (lo, mid,
			hi float64, flags known.Validity) {
			s := PriorSurroundings()
			mid, flags = s.Factor(from, to, dt, 0, 0)
			a, _ := s.Factor(from, to, dt, -known.Z95, 0)
			b, _ := s.Factor(from, to, dt, known.Z95, 0)
			return min(a, b), mid, max(a, b), flags
		}, noLaw, "= Factor on the saturation between two humidities and temperatures, prior to any test, with 5 and 95 "+
			"% of the humidity.",
			"from 0…1: humidity; to 0…1: humidity; warmer -200…200: by so much -> low: 5 %; median: 50 %; high: 95 %; "+
				"validity: flags"),
		compute.Of62("FitHumidity", func(a, da, b, db float64, ha, hb units.RelativeHumidity) (known.Band, error) {
			return FitHumidity(known.Band{Value: a, Spread: da, Kind: known.Normal},
				known.Band{Value: b, Spread: db, Kind: known.Normal}, ha, hb)
		}, derived("ratio of two saturations"), "= Change of ln|σ∞| with humidity from two saturations, ln(S2/S1)/(h2 − h1).",
			"a [C/m²] -0.1…0.1: saturation; a_deviation [C/m²] 0…0.1: of it; b [C/m²] -0.1…0.1: saturation; "+
				"b_deviation [C/m²] 0…0.1: of it",
			"a_humidity 0…1: of a; b_humidity 0…1: of b -> value: slope; deviation: standard deviation; _"),
		compute.Of44("PieceCharge", PieceCharge, known.Source{Provenance: known.Quoted,
			Cite: "M. M. Apodaca et al., Angew. Chem. Int. Ed. 49 (2010) 946",
			Via:  "a public collection of digitised charge data"}, "charge -1e-3…1e-3: of the reference piece; "+
			"reference 1e-4…1: its side; side 1e-4…1: of the piece",
			"like {unlike materials|like on like}: materials -> low: 5 %; median: 50 %; high: 95 %; validity: flags"),
		compute.Of23("NewNip", func(s NipSpec, v units.Speed) (Nip, units.Time, error) {
			n, err := NewNip(s)
			return n, n.Time(v), err
		}, derived("Hertz's line contact; a bonded layer by a fit to its plane-strain solution"),
			"= Width, pressure and load exponents of a nip with a soft cover.",
			"load 1e-3…1e7: per width; radius_a 1e-4…1e6: of one roller; radius_b 1e-4…1e6: of the other; "+
				"modulus 1e3…1e12: of the cover",
			"poisson 0.3…0.5: of the cover; thickness 1e-6…10: of the cover", aSpeed,
			"-> half_width: of the contact; peak: pressure; mean: pressure; width_exponent: of the load; "+
				"peak_exponent: of the load; validity: flags; "+
				"time: in the nip"),
		compute.Of11("ModulusOfRubber", ModulusOfRubber,
			known.Source{Provenance: known.Memory, Cite: "A. N. Gent (1958)", Note: "not compared with the source"},
			"shore_a 5…95: hardness -> modulus: Young's"),
		compute.Of41("SlipExposure", SlipExposure, known.Source{Provenance: known.CommonPractice},
			"one 0…700: exposure of one contact without slip; slip 0…1: relative slip; contact 0…100: length of contact",
			"spot 1e-9…1: length of a contact spot -> exposure: with slip"),
	}
}

func coveredSteady(s ContactSpec, web units.SurfaceChargeDensity, v units.Speed, f units.ForcePerWidth,
	r units.Length, tau units.Time,
	thickness units.Length, epsr, returned float64) (x SteadyCover, bound, back units.SurfaceChargeDensity, err error) {
	c, err := NewContact(s)
	if err != nil {
		return
	}
	o, err := NewCoveredRoller(CoveredRollerSpec{Contact: c, Radius: r, Tau: tau, Thickness: thickness,
		Permittivity: epsr, Returned: returned})
	if err != nil {
		return
	}
	x, bound = o.Steady(web, v, f), o.Bound()
	back, none := o.SaturationFor(web, x.Web-web, v, f)
	if none != nil {
		back = units.SurfaceChargeDensity(math.NaN())
	}
	return x, bound, back, nil
}

// step is one reading of a face before and after a contact.
type step struct{ Before, After, Deviation units.SurfaceChargeDensity }

func (s step) at(v units.Speed, f units.ForcePerWidth) ContactReading {
	return ContactReading{Before: s.Before, After: s.After, Deviation: s.Deviation, Speed: v, Load: f}
}

func stepItems(p string) string {
	return p + "before -1…1: face before the contact; " + p + "after -1…1: face after it; " + p +
		"deviation 0…1: standard deviation of the difference"
}

func fitComputations() []compute.Entry {
	const band = "-> value: median; deviation: standard deviation; _"
	two := stepItems("a_") + "; " + stepItems("b_")
	ratio := derived("ratio of two strengths")
	const v1, f1 = units.MetrePerSecond, units.NewtonPerMetre
	return []compute.Entry{
		compute.Of22("FitSaturation", func(s step, n float64) (known.Band, error) { return FitSaturation(s.at(v1, f1), n) },
			matsusaka,
			"= Saturation from one reading, S = before + (after − before)/(1 − exp(−n)).", stepItems(""), "exposure"+aNumber,
			"-> value [C/m²]: median; deviation [C/m²]: standard deviation; _"),
		compute.Of52("FitSpeedExponent", func(a, b step, va, vb units.Speed, n float64) (known.Band, error) {
			return FitSpeedExponent(a.at(va, f1), b.at(vb, f1), n)
		}, ratio, "= Exponent of the speed from a speed step, ln(S2/S1)/ln(v2/v1).", two,
			"a_speed 1e-9…1e4: of the first; b_speed 1e-9…1e4: of the second; exposure"+aNumber, band),
		compute.Of52("FitLoadExponent", func(a, b step, fa, fb units.ForcePerWidth, n float64) (known.Band, error) {
			return FitLoadExponent(a.at(v1, fa), b.at(v1, fb), n)
		}, ratio, "= Exponent of the load from a nip or tension step, ln(S2/S1)/ln(F2/F1).", two,
			"a_load 1e-9…1e9: of the first; b_load 1e-9…1e9: of the second; exposure"+aNumber, band),
		compute.Of32("FitSwap", func(a, b step, n float64) (known.Band,
			error) {
			return FitSwap(a.at(v1, f1), b.at(v1, f1), n)
		}, ratio,
			"= Ratio of the strengths of two partners at one place.", two, "exposure"+aNumber, band),
		compute.Of23("FitTwoContacts", func(a, b step) (float64, known.Band,
			error) {
			return FitTwoContacts(a.at(v1, f1), b.at(v1, f1))
		},
			derived("straight line after = S·(1−κ) + κ·before"), "= Exposure and saturation from two incoming charges at "+
				"one setting.", two,
			"-> exposure: of both; saturation [C/m²]: median; deviation [C/m²]: standard deviation of the saturation; _"),
	}
}
