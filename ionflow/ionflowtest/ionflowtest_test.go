package ionflowtest_test

import (
	"errors"
	"flag"
	"fmt"
	"testing"

	"example.org/pithball/ionflow"
	. "example.org/pithball/ionflow/ionflowtest"
	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
)

// One seed, so that a run repeats; -rapid.seed=0 draws anew, and fuzzing explores.
func init() { _ = flag.Set("rapid.seed", "1") }

var (
	stated = Domain{Supply: 30 * units.MicroamperePerMetre}
	offset = Domain{Offset: units.SurfaceChargeDensity(-3e-8)}
	// The path asks for 1e-9 a step.
	langevin = Domain{Mobility: 1.5e-4, Alpha: ionflow.LangevinRecombination(1.5e-4, 1.5e-4), RelTol: 1e-6}
	unequal  = Domain{Mobility: 1.5e-4, Alpha: 1.6e-12, RelTol: 1e-6}
	pairs    = Domain{Alpha: 1.6e-12}
)

func TestActors(t *testing.T) {
	for name, d := range map[string]Domain{"any supply": {}, "stated supply": stated, "offset": offset} {
		t.Run(name, func(t *testing.T) { Actors(d).RunModels(t) })
	}
}

func TestIonisers(t *testing.T) { Ionisers().RunModels(t) }

func TestPopulation(t *testing.T) {
	for name, d := range map[string]Domain{"langevin": langevin, "unequal": unequal, "pairs": pairs} {
		t.Run(name, func(t *testing.T) { Populations(d).RunModels(t) })
	}
}

func FuzzActors(f *testing.F) { Actors(stated).FuzzModels(f) }

func FuzzIonisers(f *testing.F) { Ionisers().FuzzModels(f) }

func FuzzPopulation(f *testing.F) { Populations(pairs).FuzzModels(f) }

func TestProof(t *testing.T) {
	if err := errors.Join(Actors(stated).Prove(), Ionisers().Prove(), Populations(unequal).Prove(),
		Populations(pairs).Prove(),
		Steadies(Domain{}).Prove()); err != nil {
		t.Error(err)
	}
}

func solver(t *testing.T, s transport.SolverSettings) *transport.Solver {
	m, err := transport.NewSolver(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestSolver(t *testing.T) {
	Steadies(Domain{}).Run(t, solver(t, transport.SolverSettings{Tolerance: 1e-5, DensityTolerance: 1e-3}))
}

// TestVolumes holds the finite volumes on a coarse even mesh to the laws that do not
// ask for accuracy.
func TestVolumes(t *testing.T) {
	s := solver(t, transport.SolverSettings{})
	Steadies(Domain{RelTol: 1e-8}).Without("ends", "asks for accuracy").Without("current kept", "asks for accuracy").
		Run(t, SteadyFunc(func(p *transport.Problem, r *transport.Solution) error {
			const n = 30
			mesh := make([]units.Length, n+1)
			for i := range mesh {
				mesh[i] = units.Length(float64(p.Length) * float64(i) / n)
			}
			mesh[n] = p.Length
			return s.SolveOn(p, mesh, r)
		}))
}

// A model that lets a bar clean a double layer is found out.
func ExampleActors() {
	greedy := ActorFunc(func(net units.SurfaceChargeDensity, v units.Speed) units.SurfaceChargeDensity {
		return -net - units.SurfaceChargeDensity(1e-6+0*float64(v))
	})
	k := Actors(Domain{})
	k.Laws = k.Laws[1:2]
	fmt.Println(k.Check(greedy))
	// Output:
	// unseen: net 0 and offset 0: deposit 0, however much is on the two faces
	// 	why: a double layer has no outside field
	// 	model: ionflowtest.ActorFunc
	// 	Net: 1 nC/m²
	// 	More: 1 pC/m²
	// 	Speed: 1 m/s
	// 	got: -1 µC/m²
	// 	want: 0
}
