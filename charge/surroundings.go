package charge

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Surroundings says how the saturation of a contact moves with the humidity in
// which the faces were conditioned and with temperature: parameters with a spread,
// never a law, because the evidence goes both ways. Fit them on the line from two
// conditions ([FitHumidity]).
type Surroundings struct {
	Humidity    known.Band // [1] change of ln|σ∞| with relative humidity, from 0 to 1
	Temperature known.Band // [1/K] change of ln|σ∞| with temperature
}

// PriorSurroundings returns what is known before any measurement. Humidity: −6 … +3
// in ln for 0 to 100 %RH (5 … 95 %), a factor of 0.55 … 1.35 for 10 % more. 80 peels
// of silicone rubber from acrylic between 6 and 94 %RH moved by −0.8 ± 0.5 (Y. I.
// Sobolev et al., Nat. Phys. 2022, fitted here); shaken polymer spheres charge
// strongly up to 30 %RH and hardly above 80 (A. Schella et al., arXiv 1609.04639),
// conveyed glass beads not above 76 (S. Nieh and T. Nguyen 1988); but two nonionic
// insulators charge faster and more with humidity, beyond 40 %RH too (I. Jimidar et
// al., APS March Meeting 2023, abstract B07.5). Temperature: ±3 % a kelvin; a
// published slope of charge against force depends on it without a law (Kleyman et
// al. 2018), nothing else was found.
//
// It is the making of charge. What leaks afterwards falls far faster with humidity
// and is another matter (package decay).
func PriorSurroundings() Surroundings {
	return Surroundings{Humidity: known.Band{Value: -1.5, Spread: 5, Kind: known.Uniform},
		Temperature: known.Band{Value: 0, Spread: 0.033, Kind: known.Uniform}}
}

// Check returns the errors of the bands.
func (s *Surroundings) Check() error {
	return errors.Join(s.Humidity.Check("humidity"), s.Temperature.Check("temperature"))
}

// Factor returns the factor on the saturation between two surroundings at the
// standard normal scores zh of the humidity and zt of the temperature, exp of the
// sum of both changes, cut to 1e-6 … 1e6. A change of more than 30 %RH or 20 K
// is flagged, and every result rests on no published law.
// zh, zt [1] → [1]
func (s *Surroundings) Factor(from, to units.RelativeHumidity, dt units.TemperatureDifference, zh,
	zt float64) (float64, known.Validity) {
	dh := float64(to) - float64(from)
	v := known.Unpublished
	if dh > 0.3 || float64(dt) > 20 {
		v |= known.AboveRange
	}
	if dh < -0.3 || float64(dt) < -20 {
		v |= known.BelowRange
	}
	if !whole(from) || !whole(to) {
		return math.NaN(), known.WrongShape
	}
	e := s.Humidity.At(zh)*dh + s.Temperature.At(zt)*float64(dt)
	return numeric.Exp(min(max(e, -13.8), 13.8)), v
}

// whole reports whether h is 0 … 100 %RH.
func whole(h units.RelativeHumidity) bool { return float64(h) >= 0 && float64(h) <= 1 }

// FitHumidity returns the change of ln|σ∞| with humidity from two saturations of one
// contact that were found at two humidities and one temperature,
// ln(S_b/S_a)/(h_b − h_a), with its standard deviation. It fails for saturations of
// opposite sign: a sign that turns is no slope ([Reversals]).
func FitHumidity(a, b known.Band, ha, hb units.RelativeHumidity) (known.Band, error) { // a, b [C/m²] → [1]
	if err := errors.Join(a.Check("a"), b.Check("b"), known.InRange("a.humidity", ha, 0, 1),
		known.InRange("b.humidity", hb, 0, 1)); err != nil {
		return known.Band{}, err
	}
	if !(a.Value*b.Value > 0) {
		return known.Band{}, known.Wrong("b", units.SurfaceChargeDensity(b.Value), "the sign of a, and neither 0")
	}
	dh := float64(hb) - float64(ha)
	if !(math.Abs(dh) >= 0.02) {
		return known.Band{}, known.Wrong("b.humidity", hb, "at least 2 %RH from a")
	}
	rel := func(x known.Band) float64 {
		if x.Kind == known.LogNormal {
			return x.Spread
		}
		return deviation(x) / math.Abs(x.Value)
	}
	return known.Band{Value: math.Log(b.Value/a.Value) / dh, Spread: math.Hypot(rel(a), rel(b)) / math.Abs(dh),
		Kind: known.Normal}, nil
}

// Elsewhere returns what a change that was measured at one speed and humidity may be
// at another, before any step test: the median and the limits of 5 and 95 %, from
// the prior exponent of the kind of contact, the prior of humidity and the scatter
// of repeats (the standard deviation of their logarithm, 0.4 for the slow peel of
// silicone rubber, a factor of 1.5). The three are independent, so that their
// distances from the median add as squares, in logarithms. It rests on no law and
// is the reason for a step test, not its substitute. NaN for speeds that are 0 or
// humidities outside 0 … 1.
func (m Mode) Elsewhere( // scatter [1]
	change units.SurfaceChargeDensity, from, to units.Speed, fromRH, toRH units.RelativeHumidity,
	scatter float64) (low, median, high units.SurfaceChargeDensity) { // scatter [1]
	r := math.Log(math.Abs(float64(to) / float64(from)))
	if !whole(fromRH) || !whole(toRH) || math.IsInf(r, 0) || !(scatter >= 0) {
		r = math.NaN()
	}
	dh := float64(toRH) - float64(fromRH)
	mid, down, up := 0.0, -known.Z95*scatter, known.Z95*scatter
	for _, b := range []struct {
		band known.Band
		by   float64
	}{{m.Prior().SpeedExponent, r}, {PriorSurroundings().Humidity, dh}} {
		lo, hi := b.band.Limits()
		c, d := lo*b.by, hi*b.by
		at := b.band.Value * b.by
		mid += at
		down = -math.Hypot(down, at-min(c, d))
		up = math.Hypot(up, max(c, d)-at)
	}
	q := float64(change)
	a, z := q*numeric.Exp(mid+down), q*numeric.Exp(mid+up)
	return units.SurfaceChargeDensity(min(a, z)), units.SurfaceChargeDensity(q * numeric.Exp(mid)),
		units.SurfaceChargeDensity(max(a, z))
}

// PieceCharge returns the charge of a square piece after one contact, from that of
// another size of the same pair, q = q0·(side/side0)^e: the limits of 5 and 95 % and
// the median. Like on like e = 1.24 (1.05 … 1.43): the charge grows more like the
// side than like the area, so that a density of the whole face means nothing there.
// Unlike materials e = 2.4 (2.0 … 2.8): with the area or a little more. Source: M. M.
// Apodaca et al., Angew. Chem. Int. Ed. 49 (2010) 946 (silicone rubber of 1.9 to
// 10 mm; fitted here to the digitised points 1.22 ± 0.11 on itself, 2.38 ± 0.11 on
// PVC, 2.6 ± 0.4 on steel). Outside 1.85 to 10.1 mm flagged; NaN for sides that are
// not above 0.
func PieceCharge(q0 units.Charge, side0, side units.Length, like bool) (low, median, high units.Charge,
	v known.Validity) {
	if !(side0 > 0) || !(side > 0) {
		nan := units.Charge(math.NaN())
		return nan, nan, nan, known.WrongShape
	}
	e := known.Band{Value: 2.4, Spread: 0.24, Kind: known.Normal}
	if like {
		e = known.Band{Value: 1.24, Spread: 0.115, Kind: known.Normal}
	}
	for _, s := range []units.Length{side0, side} {
		if s < 1.85*units.Millimetre {
			v |= known.BelowRange
		}
		if s > 10.1*units.Millimetre {
			v |= known.AboveRange
		}
	}
	r := math.Log(float64(side) / float64(side0))
	lo, hi := e.Limits()
	a, b := float64(q0)*numeric.Exp(lo*r), float64(q0)*numeric.Exp(hi*r)
	return units.Charge(min(a, b)), units.Charge(float64(q0) * numeric.Exp(e.Value*r)), units.Charge(max(a, b)), v
}
