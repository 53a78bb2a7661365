package survey

import (
	"math"

	"example.org/pithball/internal/counter"
)

// restDraws is the number of samples by which names are tried without a reading.
const restDraws = 128

// rests looks for a reading without which the named station would no longer lead,
// and returns its index in the survey, -1 if there is none. Leaving out row r takes
// its variance to infinity: with Q and α at hand every sample moves by
// −z_r·(α_r + √Q_rr·η)/Q_rr, z = Q·H·P, and an explanation counts by as much more
// as row r spoke against it. One of the readings behind a mean takes the mean with
// it.
func (d *Diagnosis) rests(station int) int {
	m, p := d.model, d.posterior
	n := p.Len()
	c := d.newContest()
	named := -1
	for i, st := range c.stations {
		if st == station {
			named = i
		}
	}
	size, sample := make([]float64, len(c.stations)+len(c.spans)), make([]float64, n)
	wins := make([]float64, len(size))
	from := make([]int, restDraws)
	for i := range from {
		from[i] = p.modeOf(drawSeed, uint64(i))
	}
	leads := func(move func(mo *mode, i int) float64) bool {
		clear(wins)
		for i := range restDraws {
			mo := &p.modes[from[i]]
			copy(sample, d.samples[i])
			w := move(mo, i)
			top := c.rank(size, sample)
			wins[top] += w * rarity(size, top)
		}
		for j := range wins {
			if j != named && wins[j] > wins[named] {
				return false
			}
		}
		return true
	}
	for r := range m.rows {
		g := m.rows[r].group
		if g == nil {
			continue
		}
		if m.rows[r].at >= 0 || g.over != 0 && g.n == 1 {
			if !leads(func(mo *mode, i int) float64 {
				s, e := mo.s[r], mo.g[r]
				f := (e + math.Sqrt(s)*counter.Normal(drawSeed+1, uint64(r*restDraws+i))) / s
				for k, z := range mo.z[r*n : (r+1)*n] {
					sample[k] -= z * f
				}
				return math.Exp(min(e*e/(2*s), 20)) / math.Sqrt(s)
			}) {
				return g.readings[max(m.rows[r].at, 0)]
			}
			continue
		}
		if g.over != 0 || g.n < 2 {
			continue
		}
		for j, v := range g.values {
			shift := (g.mean - v) / (g.n - 1)
			if g.middle != nil || math.Abs(shift) < 0.3*math.Sqrt(m.rows[r].trust) {
				continue // one of many that says what the others say
			}
			if !leads(func(mo *mode, _ int) float64 {
				for k, z := range mo.z[r*n : (r+1)*n] {
					sample[k] += z * shift
				}
				return 1
			}) {
				return g.readings[j]
			}
		}
	}
	return -1
}
