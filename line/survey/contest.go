package survey

import (
	"math"
	"slices"

	"example.org/pithball/line/survey/internal/without"
)

// contest is how the samples rank what could be the source: stations and spans.
type contest struct {
	stations []int // with contacts
	spans    []span
	item     []int       // of each change its station here, -1 for a bar
	unlisted int         // first unknown of the spans
	size     [][]float64 // [draw][station then span] largest change of a face [µC/m²]
	top      []int       // of each draw the largest
	weight   []float64   // of each draw
	total    float64
	spot     []float64 // of each draw its weight by the scatter of spots; nil: none was heard
}

func (d *Diagnosis) contest(samples [][]float64) *contest {
	c := d.newContest()
	if d.spots != nil {
		c.spot = d.spots[:len(samples)]
	}
	n := len(c.stations) + len(c.spans)
	all := d.room.take(n * len(samples))
	c.size, c.top = make([][]float64, 0, len(samples)), make([]int, 0, len(samples))
	c.weight = d.room.take(len(samples))[:0]
	for i, s := range samples {
		b := all[i*n : (i+1)*n]
		top := c.rank(b, s)
		w := rarity(b, top) * d.spot(i)
		c.size, c.top, c.weight, c.total = append(c.size, b), append(c.top, top), append(c.weight, w), c.total+w
	}
	return c
}

func (d *Diagnosis) newContest() *contest {
	l := d.model.lay
	c := &contest{spans: l.spans, unlisted: l.unlisted}
	for k, u := range l.changes {
		i := -1
		if !l.bar[k] {
			if i = slices.Index(c.stations, u.Station); i < 0 {
				i = len(c.stations)
				c.stations = append(c.stations, u.Station)
			}
		}
		c.item = append(c.item, i)
	}
	return c
}

// rank writes the largest change of a face by each item in a sample and returns
// which one is the largest.
func (c *contest) rank(dst, sample []float64) (top int) {
	clear(dst)
	for k, i := range c.item {
		if i >= 0 {
			dst[i] = max(dst[i], math.Abs(sample[k]))
		}
	}
	for j := range c.spans {
		u := c.unlisted + 2*j
		dst[len(c.stations)+j] = max(math.Abs(sample[u]), math.Abs(sample[u+1]))
	}
	for j, x := range dst {
		if x > dst[top] {
			top = j
		}
	}
	return top
}

// rarity is the weight of a sample: sources of like size are rare, each beyond the
// first counts so much less.
func rarity(size []float64, top int) float64 { // [1]
	w := 1.0
	if without.Is(without.RareSecond) {
		return w
	}
	for j, x := range size {
		if j != top && x > likeSize*size[top] {
			w *= rareSecond
		}
	}
	return w
}

// Sources of like size on one line are rare: the description speaks of each contact
// by itself and does not say so.
const (
	likeSize   = 0.4
	rareSecond = 0.1
)

// win is the share of samples in which item j is the largest.
func (c *contest) win(j int) float64 {
	var n float64
	for i, t := range c.top {
		if t == j {
			n += c.weight[i]
		}
	}
	return n / c.total
}

// holds is the share of samples in which one of the set is the largest, and in
// which it is larger than everything else by standOut and above the limit; this is
// worked out only where the first is more than least.
func (c *contest) holds(set []int, limit, least float64) (p, clear float64) {
	member := c.mask(set)
	for i, t := range c.top {
		if member[t] {
			p += c.weight[i]
		}
	}
	if p /= c.total; p <= least {
		return p, 0
	}
	for i, b := range c.size {
		in, out := b[c.top[i]], 0.0
		if !member[c.top[i]] || !(in > limit) {
			continue
		}
		for j, x := range b {
			if !member[j] {
				out = max(out, x)
			}
		}
		if in > standOut*out {
			clear += c.weight[i]
		}
	}
	return p, clear / c.total
}

// shared is the chance that two of the set are above the limit and of like size.
func (c *contest) shared(set []int, limit float64) float64 {
	var n float64
	for i, b := range c.size {
		if like(b, set, limit) {
			n += c.weight[i]
		}
	}
	return n / c.total
}

// likely is shared by the readings alone, however rare two sources of like size are.
func (c *contest) likely(set []int, limit float64) float64 {
	var n, all float64
	for i, b := range c.size {
		all += c.spotOf(i)
		if like(b, set, limit) {
			n += c.spotOf(i)
		}
	}
	return n / all
}

// like reports whether two of the set are above the limit and of like size in a sample.
func like(size []float64, set []int, limit float64) bool {
	first, second := 0.0, 0.0
	for _, j := range set {
		if x := size[j]; x > first {
			first, second = x, first
		} else {
			second = max(second, x)
		}
	}
	return second > limit && second > likeSize*first
}

func (c *contest) mask(set []int) []bool {
	m := make([]bool, len(c.stations)+len(c.spans))
	for _, j := range set {
		m[j] = true
	}
	return m
}

// owned adds to stations the spans that touch them.
func (c *contest) owned(stations []int) []int {
	out := slices.Clone(stations)
	for j, s := range c.spans {
		for _, i := range stations {
			if st := c.stations[i]; s.from <= st && st <= s.to {
				out = append(out, len(c.stations)+j)
				break
			}
		}
	}
	return out
}

// pair is the share of samples in which each of two sets holds a source above the
// limit, of like size, and nothing else comes near.
func (c *contest) pair(a, b []int, limit float64) float64 {
	var out, total float64
	inSet, inOther := c.mask(a), c.mask(b)
	for i, size := range c.size {
		x, y, rest := 0.0, 0.0, 0.0
		top := slices.Max(size)
		weight := c.spotOf(i) // two are given here: what is rare is a third
		for k, v := range size {
			inA, inB := inSet[k], inOther[k]
			switch {
			case inA && !inB:
				x = max(x, v)
			case inB && !inA:
				y = max(y, v)
			case !inA:
				rest = max(rest, v)
				if v > likeSize*top {
					weight *= rareSecond
				}
			}
		}
		total += weight
		if lo, hi := min(x, y), max(x, y); lo > limit && hi < likeEnough*lo && lo > standOut*rest {
			out += weight
		}
	}
	return out / total
}

// likeEnough is the ratio up to which two sources are of like size.
const likeEnough = 2.5
