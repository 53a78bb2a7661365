package ionflowtest_test

import (
	"errors"
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/ionflow"
	. "example.org/pithball/ionflow/ionflowtest"
	"example.org/pithball/units"
)

var (
	stated   = Domain{Supply: 30 * units.MicroamperePerMetre}
	offset   = Domain{Offset: units.SurfaceChargeDensity(-3e-8)}
	langevin = Domain{Mobility: 1.5e-4, Alpha: ionflow.LangevinRecombination(1.5e-4, 1.5e-4), RelTol: 1e-6} // the path asks for 1e-9 a step
	unequal  = Domain{Mobility: 1.5e-4, Alpha: 1.6e-12, RelTol: 1e-6}
	pairs    = Domain{Alpha: 1.6e-12}
)

func TestNeutraliser(t *testing.T) {
	for name, d := range map[string]Domain{"any supply": {}, "stated supply": stated, "offset": offset} {
		t.Run(name, func(t *testing.T) { Run(t, SurfaceLaws(), AnyNeutraliser(d), Webs(d), d) })
	}
}

func TestPopulation(t *testing.T) {
	for name, d := range map[string]Domain{"langevin": langevin, "unequal": unequal, "pairs": pairs} {
		t.Run(name, func(t *testing.T) { Run(t, PopulationLaws(), AnyPopulation(d), Parcels(d), d) })
	}
}

func FuzzNeutraliser(f *testing.F) {
	Fuzz(f, SurfaceLaws(), AnyNeutraliser(stated), Webs(stated), stated)
}

func FuzzPopulation(f *testing.F) {
	Fuzz(f, PopulationLaws(), AnyPopulation(pairs), Parcels(pairs), pairs)
}

// bar is a right model to spoil.
func bar(t *testing.T) Actor {
	c := ionflow.Carriers{Conductivity: 2.4e-9, Supply: stated.Supply}
	n, err := ionflow.NewNeutraliser(ionflow.NeutraliserSpec{Plus: c, Minus: c, Zone: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func TestBrokenActorsAreFound(t *testing.T) {
	w := Web{Net: 5e-6, More: 1e-6, Speed: 2, Factor: 0.9}
	web := []Web{w, {Net: 0.5e-6, More: 1e-6, Speed: 0.05, Factor: 0.02}, {Net: -5e-6, More: 1e-6, Speed: 20, Factor: 0.5}, {Net: 5e-6, More: 1e-6, Speed: 20, Factor: 0.01}}
	if err := Check(SurfaceLaws(), bar(t), stated, nil, web...); err != nil {
		t.Errorf("the right model: %v", err)
	}
	models := BrokenActors(bar(t))
	for _, l := range SurfaceLaws() {
		m, ok := models[l.Name]
		if !ok {
			t.Errorf("%s: no broken model", l.Name)
			continue
		}
		var v *Violation
		if err := Check([]Law[Actor, Web]{l}, m, stated, nil, web...); !errors.As(err, &v) || v.Law != l.Name {
			t.Errorf("%s: not found: %v", l.Name, err)
		}
	}
}

func TestBrokenPopulationsAreFound(t *testing.T) {
	in := []Parcel{{Plus: 1e15, Minus: 3e14, T: 0.1, DT: 2}, {Plus: 1e13, Minus: 3e13, T: 10, DT: 1}}
	models := BrokenPopulations()
	for _, l := range PopulationLaws() {
		m, ok := models[l.Name]
		if !ok {
			t.Errorf("%s: no broken model", l.Name)
			continue
		}
		var v *Violation
		if err := Check([]Law[Population, Parcel]{l}, m, unequal, nil, in...); !errors.As(err, &v) || v.Law != l.Name {
			t.Errorf("%s: not found: %v", l.Name, err)
		}
	}
}

func TestSkip(t *testing.T) {
	always := Law[Actor, Web]{Name: "always wrong", Check: func(Actor, Web, Domain) error { return errors.New("wrong") }}
	Run(t, []Law[Actor, Web]{always}, rapid.Just(bar(t)), Webs(stated), stated, Skip{Law: "always wrong", Reason: "to see that it is left out"})
	if err := Check([]Law[Actor, Web]{always}, bar(t), stated, nil, Web{}); err == nil {
		t.Error("not called without Skip")
	}
}

// A model that lets a bar clean a double layer is found out.
func ExampleCheck() {
	greedy := ActorFunc(func(net units.SurfaceChargeDensity, v units.Speed, factor float64) units.SurfaceChargeDensity {
		return -net - units.MicrocoulombPerSquareMetre
	})
	in := Web{Net: 2 * units.MicrocoulombPerSquareMetre, More: units.MicrocoulombPerSquareMetre, Speed: units.MetrePerSecond, Factor: 1}
	err := Check([]Law[Actor, Web]{Unseen()}, Actor(greedy), Domain{}, nil, in)
	var v *Violation
	fmt.Println(errors.As(err, &v), v.Law, v.Got)
	// Output: true unseen [-1e-06]
}
