package survey

import (
	"fmt"
	"math"
	"strings"

	"example.org/pithball/line"
)

func (w *words) measure() string {
	n := w.f.Next
	if n == nil {
		return ""
	}
	return fmt.Sprintf(
		"Measure next: %s; it would take the chance of the likeliest source from %.0f to about %.0f %%.",
		w.measurement(n),
		100*math.Min(n.From, surest),
		100*math.Min(n.To, surest),
	)
}

func (w *words) measurement(s *Suggestion) string {
	switch {
	case s.Quantity == line.OverRoller:
		return fmt.Sprintf("face %s with a non-contact voltmeter over %s, %sed", s.Face, w.name(s.Station), w.ground())
	case s.Behind:
		return fmt.Sprintf(
			"the field in the free span after %s, mid-span, four spots across, with the gap behind the web",
			w.name(s.Station),
		)
	}
	return fmt.Sprintf("the field at %s, four spots across", w.name(s.Station))
}

// cure says what to look at in a contact.
func (w *words) cure(station int) string {
	switch s := &w.d.desc.Stations[station]; s.Kind {
	case line.Nip:
		return "correct the cause at " + s.Name + " (cover material, load, slip)"
	case line.Unwind:
		return "look at the roll as delivered and at its peel"
	default:
		return "correct the cause at " + s.Name + " (slip, wrap, bearing drag, cover)"
	}
}

func (w *words) do() string {
	s := &w.f.Source
	var parts []string
	switch s.Kind {
	case OneSource:
		parts = append(parts, w.cure(s.Sets[0][0]))
	case TwoSources:
		for _, set := range s.Sets {
			if len(set) == 1 {
				parts = append(parts, w.cure(set[0]))
			}
		}
	case NotListed:
		parts = append(parts, "walk the stretch "+w.stretch()+" and look for whatever touches or charges the web there")
	case Contradict:
		parts = append(
			parts,
			"zero both meters away from charge, check their signs on a known charge, and take those readings again",
		)
	}
	for i := range w.f.Bars {
		parts = append(parts, w.bar(&w.f.Bars[i]))
	}
	look := w.look()
	switch {
	case len(parts) > 0:
		return "Do next: " + look + strings.Join(parts, "; ") + "."
	case w.f.Next != nil && look != "":
		return "Do next: " + look + "take that measurement before any money is spent."
	case w.f.Next != nil:
		return "Do next: take that measurement before any money is spent."
	case s.Kind == NoneAbove:
		return "Do next: keep this survey as the record, and repeat it on a dry day."
	}
	return "Do next: repeat the survey at a second speed, on a dry day."
}

// look names the one contact at which the net charge passes the limit most: to look at it costs
// nothing, whatever else may hide.
func (w *words) look() string {
	r := w.f.Source.Rises
	if len(r) == 0 || len(r[0].Contacts) != 1 {
		return ""
	}
	s := &w.d.desc.Stations[r[0].Contacts[0]]
	switch s.Kind {
	case line.Nip:
		return "look at " + s.Name + " (cover material, load, slip); "
	case line.Unwind:
		return "look at the roll as delivered and at its peel; "
	}
	return "look at " + s.Name + " (slip, wrap, bearing drag, cover); "
}

// bar says what a badly placed ioniser would gain in mid-span.
func (w *words) bar(b *BarFinding) string {
	text := fmt.Sprintf(
		"move %s to mid-span: where it stands it sees %.0f %% of the field",
		w.name(b.Station),
		100*b.Factor,
	)
	if b.Known {
		lo, mid, hi := b.Share.Band()
		if lo <= 0 {
			return text + fmt.Sprintf(
				"; whether it took anything of the net charge cannot be told from these readings (at most %.0f %%)",
				100*max(0, hi),
			)
		}
		text += fmt.Sprintf(" and took about %.0f %% of the net charge (%.0f … %.0f)", 100*mid, 100*lo, 100*hi)
	}
	return text
}

func (w *words) doNot() string {
	var parts []string
	if l := w.f.Layer; l != nil {
		parts = append(
			parts,
			fmt.Sprintf(
				"trust a small reading after %s: a meter %s off in mid-span shows only %s kV there "+
					"while the faces hold %s and %s µC/m²; at a distance the two faces cancel, so no ordinary or "+
					"passive bar removes them",
				w.name(
					l.Station,
				),
				nominal(l.Nominal, w.system),
				signed2(float64(l.Shown)/1e3),
				micro(l.A.Value),
				micro(l.B.Value),
			),
		)
	}
	if w.f.Inert {
		parts = append(
			parts,
			"humidify for this: "+w.d.desc.Web.Material+" takes up no water and a free span has no path to "+w.ground(),
		)
	}
	if len(parts) == 0 {
		return ""
	}
	return "Do not: " + strings.Join(parts, "; nor ") + "."
}
