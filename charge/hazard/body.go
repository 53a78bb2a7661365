package hazard

import (
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// BodyCapacitance is a range of capacitance of a kind of body to earth. The
// energy of a body at a given voltage is judged by the high end, its voltage under
// a given charge by the low end.
type BodyCapacitance struct {
	Name         string            // lower case
	Low          units.Capacitance // least of the range
	High         units.Capacitance // greatest; equal to Low where the source gives one value
	known.Origin                   // source, condition and licence of the work
}

var (
	nfpaCapacitance = known.Origin{Source: known.Source{Provenance: known.Published,
		Cite: "NFPA 77-2000, Recommended Practice on Static Electricity, Table A.3.1.5"}, Condition: "typical, to earth",
		Licence: known.FactsOnly}
	walkingCapacitance = known.Origin{Source: known.Source{Provenance: known.Memory,
		Cite: "M. Saito, Oyo Buturi 32 (1963) 301", Note: "an abstract that was not found again"},
		Condition: "walking, 23–25 °C, 45–55 %RH", Licence: known.FactsOnly}
	jonassen = known.Source{Provenance: known.Published,
		Cite: "N. Jonassen, Human body capacitance: static or dynamic concept?, EOS/ESD Symposium (1998)",
		Note: "abstract read"}
	talebzadeh = known.Source{Provenance: known.Quoted, Cite: "A. Talebzadeh et al., IEEE Trans. EMC 58 (2016) 1266",
		Via: "its abstract in a public index"}
)

func measuredBody(name string, low, high units.Capacitance, src known.Source, condition string) BodyCapacitance {
	return BodyCapacitance{name, low, high, known.Origin{Source: src, Condition: condition, Licence: known.FactsOnly}}
}

var bodyCapacitances = [...]BodyCapacitance{
	{"tank car", 1000 * units.Picofarad, 1000 * units.Picofarad, nfpaCapacitance},
	{"automobile", 500 * units.Picofarad, 500 * units.Picofarad, nfpaCapacitance},
	measuredBody("person", 60*units.Picofarad, 400*units.Picofarad, jonassen,
		"span of the measured rows: 60 pF in a wood-frame house (A. Talebzadeh et al. 2016) to 400 pF by charge sharing"),
	{"oil or solvent drum", 10 * units.Picofarad, 100 * units.Picofarad, nfpaCapacitance},
	{"metal scoop", 10 * units.Picofarad, 20 * units.Picofarad, nfpaCapacitance},
	{"needle electrode", 1 * units.Picofarad, 1 * units.Picofarad, nfpaCapacitance},
	{"dust particle", 1e-07 * units.Picofarad, 1e-07 * units.Picofarad, nfpaCapacitance},
	{"person on one leg", 90 * units.Picofarad, 90 * units.Picofarad, walkingCapacitance},
	{"person on two legs", 110 * units.Picofarad, 110 * units.Picofarad, walkingCapacitance},
	{"human body model", 100 * units.Picofarad, 100 * units.Picofarad, known.Origin{
		Source: known.Source{Provenance: known.Memory, Cite: "ANSI/ESDA/JEDEC JS-001, network 100 pF with 1.5 kΩ",
			Note: "not compared with the standard"},
		Condition: "a test network, no measured person", Licence: known.FactsOnly}},
	{"person by table", 100 * units.Picofarad, 300 * units.Picofarad, nfpaCapacitance},
	measuredBody("person in a wood-frame house", 60*units.Picofarad, 60*units.Picofarad, talebzadeh, "standing"),
	measuredBody("person on a concrete floor", 120*units.Picofarad, 120*units.Picofarad, talebzadeh, "standing"),
	measuredBody("person on soles of 10 mm", 120*units.Picofarad, 130*units.Picofarad,
		known.Source{Provenance: known.Quoted,
			Cite: "capacitance of a standing person by the surface charge method, confirmed by measurement",
			Via:  "abstract in a Japanese index of articles"},
		"standing 10 mm above an earthed plane; far above it about 60 pF"),
	measuredBody("person on a steel plate", 300*units.Picofarad, 300*units.Picofarad,
		known.Source{Provenance: known.Published,
			Cite: "Japanese guideline on static electricity aboard ships (1999), 5.3.2"}, "rubber soles; about"),
	measuredBody("person, measured with an AC bridge", 100*units.Picofarad, 150*units.Picofarad, jonassen,
		"standing, various footwear and floors"),
	measuredBody("person, measured by charge sharing", 200*units.Picofarad, 400*units.Picofarad, jonassen,
		"standing, various footwear and floors; the static method, on which the author asks to rely"),
}

// BodyCapacitances returns the table of published capacitances of bodies; the
// rows are a copy. A row that rests on memory is given out by
// [FindBodyCapacitance] alone, to who asks for it by name.
func BodyCapacitances() []BodyCapacitance {
	var out []BodyCapacitance
	for _, b := range bodyCapacitances {
		if b.Source.Provenance != known.Memory {
			out = append(out, b)
		}
	}
	return out
}

// FindBodyCapacitance returns the row of that name, or a [*known.FieldError]
// that lists the names.
func FindBodyCapacitance(name string) (BodyCapacitance, error) {
	for i := range bodyCapacitances {
		if bodyCapacitances[i].Name == name {
			return bodyCapacitances[i], nil
		}
	}
	names := ""
	for i := range bodyCapacitances {
		if i > 0 {
			names += ", "
		}
		names += bodyCapacitances[i].Name
	}
	return BodyCapacitance{}, known.Wrong("body", name, "one of "+names)
}
