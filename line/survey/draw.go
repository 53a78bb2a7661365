package survey

import (
	"math"
	"math/bits"

	"example.org/pithball/internal/counter"
)

// draw writes a sample into dst, on the side of its mean that sign says, and, if it
// is not nil, the one that mirrors it into other.
func (p *Posterior) draw(dst, other []float64, sign float64, seed, pair uint64) {
	m := &p.modes[p.modeOf(seed, 2*pair)]
	n, all := len(p.unknowns), len(m.base)
	g := counter.Stream{Seed: seed, At: pair * uint64(2*all+2*len(m.open)+len(m.cuts)+4)}
	var tails [2][mostCuts]float64 // displays out of range
	out := [2]sample{{dst, tails[0][:all-n], 1}, {other, tails[1][:all-n], -1}}
	sides := out[:1]
	if other != nil {
		sides = out[:]
	}
	for i := range sides {
		copy(sides[i].x, m.base)
		copy(sides[i].tail, m.base[n:])
	}
	at := 0
	for c := range all { // the triangle is kept by columns
		z := sign * g.Normal()
		for i := range sides {
			sides[i].add(c, m.factor[at:at+all-c], z*sides[i].side)
		}
		at += all - c
	}
	sources := m.sources
	for j := range m.open {
		o := &m.open[j]
		chance := o.chance
		if o.source && sources > m.sources && sources > 0 {
			chance *= second / (1 - chance + second*chance)
		}
		if counter.Uniform(seed^0xE7037ED1A0B428DB, g.At+uint64(j)) >= chance {
			continue
		}
		if o.source {
			sources++
		}
		z := [2]float64{sign * g.Normal(), sign * g.Normal()}
		for i := range sides {
			sides[i].add(0, o.shift, 1)
			for k, noise := range o.noise {
				sides[i].add(0, noise, z[k]*sides[i].side)
			}
		}
	}
	for j := range m.cuts {
		z := sign * g.Normal()
		for i := range sides {
			sides[i].cut(&m.cuts[j], j, z*sides[i].side)
		}
	}
	// From the lanes that were read to the mean of the web.
	before := 0.0
	for c := range p.changes {
		stripe := g.Normal()
		if c > 0 && p.unknowns[c].Station == p.unknowns[c-1].Station {
			stripe = p.common*before + math.Sqrt(1-p.common*p.common)*stripe
		}
		before = stripe
		z := 1 + p.lanes*stripe // the same on both sides: the mirror image stays one
		dst[c] *= z
		if other != nil {
			other[c] *= z
		}
	}
}

// sample is one side of a mirrored pair while it is drawn.
type sample struct {
	x, tail []float64
	side    float64
}

// add adds f·y from unknown c on; y runs on into the tail.
func (s *sample) add(c int, y []float64, f float64) {
	if c < len(s.x) {
		k := min(len(s.x)-c, len(y))
		addTo(s.x[c:], y[:k], f)
		c, y = len(s.x), y[k:]
	}
	if len(y) > 0 {
		addTo(s.tail[c-len(s.x):], y, f)
	}
}

// cut moves a sample to where a display that ran out of its range can be: its score
// z keeps its place among what is left, Q(z′) = Q(a)·Q(z) with the upper tail Q and
// the bound's score a.
func (s *sample) cut(c *cut, tail int, noise float64) {
	root := math.Sqrt(c.all)
	shown := s.tail[tail] + math.Sqrt(c.own)*noise
	z := c.sign * (shown - c.mean) / root
	a := min(c.sign*(c.bound-c.mean)/root, 30)
	upper := func(x float64) float64 { return 0.5 * math.Erfc(x/math.Sqrt2) }
	to := math.Sqrt2 * math.Erfcinv(2*upper(a)*upper(z))
	if a < -8 || math.IsInf(to, 0) {
		return // it always is, or the score is beyond all numbers
	}
	s.add(0, c.follow, c.sign*(to-z)*root)
}

func addTo(x, y []float64, f float64) {
	for i, v := range y {
		x[i] += v * f
	}
}

// modeOf is the explanation that sample i is drawn from: they come at even
// quantiles, by the radical inverse of the pair's number.
func (p *Posterior) modeOf(seed, i uint64) int {
	u := float64(bits.Reverse64(i/2)>>11)*0x1p-53 + counter.Uniform(seed^0xA0761D6478BD642F, 0)
	u -= math.Floor(u)
	k := 0
	for k+1 < len(p.modes) && u >= p.sum[k] {
		k++
	}
	return k
}
