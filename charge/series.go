package charge

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// seriesUnit is the entry of PTFE, the usual unit of the series.
const seriesUnit = 113e-6 // [C/m²]

// PairStrength is how strongly two materials charge each other, in relative
// units: it has an order, a sign and a size relative to other pairs, and it is
// no charge density. [PairStrength.Calibrated] makes one of it, with a band.
type PairStrength struct {
	Relative float64 // [1] positive: the first material becomes positive
	Spread   float64 // [1] standard deviation within the source
}

// SeriesPair returns the strength of a pair as the difference of its entries in
// the triboelectric series, in units of the entry of PTFE (113 µC/m²): positive
// when a becomes positive against b. Only differences mean anything: nylon is
// negative against mercury and still the most positive partner of most
// polymers. Additives dominate chemistry (two grades of acetal stand 128 µC/m²
// apart), and contamination and history spread results by a factor of 3 or more
// even in the laboratory.
func SeriesPair(a, b SeriesEntry) PairStrength {
	return PairStrength{Relative: float64(a.Density-b.Density) / seriesUnit,
		Spread: math.Hypot(float64(a.Spread), float64(b.Spread)) / seriesUnit}
}

// ContactPotential returns the contact potential difference of two materials of
// one author's set, (φ_b − φ_a)/e, in volts with its standard deviation:
// positive when a becomes positive (the body of the lower work function gives
// electrons away). Entries of different sets are refused: the sets differ by
// more than 1 eV for one polymer. Real rollers are not clean metal: oxide and
// dirt move the work function by tenths of an electronvolt.
func ContactPotential(a, b WorkFunction) (known.Band, error) { // [V]
	if a.Set != b.Set || a.Set == "" {
		return known.Band{}, known.Wrong("b.set", b.Set, "the set of a, "+
			a.Set+": work functions of different authors are not combined")
	}
	return known.Band{Value: b.Phi.Value - a.Phi.Value, Spread: math.Hypot(deviation(a.Phi), deviation(b.Phi)),
		Kind: known.Normal}, nil
}

// deviation is the standard deviation of a normal, uniform or exact band.
func deviation(b known.Band) float64 {
	if b.Kind == known.Uniform {
		return b.Spread / math.Sqrt(3)
	}
	return b.Spread
}

// PotentialPair returns the strength of a pair in units of one volt of contact
// potential, for [PairStrength.Calibrated].
func PotentialPair(contact known.Band) PairStrength { // contact [V]
	return PairStrength{Relative: contact.Value, Spread: deviation(contact)}
}

// Calibrated returns the saturation of the pair on the user's line in C/m²:
//
//	σ∞ = Relative·scale,
//
// with scale the charge density that stands for a relative strength of 1 there,
// from [CalibrateSeries] on one pair that was measured, or a guess with its
// spread. A scale without spread is refused: a series gives no charge density
// by itself. The spreads of pair and scale combine as independent ones. The
// result is what contact tends to; what air leaves is capped ([Parting]).
func (p PairStrength) Calibrated(scale known.Band) (known.Band, error) { // scale [C/m²] → [C/m²]
	if err := scale.Check("scale"); err != nil {
		return known.Band{}, err
	}
	if !(scale.Spread > 0) {
		return known.Band{}, known.Wrong("scale.spread", scale.Spread, "above 0: the spread of the calibration")
	}
	if err := known.Finite("relative", p.Relative); err != nil {
		return known.Band{}, err
	}
	v := p.Relative * scale.Value
	if scale.Kind == known.LogNormal && p.Relative != 0 {
		return known.Band{Value: v, Spread: math.Hypot(scale.Spread, p.Spread/p.Relative), Kind: known.LogNormal}, nil
	}
	ds := deviation(scale)
	if scale.Kind == known.LogNormal {
		ds = math.Abs(scale.Value) * scale.Spread
	}
	return known.Band{Value: v, Spread: math.Hypot(p.Relative*ds, scale.Value*p.Spread), Kind: known.Normal}, nil
}

// CalibrateSeries returns the scale of [PairStrength.Calibrated] from the
// saturation of one pair that was measured on the line ([FitSaturation]). The
// relative spreads of both combine. It fails for a pair whose strength is not
// twice its spread: such a pair cannot carry a scale.
func CalibrateSeries(p PairStrength, measured known.Band) (known.Band, error) { // measured [C/m²] → [C/m²]
	if err := measured.Check("measured"); err != nil {
		return known.Band{}, err
	}
	if !(math.Abs(p.Relative) > 2*p.Spread) {
		return known.Band{}, known.Wrong("relative", p.Relative, "more than twice its spread")
	}
	v := measured.Value / p.Relative
	rel := deviation(measured) / math.Abs(measured.Value)
	if measured.Kind == known.LogNormal {
		rel = measured.Spread
	}
	if measured.Value == 0 {
		return known.Band{}, known.Wrong("measured", units.SurfaceChargeDensity(measured.Value), "not 0")
	}
	return known.Band{Value: v, Spread: math.Hypot(rel, p.Spread/p.Relative), Kind: known.LogNormal}, nil
}
