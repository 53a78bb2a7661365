package survey

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/line/survey/internal/without"
)

// doubt is a statement that may be wrong: what the description says of a contact,
// that nothing unlisted acts in a span, a reading. A statement that is wrong has a
// known, much greater variance; flipping it changes K by one or two columns.
type doubt struct {
	station int // of the contact, -1
	span    int // index of the span, -1
	row     int // index of the row, -1
	cols    [2]int
	used    int        // columns of it
	unknown [2]int     // whose prior it widens; -1 for a row
	more    [2]float64 // variance that each column gains
	odds    float64    // prior log odds of being wrong
	on      bool       // taken as wrong
}

func logit(p float64) float64 { return math.Log(p / (1 - p)) }

// newDoubts lists the statements. Columns are numbered as they are listed.
func (m *model) newDoubts() []doubt {
	var out []doubt
	l := m.lay
	col := 0
	add := func(d doubt, chance float64) {
		for j := range d.used {
			d.cols[j] = col
			col++
		}
		d.odds = logit(chance)
		out = append(out, d)
	}
	for k := 0; k < len(l.changes); k++ {
		if l.bar[k] || without.Is(without.ContactDoubt) {
			continue
		}
		d := doubt{station: l.changes[k].Station, span: -1, row: -1, used: 1, unknown: [2]int{k, k + 1}}
		d.more[0] = l.wide[k] - l.prior[k]
		if k+1 < len(l.changes) && l.changes[k+1].Station == d.station {
			k++
			d.used, d.more[1] = 2, l.wide[k]-l.prior[k]
		}
		add(d, chanceContact)
	}
	for i, pair := range l.layers {
		if without.Is(without.Layers) {
			break
		}
		add(doubt{station: l.changes[pair[0]].Station, span: -1, row: -1, used: 1, unknown: [2]int{l.layer + i},
			more: [2]float64{l.layerWide[i] - l.prior[l.layer+i]}}, chanceLayer)
	}
	more := sq(unlistedLarge*l.typical) - sq(unlistedSmall*l.typical)
	for j := range l.spans {
		if without.Is(without.UnlistedSource) {
			break
		}
		u := l.unlisted + 2*j
		d := doubt{station: -1, span: j, row: -1, used: 2, unknown: [2]int{u, u + 1}, more: [2]float64{more, more}}
		add(d, chanceUnlisted)
	}
	for i := range m.rows {
		if m.rows[i].group != nil && !without.Is(without.ReadingDoubt) {
			add(doubt{station: -1, span: -1, row: i, used: 1}, m.rows[i].chance)
		}
	}
	return out
}

// unknowns lists the unknowns whose prior a doubt widens; none for a row.
func (d *doubt) unknowns() []int {
	if d.row >= 0 {
		return nil
	}
	return d.unknown[:d.used]
}

// space is the doubts seen from the rows: g = Aᵀα and S = AᵀQA for the columns A
// of all doubts. Every flip, and every pair of flips, has its change of the log
// evidence from these alone: −½·ln det(1+ΔS) + ½·gᵀ(Δ⁻¹+S)⁻¹g.
type space struct {
	n       int
	s       []float64 // n×n
	g       []float64
	on      []bool
	moved   bool       // flipped since it was made
	sources int        // contacts and spans that are on
	cens    []censored // what ran out of range
	censLog float64    // the logarithm of its chance
	// log is the logarithm of the posterior weight of these flips, relative to the
	// configuration that the space was made for.
	log float64
}

func (m *model) space() *space {
	m.d.check()
	sp, unknowns, rows := m.plainSpace()
	m.hide(sp, unknowns, rows)
	return sp
}

// hide sees what ran out of range.
func (m *model) hide(sp *space, unknowns, rows []int) {
	if sp.cens = m.censored(unknowns, rows); len(sp.cens) > 0 {
		sp.censLog = sp.beyond(m).log(sp.cens, nil)
	}
}

// plainSpace takes what ran out of range as the rows that stand for it.
func (m *model) plainSpace() (sp *space, unknowns, rows []int) {
	d := m.dual
	n := 0
	for i := range m.doubts {
		n += m.doubts[i].used
	}
	sp = &space{n: n, s: m.d.room.take(n * n), g: m.d.room.take(n), on: make([]bool, len(m.doubts))}
	// Columns of the unknowns come first, then the rows.
	for i := range m.doubts {
		if sp.on[i] = m.doubts[i].on; sp.on[i] && m.doubts[i].row < 0 {
			sp.sources++
		}
		if u := m.doubts[i].unknowns(); u != nil {
			unknowns = append(unknowns, u...)
		} else {
			rows = append(rows, m.doubts[i].row)
		}
	}
	nu, r := len(unknowns), d.r
	h, qh := m.seen, m.weighed
	for i := range r {
		row := h[i*nu : (i+1)*nu]
		for c, k := range unknowns {
			row[c] = d.h[i*d.n+k]
		}
	}
	times(qh, d.q, h, r, nu)
	square(sp.s, n, 1, h, qh, r, nu)
	m.slope(sp, rows)
	for i, a := range rows {
		for c, v := range qh[a*nu : (a+1)*nu] {
			sp.s[c*n+nu+i], sp.s[(nu+i)*n+c] = v, v
		}
		for j, b := range rows {
			sp.s[(nu+i)*n+nu+j] = d.q[a*r+b]
		}
	}
	return sp, unknowns, rows
}

// slope works out g; the columns of the unknowns are those of the last plainSpace.
func (m *model) slope(sp *space, rows []int) {
	nu := sp.n - len(rows)
	clear(sp.g)
	for i, a := range m.dual.alpha {
		numeric.AddScaled(sp.g[:nu], a, m.seen[i*nu:(i+1)*nu])
	}
	for i, a := range rows {
		sp.g[nu+i] = m.dual.alpha[a]
	}
}

// delta is the variance that a flip of doubt i adds to each of its columns.
func (sp *space) delta(m *model, i int) (d [2]float64) {
	d = m.doubts[i].more
	if sp.on[i] {
		d[0], d[1] = -d[0], -d[1]
	}
	return d
}

// priorGain is the change of the log prior weight. Strong sources are few: each
// more than one is that much less likely.
func (sp *space) priorGain(m *model, list []int) float64 {
	var out float64
	before, after := sp.sources, sp.sources
	for _, i := range list {
		d := &m.doubts[i]
		step := 1
		if sp.on[i] {
			out -= d.odds
			step = -1
		} else {
			out += d.odds
		}
		if d.row < 0 {
			after += step
		}
	}
	return out - logSecond*float64(max(after-1, 0)-max(before-1, 0))
}

// logSecond is how much less likely each source beyond the first is.
const logSecond = 1.4

// gain is the change of the log posterior weight if the doubts are flipped, one or
// two of them.
func (sp *space) gain(m *model, list ...int) float64 { return sp.gainFrom(m, math.Inf(-1), list...) }

// gainFrom is gain where it reaches least; else it is a bound of it below least. What
// ran out of range has a chance of at most 1, which settles most flips without it.
func (sp *space) gainFrom(m *model, least float64, list ...int) float64 {
	out := sp.priorGain(m, list)
	var cols [4]int
	var more, dens, g, firstG [4]float64
	var s [4][4]float64
	n := 0
	dropped := [2]int{-1, -1}
	for j, i := range list {
		if c := sp.censoredOf(m, i); c >= 0 {
			dropped[j] = c
			continue
		}
		d := sp.delta(m, i)
		for j := range m.doubts[i].used {
			cols[n], more[n] = m.doubts[i].cols[j], d[j]
			n++
		}
	}
	for a := range n {
		g[a] = sp.g[cols[a]]
		for b := range n {
			s[a][b] = sp.s[cols[a]*sp.n+cols[b]]
		}
	}
	for a := range n {
		den := 1 + more[a]*s[a][a]
		if !(den > 1e-9) {
			return math.Inf(-1)
		}
		dens[a], firstG[a] = den, g[a]
		out += 0.5*more[a]*g[a]*g[a]/den - 0.5*math.Log(den)
		for b := a + 1; b < n; b++ {
			f := more[a] * s[a][b] / den
			g[b] -= f * g[a]
			for c := a + 1; c < n; c++ {
				s[b][c] -= f * s[a][c]
			}
		}
	}
	if len(sp.cens) == 0 {
		return out
	}
	if out-sp.censLog < least {
		return out - sp.censLog
	}
	hidden := sp.beyond(m)
	for _, c := range dropped {
		if c >= 0 {
			hidden.dropped[c] = !hidden.dropped[c]
		}
	}
	for a := range n {
		// The effect of this column on what is out of range, after the columns before.
		used := hidden.used[a]
		for c := range sp.cens {
			e := sp.cens[c].effect[cols[a]]
			for b := range a {
				e -= hidden.used[b][c] * s[b][a] * more[b] / dens[b]
			}
			used[c] = e
		}
		hidden.move(used, more[a]/dens[a], firstG[a])
	}
	return out + (hidden.log(sp.cens, nil) - sp.censLog)
}

// flip flips a doubt.
func (sp *space) flip(m *model, i int) {
	sp.log += sp.gain(m, i)
	sp.moved = true
	defer func() {
		sp.on[i] = !sp.on[i]
		if m.doubts[i].row < 0 && sp.on[i] {
			sp.sources++
		} else if m.doubts[i].row < 0 {
			sp.sources--
		}
	}()
	if c := sp.censoredOf(m, i); c >= 0 {
		sp.cens[c].dropped = !sp.cens[c].dropped
		sp.censLog = sp.beyond(m).log(sp.cens, nil)
		return
	}
	d := sp.delta(m, i)
	n := sp.n
	for j := range m.doubts[i].used {
		c := m.doubts[i].cols[j]
		den := 1 + d[j]*sp.s[c*n+c]
		f := d[j] / den
		m.flipped = append(m.flipped[:0], sp.s[c*n:(c+1)*n]...)
		row := m.flipped
		gc := sp.g[c]
		if len(sp.cens) > 0 {
			b := sp.beyond(m)
			e := m.hidden.used[0]
			for k := range sp.cens {
				e[k] = sp.cens[k].effect[c]
			}
			b.move(e, f, gc)
			b.keep(sp.cens)
			for k := range sp.cens {
				for a := range n {
					sp.cens[k].effect[a] -= e[k] * f * row[a]
				}
			}
		}
		for a := range n {
			if x := f * row[a]; x != 0 {
				numeric.AddScaled(sp.s[a*n:(a+1)*n], -x, row)
			}
		}
		for a := range n {
			sp.g[a] -= f * row[a] * gc
		}
	}
	if len(sp.cens) > 0 {
		sp.censLog = sp.beyond(m).log(sp.cens, nil)
	}
}

// clone takes its room of an arena.
func (sp *space) clone(a *arena) *space {
	c := *sp
	c.s, c.g = a.copied(sp.s), a.copied(sp.g)
	c.on = append([]bool(nil), sp.on...)
	c.cens = append([]censored(nil), sp.cens...)
	for i := range c.cens {
		c.cens[i].effect, c.cens[i].cov = a.copied(sp.cens[i].effect), a.copied(sp.cens[i].cov)
	}
	return &c
}
