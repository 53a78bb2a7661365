package humidity

import (
	"testing"

	"example.org/pithball/internal/rangecheck"
	"example.org/pithball/units"
)

// TestRanges: the ranges that the comments of constructors state, both ends taken and
// what lies beyond refused by name.
func TestRanges(t *testing.T) {
	type ohm = units.SheetResistance
	field := func(of, name string, try func(v float64) error, in, out []float64) {
		for _, fault := range rangecheck.Faults(of, name, try, in, out) {
			t.Error(fault)
		}
	}
	celsius := func(try func(T units.Temperature) error) func(v float64) error {
		return func(v float64) error { return try(units.Celsius(v)) }
	}
	air := func(T, rh, p float64) error {
		_, err := NewAir(units.Temperature(T), units.RelativeHumidity(rh), units.Pressure(p))
		return err
	}
	room := func(set func(s *RoomSpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := RoomSpec{Volume: 3000, Ventilation: 1}
			set(&s, v)
			_, err := NewRoom(s)
			return err
		}
	}
	cold := func(set func(s *ColdBodySpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := ColdBodySpec{HeatPerArea: 1e5, Convection: 5, Radiation: 1}
			set(&s, v)
			_, err := NewColdBody(s)
			return err
		}
	}
	hot := func(set func(s *ArrheniusSpec[ohm], v float64)) func(v float64) error {
		return func(v float64) error {
			s := ArrheniusSpec[ohm]{At: HotPoint[ohm]{units.Celsius(20), 1e9}, Activation: 5e4, Low: units.Celsius(0),
				High: units.Celsius(50)}
			set(&s, v)
			_, err := NewArrhenius(s)
			return err
		}
	}
	line := func(at Point[ohm], b, decades, lo, hi float64) error {
		_, err := NewLogLinear(at, b, decades, units.RelativeHumidity(lo), units.RelativeHumidity(hi))
		return err
	}
	wet := func(at WetPoint[ohm, Regain], n, decades float64, lo, hi Regain) error {
		_, err := NewMoisturePower(at, n, decades, lo, hi)
		return err
	}
	at := Point[ohm]{rh(50), 1e9}
	damp := WetPoint[ohm, Regain]{0.08, 1e9}
	film := func(saturated ohm, k, decades float64) error {
		_, err := NewAdsorbedFilm(saturated, k, decades, 0, rh(100))
		return err
	}
	gab := func(mono Regain, c, k float64) error {
		_, err := NewGAB(mono, c, k, 0, rh(100))
		return err
	}
	heats := func(h GABHeats) error {
		g, _ := NewGAB(0.05, 10, 0.7, 0, rh(100))
		_, err := g.WithHeats(h)
		return err
	}
	pile := func(s PileSpec) error {
		_, err := NewPile(s)
		return err
	}
	goods := func(s GoodsSpec) error {
		_, err := NewGoods(s)
		return err
	}
	settings := func(s FitSettings) error {
		_, err := FitLogLinear([]Point[ohm]{{rh(20), 1e12}, {rh(60), 1e9}}, &s)
		return err
	}
	hall, summer := inRoom(t, 23, 50), inRoom(t, 15, 50)
	r, err := NewRoom(RoomSpec{Volume: 3000, Ventilation: 1})
	if err != nil {
		t.Fatal(err)
	}
	body, err := NewColdBody(SteelRoll(0.2))
	if err != nil {
		t.Fatal(err)
	}
	held := paperGoods(t, GoodsSpec{Length: 1, Width: 0.7, Height: 0.8})
	given := func(make func(v float64) Given) func(v float64) error {
		return func(v float64) error { return make(v).check("a") }
	}
	law, err := NewConstant[ohm](0.5, 0)
	if err != nil {
		t.Fatal(err)
	}
	sourced := func(low, high float64) error {
		_, err := NewSourced[ohm](law, guessed(), units.Temperature(low), units.Temperature(high))
		return err
	}
	isotherm := func(low, high, factor float64) error {
		_, err := NewSourcedIsotherm(Wood{}, guessed(), units.Temperature(low), units.Temperature(high), factor)
		return err
	}
	ends, beyond := []float64{-100, 200}, []float64{-100.1, 200.1}
	share, noShare := []float64{0, 1}, []float64{-0.01, 1.01}
	spread, noSpread := []float64{0, 3}, []float64{-0.01, 3.01}
	length, noLength := []float64{1e-9, 100}, []float64{0, 100.1}
	rate, noRate := []float64{0, 1}, []float64{-1e-12, 1.01}
	field("NewAir", "t", celsius(func(T units.Temperature) error { return air(float64(T), 0, 1e5) }), ends, beyond)
	field("NewAir", "rh", func(v float64) error { return air(293, v, 1e5) }, share, noShare)
	field("NewAir", "p", func(v float64) error { return air(250, 0.5, v) }, []float64{1e3, 1.5e6}, []float64{999, 1.501e6})

	field("DryBulb", "a.dry bulb", given(func(v float64) Given { return DryBulb(units.Celsius(v)) }), ends, beyond)
	field("RH", "a.relative humidity", given(func(v float64) Given { return RH(units.RelativeHumidity(v)) }), share,
		noShare)
	field("RHIce", "a.relative humidity over ice",
		given(func(v float64) Given { return RHIce(units.RelativeHumidityIce(v)) }),
		spread, noSpread)
	field("RHMixed", "a.relative humidity, ice below 0.01 °C",
		given(func(v float64) Given { return RHMixed(units.Ratio(v)) }),
		spread, noSpread)
	field("DewPoint", "a.dew point", given(func(v float64) Given { return DewPoint(units.Celsius(v)) }),
		[]float64{-150, 200},
		[]float64{-150.1, 200.1})
	field("FrostPoint", "a.frost point", given(func(v float64) Given { return FrostPoint(units.Celsius(v)) }),
		[]float64{-150, 0.0099}, []float64{-150.1, 0.02})
	field("HumidityRatio", "a.humidity ratio",
		given(func(v float64) Given { return HumidityRatio(units.HumidityRatio(v)) }),
		[]float64{0, 60}, []float64{-0.01, 60.1})
	field("VapourPressure", "a.vapour pressure", given(func(v float64) Given { return VapourPressure(units.Pressure(v)) }),
		[]float64{0, 1.5e6}, []float64{-1, 1.501e6})
	field("AbsoluteHumidity", "a.absolute humidity", given(func(v float64) Given {
		return AbsoluteHumidity(units.VapourDensity(v))
	}), []float64{0, 10}, []float64{-0.01, 10.1})
	field("Enthalpy", "a.enthalpy", given(func(v float64) Given { return Enthalpy(units.EnergyPerMass(v)) }),
		[]float64{-2e5, 2e8}, []float64{-2.01e5, 2.01e8})

	field("NewRoom", "volume", room(func(s *RoomSpec, v float64) { s.Volume = units.Volume(v) }), []float64{1e-9, 1e7},
		[]float64{0, 1.01e7})
	field("NewRoom", "ventilation", room(func(s *RoomSpec, v float64) { s.Ventilation = units.VolumeFlow(v) }),
		[]float64{1e-9, 1e4}, []float64{0, 1.01e4})
	field("NewRoom", "gain", room(func(s *RoomSpec, v float64) { s.Gain = units.MassFlow(v) }), []float64{-10, 10},
		[]float64{-10.1, 10.1})
	field("NewRoom", "buffer", room(func(s *RoomSpec, v float64) { s.Buffer = v }), []float64{0, 100},
		[]float64{-0.1, 100.1})
	field("Room.Humidify", "feed", celsius(func(feed units.Temperature) error {
		_, err := r.Humidify(summer, hall, feed)
		return err
	}), []float64{0, 100}, []float64{-0.1, 100.1})
	field("Room.Humidify", "target", func(p float64) error {
		target := hall
		target.p = units.Pressure(p)
		_, err := r.Humidify(summer, target, 283)
		return err
	}, []float64{101325 * 0.991, 101325 * 1.009}, []float64{101325 * 0.989, 101325 * 1.011})
	field("Room.Steady", "t", celsius(func(T units.Temperature) error { _, err := r.Steady(summer, T); return err }),
		ends, beyond)
	field("Room.After", "dt", func(v float64) error { _, err := r.After(units.Time(v), hall, summer); return err },
		[]float64{0, 0.5}, []float64{-0.1})
	field("SpellsBelow", "limit", func(v float64) error {
		_, err := SpellsBelow(nil, 1, 293, units.RelativeHumidity(v))
		return err
	}, share, noShare)
	field("SpellsBelow", "at", celsius(func(T units.Temperature) error {
		_, err := SpellsBelow(nil, 1, T, rh(40))
		return err
	}), ends, beyond)
	field("SpellsBelow", "step", func(v float64) error {
		_, err := SpellsBelow(nil, units.Time(v), 293,
			rh(40))
		return err
	},
		[]float64{0.5}, []float64{0})

	field("NewColdBody", "heat_per_area", cold(func(s *ColdBodySpec, v float64) { s.HeatPerArea = v }),
		[]float64{100, 1e8},
		[]float64{99.9, 1.001e8})
	field("NewColdBody", "convection", cold(func(s *ColdBodySpec, v float64) { s.Convection = v }), []float64{0.5, 500},
		[]float64{0.49, 500.1})
	field("NewColdBody", "radiation", cold(func(s *ColdBodySpec, v float64) { s.Radiation = v }), []float64{0, 10},
		[]float64{-0.1, 10.1})
	field("ColdBody.Wet", "start", celsius(func(T units.Temperature) error { _, err := body.Wet(hall, T); return err }),
		[]float64{-60, 22.99}, []float64{-60.1, 23.1})

	field("NewSheet", "thickness", func(v float64) error { _, err := NewSheet(units.Length(v), 1e-9, true); return err },
		length, noLength)
	field("NewSheet", "d", func(v float64) error { _, err := NewSheet(1e-3, units.Diffusivity(v), true); return err },
		[]float64{1e-15, 1}, []float64{0, 1.01})
	field("NewPile", "Length", func(v float64) error {
		return pile(PileSpec{Length: units.Length(v), Width: 1, Height: 1, Along: 1e-9})
	}, length, noLength)
	field("NewPile", "Along", func(v float64) error {
		return pile(PileSpec{Length: 1, Width: 1, Height: 1, Along: units.Diffusivity(v), Across: 1e-9})
	}, rate, noRate)
	field("NewPile", "Across", func(v float64) error {
		return pile(PileSpec{Length: 1, Width: 1, Height: 1, Along: 1e-9, Across: units.Diffusivity(v)})
	}, rate, noRate)
	field("NewRoll", "diameter", func(v float64) error { _, err := NewRoll(units.Length(v), 1, 1e-9, 0); return err },
		length, noLength)
	field("Body.WithFilm", "g", func(v float64) error {
		b, _ := NewSheet(2e-3, 1e-9, true) // l/D = 1e6 s/m
		_, err := b.WithFilm(units.Speed(v))
		return err
	}, []float64{1.001e-9, 1e-3}, []float64{0.999e-9, 0})
	field("NewGoods", "film", func(v float64) error { return goods(GoodsSpec{Length: 1, Width: 1, Height: 1, Film: v}) },
		[]float64{1, 200, 0}, []float64{0.9, 200.1})
	field("NewGoods", "Diameter", func(v float64) error { return goods(GoodsSpec{Diameter: units.Length(v), Width: 1}) },
		[]float64{1e-9, 100}, []float64{100.1})
	field("Goods.Condition", "share", func(v float64) error { _, err := held.Condition(units.Ratio(v)); return err },
		[]float64{0.001, 0.999}, []float64{0.0009, 0.9991})
	field("Goods.Warm", "start", celsius(func(T units.Temperature) error { _, err := held.Warm(hall, T); return err }),
		[]float64{-60, 60}, []float64{-60.1, 60.1})

	field("NewConstant", "v", func(v float64) error { _, err := NewConstant(ohm(v), 0); return err }, []float64{0.5, 1e30},
		[]float64{0})
	field("NewConstant", "decades", func(v float64) error { _, err := NewConstant[ohm](1, v); return err }, spread,
		noSpread)
	field("NewAtLeast", "limit", func(v float64) error { _, err := NewAtLeast(ohm(v)); return err }, []float64{0.5},
		[]float64{0})
	field("NewArrhenius", "Activation", hot(func(s *ArrheniusSpec[ohm], v float64) { s.Activation = v }),
		[]float64{0, 400e3}, []float64{-1, 401e3})
	field("NewArrhenius", "Error", hot(func(s *ArrheniusSpec[ohm], v float64) { s.Error = v }), []float64{0, 200e3},
		[]float64{-1, 201e3})
	field("NewArrhenius", "decades", hot(func(s *ArrheniusSpec[ohm], v float64) { s.Decades = v }), spread, noSpread)
	field("NewArrhenius", "At.value", hot(func(s *ArrheniusSpec[ohm], v float64) { s.At.Value = ohm(v) }), []float64{0.5},
		[]float64{0})
	field("NewArrhenius", "At.T", hot(func(s *ArrheniusSpec[ohm], v float64) { s.At.T = units.Celsius(v) }), ends, beyond)
	field("NewArrhenius, range", "low", hot(func(s *ArrheniusSpec[ohm], v float64) { s.Low = units.Celsius(v) }),
		[]float64{-100, 50}, []float64{-100.1, 50.1})
	field("NewArrhenius, range", "low", hot(func(s *ArrheniusSpec[ohm], v float64) { s.High = units.Celsius(v) }),
		[]float64{0, 200}, []float64{-0.1, 200.1})
	field("NewWarmed", "t0", celsius(func(T units.Temperature) error {
		by, _ := NewArrhenius(ArrheniusSpec[ohm]{At: HotPoint[ohm]{293, 1}, Low: 293, High: 303, Held: HeldHumidity})
		_, err := NewWarmed[ohm](law, by, T)
		return err
	}), ends, beyond)
	field("NewSourced", "low", celsius(func(T units.Temperature) error { return sourced(float64(T), 293) }),
		[]float64{-100, 19.8}, []float64{-100.1, 19.9})
	field("NewSourced, high", "low", celsius(func(T units.Temperature) error { return sourced(293, float64(T)) }),
		[]float64{19.9, 200}, []float64{19.8, 200.1})
	field("NewSourcedIsotherm", "low", celsius(func(T units.Temperature) error { return isotherm(float64(T), 293, 1.1) }),
		[]float64{-100, 19.8}, []float64{-100.1, 19.9})
	field("NewSourcedIsotherm, high", "low", celsius(func(T units.Temperature) error {
		return isotherm(293, float64(T), 1.1)
	}), []float64{19.9, 200}, []float64{19.8, 200.1})
	field("NewSourcedIsotherm", "factor", func(v float64) error { return isotherm(293, 303, v) }, []float64{1, 10},
		[]float64{0.99, 10.1})

	field("NewLogLinear", "at.rh", func(v float64) error {
		return line(Point[ohm]{units.RelativeHumidity(v), 1}, 0.1, 0, 0, 1)
	}, share, noShare)
	field("NewLogLinear", "decades_per_percent", func(v float64) error { return line(at, v, 0, 0, 1) }, share, noShare)
	field("NewLogLinear", "decades", func(v float64) error { return line(at, 0.1, v, 0, 1) }, spread, noSpread)
	field("NewLogLinear", "lo", func(v float64) error { return line(at, 0.1, 0, v, 1) }, share, noShare)
	field("NewLogLinear", "hi", func(v float64) error { return line(at, 0.1, 0, 0.3, v) }, []float64{0.3, 1},
		[]float64{0.29, 1.01})
	field("NewAdsorbedFilm", "saturated", func(v float64) error { return film(ohm(v), 10, 0) }, []float64{0.5},
		[]float64{0})
	field("NewAdsorbedFilm", "k", func(v float64) error { return film(1e5, v, 0) }, []float64{0, 100},
		[]float64{-0.1, 100.1})
	field("NewAdsorbedFilm", "decades", func(v float64) error { return film(1e5, 10, v) }, spread, noSpread)
	field("NewMoisturePower", "at.M", func(v float64) error {
		return wet(WetPoint[ohm, Regain]{Regain(v), 1}, 10, 0, 0.01, 0.2)
	}, []float64{1e-9, 0.999}, []float64{0, 1})
	field("NewMoisturePower", "n", func(v float64) error { return wet(damp, v, 0, 0.01, 0.2) }, []float64{0, 30},
		[]float64{-0.1, 30.1})
	field("NewMoisturePower", "decades", func(v float64) error { return wet(damp, 10, v, 0.01, 0.2) }, spread, noSpread)
	field("NewMoisturePower", "lo", func(v float64) error { return wet(damp, 10, 0, Regain(v), 0.2) },
		[]float64{1e-9, 0.2}, []float64{0, 0.21})
	field("NewMoisturePower, hi", "lo", func(v float64) error { return wet(damp, 10, 0, 0.1, Regain(v)) },
		[]float64{0.1, 0.999}, []float64{0.09, 1})
	field("Chain", "mismatch", func(v float64) error {
		m, _ := NewMoisturePower(damp, 10, 0, 0.01, 0.2)
		_, err := Chain(m, Wood{}, v)
		return err
	}, []float64{0, 4}, []float64{-0.1, 4.1})
	field("FitLogLinear", "settings.scatter", func(v float64) error { return settings(FitSettings{Scatter: v}) }, spread,
		noSpread)
	field("FitLogLinear", "settings.between_samples", func(v float64) error {
		return settings(FitSettings{BetweenSamples: v})
	}, spread, noSpread)

	field("NewGAB", "monolayer", func(v float64) error { return gab(Regain(v), 10, 0.7) }, []float64{1e-9, 1},
		[]float64{0, 1.01})
	field("NewGAB", "c", func(v float64) error { return gab(0.05, v, 0.7) }, []float64{1e-9, 1000}, []float64{0, 1000.1})
	field("NewGAB", "k", func(v float64) error { return gab(0.05, 10, v) }, []float64{1e-9, 0.999}, []float64{0, 1})
	field("GAB.WithHeats", "at", celsius(func(T units.Temperature) error {
		return heats(GABHeats{At: T, Low: 293, High: 303})
	}), ends, beyond)
	field("GAB.WithHeats", "low", celsius(func(T units.Temperature) error {
		return heats(GABHeats{At: 293, Low: T, High: 293})
	}), []float64{-100, 19.8}, []float64{-100.1, 19.9})
	field("GAB.WithHeats, high", "low", celsius(func(T units.Temperature) error {
		return heats(GABHeats{At: 293, Low: 293, High: T})
	}), []float64{19.9, 200}, []float64{19.8, 200.1})
	field("GAB.WithHeats", "C", func(v float64) error { return heats(GABHeats{At: 293, C: v, Low: 293, High: 293}) },
		[]float64{-1e6, 1e6}, []float64{-1.01e6, 1.01e6})
	field("NewProportional", "saturation", func(v float64) error { _, err := NewProportional(Regain(v)); return err },
		[]float64{1e-9, 0.5}, []float64{0, 0.501})
	field("NewHysteresis", "shift", func(v float64) error {
		_, err := NewHysteresis(Wood{}, units.RelativeHumidity(v), FromWet)
		return err
	}, []float64{0, 0.2}, []float64{-0.01, 0.201})
	field("BreakdownCorrection", "g", func(v float64) error { _, err := BreakdownCorrection(hall, AC, v); return err },
		spread,
		noSpread)
	field("ThresholdFor", "limit", func(v float64) error { _, err := ThresholdFor(law, ohm(v), 293, 1e5); return err },
		[]float64{0.5}, []float64{0, 0.49})
}
