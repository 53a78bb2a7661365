package humidity_test

import (
	"fmt"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
)

// must returns v; an example that fails here says why.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// Winter air: −10 °C, 80 %RH by the weather service, heated to 20 °C. By hand:
// e = 0.8 × 286.5 Pa = 229 Pa, over 2339 Pa at 20 °C.
func ExampleNewAir() {
	out, err := humidity.NewAir(units.Celsius(-10), 80*units.PercentRH, units.Atmosphere)
	if err != nil {
		fmt.Println(err)
		return
	}
	in := out.At(units.Celsius(20))
	fmt.Printf("outdoors  %.1f %% over water, %.1f %% over ice\n", 100*float64(out.RelativeHumidity()),
		100*float64(out.RelativeHumidityIce()))
	fmt.Printf("indoors   %.1f %%, dew point %.1f °C as before\n", 100*float64(in.RelativeHumidity()),
		in.DewPoint().Celsius())
	// Output:
	// outdoors  80.0 % over water, 88.2 % over ice
	// indoors   9.8 %, dew point -12.8 °C as before
}

// The sensor hangs in the duct at 20 °C, the feeder is at 27 °C.
func ExampleAir_At() {
	duct := must(humidity.NewAir(units.Celsius(20), 45*units.PercentRH, units.Atmosphere))
	fmt.Println(duct)
	fmt.Println(duct.At(units.Celsius(27)))
	// Output:
	// 20.0 °C, 45.0 %RH over water, dew point 7.7 °C, 101.325 kPa (iapws)
	// 27.0 °C, 29.5 %RH over water, dew point 7.7 °C, 101.325 kPa (iapws)
}

func ExampleAir_Supersaturated() {
	for _, rh := range []units.RelativeHumidity{80 * units.PercentRH, 85 * units.PercentRH} {
		a := must(humidity.NewAir(units.Celsius(-20), rh, units.Atmosphere))
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
	_, err = humidity.AirFrom(units.Atmosphere, humidity.DewPoint(units.Celsius(7)),
		humidity.HumidityRatio(units.HumidityRatio(0.006)))
	fmt.Println(err)
	// Output:
	// 14 %RH, 6.5 g/kg, <nil>
	// b: humidity ratio 6 g/kg: want a measure that says something else than the dew point
}

func ExampleAirModel() {
	for _, m := range humidity.Models() {
		a := must(m.Air(units.Celsius(25), 100*units.PercentRH, units.Atmosphere))
		fmt.Printf("%-12s W %.6f\n", m, float64(a.HumidityRatio()))
	}
	// ASHRAE's real-gas table has 0.020173.
	// Output:
	// iapws        W 0.020169
	// iapws-ideal  W 0.020084
	// ashrae-ideal W 0.020081
	// wmo-magnus   W 0.020021
}

func ExampleAirModel_StatesTo() {
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
	a := must(humidity.NewAir(units.Celsius(20), 50*units.PercentRH, units.Atmosphere))
	d, _ := humidity.DensityCIPM(a, units.Ratio(4e-4))
	fmt.Printf("%.4f kg/m³, ideal gas %.4f\n", float64(d), float64(a.Density()))
	// Output: 1.1993 kg/m³, ideal gas 1.1989
}

// 4000 m³/h of outdoor air with a dew point of −9 °C, to be held at 22 °C, 45 %RH.
// By hand: 4000/0.85 kg of dry air an hour × (7.42 − 1.93) g/kg = 26 kg.
func ExampleRoom_Humidify() {
	room, err := humidity.NewRoom(humidity.RoomSpec{Volume: units.Volume(3200),
		Ventilation: units.VolumeFlow(4000.0 / 3600)})
	if err != nil {
		fmt.Println(err)
		return
	}
	out := must(humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(-5)),
		humidity.DewPoint(units.Celsius(-9))))
	target := must(humidity.NewAir(units.Celsius(22), 45*units.PercentRH, units.Atmosphere))
	without := must(room.Steady(out, units.Celsius(22)))
	d, err := room.Humidify(out, target, units.Celsius(10))
	fmt.Printf("without: %.0f %%RH; %.0f kg/h, %.0f kW as steam or %.0f kW from the room; %v\n",
		100*float64(without.RelativeHumidity()),
		3600*float64(d.Water), float64(d.Steam)/1e3, float64(d.Evaporation)/1e3, err)
	fmt.Println(d.Notice().Consult)
	// Output:
	// without: 12 %RH; 26 kg/h, 19 kW as steam or 18 kW from the room; <nil>
	// the local rules of hygiene for humidifiers and of electrical work
}

// Three hours of outdoor air, then how long the feeder at 27 °C is below 40 %RH.
func ExampleSpellsBelow() {
	room := must(humidity.NewRoom(humidity.RoomSpec{Volume: units.Volume(3200),
		Ventilation: units.VolumeFlow(4000.0 / 3600)}))
	var outdoor []humidity.Air
	for _, dew := range []float64{15, 2, 2} {
		a := must(humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(16)),
			humidity.DewPoint(units.Celsius(dew))))
		outdoor = append(outdoor, a)
	}
	start := must(humidity.NewAir(units.Celsius(22), 60*units.PercentRH, units.Atmosphere))
	indoor := make([]humidity.Air, len(outdoor))
	if err := room.SeriesTo(indoor, units.Hour, start, outdoor); err != nil {
		fmt.Println(err)
	}
	s, err := humidity.SpellsBelow(indoor, units.Hour, units.Celsius(27), 40*units.PercentRH)
	fmt.Println(s.Total, "below, from hour", s.First, err)
	// Output: 7200 s below, from hour 1 <nil>
}

func ExampleBreakdownCorrection() {
	winter := must(humidity.AirFrom(101.3*units.Kilopascal, humidity.DryBulb(units.Celsius(20)),
		humidity.AbsoluteHumidity(units.VapourDensity(3e-3))))
	c, err := humidity.BreakdownCorrection(winter, humidity.DC, 1)
	fmt.Printf("k %.3f, K %.3f, %v, %v\n", c.Humidity, c.K, c.Validity, err)
	fog := must(humidity.AirFrom(95*units.Kilopascal, humidity.DryBulb(units.Celsius(30)),
		humidity.AbsoluteHumidity(units.VapourDensity(20e-3))))
	_, err = humidity.BreakdownCorrection(fog, humidity.Impulse, 1)
	fmt.Println(err)
	// Output:
	// k 0.874, K 0.874, rests on no published value, <nil>
	// a: h/δ 22.1 g/m³: want h/δ of 1 … 20 g/m³ for impulse
}
