package upkeep

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestEndsOfRanges: both ends of every documented range are taken, and what lies just beyond is refused by its field.
func TestEndsOfRanges(t *testing.T) {
	two, five := volts(1000, 1100), units.Mass(5)
	l, err := line.New(shortLine())
	if err != nil {
		t.Fatal(err)
	}
	readings := func(s Scatter, r Readings) error { _, err := CompareReadings(r, two, s, nil); return err }
	events := func(c Counts) error { _, err := CompareCounts(c, Counts{Events: []int{5}}, known.Band{}); return err }
	weights := func(w Weights) error { _, err := CompareScatter(w, Weights{Deviation: five, Number: 4}); return err }
	need := func(f func(n *Need)) error {
		n := press(t, 12000, 27, 1.74)
		f(&n)
		_, err := n.Threshold()
		return err
	}
	spoil := func(f func(n *Need)) error { // ranges alone, where no air would do
		n := press(t, 12000, 27, 1.74)
		f(&n)
		return n.check("need")
	}
	watches := func(n int, v units.DisplayVoltage) error {
		_, err := Watches(l, "meter", n, []History{{"place", []units.DisplayVoltage{v}}})
		return err
	}
	monthly := func(c, within float64) error {
		var m [12]units.Temperature
		for i := range m {
			m[i] = units.Celsius(c)
		}
		return (&Weather{Monthly: &m, Within: units.TemperatureDifference(within)}).check()
	}
	margin := func(m float64) error { _, err := Keep(l, 2, Care{Meter: "meter", Margin: m}); return err }
	needs := func(n int) error {
		_, err := ForecastYear(slices.Repeat([]Need{press(t, 12000, 27, 1.74)}, n), fast(t, Hall{}),
			Weather{Hourly: slices.Repeat([]humidity.Air{feeder(t, 0.4)}, 24)})
		return err
	}
	many := func(n int) Readings {
		r := volts(slices.Repeat([]units.DisplayVoltage{1000, 1100}, n/2+1)[:n]...)
		return r
	}
	spread := func(n int) Weights {
		return Weights{Values: slices.Repeat([]units.Mass{1, 2}, n/2+1)[:n]}
	}
	for _, c := range []struct {
		field       string
		within, out func() error
	}{
		{"scatter.spots", func() error { return readings(Scatter{Spots: 5}, two) },
			func() error { return readings(Scatter{Spots: 5.01}, two) }},
		{"scatter.gain", func() error { return readings(Scatter{Gain: 1}, two) },
			func() error { return readings(Scatter{Gain: 1.01}, two) }},
		{"scatter.offset", func() error { return readings(Scatter{Offset: 0}, two) },
			func() error { return readings(Scatter{Offset: -0.01}, two) }},
		{"before.airError", func() error { return readings(Scatter{}, Readings{Values: two.Values, AirError: 0.5}) },
			func() error { return readings(Scatter{}, Readings{Values: two.Values, AirError: 0.51}) }},
		{"before.values", func() error { return readings(Scatter{}, many(100000)) },
			func() error { return readings(Scatter{}, many(100001)) }},
		{"before.values[1]", func() error { return readings(Scatter{}, volts(1, 1e9)) },
			func() error { return readings(Scatter{}, volts(1, -1.01e9)) }},
		{"before.events", func() error { return events(Counts{Events: make([]int, 100000)}) },
			func() error { return events(Counts{Events: make([]int, 100001)}) }},
		{"before.events[0]", func() error { return events(Counts{Events: []int{1000000}}) },
			func() error { return events(Counts{Events: []int{1000001}}) }},
		{"before.events[1]", func() error { return events(Counts{Events: []int{1, 0}}) },
			func() error { return events(Counts{Events: []int{1, -1}}) }},
		{"before.shifts[0]", func() error { return events(Counts{Events: []int{1}, Shifts: []float64{1e6}}) },
			func() error { return events(Counts{Events: []int{1}, Shifts: []float64{1.01e6}}) }},
		{"before.shifts[0]", func() error { return events(Counts{Events: []int{1}, Shifts: []float64{1e-6}}) },
			func() error { return events(Counts{Events: []int{1}, Shifts: []float64{0.99e-6}}) }},
		{"before.shifts", func() error { return events(Counts{Events: []int{1}, Shifts: []float64{1}}) },
			func() error { return events(Counts{Events: []int{1}, Shifts: []float64{1, 1}}) }},
		{"before.number", func() error { return weights(Weights{Deviation: five, Number: 4}) },
			func() error { return weights(Weights{Deviation: five, Number: 3}) }},
		{"before.number", func() error { return weights(Weights{Deviation: five, Number: 1e7}) },
			func() error { return weights(Weights{Deviation: five, Number: 1e7 + 1}) }},
		{"before.values", func() error { return weights(spread(4)) }, func() error { return weights(spread(3)) }},
		{"before.values", func() error { return weights(spread(1e6)) }, func() error { return weights(spread(1e6 + 1)) }},
		{"before.values[3]", func() error { return weights(Weights{Values: []units.Mass{0, 1, 2, 1e6}}) },
			func() error { return weights(Weights{Values: []units.Mass{0, 1, 2, 1.01e6}}) }},
		{"before.values[0]", func() error { return weights(Weights{Values: []units.Mass{0, 1, 2, 3}}) },
			func() error { return weights(Weights{Values: []units.Mass{-1e-9, 1, 2, 3}}) }},
		{"need.at", func() error { return spoil(func(n *Need) { n.At = units.Celsius(80) }) },
			func() error { return spoil(func(n *Need) { n.At = units.Celsius(80.1) }) }},
		{"need.at", func() error { return spoil(func(n *Need) { n.At = units.Celsius(-40) }) },
			func() error { return spoil(func(n *Need) { n.At = units.Celsius(-40.1) }) }},
		{"need.airError", func() error { return need(func(n *Need) { n.AirError = 0.5 }) },
			func() error { return need(func(n *Need) { n.AirError = 0.51 }) }},
		{"need.dwell", func() error { return need(func(n *Need) { n.Dwell = 0.2 }) },
			func() error { return need(func(n *Need) { n.Dwell = 0 }) }},
		{"need.start", func() error { return need(func(n *Need) { n.Start = known.Band{Value: 1e-12} }) },
			func() error { return need(func(n *Need) { n.Start = known.Band{Value: -1e-12} }) }},
		{"need.start", func() error { return need(func(n *Need) { n.Start.Kind = known.Normal }) },
			func() error { return need(func(n *Need) { n.Start = known.Band{Value: 6e-6, Kind: known.AtLeast} }) }},
		{"readings", func() error { return watches(100, 0) }, func() error { return watches(101, 0) }},
		{"readings", func() error { return watches(1, 0) }, func() error { return watches(0, 0) }},
		{"history[0].values[0]", func() error { return watches(4, 1e9) }, func() error { return watches(4, 1.01e9) }},
		{"history[0].values[0]", func() error { return watches(4, -1e9) }, func() error { return watches(4, -1.01e9) }},
		{"weather.monthly[0]", func() error { return monthly(40, 4) }, func() error { return monthly(40.1, 4) }},
		{"weather.monthly[11]", func() error { return monthly(-60, 4) }, func() error { return monthly(-60.1, 4) }},
		{"weather.within", func() error { return monthly(0, 1e-3) }, func() error { return monthly(0, 0) }},
		{"weather.hourly", func() error { return (&Weather{Hourly: make([]humidity.Air, 24)}).check() },
			func() error { return (&Weather{Hourly: make([]humidity.Air, 23)}).check() }},
		{"margin", func() error { return margin(1) }, func() error { return margin(0.99) }},
		{"margin", func() error { return margin(1000) }, func() error { return margin(1001) }},
		{"needs", func() error { return needs(1000) }, func() error { return needs(1001) }},
		{"hall.most", func() error { _, err := (&Hall{Room: fast(t, Hall{}).Room, Temperature: 293}).indoors(); return err },
			func() error {
				_, err := (&Hall{Room: fast(t, Hall{}).Room, Temperature: 293, Most: -1e-9}).indoors()
				return err
			}},
		{"output.error", func() error { return output(1, 0, 1).check("output") },
			func() error { return output(1.01, 0, 1).check("output") }},
		{"output.age[0]", func() error { return output(0, 0, 1).check("output") },
			func() error { return output(0, -1, 1).check("output") }},
		{"output.age[1]", func() error { return output(0, 1, 1.01).check("output") },
			func() error { return output(0, 1, 1).check("output") }},
		{"output.current", func() error { return output(0, 0, 1).check("output") },
			func() error {
				return (&Output{Age: []units.Time{0, 1}, Current: []units.LineCurrent{1, 1, 1}}).check("output")
			}},
		{"output.current", func() error { return output(0, 0, 1).check("output") },
			func() error { return (&Output{Age: []units.Time{0}, Current: []units.LineCurrent{1}}).check("output") }},
		{"log", func() error { return inLog(t, 100000) }, func() error { return inLog(t, 100001) }},
		{"speed", func() error { _, err := NeedAt(l, "idler", 1e-3, 0, sheetLaw(t, 0.1), 293); return err },
			func() error { _, err := NeedAt(l, "idler", 0, 0, sheetLaw(t, 0.1), 293); return err }},
		{"spread", func() error { _, err := NeedAt(l, "idler", 2, 5, sheetLaw(t, 0.1), 293); return err },
			func() error { _, err := NeedAt(l, "idler", 2, 5.01, sheetLaw(t, 0.1), 293); return err }},
		{"station", func() error { _, err := NeedAt(l, "place", 2, 0, sheetLaw(t, 0.1), 293); return err },
			func() error { _, err := NeedAt(l, "winder", 2, 0, sheetLaw(t, 0.1), 293); return err }},
	} {
		if err := c.within(); err != nil {
			t.Errorf("%s at its end: %v", c.field, err)
		}
		if err := c.out(); err == nil || !strings.Contains(err.Error(), c.field+":") {
			t.Errorf("%s beyond its end: %v", c.field, err)
		}
	}
	// NaN and infinities lie in no range.
	for _, x := range []float64{math.NaN(), math.Inf(1)} {
		v := units.DisplayVoltage(x)
		if readings(Scatter{}, volts(1, v)) == nil || watches(4, v) == nil || monthly(x, 4) == nil || margin(x) == nil {
			t.Errorf("%v is taken", x)
		}
	}
}

func output(e units.Ratio, first, second units.Time) *Output {
	return &Output{Age: []units.Time{first, second}, Current: []units.LineCurrent{1, 1}, Error: e}
}

func inLog(t *testing.T, n int) error {
	_, err := press(t, 12000, 27, 1.74).LimitFromLog(slices.Repeat([]Logged{{Air: feeder(t, 0.3)}}, n))
	return err
}
