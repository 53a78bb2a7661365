package linetest

import (
	"fmt"
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"example.org/pithball/units/lawtest"
)

// Forecaster is what a forecast of the year must do: [upkeep.ForecastYear] does.
type Forecaster func([]upkeep.Need, upkeep.Hall, upkeep.Weather) (upkeep.Year, error)

// Season is a station, a hall and a year at which a law is tried.
type Season struct {
	Need    upkeep.Need    // of the one station
	Hall    upkeep.Hall    // with a humidifier
	Weather upkeep.Weather // monthly
}

// String writes the input for messages, one thing a line.
func (s Season) String() string {
	r := s.Hall.Room.Spec()
	return fmt.Sprintf("Start: %v\nLimit: %v\nDwell: %v\nLeak at 40 %%RH: %v\nBody: %v\nHall: %v\nFresh air: "+
		"%v\nGain: %v\n"+
		"Humidifier: %v\nSet point: %v\nMonths: %v", units.SurfaceChargeDensity(s.Need.Start.Value), s.Need.Limit,
		s.Need.Dwell,
		s.Need.Leak.Value(at40), s.Need.At, s.Hall.Temperature, r.Ventilation, r.Gain, s.Hall.Most, s.Hall.SetPoint,
		*s.Weather.Monthly)
}

var at40, _ = humidity.NewAir(units.Celsius(23), 40*units.PercentRH, units.Atmosphere)

// Seasons returns the laws of every forecast of the year from a leak that falls with
// humidity: what more speed, a warmer place, another limit, moisture and a humidifier do.
func Seasons() lawtest.Kit[Forecaster, Season] {
	return lawtest.Kit[Forecaster, Season]{Laws: seasonLaws(),
		Input: func(d *lawtest.Draw, _ Forecaster) Season { return season(d) }}
}

func season(d *lawtest.Draw) Season {
	const kgPerHour = units.MassFlow(1.0 / 3600)
	law, _ := humidity.NewLogLinear(humidity.Point[units.Time]{RH: 40 * units.PercentRH,
		Value: lawtest.Decades(d, "time at 40 %", 0.05*units.Second, 5*units.Second)},
		lawtest.Between(d, "decades per %", 0.04, 0.12),
		0.1, 0, 100*units.PercentRH)
	start := lawtest.Decades(d, "start", 1e-6, 2e-5)
	var s Season
	s.Need = upkeep.Need{Station: "station", Start: known.Band{Value: start, Spread: 0.1 * start, Kind: known.Normal},
		Limit: units.SurfaceChargeDensity(start * lawtest.Between(d, "share of the limit", 0.1, 0.7)),
		Dwell: lawtest.Decades(d, "dwell", 0.1*units.Second, 3*units.Second), Leak: law,
		At: lawtest.Between(d, "body", units.Celsius(18), units.Celsius(32))}
	s.Hall.Temperature = lawtest.Between(d, "hall", units.Celsius(18), units.Celsius(26))
	s.Hall.Room = room(lawtest.Between(d, "fresh air", units.VolumeFlow(0.2), units.VolumeFlow(3)),
		lawtest.Between(d, "gain", 0, 5*kgPerHour))
	s.Hall.Most = lawtest.Between(d, "humidifier", 1*kgPerHour, 60*kgPerHour)
	s.Hall.SetPoint, _ = humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(20)),
		humidity.DewPoint(lawtest.Between(d, "set point", units.Celsius(0), units.Celsius(15))))
	var months [12]units.Temperature
	for i := range months {
		months[i] = lawtest.Between(d, "month", units.Celsius(-12), units.Celsius(18))
	}
	s.Weather = upkeep.Weather{Monthly: &months, Within: 4}
	return s
}

func room(fresh units.VolumeFlow, gain units.MassFlow) humidity.Room {
	r, _ := humidity.NewRoom(humidity.RoomSpec{Volume: 1000 * units.CubicMetre, Ventilation: fresh, Gain: gain})
	return r
}

func (f Forecaster) year(s Season) (upkeep.Year, error) {
	y, err := f([]upkeep.Need{s.Need}, s.Hall, s.Weather)
	return y, lawtest.Refused(err)
}

// against compares the year with that of a changed season.
func against(change func(s *Season), check func(one, two upkeep.Year) error) func(f Forecaster, s Season) error {
	return func(f Forecaster, s Season) error {
		one, err := f.year(s)
		if err != nil {
			return err
		}
		change(&s)
		two, err := f.year(s)
		if err != nil {
			return err
		}
		return check(one, two)
	}
}

// noFewer wants hours that do not fall.
func noFewer(one, two upkeep.Year) error {
	ok := two.Hours[1] >= one.Hours[1]-units.Millisecond
	return lawtest.That(ok, fmt.Sprintf("at least %v", one.Hours[1]), two.Hours[1])
}

// but is a forecaster that sees another season.
func but(change func(s *Season)) Forecaster {
	return func(n []upkeep.Need, h upkeep.Hall, w upkeep.Weather) (upkeep.Year, error) {
		s := Season{n[0], h, w}
		change(&s)
		return upkeep.ForecastYear([]upkeep.Need{s.Need}, s.Hall, s.Weather)
	}
}

func seasonLaws() []lawtest.Law[Forecaster, Season] {
	const year = 8760 * units.Hour
	return []lawtest.Law[Forecaster, Season]{{
		Name: "quantiles", Says: "5 % ≤ 50 % ≤ 95 % of humidity and hours, within the year", Source: "counting is monotonic",
		Broken: func(n []upkeep.Need, h upkeep.Hall, w upkeep.Weather) (upkeep.Year, error) {
			y, err := upkeep.ForecastYear(n, h, w)
			y.Hours[0], y.Hours[2] = y.Hours[2], y.Hours[0]
			return y, err
		},
		Check: func(f Forecaster, s Season) error {
			y, err := f.year(s)
			if err != nil {
				return err
			}
			h, rh := y.Hours, y.Threshold.Humidity
			ok := 0 <= h[0] && h[0] <= h[1] && h[1] <= h[2] && h[2] <= year+units.Second && rh[0] <= rh[1] && rh[1] <= rh[2]
			return lawtest.That(ok, "rising quantiles", h[0], h[1], h[2], rh[0], rh[1], rh[2])
		},
	}, {
		Name: "rate", Says: "half the time to leak asks for damper air", Source: "σ₀·exp(−T/τ)",
		Broken: but(func(s *Season) { s.Need.Dwell = units.Time(1 / float64(s.Need.Dwell)) }),
		Check: against(func(s *Season) { s.Need.Dwell /= 2 }, func(one, two upkeep.Year) error {
			a, b := one.Threshold.Humidity[1], two.Threshold.Humidity[1]
			return lawtest.That(b >= a, fmt.Sprintf("at least %v", a), b)
		}),
	}, {
		Name: "limit", Says: "a lower limit is missed in no fewer hours", Source: "σ₀·exp(−T/τ)",
		Broken: but(func(s *Season) {
			share := float64(s.Need.Limit) / s.Need.Start.Value
			s.Need.Limit = units.SurfaceChargeDensity(0.08 / share * s.Need.Start.Value)
		}),
		Check: against(func(s *Season) { s.Need.Limit *= 0.9 }, noFewer),
	}, {
		Name: "place", Says: "the same humidity in a place 5 K warmer is a dew point 3 … 6 K higher",
		Source: "saturation of water vapour; the humidity is that at the body, not that of the hall",
		Broken: but(func(s *Season) { s.Need.At = s.Hall.Temperature }),
		Check: against(func(s *Season) { s.Need.At = s.Need.At.Add(5) }, func(one, two upkeep.Year) error {
			if rh := one.Threshold.Humidity[1]; rh < 1*units.PercentRH {
				return lawtest.Skip("dry air will do")
			}
			d := float64(two.Threshold.DewPoint[1].Sub(one.Threshold.DewPoint[1]))
			return lawtest.That(d > 3 && d < 6, "a dew point 3 … 6 K higher", d)
		}),
	}, {
		Name: "moisture", Says: "more moisture in the hall leaves no more hours", Source: "balance of water",
		Broken: but(func(s *Season) {
			r := s.Hall.Room.Spec()
			s.Hall.Room = room(r.Ventilation, -r.Gain)
		}),
		Check: against(func(s *Season) {
			r := s.Hall.Room.Spec()
			s.Hall.Room = room(r.Ventilation, r.Gain+units.MassFlow(5e-4))
		}, func(one, two upkeep.Year) error { return noFewer(two, one) }),
	}, {
		Name: "set point", Says: "a humidifier that stops below the threshold changes no hour",
		Source: "it runs until its set point is met",
		Broken: but(func(s *Season) { s.Hall.AlwaysOn = true }),
		Check: func(f Forecaster, s Season) error {
			one, err := f.year(s)
			if err != nil {
				return err
			}
			if s.Hall.SetPoint.DewPoint() >= one.Threshold.DewPoint[1] {
				return lawtest.Skip("the set point is damp enough")
			}
			s.Hall.Most = 0
			two, err := f.year(s)
			if err != nil {
				return err
			}
			d := math.Abs(float64(two.Hours[1]) - float64(one.Hours[1]))
			return lawtest.That(d <= 1e-6*float64(year), fmt.Sprint(one.Hours[1]), two.Hours[1])
		},
	}}
}
