package line_test

import (
	"math"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// TestDescriptionWith: the line that is made of the description runs as the line
// that was calibrated, at the calibrated speed and, but for nothing, at others; an
// insulating roller is among its contacts.
func TestDescriptionWith(t *testing.T) {
	d := demoDescription(t)
	for i := range d.Stations {
		if d.Stations[i].Kind == line.Nip {
			d.Stations[i].Roller.Kind, d.Stations[i].Roller.Cover = "insulating", 266*units.Second
		}
		if d.Stations[i].Name == "bar B2" { // one with its data
			ion := powered()
			ion.Face = line.FaceA
			d.Stations[i].Ioniser = &ion
		}
	}
	l := newLine(t, d)
	u, _, _ := l.Unknowns()
	x := make([]float64, len(u))
	for k := range x {
		x[k] = 1e-6 * float64(3-k)
		if u[k].Station == l.Station("bar B2") {
			x[k] = 7e-6 // of the net of −15
		}
	}
	const v = 250 * units.MetrePerMinute
	m, err := l.With(x, v, nil)
	if err != nil {
		t.Fatal(err)
	}
	desc, err := l.DescriptionWith(x, v, nil)
	if err != nil {
		t.Fatal(err)
	}
	again := newLine(t, &desc)
	want, got := make([]line.Result, l.Len()), make([]line.Result, l.Len())
	for _, at := range []units.Speed{v, 180 * units.MetrePerMinute} {
		m.RunTo(want, at)
		again.RunTo(got, at)
		for i := range want {
			for _, p := range [][2]units.SurfaceChargeDensity{{got[i].A, want[i].A}, {got[i].B, want[i].B}} {
				if math.Abs(float64(p[0]-p[1])) > 1e-9*(1e-6+math.Abs(float64(p[1]))) {
					t.Errorf("at %v, %s: %v, calibrated %v", at, desc.Stations[i].Name, p[0], p[1])
				}
			}
		}
	}
	if desc.Speed != v || d.Stations[2].Change[0].Median != 0 {
		t.Errorf("speed %v, caller's description changed: %v", desc.Speed, d.Stations[2].Change[0].Median)
	}
	if _, err := l.DescriptionWith(x[1:], v, nil); err == nil {
		t.Error("too few changes accepted")
	}
}
