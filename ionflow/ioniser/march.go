package ioniser

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

// panels is the number of steps of a march from the mouth to the web. Against the coupled problem 32 are good to 3 % in
// nine of ten draws: see the error map of the package documentation.
const panels = 32

// carriers are the ions of a march: those that the charge calls (counter) and the others (like).
type carriers struct {
	counter, like float64 // [m²/(V·s)] mobilities
	alpha         float64 // [m³/s] loss of pairs in the stream
}

// column is the way of the air from the mouth to the web, on panels that are finest at the mouth
// (nodes d·(k/panels)²), with all that does not depend on the current. Even panels are up to 4 % off them in
// the draws of the error map (TestFiguresOfPanels).
type column struct {
	u0, b0     float64         // [m/s], [m] speed and breadth at the mouth
	ud, bd     float64         // [m/s], [m] at the web
	dx         [panels]float64 // [m]
	uEnd, uMid [panels]float64 // [m/s] at the far node and in the middle of a panel
	bMid       [panels]float64 // [m] breadth of the plume
	wide       [panels]float64 // [m] breadth over which the field of its charge spreads
	d          float64         // [m] distance from mouth to web
	contact    float64         // [m] length of web that the stream touches
}

// newColumn samples the stream. The field of the space charge spreads over the breadth of the plume or over
// spread, whichever is more.
func newColumn(s Stream, d, contact, spread float64) column {
	c := column{d: d, contact: contact}
	c.u0, c.b0 = float64(s.MeanSpeed(0)), float64(s.Breadth(0))
	c.ud, c.bd = float64(s.MeanSpeed(units.Length(d))), float64(s.Breadth(units.Length(d)))
	from := 0.0
	for k := range panels {
		q := float64(k+1) / panels
		to := d * q * q
		mid := units.Length((from + to) / 2)
		c.dx[k] = to - from
		c.uEnd[k], c.uMid[k] = float64(s.MeanSpeed(units.Length(to))), float64(s.MeanSpeed(mid))
		c.bMid[k] = float64(s.Breadth(mid))
		c.wide[k] = max(c.bMid[k], spread)
		from = to
	}
	return c
}

// mouth is what leaves the source: ions of both polarities per metre and second, and the return
// speed with which the bar's own earthed parts take them back.
type mouth struct {
	counter, like float64 // [1/(s·m)]
	back          float64 // [m/s]
}

// enter returns the field at the mouth with which the net column current i (in 1/(s·m), counter less
// like) leaves it, and the like ions that leave with it. What leaves is G·a/(w + a) with a = u0 ± μF,
// 0 where a is negative, so that the field is the root in [−u0/μc, u0/μs] of
//
//	(Gc−i−Gs)·μc·μs·F² + a1·F + p·(i·p − (Gc−Gs)·u0) = 0,  p = w + u0
//	a1 = i·p·(μc−μs) − Gc·(μc·p − μs·u0) − Gs·(μs·p − μc·u0)
//
// or, beyond what the counter-ions alone can bring against like ions that are held back, the field that
// pulls i out of Gc. i must be below Gc.
func (c *column) enter(m *mouth, q *carriers, i float64) (f, like float64) {
	u, w := c.u0, m.back
	if top := u * (1 + q.counter/q.like); i*(w+top) < m.counter*top {
		p := w + u
		a2 := (m.counter - i - m.like) * q.counter * q.like
		a0 := p * (i*p - (m.counter-m.like)*u)
		a1 := i*p*(q.counter-q.like) - m.counter*(q.counter*p-q.like*u) - m.like*(q.like*p-q.counter*u)
		// Neither root loses digits to cancellation.
		half := -0.5 * (a1 + math.Copysign(math.Sqrt(max(a1*a1-4*a2*a0, 0)), a1))
		lo, hi := -u/q.counter, u/q.like
		f = a0 / half
		if !(f >= lo && f <= hi) {
			f = a2
			if f != 0 {
				f = half / a2
			}
		}
		f = min(max(f, lo), hi)
		a := u + q.counter*f
		return f, max(m.counter*a/(w+a)-i, 0)
	}
	r := i / m.counter
	return max((w*r/(1-r)-u)/q.counter, u/q.like), 0
}

// arrival is the end of a march.
type arrival struct {
	field   float64 // [V/m] at the web, pulling counter-ions to it
	first   float64 // [V/m] at the mouth
	voltage float64 // [V] across the gap
	like    float64 // [1/(s·m)] like ions that reach the web's distance
}

// march integrates
//
//	dΓc/dx = dΓs/dx = −α·n·m·b,  dF/dx = (e/ε0)·(n − m)·b/B
//	Γc = b·n·(u + μc·F),  Γs = b·m·(u − μs·F),  Γc − Γs = i
//
// from the mouth to the web: while there are like ions by one implicit step a panel, which holds in
// dense plasma, in thin and where like ions pile up at F = u/μs; from there on in closed form.
func (c *column) march(m *mouth, q *carriers, i float64) arrival {
	f, s := c.enter(m, q, i)
	a := arrival{first: f}
	poisson := units.ElementaryCharge / units.Epsilon0
	for k := range panels {
		dx, g := c.dx[k], c.dx[k]*poisson/c.wide[k]
		if s > 1e-3*i {
			if next, rest, ok := c.step(k, q, i, f, s, g); ok {
				a.voltage += (f + next) / 2 * dx
				f, s = next, rest
				continue
			}
		}
		s = 0
		// W² = (F + u/μ)² grows by 2·I/(ε0·B·μ) per metre.
		um := c.uMid[k] / q.counter
		w := f + um
		w2 := math.Sqrt(w*w + 2*g*i/q.counter)
		a.voltage += 2./3*dx*(w2*w2+w2*w+w*w)/(w2+w) - um*dx
		f = w2 - um
	}
	a.field, a.like = f, s
	return a
}

// step is one implicit step of the march with both polarities: with rr = α(S+i)Δx/b, vc = u+μc·F and vs = u−μs·F
//
//	F' − F = g·[ i/vc + S·(vs − vc)/(vc·vs + rr) ],  S' = S·vc·vs/(vc·vs + rr)
//
// The right side falls from +∞ at −u/μc to i/vc − S·vc/rr at u/μs: at most one root below u/μs, and
// none says that the like ions do not get through.
func (c *column) step(k int, q *carriers, i, f, s, g float64) (next, rest float64, ok bool) {
	u := c.uEnd[k]
	rr := q.alpha * (s + i) * c.dx[k] / c.bMid[k]
	lo, hi := -u/q.counter, u/q.like
	top := u + q.counter*hi
	if !(hi > lo) || !(hi-f-g*(i/top-s*top/rr) > 0) {
		return 0, 0, false
	}
	mu := q.counter + q.like
	x, err := numeric.Newton(func(x float64) (h, slope float64) {
		vc, vs := u+q.counter*x, u-q.like*x
		den := vc*vs + rr
		plasma := s / den
		// d(vc·vs)/dF
		dden := q.counter*vs - q.like*vc
		return x - f - g*(i/vc-plasma*mu*x), 1 + g*(i*q.counter/(vc*vc)+plasma*mu*(1-x*dden/den))
	}, min(max(f, lo+1e-3*(hi-lo)), hi-1e-3*(hi-lo)), lo, hi, 1e-9, 1e-9*u/q.counter)
	if err != nil {
		return 0, 0, false
	}
	vc, vs := u+q.counter*x, u-q.like*x
	return x, max(s*vc*vs/(vc*vs+rr), 0), true
}
