package survey

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"example.org/pithball/line"
	"example.org/pithball/line/survey/internal/without"
)

// row is one line of the linear model: a reading, the robust mean of a group, or
// what is known of a bar before anything is read.
type row struct {
	group  *group
	gi     int     // its index
	at     int     // index in group.values, -1 for the mean of the group
	tie    int     // a bar's change, where group is nil
	cond   int     // of the tie
	chance float64 // that the reading is wrong
	size   float64 // [V] of what a wrong reading shows
	trust  float64 // [V²] variance if it is right
	bound  float64 // [V] out of range: the display is at least this, in the frame of y
	own    float64 // [V²] out of range: the variance about it
	wrong  float64 // [V²] variance if it is wrong
	bad    bool    // taken as wrong
	hidden int     // out of range: its number among those, else -1
}

// model is the linear model of a survey with its scales, which follow the present
// estimates: a spot scatters with the charge of each face, a bar takes a share of
// what reaches it.
type model struct {
	d      *Diagnosis
	lay    *layout
	groups []*group
	walk   *walker
	rows   []row
	doubts []doubt
	dual   *dual

	faces  [][2][]float64       // of each group: rows of σA and σB
	square [][2]float64         // E[σA²], E[σB²] of each group [µC²/m⁴]
	whole  []float64            // E[(σA+σB)²] of each group [µC²/m⁴]
	nets   map[[2]int][]float64 // net charge that reaches a bar in a condition
	sizes  map[[2]int]float64   // its mean square [µC²/m⁴]
	base   []float64            // scatter of a spot by its charge and the last digit [V²]
	scatS  []float64            // own variance of one spot of each group [V²]
	kappa  float64              // scatter as found over scatter as described
	common float64              // share of the scatter that both faces have in common
	misfit float64              // by which readings disagree more than they may
	spots  float64              // described relative scatter of a face
	quiet  bool                 // the spreads of the contacts are given, not learnt

	lasting *arena // for what lives as long as the model

	// Room that is used again and again until the diagnosis ends: see lend.
	hidden                       beyond
	single, scanned, flipped     []float64
	spreads, weights, half, wide []float64
	seen, weighed                []float64
}

// lend takes the room of a model.
func (m *model) lend() {
	columns, unknowns, hidden := 0, 0, 0
	for i := range m.doubts {
		columns += m.doubts[i].used
		unknowns += len(m.doubts[i].unknowns())
	}
	for i := range m.rows {
		if m.rows[i].hidden >= 0 {
			hidden++
		}
	}
	a, r, n := m.d.room, m.dual.r, m.lay.drawn
	m.single, m.scanned, m.flipped = a.take(len(m.doubts)), a.take(2*columns+len(m.doubts)), a.take(columns)
	m.spreads, m.weights, m.half = a.take(r*n), a.take(r*n), a.take(n*n)
	wide := m.lay.layer + min(hidden, mostCuts)
	m.wide = a.take(wide*wide + n)
	m.seen, m.weighed = a.take(r*unknowns), a.take(r*unknowns)
	m.hidden = beyond{mean: a.take(hidden), cov: a.take(hidden * hidden), dropped: make([]bool, hidden)}
	for i := range m.hidden.used {
		m.hidden.used[i] = a.take(hidden)
	}
}

// giveBack gives that room back.
func (m *model) giveBack() {
	m.single, m.scanned, m.flipped, m.spreads, m.weights, m.half, m.wide = nil, nil, nil, nil, nil, nil, nil
	m.seen, m.weighed, m.hidden = nil, nil, beyond{}
}

// spotsLeast is the least relative scatter of a charged face from spot to spot.
const spotsLeast = 0.05

// weight of what is described of scatter, in degrees of freedom.
const scatterPrior = 3

// drift is the share of a meter's offset by which it wanders from reading to reading.
const drift = 0.15

// stripesLeast is the share of stripes that even the same positions do not share.
const stripesLeast = 0.2

// unheard is a variance at which a row says nothing [V²].
const unheard = 1e14

// newModel makes the model of the groups; what lives as long as it does is taken of lasting.
func newModel(d *Diagnosis, groups []*group, conds []condition, lasting *arena) *model {
	m := &model{
		d:      d,
		lay:    newLayout(d, groups, conds),
		groups: groups,
		kappa:  1,
		misfit: 1,
		spots:  spotsLeast,
		nets:   map[[2]int][]float64{},
		sizes:  map[[2]int]float64{},

		lasting: lasting,
	}
	for i := range d.desc.Meters {
		m.spots = max(m.spots, float64(d.desc.Meters[i].Spots))
	}
	m.walk = newWalker(d.line, &d.desc, m.lay)
	upper := m.upperQuartiles()
	rows := 0
	for _, g := range groups {
		if g.over != 0 || g.n >= patience {
			rows++
		} else {
			rows += len(g.values)
		}
	}
	for gi, g := range groups {
		c := g.perDensity()
		e := sq(g.mean / c)
		m.square = append(m.square, [2]float64{e, e})
		if !g.OverFilm {
			m.square[gi] = [2]float64{e / 2, e / 2}
		}
		m.whole = append(m.whole, e)
		m.faces = append(m.faces, [2][]float64{lasting.take(m.lay.n + 1), lasting.take(m.lay.n + 1)})
		chance := chanceReading
		if g.OverFilm && !d.earthMeasured(g.Station) {
			chance = chanceUnproven
		}
		if g.over != 0 || g.middle != nil || g.n >= patience || rows > manyRows && g.n > 1 {
			if g.over == 0 || g.n >= patience {
				chance = chanceGroup
			}
			m.rows = append(m.rows, row{group: g, at: -1, chance: chance, gi: gi, size: max(upper[g.Meter], math.Abs(g.mean))})
			continue
		}
		for i, v := range g.values {
			m.rows = append(m.rows, row{group: g, gi: gi, at: i, chance: chance, size: max(upper[g.Meter], math.Abs(v))})
		}
	}
	for k := range m.lay.changes {
		for c := range conds {
			if m.lay.bar[k] {
				m.rows = append(m.rows, row{tie: k, cond: c})
			}
		}
	}
	if len(m.rows) == 0 {
		m.rows = append(m.rows, row{tie: -1}) // a row that says nothing
	}
	hidden := 0
	for i := range m.rows {
		m.rows[i].hidden = -1
		if g := m.rows[i].group; g != nil && g.over != 0 {
			m.rows[i].hidden = hidden
			hidden++
		}
	}
	m.scatS, m.base = lasting.take(len(groups)), lasting.take(len(groups))
	m.dual = newDual(m.lay.n, len(m.rows), lasting)
	copy(m.dual.m, m.lay.mean)
	copy(m.dual.prior, m.lay.prior)
	m.doubts = m.newDoubts()
	m.lend()
	return m
}

// upperQuartiles of what each meter showed: the size of a reading that has nothing
// to do with its place.
func (m *model) upperQuartiles() []float64 {
	out := make([]float64, len(m.d.desc.Meters))
	for i := range out {
		var x []float64
		for _, g := range m.groups {
			if g.Meter == i {
				for range int(g.n) {
					x = append(x, math.Abs(g.mean))
				}
			}
		}
		slices.Sort(x)
		if len(x) > 0 {
			out[i] = x[(3*len(x))/4]
		}
	}
	return out
}

// trace walks the path and keeps the rows of what each group sees, and of the net
// charge that reaches each bar.
func (m *model) trace() {
	type path struct {
		cond int
		off  string
	}
	done := map[path]bool{}
	for _, g := range m.groups {
		off := m.d.desc.Stations[g.Station].Off
		p := path{g.cond, joined(off)}
		if done[p] {
			continue
		}
		done[p] = true
		m.walk.run(p.cond, off, nil, func(station int, a, b []float64) {
			for gj, o := range m.groups {
				if o.Station == station && o.cond == p.cond && joined(m.d.desc.Stations[station].Off) == p.off {
					copy(m.faces[gj][0], a)
					copy(m.faces[gj][1], b)
				}
			}
		})
	}
	for c := range m.lay.conds {
		if !slices.Contains(m.lay.bar, true) {
			break
		}
		m.walk.run(c, nil, func(k int, a, b []float64) {
			net := m.nets[[2]int{k, c}]
			if net == nil {
				net = m.lasting.take(len(a))
				m.nets[[2]int{k, c}] = net
			}
			for i := range net {
				net[i] = a[i] + b[i]
			}
		}, func(int, []float64, []float64) {})
	}
}

func joined(off []string) string {
	s := ""
	for _, o := range off {
		s += o + "\x00"
	}
	return s
}

// fit is what group g is expected to show at the present estimates.
func (m *model) fit(gi int) float64 {
	g := m.groups[gi]
	return (g.OnA*m.walk.value(m.faces[gi][0]) + g.OnB*m.walk.value(m.faces[gi][1])) * 1e-6
}

// scales sets the rows and their variances by the present estimates. first says
// that there are none yet: then the displays stand for what is expected of them.
func (m *model) scales(first bool) {
	d := m.dual
	l := m.lay
	m.scatter(first)
	for i := range m.rows {
		r := &m.rows[i]
		h := d.row(i)
		clear(h)
		if r.group == nil {
			m.tieRow(i)
			continue
		}
		g, gi := r.group, r.gi
		for f, on := range [2]float64{g.OnA * 1e-6, g.OnB * 1e-6} {
			if on == 0 {
				continue
			}
			row := m.faces[gi][f]
			for j := range h {
				h[j] += on * row[j]
			}
		}
		constant := m.constant(gi)
		fit := m.fit(gi)
		if first {
			fit = g.mean
		}
		h[l.meter+2*g.Meter] = fit
		h[l.meter+2*g.Meter+1] = 1
		if g.OverFilm {
			h[l.film] = fit
		} else {
			h[l.place+slices.Index(l.places, g.Station)] = fit
		}
		value := g.mean - constant
		r.trust = m.misfit * m.own(gi, fit, g.n, g.spots)
		if without.Is(without.SharedErrors) {
			r.trust += m.unshared(g, fit)
			clear(h[l.meter:])
		}
		if r.at >= 0 {
			value = g.values[r.at] - constant
			r.trust *= g.n
		}
		if g.over != 0 {
			// Out of range: it enters by its likelihood, see censored.
			r.bound, r.own, r.trust = value, r.trust, unheard
		}
		r.wrong = max(sq(r.size), 36*r.trust)
		d.y[i], d.v[i] = value, r.trust
		if r.bad && g.over == 0 {
			d.v[i] = r.wrong
		}
	}
}

// unshared is what the errors that readings share are if each has its own: for the
// table of what it is worth that they are shared.
func (m *model) unshared(g *group, fit float64) float64 {
	meter := &m.d.desc.Meters[g.Meter]
	return sq(float64(meter.Gain)*fit) + sq(float64(meter.Offset)) + sq(g.PlaceSD*fit)
}

// tieRow says what is known of a bar: it took about a share of the net charge that
// reached it.
func (m *model) tieRow(i int) {
	d, l, r := m.dual, m.lay, &m.rows[i]
	if r.tie < 0 {
		d.v[i] = 1
		return
	}
	h := d.row(i)
	net := m.nets[[2]int{r.tie, r.cond}]
	share, spread := barShare(m.d.desc.Stations[l.changes[r.tie].Station].Ioniser)
	for j := range h {
		h[j] = share * net[j]
	}
	h[l.barIndex(r.tie, r.cond)]++
	size, ok := m.sizes[[2]int{r.tie, r.cond}]
	if !ok {
		size = sq(10)
	}
	d.y[i], d.v[i] = -share*net[l.n], size*sq(spread)+sq(0.3)
}

// barShare is the share of the net charge that a bar is thought to take, with its
// standard deviation [1]: a judgement. A passive one takes less.
func barShare(s *line.IonSpec) (share, sd float64) {
	if s.Passive {
		return 0.4, 0.4
	}
	return 0.6, 0.4
}

// refresh works out the second moments that the scales follow.
func (m *model) refresh(first bool) {
	copy(m.walk.at, m.dual.mean)
	if first { // without a charge the first step told nothing of leaks
		m.walk.weak()
	}
	d, n := m.dual, m.lay.n
	room := m.d.room
	defer room.back(room.mark())
	w, u := [2][]float64{room.take(d.r), room.take(d.r)}, [2][]float64{room.take(d.r), room.take(d.r)}
	for gi, g := range m.groups {
		var mean, net float64
		for f, on := range [2]float64{g.OnA, g.OnB} {
			if g.OverFilm && on == 0 {
				continue
			}
			h := m.faces[gi][f]
			e, all := d.weigh(h[:n], w[f], u[f])
			m.square[gi][f] = sq(e+h[n]) + max(all-dot(w[f], u[f]), 0)
			mean += e + h[n]
		}
		if g.OverFilm {
			continue
		}
		for j, p := range d.prior { // of both faces together: what the rows take off adds up as it is linear
			net += p * sq(m.faces[gi][0][j]+m.faces[gi][1][j])
		}
		floats.Add(w[0], w[1])
		floats.Add(u[0], u[1])
		m.whole[gi] = sq(mean) + max(net-dot(w[0], u[0]), 0)
	}
	for k, net := range m.nets {
		mean, variance := m.dual.moments(net[:m.lay.n])
		m.sizes[k] = sq(mean+net[m.lay.n]) + variance
	}
	// What other conditions may do to a change beyond its exponent: in proportion to
	// what is not known of the change itself.
	l := m.lay
	e := room.take(l.n)
	for c := 1; c < len(l.conds); c++ {
		for k := range l.changes {
			if l.bar[k] {
				continue
			}
			_, _, slopes, used := l.multiplier(k, c, m.walk.at)
			var s float64
			for j := range used {
				s += sq(slopes[j])
			}
			clear(e)
			e[k] = 1
			if i := l.layerOf[k]; i >= 0 {
				e[i] = l.sign(k)
			}
			_, variance := m.dual.moments(e)
			m.dual.prior[l.slack+(c-1)*len(l.changes)+k] = s * variance
		}
	}
}

// strain is by how much readings disagree beyond what their errors allow: the mean
// square of what each row lies off the others, of those that are not taken as
// wrong; never below 1.
func (m *model) strain() float64 {
	num, den := 8.0, 8.0
	for i := range m.rows {
		if r := &m.rows[i]; r.group == nil || r.group.over != 0 {
			continue
		}
		if !m.rows[i].bad {
			num += min(sq(m.dual.alpha[i])/m.dual.q[i*m.dual.r+i], 9)
			den++
		}
	}
	return max(1, num/den)
}
