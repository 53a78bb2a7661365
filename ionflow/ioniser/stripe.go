package ioniser

import (
	"math"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// Stripe returns the amplitude, that of the first harmonic, of the stripes of pitch v/f that an alternating source
// leaves on a web of speed v: both polarities arrive in turn. Within the zone L the net current density swings with j =
// k·I'/L, I' the mean of what one polarity alone brings to an uncharged web in its half of the period, and what lies
// there relaxes with L/g, g the slope of the curve ([ionflow.Stripe]). I' of points is their own-field law; of a
// stream, a bunch of twice the mean density whose own field, e·n·b/ε0, drives it on to the web. k is 4/π of bunches
// and pulses, that of a square wave, and up to 2 of points at a sine, which work near its peaks only. 0 for a direct
// source. The zone is taken with sharp ends, which makes the stripes of a slow web too strong: an upper estimate.
func (p *Place) Stripe(v units.Speed) units.SurfaceChargeDensity {
	s := p.source
	if s == nil {
		return units.SurfaceChargeDensity(math.NaN())
	}
	f := s.spec.Emitter.Spec().Switch
	if f == 0 {
		return 0
	}
	tau := math.Inf(1)
	if t := &p.above; !t.idle && t.onset == 0 {
		tau = s.zone * tableAt[t.first] / t.i[t.first] // m / (A/m / (C/m²))
	}
	return ionflow.Stripe(units.CurrentDensity(s.swing/s.zone), f, p.Zone(), v, units.Time(tau))
}

// square is the first harmonic of a square wave over its level.
const square = 4 / math.Pi

// swingOfPoints returns the first harmonic of the current on to an uncharged web, positive ions in one half of the
// period.
func (r *row) swingOfPoints() float64 { // [A/m]
	q := *r
	if q.n == 2 {
		q.n, q.share[0] = 1, 1
		return square * math.Abs(q.current(0))
	}
	// The other half of the sine is as the first. Its harmonic is 2·Σ y·sin over Σ y.
	sum, first := 0.0, 0.0
	for p := range q.n {
		v := math.Abs(q.at[p])
		q.at[p] = v
		y := v * max(v-q.start, 0)
		sum += y
		first += 2 * y * math.Abs(math.Sin((float64(p)+0.5)*2*math.Pi/levels))
	}
	if sum == 0 {
		return 0
	}
	return first / sum * math.Abs(q.current(0))
}

// swingOfStream returns the first harmonic of the current of bunches of either polarity on to an uncharged web, from
// the line flux of each polarity at the web.
func (c *column) swingOfStream(mu, flux float64) float64 { // mu [m²/(V·s)], flux [1/(s·m)]; [A/m]
	field := units.ElementaryCharge / units.Epsilon0 * flux / c.ud // e·n·b/ε0
	drift := mu * field * c.contact
	return square * 2 * units.ElementaryCharge * flux * drift / (c.ud*c.bd + drift)
}
