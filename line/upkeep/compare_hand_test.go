package upkeep

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func volts(v ...units.DisplayVoltage) Readings { return Readings{Values: v} }

// about are three spots of that mean whose relative standard deviation is cv.
func about(mean, cv float64) Readings {
	return volts(units.DisplayVoltage(mean*(1-cv)), units.DisplayVoltage(mean), units.DisplayVoltage(mean*(1+cv)))
}

// Comparisons by hand. Quantiles of Student's, χ² and the normal law are those of the tables: t(4) 2.7764, χ²(4) 13.277
// at 99 %, χ²(5) 15.086; p and the quantile of 2.882 degrees of freedom are integrals of Student's density by Simpson.
func TestReadingsByHand(t *testing.T) {
	for _, c := range []struct {
		name                       string
		before, after              Readings
		scatter                    Scatter
		effect, low, high, p, more float64
	}{
		// cv² 0.04 of 3 and 0.02 of 2: var 0.01333 + 0.01, Welch's freedom 0.02333²/(0.01333²/2 + 0.01²/1) = 2.882, its
		// quantile 3.2572, t = 0.51083/0.15275; 0.06 a pair over (0.51083/2.8016)² are 1.8 readings.
		{"their own scatter", volts(1000, 1200, 800), volts(540, 660), Scatter{}, 0.6, 0.364812, 0.986809, 0.046942, 2},
		{"turned round", volts(540, 660), volts(1000, 1200, 800), Scatter{}, 1 / 0.6, 1 / 0.986809, 1 / 0.364812, 0.046942,
			2},
		// 4·0.18²/0.1² = 12.96 on 4 degrees of freedom: 10 % may be true, 0.1·√(2/3)·1.96 each way.
		{"stated, not contradicted", about(1000, 0.18), about(500, 0.18), Scatter{Spots: 0.1}, 0.5, 0.25 / 0.586773,
			0.586773, math.NaN(), 1},
		// 4·0.1825²/0.1² = 13.32: the readings have it, 0.1825·√(2/3)·2.7764.
		{"stated, contradicted", about(1000, 0.1825), about(500, 0.1825), Scatter{Spots: 0.1}, 0.5, 0.25 / 0.756217,
			0.756217, math.NaN(), 2},
		// 0.2²·(1/4 + 1/2) + (50/1000)² + (50/680)² + 0.06² = 0.041507, z = 0.38566/0.20373; of it 0.011507 stay however
		// many are read: 0.08/((0.38566/2.8016)² − 0.011507) = 10.75 readings.
		{"zero and gain", volts(1000, 1100, 900, 1000), volts(680, 680), Scatter{Spots: 0.2, Offset: 50, Gain: 0.06},
			0.68, 0.456134, 1.013738, 0.058359, 11},
		// One spot each and 30 %: (0.3)² a day, e^(ln 0.5 ± 1.96·0.42426).
		{"one spot a day", volts(1000), volts(500), Scatter{Spots: 0.3}, 0.5, 0.217689, 1.148429, 0.102309, 3},
	} {
		got, err := CompareReadings(c.before, c.after, c.scatter, nil)
		if err != nil {
			t.Fatal(c.name, err)
		}
		near(t, c.name+": effect", got.Effect.Middle, c.effect, 1e-9)
		near(t, c.name+": low", got.Effect.Low, c.low, 3e-6)
		near(t, c.name+": high", got.Effect.High, c.high, 1e-5)
		near(t, c.name+": more", float64(got.More), c.more, 0)
		if !math.IsNaN(c.p) {
			near(t, c.name+": p", got.P, c.p, 2e-6)
			near(t, c.name+": p without the weather", got.PlainP, c.p, 2e-6)
		}
		if got.Weather != 1 || got.Corrected || got.Turned || got.DryDay != (Interval{}) || got.Validity != 0 {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	// Two spots on each day tell their scatter, one does not.
	for _, c := range [][2]Readings{{volts(1000), volts(500, 600)}, {volts(1000, 900), volts(500)}} {
		if _, err := CompareReadings(c[0], c[1], Scatter{}, nil); err == nil || !strings.Contains(err.Error(),
			"scatter.spots") {
			t.Errorf("one spot on a day: %v", err)
		}
	}
	turned, err := CompareReadings(volts(1000, 1200, 800), volts(-540, -660), Scatter{}, nil)
	if err != nil || !turned.Turned || !(math.Abs(turned.Effect.Middle-0.6) <= 1e-9) {
		t.Errorf("%+v, %v: the magnitude falls to 0.6 and the sign turns", turned, err)
	}
}

// The leak of sheetLaw by hand: in τ = 10^(2.9 − 8.5·RH) s 0.03 s leave ln f = −0.094868 at 40 %RH and −0.671616 at 50;
// ∂ln f/∂RH is ln f·8.5·ln 10, a tenth of a decade moves ln f by 0.1·ln 10 of it. The step of the slope costs
// (8.5·ln 10·0.001)²/6 = 6e-5 of it; at the ends of the humidity it is taken to one side.
func TestWeatherByHand(t *testing.T) {
	const k = 8.5 * math.Ln10
	w := &Weathering{Time: sheetLaw(t, 0.1), Dwell: 0.03}
	before, after := Readings{Air: feeder(t, 0.4), AirError: 0.015}, Readings{Air: feeder(t, 0.5)} // 2.5 %RH
	got, err := w.between(&before, &after)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ln", got.ln, -0.671616+0.094868, 2e-6)
	near(t, "variance", got.variance, sq(0.094868*k*0.015)+sq(0.671616*k*0.025)+sq(0.1*math.Ln10*(0.671616-0.094868)),
		2e-5)
	for _, rh := range []float64{0, 0.4, 0.5, 1} {
		x := 0.03 / math.Pow(10, 2.9-8.5*rh)
		want, tolerance := x*k, 1e-4
		if rh == 0 || rh == 1 {
			tolerance = k * 1e-3 / 2 * 1.1 // of a difference to one side
		}
		at, slope, perDecade := w.at(feeder(t, rh))
		near(t, "T/τ", at/x, 1, 1e-9)
		near(t, "slope", slope/want, 1, tolerance)
		near(t, "of a decade", perDecade/(x*math.Ln10), 1, 1e-9)
	}
	// On the design day of 40 %RH the charge of the second would have left e^0.576748 times as much on the meter; its
	// variance is 0.2²/3 and that of the weather, without an error of the design day.
	w.Design = feeder(t, 0.4)
	before.Values, after.Values = about(1000, 0.1).Values, about(500, 0.1).Values
	c, err := CompareReadings(before, after, Scatter{Spots: 0.2}, w)
	if err != nil {
		t.Fatal(err)
	}
	e := 1.959964 * math.Sqrt(0.04/3+sq(0.671616*k*0.025)+sq(0.1*math.Ln10*0.576748))
	near(t, "on the dry day", c.DryDay.Middle, 500*math.Exp(0.576748), 0.01)
	near(t, "at most", c.DryDay.High/c.DryDay.Middle, math.Exp(e), 5e-4)
	near(t, "at least", c.DryDay.Low/c.DryDay.Middle, math.Exp(-e), 5e-4)
	if c.Validity != 0 || !c.Corrected {
		t.Errorf("%+v", c)
	}
}

// Near zero with weather and a zero that is off: the after of 700 V has (300/700)² + 0.2²/3 = 0.19701, more than a
// ninth, and all else 0.04/3 + 0.3² + the weather's variance (TestWeatherByHand, both hygrometers at 2.5 %RH). Of
// θ = 0.7/e^−0.576748 the difference from 1 is tested, of 0.7 without the weather.
func TestNearZeroWithWeather(t *testing.T) {
	const k = 8.5 * math.Ln10
	before, after := about(1000, 0.1), about(700, 0.1)
	before.Air, after.Air = feeder(t, 0.4), feeder(t, 0.5)
	c, err := CompareReadings(before, after, Scatter{Spots: 0.2, Offset: 300}, &Weathering{Time: sheetLaw(t, 0),
		Dwell: 0.03})
	if err != nil {
		t.Fatal(err)
	}
	va, vb := 0.04/3+sq(3.0/7), 0.04/3+0.09
	weather := sq(0.094868*k*0.025) + sq(0.671616*k*0.025)
	theta := 0.7 * math.Exp(0.576748)
	p := func(z float64) float64 { return math.Erfc(math.Abs(z) / math.Sqrt2) }
	near(t, "p", c.P, p((theta-1)/math.Sqrt(theta*theta*va+vb+weather)), 1e-4)
	near(t, "plain p", c.PlainP, p(0.3/math.Sqrt(0.49*va+vb)), 1e-5)
	near(t, "low", c.Effect.Low, 0, 0)
	near(t, "high", c.Effect.High, theta*(1+1.959964*math.Sqrt(va+vb+weather)), 1e-3)
}

// Without a known air of either day, or without a law, nothing is corrected.
func TestNoWeather(t *testing.T) {
	w := &Weathering{Time: sheetLaw(t, 0), Dwell: 0.03, Design: feeder(t, 0.2)}
	dry, wet := day(t, 0.3, 900, 1000, 1100), day(t, 0.5, 900, 1000, 1100)
	unknown := volts(900, 1000, 1100)
	for _, c := range []struct {
		before, after Readings
		w             *Weathering
		want          bool
	}{{dry, wet, w, true}, {unknown, wet, w, false}, {dry, unknown, w, false}, {dry, wet, nil, false}} {
		got, err := CompareReadings(c.before, c.after, Scatter{}, c.w)
		if err != nil || got.Corrected != c.want || (got.DryDay != Interval{}) != c.want || (got.Weather != 1) != c.want {
			t.Errorf("%+v: %+v, %v", c, got, err)
		}
	}
	w.Design = humidity.Air{}
	if got, err := CompareReadings(dry, wet, Scatter{}, w); err != nil || got.DryDay != (Interval{}) {
		t.Errorf("without a design day %+v, %v", got, err)
	}
}

// A device off, on and off again by hand: cv² = (2·0.04 + 0.0288 + 0.02)/4 = 0.0322 with 4 degrees of freedom where the
// readings tell it, t(4) 2.7764 (tables), var = cv²·(1/2 + (1/3 + 1/2)/4).
func TestSwitchedByHand(t *testing.T) {
	off, again := volts(1000, 1200, 800), volts(900, 1100)
	for _, c := range []struct {
		name          string
		on            Readings
		scatter       Scatter
		effect, width float64 // width on the logarithm
		more          int
	}{
		{"their own scatter", volts(440, 560), Scatter{}, 0.5, 2.776445 * math.Sqrt(0.0322*0.708333), 1},
		{"5 % stated, 51.5 above 13.3", volts(440, 560), Scatter{Spots: 0.05}, 0.5, 2.776445 * math.Sqrt(0.0322*0.708333), 1},
		{"10 % stated, 12.9 below 13.3", volts(440, 560), Scatter{Spots: 0.1}, 0.5, 1.959964 * math.Sqrt(0.01*0.708333), 1},
		// One spot on: (1.5·0.01)/((ln 0.9/2.8016)² − (10/900)² − (10/1000)²) = 12.6.
		{"zero off by 10 V", volts(900), Scatter{Spots: 0.1, Offset: 10}, 0.9,
			1.959964 * math.Sqrt(0.01*(1+0.208333)+sq(10.0/900)+sq(0.01)), 13},
	} {
		got, err := CompareSwitched(off, c.on, again, c.scatter)
		if err != nil {
			t.Fatal(c.name, err)
		}
		near(t, c.name+": drift", got.Weather, 1, 1e-12)
		near(t, c.name+": effect", got.Effect.Middle, c.effect, 1e-9)
		near(t, c.name+": high", math.Log(got.Effect.High/c.effect), c.width, 1e-6)
		near(t, c.name+": low", math.Log(got.Effect.Low/c.effect), -c.width, 1e-6)
		if got.More != c.more || got.PlainP != got.P || (got.P < 0.05) != (got.Effect.High < 1) || got.Turned {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	// t = ln 2/√0.0228083 = 4.5897 with 4 degrees of freedom: p = 0.010110 (Student's density by Simpson).
	got, err := CompareSwitched(off, volts(-440, -560), again, Scatter{})
	if err != nil || !got.Turned {
		t.Errorf("%+v, %v", got, err)
	}
	near(t, "p", got.P, 0.0101095, 1e-6)
	for name, x := range map[string][3]Readings{
		"off2.values":   {off, off, volts(-900, -1100)}, // the sign turned between the offs
		"scatter.spots": {volts(1000), volts(900, 950), volts(1000)},
	} {
		if _, err := CompareSwitched(x[0], x[1], x[2], Scatter{}); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := CompareSwitched(volts(1000), volts(900, 950), volts(1000, 1100), Scatter{}); err != nil {
		t.Errorf("two degrees of freedom: %v", err)
	}
}

// Deviations of unequal numbers: F = 0.1²/0.2² on 19 and 9 degrees of freedom, its quantiles 3.6833 and 0.34722 and its
// distribution by Simpson. Seen is ln ½ with 2·(1/2n): 1/(ln ½/2.8016)² = 16.3 weights each.
func TestDeviationsByHand(t *testing.T) {
	c, err := CompareScatter(Weights{Deviation: 0.2e-3, Number: 10}, Weights{Deviation: 0.1e-3, Number: 20})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p", c.P, 2*0.00528502, 1e-6)
	near(t, "low", c.Effect.Low, 0.260525, 1e-5)
	near(t, "high", c.Effect.High, 0.848536, 1e-5)
	near(t, "more", float64(c.More), 17, 0)
	// Single weights by the distances from their median, as TestScatterByHand has them:
	// (0.175·5 + 0.14667·4)/(ln 0.125/2.8016)² = 2.65.
	var w [2]Weights
	for i, x := range [][]float64{{10.6, 9.9, 10.0, 10.1, 10.3}, {10.0, 9.98, 10.06, 10.02}} {
		for _, g := range x {
			w[i].Values = append(w[i].Values, units.Mass(g)*units.Gram)
		}
	}
	if c, err = CompareScatter(w[0], w[1]); err != nil || c.More != 3 || c.Weather != 1 || c.Corrected || c.PlainP != c.P {
		t.Errorf("%+v, %v", c, err)
	}
	// Deviations beside single weights are all that is compared.
	c, err = CompareScatter(Weights{Deviation: 0.2e-3, Number: 10}, w[1])
	if err != nil || !(math.Abs(c.Effect.Middle-c.Observed) <= 1e-12) {
		t.Errorf("%+v, %v", c, err)
	}
	// Weights that are all alike tell no scatter.
	equal := Weights{Values: []units.Mass{0.01, 0.01, 0.01, 0.01}}
	if _, err := CompareScatter(w[0], equal); err == nil || !strings.Contains(err.Error(), "after.values") {
		t.Errorf("%v", err)
	}
}

// How many readings an effect needs: 0.08/(ln 1.5/2.8016)² = 3.82; beyond a million nobody reads them, and what more
// readings do not lessen may hide it.
func TestNeededByHand(t *testing.T) {
	const score = 1.959964 + 0.841621
	for _, c := range []struct {
		d, each, rest float64
		want          int
	}{
		{math.Log(1.5), 0.08, 0, 4}, {-math.Log(1.5), 0.08, 0, 4}, {math.Log(1.5), 1e-6, 0, 1},
		{math.Log(1.5), 0.08, 0.010, 8}, // 0.08/(0.020945 − 0.010) = 7.3
		{score * 0.1, 0.08, 0.0101, -1}, {score * 0.1, 0.07995, 0.0099, 800},
		{score * 1e-3, 0.9, 0, 900000}, {score * 1e-3, 1.1, 0, -1},
	} {
		if got := needed(c.d, c.each, c.rest); !(math.Abs(float64(got-c.want)) <= 1e-5*math.Abs(float64(c.want))) {
			t.Errorf("%+v: %d", c, got)
		}
	}
	for freedom, want := range map[float64]float64{0: 1.959964, 4: 2.776445, 10: 2.228139} { // tables of Student's t
		near(t, "quantile", quantile(freedom), want, 1e-6)
		near(t, "beyond it", twoSided(want, freedom), 0.05, 1e-7)
		near(t, "below it", twoSided(-want, freedom), 0.05, 1e-7)
	}
}

// Two entries of one event: at a rate of 1.5 a shift 2 shifts expect 3 and 0.4 expect 0.6.
func TestPearsonByHand(t *testing.T) {
	c := Counts{Events: []int{5, 0}, Shifts: []float64{2, 0.4}}
	near(t, "χ²", c.pearson(1.5), 4.0/3+0.6, 1e-12)
	near(t, "of no rate", c.pearson(0), 0, 0)
	c.Shifts = nil
	near(t, "of a shift each", c.pearson(1.5), 3.5*3.5/1.5+1.5, 1e-12)
}

// A normal error of 0.3: its mean is 0, of a constant the constant, of its square 0.09, of e^z e^0.045; Φ(1) of it lies
// below 0.3. A step is known to one of 201 parts, and the tails beyond the last of them hold 1 % of the square.
func TestAveragedByHand(t *testing.T) {
	for _, c := range []struct {
		name            string
		f               func(z float64) float64
		want, tolerance float64
	}{
		{"constant", func(float64) float64 { return 1 }, 1, 1e-12},
		{"mean", func(z float64) float64 { return z }, 0, 1e-12},
		{"square", sq, 0.09, 0.012 * 0.09},
		{"exponential", math.Exp, math.Exp(0.045), 0.001},
		{"step", func(z float64) float64 {
			if z < 0.3 {
				return 1
			}
			return 0
		}, 0.841345, 1.0 / 201},
	} {
		near(t, c.name, averaged(0.3, c.f), c.want, c.tolerance)
	}
	near(t, "without error", averaged(0, math.Exp), 1, 0)
}

// The chance of a split by hand: of 3 and 1 events at even chance 2·5/16; of one event alone after in one shift of 21
// 2/21; the other way round it is certain.
func TestSplitByHand(t *testing.T) {
	for _, c := range []struct {
		nb, na  int
		p, want float64
	}{{3, 1, 0.5, 0.625}, {1, 3, 0.5, 0.625}, {0, 1, 1.0 / 21, 2.0 / 21}, {1, 0, 1.0 / 21, 1}, {4, 0, 0.5, 0.125},
		{0, 4, 0.5, 0.125}, {1, 1, 0.5, 1}, {7, 1, 0.5, 2 * 9.0 / 256}} {
		near(t, "p", conditional(c.nb, c.na, c.p), c.want, 1e-9)
	}
	one, err := CompareCounts(Counts{Events: []int{0}, Shifts: []float64{20}}, Counts{Events: []int{1}}, known.Band{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "one event after 20 shifts without", one.P, 2.0/21, 1e-9)
	if one.More != 0 || !math.IsInf(one.Effect.High, 1) {
		t.Errorf("%+v", one)
	}
}

// The exact interval of one event on each side: p of the beta laws (1, 2) and (2, 1) are 1 − √0.975 and √0.975. With a
// weather of 0.5 known to 50 % (ln) an end moves to e^±√(4.3630² + (1.96·0.5)²) of the middle; where nothing came after
// the upper end moves by e^0.98.
func TestExactByHand(t *testing.T) {
	odds := math.Sqrt(0.975) / (1 - math.Sqrt(0.975))
	plain := exact(1, 1, 3, 0)
	near(t, "low", plain.Low, 3/odds, 1e-9)
	near(t, "middle", plain.Middle, 3, 1e-12)
	near(t, "high", plain.High, 3*odds, 1e-6)
	wide := exact(1, 1, 3, 0.5)
	e := math.Hypot(math.Log(odds), 1.959964*0.5)
	near(t, "wide low", wide.Low, 3*math.Exp(-e), 1e-7)
	near(t, "wide high", wide.High/3, math.Exp(e), 1e-4)
	none := exact(8, 0, 1, 0.5)
	p := 1 - math.Pow(0.025, 1.0/8)
	near(t, "none after", none.High, p/(1-p)*math.Exp(1.959964*0.5), 1e-6)
	near(t, "its low", none.Low, 0, 0)
	// Three of one in one shift, two shifts before: the rates are 1 and 0.5, over a weather of 0.5.
	c, err := CompareCounts(Counts{Events: []int{1}, Shifts: []float64{2}}, Counts{Events: []int{1}},
		known.Band{Value: 0.5, Spread: 0.5, Kind: known.LogNormal})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "observed", c.Observed, 2, 1e-12)
	near(t, "effect", c.Effect.Middle, 4, 1e-12)
	near(t, "low", c.Effect.Low, 4*math.Exp(-e), 1e-6)
	if !c.Corrected || c.Weather != 0.5 {
		t.Errorf("%+v", c)
	}
}

// The clusters of TestCountsByHand with a weather of 0.8 ± 0.1 (ln): √(0.63583 + 0.01) = 0.80363, t = ln 0.5 over it
// with 6 degrees of freedom, p = 0.42154 (Student's density by Simpson), t(6) 2.4469. A shift of each brings
// 3.6333·(4/20 + 4/8): over (ln 0.5/2.8016)² − 0.01 they are 49.7 shifts.
func TestClustersWithWeather(t *testing.T) {
	c, err := CompareCounts(Counts{Events: []int{3, 9, 0, 8}}, Counts{Events: []int{1, 6, 0, 1}},
		known.Band{Value: 0.8, Spread: 0.1, Kind: known.LogNormal})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "p", c.P, 0.421537, 1e-5)
	near(t, "without the weather", c.PlainP, 0.294247, 1e-5)
	near(t, "low", c.Effect.Low, 0.0699778, 1e-6)
	near(t, "high", c.Effect.High, 3.572562, 1e-5)
	near(t, "more", float64(c.More), 50, 0)
	// A weather that may be none at all is no ratio.
	for spread, wrong := range map[float64]bool{0.5: false, 0.7: true} { // 1 − 1.645·spread
		_, err := CompareCounts(Counts{Events: []int{3}}, Counts{Events: []int{1}},
			known.Band{Value: 1, Spread: spread, Kind: known.Normal})
		if (err != nil) != wrong {
			t.Errorf("spread %g: %v", spread, err)
		}
	}
}
