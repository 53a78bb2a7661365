package humiditytest

import (
	"fmt"
	"math"
	"math/rand/v2"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"example.org/pithball/units/lawtest"
)

// Fitter fits a law of resistivity over relative humidity to tests and returns the
// band in which a further test at rh lies in nine of ten cases.
type Fitter func(tests []humidity.Point[units.SheetResistance], rh units.RelativeHumidity) (known.Band, error)

// LogLinear is the fitter of package humidity.
func LogLinear(tests []humidity.Point[units.SheetResistance], rh units.RelativeHumidity) (known.Band, error) {
	l, err := humidity.FitLogLinear(tests, nil)
	if err != nil {
		return known.Band{}, err
	}
	return l.BandAt(rh), nil
}

// Tests are n invented tests of one material, from 30 to 60 %RH, that scatter about a
// straight law of 8.5 decades over the whole of relative humidity.
type Tests struct {
	N       int                    // 3 … 10
	Decades float64                // [1] standard deviation of log10 of a test, 0.05 … 0.6
	At      units.RelativeHumidity // of the further test, 25 … 65 %RH
	Seed    int                    // of the scatter
}

// draw returns the tests and the further one.
func (in Tests) draw(r *rand.Rand) ([]humidity.Point[units.SheetResistance], float64) {
	at := func(rh float64) float64 { return math.Pow(10, 13-8.5*rh+in.Decades*r.NormFloat64()) }
	var tests []humidity.Point[units.SheetResistance]
	for i := range in.N {
		rh := 0.3 + 0.3*float64(i)/float64(in.N-1)
		tests = append(tests, humidity.Point[units.SheetResistance]{
			RH: units.RelativeHumidity(rh), Value: units.SheetResistance(at(rh)),
		})
	}
	return tests, at(float64(in.At))
}

// Fitters returns the laws of a fit to a few tests.
//
// Beyond physics the laws ask: tests that rise with humidity by chance may be
// refused; the band is lognormal.
func Fitters() lawtest.Kit[Fitter, Tests] {
	// The band of the normal distribution, as if the scatter were known and not
	// learned from n − 2 degrees of freedom.
	normal := func(tests []humidity.Point[units.SheetResistance], rh units.RelativeHumidity) (known.Band, error) {
		b, err := LogLinear(tests, rh)
		if n := len(tests); n < 10 {
			b.Spread *= [...]float64{3: 1.645 / 6.314, 4: 1.645 / 2.920, 5: 1.645 / 2.353, 6: 1.645 / 2.132,
				7: 1.645 / 2.015, 8: 1.645 / 1.943, 9: 1.645 / 1.895}[n]
		}
		return b, err
	}
	const records = 300
	return lawtest.Kit[Fitter, Tests]{Input: func(d *lawtest.Draw, _ Fitter) Tests {
		return Tests{N: d.Int("n", 3, 10), Decades: lawtest.Decades(d, "decades", 0.05, 0.6),
			At: lawtest.Between(d, "at", 25*units.PercentRH, 65*units.PercentRH), Seed: d.Int("seed", 0, 1000)}
	}, Laws: []lawtest.Law[Fitter, Tests]{{
		Name: "scale", Says: "tests that are 10 times as high have a band that is 10 times as high, of the same spread",
		Source: "the scatter is one of the logarithm",
		// A band of as many ohms for all.
		Broken: func(tests []humidity.Point[units.SheetResistance], rh units.RelativeHumidity) (known.Band, error) {
			b, err := LogLinear(tests, rh)
			b.Spread *= 1 + 1/math.Log10(b.Value)
			return b, err
		},
		Check: func(m Fitter, in Tests) error {
			tests, _ := in.draw(rand.New(rand.NewPCG(uint64(in.Seed), 1)))
			a, err := m(tests, in.At)
			if err != nil {
				return lawtest.Refused(err)
			}
			for i := range tests {
				tests[i].Value *= 10
			}
			b, err := m(tests, in.At)
			if err != nil {
				return err
			}
			ok := math.Abs(b.Value/a.Value-10) < 1e-6 && math.Abs(b.Spread-a.Spread) < 1e-6*(1+a.Spread)
			return lawtest.That(ok, "10 times the median and the same spread", b.Value/a.Value, a.Spread, b.Spread)
		},
	}, {
		Name: "coverage", Says: fmt.Sprintf("of %d seeded sets of tests the band holds a further one in 83 … 97 %%",
			records), Source: "Student's t with n − 2 degrees of freedom; ±7 % are four standard deviations of the count",
		Broken: normal,
		Check: func(m Fitter, in Tests) error {
			r := rand.New(rand.NewPCG(uint64(in.Seed), 2))
			held, tried := 0, 0
			for range records {
				tests, further := in.draw(r)
				b, err := m(tests, in.At)
				if err != nil {
					continue // it rises by chance
				}
				tried++
				if lo, hi := b.Limits(); lo <= further && further <= hi {
					held++
				}
			}
			if tried < records*3/4 {
				return lawtest.Skip("most sets rise by chance")
			}
			share := float64(held) / float64(tried)
			return lawtest.That(share >= 0.83 && share <= 0.97, "0.83 … 0.97 held", share)
		},
	}}}
}

// Thresholder finds the humidity from which a law stays at or below a limit, with its
// band: [humidity.ThresholdFor] is one.
type Thresholder func(law humidity.Law[units.SheetResistance], limit units.SheetResistance, t units.Temperature,
	p units.Pressure) (humidity.Threshold, error)

// Limit is where a threshold is asked for.
type Limit struct {
	T       units.Temperature // of the place, 15 … 35 °C
	P       units.Pressure    // 70 … 105 kPa
	Decades float64           // [1] spread of the law, 0.05 … 1
	At      float64           // [1] log10 of the limit in Ω, 6 … 11
}

func (in Limit) law() (humidity.LogLinear[units.SheetResistance], error) {
	at := humidity.Point[units.SheetResistance]{RH: 50 * units.PercentRH, Value: 3e8 * units.OhmPerSquare}
	return humidity.NewLogLinear(at, 0.085, in.Decades, 5*units.PercentRH, 95*units.PercentRH)
}

// Thresholds returns the laws of a threshold.
func Thresholds() lawtest.Kit[Thresholder, Limit] {
	changed := func(change func(w *humidity.Threshold, in units.Temperature)) Thresholder {
		return func(law humidity.Law[units.SheetResistance], limit units.SheetResistance, t units.Temperature,
			p units.Pressure) (humidity.Threshold, error) {
			w, err := humidity.ThresholdFor(law, limit, t, p)
			change(&w, t)
			return w, err
		}
	}
	at := func(check func(w humidity.Threshold, l humidity.LogLinear[units.SheetResistance], in Limit) error) func(
		m Thresholder, in Limit) error {
		return func(m Thresholder, in Limit) error {
			l, err := in.law()
			if err != nil {
				return err
			}
			w, err := m(l, units.SheetResistance(math.Pow(10, in.At)), in.T, in.P)
			if err != nil {
				return lawtest.Refused(err)
			}
			return check(w, l, in)
		}
	}
	return lawtest.Kit[Thresholder, Limit]{Input: func(d *lawtest.Draw, _ Thresholder) Limit {
		return Limit{T: lawtest.Between(d, "T", units.Celsius(15), units.Celsius(35)),
			P:       lawtest.Between(d, "P", 70*units.Kilopascal, 105*units.Kilopascal),
			Decades: lawtest.Decades(d, "decades", 0.05, 1), At: lawtest.Between(d, "at", 6.0, 11.0)}
	}, Laws: []lawtest.Law[Thresholder, Limit]{{
		Name: "band", Says: "low <= median <= high, apart where the law spreads, and so the dew points",
		Source: "a resistivity with a band reaches a limit at a humidity with a band",
		// The spread of the law is forgotten.
		Broken: changed(func(w *humidity.Threshold, _ units.Temperature) {
			w.Low, w.High, w.DewPointLow, w.DewPointHigh = w.Median, w.Median, w.DewPoint, w.DewPoint
		}),
		Check: at(func(w humidity.Threshold, _ humidity.LogLinear[units.SheetResistance], _ Limit) error {
			ok := w.Low <= w.Median && w.Median <= w.High && w.DewPointLow <= w.DewPoint && w.DewPoint <= w.DewPointHigh
			if w.Low > 0 && w.High < 1 {
				ok = ok && w.Low < w.Median && w.Median < w.High
			}
			return lawtest.That(ok, "in order and apart", w.Low, w.Median, w.High, w.DewPointLow, w.DewPoint, w.DewPointHigh)
		}),
	}, {
		Name: "meets the limit", Says: "the law gives the limit at the median, its 95 % end at High and its 5 % end at Low",
		Source: "definition",
		// Standard deviation instead of the 95 % end.
		Broken: changed(func(w *humidity.Threshold, _ units.Temperature) {
			w.High = w.Median + (w.High-w.Median)/1.645
		}),
		Check: at(func(w humidity.Threshold, l humidity.LogLinear[units.SheetResistance], in Limit) error {
			for _, x := range []struct {
				rh units.RelativeHumidity
				z  float64
			}{{w.Median, 0}, {w.High, known.Z95}, {w.Low, -known.Z95}} {
				if x.rh <= 0 || x.rh >= 1 {
					continue // at the end of the scale
				}
				y := math.Log10(float64(l.At(x.rh))) + x.z*l.DecadesAt(x.rh)
				if math.Abs(y-in.At) > 1e-6 {
					return lawtest.That(false, fmt.Sprintf("10^%g Ω", in.At), x.rh, fmt.Sprintf("10^%g Ω", y))
				}
			}
			return nil
		}),
	}, {
		Name: "dew point", Says: "the dew points are those of the humidities at the place", Source: "definition",
		// At 20 °C, wherever it is.
		Broken: changed(func(w *humidity.Threshold, t units.Temperature) {
			w.DewPoint = w.DewPoint.Add(units.Celsius(20).Sub(t))
		}),
		Check: at(func(w humidity.Threshold, _ humidity.LogLinear[units.SheetResistance], in Limit) error {
			a, err := humidity.NewAir(in.T, w.Median, in.P)
			if err != nil {
				return err
			}
			ok := math.Abs(float64(a.DewPoint().Sub(w.DewPoint))) < 1e-6
			return lawtest.That(ok, fmt.Sprint(a.DewPoint()), w.DewPoint)
		}),
	}}}
}
