package floor

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Answer is what the page shows of a survey.
type Answer struct {
	Faults  []Fault         `json:"faults"`
	Assumed []string        `json:"assumed"` // by Fill
	Verdict *survey.Verdict `json:"verdict"` // nil while something is at fault or nothing was read
	Outcome string          `json:"outcome"`
	Stands  []Stands        `json:"stands"` // one a station
	Shown   []Shown         `json:"shown"`  // one a reading
	Ground  []Ground        `json:"ground"`
}

// Resulted is the program's JSON, made when it is asked for: the verdict does not wait for it.
type Resulted struct {
	Faults []Fault `json:"faults"`
	Result string  `json:"result"`
}

// Stands is what is known of one station.
type Stands struct {
	Name string `json:"name"`
	A    string `json:"a"`   // charge of face A, µC/m²
	B    string `json:"b"`   // of face B
	Net  string `json:"net"` // of both
	Over bool   `json:"over"`
}

// Shown is one reading beside what was expected of it.
type Shown struct {
	Expected string `json:"expected"` // empty where nothing was
	Remark   string `json:"remark"`
	Used     bool   `json:"used"`
}

// Ground is one conductor of the ground check.
type Ground struct {
	Name     string `json:"name"`
	Measured bool   `json:"measured"`
	Isolated bool   `json:"isolated"`
}

func (q *files) system() units.System {
	if q.Units == "us" {
		return units.US
	}
	return units.Metric
}

// caution is a notice that the page shows where the act is, before any reading.
func caution(id hazard.NoticeID) known.Notice { return id.Notice("") }

func answer(q *files) (*Answer, error) {
	a := &Answer{Faults: []Fault{}, Assumed: Fill(q.Line), Stands: []Stands{}, Shown: []Shown{}, Ground: []Ground{}}
	d, l, fs := lineOf(q)
	if fs != nil {
		a.Faults = fs
		return a, nil
	}
	for _, s := range d.Stations {
		if s.Roller != nil && s.Roller.Kind == line.BareMetal {
			a.Ground = append(a.Ground, Ground{Name: s.Name})
		}
	}
	if len(q.Rows) == 0 {
		return a, nil
	}
	s, g, fs := surveyOf(q, l)
	if fs != nil {
		a.Faults = fs
		return a, nil
	}
	v, err := g.VerdictIn(q.system())
	if err != nil {
		return nil, err
	}
	a.Verdict, a.Outcome = &v, g.Answer.Kind.String()
	for i, st := range g.States {
		a.Stands = append(a.Stands, Stands{d.Stations[i].Name, estimate(st.A), estimate(st.B), estimate(st.Net),
			math.Abs(st.Net.Value) > float64(l.Limit())})
	}
	for i, f := range g.Fits {
		a.Shown = append(a.Shown, shown(&s.Readings[i], &f))
	}
	a.Ground = a.Ground[:0]
	for _, x := range g.Ground {
		a.Ground = append(a.Ground, Ground{d.Stations[x.Station].Name, x.Measured, x.Isolated})
	}
	return a, nil
}

// result is what the program survey writes as JSON.
func result(q *files) (*Resulted, error) {
	r := &Resulted{Faults: []Fault{}}
	Fill(q.Line)
	_, l, fs := lineOf(q)
	if fs != nil {
		r.Faults = fs
		return r, nil
	}
	s, g, fs := surveyOf(q, l)
	if fs != nil {
		r.Faults = fs
		return r, nil
	}
	x, err := report.New(&report.Input{Line: l, Survey: s, Diagnosis: g, Names: q.Names}, q.system())
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := x.JSON(&b); err != nil {
		return nil, err
	}
	r.Result = b.String()
	return r, nil
}

// lineOf reads the line of a request, whose gaps are filled.
func lineOf(q *files) (*line.Description, *line.Line, []Fault) {
	text, err := LineFile(q.Line)
	if err != nil {
		return nil, nil, faults("line", err)
	}
	d, err := line.ReadDescription(bytes.NewReader(text))
	if err != nil {
		return nil, nil, faults("line", err)
	}
	l, err := line.New(d)
	if err != nil {
		return nil, nil, faults("line", err)
	}
	return d, l, nil
}

// surveyOf reads and diagnoses the readings of a request.
func surveyOf(q *files, l *line.Line) (*survey.Survey, *survey.Diagnosis, []Fault) {
	csv, err := SurveyFile(q.Rows)
	if err != nil {
		return nil, nil, faults("survey", err)
	}
	d := l.Description()
	s, err := survey.ReadSurveyOf(bytes.NewReader(csv), &d)
	if err != nil {
		return nil, nil, faults("survey", err)
	}
	g, err := survey.Diagnose(l, s)
	if err != nil {
		return nil, nil, faults("survey", err)
	}
	return s, g, nil
}

func shown(r *survey.Reading, f *survey.ReadingFit) Shown {
	s := Shown{Used: f.Used, Remark: strings.TrimPrefix(f.Why, "not used: ")}
	if f.Used {
		unit, scale := "kV", 1e-3
		if r.Quantity == line.OverRoller {
			unit, scale = "V", 1
		}
		s.Expected = fmt.Sprintf("%s … %s %s", figure(f.Band[0]*scale), figure(f.Band[2]*scale), unit)
	}
	if f.Used && f.Flaws != 0 {
		s.Remark = strings.Trim(s.Remark+"; "+f.Flaws.String(), "; ")
	}
	return s
}

// estimate writes "+14 (+12 … +16)" in µC/m².
func estimate(e survey.Estimate) string {
	return fmt.Sprintf("%s (%s … %s)", figure(e.Value*1e6), figure(e.Low*1e6), figure(e.High*1e6))
}

// figure writes two significant figures, no more than two decimals, with a true minus sign.
func figure(x float64) string {
	if math.IsNaN(x) {
		return "–"
	}
	decimals := 2
	for m := math.Abs(x); m >= 0.995 && decimals > 0; m /= 10 {
		decimals--
	}
	if m := math.Abs(x); m >= 99.5 {
		p := math.Pow(10, math.Floor(math.Log10(m))-1)
		x = math.Round(x/p) * p
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return "0"
	}
	return strings.Replace(s, "-", "−", 1)
}
