package plants

import (
	"math"

	"example.org/pithball/decay"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// Drifting invents a plant whose charges drift and turn with the rollers, read
// with heavy-tailed noise by somebody who swaps rows.
func Drifting(k Kind, seed uint64) *Case { return sound(k, seed, drifting) }

func drifting(k Kind, seed uint64) *Case {
	d := roll(2, seed)
	p := lay(
		d,
		k,
		habits{
			thin:     12e-6,
			thick:    150e-6,
			contacts: [2]int{5, 9},
			places:   0.8,
			wrong:    2,
			strong:   [2]float64{6, 30},
			weak:     0.5,
			past:     0,
			covered:  0.1,
		},
	)
	if k == Strong {
		p.desc.Meters[0].FullScale = units.DisplayVoltage(10e3)
	}
	w := &driftingWorld{path: p, d: d}
	w.make()
	plan := p.walkRound(d, k, 0.75)
	isolated := -1
	if k == Isolated {
		isolated = p.isolate(d, plan)
	}
	c := &Case{
		Kind:        k,
		Description: p.desc,
		Survey:      &survey.Survey{},
		Truth: Truth{
			Main:   p.main,
			After:  p.after,
			Alone:  p.alone(plan, isolated),
			Hidden: p.hiddenSize(),
			Bars:   p.bars(),
		},
	}
	gain := [2]float64{math.Exp(0.06 * w.heavy()), math.Exp(0.04 * w.heavy())}
	zero := [2]float64{d.between(-70, 70), d.between(-4, 4)}
	place := map[int]float64{}
	air := d.between(0.2e-6, 2.5e-6) // of air carried under the web
	film := (1 + 0.06*d.NormFloat64()) * (p.film + air) / p.film
	roller := d.sign() * math.Exp(d.between(4, 6.5))
	for i, s := range plan {
		w.now = float64(i)
		a, b := w.at(s, true)
		var v float64
		if s.volt {
			face := a
			if s.face == 1 {
				face = b
			}
			v = (face*micro*p.film/epsilon0*film*gain[1])*(1+0.04*w.heavy()) + zero[1] + 0.5*w.heavy()
			if s.isolate {
				v += roller * (1 + 0.1*w.heavy())
			}
		} else {
			if _, ok := place[s.station]; !ok {
				place[s.station] = math.Exp(0.06 * w.heavy())
			}
			e := (a + b) * micro / epsilon0 * p.seen(s.station, 0.025*math.Exp(0.1*d.NormFloat64())) * place[s.station]
			v = e*0.025*gain[0]*(1+0.04*w.heavy()) + zero[0] + 15*w.heavy()
		}
		c.Survey.Readings = append(c.Survey.Readings, p.row(s, v))
	}
	c.Truth.Wrong = blunders(d, k, c.Survey.Readings, 0.012, float64(p.desc.Meters[0].FullScale))
	if k != NoGross && d.chance(0.35) {
		// Two rows that stand far apart on the sheet change places.
		rows := c.Survey.Readings
		i, j := d.IntN(len(rows)), d.IntN(len(rows))
		if rows[i].Quantity == rows[j].Quantity && rows[i].Station != rows[j].Station && !rows[i].AtLeast &&
			!rows[j].AtLeast {
			rows[i].Value, rows[j].Value = rows[j].Value, rows[i].Value
			c.Truth.Wrong = append(c.Truth.Wrong, i, j)
		}
	}
	c.Survey.Readings = append(c.Survey.Readings, p.earths(d, isolated, 0.7)...)
	c.Truth.Change, c.Truth.State = w.truth()
	return c
}

// driftingWorld is the physics of [Drifting].
type driftingWorld struct {
	*path
	d              dice
	now            float64 // row of the sheet: time
	drift, turn    []float64
	phase, power   []float64
	wet            []float64 // factor on the second day
	supply, spoilt []float64 // what a bar can deliver and what it leaves [µC/m²]
	eta            []float64
	stripe         [2][]float64
	tau            []float64 // leak of net charge to the next station [s], +Inf
}

// heavy is a Student variable of 4 degrees of freedom, scaled to a variance of 1.
func (w *driftingWorld) heavy() float64 {
	var s float64
	for range 4 {
		x := w.d.NormFloat64()
		s += x * x
	}
	return w.d.NormFloat64() / math.Sqrt(s/4) / math.Sqrt2
}

func (w *driftingWorld) make() {
	n := len(w.desc.Stations)
	list := func(f func() float64) []float64 {
		out := make([]float64, n)
		for i := range out {
			out[i] = f()
		}
		return out
	}
	w.drift = list(func() float64 { return 0.15 * w.d.NormFloat64() / 60 })
	w.turn = list(func() float64 { return w.d.between(0, 0.3) })
	w.phase = list(func() float64 { return w.d.between(0, 2*math.Pi) })
	common := w.d.between(0.1, 0.9)
	w.power = list(func() float64 { return common + w.d.between(-0.25, 0.25) })
	w.wet = list(func() float64 { return w.d.between(0.55, 1.25) })
	w.supply = list(func() float64 { return w.d.between(3, 20) })
	w.spoilt = list(func() float64 { return w.d.between(-0.3, 0.3) })
	w.eta = list(func() float64 { return w.d.between(0.1, 0.95) })
	w.tau = list(func() float64 { return math.Inf(1) })
	for f := range w.stripe {
		for range lanes {
			w.stripe[f] = append(w.stripe[f], math.Exp(0.15*w.d.NormFloat64()))
		}
	}
	if w.d.chance(0.3) {
		// One span leaks over an earthed edge, half or twice as fast as described.
		i := 1 + w.d.IntN(n-2)
		tau := w.d.between(0.3, 2)
		w.tau[i] = tau
		w.desc.Stations[i].Leak = &line.LeakSpec{
			Path: decay.EarthedEdge,
			Time: units.Time(tau * math.Pow(2, w.d.between(-0.7, 0.7))),
		}
	}
}

// at is the charge of the faces at one spot.
func (w *driftingWorld) at(s spot, mottled bool) (a, b float64) {
	off := w.desc.Stations[s.station].Off
	var q [2]float64
	for i := 0; i <= s.station; i++ {
		q = w.pass(i, q, s, off, mottled)
	}
	if mottled {
		both := math.Exp(0.12 * w.d.NormFloat64())
		lane := min(int(s.cross*lanes), lanes-1)
		for f := range q {
			q[f] *= both * math.Exp(0.1*w.d.NormFloat64()) * w.stripe[f][lane]
		}
	}
	return q[0], q[1]
}

func (w *driftingWorld) pass(i int, q [2]float64, s spot, off []string, moving bool) [2]float64 {
	if i > 0 && !math.IsInf(w.tau[i-1], 1) {
		dwell := float64(w.desc.Stations[i].At-w.desc.Stations[i-1].At) / (s.speed * float64(w.desc.Speed))
		loss := (q[0] + q[1]) * (1 - math.Exp(-dwell/w.tau[i-1])) / 2
		q[0] -= loss
		q[1] -= loss
	}
	if i > 0 && i-1 == w.after {
		for f := range 2 {
			q[f] += w.hidden[f]
		}
	}
	st := &w.desc.Stations[i]
	for _, f := range w.faces(i) {
		g := w.want[i][f] * math.Pow(s.speed, w.power[i])
		if s.day > 0 {
			g *= w.wet[i]
		}
		if moving {
			g *= (1 + w.drift[i]*w.now) * (1 + w.turn[i]*math.Sin(w.phase[i]+2.4*w.now))
		}
		q[f] += g
	}
	if st.Kind == line.Ioniser && !(len(off) > 0 && off[0] == st.Name) {
		// Ions come until the supply is spent; what stays is an offset of the balance.
		take := -(q[0] + q[1]) * w.eta[i]
		most := w.supply[i] / s.speed
		q[int(st.Ioniser.Face-line.FaceA)] += max(min(take, most), -most) + w.spoilt[i]
	}
	faces := w.faces(i)
	if net := q[0] + q[1]; math.Abs(net) > 22 && len(faces) > 0 {
		for _, f := range faces {
			q[f] -= (net - math.Copysign(22, net)) / float64(len(faces))
		}
	}
	return q
}

func (w *driftingWorld) truth() (change, state [][2]float64) {
	var q [2]float64
	for i := range w.desc.Stations {
		before := q
		if i > 0 && !math.IsInf(w.tau[i-1], 1) {
			dwell := float64(w.desc.Stations[i].At-w.desc.Stations[i-1].At) / float64(w.desc.Speed)
			loss := (q[0] + q[1]) * (1 - math.Exp(-dwell/w.tau[i-1])) / 2
			before[0] -= loss
			before[1] -= loss
		}
		q = w.pass(i, q, spot{speed: 1}, nil, false)
		c := [2]float64{q[0] - before[0], q[1] - before[1]}
		if i > 0 && i-1 == w.after {
			c[0] -= w.hidden[0]
			c[1] -= w.hidden[1]
		}
		change = append(change, c)
		a, b := w.at(spot{station: i, speed: 1}, false)
		state = append(state, [2]float64{a, b})
	}
	return change, state
}
