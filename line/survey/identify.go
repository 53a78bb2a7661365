package survey

import (
	"math"
	"slices"
)

// freeSpread stands for no opinion of what a contact does [µC/m²]: more than air
// lets a web keep outside.
const freeSpread = 40.0

// free is what the readings say of the changes without the opinion of the
// description.
type free struct {
	n    int
	mean []float64 // [µC/m²]
	cov  []float64 // n×n
}

func (m *model) free() *free {
	m.d.check()
	l := m.lay
	n := len(l.changes)
	room := m.d.room
	defer room.back(room.mark())
	e := newDual(l.n, m.dual.r, room)
	copy(e.h, m.dual.h)
	copy(e.v, m.dual.v)
	copy(e.y, m.dual.y)
	copy(e.prior, m.dual.prior)
	copy(e.m, l.mean)
	for k := range n {
		if !l.bar[k] {
			e.prior[k], e.m[k] = sq(freeSpread), 0
		}
	}
	clear(e.prior[l.layer:l.drawn]) // no opinion of a change covers its double layer
	e.solve()
	f := &free{n: n, mean: slices.Clone(e.mean[:n]), cov: make([]float64, n*n)}
	hp, z := room.take(e.r*n), room.take(e.r*n)
	for i := range e.r {
		h := e.row(i)
		for j := range n {
			hp[i*n+j] = h[j] * e.prior[j]
		}
	}
	times(z, e.q, hp, e.r, n)
	square(f.cov, n, -1, hp, z, e.r, n)
	for k := range n {
		f.cov[k*n+k] += e.prior[k]
	}
	return f
}

// left is the share of its free variance that change k keeps.
func (f *free) left(k int) float64 { return f.cov[k*f.n+k] / sq(freeSpread) }

// sd is the standard deviation of change k by the readings alone [µC/m²].
func (f *free) sd(k int) float64 { return math.Sqrt(max(f.cov[k*f.n+k], 0)) }

// trade is the share of the variance of change a that goes if change b is known.
func (f *free) trade(a, b int) float64 {
	c := f.cov[a*f.n+b]
	return c * c / (f.cov[a*f.n+a] * f.cov[b*f.n+b])
}

// identify asks which changes the readings fix by themselves, and groups those
// that they cannot tell apart.
func (d *Diagnosis) identify() []bool {
	f := d.free
	l := d.model.lay
	const fixedShare = 0.05 // 9 µC/m² of an opinion of 40
	fixed := make([]bool, f.n)
	for k := range fixed {
		fixed[k] = l.bar[k] || f.left(k) < fixedShare
	}
	seen := slices.Clone(fixed)
	for a := range f.n {
		if seen[a] {
			continue
		}
		group := []int{a}
		seen[a] = true
		for g := 0; g < len(group); g++ {
			for b := range f.n {
				if !seen[b] && f.trade(group[g], b) > 0.1 {
					seen[b] = true
					group = append(group, b)
				}
			}
		}
		slices.Sort(group)
		d.Together = append(d.Together, group)
	}
	return fixed
}
