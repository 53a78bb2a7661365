package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"example.org/pithball/examples/survey/report"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
)

func encode(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// described reads the line alone, and its survey where one is named or nothing is.
func described(o *options) (*line.Description, *survey.Diagnosis, error) {
	if o.line == "" || o.survey != "" {
		p, err := load(o)
		if err != nil {
			return nil, nil, &inputError{err}
		}
		d := p.Line.Description()
		return &d, p.Diagnosis, nil
	}
	_, d, err := o.web()
	if err != nil {
		return nil, nil, &inputError{err}
	}
	return d, nil, nil
}

// dangers has the list of hazards of a web or of goods.
func dangers(o *options) (name, note string, list []upkeep.Hazard, err error) {
	if g, err := goodsOf(o); err != nil {
		return "", "", nil, err
	} else if g != nil {
		return g.Goods.Name, g.Goods.Note, g.Route.Hazards(), nil
	}
	d, found, err := described(o)
	if err != nil {
		return "", "", nil, err
	}
	site, err := o.answered()
	if err != nil {
		return "", "", nil, err
	}
	if list, err = upkeep.Hazards(d, site.Safety, found); err != nil {
		return "", "", nil, wrong(o.line, "line.json", err)
	}
	return d.Name, d.Note, list, nil
}

// hazards lists what is dangerous.
func hazards(o *options, stdout io.Writer) error {
	name, note, list, err := dangers(o)
	if err != nil {
		return err
	}
	if o.json {
		return encode(stdout, struct {
			Schema  string          `json:"schema"`
			Line    string          `json:"line"`
			Note    string          `json:"note,omitempty"`
			Hazards []upkeep.Hazard `json:"hazards"`
		}{"pithball hazards 1", name, note, list})
	}
	var b strings.Builder
	title(&b, name, note)
	b.WriteString("What to deal with, in this order. Computed figures approve nothing; no list is complete.\n")
	consult, editions := map[string]string{}, ""
	for _, h := range list {
		text := h.Notice.Figure
		if h.Open {
			text += " (open)"
		}
		if text == "" {
			text = "always"
		}
		fmt.Fprintf(&b, "\n%2d. %-20s %s\n", h.Rank, h.Notice.Code, report.Wrap(text, 72, "                         "))
		if consult[h.Notice.Code] != "" {
			continue
		}
		at := strings.LastIndex(h.Notice.Consult, " (editions as of ")
		consult[h.Notice.Code], editions = h.Notice.Consult[:at], h.Notice.Consult[at+2:len(h.Notice.Consult)-1]
		fmt.Fprintf(&b, "    %s\n    To decide: %s.\n    See %s.\n", report.Wrap(h.Notice.Condition+".", 92, "    "),
			report.Wrap(h.Notice.Decide, 81, "    "), report.Wrap(consult[h.Notice.Code], 88, "    "))
	}
	fmt.Fprintf(&b, "\nOf the rules: %s; a later one or the law of the place stands over them.\n", editions)
	_, err = io.WriteString(stdout, b.String())
	return err
}

func title(b *strings.Builder, name, note string) {
	fmt.Fprintf(b, "%s\n", name)
	if note != "" {
		fmt.Fprintf(b, "%s\n", report.Wrap(note, 96, ""))
	}
	b.WriteString("\n")
}

// keep tells who checks what when.
func keep(o *options, stdout io.Writer) error {
	if g, err := goodsOf(o); err != nil {
		return err
	} else if g != nil {
		return goodsKeep(o, g, stdout)
	}
	d, found, err := described(o)
	if err != nil {
		return err
	}
	l, err := line.New(d)
	if err != nil {
		return &inputError{err}
	}
	c, care, err := o.webCare(d)
	if err != nil {
		return err
	}
	c.Found = found
	if o.season != "" {
		years, _, err := yearsOf(o.files, o.season)
		if err != nil {
			return err
		}
		c.Year = &years[0].Year
	}
	k, err := upkeep.Keep(l, d.Speed, c)
	if err != nil {
		return ofKeep(care, err)
	}
	if o.json {
		return encode(stdout, keepJSON(d, &k))
	}
	var b strings.Builder
	title(&b, d.Name, d.Note)
	fmt.Fprintf(&b, "Displays of %s: limit, and what the mean of the spots must stay below\n\n", c.Meter)
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "place\tlimit\taction\tspots\tcontrol limits\tremark")
	for _, w := range k.Watches {
		if w.Unused != "" {
			fmt.Fprintf(t, "%s\t–\t–\t–\t–\t%s\n", w.Station, w.Unused)
			continue
		}
		control := "–"
		if w.Control[0] != w.Control[1] {
			control = kilo(float64(w.Control[0])) + " … " + kilo(float64(w.Control[1])) + " kV"
		}
		fmt.Fprintf(t, "%s\t%s kV\t%s kV\t%d\t%s\t\n", w.Station, kilo(float64(w.Limit)), kilo(float64(w.Action)),
			w.Readings, control)
	}
	t.Flush()
	b.WriteString("\n")
	tasks(&b, k.Tasks, k.Triggers, k.Notices)
	_, err = io.WriteString(stdout, b.String())
	return err
}

// webCare reads what is known of bars and places of a web; the meter is the first of the line unless one is named.
func (o *options) webCare(d *line.Description) (c upkeep.Care, care document, err error) {
	c.Meter = o.meter
	if o.care != "" {
		var file careFile
		care, err = o.files.json(o.care, "", &file, func() error { return file.fill(&c) })
	}
	for i := len(d.Meters) - 1; i >= 0 && o.meter == ""; i-- {
		if d.Meters[i].Kind == line.FieldMeterKind {
			c.Meter = d.Meters[i].Name
		}
	}
	return c, care, err
}

// ofKeep gives faults of upkeep the name of the flag and of the file.
func ofKeep(care document, err error) error {
	return care.told(written.Under(err, "meter", "-meter"))
}

func kilo(v float64) string { return report.Kilovolts(v) }

func celsius(t units.Temperature, s units.System) string {
	if s == units.US {
		return fmt.Sprintf("%.0f °F", (float64(t)-273.15)*1.8+32)
	}
	return strings.ReplaceAll(fmt.Sprintf("%.1f °C", float64(t)-273.15), "-", "−")
}
