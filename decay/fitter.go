package decay

import (
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// fitter holds what fits of one record share.
type fitter struct {
	settings FitSettings
	p        problem
	lm       numeric.LM
	unit     float64   // [V] greatest reading
	half     float64   // [s] time in which the readings fall by half of their fall
	lo, hi   float64   // [s] first positive and last time
	rough    []float64 // weights from smoothed readings, for start values only
}

func newFitter(t []units.Time, v []units.Voltage, s FitSettings) *fitter {
	f := &fitter{settings: s}
	for _, x := range v {
		f.unit = max(f.unit, math.Abs(float64(x)))
	}
	n := len(t)
	f.p.t, f.p.v, f.p.flat, f.rough = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range t {
		f.p.t[i], f.p.v[i] = float64(t[i]), float64(v[i])/f.unit
	}
	f.p.noise = s.noise(f.unit)
	for i := range f.rough {
		f.p.flat[i] = 1 / f.p.noise.a
		a, b := f.p.v[max(i-1, 0)], f.p.v[min(i+1, n-1)]
		f.rough[i] = 1 / f.p.noise.sd(middle(a, f.p.v[i], b))
	}
	f.hi = f.p.t[n-1]
	f.lo = f.p.t[0]
	if f.lo == 0 {
		f.lo = f.p.t[1]
	}
	f.half = halfTime(f.p.t, f.p.v)
	return f
}

// middle returns the median of three.
func middle(a, b, c float64) float64 { return max(min(a, b), min(max(a, b), c)) }

// halfTime returns the time in which the readings cross the middle between
// their first and last values, or, if they fall by less than half, where a
// straight line through the ends would.
func halfTime(t, v []float64) float64 {
	n := len(v)
	first, last := middle(v[0], v[1], v[2]), middle(v[n-1], v[n-2], v[n-3])
	span := t[n-1] - t[0]
	if r := last / first; r > 0.5 && r < 1 {
		return span * math.Ln2 / -math.Log(r)
	} else if r >= 1 {
		return 10 * span
	}
	mid := 0.5 * (first + last)
	for i := range t {
		if (v[i]-mid)*(first-mid) <= 0 && t[i] > 0 {
			return t[i]
		}
	}
	return 0.5 * span
}

// fit fits one model, with the start time where it can be seen and is asked for.
func (f *fitter) fit(m Model, start bool) (*Fit, error) { return f.search(m, start, 0, 0) }

// late fits one model with the start time, well enough for its criterion.
func (f *fitter) late(m Model) (*Fit, error) { return f.search(m, true, 1e-6, 40) }

// search fits to a tolerance and in a number of steps; 0 for those of the solver.
func (f *fitter) search(m Model, start bool, tol float64, steps int) (*Fit, error) {
	p := &f.p
	p.init(m, f.settings.Offset, start)
	if p.n < p.m+2 {
		return nil, known.Wrong("t", p.n, "at least two readings more than the parameters of the "+m.String())
	}
	lower, upper := make([]float64, p.m), make([]float64, p.m)
	for j := range lower {
		lower[j], upper[j] = math.Inf(-1), math.Inf(1)
	}
	for j := range p.k {
		lower[1+j], upper[1+j] = m.bounds(j, p.t[0], f.lo, f.hi)
	}
	if p.start {
		lower[p.m-1], upper[p.m-1] = math.Log(1e-6*f.lo), math.Log(1e2*f.hi)
	}
	f.lm.Lower, f.lm.Upper, f.lm.Fixed = lower, upper, nil
	x, best := make([]float64, p.m), make([]float64, p.m)
	cost := math.Inf(1)
	var err error
	list := f.starts(m)
	for _, q := range list {
		copy(x[1:], q)
		if p.start {
			x[p.m-1] = math.Log(0.1 * f.half)
		}
		p.amplitudes(x, f.rough)
		if len(list) == 1 {
			copy(best, x)
			break
		}
		// A coarse search from each start; the best one goes on below.
		f.lm.Tol, f.lm.MaxSteps = 1e-3, 30
		var c float64
		if c, _ = f.coarse(x); c < cost {
			cost = c
			copy(best, x)
		}
	}
	f.lm.Tol, f.lm.MaxSteps = tol, steps
	if cost, err = f.solve(best); math.IsInf(cost, 1) || math.IsNaN(cost) {
		return nil, err
	}
	if m == ModelTwoExponentials && best[1] > best[2] { // the faster first
		best[1], best[2], best[3] = best[2], best[1], -best[3]
	}
	return f.result(best, cost, lower, upper)
}

// starts returns the start values of the shape of a model.
func (f *fitter) starts(m Model) [][]float64 {
	if m == ModelTwoExponentials {
		return f.pairs()
	}
	return m.starts(f.half)
}

// pairTimes is the number of times on the grid that [fitter.pairs] scans.
const pairTimes = 14

// pairs returns start values for two exponentials: the sum of squares has
// several minima, so all pairs of times of a grid over the record are tried, with
// their weights by linear least squares, and the best few that are not each
// other's neighbours begin a search each.
func (f *fitter) pairs() [][]float64 {
	p := &f.p
	const extra = 2 // the readings and, for an offset, a constant
	n, size := p.n, pairTimes+extra
	tau, cols := make([]float64, pairTimes), make([]float64, size*n)
	lo := max(f.lo, 1e-3*f.half) / 3
	ratio := numeric.Pow(10*f.hi/lo, 1/float64(pairTimes-1))
	for k := range tau {
		tau[k] = lo * numeric.Pow(ratio, float64(k))
		for i, t := range p.t {
			cols[k*n+i] = f.rough[i] * numeric.Exp(-t/tau[k])
		}
	}
	for i, v := range p.v {
		cols[pairTimes*n+i] = f.rough[i] * v
		cols[(pairTimes+1)*n+i] = f.rough[i]
	}
	g := make([]float64, size*size)
	for a := range size {
		for b := range a + 1 {
			s := 0.0
			for i := range n {
				s += cols[a*n+i] * cols[b*n+i]
			}
			g[a*size+b], g[b*size+a] = s, s
		}
	}
	at := func(a, b int) float64 { return g[a*size+b] }
	if p.offset { // take the constant out of everything
		c := pairTimes + 1
		for a := range c {
			for b := range c {
				g[a*size+b] -= at(a, c) * at(b, c) / at(c, c)
			}
		}
	}
	type pair struct {
		a, b         int
		w, fit, sign float64
	}
	var list []pair
	y := pairTimes
	for a := range pairTimes {
		for b := a + 1; b < pairTimes; b++ {
			det := at(a, a)*at(b, b) - at(a, b)*at(a, b)
			if !(det > 1e-12*at(a, a)*at(b, b)) {
				continue
			}
			u := (at(b, b)*at(a, y) - at(a, b)*at(b, y)) / det
			v := (at(a, a)*at(b, y) - at(a, b)*at(a, y)) / det
			if !(u*v > 0) { // weights of both signs are no decay
				continue
			}
			list = append(list, pair{a, b, u / (u + v), u*at(a, y) + v*at(b, y), u})
		}
	}
	slices.SortFunc(list, func(x, y pair) int {
		switch {
		case x.fit > y.fit:
			return -1
		case x.fit < y.fit:
			return 1
		}
		return 0
	})
	var out [][]float64
	var taken []pair
	for _, x := range list {
		if len(out) == 3 {
			break
		}
		near := func(y pair) bool { return max(x.a-y.a, y.a-x.a) <= 2 && max(x.b-y.b, y.b-x.b) <= 2 }
		if slices.ContainsFunc(taken, near) {
			continue
		}
		taken = append(taken, x)
		out = append(out, []float64{math.Log(tau[x.a]), math.Log(tau[x.b]), logit.raw(min(max(x.w, 1e-3), 1-1e-3))})
	}
	if len(out) < 2 {
		out = append(out, ModelTwoExponentials.starts(f.half)...)
	}
	return out
}

// coarse runs the solver with the weights of the law, or robust ones of one pass.
func (f *fitter) coarse(x []float64) (float64, error) {
	f.p.w = nil
	if f.p.noise.r == 0 {
		f.p.w = f.p.flat
	}
	cost, err := f.lm.Solve(&f.p, x, f.p.n)
	if !f.settings.Robust {
		return cost, err
	}
	r := make([]float64, f.p.n)
	f.p.pearson(r, x)
	s := f.robustScale(r, f.p.m)
	cost = 0
	for _, v := range r {
		cost += 2 * huber.rho(v/s)
	}
	return cost * s * s, err
}

// solve runs the solver; if asked for, again and again with the weights that a
// robust loss gives the readings.
func (f *fitter) solve(x []float64) (float64, error) {
	cost, err := f.coarse(x)
	if !f.settings.Robust {
		return cost, err
	}
	n := f.p.n
	w, r := make([]float64, n), make([]float64, n)
	f.p.w = w
	defer func() { f.p.w = nil }()
	old := slices.Clone(x)
	scale := 0.0
	for _, loss := range []loss{huber, tukey} {
		for range 50 {
			f.p.pearson(r, x)
			if loss == huber { // the scale stays while the weights may vanish
				scale = f.robustScale(r, f.p.m)
			}
			for i := range w {
				w[i] = math.Sqrt(loss.weight(r[i]/scale)) * f.p.inverse[i]
			}
			_, err = f.lm.Solve(&f.p, x, n)
			move := 0.0
			for j := range x {
				move = max(move, math.Abs(x[j]-old[j]))
				old[j] = x[j]
			}
			if move < 1e-9 {
				break
			}
		}
	}
	f.p.pearson(r, x)
	cost = 0
	for _, v := range r {
		cost += 2 * tukey.rho(v/scale)
	}
	// The loss alone is bounded and would like a large scale best.
	return cost * scale * scale, err
}

// loss is a robust loss function.
type loss uint8

const (
	huber loss = iota // quadratic, then linear
	tukey             // quadratic, then constant
)

// Constants of the losses: each 95 % efficient for Gaussian noise. Sources: P. J.
// Huber, Robust Statistics (Wiley 1981); A. E. Beaton and J. W. Tukey,
// Technometrics 16 (1974) 147.
const (
	huberC = 1.345
	tukeyC = 4.685
)

// weight returns ψ(r)/r.
func (l loss) weight(r float64) float64 { // r [standard deviations]
	a := math.Abs(r)
	switch {
	case l == huber && a <= huberC:
		return 1
	case l == huber:
		return huberC / a
	case a >= tukeyC:
		return 0
	}
	q := 1 - r*r/(tukeyC*tukeyC)
	return q * q
}

// slope returns ψ′(r).
func (l loss) slope(r float64) float64 {
	a := math.Abs(r)
	switch {
	case l == huber && a <= huberC:
		return 1
	case l == huber, a >= tukeyC:
		return 0
	}
	q := r * r / (tukeyC * tukeyC)
	return (1 - q) * (1 - 5*q)
}

// rho returns the loss, r²/2 for small r.
func (l loss) rho(r float64) float64 {
	a := math.Abs(r)
	switch {
	case l == huber && a > huberC:
		return huberC * (a - 0.5*huberC)
	case l == huber:
		return 0.5 * r * r
	case a >= tukeyC:
		return tukeyC * tukeyC / 6
	}
	q := 1 - r*r/(tukeyC*tukeyC)
	return tukeyC * tukeyC / 6 * (1 - q*q*q)
}

// robustScale returns the scale of the weighted residuals: the median of their
// sizes over 0.6745, which for Gaussian noise is the standard deviation,
// corrected for m parameters.
func (f *fitter) robustScale(r []float64, m int) float64 {
	if f.settings.Known {
		return 1
	}
	a := make([]float64, len(r))
	for i, v := range r {
		a[i] = math.Abs(v)
	}
	slices.Sort(a)
	// The m residuals that the fit can make vanish say nothing: the median of the others.
	a = a[m:]
	n := len(a)
	med := 0.5 * (a[(n-1)/2] + a[n/2])
	return max(med/0.6744897501960817, 0x1p-52)
}

// result makes the fit of the solution.
func (f *fitter) result(x []float64, cost float64, lower, upper []float64) (*Fit, error) {
	p := &f.p
	fit := &Fit{
		model: p.model, settings: f.settings, unit: f.unit, noise: p.noise, cost: cost, dof: p.n - p.m, x: x,
		offset: p.offset, start: p.start, t: p.t, v: p.v, lower: lower, upper: upper,
	}
	info := &modelInfos[p.model]
	v := make([]float64, p.k)
	for j := range v {
		v[j] = info.params[j].scale.natural(x[1+j])
	}
	var err error
	if fit.law, err = p.model.law(v); err != nil {
		return nil, err
	}
	fit.finish(p, f.robustScale)
	return fit, nil
}
