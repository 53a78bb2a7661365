package ioniser

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

// levels is the most potentials that a row of points is reckoned with: phases of a sine.
const levels = 16

// row is a row of points near a web and the law by which their own field and that of the web draw ions.
// Potentials count as the web's: φ is that of the web, x = φ − V of a point is positive where it draws negative
// ions to the web.
type row struct {
	share, at    [levels]float64 // [1], [V] parts of the time or of the points, and their potentials
	n            int             // levels in use
	start        float64         // [V] V_s, between point and web, below which a point is silent
	plus, minus  float64         // [A/(m·V²)] K of the ions of each polarity
	most, least  float64         // [A/m] emission of positive and of negative ions
	d, body      float64         // [m] distances of the points and of the nearest earthed plane on their side
	wind, slower float64         // [m/s], [m²/(V·s)] air across the gap, mobility of the slower ion
	voltage      float64         // [V] amplitude of the points
}

// saturation returns K of the current K·|x|·(|x| − V_s) of a row of points per metre: the saturation current
// 2·ε0·μ·V²/d of a point to a plane over the pitch, or, where the points stand so close that they act as a
// line, nine eighths of ε0·μ·V²/d³ over a zone of 1.2·d.
func saturation(mu, d, pitch float64) float64 { // [A/(m·V²)]
	return units.Epsilon0 * mu * min(2/(d*pitch), 1.35/(d*d))
}

// current returns the line current at the web's potential φ, positive where it takes positive charge from the web:
//
//	g(x) = sign(x)·|x|·max(|x| − V_s, 0),  y = Σ s_p·(K−·max(g(φ−V_p), 0) − K+·max(−g(φ−V_p), 0))
//	I = y·I'/(|y| + I')
//
// The cap I' is the emission of the polarity that wins. It stands on the net current: on each polarity alone it would
// make more voltage worse.
func (r *row) current(phi float64) float64 { // [A/m]
	y := 0.0
	for p := range r.n {
		x := phi - r.at[p]
		a := math.Abs(x) - r.start
		if a <= 0 {
			continue
		}
		k := r.plus
		if x > 0 {
			k = r.minus
		}
		y += float64(r.share[p] * k * x * a) // rounded by itself: equal currents cancel on every processor
	}
	if y == 0 {
		return 0
	}
	top := r.least
	if y < 0 {
		top = r.most
	}
	if top == 0 {
		return 0
	}
	return y / (1 + math.Abs(y)/top) * r.calm(phi)
}

// calm is the share of the current that air across the gap leaves: ions drift aside by c·d/(μE) on their way,
// against half of the zone 1.2·d. An estimate.
func (r *row) calm(phi float64) float64 { // [1]
	if r.wind == 0 {
		return 1
	}
	e := (math.Abs(phi) + r.voltage) / r.d
	s := 2 * r.wind / (ownZone * r.slower * e)
	return 1 / (1 + s*s)
}

// ownZone is the length of web under a row of points over their distance: the current of a point to a plane falls to
// half at 30° off the axis (E. Warburg, Wied. Ann. 67 (1899) 69, cos^4.65), 2·tan(30.5°) = 1.18.
const ownZone = 1.2

// field returns the field at the web of potential φ, φ·(1/D + sp·(1.5/d − 1/D)), with sp the share of full
// space charge, 0 before the start and 1 in full emission, where the field of a space-charge-limited current at
// the web is 1.5 times the mean.
func (r *row) field(phi float64) float64 { // [V/m]
	g := 0.0 // sp·φ
	for p := range r.n {
		x := phi - r.at[p]
		if a := math.Abs(x) - r.start; a > 0 {
			g += r.share[p] * math.Copysign(a, x)
		}
	}
	if phi < 0 {
		g = min(max(g, phi), 0)
	} else {
		g = max(min(g, phi), 0)
	}
	return phi/r.body + g*(1.5/r.d-1/r.body)
}

// rest returns the ends of the interval of potentials at which no current flows: equal but for passive points.
func (r *row) rest() (lo, hi float64) { // [V]
	top := 2 * (r.voltage + r.start)
	if top == 0 {
		return 0, 0
	}
	// Highest φ with current <= 0 and lowest with current >= 0. The current never falls with φ.
	edge := func(keep func(y float64) bool) float64 {
		lo, hi := -top, top
		if !keep(r.current(lo)) || keep(r.current(hi)) {
			if keep(r.current(hi)) {
				return hi
			}
			return lo
		}
		lo, hi = numeric.Edge(func(phi float64) bool { return keep(r.current(phi)) }, lo, hi, 0, top*0x1p-99)
		return (lo + hi) / 2
	}
	lo = edge(func(y float64) bool { return y < 0 })
	hi = edge(func(y float64) bool { return y <= 0 })
	if math.Abs(lo) < 1e-9*top {
		lo = 0
	}
	if math.Abs(hi) < 1e-9*top {
		hi = 0
	}
	return lo, hi
}
