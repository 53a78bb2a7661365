package gas

import (
	"errors"
	"strings"
	"testing"

	"example.org/pithball/units/known"
)

// Every row carries its source; memory rows are for those who ask for them.
func TestSparkingMinimum(t *testing.T) {
	for _, e := range sparkingTable.Rows() {
		if err := e.Source.Check(e.Name); err != nil {
			t.Error(err)
		}
		p := e.Source.Provenance
		if p == known.Unstated || p == known.Demo || e.Source.Cite == "" || e.Condition == "" || e.Licence == "" ||
			p == known.Memory && !strings.Contains(e.Source.Note, "not compared") {
			t.Errorf("%s: origin %+v", e.Name, e.Origin)
		}
	}
	var f *known.FieldError
	if _, err := FindSparkingMinimum("Ar", known.Quoted); !errors.As(err, &f) {
		t.Errorf("argon: %v", err)
	}
	if m, err := FindSparkingMinimum("Ar", known.Memory); err != nil || m.Voltage != 137 {
		t.Errorf("argon: %v, %v", m, err)
	}
}
