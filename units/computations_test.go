package units_test

import (
	"math"
	"testing"

	"example.org/pithball/internal/apicheck"
	"example.org/pithball/testdata"
	"example.org/pithball/units"
)

// TestRows computes every published row through the registry. Rows that rest on
// memory are run too, but count for nothing.
func TestRows(t *testing.T) {
	rows, err := testdata.Rows("units")
	if err != nil {
		t.Fatal(err)
	}
	list := units.Computations()
	proofs := 0
	for i := range rows {
		o := rows[i].Evaluate(list)
		if err := o.Fault(); err != nil {
			t.Error(err)
		}
		if rows[i].Proof() {
			proofs++
		}
	}
	if len(rows) < 75 || proofs < 50 {
		t.Errorf("%d rows, %d of them proof; want 75 and 50 or more", len(rows), proofs)
	}
}

// TestRegistryCovers fails when an exported computation is not reachable
// through the registry.
func TestRegistryCovers(t *testing.T) {
	exempt := map[string]string{
		"Catalogue":              "a list of the table",
		"Spellings":              "a list of the table",
		"ShopUnit":               "a choice of unit, no number",
		"Display":                "In with a text as result",
		"Format":                 "In with a text as result",
		"Floats":                 "a view of a slice",
		"Quantities":             "a view of a slice",
		"FromStd":                "a change of type",
		"Time.Std":               "a change of type",
		"StandardFlow.Reference": "a field",
	}
	for _, line := range apicheck.Unreached(".", exempt) {
		t.Error(line)
	}
}

// TestRegistryIsSound calls every entry in the middle and at the ends of its
// ranges: what comes back is a number.
func TestRegistryIsSound(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range units.Computations() {
		if seen[e.Name] || e.Doc == "" || len(e.Results) == 0 || e.Source.Provenance == 0 {
			t.Errorf("%s: repeated, or without doc, result or source", e.Name)
		}
		seen[e.Name] = true
		args := make([]float64, len(e.Args))
		for i := range e.Args {
			a := &e.Args[i]
			if a.Doc == "" || a.Unit == "" || !(a.Low <= a.High) {
				t.Errorf("%s.%s: no doc, unit or range", e.Name, a.Name)
			}
			switch {
			case a.Choices != nil:
				args[i] = a.High
			case a.Low > 0:
				args[i] = math.Sqrt(a.Low) * math.Sqrt(a.High)
			default:
				args[i] = min(a.High, 0.25)
			}
		}
		results := make([]float64, len(e.Results))
		if err := e.Call(results, args); err != nil {
			t.Errorf("%s%v: %v", e.Name, args, err)
		}
		for i, r := range results {
			if math.IsNaN(r) || math.IsInf(r, 0) {
				t.Errorf("%s%v: result %s is %v", e.Name, args, e.Results[i].Name, r)
			}
		}
		for i := range args { // NaN never enters
			bad := append([]float64(nil), args...)
			bad[i] = math.NaN()
			if err := e.Call(results, bad); err == nil {
				t.Errorf("%s: NaN for %s is no error", e.Name, e.Args[i].Name)
			}
		}
	}
}
