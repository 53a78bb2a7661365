package upkeep

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// TestShiftsByHand: entries without shifts are one shift each.
func TestShiftsByHand(t *testing.T) {
	n, s, err := (&Counts{Events: []int{1, 2, 3}}).check("before")
	if n != 6 || s != 3 || err != nil {
		t.Errorf("%d events in %v shifts, %v", n, s, err)
	}
	n, s, err = (&Counts{Events: []int{1, 2, 3}, Shifts: []float64{1, 0.5, 2}}).check("before")
	if n != 6 || s != 3.5 || err != nil {
		t.Errorf("%d events in %v shifts, %v", n, s, err)
	}
}

// TestRaisedWhen: a notice is raised by the condition of its own rule.
func TestRaisedWhen(t *testing.T) {
	seen := map[any]bool{}
	for i := range rules {
		if id := rules[i].id; !seen[id] && RaisedWhen(id) != rules[i].when {
			t.Errorf("%v: %q, want %q", id, RaisedWhen(id), rules[i].when)
		}
		seen[rules[i].id] = true
	}
	if RaisedWhen(255) != "" {
		t.Error("a condition of no notice")
	}
}

// TestFinesAreOpenUntilAnswered: powder whose fines nobody answered is listed and open; with an answer,
// or with dust among the flammables, it is listed and not open; "no" takes it off.
func TestFinesAreOpenUntilAnswered(t *testing.T) {
	for _, c := range []struct {
		site         SafetyAnswers
		listed, open bool
	}{{SafetyAnswers{Goods: PowderGoods}, true, true}, {SafetyAnswers{Goods: PowderGoods, Fines: line.Yes}, true, false},
		{SafetyAnswers{Flammables: FlammableDust}, true, false},
		{SafetyAnswers{Goods: PowderGoods, Fines: line.No}, false, false},
		{SafetyAnswers{}, false, false}} {
		got := (&scene{site: &c.site}).dust()
		if (len(got) == 1) != c.listed || c.listed && got[0].Open != c.open {
			t.Errorf("%+v: %+v", c.site, got)
		}
	}
}

// TestErrorOfCurrent: a relative error of more than 1 is none.
func TestErrorOfCurrent(t *testing.T) {
	o := Output{Station: "bar", Age: []units.Time{0, units.Day}, Current: []units.LineCurrent{2e-4, 1e-4}, Error: 1.5}
	if _, err := CleaningOf(o, 1e-5); err == nil || !strings.Contains(err.Error(), "output.error") {
		t.Errorf("%v", err)
	}
}

// TestNeverDampEnough: a law that at 100 %RH still holds half a decade more than the time asked for has no
// crossing: 1. sheetLaw is 10^(2.9 − 0.085·RH) s: 10^−5.6 at 100 %RH.
func TestNeverDampEnough(t *testing.T) {
	x, err := crossing(sheetLaw(t, 0), math.Pow(10, -6.1), 0, units.Celsius(27))
	if err != nil || x != 1 {
		t.Errorf("%v, %v", x, err)
	}
	x, err = crossing(sheetLaw(t, 0), math.Pow(10, -0.5), 0, units.Celsius(27)) // 2.9 + 0.5 = 0.085·40
	if err != nil || !(math.Abs(x-0.4) <= 1e-9) {
		t.Errorf("%v, %v, by hand 40 %%RH", x, err)
	}
}

// TestScatterOfDeviations: COM-4, 0.21 against 0.12 g of 30 weights each. The 97.5 and 2.5 % quantiles of
// F with 29 and 29 degrees of freedom are 2.1010 and its reciprocal (tables of the F distribution), so the
// ratio of the deviations, 0.5714, is 0.394 … 0.828.
func TestScatterOfDeviations(t *testing.T) {
	c, err := CompareScatter(Weights{Deviation: 0.21e-3, Number: 30}, Weights{Deviation: 0.12e-3, Number: 30})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ratio", c.Effect.Middle, 0.12/0.21, 1e-12)
	near(t, "low", c.Effect.Low, 0.12/0.21/math.Sqrt(2.1010), 1e-4)
	near(t, "high", c.Effect.High, 0.12/0.21*math.Sqrt(2.1010), 1e-4)
}

// TestEndsOfWeather: what lies just beyond the ends of a range is refused by its field.
func TestEndsOfWeather(t *testing.T) {
	w := Weather{Hourly: make([]humidity.Air, 24*366*100+1)}
	if err := w.check(); err == nil || !strings.Contains(err.Error(), "weather.hourly") {
		t.Errorf("%v", err)
	}
	w.Hourly = w.Hourly[:24*366*100]
	if err := w.check(); err != nil {
		t.Error(err)
	}
	h := hall(t, Hall{})
	for _, c := range []float64{-40.5, 80.5} {
		h.Temperature = units.Celsius(c)
		if _, err := h.indoors(); err == nil || !strings.Contains(err.Error(), "hall.temperature") {
			t.Errorf("%v °C: %v", c, err)
		}
	}
}

// TestShareOfPropagating: by hand 1 µC/m² is 0.4 % and 5 µC/m² 2 % of 250; what is there is never told as 0 %.
func TestShareOfPropagating(t *testing.T) {
	d := withBar(false)
	for x, want := range map[float64]string{1e-6: "on a face, under 1 % of 250 µC/m²", 5e-6: "on a face, 2 % of 250 µC/m²",
		2.5e-6: "on a face, 1 % of 250 µC/m²"} {
		found := &survey.Diagnosis{States: make([]survey.StationState, len(d.Stations))}
		found.States[1].B.Value = -x
		list := (&scene{d: d, site: &SafetyAnswers{}, found: found}).propagating()
		if len(list) != 1 || !strings.Contains(list[0].Notice.Figure, want) {
			t.Errorf("%g C/m²: %+v, want %q", x, list, want)
		}
	}
}
