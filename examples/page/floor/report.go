package floor

import (
	"context"

	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/upkeep"
)

// Written is the report of the program survey, given the same answers about the site: one page of HTML that needs
// nothing else.
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
	in := &report.Input{Line: l, Survey: s, Diagnosis: g, Names: q.Names}
	if a := &q.Safety; a.DecidedBy != "" || a.Zone != upkeep.UnknownZone || a.Flammables != upkeep.UnknownFlammables {
		in.Safety = a
	}
	r, err := report.New(in, q.system())
	if err != nil {
		return nil, err
	}
	b, err := r.HTMLPlanned(context.Background(), &cure.Site{Safety: q.Safety}, cure.Aim{}, nil)
	w.HTML = string(b)
	return w, err
}
