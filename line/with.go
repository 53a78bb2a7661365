package line

import (
	"math"
	"slices"
	"strconv"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// With returns the line with other contacts and bars, as a survey found them: the
// changes x at speed v, in the order of [Line.Unknowns] [C/m²]. Each contact gets
// the saturation that makes its change from the charge that arrives, each ioniser
// the conductivity that makes its deposit. exponent gives the exponent of speed [1]
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
			n, err := calibratedIons(s.Ioniser, net, -x[k]/net, v, t.factor)
			if err != nil {
				return nil, err
			}
			t.ion = n
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

// calibratedIons gives an ioniser the conductivity with which it removes the
// share found of the net charge at the survey's speed. A share outside 0 … 0.995
// is taken at the end; where the described supply could not have brought what was
// found, the supply is raised to twice that.
func calibratedIons(s *IonSpec, net, share float64, v units.Speed, factor float64) (ionflow.Neutraliser, error) {
	const least, most = -18.0, 2.0 // decades of S/m: nothing, and more than any air conducts
	spec := *s
	if !(share > 0) || !(factor > 0) {
		return spec.neutraliser(units.Conductivity(math.Pow(10, least)))
	}
	want := min(share, 0.995) * math.Abs(net)
	if float64(spec.Supply) < 1.01*want*float64(v) {
		spec.Supply = units.LineCurrent(2 * want * float64(v))
	}
	var broken error
	missing := func(decade float64) float64 {
		n, err := spec.neutraliser(units.Conductivity(math.Pow(10, decade)))
		if err != nil {
			broken = err
			return 0
		}
		got, _ := n.Act(units.SurfaceChargeDensity(net), v, factor)
		return math.Abs(float64(got)) - want
	}
	decade, err := numeric.Brent(missing, least, most, 1e-12, 1e-12)
	if broken != nil {
		return ionflow.Neutraliser{}, broken
	}
	if err != nil {
		decade = least // below its onset a source does nothing at any conductivity
	}
	return spec.neutraliser(units.Conductivity(math.Pow(10, decade)))
}
