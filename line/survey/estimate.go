package survey

import (
	"math"
	"slices"
)

// estimate sums up samples: median, standard deviation, 5 and 95 % quantiles, in
// units of scale.
func estimate(x []float64, scale float64) Estimate {
	n := len(x)
	lo, mid, hi := int(0.05*float64(n)), n/2, n-1-int(0.05*float64(n))
	at, ss := ranked(x, [4]int{lo, (n - 1) / 2, mid, hi})
	return Estimate{
		Value: (at[1] + at[2]) / 2 * scale,
		SD:    math.Sqrt(ss/float64(n)) * scale,
		Low:   at[0] * scale,
		High:  at[3] * scale,
	}
}

// ranks is the number of steps between the least and the greatest by which numbers
// are sorted roughly.
const ranks = 256

// ranked returns the numbers that stand at the given places, in rising order, when x
// is sorted, and the sum of squares about the mean: x is counted in even steps, and only
// the steps of those places are sorted.
func ranked(x []float64, at [4]int) (out [4]float64, ss float64) {
	least, most, mean := x[0], x[0], 0.0
	for _, v := range x {
		least, most = min(least, v), max(most, v)
		mean += v
	}
	mean /= float64(len(x))
	scale := ranks / (most - least)
	if !(scale > 0 && scale < math.MaxFloat64) {
		for _, v := range x {
			ss += sq(v - mean)
		}
		return sorted(x, at), ss
	}
	var count [ranks + 1]int32
	var wanted [ranks + 1]bool
	for _, v := range x {
		count[rank(v, least, scale)]++
		ss += sq(v - mean)
	}
	var from [4]int // of the numbers to be sorted, the first of the step of each place
	var sum int32
	k, taken := 0, int32(0)
	for b := range count {
		before := taken - sum
		sum += count[b]
		for k < len(at) && at[k] < int(sum) {
			wanted[b] = true
			from[k] = int(before)
			k++
		}
		if wanted[b] {
			taken += count[b]
		}
	}
	var room [64]float64
	few := room[:0]
	for _, v := range x {
		if wanted[rank(v, least, scale)] {
			few = append(few, v)
		}
	}
	slices.Sort(few)
	for k, i := range at {
		out[k] = few[i+from[k]]
	}
	return out, ss
}

// rank is the step of a number.
func rank(v, least, scale float64) uint { return min(uint((v-least)*scale), ranks) }

func sorted(x []float64, at [4]int) (out [4]float64) {
	x = slices.Clone(x)
	slices.Sort(x)
	for k, i := range at {
		out[k] = x[i]
	}
	return out
}
