package survey

import (
	"math"
	"slices"

	"example.org/pithball/internal/counter"
	"example.org/pithball/internal/numeric"
)

// restDraws is the number of samples by which names are tried without a reading.
const restDraws = 128

// Without a reading the samples say little if few of them carry the weight, or if an
// explanation is likely then that none of them was drawn from. The survey is then
// diagnosed anew without that reading.
const (
	restLeast = 24  // samples that the weights must be worth
	restOther = 0.2 // weight of what else may lead, the explanation at hand being 1
)

// rests looks for a reading without which the named station would no longer lead,
// and returns its index in the survey, -1 if there is none. Samples find the readings
// that may carry the name, and the survey is diagnosed anew without each of these.
//
// Leaving out row r takes its variance to infinity: with Q and α at hand every sample
// moves by −z_r·(α_r + √Q_rr·η)/Q_rr, z = Q·H·P, and an explanation counts by as much
// more as row r spoke against it. Leaving out one of n readings behind a mean shifts
// the mean. On a line of so many statements that pairs of them are not tried what the
// samples say decides, if they say enough.
func (d *Diagnosis) rests(station int) int {
	m := d.model
	defer d.room.back(d.room.mark())
	swaps := d.newSwaps(station)
	s := d.newScreen(station)
	long := len(m.doubts) > tooManyPairs
	for r := range m.rows {
		g := m.rows[r].group
		if g == nil {
			continue
		}
		if m.rows[r].at >= 0 || g.over != 0 && g.n == 1 {
			reading := g.readings[max(m.rows[r].at, 0)]
			first, worth := s.without(r)
			enough := worth >= restLeast
			if first && enough && swaps.without(r) <= restOther {
				continue
			}
			if !first && enough && long || !d.leadsWithout(reading, station) {
				return reading
			}
			continue
		}
		if g.over != 0 || g.n < 2 || g.middle != nil {
			continue
		}
		for j, v := range g.values {
			shift := (g.mean - v) / (g.n - 1)
			if math.Abs(shift) < 0.3*math.Sqrt(m.rows[r].trust) {
				continue // one of many that says what the others say
			}
			if !s.shifted(r, shift) && (long || !d.leadsWithout(g.readings[j], station)) {
				return g.readings[j]
			}
		}
	}
	return -1
}

// screen tries by samples which station leads without a row.
type screen struct {
	d            *Diagnosis
	c            *contest
	named        int
	from         []int // of each sample its explanation
	size, sample []float64
	wins, weight []float64
}

func (d *Diagnosis) newScreen(station int) *screen {
	s := &screen{d: d, c: d.newContest(), from: make([]int, restDraws), sample: make([]float64, d.posterior.Len())}
	s.named = slices.Index(s.c.stations, station)
	s.size = make([]float64, len(s.c.stations)+len(s.c.spans))
	s.wins, s.weight = make([]float64, len(s.size)), make([]float64, restDraws)
	for i := range s.from {
		s.from[i] = d.posterior.modeOf(drawSeed, uint64(i))
	}
	return s
}

// leads reports whether the named station leads once each sample is moved and weighs so
// much, and how many samples the weights are worth. Samples that cannot change who leads
// any more are not moved.
func (s *screen) leads(weigh func(mo *mode) float64, move func(mo *mode, i int)) (first bool, worth float64) {
	clear(s.wins)
	var sum, square float64
	for i := range restDraws {
		w := weigh(&s.d.posterior.modes[s.from[i]]) * s.d.spot(i)
		s.weight[i] = w
		sum, square = sum+w, square+w*w
	}
	worth = sum * sum / square
	left, rival := sum*(1+1e-9), 0.0
	for i, w := range s.weight {
		copy(s.sample, s.d.samples[i])
		move(&s.d.posterior.modes[s.from[i]], i)
		top := s.c.rank(s.size, s.sample)
		s.wins[top] += w * rarity(s.size, top)
		if top != s.named {
			rival = max(rival, s.wins[top])
		}
		left -= w
		if named := s.wins[s.named]; named > rival+left || rival > named+left {
			break
		}
	}
	return rival <= s.wins[s.named], worth
}

// without leaves out row r.
func (s *screen) without(r int) (first bool, worth float64) {
	n := len(s.sample)
	return s.leads(func(mo *mode) float64 {
		q, e := mo.s[r], mo.g[r]
		return numeric.Exp(min(e*e/(2*q), 20)) / math.Sqrt(q)
	}, func(mo *mode, i int) {
		q, e := mo.s[r], mo.g[r]
		f := (e + math.Sqrt(q)*counter.Normal(drawSeed+1, uint64(r*restDraws+i))) / q
		for k, z := range mo.z[r*n : (r+1)*n] {
			s.sample[k] -= z * f
		}
	})
}

// shifted moves the value of row r.
func (s *screen) shifted(r int, shift float64) bool {
	n := len(s.sample)
	first, _ := s.leads(func(*mode) float64 { return 1 }, func(mo *mode, _ int) {
		for k, z := range mo.z[r*n : (r+1)*n] {
			s.sample[k] += z * shift
		}
	})
	return first
}

// leadsWithout reports whether the station leads in the survey without a reading: of a
// diagnosis what the leads need, and the ground check as it is.
func (d *Diagnosis) leadsWithout(reading, station int) bool {
	s := &Survey{Readings: slices.Delete(slices.Clone(d.survey.Readings), reading, reading+1)}
	o := &Diagnosis{
		line: d.line, desc: d.desc, survey: s, stop: d.stop, Ground: d.Ground, looks: d.looks,
		room: d.room, lasting: d.passing,
	}
	defer d.room.back(d.room.mark())
	defer d.passing.back(d.passing.mark())
	groups, conds, err := o.readings()
	if err != nil || len(groups) == 0 {
		return false
	}
	o.fit(groups, conds)
	o.hear()
	o.lead(o.contest(o.samples))
	return len(o.Leads) > 0 && o.Leads[0].Station == station
}

// swaps are the explanations in which something else does what the named station does
// in the leading one.
type swaps struct {
	m        *model
	sp       *space
	station  int
	own, row []int // doubts of the station that are on; of each row its doubt, -1
}

func (d *Diagnosis) newSwaps(station int) *swaps {
	m := d.model
	w := &swaps{m: m, station: station, row: slices.Repeat([]int{-1}, len(m.rows))}
	if len(m.doubts) > tooManyPairs {
		return w
	}
	on := d.posterior.modes[0].on
	m.apply(nil)
	m.dual.solve()
	w.sp = m.space()
	for i := range m.doubts {
		if w.sp.on[i] != on[i] {
			w.sp.flip(m, i)
		}
		if q := &m.doubts[i]; q.row >= 0 {
			w.row[q.row] = i
		} else if on[i] && q.station == station {
			w.own = append(w.own, i)
		}
	}
	m.solve(nil)
	return w
}

// without is the weight of the swaps without row r, that of the leading explanation
// being 1.
func (w *swaps) without(r int) float64 {
	if w.sp == nil || w.row[r] < 0 {
		return 0
	}
	m, i := w.m, w.row[r]
	defer m.d.room.back(m.d.room.mark())
	sp := w.sp.clone(m.d.room)
	if !sp.on[i] {
		was := m.doubts[i].more
		m.doubts[i].more[0] = unheard
		sp.flip(m, i)
		m.doubts[i].more = was
	}
	var out float64
	for j := range m.doubts {
		q := &m.doubts[j]
		if sp.on[j] || q.row >= 0 || q.station == w.station {
			continue
		}
		if len(w.own) == 0 {
			out += numeric.Exp(min(sp.gainFrom(m, -pairReach, j), 50))
		}
		for _, k := range w.own {
			out += numeric.Exp(min(sp.gainFrom(m, -pairReach, k, j), 50))
		}
	}
	return out
}
