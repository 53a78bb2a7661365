package humidity_test

import (
	"fmt"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
)

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

// At which dew point does a line start to jam? Its sheets are picked every 0.3 s and
// may carry 1.74 of the 6 µC/m² that separation gives: τ <= 0.3 s/ln(6/1.74) = 0.242 s.
// Two tests with the common scatter tell little; ten tell more (the plant's own law,
// 10^(2.9 − 0.085 RH/%) s, with a scatter of 0.15 decades; demo values).
func ExampleThresholdFor() {
	tests := []humidity.Point[units.Time]{
		{RH: 35 * units.PercentRH, Value: 0.84 * units.Second},
		{RH: 45 * units.PercentRH, Value: 0.12 * units.Second},
	}
	for _, scatter := range []float64{0, 0.15} {
		law, err := humidity.FitLogLinear(tests, &humidity.FitSettings{Scatter: scatter})
		if err != nil {
			fmt.Println(err)
			return
		}
		x, err := humidity.ThresholdFor(law, 0.242*units.Second, units.Celsius(27), units.Atmosphere)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.1f %%RH (%.1f … %.1f), dew point %.1f °C (%.1f … %.1f)\n", 100*float64(x.Median), 100*float64(x.Low),
			100*float64(x.High),
			x.DewPoint.Celsius(), x.DewPointLow.Celsius(), x.DewPointHigh.Celsius())
	}
	// Output:
	// 41.4 %RH (30.9 … 58.4), dew point 12.8 °C (8.4 … 18.2)
	// 41.4 %RH (37.7 … 45.7), dew point 12.8 °C (11.4 … 14.3)
}

func ExampleNewAdsorbedFilm() {
	glass, err := humidity.NewAdsorbedFilm(1e5*units.OhmPerSquare, 18, humidity.SampleDecades, 20*units.PercentRH,
		100*units.PercentRH)
	// exp(18·0.25) = 90
	fmt.Printf("%.2g Ω/sq at 50 %%RH, %v\n", float64(glass.At(50*units.PercentRH)), err)
	// Output: 9e+06 Ω/sq at 50 %RH, <nil>
}

func ExampleChain() {
	power := must(humidity.NewMoisturePower(humidity.WetPoint[units.VolumeResistivity, humidity.Regain]{M: 0.066,
		Value: 1e9 * units.OhmMetre}, 11.4, humidity.SampleDecades, 0.03, 0.12))
	cotton := must(humidity.NewGAB(0.0488, 10.14, 0.747, 10*units.PercentRH, 90*units.PercentRH))
	law, err := humidity.Chain(power, cotton, 0.43)
	a := must(humidity.NewAir(units.Celsius(20), 30*units.PercentRH, units.Atmosphere))
	fmt.Printf("regain %.1f %%: %.1g Ω·m, a standard deviation of %.2f decades, %v\n",
		100*float64(cotton.Regain(30*units.PercentRH, a.Temperature())),
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
	fmt.Printf("÷%.3f at 30 °C, ÷%.2f at 60 °C\n", 1e13/float64(law.At(units.Celsius(30))),
		1e13/float64(law.At(units.Celsius(60))))
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
	paper := must(humidity.NewGAB(0.0522, 13.65, 0.721, 10*units.PercentRH, 90*units.PercentRH))
	wet, err := humidity.NewHysteresis(paper, 10*units.PercentRH, humidity.FromWet)
	t := units.Celsius(23)
	r := wet.Regain(50*units.PercentRH, t)
	fmt.Printf("%.1f %% instead of %.1f %%, as at %.0f %%RH from the dry side, %v\n", 100*float64(r),
		100*float64(paper.Regain(50*units.PercentRH, t)),
		100*float64(humidity.HumidityFor(paper, r, t)), err)
	// Output: 8.4 % instead of 7.2 %, as at 60 %RH from the dry side, <nil>
}

func ExampleMaterialFor() {
	dry := must(humidity.NewAir(units.Celsius(23), 25*units.PercentRH, units.Atmosphere))
	wet := must(humidity.NewAir(units.Celsius(23), 60*units.PercentRH, units.Atmosphere))
	for _, key := range []string{"pp", "paper-bond"} {
		m, err := humidity.MaterialFor(key)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s, %v: from 25 to 60 %%RH surface resistivity falls by a factor of %.0f\n", m.Name, m.Class,
			float64(m.Surface.Value(dry))/float64(m.Surface.Value(wet)))
	}
	fmt.Println(humidity.UnknownPolymer().Class)
	// Output:
	// polypropylene, inert: from 25 to 60 %RH surface resistivity falls by a factor of 1
	// white bond paper, absorbing: from 25 to 60 %RH surface resistivity falls by a factor of 580
	// inert
}
