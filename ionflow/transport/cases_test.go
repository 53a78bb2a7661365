package transport_test

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"testing"

	"example.org/pithball/ionflow/transport"
	"example.org/pithball/testdata"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// ionCase is one case of testdata/ioncases.json: a problem, and what other
// programs say of it.
type ionCase struct {
	Name             string
	Length           float64
	Positive         float64
	Negative         float64
	MobilityPositive float64 `json:"mobility_positive"`
	MobilityNegative float64 `json:"mobility_negative"`
	Recombination    float64
	Temperature      float64
	Flow             string
	Speed, Origin    float64
	Wall             string
	Value            float64
	Values           []struct {
		What   string
		Want   float64
		X      float64
		RelTol float64 `json:"rel_tol"`
		AbsTol float64 `json:"abs_tol"`
		Source string
	}
}

func ionCases(t testing.TB) []ionCase {
	t.Helper()
	b, err := fs.ReadFile(testdata.FS(), "ioncases.json")
	if err != nil {
		t.Fatal(err)
	}
	var f struct {
		Sources map[string]known.Source
		Cases   []ionCase
	}
	if err := json.Unmarshal(b, &f); err != nil {
		t.Fatal(err)
	}
	for _, c := range f.Cases {
		for _, v := range c.Values {
			if s := f.Sources[v.Source]; s.Provenance != known.Computed || s.Cite == "" {
				t.Fatalf("case %s, %s: source %q has no method", c.Name, v.What, v.Source)
			}
		}
	}
	return f.Cases
}

func (c *ionCase) problem() transport.Problem {
	p := transport.Problem{
		Positive: transport.Carrier{Mobility: units.Mobility(c.MobilityPositive), Density: units.NumberDensity(c.Positive)},
		Negative: transport.Carrier{Mobility: units.Mobility(c.MobilityNegative), Density: units.NumberDensity(c.Negative)},
		Length:   units.Length(c.Length), Recombination: units.RecombinationCoefficient(c.Recombination),
		Temperature: units.Temperature(c.Temperature),
	}
	u := units.Speed(c.Speed)
	switch c.Flow {
	case "const":
		p.Flow = transport.UniformFlow{Speed: u}
	case "stagnation":
		p.Flow = transport.StagnationFlow{Speed: u, Distance: p.Length}
	case "jet":
		p.Flow = transport.JetFlow{Speed: u, Origin: units.Length(c.Origin)}
	}
	switch c.Wall {
	case "potential":
		p.Wall = transport.Wall{Condition: transport.FixedPotential, Potential: units.Voltage(c.Value)}
	case "charge":
		p.Wall = transport.Wall{Condition: transport.FixedCharge, Charge: units.SurfaceChargeDensity(c.Value)}
	case "floating":
		p.Wall.Condition = transport.FloatingPotential
	}
	return p
}

func value(r *transport.Solution, what string, x float64) float64 {
	p, m, _, _ := r.At(units.Length(x))
	switch what {
	case "positive":
		return float64(p)
	case "negative":
		return float64(m)
	case "wall_positive":
		return r.WallPositive
	case "wall_negative":
		return r.WallNegative
	case "wall_field":
		return float64(r.WallField)
	case "inlet_field":
		return float64(r.InletField)
	case "wall_potential":
		return float64(r.WallPotential)
	case "wall_current":
		return float64(r.WallCurrent)
	}
	return math.NaN()
}

func newSolver(t testing.TB, tol, dens float64) *transport.Solver {
	t.Helper()
	s, err := transport.NewSolver(transport.SolverSettings{Tolerance: tol, DensityTolerance: dens})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestReferenceCases holds the solver to two independent programs and a closed
// form, value by value at the tolerance of each.
func TestReferenceCases(t *testing.T) {
	s := newSolver(t, 1e-9, 1e-7)
	var r transport.Solution
	n := 0
	for _, c := range ionCases(t) {
		p := c.problem()
		if err := s.Solve(&p, &r); err != nil {
			t.Fatalf("case %s: %v", c.Name, err)
		}
		if k := r.Closure(); !(k <= 1e-10) {
			t.Errorf("case %s: balance open by %g", c.Name, k)
		}
		for _, v := range c.Values {
			got := value(&r, v.What, v.X)
			if tol := v.AbsTol + v.RelTol*math.Abs(v.Want); !(math.Abs(got-v.Want) <= tol) {
				t.Errorf("case %s, %s at %g m (%s): got %.9g, want %.9g ± %.2g", c.Name, v.What, v.X, v.Source, got, v.Want, tol)
			}
			n++
		}
		t.Logf("case %s: %d nodes, estimated error %.1e, balance %.1e", c.Name, len(r.X), r.Error, r.Closure())
	}
	if n < 150 {
		t.Errorf("only %d values compared", n)
	}
}

// TestErrorEstimate: what the solver says of its error holds against the values
// of the other program, whose own error is below 1e-9.
func TestErrorEstimate(t *testing.T) {
	for _, tol := range []float64{1e-3, 1e-5, 1e-7} {
		s := newSolver(t, tol, 1)
		var r transport.Solution
		for _, c := range ionCases(t) {
			p := c.problem()
			if err := s.Solve(&p, &r); err != nil {
				t.Fatalf("case %s: %v", c.Name, err)
			}
			flux := 0.0
			for i := range r.X {
				flux = max(flux, math.Abs(r.PositiveFlux[i]), math.Abs(r.NegativeFlux[i]))
			}
			for _, v := range c.Values {
				if v.Source != "collocation" || (v.What != "wall_positive" && v.What != "wall_negative") {
					continue
				}
				if d := math.Abs(value(&r, v.What, 0)-v.Want) / flux; !(d <= r.Error+1e-9) || !(r.Error <= tol) {
					t.Errorf("tolerance %g, case %s, %s: error %.2g, estimate %.2g", tol, c.Name, v.What, d, r.Error)
				}
			}
		}
	}
}

// TestVolumesAgainstTheirOwnProgram: the finite volumes on a given mesh follow
// the same scheme as the program that made the reference values, and
// approach them at first order.
func TestVolumesFirstOrder(t *testing.T) {
	s := newSolver(t, 1e-6, 1e-4)
	for _, c := range ionCases(t) {
		if c.Name != "D" && c.Name != "E" {
			continue
		}
		p := c.problem()
		want := 0.0
		for _, v := range c.Values {
			if v.Source == "collocation" && v.What == "wall_negative" {
				want = v.Want
			}
		}
		var r transport.Solution
		last, order := 0.0, 0.0
		for n := 200; n <= 1600; n *= 2 {
			mesh := make([]units.Length, n+1)
			for i := range mesh {
				mesh[i] = units.Length(float64(p.Length) * float64(i) / float64(n))
			}
			if err := s.SolveOn(&p, mesh, &r); err != nil {
				t.Fatal(err)
			}
			if k := r.Closure(); !(k <= 1e-10) {
				t.Errorf("case %s, %d cells: balance open by %g", c.Name, n, k)
			}
			e := math.Abs(r.WallNegative/want - 1)
			if last > 0 {
				order = math.Log2(last / e)
			}
			last = e
		}
		if !(order > 0.9 && order < 1.1) {
			t.Errorf("case %s: order %.3f at an error of %.2g, want 1", c.Name, order, last)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, c := range ionCases(b) {
		p := c.problem()
		var r transport.Solution
		s := newSolver(b, 1e-8, 1e-2)
		b.Run("cold/"+c.Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := s.Solve(&p, &r); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run("warm/"+c.Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := s.SolveNext(&p, &r); err != nil {
					b.Fatal(err)
				}
			}
		})
		for _, n := range []int{400, 3200} {
			mesh := gradedMesh(float64(p.Length), n)
			b.Run(fmt.Sprintf("volumes/%s/%d", c.Name, n), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if err := s.SolveOn(&p, mesh, &r); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// gradedMesh is close to the mesh of the program that is compared: node density
// 1/(e^{a(1−2s)} + e^{b(2s−1)} − 1) over the node number s, a = ln(L/2e-7), b =
// ln(L/2e-8).
func gradedMesh(l float64, n int) []units.Length {
	a, b := math.Log(l/2e-7), math.Log(l/2e-8)
	g := func(s float64) float64 {
		return 1 / (math.Exp(a*math.Max(0, 1-2*s)) + math.Exp(b*math.Max(0, 2*s-1)) - 1)
	}
	x := make([]units.Length, n+1)
	sum := 0.0
	for i := 1; i <= n; i++ {
		s0, s1 := float64(i-1)/float64(n), float64(i)/float64(n)
		sum += (g(s0) + 4*g((s0+s1)/2) + g(s1)) / 6
		x[i] = units.Length(sum)
	}
	for i := range x {
		x[i] = units.Length(l * float64(x[i]) / sum)
	}
	x[n] = units.Length(l)
	return x
}

// BenchmarkSweep solves 64 problems on one core and on all.
func BenchmarkSweep(b *testing.B) {
	ps := make([]transport.Problem, 64)
	for i := range ps {
		ps[i] = demo()
		ps[i].Wall.Charge = units.SurfaceChargeDensity(-1e-6 + 3e-8*float64(i))
	}
	j := make([]units.CurrentDensity, len(ps))
	for _, workers := range []int{1, 0} {
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			for b.Loop() {
				if err := transport.WallCurrentsTo(j, ps, transport.SolverSettings{}, workers); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
