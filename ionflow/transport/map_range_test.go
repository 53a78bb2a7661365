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

// printedRows returns the rows of the documentation from the line that holds head to the
// next line without text, as numbers.
func printedRows(t *testing.T, head string, rows, columns int) [][]float64 {
	t.Helper()
	b, err := os.ReadFile("../doc.go")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, found := strings.Cut(string(b), head)
	if !found {
		t.Fatalf("no table %q in the documentation", head)
	}
	_, rest, _ = strings.Cut(rest, "\n")
	var table [][]float64
	for line := range strings.Lines(rest) {
		f := strings.Fields(strings.TrimPrefix(line, "//"))
		if len(f) == 0 {
			break
		}
		row := make([]float64, len(f))
		for i, s := range f {
			if row[i], err = strconv.ParseFloat(s, 64); err != nil {
				t.Fatal(err)
			}
		}
		if len(row) != columns {
			t.Fatalf("%q: %d columns", line, len(row))
		}
		table = append(table, row)
	}
	if len(table) != rows {
		t.Fatalf("%d rows under %q", len(table), head)
	}
	return table
}

// mapPoint is a point of the tables of airborne sources; mu and alpha scale those of the first table.
type mapPoint struct{ gap, u, n, sigma, mu, alpha float64 }

// ratio returns the quick over the full current density.
func (m mapPoint) ratio(t *testing.T, s *Solver) float64 {
	t.Helper()
	var r Solution
	n := units.NumberDensity(m.n)
	p := Problem{
		Positive: Carrier{Mobility: units.Mobility(1.4e-4 * m.mu),
			Density: n}, Negative: Carrier{Mobility: units.Mobility(1.6e-4 * m.mu), Density: n},
		Length: units.Length(m.gap), Flow: StagnationFlow{Speed: units.Speed(m.u), Distance: units.Length(m.gap)},
		Recombination: units.RecombinationCoefficient(1.6e-12 * m.alpha), Temperature: 293.15,
		Wall: Wall{Condition: FixedCharge, Charge: units.SurfaceChargeDensity(m.sigma)},
	}
	if err := s.Solve(&p, &r); err != nil {
		t.Fatal(err)
	}
	// So fast that the charge changes by λ·zone/(ε0·v), below 1e-6, in the dwell.
	const zone, v = 1e-3, 1e6
	c := ionflow.Carriers{Conductivity: ionflow.PolarConductivity(n, units.Mobility(1.6e-4*m.mu)), Supply: 1e6}
	d, _ := mustNeutraliser(t, ionflow.NeutraliserSpec{Minus: c, Zone: zone}).Act(units.SurfaceChargeDensity(m.sigma), v,
		1)
	return float64(d) * v / zone / float64(r.WallCurrent)
}

func mapSolver(t *testing.T) *Solver {
	t.Helper()
	s, err := NewSolver(SolverSettings{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// With lengths in L and densities in 1/L the equations hold L in the diffusion alone, so that the
// table of 30 mm serves 10 and 100 mm.
func TestErrorMapAtOtherGaps(t *testing.T) {
	s := mapSolver(t)
	for _, row := range printedRows(t, "σ = 0.01   0.1   0.3", 12, 8) {
		for i, sigma := range []float64{1e-7, 3e-7, 1e-6, 3e-6, 1e-5} {
			for _, gap := range []float64{0.01, 0.1} {
				got := mapPoint{gap, row[0], row[1] * 0.03 / gap, sigma, 1, 1}.ratio(t, s)
				if !(math.Abs(got-row[3+i]) <= 0.01) { // as documented
					t.Errorf("gap %g u %g n·L %g σ %g: %.4f, at 30 mm %.2f", gap, row[0], row[1]*0.03, sigma, got, row[3+i])
				}
			}
		}
	}
	for _, row := range printedRows(t, "L = 10    30   100 mm", 12, 5) {
		for i, gap := range []float64{0.01, 0.03, 0.1} {
			got := mapPoint{gap, row[0], row[1] / gap, 1e-8, 1, 1}.ratio(t, s)
			if !(math.Abs(got-row[2+i]) <= 0.006) { // two printed decimals
				t.Errorf("gap %g u %g n·L %g: printed %.2f, is %.4f", gap, row[0], row[1], row[2+i], got)
			}
		}
	}
}

func TestErrorMapOfOtherIons(t *testing.T) {
	s := mapSolver(t)
	for _, row := range printedRows(t, "middle   μ−20 %", 9, 8) {
		for i, k := range [][2]float64{{1, 1}, {0.8, 1}, {1.2, 1}, {1, 0.6}, {1, 1.4}} {
			got := mapPoint{0.03, row[0], row[1], row[2] * 1e-6, k[0], k[1]}.ratio(t, s)
			if !(math.Abs(got-row[3+i]) <= 0.0006) { // three printed decimals
				t.Errorf("u %g n %g σ %g µC/m² μ×%g α×%g: printed %.3f, is %.4f", row[0], row[1], row[2], k[0], k[1], row[3+i], got)
			}
		}
	}
}

// One polarity drifts from density n at the inlet to the field σ/ε0 at the wall: Poisson's
// equation with j = enμE everywhere gives E² linear in x and σ/(ε0·E(0)) = b + √(1 + b²), b = enL/σ,
// a closed form that neither model holds. The air adds u to the drift; at u/(μσ/ε0) of 0.01 to 0.11
// here it may take away that share of the excess.
func TestErrorMapIsSpaceChargeWhereDriftIsFast(t *testing.T) {
	s := mapSolver(t)
	for _, gap := range []float64{0.01, 0.03, 0.1} {
		for _, sigma := range []float64{1e-6, 3e-6, 1e-5} {
			for _, nl := range []float64{3e10, 3e11, 3e12} {
				b := units.ElementaryCharge * nl / sigma
				want := b + math.Sqrt(1+b*b)
				share := 2 / (1.6e-4 * sigma / units.Epsilon0)
				got := mapPoint{gap, 2, nl / gap, sigma, 1, 1}.ratio(t, s)
				if !(got <= want && got-1 >= (want-1)*(1-share)) {
					t.Errorf("gap %g n·L %g σ %g: %.5f, closed form without air %.5f", gap, nl, sigma, got, want)
				}
			}
		}
	}
}

// drawnCurrents returns the current densities of the quick and the full model of a source that the
// field draws, with earthed metal at back behind the wall (0 for none).
func drawnCurrents(t *testing.T, s *Solver, gap, back units.Length,
	sigma units.SurfaceChargeDensity) (quick, full float64) {
	t.Helper()
	var r Solution
	p := Problem{
		Positive: Carrier{Mobility: 1.4e-4}, Negative: Carrier{Mobility: 1.6e-4,
			Density: 1e18}, Length: gap, Flow: UniformFlow{}, Temperature: 293.15,
		Wall: Wall{Condition: FixedCharge, Charge: sigma, BackGap: back},
	}
	if err := s.Solve(&p, &r); err != nil {
		t.Fatal(err)
	}
	factor := 1.0
	if back > 0 {
		factor = float64(back / (back + gap))
	}
	n := mustNeutraliser(t, ionflow.NeutraliserSpec{Minus: ionflow.Carriers{Mobility: 1.6e-4, Supply: 1e6}, Zone: 1e-3,
		Gap: gap})
	d, _ := n.Act(sigma, 1e7, factor) // so fast that the charge hardly changes
	return -float64(d) * 1e7 / 1e-3, -float64(r.WallCurrent)
}

func TestDrawnMapInTheDocumentation(t *testing.T) {
	s := mapSolver(t)
	for _, row := range printedRows(t, "gap, mm   σ = 0.3", 4, 6) {
		for i, sigma := range []units.SurfaceChargeDensity{3e-7, 1e-6, 3e-6, 1e-5, 2e-5} {
			quick, full := drawnCurrents(t, s, units.Length(row[0]*1e-3), 0, sigma)
			if got := quick / full; !(math.Abs(got-row[1+i]) <= 0.0006) { // three printed decimals
				t.Errorf("gap %g mm σ %g: printed %.3f, is %.5f", row[0], sigma, row[1+i], got)
			}
		}
	}
}

// With E ∝ √x in the gap d the wall is at ⅔·E·d, so that metal at h takes ⅔·E·d/h of the charge's field
// and E = (σ/ε0)·h/(h + 2d/3); ion-free space has h/(h + d).
func TestDrawnLawUnderstatesBeforeABacking(t *testing.T) {
	s := mapSolver(t)
	for _, gap := range []float64{0.025, 0.1} {
		for _, h := range []float64{0.01, 0.03, 0.3} {
			const sigma = 1e-5
			quick, full := drawnCurrents(t, s, units.Length(gap), units.Length(h), sigma)
			// The two forms differ by 5 % at least here; diffusion is of the scale (kT/eV)^⅔, below 3e-4.
			near(t, "full over drawn", full/quick, math.Pow((h+gap)/(h+2*gap/3), 2), 0.004)
		}
	}
}
