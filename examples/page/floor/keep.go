package floor

import (
	"fmt"

	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units/known"
)

// Kept is what holds a cure, and the hazards of the line before any other answer.
type Kept struct {
	Faults   []Fault         `json:"faults"`
	Hazards  []upkeep.Hazard `json:"hazards"`
	Watches  []Watch         `json:"watches"`
	Tasks    []upkeep.Task   `json:"tasks"`
	Triggers []string        `json:"triggers"`
	Notices  []known.Notice  `json:"notices"`
}

// Watch is what a display at a place must stay below.
type Watch struct {
	Name   string `json:"name"`
	Action string `json:"action"` // the mean of the spots
	Limit  string `json:"limit"`  // of one display
	Unused string `json:"unused"` // why the meter cannot watch it
}

func keep(q *files) (*Kept, error) {
	k := &Kept{Faults: []Fault{}, Watches: []Watch{}, Hazards: []upkeep.Hazard{}}
	Fill(q.Line)
	d, l, fs := lineOf(q)
	if fs != nil {
		k.Faults = fs
		return k, nil
	}
	var g *survey.Diagnosis
	if len(q.Rows) > 0 {
		if _, g, fs = surveyOf(q, l); fs != nil {
			k.Faults = fs
			return k, nil
		}
	}
	var err error
	if k.Hazards, err = upkeep.Hazards(d, q.Safety, g); err != nil {
		k.Faults = faults("", err)
		return k, nil
	}
	meter := ""
	for _, m := range d.Meters {
		if m.Kind == line.FieldMeterKind && meter == "" {
			meter = m.Name
		}
	}
	u, err := upkeep.Keep(l, d.Speed, upkeep.Care{Meter: meter, Found: g})
	if err != nil {
		k.Faults = faults("", err)
		return k, nil
	}
	for _, w := range u.Watches {
		k.Watches = append(k.Watches, Watch{w.Station, fmt.Sprintf("%s kV", figure(float64(w.Action)/1e3)),
			fmt.Sprintf("%s kV", figure(float64(w.Limit)/1e3)), w.Unused})
	}
	k.Tasks, k.Triggers, k.Notices = u.Tasks, u.Triggers, u.Notices
	return k, nil
}

// keepGoods is the same for goods that are no web: limits behind the stops that were read.
func keepGoods(q *goodsAsked) (*Kept, error) {
	k := &Kept{Faults: []Fault{}, Watches: []Watch{}, Hazards: []upkeep.Hazard{}}
	wrong := func(err error) (*Kept, error) {
		k.Faults = faults("goods", err)
		return k, nil
	}
	g, _, err := q.goods()
	if err != nil {
		return wrong(err)
	}
	r, err := cure.NewRoute(g, &cure.Site{Safety: q.Safety})
	if err != nil {
		return wrong(err)
	}
	k.Hazards = r.Hazards()
	u, err := r.Keep(cure.GoodsCare{})
	if err != nil {
		return wrong(err)
	}
	for i := range u.Watches {
		w := &u.Watches[i]
		shows := func(x float64) string {
			if x == 0 {
				return "–" // readings of that error cannot show it
			}
			if w.Pail {
				return figure(x*1e9) + " nC"
			}
			return figure(x/1e3) + " kV"
		}
		k.Watches = append(k.Watches, Watch{w.Station, shows(w.Action), shows(w.Limit), w.Unused})
	}
	k.Tasks, k.Triggers, k.Notices = u.Tasks, u.Triggers, u.Notices
	return k, nil
}
