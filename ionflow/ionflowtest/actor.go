package ionflowtest

import (
	"fmt"
	"math"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Actor is what puts ions on the near face of a moving web; [ionflow.Neutraliser] is
// one.
//
// Beyond physics, the laws ask: a finite deposit for finite arguments; NaN for NaN in
// any of them and for a negative speed or field factor; exactly 0 for a net of 0 from
// a source without offset.
type Actor interface {
	// Act returns what is added to the near face of a web of the net charge density
	// at the speed and field factor.
	Act(net units.SurfaceChargeDensity, v units.Speed, factor float64) (units.SurfaceChargeDensity, ionflow.Regime)
}

type sigma = units.SurfaceChargeDensity

// ActorFunc makes an [Actor] of a function; the factor is in [1].
type ActorFunc func(net units.SurfaceChargeDensity, v units.Speed, factor float64) units.SurfaceChargeDensity

// Act calls the function; the regime is left open.
func (f ActorFunc) Act(net units.SurfaceChargeDensity, v units.Speed, factor float64) ( // factor [1]
	units.SurfaceChargeDensity, ionflow.Regime) {
	return f(net, v, factor), ionflow.Idle
}

// Web is one point at which a law about an [Actor] is tried.
type Web struct {
	Net    units.SurfaceChargeDensity // net charge density, 1 nC/m² … 100 µC/m² of either sign
	More   units.SurfaceChargeDensity // a further charge density, 1 pC/m² … 100 µC/m²
	Speed  units.Speed                // of the web, 1 mm/s … 30 m/s
	Factor float64                    // [1] field factor of the place, 1e-4 … 1
}

// neutraliser draws a neutraliser with the supply and the offset of the domain (supply
// drawn if it is 0): airborne, or drawn across a gap with or without onset.
func neutraliser(d Domain) func(g *lawtest.Draw) Actor {
	return func(g *lawtest.Draw) Actor {
		c := ionflow.Carriers{Supply: d.Supply}
		if c.Supply == 0 {
			c.Supply = lawtest.Decades(g, "supply", units.LineCurrent(1e-9), units.LineCurrent(1e-2))
		}
		s := ionflow.NeutraliserSpec{Zone: lawtest.Decades(g, "zone", units.Millimetre, units.Metre), Offset: d.Offset}
		if g.Bool("drawn") {
			c.Mobility = lawtest.Decades(g, "mobility", units.Mobility(1e-4), units.Mobility(2e-4))
			s.Gap = lawtest.Decades(g, "gap", 5*units.Millimetre, units.Metre)
			if d.Offset == 0 && g.Bool("passive") {
				s.Onset = lawtest.Decades(g, "onset", sigma(1e-8), sigma(1e-5))
			}
		} else {
			c.Conductivity = lawtest.Decades(g, "conductivity", units.Conductivity(1e-13), units.Conductivity(1e-6))
		}
		s.Plus, s.Minus = c, c
		return must(ionflow.NewNeutraliser(s))
	}
}

// Actors returns the laws of every [Actor].
func Actors(d Domain) lawtest.Kit[Actor, Web] {
	d = d.filled()
	return lawtest.Kit[Actor, Web]{
		Laws:   append(boundLaws(d), trendLaws(d)...),
		Models: neutraliser(d),
		Input: func(g *lawtest.Draw, _ Actor) Web {
			return Web{Net: lawtest.EitherSign(g, "net", sigma(1e-9), sigma(1e-4)),
				More:   lawtest.Decades(g, "more", sigma(1e-12), sigma(1e-4)),
				Speed:  lawtest.Decades(g, "speed", 1e-3*units.MetrePerSecond, 30*units.MetrePerSecond),
				Factor: lawtest.Decades(g, "factor", 1e-4, 1.0)}
		},
	}
}

// bar is a right model to spoil, of plenty.
func bar(net sigma, v units.Speed, f float64) sigma {
	c := ionflow.Carriers{Conductivity: 2.4e-9, Supply: 30 * units.MicroamperePerMetre}
	n := must(ionflow.NewNeutraliser(ionflow.NeutraliserSpec{Plus: c, Minus: c, Zone: 50 * units.Millimetre}))
	d, _ := n.Act(net, v, f)
	return d
}

// on returns what the actor puts on another net than that of the web.
func on(m Actor, w Web, net sigma) sigma {
	d, _ := m.Act(net, w.Speed, w.Factor)
	return d
}

// slack is what rounding may do to the net of a web.
func (d Domain) slack(w Web) float64 { return d.RelTol * (abs(w.Net) + abs(d.Offset)/w.Factor) }

// left is what the source leaves: the offset at the field factor of the place.
func (d Domain) left(w Web) sigma { return sigma(float64(d.Offset) / w.Factor) }

// boundLaws are about one deposit.
func boundLaws(d Domain) []lawtest.Law[Actor, Web] {
	return []lawtest.Law[Actor, Web]{{
		Name: "finite", Says: "finite in, finite out; NaN and negative speed or factor in, NaN out",
		Source: "contract of ionflow.Neutraliser",
		// Takes a web that runs backwards.
		Broken: ActorFunc(func(net sigma, v units.Speed, f float64) sigma { return bar(net, units.Speed(abs(v)), f) }),
		Check: func(m Actor, w Web) error {
			at := func(net sigma, v units.Speed, f float64) sigma { d, _ := m.Act(net, v, f); return d }
			return lawtest.Total(on(m, w, w.Net), at(nan[sigma](), w.Speed, w.Factor), at(w.Net, nan[units.Speed](), w.Factor),
				at(w.Net, w.Speed, math.NaN()), at(w.Net, -w.Speed, w.Factor), at(w.Net, w.Speed, -w.Factor))
		},
	}, {
		Name: "unseen", Says: "net 0 and offset 0: deposit 0, however much is on the two faces",
		Source: "a double layer has no outside field",
		// Counts what is on the faces.
		Broken: ActorFunc(func(net sigma, v units.Speed, f float64) sigma {
			if net == 0 {
				return -units.MicrocoulombPerSquareMetre
			}
			return bar(net, v, f)
		}),
		Check: func(m Actor, w Web) error {
			if d.Offset != 0 {
				return lawtest.Skip("the source has an offset")
			}
			a := on(m, w, 0)
			return lawtest.That(a == 0, "0", a)
		},
	}, {
		Name: "never beyond", Says: "net − offset/factor keeps its sign and does not grow",
		Source: "ions go where the field draws them",
		Broken: ActorFunc(func(net sigma, _ units.Speed, _ float64) sigma { return sigma(-1.1 * float64(net)) }),
		Check: func(m Actor, w Web) error {
			before := w.Net - d.left(w)
			after := before + on(m, w, w.Net)
			a, b := abs(before), float64(after)*math.Copysign(1, float64(before))
			return lawtest.That(b >= -d.slack(w) && b <= a+d.slack(w), fmt.Sprintf("0 … %v beyond the offset", before), after)
		},
	}, {
		Name: "supply", Says: "|deposit|·v <= supply", Source: "conservation of charge",
		Broken: ActorFunc(func(net sigma, _ units.Speed, _ float64) sigma { return -net }), // endless ions
		Check: func(m Actor, w Web) error {
			if d.Supply == 0 {
				return lawtest.Skip("no supply is stated")
			}
			i := ionflow.Demand(on(m, w, w.Net), w.Speed)
			return lawtest.That(abs(i) <= float64(d.Supply)*(1+d.RelTol), "at most "+d.Supply.String(), i)
		},
	}, {
		Name: "mirror", Says: "deposit(−net) = −deposit(net)", Source: "symmetry of charge",
		// Has no positive ions and does not say so.
		Broken: ActorFunc(func(net sigma, v units.Speed, f float64) sigma {
			if net < 0 {
				return 0
			}
			return bar(net, v, f)
		}),
		Check: func(m Actor, w Web) error {
			if d.Lopsided || d.Offset != 0 {
				return lawtest.Skip("the polarities differ")
			}
			a, b := on(m, w, w.Net), on(m, w, -w.Net)
			return lawtest.That(abs(a+b) <= d.slack(w), "deposits of opposite sign", a, b)
		},
	}}
}

// trendLaws compare deposits.
func trendLaws(d Domain) []lawtest.Law[Actor, Web] {
	return []lawtest.Law[Actor, Web]{{
		Name: "slower", Says: "|deposit| does not grow with speed", Source: "longer dwell",
		// The better the faster.
		Broken: ActorFunc(func(net sigma, v units.Speed, f float64) sigma { return bar(net, units.Speed(1/float64(v)), f) }),
		Check: func(m Actor, w Web) error {
			a := on(m, w, w.Net)
			b, _ := m.Act(w.Net, 2*w.Speed, w.Factor)
			return lawtest.That(abs(b) <= abs(a)+d.slack(w), "the deposit at twice the speed no greater", a, b)
		},
	}, {
		Name: "seen", Says: "|deposit| does not fall with the field factor", Source: "the field draws the ions",
		Broken: ActorFunc(func(net sigma, v units.Speed, f float64) sigma { return bar(net, v, 1e-4/f) }), // likes rollers
		Check: func(m Actor, w Web) error {
			if d.Offset != 0 {
				return lawtest.Skip("the source has an offset")
			}
			a := on(m, w, w.Net)
			b, _ := m.Act(w.Net, w.Speed, w.Factor/2)
			return lawtest.That(abs(b) <= abs(a)+d.slack(w), "the deposit at half the factor no greater", a, b)
		},
	}, {
		// A small change of what comes in is a small change of what goes out.
		Name: "order", Says: "0 <= out(net + more) − out(net) <= more",
		Source: "the current grows with the field, by a first-order equation",
		// All or nothing at a threshold.
		Broken: ActorFunc(func(net sigma, _ units.Speed, _ float64) sigma {
			if abs(net) > 1e-6 {
				return -net
			}
			return 0
		}),
		Check: func(m Actor, w Web) error {
			more := w.Net + w.More
			a, b := w.Net+on(m, w, w.Net), more+on(m, w, more)
			tol := d.slack(w) + d.RelTol*float64(w.More)
			ok := float64(b-a) >= -tol && float64(b-a) <= float64(w.More)+tol
			return lawtest.That(ok, "a difference of 0 … "+w.More.String(), a, b)
		},
	}, {
		Name: "twice", Says: "|out(out(net)) − offset/factor| <= |out(net) − offset/factor|",
		Source: "no source of charge but the ions",
		Broken: ActorFunc(func(net sigma, _ units.Speed, _ float64) sigma { return sigma(-2.5 * float64(net)) }), // swings
		Check: func(m Actor, w Web) error {
			a := w.Net + on(m, w, w.Net)
			b := a + on(m, w, a)
			ok := abs(b-d.left(w)) <= abs(a-d.left(w))+d.slack(w)
			return lawtest.That(ok, "the second no farther from "+d.left(w).String(), a, b)
		},
	}}
}
