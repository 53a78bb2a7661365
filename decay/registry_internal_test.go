package decay

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// TestRegistryTotal draws arguments over the ranges of the computations of laws,
// layers, methods and fits: inside
// its range each gives finite results or an error, never NaN or Inf.
func TestRegistryTotal(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for _, e := range Computations() {
		args, dst := make([]float64, len(e.Args)), make([]float64, len(e.Results))
		good := 0
		for range 300 {
			for i, a := range e.Args {
				switch lo, hi := a.Low, a.High; {
				case len(a.Choices) > 0:
					args[i] = float64(rng.IntN(len(a.Choices)))
				case lo > 0:
					args[i] = min(max(lo*math.Pow(hi/lo, rng.Float64()), lo), hi)
				default:
					args[i] = lo + (hi-lo)*rng.Float64()
				}
			}
			if strings.Contains(e.Name, "FitDecay") {
				// Random times rarely increase: draw a decay with scatter instead.
				tau, v0 := math.Exp(20*rng.Float64()-10), math.Exp(14*rng.Float64()-7)
				at := 0.0
				for i := range 6 {
					args[2*i], args[2*i+1] = at, v0*(math.Exp(-at/tau)+0.1*rng.NormFloat64())
					at += tau * (0.05 + rng.Float64())
				}
				for i := 12; i < len(args); i++ {
					args[i] = max(v0*0.3*rng.Float64(), 1e-6)
				}
			}
			if strings.Contains(e.Name, "PlanExponential") {
				args[0] = 3 + math.Mod(args[0], 100) // thousands of readings take long
			}
			if err := e.Call(dst, args); err != nil {
				continue
			}
			good++
			for i, v := range dst {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Errorf("%s%v: %s = %g", e.Name, args, e.Results[i].Name, v)
				}
			}
		}
		if good == 0 {
			t.Errorf("%s: no draw was accepted", e.Name)
		}
	}
}
