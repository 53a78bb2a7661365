package ioniser

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/pithball/internal/apicheck"
)

// Arguments inside their ranges give numbers or an error, never a panic or NaN.
func TestRegistryIsTotal(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, e := range Computations() {
		n := 60
		if strings.Contains(e.Name, "Search") || strings.Contains(e.Name, "Clean") {
			n = 3
		}
		in, out := make([]float64, len(e.Args)), make([]float64, len(e.Results))
		answers := 0
		for range n {
			for k, a := range e.Args {
				switch {
				case len(a.Choices) > 0:
					in[k] = float64(rng.IntN(len(a.Choices)))
				case rng.IntN(8) == 0:
					in[k] = a.Low
				case rng.IntN(8) == 0:
					in[k] = a.High
				case a.Low > 0:
					in[k] = a.Low * math.Pow(a.High/a.Low, rng.Float64())
				default:
					in[k] = max(a.Low, a.High*math.Pow(10, -20*rng.Float64())*float64(1-2*rng.IntN(2)))
				}
			}
			if err := e.Call(out, in); err != nil {
				continue
			}
			answers++
			for k, v := range out {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Errorf("%s%v: %s is %g", e.Name, in, e.Results[k].Name, v)
				}
			}
		}
		if n > 3 && answers == 0 {
			t.Errorf("%s: refuses every draw", e.Name)
		}
	}
}

func TestRegistryCoversThePackage(t *testing.T) {
	exempt := map[string]string{
		"*.Spec":          "returns what a value was made from",
		"*.Notices":       "fixed texts",
		"Place.Gap":       "returns what the place was made for",
		"Place.Times":     "a fit that is given, see Fit",
		"Fitted.Place":    "returns what the fit was made for",
		"Source.Accuracy": "a constant band, see Place.Band",
	}
	for _, line := range apicheck.Unreached(".", exempt) {
		t.Error(line)
	}
}
