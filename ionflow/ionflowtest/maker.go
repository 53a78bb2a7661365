package ionflowtest

import (
	"fmt"
	"math"

	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/ioniser"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Maker builds the model of a source before a web with earthed metal at the gap behind it, so that laws can compare
// a source with one that stands elsewhere or emits more. An error refuses a description; no more than half of those
// drawn may be refused.
type Maker func(s ioniser.Spec, gap units.Length) (Actor, error)

// Of makes the models of package ioniser.
func Of(s ioniser.Spec, gap units.Length) (Actor, error) {
	src, err := ioniser.New(s)
	if err != nil {
		return nil, err
	}
	return src.At(gap)
}

// Setting is one point at which a law about a [Maker] is tried: a source whose polarities are alike.
type Setting struct {
	Spec  ioniser.Spec               // blown, powered without air or passive
	Gap   units.Length               // to metal behind the web, 20 mm … 1 m
	Net   units.SurfaceChargeDensity // of the web, 50 nC/m² … 20 µC/m² of either sign
	Speed units.Speed                // of the web, 0.1 … 20 m/s
}

// Ionisers returns the laws that hold between one source and another: what makes more ions, a stronger field or a
// shorter way never leaves more on the web.
//
// Not laws, because they do not hold: faster air (the same emission is spread thinner and mixed longer), a larger
// captured share (it brings like ions as well), a longer contact length (it also spreads the field), passive points
// that come nearer (they start later).
func Ionisers() lawtest.Kit[Maker, Setting] {
	return lawtest.Kit[Maker, Setting]{
		Laws:   append(sourceLaws(), pointLaws()...),
		Models: func(*lawtest.Draw) Maker { return Of },
		Input: func(g *lawtest.Draw, _ Maker) Setting {
			return Setting{Spec: drawn(g, 0), Gap: lawtest.Decades(g, "gap", 20*units.Millimetre, units.Metre),
				Net:   lawtest.EitherSign(g, "net", sigma(5e-8), sigma(2e-5)),
				Speed: lawtest.Decades(g, "speed", 0.1*units.MetrePerSecond, 20*units.MetrePerSecond)}
		},
	}
}

// drawn draws a balanced source, both of whose polarities are alike; supply is its emission, drawn if it is 0.
func drawn(g *lawtest.Draw, supply units.LineCurrent) ioniser.Spec {
	if supply == 0 {
		supply = lawtest.Decades(g, "emission", 10*units.MicroamperePerMetre, 1000*units.MicroamperePerMetre)
	}
	mu := lawtest.Decades(g, "mobility", units.Mobility(1e-4), units.Mobility(2e-4))
	s := ioniser.Spec{Ions: ionflow.Ions{Plus: mu, Minus: mu,
		Alpha: lawtest.Decades(g, "recombination", units.RecombinationCoefficient(1e-13),
			units.RecombinationCoefficient(4e-12))}}
	kind := lawtest.Pick(g, "kind", "powered", "blown", "passive")
	if kind == "blown" {
		s.Distance = lawtest.Decades(g, "distance", 10*units.Millimetre, 600*units.Millimetre)
		w := lawtest.Decades(g, "mouth", 0.5*units.Millimetre, 5*units.Millimetre)
		s.Emitter = must(ionflow.NewEmitter(ionflow.EmitterSpec{Current: supply}))
		s.Air = ioniser.BlownAir{Stream: ioniser.Plume{Width: w, Core: units.Length(6.3 * float64(w)), Row: g.Bool("row"),
			Speed: lawtest.Decades(g, "air", 0.5*units.MetrePerSecond, 300*units.MetrePerSecond)},
			Captured: lawtest.Decades(g, "captured", 0.01, 0.95), At: 100 * units.MetrePerSecond,
			Contact: lawtest.Decades(g, "contact", 20*units.Millimetre, 500*units.Millimetre)}
		return s
	}
	s.Distance = lawtest.Decades(g, "distance", 10*units.Millimetre, 100*units.Millimetre)
	body := units.Length(float64(s.Distance) * lawtest.Decades(g, "body over distance", 1.2, 10.0))
	s.Points = ioniser.Points{Body: body, Pitch: lawtest.Decades(g, "pitch", 3*units.Millimetre, 100*units.Millimetre)}
	if kind == "passive" {
		s.Points.Start = lawtest.Decades(g, "start", units.Kilovolt, 5*units.Kilovolt)
		s.Points.Most = supply
		return s
	}
	v := lawtest.Decades(g, "voltage", 4*units.Kilovolt, 15*units.Kilovolt)
	s.Points.Start = units.Voltage(float64(v) * lawtest.Between(g, "start over voltage", 0.3, 0.9))
	s.Emitter = must(ionflow.NewEmitter(ionflow.EmitterSpec{Current: supply, Voltage: v}))
	return s
}

type sourceLaw = lawtest.Law[Maker, Setting]

// turned makes sources of a changed description: a broken maker.
func turned(change func(s *ioniser.Spec, gap *units.Length)) Maker {
	return func(s ioniser.Spec, gap units.Length) (Actor, error) {
		change(&s, &gap)
		return Of(s, gap)
	}
}

// emitting returns the emitter with another current and voltage.
func emitting(e ionflow.Emitter, current units.LineCurrent, v units.Voltage) ionflow.Emitter {
	spec := e.Spec()
	spec.Current, spec.Voltage = current, v
	return must(ionflow.NewEmitter(spec))
}

func powered(s *ioniser.Spec) bool { return s.Emitter.Spec().Voltage > 0 }

// By how much of the current, and so of the logarithm of the share left, a reduced model may miss these laws: tight
// is what a table of some hundred nodes costs. wide is for emission, distance and recombination of a blown bar. Of
// 3,000 sources drawn as here package ioniser missed them by more than 3 % in 2, 13 and 8 cases, each a row of holes
// whose plume has spread so far that like ions are trapped before the web: there less charge draws more current, and
// the model cuts the whole curve at the lowest current beyond the hump, at another place for another emission,
// distance or coefficient. It missed none of the laws with tight there. [1]
const tight, wide = 0.03, 0.1

// better says that the source b leaves no more than the source a.
func better(m Maker, in Setting, a, b ioniser.Spec, gapA, gapB units.Length, slack float64) error {
	x, err := m(a, gapA)
	if err != nil {
		return lawtest.Refused(err)
	}
	y, err := m(b, gapB)
	if err != nil {
		return lawtest.Refused(err)
	}
	p, q := x.Act(in.Net, in.Speed).Left, y.Act(in.Net, in.Speed).Left
	most := abs(p)*math.Exp(slack*max(1, math.Log(abs(in.Net)/abs(p)))) + 1e-4*abs(in.Net)
	return lawtest.That(abs(q) <= most || p == 0 && abs(q) <= 1e-4*abs(in.Net), fmt.Sprintf("no more left than %v", p), q)
}

// changed is a law about one change that never leaves more, for the sources to which it applies.
func changed(name, says, source string, broken Maker, slack float64,
	change func(s *ioniser.Spec, gap *units.Length) bool) sourceLaw { // slack [1]
	return sourceLaw{Name: name, Says: says, Source: source, Broken: broken,
		Check: func(m Maker, in Setting) error {
			s, gap := in.Spec, in.Gap
			if !change(&s, &gap) {
				return lawtest.Skip("not of this kind of source")
			}
			return better(m, in, in.Spec, s, in.Gap, gap, slack)
		}}
}

// sourceLaws hold for sources of several kinds.
func sourceLaws() []sourceLaw {
	return []sourceLaw{{
		Name: "halves", Says: "two passes at v leave what one at v/2 leaves", Source: "v·dσ/dx = −I(σ)/L",
		Broken: func(ioniser.Spec, units.Length) (Actor, error) { // a share of its own, however slow
			return ActorFunc(func(net sigma, _ units.Speed) sigma { return -net / 2 }), nil
		},
		Check: func(m Maker, in Setting) error {
			a, err := m(in.Spec, in.Gap)
			if err != nil {
				return lawtest.Refused(err)
			}
			twice := a.Act(a.Act(in.Net, in.Speed).Left, in.Speed).Left
			once := a.Act(in.Net, in.Speed/2).Left
			return lawtest.That(abs(twice-once) <= 1e-6*abs(in.Net), once.String(), twice)
		},
	}, changed("emission", "twice the emission never leaves more", "more ions",
		turned(func(s *ioniser.Spec, _ *units.Length) {
			if c := s.Emitter.Spec(); c.Current > 0 {
				s.Emitter = emitting(s.Emitter, units.LineCurrent(1e-8/float64(c.Current)), c.Voltage)
			}
		}), wide,
		func(s *ioniser.Spec, _ *units.Length) bool {
			if s.Emitter.Spec().Current == 0 {
				s.Points.Most *= 2
				return true
			}
			s.Emitter = emitting(s.Emitter, 2*s.Emitter.Spec().Current, s.Emitter.Spec().Voltage)
			return true
		}), changed("nearer", "at five sixths of the distance a source leaves no more; not of passive points",
		"a stronger field and a shorter way", turned(func(s *ioniser.Spec, _ *units.Length) {
			s.Distance = units.Length(1e-3 / float64(s.Distance))
			s.Points.Body = 0
		}), wide, func(s *ioniser.Spec, _ *units.Length) bool {
			s.Distance = s.Distance * 5 / 6
			return s.Emitter.Spec().Current > 0
		}), changed("metal", "with the metal behind the web twice as far no more is left", "more field lines to the source",
		turned(func(_ *ioniser.Spec, gap *units.Length) { *gap = units.Length(0.02 / float64(*gap)) }), tight,
		func(_ *ioniser.Spec, gap *units.Length) bool { *gap *= 2; return true },
	), changed("recombination", "with half the recombination no more is left", "more ions arrive",
		turned(func(s *ioniser.Spec, _ *units.Length) {
			s.Ions.Alpha = units.RecombinationCoefficient(4e-25 / float64(s.Ions.Alpha))
		}), wide, func(s *ioniser.Spec, _ *units.Length) bool { s.Ions.Alpha /= 2; return s.Air.Stream != nil },
	), {
		Name: "air", Says: "air never leaves more than next to no air", Source: "imposed: like ions leave sideways",
		Broken: func(s ioniser.Spec, gap units.Length) (Actor, error) { // the stream alone
			src, err := ioniser.New(s)
			if err != nil {
				return nil, err
			}
			p, err := src.At(gap)
			if err != nil {
				return nil, err
			}
			return ActorFunc(func(net sigma, v units.Speed) sigma {
				if plume, ok := s.Air.Stream.(ioniser.Plume); ok && plume.Speed > 0.01 {
					a, _ := p.Bracket(net, v)
					return a.Deposited
				}
				return p.Act(net, v).Deposited
			}), nil
		},
		Check: func(m Maker, in Setting) error {
			plume, ok := in.Spec.Air.Stream.(ioniser.Plume)
			if !ok {
				return lawtest.Skip("not blown")
			}
			still := in.Spec
			plume.Speed = 1e-3 * units.MetrePerSecond
			still.Air.Stream = plume
			return better(m, in, still, in.Spec, in.Gap, in.Gap, tight)
		},
	}}
}

// pointLaws are about points and their field.
func pointLaws() []sourceLaw {
	return []sourceLaw{
		changed("voltage", "a fifth more voltage never leaves more", "a stronger field",
			turned(func(s *ioniser.Spec, _ *units.Length) {
				if v := s.Emitter.Spec().Voltage; v > 0 {
					s.Points.Start /= 10
					s.Emitter = emitting(s.Emitter, s.Emitter.Spec().Current, units.Voltage(2e7/float64(v)))
				}
			}), tight, func(s *ioniser.Spec, _ *units.Length) bool {
				if !powered(s) {
					return false
				}
				s.Emitter = emitting(s.Emitter, s.Emitter.Spec().Current, 1.2*s.Emitter.Spec().Voltage)
				return true
			}),
		changed("cleaner", "points that start at four fifths of the voltage never leave more", "more of the field is left",
			turned(func(s *ioniser.Spec, _ *units.Length) {
				if e := s.Emitter.Spec(); e.Voltage > 0 { // the cleaner the less
					s.Emitter = emitting(s.Emitter, units.LineCurrent(float64(e.Current)*
						math.Pow(float64(s.Points.Start/e.Voltage), 12)), e.Voltage)
				}
			}), tight, func(s *ioniser.Spec, _ *units.Length) bool { s.Points.Start *= 0.8; return powered(s) }),
		changed("closer points", "powered points at four fifths of the pitch never leave more", "more points",
			turned(func(s *ioniser.Spec, _ *units.Length) {
				if s.Points.Pitch > 0 {
					s.Points.Pitch = max(units.Length(1e-6/float64(s.Points.Pitch*s.Points.Pitch)), units.Millimetre)
				}
			}), tight,
			func(s *ioniser.Spec, _ *units.Length) bool { s.Points.Pitch *= 0.8; return powered(s) }),
		changed("body", "a passive source whose body stands farther from the web leaves no more",
			"the tips feel more of the web",
			turned(func(s *ioniser.Spec, _ *units.Length) {
				if !powered(s) {
					s.Points.Body = units.Length(1.2 * 10 * float64(s.Distance) * float64(s.Distance) / float64(s.Points.Body))
				}
			}), tight, func(s *ioniser.Spec, _ *units.Length) bool {
				s.Points.Body *= 2
				return s.Air.Stream == nil && !powered(s)
			}), {
			Name: "onset", Says: "passive points that take nothing of a net take nothing of half of it",
			Source: "a tip has an onset",
			Broken: func(s ioniser.Spec, gap units.Length) (Actor, error) { // works on weak charges
				return ActorFunc(func(net sigma, _ units.Speed) sigma {
					if abs(net) < 2e-6 {
						return -net / 2
					}
					return 0
				}), nil
			},
			Check: func(m Maker, in Setting) error {
				if in.Spec.Air.Stream != nil || powered(&in.Spec) {
					return lawtest.Skip("not passive")
				}
				a, err := m(in.Spec, in.Gap)
				if err != nil {
					return lawtest.Refused(err)
				}
				r, half := a.Act(in.Net, in.Speed).Deposited, a.Act(in.Net/2, in.Speed).Deposited
				return lawtest.That(r != 0 || half == 0, "0", half)
			},
		}, {
			Name: "powered", Says: "a powered bar leaves no more than passive points that start at the same voltage of the web",
			Source: "the field of the points helps that of the web",
			Broken: turned(func(s *ioniser.Spec, _ *units.Length) {
				if v := s.Emitter.Spec().Voltage; v > 0 {
					s.Emitter = emitting(s.Emitter, 1e-9*s.Emitter.Spec().Current, v)
				}
			}),
			Check: func(m Maker, in Setting) error {
				if !powered(&in.Spec) {
					return lawtest.Skip("not powered")
				}
				a, b := in.Spec, in.Spec
				// Single points: a pitch beyond their distances, and a body at 3 d, where V_s = 1.5 V_on.
				a.Points.Pitch, a.Points.Body = 4*a.Distance, 3*a.Distance
				b.Points, b.Emitter = a.Points, ionflow.Emitter{}
				b.Points.Start, b.Points.Most = a.Points.Start/1.5, a.Emitter.Spec().Current
				return better(m, in, b, a, in.Gap, in.Gap, tight)
			},
		}}
}
