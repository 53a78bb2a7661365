package charge

import (
	"testing"

	"example.org/pithball/testdata"
	"example.org/pithball/units/compute"
)

// Every row of published and computed values that names one of these
// computations, through the registry.
func TestTransferRows(t *testing.T) {
	list := transferComputations()
	rows, err := testdata.Rows("charge")
	if err != nil {
		t.Fatal(err)
	}
	proofs := 0
	for i := range rows {
		r := &rows[i]
		e := compute.Find(list, r.Compute)
		if e == nil {
			continue
		}
		args, res := make([]float64, len(e.Args)), make([]float64, len(e.Results))
		used := 0
		for j, a := range e.Args {
			v, ok := r.Args[a.Name]
			if !ok {
				t.Errorf("%s: no argument %s", r.ID, a.Name)
			}
			args[j] = v
			used++
		}
		if used != len(r.Args) {
			t.Errorf("%s: %d arguments, %d used", r.ID, len(r.Args), used)
		}
		if err := e.Call(res, args); err != nil {
			t.Errorf("%s: %v", r.ID, err)
			continue
		}
		found := false
		for j, a := range e.Results {
			if a.Name != r.Result {
				continue
			}
			found = true
			// A row from memory is an example, never a proof, but it must not lie.
			if !r.Pass(res[j]) {
				t.Errorf("%s (%s): got %.15g %s, want %.15g ± %g ± %g·|want| (%s)", r.ID, r.What, res[j], a.Unit, r.Want, r.AbsTol, r.RelTol, r.TolWhy)
			}
		}
		if !found {
			t.Errorf("%s: no result %s", r.ID, r.Result)
		}
		if r.Proof() {
			proofs++
		}
	}
	if proofs < 100 {
		t.Errorf("%d rows prove something, want 100 or more", proofs)
	}
}

// The registry names no computation twice, every argument has a range that holds
// a value, and arguments outside it are refused.
func TestTransferRegistry(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range transferComputations() {
		if seen[e.Name] || e.Doc == "" || len(e.Covers) == 0 || e.Source.Provenance == 0 || len(e.Results) == 0 {
			t.Errorf("%s: repeated or incomplete", e.Name)
		}
		seen[e.Name] = true
		args, res := make([]float64, len(e.Args)), make([]float64, len(e.Results))
		for i, a := range e.Args {
			if !(a.Low <= a.High) {
				t.Errorf("%s.%s: range %g … %g", e.Name, a.Name, a.Low, a.High)
			}
			args[i] = a.High
		}
		args[0] = e.Args[0].High*2 + 1
		if err := e.Call(res, args); err == nil {
			t.Errorf("%s accepts %s = %g", e.Name, e.Args[0].Name, args[0])
		}
	}
}
