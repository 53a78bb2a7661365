package survey

import (
	"fmt"
	"strings"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func (w *words) agree() string {
	a := &w.f.Agreement
	if a.Used == 0 {
		return ""
	}
	text := fmt.Sprintf("Agreement: all %d readings used fit together within their errors", a.Used)
	if n := len(a.Odd); n > 0 {
		var parts []string
		for i := range a.Odd[:min(n, 3)] {
			parts = append(parts, w.odd(&a.Odd[i]))
		}
		if n > 3 {
			parts = append(parts, fmt.Sprintf("%d more", n-3))
		}
		text = fmt.Sprintf(
			"Agreement: %d of %d readings used do not fit the others: %s",
			n,
			a.Used,
			strings.Join(parts, "; "),
		)
	}
	if a.Scatter > 1.5*a.Described {
		text += fmt.Sprintf(
			"; spots scatter by %.0f %% where %.0f %% is described, and the bands are wider for it",
			100*a.Scatter,
			100*a.Described,
		)
	}
	if a.Strain > 1.1 {
		text += fmt.Sprintf("; places disagree by %s times their errors, and the bands are wider for it", figure(a.Strain))
	}
	return text + w.alone() + "."
}

// alone says what readings tell that have an answer of their own.
func (w *words) alone() string {
	var parts []string
	for i := range w.f.Alone {
		a := &w.f.Alone[i]
		if i == 3 && len(w.f.Alone) > 4 {
			parts = append(parts, fmt.Sprintf("%d more", len(w.f.Alone)-i))
			break
		}
		if a.Quantity == line.PailCharge {
			parts = append(parts, fmt.Sprintf("what the pail at %s held carried %v net, whatever made it", w.name(a.Station),
				units.Charge(a.Value)))
		} else {
			parts = append(parts, fmt.Sprintf("charge at %s fell to 1/e in %v", w.name(a.Station), units.Time(a.Value)))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "; " + listed(parts, "and")
}

func (w *words) odd(o *OddReading) string {
	r := &w.d.survey.Readings[o.Reading]
	unit, scale := "V", 1.0
	if r.Quantity == line.FieldMeter {
		unit, scale = "kV", 1e-3
	}
	text := fmt.Sprintf(
		"%s (%s: %s %s, the others say %s)",
		w.row(o.Reading),
		r.Station,
		signed2(o.Shown*scale),
		unit,
		signed2(o.Expected*scale),
	)
	switch o.Blunder {
	case WrongSign:
		text += ", the sign?"
	case TenTimes:
		text += ", ten times too much?"
	case ATenth:
		text += ", a tenth of it?"
	case KiloAsVolts:
		text += ", kilovolts written as volts?"
	case WrongPlace:
		text += ", the reading of " + w.name(o.Place) + "?"
	}
	return text
}

// notices collects the hazards that the diagnosis touches and the cautions that
// go with every advice.
// notices are the hazards that the survey raises, each by its condition: what is open
// to question counts as present, and says that it is.
func (w *words) notices() []known.Notice {
	var out []known.Notice
	add := func(id hazard.NoticeID, figure string) {
		n := id.Notice(figure)
		if w.system == units.US {
			n = hazard.Grounding(n)
		}
		out = append(out, n)
	}
	add(hazard.NoticeNotApproval, "")
	for i := range w.f.Earth.Isolated {
		g := &w.f.Earth.Isolated[i].Finding
		add(
			hazard.NoticeIsolatedConductor,
			fmt.Sprintf("%s, %v to %s", w.name(g.Station), units.Resistance(written.Round(float64(g.Resistance), 2)),
				w.ground()),
		)
	}
	if m := w.f.Earth.Missing; len(m) > 0 {
		add(hazard.NoticeIsolatedConductor, "not measured: "+w.names(m, "and"))
	}
	if s := w.strongest(); s != nil {
		add(
			hazard.NoticeShock,
			fmt.Sprintf("%s sparks, %s mJ at %s kV", w.name(s.Finding.Station), figure(float64(s.Energy)*1e3),
				figure(float64(s.HighVoltage)/1e3)),
		)
	}
	if w.f.Wraps > 0 {
		add(
			hazard.NoticeBrush,
			fmt.Sprintf("%s can spark from about %d wraps", w.name(len(w.d.desc.Stations)-1), w.f.Wraps),
		)
	}
	if l := w.f.Layer; l != nil {
		add(
			hazard.NoticePropagatingBrush,
			fmt.Sprintf(
				"%s µC/m² on a face, %.0f %% of 250 µC/m²; the layer's breakdown voltage is a second, separate condition",
				figure(l.Brush*250),
				100*l.Brush,
			),
		)
	}
	powered := w.ionisers(func(s *line.IonSpec) bool { return !s.Passive })
	passive := w.ionisers(func(s *line.IonSpec) bool { return s.Passive })
	if all := w.ionisers(func(*line.IonSpec) bool { return true }); len(all) > 0 {
		add(hazard.NoticeIoniserZone, w.names(all, "and")+": the zone is not part of a survey, ask for it first")
	}
	if len(passive) > 0 {
		add(hazard.NoticeIsolatedConductor, "points of "+w.names(passive, "and")+": they must be "+w.ground()+"ed to work")
	}
	if len(powered) > 0 {
		add(hazard.NoticeHighVoltage, w.names(powered, "and"))
		add(hazard.NoticeOzone, w.names(powered, "and"))
	}
	add(hazard.NoticeReachIn, "stop and lock out for any work at rollers")
	return out
}

// strongest is the isolated conductor whose sparks carry most, nil where none sparks.
func (w *words) strongest() *IsolatedState {
	var best *IsolatedState
	for i := range w.f.Earth.Isolated {
		if s := &w.f.Earth.Isolated[i]; s.Sparks && (best == nil || s.Energy > best.Energy) {
			best = s
		}
	}
	return best
}

// ionisers are the stations whose source is of a kind.
func (w *words) ionisers(want func(*line.IonSpec) bool) (out []int) {
	for i := range w.d.desc.Stations {
		if s := &w.d.desc.Stations[i]; s.Kind == line.Ioniser && want(s.Ioniser) {
			out = append(out, i)
		}
	}
	return out
}
