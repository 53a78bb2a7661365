package humidity

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units/known"
)

// Chained is the law RH → moisture → value from an isotherm and a
// [MoisturePower] that were measured on different samples. See [Chain].
type Chained[Q Value] struct {
	iso      Isotherm
	at       func(Regain) (v Q, decades float64)
	lo, hi   Regain
	mismatch float64
}

// Chain joins an isotherm, which gives regain, to a moisture law in either
// measure; a law in [MoistureContent] gets its regain converted. Isotherm and
// law from different sources do not fit each other: the handbook sets for
// textile fibres disagree at 65 %RH by 0.4 decades for cotton, 0.9 for viscose and
// 3.1 for acetate, because regain and moisture content are mixed in them. The
// mismatch (standard deviation in decades, 0 … 4) is therefore an argument of its
// own; it may be 0 only if both were measured on the same sample.
func Chain[Q Value, M Moisture](law MoisturePower[Q, M], iso Isotherm, mismatch float64) (Chained[Q],
	error) { // mismatch [1]
	err := known.InRange("mismatch", mismatch, 0, 4)
	if iso == nil {
		err = errors.Join(err, known.Wrong("iso", "", "an isotherm"))
	}
	if !law.made {
		err = errors.Join(err, known.Wrong("law", "the zero MoisturePower",
			"a law made by NewMoisturePower or FitMoisturePower"))
	}
	if err != nil {
		return Chained[Q]{}, err
	}
	c := Chained[Q]{iso: iso, mismatch: mismatch,
		lo: regainOf(M(numeric.Pow(10, law.lo))), hi: regainOf(M(numeric.Pow(10, law.hi)))}
	c.at = func(r Regain) (Q, float64) {
		m := measureOf[M](r)
		return law.At(m), law.DecadesAt(m)
	}
	return c, nil
}

func regainOf[M Moisture](m M) Regain {
	if c, ok := any(m).(MoistureContent); ok {
		return c.Regain()
	}
	return Regain(m)
}

func measureOf[M Moisture](r Regain) M {
	var z M
	if _, ok := any(z).(MoistureContent); ok {
		return M(r.Content())
	}
	return M(r)
}

// Value returns the value at the regain that the isotherm gives in the air.
func (c Chained[Q]) Value(a Air) Q {
	if c.iso == nil {
		return Q(math.NaN())
	}
	v, _ := c.at(c.iso.Regain(a.RelativeHumidity(), a.t))
	return v
}

// Decades returns the spread of the moisture law with the mismatch, root of the
// sum of squares.
func (c Chained[Q]) Decades(a Air) float64 { // [1]
	if c.iso == nil {
		return math.NaN()
	}
	_, d := c.at(c.iso.Regain(a.RelativeHumidity(), a.t))
	return math.Hypot(d, c.mismatch)
}

// Validity flags air in which the isotherm or the moisture law leaves its range.
func (c Chained[Q]) Validity(a Air) known.Validity {
	if c.iso == nil {
		return known.WrongShape
	}
	rh := a.RelativeHumidity()
	return c.iso.Validity(rh, a.t) | rangeOf(float64(c.iso.Regain(rh, a.t)), float64(c.lo)*(1-1e-12),
		float64(c.hi)*(1+1e-12))
}
