package survey

import (
	"math"
	"slices"

	"example.org/pithball/line/survey/internal/without"
)

// evidenceAsked is how many nats the readings must speak against stations that did
// nothing before these are named: a wide opinion of what nobody read names no one.
const evidenceAsked = 2.0

// evidence is how many nats the readings speak against the stations (and what is
// unlisted beside them) having done nothing: the density of the posterior there
// against that of the prior (Savage and Dickey), in the leading explanation.
func (d *Diagnosis) evidence(stations []int) float64 {
	if without.Is(without.EvidenceAsked) {
		return math.Inf(1)
	}
	l, m := d.model.lay, &d.posterior.modes[0]
	var cols []int
	for k, u := range l.changes {
		if slices.Contains(stations, u.Station) && !l.bar[k] {
			cols = append(cols, k)
		}
	}
	for j, s := range l.spans {
		for _, st := range stations {
			if s.from <= st && st <= s.to {
				cols = append(cols, l.unlisted+2*j, l.unlisted+2*j+1)
				break
			}
		}
	}
	n := len(m.mean)
	at := func(r, c int) float64 { // element of the factor, by columns
		if c > r {
			return 0
		}
		return m.lower[c*n-c*(c-1)/2+r-c]
	}
	c := len(cols)
	cov := make([]float64, c*c)
	for i, a := range cols {
		for j, b := range cols[:i+1] {
			var s float64
			for k := range min(a, b) + 1 {
				s += at(a, k) * at(b, k)
			}
			cov[i*c+j], cov[j*c+i] = s, s
		}
	}
	// ln N(0; prior) − ln N(0; posterior)
	var out float64
	for _, k := range cols {
		i := -1
		if k < len(l.layerOf) {
			i = l.layerOf[k]
		}
		switch {
		case i < 0:
			p := m.prior[k]
			out -= 0.5*math.Log(p) + 0.5*sq(l.mean[k])/p
		case k == l.layers[i-l.layer][0]: // with the other face
			o := l.layers[i-l.layer][1]
			a, b, c := m.prior[k]+m.prior[i], m.prior[o]+m.prior[i], -m.prior[i]
			det := a*b - c*c
			out -= 0.5*math.Log(det) + 0.5*(sq(l.mean[k])*b+sq(l.mean[o])*a-2*c*l.mean[k]*l.mean[o])/det
		}
	}
	e := make([]float64, c)
	for i, k := range cols {
		e[i] = m.mean[k]
	}
	for i := range c {
		p := max(cov[i*c+i], 1e-12*m.prior[cols[i]])
		out += 0.5*math.Log(p) + 0.5*e[i]*e[i]/p
		for j := i + 1; j < c; j++ {
			f := cov[j*c+i] / p
			e[j] -= f * e[i]
			for k := i + 1; k < c; k++ {
				cov[j*c+k] -= f * cov[i*c+k]
			}
		}
	}
	return out
}

// stands reports whether the readings show a contact above the limit, whatever a
// quiet line would make of them.
func (d *Diagnosis) stands(c *contest, limit float64) bool {
	for j, st := range c.stations {
		var above, all float64
		for i, b := range c.size {
			w := d.spot(i)
			all += w
			if b[j] > limit {
				above += w
			}
		}
		if 2*above > all && d.evidence([]int{st})+c.heard([]int{j}, limit) > evidenceAsked {
			return true
		}
	}
	return false
}
