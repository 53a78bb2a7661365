package survey

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/line"
	"example.org/pithball/line/survey/internal/without"
)

// Posterior is what a survey leaves possible: a mixture of explanations, each of
// them normal in the unknowns. Same seed and index, same bits, in any order and on
// any number of goroutines.
type Posterior struct {
	unknowns []PosteriorUnknown
	modes    []mode
	sum      []float64 // running sum of the modes' weights
	total    float64   // logarithm of the sum of weights, the leading explanation by itself being 1
	lanes    float64   // relative: by how much the spots that were read differ from the mean of the web
	common   float64   // of this what the two faces behind one contact share
	changes  int       // the first so many unknowns are changes
}

// PosteriorUnknown says what one number of a sample is.
type PosteriorUnknown struct {
	Kind UnknownKind // what kind of unknown it is
	// Station is that of a change or an exponent, -1 for the exponent that all share;
	// of an unlisted change the station before.
	Station int
	Before  int       // of an unlisted change: the station behind it; else -1
	Face    line.Face // NoFace for an exponent
}

// mode is one explanation. Samples are drawn from what the rows in range say, with
// the displays that ran out of it as further unknowns, and are then cut to where
// these displays can be.
type mode struct {
	weight  float64
	mean    []float64 // with what ran out of range
	lower   []float64 // triangle of the factor of that covariance, column by column
	base    []float64 // means by the rows in range, the displays out of it behind them
	factor  []float64 // the triangle of these, column by column
	cuts    []cut
	open    []opening
	on      []bool
	sources int       // contacts and spans that are on
	prior   []float64 // variances of the drawn unknowns
	z       []float64 // r×n: Q·H·P of the drawn unknowns, for what leaving out a row does
	s       []float64 // Q_rr of each row
	g       []float64 // α_r of each row
}

// cut is a display that ran out of range, at its turn.
type cut struct {
	sign, bound float64
	own, mean   float64   // [V²], [V]
	all         float64   // [V²] its variance with own
	follow      []float64 // by how much everything moves with it, per volt
}

// mostCuts is the number of displays out of range that a sample is cut by; more are
// taken as the ordinary rows that stand for them.
const mostCuts = 16

// opening is a statement that may be wrong within an explanation, with its chance
// and with what that does to a sample: a shift and more noise along its columns.
type opening struct {
	doubt  int
	chance float64
	source bool // a contact or a span: one more of them is less likely
	shift  []float64
	noise  [2][]float64 // along each column, nil if there is one
}

// Len is the number of unknowns of a sample.
func (p *Posterior) Len() int { return len(p.unknowns) }

// Unknowns says what each number of a sample is. The changes come first, in the
// order of [Diagnosis.Changes].
func (p *Posterior) Unknowns() []PosteriorUnknown { return slices.Clone(p.unknowns) }

// Modes is the number of explanations; Mode returns the weight [1], the mean and
// the lower triangle of the factor of the covariance of one, column by column, in
// the units of a sample.
func (p *Posterior) Modes() int { return len(p.modes) }

// Mode returns explanation i, the likeliest first; the slices must not be changed.
// The weight is NaN if there is none.
func (p *Posterior) Mode(i int) (weight float64, mean, lower []float64) { // [1], [unit of the unknown]
	if i < 0 || i >= len(p.modes) {
		return math.NaN(), nil, nil
	}
	m := &p.modes[i]
	return m.weight, m.mean, m.lower
}

// Draw writes sample i of the stream seed into dst, of length Len: changes in
// µC/m², exponents in their described spreads. Samples 2j and 2j+1 mirror each
// other about the mean of their explanation, so that few samples suffice. It
// allocates nothing.
func (p *Posterior) Draw(dst []float64, seed, i uint64) { // [unit of the unknown]
	if len(p.modes) == 0 {
		for k := range dst {
			dst[k] = math.NaN()
		}
		return
	}
	p.draw(dst, nil, 1-2*float64(i%2), seed, i/2)
}

// posterior makes the mixture of the explanations.
func (m *model) posterior(list []*space) *Posterior {
	l := m.lay
	p := &Posterior{lanes: m.lanes(), common: m.common, changes: len(l.changes)}
	for _, u := range l.changes {
		p.unknowns = append(p.unknowns, PosteriorUnknown{ChangeUnknown, u.Station, -1, u.Face})
	}
	for _, s := range l.spans {
		p.unknowns = append(
			p.unknowns,
			PosteriorUnknown{UnlistedUnknown, s.from, s.to, line.FaceA},
			PosteriorUnknown{UnlistedUnknown, s.from, s.to, line.FaceB},
		)
	}
	if l.layer > l.speed {
		p.unknowns = append(p.unknowns, PosteriorUnknown{ExponentUnknown, -1, -1, line.NoFace})
		for _, s := range l.stations {
			p.unknowns = append(p.unknowns, PosteriorUnknown{ExponentUnknown, s, -1, line.NoFace})
		}
	}
	top := list[0].log
	var sum float64
	weighing := m.d.begin("weighing explanations", len(list))
	for _, sp := range list {
		weighing.Next()
		mo := m.mode(sp, list)
		mo.weight *= numeric.Exp(sp.log - top)
		sum += mo.weight
		p.modes = append(p.modes, mo)
	}
	slices.SortStableFunc(p.modes, func(a, b mode) int {
		if a.weight > b.weight {
			return -1
		} else if a.weight < b.weight {
			return 1
		}
		return 0
	})
	p.total = math.Log(sum)
	run := 0.0
	for i := range p.modes {
		p.modes[i].weight /= sum
		run += p.modes[i].weight
		p.sum = append(p.sum, run)
	}
	return p
}

// lanes is by how much the mean of the lanes that were read may differ from that of
// the web, relative to each change: half of the scatter of a face lies in stripes
// that stay with the web, and the same lanes are read all along it.
func (m *model) lanes() float64 {
	var share, n float64
	for _, g := range m.groups {
		if g.apart < 1 {
			share += (1 - g.apart) / g.spots
			n++
		}
	}
	return m.spots * math.Sqrt(m.kappa*0.5*share/max(n, 1))
}

// reached marks the doubts whose flip alone makes one explanation another of the list.
func (sp *space) reached(list []*space) []bool {
	out := make([]bool, len(sp.on))
	for _, o := range list {
		at, n := -1, 0
		for i, on := range o.on {
			if on != sp.on[i] {
				at = i
				n++
			}
		}
		if n == 1 {
			out[at] = true
		}
	}
	return out
}

// second is e^−logSecond.
var second = 0.24659696394160652

// oddsLeast is the least chance at which a statement is followed up in samples, and
// openLeast a gain below that.
const (
	oddsLeast = 0.001
	openLeast = -7.0
)

// mode works out an explanation. Its weight is that of itself and all that one
// more flip reaches, other explanations excepted.
func (m *model) mode(sp *space, list []*space) mode {
	m.d.check()
	room, keep := m.d.room, m.lasting
	defer room.back(room.mark())
	reached := sp.reached(list)
	d, n := m.dual, m.lay.drawn
	m.apply(sp.on)
	cuts := m.keepCuts(sp)
	d.solve()
	l := m.lay
	shown := l.layer
	mo := mode{weight: 1, prior: keep.copied(d.prior[:n]), on: slices.Clone(sp.on), sources: sp.sources}
	hp := m.spread(n)
	z, half := m.moments(hp, n)
	all := shown + len(cuts)
	wide := m.shown(half, n, all)
	mo.base = keep.take(all)
	copy(mo.base, l.fold(room.copied(d.mean[:n]))[:shown])
	scale := room.take(all)
	copy(scale, d.prior[:shown])
	w, along := room.take(d.r), room.take(n)
	for a, c := range cuts {
		h := d.row(c.row)
		mo.base[shown+a], scale[shown+a] = c.mean, c.cov[a]+c.own
		// cov(θ, f) = P·h − (H·P)ᵀ·Q·H·P·h
		root := d.x[c.row*d.n : (c.row+1)*d.n] // h·√P
		for i := range w {
			w[i] = dot(d.x[i*d.n:(i+1)*d.n], root)
		}
		for j := range n {
			along[j] = d.prior[j] * h[j]
		}
		for i := range w {
			numeric.AddScaled(along, -w[i], z[i*n:(i+1)*n])
		}
		for j, v := range l.fold(along)[:shown] {
			wide[j*all+shown+a], wide[(shown+a)*all+j] = v, v
		}
		copy(wide[(shown+a)*all+shown:], c.cov)
	}
	mo.cuts = m.cutsOf(cuts, wide, shown, all)
	mo.factor = m.factor(wide, scale, all)
	for i := range m.doubts {
		q := &m.doubts[i]
		if sp.on[i] || reached[i] {
			continue
		}
		gain := min(sp.gainFrom(m, openLeast, i), 50)
		chance := 1 / (1 + numeric.Exp(-gain))
		if chance < oddsLeast || q.row >= 0 && m.rows[q.row].group.over != 0 || without.Is(without.Explanations) {
			continue
		}
		mo.weight *= 1 + numeric.Exp(gain)
		mo.open = append(mo.open, m.opening(sp, cuts, i, chance, half, z))
	}
	mo.lower = mo.factor
	if len(sp.cens) > 0 {
		// With the rows that stand for what ran out of range.
		m.sites()
		z, half = m.moments(hp, n)
		mo.lower = m.factor(m.shown(half, n, shown), d.prior, shown)
	}
	mo.mean = l.fold(keep.copied(d.mean[:n]))[:shown]
	mo.z, mo.g, mo.s = m.folded(z, d.r, n), keep.copied(d.alpha), keep.take(d.r)
	for i := range d.r {
		mo.s[i] = d.q[i*d.r+i]
	}
	return mo
}

// spread is H·P of the drawn unknowns, r×n.
func (m *model) spread(n int) []float64 {
	d := m.dual
	for i := range d.r {
		h := d.row(i)
		for j := range n {
			m.spreads[i*n+j] = h[j] * d.prior[j]
		}
	}
	return m.spreads
}

// shown is the covariance of the unknowns that are shown, in room for all rows and
// columns; it holds until the next call.
func (m *model) shown(half []float64, n, all int) []float64 {
	wide, row := m.wide[:all*all], m.wide[all*all:all*all+n]
	for i := range m.lay.layer {
		copy(row, half[i*n:(i+1)*n])
		copy(wide[i*all:], m.lay.fold(row)[:m.lay.layer])
	}
	return wide
}

// keepCuts lists the displays out of range that samples are cut by; those that are
// taken as wrong, and those beyond mostCuts, are not.
func (m *model) keepCuts(sp *space) []censored {
	var out []censored
	var of []int
	for i := range sp.cens {
		if !sp.cens[i].dropped && len(out) < mostCuts {
			out, of = append(out, sp.cens[i]), append(of, i)
		}
	}
	for i := range out {
		cov := m.d.room.take(len(out))
		for j, k := range of {
			cov[j] = out[i].cov[k]
		}
		out[i].cov = cov
	}
	return out
}

// moments returns Q·H·P and the covariance of the unknowns that are shown with the
// drawn ones; they hold until the next call.
func (m *model) moments(hp []float64, n int) (z, half []float64) {
	d, l := m.dual, m.lay
	r := d.r
	z, half = m.weights, m.half
	times(z, d.q, hp, r, n)
	clear(half)
	for j := range n {
		half[j*n+j] = d.prior[j]
	}
	square(half, n, -1, hp, z, r, n)
	for i, pair := range l.layers { // rows are shown, columns are not
		row := half[(l.layer+i)*n : (l.layer+i+1)*n]
		floats.Add(half[pair[0]*n:(pair[0]+1)*n], row)
		floats.Sub(half[pair[1]*n:(pair[1]+1)*n], row)
	}
	return z, half[:l.layer*n]
}

// cutsOf takes the displays out of range one after the other: each by its own
// normal distribution, which the ones before have moved, as beyond.log does.
func (m *model) cutsOf(list []censored, wide []float64, n, all int) []cut {
	var out []cut
	w := m.d.room.copied(wide[n*all : all*all]) // the rows of the displays
	mean := m.d.room.take(len(list))
	for i := range list {
		mean[i] = list[i].mean
	}
	row := m.d.room.take(all)
	for i := range list {
		c := &list[i]
		copy(row, w[i*all:(i+1)*all])
		v := max(row[n+i], 1e-9)
		t := cut{sign: c.sign, bound: c.bound, own: c.own, mean: mean[i], all: v + c.own, follow: m.lasting.take(all)}
		for j := range all {
			t.follow[j] = row[j] / t.all
		}
		out = append(out, t)
		root := math.Sqrt(t.all)
		s := c.sign * (t.mean - c.bound) / root
		_, h := tail(s)
		shrink := h * (s + h) / t.all
		for j := range list {
			mean[j] += c.sign * row[n+j] * h / root
			numeric.AddScaled(w[j*all:(j+1)*all], -row[n+j]*shrink, row)
		}
	}
	return out
}

// opening works out what flipping doubt i does to a sample: with B the effect of a
// unit along its columns, the mean moves by B·(Δ⁻¹+S)⁻¹·g and the covariance grows
// by B·(Δ⁻¹+S)⁻¹·Bᵀ.
func (m *model) opening(sp *space, cuts []censored, i int, chance float64, half, z []float64) opening {
	q := &m.doubts[i]
	n := m.lay.layer
	drawn := m.lay.drawn
	all := n + len(cuts)
	defer m.d.room.back(m.d.room.mark())
	var b [2][]float64
	for j := range q.used {
		b[j] = m.d.room.take(all)
		for c := range cuts {
			b[j][n+c] = cuts[c].effect[q.cols[j]]
		}
		if q.row >= 0 {
			for c, v := range m.lay.fold(m.d.room.copied(z[q.row*drawn : (q.row+1)*drawn]))[:n] {
				b[j][c] = -v
			}
			continue
		}
		k := q.unknown[j]
		for c := range n {
			b[j][c] = half[c*drawn+k] / m.dual.prior[k]
		}
	}
	moved := m.lasting.take((1 + q.used) * all)
	o := opening{doubt: i, chance: chance, source: q.row < 0, shift: moved[:all:all]}
	for j := range q.used {
		o.noise[j] = moved[(1+j)*all : (2+j)*all]
	}
	var s [2][2]float64
	var g [2]float64
	for a := range q.used {
		g[a] = sp.g[q.cols[a]]
		for c := range q.used {
			s[a][c] = sp.s[q.cols[a]*sp.n+q.cols[c]]
		}
		s[a][a] += 1 / q.more[a]
	}
	if q.used == 1 {
		w := 1 / s[0][0]
		for c := range all {
			o.shift[c] = b[0][c] * w * g[0]
			o.noise[0][c] = b[0][c] * math.Sqrt(w)
		}
		return o
	}
	det := s[0][0]*s[1][1] - s[0][1]*s[1][0]
	w := [2][2]float64{{s[1][1] / det, -s[0][1] / det}, {-s[1][0] / det, s[0][0] / det}}
	l00 := math.Sqrt(w[0][0])
	l10 := w[1][0] / l00
	l11 := math.Sqrt(max(w[1][1]-l10*l10, 0))
	v := [2]float64{w[0][0]*g[0] + w[0][1]*g[1], w[1][0]*g[0] + w[1][1]*g[1]}
	for c := range all {
		o.shift[c] = b[0][c]*v[0] + b[1][c]*v[1]
		o.noise[0][c] = b[0][c]*l00 + b[1][c]*l10
		o.noise[1][c] = b[1][c] * l11
	}
	return o
}

// factor is the Cholesky factor of a covariance, by columns. Unknowns that are
// tied to rounding lose no more than a trillionth of their prior. It uses up a.
func (m *model) factor(a, prior []float64, n int) []float64 {
	for r := range n {
		row := a[r*n : (r+1)*n]
		for c := range r {
			row[c] = (row[c] - dot(row[:c], a[c*n:c*n+c])) / a[c*n+c]
		}
		row[r] = math.Sqrt(max(row[r]-dot(row[:r], row[:r]), 1e-12*prior[r]))
	}
	out := m.lasting.take(n * (n + 1) / 2)[:0]
	for c := range n {
		for r := c; r < n; r++ {
			out = append(out, a[r*n+c])
		}
	}
	return out
}

// wrongs is the chance of each row to be wrong.
func (m *model) wrongs(p *Posterior) []float64 {
	out := make([]float64, len(m.rows))
	for i := range p.modes {
		mo := &p.modes[i]
		for j, on := range mo.on {
			if r := m.doubts[j].row; on && r >= 0 {
				out[r] += mo.weight
			}
		}
		for j := range mo.open {
			if r := m.doubts[mo.open[j].doubt].row; r >= 0 {
				out[r] += mo.weight * mo.open[j].chance
			}
		}
	}
	return out
}
