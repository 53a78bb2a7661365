package cure

import (
	"cmp"
	"hash/fnv"
	"math"
	"runtime"
	"slices"
	"sync"

	"example.org/pithball/internal/counter"
	"example.org/pithball/units/known"
)

// Draws is the number of lines behind each answer: the 5 and 95 % quantiles are then
// known to 0.5 % of their probability. One more line, the middle, has the median of
// everything.
const Draws = 2000

// seed is the stream of all draws but those of the posterior.
const seed = 0x5DEECE66D

// column is one number of each draw, the middle last.
type column []float64

// same is a column of one value.
func same(x float64) column {
	c := make(column, Draws+1)
	for i := range c {
		c[i] = x
	}
	return c
}

// chances are uniform in 0 … 1, one in each of [Draws] equal parts in an order of
// their own (a Latin hypercube: what depends on a sum of them varies less from stream
// to stream), 0.5 for the middle.
func chances(quantity, station string) column {
	s := streamOf(quantity, station)
	key, order := make(column, Draws), make([]int, Draws)
	for i := range key {
		key[i], order[i] = counter.Uniform(s, uint64(i)), i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(key[a], key[b]) })
	c := make(column, Draws+1)
	for rank, i := range order {
		c[i] = (float64(rank) + counter.Uniform(s, uint64(Draws+i))) / Draws
	}
	c[Draws] = 0.5
	return c
}

// scores are standard normal, by the quantity and the name of the station, 0 for the
// middle.
func scores(quantity, station string) column {
	c := chances(quantity, station)
	for i, u := range c {
		c[i] = math.Sqrt2 * math.Erfinv(2*u-1)
	}
	return c
}

func streamOf(quantity, station string) uint64 {
	h := fnv.New64a()
	_, _ = h.Write([]byte(quantity + "\x00" + station)) // never fails
	return h.Sum64() ^ seed
}

// drawn is a band at the scores of a quantity of a station.
func drawn(b known.Band, quantity, station string) column {
	c := scores(quantity, station)
	for i, z := range c {
		c[i] = b.At(z)
	}
	return c
}

// times is the product of two columns.
func (c column) times(d column) column {
	out := slices.Clone(c)
	for i := range out {
		out[i] *= d[i]
	}
	return out
}

// Quantiles are the 5, 50 and 95 % quantiles of a number.
type Quantiles [3]float64 // [unit of the field]

// quantiles sorts x and interpolates between its order statistics.
func quantiles(x []float64) (q Quantiles) {
	slices.Sort(x)
	for i, p := range [3]float64{0.05, 0.5, 0.95} {
		at := p * float64(len(x)-1)
		k := int(at)
		q[i] = x[k] + (at-float64(k))*(x[k+1]-x[k])
	}
	return q
}

// inParts runs f on parts of 0 … n at once. What f does to one index must not
// depend on the others.
func inParts(n int, f func(lo, hi int)) {
	parts := min(runtime.GOMAXPROCS(0), n)
	if parts <= 1 {
		f(0, n)
		return
	}
	var wg sync.WaitGroup
	for p := range parts {
		wg.Go(func() { f(p*n/parts, (p+1)*n/parts) })
	}
	wg.Wait()
}

// shareOf is the share of draws for which ok holds, the middle apart. [1]
func shareOf(n int, ok func(i int) bool) float64 {
	k := 0
	for i := range n {
		if ok(i) {
			k++
		}
	}
	return float64(k) / float64(n)
}

func sq(x float64) float64 { return x * x }

// spreadFactor is a lognormal band of which 90 % lie between median/f and median·f.
func spreadFactor(median, f float64) known.Band {
	return known.Band{Value: median, Spread: math.Log(f) / known.Z95, Kind: known.LogNormal}
}
