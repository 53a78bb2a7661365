package counter_test

import (
	"math"
	"testing"

	"example.org/pithball/internal/counter"
)

// TestStream compares with values computed in 64-bit integer arithmetic by a
// program apart (same published recurrence).
func TestStream(t *testing.T) {
	for i, want := range []float64{0.6548893270362852, 0.46305873441982515, 0.8911349353141198} {
		if got := counter.Uniform(201, uint64(i)); got != want {
			t.Errorf("u(201, %d) = %v, want %v", i, got, want)
		}
	}
	for i, want := range []float64{-0.41685231695092173, -1.853475291831923, -1.373014984473005} {
		if got := counter.Normal(502, uint64(i)); !(math.Abs(got-want) <= 1e-14) { // libm's last digits
			t.Errorf("z(502, %d) = %v, want %v", i, got, want)
		}
	}
}

func TestMoments(t *testing.T) {
	const n = 200000
	var s, s2 float64
	for i := range uint64(n) {
		z := counter.Normal(7, i)
		s += z
		s2 += z * z
	}
	// Standard errors of mean and variance of n normals: 1/√n and √(2/n); five of each.
	if m := s / n; !(math.Abs(m) <= 5/math.Sqrt(n)) {
		t.Errorf("mean %v", m)
	}
	if v := s2 / n; !(math.Abs(v-1) <= 5*math.Sqrt(2.0/n)) {
		t.Errorf("variance %v", v)
	}
}

// TestNormalStream: mean, variance and correlation of neighbours of a stream, and the
// same numbers from the same place.
func TestNormalStream(t *testing.T) {
	s := counter.Stream{Seed: 3}
	const n = 100000
	var sum, square, cross, before float64
	for range n {
		x := s.Normal()
		sum, square, cross = sum+x, square+x*x, cross+x*before
		before = x
	}
	// Standard errors 1/√n, √(2/n), 1/√n.
	if !(math.Abs(sum/n) <= 0.013) || !(math.Abs(square/n-1) <= 0.018) || !(math.Abs(cross/n) <= 0.013) {
		t.Errorf("mean %v, square %v, neighbours %v", sum/n, square/n, cross/n)
	}
	a, b := counter.Stream{Seed: 5, At: 7}, counter.Stream{Seed: 5, At: 7}
	for range 5 {
		if a.Normal() != b.Normal() {
			t.Error("the same place gives other numbers")
		}
	}
}
