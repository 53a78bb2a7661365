package upkeep

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/line"
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
