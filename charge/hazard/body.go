package hazard

import (
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// BodyCapacitance is a range of capacitance of a kind of body to earth.
type BodyCapacitance struct {
	Name         string            // lower case
	Low          units.Capacitance // least of the range
	High         units.Capacitance // greatest; equal to Low where the source gives one value
	known.Origin                   // source, condition and licence of the work
}

var (
	nfpaCapacitance = known.Origin{Source: known.Source{Provenance: known.Published, Cite: "NFPA 77-2000, Recommended Practice on Static Electricity, Table A.3.1.5"},
		Condition: "typical, to earth", Licence: known.FactsOnly}
	walkingCapacitance = known.Origin{Source: known.Source{Provenance: known.Published, Cite: "Saito, Oyo Buturi 32 (1963) 301"}, Condition: "walking, 23–25 °C, 45–55 %RH", Licence: known.FactsOnly}
)

var bodyCapacitances = [...]BodyCapacitance{
	{"tank car", 1000 * units.Picofarad, 1000 * units.Picofarad, nfpaCapacitance},
	{"automobile", 500 * units.Picofarad, 500 * units.Picofarad, nfpaCapacitance},
	{"person", 100 * units.Picofarad, 300 * units.Picofarad, nfpaCapacitance},
	{"oil or solvent drum", 10 * units.Picofarad, 100 * units.Picofarad, nfpaCapacitance},
	{"metal scoop", 10 * units.Picofarad, 20 * units.Picofarad, nfpaCapacitance},
	{"needle electrode", 1 * units.Picofarad, 1 * units.Picofarad, nfpaCapacitance},
	{"dust particle", 1e-07 * units.Picofarad, 1e-07 * units.Picofarad, nfpaCapacitance},
	{"person on one leg", 90 * units.Picofarad, 90 * units.Picofarad, walkingCapacitance},
	{"person on two legs", 110 * units.Picofarad, 110 * units.Picofarad, walkingCapacitance},
	{"human body model", 100 * units.Picofarad, 100 * units.Picofarad, known.Origin{Source: known.Source{Provenance: known.Memory, Cite: "ANSI/ESDA/JEDEC JS-001, network 100 pF with 1.5 kΩ", Note: "from memory 97 %"},
		Condition: "a test network, no measured person", Licence: known.FactsOnly}},
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
