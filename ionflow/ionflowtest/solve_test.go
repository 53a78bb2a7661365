package ionflowtest_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	. "example.org/pithball/ionflow/ionflowtest"
	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
)

func solver(t *testing.T) Steady {
	s, err := transport.NewSolver(transport.SolverSettings{Tolerance: 1e-5, DensityTolerance: 1e-3})
	if err != nil {
		t.Fatal(err)
	}
	return SteadyFunc(s.Solve) // prints as an address
}

func TestSolver(t *testing.T) {
	Run(t, SteadyLaws(), rapid.Just[Steady](solver(t)), Columns(), Domain{})
}

// TestVolumes holds the finite volumes on a coarse even mesh to the statements
// that do not ask for accuracy.
func TestVolumes(t *testing.T) {
	s, err := transport.NewSolver(transport.SolverSettings{})
	if err != nil {
		t.Fatal(err)
	}
	m := SteadyFunc(func(p *transport.Problem, r *transport.Solution) error {
		const n = 30
		mesh := make([]units.Length, n+1)
		for i := range mesh {
			mesh[i] = units.Length(float64(p.Length) * float64(i) / n)
		}
		mesh[n] = p.Length
		return s.SolveOn(p, mesh, r)
	})
	Run(t, []Law[Steady, transport.Problem]{NotNegative(), Balanced(), LessArrives(), MirrorImage()}, rapid.Just[Steady](m), Columns(), Domain{RelTol: 1e-8})
}

func TestBrokenSteadiesAreFound(t *testing.T) {
	p := transport.Problem{
		Positive: transport.Carrier{Mobility: 1.4e-4, Density: 5e13}, Negative: transport.Carrier{Mobility: 1.6e-4, Density: 4e13},
		Length: 0.1, Flow: transport.UniformFlow{Speed: 10}, Recombination: 1.6e-12, Temperature: 293,
		Wall: transport.Wall{Condition: transport.FixedCharge, Charge: 1e-7},
	}
	right := solver(t)
	if err := Check(SteadyLaws(), right, Domain{}, nil, p); err != nil {
		t.Errorf("the right solver: %v", err)
	}
	models := BrokenSteadies(right)
	for _, l := range SteadyLaws() {
		m, ok := models[l.Name]
		if !ok {
			t.Errorf("%s: no broken solver", l.Name)
			continue
		}
		var v *Violation
		if err := Check([]Law[Steady, transport.Problem]{l}, m, Domain{}, nil, p); !errors.As(err, &v) || v.Law != l.Name {
			t.Errorf("%s: not found: %v", l.Name, err)
		}
	}
}
