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
		ModelExponential: {0.7}, ModelOffsetExponential: {0.7}, ModelTwoExponentials: {-0.5, 2, 0.4}, ModelStretched: {0.3, 0.4},
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

// TestResidualDerivatives does the same for the whole problem, offset and start
// included.
func TestResidualDerivatives(t *testing.T) {
	p := &problem{t: []float64{0.1, 0.5, 2, 7, 20}, v: []float64{1, .8, .5, .3, .1}, w: []float64{1, 2, 3, 4, 5}}
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
		const h = 1e-5
		for j := range x {
			y := append([]float64(nil), x...)
			y[j] += h
			p.Eval(hi, nil, y)
			y[j] -= 2 * h
			p.Eval(lo, nil, y)
			for i := range n {
				if got, want := jac[i*p.m+j], (hi[i]-lo[i])/(2*h); !(math.Abs(got-want) <= 1e-7*(1+math.Abs(want))) {
					t.Errorf("%v, reading %d, parameter %d: got %g, difference quotient %g", m, i, j, got, want)
				}
			}
		}
	}
}

func TestRunsScore(t *testing.T) {
	// 10 plus and 10 minus in 2 runs: mean 11, variance 90/19·… = 10·9/19 = 4.7368.
	r := make([]float64, 20)
	for i := range r {
		r[i] = 1
		if i >= 10 {
			r[i] = -1
		}
	}
	if z, want := runs(r), (2-11)/math.Sqrt(90.0/19); math.Abs(z-want) > 1e-12 {
		t.Errorf("runs: got %g, want %g", z, want)
	}
	if z := runs([]float64{1, 1, 1}); z != 0 {
		t.Errorf("one sign only: got %g, want 0", z)
	}
}
