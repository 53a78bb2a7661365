package decay_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/testdata"
	"example.org/pithball/units/compute"
)

// TestRows runs every row of testdata/decay.json through the registry. A row
// from memory is reported when it fails, but does not fail the test: it is no
// proof of anything.
func TestRows(t *testing.T) {
	rows, err := testdata.Rows("decay")
	if err != nil {
		t.Fatal(err)
	}
	list := decay.Computations()
	for i := range rows {
		r := &rows[i]
		e := compute.Find(list, r.Compute)
		if e == nil {
			t.Errorf("%s: no computation %s", r.ID, r.Compute)
			continue
		}
		args := make([]float64, len(e.Args))
		used := 0
		for j := range e.Args {
			v, ok := r.Args[e.Args[j].Name]
			if !ok {
				t.Errorf("%s: no argument %s for %s", r.ID, e.Args[j].Name, e.Name)
			}
			args[j] = v
			used++
		}
		if used != len(r.Args) {
			t.Errorf("%s: %d arguments given, %s takes %d", r.ID, len(r.Args), e.Name, used)
		}
		dst := make([]float64, len(e.Results))
		if err := e.Call(dst, args); err != nil {
			t.Errorf("%s: %v", r.ID, err)
			continue
		}
		found := false
		for j := range e.Results {
			if e.Results[j].Name != r.Result {
				continue
			}
			found = true
			if !r.Pass(dst[j]) {
				report := t.Errorf
				if !r.Proof() {
					report = t.Logf
				}
				report("%s (%s): %s: got %.15g, want %.15g, relative difference %.3g, tolerance %.3g",
					r.ID, r.What, r.Result, dst[j], r.Want, dst[j]/r.Want-1, r.RelTol)
			}
		}
		if !found {
			t.Errorf("%s: %s has no result %s", r.ID, e.Name, r.Result)
		}
	}
}

// TestRegistryTotal draws arguments over the ranges of every computation: inside
// its range each gives finite results or an error, never NaN or Inf.
func TestRegistryTotal(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for _, e := range decay.Computations() {
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
		if good == 0 && !strings.Contains(e.Name, "FitDecay") { // random times rarely increase
			t.Logf("%s: no draw was accepted", e.Name)
		}
	}
}
