// Command bvp solves the reference cases of ionflow's one-dimensional problem and
// writes inputs and results as JSON, for bvp.py to solve again with scipy.
package main

import (
	"encoding/json"
	"fmt"
	"os"

	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
)

type kase struct {
	Name  string
	Flow  string
	U0    float64 // m/s
	X0    float64 // m
	L     float64 // m
	P, M  float64 // 1/m³
	Wall  string
	Value float64 // V or C/m²
	// constants and properties, so that both sides use the same
	MuP, MuM, Alpha, T, Eps0, E, KB float64
	// results
	X, Np, Nm, Phi       []float64
	Jp, Jm, EWall, E0, V float64
}

func main() {
	cases := []kase{
		{Name: "A", Flow: "const", U0: 10, L: 0.10, P: 1e13, M: 1e13, Wall: "potential", Value: 0},
		{Name: "B", Flow: "const", U0: 5, L: 0.05, P: 1e13, M: 1e13, Wall: "charge", Value: 1e-6},
		{Name: "C", Flow: "stagnation", U0: 10, L: 0.05, P: 2e13, M: 2e13, Wall: "potential", Value: 2000},
		{Name: "D", Flow: "jet", U0: 20, X0: 0.03, L: 0.15, P: 5e13, M: 5e13, Wall: "potential", Value: -1000},
		{Name: "E", Flow: "const", U0: 10, L: 0.05, P: 1.1e14, M: 1e14, Wall: "charge", Value: -1e-7},
		{Name: "F", Flow: "const", U0: 10, L: 0.05, P: 1.1e14, M: 1e14, Wall: "charge", Value: -2e-6},
		{Name: "G", Flow: "const", U0: 5, L: 0.05, P: 1.05e13, M: 1e13, Wall: "floating"},
	}
	s, err := transport.NewSolver(transport.SolverSettings{Tolerance: 1e-9, DensityTolerance: 1e-6})
	if err != nil {
		fail(err)
	}
	var r transport.Solution
	for i := range cases {
		c := &cases[i]
		c.MuP, c.MuM, c.Alpha, c.T = 1.4e-4, 1.6e-4, 1.6e-12, 293.15
		c.Eps0, c.E, c.KB = units.Epsilon0, units.ElementaryCharge, units.Boltzmann
		if err := s.Solve(c.problem(), &r); err != nil {
			fail(fmt.Errorf("case %s: %w", c.Name, err))
		}
		for k := range r.X {
			c.X = append(c.X, float64(r.X[k]))
			c.Np = append(c.Np, float64(r.Positive[k]))
			c.Nm = append(c.Nm, float64(r.Negative[k]))
			c.Phi = append(c.Phi, float64(r.Potential[k]))
		}
		c.Jp, c.Jm = r.WallPositive, r.WallNegative
		c.EWall, c.E0, c.V = float64(r.WallField), float64(r.InletField), float64(r.WallPotential)
	}
	if err := json.NewEncoder(os.Stdout).Encode(cases); err != nil {
		fail(err)
	}
}

func (c *kase) problem() *transport.Problem {
	p := &transport.Problem{
		Positive: transport.Carrier{Mobility: units.Mobility(c.MuP), Density: units.NumberDensity(c.P)},
		Negative: transport.Carrier{Mobility: units.Mobility(c.MuM), Density: units.NumberDensity(c.M)},
		Length:   units.Length(c.L), Recombination: units.RecombinationCoefficient(c.Alpha),
		Temperature: units.Temperature(c.T),
	}
	u, x0 := units.Speed(c.U0), units.Length(c.X0)
	switch c.Flow {
	case "const":
		p.Flow = transport.UniformFlow{Speed: u}
	case "stagnation":
		p.Flow = transport.StagnationFlow{Speed: u, Distance: p.Length}
	default:
		p.Flow = transport.JetFlow{Speed: u, Origin: x0}
	}
	switch c.Wall {
	case "potential":
		p.Wall = transport.Wall{Condition: transport.FixedPotential, Potential: units.Voltage(c.Value)}
	case "charge":
		p.Wall = transport.Wall{Condition: transport.FixedCharge, Charge: units.SurfaceChargeDensity(c.Value)}
	default:
		p.Wall.Condition = transport.FloatingPotential
	}
	return p
}

func fail(err error) {
	fmt.Fprintln(os.Stderr, err)
	os.Exit(1)
}
