package decay

import (
	"math"
	"testing"
)

// TestShapeDerivatives compares the analytic derivatives of every model with
// central differences.
func TestShapeDerivatives(t *testing.T) {
	times := []float64{0, 0.01, 0.3, 1, 3, 10, 100}
	points := map[Model][]float64{
		ModelExponential: {0.7}, ModelOffsetExponential: {0.7}, ModelTwoExponentials: {-0.5, 2, 0.4}, ModelStretched: {0.3,
			0.4},
		ModelPowerLaw: {0.2, -0.3}, ModelHyperbolic: {-1}, ModelOhmicMobility: {1, 0.7}, ModelTransit: {0.4},
	}
	n := len(times)
	for m := range models {
		q := points[m]
		k := len(modelInfos[m].params)
		if len(q) != k {
			t.Fatalf("%v: %d parameters in the test, %d in the model", m, len(q), k)
		}
		const start = 0.2
		f, d, dt := make([]float64, n), make([]float64, n*k), make([]float64, n)
		m.shape(q, times, start, f, d, k, dt)
		lo, hi := make([]float64, n), make([]float64, n)
		const h = 1e-5 // truncation h²/6 and rounding ε/h are both below 1e-10
		check := func(what string, i int, got float64) {
			if want := (hi[i] - lo[i]) / (2 * h); !(math.Abs(got-want) <= 1e-8*(1+math.Abs(want))) {
				t.Errorf("%v at %g s, by %s: got %g, difference quotient %g", m, times[i], what, got, want)
			}
		}
		for j := range k {
			x := append([]float64(nil), q...)
			x[j] += h
			m.shape(x, times, start, hi, nil, 0, nil)
			x[j] -= 2 * h
			m.shape(x, times, start, lo, nil, 0, nil)
			for i := range times {
				check(modelInfos[m].params[j].name, i, d[i*k+j])
			}
		}
		if !modelInfos[m].aged {
			continue
		}
		m.shape(q, times, start+h, hi, nil, 0, nil)
		m.shape(q, times, start-h, lo, nil, 0, nil)
		for i := range times {
			check("time", i, dt[i])
		}
	}
}

// TestResidualDerivatives does the same for the whole problem, offset, start and
// the three kinds of weights included.
func TestResidualDerivatives(t *testing.T) {
	for _, kind := range []string{"fixed", "of the law"} {
		p := &problem{t: []float64{0.1, 0.5, 2, 7, 20}, v: []float64{1, .8, .5, .3, .1}, noise: noise{0.01, 0.2}}
		if kind == "fixed" {
			p.w = []float64{1, 2, 3, 4, 5}
		}
		for m := range models {
			p.init(m, true, true)
			x := make([]float64, p.m)
			x[0] = 0.9
			copy(x[1:], m.starts(2)[0])
			x[1+p.k] = 0.07
			if p.start {
				x[p.m-1] = -1.5
			}
			n := p.n
			r, jac := make([]float64, n), make([]float64, n*p.m)
			p.Eval(r, jac, x)
			lo, hi := make([]float64, n), make([]float64, n)
			row := make([]float64, p.m)
			const h = 1e-5
			for j := range x {
				y := append([]float64(nil), x...)
				y[j] += h
				p.Eval(hi, nil, y)
				up := p.at(row, y, 3)
				y[j] -= 2 * h
				p.Eval(lo, nil, y)
				down := p.at(row, y, 3)
				for i := range n {
					if got, want := jac[i*p.m+j], (hi[i]-lo[i])/(2*h); !(math.Abs(got-want) <= 1e-7*(1+math.Abs(want))) {
						t.Errorf("%s weights, %v, reading %d, parameter %d: got %g, difference quotient %g", kind, m, i, j, got, want)
					}
				}
				p.at(row, x, 3)
				if got, want := row[j], (up-down)/(2*h); !(math.Abs(got-want) <= 1e-8*(1+math.Abs(want))) {
					t.Errorf("%v at 3 s, parameter %d: got %g, difference quotient %g", m, j, got, want)
				}
			}
		}
	}
}

// TestPatternScore compares with the exact moments of the first serial
// correlation of n readings about their mean: −1/n and (n−2)²/(n²(n−1)).
// Source: P. A. P. Moran, Biometrika 35 (1948) 255 (from memory).
func TestPatternScore(t *testing.T) {
	for _, n := range []int{3, 8, 20, 101} {
		e, jac := make([]float64, n), make([]float64, n)
		mean, r, ss := 0.0, 0.0, 0.0
		for i := range e {
			e[i] = math.Sin(float64(i * i)) // anything
			jac[i] = 1
			mean += e[i] / float64(n)
		}
		for i := range e {
			e[i] -= mean
			ss += e[i] * e[i]
			if i > 0 {
				r += e[i] * e[i-1]
			}
		}
		x := float64(n)
		want := (r/ss + 1/x) / ((x - 2) / (x * math.Sqrt(x-1)))
		if got := pattern(e, jac, []float64{1 / x}, n, 1); !(math.Abs(got-want) <= 1e-12*math.Max(1, math.Abs(want))) {
			t.Errorf("%d readings: got %.15g, want %.15g", n, got, want)
		}
	}
}
