package upkeep

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// keep is the text of the tasks of a description at 2 m/s, a line each.
func keep(t *testing.T, d *line.Description, c Care) (Upkeep, string) {
	t.Helper()
	l, err := line.New(d)
	if err != nil {
		t.Fatal(err)
	}
	k, err := Keep(l, 2, c)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, x := range k.Tasks {
		b.WriteString(x.What + " | " + x.When + " | " + x.Limit + "\n")
	}
	return k, b.String()
}

// Which tasks a line brings. The idler's 5 µC/m² come to the bar at 2 m/s: five times 10 µA/m are 50 µA/m, twice that
// 20. A bar that falls from 200 to 140 µA/m in 30 days does so for ln(200/50)/(0.01189 + 1.645·0.00236) = 87.9 days at
// least (TestCleaning); of a faster one less than a day is told as one.
func TestTasksByHand(t *testing.T) {
	const uA = 1e-6
	covered, none, behind := shortLine(), shortLine(), withBar(false)
	covered.Stations[1].Roller.Kind, covered.Stations[1].Roller.Cover = line.InsulatingCover, 100
	none.Stations = append(none.Stations[:2:2], none.Stations[3])
	behind.Stations[1].Change[0].Median = 0
	outputs := func(days units.Time) []Output {
		return []Output{{Station: "bar", Age: []units.Time{0, days * units.Day},
			Current: []units.LineCurrent{200 * uA, 140 * uA}}}
	}
	const (
		earth = "earth of each, turning: idler | monthly, and after work on bearings | at most 1 MΩ"
		cover = "cover of idler: pinholes, marks; its core to earth | monthly | core at most 1 MΩ"
		field = "field with meter at 25 mm, 4 spots each, line running: place | weekly"
	)
	for _, c := range []struct {
		name      string
		d         *line.Description
		care      Care
		has, not  []string
		notices   int
		bars      int
		needed    float64 // µA/m
		everyDays float64
	}{
		{"one metal roller", shortLine(), Care{Meter: "meter"}, []string{earth, field, "no forecast names the month"},
			[]string{"clean", "cover of"}, 2, 0, 0, 0},
		{"one covered roller", covered, Care{Meter: "meter", Readings: 7}, []string{cover, "7 spots each"},
			[]string{"earth of each"}, 2, 0, 0, 0},
		{"no place", none, Care{Meter: "meter"}, []string{earth}, []string{"field with"}, 2, 0, 0, 0},
		{"a year", shortLine(), Care{Meter: "meter", Year: &Year{Driest: time.March, Binding: "idler",
			Outdoor: [3]units.Temperature{1: units.Celsius(3.4)}}},
			[]string{"in March, the driest month | dry below a dew point of 3.4 °C outdoors (idler binds)"},
			[]string{"no forecast"}, 2, 0, 0, 0},
		{"a bar", withBar(false), Care{Meter: "meter"}, []string{"clean bar and write down its current before and after | " +
			"monthly until its fall is known | current at least 50 µA/m"}, nil, 4, 1, 50, 0},
		{"margin", withBar(false), Care{Meter: "meter", Margin: 2}, []string{"current at least 20 µA/m"}, nil, 4, 1, 20, 0},
		{"its history", withBar(false), Care{Meter: "meter", Outputs: outputs(30)},
			[]string{"clean bar | every 87 days | current at least 50 µA/m"}, []string{"write down"}, 4, 1, 50, 87.932},
		{"fast dirt", withBar(false), Care{Meter: "meter", Outputs: outputs(0.3)}, []string{"clean bar | every day"}, nil, 4,
			1, 50, 0.87932},
		// Nothing comes to it: a millionth of a µA/m would do, ln(200e-6/1e-12)/(0.01189 + 1.645·0.00236) days.
		{"nothing to carry", behind, Care{Meter: "meter", Outputs: outputs(30)},
			[]string{"once a year | display behind it as after the last cleaning"}, nil, 4, 1, 0, 1212.4},
	} {
		k, text := keep(t, c.d, c.care)
		for _, s := range c.has {
			if !strings.Contains(text, s) {
				t.Errorf("%s: %q is missing in\n%s", c.name, s, text)
			}
		}
		for _, s := range c.not {
			if strings.Contains(text, s) {
				t.Errorf("%s: %q stands in\n%s", c.name, s, text)
			}
		}
		if len(k.Notices) != c.notices || len(k.Cleaning) != c.bars {
			t.Errorf("%s: %d notices, %d bars", c.name, len(k.Notices), len(k.Cleaning))
		}
		if c.bars > 0 {
			near(t, c.name+": needed", float64(k.Cleaning[0].Needed)*1e6, c.needed, 1e-6)
			near(t, c.name+": days", float64(k.Cleaning[0].Every/units.Day), c.everyDays, 2e-4*c.everyDays)
		}
	}
	for _, s := range triggers(shortLine()) {
		if strings.HasPrefix(s, "a line speed") && s != "a line speed beyond 180 m/min (surveyed 120)" { // 2 m/s
			t.Error(s)
		}
	}
}

// The output of a bar by hand: of three currents on a straight ln I the rate is known to 0.05/√(2·30²) a day, and it
// is an interval from twice that error on: 2·0.05·√2/30 days from 200 µA/m are 173.6 after 30 days.
func TestOutputByHand(t *testing.T) {
	const uA = 1e-6
	rate, sd := math.Log(200.0/140)/30, 0.05/math.Sqrt(1800)
	c, err := CleaningOf(Output{Age: []units.Time{0, 30 * units.Day, 60 * units.Day},
		Current: []units.LineCurrent{200 * uA, 140 * uA, 98 * uA}}, 50*uA)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "every", float64(c.Every/units.Day), math.Log(4)/(rate+1.644854*sd), 1e-4)
	near(t, "median", float64(c.Median/units.Day), math.Log(4)/rate, 1e-9)
	// Currents off the line: ln I of 0, −0.5 and −0.4 after 0, 1 and 2 days falls by 0.2 a day from −0.1.
	of := func(y ...float64) (out []units.LineCurrent) {
		for _, x := range y {
			out = append(out, units.LineCurrent(math.Exp(x)))
		}
		return out
	}
	c, err = CleaningOf(Output{Age: []units.Time{0, units.Day, 2 * units.Day}, Current: of(0, -0.5, -0.4)},
		units.LineCurrent(math.Exp(-1.1)))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "of the least squares", float64(c.Median/units.Day), 5, 1e-9)
	for last, tells := range map[units.LineCurrent]bool{173.4 * uA: true, 173.8 * uA: false} {
		c, err := CleaningOf(Output{Age: []units.Time{0, 30 * units.Day}, Current: []units.LineCurrent{200 * uA, last}},
			50*uA)
		if err != nil || (c.Every > 0) != tells || (c.Median > 0) != tells {
			t.Errorf("%v: %+v, %v", last, c, err)
		}
	}
	// 2 % instead of 5: the same rate, less of it in doubt.
	c, err = CleaningOf(Output{Age: []units.Time{0, 30 * units.Day}, Current: []units.LineCurrent{200 * uA, 140 * uA},
		Error: 0.02}, 50*uA)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "2 %", float64(c.Every/units.Day), math.Log(4)/(rate+1.644854*0.02*math.Sqrt2/30), 1e-4)
}

// An action limit by hand: the meter of shortLine with 60 % from spot to spot, 20 % of gain and 8 % of the place may
// be off by so much that one spot shows nothing, action 0; nine of them with 20 %, 200 V of zero and 6 % are √((0.2²
// + 0.0109²)/9 + 0.06² + 0.08²)·V_L and 200 V beside them.
func TestActionByHand(t *testing.T) {
	for _, c := range []struct {
		n    int
		set  func(m *line.Meter)
		want func(limit float64) float64
	}{
		{1, func(m *line.Meter) { m.Spots, m.Gain = 0.6, 0.2 }, func(float64) float64 { return 0 }},
		{9, func(m *line.Meter) { m.Offset = 200 }, func(v float64) float64 {
			return v - 1.644854*math.Sqrt(sq(v)*((sq(0.2)+sq(0.0109))/9+sq(0.06)+sq(0.08))+200*200)
		}},
	} {
		d := shortLine()
		c.set(&d.Meters[0])
		l, err := line.New(d)
		if err != nil {
			t.Fatal(err)
		}
		w, err := Watches(l, "meter", c.n, []History{{"place", []units.DisplayVoltage{100, 300}},
			{"place", []units.DisplayVoltage{200}}})
		if err != nil {
			t.Fatal(err)
		}
		want := c.want(float64(w[0].Limit))
		near(t, "action", float64(w[0].Action), want, 0.003*want) // of the placing, 1.1 % by two figures
		if w[0].Control != [2]units.DisplayVoltage{} {
			t.Errorf("control limits of three readings: %+v", w[0])
		}
		// Two lists of a place are one: 100, 300, 200, 200 have the mean 200 and the deviation √(20000/3) = 81.65.
		w, _ = Watches(l, "meter", c.n, []History{{"place", []units.DisplayVoltage{100, 300}},
			{"place", []units.DisplayVoltage{200, 200}}})
		near(t, "control", float64(w[0].Control[0]), 200-3*81.6497, 1e-3)
		near(t, "control", float64(w[0].Control[1]), 200+3*81.6497, 1e-3)
	}
}

// What leaves the unwind has its need too: 3 µC/m² on a way of 1 m at 2 m/s.
func TestNeedOfTheUnwind(t *testing.T) {
	d := shortLine()
	d.Stations[0].Change[0].Median = 3 * units.MicrocoulombPerSquareMetre
	l, err := line.New(d)
	if err != nil {
		t.Fatal(err)
	}
	n, err := NeedAt(l, "unwind", 2, 0, sheetLaw(t, 0.1), units.Celsius(22))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "start", n.Start.Value, 3e-6, 1e-12)
	near(t, "dwell", float64(n.Dwell), 0.5, 1e-12)
}
