package line_test

import (
	"math"
	"slices"
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
			d.Stations[i].Roller.Kind, d.Stations[i].Roller.Cover = line.InsulatingCover, 266*units.Second
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
				if !(math.Abs(float64(p[0]-p[1])) <= 1e-9*(1e-6+math.Abs(float64(p[1])))) {
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

// TestDescribedFitEndsAt100: a bar that is said to give 1 nA/m and is found to take 2.5 of 5 µC/m² would need the
// factor of more than 100 that no description may have: it is written as 100, and the description is taken. A bar
// that is found to do nothing is written as 1e-12, since 0 would stand for the model as it is.
func TestDescribedFitEndsAt100(t *testing.T) {
	ion := powered()
	ion.Bar.Current = units.LineCurrent(1e-9)
	l := newLine(t, barred(ion))
	u, x, _ := l.Unknowns()
	for k := range u {
		if u[k].Station == 3 {
			x[k] = -2.5e-6
		}
	}
	desc, err := l.DescriptionWith(x, 4, nil)
	if err != nil {
		t.Fatal(err)
	}
	if fit := desc.Stations[3].Ioniser.Bar.Fit; fit != 100 {
		t.Errorf("fit %v", fit)
	}
	newLine(t, &desc)
	for k := range u {
		if u[k].Station == 3 {
			x[k] = 0
		}
	}
	if desc, err = l.DescriptionWith(x, 4, nil); err != nil || desc.Stations[3].Ioniser.Bar.Fit != 1e-12 {
		t.Errorf("%v, %v", desc.Stations[3].Ioniser.Bar.Fit, err)
	}
}

// TestUnknownsByHand: two faces off the roll, one at the idler with its median, one at the bar, of which nothing is
// thought but that ± 10 µC/m² would not surprise.
func TestUnknownsByHand(t *testing.T) {
	u, median, spread := newLine(t, barred(powered())).Unknowns()
	want := []line.Unknown{{Station: 0, Face: line.FaceA}, {Station: 0, Face: line.FaceB},
		{Station: 1, Face: line.FaceA}, {Station: 3, Face: line.FaceA}}
	medians := []float64{0, 0, float64(5 * units.MicrocoulombPerSquareMetre), 0}
	if !slices.Equal(u, want) || !slices.Equal(median, medians) ||
		!slices.Equal(spread, []float64{1e-6, 1e-6, 1e-6, 10e-6}) {
		t.Errorf("%v, %v, %v", u, median, spread)
	}
}
