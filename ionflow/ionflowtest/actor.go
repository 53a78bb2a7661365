package ionflowtest

import (
	"fmt"
	"math"

	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/ioniser"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Actor is what puts ions on the near face of a moving web; [ioniser.Place] and
// [ioniser.Fitted] are.
//
// Beyond physics, the laws ask: a finite deposit for finite arguments; NaN for NaN in
// any of them and for a negative speed; exactly 0 for a net of 0 from a source without
// offset.
type Actor interface {
	// Act returns what a web of the net charge density gets, and keeps, at the speed.
	Act(net units.SurfaceChargeDensity, v units.Speed) ioniser.Result
}

type sigma = units.SurfaceChargeDensity

// ActorFunc makes an [Actor] of a function that returns what is added to the near face.
type ActorFunc func(net units.SurfaceChargeDensity, v units.Speed) units.SurfaceChargeDensity

// Act calls the function; the regime is left open.
func (f ActorFunc) Act(net units.SurfaceChargeDensity, v units.Speed) ioniser.Result {
	d := f(net, v)
	return ioniser.Result{Deposited: d, Left: net + d, Regime: ionflow.Idle}
}

// Web is one point at which a law about an [Actor] is tried.
type Web struct {
	Net   units.SurfaceChargeDensity // net charge density, 1 nC/m² … 100 µC/m² of either sign
	More  units.SurfaceChargeDensity // a further charge density, 1 pC/m² … 100 µC/m²
	Speed units.Speed                // of the web, 1 mm/s … 30 m/s
}

// shifted is a source with an offset.
type shifted struct {
	Actor
	by sigma
}

func (s shifted) Act(net sigma, v units.Speed) ioniser.Result {
	r := s.Actor.Act(net-s.by, v)
	r.Left += s.by
	return r
}

// source draws a balanced source at a place, with no more than the supply of the domain if it states one.
func source(d Domain) func(g *lawtest.Draw) Actor {
	return func(g *lawtest.Draw) Actor {
		spec := drawn(g, d.Supply)
		p := must(must(ioniser.New(spec)).At(lawtest.Decades(g, "gap", 20*units.Millimetre, units.Metre)))
		if d.Offset != 0 {
			return shifted{p, d.Offset}
		}
		return p
	}
}

// Actors returns the laws of every [Actor].
func Actors(d Domain) lawtest.Kit[Actor, Web] {
	d = d.filled()
	return lawtest.Kit[Actor, Web]{
		Laws:   append(boundLaws(d), trendLaws(d)...),
		Models: source(d),
		Input: func(g *lawtest.Draw, _ Actor) Web {
			return Web{Net: lawtest.EitherSign(g, "net", sigma(1e-9), sigma(1e-4)),
				More:  lawtest.Decades(g, "more", sigma(1e-12), sigma(1e-4)),
				Speed: lawtest.Decades(g, "speed", 1e-3*units.MetrePerSecond, 30*units.MetrePerSecond)}
		},
	}
}

// bar is a right model to spoil, of plenty: it conducts, and never runs dry.
func bar(net sigma, v units.Speed) sigma {
	if !(v >= 0) {
		return nan[sigma]()
	}
	return net * sigma(math.Expm1(-0.3/float64(v)))
}

// on returns what the actor puts on another net than that of the web.
func on(m Actor, w Web, net sigma) sigma {
	return m.Act(net, w.Speed).Deposited
}

// slack is what rounding may do to the net of a web.
func (d Domain) slack(w Web) float64 { return d.RelTol * (abs(w.Net) + abs(d.Offset)) }

// boundLaws are about one deposit.
func boundLaws(d Domain) []lawtest.Law[Actor, Web] {
	return []lawtest.Law[Actor, Web]{{
		Name: "finite", Says: "finite in, finite out; NaN and negative speed in, NaN out",
		Source: "contract of ioniser.Place",
		// Takes a web that runs backwards.
		Broken: ActorFunc(func(net sigma, v units.Speed) sigma { return bar(net, units.Speed(abs(v))) }),
		Check: func(m Actor, w Web) error {
			at := func(net sigma, v units.Speed) sigma { return m.Act(net, v).Deposited }
			return lawtest.Total(on(m, w, w.Net), at(nan[sigma](), w.Speed), at(w.Net, nan[units.Speed]()), at(w.Net, -w.Speed))
		},
	}, {
		Name: "unseen", Says: "net 0 and offset 0: deposit 0, however much is on the two faces",
		Source: "a double layer has no outside field",
		// Counts what is on the faces.
		Broken: ActorFunc(func(net sigma, v units.Speed) sigma {
			if net == 0 {
				return -units.MicrocoulombPerSquareMetre
			}
			return bar(net, v)
		}),
		Check: func(m Actor, w Web) error {
			if d.Offset != 0 {
				return lawtest.Skip("the source has an offset")
			}
			a := on(m, w, 0)
			return lawtest.That(a == 0, "0", a)
		},
	}, {
		Name: "never beyond", Says: "net − offset keeps its sign and does not grow",
		Source: "ions go where the field draws them",
		Broken: ActorFunc(func(net sigma, _ units.Speed) sigma { return sigma(-1.1 * float64(net)) }),
		Check: func(m Actor, w Web) error {
			before := w.Net - d.Offset
			after := before + on(m, w, w.Net)
			a, b := abs(before), float64(after)*math.Copysign(1, float64(before))
			return lawtest.That(b >= -d.slack(w) && b <= a+d.slack(w), fmt.Sprintf("0 … %v beyond the offset", before), after)
		},
	}, {
		Name: "supply", Says: "|deposit|·v <= supply", Source: "conservation of charge",
		Broken: ActorFunc(func(net sigma, _ units.Speed) sigma { return -net }), // endless ions
		Check: func(m Actor, w Web) error {
			if d.Supply == 0 {
				return lawtest.Skip("no supply is stated")
			}
			i := on(m, w, w.Net).Current(w.Speed)
			return lawtest.That(abs(i) <= float64(d.Supply)*(1+d.RelTol), "at most "+d.Supply.String(), i)
		},
	}, {
		Name: "mirror", Says: "deposit(−net) = −deposit(net)", Source: "symmetry of charge",
		// Has no positive ions and does not say so.
		Broken: ActorFunc(func(net sigma, v units.Speed) sigma {
			if net < 0 {
				return 0
			}
			return bar(net, v)
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
		Broken: ActorFunc(func(net sigma, v units.Speed) sigma { return bar(net, units.Speed(1/float64(v))) }),
		Check: func(m Actor, w Web) error {
			a := on(m, w, w.Net)
			b := m.Act(w.Net, 2*w.Speed).Deposited
			return lawtest.That(abs(b) <= abs(a)+d.slack(w), "the deposit at twice the speed no greater", a, b)
		},
	}, {
		// A small change of what comes in is a small change of what goes out.
		Name: "order", Says: "0 <= out(net + more) − out(net) <= more",
		Source: "the current grows with the field, by a first-order equation",
		// All or nothing at a threshold.
		Broken: ActorFunc(func(net sigma, _ units.Speed) sigma {
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
		Name: "twice", Says: "|out(out(net)) − offset| <= |out(net) − offset|",
		Source: "no source of charge but the ions",
		Broken: ActorFunc(func(net sigma, _ units.Speed) sigma { return sigma(-2.5 * float64(net)) }), // swings
		Check: func(m Actor, w Web) error {
			a := w.Net + on(m, w, w.Net)
			b := a + on(m, w, a)
			ok := abs(b-d.Offset) <= abs(a-d.Offset)+d.slack(w)
			return lawtest.That(ok, "the second no farther from "+d.Offset.String(), a, b)
		},
	}}
}
