package survey

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/line"
	"example.org/pithball/units/known"
)

// system is the weighted linear model: unknown changes, then for each meter a
// gain and an offset, then for each place (and for the film) one relative error
// of geometry. All have priors; readings are rows.
type system struct {
	line   *line.Line
	spec   []line.Meter
	rows   []obs
	p      int // changes
	meters int
	places []int // station of each geometry error, -1 for the film
	m0, s0 []float64
	extra  []float64 // prior standard deviations of the shared errors
	mean   []float64 // of the changes
	shared []float64 // estimates of the shared errors
	cov    *mat.SymDense
}

func newSystem(l *line.Line, spec []line.Meter, rows []obs, m0, s0 []float64) *system {
	s := &system{line: l, spec: spec, rows: rows, p: len(m0), meters: len(spec), m0: m0, s0: s0}
	for i := range spec {
		m := &spec[i]
		// An error of exactly zero would make the system singular; a thousandth of
		// a percent and a microvolt are nothing.
		s.extra = append(s.extra, max(float64(m.Gain), 1e-5), max(float64(m.Offset), 1e-6))
	}
	for i := range rows {
		o := &rows[i]
		key := o.Station
		if o.OverFilm {
			key = -1
		}
		if !slices.Contains(s.places, key) {
			s.places = append(s.places, key)
			s.extra = append(s.extra, max(o.PlaceSD, 1e-5))
		}
	}
	s.shared = make([]float64, len(s.extra))
	// First expectation of each display: the mean of the readings of its place and
	// kind, so that a relative error does not favour the smallest reading.
	for i := range rows {
		var sum float64
		n := 0
		for j := range rows {
			if rows[j].Station == rows[i].Station && rows[j].Meter == rows[i].Meter && slices.Equal(rows[j].row, rows[i].row) {
				sum += rows[j].value
				n++
			}
		}
		rows[i].fit = sum / float64(n)
		rows[i].noise = s.noise(&rows[i])
	}
	return s
}

// full builds the whole row of reading i: changes, then shared errors.
func (s *system) full(dst []float64, o *obs, n line.Noise) {
	clear(dst)
	copy(dst, o.row)
	dst[s.p+2*o.Meter] = n.Gain
	dst[s.p+2*o.Meter+1] = n.Offset
	key := o.Station
	if o.OverFilm {
		key = -1
	}
	dst[s.p+2*s.meters+slices.Index(s.places, key)] = n.Place
}

func (s *system) noise(o *obs) line.Noise {
	n := s.line.Noise(&o.View, o.fit)
	// The own error never vanishes: half a display step or a tenth of the offset.
	n.Own = max(n.Own, 0.1*float64(s.spec[o.Meter].Offset), 1e-6)
	return n
}

// solve computes the posterior at the present weights, scaled by the prior
// standard deviations so that all entries are of order one.
func (s *system) solve() error {
	n := s.p + len(s.extra)
	scale := append(slices.Clone(s.s0), s.extra...)
	a := mat.NewSymDense(n, nil)
	b := mat.NewVecDense(n, nil)
	for i := range n {
		a.SetSym(i, i, 1)
		if i < s.p {
			b.SetVec(i, s.m0[i]/s.s0[i])
		}
	}
	row := make([]float64, n)
	for i := range s.rows {
		o := &s.rows[i]
		if !o.active {
			continue
		}
		s.full(row, o, o.noise)
		w := o.weight / sq(o.noise.Own)
		for j := range row {
			row[j] *= scale[j]
		}
		for j := range n {
			if row[j] == 0 {
				continue
			}
			b.SetVec(j, b.AtVec(j)+w*row[j]*o.target)
			for k := j; k < n; k++ {
				a.SetSym(j, k, a.At(j, k)+w*row[j]*row[k])
			}
		}
	}
	var ch mat.Cholesky
	if !ch.Factorize(a) {
		return known.Wrong("survey", "a singular system", "readings and priors that are finite")
	}
	var x mat.VecDense
	if err := ch.SolveVecTo(&x, b); err != nil {
		if _, ok := err.(mat.Condition); !ok {
			return err
		}
	}
	var inv mat.SymDense
	if err := ch.InverseTo(&inv); err != nil {
		if _, ok := err.(mat.Condition); !ok {
			return err
		}
	}
	s.mean = make([]float64, s.p)
	s.cov = mat.NewSymDense(s.p, nil)
	for i := range s.p {
		s.mean[i] = x.AtVec(i) * scale[i]
		for j := i; j < s.p; j++ {
			s.cov.SetSym(i, j, inv.At(i, j)*scale[i]*scale[j])
		}
	}
	for i := range s.extra {
		s.shared[i] = x.AtVec(s.p+i) * scale[s.p+i]
	}
	return nil
}

// Robust weights, in own standard deviations: first Huber's, which falls from
// huber on and finds the right solution from any start; then Tukey's biweight,
// which leaves a reading beyond tukey without weight, so that a wrong sign or
// range does not pull (Huber & Ronchetti, Robust Statistics, 2009, ch. 4 and 7).
// At 6 the biweight costs 2 % of the precision of normal errors.
const (
	huber = 2
	tukey = 6
)

// reweight takes the fit of the last solution as the new expectation of each
// display: own errors scale with it, far readings lose weight, and a reading out
// of range is replaced by its stand-in.
func (s *system) reweight(late bool) {
	for i := range s.rows {
		o := &s.rows[i]
		var fit float64
		for k, c := range o.row {
			fit += c * s.mean[k]
		}
		o.fit = fit
		o.noise = s.noise(o)
		key := o.Station
		if o.OverFilm {
			key = -1
		}
		g := s.shared[2*o.Meter]*o.noise.Gain + s.shared[2*o.Meter+1] + s.shared[2*s.meters+slices.Index(s.places, key)]*o.noise.Place
		r := (o.value - fit - g) / o.noise.Own
		if o.atLeast {
			o.censor(fit+g, late)
			continue
		}
		o.weight = robust(r, late)
	}
}

// robust is the weight of a reading that lies r own standard deviations out.
func robust(r float64, late bool) float64 { // r, result [1]
	switch a := math.Abs(r); {
	case !late:
		return min(1, huber/max(a, huber))
	case a < tukey:
		return sq(1 - sq(a/tukey))
	}
	return 1e-9
}

// censor turns a reading that ran out of its range, "at least value", into the
// ordinary observation with the same score and information at the expectation
// mid: with a = (value − mid)/s counted away from zero and the hazard λ(a) of the
// normal distribution, the score is λ/s and the information λ·(λ−a)/s² (Tobit
// likelihood: Tobin, Econometrica 26 (1958) 24, doi 10.2307/1907382). Far beyond
// the range it tells nothing; far below it counts as read.
func (o *obs) censor(mid float64, late bool) {
	away := math.Copysign(1, o.value)
	s := o.noise.Own
	a := away * (o.value - mid) / s
	hazard := math.Exp(-a*a/2) / (math.Sqrt(math.Pi/2) * math.Erfc(a/math.Sqrt2))
	if a > 8 { // the asymptote, where erfc loses its digits
		hazard = a + 1/a
	}
	w := min(hazard*(hazard-a), 1)
	o.active = w > 1e-9
	if o.active {
		o.weight, o.target = w*robust(max(a, 0), late), mid+away*s*hazard/w
	}
}

// rankTest asks what the readings fix without the priors of the changes: the
// null space of the rows, scaled by prior and own error. A change is identified
// if it has no part in it; changes that share a null direction cannot be told
// apart.
func (s *system) rankTest(s0 []float64) (identified []bool, groups [][]int, rank int) {
	n := s.p + len(s.extra)
	m := len(s.rows) + len(s.extra)
	j := mat.NewDense(m, n, nil)
	row := make([]float64, n)
	for i := range s.rows {
		o := &s.rows[i]
		if !o.active {
			continue
		}
		s.full(row, o, o.noise)
		w := math.Sqrt(o.weight) / o.noise.Own
		for k := range row {
			if k < s.p {
				row[k] *= s0[k]
			} else {
				row[k] *= s.extra[k-s.p]
			}
			row[k] *= w
		}
		j.SetRow(i, row)
	}
	for i := range s.extra { // the shared errors keep their priors
		j.Set(len(s.rows)+i, s.p+i, 1)
	}
	identified = make([]bool, s.p)
	var svd mat.SVD
	if !svd.Factorize(j, mat.SVDFullV) {
		return identified, nil, 0
	}
	values := svd.Values(nil)
	var v mat.Dense
	svd.VTo(&v)
	tiny := values[0] * 1e-9
	null := make([]int, 0, n)
	for k := range n {
		if k >= len(values) || values[k] <= tiny {
			null = append(null, k)
		}
	}
	shared := func(a, b int) float64 { // projector onto the null space
		var p float64
		for _, k := range null {
			p += v.At(a, k) * v.At(b, k)
		}
		return math.Abs(p)
	}
	for a := range s.p {
		identified[a] = shared(a, a) < 1e-9
	}
	seen := slices.Clone(identified)
	for a := range s.p {
		if seen[a] {
			continue
		}
		group := []int{a}
		seen[a] = true
		for g := 0; g < len(group); g++ {
			for b := range s.p {
				if !seen[b] && shared(group[g], b) > 1e-9 {
					seen[b] = true
					group = append(group, b)
				}
			}
		}
		slices.Sort(group)
		groups = append(groups, group)
	}
	return identified, groups, n - len(null) - len(s.extra)
}
