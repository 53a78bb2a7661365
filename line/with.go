package line

import (
	"slices"
	"strconv"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// With returns the line with other contacts and bars, as a survey found them: the
// changes x at speed v, in the order of [Line.Unknowns] [C/m²]. Each contact gets
// the saturation that makes its change from the charge that arrives, each ioniser
// the strength that makes its deposit: a bar the factor on its curve, one without
// data its share. exponent gives the exponent of speed [1]
// of change k, held to −1 … 2, beyond which no contact is described; nil for that
// of the description.
func (l *Line) With(x []float64, v units.Speed, exponent func(k int) float64) (*Line, error) {
	u, _, _ := l.Unknowns()
	if len(x) != len(u) {
		return nil, known.Wrong("changes", strconv.Itoa(len(x))+" numbers", strconv.Itoa(len(u))+", one for each unknown")
	}
	out := *l
	out.steps = slices.Clone(l.steps)
	co := l.Response(u, v, nil)
	arrives := func(i, f int) float64 {
		var s float64
		for k := range x {
			s += co[i][f][k] * x[k]
		}
		return s
	}
	done := make([]int, len(out.steps)) // contacts already set at a station
	for k, c := range u {
		s := &l.desc.Stations[c.Station]
		t := &out.steps[c.Station]
		before := arrives(c.Station, int(c.Face-1)) - x[k]
		if s.Kind == Ioniser {
			net := arrives(c.Station, 0) + arrives(c.Station, 1) - x[k]
			t.ion = t.ion.fit(net, -x[k]/net, v)
			continue
		}
		j := done[c.Station]
		done[c.Station]++
		p := &s.Change[j]
		e := p.Speed.Value
		if exponent != nil {
			e = min(max(exponent(k), -1), 2)
		}
		c2, err := newContact(s.Roller, p, v, before, x[k], e)
		if err != nil {
			return nil, err
		}
		t.changes[j] = c2
	}
	return &out, nil
}
