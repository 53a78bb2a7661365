package humidity

import (
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

// Psychrometer is a pair of thermometers, one of them with a wet wick. What it
// shows is no thermodynamic wet bulb ([WetBulb]): heat reaches the wick by radiation
// and along the stem too, and below 0 °C the difference is up to 8 %RH. Its vapour
// pressure is
//
//	e = e_sat(t′) − A p (t − t′),  A = A₀(1 + B t′)
//
// with t′ what the wet thermometer shows and e_sat over what is on the wick: water,
// or ice below 0 °C unless the water is still liquid.
type Psychrometer uint8

// The instruments.
const (
	// Sling is whirled by hand, 4 to 5 m/s: A₀ = 6.60e-4/K, B = 1.15e-3/K over water
	// and over ice. W. Ferrel's constants as in the tables of the U.S. Weather Bureau,
	// not compared with the source. Of 140 values of those tables over ice, in whole
	// %RH, 98 are met within the rounding and all within 1 %RH: their own A₀ is
	// 6.54e-4/K. 33 values over water, at 23 inHg, lie 9 to
	// 29 Pa below, as their saturation pressures lie 1 % below today's.
	Sling Psychrometer = iota
	// Aspirated has a fan, 3 m/s and more: A₀ = 6.53e-4/K, B = 9.44e-4/K over water,
	// 5.75e-4/K and 0 over ice. Not compared with the source, WMO-No. 8.
	Aspirated

	psychrometers
)

var psychrometerNames = [psychrometers]string{"sling", "aspirated"}

// String returns the name.
func (k Psychrometer) String() string { return enum.Name("Psychrometer", psychrometerNames[:], k) }

// MarshalText writes the name; a value that is no psychrometer is a
// [*known.FieldError].
func (k Psychrometer) MarshalText() ([]byte, error) {
	return enum.Write("psychrometer", psychrometerNames[:], k)
}

// UnmarshalText reads a name as written by String.
func (k *Psychrometer) UnmarshalText(b []byte) error {
	return enum.Read("psychrometer", psychrometerNames[:], b, k)
}

// coefficient is A of a psychrometer over one phase.
type coefficient struct{ a, b float64 } // [1/K], [1/K]

// coefficients are over water and over ice.
var coefficients = [psychrometers][2]coefficient{
	Sling:     {{6.60e-4, 1.15e-3}, {6.60e-4, 1.15e-3}},
	Aspirated: {{6.53e-4, 9.44e-4}, {5.75e-4, 0}},
}

// at returns A at a reading of t [°C].
func (c coefficient) at(t float64) float64 { return c.a * (1 + c.b*t) }

// Shows is what the wet thermometer of the instrument shows, for [AirFrom]: over
// water from 0 °C, over ice below. A value that is no psychrometer is refused
// there.
func (k Psychrometer) Shows(wet units.Temperature) Given {
	if k >= psychrometers {
		return Given{}
	}
	return Given{slingBulb + 2*measure(k), float64(wet)}
}

// ShowsSupercooled is Shows with liquid water on the wick also below 0 °C, as
// long as it has not frozen.
func (k Psychrometer) ShowsSupercooled(wet units.Temperature) Given {
	if k >= psychrometers {
		return Given{}
	}
	return Given{slingBulb + 2*measure(k) + 1, float64(wet)}
}

// bulb returns coefficient and phase of a psychrometer's measure at a reading of
// T [K].
func (k measure) bulb(T float64) (c coefficient, iced bool) {
	i := k - slingBulb
	iced = i%2 == 0 && T < 273.15
	if iced {
		return coefficients[i/2][1], true
	}
	return coefficients[i/2][0], false
}

// fromBulb returns the vapour pressure [Pa] of air of T [K] whose wet thermometer
// shows tw [K].
func (m AirModel) fromBulb(k measure, T, tw, p float64) float64 {
	c, iced := k.bulb(tw)
	es, _ := m.water(tw, p)
	if iced {
		es, _ = m.ice(tw, p)
	}
	return es - c.at(tw-273.15)*p*(T-tw)
}

// Reading returns what the wet thermometer of the instrument shows in the air: over
// water if that is 0 °C or more, else over ice; found to 1e-9 K. NaN for the zero
// Air and for a value that is no psychrometer. In air that is supersaturated over
// ice an iced wick is warmer than the air.
func (k Psychrometer) Reading(a Air) units.Temperature {
	if !a.valid() || k >= psychrometers {
		return units.Temperature(math.NaN())
	}
	p, e, T := float64(a.p), float64(a.e), float64(a.t)
	find := func(bulb measure, lo, hi float64) float64 {
		t, err := numeric.Brent(func(tw float64) float64 { return a.m.fromBulb(bulb, T, tw, p) - e }, lo, hi, 0, 1e-10)
		if err != nil {
			return math.NaN()
		}
		return t
	}
	liquid := slingBulb + 2*measure(k) + 1
	if a.m.fromBulb(liquid, T, 273.15, p) <= e && T >= 273.15 {
		return units.Temperature(find(liquid, 273.15, T))
	}
	iced := slingBulb + 2*measure(k)
	return units.Temperature(find(iced, 120, math.Nextafter(273.15, 0)))
}
