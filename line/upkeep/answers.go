package upkeep

import (
	"errors"
	"slices"
	"strings"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Answer is what somebody answered to a question. The zero value is no answer, and
// no answer raises what a yes would raise.
type Answer uint8

// The answers.
const (
	Unanswered Answer = iota
	Yes
	No
)

var answerNames = [...]string{"not answered", "yes", "no"}

// String returns "not answered", "yes" or "no".
func (a Answer) String() string { return enum.Name("Answer", answerNames[:], a) }

// MarshalText writes the name; an unknown value is a [*known.FieldError].
func (a Answer) MarshalText() ([]byte, error) { return enum.Write("answer", answerNames[:], a) }

// UnmarshalText reads yes, no or an empty text; anything else is a
// [*known.FieldError].
func (a *Answer) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*a = Unanswered
		return nil
	}
	if i := slices.Index(answerNames[:], string(b)); i >= 0 {
		*a = Answer(i)
		return nil
	}
	return known.Wrong("answer", string(b), "yes, no or nothing")
}

// Site holds what no description and no reading of a line says: the answers of the
// people who are responsible for it. The zero value answers nothing.
type Site struct {
	Flammables string          `json:"flammables,omitempty"` // none, vapour, gas, dust; empty or unknown: not answered
	Zone       string          `json:"zone,omitempty"`       // none, 0, 1, 2, 20, 21, 22; empty or unknown: not answered
	DecidedBy  string          `json:"decidedBy,omitempty"`  // who decided both; empty: nobody
	Group      hazard.GasGroup `json:"gasGroup,omitempty"`   // of the gas or vapour
	Substance  string          `json:"substance,omitempty"`  // of hazard.Ignitables, for its least ignition energy
	// Certified are the ionisers with a certificate for the zone and group, by station.
	Certified []string `json:"certified,omitempty"`

	// Goods are what moves where it is no web: "sheets", "parts", "powder"; empty: a web.
	Goods       string `json:"goods,omitempty"`
	Fines       Answer `json:"fines,omitempty"`       // does fine dust arise?
	Silo        Answer `json:"silo,omitempty"`        // is insulating bulk heaped in a vessel of more than a cubic metre?
	Liner       Answer `json:"liner,omitempty"`       // are insulating liners or coats on metal in its way?
	BlownAir    Answer `json:"blownAir,omitempty"`    // do ionisers or guns blow compressed air?
	Radioactive Answer `json:"radioactive,omitempty"` // is an ioniser radioactive?
	Humidifier  Answer `json:"humidifier,omitempty"`  // is the air humidified, or is that planned?
	Agents      Answer `json:"agents,omitempty"`      // are antistatic agents or solvents used, also to clean pins?
	Electronics Answer `json:"electronics,omitempty"` // are charge-sensitive electronics near?
}

var (
	flammables = []string{"", "unknown", "none", "vapour", "gas", "dust"}
	zones      = []string{"", "unknown", "none", "0", "1", "2", "20", "21", "22"}
	goods      = []string{"", "web", "sheets", "parts", "powder"}
)

// Open says why the first question, that of zone and flammables, is not answered:
// the field and what is missing; "" if it is.
func (s *Site) Open() string {
	switch {
	case s.Zone == "" || s.Zone == "unknown":
		return "safety.zone: not answered"
	case s.Flammables == "" || s.Flammables == "unknown":
		return "safety.flammables: not answered"
	case strings.TrimSpace(s.DecidedBy) == "":
		return "safety.decidedBy: nobody has decided"
	}
	return ""
}

// cleared says that somebody decided that there is neither zone nor flammables.
func (s *Site) cleared() bool { return s.Open() == "" && s.Zone == "none" && s.Flammables == "none" }

// ignitable is what a spark is compared with: the substance named, else propane's
// class of vapours by its least held energy, 0.2 mJ. ok is false for no substance.
func (s *Site) ignitable() (in hazard.Ignitable, named bool) {
	in, err := hazard.FindIgnitable(s.Substance)
	return in, err == nil
}

func (s *Site) check() error {
	var errs []error
	word := func(field, v string, list []string) {
		if !slices.Contains(list, v) {
			errs = append(errs, known.Wrong("safety."+field, v, "one of "+strings.Join(list[1:], ", ")))
		}
	}
	word("flammables", s.Flammables, flammables)
	word("zone", s.Zone, zones)
	word("goods", s.Goods, goods)
	if s.Substance != "" {
		if _, named := s.ignitable(); !named {
			_, err := hazard.FindIgnitable(s.Substance)
			errs = append(errs, err)
		}
	}
	for field, a := range map[string]Answer{"fines": s.Fines, "silo": s.Silo, "liner": s.Liner, "blownAir": s.BlownAir,
		"radioactive": s.Radioactive, "humidifier": s.Humidifier, "agents": s.Agents, "electronics": s.Electronics} {
		if a > No {
			errs = append(errs, known.Wrong("safety."+field, a, "yes, no or nothing"))
		}
	}
	return errors.Join(errs...)
}

// vapourEnergy is the energy that is named where no substance is: ordinary vapours
// ignite from about it (common practice, no source).
const vapourEnergy = 0.2 * units.Millijoule
