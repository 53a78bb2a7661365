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
	return l.Variants(v).With(x, exponent)
}

// Variants makes many lines of one description, one at a time: what does not depend on the changes is worked out once,
// and every line takes the room of the one before. It is for one goroutine.
type Variants struct {
	of       *Line
	speed    units.Speed
	unknowns []Unknown
	response [][2][]float64
	line     Line
	done     []int // contacts already set at a station
}

// Variants returns what makes lines from changes at speed v.
func (l *Line) Variants(v units.Speed) *Variants {
	u, _, _ := l.Unknowns()
	w := &Variants{of: l, speed: v, unknowns: u, response: l.Response(u, v, nil), line: *l,
		done: make([]int, len(l.steps))}
	w.line.steps = slices.Clone(l.steps) // nothing is set in l
	return w
}

// With is [Line.With] for the changes x and the exponents. The next call overwrites the line that it returns.
func (w *Variants) With(x []float64, exponent func(k int) float64) (*Line, error) {
	u, l, v := w.unknowns, w.of, w.speed
	if l == nil {
		return nil, known.Wrong("variants", "of no line", "those that Line.Variants makes")
	}
	if len(x) != len(u) {
		return nil, known.Wrong("changes", strconv.Itoa(len(x))+" numbers", strconv.Itoa(len(u))+", one for each unknown")
	}
	out := &w.line
	copy(out.steps, l.steps)
	arrives := func(i, f int) float64 {
		var s float64
		for k, a := range w.response[i][f] {
			s += a * x[k]
		}
		return s
	}
	clear(w.done)
	for k, c := range u {
		s := &l.desc.Stations[c.Station]
		t := &out.steps[c.Station]
		before := arrives(c.Station, int(c.Face-1)) - x[k]
		if s.Kind == Ioniser {
			net := arrives(c.Station, 0) + arrives(c.Station, 1) - x[k]
			t.ion = t.ion.fit(net, -x[k]/net, v)
			continue
		}
		j := w.done[c.Station]
		w.done[c.Station]++
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
	return out, nil
}
