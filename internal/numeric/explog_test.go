package numeric_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"example.org/pithball/internal/numeric"
)

// TestExpLog compares with package math, whose error is below one unit in the
// last place (2^-52 of the value at most); ours adds half a unit each from the
// table and the last sum, and less than half from the polynomial.
func TestExpLog(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	const tol = 2.5 * 0x1p-52
	worstExp, worstLog := 0.0, 0.0
	for range 400000 {
		x := (rng.Float64() - 0.5) * 1400
		if rng.IntN(2) == 0 {
			x = math.Exp((rng.Float64() - 0.8) * 40)
		}
		if x < 709 && x > -707 {
			worstExp = max(worstExp, math.Abs(numeric.Exp(x)/math.Exp(x)-1))
		}
		if x != 0 {
			y := math.Abs(x)
			w := math.Log(y)
			worstLog = max(worstLog, math.Abs(numeric.Log(y)-w)/max(1, math.Abs(w)))
			w = math.Log1p(y)
			worstLog = max(worstLog, math.Abs(numeric.Log1p(y)-w)/max(1, w))
		}
	}
	t.Logf("greatest difference from package math: exp %.2g, log %.2g", worstExp, worstLog)
	if worstExp > tol || worstLog > tol {
		t.Errorf("exp differs by %g, log by %g, allowed %g", worstExp, worstLog, tol)
	}
	for _, x := range []float64{0, 1, -1, 710, 709, -720, -745, -800, math.Inf(1), math.Inf(-1), 5e-324, 1e-310,
		math.MaxFloat64} {
		if got, want := numeric.Exp(x), math.Exp(x); got != want && !(math.Abs(got/want-1) <= tol) {
			t.Errorf("Exp(%g): got %g, want %g", x, got, want)
		}
		if got, want := numeric.Log(x), math.Log(x); got != want && !(math.IsNaN(got) && math.IsNaN(want)) &&
			!(math.Abs(got-want) <= tol*max(1, math.Abs(want))) {
			t.Errorf("Log(%g): got %g, want %g", x, got, want)
		}
	}
	if !math.IsNaN(numeric.Exp(math.NaN())) || !math.IsNaN(numeric.Log(math.NaN())) || !math.IsNaN(numeric.Log(-1)) {
		t.Error("NaN is lost")
	}
	if !math.IsInf(numeric.Log1p(math.Inf(1)), 1) || !math.IsNaN(numeric.Log1p(math.NaN())) ||
		numeric.Log1p(0) != numeric.Log(1) {
		t.Errorf("Log1p at Inf, NaN, 0: %g, %g, %g", numeric.Log1p(math.Inf(1)), numeric.Log1p(math.NaN()), numeric.Log1p(0))
	}
	if numeric.Exp(0) != 1 {
		t.Errorf("Exp(0) = %g", numeric.Exp(0))
	}
}

func BenchmarkExpLog(b *testing.B) {
	x := make([]float64, 64)
	for i := range x {
		x[i] = 0.01 * math.Pow(1e4, float64(i)/63)
	}
	for name, f := range map[string]func(float64) float64{"math.Exp": math.Exp, "Exp": numeric.Exp,
		"math.Log": math.Log, "Log": numeric.Log} {
		b.Run(name, func(b *testing.B) {
			sink, least := 0.0, math.Inf(1)
			for b.Loop() {
				// The least of many short rounds: other work on the machine only adds.
				start := time.Now()
				for range 16 {
					for _, v := range x {
						sink += f(v)
					}
				}
				least = min(least, float64(time.Since(start).Nanoseconds())/float64(16*len(x)))
			}
			_ = sink
			b.ReportMetric(least, "ns/value")
		})
	}
}

// TestExpTo compares with package math: half a unit each from the table and the last
// product, less from the quartic, over all of the range, in place, and beyond it.
func TestExpTo(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	x := make([]float64, 100000)
	for i := range x {
		x[i] = (rng.Float64() - 0.5) * 1410
	}
	x = append(x, 0, 1, -1, 1e-9, 709, 710, -720, -745, -800, math.Inf(1), math.Inf(-1))
	want := make([]float64, len(x))
	for i, v := range x {
		want[i] = math.Exp(v)
	}
	numeric.ExpTo(x, x)
	for i, w := range want {
		if x[i] != w && !(math.Abs(x[i]/w-1) <= 2.5*0x1p-52) {
			t.Fatalf("element %d: %v, want %v", i, x[i], w)
		}
	}
	nan := []float64{math.NaN()}
	if numeric.ExpTo(nan, nan); !math.IsNaN(nan[0]) {
		t.Error("NaN is lost")
	}
}
