package upkeep

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// sheetLaw is τ = 10^(2.9 − 0.085·RH/%) s, an invented leak of coated paper.
func sheetLaw(t testing.TB, decades float64) humidity.Law[units.Time] {
	t.Helper()
	law, err := humidity.NewLogLinear(humidity.Point[units.Time]{RH: 40 * units.PercentRH,
		Value: units.Time(math.Pow(10, 2.9-0.085*40))}, 0.085, decades, 0, 1)
	if err != nil {
		t.Fatal(err)
	}
	return law
}

func feeder(t testing.TB, rh float64) humidity.Air {
	t.Helper()
	a, err := humidity.NewAir(units.Celsius(27), units.RelativeHumidity(rh), units.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func day(t testing.TB, rh float64, volts ...units.DisplayVoltage) Readings {
	return Readings{Values: volts, Air: feeder(t, rh), AirError: 1.5 * units.PercentRH}
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.6g, want %.6g ± %.2g", what, got, want, tolerance)
	}
}

// Was September a cure? Worked out by hand: means 11,236.7 and 6,723.3 V; leak 2.2 s
// and 0.57 s at 0.3 s of interval give e^(0.5277 − 0.1222)⁻¹ = 0.666; the error of
// the hygrometer 1.5 % · 0.1957/% · 0.5277 on the wetter day. The
// other values are closed forms.
func TestCompareReadings(t *testing.T) {
	w := &Weathering{Time: sheetLaw(t, 0), Dwell: 0.3 * units.Second, Design: feeder(t, 0.295)}
	january := day(t, 0.295, 13800, 12190, 7720)
	for _, c := range []struct {
		name                                           string
		after                                          Readings
		weather, observed, effect, low, high, p, plain float64
	}{
		{"September", day(t, 0.37, 6100, 7420, 6650), 0.6664, 0.598339, 0.897867, 0.540787, 1.49072, 0.677052, 0.0118659},
		{"a cure", day(t, 0.31, 3900, 2700, 3300), 0.959385, 0.293681, 0.306114, 0.201769, 0.464421, 2.60119e-8, 1.94275e-9},
	} {
		got, err := CompareReadings(january, c.after, Scatter{Spots: 0.25}, w)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name+" weather", got.Weather, c.weather, 2e-4)
		near(t, c.name+" observed", got.Observed, c.observed, 2e-6)
		near(t, c.name+" effect", got.Effect.Middle, c.effect, 3e-4)
		near(t, c.name+" low", got.Effect.Low, c.low, 2e-3)
		near(t, c.name+" high", got.Effect.High, c.high, 5e-3)
		near(t, c.name+" p", got.P, c.p, 2e-3)
		near(t, c.name+" ln p", math.Log(got.P), math.Log(c.p), 0.05)
		near(t, c.name+" plain p", math.Log(got.PlainP), math.Log(c.plain), 0.01)
		if !got.Corrected || got.Turned {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	// On the design day of 29.5 %RH September's charge would show its 6,723 V over 0.6664.
	got, _ := CompareReadings(january, day(t, 0.37, 6100, 7420, 6650), Scatter{Spots: 0.25}, w)
	near(t, "on the dry day", got.DryDay.Middle, 6723.33/0.6664, 5)
	if got.DryDay.Low > 8000 || got.DryDay.High < 12500 {
		t.Errorf("the band of the dry day is too narrow: %+v", got.DryDay)
	}
	// An effect of 0.90 drowns in the weather of two days: no number of readings shows it.
	if got.More != -1 {
		t.Errorf("More = %d", got.More)
	}
	if s := got.String(); !strings.Contains(s, "the weather alone gives 0.67") ||
		!strings.Contains(s, "no more than the weather") {
		t.Error(s)
	}
}

// Without law or air nothing is corrected, and the sentence says so.
func TestCompareUncorrected(t *testing.T) {
	got, err := CompareReadings(Readings{Values: []units.DisplayVoltage{13800, 12190, 7720}},
		Readings{Values: []units.DisplayVoltage{6100, 7420, 6650}}, Scatter{Spots: 0.25}, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p", got.P, 0.0118659, 2e-4)
	if got.Corrected || !strings.Contains(got.String(), "the weather is not taken out") {
		t.Errorf("%+v %s", got, got)
	}
}

// One reading a day with 36 % from spot to spot: the after is within three of its errors of 0 (0.36 > 1/3), so that the
// interval runs from 0 to 0.5·(1 + 1.96·√(2·0.36²)); with 33 % it is e^(ln 0.5 ± 1.96·√(2·0.33²)).
func TestCompareThreeErrors(t *testing.T) {
	one := func(v units.DisplayVoltage) Readings { return Readings{Values: []units.DisplayVoltage{v}} }
	for spots, want := range map[units.Ratio][2]float64{0.36: {0, 0.9989}, 0.33: {0.2003, 1.2480}} {
		got, err := CompareReadings(one(1000), one(500), Scatter{Spots: spots}, nil)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "low", got.Effect.Low, want[0], 1e-3)
		near(t, "high", got.Effect.High, want[1], 1e-3)
	}
}

// Two lots: 6 readings each, 20 % from spot to spot, 1.5 against 1:
// z = ln 1.5/(0.2·√(1/3)) = 3.511, p = 4.46e-4.
func TestCompareLots(t *testing.T) {
	a := Readings{Values: []units.DisplayVoltage{900, 1100, 1000, 950, 1050, 1000}}
	b := Readings{Values: []units.DisplayVoltage{1350, 1650, 1500, 1425, 1575, 1500}}
	got, err := CompareReadings(a, b, Scatter{Spots: 0.2}, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p", got.P, 0.000445701, 1e-6)
	// To see ln 1.5 = 0.4055 with 80 %: 2·0.04·(1.96 + 0.8416)²/0.1644 = 3.8.
	if got.More != 4 {
		t.Errorf("More = %d", got.More)
	}
	// Turned over, the ratio is the reciprocal.
	back, _ := CompareReadings(b, a, Scatter{Spots: 0.2}, nil)
	near(t, "back", back.Effect.Middle*got.Effect.Middle, 1, 1e-12)
	near(t, "back", back.Effect.Low*got.Effect.High, 1, 1e-12)
}

// After a good cure the meter shows its zero: the interval starts at 0.
func TestCompareNearZero(t *testing.T) {
	got, err := CompareReadings(Readings{Values: []units.DisplayVoltage{5000, 6000, 5500}},
		Readings{Values: []units.DisplayVoltage{-60, 90, 20}}, Scatter{Offset: 40}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got.Effect.Low != 0 || got.Effect.High > 0.2 || got.Effect.High < 0.005 || got.P > 0.01 {
		t.Errorf("%+v", got)
	}
}

// Jams: 42 in 10 shifts before, 15 after; the weather alone gives r.
func TestCompareCounts(t *testing.T) {
	for _, c := range []struct{ r, p float64 }{{1, 0.000460005}, {0.667, 0.0441399}, {0.5, 0.325567}} {
		got, err := CompareCounts(Counts{Events: []int{42}, Shifts: []float64{10}},
			Counts{Events: []int{15}, Shifts: []float64{10}},
			known.Band{Value: c.r})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "p", got.P, c.p, 0.01*c.p)
		near(t, "effect", got.Effect.Middle, 15.0/42/c.r, 1e-12)
		if !(got.Effect.Low < got.Effect.Middle && got.Effect.Middle < got.Effect.High) ||
			(got.P < 0.05) != (got.Effect.High < 1) {
			t.Errorf("r = %g: interval and p contradict each other: %+v", c.r, got)
		}
		wide, _ := CompareCounts(Counts{Events: []int{42}, Shifts: []float64{10}},
			Counts{Events: []int{15}, Shifts: []float64{10}},
			known.Band{Value: c.r, Spread: 0.2, Kind: known.LogNormal})
		if wide.Effect.High <= got.Effect.High || wide.Effect.Low >= got.Effect.Low {
			t.Errorf("r = %g: a weather known ill makes the interval narrower", c.r)
		}
	}
	// Nothing after: the exact interval ends at 1 − 0.025^(1/n) of n events, odds 1/3.
	got, err := CompareCounts(Counts{Events: []int{8}}, Counts{Events: []int{0}}, known.Band{})
	if err != nil {
		t.Fatal(err)
	}
	p := 1 - math.Pow(0.025, 1.0/8)
	near(t, "high", got.Effect.High, p/(1-p), 1e-9)
	near(t, "p", got.P, 2*math.Pow(0.5, 8), 1e-12)
}

// Clusters: the same totals in bursts are no proof.
func TestCompareClusters(t *testing.T) {
	calm, err := CompareCounts(Counts{Events: []int{4, 5, 4, 4, 4, 4, 4, 5, 4, 4}},
		Counts{Events: []int{1, 2, 1, 2, 1, 2, 1, 2, 1, 2}},
		known.Band{})
	if err != nil {
		t.Fatal(err)
	}
	bursts, err := CompareCounts(Counts{Events: []int{0, 0, 30, 0, 0, 12, 0, 0, 0, 0}},
		Counts{Events: []int{0, 0, 0, 15, 0, 0, 0, 0, 0, 0}},
		known.Band{})
	if err != nil {
		t.Fatal(err)
	}
	if calm.P > 0.001 || bursts.P < 0.2 {
		t.Errorf("calm p %g, bursts p %g", calm.P, bursts.P)
	}
}

// Weights: 0.21 and 0.12 g, 30 each; F = 3.0625, p = 0.00355.
func TestCompareScatter(t *testing.T) {
	got, err := CompareScatter(Weights{Deviation: 0.21 * units.Gram, Number: 30},
		Weights{Deviation: 0.12 * units.Gram, Number: 30})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p", got.P, 0.00355141, 4e-5)
	near(t, "ratio", 1/sq(got.Observed), 3.0625, 1e-9)
	if !(got.Effect.High < 1 && got.Effect.Low < got.Effect.Middle) {
		t.Errorf("%+v", got)
	}
}

// Off, on, off with a drift of 2 from off to off: the mean of the offs takes it out.
func TestCompareSwitched(t *testing.T) {
	r := func(v float64) Readings {
		return Readings{Values: []units.DisplayVoltage{units.DisplayVoltage(0.9 * v), units.DisplayVoltage(v),
			units.DisplayVoltage(1.1 * v)}}
	}
	got, err := CompareSwitched(r(4000), r(700), r(2000), Scatter{Spots: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "drift", got.Weather, 0.5, 1e-12)
	near(t, "effect", got.Effect.Middle, 700/math.Sqrt(8e6), 1e-12)
	// var = 0.04·(1/3 + (2/3)/4) = 0.02, so the interval is e^(±1.96·0.1414).
	near(t, "high", got.Effect.High/got.Effect.Middle, math.Exp(1.959964*math.Sqrt(0.02)), 1e-6)
	if got.P > 1e-6 {
		t.Errorf("p = %g", got.P)
	}
}

// TestSizeAndCoverage counts false alarms and coverage on days from a generator that
// shares no assumption with the comparison: heavy tails (Student's, 3 degrees of
// freedom), repeats at a spot that go together, a leak law off by its error and
// hygrometers with a uniform error.
func TestSizeAndCoverage(t *testing.T) {
	const n = 4000
	rng := rand.New(rand.NewPCG(7, 11))
	heavy := func() float64 { // Student's with 3 degrees of freedom, scaled to variance 1
		chi := 0.0
		for range 3 {
			chi += sq(rng.NormFloat64())
		}
		return rng.NormFloat64() / math.Sqrt(chi/3) / math.Sqrt(3)
	}
	uniform := func(half float64) float64 { return half * (2*rng.Float64() - 1) }
	stated := sheetLaw(t, 0.1)
	draw := func(level, rh, logTau float64) Readings {
		var r Readings
		tau := math.Pow(10, 2.9-85*rh/10*1+logTau) // 8.5 decades over 0 … 100 %RH
		mean := level * math.Exp(-0.3/tau)
		for spot := range 6 {
			u := 0.25 * heavy()
			for range 3 {
				r.Values = append(r.Values, units.DisplayVoltage(mean*math.Exp(u+0.05*heavy())))
				r.Spots = append(r.Spots, spot)
			}
		}
		r.Air, r.AirError = feeder(t, min(max(rh+uniform(0.026), 0), 1)), 1.5*units.PercentRH
		return r
	}
	for _, effect := range []float64{1, 0.5} {
		alarms, naive, held := 0, 0, 0
		for range n {
			b, a := 0.28+uniform(0.03), 0.34+uniform(0.04)
			shift := 0.1 * rng.NormFloat64()
			before, after := draw(8000, b, shift), draw(8000*effect, a, shift)
			w := &Weathering{Time: stated, Dwell: 0.3 * units.Second}
			got, err := CompareReadings(before, after, Scatter{}, w)
			if err != nil {
				t.Fatal(err)
			}
			if got.P < 0.05 {
				alarms++
			}
			if got.Effect.Low <= effect && effect <= got.Effect.High {
				held++
			}
			before.Spots, after.Spots = nil, nil
			if got, err = CompareReadings(before, after, Scatter{}, w); err != nil {
				t.Fatal(err)
			}
			if got.P < 0.05 {
				naive++
			}
		}
		share := func(k int) float64 { return 100 * float64(k) / n }
		t.Logf("effect %.1f: %.1f %% told from none, %.1f %% held; repeats counted as spots %.1f %%", effect,
			share(alarms), share(held), share(naive))
		if effect == 1 && (share(alarms) > 6 || share(naive) < 8) {
			t.Errorf("false alarms %.1f %%, with repeats as spots %.1f %%", share(alarms), share(naive))
		}
		if h := share(held); h < 94 || h > 99.5 {
			t.Errorf("effect %.1f: the 95 %% interval holds %.1f %%", effect, h)
		}
	}
}

// TestScatterSize: distances from the median keep the false alarms down where weights
// have outliers.
func TestScatterSize(t *testing.T) {
	const n = 4000
	rng := rand.New(rand.NewPCG(3, 5))
	outliers := func() (w Weights, plain Weights) {
		for range 30 {
			x := 12 + 0.05*rng.NormFloat64()
			if rng.Float64() < 0.05 {
				x += 0.2 * rng.NormFloat64()
			}
			w.Values = append(w.Values, units.Mass(x)*units.Gram)
		}
		v, k, _ := w.check("w")
		return w, Weights{Deviation: units.Mass(math.Sqrt(v)), Number: int(k)}
	}
	alarms, naive := 0, 0
	for range n {
		b, pb := outliers()
		a, pa := outliers()
		got, err := CompareScatter(b, a)
		if err != nil {
			t.Fatal(err)
		}
		if got.P < 0.05 {
			alarms++
		}
		if got, _ = CompareScatter(pb, pa); got.P < 0.05 {
			naive++
		}
	}
	t.Logf("weights with outliers: %.1f %% false alarms, %.1f %% with F", float64(alarms)/n*100, float64(naive)/n*100)
	if float64(alarms)/n > 0.08 || float64(naive)/n < 0.15 {
		t.Error("false alarms out of bounds")
	}
}

func TestCompareRefuses(t *testing.T) {
	ok := Readings{Values: []units.DisplayVoltage{1000, 1100}}
	nan := Readings{Values: []units.DisplayVoltage{units.DisplayVoltage(math.NaN()), 1}}
	for name, f := range map[string]func() error{
		"before.values":   func() error { _, err := CompareReadings(Readings{}, ok, Scatter{}, nil); return err },
		"after.values[0]": func() error { _, err := CompareReadings(ok, nan, Scatter{}, nil); return err },
		"before.spots": func() error {
			b := ok
			b.Spots = []int{1}
			_, err := CompareReadings(b, ok, Scatter{}, nil)
			return err
		},
		"scatter.spots": func() error { _, err := CompareReadings(ok, ok, Scatter{Spots: -1}, nil); return err },
		"weathering.time": func() error {
			_, err := CompareReadings(day(t, 0.3, 1, 2), day(t, 0.3, 1, 2), Scatter{}, &Weathering{Dwell: 1})
			return err
		},
		"before.events": func() error {
			_, err := CompareCounts(Counts{}, Counts{Events: []int{1}},
				known.Band{})
			return err
		},
		"after.events[0]": func() error {
			_, err := CompareCounts(Counts{Events: []int{1}}, Counts{Events: []int{-1}}, known.Band{})
			return err
		},
		"before.deviation": func() error {
			_, err := CompareScatter(Weights{Number: 5}, Weights{Deviation: 1, Number: 5})
			return err
		},
		"off1.values": func() error { _, err := CompareSwitched(Readings{}, ok, ok, Scatter{}); return err },
	} {
		if err := f(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
