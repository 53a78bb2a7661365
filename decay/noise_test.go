package decay

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
)

// TestDeviance compares with the integral it stands for, and its slope with the
// difference quotient, on both sides of the switch between the two forms.
func TestDeviance(t *testing.T) {
	for _, n := range []noise{{1, 0}, {0.02, 0.05}, {3e-4, 0.3}, {0.1, 0.3}} {
		for _, m := range []float64{1, 0.3, -0.7, 0.02} {
			for _, v := range []float64{1.3, 0.97 * m, m + 1e-6, 0.5 * m, 1e-3, -0.01} {
				d, slope := n.deviance(m, v)
				// The integrand is sharp within a/r of zero: split there.
				f := func(u float64) float64 { return 2 * (v - u) / (n.a*n.a + n.r*n.r*u*u) }
				cuts := []float64{m, v}
				if m*v < 0 || math.Min(math.Abs(m), math.Abs(v)) < 0.1*math.Max(math.Abs(m), math.Abs(v)) {
					cuts = nil
					for i := range 4001 { // fine steps in arsinh, in which the integrand is even
						q := float64(i) / 4000
						a, b := math.Asinh(1e3*m), math.Asinh(1e3*v)
						cuts = append(cuts, math.Sinh(a+(b-a)*q)/1e3)
					}
				}
				want := 0.0
				for i := 1; i < len(cuts); i++ {
					want += quad.Fixed(f, min(cuts[i-1], cuts[i]), max(cuts[i-1], cuts[i]), 20, quad.Legendre{}, 0) *
						math.Copysign(1, cuts[i]-cuts[i-1])
				}
				if !(math.Abs(d*d-want) <= 1e-8*want+1e-15) {
					t.Errorf("%+v, law %g, read %g: d² = %.12g, integral %.12g", n, m, v, d*d, want)
				}
				if (d > 0) != (m > v) {
					t.Errorf("%+v, law %g, read %g: d = %g has the wrong sign", n, m, v, d)
				}
				h := 1e-6 * math.Max(math.Abs(m), 1e-3)
				up, _ := n.deviance(m+h, v)
				down, _ := n.deviance(m-h, v)
				if q := (up - down) / (2 * h); !(math.Abs(slope-q) <= 1e-6*math.Abs(q)) {
					t.Errorf("%+v, law %g, read %g: slope %.9g, difference quotient %.9g", n, m, v, slope, q)
				}
			}
		}
	}
	// Purely relative noise is the gamma family: d² = (2/r²)·[(v − m)/m − ln(v/m)].
	const r = 0.2
	d, _ := noise{1e-9, r}.deviance(0.8, 0.5)
	if want := 2 / (r * r) * ((0.5-0.8)/0.8 - math.Log(0.5/0.8)); !(math.Abs(d*d/want-1) <= 1e-9) {
		t.Errorf("gamma deviance: got %.12g, want %.12g", d*d, want)
	}
}

// TestGaussJacobi integrates the powers that four nodes must do exactly:
// ∫₀¹ 2(1−y)·y^k dy = 2/((k+1)(k+2)).
func TestGaussJacobi(t *testing.T) {
	for k := range 8 {
		got := 0.0
		for i, y := range gaussNode {
			got += gaussWeight[i] * math.Pow(y, float64(k))
		}
		if want := 2 / float64((k+1)*(k+2)); !(math.Abs(got-want) <= 1e-15) {
			t.Errorf("power %d: got %.17g, want %.17g", k, got, want)
		}
	}
}

func TestNoiseMove(t *testing.T) {
	n := noise{0.01, 0.2}
	const m, h = 0.7, 1e-4
	if got := n.move(m, h); !(math.Abs(got-m-h) <= 1e-8) {
		t.Errorf("a small step: got %g, want %g", got, m+h)
	}
	// The step measured in noise: ∫dm/sd from m to where it ends is h/sd(m).
	far := n.move(m, -0.5)
	got := quad.Fixed(func(u float64) float64 { return 1 / n.sd(u) }, far, m, 40, quad.Legendre{}, 0)
	if want := 0.5 / n.sd(m); !(math.Abs(got/want-1) <= 1e-9) {
		t.Errorf("from %g to %g: %.12g standard deviations, want %.12g", m, far, got, want)
	}
	if far <= 0 {
		t.Errorf("a voltage read to 20 %% changed its sign: %g", far)
	}
	if got := (noise{1, 0}).move(0.1, -0.5); got != -0.4 {
		t.Errorf("even noise: got %g, want −0.4", got)
	}
}
