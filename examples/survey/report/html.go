package report

import (
	"bytes"
	_ "embed"
	"strings"
	"sync"

	"example.org/pithball/examples/internal/fillpage"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

//go:embed page.html
var page string

//go:embed parts.html
var parts string

// compose puts the parts that pages share where they are named: a part begins with a
// line "== name".
func compose(page string) string {
	for _, part := range strings.Split(parts, "\n== ")[1:] {
		name, text, _ := strings.Cut(part, "\n")
		page = strings.ReplaceAll(page, "== "+name+"\n", text+"\n")
	}
	return page
}

// Everything that comes from the user's files is escaped; only the SVG of our own
// figures is passed as it is. Read when the first page is written: a program that
// answers without one starts sooner.
var tmpl = sync.OnceValue(func() *fillpage.Page { return fillpage.MustParse(compose(page)) })

type htmlRow struct {
	Name, At, A, B, KVcm, KVin, Ratio, Ruled, Remarks string
	Place                                             bool
}

type htmlReading struct{ Name, Meter, Distance, Predicted, Read, MidSpan, Remarks string }

type htmlChange struct{ Station, Face, Change, Told string }

type htmlGround struct{ Station, Resistance, Finding string }

type htmlLine struct{ Lead, Text string }

type htmlPage struct {
	Name, Note, Speed, Limit, LimitWords, Air, Measured string
	Word, Check                                         string // earth or ground; the heading of the check of it
	Files                                               [2]string
	Verdict                                             []htmlLine
	Charge, Field, Volt                                 fillpage.HTML
	Stations                                            []htmlRow
	Readings                                            []htmlReading
	Changes                                             []htmlChange
	Ground                                              []htmlGround
	Unused                                              []string
	Notices                                             []htmlNotice
	Leads                                               []htmlLead
	Decisions                                           []htmlDecision // one or none
	Years                                               []Year
}

type htmlLead struct{ Name, Chance string }

type htmlNotice struct{ Condition, Figure, Consult, Decide string }

// leads parts the lines of a verdict into what they are about and what they say.
func leads(lines []string) (out []htmlLine) {
	for _, s := range lines {
		lead, text, ok := strings.Cut(s, ": ")
		if !ok || len(lead) > 24 {
			lead, text = "", s
		}
		if text != "" && lead != "" {
			text = strings.ToUpper(text[:1]) + text[1:]
		}
		out = append(out, htmlLine{lead, text})
	}
	return out
}

func pageNotices(list []known.Notice) (out []htmlNotice) {
	for _, n := range list {
		out = append(out, htmlNotice{n.Condition, trueMinus(n.Figure), n.Consult, n.Decide})
	}
	return out
}

// HTML writes the report as one page that needs nothing else.
func (r *Report) HTML() ([]byte, error) { return r.HTMLWith(nil, nil) }

// HTMLWith writes the page with what was decided from it, nil without a plan, and with
// forecasts.
func (r *Report) HTMLWith(d *Decision, years []Year) ([]byte, error) {
	p := htmlPage{Name: r.desc.Name, Note: r.desc.Note, Speed: units.Display(r.in.Diagnosis.Speed, r.system, 3),
		Limit: signed(float64(r.in.Line.Limit())*1e6, 2), LimitWords: limitWords(r.desc.Limit.Kind), Files: r.in.Names,
		Unused: r.unused(), Measured: r.measured(), Word: r.ground(), Check: "Earth check"}
	if r.system == units.US {
		p.Check = "Ground check"
	}
	p.Air = trueMinus(units.Display(r.desc.Air.Temperature, r.system, 3) + ", " +
		units.Display(r.desc.Air.RelativeHumidity, r.system, 2) + ", dew point " +
		units.Display(r.in.Line.Air().DewPoint(), r.system, 2))
	p.Verdict = leads(r.verdict.Lines())
	for _, s := range r.rows {
		kv := float64(s.Field) / float64(units.KilovoltPerCentimetre)
		kin := float64(s.Field) / float64(units.KilovoltPerInch)
		p.Stations = append(p.Stations, htmlRow{s.Name, position(s.At, r.system), band(estimateBand(s.State.A), 1e6),
			band(estimateBand(s.State.B), 1e6),
			signed(kv, 2), signed(kin, 2), signed(s.Ratio, 2), ruled(s), strings.Join(s.Notices, ", "), s.Readable})
		for _, g := range s.Shown {
			h := htmlReading{Name: s.Name, Meter: g.label(), Predicted: g.predicted(), Read: g.read(), MidSpan: "–",
				Distance: "–", Remarks: strings.Join(g.Odd, "; ")}
			if g.Quantity == line.FieldMeter {
				h.MidSpan, h.Distance = kilo(g.Free)+" kV", nominal(g.Distance, r.system)
			}
			p.Readings = append(p.Readings, h)
		}
	}
	for _, c := range r.changes {
		p.Changes = append(p.Changes, htmlChange{c.Station, c.Face, band(estimateBand(c.Change.Found), 1e6), c.Told})
	}
	for _, g := range r.in.Diagnosis.Ground {
		h := htmlGround{Station: r.desc.Stations[g.Station].Name, Resistance: "–", Finding: "not measured"}
		if g.Measured {
			h.Resistance, h.Finding = g.Resistance.String(), "at most 1 MΩ"
			if g.Isolated {
				h.Finding = "not " + r.ground() + "ed: " + r.ground() + " it first"
			}
		}
		p.Ground = append(p.Ground, h)
	}
	p.Notices = pageNotices(r.verdict.Notices)
	for _, l := range r.in.Diagnosis.Leads {
		if l.Chance >= 0.01 {
			p.Leads = append(p.Leads, htmlLead{r.desc.Stations[l.Station].Name, Chance(l.Chance)})
		}
	}
	p.Decisions, p.Years = illustrate(d, years)
	figures, err := r.Figures()
	if err != nil {
		return nil, err
	}
	p.Charge, p.Field, p.Volt = fillpage.HTML(figures["charge"]), fillpage.HTML(figures["field meter"]),
		fillpage.HTML(figures["voltmeter"])
	return heldTogether(tmpl().Fill(p))
}

// heldTogether puts no-break spaces between a number and its per cent or degrees: a narrow column broke them apart.
func heldTogether(page []byte, err error) ([]byte, error) {
	for _, unit := range []string{"%", "°C", "°F"} {
		for digit := byte('0'); digit <= '9'; digit++ {
			page = bytes.ReplaceAll(page, []byte(string(digit)+" "+unit), []byte(string(digit)+"\u00a0"+unit))
		}
	}
	return page, err
}
