package survey

import (
	"fmt"
	"math"
	"strings"

	"example.org/pithball/internal/written"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Verdict is the answer to a survey in at most seven plain lines, in the order in
// which they should be read, and the hazard notices that go with it.
type Verdict struct {
	Earth   string `json:"earth"`             // what to earth first
	Source  string `json:"source"`            // where the charge comes from, or why these readings cannot tell
	Agree   string `json:"agree,omitempty"`   // how well the readings fit together
	Measure string `json:"measure,omitempty"` // which measurement would tell more
	Do      string `json:"do"`                // what to do next
	DoNot   string `json:"doNot,omitempty"`   // what not to do
	Outlook string `json:"outlook,omitempty"` // the wanted speed

	Notices []known.Notice `json:"notices"` // hazards and limits of use
}

// Lines returns the lines that are not empty.
func (v *Verdict) Lines() []string {
	var out []string
	for _, s := range []string{v.Earth, v.Source, v.Agree, v.Measure, v.Do, v.DoNot, v.Outlook} {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// Verdict says what the diagnosis means, in metric units.
func (d *Diagnosis) Verdict() (Verdict, error) { return d.VerdictIn(units.Metric) }

// VerdictIn says what the diagnosis means, with speeds and distances in the units
// of the system; charge densities stay in µC/m².
func (d *Diagnosis) VerdictIn(system units.System) (Verdict, error) {
	f, err := d.Findings()
	if err != nil {
		return Verdict{}, err
	}
	w := words{d, &f, system}
	return Verdict{
		Earth:   w.earth(),
		Source:  w.source(),
		Agree:   w.agree(),
		Measure: w.measure(),
		Do:      w.do(),
		DoNot:   w.doNot(),
		Outlook: w.outlook(),
		Notices: w.notices(),
	}, nil
}

// words turns findings into sentences.
type words struct {
	d      *Diagnosis
	f      *Findings
	system units.System
}

func (w *words) name(station int) string { return w.d.desc.Stations[station].Name }

func (w *words) names(stations []int, last string) string {
	var out []string
	for _, i := range stations {
		out = append(out, w.name(i))
	}
	return listed(out, last)
}

// listed writes "a, b and c".
func listed(s []string, last string) string {
	if len(s) < 2 {
		return strings.Join(s, "")
	}
	return strings.Join(s[:len(s)-1], ", ") + " " + last + " " + s[len(s)-1]
}

// row names a reading as the file does.
func (w *words) row(reading int) string {
	r := &w.d.survey.Readings[reading]
	if r.Line > 0 {
		return fmt.Sprintf("line %d", r.Line)
	}
	return fmt.Sprintf("reading %d", reading+1)
}

// ground is the word for the earth that goes with the units.
func (w *words) ground() string {
	if w.system == units.US {
		return "ground"
	}
	return "earth"
}

// nominal writes the distance of a meter: it stays the metric one that the maker set,
// with inches beside it for a reader who works in them.
func nominal(l units.Length, system units.System) string {
	mm := units.Display(l, units.Metric, 2)
	if system != units.US {
		return mm
	}
	// To the sixteenth of an inch, as a rule shows it: 25 mm are "1 in".
	return fmt.Sprintf("%s (%v in)", mm, math.Round(16*float64(l)/float64(units.Inch))/16)
}

func (w *words) earth() string {
	e := &w.f.Earth
	title := strings.ToUpper(w.ground()[:1]) + w.ground()[1:]
	var isolated []string
	for i := range e.Isolated {
		s := &e.Isolated[i]
		least := ""
		if s.Finding.AtLeast {
			least = "at least "
		}
		text := fmt.Sprintf(
			"%s (%s%s to %s",
			w.name(s.Finding.Station),
			least,
			units.Resistance(written.Round(float64(s.Finding.Resistance), 2)),
			w.ground(),
		)
		if s.Energy > 0 {
			text += fmt.Sprintf("; charges to about %s kV", figure(float64(s.Voltage)/1e3))
			if figure(float64(s.HighVoltage)) != figure(float64(s.Voltage)) && s.HighVoltage > s.Voltage {
				text += fmt.Sprintf(", perhaps %s kV", figure(float64(s.HighVoltage)/1e3))
			}
			text += fmt.Sprintf(" and %s mJ", figure(float64(s.Energy)*1e3))
			if s.Sparks {
				text += ", and sparks"
			}
		}
		isolated = append(isolated, text+")")
	}
	var s string
	switch {
	case len(isolated) > 0:
		s = title + " first: " + strings.Join(isolated, "; ") + "."
	case e.Measured == 1:
		s = fmt.Sprintf("%s: the one conductor measured reads at most %v to %s.", title, GroundLimit, w.ground())
	case e.Measured > 0:
		s = fmt.Sprintf("%s: the %d conductors measured read at most %v to %s.", title, e.Measured, GroundLimit, w.ground())
	case len(e.Missing) > 0:
		return title + ": no conductor's resistance to " + w.ground() + " was measured; do that before anything else."
	default:
		return title + ": the description lists no conductor that the web touches."
	}
	if len(e.Missing) > 0 {
		s += " Not measured: " + w.names(e.Missing, "and") + "."
	}
	return s
}

// stretch names the readings around what is said.
func (w *words) stretch() string {
	b := w.f.Source.Between
	switch {
	case b[0] >= 0 && b[1] >= 0:
		return "between the readings at " + w.name(b[0]) + " and " + w.name(b[1])
	case b[1] >= 0:
		return "before the reading at " + w.name(b[1])
	case b[0] >= 0:
		return "after the reading at " + w.name(b[0])
	}
	return ""
}

func (w *words) changes(faces []FaceChange) string {
	var parts []string
	for _, c := range faces {
		parts = append(parts, fmt.Sprintf("face %s %s", c.Face, micros(c.Change)))
	}
	return listed(parts, "and")
}

// source says where the charge comes from, and where it is not one contact, where the net
// charge passes the limit all the same.
func (w *words) source() string {
	text := w.told()
	var parts []string
	for i := range w.f.Source.Rises {
		r := &w.f.Source.Rises[i]
		at := "before the reading at " + w.name(r.Between[1])
		if r.Between[0] >= 0 {
			at = "between the readings at " + w.name(r.Between[0]) + " and " + w.name(r.Between[1])
		}
		if len(r.Contacts) > 0 {
			at += " (" + w.names(r.Contacts, "and") + ")"
		}
		parts = append(parts, at+" by "+micros(r.Step))
	}
	if len(parts) == 0 {
		return text
	}
	return text + " The net charge, which a field meter shows, passes the limit " + listed(parts, "and") + "."
}

func (w *words) told() string {
	s := &w.f.Source
	switch s.Kind {
	case OneSource:
		text := fmt.Sprintf(
			"Main source: %s, %s; the step lies %s",
			w.name(s.Sets[0][0]),
			w.changes(s.Faces[0]),
			w.stretch(),
		)
		if s.Beside >= 0.01 {
			text += fmt.Sprintf(" (something there that is not on the list: %.0f %%)", 100*s.Beside)
		}
		return text + "."
	case TwoSources:
		var parts []string
		single := 0
		for _, set := range s.Sets {
			text := w.names(set, "or")
			if len(set) == 1 {
				text += ", " + w.changes(s.Faces[single])
				single++
			}
			parts = append(parts, text)
		}
		return "Main source: two of like size: " + strings.Join(parts, "; and ") + "; correcting one leaves the other."
	case OneOf:
		set := s.Sets[0]
		both := ""
		if s.BothSaid() {
			both = "or both"
			if len(set) > 2 {
				both = "or two of them"
			}
			both = fmt.Sprintf(", %s, of like size (%.0f %%)", both, 100*s.Both)
		}
		switch {
		case s.Scatter:
			list := w.name(set[0])
			if len(set) > 1 {
				list = "one of " + w.names(set, "and") + both
			}
			if s.Unlisted {
				list += ", or something that is not on the list"
			}
			if at := w.stretch(); at != "" {
				list += ", " + at
			}
			if s.Step {
				return "Main source: " + list + "; the step by itself may be weak contacts that add up, and how the spots " +
					"scatter speaks against that; what the faces hold was not read."
			}
			return "Main source: " + list + ", by the spots alone: they scatter by more than the charge outside explains, " +
				"so that the faces hold charges that cancel; no voltmeter saw them."
		case len(set) == 1 && s.Unlisted:
			return fmt.Sprintf(
				"Main source: %s, or something that is not on the list, %s; these readings cannot separate them.",
				w.name(set[0]),
				w.stretch(),
			)
		case len(set) == 1:
			return fmt.Sprintf(
				"Main source: %s by its net charge, %s; what its faces hold was not read.",
				w.name(set[0]),
				w.stretch(),
			)
		case s.Unlisted:
			return fmt.Sprintf(
				"Main source: one of %s%s, or something that is not on the list, %s; these readings cannot separate them.",
				w.names(set, "and"),
				both,
				w.stretch(),
			)
		}
		return fmt.Sprintf("Main source: one of %s%s; these readings cannot separate them.", w.names(set, "and"), both)
	case NotListed:
		text := fmt.Sprintf("Main source: something that is not on the list, %s", w.stretch())
		if len(s.Faces) > 0 && len(s.Faces[0]) > 0 {
			text += ": " + w.changes(s.Faces[0])
		}
		return text + "."
	case NoneAbove:
		text := fmt.Sprintf(
			"Main source: none worth correcting; what was read stays below the limit of %s µC/m²",
			strings.TrimPrefix(micro(float64(w.d.line.Limit())), "+"),
		)
		if len(s.Beyond) > 0 {
			text += "; not read: " + w.names(s.Beyond, "and")
		}
		return text + "."
	case Contradict:
		if s.Clash.Sign {
			return "Main source: these readings contradict each other: the field meter and the voltmeter disagree " +
				"about the sign; one of them is read or connected the wrong way round."
		}
		return "Main source: these readings contradict each other (" + w.rows(s.Clash.Readings) + ")."
	}
	return "Main source: these readings cannot tell: " + w.whyNot() + "."
}

// rows names readings, the first few of many.
func (w *words) rows(readings []int) string {
	var out []string
	for i, r := range readings {
		if i == 6 && len(readings) > 7 {
			out = append(out, fmt.Sprintf("%d more", len(readings)-i))
			break
		}
		out = append(out, w.row(r))
	}
	return listed(out, "and")
}

func (w *words) whyNot() string {
	s := &w.f.Source
	var open []string
	for _, l := range s.Leads {
		open = append(open, fmt.Sprintf("%s %.0f %%", w.name(l.Station), 100*math.Min(l.Chance, surest)))
	}
	switch s.Why {
	case NoCharge:
		return "none of them sees the charge of the running web" + w.alone()
	case OneReading:
		return fmt.Sprintf("%s leads by %s alone, and falls back without it", w.name(s.Sets[0][0]), w.row(s.Rests))
	case FacesUnread:
		return fmt.Sprintf(
			"the net charge stays below the limit where it was read, but no voltmeter saw a face behind %s, "+
				"and two faces that cancel stay hidden from a field meter",
			w.names(s.Unread, "and"),
		)
	case NetOpen:
		return fmt.Sprintf("the net charge at %s, %s, is not below the limit of %s µC/m², and no single contact stands "+
			"out: several may add up (%s)", w.name(s.Net.Station), micros(s.Net.Net),
			strings.TrimPrefix(micro(float64(s.Net.Limit)), "+"), strings.Join(open, ", "))
	case NothingStands:
		return "no step between two places is large enough against what the readings leave open (" + strings.Join(
			open,
			", ",
		) + ")"
	}
	text := "several remain open (" + strings.Join(open, ", ") + ")"
	if len(open) == 1 {
		text = open[0] + ", but what it gave is not clearly above the limit and above what the others gave"
	}
	if len(s.Unread) > 0 {
		text += fmt.Sprintf(
			"; no voltmeter saw a face behind %s, and a field meter in a free span sees only the sum of both",
			w.names(s.Unread, "and"),
		)
	}
	return text
}

func (w *words) outlook() string {
	o := w.f.Outlook
	if o == nil {
		return ""
	}
	text := fmt.Sprintf(
		"At %s: after %s face A %s, face B %s µC/m²", units.Display(o.Speed, w.system, 3), w.name(o.Station),
		microBand(o.A), microBand(o.B))
	switch {
	case w.f.Layer != nil && w.f.Source.Kind == OneSource:
		return text + "; not before " + w.name(w.f.Source.Sets[0][0]) + " is corrected."
	case o.Worst > 0.5:
		return text + fmt.Sprintf(
			"; the net charge would be above the limit after %s: not before the source is corrected.",
			w.name(o.At),
		)
	}
	return text + "."
}
