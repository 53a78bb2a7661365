package survey

import (
	"fmt"
	"slices"
	"strings"

	"example.org/pithball/charge/hazard"
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
func (w *words) notices() []known.Notice {
	var out []known.Notice
	add := func(id hazard.NoticeID, figure string) { out = append(out, id.Notice(figure)) }
	for i := range w.f.Earth.Isolated {
		g := &w.f.Earth.Isolated[i].Finding
		add(
			hazard.NoticeIsolatedConductor,
			fmt.Sprintf("%s, %v to earth", w.name(g.Station), units.Resistance(round2(float64(g.Resistance)))),
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
	if slices.ContainsFunc(
		w.d.desc.Stations,
		func(s line.StationSpec) bool { return s.Kind == line.Ioniser && !s.Ioniser.Passive },
	) {
		add(hazard.NoticeHighVoltage, "")
		add(hazard.NoticeOzone, "")
	}
	add(hazard.NoticeReachIn, "")
	add(hazard.NoticeNotApproval, "")
	return out
}
