package line_test

import (
	"strings"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/line"
	"example.org/pithball/units"
)

// TestFaultsOfABar: what a law of the bar finds fault with is told by its key in the line file, each with the path.
func TestFaultsOfABar(t *testing.T) {
	good := line.Bar{Kind: ionflow.DC, Current: 50 * units.MicroamperePerMetre, Voltage: 5000,
		Pitch: 10 * units.Millimetre}
	for _, c := range []struct {
		want string
		edit func(b *line.Bar)
	}{
		{"bar.pitch", func(b *line.Bar) { b.Pitch = 0 }},
		{"bar.voltage", func(b *line.Bar) { b.Voltage = 0 }},
		{"bar.current", func(b *line.Bar) { b.Current = -1 }},
		{"bar.frequency", func(b *line.Bar) { b.Frequency = 50 }},
		{"bar.slot", func(b *line.Bar) { b.Gauge = 3e4 }},
		{"bar.holePitch", func(b *line.Bar) { b.Gauge, b.Hole = 3e4, 1e-3 }},
		{"bar.captured", func(b *line.Bar) { b.Gauge, b.Slot, b.Captured = 3e4, 1e-3, 2 }},
		{"bar.wind", func(b *line.Bar) { b.Wind = 1000 }},
	} {
		b := good
		c.edit(&b)
		d := demoDescription(t)
		i := 0
		for i = range d.Stations {
			if d.Stations[i].Ioniser != nil {
				break
			}
		}
		s := &d.Stations[i]
		s.Ioniser = &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre, Bar: &b}
		_, err := line.New(d)
		if want := "(" + s.Name + ").ioniser." + c.want; err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %s: %v", want, err)
		}
		if err != nil {
			for _, l := range strings.Split(err.Error(), "\n") {
				if !strings.Contains(l, "stations[") {
					t.Errorf("no path: %s", l)
				}
			}
		}
	}
}
