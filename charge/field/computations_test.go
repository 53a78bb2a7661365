package field

import (
	"math"
	"testing"

	"example.org/pithball/units/compute"
)

// Entries are complete: names once, arguments with ranges, middle arguments
// evaluate or fail with an error, never with a panic.
func TestFieldRegistry(t *testing.T) {
	seen := map[string]bool{}
	list := Computations()
	for i := range list {
		e := &list[i]
		if seen[e.Name] || e.Doc == "" || len(e.Covers) == 0 || e.Source.Provenance == 0 || len(e.Results) == 0 {
			t.Errorf("%s: incomplete or repeated", e.Name)
		}
		seen[e.Name] = true
		for _, pick := range []func(a compute.Arg) float64{
			func(a compute.Arg) float64 { return a.Low }, func(a compute.Arg) float64 { return a.High },
			func(a compute.Arg) float64 { return math.Trunc((a.Low + a.High) / 2) }} {
			args := make([]float64, len(e.Args))
			for j, a := range e.Args {
				if !(a.Low <= a.High) || a.Unit == "" || a.Name == "" {
					t.Errorf("%s.%s: bad argument", e.Name, a.Name)
				}
				args[j] = pick(a)
				if len(a.Choices) > 0 {
					args[j] = a.Low
				}
			}
			if e.Name == "charge.Roll.At" {
				args[7] = min(args[7], 1e4) // time grows with the wraps
			}
			_ = e.Call(make([]float64, len(e.Results)), args) // must not panic
		}
	}
}
