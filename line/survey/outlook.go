package survey

import (
	"math"
	"slices"

	"example.org/pithball/internal/counter"
	"example.org/pithball/internal/numeric"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Posterior returns what the readings leave possible, to draw from. Units are those
// of [Posterior.Draw].
func (d *Diagnosis) Posterior() *Posterior { return d.posterior }

// Calibrated returns the line that reproduces the diagnosis at its speed, with the
// middle of the leading explanation and of what stays open in it: the mean of all
// would lie between two of them.
func (d *Diagnosis) Calibrated() (*line.Line, error) {
	if d.none() {
		return nil, errNone()
	}
	m := &d.posterior.modes[0]
	middle := slices.Clone(m.mean)
	for i := range m.open {
		numeric.AddScaled(middle, m.open[i].chance, m.open[i].shift[:len(middle)])
	}
	return d.settled.With(d.siChanges(middle), d.Speed, nil)
}

// siChanges turns the changes of a sample into C/m², where they stand.
func (d *Diagnosis) siChanges(sample []float64) []float64 {
	x := sample[:len(d.model.lay.changes)]
	for k := range x {
		x[k] *= 1e-6
	}
	return x
}

// Sample returns line number i of the stream seed: changes drawn from the
// posterior, one exponent of speed for each station, alike along the line, drawn
// with them where two speeds were read and else from what is described. What
// stations share is drawn once. Same seed and index, same bits.
func (d *Diagnosis) Sample(seed, i uint64) (*line.Line, error) {
	if d.none() {
		return nil, errNone()
	}
	s := make([]float64, d.posterior.Len())
	d.posterior.Draw(s, seed, i)
	return d.variant(d.settled.Variants(d.Speed), s, seed, i)
}

// variant makes the line of sample number i of the stream seed, which it overwrites.
func (d *Diagnosis) variant(lines *line.Variants, sample []float64, seed, i uint64) (*line.Line, error) {
	l := d.model.lay
	n := uint64(len(l.stations) + 1)
	z := func(k uint64) float64 { return counter.Normal(seed^0x9E3779B97F4A7C15, i*n+k) }
	twoSpeeds := l.layer > l.speed
	var shared float64
	if twoSpeeds {
		shared = sample[l.speed]
	} else {
		shared = z(0)
	}
	score := func(station int) float64 {
		if twoSpeeds {
			return exponentShared*shared + exponentOwn*sample[l.speed+1+station]
		}
		return exponentShared*shared + exponentOwn*z(uint64(station)+1)
	}
	return lines.With(d.siChanges(sample), func(k int) float64 {
		lo, hi := l.exponent[k].Limits()
		return l.exponent[k].Value + (hi-lo)/(2*known.Z95)*score(l.stationOf[k])
	})
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

// outlookSeed is the stream of those lines.
const outlookSeed = 2

// At predicts the line at speed v from sampled lines. The exponents of speed are
// priors, not laws, unless two speeds were read: the band says how little is known.
func (d *Diagnosis) At(v units.Speed) (Outlook, error) {
	if d.none() {
		return Outlook{}, errNone()
	}
	n := d.settled.Len()
	o := Outlook{
		Speed: v,
		A:     make([][3]float64, n),
		B:     make([][3]float64, n),
		Net:   make([][3]float64, n),
		Over:  make([]float64, n),
	}
	res := make([]line.Result, n)
	col := make([][3][]float64, n)
	for s := range col {
		for f := range col[s] {
			col[s][f] = make([]float64, 0, outlookDraws)
		}
	}
	lines := d.settled.Variants(d.Speed)
	var pair [2][]float64
	for f := range pair {
		pair[f] = make([]float64, d.posterior.Len())
	}
	for i := range uint64(outlookDraws) {
		if i%2 == 0 {
			d.posterior.draw(pair[0], pair[1], 1, outlookSeed, i/2)
		}
		l, err := d.variant(lines, pair[i%2], outlookSeed, i)
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
