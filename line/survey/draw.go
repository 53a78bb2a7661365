package survey

import (
	"math"
	"math/bits"
	"sync"

	"gonum.org/v1/gonum/floats"

	"example.org/pithball/internal/counter"
	"example.org/pithball/internal/numeric"
)

// draws is the number of posterior samples behind bands and chances: the standard
// error of a chance near 90 % is 1.3 %, less with mirrored pairs.
const draws = 512

// drawSeed is the stream of the samples behind a diagnosis.
const drawSeed = 1

// sample draws from the posterior.
func (d *Diagnosis) sample() {
	n := d.posterior.Len()
	all := d.lasting.take(draws * n)
	d.samples = make([][]float64, draws)
	for i := range d.samples {
		d.samples[i] = all[i*n : (i+1)*n]
	}
	drawing := d.begin("drawing samples", draws/2)
	for i := range draws / 2 {
		d.check()
		drawing.Next()
		d.posterior.draw(d.samples[2*i], d.samples[2*i+1], 1, drawSeed, uint64(i))
	}
}

// room is for a sample while it is drawn.
var room = sync.Pool{New: func() any { return new([]float64) }}

// draw writes a sample into dst, on the side of its mean that sign says, and, if it
// is not nil, the one that mirrors it into other.
func (p *Posterior) draw(dst, other []float64, sign float64, seed, pair uint64) {
	m := &p.modes[p.modeOf(seed, 2*pair)]
	n, all := len(p.unknowns), len(m.base)
	g := counter.Stream{Seed: seed, At: pair * uint64(2*all+2*len(m.open)+len(m.cuts)+4)}
	buffer := room.Get().(*[]float64)
	defer room.Put(buffer)
	if cap(*buffer) < 4*all {
		*buffer = make([]float64, 4*all)
	}
	mean, away := (*buffer)[:all], (*buffer)[all:2*all]
	tails := (*buffer)[2*all : 4*all-2*n] // displays out of range
	copy(mean, m.base)
	clear(away)
	m.spread(away, &g)
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
		z := [2]float64{g.Normal(), g.Normal()}
		floats.Add(mean, o.shift)
		for k, noise := range o.noise {
			if noise != nil {
				numeric.AddScaled(away, z[k], noise)
			}
		}
	}
	out := [2]sample{{dst, tails[:all-n], sign}, {other, tails[all-n:], -sign}}
	sides := out[:1]
	if other != nil {
		sides = out[:]
	}
	for i := range sides {
		s := &sides[i]
		for k := range s.x {
			s.x[k] = mean[k] + s.side*away[k]
		}
		for k := range s.tail {
			s.tail[k] = mean[n+k] + s.side*away[n+k]
		}
	}
	for j := range m.cuts {
		z := g.Normal()
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

// spread adds the factor times standard normal numbers, column by column: four of them at
// a time, to the same bits.
func (m *mode) spread(away []float64, g *counter.Stream) {
	f := m.factor // the triangle is kept by columns
	for len(away) >= 4 {
		n := len(away)
		x0, x1, x2, x3 := f[:n], f[n:2*n-1], f[2*n-1:3*n-3], f[3*n-3:4*n-6]
		f = f[4*n-6:]
		z := [4]float64{g.Normal(), g.Normal(), g.Normal(), g.Normal()}
		away[0] += float64(z[0] * x0[0])
		away[1] = away[1] + float64(z[0]*x0[1]) + float64(z[1]*x1[0])
		away[2] = away[2] + float64(z[0]*x0[2]) + float64(z[1]*x1[1]) + float64(z[2]*x2[0])
		numeric.AddFour(away[3:], z, x0[3:], x1[2:], x2[1:], x3)
		away = away[4:]
	}
	for ; len(away) > 0; away = away[1:] {
		numeric.AddScaled(away, g.Normal(), f)
		f = f[len(away):]
	}
}

// sample is one side of a mirrored pair while it is drawn.
type sample struct {
	x, tail []float64
	side    float64 // of the mean
}

// cut moves a sample to where a display that ran out of its range can be: its score
// z keeps its place among what is left, Q(z′) = Q(a)·Q(z) with the upper tail Q and
// the bound's score a.
func (s *sample) cut(c *cut, tail int, noise float64) {
	root := math.Sqrt(c.all)
	shown := s.tail[tail] + math.Sqrt(c.own)*noise
	z := c.sign * (shown - c.mean) / root
	a := min(c.sign*(c.bound-c.mean)/root, 30)
	upper := func(x float64) float64 { return 0.5 * numeric.Erfc(x/math.Sqrt2) }
	to := math.Sqrt2 * math.Erfcinv(2*upper(a)*upper(z))
	if a < -8 || math.IsInf(to, 0) {
		return // it always is, or the score is beyond all numbers
	}
	f := c.sign * (to - z) * root
	numeric.AddScaled(s.x, f, c.follow[:len(s.x)])
	numeric.AddScaled(s.tail, f, c.follow[len(s.x):])
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
