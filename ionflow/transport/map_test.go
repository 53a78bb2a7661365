package transport

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// fullCurrent returns the current density on to a wall of charge sigma in the full
// one-dimensional problem of the table in the package documentation.
func fullCurrent(t *testing.T, s *Solver, u, n, sigma float64) float64 {
	t.Helper()
	var r Solution
	p := Problem{
		Positive: Carrier{Mobility: 1.4e-4, Density: units.NumberDensity(n)}, Negative: Carrier{Mobility: 1.6e-4,
			Density: units.NumberDensity(n)},
		Length: 0.03, Flow: StagnationFlow{Speed: units.Speed(u), Distance: 0.03}, Recombination: 1.6e-12,
		Temperature: 293.15,
		Wall:        Wall{Condition: FixedCharge, Charge: units.SurfaceChargeDensity(sigma)},
	}
	if err := s.Solve(&p, &r); err != nil {
		t.Fatal(err)
	}
	return -float64(r.WallCurrent)
}

// quickCurrent returns the current density of Act with an abundant supply, from the deposit
// in a time so short that the charge hardly changes.
func quickCurrent(t *testing.T, n, sigma float64) float64 {
	t.Helper()
	c := ionflow.Carriers{Conductivity: ionflow.PolarConductivity(units.NumberDensity(n), 1.6e-4), Supply: 1e6}
	const zone, v = 1e-3, 1e3
	d, _ := mustNeutraliser(t, ionflow.NeutraliserSpec{Minus: c, Zone: zone}).Act(units.SurfaceChargeDensity(sigma), v, 1)
	return -float64(d) * v / zone
}

// The table of the package documentation is the quick model over the full one.
func TestErrorMapInTheDocumentation(t *testing.T) {
	b, err := os.ReadFile("../doc.go")
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewSolver(SolverSettings{})
	if err != nil {
		t.Fatal(err)
	}
	sigmas := []float64{1e-8, 1e-7, 3e-7, 1e-6, 3e-6, 1e-5}
	rows := 0
	for line := range strings.Lines(string(b)) {
		f := strings.Fields(strings.TrimPrefix(line, "//"))
		if len(f) != 2+len(sigmas) || !strings.Contains(f[1], "e+1") {
			continue
		}
		rows++
		u, _ := strconv.ParseFloat(f[0], 64)
		n, _ := strconv.ParseFloat(f[1], 64)
		for i, sigma := range sigmas {
			printed, err := strconv.ParseFloat(f[2+i], 64)
			if err != nil {
				t.Fatal(err)
			}
			got := quickCurrent(t, n, sigma) / fullCurrent(t, s, u, n, sigma)
			if !(math.Abs(got-printed) <= 0.006) { // two printed decimals
				t.Errorf("u %g n %g σ %g: printed %.2f, is %.4f", u, n, sigma, printed, got)
			}
		}
	}
	if rows != 12 {
		t.Errorf("%d rows found in the documentation", rows)
	}
}

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

// The drawn source against the full problem with one polarity, no air and an inlet so dense that
// only space charge limits the current.
func TestDrawnAgainstTheFullProblem(t *testing.T) {
	s, err := NewSolver(SolverSettings{})
	if err != nil {
		t.Fatal(err)
	}
	for _, gap := range []float64{0.01, 0.05} {
		for _, sigma := range []float64{1e-7, 1e-6, 1e-5} {
			var r Solution
			p := Problem{
				Positive: Carrier{Mobility: 1.4e-4}, Negative: Carrier{Mobility: 1.6e-4,
					Density: 1e18}, Length: units.Length(gap), Flow: UniformFlow{}, Temperature: 293.15,
				Wall: Wall{Condition: FixedCharge, Charge: units.SurfaceChargeDensity(sigma)},
			}
			if err := s.Solve(&p, &r); err != nil {
				t.Fatal(err)
			}
			n := mustNeutraliser(t, ionflow.NeutraliserSpec{Minus: ionflow.Carriers{Mobility: 1.6e-4, Supply: 1e6}, Zone: 1e-3,
				Gap: units.Length(gap)})
			d, _ := n.Act(units.SurfaceChargeDensity(sigma), 1e7, 1) // so fast that the charge hardly changes
			// Where the field vanishes at the inlet, diffusion helps: by the scales of the equation over a
			// length (kT/eV)^⅔ of the gap. 0.5 to 0.02 % here, times a number of the order of 1.
			volt := 2. / 3 * sigma / units.Epsilon0 * gap
			near(t, "drawn current", -float64(d)*1e7/1e-3, -float64(r.WallCurrent),
				4*math.Pow(float64(units.ThermalVoltage(293.15))/volt, 2./3))
		}
	}
}
