package ioniser

import (
	"math"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// A plume at three times its core has s = 4: a half of the speed and four times the breadth from a slot, a fourth and
// 16 times from a row of holes. Its column has nodes at d·(k/32)².
func TestColumnByHand(t *testing.T) {
	slot := Plume{Speed: 8, Width: 2e-3, Core: 0.1}
	row := slot
	row.Row = true
	c := newColumn(slot, 0.3, 0.7, 3e-3)
	mid := func(x Plume, at float64) float64 { return float64(x.Breadth(units.Length(at))) }
	still := newColumn(flat(5, 1e-3), 0.3, 0.7, 0.2)
	sum := 0.0
	for _, dx := range c.dx {
		sum += dx
	}
	for _, l := range []struct {
		what      string
		got, want float64
	}{
		{"speed", float64(slot.MeanSpeed(0.3)), 4}, {"breadth", float64(slot.Breadth(0.3)), 8e-3},
		{"speed of a row", float64(row.MeanSpeed(0.3)), 2}, {"breadth of a row", float64(row.Breadth(0.3)), 32e-3},
		{"at the mouth", float64(row.MeanSpeed(0)), 8}, {"uniform", float64(flat(5, 1e-3).MeanSpeed(9)), 5},
		{"u0", c.u0, 8}, {"b0", c.b0, 2e-3}, {"ud", c.ud, 4}, {"bd", c.bd, 8e-3}, {"d", c.d, 0.3}, {"L", c.contact, 0.7},
		{"way", sum, 0.3}, {"first panel", c.dx[0], 0.3 / 1024}, {"last panel", c.dx[31], 0.3 * 63 / 1024},
		{"speed after half of the panels", c.uEnd[15], 8 / math.Sqrt(1.75)}, // x = 0.3/4
		{"speed at the web", c.uEnd[31], 4}, {"middle of the first", c.uMid[0], 8 / math.Sqrt(1+3./2048)},
		{"breadth there", c.bMid[0], 2e-3 * (1 + 3./2048)},
		{"middle of the last", c.bMid[31], mid(slot, 0.3*(1-63./2048))},
		{"field spreads", c.wide[0], 3e-3}, {"over the plume", c.wide[31], c.bMid[31]}, {"of no jet", still.wide[31], 0.2},
		{"age of still air", still.age(), 0.06},
	} {
		near(t, l.what, l.got, l.want, 1e-12)
	}
	near(t, "age", c.age(), 2./3*0.1/8*(8-1), 1e-3) // ∫√s dx/U
	a := BlownAir{At: 100, Captured: 0.2}
	near(t, "return speed", a.returnSpeed(), 400, 1e-12)
}

// One implicit step meets its two equations, put together anew, and refuses where like ions do not get through.
func TestStepMeetsItsEquations(t *testing.T) {
	const u, b, d = 12.0, 4e-3, 0.2
	c := newColumn(flat(u, b), d, 0.3, 0.05)
	for _, q := range []carriers{{1.4e-4, 1.7e-4, 1.6e-12}, {1.9e-4, 1.2e-4, 4e-12}, {1.5e-4, 1.5e-4, 0}} {
		for _, k := range []int{3, 20, 31} {
			for _, f := range []float64{-3e4, 0, 2e4, 5e4} {
				for _, i := range []float64{1e9, 3e11, 2e13} {
					for _, s := range []float64{1e10, 4e12, 6e13} {
						g := c.dx[k] * elementary / eps0 / c.wide[k]
						next, rest, ok := c.step(k, &q, i, f, s, g)
						if !ok {
							continue
						}
						vc, vs := u+q.counter*next, u-q.like*next
						rr := q.alpha * (s + i) * c.dx[k] / b
						by := g * (i/vc + s*(vs-vc)/(vc*vs+rr))
						if !(math.Abs(next-f-by) <= 1e-7*(math.Abs(next)+math.Abs(f)+u/q.counter)) {
							t.Errorf("%+v: F' %g, F %g, right side %g", q, next, f, by)
						}
						near(t, "like ions", rest, s*vc*vs/(vc*vs+rr), 1e-9)
						if !(vs > 0 && vc > 0) {
							t.Errorf("F' %g beyond u/μ", next)
						}
					}
				}
			}
		}
	}
	// So much current that the like ions would have to swim against u/μs.
	if _, _, ok := c.step(31, &carriers{1.4e-4, 1.7e-4, 1.6e-12}, 1e16, 7e4, 1e12, 1e-9); ok {
		t.Error("like ions against the field")
	}
	// The voltage of a uniform field is F·d.
	thin := mouth{1e15, 1e15, 1e6}
	q := carriers{1.4e-4, 1.4e-4, 1.6e-12}
	a := newColumn(flat(10, 1), 0.1, 0, 0)
	r := a.march(&thin, &q, 2*1e9*q.counter*1e4)
	near(t, "voltage", r.voltage, 1e4*0.1, 1e-3)
	// Counter-ions alone: V + d·u/μ = ⅔·d·(W2³ − W1³)/(W2² − W1²).
	alone := newColumn(flat(20, 0.01), 0.05, 0.06, 0.06)
	one := mouth{2e15, 0, 50}
	r = alone.march(&one, &carriers{1.5e-4, 1.5e-4, 1.6e-12}, 0.4*one.counter)
	um := 20 / 1.5e-4
	w1, w2 := r.first+um, r.field+um
	near(t, "voltage of counter-ions", r.voltage+0.05*um, 2./3*0.05*(w2*w2*w2-w1*w1*w1)/(w2*w2-w1*w1), 1e-9)
}

// The turn by hand: drift 5 m/s along 50 mm against air of 10 m/s in a plume 10 mm broad takes 0.25/0.35; the plasma
// ages by (0.15·d/u)·ln 3.
func TestTurnByHand(t *testing.T) {
	q := carriers{1e-4, 1.7e-4, 2e-12}
	c := newColumn(flat(10, 0.01), 0.1, 0.05, 0.05)
	a := arrival{field: 5e4, like: 3e11}
	i, like, got := c.turned(&q, 1e11, &a)
	n := 4e11 / (0.01 * 15)
	s := 3e11 / (1 + 2e-12*n*0.15*0.1/10*math.Log(3))
	near(t, "share", got, 0.25/0.35, 1e-12)
	near(t, "like ions", like, s, 1e-12)
	near(t, "current", i, elementary*(s+1e11)*0.25/0.35, 1e-12)
	// Bunches: field e·3e11/(ε0·10) of them, drift μ times that along the contact length; 4/π of their current.
	drift := 1e-4 * elementary / eps0 * 3e11 / 10 * 0.05
	near(t, "bunches", c.swingOfStream(1e-4, 3e11), 4/math.Pi*2*elementary*3e11*drift/(10*0.01+drift), 1e-12)
}

// A blown curve, node by node: the shares of the emission, what the turn or a screen takes of them, and the regime:
// conduction where the web takes less than half of what could be drawn, supply from half of the emission on.
func TestBlowByHand(t *testing.T) {
	q := carriers{1.4e-4, 1.7e-4, 1.6e-12}
	for _, through := range []bool{false, true} {
		for _, like := range []float64{0, 2e15} {
			for _, sign := range []float64{1, -1} {
				c := newColumn(flat(20, 2e-3), 0.1, 0.05, 0.1)
				m := mouth{2e15, like, 60}
				points := c.blow(nil, &m, &q, sign, through, true)
				if len(points) != curveNodes {
					t.Fatal(len(points))
				}
				seen := map[ionflow.Regime]bool{}
				for k, p := range points {
					i := shares[k] * m.counter
					a := c.march(&m, &q, i)
					near(t, "field", p.field, sign*a.field, 0)
					near(t, "voltage", p.voltage, sign*a.voltage, 0)
					near(t, "peak", p.peak, max(math.Abs(a.field), math.Abs(a.first)), 0)
					drift := q.counter * a.field
					got, carried, current := min(drift/20, 1), a.like, elementary*i
					if !through {
						current, carried, _ = c.turned(&q, i, &a)
						got = max(drift, 0) * 0.05 / (20*2e-3 + max(drift, 0)*0.05)
					}
					near(t, "current", p.current, current, 1e-12)
					regime := ionflow.DriftLimited
					switch {
					case got < 0.5 && carried > i/1000:
						regime = ionflow.ConductivityLimited
					case carried > i || shares[k] > 0.5:
						regime = ionflow.SupplyLimited
					case got < 0.5:
						regime = ionflow.ConductivityLimited
					}
					if soft := !through && regime != ionflow.SupplyLimited; p.regime != regime || p.soft != soft {
						t.Errorf("through %v, like %g, node %d: %v, %v; want %v, %v", through, like, k, p.regime, p.soft, regime, soft)
					}
					seen[p.regime] = true
				}
				if len(seen) < 2 {
					t.Errorf("only %v", seen)
				}
			}
		}
	}
	// Through a screen at 0.5 m/s ions with a drift of more than that all arrive: supply at half of the emission.
	slow := newColumn(flat(0.5, 2e-3), 0.1, 0.05, 0.1)
	for k, p := range slow.blow(nil, &mouth{2e15, 2e15, 60}, &q, 1, true, false) {
		a := slow.march(&mouth{2e15, 2e15, 60}, &q, shares[k]*2e15)
		i := shares[k] * 2e15
		conduct := q.counter*a.field < 0.25 && (a.like > 1e-3*i || a.like <= i && shares[k] <= 0.5)
		if conduct != (p.regime == ionflow.ConductivityLimited) {
			t.Errorf("slow air, node %d: %v at a drift of %v m/s", k, p.regime, q.counter*a.field)
		}
	}
	c := newColumn(flat(20, 2e-3), 0.1, 0.05, 0.1)
	if c.blow(nil, &mouth{0, 1e15, 60}, &q, 1, false, true) != nil || draw(nil, &mouth{0, 1e15, 60}, 1e-4, 0.1, 0.1,
		1) != nil {
		t.Error("a curve without counter-ions")
	}
	if p := c.blow(nil, &mouth{2e15, 2e15, 60}, &q, 1, false, false)[0]; p.soft ||
		p.regime != ionflow.ConductivityLimited {
		t.Errorf("a measured contact length: %+v", p)
	}
	// Drawn ions: W2² − W1² = 2·I·d/(ε0·B·μ) from W1 = w·r/(1 − r)/μ at the mouth, V = ⅔·d·(W2³ − W1³)/(W2² − W1²).
	for _, sign := range []float64{1, -1} {
		for k, p := range draw(nil, &mouth{2e15, 1e15, 60}, 1.6e-4, 0.05, 0.06, sign) {
			if k == curveLow {
				continue // 0.9 once more
			}
			r, less := shareAt(k)
			i := elementary * r * 2e15
			w1 := 60 * r / less / 1.6e-4
			w2 := math.Sqrt(w1*w1 + 2*i*0.05/(eps0*0.06*1.6e-4))
			near(t, "drawn", p.current, i, 1e-12)
			near(t, "its field", p.field, sign*w2, 1e-12)
			if r < 0.99 { // beyond, this form loses its digits
				near(t, "its voltage", p.voltage, sign*2./3*0.05*(w2*w2*w2-w1*w1*w1)/(w2*w2-w1*w1), 1e-6)
			}
			want := ionflow.DriftLimited
			if r > 0.5 {
				want = ionflow.SupplyLimited
			}
			if p.regime != want || !p.soft || p.peak != math.Abs(p.field) {
				t.Errorf("node %d: %+v", k, p)
			}
		}
	}
	// Shares: 1e-9, then even in the logarithm to 0.9 in 37 steps, then 1 − 0.1·1e-7^(k/9).
	for k, want := range map[int]float64{0: 1e-9, 37: 0.9, 38: 0.9, 47: 1 - 1e-8} {
		r, less := shareAt(k)
		near(t, "share", r, want, 1e-12)
		near(t, "rest", less, 1-want, 1e-6)
	}
}

// Zones, breadths and bounds of a bar at 0.1 m whose jet of 1 mm has slowed over 6.3 mm: s = 1 + 100/6.3, b = s mm.
func TestSourceByHand(t *testing.T) {
	build := func(change func(*Spec)) *Source {
		s := blownSpec(t, 0.1, 100)
		change(&s)
		src, err := New(s)
		if err != nil {
			t.Fatal(err)
		}
		return src
	}
	s := 1 + 100/6.3
	b, u := s*1e-3, 100/math.Sqrt(s)
	layer := func(x float64) float64 { return 1.01 * math.Pow(x, 0.8) * math.Pow(1.51e-5, 0.2) }
	plain := build(func(*Spec) {})
	short := build(func(s *Spec) { s.Span = 0.3 })
	told := build(func(s *Spec) { s.Air.Contact = 0.08 })
	beside := build(func(s *Spec) {
		s.Air.Contact, s.Points = 0.08, Points{Pitch: 0.01, Start: 3500}
		s.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.Pulsed, Current: 3e-4, Voltage: 7000, Switch: 2})
	})
	points, err := New(pointSpec(t, 0.05))
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range []struct {
		what      string
		got, want float64
	}{
		{"zone", plain.zone, b + 0.4}, {"no more than the span", short.zone, 0.3}, {"as told", told.zone, 0.08},
		{"points beside", beside.zone, 0.12}, {"points", points.zone, 0.06},
		{"slow", beside.slow, 0.24}, {"layer", plain.layer(), layer(0.5)}, {"layer of a span", short.layer(), layer(0.15)},
		// v²δ/36 of the layer is a tenth of the momentum of the jet
		{"draught", math.Pow(plain.draught, 1.8) * layer(0.5) / 36, 0.1 * u * u * b},
		{"draught of a span", math.Pow(short.draught, 1.8) * layer(0.15) / 36, 0.1 * u * u * b},
		// v·δ/8 of the layer is 0.3 of what drifts across half of the zone, 0.6·d·μ·V/d
		{"draught of points", math.Pow(points.draught, 0.8) * layer(0.5) / 8, 0.3 * 0.6 * 1.4e-4 * 7000},
	} {
		near(t, l.what, l.got, l.want, 1e-9)
	}
	// Drawn ions spread over the breadth and 0.82 of the distance.
	w := 100 * 0.7 / 0.3
	for k, p := range draw(nil, &mouth{3e-4 / elementary, 0, w}, 1.6e-4, 0.1, b+0.082, 1) {
		near(t, "drawn to a positive web", plain.channels[1].above[k].field, p.field, 1e-12)
	}
	for k, p := range draw(nil, &mouth{3e-4 / elementary, 0, w}, 1.4e-4, 0.1, b+0.082, -1) {
		near(t, "drawn to a negative web", plain.channels[1].below[k].field, p.field, 1e-12)
	}
	// One polarity alone: against u/μ no more of its ions arrive. With metal at 0.2 m σ = ε0·(u/μ)·(1 + d/h).
	for _, c := range []struct{ balance, want float64 }{{1, eps0 * u / 1.4e-4 * 1.5}, {-1, -eps0 * u / 1.6e-4 * 1.5}} {
		src := build(func(s *Spec) {
			s.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 3e-4, Balance: c.balance})
		})
		p, err := src.At(0.2)
		if err != nil {
			t.Fatal(err)
		}
		lo, hi := p.Offset()
		near(t, "one polarity", float64(lo+hi), c.want, 1e-9)
		if lo != 0 && hi != 0 {
			t.Errorf("offset %v … %v", lo, hi)
		}
	}
	// By the plate: 30 V over 0.1 m and 30 V over 0.2 m of metal behind.
	p, err := build(func(s *Spec) { s.Offset = 30 }).At(0.2)
	if err != nil {
		t.Fatal(err)
	}
	lo, hi := p.Offset()
	near(t, "by the plate", float64(hi), eps0*(300+150), 1e-9)
	if lo != 0 || p.Gap() != 0.2 || p.Source() == nil {
		t.Errorf("near end %v, gap %v", lo, p.Gap())
	}
	for k, ch := range p.source.channels {
		near(t, "field of the offset", ch.low.field, 300, 1e-12)
		near(t, "its voltage", ch.high.voltage, 30, 1e-12)
		if k > 1 {
			t.Error("a bar of which the points are not described has two channels")
		}
	}
	// Points that one polarity alone would offset leave a charged web to the stream: its ions are of both.
	one := build(func(s *Spec) {
		s.Offset, s.Points = 3500, Points{Pitch: 0.01, Start: 3500}
		s.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 3e-4, Voltage: 7000})
	})
	if p, err = one.At(0.2); err != nil {
		t.Fatal(err)
	}
	if r := p.Act(9e-6, 1); !(r.Deposited < 0) {
		t.Errorf("a strongly positive web: %+v", r)
	}
	for _, c := range []struct {
		what   string
		change func(*Spec)
		net    float64
		want   known.Validity
	}{
		{"emission", func(s *Spec) {
			s.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 0.99e-3})
		}, 1e-6, known.Inside},
		{"more", func(s *Spec) {
			s.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 1.01e-3})
		}, 1e-6, known.AboveRange},
		{"more of one", func(s *Spec) {
			s.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 0.9e-3, Balance: -0.2})
		}, 1e-6, known.AboveRange},
		{"a plume as broad as the span", func(s *Spec) { s.Span = units.Length(b * 0.99) }, 1e-6, known.WrongShape},
		{"a broader span", func(s *Spec) { s.Span = units.Length(b * 1.01) }, 1e-6, known.Inside},
		{"a contact as long as the span", func(s *Spec) { s.Span, s.Air.Contact = 0.3, 0.3 }, 1e-6, known.Inside},
		{"a longer one", func(s *Spec) { s.Span, s.Air.Contact = 0.3, 0.31 }, 1e-6, known.WrongShape},
		{"points in a span", func(s *Spec) { *s = pointSpec(t, 0.05); s.Span = 0.061 }, 1e-6, known.Unpublished},
		{"in a shorter one", func(s *Spec) { *s = pointSpec(t, 0.05); s.Span = 0.059 }, 1e-6,
			known.Unpublished | known.WrongShape},
	} {
		if got := build(c.change).flag; got != c.want {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
		}
	}
	// Air across the gap shifts the plume by wind·age: an estimate from a fourth of the contact length on.
	age := 2. / 3 * 6.3e-3 / 100 * (math.Pow(s, 1.5) - 1)
	for share, soft := range map[float64]bool{0.24: false, 0.26: true} {
		src := build(func(s *Spec) { s.Air.Contact, s.Wind = 0.08, units.Speed(share*0.08/age) })
		if got := src.channels[0].above[0].soft; got != soft || src.channels[0].below[0].soft != soft {
			t.Errorf("shifted by %v of the contact length: %v", share, got)
		}
	}
	// Stripes: 0 without a switch, else those of the swing in the zone with the slope of the curve.
	if p, err = beside.At(0.3); err != nil {
		t.Fatal(err)
	}
	tau := beside.zone / (float64(p.Current(1e-12)) / 1e-12)
	near(t, "stripes", float64(p.Stripe(3)), float64(ionflow.Stripe(units.CurrentDensity(beside.swing/0.12), 2, 0.12, 3,
		units.Time(tau))), 1e-9)
}
