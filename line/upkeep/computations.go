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
	closed := known.Source{Provenance: known.Computed, Cite: "leak law against the interval, balance of water of a " +
		"ventilated room, as the doc comments derive"}
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
		}, stat, "off_first# -1e6…1e6: display with the device off; on# -1e6…1e6: with it on",
			"off_again# -1e6…1e6: off again",
			"spots 0…5: relative scatter from spot to spot, 0 for that of the readings",
			"-> drift: from off to off; observed: on over off; low: 2.5 %; high: 97.5 %; p: two-sided chance by accident"),
		compute.Of("Need.Threshold", func(n need) (rh [3]rhs, dew [3]units.Temperature, law, air, start rhs, err error) {
			m, err := n.need()
			if err != nil {
				return
			}
			t, err := m.Threshold()
			return t.Humidity, t.DewPoint, t.Law, t.Air, t.Start, err
		}, closed, aNeed, "-> rh#: critical humidity at the place, 5 (1), 50 (2) and 95 % (3); dew#: dew point there",
			"by_law: standard deviation that the leak law leaves; by_air: the hygrometer; by_start: the charge"),
		compute.Of44("Need.LimitFromLog", func(n need, quiet, trouble rhs, dwell units.Time) (above,
			below units.SurfaceChargeDensity,
			contradicts bool, err error) {
			m, err := n.need()
			if err != nil {
				return
			}
			q, err := humidity.NewAir(n.At, quiet, units.Atmosphere)
			if err != nil {
				return
			}
			t, err := humidity.NewAir(n.At, trouble, units.Atmosphere)
			if err != nil {
				return
			}
			l, err := m.LimitFromLog([]Logged{{Air: q, Dwell: dwell}, {Air: t, Trouble: true}})
			return l.Above, l.Below, l.Contradicts, err
		}, closed, aNeed, "quiet 0…1: humidity at a time without trouble; troubled 0…1: humidity at a time with trouble",
			"quiet_dwell 0…1e6: time to leak without trouble, 0 for the same -> above: what ran without trouble",
			"below: what did not; contradicts: whether the limit lies outside"),
		compute.Of64("ForecastYear", func(n need, t units.Temperature, flow units.VolumeFlow, gain units.MassFlow,
			month [12]units.Temperature, within units.TemperatureDifference) (outdoor [3]units.Temperature, hours [3]units.Time,
			share [12]float64, err error) {
			m, err := n.need()
			if err != nil {
				return
			}
			room, err := humidity.NewRoom(humidity.RoomSpec{Volume: 1000 * units.CubicMetre, Ventilation: flow, Gain: gain})
			if err != nil {
				return
			}
			y, err := ForecastYear([]Need{m}, Hall{Room: room, Temperature: t}, Weather{Monthly: &month, Within: within})
			return y.Outdoor, y.Hours, y.Months, err
		}, closed, "= When a station runs over its limit in a year of monthly mean dew points, in a ventilated hall.", aNeed,
			"hall 233.15…353.15: temperature of the hall; ventilation 1e-3…1e4: counted indoors; gain -0.1…0.1: of moisture",
			"month# 213.15…313.15: mean outdoor dew point of the month; "+
				"within 0.1…30: deviation of the hourly dew point in a month",
			"-> outdoor#: critical outdoor dew point; hours#: over the limit in the year; share#: of the month, at the median"),
		compute.Of53("CleaningOf", func(i0, i1 units.LineCurrent, age units.Time, e units.Ratio,
			needed units.LineCurrent) (median,
			early units.Time, err error) {
			c, err := CleaningOf(Output{Age: []units.Time{0, age}, Current: []units.LineCurrent{i0, i1}, Error: e}, needed)
			return c.Median, c.Every, err
		}, closed, "clean 1e-9…1: current of the clean ioniser; aged 1e-9…1: current at an age; age 1…1e9: since cleaning",
			"error 0…1: relative standard deviation of one current, 0 for 5 %; needed 1e-9…1: current that it must deliver",
			"-> median: when half of such ionisers have fallen to it; early: the 5 % early end, 0 where the fall is not told"),
	})
}

// need is the need of the entries.
type need struct {
	Start  units.SurfaceChargeDensity
	Spread float64 // relative
	Limit  units.SurfaceChargeDensity
	At     units.Temperature
	Air    units.RelativeHumidity
	Leak   leak
}

const aNeed = "start 1e-9…1e-3: charge before it leaks; start_spread 0…1: its relative standard deviation; " +
	"limit 1e-9…1e-3: of it; " +
	"place 233.15…353.15: temperature of the body; " +
	"rh_error 0…0.5: standard deviation of the hygrometer, 0 for 2.5 %; " + aLeak

func (n need) need() (Need, error) {
	law, err := n.Leak.law()
	if err != nil {
		return Need{}, err
	}
	start := known.Band{Value: float64(n.Start), Spread: n.Spread * float64(n.Start), Kind: known.Normal}
	if n.Spread == 0 {
		start.Kind = known.Exact
	}
	return Need{Station: "station", Start: start, Limit: n.Limit, Dwell: n.Leak.Dwell, Leak: law, At: n.At,
		AirError: n.Air}, nil
}
