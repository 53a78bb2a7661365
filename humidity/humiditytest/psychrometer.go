package humiditytest

import (
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Wick is a model of an instrument with a wet thermometer: [humidity.Psychrometer]
// is one. Below 0 °C the wick is iced.
type Wick interface {
	// Reading returns what the wet thermometer shows in the air.
	Reading(a humidity.Air) units.Temperature
	// Shows gives the reading to [humidity.AirFrom].
	Shows(wet units.Temperature) humidity.Given
}

// shown changes the answers of a right instrument.
type shown struct {
	Wick
	reading func(t units.Temperature, a humidity.Air) units.Temperature
}

func (w shown) Reading(a humidity.Air) units.Temperature { return w.reading(w.Wick.Reading(a), a) }

// Wicks returns the laws of a psychrometer, in air of −15 … 45 °C.
func Wicks() lawtest.Kit[Wick, Input] {
	type law = lawtest.Law[Wick, Input]
	input := func(d *lawtest.Draw, _ Wick) Input {
		return Input{T: lawtest.Between(d, "T", units.Celsius(-15), units.Celsius(45)),
			RH: lawtest.Between(d, "RH", 5*units.PercentRH, 99*units.PercentRH),
			P:  lawtest.Between(d, "P", 70*units.Kilopascal, 110*units.Kilopascal)}
	}
	at := func(check func(w Wick, a humidity.Air) error) func(w Wick, in Input) error {
		return func(w Wick, in Input) error {
			a, err := humidity.NewAir(in.T, in.RH, in.P)
			if err != nil {
				return err
			}
			if a.Supersaturated() {
				return lawtest.Skip("supersaturated over ice: an iced wick is warmer than the air")
			}
			return check(w, a)
		}
	}
	return lawtest.Kit[Wick, Input]{Input: input, Laws: []law{{
		Name: "between", Says: "dew point <= reading <= dry bulb", Source: "evaporation cools the wick, no " +
			"further than to the dew point",
		// The depression added instead of taken off.
		Broken: shown{humidity.Sling, func(t units.Temperature, a humidity.Air) units.Temperature {
			return a.Temperature().Add(a.Temperature().Sub(t))
		}},
		Check: at(func(w Wick, a humidity.Air) error {
			t := w.Reading(a)
			ok := t <= a.Temperature().Add(1e-9) && t >= a.DewPoint().Add(-1e-9)
			return lawtest.That(ok, "a reading between dew point and dry bulb", a.DewPoint(), t, a.Temperature())
		}),
	}, {
		Name: "reads back", Says: "AirFrom(Reading(air)) is the air", Source: "an inverse is one",
		// The thermodynamic wet bulb taken for what the instrument shows.
		Broken: shown{humidity.Sling, func(_ units.Temperature, a humidity.Air) units.Temperature { return a.WetBulb() }},
		Check: at(func(w Wick, a humidity.Air) error {
			b, err := humidity.AirFrom(a.Pressure(), humidity.DryBulb(a.Temperature()), w.Shows(w.Reading(a)))
			if err != nil {
				return err
			}
			d := math.Abs(float64(b.VapourPressure() - a.VapourPressure()))
			return lawtest.That(d < 1e-4, "the vapour pressure of the air, to 0.1 mPa", a.VapourPressure(), b.VapourPressure())
		}),
	}}}
}
