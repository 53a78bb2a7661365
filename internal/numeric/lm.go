package numeric

import (
	"math"
)

// Residuals is a least-squares problem: minimise Σ r_i(x)².
type Residuals interface {
	// Eval writes the residuals at x into r and, unless jac is nil, their
	// derivatives into jac, row by row: jac[i·len(x)+j] = ∂r_i/∂x_j.
	Eval(r, jac, x []float64)
}

// LM is a Levenberg–Marquardt solver. The zero value is ready; its buffers are
// kept between calls, so that one LM serves one goroutine.
//
// Sources: D. W. Marquardt, SIAM J. Appl. Math. 11 (1963) 431,
// doi:10.1137/0111030; scaling of the damping by the greatest column norms as in
// J. J. Moré, Lecture Notes in Mathematics 630 (1978) 105; rule for the damping by
// H. B. Nielsen, report IMM-REP-1999-05, DTU 1999. The normal equations are
// solved by Cholesky after scaling the columns to unit norm: for the few
// parameters of a fit that keeps about half of the digits in the worst case and
// almost all of them near the solution, where only the step direction is at stake.
type LM struct {
	// Lower and Upper bound the parameters if their length is that of x.
	Lower, Upper []float64
	// Fixed parameters stay where they are if its length is that of x.
	Fixed []bool
	// Tol is the relative step and the relative fall of the sum of squares at
	// which the solver stops; 0 means 1e-12.
	Tol float64
	// MaxSteps bounds the steps; 0 means 200.
	MaxSteps int

	// Steps counts the steps of the last call.
	Steps int

	r, rn, jac, a, l, g, d, dx, xn []float64
	free                           []bool
}

func grow(p *[]float64, n int) []float64 {
	if cap(*p) < n {
		*p = make([]float64, n)
	}
	*p = (*p)[:n]
	return *p
}

// Solve minimises the problem of n residuals from x, which it overwrites with
// the minimum, and returns Σ r². The error is a [*ConvergenceError] if the steps
// are used up or the residuals are not finite at the start; x is then the best
// point met.
func (s *LM) Solve(p Residuals, x []float64, n int) (float64, error) { // [unit of r squared]
	m := len(x)
	r, rn := grow(&s.r, n), grow(&s.rn, n)
	jac, a, l := grow(&s.jac, n*m), grow(&s.a, m*m), grow(&s.l, m*m)
	g, d, dx, xn := grow(&s.g, m), grow(&s.d, m), grow(&s.dx, m), grow(&s.xn, m)
	if cap(s.free) < m {
		s.free = make([]bool, m)
	}
	free := s.free[:m]
	tol, most := s.Tol, s.MaxSteps
	if tol == 0 {
		tol = 1e-12
	}
	if most == 0 {
		most = 200
	}
	s.clamp(x)
	clear(d)
	p.Eval(r, jac, x)
	cost := sumSquares(r)
	s.Steps = 0
	if math.IsNaN(cost) || math.IsInf(cost, 0) {
		return cost, &ConvergenceError{"Levenberg-Marquardt", 0, cost}
	}
	lambda, nu := 1e-3, 2.0
	flat := 0 // steps in a row without a fall worth having: a ridge
	for s.Steps < most {
		s.Steps++
		normal(jac, r, n, m, a, g)
		for j := range m {
			d[j] = max(d[j], math.Sqrt(a[j*m+j]))
			free[j] = !s.held(j, x[j], g[j]) && d[j] > 0
		}
		// Try steps of growing damping until one lowers the cost.
		for {
			if !step(a, g, d, lambda, free, l, dx) {
				lambda *= nu
				nu *= 2
				if lambda > 1e20 {
					return cost, nil
				}
				continue
			}
			predicted, size := 0.0, 0.0
			for j := range m {
				xn[j] = x[j] + dx[j]
			}
			s.clamp(xn)
			for j := range m {
				dx[j] = xn[j] - x[j]
				predicted += dx[j] * (lambda*d[j]*d[j]*dx[j] - g[j])
				size = max(size, math.Abs(dx[j])/(math.Abs(x[j])+1))
			}
			p.Eval(rn, nil, xn)
			c := sumSquares(rn)
			if c <= cost {
				fall := cost - c
				copy(x, xn)
				rho := 1.0
				if predicted > 0 {
					rho = fall / predicted
				}
				lambda *= max(1.0/3, 1-math.Pow(2*rho-1, 3))
				nu = 2
				cost = c
				if fall <= tol*cost {
					flat++
				} else {
					flat = 0
				}
				p.Eval(r, jac, x)
				if size <= tol || flat > 0 && size <= 1e-6 || flat >= 3 || cost == 0 {
					return cost, nil
				}
				break
			}
			if size <= tol {
				return cost, nil
			}
			lambda *= nu
			nu *= 2
			if lambda > 1e20 || math.IsNaN(lambda) {
				return cost, nil
			}
		}
	}
	return cost, &ConvergenceError{"Levenberg-Marquardt", s.Steps, math.Sqrt(sumSquares(dx))}
}

// Normal writes JᵀJ at the end of the last call into dst, m×m by rows.
func (s *LM) Normal(dst []float64, n, m int) { // [unit of r squared over units of x]
	normal(s.jac, s.r, n, m, dst, s.g)
}

// held reports whether a parameter does not move: fixed, or at a bound with the
// fall of the cost beyond it.
func (s *LM) held(j int, x, g float64) bool {
	switch {
	case len(s.Fixed) > j && s.Fixed[j]:
		return true
	case len(s.Lower) > j && x <= s.Lower[j] && g > 0:
		return true
	case len(s.Upper) > j && x >= s.Upper[j] && g < 0:
		return true
	}
	return false
}

func (s *LM) clamp(x []float64) {
	for j := range x {
		if len(s.Fixed) > j && s.Fixed[j] {
			continue
		}
		if len(s.Lower) > j {
			x[j] = max(x[j], s.Lower[j])
		}
		if len(s.Upper) > j {
			x[j] = min(x[j], s.Upper[j])
		}
	}
}

func sumSquares(r []float64) float64 {
	c := 0.0
	for _, v := range r {
		c += v * v
	}
	return c
}

// normal writes JᵀJ into a and Jᵀr into g.
func normal(jac, r []float64, n, m int, a, g []float64) {
	clear(a)
	clear(g)
	for i := range n {
		row := jac[i*m : i*m+m]
		ri := r[i]
		for j, v := range row {
			g[j] += v * ri
			for k := range j + 1 {
				a[j*m+k] += v * row[k]
			}
		}
	}
	for j := range m {
		for k := range j {
			a[k*m+j] = a[j*m+k]
		}
	}
}

// step solves (A + λ·D²)·dx = −g over the free parameters; false if the matrix
// is not positive definite in float64.
func step(a, g, d []float64, lambda float64, free []bool, l, dx []float64) bool {
	m := len(g)
	clear(l)
	for j := range m {
		dx[j] = 0
		if !free[j] {
			continue
		}
		for k := range j + 1 {
			if !free[k] {
				continue
			}
			v := a[j*m+k] / (d[j] * d[k])
			if j == k {
				v += lambda
			}
			for i := range k {
				v -= l[j*m+i] * l[k*m+i]
			}
			if j == k {
				if !(v > 1e-15) {
					return false
				}
				l[j*m+j] = math.Sqrt(v)
			} else {
				l[j*m+k] = v / l[k*m+k]
			}
		}
	}
	for j := range m {
		if !free[j] {
			continue
		}
		v := -g[j] / d[j]
		for i := range j {
			v -= l[j*m+i] * dx[i]
		}
		dx[j] = v / l[j*m+j]
	}
	for j := m - 1; j >= 0; j-- {
		if !free[j] {
			continue
		}
		v := dx[j]
		for i := j + 1; i < m; i++ {
			v -= l[i*m+j] * dx[i]
		}
		dx[j] = v / l[j*m+j]
	}
	for j := range m {
		if free[j] {
			dx[j] /= d[j]
		}
	}
	return true
}

// InvertSPD writes the inverse of the symmetric positive definite m×m matrix a
// into dst by Cholesky with unit-diagonal scaling, and reports whether a is
// positive definite in float64. Rows and columns with a zero diagonal get +Inf
// on the diagonal and zeros elsewhere: such a parameter is not determined.
func InvertSPD(dst, a []float64, m int) bool { // [inverse units of a]
	free := make([]bool, m)
	d := make([]float64, m)
	l, e, x := make([]float64, m*m), make([]float64, m), make([]float64, m)
	for j := range m {
		d[j] = math.Sqrt(a[j*m+j])
		free[j] = d[j] > 0
	}
	for j := range m {
		clear(e)
		e[j] = -1
		if free[j] && !step(a, e, d, 0, free, l, x) {
			return false
		}
		for k := range m {
			switch {
			case free[j] && free[k]:
				dst[k*m+j] = x[k]
			case j == k:
				dst[k*m+j] = math.Inf(1)
			default:
				dst[k*m+j] = 0
			}
		}
	}
	return true
}
