package survey_test

import (
	"testing"

	"example.org/pithball/internal/zerocheck"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	values := []any{survey.Diagnosis{}, survey.Posterior{}}
	for _, f := range zerocheck.Faults(".", values, nil, nil) {
		t.Error(f)
	}
}

// TestDiagnoseOfNothing: a line that nothing made is refused, not walked.
func TestDiagnoseOfNothing(t *testing.T) {
	one := &survey.Survey{Readings: []survey.Reading{{}}}
	for _, l := range []*line.Line{nil, {}} {
		if d, err := survey.Diagnose(l, one); err == nil {
			t.Errorf("a diagnosis of %v: %v", l, d)
		}
	}
}
