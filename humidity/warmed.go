package humidity

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Warmed carries a law in humidity to other temperatures by an activation energy
// that was measured at constant relative humidity. It is immutable; the zero value
// gives NaN.
type Warmed[Q Value] struct {
	law Law[Q]
	by  Arrhenius[Q]
	t0  units.Temperature
}

// NewWarmed returns law(RH)·by(T)/by(t0), t0 being the temperature at which law
// was measured. An Arrhenius law measured at constant moisture is refused: at
// constant humidity the moisture changes with temperature too.
func NewWarmed[Q Value](law Law[Q], by Arrhenius[Q], t0 units.Temperature) (Warmed[Q], error) {
	var err error
	if law == nil {
		err = known.Wrong("law", "", "a law in humidity")
	}
	if !by.made || by.held != HeldHumidity {
		err = errors.Join(err, known.Wrong("by", "a law at constant moisture",
			"an Arrhenius law measured at constant relative humidity"))
	}
	if !(t0 >= lowestT && t0 <= highestT) {
		err = errors.Join(err, known.Wrong("t0", t0, "−100 … 200 °C"))
	}
	if err != nil {
		return Warmed[Q]{}, err
	}
	return Warmed[Q]{law, by, t0}, nil
}

// Value returns the value in the air.
func (w Warmed[Q]) Value(a Air) Q {
	if w.law == nil {
		return Q(math.NaN())
	}
	k, _ := w.by.ratio(a.t, w.t0)
	return Q(float64(w.law.Value(a)) * numeric.Pow(10, k))
}

// Decades returns the spread of the law and that of the activation energy over
// the step from t0 in 1/T, in quadrature.
func (w Warmed[Q]) Decades(a Air) float64 { // [1]
	if w.law == nil {
		return math.NaN()
	}
	_, d := w.by.ratio(a.t, w.t0)
	return math.Hypot(w.law.Decades(a), d)
}

// Validity joins the flags of both.
func (w Warmed[Q]) Validity(a Air) known.Validity {
	if w.law == nil {
		return known.WrongShape
	}
	return w.law.Validity(a) | w.by.Validity(a)
}
