package upkeep

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// A line without a bar is not told to look after one.
func TestTriggersOfBars(t *testing.T) {
	has := func(d *line.Description) bool {
		return slices.ContainsFunc(triggers(d), func(s string) bool { return strings.Contains(s, "an ioniser moved") })
	}
	if has(shortLine()) || !has(withBar(false)) {
		t.Error("the trigger of an ioniser does not follow the line")
	}
}

// A spread of 0 is an exact charge, any other a lognormal one.
func TestNeedAtSpread(t *testing.T) {
	l, err := line.New(shortLine())
	if err != nil {
		t.Fatal(err)
	}
	for spread, kind := range map[units.Ratio]known.BandKind{0: known.Exact, 0.1: known.LogNormal} {
		n, err := NeedAt(l, "idler", 2, spread, sheetLaw(t, 0.1), units.Celsius(22))
		if err != nil || n.Start.Kind != kind || n.Start.Spread != float64(spread) {
			t.Errorf("%v: %+v %v", spread, n.Start, err)
		}
	}
}

// Five weights with the distances 0.2, 0.1, 0, 0.2, 0.5 g from their median and four with
// 0.03, 0.01, 0.01, 0.05: ratio 0.025/0.2, variance 0.175 + 0.1467, 6.98 degrees of
// freedom, t = 2.366, so 0.125·e^(±2.366·0.5672).
func TestScatterByHand(t *testing.T) {
	grams := func(x ...float64) (out []units.Mass) {
		for _, g := range x {
			out = append(out, units.Mass(g*1e-3))
		}
		return out
	}
	before, after := Weights{Values: grams(10.6, 9.9, 10.0, 10.1, 10.3)}, Weights{Values: grams(10.0, 9.98, 10.06, 10.02)}
	m, r := before.away()
	near(t, "odd mean", m*1e3, 0.2, 1e-9)
	near(t, "odd variance", r, 0.175, 1e-9)
	m, r = after.away()
	near(t, "even mean", m*1e3, 0.025, 1e-9)
	near(t, "even variance", r, 0.146667, 1e-5)
	c, err := CompareScatter(before, after)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(before.Values, grams(10.6, 9.9, 10.0, 10.1, 10.3)) || after.Values[1] != grams(9.98)[0] {
		t.Error("the weights of the caller were changed")
	}
	near(t, "effect", c.Effect.Middle, 0.125, 1e-9)
	near(t, "high", c.Effect.High, 0.125*math.Exp(2.366*0.56716), 1e-3)
	near(t, "low", c.Effect.Low, 0.125/math.Exp(2.366*0.56716), 1e-4)
	near(t, "p", c.P, 0.0080, 3e-4)
}

// Repeats count as one spot: 1000 and 1200 V, 900 V, and 1300, 1400 and 1500 V are three spots of 1100, 900 and 1400 V,
// as they are when told so; the error of the hygrometer is 2.5 %RH where none is stated, and 50 % at most.
func TestRepeatsAreOneSpot(t *testing.T) {
	law := &Weathering{Time: sheetLaw(t, 0.1), Dwell: 0.3}
	many := Readings{Values: []units.DisplayVoltage{1000, 1200, 900, 1300, 1400, 1500}, Spots: []int{1, 1, 2, 3, 3, 3},
		Air: feeder(t, 0.3)}
	three := Readings{Values: []units.DisplayVoltage{1100, 900, 1400}, Air: feeder(t, 0.3),
		AirError: 2.5 * units.PercentRH}
	after := day(t, 0.35, 600, 700, 500)
	got, err := CompareReadings(many, after, Scatter{}, law)
	if err != nil {
		t.Fatal(err)
	}
	want, err := CompareReadings(three, after, Scatter{}, law)
	if err != nil || got != want {
		t.Errorf("%+v, of the spots alone %+v, %v", got, want, err)
	}
	three.AirError = 0.6
	if _, err := CompareReadings(three, after, Scatter{}, law); err == nil || !strings.Contains(err.Error(), "airError") {
		t.Errorf("%v", err)
	}
}

// Clusters of 3, 9, 0, 8 and of 1, 6, 0, 1 events in a shift each: Pearson's sum over 6 degrees of freedom is 3.6333,
// the variance of ln(8/20) 3.6333·(1/20 + 1/8) = 0.63583, t = 1.1491, p = 0.2942; the 97.5 % quantile is 2.4469
// (Student's). One entry a side cannot cluster: of 14 events 12 after have p = 2·P(12 … 14) = 2·106/2^14.
func TestCountsByHand(t *testing.T) {
	c, err := CompareCounts(Counts{Events: []int{3, 9, 0, 8}}, Counts{Events: []int{1, 6, 0, 1}}, known.Band{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p", c.P, 0.294247, 1e-5)
	near(t, "low", c.Effect.Low, 0.0568444, 1e-6)
	near(t, "middle", c.Effect.Middle, 0.4, 1e-12)
	near(t, "high", c.Effect.High, 2.814701, 1e-5)
	if _, err := CompareCounts(Counts{Events: []int{3}, Shifts: []float64{1.2e6}}, Counts{Events: []int{3}},
		known.Band{}); err == nil || !strings.Contains(err.Error(), "before.shifts[0]") {
		t.Errorf("more than a million shifts: %v", err)
	}
	for _, split := range [][2]int{{2, 12}, {12, 2}} {
		c, err := CompareCounts(Counts{Events: split[:1]}, Counts{Events: split[1:]}, known.Band{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "p of one entry a side", c.P, 2*106/16384.0, 1e-9)
	}
}

// A device that leaves 700 V of 1000 V with a zero that is off by 300 V: the on alone has (0.3/0.7)² + 0.2²/3 =
// 0.19701,
// beyond a ninth, so that the difference is tested on its own scale: z = 0.3/√(0.49·0.19701 + 0.2²/6 + 0.3²) = 0.6825,
// p = 0.49491, up to 0.7·(1 + 1.96·√0.29367) = 1.4435 (the normal law).
func TestSwitchedNearZero(t *testing.T) {
	of := func(v ...units.DisplayVoltage) Readings { return Readings{Values: v} }
	c, err := CompareSwitched(of(1000, 1200, 800), of(700, 690, 710), of(1100, 900, 1000),
		Scatter{Spots: 0.2, Offset: 300})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "observed", c.Observed, 0.7, 1e-12)
	near(t, "p", c.P, 0.494908, 1e-6)
	near(t, "low", c.Effect.Low, 0, 0)
	near(t, "high", c.Effect.High, 1.443496, 1e-6)
}

// What was not answered or measured stands open, and only that.
func TestOpenUntilAnswered(t *testing.T) {
	open := func(code string, d *line.Description, s SafetyAnswers, found *survey.Diagnosis) bool {
		list := hazards(t, d, s, found)
		i := slices.Index(codes(list), code)
		return i >= 0 && list[i].Open
	}
	d, found := demoPlant(t)
	if !open("shock", d, SafetyAnswers{}, nil) || open("shock", d, SafetyAnswers{}, found) {
		t.Error("a shock is open where nothing was measured, and there alone")
	}
	powder := SafetyAnswers{Goods: PowderGoods}
	if !open("cone-discharge", shortLine(), powder, nil) {
		t.Error("a silo that nobody answered is open")
	}
	if powder.Silo = line.Yes; open("cone-discharge", shortLine(), powder, nil) {
		t.Error("a silo that is there is not open")
	}
}

// 90.96 days from one cleaning to the next (TestCleaning) are 90 in the list of tasks.
func TestDaysOfCleaning(t *testing.T) {
	const uA = 1e-6
	var u Upkeep
	if _, err := u.clean(&line.StationSpec{Name: "bar"}, 47.6667*uA, []Output{{Station: "bar",
		Age: []units.Time{0, 30 * units.Day}, Current: []units.LineCurrent{200 * uA, 140 * uA}}}); err != nil {
		t.Fatal(err)
	}
	if u.Tasks[0].When != "every 90 days" {
		t.Errorf("%+v", u.Tasks)
	}
}

// From 1 GΩ·m on goods count as insulating.
func TestInsulatingFrom(t *testing.T) {
	for rho, want := range map[units.VolumeResistivity]bool{0.99e9: false, 1e9: true, 1.2e9: true} {
		d := shortLine()
		d.Web.VolumeResistivity = rho
		if got := slices.Contains(codes(hazards(t, d, SafetyAnswers{}, nil)), "brush-discharge"); got != want {
			t.Errorf("%v: %t", rho, got)
		}
	}
}

// An empty answer is none, an unknown one leaves what was there.
func TestAnswersInText(t *testing.T) {
	f := FlammableGas
	if err := f.UnmarshalText([]byte("steam")); err == nil || f != FlammableGas {
		t.Errorf("%v, %v", f, err)
	}
	if err := f.UnmarshalText(nil); err != nil || f != UnknownFlammables {
		t.Errorf("%v, %v", f, err)
	}
	if err := f.UnmarshalText([]byte("dust")); err != nil || f != FlammableDust {
		t.Errorf("%v, %v", f, err)
	}
	z := Zone2
	if err := z.UnmarshalText([]byte("21")); err != nil || z != Zone21 {
		t.Errorf("%v, %v", z, err)
	}
}

// Only the ionisers of the line have an output: its idler has none, nor has a name that is not there.
func TestIonisesByName(t *testing.T) {
	l, err := line.New(withBar(false))
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]bool{"bar": true, "idler": false, "nobody": false} {
		if got := ionises(l, name); got != want {
			t.Errorf("%s: %t", name, got)
		}
	}
}
