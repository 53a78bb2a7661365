package survey_test

import (
	"math"
	"slices"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// TestOutlookIsThatOfSamples: the outlook is made in pairs and in the same room; it is, to the bit, the quantiles and
// the share above the limit of the 500 lines that Sample gives one by one.
func TestOutlookIsThatOfSamples(t *testing.T) {
	l := newLine(t, demoDescription(t))
	d, err := survey.Diagnose(l, demoSurvey(t))
	if err != nil {
		t.Fatal(err)
	}
	const v = 300 * units.MetrePerMinute
	got, err := d.At(v)
	if err != nil {
		t.Fatal(err)
	}
	a, over := make([][]float64, l.Len()), make([]float64, l.Len())
	res := make([]line.Result, l.Len())
	for i := range uint64(500) {
		m, err := d.Sample(2, i)
		if err != nil {
			t.Fatal(err)
		}
		m.RunTo(res, v)
		for s := range res {
			a[s] = append(a[s], float64(res[s].A))
			if math.Abs(float64(res[s].Net())) > float64(l.Limit()) {
				over[s] += 1.0 / 500
			}
		}
	}
	for s := range res {
		slices.Sort(a[s])
		if want := [3]float64{a[s][25], a[s][250], a[s][474]}; got.A[s] != want || got.Over[s] != over[s] {
			t.Errorf("station %d: %v over %v, want %v over %v", s, got.A[s], got.Over[s], want, over[s])
		}
	}
}
