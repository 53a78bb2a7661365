package transport_test

import (
	"fmt"
	"math"

	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
)

// The current that positive ions of unlimited number carry through 50 mm of still
// air to a plate at −10 kV is that of Mott and Gurney, 9/8·ε0·μ·V²/L³ =
// 1.125 · 8.854e-12 · 1.4e-4 · 1e8 / 1.25e-4 = 1.116 mA/m².
func ExampleSolver_Solve() {
	s, err := transport.NewSolver(transport.SolverSettings{})
	if err != nil {
		panic(err)
	}
	p := transport.Problem{
		Positive: transport.Carrier{Mobility: 1.4e-4, Density: 1e18, Diffusivity: 1e-9},
		Negative: transport.Carrier{Mobility: 1.6e-4},
		Length:   50 * units.Millimetre, Flow: transport.UniformFlow{}, Temperature: units.Celsius(20),
		Wall: transport.Wall{Condition: transport.FixedPotential, Potential: -10 * units.Kilovolt},
	}
	var r transport.Solution
	if err := s.Solve(&p, &r); err != nil {
		panic(err)
	}
	fmt.Printf("%.3f mA/m²\n", 1e3*float64(r.WallCurrent))
	// Output: 1.116 mA/m²
}

// Air at 10 m/s that carries 1e12 ions of either polarity per m³ to an earthed
// plate brings e·n·u = 1.6e-19·1e12·10 = 1.6 µA/m² of each; recombination takes
// αnL/u = 1.6 % of them on 100 mm.
func ExampleSolver_SolveOn() {
	s, err := transport.NewSolver(transport.SolverSettings{})
	if err != nil {
		panic(err)
	}
	ion := transport.Carrier{Mobility: 1.5e-4, Density: 1e12}
	p := transport.Problem{Positive: ion, Negative: ion, Length: 0.1, Flow: transport.UniformFlow{Speed: 10},
		Recombination: 1.6e-12, Temperature: units.Celsius(20)}
	mesh := make([]units.Length, 101)
	for i := range mesh {
		mesh[i] = units.Length(i) * units.Millimetre
	}
	mesh[100] = p.Length
	var r transport.Solution
	if err := s.SolveOn(&p, mesh, &r); err != nil {
		panic(err)
	}
	fmt.Printf("arrive: %.2f µA/m², recombined: %.1f %%\n", 1e6*units.ElementaryCharge*r.WallPositive,
		100*r.PositiveBalance.Recombined/r.PositiveBalance.In)
	// Output: arrive: 1.58 µA/m², recombined: 1.6 %
}

// A surface that floats in a stream with 5 % more positive ions stands in the
// field −u·(n+ − n−)/(μ+n+ + μ−n−) = −814 V/m, 32 V at 50 mm where the ions have
// thinned out a little.
func ExampleSolver_Solve_offset() {
	s, err := transport.NewSolver(transport.SolverSettings{})
	if err != nil {
		panic(err)
	}
	p := transport.Problem{
		Positive: transport.Carrier{Mobility: 1.4e-4, Density: 1.05e13}, Negative: transport.Carrier{Mobility: 1.6e-4,
			Density: 1e13},
		Length: 50 * units.Millimetre, Flow: transport.UniformFlow{Speed: 5}, Recombination: 1.6e-12,
		Temperature: units.Celsius(20),
		Wall:        transport.Wall{Condition: transport.FloatingPotential},
	}
	var r transport.Solution
	if err := s.Solve(&p, &r); err != nil {
		panic(err)
	}
	fmt.Printf("%.0f V/m, %.0f V\n", float64(r.InletField), float64(r.WallPotential))
	// Output: -814 V/m, 32 V
}

// A web with 1 µC/m² passes at 1 m/s under 50 mm of an air stream. Its field of
// σ/ε0 = 113 kV/m moves negative ions at μE = 17 m/s beside the 10 m/s of the air, and
// keeps the positive ones off: e·n·(u + μE) = 1.6e-19·1e12·27 = 4.3 µA/m², 0.2 µC/m²
// in the 50 ms under the stream.
func ExampleSolver_Pass() {
	s, err := transport.NewSolver(transport.SolverSettings{})
	if err != nil {
		panic(err)
	}
	ion := transport.Carrier{Mobility: 1.5e-4, Density: 1e12}
	p := transport.Patch{
		Column: transport.Problem{Positive: ion, Negative: ion, Length: 0.05, Flow: transport.UniformFlow{Speed: 10},
			Recombination: 1.6e-12,
			Temperature:   units.Celsius(20), Wall: transport.Wall{Condition: transport.FixedCharge,
				Charge: units.MicrocoulombPerSquareMetre}},
		Speed: units.MetrePerSecond, Footprint: 50 * units.Millimetre,
	}
	var r transport.PatchResult
	if err := s.Pass(&p, &r); err != nil {
		panic(err)
	}
	fmt.Printf("leaves with %.1f µC/m²\n", 1e6*float64(r.Residual))
	// Output: leaves with 0.8 µC/m²
}

// A sine of 50 Hz in air at 10 m/s makes bunches of u/f = 200 mm. The surface
// 50 mm away meets first positive, then negative ions, and keeps their charge.
func ExampleTransient() {
	ac := transport.ACInlet{Frequency: 50, Positive: 1e12, Negative: 1e12}
	t, err := transport.NewTransient(transport.Problem{
		Positive: transport.Carrier{Mobility: 1.5e-4, Density: 1e12}, Negative: transport.Carrier{Mobility: 1.5e-4,
			Density: 1e12},
		Length: 50 * units.Millimetre, Flow: transport.UniformFlow{Speed: 10}, Recombination: 1.6e-12,
		Temperature: units.Celsius(20),
		Wall:        transport.Wall{Condition: transport.FixedCharge, BackGap: units.Millimetre},
	}, transport.TransientSettings{Inlet: ac.At})
	if err != nil {
		panic(err)
	}
	for _, ms := range []float64{15, 25} { // half a wave after the first ions arrive, and a whole one
		if err := t.Advance(units.Time(ms) * units.Millisecond); err != nil {
			panic(err)
		}
		fmt.Printf("%.0f ms: %.0f nC/m²\n", ms, math.Abs(1e9*float64(t.Charge())))
	}
	// A half wave brings e·n·u/(πf) = 10.2 nC/m².
	// Output:
	// 15 ms: 10 nC/m²
	// 25 ms: 0 nC/m²
}

// At a Péclet number w·h/D = 5 the flux into an absorbing wall is n·w/(1 − e⁻⁵) =
// 1e13·1/0.99326 = 1.0068e13.
func ExampleFittedFlux() {
	fmt.Printf("%.4e\n", transport.FittedFlux(1e13, 0, 1, 0.01, 0.05))
	fmt.Printf("%.4f\n", transport.Bernoulli(1)) // 1/(e − 1)
	// Output:
	// 1.0068e+13
	// 0.5820
}

// Currents to a surface for several charges, one row each, on all cores.
func ExampleWallCurrentsTo() {
	ion := transport.Carrier{Mobility: 1.5e-4, Density: 1e13}
	p := make([]transport.Problem, 3)
	for i := range p {
		p[i] = transport.Problem{Positive: ion, Negative: ion, Length: 0.05, Flow: transport.UniformFlow{Speed: 5},
			Recombination: 1.6e-12, Temperature: units.Celsius(20),
			Wall: transport.Wall{Condition: transport.FixedCharge, Charge: units.SurfaceChargeDensity(float64(i-1) * 1e-7)}}
	}
	j := make([]units.CurrentDensity, len(p))
	if err := transport.WallCurrentsTo(j, p, transport.SolverSettings{}, 0); err != nil {
		panic(err)
	}
	fmt.Printf("%t %t %t\n", j[0] > 0, math.Abs(float64(j[1])) < 1e-12, j[2] < 0)
	// Output: true true true
}
