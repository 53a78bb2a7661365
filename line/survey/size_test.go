package survey_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"example.org/pithball/internal/counter"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// TestManyReadings: a survey of a hundred thousand readings takes less than two seconds of
// a processor, and no more than in proportion to one of ten thousand: ten times, 12.5 with
// the logarithm of sorting, and what the caches cost. A search of all pairs takes a hundred.
func TestManyReadings(t *testing.T) {
	if testing.Short() { // the race detector, which runs the short tests, takes several times as long
		t.Skip("a time of the processor")
	}
	l, s := newLine(t, demoDescription(t)), demoSurvey(t)
	many := func(n int) *survey.Survey {
		var out survey.Survey
		for i := range n {
			r := s.Readings[i%len(s.Readings)]
			r.Value *= 1 + 0.1*counter.Normal(1, uint64(i))
			r.Cross += units.Length(0.05 * counter.Uniform(2, uint64(i)))
			out.Readings = append(out.Readings, r)
		}
		return &out
	}
	least := func(s *survey.Survey) time.Duration { // of three: what else the machine does only adds
		best := time.Hour
		for range 3 {
			start := processor()
			diagnose(t, l, s)
			best = min(best, processor()-start)
		}
		return best
	}
	ten, hundred := many(10_000), many(100_000)
	small, large := least(ten), least(hundred)
	t.Logf("10,000 readings %v, 100,000 %v", small, large)
	if large > 2*time.Second || large > 20*small {
		t.Errorf("10,000 readings take %v, 100,000 %v", small, large)
	}
}

// longLine describes a line of so many stations with a place after every roller.
func longLine(t testing.TB, stations int) *line.Description {
	d := demoDescription(t)
	head, tail := d.Stations[:2], d.Stations[len(d.Stations)-1]
	d.Stations = append([]line.StationSpec(nil), head...)
	for i := 2; i+1 < stations; i++ {
		at := units.Length(float64(i) * 0.5)
		if i%2 == 0 {
			d.Stations = append(d.Stations, line.StationSpec{Name: fmt.Sprintf("idler %d", i), Kind: line.Roller, At: at,
				Roller: &line.RollerSpec{Radius: 0.05, Kind: line.BareMetal},
				Change: []line.ChangeSpec{{Face: line.FaceA + line.Face(i/2%2), Spread: 3 * units.MicrocoulombPerSquareMetre}}})
			continue
		}
		d.Stations = append(d.Stations, line.StationSpec{Name: fmt.Sprintf("place %d", i), Kind: line.Place, At: at,
			Gap: 0.3})
	}
	tail.At = units.Length(float64(stations) * 0.5)
	d.Stations = append(d.Stations, tail)
	return d
}

// TestLongLine: a thousand stations, all places of which were read, in less than
// five seconds of a free machine.
func TestLongLine(t *testing.T) {
	n := 1000
	if testing.Short() {
		n = 200
	}
	d := longLine(t, n)
	l := newLine(t, d)
	s := longSurvey(d)
	start := processor()
	g := diagnose(t, l, s)
	took := processor() - start
	t.Logf("%d stations, %d readings: %v", n, len(s.Readings), took)
	// Five seconds of a free machine, shared caches and all twice that.
	if took > 10*time.Second {
		t.Errorf("%v for %d stations", took, n)
	}
	for i, st := range g.States {
		for _, e := range []survey.Estimate{st.A, st.B, st.Net} {
			if !(e.Low <= e.Value && e.Value <= e.High) || math.IsInf(e.High-e.Low, 0) {
				t.Fatalf("station %d: %+v", i, e)
			}
		}
	}
}
