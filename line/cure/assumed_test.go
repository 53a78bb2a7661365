package cure

import (
	"math"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// TestAssumedBarIsAsDescribed: before any survey a bar without maker's data does what its description
// says, within a factor of two of its strength, and the middle lets through what line.RunTo does: λL/ε0 = 5.65 m/s
// at 3.67 m/s and a factor of 0.956 take 1 − e^(−1.47) = 0.771 of 3 µC/m². It never turns the net nor
// adds to it, which deposits drawn by themselves did.
func TestAssumedBarIsAsDescribed(t *testing.T) {
	d := oneContact(line.Roller, line.ChangeSpec{Face: line.FaceA, Spread: 1e-12, Exposure: 1e-3})
	d.Stations[0].Change[0].Median = 3e-6
	second := d.Stations[1]
	second.Name, second.At = "second", 2*units.Metre
	bar := line.StationSpec{Name: "bar", Kind: line.Ioniser, At: 1.5 * units.Metre,
		Past: &line.PastSpec{Radius: 50 * units.Millimetre, X: 500 * units.Millimetre},
		Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre, Zone: 50 * units.Millimetre,
			Conductivity: units.Conductivity(1e-9), Supply: units.LineCurrent(1e-2)}}
	d.Stations = append(d.Stations[:2], bar, second,
		line.StationSpec{Name: "winder", Kind: line.Winder, At: 3 * units.Metre})
	l, err := line.New(d)
	if err != nil {
		t.Fatal(err)
	}
	m, err := Assume(l, nil)
	if err != nil {
		t.Fatal(err)
	}
	f := m.stages[2].bar.factor
	strength := f * 1e-9 * 0.05 / units.Epsilon0 / (220.0 / 60)
	s := m.Predict().Stations[2]
	near(t, "median", s.Net[1]/micro, 3*math.Exp(-strength), 1e-3)
	near(t, "as strong again", s.Net[0]/micro, 3*math.Exp(-2*strength), 0.02)
	near(t, "half as strong", s.Net[2]/micro, 3*math.Exp(-strength/2), 0.03)
	res := make([]line.Result, l.Len())
	l.RunTo(res, d.Speed)
	w := m.run(m.speed)
	net := func(i int) float64 { return w.a[i][Draws] + w.b[i][Draws] }
	near(t, "what passes", net(2)/net(1), float64(res[2].Net()/res[1].Net()), 1e-12)
	if q := try(t, m, Switch{Station: "bar"}).Predict().Stations[2].Net; !(math.Abs(q[1]/micro-3) <= 1e-3) {
		t.Errorf("switched off it leaves %v", q)
	}
}
