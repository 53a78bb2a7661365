package survey

import (
	"cmp"
	"math"
	"slices"
)

// Readings contradict each other if at least clashLeast of them and clashShare of
// all rows do not belong, or if everything fits better, by clashSign nats, with one
// kind of meter read with the other sign.
const (
	clashLeast = 3
	clashShare = 0.17
	clashSign  = 6.0
)

// Clash is why readings contradict each other.
type Clash struct {
	Readings []int // in the survey, those that do not fit the others
	// Sign says that the field meter and the voltmeter disagree about the sign.
	Sign bool
}

// clash asks whether the readings contradict each other.
func (d *Diagnosis) clash() *Clash {
	m := d.model
	if m.signsDisagree(d.posterior.modes[0].on) {
		c := &Clash{Sign: true}
		for _, g := range m.groups {
			if g.OverFilm {
				c.Readings = append(c.Readings, g.readings...)
			}
		}
		slices.Sort(c.Readings)
		return c
	}
	var bad []int
	rows, n := 0, 0 // of readings, and those of them that do not belong
	for i := range m.rows {
		r := &m.rows[i]
		if r.group == nil {
			continue
		}
		rows++
		if d.wrong[i] > 0.5 {
			n++
			if r.at >= 0 {
				bad = append(bad, r.group.readings[r.at])
			} else {
				bad = append(bad, r.group.readings...)
			}
			continue
		}
	}
	for i := range m.doubts {
		if q := &m.doubts[i]; q.span >= 0 && d.posterior.modes[0].on[i] {
			n++
		}
	}
	if n < clashLeast || float64(n) < clashShare*float64(rows) {
		return nil
	}
	slices.SortFunc(bad, func(a, b int) int { return cmp.Compare(a, b) })
	return &Clash{Readings: bad}
}

// signsDisagree compares the readings as they are with those in which the voltmeter
// reads with the other sign: each by the density of its best explanation.
func (m *model) signsDisagree(best []bool) bool {
	field, volt := false, false
	for _, g := range m.groups {
		field, volt = field || !g.OverFilm, volt || g.OverFilm
	}
	if !field || !volt {
		return false
	}
	log := func(sp *space, start []bool) float64 {
		out := m.dual.log + sp.censLog
		for i, on := range start {
			if on {
				sp.flip(m, i)
			}
		}
		sp.climb(m, nil, 6, false)
		return out + sp.log
	}
	turn := func() {
		for i := range m.rows {
			r := &m.rows[i]
			if r.group != nil && r.group.OverFilm {
				m.dual.y[i], r.bound = -m.dual.y[i], -r.bound
				r.group.over = -r.group.over
			}
		}
	}
	// With the other sign the values change, and K does not.
	room := m.d.room
	defer room.back(room.mark())
	none := make([]bool, len(m.doubts))
	m.apply(none)
	was := room.copied(m.dual.y)
	m.dual.solve()
	sp, unknowns, rows := m.plainSpace()
	clear(sp.on)
	sp.sources = 0
	other := sp.clone(room)
	m.hide(sp, unknowns, rows)
	as := log(sp, best)
	turn()
	m.apply(none)
	m.dual.solve()
	m.slope(other, rows)
	m.hide(other, unknowns, rows)
	turned := log(other, nil)
	copy(m.dual.y, was)
	for i := range m.rows {
		r := &m.rows[i]
		if r.group != nil && r.group.OverFilm {
			r.bound, r.group.over = -r.bound, -r.group.over
		}
	}
	m.solve(nil)
	return !math.IsNaN(turned) && turned-as > clashSign
}
