package cure

import (
	"strings"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/line"
	"example.org/pithball/units"
)

// TestFaultOfTheLineFile: a bar that was measured without air says nothing of what other air does until its description
// has the speed of the air: the fault stands in the file of the line, at the bar, or in the change that added the bar.
func TestFaultOfTheLineFile(t *testing.T) {
	still := line.Bar{Kind: ionflow.DC, Current: 50 * units.MicroamperePerMetre, Voltage: 5000,
		Pitch: 10 * units.Millimetre, Hole: units.Millimetre,
		HolePitch: 10 * units.Millimetre, Captured: 0.3}
	m := foundBar(t, barLine(&still, nil), 2e-6)
	_, err := m.Try(Blow{"bar", units.BarGauge})
	if err == nil || !strings.Contains(err.Error(), "line file: stations[1] (bar).ioniser.bar.at") ||
		strings.Contains(err.Error(), "changes[0]") {
		t.Error(err)
	}
	_, err = m.Try(Remove{"bar"}, Add{line.StationSpec{Name: "second", Kind: line.Ioniser, At: m.desc.Stations[1].At,
		Ioniser: &line.IonSpec{Face: line.FaceA, Distance: m.desc.Stations[1].Ioniser.Distance, Bar: &still}}},
		Blow{"second", units.BarGauge})
	if err == nil || !strings.Contains(err.Error(), `change that adds "second": station.ioniser.bar.at`) ||
		strings.Contains(err.Error(), "changes[2]") {
		t.Error(err)
	}
}
