package ensemble

import (
	"slices"
	"testing"
)

// TestSharedByHand: S₀ + G·y of three unknowns, an odd number, so that the last row goes alone, and of two surveys:
// 1 + 5 + 70, 2 + 10 + 140, 3 + 15 + 210; and with the readings 1 and −1: 1 + 1 − 10, 2 + 2 − 20, 3 + 3 − 30.
func TestSharedByHand(t *testing.T) {
	s := &shared{k: 3, rows: 2, none: []float64{1, 2, 3}, sd: []float64{4, 5, 6}, gain: []float64{1, 10, 2, 20, 3, 30}}
	mean, sd := make([]float64, 6), make([]float64, 6)
	s.fit(mean, sd, []float64{5, 7, 1, -1})
	if want := []float64{76, 152, 228, -8, -16, -24}; !slices.Equal(mean, want) {
		t.Errorf("%v, want %v", mean, want)
	}
	if want := []float64{4, 5, 6, 4, 5, 6}; !slices.Equal(sd, want) {
		t.Errorf("%v, want %v", sd, want)
	}
}
