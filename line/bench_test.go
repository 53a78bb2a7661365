package line_test

import (
	"fmt"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// BenchmarkRunTo runs the nineteen stations of the demo.
func BenchmarkRunTo(b *testing.B) { runs(b, newLine(b, demoDescription(b))) }

// BenchmarkRunTwenty runs twenty stations, with a place more behind the lay-on roller.
func BenchmarkRunTwenty(b *testing.B) { runs(b, newLine(b, twenty(b))) }

func runs(b *testing.B, l *line.Line) {
	res := make([]line.Result, l.Len())
	b.ReportAllocs()
	for b.Loop() {
		l.RunTo(res, 3.5*units.MetrePerSecond)
	}
}

// BenchmarkRunFrom runs the rest of the line from its middle.
func BenchmarkRunFrom(b *testing.B) {
	l := newLine(b, twenty(b))
	res := make([]line.Result, l.Len())
	b.ReportAllocs()
	for b.Loop() {
		l.RunFrom(res, l.Len()/2, line.State{A: 5e-6, B: -4e-6}, line.Conditions{Speed: 3.5})
	}
}

// BenchmarkNew builds the line.
func BenchmarkNew(b *testing.B) {
	d := twenty(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := line.New(d); err != nil {
			b.Fatal(err)
		}
	}
}

func twenty(t testing.TB) *line.Description {
	d := demoDescription(t)
	for len(d.Stations) < 20 {
		last := d.Stations[len(d.Stations)-1]
		d.Stations = append(d.Stations[:len(d.Stations)-1:len(d.Stations)-1], line.StationSpec{
			Name: fmt.Sprint("place ", len(d.Stations)), Kind: line.Place, At: last.At, Gap: 300 * units.Millimetre}, last)
	}
	return d
}

// TestRunTwentyAllocatesNothing: twenty stations, whole and from the middle.
func TestRunTwentyAllocatesNothing(t *testing.T) {
	l := newLine(t, twenty(t))
	res := make([]line.Result, l.Len())
	if l.Len() != 20 {
		t.Fatalf("%d stations", l.Len())
	}
	if n := testing.AllocsPerRun(100, func() {
		l.RunTo(res, 3)
		l.RunFrom(res, 10, line.State{A: 5e-6}, line.Conditions{Speed: 3})
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}
