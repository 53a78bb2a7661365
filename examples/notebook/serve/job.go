package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/examples/registry"
	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func (s *server) call(ctx context.Context, q *request) (any, [][]float64, error) {
	switch q.Method {
	case "hello":
		return hello(q.Params), nil, nil
	case "entry":
		e, err := s.entry(q.Params)
		return e, nil, err
	case "compute":
		return s.column(ctx, q)
	case "decide":
		ctx, told := s.telling(ctx)
		defer told()
		res, err := decide(ctx, q.Params)
		return res, nil, err
	case "forecast":
		res, err := forecast(q.Params)
		return res, nil, err
	case "compare":
		res, err := compare(q.Params)
		return res, nil, err
	case "describe":
		res, err := describe(q.Params)
		return res, nil, err
	case "survey":
		var p surveyParams
		if err := readParams(q.Params, &p); err != nil {
			return nil, nil, err
		}
		ctx, told := s.telling(ctx)
		defer told()
		res, err := diagnose(ctx, &p)
		return res, nil, err
	}
	return nil, nil, errMethod
}

type (
	describeParams struct {
		Line  document `json:"line"`            // text of a description
		Speed string   `json:"speed,omitempty"` // with its unit; the description's own by default
	}
	surveyParams struct {
		Line   document `json:"line"`            // text of a description
		Survey document `json:"survey"`          // text of a survey
		Units  string   `json:"units,omitempty"` // metric, the default, or us
	}
)

func readLine(text document) (*line.Line, error) {
	d, err := line.ReadDescription(strings.NewReader(string(text)))
	if err != nil {
		return nil, err
	}
	return line.New(d)
}

// readBoth reads a line and its survey; what is wrong with either is told in one round.
func readBoth(description, readings document) (*line.Line, *survey.Survey, error) {
	d, form := line.ReadDescription(strings.NewReader(string(description)))
	s, rows := survey.ReadSurveyOf(strings.NewReader(string(readings)), d)
	l, err := (*line.Line)(nil), form
	if form == nil {
		l, err = line.New(d)
	}
	return l, s, errors.Join(inText("line", err), inText("survey", rows))
}

// inText puts the name of an argument, a text with lines of its own, before each of its faults.
func inText(name string, err error) error {
	if err == nil {
		return nil
	}
	if list, ok := err.(interface{ Unwrap() []error }); ok {
		var out []error
		for _, e := range list.Unwrap() {
			out = append(out, inText(name, e))
		}
		return errors.Join(out...)
	}
	return fmt.Errorf("%s: %w", name, err)
}

type described struct {
	Name     string         `json:"name"`
	Note     string         `json:"note,omitempty"`
	Speed    float64        `json:"speed_m_per_s"`
	Limit    float64        `json:"limit_C_per_m2"`
	Stations []runStation   `json:"stations"`
	Notices  []known.Notice `json:"notices"`
}

type runStation struct {
	Name  string           `json:"name"`
	Kind  line.StationKind `json:"kind"`
	At    float64          `json:"at_m"`
	A     number           `json:"faceA_C_per_m2"`
	B     number           `json:"faceB_C_per_m2"`
	Ruled string           `json:"ruled"`
	Flags string           `json:"validity"` // of the law that ruled, empty inside its range
}

// describe runs a described line as it stands, without any reading.
func describe(raw json.RawMessage) (any, error) {
	var p describeParams
	if err := readParams(raw, &p); err != nil {
		return nil, err
	}
	l, err := readLine(p.Line)
	if err != nil {
		return nil, err
	}
	d := l.Description()
	v := d.Speed
	if p.Speed != "" {
		if v, err = units.Parse[units.Speed](p.Speed); err != nil {
			return nil, known.Wrong("speed", p.Speed, err.Error())
		}
		if err := known.InRange("speed", v, 0, 100); err != nil {
			return nil, err
		}
	}
	res := make([]line.Result, l.Len())
	l.RunTo(res, v)
	out := described{Name: d.Name, Note: d.Note, Speed: float64(v), Limit: float64(l.Limit()),
		Notices: []known.Notice{hazard.NoticeNotApproval.Notice("")}}
	for i, r := range res {
		s := runStation{Name: d.Stations[i].Name, Kind: d.Stations[i].Kind, At: float64(d.Stations[i].At),
			A: number(r.A), B: number(r.B), Ruled: r.Ruled.String()}
		if r.Validity != known.Inside {
			s.Flags = r.Validity.String()
		}
		out.Stations = append(out.Stations, s)
	}
	return out, nil
}

// diagnose runs the main job on two texts.
func diagnose(ctx context.Context, p *surveyParams) (any, error) {
	in := &report.Input{Names: [2]string{"the line", "the survey"}}
	system, err := systemOf(p.Units)
	if err != nil {
		return nil, err
	}
	if in.Line, in.Survey, err = readBoth(p.Line, p.Survey); err != nil {
		return nil, err
	}
	if in.Diagnosis, err = survey.DiagnoseContext(ctx, in.Line, in.Survey); err != nil {
		return nil, err
	}
	r, err := report.New(in, system)
	if err != nil {
		return nil, err
	}
	v, err := in.Diagnosis.VerdictIn(system)
	if err != nil {
		return nil, err
	}
	var data, text bytes.Buffer
	if err := r.JSON(&data); err != nil {
		return nil, err
	}
	if err := r.Text(&text); err != nil {
		return nil, err
	}
	html, err := r.HTML()
	if err != nil {
		return nil, err
	}
	figures, err := r.Figures()
	if err != nil {
		return nil, err
	}
	return map[string]any{"lines": v.Lines(), "notices": v.Notices, "report": json.RawMessage(data.Bytes()),
		"text": text.String(), "html": string(html), "figures": figures}, nil
}

// hello tells what there is: every entry, or only the names of them, which is a twentieth of that.
func hello(params json.RawMessage) any {
	var p struct {
		Names bool `json:"names"`
	}
	if err := json.Unmarshal(params, &p); err != nil {
		p.Names = false // whoever asks for nothing gets all
	}
	notices := map[string]known.Notice{}
	for _, id := range hazard.Notices() {
		notices[id.Code()] = id.Notice("")
	}
	res := map[string]any{"version": version, "constants": units.CODATA, "notices": notices}
	if p.Names {
		res["computations"] = registry.Names()
	} else {
		res["computations"] = registry.All()
	}
	return res
}

// entry is one of the entries of hello.
func (s *server) entry(params json.RawMessage) (any, error) {
	var p struct {
		Name string `json:"name"`
	}
	if err := readParams(params, &p); err != nil {
		return nil, err
	}
	if e := s.find(p.Name); e != nil {
		return e, nil
	}
	return nil, known.Wrong("name", p.Name, "the name of a computation that hello lists")
}
