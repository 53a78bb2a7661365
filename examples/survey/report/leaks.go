package report

import (
	"fmt"
	"strings"

	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// jsonLeak is a way to earth as the readings tell it, in the air of the stations first.
type jsonLeak struct {
	Station   string          `json:"station"`
	Described survey.Estimate `json:"described_s"`
	Airs      []jsonLeakAir   `json:"airs"`
	Assumed   bool            `json:"law_assumed,omitempty"` // how it follows the air: a judgement, the web was not tested
}

type jsonLeakAir struct {
	Humidity float64         `json:"relative_humidity_at_web"`
	Time     survey.Estimate `json:"time_s"`
}

// leaks says how fast the net charge leaks on each way to earth in each air that was read in.
func (r *Report) leaks() []string {
	var out []string
	shown := func(t float64) string { return units.Display(units.Time(t), r.system, 2) }
	for _, f := range r.in.Diagnosis.Leaks {
		s := &r.desc.Stations[f.Station]
		var airs []string
		for _, a := range f.Airs {
			airs = append(airs, fmt.Sprintf("%s (%s … %s) at %.0f %%RH", shown(a.Time.Value), shown(a.Time.Low),
				shown(a.Time.High), 100*float64(a.Humidity)))
		}
		out = append(out, fmt.Sprintf("%s%s: %s; described %s", s.Name, r.stretch(f.Station), strings.Join(airs, ", "),
			shown(f.Prior.Value)))
	}
	if len(out) > 0 && r.in.Diagnosis.Leaks[0].Assumed {
		fall, sd := r.desc.Web.LeakFall()
		out = append(out, fmt.Sprintf("how leaks follow the air is an estimate: nobody tested this web, a fall of %.2f "+
			"± %.2f decades per %%RH "+
			"is what such webs show", fall, sd))
	}
	if len(out) > 0 {
		first := &r.in.Diagnosis.Leaks[0]
		for i := range r.in.Diagnosis.Leaks { // that of the room, if there is one
			if f := &r.in.Diagnosis.Leaks[i]; r.stretch(f.Station) == "" {
				first = f
				break
			}
		}
		out = append(out, fmt.Sprintf("the charges above hold at %.0f %%RH%s", 100*float64(first.Airs[0].Humidity),
			r.stretch(first.Station)))
	}
	return out
}

// stretch says which temperature the web has behind a station that lies on a heated or cooled stretch.
func (r *Report) stretch(station int) string {
	t, own := r.desc.WebTemperature(station)
	if !own {
		return ""
	}
	return ", web at " + units.Display(t, r.system, 3)
}

func (r *Report) leakJSON() []jsonLeak {
	var out []jsonLeak
	for _, f := range r.in.Diagnosis.Leaks {
		l := jsonLeak{Station: r.desc.Stations[f.Station].Name, Described: f.Prior, Assumed: f.Assumed}
		for _, a := range f.Airs {
			l.Airs = append(l.Airs, jsonLeakAir{float64(a.Humidity), a.Time})
		}
		out = append(out, l)
	}
	return out
}
