package kits

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/humidity/humiditytest"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// few are the 95 % quantiles of Student's distribution for 1 … 8 degrees of freedom.
var few = [...]float64{6.314, 2.920, 2.353, 2.132, 2.015, 1.943, 1.895, 1.860}

// straight fits a straight line to the logarithm of a few tests and returns the band of
// a further one; sure takes their scatter for known.
type straight struct{ sure bool }

func (s straight) fit(tests []humidity.Point[units.SheetResistance], rh units.RelativeHumidity) (known.Band, error) {
	n, mx, my := float64(len(tests)), 0.0, 0.0
	for _, p := range tests {
		mx, my = mx+float64(p.RH)/n, my+math.Log(float64(p.Value))/n
	}
	xx, xy, left := 0.0, 0.0, 0.0
	for _, p := range tests {
		d := float64(p.RH) - mx
		xx, xy = xx+d*d, xy+d*(math.Log(float64(p.Value))-my)
	}
	if !(xy < 0) {
		return known.Band{}, errors.New("it rises with humidity")
	}
	for _, p := range tests {
		d := math.Log(float64(p.Value)) - my - xy/xx*(float64(p.RH)-mx)
		left += d * d
	}
	d := float64(rh) - mx
	spread := math.Sqrt(left / (n - 2) * (1 + 1/n + d*d/xx))
	if !s.sure {
		spread *= few[len(tests)-3] / known.Z95 // a band is told as that of a normal distribution
	}
	return known.Band{Value: math.Exp(my + xy/xx*d), Spread: spread, Kind: known.LogNormal}, nil
}

func TestTests(t *testing.T) {
	hold(t, humiditytest.Fitters())(straight{}.fit, straight{sure: true}.fit, "coverage")
}

// search finds where the ends of a law's band cross a limit by trying; ends is how many
// standard deviations away they are taken. [1]
type search struct{ ends float64 }

func (s search) threshold(law humidity.Law[units.SheetResistance], limit units.SheetResistance, t units.Temperature,
	p units.Pressure) (humidity.Threshold, error) {
	cross := func(z float64) (units.RelativeHumidity, units.Temperature) {
		lo, hi := units.RelativeHumidity(0), units.RelativeHumidity(1)
		for range 60 {
			mid := (lo + hi) / 2
			if a, err := humidity.NewAir(t, mid, p); err != nil ||
				math.Log10(float64(law.Value(a)/limit))+z*law.Decades(a) > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		a, _ := humidity.NewAir(t, hi, p)
		return hi, a.DewPoint()
	}
	var w humidity.Threshold
	w.Median, w.DewPoint = cross(0)
	w.Low, w.DewPointLow = cross(-s.ends)
	w.High, w.DewPointHigh = cross(s.ends)
	w.Unreached = w.High == 1
	if w.Median < 1e-9 || w.Median == 1 {
		return w, errors.New("no humidity gives it")
	}
	return w, nil
}

func TestThreshold(t *testing.T) {
	hold(t, humiditytest.Thresholds())(search{known.Z95}.threshold, search{1}.threshold, "meets the limit")
}

// bale warms up as its face and its core do, each with a time constant of its own that
// is known to a factor.
type bale struct{ dry bool } // dry: looks at the temperature of the hall for the dew point

func (b bale) Warm(hall humidity.Air, start units.Temperature) (humidity.Warming, error) {
	room, dew := hall.Temperature(), hall.CondensationPoint()
	if !(start < room) {
		return humidity.Warming{}, errors.New("not from the cold")
	}
	if b.dry {
		dew = room.Add(-1)
	}
	after := func(tau float64, mark units.Temperature) known.Band { // tau, result [s]
		if start >= mark {
			return known.Band{}
		}
		x := tau * math.Log(float64(room.Sub(start))/float64(room.Sub(mark)))
		return known.Band{Value: x, Spread: 0.3, Kind: known.LogNormal}
	}
	stage := func(tau float64) humidity.WarmStage {
		return humidity.WarmStage{Dew: after(tau, dew), Hall: after(tau, room.Add(-1))}
	}
	return humidity.Warming{Condenses: start < dew, Face: stage(7200), Core: stage(36000),
		Validity: known.Unpublished}, nil
}

func TestWarming(t *testing.T) {
	hold(t, humiditytest.Warmers())(bale{}, bale{dry: true}, "condenses")
}

// thermometers are a wet and a dry one that are waved; still ones stand about, and
// their reading is told as one of the waved.
type thermometers struct{ still bool }

func (w thermometers) Reading(a humidity.Air) units.Temperature {
	lo, hi := a.DewPoint().Add(-1), a.Temperature()
	for range 100 { // bisection, by what the reading would mean
		mid := (lo + hi) / 2
		b, err := humidity.AirFrom(a.Pressure(), humidity.DryBulb(a.Temperature()), w.Shows(mid))
		if err != nil || b.VapourPressure() < a.VapourPressure() {
			lo = mid
		} else {
			hi = mid
		}
	}
	if w.still { // the air about the wick is damp
		return hi.Add(0.1 * a.Temperature().Sub(hi))
	}
	return hi
}

func (thermometers) Shows(wet units.Temperature) humidity.Given { return humidity.Sling.Shows(wet) }

func TestWick(t *testing.T) {
	hold(t, humiditytest.Wicks())(thermometers{}, thermometers{still: true}, "reads back")
}
