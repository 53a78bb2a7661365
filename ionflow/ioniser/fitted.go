package ioniser

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Fitted is a place at which the source delivers a constant times the current of the model to every web, as readings
// before and behind it told: dirt, tolerances and what the model does not know. The zero value gives NaN.
type Fitted struct {
	place  *Place
	factor float64 // [1]
}

// goodLow and goodHigh are the factors beyond which a fit says that this is not the described source: somewhat more
// than [Accuracy] leaves room for, and a third for dirt. [1]
const goodLow, goodHigh = 1. / 3, 10

// Times returns the place with factor times the currents of the model, 0 or more; else every result is NaN.
func (p *Place) Times(factor float64) Fitted { // [1]
	if p.source == nil {
		factor = math.NaN()
	}
	return Fitted{p, factor}
}

// Fit returns the place with the factor at which the source leaves left of net at speed v,
//
//	k = v·(T(net) − T(left))
//
// which is exact, because a factor on the current is one on T. A left that is as far as net or farther from the
// interval of rest gives 0. Readings have errors: one that is nearer to it than 0.5 % of the way, or beyond, is
// taken there. Errors are [*known.FieldError]s: v not positive or not finite, left or net not finite, net inside the
// interval of rest, where no source does anything to be fitted to.
func (p *Place) Fit(net, left units.SurfaceChargeDensity, v units.Speed) (Fitted, error) {
	if p == nil || p.source == nil {
		return Fitted{}, known.Wrong("place", "zero value", "a place from Source.At")
	}
	if err := known.Positive("speed", v); err != nil {
		return Fitted{}, err
	}
	if err := known.Finite("left", left); err != nil {
		return Fitted{}, err
	}
	if err := known.Finite("net", net); err != nil {
		return Fitted{}, err
	}
	t, edge, sign := p.side(float64(net))
	if t == nil || t.idle || sign*(float64(net)-edge) <= t.onset {
		return Fitted{}, known.Wrong("net", net, "beyond what the source leaves with unlimited dwell")
	}
	z := sign * (float64(net) - edge)
	z2 := max(sign*(float64(left)-edge), 0.005*z, t.onset+0.005*(z-t.onset))
	return Fitted{p, float64(v) * max(t.time(z, min(z2, z)), 0)}, nil
}

// Factor returns the currents of the place over those of the model. [1]
func (f Fitted) Factor() float64 {
	if f.place == nil {
		return math.NaN()
	}
	return f.factor
}

// Place returns the place whose currents were fitted; nil for the zero value.
func (f Fitted) Place() *Place { return f.place }

// Act is [Place.Act] with the factor on every current. A factor above 10 or below a third flags
// [known.AboveRange] or [known.BelowRange]: readings or description are not of this source.
func (f Fitted) Act(net units.SurfaceChargeDensity, v units.Speed) Result {
	p := f.place
	if p == nil || p.source == nil || !(f.factor >= 0 && f.factor <= math.MaxFloat64) {
		return undefined(known.Inside)
	}
	r := p.pass(&p.below, &p.above, p.low, p.high, float64(net), v, f.factor)
	switch {
	case f.factor > goodHigh:
		r.Validity |= known.AboveRange
	case f.factor < goodLow:
		r.Validity |= known.BelowRange
	}
	return r
}
