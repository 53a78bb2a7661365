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
		if compute.Find(list, rows[i].Compute) == nil {
			continue
		}
		o := rows[i].Evaluate(list)
		if err := o.Fault(); err != nil {
			t.Error(err)
		}
		if rows[i].Proof() {
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
