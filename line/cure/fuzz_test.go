package cure_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// choices turns bytes into choices; when they are used up, the first of each.
type choices []byte

func (c *choices) of(n int) int {
	if len(*c) == 0 {
		return 0
	}
	b := int((*c)[0])
	*c = (*c)[1:]
	return b % n
}

func pick[T any](c *choices, list ...T) T { return list[c.of(len(list))] }

// drawn is a line of up to 14 stations, with values inside and at the ends of their ranges. The web and the meters are
// those of the demonstration.
func drawn(t testing.TB, c *choices) *line.Description {
	b, err := os.ReadFile("../../examples/survey/demo/line.json")
	if err != nil {
		t.Fatal(err)
	}
	d, err := line.ReadDescription(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	d.Speed = pick(c, 3, units.Speed(0.05), 20)
	d.Wish = 0
	d.Web.Thickness = pick(c, 20*units.Micrometre, 2*units.Micrometre, 2*units.Millimetre)
	change := func(faces ...line.Face) (list []line.ChangeSpec) {
		for _, f := range faces {
			list = append(list, line.ChangeSpec{Face: f, Median: pick(c, 0, units.SurfaceChargeDensity(5e-6), -2e-5),
				Spread: pick(c, units.SurfaceChargeDensity(5e-6), 1e-12, 1e-3), Exposure: pick(c, 0, units.Ratio(1e-3), 50),
				Speed: pick(c, known.Band{Value: 0.5, Spread: 0.3, Kind: known.Normal}, known.Band{})})
		}
		return list
	}
	d.Stations = []line.StationSpec{{Name: "unwind", Kind: line.Unwind, Change: change(line.FaceA, line.FaceB)}}
	var ionisers []string
	at := units.Length(0)
	for i := range 1 + c.of(12) {
		at += pick(c, 0.5, units.Length(0.05), 5)
		s := line.StationSpec{Name: fmt.Sprint("s", i), At: at}
		switch c.of(4) {
		case 0:
			s.Kind, s.Gap = line.Place, pick(c, 0.25, units.Length(0.05), 2)
			if len(ionisers) > 0 && c.of(2) == 1 {
				s.Off = ionisers[len(ionisers)-1:]
			}
		case 1:
			s.Kind, s.Roller, s.Change = line.Roller, &line.RollerSpec{Radius: 0.05, Kind: line.BareMetal,
				Capacity: pick(c, 0, units.Capacitance(200e-12))}, change(pick(c, line.FaceA, line.FaceB))
		case 2:
			s.Kind, s.Roller = line.Nip, &line.RollerSpec{Radius: 0.06, Kind: line.BareMetal}
			s.Change = change(line.FaceA, line.FaceB)
		default:
			s.Kind, s.Gap, s.Ioniser = line.Ioniser, 0.3, &line.IonSpec{Face: line.FaceA, Distance: 0.025,
				Conductivity: pick(c, units.Conductivity(1.6e-9), 1e-8), Zone: 0.05,
				Supply: pick(c, units.LineCurrent(3e-4), 1e-6)}
			ionisers = append(ionisers, s.Name)
		}
		d.Stations = append(d.Stations, s)
	}
	d.Stations = append(d.Stations, line.StationSpec{Name: "winder", Kind: line.Winder, At: at + 1})
	return d
}

// read is a survey of the line's places, and of the earth of its rollers.
func read(c *choices, d *line.Description) string {
	columns := survey.Columns()
	var b strings.Builder
	b.WriteString(strings.Join(columns, ",") + "\n")
	row := func(set map[string]string) {
		var cells []string
		for _, k := range columns {
			v := set[k]
			switch k {
			case "schema version":
				v = survey.SurveySchema
			case "date and time":
				v = "2026-01-14 10:00"
			case "air temperature":
				v = "22 °C"
			case "air humidity":
				v = "15 %RH"
			case "repeat":
				v = "1"
			}
			cells = append(cells, v)
		}
		b.WriteString(strings.Join(cells, ",") + "\n")
	}
	for i := range d.Stations {
		s := &d.Stations[i]
		switch {
		case s.Kind == line.Place:
			for range c.of(4) {
				row(map[string]string{"station": s.Name, "quantity": "field meter", "face": "A", "distance": "25 mm",
					"line speed": pick(c, d.Speed.String(), "60 m/min"), "running or stopped": "running", "meter": "meter 1",
					"value": pick(c, "-1.2", "0", "3.5", "19.9", "-0.02"), "unit": "kV"})
			}
		case s.Roller != nil && c.of(2) == 1:
			row(map[string]string{"station": s.Name, "quantity": "resistance to ground", "line speed": "0 m/min",
				"running or stopped": "stopped", "value": pick(c, "0.6", "1e6", "5e9"), "unit": "Ω"})
		}
	}
	return b.String()
}

// FuzzWholeJob takes random legal descriptions and surveys through the whole job, from the texts to the plan: nothing
// panics, prints a NaN or takes a minute, every chance is one, and a fault names a field.
func FuzzWholeJob(f *testing.F) {
	seeds := byte(12)
	if testing.Short() {
		seeds = 2
	}
	for seed := range seeds {
		var b []byte
		x := uint32(seed)*2654435761 + 1
		for range 160 {
			x = x*1664525 + 1013904223
			b = append(b, byte(x>>24))
		}
		f.Add(b)
	}
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, in []byte) {
		ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
		defer cancel()
		if fault := wholeJob(ctx, t, in); fault != "" {
			t.Error(fault)
		}
	})
}

func wholeJob(ctx context.Context, t testing.TB, in []byte) string {
	c := choices(in)
	text, err := json.Marshal(drawn(t, &c))
	if err != nil {
		return err.Error()
	}
	d, err := line.ReadDescription(bytes.NewReader(text))
	if err != nil {
		return "the description is refused: " + err.Error()
	}
	l, err := line.New(d)
	if err != nil {
		return "no line: " + err.Error()
	}
	site := &cure.Site{Safety: upkeep.SafetyAnswers{Zone: upkeep.NoZone, Flammables: upkeep.NoFlammables,
		DecidedBy: "a test"}}
	rows := read(&c, d)
	s, err := survey.ReadSurvey(strings.NewReader(rows))
	var m *cure.Calibrated
	if err != nil {
		if strings.Count(rows, "\n") > 1 {
			return "the survey is refused: " + err.Error() + "\n" + rows
		}
		m, err = cure.Assume(l, site) // nothing was read
	} else {
		var g *survey.Diagnosis
		if g, err = survey.DiagnoseContext(ctx, l, s); err != nil {
			return "no diagnosis: " + err.Error()
		}
		v, err2 := g.Verdict()
		if err2 != nil {
			return "no verdict: " + err2.Error()
		}
		if lines := v.Lines(); len(lines) == 0 || len(lines) > 7 || odd(strings.Join(lines, "\n")) {
			return fmt.Sprintf("the verdict says %q", lines)
		}
		m, err = cure.Calibrate(g, site)
	}
	if err != nil {
		return "not calibrated: " + err.Error()
	}
	p, err := m.PlanContext(ctx, cure.Aim{})
	if err != nil {
		return "no plan: " + err.Error()
	}
	for _, x := range append([]cure.Cure{{Before: p.Before, After: p.After}}, p.Cures...) {
		if !(x.Before >= 0 && x.Before <= 1 && x.After >= 0 && x.After <= 1) || odd(x.String()) || odd(x.Reason) {
			return fmt.Sprintf("%q: from %v to %v, %s", x.String(), x.Before, x.After, x.Reason)
		}
		for _, s := range x.Prediction.Stations {
			for _, q := range []cure.Quantiles{s.A, s.B, s.Net} {
				if !(q[0] <= q[1] && q[1] <= q[2]) || math.IsInf(q[0], 0) || math.IsInf(q[2], 0) {
					return fmt.Sprintf("%q at %s: %v", x.String(), s.Name, q)
				}
			}
		}
	}
	return ""
}

func odd(s string) bool {
	return strings.Contains(s, "NaN") || strings.Contains(s, "Inf") || strings.Contains(s, "∞")
}
