package line_test

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// TestOpenShare: a non-woven of which three quarters are air has a quarter of the weight: its cling
// limit √(2ε0·m″g) is half of that of the solid, by hand 4.43 µC/m² of 450 g/m² … 8.84; over a
// roller it stands like a film of εr 1 + 0.25·(εr − 1). What is no share is refused.
func TestOpenShare(t *testing.T) {
	d := demoDescription(t)
	d.Web.Thickness, d.Web.Density, d.Limit = 500*units.Micrometre, units.Density(900), line.Limit{Kind: line.ClingLimit}
	solid := newLine(t, d)
	d.Web.Open = 0.75
	open := newLine(t, d)
	if want := math.Sqrt(2 * units.Epsilon0 * 0.45 * units.StandardGravity); !(math.Abs(
		float64(solid.Limit())/want-1) <= 1e-9) ||
		!(math.Abs(float64(open.Limit())/want-0.5) <= 1e-9) {
		t.Errorf("limits %v and %v, by hand %g and half of it", solid.Limit(), open.Limit(), want)
	}
	// Volts of a charge over metal are σ·t/(ε0·εr).
	e := d.Web.RelativePermittivity.Value
	if got, want := open.PerOuter()/solid.PerOuter(), e/(1+0.25*(e-1)); !(math.Abs(got/want-1) <= 1e-9) {
		t.Errorf("volts over a roller %g times as many, by hand %g", got, want)
	}
	for _, x := range []units.Ratio{-0.1, 1} {
		d.Web.Open = x
		if _, err := line.New(d); err == nil || !strings.Contains(err.Error(), "web.open") {
			t.Errorf("open share %v: %v", x, err)
		}
	}
}
