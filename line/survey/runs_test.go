package survey

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/internal/counter"
)

// TestRuns: the runs of a row, by hand, and products of rows that are mostly empty
// against those of gonum's dense matrices.
func TestRuns(t *testing.T) {
	x := make([]float64, 60)
	x[2], x[4], x[40] = 1, 2, 3 // 35 zeros between, more than a run holds
	if got := runsOf(nil, x); !slices.Equal(got, []run{{2, 5}, {40, 41}}) {
		t.Errorf("%v", got)
	}
	for _, r := range []int{7, 190} { // the latter in tiles side by side
		testProducts(t, r, 300)
	}
}

func testProducts(t *testing.T, r, n int) {
	t.Helper()
	h, q := mat.NewDense(r, n, nil), mat.NewDense(r, r, nil)
	runs := make([][]run, r)
	for i := range r {
		for j := range n {
			if j%100 < 10*(i%10) && j%3 != i%3 {
				h.Set(i, j, counter.Normal(1, uint64(i*n+j)))
			}
		}
		for j := range i + 1 {
			q.Set(i, j, counter.Normal(2, uint64(i*r+j)))
			q.Set(j, i, q.At(i, j))
		}
		runs[i] = runsOf(nil, h.RawRowView(i))
	}
	var z, s, k mat.Dense
	z.Mul(q, h)
	s.Mul(h.T(), &z)
	k.Mul(h, h.T())
	gotZ, gotS := make([]float64, r*n), make([]float64, (n+2)*(n+2))
	times(gotZ, q.RawMatrix().Data, h.RawMatrix().Data, r, n)
	square(gotS, n+2, -2, h.RawMatrix().Data, gotZ, r, n)
	near := func(what string, i, j int, got, want float64) {
		if !(math.Abs(got-want) <= 1e-10) {
			t.Fatalf("%s %d, %d: %v, dense %v", what, i, j, got, want)
		}
	}
	for i := range r {
		for j := range n {
			near("q·h", i, j, gotZ[i*n+j], z.At(i, j))
		}
		for j := range r {
			near("h·hᵀ", i, j, meet(h.RawRowView(i), h.RawRowView(j), runs[i], runs[j]), k.At(i, j))
		}
	}
	for i := range n {
		for j := range n {
			near("hᵀ·q·h", i, j, gotS[i*(n+2)+j], -2*s.At(i, j))
		}
	}
}
