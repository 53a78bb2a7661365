package ionflow

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/testdata"
	"example.org/pithball/units/compute"
)

// TestRows computes every published and recomputed value of testdata/ionflow.json
// through the registry. Rows that rest on memory must compute, but prove nothing.
func TestRows(t *testing.T) {
	rows, err := testdata.Rows("ionflow")
	if err != nil {
		t.Fatal(err)
	}
	list := Computations()
	for i := range rows {
		r := &rows[i]
		got, err := evaluate(list, r)
		if err != nil {
			t.Errorf("%s: %v", r.ID, err)
			continue
		}
		if !r.Pass(got) && (r.Proof() || math.IsNaN(got)) {
			t.Errorf("%s %s: got %.10g, want %.10g within %g relative and %g (%s)", r.ID, r.What, got, r.Want, r.RelTol, r.AbsTol, r.TolWhy)
		}
	}
}

func evaluate(list []compute.Entry, r *testdata.Row) (float64, error) {
	e := compute.Find(list, r.Compute)
	if e == nil {
		return math.NaN(), errNoEntry(r.Compute)
	}
	in, out := make([]float64, len(e.Args)), make([]float64, len(e.Results))
	for k, a := range e.Args {
		v, ok := r.Args[a.Name]
		if !ok {
			return math.NaN(), errNoEntry(r.Compute + "." + a.Name)
		}
		in[k] = v
	}
	if len(r.Args) != len(in) {
		return math.NaN(), errNoEntry(r.Compute + " with all arguments of the row")
	}
	if err := e.Call(out, in); err != nil {
		return math.NaN(), err
	}
	for k, a := range e.Results {
		if a.Name == r.Result {
			return out[k], nil
		}
	}
	return math.NaN(), errNoEntry(r.Compute + " result " + r.Result)
}

type errNoEntry string

func (e errNoEntry) Error() string { return "the registry has no " + string(e) }

func TestRegistryIsWellFormed(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range Computations() {
		if seen[e.Name] || !strings.HasPrefix(e.Name, "ionflow.") || e.Doc == "" || len(e.Covers) == 0 || e.Source.Provenance == 0 || e.Eval == nil {
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
