package linetest

import (
	"fmt"
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Comparer is what a comparison of two days must do: [upkeep.CompareReadings] does.
type Comparer func(before, after upkeep.Readings, s upkeep.Scatter, w *upkeep.Weathering) (upkeep.Comparison, error)

// Days are two days at which a law is tried.
type Days struct {
	Before, After upkeep.Readings    // four spots each, in the body's air
	Scatter       upkeep.Scatter     // known beforehand
	Weathering    *upkeep.Weathering // never nil
}

// String writes the input for messages, one thing a line.
func (x Days) String() string {
	return fmt.Sprintf("Before: %v in %v\nAfter: %v in %v\nScatter: %v\nDwell: %v\nLeak at 40 %%RH: %v", x.Before.Values,
		x.Before.Air, x.After.Values, x.After.Air, x.Scatter.Spots, x.Weathering.Dwell, x.Weathering.Time.Value(at40))
}

// Comparisons returns the laws of every comparison of two days by a leak law.
func Comparisons() lawtest.Kit[Comparer, Days] {
	return lawtest.Kit[Comparer, Days]{Laws: dayLaws(), Input: func(d *lawtest.Draw, _ Comparer) Days { return days(d) }}
}

func days(d *lawtest.Draw) Days {
	law, _ := humidity.NewLogLinear(humidity.Point[units.Time]{RH: 40 * units.PercentRH,
		Value: lawtest.Decades(d, "time at 40 %", 0.3*units.Second, 5*units.Second)},
		lawtest.Between(d, "decades per %", 0.02, 0.08),
		0.1, 0, 100*units.PercentRH)
	side := func(name string) upkeep.Readings {
		var r upkeep.Readings
		level := lawtest.Decades(d, name, units.DisplayVoltage(100), units.DisplayVoltage(2e4))
		for range 4 {
			r.Values = append(r.Values, level*lawtest.Between(d, "spot", units.DisplayVoltage(0.7), units.DisplayVoltage(1.3)))
		}
		r.Air, _ = humidity.NewAir(units.Celsius(23), lawtest.Between(d, "humidity", 25*units.PercentRH, 45*units.PercentRH),
			units.Atmosphere)
		return r
	}
	return Days{side("before"), side("after"), upkeep.Scatter{Spots: lawtest.Between(d, "scatter", units.Ratio(0.25),
		units.Ratio(0.4))},
		&upkeep.Weathering{Time: law, Dwell: 0.3 * units.Second}}
}

func (c Comparer) of(x Days) (upkeep.Comparison, error) {
	r, err := c(x.Before, x.After, x.Scatter, x.Weathering)
	return r, lawtest.Refused(err)
}

// times multiplies all displays.
func times(r upkeep.Readings, k float64) upkeep.Readings {
	out := r
	out.Values = nil
	for _, v := range r.Values {
		out.Values = append(out.Values, units.DisplayVoltage(k*float64(v)))
	}
	return out
}

func close(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Abs(a)+math.Abs(b)) }

// same wants the same effect and chance.
func sameAs(one, two upkeep.Comparison) error {
	ok := close(one.Effect.Low, two.Effect.Low) && close(one.Effect.High, two.Effect.High) && close(one.P, two.P)
	return lawtest.That(ok, one.String(), two.String())
}

func dayLaws() []lawtest.Law[Comparer, Days] {
	other := func(change func(x *Days), check func(one, two upkeep.Comparison) error) func(Comparer, Days) error {
		return func(c Comparer, x Days) error {
			one, err := c.of(x)
			if err != nil {
				return err
			}
			change(&x)
			two, err := c.of(x)
			if err != nil {
				return err
			}
			return check(one, two)
		}
	}
	return []lawtest.Law[Comparer, Days]{{
		Name: "chance", Says: "0 ≤ p ≤ 1, and the effect lies in its interval", Source: "definition",
		Broken: func(b, a upkeep.Readings, s upkeep.Scatter, w *upkeep.Weathering) (upkeep.Comparison, error) {
			r, err := upkeep.CompareReadings(b, a, s, w)
			r.P *= 2
			r.Effect.Low = r.Effect.High
			return r, err
		},
		Check: func(c Comparer, x Days) error {
			r, err := c.of(x)
			if err != nil {
				return err
			}
			ok := r.P >= 0 && r.P <= 1 && r.PlainP >= 0 && r.PlainP <= 1 && r.Effect.Low <= r.Effect.Middle &&
				r.Effect.Middle <= r.Effect.High
			return lawtest.That(ok, "a chance and an interval", r.P, r.PlainP, r.Effect)
		},
	}, {
		Name: "swap", Says: "the days the other way round give the reciprocal", Source: "no day is special",
		Broken: func(b, a upkeep.Readings, s upkeep.Scatter, w *upkeep.Weathering) (upkeep.Comparison, error) {
			r, err := upkeep.CompareReadings(b, a, s, w)
			if r.Effect.Middle > 1 {
				r.Effect.High *= 1.1
			}
			return r, err
		},
		Check: other(func(x *Days) { x.Before, x.After = x.After, x.Before }, func(one, two upkeep.Comparison) error {
			ok := close(one.Effect.Low*two.Effect.High, 1) && close(one.Effect.Middle*two.Effect.Middle, 1) &&
				close(one.P, two.P)
			return lawtest.That(ok, "the reciprocal of "+one.String(), two.String())
		}),
	}, {
		Name: "gain", Says: "a meter that shows everything 1.3 times as large changes nothing", Source: "a ratio has no unit",
		Broken: func(b, a upkeep.Readings, s upkeep.Scatter, w *upkeep.Weathering) (upkeep.Comparison, error) {
			s.Offset = 40 * units.Volt
			return upkeep.CompareReadings(b, a, s, w)
		},
		Check: other(func(x *Days) { x.Before, x.After = times(x.Before, 1.3), times(x.After, 1.3) }, sameAs),
	}, {
		Name: "weather", Says: "what the weather alone makes is no effect", Source: "σ₀·exp(−T/τ(RH))",
		Broken: func(b, a upkeep.Readings, s upkeep.Scatter, _ *upkeep.Weathering) (upkeep.Comparison, error) {
			return upkeep.CompareReadings(b, a, s, nil)
		},
		Check: func(c Comparer, x Days) error {
			left := func(a humidity.Air) float64 {
				return -float64(x.Weathering.Dwell) / float64(x.Weathering.Time.Value(a))
			}
			after := times(x.Before, math.Exp(left(x.After.Air)-left(x.Before.Air)))
			after.Air = x.After.Air
			x.After = after
			r, err := c.of(x)
			if err != nil {
				return err
			}
			return lawtest.That(math.Abs(r.Effect.Middle-1) < 1e-9 && r.P > 0.999, "effect 1, p 1", r.Effect.Middle, r.P)
		},
	}, {
		Name: "repeats", Says: "each spot read twice with the same result tells no more",
		Source: "spots, not repeats, scatter",
		Broken: func(b, a upkeep.Readings, s upkeep.Scatter, w *upkeep.Weathering) (upkeep.Comparison, error) {
			b.Spots, a.Spots = nil, nil
			return upkeep.CompareReadings(b, a, s, w)
		},
		Check: other(func(x *Days) { x.Before, x.After = twice(x.Before), twice(x.After) }, sameAs),
	}}
}

// twice reads each spot twice.
func twice(r upkeep.Readings) upkeep.Readings {
	out := r
	out.Values, out.Spots = nil, nil
	for i, v := range r.Values {
		out.Values = append(out.Values, v, v)
		out.Spots = append(out.Spots, i, i)
	}
	return out
}
