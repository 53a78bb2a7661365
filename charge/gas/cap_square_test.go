package gas

import (
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// The solid angle of a square summed over its parts, each dA·z/r³, integrated along
// the axis: the second method for the closed form.
func TestSquareRise(t *testing.T) {
	const h, n, m = 1.0, 120, 200
	omega := func(z float64) float64 {
		sum := 0.0
		for i := range n {
			for j := range n {
				x, y := (float64(i)+0.5)*h/n, (float64(j)+0.5)*h/n
				r := math.Sqrt(x*x + y*y + z*z)
				sum += 4 * z / (r * r * r) * (h / n) * (h / n)
			}
		}
		return sum
	}
	for _, span := range [][2]float64{{0.3, 1}, {1, 3}} {
		sum, dz := 0.0, (span[1]-span[0])/m
		for k := range m {
			sum += omega(span[0]+(float64(k)+0.5)*dz) * dz
		}
		checkNear(t, "∫Ω ds", squareRise(h, span[1])-squareRise(h, span[0]), sum, 1e-4*sum)
	}
	checkNear(t, "close to the face Ω is 2π", squareRise(1, 1e-4)/(2*math.Pi*1e-4), 1, 1e-4)
	// Far away the square is a point: ∫_z^∞ Ω ds → A/z.
	checkNear(t, "far away", (8*math.Asinh(1)-squareRise(1, 100))*100, 4, 1e-3)
}

// Recomputed in python by a walk over z with Ω summed by the midpoint rule: two
// squares of 5 mm 46.55 µC/m² at 1.10 mm, over a plane 54.71 at 0.63 mm; 100 mm 29.46.
// A wide part tends to the web: CapFreeWeb at the same gap is the same from below.
func TestCapSquare(t *testing.T) {
	for _, c := range []struct {
		mm      float64
		counter Counter
		want    float64
	}{{5, EqualSquare, 46.55}, {5, OverPlane, 54.71}, {2, EqualSquare, 57.92}, {100, EqualSquare, 29.46}, {100, OverPlane,
		31.79}} {
		got, gap, v := CapSquare(units.Length(c.mm)/1000, c.counter, 1)
		checkNear(t, c.counter.String(), float64(got)*1e6, c.want, 0.02)
		web, _ := CapFreeWeb(1, gap, 1)
		if !(got > web) || v != known.Inside {
			t.Errorf("%g mm: %v at %v, web %v, %v", c.mm, got, gap, web, v)
		}
	}
	last := math.Inf(1)
	for a := 20e-6; a < 1; a *= 1.1 {
		two, _, _ := CapSquare(units.Length(a), EqualSquare, 1)
		plane, _, _ := CapSquare(units.Length(a), OverPlane, 1)
		if !(float64(two) <= last*(1+1e-9)) || !(plane >= two*(1-1e-9)) {
			t.Fatalf("%g m: two squares %v after %g, plane %v", a, two, last, plane)
		}
		last = float64(two)
	}
	for _, c := range []struct{ a, d float64 }{{0, 1}, {2, 1}, {math.NaN(), 1}, {1e-3, 0}, {1e-3, math.NaN()}} {
		if got, _, v := CapSquare(units.Length(c.a), OverPlane, c.d); !math.IsNaN(float64(got)) || v != known.WrongShape {
			t.Errorf("%+v: %v", c, got)
		}
	}
	if got, _, _ := CapSquare(1e-3, 7, 1); !math.IsNaN(float64(got)) {
		t.Error("counter 7 accepted")
	}
}
