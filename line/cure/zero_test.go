package cure_test

import (
	"testing"

	"example.org/pithball/internal/zerocheck"
	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/survey"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	values := []any{cure.Calibrated{}, cure.Route{}, cure.Goods{}}
	for _, f := range zerocheck.Faults(".", values, nil, map[string]string{"Route.Air": "the zero Air, which is none"}) {
		t.Error(f)
	}
}

// TestCalibratedOfNothing: neither a line nor a diagnosis that nothing made is taken.
func TestCalibratedOfNothing(t *testing.T) {
	if _, err := cure.Assume(&line.Line{}, nil); err == nil {
		t.Error("a line of no station is taken")
	}
	if _, err := cure.Calibrate(&survey.Diagnosis{}, nil); err == nil {
		t.Error("a diagnosis of nothing is taken")
	}
}
