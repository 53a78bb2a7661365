package charge

import (
	"slices"

	"example.org/pithball/charge/gas"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// whole is written for an argument without a bound of its own.
const whole = 1e308

// arg and out build the descriptions of arguments and results.
func arg(name, unit, doc string, low, high float64) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Doc: doc, Low: low, High: high}
}

func out(name, unit, doc string) compute.Arg { return arg(name, unit, doc, -whole, whole) }

func choice(name, doc string, choices ...string) compute.Arg {
	return compute.Arg{Name: name, Unit: "1", Doc: doc, Low: 0, High: float64(len(choices) - 1), Choices: choices}
}

// Arguments that many computations share.
var (
	argDensity = arg("density", "1", "air density relative to 20 °C and 101.325 kPa", 0.01, gas.MaxDensity)
	argEpsr    = arg("permittivity", "1", "relative permittivity", 1, 1e5)
	argSpeed   = arg("speed", "m/s", "speed", 0, 1e4)
	outCap     = out("cap", "C/m²", "greatest charge density that the gas leaves")
	outGap     = out("gap", "m", "gap of the breakdown that rules")
)

func derived(note string) known.Source {
	return known.Source{Provenance: known.Computed, Cite: "derived in the doc comment", Note: note}
}

func transferComputations() []compute.Entry {
	return slices.Concat(contactComputations(), pairComputations(), partingComputations(), matterComputations())
}

func contactComputations() []compute.Entry {
	matsusaka := known.Source{Provenance: known.Memory, Cite: "S. Matsusaka and H. Masuda, Electrostatics of particles, Adv. Powder Technol. 14 (2003) 143"}
	contact := []compute.Arg{
		arg("saturation", "C/m²", "charge density the face tends to at the reference", -0.1, 0.1),
		arg("exposure", "1", "number of contacts relative to the relaxation number", 0, 700),
		arg("speed_exponent", "1", "growth of the saturation with speed", -1, 2),
		arg("load_exponent", "1", "growth of the saturation with load", -1, 2),
		arg("reference_speed", "m/s", "where the saturation holds", 1e-9, 1e4),
		arg("reference_load", "N/m", "where the saturation holds", 1e-9, 1e9),
	}
	build := func(a []float64) (Contact, error) {
		return NewContact(ContactSpec{Saturation: units.SurfaceChargeDensity(a[0]), Exposure: a[1], SpeedExponent: a[2], LoadExponent: a[3],
			ReferenceSpeed: units.Speed(a[4]), ReferenceLoad: units.ForcePerWidth(a[5])})
	}
	reading := func(p string) []compute.Arg {
		return []compute.Arg{arg(p+"before", "C/m²", "face before the contact", -1, 1), arg(p+"after", "C/m²", "face after it", -1, 1),
			arg(p+"deviation", "C/m²", "standard deviation of the difference", 0, 1)}
	}
	take := func(a []float64, speed, load float64) ContactReading {
		return ContactReading{Before: units.SurfaceChargeDensity(a[0]), After: units.SurfaceChargeDensity(a[1]), Deviation: units.SurfaceChargeDensity(a[2]),
			Speed: units.Speed(speed), Load: units.ForcePerWidth(load)}
	}
	two := slices.Concat(reading("a_"), reading("b_"))
	exposure := arg("exposure", "1", "number of contacts relative to the relaxation number", 1e-9, 700)
	band := []compute.Arg{out("value", "1", "median"), out("deviation", "1", "standard deviation")}
	put := func(r []float64, b known.Band, err error) error {
		r[0], r[1] = b.Value, b.Spread
		return err
	}
	return []compute.Entry{
		{Name: "charge.Contact.Transfer", Doc: "Charge density after a contact, σ' = σ∞(v,F) + (σ − σ∞)·exp(−n).",
			Args: slices.Concat(contact, []compute.Arg{arg("before", "C/m²", "charge density before", -1, 1), argSpeed,
				arg("load", "N/m", "nip load or tension per width", 0, 1e9)}),
			Results: []compute.Arg{out("after", "C/m²", "charge density after"), out("saturation_there", "C/m²", "σ∞ at this speed and load")},
			Covers:  []string{"NewContact", "Contact.Transfer", "Contact.Saturation", "Contact.At", "Contact.Spec", "Contact.Validity"}, Source: matsusaka,
			Eval: func(r, a []float64) error {
				c, err := build(a)
				if err != nil {
					return err
				}
				r[0] = float64(c.Transfer(units.SurfaceChargeDensity(a[6]), units.Speed(a[7]), units.ForcePerWidth(a[8])))
				r[1] = float64(c.Saturation(units.Speed(a[7]), units.ForcePerWidth(a[8])))
				return nil
			}},
		{Name: "charge.CoveredRoller.Steady", Doc: "Steady state of a roller whose insulating cover keeps charge.",
			Args: slices.Concat(contact, []compute.Arg{arg("web", "C/m²", "charge density of the incoming web", -1, 1), argSpeed,
				arg("load", "N/m", "nip load or tension per width", 0, 1e9), arg("radius", "m", "of the roller", 1e-4, 10),
				arg("tau", "s", "relaxation time of the cover", 0, 1e30)}),
			Results: []compute.Arg{out("after", "C/m²", "web after the contact"), out("cover", "C/m²", "cover before the contact"), out("turns", "1", "turns to 1/e")},
			Covers:  []string{"NewCoveredRoller", "CoveredRoller.Steady", "CoveredRoller.Turn", "CoveredRoller.Kept"}, Source: derived("condenser law with the field between facing charges"),
			Eval: func(r, a []float64) error {
				c, err := build(a)
				if err != nil {
					return err
				}
				o, err := NewCoveredRoller(c, units.Length(a[9]), units.Time(a[10]))
				if err != nil {
					return err
				}
				w, x, n := o.Steady(units.SurfaceChargeDensity(a[6]), units.Speed(a[7]), units.ForcePerWidth(a[8]))
				r[0], r[1], r[2] = float64(w), float64(x), n
				return nil
			}},
		{Name: "charge.FitSaturation", Doc: "Saturation from one reading, S = before + (after − before)/(1 − exp(−n)).",
			Args:    append(reading(""), exposure),
			Results: []compute.Arg{out("value", "C/m²", "median"), out("deviation", "C/m²", "standard deviation")},
			Covers:  []string{"FitSaturation"}, Source: matsusaka,
			Eval: func(r, a []float64) error {
				b, err := FitSaturation(take(a, 1, 1), a[3])
				return put(r, b, err)
			}},
		{Name: "charge.FitSpeedExponent", Doc: "Exponent of the speed from a speed step, ln(S2/S1)/ln(v2/v1).",
			Args:    slices.Concat(two, []compute.Arg{arg("a_speed", "m/s", "", 1e-9, 1e4), arg("b_speed", "m/s", "", 1e-9, 1e4), exposure}),
			Results: band, Covers: []string{"FitSpeedExponent"}, Source: derived("ratio of two strengths"),
			Eval: func(r, a []float64) error {
				b, err := FitSpeedExponent(take(a, a[6], 1), take(a[3:], a[7], 1), a[8])
				return put(r, b, err)
			}},
		{Name: "charge.FitLoadExponent", Doc: "Exponent of the load from a nip or tension step, ln(S2/S1)/ln(F2/F1).",
			Args:    slices.Concat(two, []compute.Arg{arg("a_load", "N/m", "", 1e-9, 1e9), arg("b_load", "N/m", "", 1e-9, 1e9), exposure}),
			Results: band, Covers: []string{"FitLoadExponent"}, Source: derived("ratio of two strengths"),
			Eval: func(r, a []float64) error {
				b, err := FitLoadExponent(take(a, 1, a[6]), take(a[3:], 1, a[7]), a[8])
				return put(r, b, err)
			}},
		{Name: "charge.FitSwap", Doc: "Ratio of the strengths of two partners at one place.",
			Args: append(slices.Clone(two), exposure), Results: band, Covers: []string{"FitSwap"}, Source: derived("ratio of two strengths"),
			Eval: func(r, a []float64) error {
				b, err := FitSwap(take(a, 1, 1), take(a[3:], 1, 1), a[6])
				return put(r, b, err)
			}},
		{Name: "charge.FitTwoContacts", Doc: "Exposure and saturation from two incoming charges at one setting.",
			Args:    two,
			Results: []compute.Arg{out("exposure", "1", ""), out("saturation", "C/m²", "median"), out("deviation", "C/m²", "standard deviation of the saturation")},
			Covers:  []string{"FitTwoContacts"}, Source: derived("straight line after = S·(1−κ) + κ·before"),
			Eval: func(r, a []float64) error {
				n, b, err := FitTwoContacts(take(a, 1, 1), take(a[3:], 1, 1))
				r[0], r[1], r[2] = n, b.Value, b.Spread
				return err
			}},
		{Name: "charge.SlipExposure", Doc: "Number of contacts with slip, n1·(1 + s·ℓ/a).",
			Args: []compute.Arg{arg("one", "1", "exposure of one contact without slip", 0, 700), arg("slip", "1", "relative slip", 0, 1),
				arg("contact", "m", "length of contact", 0, 100), arg("spot", "m", "length of a contact spot", 1e-9, 1)},
			Results: []compute.Arg{out("exposure", "1", "")}, Covers: []string{"SlipExposure"}, Source: known.Source{Provenance: known.CommonPractice},
			Eval: func(r, a []float64) error {
				r[0] = SlipExposure(a[0], a[1], units.Length(a[2]), units.Length(a[3]))
				return nil
			}},
	}
}

func pairComputations() []compute.Entry {
	var names []string
	var entries []SeriesEntry
	for _, e := range Series(known.Quoted) {
		names = append(names, e.Name)
		entries = append(entries, e)
	}
	var metals []string
	phis := WorkFunctions(known.Quoted)
	for _, e := range phis {
		metals = append(metals, e.Set+" "+e.Name)
	}
	zou := known.Source{Provenance: known.Published, Cite: "H. Zou et al., Nat. Commun. 10 (2019) 1427, doi 10.1038/s41467-019-09461-x", Note: "read second-hand"}
	return []compute.Entry{
		{Name: "charge.FindSeries", Doc: "Charge density against mercury, the entry of the triboelectric series.",
			Args: []compute.Arg{choice("material", "published entries", names...)}, Results: []compute.Arg{out("density", "C/m²", "against mercury")},
			Covers: []string{"FindSeries", "Series"}, Source: zou,
			Eval: func(r, a []float64) error {
				e, err := FindSeries(names[int(a[0])], known.Quoted)
				r[0] = float64(e.Density)
				return err
			}},
		{Name: "charge.SeriesPair", Doc: "Relative strength of a pair, the difference of two entries over that of PTFE.",
			Args:    []compute.Arg{choice("a", "published entries", names...), choice("b", "published entries", names...)},
			Results: []compute.Arg{out("relative", "1", "positive: a becomes positive"), out("spread", "1", "standard deviation")},
			Covers:  []string{"SeriesPair"}, Source: zou,
			Eval: func(r, a []float64) error {
				p := SeriesPair(entries[int(a[0])], entries[int(a[1])])
				r[0], r[1] = p.Relative, p.Spread
				return nil
			}},
		{Name: "charge.PairStrength.Calibrated", Doc: "Saturation of a pair from its relative strength and a calibration with spread.",
			Args: []compute.Arg{arg("relative", "1", "", -10, 10), arg("spread", "1", "", 0, 10), arg("measured", "C/m²", "saturation of the reference pair", -0.1, 0.1),
				arg("measured_spread", "1", "standard deviation of its logarithm", 1e-6, 10), arg("reference", "1", "relative strength of the reference pair", -10, 10)},
			Results: []compute.Arg{out("value", "C/m²", "median"), out("spread", "1", "standard deviation of the logarithm")},
			Covers:  []string{"PairStrength.Calibrated", "CalibrateSeries"}, Source: derived("proportion"),
			Eval: func(r, a []float64) error {
				s, err := CalibrateSeries(PairStrength{Relative: a[4]}, known.Band{Value: a[2], Spread: a[3], Kind: known.LogNormal})
				if err != nil {
					return err
				}
				b, err := PairStrength{Relative: a[0], Spread: a[1]}.Calibrated(s)
				r[0], r[1] = b.Value, b.Spread
				return err
			}},
		{Name: "charge.FindWorkFunction", Doc: "Work function of a metal in one author's set.",
			Args: []compute.Arg{choice("entry", "published entries, set and element", metals...)}, Results: []compute.Arg{out("value", "eV", "middle"), out("low", "eV", "lower limit or value − σ"), out("high", "eV", "upper limit or value + σ")},
			Covers: []string{"FindWorkFunction", "WorkFunctions"}, Source: known.Source{Provenance: known.Published, Cite: "CRC Handbook of Chemistry and Physics, 2008, p. 12-124", Note: "read second-hand"},
			Eval: func(r, a []float64) error {
				want := phis[int(a[0])]
				e, err := FindWorkFunction(want.Set, want.Name, known.Quoted)
				r[0], r[1], r[2] = e.Phi.Value, e.Phi.Value-e.Phi.Spread, e.Phi.Value+e.Phi.Spread
				return err
			}},
		{Name: "charge.ContactPotential", Doc: "Contact potential difference (φ_b − φ_a)/e of two entries of one set, positive when a becomes positive.",
			Args:    []compute.Arg{arg("phi_a", "eV", "", 0, 20), arg("phi_b", "eV", "", 0, 20), arg("deviation_a", "eV", "", 0, 5), arg("deviation_b", "eV", "", 0, 5)},
			Results: []compute.Arg{out("value", "V", ""), out("deviation", "V", "standard deviation")}, Covers: []string{"ContactPotential", "PotentialPair"}, Source: derived("definition of the work function"),
			Eval: func(r, a []float64) error {
				w := func(phi, s float64) WorkFunction {
					return WorkFunction{Set: "one author", Phi: known.Band{Value: phi, Spread: s, Kind: known.Normal}}
				}
				b, err := ContactPotential(w(a[0], a[2]), w(a[1], a[3]))
				p := PotentialPair(b)
				r[0], r[1] = p.Relative, p.Spread
				return err
			}},
		{Name: "charge.CondenserSaturation", Doc: "Condenser law, σ∞ = ε0·(V_c/δ_c + E).",
			Args:    []compute.Arg{arg("potential", "V", "contact potential difference", -20, 20), arg("cutoff", "m", "cut-off gap", 1e-10, 1e-3), arg("field", "V/m", "of all other charges", -1e10, 1e10)},
			Results: []compute.Arg{out("saturation", "C/m²", "")}, Covers: []string{"CondenserSaturation"},
			Source: known.Source{Provenance: known.Published, Cite: "J. Kolehmainen et al., contact charging in particle simulation"},
			Eval: func(r, a []float64) error {
				r[0] = float64(CondenserSaturation(units.Voltage(a[0]), units.Length(a[1]), units.ElectricField(a[2])))
				return nil
			}},
		{Name: "charge.MetalPolymer.Saturation", Doc: "Polymer against metals: one contact independent of the metal, many linear in its work function.",
			Args: []compute.Arg{arg("single", "C/m²", "of one contact", -0.1, 0.1), arg("level", "V", "work function of no transfer", 0, 20),
				arg("slope", "F/m²", "of repeated contact", -1, 1), arg("phi", "V", "work function of the metal", 0, 20), arg("contacts", "1", "beyond the first, relative", 0, 1e6)},
			Results: []compute.Arg{out("saturation", "C/m²", "")}, Covers: []string{"MetalPolymer.Saturation"},
			Source: known.Source{Provenance: known.Published, Cite: "J. Lowell, J. Phys. D 9 (1976) 1571", Note: "abstract"},
			Eval: func(r, a []float64) error {
				m := MetalPolymer{Single: units.SurfaceChargeDensity(a[0]), Level: units.Voltage(a[1]), Slope: a[2]}
				r[0] = float64(m.Saturation(units.Voltage(a[3]), a[4]))
				return nil
			}},
	}
}
