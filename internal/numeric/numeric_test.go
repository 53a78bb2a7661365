package numeric_test

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/internal/numeric"
)

func TestBrent(t *testing.T) {
	for _, c := range []struct {
		name string
		f    func(float64) float64
		a, b float64
		want float64
	}{
		// Roots known in closed form.
		{"line", func(x float64) float64 { return 2*x - 3 }, 0, 10, 1.5},
		{"root of two", func(x float64) float64 { return x*x - 2 }, 0, 2, math.Sqrt2},
		{"falling", func(x float64) float64 { return 1 - x*x*x }, 0, 5, 1},
		{"cosine", math.Cos, 1, 2, math.Pi / 2},
		{"steep", func(x float64) float64 { return math.Expm1(100 * (x - 0.7)) }, 0, 1, 0.7},
		{"flat cubic root", func(x float64) float64 { return math.Pow(x-0.3, 3) }, 0, 1, 0.3},
		{"jump", func(x float64) float64 { return math.Copysign(1, x-0.25) }, 0, 1, 0.25},
		{"at an end", func(x float64) float64 { return x }, 0, 1, 0},
	} {
		got, err := numeric.Brent(c.f, c.a, c.b, 1e-15, 0)
		tol := 1e-14
		if c.name == "flat cubic root" {
			tol = 1e-5 // (x−x0)³ is below the least float64 that far away
		}
		if err != nil || !(math.Abs(got-c.want) <= tol) {
			t.Errorf("%s: got %.16g, %v, want %.16g", c.name, got, err, c.want)
		}
	}
	var b *numeric.BracketError
	if _, err := numeric.Brent(math.Exp, 0, 1, 0, 0); !errors.As(err, &b) || b.A != 0 || b.B != 1 {
		t.Errorf("no sign change: got %v", err)
	}
	nan := func(x float64) float64 {
		if x > 0.4 && x < 0.9 {
			return math.NaN()
		}
		return x - 0.5
	}
	if _, err := numeric.Brent(nan, 0, 1, 0, 0); !errors.As(err, &b) {
		t.Errorf("NaN inside: got %v", err)
	}
}

// TestBrentSteps: the method is of order 1.6, not bisection.
func TestBrentSteps(t *testing.T) {
	n := 0
	if _, err := numeric.Brent(func(x float64) float64 { n++; return x*x*x - x - 2 }, 1, 2, 1e-15, 0); err != nil ||
		n > 15 {
		t.Errorf("%d evaluations (bisection needs 50), %v", n, err)
	}
}

// rosenbrock is Rosenbrock's valley as a least-squares problem: minimum 0 at
// (1, 1). H. H. Rosenbrock, Comput. J. 3 (1960) 175.
type rosenbrock struct{}

func (rosenbrock) Eval(r, jac, x []float64) {
	r[0], r[1] = 10*(x[1]-x[0]*x[0]), 1-x[0]
	if jac != nil {
		copy(jac, []float64{-20 * x[0], 10, -1, 0})
	}
}

// powell is Powell's singular function: minimum 0 at the origin with a singular
// Jacobian. M. J. D. Powell, Comput. J. 5 (1962) 147.
type powell struct{}

func (powell) Eval(r, jac, x []float64) {
	s5, s10 := math.Sqrt(5), math.Sqrt(10)
	r[0], r[1] = x[0]+10*x[1], s5*(x[2]-x[3])
	a, b := x[1]-2*x[2], x[0]-x[3]
	r[2], r[3] = a*a, s10*b*b
	if jac != nil {
		copy(jac, []float64{1, 10, 0, 0, 0, 0, s5, -s5, 0, 2 * a, -4 * a, 0, 2 * s10 * b, 0, 0, -2 * s10 * b})
	}
}

// misra is a saturation curve y = b1·(1 − exp(−b2·x)), badly scaled, read without
// error at b1 = 240, b2 = 5.5e-4, so that the minimum is known.
type misra struct{}

var misraX = []float64{77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760}

func (misra) Eval(r, jac, x []float64) {
	for i, t := range misraX {
		e := math.Exp(-x[1] * t)
		r[i] = x[0]*(1-e) - 240*(1-math.Exp(-5.5e-4*t))
		if jac != nil {
			jac[2*i], jac[2*i+1] = 1-e, x[0]*t*e
		}
	}
}

func TestLM(t *testing.T) {
	var s numeric.LM
	x := []float64{-1.2, 1}
	if c, err := s.Solve(rosenbrock{}, x, 2); err != nil ||
		!(math.Abs(x[0]-1) < 1e-8 && math.Abs(x[1]-1) < 1e-8 && c < 1e-16) {
		t.Errorf("Rosenbrock: x = %v, cost %g, %v after %d steps", x, c, err, s.Steps)
	}
	x = []float64{3, -1, 0, 1}
	// The Jacobian is singular at the minimum, where every Gauss–Newton step halves
	// the distance for ever: the cost is the test, not the stop.
	if c, _ := s.Solve(powell{}, x, 4); !(c < 1e-20) {
		t.Errorf("Powell's singular function: x = %v, cost %g after %d steps", x, c, s.Steps)
	}
	x = []float64{500, 1e-4}
	if _, err := s.Solve(misra{}, x, len(misraX)); err != nil ||
		!(math.Abs(x[0]-240) < 1e-6 && math.Abs(x[1]-5.5e-4) < 1e-12) {
		t.Errorf("saturation curve: x = %v, %v after %d steps", x, err, s.Steps)
	}
}

func TestLMBounds(t *testing.T) {
	// The minimum of Rosenbrock's valley with x0 <= 0.5 lies at (0.5, 0.25).
	s := numeric.LM{Lower: []float64{-10, -10}, Upper: []float64{0.5, 10}}
	x := []float64{-1.2, 1}
	if c, err := s.Solve(rosenbrock{}, x, 2); err != nil ||
		!(math.Abs(x[0]-0.5) < 1e-12 && math.Abs(x[1]-0.25) < 1e-8 && math.Abs(c-0.25) < 1e-12) {
		t.Errorf("bounded: x = %v, cost %g, %v", x, c, err)
	}
	// With x1 fixed at 4: r = 10(4 − x0²), 1 − x0; the minimum solves
	// 200·x0³ − 799·x0 − 1 = 0, whose positive root is 1.99937… by bisection here.
	s = numeric.LM{Fixed: []bool{false, true}}
	x = []float64{1, 4}
	if _, err := s.Solve(rosenbrock{}, x, 2); err != nil || x[1] != 4 ||
		!(math.Abs(200*math.Pow(x[0], 3)-799*x[0]-1) < 1e-5) {
		t.Errorf("fixed: x = %v, %v", x, err)
	}
}

func TestLMDoesNotAllocate(t *testing.T) {
	var s numeric.LM
	x := make([]float64, 2)
	n := testing.AllocsPerRun(20, func() {
		x[0], x[1] = 500, 1e-4
		if _, err := s.Solve(misra{}, x, len(misraX)); err != nil {
			t.Fatal(err)
		}
	})
	if n != 0 {
		t.Errorf("%g allocations a solve, want 0 after the first", n)
	}
}

func TestLMNotFinite(t *testing.T) {
	var s numeric.LM
	var c *numeric.ConvergenceError
	if _, err := s.Solve(misra{}, []float64{math.NaN(), 1}, len(misraX)); !errors.As(err, &c) {
		t.Errorf("NaN at the start: got %v", err)
	}
	s.MaxSteps = 2
	if _, err := s.Solve(rosenbrock{}, []float64{-1.2, 1}, 2); !errors.As(err, &c) || c.Steps != 2 {
		t.Errorf("two steps only: got %v", err)
	}
}

func TestInvertSPD(t *testing.T) {
	// Inverse by hand: det = 4·3 − 2·2 = 8.
	got := make([]float64, 4)
	if !numeric.InvertSPD(got, []float64{4, 2, 2, 3}, 2) {
		t.Fatal("not positive definite")
	}
	for i, w := range []float64{3. / 8, -2. / 8, -2. / 8, 4. / 8} {
		if !(math.Abs(got[i]-w) <= 1e-15) {
			t.Errorf("element %d: got %g, want %g", i, got[i], w)
		}
	}
	if numeric.InvertSPD(got, []float64{1, 1, 1, 1}, 2) {
		t.Error("a singular matrix was inverted")
	}
	if !numeric.InvertSPD(got, []float64{4, 0, 0, 0}, 2) || !math.IsInf(got[3], 1) || got[0] != 0.25 {
		t.Errorf("undetermined parameter: got %v", got)
	}
}
