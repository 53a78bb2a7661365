package registry_test

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/examples/registry"
)

// TestEntries: names are unique and complete, ranges are ranges, and every
// computation answers the middle of its ranges without a panic.
func TestEntries(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range registry.All() {
		if seen[e.Name] || !strings.Contains(e.Name, ".") {
			t.Errorf("%s: not a unique name of a package's computation", e.Name)
		}
		seen[e.Name] = true
		if e.Doc == "" || len(e.Results) == 0 || e.Eval == nil || e.Source.Provenance == 0 {
			t.Errorf("%s: no doc, results, computation or source", e.Name)
		}
		args := make([]float64, len(e.Args))
		names := map[string]bool{}
		for i, a := range e.Args {
			if names[a.Name] || a.Unit == "" || !(a.Low <= a.High) {
				t.Errorf("%s: argument %q is repeated, has no unit or no range", e.Name, a.Name)
			}
			names[a.Name] = true
			args[i] = middle(a.Low, a.High)
			if n := len(a.Choices); n > 0 {
				args[i] = 0
			}
		}
		res := make([]float64, len(e.Results))
		_ = e.Call(res, args) // an error is an answer; a panic fails the test
		if len(args) > 0 {
			args[0] = math.NaN()
			if err := e.Call(res, args); err == nil {
				t.Errorf("%s accepts NaN", e.Name)
			}
		}
	}
	if len(seen) < 50 {
		t.Errorf("only %d computations", len(seen))
	}
}

func middle(lo, hi float64) float64 {
	switch {
	case lo > 0:
		return math.Sqrt(lo) * math.Sqrt(hi)
	case lo == 0:
		return min(1, hi/2)
	}
	return lo/2 + hi/2
}
