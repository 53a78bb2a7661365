package upkeep

import (
	"encoding"
	"errors"
	"strings"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// SafetyAnswers holds what no description and no reading of a line says: the answers of the
// people who are responsible for it. The zero value answers nothing.
type SafetyAnswers struct {
	Flammables Flammables      `json:"flammables,omitempty"` // what may burn; unknown: not answered
	Zone       Zone            `json:"zone,omitempty"`       // unknown: not answered
	DecidedBy  string          `json:"decidedBy,omitempty"`  // who decided both; empty: nobody
	Group      hazard.GasGroup `json:"gasGroup,omitempty"`   // of the gas or vapour
	Substance  string          `json:"substance,omitempty"`  // of hazard.Ignitables, for its least ignition energy
	// the ionisers with a certificate for the zone and group, by station.
	Certified []string `json:"certified,omitempty"`

	Goods GoodsKind  `json:"goods,omitempty"` // empty: a web
	Fines line.YesNo `json:"fines,omitempty"` // does fine dust arise?
	// is insulating bulk heaped in a vessel of more than a cubic metre?
	Silo        line.YesNo `json:"silo,omitempty"`
	Liner       line.YesNo `json:"liner,omitempty"`       // are insulating liners or coats on metal in its way?
	BlownAir    line.YesNo `json:"blownAir,omitempty"`    // do ionisers or guns blow compressed air?
	Radioactive line.YesNo `json:"radioactive,omitempty"` // is an ioniser radioactive?
	Humidifier  line.YesNo `json:"humidifier,omitempty"`  // is the air humidified, or is that planned?
	Agents      line.YesNo `json:"agents,omitempty"`      // are antistatic agents or solvents used, also to clean pins?
	Electronics line.YesNo `json:"electronics,omitempty"` // are charge-sensitive electronics near?
}

// Open says why the first question, that of zone and flammables, is not answered:
// the field and what is missing; "" if it is.
func (s *SafetyAnswers) Open() string {
	switch {
	case s.Zone == UnknownZone:
		return "safety.zone: not answered"
	case s.Flammables == UnknownFlammables:
		return "safety.flammables: not answered"
	case strings.TrimSpace(s.DecidedBy) == "":
		return "safety.decidedBy: nobody has decided"
	}
	return ""
}

// cleared says that somebody decided that there is neither zone nor flammables.
func (s *SafetyAnswers) cleared() bool {
	return s.Open() == "" && s.Zone == NoZone && s.Flammables == NoFlammables
}

// ignitable is what a spark is compared with: the substance named, else propane's
// class of vapours by its least held energy, 0.2 mJ. ok is false for no substance.
func (s *SafetyAnswers) ignitable() (in hazard.Ignitable, named bool) {
	in, err := hazard.FindIgnitable(s.Substance)
	return in, err == nil
}

// Check returns a [*known.FieldError] for every answer that is no word of its list.
func (s *SafetyAnswers) Check() error {
	var errs []error
	word := func(field string, v encoding.TextMarshaler, names []string) {
		if _, err := v.MarshalText(); err != nil {
			errs = append(errs, known.Wrong("safety."+field, v, enum.OneOf(names)))
		}
	}
	word("flammables", s.Flammables, flammableNames[:])
	word("zone", s.Zone, zoneNames[:])
	word("goods", s.Goods, goodsNames[:])
	if s.Substance != "" {
		if _, named := s.ignitable(); !named {
			_, err := hazard.FindIgnitable(s.Substance)
			errs = append(errs, written.Fields(err, func(string) string { return "safety.substance" }))
		}
	}
	for field, a := range map[string]line.YesNo{"fines": s.Fines, "silo": s.Silo, "liner": s.Liner, "blownAir": s.BlownAir,
		"radioactive": s.Radioactive, "humidifier": s.Humidifier, "agents": s.Agents, "electronics": s.Electronics} {
		if a > line.No {
			errs = append(errs, known.Wrong("safety."+field, a, "yes, no or nothing"))
		}
	}
	return errors.Join(errs...)
}

// vapourEnergy is the energy that is named where no substance is: ordinary vapours
// ignite from about it (common practice, no source).
const vapourEnergy = 0.2 * units.Millijoule
