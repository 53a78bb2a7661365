package survey

import (
	"slices"

	"example.org/pithball/line/survey/internal/without"
)

// roundCount is how often estimate and scales follow each other; the last time with
// a full search.
const roundCount = 4

// manyRows is the number of rows from which on two rounds must do, and groups count
// by their mean whatever their size.
const manyRows = 250

// fitted runs the rounds: estimate, search what may be wrong, follow with the
// scales.
func (m *model) fitted() []*space {
	list := m.explore(m.rounds(true))
	if without.Is(without.Explanations) {
		list = list[:1]
	}
	return list
}

// rounds follows the scales and returns the best explanation.
func (m *model) rounds(pairs bool) *space {
	m.trace()
	count := roundCount
	if len(m.rows) > manyRows {
		count = 2
	}
	for i := range count {
		m.scales(i == 0)
		m.apply(nil)
		m.dual.solve()
		p := m.d.room.mark()
		sp := m.space()
		sp.climb(m, nil, 6, pairs && i+1 == count)
		for j := range m.doubts {
			m.doubts[j].on = sp.on[j]
		}
		if i+1 == count {
			if !sp.moved {
				return sp
			}
			m.d.room.back(p)
			break
		}
		m.d.room.back(p)
		m.solve(nil)
		if !without.Is(without.Misfit) {
			m.misfit = m.strain()
		}
		m.refresh(i == 0)
		m.relax()
		m.trace()
	}
	m.apply(nil)
	m.dual.solve()
	return m.space()
}

// apply sets the variances that a set of flips gives; nil: the present ones.
func (m *model) apply(on []bool) {
	copy(m.dual.prior[:m.lay.air], m.lay.prior)
	for i := range m.doubts {
		d := &m.doubts[i]
		wrong := d.on
		if on != nil {
			wrong = on[i]
		}
		if d.row >= 0 {
			r := &m.rows[d.row]
			m.dual.v[d.row] = r.trust
			if r.group.over != 0 {
				m.dual.y[d.row] = r.bound
			} else if wrong {
				m.dual.v[d.row] = r.wrong
			}
			r.bad = wrong
			continue
		}
		if wrong {
			for j, k := range d.unknowns() {
				m.dual.prior[k] += d.more[j]
			}
		}
	}
	// A doubt on a row counts from its trusted variance.
	for i := range m.doubts {
		if d := &m.doubts[i]; d.row >= 0 {
			d.more[0] = m.rows[d.row].wrong - m.rows[d.row].trust
		}
	}
}

// solve solves with the present flips: once without what ran out of range, and
// once with the ordinary rows that stand for it.
func (m *model) solve(on []bool) {
	m.apply(on)
	m.dual.solve()
	m.sites()
}

// sites puts the ordinary rows for what ran out of range and solves again.
func (m *model) sites() {
	defer m.d.room.back(m.d.room.mark())
	list := m.censored(nil, nil)
	if len(list) == 0 {
		return
	}
	sp := &space{cens: list}
	sp.beyond(m).log(list, func(row int, value, variance float64) {
		m.dual.y[row], m.dual.v[row] = value, variance
	})
	m.dual.solve()
}

// constant is the part of a group's display that does not depend on the unknowns [V].
func (m *model) constant(gi int) float64 {
	g, n := m.groups[gi], m.lay.n
	return (g.OnA*m.faces[gi][0][n] + g.OnB*m.faces[gi][1][n]) * 1e-6
}

// Branches are kept to so many nats below the best, and to so many.
const (
	branchReach = 9.0
	branches    = 10
)

// explore finds the explanations that compete: from the best one at hand, each of its
// flips is taken back and forbidden, and pairs of flips that gain together are
// tried, because two explanations often differ by two flips at once ("this contact,
// and not that voltmeter reading").
func (m *model) explore(best *space) []*space {
	best.climb(m, nil, 4, true)
	list := []*space{best}
	add := func(sp *space) {
		for _, o := range list {
			if slices.Equal(o.on, sp.on) {
				return
			}
		}
		list = append(list, sp)
	}
	var grow func(sp *space, forbidden []bool, first bool)
	grow = func(sp *space, forbidden []bool, first bool) {
		for i := range m.doubts {
			if !sp.on[i] || forbidden[i] || len(list) > 3*branches {
				continue
			}
			f := slices.Clone(forbidden)
			f[i] = true
			p := m.d.room.mark()
			c := sp.clone(m.d.room)
			c.flip(m, i)
			c.climb(m, f, 4, first)
			if c.log < list[0].log-branchReach {
				m.d.room.back(p)
				continue
			}
			before := len(list)
			add(c)
			if first && len(list) > before {
				grow(c, f, false)
			}
		}
	}
	if len(m.doubts) <= tooManyPairs {
		grow(best, make([]bool, len(m.doubts)), true)
		m.seedPairs(best, add)
	}
	for _, sp := range slices.Clone(list) {
		m.seedCensored(sp, list[0].log, add)
	}
	slices.SortStableFunc(list, func(a, b *space) int {
		switch {
		case a.log > b.log:
			return -1
		case a.log < b.log:
			return 1
		}
		return 0
	})
	if len(list) > branches {
		list = list[:branches]
	}
	for i, sp := range list {
		if sp.log < list[0].log-branchReach {
			list = list[:i]
			break
		}
	}
	return list
}

// seedPairs adds the explanations that two more flips reach and neither of them
// alone.
func (m *model) seedPairs(best *space, add func(*space)) {
	single := m.single
	for i := range m.doubts {
		single[i] = best.gainFrom(m, -pairReach, i)
	}
	type seed struct {
		gain float64
		i, j int
	}
	var seeds []seed
	sc := newScan(m, best)
	for i := range m.doubts {
		if best.on[i] || single[i] < -pairReach {
			continue
		}
		sc.after(i)
		for j := range i {
			if best.on[j] || single[j] < -pairReach {
				continue
			}
			least := max(-5, single[i]+single[j]+2)
			if sc.bound(j) < least-scanRounds {
				continue
			}
			if g := best.gainFrom(m, least, i, j); g > least {
				seeds = append(seeds, seed{g, i, j})
			}
		}
	}
	slices.SortStableFunc(seeds, func(a, b seed) int {
		if a.gain > b.gain {
			return -1
		}
		return 1
	})
	for _, s := range seeds[:min(len(seeds), 4)] {
		c := best.clone(m.d.room)
		c.flip(m, s.i)
		c.flip(m, s.j)
		c.climb(m, nil, 2, false)
		add(c)
	}
}

// seedCensored adds the explanations in which a flip changes what is hidden behind
// the end of a meter's range: there a sample cannot be shifted to the other one.
func (m *model) seedCensored(sp *space, top float64, add func(*space)) {
	if len(sp.cens) == 0 || sp.log < top-4 {
		return
	}
	for i := range m.doubts {
		d := &m.doubts[i]
		if sp.on[i] || sp.gainFrom(m, -4, i) < -4 {
			continue
		}
		strong := sp.censoredOf(m, i) >= 0
		for j := range d.used {
			c := d.cols[j]
			w := 1 / (1/d.more[j] + sp.s[c*sp.n+c])
			for k := range sp.cens {
				z := &sp.cens[k]
				strong = strong || sq(z.effect[c])*w > 0.05*(z.cov[k]+z.own)
			}
		}
		if strong {
			c := sp.clone(m.d.room)
			c.flip(m, i)
			add(c)
		}
	}
}
