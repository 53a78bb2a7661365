package charge

import (
	"math"
	"testing"
)

// TestContactTables: the numbers of the tables against package math.
func TestContactTables(t *testing.T) {
	for i, r := range logTable {
		inv := 1 / (1 + (float64(i)+0.5)/128)
		if want := -math.Log(inv); r[0] != inv || !(math.Abs(r[1]-want) <= 0x1p-53) {
			t.Errorf("%d: %v, want %v and %v", i, r, inv, want)
		}
	}
	for i, x := range expTable {
		if want := math.Exp2(float64(i) / 64); !(math.Abs(x-want) <= 0x1p-52) {
			t.Errorf("%d: %v, want %v", i, x, want)
		}
	}
}
