package numeric_test

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/internal/numeric"
)

// TestNewton: roots that are known in closed form, from starts where the bare method
// converges, diverges or meets a slope of 0.
func TestNewton(t *testing.T) {
	for _, c := range []struct {
		name             string
		f                func(x float64) (y, slope float64)
		start, low, high float64
		want             float64
		most             int // calls
	}{
		{"square root of 2", func(x float64) (float64, float64) { return x*x - 2, 2 * x }, 1, 0, 2, math.Sqrt2, 7},
		{"Newton alone runs away", func(x float64) (float64, float64) { return math.Atan(x - 1), 1 / (1 + (x-1)*(x-1)) },
			90, -100, 100, 1, 20},
		{"slope 0 at the start", func(x float64) (float64, float64) { return x*x*x - 1, 3 * x * x }, 0, -1, 5, 1, 12},
		{"a wrong slope", func(x float64) (float64, float64) { return x - 0.3, -1 }, 0.9, 0, 1, 0.3, 60},
		{"infinite above 1", func(x float64) (float64, float64) {
			if x > 1 {
				return math.Inf(1), math.NaN()
			}
			return x - 0.5, 1
		}, 3, 0, 4, 0.5, 6},
		{"root at the start", func(x float64) (float64, float64) { return x, 1 }, 0, -1, 1, 0, 1},
		{"of a huge number", func(x float64) (float64, float64) { return x/3e200 - 1, 1 / 3e200 }, 1, 0, 1e300, 3e200, 3},
	} {
		calls := 0
		got, err := numeric.Newton(func(x float64) (float64, float64) { calls++; return c.f(x) }, c.start, c.low, c.high,
			0, 1e-15)
		if err != nil || !(math.Abs(got-c.want) <= 1e-15+4e-16*math.Abs(c.want)) || calls > c.most {
			t.Errorf("%s: %v after %d calls (%v), want %v within %d", c.name, got, calls, err, c.want, c.most)
		}
	}
	bracket := new(numeric.BracketError)
	none := func(x float64) (float64, float64) { return math.NaN(), 1 }
	if x, err := numeric.Newton(none, 0, -1, 1, 0, 0); !math.IsNaN(x) || !errors.As(err, &bracket) {
		t.Errorf("NaN gives %v, %v", x, err)
	}
	convergence := new(numeric.ConvergenceError)
	// A function of the wrong sign throws it to and fro.
	turn := 1.0
	if _, err := numeric.Newton(func(x float64) (float64, float64) { turn = -turn; return turn, 0.1 * turn }, 0, -1e300,
		1e300, 0, -1); err != nil && !errors.As(err, &convergence) {
		t.Errorf("no end: %v", err)
	}
	if n := testing.AllocsPerRun(10, func() {
		k := 2.0
		_, _ = numeric.Newton(func(x float64) (float64, float64) { return x*x - k, 2 * x }, 1, 0, 2, 0, 0)
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// TestEdge: the edge of a condition, from both sides, and where nothing is to halve.
func TestEdge(t *testing.T) {
	below := func(x float64) bool { return x*x < 2 }
	if good, bad := numeric.Edge(below, 0, 2, 0, 0); !below(good) || below(bad) || bad != math.Nextafter(good, 2) {
		t.Errorf("√2 between %v and %v", good, bad)
	}
	above := func(x float64) bool { return x*x >= 2 }
	if good, bad := numeric.Edge(above, 2, 0, 1e-3, 0); !above(good) || above(bad) || good-bad > 2e-3 || good-bad < 1e-4 {
		t.Errorf("√2 between %v and %v, to a thousandth", bad, good)
	}
	if good, bad := numeric.Edge(above, 1, math.NaN(), 0, 0); good != 1 || !math.IsNaN(bad) {
		t.Errorf("NaN: %v, %v", good, bad)
	}
}
