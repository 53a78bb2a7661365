package ioniser

import (
	"math"

	"example.org/pithball/units"
)

// turn is the share of the way over which a free jet is turned aside by the web before it.
const turn = 0.15

// turned returns the current in A/m that a stream which turns at the web delivers. Like ions do not reach a web
// that repels them; they leave sideways with the air. In the turn the plasma ages by t = (0.15·d/u)·ln(1 +
// u/(μF)), and of the counter-ions that arrive the web takes the share that drifts on to it along the contact
// length L before the air has carried it past:
//
//	Γs' = Γs/(1 + α·n·t),  I = e·(Γs' + i)·p,  p = μF·L/(u·b + μF·L)
//
// It also returns Γs' and p.
func (c *column) turned(q *carriers, i float64, a *arrival) (current, like, got float64) { // [A/m], [1/(s·m)], [1]
	drift := q.counter * a.field
	if !(drift*c.contact > 0) {
		return 0, a.like, 0
	}
	s := a.like
	if s > 0 && c.ud > 0 {
		n := (s + i) / (c.bd * (c.ud + drift))
		s /= 1 + q.alpha*n*turn*c.d/c.ud*math.Log1p(c.ud/drift)
	}
	got = drift * c.contact / (c.ud*c.bd + drift*c.contact)
	return units.ElementaryCharge * (s + i) * got, s, got
}
