package floor

import (
	"example.org/pithball/examples/survey/report"
)

// Written is the report of the program survey: one page of HTML that needs nothing else.
type Written struct {
	Faults []Fault `json:"faults"`
	HTML   string  `json:"html"`
}

func written(q *files) (*Written, error) {
	w := &Written{Faults: []Fault{}}
	Fill(q.Line)
	_, l, fs := lineOf(q)
	if fs != nil {
		w.Faults = fs
		return w, nil
	}
	s, g, fs := surveyOf(q, l)
	if fs != nil {
		w.Faults = fs
		return w, nil
	}
	r, err := report.New(&report.Input{Line: l, Survey: s, Diagnosis: g, Names: q.Names}, q.system())
	if err != nil {
		return nil, err
	}
	b, err := r.HTML()
	w.HTML = string(b)
	return w, err
}
