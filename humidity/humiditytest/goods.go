package humiditytest

import (
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"example.org/pithball/units/lawtest"
)

// Store is where goods come from and where they go.
type Store struct {
	Start units.Temperature      // of the goods, −20 … 22 °C
	Hall  units.Temperature      // of the hall, 22 … 30 °C
	RH    units.RelativeHumidity // of the hall, 20 … 80 %RH
}

func (s Store) air() (humidity.Air, error) { return humidity.NewAir(s.Hall, s.RH, units.Atmosphere) }

// Warmer is a model of goods that warm up in a hall: [humidity.Goods] is one.
//
// Beyond physics the laws ask: no wait is a band of value 0; a mark that is never
// passed is +Inf.
type Warmer interface {
	// Warm returns what face and core do in the hall after a start below its
	// temperature.
	Warm(hall humidity.Air, start units.Temperature) (humidity.Warming, error)
}

// warmed changes the answers of goods of paper.
type warmed struct {
	Warmer
	change func(w *humidity.Warming, hall humidity.Air, start units.Temperature)
}

func (m warmed) Warm(hall humidity.Air, start units.Temperature) (humidity.Warming, error) {
	w, err := m.Warmer.Warm(hall, start)
	if err == nil {
		m.change(&w, hall, start)
	}
	return w, err
}

// paperPile is a right model that the broken ones start from.
func paperPile() Warmer {
	paper, err := humidity.MaterialFor("paper-bond")
	if err != nil {
		panic(err)
	}
	pile, err := humidity.NewGoods(humidity.GoodsSpec{Material: paper, Length: 1.02 * units.Metre,
		Width:  0.72 * units.Metre,
		Height: units.Metre, BottomClosed: true})
	if err != nil {
		panic(err)
	}
	return pile
}

// Warmers returns the laws of goods that are brought in from the cold.
func Warmers() lawtest.Kit[Warmer, Store] {
	type law = lawtest.Law[Warmer, Store]
	at := func(check func(in Store, w humidity.Warming, hall humidity.Air) error) func(m Warmer, in Store) error {
		return func(m Warmer, in Store) error {
			hall, err := in.air()
			if err != nil {
				return err
			}
			w, err := m.Warm(hall, in.Start)
			if err != nil {
				return lawtest.Refused(err)
			}
			return check(in, w, hall)
		}
	}
	good := paperPile()
	input := func(d *lawtest.Draw, _ Warmer) Store {
		return Store{Start: lawtest.Between(d, "start", units.Celsius(-20), units.Celsius(22)),
			Hall: lawtest.Between(d, "hall", units.Celsius(22), units.Celsius(30)),
			RH:   lawtest.Between(d, "rh", 20*units.PercentRH, 80*units.PercentRH)}
	}
	return lawtest.Kit[Warmer, Store]{Input: input, Laws: []law{{
		Name: "core last", Says: "the core passes the dew point and the hall's temperature no sooner than the face",
		Source: "heat comes from outside",
		// The outside is given as the advice.
		Broken: warmed{good, func(w *humidity.Warming, _ humidity.Air, _ units.Temperature) {
			w.Face, w.Core = w.Core,
				w.Face
		}},
		Check: at(func(_ Store, w humidity.Warming, _ humidity.Air) error {
			ok := w.Core.Dew.Value >= w.Face.Dew.Value && w.Core.Hall.Value >= w.Face.Hall.Value
			return lawtest.That(ok, "core after face", w.Face.Dew.Value, w.Core.Dew.Value, w.Face.Hall.Value, w.Core.Hall.Value)
		}),
	}, {
		Name: "dew first", Says: "a place is past the dew point no later than within 1 K of the hall, unless the " +
			"hall is nearly saturated",
		Source: "the dew point of the hall lies below its temperature",
		// Dew point and temperature confused.
		Broken: warmed{good, func(w *humidity.Warming, _ humidity.Air, _ units.Temperature) {
			w.Core.Dew,
				w.Core.Hall = w.Core.Hall, w.Core.Dew
		}},
		Check: at(func(_ Store, w humidity.Warming, hall humidity.Air) error {
			if hall.Temperature().Sub(hall.CondensationPoint()) < 1 {
				return lawtest.Skip("the dew point lies within 1 K of the hall")
			}
			return lawtest.That(w.Core.Dew.Value <= w.Core.Hall.Value, "dew before hall", w.Core.Dew.Value, w.Core.Hall.Value)
		}),
	}, {
		Name: "condenses", Says: "goods get wet if and only if they are colder than the condensation " +
			"point, and wait only then",
		Source: "definition of the dew point",
		// The dew point is compared with the hall's temperature.
		Broken: warmed{good, func(w *humidity.Warming, hall humidity.Air,
			start units.Temperature) {
			w.Condenses = start < hall.Temperature()
		}},
		Check: at(func(in Store, w humidity.Warming, hall humidity.Air) error {
			wet := in.Start < hall.CondensationPoint()
			return lawtest.That(w.Condenses == wet && (w.Core.Dew.Value > 0) == wet, "wet below the condensation point only",
				w.Condenses, w.Core.Dew.Value, hall.CondensationPoint())
		}),
	}, {
		Name: "colder longer", Says: "goods that are 5 K colder take no less time, to either mark",
		Source: "the same bodies, more to warm",
		// A wait that is told once for all goods, shorter the colder they are.
		Broken: warmed{good, func(w *humidity.Warming, _ humidity.Air, start units.Temperature) {
			w.Core.Hall = known.Band{Value: 100 * float64(start)}
			w.Core.Dew = w.Core.Hall
		}},
		Check: func(m Warmer, in Store) error {
			return at(func(in Store, a humidity.Warming, hall humidity.Air) error {
				b, err := m.Warm(hall, in.Start.Add(-5))
				if err != nil {
					return lawtest.Refused(err)
				}
				slack := 1 - 1e-9
				ok := b.Core.Dew.Value >= a.Core.Dew.Value*slack && b.Core.Hall.Value >= a.Core.Hall.Value*slack
				return lawtest.That(ok, "more time for colder goods", a.Core.Hall.Value, b.Core.Hall.Value, a.Core.Dew.Value,
					b.Core.Dew.Value)
			})(m, in)
		},
	}, {
		Name: "bands", Says: "5 and 95 % limits lie around the time", Source: "a time that nobody measured has a band",
		// A pile whose properties are known to nobody is told to the minute.
		Broken: warmed{good, func(w *humidity.Warming, _ humidity.Air,
			_ units.Temperature) {
			w.Core.Hall.Spread = 0
			w.Core.Hall.Kind = known.Exact
		}},
		Check: at(func(_ Store, w humidity.Warming, _ humidity.Air) error {
			for _, b := range []known.Band{w.Core.Dew, w.Core.Hall, w.Face.Dew, w.Face.Hall} {
				lo, hi := b.Limits()
				if b.Value > 0 && !math.IsInf(b.Value, 1) && !(lo < b.Value && b.Value < hi) {
					return lawtest.That(false, "limits around the time", lo, b.Value, hi)
				}
			}
			return nil
		}),
	}}}
}
