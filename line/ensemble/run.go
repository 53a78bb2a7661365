package ensemble

import (
	"fmt"
	"math"
	"runtime"
	"sort"
	"sync"
	"sync/atomic"

	"example.org/pithball/internal/counter"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Spread is the net charge density behind each step, of many lines.
type Spread struct {
	Lines     int         // that were walked
	Chances   []float64   // [1] of the quantiles
	Quantiles [][]float64 // by step, then by chance [C/m²]
	// Over is the share of the lines whose net is over the limit behind each step [1].
	Over []float64
}

// block is the number of lines that share a random stream and that one goroutine walks
// at a time: its columns stay in the cache.
const block = 4096

// MostLines is the greatest number of lines of one run.
const MostLines = 1 << 30

// Run walks n lines, 2 … [MostLines], and returns exact quantiles of all of them at the given
// chances [1], and how many are over the limit; a limit of 0 asks for none. The
// quantile p is that at place p·(n−1) of the sorted values, between two of them in
// proportion (type 7 of Hyndman and Fan, Am. Stat. 50 (1996) 361). It does not keep the
// lines: a first part of them says where the quantiles lie, the rest are counted and only
// those near a quantile are kept.
func (l *Lines) Run(n int, seed uint64, limit units.SurfaceChargeDensity, chances ...float64) (*Spread, error) {
	if n < 2 || n > MostLines {
		return nil, known.Wrong("lines", n, fmt.Sprintf("2 … %d", MostLines))
	}
	for _, p := range chances {
		if !(p >= 0 && p <= 1) {
			return nil, known.Wrong("chances", p, "0 … 1")
		}
	}
	if err := known.InRange("limit", limit, 0, mostCharge); err != nil {
		return nil, err
	}
	source := func(b int) func([]float64) {
		at := uint64(b) * block * uint64(l.draws)
		return func(dst []float64) {
			counter.Normals(dst, seed, at)
			at += block
		}
	}
	return l.run(n, source, float64(limit), chances), nil
}

// run is Run with the normal scores that a source gives for each block.
func (l *Lines) run(n int, source func(block int) func([]float64), limit float64, chances []float64) *Spread {
	s := &Spread{Lines: n, Chances: chances, Over: make([]float64, len(l.steps))}
	blocks := (n + block - 1) / block
	// The first blocks tell where the quantiles lie: 4.5 standard errors of their rank.
	m := min(n, 3*block)
	first := make([][]float64, len(l.steps))
	for j := range first {
		first[j] = make([]float64, 0, m)
	}
	c := newColumns(l)
	for b := 0; b*block < m; b++ {
		c.walk(min(block, n-b*block), source(b), func(j int, net []float64) { first[j] = append(first[j], net...) })
	}
	all := make([]bins, len(l.steps))
	for j := range all {
		sort.Float64s(first[j])
		all[j].place(first[j], chances)
		if m < n {
			all[j].clear()
			continue
		}
		s.Quantiles = append(s.Quantiles, sorted(first[j], chances))
		s.Over[j] = over(first[j], limit) / float64(n)
	}
	if m == n {
		return s
	}
	for {
		l.count(n, blocks, source, limit, all, s.Over)
		missed := false
		for j := range all {
			missed = all[j].missed(n, chances) || missed
		}
		if !missed {
			break
		}
		for j := range all {
			all[j].clear()
		}
	}
	for j := range all {
		s.Quantiles = append(s.Quantiles, all[j].quantiles(n, chances))
		s.Over[j] /= float64(n)
	}
	return s
}

// count walks all blocks and adds them up, one goroutine for each processor.
func (l *Lines) count(n, blocks int, source func(int) func([]float64), limit float64, all []bins, over []float64) {
	var next atomic.Int64
	var mu sync.Mutex
	var wg sync.WaitGroup
	clear(over)
	workers := min(runtime.GOMAXPROCS(0), blocks)
	for range workers {
		wg.Go(func() {
			c := newColumns(l)
			mine := make([]bins, len(all))
			for j := range mine {
				mine[j] = all[j]
				mine[j].clear()
				mine[j].kept = make([]float64, 0, all[j].likely(n)/workers+block)
			}
			beyond := make([]int, len(all))
			for {
				b := int(next.Add(1)) - 1
				if b >= blocks {
					break
				}
				c.walk(min(block, n-b*block), source(b), func(j int, net []float64) {
					mine[j].add(net)
					if limit > 0 {
						beyond[j] += beyondLimit(net, limit)
					}
				})
			}
			mu.Lock()
			defer mu.Unlock()
			for j := range all {
				all[j].merge(&mine[j])
				over[j] += float64(beyond[j])
			}
		})
	}
	wg.Wait()
}

func over(x []float64, limit float64) float64 { // [1]
	if limit <= 0 {
		return 0
	}
	return float64(beyondLimit(x, limit))
}

func beyondLimit(x []float64, limit float64) (n int) {
	for _, v := range x {
		n += b2i(math.Abs(v) > limit)
	}
	return n
}

// columns are the numbers of a block of lines.
type columns struct {
	l         *Lines
	face      [2][]float64
	rate      []float64
	w, v, net []float64
	keep      [][]float64 // by way of its own
}

func newColumns(l *Lines) *columns {
	c := &columns{l: l}
	for _, p := range []*[]float64{&c.face[0], &c.face[1], &c.rate, &c.w, &c.v, &c.net} {
		*p = make([]float64, block)
	}
	for i := range l.steps {
		if t := &l.steps[i]; t.kind == way && t.same < 0 {
			c.keep = append(c.keep, make([]float64, block))
		}
	}
	return c
}

// draw fills dst with a band: b.At of fresh scores.
func draw(dst []float64, b known.Band, spreads bool, scores func([]float64)) {
	if !spreads {
		for i := range dst {
			dst[i] = b.Value
		}
		return
	}
	scores(dst)
	switch b.Kind {
	case known.LogNormal:
		for i := range dst {
			dst[i] *= b.Spread
		}
		numeric.ExpTo(dst, dst)
		for i := range dst {
			dst[i] *= b.Value
		}
	case known.Normal:
		for i := range dst {
			dst[i] = b.Value + b.Spread*dst[i]
		}
	default:
		for i := range dst {
			dst[i] = b.At(dst[i])
		}
	}
}

// walk takes n lines through all steps; after each one out sees their net.
func (c *columns) walk(n int, scores func([]float64), out func(step int, net []float64)) {
	l := c.l
	fa, fb := c.face[0][:n], c.face[1][:n]
	rate, w, v, net := c.rate[:n], c.w[:n], c.v[:n], c.net[:n]
	clear(fa)
	clear(fb)
	draw(rate, l.spec.Humidity, drawn(l.spec.Humidity), scores)
	c.rates(rate)
	for i := range l.steps {
		t := &l.steps[i]
		face := fa
		if t.face == 1 {
			face = fb
		}
		face = face[:n]
		switch t.kind {
		case contact:
			draw(w, t.strength, t.strengthDrawn, scores)
			draw(v, t.n, t.nDrawn, scores)
			for k, x := range v {
				v[k] = -max(x, 0)
			}
			numeric.ExpTo(v, v)
			top := t.top
			for k, s := range w {
				face[k] = min(max(s+(face[k]-s)*v[k], -top), top)
			}
		case way:
			keep := c.kept(t, rate)
			for k, x := range keep {
				fa[k] *= x
				fb[k] *= x
			}
		case ioniser:
			top, share := t.top, t.share
			for k := range face {
				face[k] -= min(max(share*(fa[k]+fb[k]), -top), top)
			}
		}
		for k := range net {
			net[k] = fa[k] + fb[k]
		}
		out(i, net)
	}
}

// rates turns humidities into the reciprocals of leak times, and all that is kept on the
// ways of the line.
func (c *columns) rates(rate []float64) {
	k := c.l.spec.Leak
	if k == nil {
		clear(rate)
	} else {
		lo, hi := float64(c.l.spec.Driest), float64(c.l.spec.Dampest)
		per := math.Ln10 * k.Decades * 100
		for i, rh := range rate {
			rate[i] = per * (min(max(rh, lo), hi) - float64(k.At))
		}
		numeric.ExpTo(rate, rate)
		for i := range rate {
			rate[i] /= float64(k.Time)
		}
	}
	for i := range c.l.steps {
		if t := &c.l.steps[i]; t.kind == way && t.same < 0 {
			keep := c.keep[-1-t.same][:len(rate)]
			for j, r := range rate {
				keep[j] = -t.time * r
			}
			numeric.ExpTo(keep, keep)
		}
	}
}

func (c *columns) kept(t *step, rate []float64) []float64 {
	if t.same >= 0 {
		return c.keep[t.same][:len(rate)]
	}
	return c.keep[-1-t.same][:len(rate)]
}
