package ioniser

import (
	"math"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Result is what a source did to a web on one pass.
type Result struct {
	Deposited units.SurfaceChargeDensity // added to the face that the source meets
	Left      units.SurfaceChargeDensity // net charge density after the pass
	Regime    ionflow.Regime             // what limited it
	// Validity joins the flags of jet, tip law and saturation law; AboveRange of a field of discharge in the
	// gap, a charge beyond the table or an emission above 1 mA/m; WrongShape of a plume or zone wider than the
	// free span; Estimate where a closure of this package decided: more than half of the time was spent where
	// the breadth over which the field of the ions spreads, the contact length, the reach of an alternating bar or a
	// cross-wind rules, or where the stream alone delivers less by more than a factor of 1.3; or the web drags along
	// so much air, or passes an alternating source so fast, that the model does not hold.
	Validity known.Validity
}

// Act returns what the source does to a web of the net charge density that passes at speed v.
//
// # Equations
//
// With σ the net and I(σ) the characteristic curve at this place, v·dσ/dx = −I(σ)/L along the zone L gives
//
//	T(σ1) − T(σ2) = 1/v,  T(σ) = ∫dσ/I(σ)
//
// in which L drops out: two look-ups in a table of T. I = g·σ gives an exponential, I = I_s a constant I_s/v, I
// = k·σ² 1/σ2 = 1/σ1 + k/v.
//
// # Special cases
//
// v = 0 is unlimited dwell: everything goes, down to the offset or onset. The net is never carried past the
// offset, a web within the dead band of passive points gets nothing, and of two faces only the net counts. A
// net that is not finite and a speed that is NaN, negative or infinite give NaN, [ionflow.Undefined] and
// [known.WrongShape]. No allocation.
func (p *Place) Act(net units.SurfaceChargeDensity, v units.Speed) Result {
	return p.pass(&p.below, &p.above, p.low, p.high, float64(net), v, 1)
}

// undefined is the result of arguments that have none, and of a zero value.
func undefined(flag known.Validity) Result {
	nan := units.SurfaceChargeDensity(math.NaN())
	return Result{Deposited: nan, Left: nan, Regime: ionflow.Undefined, Validity: flag | known.WrongShape}
}

// pass takes a web through the tables below and above the interval low … high, with factor times their currents.
func (p *Place) pass(below, above *passes, low, high, net float64, v units.Speed, factor float64) Result { // factor [1]
	if p.source == nil {
		return undefined(known.Inside)
	}
	if !(v >= 0) || math.IsInf(float64(v), 0) || !(math.Abs(net) <= math.MaxFloat64) {
		return undefined(p.source.flag)
	}
	r := Result{Left: units.SurfaceChargeDensity(net), Validity: p.source.flag}
	var out run
	tau := factor / float64(v)
	if factor == 0 {
		tau = 0
	}
	switch {
	case net > high:
		out = above.pass(net-high, tau)
		r.Deposited, r.Left = units.SurfaceChargeDensity(-out.taken),
			units.SurfaceChargeDensity(max(net-out.taken, high))
	case net < low:
		out = below.pass(low-net, tau)
		r.Deposited, r.Left = units.SurfaceChargeDensity(out.taken), units.SurfaceChargeDensity(min(net+out.taken, low))
	case low < high && net != 0:
		r.Regime = ionflow.BelowOnset
		return r
	default:
		return r
	}
	r.Regime = out.by
	if out.above {
		r.Validity |= known.AboveRange
	}
	if out.soft || float64(v) > p.source.draught || p.source.slow > 0 && float64(v) > p.source.slow {
		r.Validity |= known.Estimate
	}
	return r
}

// side returns the table for a net charge, the edge of the interval of rest, and on which side of it the net lies.
func (p *Place) side(net float64) (t *passes, edge, sign float64) {
	switch {
	case net > p.high:
		return &p.above, p.high, 1
	case net < p.low:
		return &p.below, p.low, -1
	}
	return nil, 0, 0
}

// Residual returns the magnitude of [Result.Left] and its flags.
func (p *Place) Residual(net units.SurfaceChargeDensity, v units.Speed) (units.SurfaceChargeDensity, known.Validity) {
	r := p.Act(net, v)
	return units.SurfaceChargeDensity(math.Abs(float64(r.Left))), r.Validity
}

// Efficiency returns 1 − |left/net| and its flags; NaN for a net of 0.
func (p *Place) Efficiency(net units.SurfaceChargeDensity, v units.Speed) (units.Ratio, known.Validity) {
	r := p.Act(net, v)
	return units.Ratio(1 - math.Abs(float64(r.Left)/float64(net))), r.Validity
}

// Bracket returns the two ends between which a blown bar's residual lies: what the air stream alone leaves of
// the net, and what is left where the charge and the points draw ions beside it, as [Place.Act] has it. In one
// dimension like ions that fast air throws towards the web are trapped where it slows down and must recombine
// with those that the web calls, so that air can make a bar worse; in a real plume they leave sideways. The
// truth lies between; without air the two are one.
func (p *Place) Bracket(net units.SurfaceChargeDensity, v units.Speed) (streamAlone, all Result) {
	all = p.Act(net, v)
	if p.lone == nil {
		return all, all
	}
	return p.pass(&p.lone[0], &p.lone[1], p.loneEnds[0], p.loneEnds[1], float64(net), v, 1), all
}

// Current returns what the source delivers at once to a web of the net charge density, positive where it lowers
// the net, 0 in the interval of rest, NaN for NaN.
func (p *Place) Current(net units.SurfaceChargeDensity) units.LineCurrent {
	if p.source == nil || math.IsNaN(float64(net)) {
		return units.LineCurrent(math.NaN())
	}
	t, edge, sign := p.side(float64(net))
	if t == nil {
		return 0
	}
	return units.LineCurrent(sign * t.current(sign*(float64(net)-edge)))
}

// CurrentBracket is [Place.Bracket] for what the source delivers at once: by the air stream alone, and with what the
// charge and the points draw beside it.
func (p *Place) CurrentBracket(net units.SurfaceChargeDensity) (streamAlone, all units.LineCurrent) {
	all = p.Current(net)
	if p.lone == nil || math.IsNaN(float64(all)) {
		return all, all
	}
	switch x := float64(net); {
	case x > p.loneEnds[1]:
		streamAlone = units.LineCurrent(p.lone[1].current(x - p.loneEnds[1]))
	case x < p.loneEnds[0]:
		streamAlone = units.LineCurrent(-p.lone[0].current(p.loneEnds[0] - x))
	}
	return streamAlone, all
}

// FastestFor returns the greatest speed at which the source leaves at most want of the net: 1/(T(net) −
// T(want)). +Inf where the net is that small already, 0 where no speed does it.
func (p *Place) FastestFor(want, net units.SurfaceChargeDensity) units.Speed {
	a, b := math.Abs(float64(want)), float64(net)
	switch {
	case p.source == nil || !(a >= 0) || math.IsNaN(b):
		return units.Speed(math.NaN())
	case math.Abs(b) <= a:
		return units.Speed(math.Inf(1))
	}
	t, edge, sign := p.side(b)
	end := sign * (math.Copysign(a, b) - edge) // beyond the interval
	if t == nil || !(end > 0) {
		return 0
	}
	return units.Speed(1 / t.time(sign*(b-edge), end))
}

// Offset returns the interval of net charge in which an uncharged or over-treated web can end: the two ends of
// what the imbalance can do. For points it is one value, the charge at which both currents are equal. For a
// stream that turns at the web it reaches from 0 to what air that ended there would leave, ε0·u·(n+ − n−)/(μ+n+
// + μ−n−) of the plume less what its space charge takes. [Place.Act] takes the far end for the stream, and ends
// where it and whatever else acts are in balance. Passive points have a dead band instead, see
// [Place.DeadBand].
func (p *Place) Offset() (low, high units.SurfaceChargeDensity) {
	if p.source == nil {
		return units.SurfaceChargeDensity(math.NaN()), units.SurfaceChargeDensity(math.NaN())
	}
	if p.low < p.high {
		return 0, 0
	}
	return units.SurfaceChargeDensity(p.bounds[0]), units.SurfaceChargeDensity(p.bounds[1])
}

// DeadBand returns the net charges between which the source does nothing: ±σ_on of passive points, twice the
// offset of others.
func (p *Place) DeadBand() (low, high units.SurfaceChargeDensity) {
	if p.source == nil {
		return units.SurfaceChargeDensity(math.NaN()), units.SurfaceChargeDensity(math.NaN())
	}
	return units.SurfaceChargeDensity(p.low), units.SurfaceChargeDensity(p.high)
}

// Source returns the source; nil for the zero value.
func (p *Place) Source() *Source { return p.source }

// Gap returns the gap behind the web for which the place was made.
func (p *Place) Gap() units.Length {
	if p.source == nil {
		return units.Length(math.NaN())
	}
	return p.gap
}

// ActOn lets the source act on a web with two faces: it sees the net and changes the near face only. Charge on
// the far face thus ends as a double layer.
func (p *Place) ActOn(f ionflow.Faces, v units.Speed) (ionflow.Faces, Result) {
	r := p.Act(f.Net(), v)
	if r.Regime == ionflow.Undefined {
		f = ionflow.Faces{Near: r.Left, Far: r.Left}
	}
	f.Near += r.Deposited
	return f, r
}
