package ionflowtest

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// Skip is the name of a statement to leave out and the reason, which its subtest
// prints.
type Skip struct {
	Law    string // name of the statement
	Reason string // why it is left out
}

func skipped(name string, skip []Skip) (string, bool) {
	for _, s := range skip {
		if s.Law == name {
			return s.Reason, true
		}
	}
	return "", false
}

// Run tries every statement on models and inputs drawn from the generators, one
// subtest a statement.
func Run[M, I any](t *testing.T, laws []Law[M, I], models *rapid.Generator[M], inputs *rapid.Generator[I], d Domain, skip ...Skip) {
	t.Helper()
	d = d.filled()
	for _, l := range laws {
		t.Run(l.Name, func(t *testing.T) {
			if why, ok := skipped(l.Name, skip); ok {
				t.Skip(why)
			}
			rapid.Check(t, func(t *rapid.T) {
				m := models.Draw(t, "model")
				if err := l.Check(m, inputs.Draw(t, "at"), d); err != nil {
					t.Fatalf("%v (%s; %s)", err, l.Says, l.Source)
				}
			})
		})
	}
}

// Check tries every statement on one model at the inputs given and returns the
// violations, joined. It needs no test engine.
func Check[M, I any](laws []Law[M, I], m M, d Domain, skip []Skip, in ...I) error {
	d = d.filled()
	var err error
	for _, l := range laws {
		if _, ok := skipped(l.Name, skip); ok {
			continue
		}
		for _, x := range in {
			err = errors.Join(err, l.Check(m, x, d))
		}
	}
	return err
}

// Fuzz makes a native fuzz target of the statements and the generators.
func Fuzz[M, I any](f *testing.F, laws []Law[M, I], models *rapid.Generator[M], inputs *rapid.Generator[I], d Domain, skip ...Skip) {
	d = d.filled()
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) {
		m, in := models.Draw(t, "model"), inputs.Draw(t, "at")
		for _, l := range laws {
			if _, ok := skipped(l.Name, skip); ok {
				continue
			}
			if err := l.Check(m, in, d); err != nil {
				t.Fatal(err)
			}
		}
	}))
}

// ActorFunc makes an [Actor] of a function.
type ActorFunc func(net units.SurfaceChargeDensity, v units.Speed, factor float64) units.SurfaceChargeDensity // factor [1]

// Act calls the function; the regime is left open.
func (f ActorFunc) Act(net units.SurfaceChargeDensity, v units.Speed, factor float64) (units.SurfaceChargeDensity, ionflow.Regime) { // factor [1]
	return f(net, v, factor), ionflow.Idle
}

// BrokenActors returns for each of the [SurfaceLaws] a model that breaks it, made from a
// right one. Some break others too.
func BrokenActors(right Actor) map[string]Actor {
	act := func(net units.SurfaceChargeDensity, v units.Speed, f float64) units.SurfaceChargeDensity {
		d, _ := right.Act(net, v, f)
		return d
	}
	return map[string]Actor{
		"finite": ActorFunc(func(net units.SurfaceChargeDensity, v units.Speed, f float64) units.SurfaceChargeDensity {
			return act(net, units.Speed(math.Abs(float64(v))), f) // takes a web that runs backwards
		}),
		"unseen": ActorFunc(func(net units.SurfaceChargeDensity, v units.Speed, f float64) units.SurfaceChargeDensity {
			if net == 0 {
				return -units.MicrocoulombPerSquareMetre // counts what is on the faces
			}
			return act(net, v, f)
		}),
		"never beyond": ActorFunc(func(net units.SurfaceChargeDensity, v units.Speed, f float64) units.SurfaceChargeDensity {
			return units.SurfaceChargeDensity(-1.1 * float64(net))
		}),
		"supply": ActorFunc(func(net units.SurfaceChargeDensity, v units.Speed, f float64) units.SurfaceChargeDensity {
			return -net // endless ions
		}),
		"slower": ActorFunc(func(net units.SurfaceChargeDensity, v units.Speed, f float64) units.SurfaceChargeDensity {
			return act(net, units.Speed(1/float64(v)), f) // the better the faster
		}),
		"seen": ActorFunc(func(net units.SurfaceChargeDensity, v units.Speed, f float64) units.SurfaceChargeDensity {
			return act(net, v, 1e-4/f) // likes rollers
		}),
		"order": ActorFunc(func(net units.SurfaceChargeDensity, v units.Speed, f float64) units.SurfaceChargeDensity {
			if math.Abs(float64(net)) > 1e-6 {
				return -net // all or nothing at a threshold
			}
			return 0
		}),
		"twice": ActorFunc(func(net units.SurfaceChargeDensity, v units.Speed, f float64) units.SurfaceChargeDensity {
			return units.SurfaceChargeDensity(-2.5 * float64(net)) // swings
		}),
		"mirror": ActorFunc(func(net units.SurfaceChargeDensity, v units.Speed, f float64) units.SurfaceChargeDensity {
			if net < 0 {
				return 0 // has no positive ions and does not say so
			}
			return act(net, v, f)
		}),
	}
}

// BrokenPopulations returns for each of the [PopulationLaws] a model that breaks it.
// Some break others too.
func BrokenPopulations() map[string]Population {
	type n = units.NumberDensity
	scaled := func(f func(p, m, t float64) (float64, float64)) Population {
		return func(p, m n, t units.Time) (n, n) {
			a, b := f(float64(p), float64(m), float64(t))
			return n(a), n(b)
		}
	}
	return map[string]Population{
		"unchanged":             scaled(func(p, m, t float64) (float64, float64) { return p / (2 + t), m / (2 + t) }),
		"positive":              scaled(func(p, m, t float64) (float64, float64) { return p - 1.6e-12*p*m*t, m - 1.6e-12*p*m*t }), // one long step
		"closer":                scaled(func(p, m, t float64) (float64, float64) { return p, m / (1 + t) }),
		"balanced":              scaled(func(p, m, t float64) (float64, float64) { return p / (1 + 1e-13*p*t), m / (1 + 2e-13*m*t) }),
		"recombination ceiling": scaled(func(p, m, t float64) (float64, float64) { return p, m }), // nothing recombines
		"repulsion ceiling":     scaled(func(p, m, t float64) (float64, float64) { return p, m }), // nothing repels
		"in steps":              scaled(func(p, m, t float64) (float64, float64) { f := 1 + t*t; return p / f, m / f }),
		"swapped":               scaled(func(p, m, t float64) (float64, float64) { return p / (1 + t), m / (1 + 2*t) }),
	}
}
