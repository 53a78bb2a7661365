package floor

import (
	"fmt"
	"math"

	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// change is one thing to try, as the page asks for it.
type change struct {
	Do      string `json:"do"`      // earth, run, switch on, switch off, clean, move, remove
	Station string `json:"station"` // all but run
	Speed   string `json:"speed"`   // run
	To      string `json:"to"`      // move: along the web
	Gap     string `json:"gap"`     // move: to metal behind the web
	Face    string `json:"face"`    // move: that it meets; empty: as now
}

// Tried is the line as it is and as it would be.
type Tried struct {
	Faults   []Fault        `json:"faults"`
	Stations []Before       `json:"stations"`
	Now      string         `json:"now"`               // chance that any place is over the limit
	Then     string         `json:"then"`              // with the changes
	Side     []string       `json:"side"`              // what else follows
	Far      bool           `json:"far"`               // beyond what was surveyed
	Guessed  []string       `json:"guessed,omitempty"` // stations whose figures are estimates
	Notices  []known.Notice `json:"notices"`
	Names    []string       `json:"names"` // of the changes, in words
}

// Before is one station before and after.
type Before struct {
	Name    string `json:"name"`
	Net     string `json:"net"`     // now, µC/m²
	NetThen string `json:"netThen"` // with the changes
	Show    string `json:"show"`    // on the display, mid-span
	Over    string `json:"over"`    // chance over the limit, now
	Then    string `json:"then"`
	Added   bool   `json:"added"`
}

// of turns a request into a change of the library; what a person typed is named in the fault.
func (c *change) of() (cure.Change, error) {
	switch c.Do {
	case "earth":
		return cure.Earth{Station: c.Station}, nil
	case "run":
		v, err := units.Parse[units.Speed](c.Speed)
		return cure.Run{Speed: v}, err
	case "switch on", "switch off":
		return cure.Switch{Station: c.Station, On: c.Do == "switch on"}, nil
	case "clean":
		return cure.Clean{Station: c.Station}, nil
	case "remove":
		return cure.Remove{Station: c.Station}, nil
	case "move":
		m := cure.Move{Station: c.Station}
		var err error
		if m.To, err = optional[units.Length](c.To); err != nil {
			return nil, err
		}
		if m.Gap, err = optional[units.Length](c.Gap); err != nil {
			return nil, err
		}
		if c.Face != "" {
			err = m.Face.UnmarshalText([]byte(c.Face))
		}
		return m, err
	}
	return nil, known.Wrong("change", c.Do, "earth, run, switch on, switch off, clean, move or remove")
}

func optional[T units.Quantity](s string) (v T, err error) {
	if s == "" {
		return v, nil
	}
	return units.Parse[T](s)
}

// try predicts the line with the changes. Until the question of zone and flammables is answered, it refuses every
// change but earthing.
func try(q *files) (*Tried, error) {
	t := &Tried{Faults: []Fault{}, Stations: []Before{}, Side: []string{}, Names: []string{}, Notices: []known.Notice{}}
	Fill(q.Line)
	_, l, fs := lineOf(q)
	var g *survey.Diagnosis
	if fs == nil {
		_, g, fs = surveyOf(q, l)
	}
	if fs != nil {
		t.Faults = fs
		return t, nil
	}
	m, err := cure.Calibrate(g, &cure.Site{Safety: q.Safety})
	if err != nil {
		t.Faults = faults("", err)
		return t, nil
	}
	var list []cure.Change
	for i := range q.Changes {
		c, err := q.Changes[i].of()
		if err == nil && q.Safety.Open() != "" && c.Step() != cure.Earthing {
			err = fmt.Errorf("%s: not before it is answered whether anything may burn here (%s)", c, q.Safety.Open())
		}
		if err != nil {
			t.Faults = append(t.Faults, faults("change", err)...)
			continue
		}
		list = append(list, c)
		t.Names = append(t.Names, fmt.Sprint(c))
	}
	after, err := m.Try(list...)
	if err != nil {
		t.Faults = append(t.Faults, faults("change", err)...)
	}
	if len(t.Faults) > 0 {
		return t, nil
	}
	t.compare(m.Predict(), after.Predict())
	return t, nil
}

func (t *Tried) compare(a, b cure.Prediction) {
	now := map[string]*cure.StationPrediction{}
	for i := range a.Stations {
		now[a.Stations[i].Name] = &a.Stations[i]
	}
	for i := range b.Stations {
		s := &b.Stations[i]
		if s.Kind != line.Place && s.Kind != line.Winder {
			continue
		}
		x := Before{Name: s.Name, NetThen: span(s.Net), Then: percent(s.Over), Added: now[s.Name] == nil}
		if !math.IsNaN(s.Display[1]) {
			x.Show = fmt.Sprintf("%s (%s … %s) kV", figure(s.Display[1]/1e3), figure(s.Display[0]/1e3), figure(s.Display[2]/1e3))
		}
		if o := now[s.Name]; o != nil {
			x.Net, x.Over = span(o.Net), percent(o.Over)
		}
		t.Stations = append(t.Stations, x)
	}
	t.Guessed = b.Estimates
	t.Now, t.Then, t.Far, t.Notices = percent(a.AnyOver), percent(b.AnyOver), b.Extrapolated, b.Notices
	t.Side = append(t.Side, b.Side.Notices...)
	if lost := float64(b.Side.Lost); lost != 0 {
		word := "lost"
		if lost < 0 {
			word = "gained"
		}
		t.Side = append(t.Side, fmt.Sprintf("%s %% of the output %s", figure(math.Abs(lost)*100), word))
	}
}

func span(q cure.Quantiles) string {
	return fmt.Sprintf("%s (%s … %s)", figure(q[1]*1e6), figure(q[0]*1e6), figure(q[2]*1e6))
}

// percent never says that something cannot or must happen.
func percent(p float64) string {
	switch {
	case math.IsNaN(p):
		return "–"
	case p < 0.01:
		return "below 1 %"
	case p > 0.99:
		return "above 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}
