package numeric

import "math"

// The kernels of this file sum in an order that their comments state, and round every
// product before it is added (the conversions forbid a fused multiplication), so that they
// give the same bits on every processor, in a browser, and on any number of goroutines.
// Package gonum has them all, well kept and proven, and is what they are tested against;
// but where it has assembly it sums in another order than where it has none, and where two
// faces of a web cancel the last digits of a sum are the first ones of a net charge: a
// survey diagnosed by WebAssembly and by amd64 differed by 7e-8 of a figure.

// Dot returns Σ a[i]·b[i]. Eight running sums take every eighth product each, those that
// are left go to the first of them, and they are added in pairs: neighbours, then the
// sums of neighbours. b is at least as long as a.
func Dot(a, b []float64) float64 { // [unit of a × unit of b]
	b = b[:len(a)]
	var s0, s1, s2, s3, s4, s5, s6, s7 float64
	for len(a) >= 8 && len(b) >= 8 {
		s0 += float64(a[0] * b[0])
		s1 += float64(a[1] * b[1])
		s2 += float64(a[2] * b[2])
		s3 += float64(a[3] * b[3])
		s4 += float64(a[4] * b[4])
		s5 += float64(a[5] * b[5])
		s6 += float64(a[6] * b[6])
		s7 += float64(a[7] * b[7])
		a, b = a[8:], b[8:]
	}
	for i, x := range a {
		if i < len(b) { // always: it spares the check of a bound
			s0 += float64(x * b[i])
		}
	}
	return ((s0 + s1) + (s2 + s3)) + ((s4 + s5) + (s6 + s7))
}

// AddScaled adds f·x to dst, element by element. x is at least as long as dst.
func AddScaled(dst []float64, f float64, x []float64) {
	x = x[:len(dst)]
	for i := range dst {
		dst[i] += float64(f * x[i])
	}
}

// AddFour adds Σ f[k]·x[k] to dst: the same bits as AddScaled four times in this order, in
// half of the time. Each x is at least as long as dst.
func AddFour(dst []float64, f [4]float64, x0, x1, x2, x3 []float64) {
	n := len(dst)
	x0, x1, x2, x3 = x0[:n], x1[:n], x2[:n], x3[:n]
	a, b, c, d := f[0], f[1], f[2], f[3]
	for i := range dst {
		dst[i] = dst[i] + float64(a*x0[i]) + float64(b*x1[i]) + float64(c*x2[i]) + float64(d*x3[i])
	}
}

// Cholesky replaces the upper triangle of the symmetric matrix a, n×n by rows, by its
// factor U, a = Uᵀ·U, and reports whether a is positive definite; what is left of it if not
// is of no use. Every element takes off its products one by one, in the order of the rows
// above. The lower triangle is neither read nor written.
func Cholesky(a []float64, n int) bool {
	for i := range n {
		row := a[i*n+i : i*n+n]
		k := 0
		for ; k+4 <= i; k += 4 {
			AddFour(row, [4]float64{-a[k*n+i], -a[(k+1)*n+i], -a[(k+2)*n+i], -a[(k+3)*n+i]},
				a[k*n+i:], a[(k+1)*n+i:], a[(k+2)*n+i:], a[(k+3)*n+i:])
		}
		for ; k < i; k++ {
			AddScaled(row, -a[k*n+i], a[k*n+i:])
		}
		if !(row[0] > 0) || math.IsInf(row[0], 1) {
			return false
		}
		row[0] = math.Sqrt(row[0])
		f := 1 / row[0]
		for j := range row[1:] {
			row[1+j] *= f
		}
	}
	return true
}

// InvertFactored replaces the factor that [Cholesky] made by the inverse of the matrix, both
// triangles to the same bits. It forms L⁻¹ of L = Uᵀ row by row from above, then L⁻ᵀ·L⁻¹
// with its products in the order of the rows of L⁻¹. room is n×n, its content is lost.
func InvertFactored(a, room []float64, n int) {
	m := room[:n*n] // L⁻¹, zero above the diagonal
	clear(m)
	for i := range n {
		row := m[i*n : i*n+i+1]
		k := 0
		for ; k+4 <= i; k += 4 {
			AddFour(row[:k+4], [4]float64{-a[k*n+i], -a[(k+1)*n+i], -a[(k+2)*n+i], -a[(k+3)*n+i]},
				m[k*n:], m[(k+1)*n:], m[(k+2)*n:], m[(k+3)*n:])
		}
		for ; k < i; k++ {
			AddScaled(row[:k+1], -a[k*n+i], m[k*n:])
		}
		row[i] = 1
		f := 1 / a[i*n+i]
		for j := range row {
			row[j] *= f
		}
	}
	for i := range n {
		row := a[i*n : i*n+i+1]
		clear(row)
		k := i
		for ; k+4 <= n; k += 4 {
			AddFour(row, [4]float64{m[k*n+i], m[(k+1)*n+i], m[(k+2)*n+i], m[(k+3)*n+i]},
				m[k*n:], m[(k+1)*n:], m[(k+2)*n:], m[(k+3)*n:])
		}
		for ; k < n; k++ {
			AddScaled(row, m[k*n+i], m[k*n:])
		}
		for j, x := range row {
			a[j*n+i] = x
		}
	}
}

// Ones is n weights of one. With weights the statistics of gonum sum one number after the
// other; without, by assembly where there is some.
func Ones(n int) []float64 { // [1]
	w := make([]float64, n)
	for i := range w {
		w[i] = 1
	}
	return w
}
