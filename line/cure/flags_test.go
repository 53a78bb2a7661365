package cure

import (
	"slices"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestFlagsAreThoseOfLine: what line flags at a station, a bar without data and a cover
// that stands at what the gas leaves it, stays flagged in a prediction; a bar that is
// off, an earthed metal roller and a cover that leaks at once are not.
func TestFlagsAreThoseOfLine(t *testing.T) {
	for _, tau := range []units.Time{1e-3, 1e6} {
		m := free(t, func(d *line.Description) {
			for i := range d.Stations {
				if d.Stations[i].Kind == line.Nip {
					r := *d.Stations[i].Roller
					r.Kind, r.Cover = line.InsulatingCover, tau
					d.Stations[i].Roller = &r
				}
			}
		})
		d, err := m.Description()
		if err != nil {
			t.Fatal(err)
		}
		l, err := line.New(&d)
		if err != nil {
			t.Fatal(err)
		}
		res := make([]line.Result, l.Len())
		l.RunTo(res, m.at)
		var want []string
		for i := range res {
			if res[i].Validity&known.Estimate != 0 {
				want = append(want, d.Stations[i].Name)
			}
		}
		got := m.Predict().Estimates
		if !slices.Equal(got, want) || !slices.Contains(got, "bar B1") || slices.Contains(got, "tension nip") != (tau > 1) {
			t.Errorf("cover of %v: %v are estimates, line says %v", tau, got, want)
		}
		off := try(t, m, Switch{Station: "bar B1"}).Predict().Estimates
		if slices.Contains(off, "bar B1") || !slices.Contains(off, "bar B2") {
			t.Errorf("B1 off: %v are estimates", off)
		}
	}
}
