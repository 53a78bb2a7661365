package upkeep

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/pithball/charge"
	"example.org/pithball/charge/hazard"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Hazard is one line of the list: a condition that is on the line or that nobody
// has excluded.
type Hazard struct {
	Rank    int          `json:"rank"`              // 1 comes first
	Station string       `json:"station,omitempty"` // where; empty: the whole line
	Energy  units.Energy `json:"energy,omitempty"`  // that one discharge can release, where it is known
	// whether the condition is listed because nobody measured or answered it
	Open   bool         `json:"open,omitempty"`
	Notice known.Notice `json:"notice"` // condition, figure, standard with edition, who decides
}

// rule raises a notice by a condition.
type rule struct {
	id   hazard.NoticeID
	when string // the condition in words
	find func(s *scene) []Hazard
}

// scene is what the rules look at.
type scene struct {
	d     *line.Description
	site  *SafetyAnswers
	found *survey.Diagnosis // nil: no readings
}

// rules stand in the order in which the list is read: what stops work, what sparks,
// what can ignite, what injures, what accompanies a cure.
var rules = [...]rule{
	{hazard.NoticeNotApproval, "always; first of all while zone, flammables or who decided are not answered",
		(*scene).approval},
	{hazard.NoticeIsolatedConductor, "each metal roller whose resistance to earth was not measured or exceeds 1 MΩ; " +
		"people",
		(*scene).conductors},
	{hazard.NoticeBrush, "a roll or pile of insulating goods at the end of the line; " +
		"insulating goods where flammables or zone " +
		"are not excluded", (*scene).brush},
	{hazard.NoticePropagatingBrush, "an insulating roller cover; insulating goods with a nip, an ioniser or a liner",
		(*scene).propagating},
	{hazard.NoticeCone, "powder or granulate, unless nothing is heaped in a large vessel", (*scene).cone},
	{hazard.NoticeDust, "flammable dust; powder, or fines that nobody excluded on parts", (*scene).dust},
	{hazard.NoticeIoniserZone, "an ioniser where flammables or zone are not excluded", (*scene).ioniserZone},
	{hazard.NoticeShock, "always: charged goods, conductors or people within reach", (*scene).shock},
	{hazard.NoticeImplant, "always: charged goods or high voltage", always},
	{hazard.NoticeReachIn, "always: moving machinery at which readings are taken", always},
	{hazard.NoticeHighVoltage, "a powered ioniser", (*scene).powered},
	{hazard.NoticeOzone, "a powered ioniser", (*scene).powered},
	{hazard.NoticeRadioactive, "an ioniser without supply that nobody said is not radioactive; a yes",
		(*scene).radioactive},
	{hazard.NoticeCompressedAir, "an ioniser that nobody said blows no air; a yes", (*scene).air},
	{hazard.NoticeChemicals, "an ioniser, whose pins are cleaned; antistatic agents", (*scene).agents},
	{hazard.NoticeElectronics, "an ioniser, unless no sensitive electronics are near; a yes", (*scene).electronics},
	{hazard.NoticeHumidity, "goods that moisture changes, unless nobody humidifies; a yes", (*scene).humidity},
}

// RaisedWhen says which condition raises a notice in [Hazards]; "" for an unknown id.
func RaisedWhen(id hazard.NoticeID) string {
	for i := range rules {
		if rules[i].id == id {
			return rules[i].when
		}
	}
	return ""
}

// Hazards lists what is dangerous on a line in the order in which it is to be dealt
// with, each with its figure, the standard to consult and who decides. It works
// before any other answer: on a description alone, without a diagnosis (nil) and
// with the zero Site. What nobody measured or answered counts as present, and the
// list says so ([Hazard.Open]). line.No list is complete, and none says that a place is
// free of danger. Errors are [*known.FieldError]s for the answers and the description.
func Hazards(d *line.Description, site SafetyAnswers, found *survey.Diagnosis) ([]Hazard, error) {
	if d == nil {
		return nil, known.Wrong("description", "nil", "a description")
	}
	_, err := line.New(d)
	if err := errors.Join(err, site.Check()); err != nil {
		return nil, err
	}
	s := &scene{d, &site, found}
	var out []Hazard
	for i := range rules {
		r := &rules[i]
		for _, h := range r.find(s) {
			figure := h.Notice.Figure
			h.Notice = r.id.Notice(figure)
			h.Rank = len(out) + 1
			out = append(out, h)
		}
	}
	return out, nil
}

func one(station, figure string, open bool) Hazard {
	return Hazard{Station: station, Open: open, Notice: known.Notice{Figure: figure}}
}

func always(*scene) []Hazard { return []Hazard{one("", "", false)} }

func (s *scene) approval() []Hazard {
	if open := s.site.Open(); open != "" {
		return []Hazard{one("", open+": until then only earthing and reading", true)}
	}
	if s.site.cleared() {
		return []Hazard{one("", "flammables and zone: none, decided by "+s.site.DecidedBy, false)}
	}
	return []Hazard{one("", fmt.Sprintf("%s, zone %s, decided by %s", s.site.Flammables, s.site.Zone, s.site.DecidedBy),
		false)}
}

// conductors lists what is isolated by the energy of its spark, then what nobody
// measured, then people.
func (s *scene) conductors() []Hazard {
	var out, open []Hazard
	measured := map[int]survey.GroundFinding{}
	if s.found != nil {
		for _, g := range s.found.Ground {
			if g.Measured {
				measured[g.Station] = g
			}
		}
	}
	for i := range s.d.Stations {
		st := &s.d.Stations[i]
		g, ok := measured[i]
		switch metal := st.Roller != nil && st.Roller.Kind == line.BareMetal; {
		case metal && !ok:
			open = append(open, one(st.Name, st.Name+": resistance to earth not measured", true))
		case ok && g.Isolated:
			out = append(out, s.isolated(g))
		}
	}
	slices.SortStableFunc(out, func(a, b Hazard) int {
		switch {
		case a.Energy > b.Energy:
			return -1
		case a.Energy < b.Energy:
			return 1
		}
		return 0
	})
	people := one("", "people at the line: footwear and floor not measured", true)
	return append(append(out, open...), people)
}

func (s *scene) isolated(g survey.GroundFinding) Hazard {
	name := s.d.Stations[g.Station].Name
	least := ""
	if g.AtLeast {
		least = "at least "
	}
	h := one(name, fmt.Sprintf("%s: %s%s to earth", name, least, written.Figures(g.Resistance)), false)
	st, ok := s.found.Isolated(g)
	if !ok {
		h.Notice.Figure += "; what it charges to is not known"
		return h
	}
	h.Energy = st.Energy
	h.Notice.Figure += fmt.Sprintf(", charges to %s and %s", written.Figures(st.HighVoltage), written.Figures(st.Energy))
	c, err := hazard.NewConductor(hazard.ConductorSpec{Body: hazard.Metal, Resistance: g.Resistance,
		Capacitance: s.d.Stations[g.Station].Roller.Capacity, Sparkover: s.d.Stations[g.Station].Roller.Sparkover})
	if err != nil {
		return h
	}
	if every := c.Charged(st.Current).SparkEvery; every > 0 {
		h.Notice.Figure += fmt.Sprintf(", sparks every %s", written.Figures(every))
	}
	if in, named := s.site.ignitable(); named {
		f := c.Spark(st.HighVoltage, in)
		h.Notice.Figure += fmt.Sprintf("; %.2g times the least ignition energy of %s", f.Ratio, in.Name)
	} else if !s.site.cleared() {
		h.Notice.Figure += fmt.Sprintf("; %.2g times %s, from which ordinary vapours ignite",
			float64(st.Energy)/float64(vapourEnergy), written.Figures(vapourEnergy))
	}
	return h
}

// insulating says whether the goods hold a charge: from 1e9 Ω·m on (common practice, no source).
func (s *scene) insulating() bool { return s.d.Web.VolumeResistivity >= 1e9*units.OhmMetre }

func (s *scene) brush() []Hazard {
	if !s.insulating() {
		return nil
	}
	last := &s.d.Stations[len(s.d.Stations)-1]
	figure := last.Name + ": what the wound roll or pile carries was not read"
	open := s.found == nil
	if s.found != nil {
		figure = last.Name + ": reaches the strength of the air as it grows only if more charge comes"
		if n, ok := s.found.Winding(); ok {
			figure = fmt.Sprintf("%s: about %d wraps to the strength of the air on this core", last.Name, n)
		}
	}
	if last.Earthed {
		figure += "; metal inside the roll only delays it"
	}
	out := []Hazard{one(last.Name, figure, open)}
	if !s.site.cleared() {
		out = append(out, one("", "insulating goods, and flammables are not excluded", s.site.Open() != ""))
	}
	return out
}

func (s *scene) propagating() []Hazard {
	var out []Hazard
	var why []string
	for i := range s.d.Stations {
		st := &s.d.Stations[i]
		if st.Roller != nil && st.Roller.Kind == line.InsulatingCover {
			figure := st.Name + ": insulating cover on a core"
			if c, ok := s.gasCurrent(i); ok {
				figure += fmt.Sprintf(", about %s leaves it through the air", written.Figures(c))
			} else {
				figure += ", its charge not known"
			}
			out = append(out, one(st.Name, figure, s.found == nil))
		}
		if st.Kind == line.Nip || st.Kind == line.Ioniser {
			why = append(why, st.Name)
		}
	}
	if s.site.Goods == PowderGoods && s.site.Liner != line.No {
		out = append(out, one("", "insulating liners or coats on metal in the way of the goods",
			s.site.Liner == line.Unanswered))
	}
	if !s.insulating() || len(why) == 0 {
		return out
	}
	figure := "faces not read; opposite charge can stand behind " + strings.Join(why, ", ")
	if s.found != nil {
		worst, at := 0.0, 0
		for i, st := range s.found.States {
			if x := max(math.Abs(st.A.Value), math.Abs(st.B.Value)); x > worst {
				worst, at = x, i
			}
		}
		share := "under 1 %"
		if x := 100 * worst / float64(hazard.PropagatingBrushDensity); x >= 1 {
			share = fmt.Sprintf("%.0f %%", x)
		}
		figure = fmt.Sprintf("%s: %s on a face, %s of %v; the breakdown voltage of the layer is a second condition",
			s.d.Stations[at].Name, written.Figures(units.SurfaceChargeDensity(worst)),
			share, hazard.PropagatingBrushDensity)
	}
	return append(out, one("", figure, s.found == nil))
}

// gasCurrent is what leaves an insulating cover through the air: all that the web
// takes from it less what leaks at most, (|Δ| − B·(1 − k))·v·w with the bound B that
// the gas sets and the share k that a turn leaves.
func (s *scene) gasCurrent(i int) (units.Current, bool) {
	if s.found == nil {
		return 0, false
	}
	r := s.d.Stations[i].Roller
	law, err := charge.NewContact(charge.ContactSpec{Saturation: units.MicrocoulombPerSquareMetre, Exposure: 1,
		ReferenceSpeed: s.found.Speed})
	if err != nil {
		return 0, false
	}
	c, err := charge.NewCoveredRoller(charge.CoveredRollerSpec{Contact: law, Radius: r.Radius, Tau: r.Cover})
	if err != nil {
		return 0, false
	}
	var change float64
	for _, g := range s.found.Changes {
		if g.Station == i {
			change = max(change, math.Abs(g.Found.Value))
		}
	}
	over := change - float64(c.Bound())*(1-c.Kept(s.found.Speed))
	return units.Current(max(0, over) * float64(s.found.Speed) * float64(s.d.Web.Width)), over > 0
}

func (s *scene) cone() []Hazard {
	if s.site.Silo == line.Yes || s.site.Goods == PowderGoods && s.site.Silo != line.No {
		return []Hazard{one("", "bulk in a vessel", s.site.Silo != line.Yes)}
	}
	return nil
}

func (s *scene) dust() []Hazard {
	powder := s.site.Goods == PowderGoods || s.site.Goods == PartGoods
	if s.site.Flammables == FlammableDust || s.site.Fines == line.Yes || powder && s.site.Fines != line.No {
		return []Hazard{one("", "fines: "+s.site.Fines.String(), s.site.Fines == line.Unanswered &&
			s.site.Flammables != FlammableDust)}
	}
	return nil
}

// ionisers names those that satisfy want.
func (s *scene) ionisers(want func(*line.IonSpec) bool) []string {
	var out []string
	for i := range s.d.Stations {
		if st := &s.d.Stations[i]; st.Ioniser != nil && want(st.Ioniser) {
			out = append(out, st.Name)
		}
	}
	return out
}

func anySource(*line.IonSpec) bool    { return true }
func withSupply(x *line.IonSpec) bool { return !x.Passive }
func passive(x *line.IonSpec) bool    { return x.Passive }

func (s *scene) ioniserZone() []Hazard {
	if s.site.cleared() {
		return nil
	}
	var out []Hazard
	for _, name := range s.ionisers(anySource) {
		if slices.Contains(s.site.Certified, name) && s.site.Open() == "" {
			continue
		}
		out = append(out, one(name, name+": no certificate is named", s.site.Open() != ""))
	}
	return out
}

func (s *scene) shock() []Hazard {
	figure, open := "what the goods and conductors carry was not measured", s.found == nil
	if s.found != nil {
		figure = ""
		var worst units.Energy
		for _, g := range s.found.Ground {
			if st, ok := s.found.Isolated(g); ok && st.Energy > worst {
				worst = st.Energy
				figure = fmt.Sprintf("%s: %s at %s", s.d.Stations[g.Station].Name, written.Figures(st.Energy),
					written.Figures(st.HighVoltage))
			}
		}
	}
	return []Hazard{one("", figure, open)}
}

func (s *scene) powered() []Hazard {
	return listed(s.ionisers(withSupply), "", false)
}

func listed(names []string, note string, open bool) []Hazard {
	if len(names) == 0 {
		return nil
	}
	return []Hazard{one("", strings.Join(names, ", ")+note, open)}
}

// asked raises a notice by an answer, and without one by what the line has.
func asked(a line.YesNo, names []string, question string) []Hazard {
	switch {
	case a == line.Yes:
		return []Hazard{one("", strings.Join(names, ", "), false)}
	case a == line.Unanswered:
		return listed(names, ": "+question+" not answered", true)
	}
	return nil
}

func (s *scene) radioactive() []Hazard {
	return asked(s.site.Radioactive, s.ionisers(passive), "whether it is radioactive is")
}

func (s *scene) air() []Hazard {
	return asked(s.site.BlownAir, s.ionisers(anySource), "whether it blows air is")
}

func (s *scene) agents() []Hazard {
	return asked(s.site.Agents, s.ionisers(anySource), "with what its pins are cleaned is")
}

func (s *scene) electronics() []Hazard {
	return asked(s.site.Electronics, s.ionisers(anySource), "whether sensitive electronics are near is")
}

func (s *scene) humidity() []Hazard {
	var names []string
	if s.d.Web.Humidity != humidity.Inert {
		names = []string{s.d.Web.Material}
	}
	return asked(s.site.Humidifier, names, "whether the air is or shall be humidified is")
}
