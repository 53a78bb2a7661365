package transport

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// Crowding is a factor on recombination and on nothing else.
func TestCrowding(t *testing.T) {
	s, err := NewSolver(SolverSettings{})
	if err != nil {
		t.Fatal(err)
	}
	p := Problem{
		Positive: Carrier{Mobility: 1.4e-4, Density: 1.1e14}, Negative: Carrier{Mobility: 1.6e-4, Density: 1e14},
		Length: 0.05, Flow: crowded{10, 3}, Recombination: 1.6e-12, Temperature: 293.15,
		Wall: Wall{Condition: FixedCharge, Charge: 1e-6},
	}
	var a, b Solution
	if err := s.Solve(&p, &a); err != nil {
		t.Fatal(err)
	}
	p.Flow, p.Recombination = UniformFlow{Speed: 10}, 4.8e-12
	if err := s.Solve(&p, &b); err != nil {
		t.Fatal(err)
	}
	for _, c := range [][2]float64{
		{float64(a.WallCurrent), float64(b.WallCurrent)},
		{a.PositiveBalance.Recombined, b.PositiveBalance.Recombined},
	} {
		if !(math.Abs(c[0]-c[1]) <= 1e-5*math.Abs(c[1])) {
			t.Errorf("%g with crowding, %g with three times the coefficient", c[0], c[1])
		}
	}
	if !(math.Abs(a.PositiveBalance.Defect()) <= 1e-6*a.PositiveBalance.In) {
		t.Errorf("balance %g of %g", a.PositiveBalance.Defect(), a.PositiveBalance.In)
	}
	p.Flow = crowded{10, -1}
	if err := s.Solve(&p, &b); err == nil {
		t.Error("negative crowding accepted")
	}
}

type crowded struct{ u, c float64 }

func (f crowded) At(units.Length) FlowPoint {
	return FlowPoint{Speed: units.Speed(f.u), Area: 1, Crowding: units.Ratio(f.c)}
}
