package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"example.org/pithball/examples/survey/report"
	"example.org/pithball/internal/strictjson"
	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// siteFile holds the answers of the people who are responsible for a line.
type siteFile struct {
	Safety upkeep.Site   `json:"safety"`
	Prices cure.Prices   `json:"prices,omitempty"`
	Leak   *cure.LeakLaw `json:"leak,omitempty"`
	// Devices are what ionisers take besides: air, power, ozone, noise, price.
	Devices map[string]cure.Device `json:"devices,omitempty"`
}

// site reads the answers; without a file nothing is answered.
func (o *options) answered() (cure.Site, error) {
	var f siteFile
	if o.site != "" {
		if err := readJSON(o.site, "", &f); err != nil {
			return cure.Site{}, err
		}
	}
	return cure.Site(f), nil
}

// calibrated is the line as the survey left it known, or by its description alone.
func calibrated(o *options) (*cure.Calibrated, *line.Description, error) {
	d, found, err := described(o)
	if err != nil {
		return nil, nil, err
	}
	s, err := o.answered()
	if err != nil {
		return nil, nil, err
	}
	var m *cure.Calibrated
	if found != nil {
		m, err = cure.Calibrate(found, &s)
	} else {
		var l *line.Line
		if l, err = line.New(d); err == nil {
			m, err = cure.Assume(l, &s)
		}
	}
	return m, d, wrong(o.line+o.site, "line.json", err)
}

// changesFile is a list of changes, each an object whose do names it.
type changesFile struct {
	Schema  string            `json:"schema"`
	Note    string            `json:"note,omitempty"`
	Changes []json.RawMessage `json:"changes"`
}

// kinds makes an empty change of each name.
var kinds = map[string]func() any{
	"run": func() any { return &cure.Run{} }, "earth": func() any { return &cure.Earth{} },
	"switch": func() any { return &cure.Switch{} }, "clean": func() any { return &cure.Clean{} },
	"blow": func() any { return &cure.Blow{} }, "move": func() any { return &cure.Move{} },
	"add":    func() any { return &cure.Add{} },
	"remove": func() any { return &cure.Remove{} }, "cover": func() any { return &cure.Cover{} },
	"load": func() any { return &cure.Load{} }, "wrap": func() any { return &cure.Wrap{} },
	"shield": func() any { return &cure.Shield{} }, "moisten": func() any { return &cure.Moisten{} },
	"warm": func() any { return &cure.Warm{} },
}

const kindNames = "run, earth, switch, clean, blow, move, add, remove, cover, load, wrap, shield, moisten or warm"

// changes reads the list.
func changes(path string) ([]cure.Change, error) {
	var f changesFile
	b, name, err := readFile(path, "changes.json")
	if err != nil {
		return nil, err
	}
	d := json.NewDecoder(strings.NewReader(string(b)))
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		return nil, &inputError{fmt.Errorf("%s: %w", name, err)}
	}
	const schema = "pithball changes 1"
	if f.Schema != schema {
		return nil, wrong(path, "changes.json", known.Wrong("schema", f.Schema, `"`+schema+`"`))
	}
	var out []cure.Change
	for i, raw := range f.Changes {
		at := fmt.Sprintf("changes[%d]", i)
		var fields map[string]json.RawMessage
		if err := json.Unmarshal(raw, &fields); err != nil {
			return nil, &inputError{fmt.Errorf("%s: %s: %w", name, at, err)}
		}
		var do string
		if json.Unmarshal(fields["do"], &do) != nil {
			do = "" // a do that is no text is no name
		}
		build := kinds[do]
		if build == nil {
			return nil, wrong(path, "changes.json", known.Wrong(at+".do", do, kindNames))
		}
		delete(fields, "do")
		rest, err := json.Marshal(fields)
		if err != nil {
			return nil, err
		}
		v := build()
		if err := strictjson.Decode(rest, v); err != nil {
			return nil, &inputError{fmt.Errorf("%s: %s: %w", name, at, err)}
		}
		out = append(out, value(v))
	}
	if len(out) == 0 {
		return nil, wrong(path, "changes.json", known.Wrong("changes", "none", "one change or more"))
	}
	return out, nil
}

// value is the change behind a pointer.
func value(v any) cure.Change {
	switch c := v.(type) {
	case *cure.Run:
		return *c
	case *cure.Earth:
		return *c
	case *cure.Switch:
		return *c
	case *cure.Clean:
		return *c
	case *cure.Blow:
		return *c
	case *cure.Move:
		return *c
	case *cure.Add:
		return *c
	case *cure.Remove:
		return *c
	case *cure.Cover:
		return *c
	case *cure.Load:
		return *c
	case *cure.Wrap:
		return *c
	case *cure.Shield:
		return *c
	case *cure.Moisten:
		return *c
	case *cure.Warm:
		return *c
	}
	return nil
}

// try tells what changes bring.
func try(o *options, stdout io.Writer) error {
	m, d, err := calibrated(o)
	if err != nil {
		return err
	}
	list, err := changes(o.changes)
	if err != nil {
		return err
	}
	then, err := m.Try(list...)
	if err != nil {
		return wrong(o.changes, "changes.json", err)
	}
	now, p := m.Predict(), then.Predict()
	var words []string
	for _, c := range list {
		words = append(words, c.String())
	}
	if o.format == "json" {
		return encode(stdout, tryJSON(d, words, &now, &p))
	}
	var b strings.Builder
	title(&b, d.Name, d.Note)
	fmt.Fprintf(&b, "Tried: %s.\n", report.Wrap(strings.Join(words, "; "), 88, "  "))
	fmt.Fprintf(&b, "Any place over the limit: now %s, then %s; a single face left alone: %s, then %s.\n\n",
		chance(now.AnyOver),
		chance(p.AnyOver), chance(now.AnyFace), chance(p.AnyFace))
	if p.Extrapolated {
		b.WriteString("Beyond the surveyed speeds: computed from priors, to be read before it is believed.\n\n")
	}
	if p.Assumed {
		b.WriteString("No reading stands behind this: priors of the description only.\n\n")
	}
	if len(p.Estimates) > 0 {
		fmt.Fprintf(&b, "Estimates, by no law that was measured: what %s did, and what that leaves behind.\n\n",
			strings.Join(p.Estimates, ", "))
	}
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "station\tnet now\tnet then, µC/m²\tover\tface A then\tface B then\tdisplay then")
	for i, s := range p.Stations {
		if s.Kind != line.Place && s.Kind != line.Winder {
			continue
		}
		net := "new"
		if k := stationOf(&now, s.Name); k >= 0 {
			net = micro(now.Stations[k].Net)
		}
		display := "–"
		if !math.IsNaN(s.Display[1]) {
			display = kilo(s.Display[1]) + " kV (" + kilo(s.Display[0]) + " … " + kilo(s.Display[2]) + ")"
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\n", p.Stations[i].Name, net, micro(s.Net), chance(s.Over), micro(s.A),
			micro(s.B),
			display)
	}
	t.Flush()
	side(&b, &p.Side)
	notices(&b, p.Notices)
	_, err = io.WriteString(stdout, b.String())
	return err
}

func stationOf(p *cure.Prediction, name string) int {
	for i := range p.Stations {
		if p.Stations[i].Name == name {
			return i
		}
	}
	return -1
}

func micro(q cure.Quantiles) string {
	f := func(x float64) string {
		s := strings.ReplaceAll(fmt.Sprintf("%+.1f", 1e6*x), "-", "−")
		if s == "−0.0" || s == "+0.0" {
			return "0.0"
		}
		return s
	}
	return f(q[1]) + " (" + f(q[0]) + " … " + f(q[2]) + ")"
}

func chance(x float64) string {
	switch {
	case x < 0.01:
		return "under 1 %"
	case x > 0.99:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*x)
}

func side(b *strings.Builder, s *cure.SideEffects) {
	var parts []string
	if s.Lost != 0 {
		parts = append(parts, fmt.Sprintf("output %+.0f %%", -100*float64(s.Lost)))
	}
	if s.Water > 0 {
		parts = append(parts, fmt.Sprintf("water %.0f kg/h", 3600*float64(s.Water)))
	}
	if s.Power != 0 {
		parts = append(parts, fmt.Sprintf("%.0f kW", float64(s.Power)/1e3))
	}
	if s.Air != 0 {
		parts = append(parts, fmt.Sprintf("compressed air %+.0f L/min", 60e3*float64(s.Air)))
	}
	if s.Ozone != 0 {
		parts = append(parts, fmt.Sprintf("ozone %+.2g ppm in well-mixed air", 1e6*float64(s.Ozone)))
	}
	if s.Noise > 0 {
		parts = append(parts, fmt.Sprintf("noise %.0f dB(A) by what is added", s.Noise))
	}
	if s.Currency != "" && s.Once != 0 {
		parts = append(parts, fmt.Sprintf("%.0f %s once", s.Once, s.Currency))
	}
	if s.Currency != "" && s.PerYear != 0 {
		parts = append(parts, fmt.Sprintf("%.0f %s a year", s.PerYear, s.Currency))
	}
	parts = append(parts, s.Notices...)
	if len(parts) > 0 {
		fmt.Fprintf(b, "\nBesides: %s.\n", report.Wrap(strings.Join(parts, "; "), 88, "  "))
	}
}

// plan lists the cures in order.
func plan(o *options, stdout io.Writer) error {
	m, d, err := calibrated(o)
	if err != nil {
		return err
	}
	a := cure.Aim{Chance: o.chance, Faces: o.faces}
	if o.speed != "" {
		if a.Speed, err = units.Parse[units.Speed](o.speed); err != nil {
			return &inputError{fmt.Errorf("-speed: %w", err)}
		}
	}
	p, err := m.Plan(a)
	if err != nil {
		var fe *known.FieldError
		if errors.As(err, &fe) {
			return &inputError{err}
		}
		return err
	}
	if o.format == "json" {
		return encode(stdout, planJSON(d, p))
	}
	var b strings.Builder
	title(&b, d.Name, d.Note)
	if p.Stop != "" {
		fmt.Fprintf(&b, "STOP: %s. Until then only earthing and reading; answer it in a file for -site.\n\n", p.Stop)
	}
	planText(&b, p)
	_, err = io.WriteString(stdout, b.String())
	return err
}

func planText(b *strings.Builder, p *cure.Plan) {
	b.WriteString("Ground, before anything else:\n")
	for _, c := range p.Ground {
		text := "not measured, counts as isolated"
		switch {
		case c.Measured && c.Isolated:
			text = fmt.Sprintf("%s, ISOLATED: up to %s kV and %.1f mJ", figure(c.Resistance), kilo(float64(c.Voltage)),
				1e3*float64(c.Energy))
			if c.Every > 0 {
				text += fmt.Sprintf(", a spark every %.1f s", float64(c.Every))
			}
		case c.Measured:
			text = figure(c.Resistance) + ", earthed"
		}
		fmt.Fprintf(b, "- %s: %s\n", c.Station, text)
	}
	if p.Stop == "" {
		fmt.Fprintf(b, "\nAim: over the limit anywhere with at most %s at %.0f m/min. If nothing is done: %s.\n",
			chance(p.Aim.Chance),
			float64(p.Aim.Speed)/float64(units.MetrePerMinute), chance(p.Before))
	}
	b.WriteString("\nCures in their order, each alone:\n")
	for i, c := range p.Cures {
		mark := " "
		for _, k := range p.Set {
			if k == i {
				mark = "*"
			}
		}
		text := fmt.Sprintf("%s – %s, then %s", c.String(), chance(c.Before), chance(c.After))
		if at := places(&c); len(at) > 0 {
			text += "; raises the net at " + strings.Join(at, ", ")
		}
		if c.Reason != "" {
			text += "; " + c.Reason
		}
		fmt.Fprintf(b, "%s %2d. %s\n", mark, i+1, report.Wrap(text, 90, "      "))
	}
	if p.Stop != "" {
		return
	}
	for _, c := range p.Refused {
		fmt.Fprintf(b, "  no  %s\n", report.Wrap(strings.TrimSuffix(strings.TrimSpace(c.String()), ":")+" – "+c.Reason, 90,
			"      "))
	}
	switch {
	case p.Reached:
		fmt.Fprintf(b, "\nThe fewest that reach the aim are marked *: %s.\n", chance(p.After))
	case len(p.Set) > 0:
		fmt.Fprintf(b, "\nNothing offered reaches the aim; what comes nearest is marked *: %s.\n", chance(p.After))
	default:
		b.WriteString("\nNothing offered brings the line nearer to the aim.\n")
	}
	if p.Pair != nil {
		fmt.Fprintf(b, "A balanced layer goes at its source or by a driven pair of %.0f µA/m a face at %s, by no other "+
			"bar.\n",
			1e6*float64(p.Pair.PerFace), p.Pair.Station)
	}
	if p.Fastest.Speed > 0 {
		bound := p.Fastest.Station + " binds"
		if p.Fastest.Beyond {
			bound = "the range of the survey binds: read at a higher speed first"
		}
		fmt.Fprintf(b, "Greatest speed of that line: %.0f m/min; %s.\n",
			float64(p.Fastest.Speed)/float64(units.MetrePerMinute), bound)
	}
	if len(p.Fail.Rows) > 1 {
		b.WriteString("\nIf one ioniser fails: net in µC/m², chance over the limit\n\n")
		t := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
		fmt.Fprintf(t, "\t%s\n", strings.Join(p.Fail.Stations, "\t"))
		for _, r := range p.Fail.Rows {
			name := "all on"
			if r.Out != "" {
				name = r.Out + " out"
			}
			fmt.Fprint(t, name)
			for k := range r.Net {
				fmt.Fprintf(t, "\t%+.1f, %s", 1e6*r.Net[k][1], chance(r.Over[k]))
			}
			fmt.Fprintln(t)
		}
		t.Flush()
	}
	if p.Test.What != "" {
		fmt.Fprintf(b, "\nMeasure next: %s\n", report.Wrap(p.Test.What+" – "+p.Test.Why, 82, "  "))
	}
	if len(p.Prove) > 0 {
		b.WriteString("\nProof that it worked, on a dry day, both faces\n\n")
		t := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
		fmt.Fprintln(t, "place\tat\texpected\tpasses below")
		for _, x := range p.Prove {
			fmt.Fprintf(t, "%s\t%.0f m/min\t%s kV (%s … %s)\t%s kV either sign\n", x.Station,
				float64(x.Speed)/float64(units.MetrePerMinute),
				kilo(x.Expect[1]), kilo(x.Expect[0]), kilo(x.Expect[2]), kilo(float64(x.Pass)))
		}
		t.Flush()
	}
}

// places are the places and the winder among the stations whose net a cure raises.
func places(c *cure.Cure) (out []string) {
	for _, name := range c.Raises {
		i := stationOf(&c.Prediction, name)
		if i >= 0 && (c.Prediction.Stations[i].Kind == line.Place || c.Prediction.Stations[i].Kind == line.Winder) {
			out = append(out, name)
		}
	}
	return out
}

// figure writes a resistance with two figures.
func figure(r units.Resistance) string {
	x, err := strconv.ParseFloat(strconv.FormatFloat(float64(r), 'e', 1, 64), 64)
	if err != nil {
		return r.String()
	}
	return units.Resistance(x).String()
}
