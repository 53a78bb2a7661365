package survey

import (
	"math"

	"example.org/pithball/internal/numeric"
)

// censored is a row that ran out of the meter's range, seen from what the rows in
// range say: its display is normal with mean and covariance as given, and is at
// least the bound.
type censored struct {
	row     int
	sign    float64
	bound   float64   // [V]
	own     float64   // [V²]
	mean    float64   // [V] expected by the rows in range
	cov     []float64 // [V²] with the other censored rows, without own
	effect  []float64 // of a unit along each column of the doubts [V]
	dropped bool      // taken as wrong
}

// censored sees the rows out of range from the present solution, in which they say
// nothing, and works out what each column of the doubts does to them.
func (m *model) censored(unknowns, rows []int) []censored {
	d := m.dual
	var out []censored
	var u, hp [][]float64
	room := m.d.room
	all := len(m.hidden.mean)
	p := room.take(d.n)
	for i := range m.rows {
		r := &m.rows[i]
		if r.group == nil || r.group.over == 0 {
			continue
		}
		h := d.row(i)
		w := room.take(d.r)
		for j := range p {
			p[j] = h[j] * d.prior[j]
		}
		for k := range w {
			w[k] = dot(d.row(k), p)
		}
		q := room.take(d.r)
		for k := range q {
			q[k] = dot(d.q[k*d.r:(k+1)*d.r], w)
		}
		u, hp = append(u, q), append(hp, w)
		c := censored{row: i, sign: r.group.over, bound: r.bound, own: r.own, mean: dot(h, d.mean), dropped: r.bad,
			effect: room.take(len(unknowns) + len(rows))[:0], cov: room.take(all)[:0]}
		for _, k := range unknowns {
			c.effect = append(c.effect, h[k])
		}
		for _, k := range rows {
			c.effect = append(c.effect, -q[k])
		}
		out = append(out, c)
	}
	for a := range out {
		for j, k := range unknowns {
			var s float64
			for i := range d.r {
				s += d.h[i*d.n+k] * u[a][i]
			}
			out[a].effect[j] -= s
		}
		h := d.row(out[a].row)
		for b := range out {
			var s float64
			o := d.row(out[b].row)
			for j := range h {
				s += h[j] * d.prior[j] * o[j]
			}
			out[a].cov = append(out[a].cov, s-dot(hp[a], u[b]))
		}
	}
	return out
}

// censoredOf is the index of the censored row that a doubt is about, -1.
func (sp *space) censoredOf(m *model, doubt int) int {
	if row := m.doubts[doubt].row; row >= 0 && len(sp.cens) > 0 {
		return m.rows[row].hidden
	}
	return -1
}

// beyond is the joint normal distribution of what ran out of range, to try what
// flips do to it.
type beyond struct {
	mean    []float64
	cov     []float64
	dropped []bool
	used    [4][]float64
}

// beyond is that of the space as it stands; it holds until the next one is made.
func (sp *space) beyond(m *model) *beyond {
	n := len(sp.cens)
	b := &m.hidden
	for i := range sp.cens {
		c := &sp.cens[i]
		b.mean[i], b.dropped[i] = c.mean, c.dropped
		copy(b.cov[i*n:(i+1)*n], c.cov)
	}
	return b
}

// move adds what a flip along one column does: effect times w·g to the mean, and
// effect times effect times w to the covariance.
func (b *beyond) move(effect []float64, w, g float64) {
	n := len(b.mean)
	for i, e := range effect {
		b.mean[i] += e * w * g
		for j, f := range effect {
			b.cov[i*n+j] += e * w * f
		}
	}
}

func (b *beyond) keep(list []censored) {
	n := len(list)
	for i := range list {
		list[i].mean = b.mean[i]
		copy(list[i].cov, b.cov[i*n:(i+1)*n])
	}
}

// log is the logarithm of the chance that all displays leave their range as they
// did: one after the other, each by its own normal distribution, which the ones
// before have moved (moment matching). With ζ = ±(mean − bound)/√(v + own) and
// Λ = φ(ζ)/Φ(ζ) the mean of another row moves by cov·Λ/√(v+own) and its variance
// falls by cov²·Λ(ζ+Λ)/(v+own). sites, if not nil, takes the ordinary row that does
// the same as each. It uses up b.
func (b *beyond) log(list []censored, sites func(row int, value, variance float64)) float64 {
	n := len(list)
	var out float64
	for i := range list {
		c := &list[i]
		if b.dropped[i] {
			out += math.Ln2 * -1 // what a wrong display says of its range
			if sites != nil {
				sites(c.row, c.bound, unheard)
			}
			continue
		}
		v := max(b.cov[i*n+i], 1e-9)
		all := v + c.own
		root := math.Sqrt(all)
		z := c.sign * (b.mean[i] - c.bound) / root
		log, h := tail(z)
		out += log
		w := h * (z + h) / all
		if sites != nil {
			// 1/(v + V) = w, and the mean moves by ±vΛ/root.
			variance := min(max(1/max(w, 1e-300)-v, 1e-6*all), unheard)
			sites(c.row, b.mean[i]+c.sign*h/root*(v+variance), variance)
		}
		ci := b.cov[i*n : (i+1)*n]
		for j := i + 1; j < n; j++ {
			b.mean[j] += c.sign * ci[j] * h / root
			for k := i + 1; k < n; k++ {
				b.cov[j*n+k] -= ci[j] * ci[k] * w
			}
		}
	}
	return out
}

// tail is ln Φ(z) and φ(z)/Φ(z), by their asymptotes where Φ loses its digits.
func tail(z float64) (log, mills float64) {
	if z < -8 {
		a := -z
		return -z*z/2 - math.Log(a*math.Sqrt(2*math.Pi)), a + 1/a - 2/(a*a*a)
	}
	phi := 0.5 * numeric.Erfc(-z/math.Sqrt2)
	return math.Log(phi), numeric.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / phi
}
