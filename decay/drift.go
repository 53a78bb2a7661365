package decay

import (
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
)

// A drift over a time is one supposition in five before the readings speak;
// driftNodes times over which it may reach are tried.
const (
	driftOdds  = -1.3862943611198906 // ln ¼
	driftNodes = 21
)

// drift adds the suppositions that the correlation falls with the time between
// two readings, as where a meter drifts, with a time even in its logarithm between a third of the shortest
// step and three times the record. Readings at equal steps cannot tell the two
// apart and need no second.
func (s *serial) drift() {
	in := &s.in
	least, most := math.Inf(1), 0.0
	for i := 1; i < in.n; i++ {
		d := in.t[i] - in.t[i-1]
		least, most = min(least, d), max(most, d)
	}
	if !(most > 2*least) {
		return
	}
	first, last := math.Log(least/3), math.Log(3*(in.t[in.n-1]-in.t[0]))
	g := newLagged(in)
	prior, ln := make([]float64, driftNodes), make([]float64, driftNodes)
	nodes := make([]tie, driftNodes)
	k := serialPrior(in.n) / float64(in.n-1)
	for i := range nodes {
		over := numeric.Exp(first + (last-first)*float64(i)/(driftNodes-1))
		l, s2, lnR := g.drifting(in, over)
		nodes[i] = tie{over: over, s2: s2}
		prior[i] = k * lnR // (1 − ρ²)^k of the mean step
		ln[i] = l + prior[i]
	}
	weight := make([]float64, driftNodes)
	norm := share(weight, prior)
	if math.IsInf(slices.Max(ln), -1) {
		return
	}
	weighty := share(weight, ln) - norm
	both := make([]float64, 2)
	share(both, []float64{s.weighty, weighty + driftOdds})
	for i := range s.weight {
		s.weight[i] *= both[0]
	}
	for i, w := range weight {
		s.weight, s.nodes = append(s.weight, w*both[1]), append(s.nodes, nodes[i])
	}
	s.trim()
}

// drifting returns the restricted likelihood of a correlation over the time
// over, the variance of a reading and ln|R|. Each reading less its correlation
// times the one before is independent of all others.
func (g *lagged) drifting(s *serialInput, over float64) (l, s2, lnR float64) {
	m := s.m
	clear(g.a)
	clear(g.b)
	q := 0.0
	row := make([]float64, m)
	for i := range s.n {
		rho, w := 0.0, 1.0
		if i > 0 {
			rho = numeric.Exp((s.t[i-1] - s.t[i]) / over)
			free := 1 - rho*rho
			lnR += math.Log(free)
			w = 1 / math.Sqrt(free)
		}
		e := s.e[i]
		copy(row, s.jac[i*m:i*m+m])
		if i > 0 {
			e -= rho * s.e[i-1]
			for j := range row {
				row[j] -= rho * s.jac[i*m-m+j]
			}
		}
		e *= w
		q += e * e
		for j := range row {
			row[j] *= w
			g.b[j] += row[j] * e
			for k := range j + 1 {
				g.a[j*m+k] += row[j] * row[k]
			}
		}
	}
	l, s2 = g.finish(s, q, lnR)
	return l, s2, lnR
}
