package main

import (
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"text/tabwriter"

	"example.org/pithball/examples/survey/report"
	"example.org/pithball/internal/strictjson"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// siteFile holds the answers of the people who are responsible for a line.
type siteFile struct {
	Safety upkeep.SafetyAnswers `json:"safety"`
	Prices cure.Prices          `json:"prices,omitempty"`
	Leak   *cure.LeakLaw        `json:"leak,omitempty"`
	// that of the web, at which the humidity of the air counts.
	WebTemperature units.Temperature `json:"webTemperature,omitempty"`
	// what ionisers take besides: air, power, ozone, noise, price.
	Devices map[string]cure.Device `json:"devices,omitempty"`
}

// site reads the answers; without a file nothing is answered.
func (o *options) answered() (cure.Site, error) {
	var f siteFile
	if o.site != "" {
		check := func() error { s := cure.Site(f); return s.Check() }
		if _, err := o.files.json(o.site, "", &f, check); err != nil {
			return cure.Site{}, err
		}
	}
	return cure.Site(f), nil
}

// calibrated is the line as the survey left it known, or by its description alone.
func calibrated(o *options) (*cure.Calibrated, *line.Description, []known.Notice, error) {
	d, found, err := described(o)
	if err != nil {
		return nil, nil, nil, err
	}
	s, err := o.answered()
	if err != nil {
		return nil, nil, nil, err
	}
	hazards, err := upkeep.Hazards(d, s.Safety, found)
	if err != nil {
		return nil, nil, nil, wrong(o.line, "line.json", err)
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
	return m, d, report.Merged(hazards, o.system), wrong(o.line, "line.json", err)
}

// changesFile is a list of changes, each an object whose do names it.
type changesFile struct {
	Schema  string              `json:"schema"`
	Note    string              `json:"note,omitempty"`
	Changes []strictjson.Object `json:"changes"`
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

// goodsKinds makes an empty change of goods of each name.
var goodsKinds = map[string]func() any{
	"replace": func() any { return &cure.Replace{} }, "moisten": func() any { return &cure.Moisten{} },
	"warm": func() any { return &cure.Warm{} }, "nearer": func() any { return &cure.Nearer{} },
	"pace": func() any { return &cure.Pace{} },
}

const goodsKindNames = "replace, moisten, warm, nearer or pace"

const kindNames = "run, earth, switch, clean, blow, move, add, remove, cover, load, wrap, shield, moisten or warm"

// changesOf reads a list of changes of the kinds that a body can have and tries them. Of a list with changes that
// cannot be read, check tells what is wrong with the others; nil asks nothing.
func changesOf[C any](in files, path, demonstration string, kinds map[string]func() any, names string,
	try, check func([]C) error) (out []C, err error) {
	var f changesFile
	_, err = in.json(path, demonstration, &f, func() error {
		errs := []error{schema(f.Schema, "pithball changes 1")}
		bad := map[string]bool{} // the paths of changes that are told already
		for i := range f.Changes {
			x := &f.Changes[i]
			var change C // none: it may be any
			if build := kinds[x.Key("do")]; build == nil {
				errs = append(errs, x.Wrong("do", names))
			} else {
				v := build()
				if err := x.Decode(v, "do"); err != nil {
					errs, bad[fmt.Sprintf("changes[%d]", i)] = append(errs, err), true
				}
				change = reflect.ValueOf(v).Elem().Interface().(C) // the change behind the pointer
			}
			out = append(out, change)
		}
		if len(f.Changes) == 0 {
			errs = append(errs, known.Wrong("changes", "none", "one change or more"))
		}
		if err := errors.Join(errs...); err != nil {
			if check != nil { // which changes they are decides what may follow
				err = errors.Join(err, written.Fields(check(out), func(field string) string {
					at, rest, _ := strings.Cut(field, ".")
					if bad[at] && rest != "station" && rest != "air" {
						return "" // what could not be read is no figure
					}
					return field
				}))
			}
			return err
		}
		// What nobody answered of the site is no fault of the list.
		return written.Fields(try(out), func(field string) string {
			if strings.HasPrefix(field, "safety.") {
				return "-site: " + field
			}
			return field
		})
	})
	return out, err
}

// try tells what changes bring.
func try(o *options, stdout io.Writer) error {
	if g, err := goodsOf(o); err != nil {
		return err
	} else if g != nil {
		return goodsTry(o, g, stdout)
	}
	m, d, cautions, err := calibrated(o)
	if err != nil {
		return err
	}
	var then *cure.Calibrated
	list, err := changesOf(o.files, o.changes, "changes.json", kinds, kindNames, func(list []cure.Change) (err error) {
		then, err = m.Try(list...)
		return err
	}, nil)
	if err != nil {
		return err
	}
	now, p := m.Predict(), then.Predict()
	var words []string
	for _, c := range list {
		words = append(words, c.String())
	}
	if o.json {
		return encode(stdout, tryJSON(d, words, &now, &p, cautions))
	}
	var b strings.Builder
	title(&b, d.Name, d.Note)
	fmt.Fprintf(&b, "Tried: %s.\n", report.Wrap(strings.Join(words, "; "), 88, "  "))
	fmt.Fprintf(&b, "Any place over the limit: now %s, then %s; a single face left alone: %s, then %s.\n\n",
		report.Chance(now.AnyOver),
		report.Chance(p.AnyOver), report.Chance(now.AnyFace), report.Chance(p.AnyFace))
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
	laws(&b, p.Flags())
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "station\tnet now\tnet then, µC/m²\tover\tface A then\tface B then\tdisplay then")
	for i, s := range p.Stations {
		if s.Kind != line.Place && s.Kind != line.Winder {
			continue
		}
		net := "new"
		if k := stationOf(&now, s.Name); k >= 0 {
			net = report.Micro(now.Stations[k].Net)
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\n", p.Stations[i].Name, net, report.Micro(s.Net), report.Chance(s.Over),
			report.Micro(s.A), report.Micro(s.B), report.Volts(s.Display))
	}
	t.Flush()
	side(&b, &p.Side)
	notices(&b, cautions)
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

// laws says what the models behind a prediction are worth.
func laws(b *strings.Builder, flags []string) {
	if len(flags) > 0 {
		fmt.Fprintf(b, "The laws behind it: %s.\n\n", report.Wrap(strings.Join(flags, "; "), 88, "  "))
	}
}

func side(b *strings.Builder, s *cure.SideEffects) {
	var parts []string
	if s.Lost != 0 {
		parts = append(parts, fmt.Sprintf("output %+.0f %%", -100*float64(s.Lost)))
	}
	if s.Water > 0 {
		parts = append(parts, "water "+written.Figure(3600*float64(s.Water), 2)+" kg/h")
	}
	if s.Power != 0 {
		parts = append(parts, written.Figure(float64(s.Power)/1e3, 2)+" kW")
	}
	if s.Air != 0 {
		parts = append(parts, "compressed air "+written.Plus(written.Figure(60e3*float64(s.Air), 2))+" L/min")
	}
	if s.Ozone != 0 {
		parts = append(parts, "ozone "+written.Plus(written.Figure(1e6*float64(s.Ozone), 2))+" ppm in well-mixed air")
	}
	if s.Noise > 0 {
		parts = append(parts, fmt.Sprintf("noise %.0f dB(A) by what is added", s.Noise))
	}
	if s.Currency != "" && s.Once != 0 {
		parts = append(parts, fmt.Sprintf("%.0f %s once", s.Once, s.Currency))
	}
	if s.Currency != "" && s.PerYear != 0 {
		parts = append(parts, written.Figure(s.PerYear, 2)+" "+s.Currency+" a year")
	}
	parts = append(parts, s.Notices...)
	if len(parts) > 0 {
		text := strings.ReplaceAll(strings.Join(parts, "; "), " -", " −")
		fmt.Fprintf(b, "\nBesides: %s.\n", report.Wrap(text, 88, "  "))
	}
}

// decided plans for a web and works out the outlook of what was chosen.
func decided(o *options, m *cure.Calibrated) (*cure.Plan, *report.Decision, error) {
	a, err := o.aim()
	if err != nil {
		return nil, nil, err
	}
	p, d, err := report.Plan(o.progress.asking("planning"), m, a, o.system)
	return p, d, ofAim(err)
}

// aim is what a plan is to reach.
func (o *options) aim() (cure.Aim, error) {
	a := cure.Aim{Chance: o.chance, Faces: o.faces}
	if err := written.Under(known.InRange("chance", a.Chance, 1e-3, 0.5), "chance", "-chance"); o.aims && err != nil {
		return a, &inputError{err}
	}
	if o.speed != "" {
		v, err := flagged("-speed", o.speed, units.Speed(1e-4), units.Speed(100))
		if err != nil {
			return a, err
		}
		a.Speed = v
	}
	return a, nil
}

// ofAim names the flags in faults of an aim.
func ofAim(err error) error {
	var fe *known.FieldError
	if !errors.As(err, &fe) {
		return err
	}
	return &inputError{written.Under(err, "chance", "-chance", "speed", "-speed")}
}

// plan lists the cures in order.
func plan(o *options, stdout io.Writer) error {
	if g, err := goodsOf(o); err != nil {
		return err
	} else if g != nil {
		return goodsPlan(o, g, stdout)
	}
	m, d, cautions, err := calibrated(o)
	if err != nil {
		return err
	}
	p, words, err := decided(o, m)
	if err != nil {
		return err
	}
	if o.json {
		return encode(stdout, planJSON(d, p, cautions))
	}
	var b strings.Builder
	title(&b, d.Name, d.Note)
	laws(&b, p.Flags)
	words.Text(&b)
	notices(&b, cautions)
	_, err = io.WriteString(stdout, b.String())
	return err
}
