package survey

import "math"

// climb flips what gains most, singly or in pairs, while anything gains; what is
// forbidden stays.
func (sp *space) climb(m *model, forbidden []bool, most int, pairs bool) {
	for range most {
		best, at := 0.01, -1
		single := m.single
		for i := range m.doubts {
			single[i] = math.Inf(-1)
			if forbidden != nil && forbidden[i] {
				continue
			}
			single[i] = sp.gainFrom(m, -pairReach, i)
			if single[i] > best {
				best, at = single[i], i
			}
		}
		if at >= 0 {
			sp.flip(m, at)
			continue
		}
		if !pairs {
			return
		}
		a, b := sp.pair(m, single, 0.01)
		if a < 0 {
			return
		}
		sp.flip(m, a)
		sp.flip(m, b)
	}
}

// pair finds the two doubts that gain most together, at least so much.
func (sp *space) pair(m *model, single []float64, least float64) (a, b int) {
	a, b = -1, -1
	if len(m.doubts) > tooManyPairs {
		return a, b
	}
	sc := newScan(m, sp)
	for i := range m.doubts {
		if single[i] < -pairReach {
			continue
		}
		sc.after(i)
		for j := range i {
			if single[j] < -pairReach || sc.bound(j) < least-scanRounds {
				continue
			}
			if g := sp.gainFrom(m, least, i, j); g > least {
				least, a, b = g, i, j
			}
		}
	}
	return a, b
}

// tooManyPairs is the number of doubts beyond which pairs are not tried: a line of
// hundreds of stations, all read.
const tooManyPairs = 400

// pairReach is how many nats a flip may lose alone and still be tried with another.
const pairReach = 8

// scanRounds is what the bounds of a scan may miss of a gain by rounding [nat].
const scanRounds = 1e-6

// scan bounds the gain of all pairs with one doubt: what is left of g and of the
// little of S that a second flip asks for, once the first is made.
type scan struct {
	m     *model
	sp    *space
	first int       // the doubt that is flipped
	gain  float64   // of its columns, without the prior
	g     []float64 // of each column
	diag  []float64 // S of each column with itself
	off   []float64 // S of the two columns of each doubt
}

func newScan(m *model, sp *space) *scan {
	n := sp.n
	all := m.scanned
	return &scan{m: m, sp: sp, g: all[:n], diag: all[n : 2*n], off: all[2*n:]}
}

// after makes the first flip.
func (c *scan) after(i int) {
	sp, n := c.sp, c.sp.n
	c.first, c.gain = i, 0
	copy(c.g, sp.g)
	for a := range c.diag {
		c.diag[a] = sp.s[a*n+a]
	}
	for j := range c.m.doubts {
		if q := &c.m.doubts[j]; q.used == 2 {
			c.off[j] = sp.s[q.cols[0]*n+q.cols[1]]
		}
	}
	if sp.censoredOf(c.m, i) >= 0 {
		return
	}
	q := &c.m.doubts[i]
	more := sp.delta(c.m, i)
	one := sp.s[q.cols[0]*n : (q.cols[0]+1)*n]
	f := c.add(more[0], c.g[q.cols[0]], c.diag[q.cols[0]])
	if math.IsInf(c.gain, -1) {
		return
	}
	g := c.g[q.cols[0]]
	for a, x := range one {
		c.g[a] -= f * x * g
		c.diag[a] -= f * x * x
	}
	for j := range c.m.doubts {
		if o := &c.m.doubts[j]; o.used == 2 {
			c.off[j] -= f * one[o.cols[0]] * one[o.cols[1]]
		}
	}
	if q.used == 1 {
		return
	}
	between := f * one[q.cols[1]]
	two := sp.s[q.cols[1]*n : (q.cols[1]+1)*n]
	g = c.g[q.cols[1]]
	if f = c.add(more[1], g, c.diag[q.cols[1]]); math.IsInf(c.gain, -1) {
		return
	}
	for a, y := range two {
		x := y - between*one[a]
		c.g[a] -= f * x * g
		c.diag[a] -= f * x * x
	}
	for j := range c.m.doubts {
		if o := &c.m.doubts[j]; o.used == 2 {
			a, b := o.cols[0], o.cols[1]
			c.off[j] -= f * (two[a] - between*one[a]) * (two[b] - between*one[b])
		}
	}
}

// add counts a column and returns the variance that it gains over what it is then.
func (c *scan) add(more, g, s float64) float64 {
	den := 1 + more*s
	if !(den > 1e-9) {
		c.gain = math.Inf(-1)
		return 0
	}
	c.gain += 0.5*more*g*g/den - 0.5*math.Log(den)
	return more / den
}

// bound is no less than the gain of both flips, but for rounding. A variance that
// grows only costs by its logarithm, which is left out.
func (c *scan) bound(j int) float64 {
	sp := c.sp
	list := [2]int{c.first, j}
	out := c.gain + sp.priorGain(c.m, list[:]) - sp.censLog
	if sp.censoredOf(c.m, j) >= 0 {
		return out
	}
	q := &c.m.doubts[j]
	more := sp.delta(c.m, j)
	g, s := c.g[q.cols[0]], c.diag[q.cols[0]]
	den := 1 + more[0]*s
	if !(den > 1e-9) {
		return math.Inf(1) // the gain itself decides
	}
	out += 0.5 * more[0] * g * g / den
	if more[0] < 0 {
		out -= 0.5 * math.Log(den)
	}
	if q.used == 2 {
		f := more[0] * c.off[j] / den
		g2, s2 := c.g[q.cols[1]]-f*g, c.diag[q.cols[1]]-f*c.off[j]
		den = 1 + more[1]*s2
		if !(den > 1e-9) {
			return math.Inf(1)
		}
		out += 0.5 * more[1] * g2 * g2 / den
		if more[1] < 0 {
			out -= 0.5 * math.Log(den)
		}
	}
	return out
}
