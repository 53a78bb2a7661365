package main

import "testing"

// TestCounted: by hand: half of 591 … 7000 h is 3200 h, told to the hundred; a count has no tenths.
func TestCounted(t *testing.T) {
	for want, x := range map[string][3]float64{"4400 h (600 … 7000)": {591, 4432, 7000}, "48 h (48 … 48)": {48, 48, 48},
		"3 h (1 … 4)": {1.2, 2.6, 3.9}, "0 h (0 … 0)": {}} {
		if got := counted(x, "h"); got != want {
			t.Errorf("%v: %q, want %q", x, got, want)
		}
	}
}
