package counter_test

import (
	"math"
	"slices"
	"testing"

	"example.org/pithball/internal/counter"
)

// TestNormals compares the numbers with the normal distribution: moments up to the fourth,
// the greatest distance of the distribution functions (Kolmogorov: 1.95/√n in one of a
// thousand samples), and how many lie beyond 3.44, where the tail has its own method, and
// beyond 4.
func TestNormals(t *testing.T) {
	const n = 1 << 21
	x := make([]float64, n)
	counter.Normals(x, 11, 5)
	var m [5]float64
	for _, v := range x {
		for k, p := 1, v; k < 5; k, p = k+1, p*v {
			m[k] += p / n
		}
	}
	for k, want := range map[int][2]float64{1: {0, 1}, 2: {1, 2}, 3: {0, 15}, 4: {3, 96}} { // mean, variance of z^k
		if !(math.Abs(m[k]-want[0]) <= 5*math.Sqrt(want[1]/n)) {
			t.Errorf("moment %d is %v, want %v", k, m[k], want[0])
		}
	}
	slices.Sort(x)
	phi := func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
	var d float64
	for i, v := range x {
		p := phi(v)
		d = max(d, p-float64(i)/n, float64(i+1)/n-p)
	}
	if d > 1.95/math.Sqrt(n) {
		t.Errorf("distance %v from the normal distribution", d)
	}
	for _, z := range []float64{3.442619855899, 4} {
		for _, sign := range []float64{-1, 1} {
			k := 0
			for _, v := range x {
				if sign*v > z {
					k++
				}
			}
			want := n * phi(-z)
			if !(math.Abs(float64(k)-want) <= 5*math.Sqrt(want)) {
				t.Errorf("%d beyond %v, want %.1f", k, sign*z, want)
			}
		}
	}
}

// TestNormalsByCounter: a number depends on the seed and its place only.
func TestNormalsByCounter(t *testing.T) {
	all := make([]float64, 10000)
	counter.Normals(all, 3, 100)
	part := make([]float64, 700)
	counter.Normals(part, 3, 4100)
	if !slices.Equal(part, all[4000:4700]) {
		t.Error("another number at the same place")
	}
	counter.Normals(part, 4, 4100)
	if slices.Equal(part, all[4000:4700]) {
		t.Error("the seed changes nothing")
	}
	// Neighbours are not alike: the correlation of n pairs has the standard error 1/√n.
	var c float64
	for i := 1; i < len(all); i++ {
		c += all[i] * all[i-1] / float64(len(all)-1)
	}
	if !(math.Abs(c) <= 5/math.Sqrt(float64(len(all)))) {
		t.Errorf("neighbours correlate by %v", c)
	}
}
