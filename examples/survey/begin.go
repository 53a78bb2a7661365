package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/internal/strictjson"
	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/units"
)

// siteAnswers are those that stand in site.json and not among the eight.
var siteAnswers = []string{"flammables", "zone", "decidedBy", "gasGroup", "substance", "certified", "fines", "silo",
	"liner",
	"blownAir", "radioactive", "humidifier", "agents", "electronics", "safety", "prices"}

// pointed tells where an answer belongs that is none of the eight.
func pointed(err error) error {
	list := err
	var in *inputError
	if errors.As(err, &in) {
		list = in.err
	}
	for _, e := range flatten([]error{list}) {
		var at *strictjson.Error
		if errors.As(e, &at) && slices.Contains(siteAnswers, at.Path) {
			at.Err = errors.New("none of the eight answers: who is responsible for the place answers it in site.json, which " +
				"start -folder writes and -site reads")
		}
	}
	return err
}

// example is a file that another command takes, with invented figures to be replaced.
type example struct{ name, text, command string }

// examples are files for try, compare and forecast that fit the description.
func (s *started) examples() []example {
	change, air, leak, dwell := "", "", "", ""
	var season string
	switch d := s.description.(type) {
	case *line.Description:
		for i := range d.Stations {
			if r := d.Stations[i].Roller; r != nil && r.Kind == line.BareMetal {
				change = fmt.Sprintf(`{"do": "earth", "station": %q},`+"\n    ", d.Stations[i].Name)
				break
			}
		}
		v := text(cmp.Or(d.Wish, d.Speed), "m/min")
		change += fmt.Sprintf(`{"do": "run", "speed": %q}`, v)
		air = sideAir(d.Air.Temperature, d.Air.RelativeHumidity)
	case *cure.Goods:
		a := d.Airs[0]
		change = fmt.Sprintf(`{"do": "moisten", "air": %q, "to": "50 %%RH"}`, a.Name)
		if d.Rate > 0 {
			change = fmt.Sprintf(`{"do": "pace", "rate": "%.6g 1/h"}`, float64(d.Rate)*float64(units.Hour)/2)
		}
		air = sideAir(a.Temperature, a.RelativeHumidity)
		if l := d.Leak; l.Decades > 0 && d.Rate > 0 {
			damp := min(float64(l.At)+0.1, 0.9)
			then := float64(l.Time) * numeric.Pow(10, -l.Decades*100*(damp-float64(l.At)))
			leak = fmt.Sprintf(`"leak": {"points": [{"rh": "%.4g %%RH", "time": "%.4g s"}, {"rh": "%.4g %%RH", "time": "%.4g s"}],`+
				` "decades": %.4g}`, 100*float64(l.At), float64(l.Time), 100*damp, then, l.Spread)
			dwell = fmt.Sprintf(`"dwell": "%.4g s"`, 1/float64(d.Rate))
			season = seasonText(d, leak, dwell)
		}
	}
	days := `{
  "schema": "pithball days 1", "name": ` + quoted(s.name()) + `, "note": "Invented readings: replace them.",
  "before": {"label": "before", "readings": ["10 kV", "12 kV", "8 kV", "11 kV"], ` + air + `},
  "after": {"label": "after", "readings": ["3 kV", "4 kV", "2 kV", "3.5 kV"], ` + air + `},
  "spots": "25%"`
	if leak != "" {
		days += ",\n  " + leak + ", " + dwell
	}
	out := []example{{"changes.json", `{
  "schema": "pithball changes 1", "note": "A first list: replace it.",
  "changes": [
    ` + change + `
  ]
}
`, "try"}, {"days.json", days + "\n}\n", "compare"}}
	if season != "" {
		out = append(out, example{"season.json", season, "forecast"})
	}
	return out
}

func (s *started) name() string {
	if d, ok := s.description.(*line.Description); ok {
		return d.Name
	}
	return s.description.(*cure.Goods).Name
}

// quoted writes a name for a JSON file.
func quoted(name string) string {
	b, err := json.Marshal(name)
	if err != nil {
		return strconv.Quote(name)
	}
	return string(b)
}

func sideAir(t units.Temperature, rh units.RelativeHumidity) string {
	return fmt.Sprintf(`"temperature": %q, "relativeHumidity": %q`, text(t, "°C"), text(rh, "%RH"))
}

// seasonText is a hall and a year for sheets that leak: the board where they lie, or the last stop.
func seasonText(g *cure.Goods, leak, dwell string) string {
	if g.Kind != cure.SheetBody {
		return ""
	}
	at := g.Stations[len(g.Stations)-1].Name
	for i := range g.Stations {
		if g.Stations[i].Path != 0 {
			at = g.Stations[i].Name
			break
		}
	}
	r, err := cure.NewRoute(g, nil)
	if err != nil {
		return ""
	}
	limit := r.Limit()
	return fmt.Sprintf(`{
  "schema": "pithball season 1", "name": %s, "note": "Invented charge, hall and weather: replace them.",
  "stations": [
    {"station": %s, "charge": "%.3g µC/m²", "chargeSpread": "30%%", "limits": ["%.3g µC/m²"],
      %s, "temperature": %q,
      %s}
  ],
  "hall": {"temperature": %q, "volume": "3000 m³", "freshAir": "3000 m³/h"},
  "months": ["-3 °C", "-2 °C", "1 °C", "4 °C", "9 °C", "12 °C", "14 °C", "14 °C", "11 °C", "7 °C", "2 °C", "-1 °C"],
  "within": "4 K"
}
`, quoted(g.Name), quoted(at), 1e6*math.Max(limit, 5e-6), 1e6*limit, dwell, text(g.Airs[0].Temperature, "°C"), leak,
		text(g.Airs[0].Temperature, "°C"))
}
