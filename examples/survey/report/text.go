package report

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"unicode/utf8"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// Text prints the verdict first, then the hazards, then the stations.
func (r *Report) Text(w io.Writer) error {
	fmt.Fprintf(w, "%s\n", r.desc.Name)
	if r.desc.Note != "" {
		fmt.Fprintf(w, "%s\n", Wrap(r.desc.Note, 96, ""))
	}
	if d := r.measured(); d != "" {
		fmt.Fprintf(w, "Measured %s.\n", d)
	}
	fmt.Fprintln(w)
	for i, s := range r.verdict.Lines() {
		fmt.Fprintf(w, "%d. %s\n", i+1, Wrap(s, 94, "   "))
	}
	fmt.Fprintln(w, "\nHazards and limits of use")
	for _, n := range r.verdict.Notices {
		fmt.Fprintf(w, "- %s\n", Wrap(n.String(), 94, "  "))
	}
	fmt.Fprintf(w, "\nStations at %s; charges in µC/m², 5 … 95 %% in brackets; limit for the net charge %s µC/m² (%s)\n\n",
		units.Display(r.in.Diagnosis.Speed, r.system, 3), signed(float64(r.in.Line.Limit())*1e6, 2),
		limitWords(r.desc.Limit.Kind))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "station\tat\tface A\tface B\tnet field\t\tnet/limit\tcharge set by\tremark")
	for _, s := range r.rows {
		kv := float64(s.Field) / float64(units.KilovoltPerCentimetre)
		kin := float64(s.Field) / float64(units.KilovoltPerInch)
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s kV/cm\t%s kV/in\t%s\t%s\t%s\n", s.Name, position(s.At, r.system),
			band(estimateBand(s.State.A), 1e6), band(estimateBand(s.State.B), 1e6), signed(kv, 2), signed(kin, 2),
			signed(s.Ratio, 2), ruled(s), strings.Join(s.Notices, ", "))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nWhat the meter shows there: predicted 5 … 95 % beside the readings; the same charge in mid-span")
	fmt.Fprintln(w)
	fmt.Fprintln(t, "station\tmeter\tat\tpredicted\tread\tmid-span\tremark")
	for _, s := range r.rows {
		for _, g := range s.Shown {
			free, at := kilo(g.Free)+" kV", nominal(g.Distance, r.system)
			if g.Quantity == line.OverRoller {
				free, at = "–", "–"
			}
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\n", s.Name, g.label(), at, g.predicted(), g.read(), free,
				strings.Join(g.Odd, "; "))
		}
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nWhat each contact and bar changed, µC/m²; whether the readings alone show it")
	fmt.Fprintln(w)
	fmt.Fprintln(t, "station\tface\tchange\tshown by the readings alone")
	for _, c := range r.changes {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", c.Station, c.Face, band(estimateBand(c.Change.Found), 1e6), c.Told)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if l := r.leaks(); l != nil {
		fmt.Fprintf(w, "\nTime constant with which the net leaks to earth behind a station; humidities are those at the "+
			"web\n- %s\n", strings.Join(l, "\n- "))
	}
	if len(r.unused()) > 0 {
		fmt.Fprintf(w, "\nNot used: %s\n", strings.Join(r.unused(), "; "))
	}
	return nil
}

// Wrap breaks text at spaces; lines after the first start with indent. A number and its unit stay on one line.
func Wrap(s string, width int, indent string) string {
	var b strings.Builder
	n := 0
	for i, w := range kept(strings.Split(s, " ")) {
		l := utf8.RuneCountInString(w)
		switch {
		case i == 0:
		case n+1+l > width:
			b.WriteString("\n" + indent)
			n = 0
		default:
			b.WriteByte(' ')
			n++
		}
		b.WriteString(w)
		n += l
	}
	return b.String()
}

// kept joins each unit to the number before it.
func kept(words []string) (out []string) {
	for _, w := range words {
		if k := len(out) - 1; k >= 0 && isUnit(w) && endsFigure(out[k]) {
			out[k] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// isUnit reports whether a word is a unit of the reports, with what may follow it.
func isUnit(w string) bool {
	switch strings.TrimRight(w, ".,;:)") {
	case "%", "%RH", "V", "kV", "kV/cm", "kV/in", "kV/m", "MV/m", "µC/m²", "µC/m", "µC", "nC", "nC/g", "nC/m",
		"µA/m", "nA", "mJ", "J", "pF", "Ω", "kΩ", "MΩ", "GΩ", "TΩ", "°C", "°F", "K", "m", "mm", "µm", "in", "ft",
		"s", "min", "h", "m/s", "m/min", "ft/min", "kg/h", "kW", "kWh", "L/min", "N/mm", "ppm":
		return true
	}
	return false
}

// endsFigure reports whether a word ends a figure: by a digit, or by the bracket of its band.
func endsFigure(w string) bool {
	last := w[max(0, len(w)-1):]
	return last >= "0" && last <= "9" || last == ")" && strings.ContainsAny(w, "0123456789")
}
