package ionflowtest

import (
	"fmt"
	"math"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

type density = units.NumberDensity

// Population returns what is left of the ions of a parcel of air after a time.
//
// Beyond physics, the laws ask: at t = 0 the densities are those given; a density of
// 0 is no error and stays 0; steps of any length up to 100 s are answered.
type Population func(plus, minus units.NumberDensity, t units.Time) (p, m units.NumberDensity)

// Parcel is one point at which a law about a [Population] is tried.
type Parcel struct {
	Plus, Minus units.NumberDensity // densities at the start, 1e9 … 1e16 m⁻³; Minus now and then 0
	T, DT       units.Time          // a time and a further one, 1 µs … 100 s
}

// population draws a population with the coefficients of the domain:
// [ionflow.RecombineUnequal] if it states no mobility, else the unconfined parcel of
// [ionflow.Path], and for α of the Langevin limit also [ionflow.LangevinParcel].
func population(d Domain) func(g *lawtest.Draw) Population {
	exact := func(p, m density, t units.Time) (density, density) {
		return ionflow.LangevinParcel(p, m, d.Mobility, t)
	}
	path := func(p, m density, t units.Time) (density, density) {
		if t == 0 {
			return p, m
		}
		ions := ionflow.Ions{Plus: d.Mobility, Minus: d.Mobility, Alpha: d.Alpha}
		unconfined := ionflow.Uniform{Speed: units.MetrePerSecond, Repulsion: 1}
		a := must(ionflow.Path(unconfined, ions, p, m, units.Length(t), 1e-9))
		return a.Plus, a.Minus
	}
	langevin := ionflow.LangevinRecombination(d.Mobility, d.Mobility)
	return func(g *lawtest.Draw) Population {
		switch {
		case d.Mobility == 0:
			return func(p, m density, t units.Time) (density, density) { return ionflow.RecombineUnequal(p, m, d.Alpha, t) }
		case abs(d.Alpha-langevin) <= 1e-12*float64(langevin) && g.Bool("exact"):
			return exact
		}
		return path
	}
}

// Populations returns the laws of every [Population].
func Populations(d Domain) lawtest.Kit[Population, Parcel] {
	d = d.filled()
	return lawtest.Kit[Population, Parcel]{
		Laws:   append(parcelLaws(d), balancedLaws(d)...),
		Models: population(d),
		Input: func(g *lawtest.Draw, _ Population) Parcel {
			in := Parcel{Plus: lawtest.Decades(g, "plus", density(1e9), 1e16),
				Minus: lawtest.Decades(g, "minus", density(1e9), 1e16),
				T:     lawtest.Decades(g, "t", 1e-6*units.Second, 100*units.Second),
				DT:    lawtest.Decades(g, "dt", 1e-6*units.Second, 100*units.Second)}
			if g.Int("none", 0, 9) == 9 {
				in.Minus = 0
			}
			return in
		},
	}
}

// near allows for rounding.
func (d Domain) near(got, want density) bool { return abs(got-want) <= d.RelTol*abs(want)+1e-200 }

// wrongly makes a population of a formula.
func wrongly(f func(p, m, t float64) (float64, float64)) Population {
	return func(p, m density, t units.Time) (density, density) {
		a, b := f(float64(p), float64(m), float64(t))
		return density(a), density(b)
	}
}

// parcelLaws are about any parcel.
func parcelLaws(d Domain) []lawtest.Law[Population, Parcel] {
	return []lawtest.Law[Population, Parcel]{{
		Name: "unchanged", Says: "n±(0) = n±0", Source: "definition",
		Broken: wrongly(func(p, m, t float64) (float64, float64) { return p / (2 + t), m / (2 + t) }),
		Check: func(m Population, in Parcel) error {
			p, q := m(in.Plus, in.Minus, 0)
			return lawtest.That(d.near(p, in.Plus) && d.near(q, in.Minus), "the densities at the start", p, q)
		},
	}, {
		Name: "positive", Says: "0 <= n± < ∞", Source: "densities are counts",
		// One long step.
		Broken: wrongly(func(p, m, t float64) (float64, float64) { return p - 1.6e-12*p*m*t, m - 1.6e-12*p*m*t }),
		Check: func(m Population, in Parcel) error {
			p, q := m(in.Plus, in.Minus, in.T)
			return lawtest.That(p >= 0 && q >= 0 && !math.IsInf(float64(p+q), 0), "two finite densities of 0 or more", p, q)
		},
	}, {
		// The difference is the space charge.
		Name: "closer", Says: "0 <= (n+ − n−)/(n+0 − n−0) <= 1",
		Source: "recombination takes pairs; repulsion dilutes the surplus",
		Broken: wrongly(func(p, m, t float64) (float64, float64) { return p, m / (1 + t) }),
		Check: func(m Population, in Parcel) error {
			p, q := m(in.Plus, in.Minus, in.T)
			surplus := in.Plus - in.Minus
			left := float64(p-q) * math.Copysign(1, float64(surplus))
			tol := d.RelTol * float64(in.Plus+in.Minus)
			return lawtest.That(left >= -tol && left <= abs(surplus)+tol, "a surplus of 0 … "+surplus.String(), p, q)
		},
	}, {
		Name: "in steps", Says: "n(t + dt) = n(dt) of n(t)", Source: "the rates depend on the densities alone",
		Broken: wrongly(func(p, m, t float64) (float64, float64) { return p / (1 + t*t), m / (1 + t*t) }),
		Check: func(m Population, in Parcel) error {
			p, q := m(in.Plus, in.Minus, in.T)
			p, q = m(p, q, in.DT)
			r, s := m(in.Plus, in.Minus, in.T+in.DT)
			// Rounding of the first step is carried on as a relative error; a difference of
			// nearly equal densities loses digits of the smaller one.
			tol := 10 * d.RelTol * float64(r+s)
			return lawtest.That(abs(p-r) <= tol && abs(q-s) <= tol, fmt.Sprintf("%v, %v", r, s), p, q)
		},
	}, {
		Name: "swapped", Says: "exchanging n+ and n− exchanges the results", Source: "symmetry of charge",
		Broken: wrongly(func(p, m, t float64) (float64, float64) { return p / (1 + t), m / (1 + 2*t) }),
		Check: func(m Population, in Parcel) error {
			if d.Lopsided {
				return lawtest.Skip("the polarities differ")
			}
			p, q := m(in.Plus, in.Minus, in.T)
			r, s := m(in.Minus, in.Plus, in.T)
			return lawtest.That(d.near(p, s) && d.near(q, r), fmt.Sprintf("%v, %v", s, r), p, q)
		},
	}}
}

// balancedLaws are about equal densities, and about what repulsion does and no
// repulsion cannot do.
func balancedLaws(d Domain) []lawtest.Law[Population, Parcel] {
	still := wrongly(func(p, m, _ float64) (float64, float64) { return p, m }) // nothing recombines, nothing repels
	below := func(n, top density) error {
		return lawtest.That(float64(n) <= float64(top)*(1+d.RelTol), "at most "+top.String(), n)
	}
	list := []lawtest.Law[Population, Parcel]{{
		Name: "balanced", Says: "n+0 = n−0: n+ = n− <= n0",
		Source: "recombination takes pairs; a neutral plume repels nobody",
		Broken: wrongly(func(p, m, t float64) (float64, float64) { return p / (1 + 1e-13*p*t), m / (1 + 2e-13*m*t) }),
		Check: func(m Population, in Parcel) error {
			p, q := m(in.Plus, in.Plus, in.T)
			ok := d.near(p, q) && float64(p) <= float64(in.Plus)*(1+d.RelTol)
			return lawtest.That(ok, "equal densities up to "+in.Plus.String(), p, q)
		},
	}, {
		Name: "recombination ceiling", Says: "n+0 = n−0: n <= 1/(αt)", Source: "dn/dt <= −αn²", Broken: still,
		Check: func(m Population, in Parcel) error {
			if d.Alpha == 0 {
				return lawtest.Skip("no recombination coefficient is stated")
			}
			p, _ := m(in.Plus, in.Plus, in.T)
			return below(p, ionflow.RecombinationCeiling(d.Alpha, in.T))
		},
	}}
	if d.Mobility == 0 {
		return append(list, lawtest.Law[Population, Parcel]{
			Name: "pairs", Says: "without repulsion n+ − n− stays", Source: "recombination takes pairs",
			// Each polarity as if the other had its density.
			Broken: wrongly(func(p, m, t float64) (float64, float64) { return p / (1 + 1.6e-12*p*t), m / (1 + 1.6e-12*m*t) }),
			Check: func(m Population, in Parcel) error {
				if d.Alpha == 0 {
					return lawtest.Skip("nothing is stated of recombination or repulsion")
				}
				p, q := m(in.Plus, in.Minus, in.T)
				ok := abs(p-q-(in.Plus-in.Minus)) <= d.RelTol*float64(in.Plus+in.Minus)
				return lawtest.That(ok, "a surplus of "+(in.Plus-in.Minus).String(), p, q)
			},
		})
	}
	return append(list, lawtest.Law[Population, Parcel]{
		Name: "repulsion ceiling", Says: "n−0 = 0: n+ <= ε0/(eμt)", Source: "∇·E = en/ε0", Broken: still,
		Check: func(m Population, in Parcel) error {
			p, _ := m(in.Plus, 0, in.T)
			return below(p, ionflow.RepulsionCeiling(d.Mobility, in.T))
		},
	})
}
