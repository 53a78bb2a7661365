package ionflow

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/pithball/internal/apicheck"
	"example.org/pithball/units/compute"
)

func TestRegistryIsWellFormed(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range Computations() {
		if seen[e.Name] || !strings.HasPrefix(e.Name, "ionflow.") || e.Doc == "" || e.Source.Provenance == 0 ||
			e.Eval == nil {
			t.Errorf("%s: repeated or incomplete", e.Name)
		}
		seen[e.Name] = true
		for _, list := range [][]compute.Arg{e.Args, e.Results} {
			in := map[string]bool{}
			for _, a := range list {
				if in[a.Name] || a.Unit == "" || !(a.Low <= a.High) {
					t.Errorf("%s.%s: repeated or incomplete", e.Name, a.Name)
				}
				in[a.Name] = true
			}
		}
	}
}

func TestRegistryCoversThePackage(t *testing.T) {
	exempt := map[string]string{
		"*.Spec":             "returns what a value was made from",
		"AirNotices":         "fixed texts",
		"Emitter.Notices":    "fixed texts",
		"PassiveNotices":     "fixed texts",
		"DrivenPair.Notices": "fixed texts",
		"Emitter.Currents":   "a part of the bars",
		"Uniform.At":         "asked by Path",
		"WayFunc.At":         "asked by Path",
	}
	for _, line := range apicheck.Unreached(".", exempt) {
		t.Error(line)
	}
}

// Arguments inside their ranges give numbers or an error, never a panic or NaN.
func TestRegistryIsTotal(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, e := range Computations() {
		in, out := make([]float64, len(e.Args)), make([]float64, len(e.Results))
		for range 40 {
			for k, a := range e.Args {
				in[k] = draw(rng, a)
			}
			if err := e.Call(out, in); err != nil {
				continue
			}
			for k, v := range out {
				if math.IsNaN(v) {
					t.Errorf("%s%v: %s is NaN", e.Name, in, e.Results[k].Name)
				}
			}
		}
	}
}

// draw takes an end of the range now and then, else a number equal in its logarithm.
func draw(rng *rand.Rand, a compute.Arg) float64 {
	switch n := len(a.Choices); {
	case n > 0:
		return float64(rng.IntN(n))
	case rng.IntN(8) == 0:
		return a.Low
	case rng.IntN(8) == 0:
		return a.High
	case a.Low > 0:
		return a.Low * math.Pow(a.High/a.Low, rng.Float64())
	}
	v := a.High * math.Pow(10, -20*rng.Float64())
	if a.Low < 0 && rng.IntN(2) == 0 {
		return max(a.Low, -v)
	}
	return max(a.Low, v)
}
