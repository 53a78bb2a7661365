package units_test

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestReferencesEnd: the list has each state once; what is beyond it has no name, makes no flow and does not panic.
func TestReferencesEnd(t *testing.T) {
	list := units.GasReferences()
	if len(list) < 3 || list[0] != units.ReferenceDIN1343 || list[len(list)-1] != units.GasReference(len(list)) {
		t.Fatalf("%v", list)
	}
	for _, r := range []units.GasReference{0, units.GasReference(len(list) + 1), 255} {
		var f *known.FieldError
		if _, err := units.NewStandardFlow(1, r); !errors.As(err, &f) || f.Field != "reference" {
			t.Errorf("%d: %v", r, err)
		}
		if x := r.Temperature(); !math.IsNaN(float64(x)) {
			t.Errorf("%d: %v", r, x)
		}
		if _, err := r.MarshalText(); err == nil {
			t.Errorf("%d has a name", r)
		}
	}
}

// TestNoActualFlow: no state without a temperature and a pressure.
func TestNoActualFlow(t *testing.T) {
	f, err := units.NewStandardFlow(1, units.ReferenceDIN1343)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range [][2]float64{{0, 1e5}, {300, 0}, {-1, 1e5}, {300, -1}, {math.NaN(), 1e5}} {
		if v := f.Actual(units.Temperature(c[0]), units.Pressure(c[1])); !math.IsNaN(float64(v)) {
			t.Errorf("%v: %v", c, float64(v))
		}
	}
	if b, err := (units.StandardFlow{}).AppendText(nil); err == nil {
		t.Errorf("the zero flow is %q", b)
	}
}
