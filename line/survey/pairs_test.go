package survey

import (
	"math"
	"testing"

	"example.org/pithball/internal/counter"
)

// TestPairBound: the bound of two flips is their gain but for the logarithms of what the
// second adds, ½·ln(1 + Δ·S) of each of its columns, S no more than before the first; it is
// the gain itself where the second takes variance away. A bound that is too small would hide
// an explanation without a trace.
func TestPairBound(t *testing.T) {
	const n = 9
	m := &model{d: &Diagnosis{}, lay: &layout{}, dual: &dual{}}
	col := 0
	for i := range 6 { // of one, two, one, two … columns; the first three are on
		d := doubt{station: i, span: -1, row: -1, used: 1 + i%2, odds: -1 - 0.3*float64(i), more: [2]float64{5, 3}}
		if i < 3 {
			d.more = [2]float64{0.05, 0.04} // what is on took part in S: Δ·S stays below 1
		}
		for j := range d.used {
			d.cols[j] = col
			col++
		}
		m.doubts = append(m.doubts, d)
	}
	m.lend()
	for set := range uint64(20) {
		sp := &space{n: n, s: make([]float64, n*n), g: make([]float64, n), on: []bool{true, true, true, false, false, false},
			sources: 3}
		for a := range n {
			sp.g[a] = 2 * counter.Normal(1+set, uint64(a))
			for b := range n { // Σ x·xᵀ, positive definite
				for k := range n + 3 {
					sp.s[a*n+b] += counter.Normal(99+set, uint64(a*50+k)) * counter.Normal(99+set, uint64(b*50+k)) / n
				}
			}
		}
		c := newScan(m, sp)
		for i := range m.doubts {
			c.after(i)
			for j := range m.doubts {
				if i == j {
					continue
				}
				gain, most := sp.gain(m, i, j), 0.0
				for k := range m.doubts[j].used {
					if a := m.doubts[j].cols[k]; !sp.on[j] {
						s := sp.s[a*n+a]
						if sp.on[i] {
							s *= 10 // what is taken away leaves the others freer
						}
						most += 0.5 * math.Log(1+m.doubts[j].more[k]*s)
					}
				}
				if over := c.bound(j) - gain; !(over >= -1e-9 && over <= most+1e-9) {
					t.Errorf("set %d, %d then %d: bound %v, gain %v, at most %v above", set, i, j, c.bound(j), gain, most)
				}
			}
		}
	}
}
