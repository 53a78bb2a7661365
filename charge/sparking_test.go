package charge

import (
	"errors"
	"testing"

	"example.org/pithball/units/known"
)

// Every row carries its source; memory rows are for those who ask for them.
func TestSparkingMinimum(t *testing.T) {
	for _, e := range sparkingTable() {
		checkOrigin(t, e.Name, e.Origin)
	}
	var f *known.FieldError
	if _, err := FindSparkingMinimum("Ar", known.Published); !errors.As(err, &f) {
		t.Errorf("argon: %v", err)
	}
	if m, err := FindSparkingMinimum("Ar", known.Memory); err != nil || m.Voltage != 137 {
		t.Errorf("argon: %v, %v", m, err)
	}
}
