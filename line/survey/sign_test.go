package survey_test

import (
	"strings"
	"testing"

	"example.org/pithball/line/survey"
)

// TestAtLeastHasTheSignOfTheValue: > stands before what is 0 or more, < before what is 0 or
// less, however small it is.
func TestAtLeastHasTheSignOfTheValue(t *testing.T) {
	for value, ok := range map[string]bool{
		">0.5": true, "<-0.5": true, ">20000": true, "<-20000": true, "<0.5": false, ">-0.5": false, "≥3": true, "≤-3": true,
	} {
		s, err := survey.ReadSurvey(strings.NewReader(sheet(map[string]string{"value": value})))
		if ok != (err == nil) {
			t.Errorf("%s: %v", value, err)
		}
		if err == nil && (!s.Readings[0].AtLeast || s.Readings[0].Over) {
			t.Errorf("%s: %+v", value, s.Readings[0])
		}
	}
}
