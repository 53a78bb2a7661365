package upkeep

import (
	_ "embed" // for the sentences

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// leak is the leak law of the entries, τ = at40·10^(−decades·(RH − 40 %)).
type leak struct {
	At40    units.Time // at 40 %RH
	Decades float64    // per %RH
	Spread  float64    // of log10 τ
	Dwell   units.Time
}

const aLeak = "tau 1e-6…1e6: time constant of the leak at 40 %RH; decades_per_percent 0…1: its fall per %RH; " +
	"decades 0…3: spread of its log10; dwell 1e-3…1e6: time to leak"

func (l leak) law() (humidity.Law[units.Time], error) {
	return humidity.NewLogLinear(humidity.Point[units.Time]{RH: 40 * units.PercentRH, Value: l.At40}, l.Decades,
		l.Spread, 0, 100*units.PercentRH)
}

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	type rhs = units.RelativeHumidity
	type volts = [3]units.DisplayVoltage
	stat := known.Source{Provenance: known.Computed, Cite: "tests of normal, Student's, binomial and F distributions, " +
		"as the doc comment derives"}
	const result = "weather: ratio that the weather alone makes; observed: ratio as read; low: 2.5 %; " +
		"effect: observed over weather; high: 97.5 %"
	return compute.List("upkeep", sentences, []compute.Entry{
		compute.Of("CompareReadings", func(before, after volts, rb, ra, sd rhs, t units.Temperature, spots units.Ratio,
			l leak) (weather, observed, low, effect, high, p, plain float64, err error) {
			law, err := l.law()
			if err != nil {
				return
			}
			b, err := humidity.NewAir(t, rb, units.Atmosphere)
			if err != nil {
				return
			}
			a, err := humidity.NewAir(t, ra, units.Atmosphere)
			if err != nil {
				return
			}
			c, err := CompareReadings(Readings{Values: before[:], Air: b, AirError: sd},
				Readings{Values: after[:], Air: a, AirError: sd}, Scatter{Spots: spots}, &Weathering{Time: law, Dwell: l.Dwell})
			return c.Weather, c.Observed, c.Effect.Low, c.Effect.Middle, c.Effect.High, c.P, c.PlainP, err
		}, stat, "before# -1e6…1e6: display before", "after# -1e6…1e6: display after",
			"rh_before 0…1: humidity before; rh_after 0…1: humidity after; rh_error 0…0.5: its standard deviation, 0 for 2.5 %",
			"temperature 233.15…353.15: of the body", "spots 0…5: relative scatter from spot to spot, 0 for that of the "+
				"readings",
			aLeak, "-> "+result+"; p: two-sided chance of that by accident; plain_p: without the weather"),
		compute.Of("CompareCounts", func(nb, na int, tb, ta, r, spread float64) (low, effect, high, p float64, err error) {
			w := known.Band{Value: r, Spread: spread, Kind: known.LogNormal}
			c, err := CompareCounts(Counts{Events: []int{nb}, Shifts: []float64{tb}},
				Counts{Events: []int{na}, Shifts: []float64{ta}}, w)
			return c.Effect.Low, c.Effect.Middle, c.Effect.High, c.P, err
		}, stat, "events_before 1…1000000: events before; events_after 0…1000000: events after",
			"shifts_before 1e-6…1e6: shifts before; shifts_after 1e-6…1e6: shifts after",
			"weather 1e-3…1e3: ratio that the weather alone makes; spread 0…3: standard deviation of its logarithm",
			"-> low: 2.5 %; effect: ratio of rates over weather; high: 97.5 %; p: two-sided chance by accident"),
		compute.Of("CompareScatter", func(sb, sa units.Mass, nb, na int) (ratio, low, high, p float64, err error) {
			c, err := CompareScatter(Weights{Deviation: sb, Number: nb}, Weights{Deviation: sa, Number: na})
			return c.Observed, c.Effect.Low, c.Effect.High, c.P, err
		}, stat, "deviation_before 1e-12…1e3: standard deviation before; deviation_after 1e-12…1e3: after",
			"n_before 4…10000000: weights before; n_after 4…10000000: after",
			"-> ratio: after over before; low: 2.5 %; high: 97.5 %; p: two-sided chance by accident"),
		compute.Of("CompareSwitched", func(off1, on, off2 volts, spots units.Ratio) (drift, observed, low, high, p float64,
			err error) {
			c, err := CompareSwitched(Readings{Values: off1[:]}, Readings{Values: on[:]}, Readings{Values: off2[:]},
				Scatter{Spots: spots})
			return c.Weather, c.Observed, c.Effect.Low, c.Effect.High, c.P, err
		}, stat, "off_first# -1e6…1e6: display with the device off; on# -1e6…1e6: with it on; off_again# -1e6…1e6: off again",
			"spots 0…5: relative scatter from spot to spot, 0 for that of the readings",
			"-> drift: from off to off; observed: on over off; low: 2.5 %; high: 97.5 %; p: two-sided chance by accident"),
	})
}
