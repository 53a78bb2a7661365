package humidity

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Threshold is the humidity from which a law stays at or below a limit, with what
// the band of the law makes of it: where a line starts to jam. Median is that of
// the law; the limit of 5 % of samples lies below Low and of 5 % above High.
type Threshold struct {
	Median, Low, High                   units.RelativeHumidity // over water, 0 … 100 %RH
	DewPoint, DewPointLow, DewPointHigh units.Temperature      // that give them at the place, over water
	// Unreached says that more than 5 % of samples stay above the limit even at
	// 100 %RH: High is 100 %RH, and humidity is no cure for them.
	Unreached bool
	// Validity joins the flags of the law at the three humidities.
	Validity known.Validity
}

// ThresholdFor returns the threshold of a law for a place of temperature t and
// pressure p (ranges of [NewAir]): the relative humidities at which median, 5 %
// and 95 % limit of the law's band cross limit, found to 1e-12, and
// their dew points. Questions: at what dew point does this line start to jam, and
// how well is that known? With two tests of a common scatter the band is ±10 %RH
// and more (ExampleThresholdFor has 11 below and 17 above); the error of the hygrometer, 2 to 3 %RH, comes on top.
//
// The law must not rise with humidity. A law whose median is below the limit in
// dry air needs no humidity and has a Median of 0; one whose median stays above
// it at 100 %RH is a [*known.FieldError] for limit, and so is a law whose value is
// a lower limit. Errors for t and p are those of [NewAir].
func ThresholdFor[Q Value](law Law[Q], limit Q, t units.Temperature, p units.Pressure) (Threshold, error) {
	dry, err := NewAir(t, 0, p)
	err = errors.Join(err, positive("limit", limit))
	if law == nil {
		err = errors.Join(err, known.Wrong("law", "", "a law in humidity"))
	}
	if err != nil {
		return Threshold{}, err
	}
	es, _ := dry.m.water(float64(t), float64(p))
	at := func(rh float64) Air {
		a := dry
		a.e = units.Pressure(rh * es)
		return a
	}
	want := math.Log10(float64(limit))
	// over tells how far log10 of the law lies above the limit at z spreads.
	over := func(rh, z float64) float64 {
		a := at(rh)
		return math.Log10(float64(law.Value(a))) + z*law.Decades(a) - want
	}
	switch wet := over(1, 0); {
	case math.IsNaN(wet):
		return Threshold{}, known.Wrong("law", "a law without a value", "a law that was made by its constructor")
	case law.Validity(at(1))&known.LowerLimit != 0:
		return Threshold{}, known.Wrong("limit", limit, "a law whose median is known; this one has a lower limit only")
	case wet > 0:
		return Threshold{}, known.Wrong("limit", limit, "at least the value at 100 %RH; no humidity reaches it")
	}
	out := Threshold{Unreached: over(1, known.Z95) > 0}
	median := crossing(func(rh float64) float64 { return over(rh, 0) })
	low := crossing(func(rh float64) float64 { return over(rh, -known.Z95) })
	high := crossing(func(rh float64) float64 { return over(rh, known.Z95) })
	out.Median, out.Low, out.High = units.RelativeHumidity(median), units.RelativeHumidity(low),
		units.RelativeHumidity(high)
	for _, x := range []struct {
		rh  float64
		dew *units.Temperature
	}{{median, &out.DewPoint}, {low, &out.DewPointLow}, {high, &out.DewPointHigh}} {
		a := at(x.rh)
		*x.dew = a.DewPoint()
		out.Validity |= law.Validity(a)
	}
	return out, nil
}

// crossing returns the relative humidity above which f, which falls as far as the
// band does not widen faster than the law falls, stays at or below 0: the last
// crossing, from above. 0 if it is below everywhere, 1 if it is above at 1.
func crossing(f func(rh float64) float64) float64 {
	const steps = 200
	if !(f(1) <= 0) {
		return 1
	}
	for i := steps - 1; i >= 0; i-- {
		lo := float64(i) / steps
		if f(lo) <= 0 {
			continue
		}
		return root(lo, lo+1.0/steps, f)
	}
	return 0
}
