package survey

import (
	"math"
	"testing"
)

// TestScreen: station 1 makes 10 µC/m² in all samples, station 2 makes 5. A row of α = 10 and
// Q = 1 that station 1 alone answers takes 10 ± 1 from it when it is left out, and 2 leads; one
// that the others bear out, α = 0, takes 0 ± 1. A mean that shifts station 1 by 4 leaves it first,
// by 6 it does not.
func TestScreen(t *testing.T) {
	for _, c := range []struct {
		alpha, shift   float64
		without, moved bool
	}{{10, -6, false, false}, {0, -4, true, true}} {
		b := newBench([3]float64{10, 5, 0}, [3]float64{1, 1, 1}, nil, nil)
		p := b.d.posterior
		p.unknowns = make([]PosteriorUnknown, 3)
		p.modes[0].z, p.modes[0].s, p.modes[0].g = []float64{1, 0, 0}, []float64{1}, []float64{c.alpha}
		for range restDraws {
			b.d.samples = append(b.d.samples, []float64{10, 5, 0})
		}
		s := b.d.newScreen(1)
		first, worth := s.without(0)
		if first != c.without || !(math.Abs(worth-restDraws) <= 1e-6) {
			t.Errorf("%+v: first %v, worth %v samples", c, first, worth)
		}
		if first := s.shifted(0, c.shift); first != c.moved {
			t.Errorf("%+v: first %v", c, first)
		}
		// Weights count: half of the samples say nothing.
		b.d.spots = make([]float64, restDraws)
		for i := range restDraws / 2 {
			b.d.spots[i] = 2
		}
		if _, worth := s.without(0); !(math.Abs(worth-restDraws/2) <= 1e-6) {
			t.Errorf("%+v: worth %v samples of %v", c, worth, restDraws)
		}
	}
}
