package decay

import (
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
)

// serial is what the residuals say about the correlation of one reading's error
// with the next, and what follows for the errors of the fit.
//
// The errors are taken as e_i = ρ·e_(i−1) + white, in the order of the readings,
// with unknown ρ. Each ρ gets the weight of its restricted likelihood (which does
// not mistake the bending of the fit towards the readings for a negative ρ) times
// a prior; the error of whatever is asked for is a mixture of Student
// distributions over ρ. The estimate stays that of least squares, whose covariance
// at ρ is F⁻¹·JᵀRJ·F⁻¹ with R_ij = ρ^|i−j|. Where the readings do not lie at equal
// steps, a correlation that falls with time is supposed as well ([serial.drift]).
//
// Source: restricted likelihood, D. A. Harville, J. Am. Stat. Assoc. 72 (1977)
// 320; the inverse of R is tridiagonal. The prior is our choice: flat in ρ from 20
// readings on, and below that (1 − ρ²)^k with k up to 4, because so few readings
// say nothing of ρ and a flat one would double every interval.
type serial struct {
	in      serialInput
	nodes   []tie
	weight  []float64   // [1] of each node, sums to 1
	cov     [][]float64 // m×m covariance of the fitted form at each node; filled when first asked for
	mode    float64     // [1] most likely ρ by the restricted likelihood alone
	weighty float64     // ln of the likelihood averaged over the prior of ρ
}

// tie is one supposition about the correlation of neighbours: the same for all,
// or falling with the time between them.
type tie struct {
	rho  float64 // [1] of neighbours, where over is 0
	over float64 // [s] e^(−Δt/over) of readings Δt apart
	s2   float64 // variance of a reading
}

// serialInput is the weighted Jacobian jac (n×m, in standard deviations), the
// residuals e (orthogonal to it), F⁻¹ = (JᵀJ)⁻¹ and the times [s].
type serialInput struct {
	jac, e, inverse []float64
	t               []float64
	n, m            int
	known           bool // the residuals' standard deviation is 1, not to be estimated
}

// lagged has the sums from which the quadratic forms of every ρ follow.
type lagged struct {
	jj, jjInner, jjLag []float64
	je, jeInner, jeLag []float64
	ee, eeInner, eeLag float64
	a, b, x, l         []float64
}

func newLagged(s *serialInput) *lagged {
	n, m := s.n, s.m
	g := &lagged{}
	for _, p := range []*[]float64{&g.jj, &g.jjInner, &g.jjLag, &g.a, &g.l} {
		*p = make([]float64, m*m)
	}
	for _, p := range []*[]float64{&g.je, &g.jeInner, &g.jeLag, &g.b, &g.x} {
		*p = make([]float64, m)
	}
	var last []float64
	for i := range n {
		row, e := s.jac[i*m:i*m+m], s.e[i]
		inner := i > 0 && i < n-1
		for j, v := range row {
			for k, w := range row[:j+1] {
				g.jj[j*m+k] += v * w
				if inner {
					g.jjInner[j*m+k] += v * w
				}
				if i > 0 {
					g.jjLag[j*m+k] += v*last[k] + last[j]*w
				}
			}
			g.je[j] += v * e
			if inner {
				g.jeInner[j] += v * e
			}
			if i > 0 {
				g.jeLag[j] += v*s.e[i-1] + last[j]*e
			}
		}
		g.ee += e * e
		if inner {
			g.eeInner += e * e
		}
		if i > 0 {
			g.eeLag += 2 * e * s.e[i-1]
		}
		last = row
	}
	return g
}

// likelihood returns ln of the restricted likelihood at ρ and the variance of a
// reading there; −Inf where the matrix is not positive definite.
func (g *lagged) likelihood(s *serialInput, rho float64) (l, s2 float64) {
	m := s.m
	f := 1 / (1 - rho*rho)
	for j := range m {
		for k := range j + 1 {
			g.a[j*m+k] = f * (g.jj[j*m+k] + rho*rho*g.jjInner[j*m+k] - rho*g.jjLag[j*m+k])
		}
		g.b[j] = f * (g.je[j] + rho*rho*g.jeInner[j] - rho*g.jeLag[j])
	}
	q := f * (g.ee + rho*rho*g.eeInner - rho*g.eeLag)
	return g.finish(s, q, float64(s.n-1)*math.Log(1-rho*rho))
}

// finish returns the restricted likelihood from JᵀR⁻¹J in a, JᵀR⁻¹e in b,
// q = eᵀR⁻¹e and ln|R|.
func (g *lagged) finish(s *serialInput, q, lnR float64) (l, s2 float64) {
	m := s.m
	// Cholesky, ln|A| and bᵀA⁻¹b in one sweep.
	det := 0.0
	for j := range m {
		for k := range j + 1 {
			v := g.a[j*m+k]
			for i := range k {
				v -= g.l[j*m+i] * g.l[k*m+i]
			}
			if j != k {
				g.l[j*m+k] = v / g.l[k*m+k]
				continue
			}
			if !(v > 0) {
				return math.Inf(-1), math.NaN()
			}
			g.l[j*m+j] = math.Sqrt(v)
			det += math.Log(v)
		}
		v := g.b[j]
		for i := range j {
			v -= g.l[j*m+i] * g.x[i]
		}
		g.x[j] = v / g.l[j*m+j]
		q -= g.x[j] * g.x[j]
	}
	q = max(q, 1e-300)
	nu := float64(s.n - m)
	l = -0.5 * (lnR + det)
	if s.known {
		return l - 0.5*q, 1
	}
	return l - 0.5*nu*math.Log(q), q / nu
}

// Nodes of ρ = tanh u.
const (
	serialEnd   = 2.6  // |ρ| up to 0.989
	serialSweep = 53   // nodes of the sweep that finds where the weight lies
	serialNodes = 17   // nodes kept
	serialFloor = 12.0 // ln of the weight that counts for nothing
)

// serialPrior is the exponent k of the prior (1 − ρ²)^k.
func serialPrior(n int) float64 { return min(max(float64(20-n)/3, 0), 4) }

func newSerial(s serialInput) *serial {
	g := newLagged(&s)
	k := serialPrior(s.n)
	// ln of the weight in u: dρ = (1 − ρ²)du.
	at := func(u float64) (rho, l, likelihood, s2 float64) {
		rho = numeric.Tanh(u)
		likelihood, s2 = g.likelihood(&s, rho)
		return rho, likelihood + (k+1)*math.Log(1-rho*rho), likelihood, s2
	}
	out := &serial{in: s}
	l := make([]float64, serialSweep)
	step := 2 * serialEnd / (serialSweep - 1)
	top, most := math.Inf(-1), math.Inf(-1)
	for i := range l {
		rho, v, likelihood, _ := at(-serialEnd + step*float64(i))
		l[i] = v
		top = max(top, v)
		if likelihood > most {
			most, out.mode = likelihood, rho
		}
	}
	if math.IsInf(top, -1) {
		return nil
	}
	lo, hi := -1, 0
	for i, v := range l {
		if v > top-serialFloor {
			if lo < 0 {
				lo = i
			}
			hi = i
		}
	}
	a, b := -serialEnd+step*float64(max(lo-1, 0)), -serialEnd+step*float64(min(hi+1, serialSweep-1))
	var ln []float64
	for i := range serialNodes {
		rho, v, _, s2 := at(a + (b-a)*float64(i)/(serialNodes-1))
		if !math.IsInf(v, -1) {
			out.nodes, ln = append(out.nodes, tie{rho: rho, s2: s2}), append(ln, v)
		}
	}
	out.weight = make([]float64, len(ln))
	// ∫(1 − ρ²)^k dρ = B(½, k+1)
	half, _ := math.Lgamma(0.5)
	up, _ := math.Lgamma(k + 1)
	down, _ := math.Lgamma(k + 1.5)
	out.weighty = share(out.weight, ln) + math.Log((b-a)/(serialNodes-1)) - (half + up - down)
	out.trim()
	return out
}

// share writes exp(ln) over its sum into dst and returns the logarithm of the sum.
func share(dst, ln []float64) float64 {
	top := slices.Max(ln)
	sum := 0.0
	for i, v := range ln {
		dst[i] = numeric.Exp(v - top)
		sum += dst[i]
	}
	for i := range dst {
		dst[i] /= sum
	}
	return top + math.Log(sum)
}

// trim drops nodes that hardly count.
func (s *serial) trim() {
	keep, sum := 0, 0.0
	for i, w := range s.weight {
		if w > 1e-5 {
			s.weight[keep], s.nodes[keep] = w, s.nodes[i]
			sum += w
			keep++
		}
	}
	s.weight, s.nodes = s.weight[:keep], s.nodes[:keep]
	for i := range s.weight {
		s.weight[i] /= sum
	}
}

// fixedSerial is the serial of a correlation that is known.
func fixedSerial(s serialInput, rho float64) *serial {
	_, s2 := newLagged(&s).likelihood(&s, rho)
	if math.IsNaN(s2) {
		return nil
	}
	return &serial{in: s, mode: rho, nodes: []tie{{rho: rho, s2: s2}}, weight: []float64{1}}
}

// fill works out the covariances.
func (s *serial) fill() {
	for _, n := range s.nodes {
		s.cov = append(s.cov, s.in.covariance(n))
	}
}

// covariance returns s²·F⁻¹·JᵀRJ·F⁻¹.
func (s *serialInput) covariance(n tie) []float64 {
	m := s.m
	mid, tail := make([]float64, m*m), make([]float64, m)
	for i := range s.n {
		row := s.jac[i*m : i*m+m]
		rho := n.rho
		if n.over > 0 && i > 0 {
			rho = numeric.Exp((s.t[i-1] - s.t[i]) / n.over)
		}
		for j := range tail { // Σ of the rows before, each times its correlation with this one
			tail[j] *= rho
		}
		for j, v := range row {
			for k, w := range row {
				mid[j*m+k] += v*w + v*tail[k] + tail[j]*w
			}
		}
		for j, v := range row {
			tail[j] += v
		}
	}
	half, c := make([]float64, m*m), make([]float64, m*m)
	product(half, s.inverse, mid, m)
	product(c, half, s.inverse, m)
	for i := range c {
		c[i] *= n.s2
	}
	return c
}

// product writes a·b of m×m matrices by rows.
func product(dst, a, b []float64, m int) {
	for i := range m {
		for j := range m {
			v := 0.0
			for k := range m {
				v += a[i*m+k] * b[k*m+j]
			}
			dst[i*m+j] = v
		}
	}
}

// quadratic returns cᵀ·a·c.
func quadratic(a, c []float64) float64 {
	v := 0.0
	for i, x := range c {
		for j, y := range c {
			v += x * a[i*len(c)+j] * y
		}
	}
	return v
}

// deviation returns the standard error of the combination c of the parameters
// in fitted form, and half the width of its interval, where quantile is that of
// the Student distribution of nu degrees of freedom (+Inf: normal).
func (s *serial) deviation(c []float64, nu, quantile float64) (se, half float64) {
	v := make([]float64, len(s.weight))
	for i, cov := range s.cov {
		v[i] = math.Sqrt(max(quadratic(cov, c), 0))
		se += s.weight[i] * v[i] * v[i]
	}
	se = math.Sqrt(se)
	if !(se > 0) || math.IsInf(se, 0) {
		return se, quantile * se
	}
	// The tail of the mixture comes to that of one Student distribution at its
	// quantile; the tails by the same formula, so that its error cancels.
	want := studentTail(quantile, nu)
	g := func(z float64) float64 {
		p := -want
		for i, w := range s.weight {
			p += w * studentTail(z*se/v[i], nu)
		}
		return p
	}
	lo, hi := 0.3*quantile, quantile
	for g(hi) > 0 && hi < 100*quantile {
		lo, hi = hi, 1.3*hi
	}
	z, err := numeric.Brent(g, lo, hi, 1e-5, 0)
	if err != nil {
		z = quantile
	}
	return se, z * se
}

// studentTail returns the chance of a value above x of the Student distribution
// with nu degrees of freedom, such that the normal deviate of that chance is right
// to 0.03 from 3 degrees of freedom and 5 standard errors on.
//
// Source: D. L. Wallace, Ann. Math. Stat. 30 (1959) 1124.
func studentTail(x, nu float64) float64 {
	z := math.Abs(x)
	if !math.IsInf(nu, 1) {
		z = (8*nu + 1) / (8*nu + 3) * math.Sqrt(nu*math.Log1p(x*x/nu))
	}
	p := 0.5 * numeric.Erfc(z/math.Sqrt2)
	if x < 0 {
		return 1 - p
	}
	return p
}
