package survey

import (
	"math"
	"slices"

	"example.org/pithball/line"
)

// NetRise is a stretch between two places at which the net charge was read, in which it
// passes the limit.
type NetRise struct {
	Between  [2]int   // stations that were read, the first -1 where none was read before
	Contacts []int    // stations in the stretch that touch the web, the last of it included
	Step     Estimate // of the net charge by the contacts and by what is not listed [C/m²]
	Net      Estimate // behind the stretch [C/m²]
}

// Rises finds where the net charge passes the limit, whatever the faces hold: stretches in
// which the contacts add more than the limit of one sign, and behind which the net charge of
// that sign is above it, each with a chance of more than 0.90. A field meter in free spans tells
// this, while the largest change of a face may hide in two faces that cancel. Strongest first;
// nil of a Diagnosis that was not made by [Diagnose].
func (d *Diagnosis) Rises() []NetRise {
	if d.none() {
		return nil
	}
	var read []int // stations, in the order of the path
	for _, g := range d.model.groups {
		if !g.OverFilm && len(d.desc.Stations[g.Station].Off) == 0 && !slices.Contains(read, g.Station) {
			read = append(read, g.Station)
		}
	}
	slices.Sort(read)
	l := d.model.lay
	limit := float64(d.line.Limit()) * 1e6
	n := len(d.samples)
	step, net := make([][]float64, len(read)), make([][]float64, len(read))
	for i := range read {
		step[i], net[i] = make([]float64, n), make([]float64, n)
	}
	stretch := func(station int) int { return slices.IndexFunc(read, func(at int) bool { return station <= at }) }
	f := newForward(d.line, &d.desc, l, d.model.walk.at)
	for j, x := range d.samples {
		for k, u := range l.changes {
			if i := stretch(u.Station); i >= 0 && !l.bar[k] {
				step[i][j] += x[k]
			}
		}
		for k, s := range l.spans {
			if i := stretch(s.from + 1); i >= 0 {
				step[i][j] += x[l.unlisted+2*k] + x[l.unlisted+2*k+1]
			}
		}
		f.run(x, nil, func(at int, a, b float64) {
			if i := slices.Index(read, at); i >= 0 {
				net[i][j] = a + b
			}
		})
	}
	var out []NetRise
	for i, at := range read {
		var above float64
		for j, s := range step[i] {
			if v := net[i][j]; math.Abs(s) > limit && math.Abs(v) > limit && (s > 0) == (v > 0) {
				above++
			}
		}
		if !(above > sure*float64(n)) {
			continue
		}
		r := NetRise{Between: [2]int{-1, at}, Step: estimate(step[i], 1e-6), Net: estimate(net[i], 1e-6)}
		if i > 0 {
			r.Between[0] = read[i-1]
		}
		for s := r.Between[0] + 1; s <= at; s++ {
			if t := &d.desc.Stations[s]; t.Kind != line.Ioniser && len(t.Change) > 0 {
				r.Contacts = append(r.Contacts, s)
			}
		}
		out = append(out, r)
	}
	slices.SortStableFunc(out, func(a, b NetRise) int {
		switch x, y := math.Abs(a.Step.Value), math.Abs(b.Step.Value); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return out
}

// untold are the rises that an answer leaves unsaid: it names a set that holds something else
// too, or none.
func (d *Diagnosis) untold() []NetRise {
	if d.Answer.Kind != OneOf && (d.Answer.Kind != CannotTell || d.Answer.Why == NoCharge || d.Answer.Why == OneReading) {
		return nil
	}
	rises := d.Rises()
	if d.Answer.Kind == OneOf && len(rises) == 1 && !slices.ContainsFunc(d.Answer.Sets[0], func(s int) bool {
		return s <= rises[0].Between[0] || s > rises[0].Between[1]
	}) {
		return nil // where the step lies is all that could be said
	}
	return rises
}
