package line

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/internal/counter"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// factorise keeps the lower triangle of the posterior, by which samples are
// drawn. A posterior can be singular to rounding where two changes are tied; a
// trillionth of the prior variance on the diagonal does no harm.
func (d *Diagnosis) factorise() bool {
	n := len(d.mean)
	c := mat.NewSymDense(n, nil)
	c.CopySym(d.cov)
	for k := range n {
		c.SetSym(k, k, c.At(k, k)+1e-12*sq(d.Changes[k].Prior.SD))
	}
	var ch mat.Cholesky
	if !ch.Factorize(c) {
		return false
	}
	d.lower = &mat.TriDense{}
	ch.LTo(d.lower)
	return true
}

// draw writes posterior sample i of the changes into dst [C/m²]. The same seed
// and index give the same bits in any order.
func (d *Diagnosis) draw(dst []float64, seed, i uint64) {
	n := uint64(len(d.mean))
	for k := range dst {
		dst[k] = d.mean[k]
		for j := 0; j <= k; j++ {
			dst[k] += d.lower.At(k, j) * counter.Normal(seed, i*n+uint64(j))
		}
	}
}

// Calibrated returns the line that reproduces the diagnosis at the survey's
// speed, with the middle of every band.
func (d *Diagnosis) Calibrated() (*Line, error) { return d.realise(d.mean, nil) }

// Sample returns line number i of the stream seed: changes drawn from the
// posterior, one exponent of speed for each contact drawn from its prior. What
// stations share is drawn once. Same seed and index, same bits.
func (d *Diagnosis) Sample(seed, i uint64) (*Line, error) {
	x := make([]float64, len(d.mean))
	d.draw(x, seed, i)
	z := func(k int) float64 { return counter.Normal(seed^0x9E3779B97F4A7C15, i*uint64(len(x))+uint64(k)) }
	return d.realise(x, z)
}

// realise builds the plain line with the changes x at the survey's speed: each
// contact gets the saturation that makes its change from the charge that arrives,
// each ioniser the conductivity that makes its deposit. z gives the normal score
// of the exponent of contact k, nil for the median.
func (d *Diagnosis) realise(x []float64, z func(k int) float64) (*Line, error) {
	l := *d.line
	l.steps = slices.Clone(l.steps)
	co := d.line.coefficients(d.unknownList(), d.Speed, nil)
	arrives := func(i, f int) float64 {
		var s float64
		for k := range x {
			s += co[i][f][k] * x[k]
		}
		return s
	}
	done := make([]int, len(l.steps)) // contacts already set at a station
	for k := range d.Changes {
		c := &d.Changes[k]
		s := &l.desc.Stations[c.Station]
		t := &l.steps[c.Station]
		before := arrives(c.Station, int(c.Face-1)) - x[k]
		if s.Kind == Ioniser {
			net := arrives(c.Station, 0) + arrives(c.Station, 1) - x[k]
			n, err := calibratedIons(s.Ioniser, net, -x[k]/net, d.Speed, t.factor)
			if err != nil {
				return nil, err
			}
			t.ion = n
			continue
		}
		j := done[c.Station]
		done[c.Station]++
		p := &s.Change[j]
		exponent := p.Speed.Value
		if z != nil {
			// Beyond −1 … 2 no contact is described; a sample there is taken at the end.
			exponent = min(max(p.Speed.At(z(k)), -1), 2)
		}
		c2, err := newContact(s.Roller, p, d.Speed, before, x[k], exponent)
		if err != nil {
			return nil, err
		}
		t.changes[j] = c2
	}
	return &l, nil
}

// calibratedIons gives an ioniser the conductivity with which it removes the
// share found of the net charge at the survey's speed. A share outside 0 … 0.995
// is taken at the end; where the described supply could not have brought what was
// found, the supply is raised to twice that.
func calibratedIons(s *IonSpec, net, share float64, v units.Speed, factor float64) (ionflow.Neutraliser, error) {
	const least, most = -18.0, 2.0 // decades of S/m: nothing, and more than any air conducts
	spec := *s
	if !(share > 0) || !(factor > 0) {
		return spec.neutraliser(units.Conductivity(math.Pow(10, least)))
	}
	want := min(share, 0.995) * math.Abs(net)
	if float64(spec.Supply) < 1.01*want*float64(v) {
		spec.Supply = units.LineCurrent(2 * want * float64(v))
	}
	var broken error
	missing := func(decade float64) float64 {
		n, err := spec.neutraliser(units.Conductivity(math.Pow(10, decade)))
		if err != nil {
			broken = err
			return 0
		}
		got, _ := n.Act(units.SurfaceChargeDensity(net), v, factor)
		return math.Abs(float64(got)) - want
	}
	decade, err := numeric.Brent(missing, least, most, 1e-12, 1e-12)
	if broken != nil {
		return ionflow.Neutraliser{}, broken
	}
	if err != nil {
		decade = least // below its onset a source does nothing at any conductivity
	}
	return spec.neutraliser(units.Conductivity(math.Pow(10, decade)))
}

// Outlook is the line at another speed.
type Outlook struct {
	Speed     units.Speed  // for which it holds
	A, B, Net [][3]float64 // [C/m²] 5, 50 and 95 % quantiles after each station
	// Over is the chance that the net charge is above the limit after each
	// station. [1]
	Over []float64
}

// outlookDraws is the number of sampled lines behind an outlook: the 5 and 95 %
// quantiles are then known to about 2 % of their probability.
const outlookDraws = 500

// At predicts the line at speed v from sampled lines. The exponents of speed are
// priors, not laws: the band says how little is known.
func (d *Diagnosis) At(v units.Speed) (Outlook, error) {
	n := d.line.Len()
	o := Outlook{Speed: v, A: make([][3]float64, n), B: make([][3]float64, n), Net: make([][3]float64, n), Over: make([]float64, n)}
	res := make([]Result, n)
	col := make([][3][]float64, n)
	for i := range uint64(outlookDraws) {
		l, err := d.Sample(2, i)
		if err != nil {
			return o, err
		}
		l.RunTo(res, v)
		for s := range res {
			col[s][0] = append(col[s][0], float64(res[s].A))
			col[s][1] = append(col[s][1], float64(res[s].B))
			col[s][2] = append(col[s][2], float64(res[s].Net()))
			if math.Abs(float64(res[s].Net())) > float64(l.limit) {
				o.Over[s] += 1.0 / outlookDraws
			}
		}
	}
	for s := range col {
		for f, dst := range []*[3]float64{&o.A[s], &o.B[s], &o.Net[s]} {
			slices.Sort(col[s][f])
			for q, p := range []float64{0.05, 0.5, 0.95} {
				dst[q] = col[s][f][int(math.Round(p*(outlookDraws-1)))]
			}
		}
	}
	return o, nil
}
