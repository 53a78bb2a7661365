package line_test

import (
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// BenchmarkRunTo runs the nineteen stations of the demo.
func BenchmarkRunTo(b *testing.B) {
	l := newLine(b, demoDescription(b))
	res := make([]line.Result, l.Len())
	b.ReportAllocs()
	for b.Loop() {
		l.RunTo(res, 3.5*units.MetrePerSecond)
	}
}
