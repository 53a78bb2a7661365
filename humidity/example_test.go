package humidity_test

import (
	"fmt"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
)

// Winter air: −10 °C, 80 %RH by the weather service, heated to 20 °C. By hand:
// e = 0.8 × 286.5 Pa = 229 Pa, over 2339 Pa at 20 °C.
func ExampleNewAir() {
	out, err := humidity.NewAir(units.Celsius(-10), 80*units.PercentRH, units.Atmosphere)
	if err != nil {
		fmt.Println(err)
		return
	}
	in := out.At(units.Celsius(20))
	fmt.Printf("outdoors  %.1f %% over water, %.1f %% over ice\n", 100*float64(out.RelativeHumidity()), 100*float64(out.RelativeHumidityIce()))
	fmt.Printf("indoors   %.1f %%, dew point %.1f °C as before\n", 100*float64(in.RelativeHumidity()), in.DewPoint().Celsius())
	// Output:
	// outdoors  80.0 % over water, 88.2 % over ice
	// indoors   9.8 %, dew point -12.8 °C as before
}

// The sensor hangs in the duct at 20 °C, the feeder is at 27 °C.
func ExampleAir_At() {
	duct, _ := humidity.NewAir(units.Celsius(20), 45*units.PercentRH, units.Atmosphere)
	fmt.Println(duct)
	fmt.Println(duct.At(units.Celsius(27)))
	// Output:
	// 20.0 °C, 45.0 %RH over water, dew point 7.7 °C, 101.325 kPa (iapws)
	// 27.0 °C, 29.5 %RH over water, dew point 7.7 °C, 101.325 kPa (iapws)
}

func ExampleAir_Supersaturated() {
	for _, rh := range []units.RelativeHumidity{80 * units.PercentRH, 85 * units.PercentRH} {
		a, _ := humidity.NewAir(units.Celsius(-20), rh, units.Atmosphere)
		fmt.Println(rh, "at −20 °C, supersaturated over ice:", a.Supersaturated())
	}
	// Output:
	// 80 %RH at −20 °C, supersaturated over ice: false
	// 85 %RH at −20 °C, supersaturated over ice: true
}

// A sling psychrometer: 40 °C dry, 20 °C wet. The chart of ASHRAE's example 1:
// 14 %RH, 6.5 g/kg.
func ExampleAirFrom() {
	a, err := humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(40)), humidity.WetBulb(units.Celsius(20)))
	fmt.Printf("%.0f %%RH, %.1f g/kg, %v\n", 100*float64(a.RelativeHumidity()), 1000*float64(a.HumidityRatio()), err)
	_, err = humidity.AirFrom(units.Atmosphere, humidity.DewPoint(units.Celsius(7)), humidity.HumidityRatio(units.HumidityRatio(0.006)))
	fmt.Println(err)
	// Output:
	// 14 %RH, 6.5 g/kg, <nil>
	// b: humidity ratio 6 g/kg: want a measure that says something else than the dew point
}

func ExampleModel() {
	for _, m := range humidity.Models() {
		a, _ := m.Air(units.Celsius(25), 100*units.PercentRH, units.Atmosphere)
		fmt.Printf("%-12s W %.6f\n", m, float64(a.HumidityRatio()))
	}
	// ASHRAE's real-gas table has 0.020173.
	// Output:
	// iapws        W 0.020169
	// iapws-ideal  W 0.020084
	// ashrae-ideal W 0.020081
	// wmo-magnus   W 0.020021
}

func ExampleModel_StatesTo() {
	t := []units.Temperature{units.Celsius(20), units.Celsius(-10), 20 * units.Kelvin}
	rh := []units.Ratio{units.Ratio(0.5), units.Ratio(0.8), units.Ratio(0.5)}
	p := []units.Pressure{units.Atmosphere, units.Atmosphere, units.Atmosphere}
	dst := humidity.States{CondensationPoint: make([]units.Temperature, 3), WetBulb: make([]units.Temperature, 3)}
	err := humidity.ASHRAEIdeal.StatesTo(&dst, t, rh, p, humidity.Mixed)
	for i := range t {
		fmt.Printf("%.2f %.2f °C\n", dst.CondensationPoint[i].Celsius(), dst.WetBulb[i].Celsius())
	}
	fmt.Println(err)
	// Output:
	// 9.27 13.78 °C
	// -12.49 -10.65 °C
	// NaN NaN °C
	// rows: 2: want air of −100 … 200 °C, 1 kPa … 1.5 MPa, up to saturation over water
}

func ExampleEquation() {
	for _, q := range []humidity.Equation{humidity.IF97, humidity.HylandWexlerWater, humidity.MagnusWater} {
		p, v := q.Pressure(units.Celsius(20))
		fmt.Printf("%-20s %.1f Pa, %v\n", q, float64(p), v)
	}
	// Output:
	// if97                 2339.2 Pa, inside the published range
	// hyland-wexler-water  2338.8 Pa, inside the published range
	// magnus-water         2332.6 Pa, inside the published range
}

func ExampleStandardPressure() {
	p, _ := humidity.StandardPressure(1500 * units.Metre)
	fmt.Printf("%.0f Pa\n", float64(p))
	// Output: 84556 Pa
}

func ExampleDensityCIPM() {
	a, _ := humidity.NewAir(units.Celsius(20), 50*units.PercentRH, units.Atmosphere)
	d, _ := humidity.DensityCIPM(a, units.Ratio(4e-4))
	fmt.Printf("%.4f kg/m³, ideal gas %.4f\n", float64(d), float64(a.Density()))
	// Output: 1.1993 kg/m³, ideal gas 1.1989
}

// 4000 m³/h of outdoor air with a dew point of −9 °C, to be held at 22 °C, 45 %RH.
// By hand: 4000/0.85 kg of dry air an hour × (7.42 − 1.93) g/kg = 26 kg.
func ExampleRoom_Humidify() {
	room, err := humidity.NewRoom(humidity.RoomSettings{Volume: units.Volume(3200), Ventilation: units.VolumeFlow(4000.0 / 3600)})
	if err != nil {
		fmt.Println(err)
		return
	}
	out, _ := humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(-5)), humidity.DewPoint(units.Celsius(-9)))
	target, _ := humidity.NewAir(units.Celsius(22), 45*units.PercentRH, units.Atmosphere)
	without, _ := room.Steady(out, units.Celsius(22))
	d, err := room.Humidify(out, target, units.Celsius(10))
	fmt.Printf("without: %.0f %%RH; %.0f kg/h, %.0f kW as steam or %.0f kW from the room; %v\n", 100*float64(without.RelativeHumidity()),
		3600*float64(d.Water), float64(d.Steam)/1e3, float64(d.Evaporation)/1e3, err)
	fmt.Println(d.Notice().Consult)
	// Output:
	// without: 12 %RH; 26 kg/h, 19 kW as steam or 18 kW from the room; <nil>
	// the local rules of hygiene for humidifiers and of electrical work
}

// Three hours of outdoor air, then how long the feeder at 27 °C is below 40 %RH.
func ExampleSpellsBelow() {
	room, _ := humidity.NewRoom(humidity.RoomSettings{Volume: units.Volume(3200), Ventilation: units.VolumeFlow(4000.0 / 3600)})
	var outdoor []humidity.Air
	for _, dew := range []float64{15, 2, 2} {
		a, _ := humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(16)), humidity.DewPoint(units.Celsius(dew)))
		outdoor = append(outdoor, a)
	}
	start, _ := humidity.NewAir(units.Celsius(22), 60*units.PercentRH, units.Atmosphere)
	indoor := make([]humidity.Air, len(outdoor))
	if err := room.SeriesTo(indoor, units.Hour, start, outdoor); err != nil {
		fmt.Println(err)
	}
	s, err := humidity.SpellsBelow(indoor, units.Hour, units.Celsius(27), 40*units.PercentRH)
	fmt.Println(s.Total, "below, from hour", s.First, err)
	// Output: 7200 s below, from hour 1 <nil>
}

// At which dew point does a line start to jam that needs 41.4 %RH at its feeder?
func ExampleThresholdDewPoint() {
	for _, t := range []float64{22, 27} {
		d, _ := humidity.ThresholdDewPoint(41.4*units.PercentRH, units.Celsius(t), units.Atmosphere)
		fmt.Printf("feeder at %.0f °C: dew point %.1f °C\n", t, d.Celsius())
	}
	// Output:
	// feeder at 22 °C: dew point 8.3 °C
	// feeder at 27 °C: dew point 12.8 °C
}

func ExampleColdBody_Wet() {
	hall, _ := humidity.NewAir(units.Celsius(23), 50*units.PercentRH, units.Atmosphere)
	fmt.Println("condenses:", humidity.Condenses(hall, units.Celsius(5)))
	roll, err := humidity.NewColdBody(humidity.SteelRoll(100 * units.Millimetre))
	if err != nil {
		fmt.Println(err)
		return
	}
	w, err := roll.Wet(hall, units.Celsius(5))
	fmt.Printf("up to %.0f g/m², dry after %.1f h, %v\n", 1e3*float64(w.Peak), float64(w.DryAt)/3600, err)
	// Output:
	// condenses: true
	// up to 59 g/m², dry after 4.4 h, <nil>
}

// Two decay times of the plant's own sheets: 2.2 s at 30 %RH, 0.32 s at 40 %RH.
// By hand: log10(2.2/0.32)/10 = 0.084 decades per %RH.
func ExampleFitLogLinear() {
	law, err := humidity.FitLogLinear([]humidity.Point[units.Time]{
		{RH: 30 * units.PercentRH, Value: 2.2 * units.Second},
		{RH: 40 * units.PercentRH, Value: 0.32 * units.Second},
	}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f decades per %%RH\n", law.DecadesPerPercent())
	lo, hi := law.BandAt(35 * units.PercentRH).Limits()
	fmt.Printf("35 %%RH: %.2f s, %.2f … %.2f s\n", float64(law.At(35*units.PercentRH)), lo, hi)
	fmt.Printf("0.24 s from %.1f %%RH\n", 100*float64(law.RelativeHumidity(0.24*units.Second)))
	// Output:
	// 0.084 decades per %RH
	// 35 %RH: 0.84 s, 0.20 … 3.44 s
	// 0.24 s from 41.5 %RH
}

func ExampleNewAdsorbedFilm() {
	glass, err := humidity.NewAdsorbedFilm(1e5*units.OhmPerSquare, 18, humidity.SampleDecades, 20*units.PercentRH, 100*units.PercentRH)
	// exp(18·0.25) = 90
	fmt.Printf("%.2g Ω/sq at 50 %%RH, %v\n", float64(glass.At(50*units.PercentRH)), err)
	// Output: 9e+06 Ω/sq at 50 %RH, <nil>
}

func ExampleChain() {
	power, _ := humidity.NewMoisturePower(humidity.WetPoint[units.VolumeResistivity, humidity.Regain]{M: 0.066, Value: 1e9 * units.OhmMetre}, 11.4, humidity.SampleDecades, 0.03, 0.12)
	cotton, _ := humidity.NewGAB(0.0488, 10.14, 0.747, 10*units.PercentRH, 90*units.PercentRH)
	law, err := humidity.Chain(power, cotton, 0.43)
	a, _ := humidity.NewAir(units.Celsius(20), 30*units.PercentRH, units.Atmosphere)
	fmt.Printf("regain %.1f %%: %.1g Ω·m, a standard deviation of %.2f decades, %v\n", 100*float64(cotton.Regain(30*units.PercentRH, a.Temperature())),
		float64(law.Value(a)), law.Decades(a), err)
	// Output: regain 4.7 %: 5e+10 Ω·m, a standard deviation of 0.53 decades, <nil>
}

func ExampleNewArrhenius() {
	law, err := humidity.NewArrhenius(humidity.ArrheniusSpec[units.VolumeResistivity]{
		At:         humidity.HotPoint[units.VolumeResistivity]{T: units.Celsius(20), Value: 1e13 * units.OhmMetre},
		Activation: 41.2e3, Error: 10e3, Decades: humidity.SampleDecades,
		Low: units.Celsius(0), High: units.Celsius(80), Held: humidity.HeldHumidity,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("÷%.3f at 30 °C, ÷%.2f at 60 °C\n", 1e13/float64(law.At(units.Celsius(30))), 1e13/float64(law.At(units.Celsius(60))))
	hot, err := humidity.NewAir(units.Celsius(60), 10*units.PercentRH, units.Atmosphere)
	lo, hi := humidity.Band(law, hot).Limits()
	fmt.Printf("at 60 °C %.1g … %.1g Ω·m, %v\n", lo, hi, err) // 10 kJ/mol are 0.21 decades over the 40 K
	// Output:
	// ÷1.746 at 30 °C, ÷7.61 at 60 °C
	// at 60 °C 3e+11 … 5e+12 Ω·m, <nil>
}

func ExampleRegain() {
	r := humidity.Regain(0.085)
	fmt.Println(r, "is", humidity.MoistureContent(0.0783), "nearly; exactly", r.Content().Regain())
	var m humidity.MoistureContent
	fmt.Println(m.UnmarshalText([]byte("8.5 % dry basis")))
	// Output:
	// 8.5 % dry basis is 7.83 % wet basis nearly; exactly 8.5 % dry basis
	// moisture: 8.5 % dry basis: want a number followed by "% wet basis"
}

// Paper conditioned down to 50 %RH holds what paper conditioned up to 60 % holds.
func ExampleNewHysteresis() {
	paper, _ := humidity.NewGAB(0.0522, 13.65, 0.721, 10*units.PercentRH, 90*units.PercentRH)
	wet, err := humidity.NewHysteresis(paper, 10*units.PercentRH, humidity.FromWet)
	t := units.Celsius(23)
	r := wet.Regain(50*units.PercentRH, t)
	fmt.Printf("%.1f %% instead of %.1f %%, as at %.0f %%RH from the dry side, %v\n", 100*float64(r), 100*float64(paper.Regain(50*units.PercentRH, t)),
		100*float64(humidity.HumidityFor(paper, r, t)), err)
	// Output: 8.4 % instead of 7.2 %, as at 60 %RH from the dry side, <nil>
}

// Half-time of a film: 0.0492·(50 µm)²/(4e-13 m²/s) = 307 s.
func ExampleNewSheet() {
	film, err := humidity.NewSheet(50*units.Micrometre, units.Diffusivity(4e-13), true)
	fmt.Printf("half-time %.0f s; in 1 s of a running line %.1f %%; %v\n", float64(film.TimeTo(units.Ratio(0.5))), 100*float64(film.Uptake(1*units.Second)), err)
	// Output: half-time 307 s; in 1 s of a running line 2.9 %; <nil>
}

// A wound film roll takes up moisture from its edges, if at all.
func ExampleNewRoll() {
	roll, err := humidity.NewRoll(0.8*units.Metre, 1.2*units.Metre, units.Diffusivity(1e-10), 0)
	fmt.Printf("half-time %.0f years, %v\n", float64(roll.TimeTo(units.Ratio(0.5)))/(365.25*86400), err)
	// Output: half-time 22 years, <nil>
}

func ExampleMaterialFor() {
	dry, _ := humidity.NewAir(units.Celsius(23), 25*units.PercentRH, units.Atmosphere)
	wet, _ := humidity.NewAir(units.Celsius(23), 60*units.PercentRH, units.Atmosphere)
	for _, key := range []string{"pp", "paper-bond"} {
		m, err := humidity.MaterialFor(key)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s, %v: from 25 to 60 %%RH surface resistivity falls by a factor of %.0f\n", m.Name, m.Class, float64(m.Surface.Value(dry))/float64(m.Surface.Value(wet)))
	}
	fmt.Println(humidity.UnknownPolymer().Class)
	// Output:
	// polypropylene, inert: from 25 to 60 %RH surface resistivity falls by a factor of 1
	// white bond paper, absorbing: from 25 to 60 %RH surface resistivity falls by a factor of 580
	// inert
}

func ExampleBreakdownCorrection() {
	winter, _ := humidity.AirFrom(101.3*units.Kilopascal, humidity.DryBulb(units.Celsius(20)), humidity.AbsoluteHumidity(units.VapourDensity(3e-3)))
	c, err := humidity.BreakdownCorrection(winter, humidity.DC, 1)
	fmt.Printf("k %.3f, K %.3f, %v, %v\n", c.Humidity, c.K, c.Validity, err)
	fog, _ := humidity.AirFrom(95*units.Kilopascal, humidity.DryBulb(units.Celsius(30)), humidity.AbsoluteHumidity(units.VapourDensity(20e-3)))
	_, err = humidity.BreakdownCorrection(fog, humidity.Impulse, 1)
	fmt.Println(err)
	// Output:
	// k 0.874, K 0.874, rests on no published value, <nil>
	// a: h/δ 22.1 g/m³: want h/δ of 1 … 20 g/m³ for impulse
}
