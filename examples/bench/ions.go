package main

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"

	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
)

// ionCase is a gap of air with ions of both polarities and a surface.
type ionCase struct {
	name        string
	l           float64 // [m]
	plus, minus float64 // [1/m³] at the inlet
	flow        transport.FlowProfile
	wall        transport.Wall
}

var ionCases = []ionCase{
	{"A_neutral_recomb", 0.1, 1e13, 1e13, transport.UniformFlow{Speed: 10}, transport.Wall{}},
	{"B_fixed_sigma_pos", 0.05, 1e13, 1e13, transport.UniformFlow{Speed: 5},
		transport.Wall{Condition: transport.FixedCharge, Charge: 1e-6}},
	{"C_fixed_V_stagnation", 0.05, 2e13, 2e13, transport.StagnationFlow{Speed: 10, Distance: 0.05},
		transport.Wall{Potential: 2000}},
	{"D_entraining_jet_negV", 0.15, 5e13, 5e13, transport.JetFlow{Speed: 20, Origin: 0.03},
		transport.Wall{Potential: -1000}},
	{"E_imbalanced_strong_bipolar", 0.05, 1.1e14, 1e14, transport.UniformFlow{Speed: 10},
		transport.Wall{Condition: transport.FixedCharge, Charge: -1e-7}},
	{"F_unipolar_limit", 0.05, 1.1e14, 1e14, transport.UniformFlow{Speed: 10},
		transport.Wall{Condition: transport.FixedCharge, Charge: -2e-6}},
	{"G_floating_offset", 0.05, 1.05e13, 1e13, transport.UniformFlow{Speed: 5},
		transport.Wall{Condition: transport.FloatingPotential}},
}

func (c *ionCase) problem() transport.Problem {
	return transport.Problem{Positive: transport.Carrier{Mobility: 1.4e-4, Density: units.NumberDensity(c.plus)},
		Negative: transport.Carrier{Mobility: 1.6e-4, Density: units.NumberDensity(c.minus)},
		Length:   units.Length(c.l), Flow: c.flow, Wall: c.wall, Recombination: 1.6e-12, Temperature: 293.15}
}

// mesh has n cells, fine at both ends: x(s) is the integral of 1/(e^(a·max(0, 1−2s)) + e^(b·max(0, 2s−1)) − 1) by
// trapezia on 20,001 points, interpolated by a monotone cubic.
func mesh(l float64, n int) []units.Length {
	const points = 20001
	a, b := math.Log(l/2e-7), math.Log(l/2e-8)
	s, w := make([]float64, points), make([]float64, points)
	g := func(s float64) float64 {
		return 1 / (math.Exp(a*math.Max(0, 1-2*s)) + math.Exp(b*math.Max(0, 2*s-1)) - 1)
	}
	for i := range s {
		s[i] = float64(i) / (points - 1)
		if i > 0 {
			w[i] = w[i-1] + (g(s[i])+g(s[i-1]))/2
		}
	}
	for i := range w {
		w[i] /= w[points-1]
	}
	var f interp.FritschButland
	must(f.Fit(s, w))
	x := make([]units.Length, n+1)
	for i := range x {
		x[i] = units.Length(l * f.Predict(float64(i)/float64(n)))
	}
	x[0], x[n] = 0, units.Length(l)
	return x
}

// ends is what is told of a solution.
type ends struct {
	Jp float64 `json:"Jp_w"`
	Jn float64 `json:"Jn_w"`
	Ew float64 `json:"E_w"`
	E0 float64 `json:"E_0"`
	V  float64 `json:"V_w"`
}

func endsOf(s *transport.Solution) ends {
	return ends{s.WallPositive, s.WallNegative, float64(s.WallField), float64(s.InletField), float64(s.WallPotential)}
}

// volumes is work p1: exponentially fitted finite volumes on a given mesh, from a cold start.
func volumes() (list []work) {
	sv, err := transport.NewSolver(transport.SolverSettings{})
	must(err)
	for _, n := range []int{400, 3200} {
		var sols [7]transport.Solution
		var meshes [7][]units.Length
		var problems [7]transport.Problem
		for i := range ionCases {
			meshes[i], problems[i] = mesh(ionCases[i].l, n), ionCases[i].problem()
			list = append(list, work{"p1_ion_bvp/" + ionCases[i].name, n, 1, func() any {
				must(sv.SolveOn(&problems[i], meshes[i], &sols[i]))
				return endsOf(&sols[i])
			}})
		}
		list = append(list, work{"p1_ion_bvp/all_7_cases", n, 1, func() any {
			var v [7]float64
			for i := range problems {
				must(sv.SolveOn(&problems[i], meshes[i], &sols[i]))
				v[i] = float64(sols[i].WallPotential)
			}
			return v
		}})
	}
	return list
}

// limit is work p1b: the same to the limit of fine meshes. The fluxes of the other program agree with themselves to
// 1e-9 from different meshes; ours are asked for 1e-8.
func limit() (list []work) {
	sv, err := transport.NewSolver(transport.SolverSettings{Tolerance: 1e-8, DensityTolerance: 1e-2})
	must(err)
	var problems [7]transport.Problem
	var sol transport.Solution
	nodes := 0
	for i := range ionCases {
		problems[i] = ionCases[i].problem()
		must(sv.Solve(&problems[i], &sol)) // for the number of nodes
		nodes += len(sol.X)
		list = append(list, work{"p1b_solve_bvp/" + ionCases[i].name, len(sol.X), 1, func() any {
			must(sv.Solve(&problems[i], &sol))
			return endsOf(&sol)
		}})
	}
	return append(list, work{"p1b_solve_bvp/all_7_cases", nodes, 1, func() any {
		for i := range problems {
			must(sv.Solve(&problems[i], &sol))
		}
		return fmt.Sprint(len(problems), " solved")
	}})
}
