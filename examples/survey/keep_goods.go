package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// goodsCareFile is what is known of nozzles and stops from earlier.
type goodsCareFile struct {
	Schema  string `json:"schema"`
	Outputs []struct {
		Station string          `json:"station"`         // an ioniser
		Age     []units.Time    `json:"age"`             // since it was cleaned, two or more
		Current []units.Current `json:"current"`         // to a plate in the place of the body then
		Error   units.Ratio     `json:"error,omitempty"` // of one current; left out: 5 %
	} `json:"outputs,omitempty"`
	History []struct {
		Station string                 `json:"station"`          // a stop
		Pails   []units.Charge         `json:"pails,omitempty"`  // of parts or doses in a state that was good, four or more
		Values  []units.DisplayVoltage `json:"values,omitempty"` // displays of sheets in such a state
	} `json:"history,omitempty"`
}

func (f *goodsCareFile) fill(c *cure.GoodsCare) error {
	for _, x := range f.Outputs {
		c.Outputs = append(c.Outputs, cure.NozzleOutput{Station: x.Station, Age: x.Age, Current: x.Current, Error: x.Error})
	}
	for _, x := range f.History {
		c.History = append(c.History, cure.GoodsHistory{Station: x.Station, Pails: x.Pails, Values: x.Values})
	}
	return schema(f.Schema, "pithball goods care 1")
}

// goodsCare reads what is known of nozzles and stops.
func (o *options) goodsCare() (c cure.GoodsCare, care document, err error) {
	if o.care != "" {
		var file goodsCareFile
		care, err = o.files.json(o.care, "", &file, func() error { return file.fill(&c) })
	}
	return c, care, err
}

// goodsKeep tells what has to be checked of goods from now on, by whom and when.
func goodsKeep(o *options, in *report.GoodsInput, stdout io.Writer) error {
	if o.meter != "" {
		return &inputError{fmt.Errorf("-meter: not for goods that are no web: their readings say how the meter shows")}
	}
	c, care, err := o.goodsCare()
	if err != nil {
		return err
	}
	if o.season != "" {
		years, _, err := yearsOf(o.files, o.season)
		if err != nil {
			return err
		}
		c.Year = &years[0].Year
	}
	k, err := in.Route.Keep(c)
	if err != nil {
		return care.told(err)
	}
	if o.json {
		return encode(stdout, goodsKeepJSON(in, k))
	}
	var b strings.Builder
	title(&b, in.Goods.Name, in.Goods.Note)
	if len(k.Watches) > 0 {
		b.WriteString("What is read: limit, and what the mean of four must stay below\n\n")
		t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
		fmt.Fprintln(t, "behind\tby\tlimit\taction\tcontrol limits\tremark")
		for i := range k.Watches {
			w := &k.Watches[i]
			scale, unit, by := 1e-3, "kV", fmt.Sprintf("meter %v off", w.Distance)
			if in.Goods.Kind == cure.ProfileBody {
				by = fmt.Sprintf("meter %v from the axis", w.Distance)
			}
			if w.Pail {
				scale, unit, by = 1e9, "nC", "pail"
			}
			if w.Unused != "" {
				fmt.Fprintf(t, "%s\t–\t–\t–\t–\t%s\n", w.Station, w.Unused)
				continue
			}
			figure := func(x float64) string { return report.Figure(x*scale, 2) }
			control, action, remark := "–", figure(w.Action)+" "+unit, ""
			if w.Control[0] != w.Control[1] {
				control = figure(w.Control[0]) + " … " + figure(w.Control[1]) + " " + unit
			}
			if w.Action == 0 {
				action, remark = "–", "readings that scatter like these cannot show it"
			}
			fmt.Fprintf(t, "%s\t%s\t%s %s\t%s\t%s\t%s\n", w.Station, by, figure(w.Limit), unit, action, control, remark)
		}
		t.Flush()
		b.WriteString("\n")
	}
	tasks(&b, k.Tasks, k.Triggers, k.Notices)
	_, err = io.WriteString(stdout, b.String())
	return err
}

// tasks writes who does what when, and after what all is read anew.
func tasks(b *strings.Builder, list []upkeep.Task, triggers []string, cautions []known.Notice) {
	b.WriteString("Who does what when\n")
	for _, x := range list {
		fmt.Fprintf(b, "- %s\n", report.Wrap(x.What+" – "+x.Who+"; "+x.When, 92, "  "))
		if x.Limit != "" {
			fmt.Fprintf(b, "  %s\n", report.Wrap("must be: "+x.Limit, 92, "  "))
		}
	}
	b.WriteString("\nA new survey before the next shift after\n")
	for _, x := range triggers {
		fmt.Fprintf(b, "- %s\n", x)
	}
	notices(b, cautions)
}

func goodsKeepJSON(in *report.GoodsInput, k *cure.GoodsUpkeep) any {
	type watch struct {
		Station string     `json:"station"`
		By      string     `json:"by,omitempty"`
		Unit    string     `json:"unit,omitempty"`
		Limit   float64    `json:"limit"`
		Action  float64    `json:"action"`
		Control [2]float64 `json:"control"`
		Unused  string     `json:"unused,omitempty"`
	}
	type cleaning struct {
		Station string   `json:"station"`
		Needed  float64  `json:"needed_A"`
		Every   *float64 `json:"every_s"`
		Median  *float64 `json:"median_s"`
	}
	type floor struct {
		Air      string  `json:"air"`
		Humidity float64 `json:"relative_humidity"`
		DewPoint float64 `json:"dew_point_K"`
	}
	j := struct {
		Schema   string         `json:"schema"`
		Line     string         `json:"line"`
		Note     string         `json:"note,omitempty"`
		Watches  []watch        `json:"watches"`
		Cleaning []cleaning     `json:"cleaning"`
		Floors   []floor        `json:"air_floors"`
		Tasks    []upkeep.Task  `json:"tasks"`
		Triggers []string       `json:"triggers"`
		Notices  []known.Notice `json:"notices"`
	}{Schema: "pithball goods upkeep 1", Line: in.Goods.Name, Note: in.Goods.Note, Watches: []watch{},
		Cleaning: []cleaning{}, Floors: []floor{}, Tasks: k.Tasks, Triggers: k.Triggers, Notices: k.Notices}
	for i := range k.Watches {
		w := &k.Watches[i]
		x := watch{Station: w.Station, Limit: w.Limit, Action: w.Action, Control: w.Control, Unused: w.Unused}
		switch {
		case w.Pail:
			x.By, x.Unit = "pail", "C"
		case w.Distance > 0:
			x.By, x.Unit = "field meter", "V"
		}
		j.Watches = append(j.Watches, x)
	}
	for _, c := range k.Cleaning {
		j.Cleaning = append(j.Cleaning, cleaning{c.Station, float64(c.Needed), endingAfter(c.Every), endingAfter(c.Median)})
	}
	for _, f := range k.Floors {
		j.Floors = append(j.Floors, floor{f.Air, float64(f.Humidity), float64(f.DewPoint)})
	}
	return j
}
