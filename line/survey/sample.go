package survey

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/internal/counter"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
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
func (d *Diagnosis) Calibrated() (*line.Line, error) { return d.line.With(d.mean, d.Speed, nil) }

// Sample returns line number i of the stream seed: changes drawn from the
// posterior, one exponent of speed for each contact drawn from its prior. What
// stations share is drawn once. Same seed and index, same bits.
func (d *Diagnosis) Sample(seed, i uint64) (*line.Line, error) {
	x := make([]float64, len(d.mean))
	d.draw(x, seed, i)
	z := func(k int) float64 { return counter.Normal(seed^0x9E3779B97F4A7C15, i*uint64(len(x))+uint64(k)) }
	return d.line.With(x, d.Speed, func(k int) float64 { return d.exponent(k).At(z(k)) })
}

// exponent is what the description says of the exponent of speed of change k, the
// zero band for an ioniser.
func (d *Diagnosis) exponent(k int) known.Band {
	u := d.Changes[k].Unknown
	for _, c := range d.desc.Stations[u.Station].Change {
		if c.Face == u.Face {
			return c.Speed
		}
	}
	return known.Band{}
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
	res := make([]line.Result, n)
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
			if math.Abs(float64(res[s].Net())) > float64(l.Limit()) {
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
