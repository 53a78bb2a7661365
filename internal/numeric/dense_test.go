package numeric_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"

	"example.org/pithball/internal/counter"
	"example.org/pithball/internal/numeric"
)

func normals(n int, seed uint64) []float64 {
	x := make([]float64, n)
	counter.Normals(x, seed, 0)
	return x
}

// TestDotOrder: the order of summation is the one that is stated, by sums that every other
// order and every fused multiplication gives another value.
func TestDotOrder(t *testing.T) {
	const e = 0x1p-53 // half of the step at 1: 1 + e is 1, 1 + 2e is not
	ones := func(n int) []float64 {
		x := make([]float64, n)
		for i := range x {
			x[i] = 1
		}
		return x
	}
	for _, c := range []struct {
		a    []float64
		want float64
	}{
		{nil, 0},
		{[]float64{3}, 3},
		{[]float64{1, e, e}, 1},       // less than eight: one sum, from the left
		{[]float64{e, e, 1}, 1 + 2*e}, // the same numbers in another order
		{[]float64{1, e, e, e, 0, 0, 0, 0}, 1 + 2*e},                         // (1+e) + (e+e)
		{[]float64{1, e, 0, 0, e, 0, 0, 0}, 1},                               // ((1+e)+0) + e
		{[]float64{1, 0, 0, 0, 0, 0, e, e}, 1 + 2*e},                         // 1 + (e+e)
		{[]float64{1, 0, 0, 0, e, e, 0, 0}, 1 + 2*e},                         // 1 + (e+e)
		{[]float64{1, e, 0, 0, 0, 0, 0, 0, 0, e}, 1},                         // the tenth goes to the first sum: 1+e, + e
		{[]float64{1, e, 0, 0, 0, 0, 0, 0, 0, e, 0, 0, 0, 0, 0, 0}, 1 + 2*e}, // to the second: e+e
	} {
		if got := numeric.Dot(c.a, ones(len(c.a))); got != c.want {
			t.Errorf("%v: %v, want %v", c.a, got, c.want)
		}
	}
	// (1+2⁻³⁰)² is 1 + 2⁻²⁹ + 2⁻⁶⁰, the last of which rounding takes off, but not a fused sum.
	x := 1 + 0x1p-30
	if got := numeric.Dot([]float64{-1 - 0x1p-29, x}, []float64{1, x}); got != 0 {
		t.Errorf("a product was not rounded: %v", got)
	}
	dst := []float64{-1 - 0x1p-29}
	if numeric.AddScaled(dst, x, []float64{x}); dst[0] != 0 {
		t.Errorf("AddScaled: a product was not rounded: %v", dst[0])
	}
}

// TestDot compares with gonum, to the rounding of so many sums.
func TestDot(t *testing.T) {
	for n := range 70 {
		a, b := normals(n, 1), normals(n+3, 2)
		var size float64
		for i := range a {
			size += math.Abs(a[i] * b[i])
		}
		if got, want := numeric.Dot(a, b), floats.Dot(a, b[:n]); !(math.Abs(got-want) <= 1e-15*size) {
			t.Errorf("%d: %v, want %v", n, got, want)
		}
	}
}

// TestAddScaled compares with gonum, which is element by element too, and four at a time
// with one by one: the same bits.
func TestAddScaled(t *testing.T) {
	for n := range 20 {
		x := [4][]float64{normals(n, 3), normals(n+1, 4), normals(n, 5), normals(n+2, 6)}
		f := [4]float64{0.3, -1.7, 1e-9, 4e5}
		one, four, want := normals(n, 7), normals(n, 7), normals(n, 7)
		for k := range x {
			numeric.AddScaled(one, f[k], x[k])
			floats.AddScaled(want, f[k], x[k][:n])
		}
		numeric.AddFour(four, f, x[0], x[1], x[2], x[3])
		for i := range n {
			if one[i] != four[i] || !(math.Abs(one[i]-want[i]) <= 1e-15*math.Abs(want[i])+1e-10) {
				t.Errorf("%d: %v, %v, want %v", n, one[i], four[i], want[i])
			}
		}
	}
}

// TestCholeskyByHand: U of whole numbers gives the matrix, and its inverse by Cramer's rule.
func TestCholeskyByHand(t *testing.T) {
	nan := math.NaN()
	// U = [2 1 3; 0 1 −1; 0 0 4], UᵀU = [4 2 6; 2 2 2; 6 2 26], determinant 64.
	a := []float64{4, 2, 6, nan, 2, 2, nan, nan, 26}
	if !numeric.Cholesky(a, 3) {
		t.Fatal("not positive definite")
	}
	for i, want := range []float64{2, 1, 3, nan, 1, -1, nan, nan, 4} {
		if a[i] != want && !math.IsNaN(want) {
			t.Errorf("factor %d: %v, want %v", i, a[i], want)
		}
	}
	numeric.InvertFactored(a, make([]float64, 9), 3)
	for i, want := range []float64{48, -40, -8, -40, 68, 4, -8, 4, 4} { // cofactors
		if a[i] != want/64 {
			t.Errorf("inverse %d: %v, want %v", i, a[i], want/64)
		}
	}
	for _, bad := range [][]float64{
		{1, 2, 2, 4},                // singular
		{1, 2, 2, 3},                // indefinite
		{-1, 0, 0, 1}, {0, 0, 0, 0}, // not positive
		{nan, 0, 0, 1}, {1, nan, nan, 1}, {math.Inf(1), 0, 0, 1},
	} {
		if numeric.Cholesky(bad, 2) {
			t.Errorf("%v has a factor", bad)
		}
	}
	if !numeric.Cholesky(nil, 0) {
		t.Error("nothing at all has a factor")
	}
}

// TestInverse compares with gonum's LAPACK on matrices of known condition and asks for the
// identity.
func TestInverse(t *testing.T) {
	for _, n := range []int{1, 2, 3, 4, 5, 8, 13, 40, 61} {
		x := normals(n*n, uint64(n))
		a, want := make([]float64, n*n), make([]float64, n*n)
		for i := range n {
			for j := range n {
				a[i*n+j] = numeric.Dot(x[i*n:(i+1)*n], x[j*n:(j+1)*n])
				if i == j {
					a[i*n+j] += 1 // least eigenvalue at least 1, the greatest near 4n
				}
			}
		}
		copy(want, a)
		k, ok := lapack64.Potrf(blas64.Symmetric{N: n, Stride: n, Data: want, Uplo: blas.Upper})
		if !ok {
			t.Fatal(n)
		}
		was := append([]float64(nil), a...)
		if !numeric.Cholesky(a, n) {
			t.Fatal(n)
		}
		for i := range n {
			for j := i; j < n; j++ {
				if d := math.Abs(a[i*n+j] - want[i*n+j]); !(d <= 1e-13*math.Sqrt(float64(n))) {
					t.Fatalf("%d: factor off by %v", n, d)
				}
			}
		}
		lapack64.Potri(k)
		numeric.InvertFactored(a, make([]float64, n*n+1), n)
		for i := range n {
			for j := range n {
				if j >= i && !(math.Abs(a[i*n+j]-want[i*n+j]) <= 1e-12) { // condition 4n, elements up to 1
					t.Fatalf("%d: %v, want %v", n, a[i*n+j], want[i*n+j])
				}
				if a[i*n+j] != a[j*n+i] {
					t.Fatalf("%d: not symmetric", n)
				}
				one := 0.0
				if i == j {
					one = 1
				}
				if e := numeric.Dot(was[i*n:(i+1)*n], a[j*n:(j+1)*n]) - one; !(math.Abs(e) <= 1e-12*float64(n)) {
					t.Fatalf("%d: A·A⁻¹ off by %v", n, e)
				}
			}
		}
	}
}
