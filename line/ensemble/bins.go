package ensemble

import (
	"math"
	"slices"
)

// bins count values in equal parts of a range and keep those of the parts in which a
// quantile is looked for. The part of a value does not fall with the value, so that
// order statistics are exact whatever the range.
type bins struct {
	low, scale float64 // part = (value − low)·scale, held to the first and the last
	count      []uint32
	keep       []bool // by part
	kept       []float64
	share      float64 // of the first sample in parts that are kept [1]
}

// parts is the number of parts: their counts stay in the nearest cache.
const parts = 2048

// place lays the parts over a sorted first sample and marks those in which quantiles of
// the whole are likely: 4.5 standard errors of a rank in the sample.
func (b *bins) place(first []float64, chances []float64) {
	lo, hi := first[0], first[len(first)-1]
	b.low = lo
	if hi > lo {
		b.scale = parts / (hi - lo)
	}
	b.keep = make([]bool, parts)
	m := float64(len(first))
	for _, p := range chances {
		e := 4.5*math.Sqrt(p*(1-p)*m) + 2
		from := first[int(min(max(p*m-e, 0), m-1))]
		to := first[int(min(max(p*m+e, 0), m-1))]
		for k, last := b.part(from), b.part(to); k <= last; k++ {
			b.keep[k] = true
		}
	}
	for _, x := range first {
		b.share += float64(b2i(b.keep[b.part(x)])) / m
	}
}

// likely is how many values of n are about to be kept, from the first sample.
func (b *bins) likely(n int) int { return int(b.share * float64(n)) }

// clear empties the bins; what is marked stays.
func (b *bins) clear() { b.count, b.kept = make([]uint32, parts), nil }

func (b *bins) part(x float64) int {
	f := (x - b.low) * b.scale
	if !(f > 0) { // also NaN
		return 0
	}
	return int(min(f, parts-1))
}

// add counts values.
func (b *bins) add(x []float64) {
	low, scale := b.low, b.scale
	count, keep, kept := b.count[:parts], b.keep[:parts], b.kept
	for _, v := range x {
		f := (v - low) * scale
		k := uint(0)
		if f > 0 {
			k = uint(parts - 1)
			if f < parts-1 {
				k = uint(int(f)) % parts
			}
		}
		count[k]++
		if keep[k] {
			kept = append(kept, v)
		}
	}
	b.kept = kept
}

func (b *bins) merge(o *bins) {
	for k, n := range o.count {
		b.count[k] += n
	}
	b.kept = append(b.kept, o.kept...)
}

// partOf is the part that holds the value of a rank, and the rank of the first of it.
func (b *bins) partOf(rank int) (part, before int) {
	for k, n := range b.count {
		if rank < before+int(n) {
			return k, before
		}
		before += int(n)
	}
	return parts - 1, before
}

// missed says whether a quantile lies in a part that was not kept, and marks just the
// parts that are needed. Then all is counted again.
func (b *bins) missed(n int, chances []float64) bool {
	var need []int
	for _, p := range chances {
		i, _ := rankOf(p, n)
		for _, r := range []int{i, min(i+1, n-1)} {
			k, _ := b.partOf(r)
			need = append(need, k)
		}
	}
	missed := slices.ContainsFunc(need, func(k int) bool { return !b.keep[k] })
	if missed {
		for _, k := range need {
			b.keep[k] = true
		}
	}
	return missed
}

// rankOf is the place of a quantile of n sorted values: a rank, and the part of the way to
// the next.
func rankOf(p float64, n int) (rank int, part float64) {
	at := p * float64(n-1)
	rank = min(int(at), n-1)
	return rank, at - float64(rank)
}

// sorted takes quantiles of sorted values.
func sorted(x []float64, chances []float64) []float64 { // [unit of x]
	var out []float64
	for _, p := range chances {
		i, f := rankOf(p, len(x))
		next := x[min(i+1, len(x)-1)]
		out = append(out, x[i]+f*(next-x[i]))
	}
	return out
}

// quantiles takes them from what was kept. [unit of the values]
func (b *bins) quantiles(n int, chances []float64) []float64 {
	in := map[int][]float64{} // values of the parts that hold a quantile, sorted
	value := func(rank int) float64 {
		k, before := b.partOf(rank)
		if in[k] == nil {
			x := make([]float64, 0, b.count[k])
			for _, v := range b.kept {
				if b.part(v) == k {
					x = append(x, v)
				}
			}
			slices.Sort(x)
			in[k] = x
		}
		return in[k][rank-before]
	}
	var out []float64
	for _, p := range chances {
		i, f := rankOf(p, n)
		x := value(i)
		out = append(out, x+f*(value(min(i+1, n-1))-x))
	}
	return out
}
