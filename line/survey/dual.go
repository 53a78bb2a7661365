package survey

import (
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
)

// dual is a linear Gaussian model y = H·θ + e with independent priors, solved in
// the space of its rows: with P the prior variances and V those of the rows,
//
//	K = H·P·Hᵀ + V,  Q = K⁻¹,  α = Q·(y − H·m),  E[θ] = m + P·Hᵀ·α,
//	cov θ = P − P·Hᵀ·Q·H·P.
//
// K is never singular, because every row has a variance of its own; a prior of any
// width costs nothing; and what happens if row r is left out stands in the inverse
// itself: its prediction by the others has the mean y − α_r/Q_rr and the variance
// 1/Q_rr (with V). The cost is n·r² + r³ for r rows and n unknowns.
type dual struct {
	n, r  int
	h     []float64 // r×n
	prior []float64 // variances of the unknowns
	m     []float64 // their prior means
	v, y  []float64 // variances and values of the rows
	x     []float64 // r×n: H·√P
	q     []float64 // r×r, full
	alpha []float64
	mean  []float64
	log   float64 // logarithm of the density of y
	runs  [][]run // of the rows of h
	// What q was worked out from, with x: while that stays q does.
	solved bool
	of     [2][]float64 // variances of the unknowns and of the rows
	det    float64      // of log what does not depend on y

	// Room that is used again and again.
	roots, rest, w, u, z, inverse []float64
	along                         []run
}

// newDual takes its room of an arena.
func newDual(n, r int, a *arena) *dual {
	all := a.take(2*r*n + 2*r*r + 7*r + 6*n)
	take := func(n int) []float64 {
		x := all[:n:n]
		all = all[n:]
		return x
	}
	return &dual{
		n:       n,
		r:       r,
		h:       take(r * n),
		prior:   take(n),
		m:       take(n),
		v:       take(r),
		y:       take(r),
		x:       take(r * n),
		q:       take(r * r),
		alpha:   take(r),
		mean:    take(n),
		runs:    make([][]run, r),
		roots:   take(n),
		rest:    take(r),
		w:       take(r),
		u:       take(r),
		z:       take(n),
		inverse: take(r * r),
		of:      [2][]float64{take(n), take(r)},
	}
}

func (d *dual) row(i int) []float64 { return d.h[i*d.n : (i+1)*d.n] }

// still reports whether x and the variances are those of the last factor.
func (d *dual) still(same bool) bool {
	if same && d.solved && slices.Equal(d.of[0], d.prior) && slices.Equal(d.of[1], d.v) {
		return true
	}
	d.solved = true
	copy(d.of[0], d.prior)
	copy(d.of[1], d.v)
	return false
}

// solve works out Q, α and the mean. Q is kept where only values have changed since.
func (d *dual) solve() {
	n, r := d.n, d.r
	root := d.roots
	for j, p := range d.prior {
		root[j] = math.Sqrt(p)
	}
	same := true
	for i := range r {
		h, x := d.row(i), d.x[i*n:(i+1)*n]
		var e float64
		for j, v := range h {
			if w := v * root[j]; w != x[j] {
				x[j], same = w, false
			}
			e += v * d.m[j]
		}
		d.rest[i] = d.y[i] - e
	}
	if !d.still(same) {
		d.factor()
	}
	for i := range r {
		d.alpha[i] = dot(d.q[i*r:(i+1)*r], d.rest)
	}
	d.log = d.det - 0.5*dot(d.rest, d.alpha)
	copy(d.mean, d.m)
	for i := range r {
		if a := d.alpha[i]; a != 0 {
			h := d.row(i)
			for _, p := range d.runs[i] {
				for j := p.from; j < p.to; j++ {
					d.mean[j] += d.prior[j] * h[j] * a
				}
			}
		}
	}
}

// factor works out Q.
func (d *dual) factor() {
	n, r := d.n, d.r
	for i := range r {
		d.runs[i] = runsOf(d.runs[i][:0], d.row(i))
	}
	ok := false
	for up := 0.0; !ok && up < 1; up = max(1e-12, 100*up) { // more than once for rounding only: the rows have variances
		for i := range r {
			for j := i; j < r; j++ {
				d.q[i*r+j] = meet(d.x[i*n:(i+1)*n], d.x[j*n:(j+1)*n], d.runs[i], d.runs[j])
			}
			d.q[i*r+i] = (d.q[i*r+i] + d.v[i]) * (1 + up)
		}
		ok = numeric.Cholesky(d.q, r)
	}
	d.det = 0
	for i := range r {
		d.det -= math.Log(d.q[i*r+i])
	}
	numeric.InvertFactored(d.q, d.inverse, r)
}

// moments returns mean and variance of the combination Σ c·θ.
func (d *dual) moments(c []float64) (mean, variance float64) {
	mean, all := d.weigh(c, d.w, d.u)
	return mean, max(all-dot(d.w, d.u), 0)
}

// weigh writes w = H·P·c and u = Q·w, and returns the mean of the combination Σ c·θ and
// its variance by the priors alone; what the rows take off it is w·u.
func (d *dual) weigh(c, w, u []float64) (mean, prior float64) {
	z := d.z
	for j := range z {
		z[j] = 0
		if j < len(c) && c[j] != 0 {
			z[j] = d.roots[j] * c[j]
			prior += z[j] * z[j]
			mean += c[j] * d.mean[j]
		}
	}
	clear(w)
	clear(u)
	if prior == 0 {
		return mean, 0
	}
	d.along = runsOf(d.along[:0], z)
	for i := range w {
		w[i] = meet(d.x[i*d.n:(i+1)*d.n], z, d.runs[i], d.along)
	}
	for i := range u {
		u[i] = dot(d.q[i*d.r:(i+1)*d.r], w)
	}
	return mean, prior
}

// without predicts row r from the others: mean and variance of what it measures,
// without its own variance.
func (d *dual) without(r int) (mean, variance float64) {
	q := d.q[r*d.r+r]
	return d.y[r] - d.alpha[r]/q, max(1/q-d.v[r], 0)
}

func dot(a, b []float64) float64 { return numeric.Dot(a, b) }

func sq(x float64) float64 { return x * x }
