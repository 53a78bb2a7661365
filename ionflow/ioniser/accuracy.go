package ioniser

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Ends of the accuracy of a source: before a wide earthed plane at the one end, before a bar of 20 mm at the other;
// those without air hold up to the distance nearby, and fall from there on.
const (
	leastBlown, leastStill = 0.7, 0.65
	mostFar, mostNear      = 3.0, 8.5
	nearby                 = 0.03 // [m]
)

// windy is the speed of the air at the web from which on a source counts as blown. [m/s]
const windy = 1

// Accuracy returns what is known, before any reading, of the factor between the currents of the real source and those
// of the model, the factor of [Place.Times]: 90 % within 0.7 … 3 where air blows the ions to the web, and, where it
// does not, within 0.65 … 8.5 up to 30 mm; from there the ends fall as d^−¼ and as 1/d, the upper one down to 3. The
// two-dimensional reference of the package documentation lies within, case by case (a test holds it to that), and the
// constant of the saturation law (±40 %) as well; no measurement is known. The model is near the cautious end, because
// a bar that is narrow against the gap behind the web collects the field lines of more web than lies before it. One
// reading before a source and one behind it replace the band by a number: [Place.Fit].
func (s *Source) Accuracy() known.Band { // [1]
	if s.spec.Distance == 0 {
		return known.Band{Value: math.NaN(), Spread: math.NaN(), Kind: known.LogNormal}
	}
	x := min(nearby/float64(s.spec.Distance), 1)
	low, high := leastStill*math.Sqrt(math.Sqrt(x)), max(mostFar, mostNear*x)
	if a := s.spec.Air.Stream; a != nil && float64(a.MeanSpeed(s.spec.Distance)) >= windy {
		low, high = leastBlown, mostFar
	}
	return known.Band{Value: math.Sqrt(low * high), Spread: math.Log(high/low) / (2 * known.Z95),
		Kind: known.LogNormal}
}

// Band returns the two ends of [Source.Accuracy] for a pass: what is left if the source delivers least of what the
// model may stand for, and if it delivers most. Its emission bounds both: no factor makes a source bring more ions
// than its points emit. The flags are those of [Place.Act], NaN as there.
func (p *Place) Band(net units.SurfaceChargeDensity, v units.Speed) (most, least Result) {
	if p.source == nil {
		return undefined(known.Inside), undefined(known.Inside)
	}
	low, high := p.source.Accuracy().Limits()
	return p.upTo(low, net, v), p.upTo(high, net, v)
}

// upTo is a pass with factor times the currents, no more than what the points emit.
func (p *Place) upTo(factor float64, net units.SurfaceChargeDensity, v units.Speed) Result { // factor [1]
	r := p.pass(&p.below, &p.above, p.low, p.high, float64(net), v, factor)
	bound := p.source.supply(float64(net) > p.high) / float64(v)
	if d := float64(r.Deposited); math.Abs(d) > bound {
		r.Deposited = units.SurfaceChargeDensity(math.Copysign(bound, d))
		r.Left = net + r.Deposited
	}
	return r
}

// supply returns what the points emit of the ions that a web calls: negative ones for one above the interval of rest.
func (s *Source) supply(above bool) float64 { // [A/m]
	if s.spec.passive() {
		return float64(s.spec.Points.Most)
	}
	plus, minus := s.spec.Emitter.Currents()
	if above {
		return float64(minus)
	}
	return float64(plus)
}
