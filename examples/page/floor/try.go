package floor

import (
	"fmt"
	"math"
	"slices"

	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/survey"
	"example.org/pithball/units/known"
)

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
	Name      string `json:"name"`
	Net       string `json:"net"`       // now, µC/m²
	NetThen   string `json:"netThen"`   // with the changes
	Faces     string `json:"faces"`     // of A and of B, now
	FacesThen string `json:"facesThen"` // with the changes
	Show      string `json:"show"`      // on the display, mid-span
	Over      string `json:"over"`      // chance over the limit, now
	Then      string `json:"then"`
	Added     bool   `json:"added"`
}

// calibrated is the line as the readings left it known; without any reading of charge, as its description leaves it.
func calibrated(q *files) (*cure.Calibrated, []Fault) {
	d, l, fs := lineOf(q)
	if fs != nil {
		return nil, fs
	}
	var s *survey.Survey
	var g *survey.Diagnosis
	if q.charged() {
		if s, g, fs = surveyOf(q, l); fs != nil {
			return nil, fs
		}
	}
	site, err := q.site(s, d)
	var m *cure.Calibrated
	if err == nil && g != nil {
		m, err = cure.Calibrate(g, site)
	} else if err == nil {
		m, err = cure.Assume(l, site)
	}
	if err != nil {
		return nil, faults("", err)
	}
	return m, nil
}

// charged reports whether a reading tells of the charge of the web.
func (q *files) charged() bool {
	return slices.ContainsFunc(q.Rows, func(r Row) bool {
		return r["quantity"] == line.FieldMeter.String() || r["quantity"] == line.OverRoller.String()
	})
}

// try predicts the line with the changes. Until the question of zone and flammables is answered, it refuses every
// change but earthing.
func try(q *files) (*Tried, error) {
	t := &Tried{Faults: []Fault{}, Stations: []Before{}, Side: []string{}, Names: []string{}, Notices: []known.Notice{}}
	Fill(q.Line)
	m, fs := calibrated(q)
	if fs != nil {
		t.Faults = fs
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
		x := Before{Name: s.Name, NetThen: span(s.Net), Then: percent(s.Over), Added: now[s.Name] == nil,
			FacesThen: "A " + span(s.A) + ", B " + span(s.B)}
		if !math.IsNaN(s.Display[1]) {
			x.Show = fmt.Sprintf("%s (%s … %s) kV", figure(s.Display[1]/1e3), figure(s.Display[0]/1e3), figure(s.Display[2]/1e3))
		}
		if o := now[s.Name]; o != nil {
			x.Net, x.Over, x.Faces = span(o.Net), percent(o.Over), "A "+span(o.A)+", B "+span(o.B)
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
