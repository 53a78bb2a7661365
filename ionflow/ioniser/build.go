package ioniser

import (
	"math"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// returnSpeed returns w of the mouth of a bar, from which G·a/(w + a) leaves at the speed a.
func (a *BlownAir) returnSpeed() float64 { // [m/s]
	return float64(a.At) * (1 - a.Captured) / a.Captured
}

// stream makes the channel of the blown plume.
func (s *Source) stream(c *column, plus, minus float64) channel {
	a, i := &s.spec.Air, s.spec.Ions
	w := a.returnSpeed()
	loss := float64(s.lossRate(c))
	gp, gm := plus/units.ElementaryCharge, minus/units.ElementaryCharge
	estimated := a.Contact == 0
	positive := carriers{counter: float64(i.Minus), like: float64(i.Plus), alpha: loss} // for a positive web
	negative := carriers{counter: float64(i.Plus), like: float64(i.Minus), alpha: loss}
	ch := channel{kind: streamChannel, aboveTop: minus, belowTop: plus}
	mp, mm := mouth{counter: gm, like: gp, back: w}, mouth{counter: gp, like: gm, back: w}
	if s.only >= 0 {
		ch.above = c.blow(make([]point, 0, curveNodes), &mp, &positive, 1, a.Through, estimated)
	}
	if s.only <= 0 {
		ch.below = c.blow(make([]point, 0, curveNodes), &mm, &negative, -1, a.Through, estimated)
	}
	// The state without a current, if the air ended at the web: an upper bound where it turns. Of one polarity
	// alone it is the field against which the air still carries ions to the web.
	switch v := float64(s.spec.Offset); {
	case v != 0:
		ch.low = point{field: v / c.d, voltage: v}
	case plus == 0:
		ch.low = point{field: -c.ud / positive.counter, voltage: -c.ud / positive.counter * c.d}
	case minus == 0:
		ch.low = point{field: c.ud / negative.counter, voltage: c.ud / negative.counter * c.d}
	case plus != minus:
		at := c.march(&mp, &positive, 0)
		ch.low = point{field: at.field, voltage: at.voltage}
	}
	ch.high = ch.low
	if plus > 0 && minus > 0 && s.spec.Emitter.Spec().Switch > 0 {
		s.swing = c.swingOfStream(max(positive.counter, positive.like), c.march(&mp, &positive, 0).like)
	}
	if a.Through {
		ch.lowOrigin, ch.highOrigin = ch.low, ch.high
	}
	if aside := float64(s.spec.Wind) * c.age(); aside > c.contact/4 {
		soften(ch.above)
		soften(ch.below)
	}
	return ch
}

func soften(points []point) {
	for k := range points {
		points[k].soft = true
	}
}

// age returns the time of the air from the mouth to the web.
func (c *column) age() float64 { // [s]
	t := 0.0
	for k := range c.dx {
		t += c.dx[k] / c.uMid[k]
	}
	return t
}

// lossRate returns what takes pairs of ions on the way. An alternating source sends bunches of length u/(2f).
// Longer than the plume is broad they do not mix and do not recombine, but repel themselves: n <= ε0/(μet) of a
// bunch of twice the mean density, which has the form of recombination with 2eμ/ε0, so that
//
//	α' = m·α + (1 − m)·2eμ/ε0,  m = 1/(1 + (u/(2·f·b))²)
//
// with u and b at the web. The two ends are derived, m between them is an estimate.
func (s *Source) lossRate(c *column) units.RecombinationCoefficient {
	i := s.spec.Ions
	return alternating(i, s.spec.Emitter.Spec().Switch, c.ud, c.bd)
}

func alternating(i ionflow.Ions, f units.Frequency, u, b float64) units.RecombinationCoefficient {
	if f == 0 {
		return i.Alpha
	}
	r := u / (2 * float64(f) * b)
	m := 1 / (1 + r*r)
	mu := (float64(i.Plus) + float64(i.Minus)) / 2
	return units.RecombinationCoefficient(m*float64(i.Alpha) + (1-m)*2*units.ElementaryCharge*mu/units.Epsilon0)
}

// still makes the channel of the same bar without air.
func (s *Source) still(c *column, plus, minus float64) channel {
	i, w := s.spec.Ions, s.spec.Air.returnSpeed()
	gp, gm := mouth{counter: plus / units.ElementaryCharge, back: w},
		mouth{counter: minus / units.ElementaryCharge, back: w}
	ch := channel{kind: stillChannel, aboveTop: minus, belowTop: plus}
	v := float64(s.spec.Offset)
	ch.low = point{field: v / c.d, voltage: v}
	ch.high = ch.low
	if s.only >= 0 {
		ch.above = draw(make([]point, 0, curveNodes), &gm, float64(i.Minus), c.d, c.wide[panels-1], 1)
	}
	if s.only <= 0 {
		ch.below = draw(make([]point, 0, curveNodes), &gp, float64(i.Plus), c.d, c.wide[panels-1], -1)
	}
	return ch
}

// row makes the points of the source; soft says that an estimate shapes them: reach, or the shielding of neighbours.
func (s *Source) row(plus, minus float64) (r *row, soft bool) {
	p := &s.spec
	d := float64(p.Distance)
	up, um := float64(p.Ions.Plus), float64(p.Ions.Minus)
	r = &row{d: d, body: float64(p.Points.Body), wind: float64(p.Wind), slower: min(up, um)}
	pitch := float64(p.Points.Pitch)
	if p.passive() {
		r.n, r.share[0] = 1, 1
		r.start, r.body, soft = p.startOfPassive()
		r.plus, r.minus = saturation(up, d, pitch), saturation(um, d, pitch)
		r.most, r.least = float64(p.Points.Most), float64(p.Points.Most)
		return r, soft
	}
	e := p.Emitter.Spec()
	r.start, r.voltage = float64(p.Points.Start), float64(e.Voltage)
	v := r.voltage
	if reach := float64(s.Reach()); d > reach {
		v *= (reach / d) * (reach / d)
		soft = true
	}
	if e.Kind == ionflow.AC {
		r.n = levels
		for k := range levels {
			r.share[k], r.at[k] = 1./levels, v*math.Sin((float64(k)+0.5)*2*math.Pi/levels)
		}
	} else {
		r.n = 2
		r.share[0], r.share[1] = 0.5, 0.5
		r.at[0], r.at[1] = v, -v
	}
	k := saturation(r.slower, d, pitch)
	balance := e.Balance
	if p.Offset != 0 {
		balance = r.balanceAt(float64(p.Offset))
	}
	r.plus, r.minus = k*(1+balance), k*(1-balance)
	r.most, r.least = plus, minus
	return r, soft
}

// balanceAt returns the balance at which no net current flows at the potential phi: with P what the positive
// and N what the negative ions would carry at equal K, (1+β)·P = (1−β)·N.
func (r *row) balanceAt(phi float64) float64 { // [1]
	q := *r
	q.plus, q.minus, q.most, q.least = 1, 0, math.Inf(1), math.Inf(1)
	p := -q.current(phi)
	q.plus, q.minus = 0, 1
	n := q.current(phi)
	if p+n == 0 {
		return 0 // no point emits at this potential
	}
	return (n - p) / (n + p)
}

// channel makes the channel of the points.
func (r *row) channel(soft bool) channel {
	lo, hi := r.rest()
	at := func(phi float64) point { return point{field: r.field(phi), voltage: phi} }
	ch := channel{kind: pointChannel, low: at(lo), high: at(hi), aboveTop: r.least, belowTop: r.most}
	ch.lowOrigin, ch.highOrigin = ch.low, ch.high
	ch.above = r.pull(make([]point, 0, curvePoints), hi, 1, soft)
	ch.below = r.pull(make([]point, 0, curvePoints), lo, -1, soft)
	return ch
}

// Reach returns the distance to which the alternating field of the points carries ions in half a period,
// √(μV/(2f)) for the slower ion. Beyond it the model lets the field of the points fall with the square of the
// distance, an estimate. +Inf for a direct source and without points.
func (s *Source) Reach() units.Length {
	e := s.spec.Emitter.Spec()
	if e.Switch == 0 {
		return units.Length(math.Inf(1))
	}
	mu := min(s.spec.Ions.Plus, s.spec.Ions.Minus)
	return units.Length(math.Sqrt(float64(mu) * float64(e.Voltage) / (2 * float64(e.Switch))))
}

// startOfPassive returns V_s, the potential of the web at which passive points start, and the distance of the earthed
// plane that the web feels before they do. One point feels the potential where it stands, d before the web and D − d
// before its body at D, and starts at its own voltage V_on there:
//
//	V_s = V_on·D/(D − d)
//
// Points in a row shield each other. At a pitch p well below d they are an earthed fin to the web, near whose edge
// the potential is φ·(2/π)·√(2r/d), so that half a pitch before the points it is φ·(2/π)·√(p/d), and a tip
// starts there:
//
//	V_s = V_on(p/2)·(π/2)·√(d/p)
//
// The fin itself is the nearest earth of the web, as a plane at 3·d would be (2.2 to 4.7 in the two-dimensional field
// of .ci/long/ioniser2d/onset2d.py, which has the edge within 20 %); it fades between pitches of d and 2·d. Of the
// two rules the one that starts at the greater field of the web holds, so that the onset never rises as the body
// recedes.
func (s *Spec) startOfPassive() (start, body float64, shielded bool) { // [V], [m]
	d, p, at := float64(s.Distance), float64(s.Points.Pitch), float64(s.Points.Body)
	on := func(x float64) float64 {
		if s.Points.Tip == 0 {
			return float64(s.Points.Start)
		}
		v, _ := ionflow.OnsetVoltage(s.Points.Law, s.Points.Tip, units.Length(x), s.Points.Delta)
		return float64(v)
	}
	near := d
	if p < 2*d && p/2 > 2*float64(s.Points.Tip) {
		near = p / 2
	}
	one, row := float64(s.Points.Start), on(near)*math.Pi/2*math.Sqrt(d/p)
	if one == 0 {
		one = on(d)
	} else {
		row *= one / on(d) // a start that was measured at the distance
	}
	one *= at / (at - d)
	shade := min(max(2-p/d, 0), 1) // none from a pitch of twice the distance on
	if fin := 1 / (1/at + shade*(1/min(at, 3*d)-1/at)); row/fin > one/at {
		return row, fin, true
	}
	return one, at, false
}
