package transport

import (
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// The offset is that of the full problem in uniform flow of thin plumes, and an upper
// bound elsewhere.
func TestOffsetAgainstTheFullProblem(t *testing.T) {
	s, err := NewSolver(SolverSettings{})
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range []float64{2, 5, 10, 30} {
		for _, n := range []float64{1e10, 1e11, 1e12, 1e13} {
			quick := -units.Epsilon0 * float64(ionflow.OffsetField(units.Speed(u), units.NumberDensity(1.05*n),
				units.NumberDensity(n), testIons))
			for _, flow := range []FlowProfile{UniformFlow{Speed: units.Speed(u)},
				StagnationFlow{Speed: units.Speed(u), Distance: 0.03}} {
				var r Solution
				p := Problem{
					Positive: Carrier{Mobility: testIons.Plus,
						Density: units.NumberDensity(1.05 * n)},
					Negative: Carrier{Mobility: testIons.Minus, Density: units.NumberDensity(n)},
					Length:   0.03, Flow: flow, Recombination: testIons.Alpha, Temperature: 293.15,
					Wall: Wall{Condition: FloatingPotential},
				}
				if err := s.Solve(&p, &r); err != nil {
					t.Fatal(err)
				}
				share := float64(r.WallCharge) / quick
				lo, hi := 0.92, 1.001 // as documented
				switch flow.(type) {
				case UniformFlow:
					if n == 1e13 {
						lo, hi = 0.47, 0.95
					}
				default:
					lo, hi = -0.02, 0.02
				}
				if !(share >= lo && share <= hi) {
					t.Errorf("%T u %g n %g: %.4f of the quick offset", flow, u, n, share)
				}
			}
		}
	}
}
