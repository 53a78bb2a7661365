package survey

import (
	"math"
	"slices"
)

// estimate sums up samples: median, standard deviation, 5 and 95 % quantiles, in
// units of scale. It leaves x in another order.
func estimate(x []float64, scale float64) Estimate {
	n := len(x)
	var mean, ss float64
	for _, v := range x {
		mean += v
	}
	mean /= float64(n)
	for _, v := range x {
		ss += sq(v - mean)
	}
	lo, mid, hi := int(0.05*float64(n)), n/2, n-1-int(0.05*float64(n))
	m := pick(x, mid)
	if n%2 == 0 {
		m = (m + slices.Max(x[:mid])) / 2
	}
	return Estimate{
		Value: m * scale,
		SD:    math.Sqrt(ss/float64(n)) * scale,
		Low:   pick(x[:mid+1], lo) * scale,
		High:  pick(x[mid:], hi-mid) * scale,
	}
}

// pick is the element that stands at place k when x is sorted; smaller ones come
// to lie before it, greater ones behind.
func pick(x []float64, k int) float64 {
	lo, hi := 0, len(x)-1
	for lo < hi {
		p := x[(lo+hi)/2]
		i, j := lo, hi
		for i <= j {
			for x[i] < p {
				i++
			}
			for x[j] > p {
				j--
			}
			if i <= j {
				x[i], x[j] = x[j], x[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return x[k]
		}
	}
	return x[k]
}
