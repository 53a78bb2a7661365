package floor

import (
	"fmt"
	"math"
	"slices"

	"example.org/pithball/line/cure"
	"example.org/pithball/units"
)

// wanted is the request for a plan.
type wanted struct {
	files
	Aim struct {
		Speed string `json:"speed"` // empty: as now
		Faces bool   `json:"faces"` // single faces count as well
	} `json:"aim"`
}

// Planned is the plan in words.
type Planned struct {
	Faults  []Fault  `json:"faults"`
	Stop    string   `json:"stop"`   // why nothing but earthing is planned
	Before  string   `json:"before"` // chance over the limit if nothing is done
	After   string   `json:"after"`  // with what is planned
	Reached bool     `json:"reached"`
	Cures   []Step   `json:"cures"`
	Refused []Step   `json:"refused"`
	Fails   []Fail   `json:"fails"`   // the line with one ioniser off
	Fastest string   `json:"fastest"` // speed within the limit, empty if none was found
	Binds   string   `json:"binds"`   // the station that binds it; empty: the survey's range
	Test    string   `json:"test"`
	Why     string   `json:"why"` // of the test
	Prove   []Proves `json:"prove"`
	Pair    string   `json:"pair"` // what a driven pair must deliver, and where
}

// Step is one cure.
type Step struct {
	Step   string   `json:"step"`
	What   []string `json:"what"`
	Before string   `json:"before"`
	After  string   `json:"after"`
	Reason string   `json:"reason"`
	Raises []string `json:"raises"` // stations whose net it raises
	Chosen bool     `json:"chosen"` // it belongs to the fewest that come nearest to the aim
}

// Fail is the line with one ioniser off.
type Fail struct {
	Out     string `json:"out"`
	Worst   string `json:"worst"`  // the place with the greatest chance
	Chance  string `json:"chance"` // there
	Spare   bool   `json:"spare"`
	Changes string `json:"changes"` // where it changes most, if it is spare
}

// Proves is what the meter must show.
type Proves struct {
	Name   string `json:"name"`
	Speed  string `json:"speed"`
	Expect string `json:"expect"`
	Pass   string `json:"pass"`
}

// plan works the plan out. The library plans earthing alone until zone and flammables are answered.
func plan(q *wanted) (*Planned, error) {
	p := &Planned{Faults: []Fault{}}
	Fill(q.Line)
	m, fs := calibrated(&q.files)
	if p.Faults = append(p.Faults, fs...); len(fs) > 0 {
		return p, nil
	}
	aim := cure.Aim{Faces: q.Aim.Faces}
	var x *cure.Plan
	var err error
	aim.Speed, err = optional[units.Speed](q.Aim.Speed)
	if err == nil {
		x, err = m.Plan(aim)
	}
	if err != nil {
		p.Faults = faults("", err)
		return p, nil
	}
	p.write(x, q.system())
	return p, nil
}

func (p *Planned) write(x *cure.Plan, system units.System) {
	p.Stop, p.Before, p.After, p.Reached = x.Stop, percent(x.Before), percent(x.After), x.Reached
	step := func(c *cure.Cure) Step {
		s := Step{Step: c.Step.String(), Before: percent(c.Before), After: percent(c.After), Reason: c.Reason,
			Raises: c.Raises}
		for _, ch := range c.Changes {
			s.What = append(s.What, fmt.Sprint(ch))
		}
		return s
	}
	for i := range x.Cures {
		s := step(&x.Cures[i])
		s.Chosen = slices.Contains(x.Set, i)
		p.Cures = append(p.Cures, s)
	}
	for i := range x.Refused {
		p.Refused = append(p.Refused, step(&x.Refused[i]))
	}
	for _, r := range x.Fail.Rows {
		f := Fail{Out: r.Out, Spare: r.Spare, Changes: r.Moves}
		at := -1
		for i, o := range r.Over {
			if !math.IsNaN(o) && (at < 0 || o > r.Over[at]) {
				at = i
			}
		}
		if at >= 0 {
			f.Worst, f.Chance = x.Fail.Stations[at], percent(r.Over[at])
		}
		p.Fails = append(p.Fails, f)
	}
	if x.Fastest.Speed > 0 {
		p.Fastest, p.Binds = units.Display(x.Fastest.Speed, system, 2), x.Fastest.Station
	}
	p.Test, p.Why = x.Test.What, x.Test.Why
	for _, y := range x.Prove {
		p.Prove = append(p.Prove, Proves{y.Station, units.Display(y.Speed, system, 3),
			fmt.Sprintf("%s … %s kV", figure(y.Expect[0]/1e3), figure(y.Expect[2]/1e3)),
			fmt.Sprintf("%s kV", figure(float64(y.Pass)/1e3))})
	}
	if x.Pair != nil {
		p.Pair = fmt.Sprintf("%s: %s", x.Pair.Station, units.Display(x.Pair.PerFace, system, 2))
	}
}
