package decay

import (
	"strings"
	"testing"

	"example.org/pithball/testdata"
	"example.org/pithball/units/compute"
)

// Every published or computed value of a sheet or a web, through the registry.
func TestSheetRows(t *testing.T) {
	rows, err := testdata.Rows("decay")
	if err != nil {
		t.Fatal(err)
	}
	list, n := sheetsComputations(), 0
	for i := range rows {
		r := &rows[i]
		e := compute.Find(list, r.Compute)
		if e == nil {
			continue // a row of another part of the package
		}
		n++
		args := make([]float64, len(e.Args))
		for j := range e.Args {
			v, ok := r.Args[e.Args[j].Name]
			if !ok {
				t.Errorf("%s: no argument %s", r.ID, e.Args[j].Name)
			}
			args[j] = v
		}
		if len(r.Args) != len(args) {
			t.Errorf("%s: %d arguments, want %d", r.ID, len(r.Args), len(args))
		}
		dst := make([]float64, len(e.Results))
		if err := e.Call(dst, args); err != nil {
			t.Errorf("%s: %v", r.ID, err)
			continue
		}
		found := false
		for j := range e.Results {
			if e.Results[j].Name == r.Result {
				found = true
				if !r.Pass(dst[j]) {
					t.Errorf("%s %s: got %.12g, want %.12g ± %.2g rel", r.ID, r.What, dst[j], r.Want, r.RelTol)
				}
			}
		}
		if !found {
			t.Errorf("%s: no result %s in %s", r.ID, r.Result, r.Compute)
		}
	}
	if n < 25 {
		t.Errorf("%d rows of sheets found, want 25 or more", n)
	}
}

// Bad arguments of a computation are errors that name the argument.
func TestSheetComputationsRefuse(t *testing.T) {
	list := sheetsComputations()
	for _, c := range []struct {
		name, field string
		args        []float64
	}{
		{"decay.SpreadingSpeed", "rho_s", []float64{-1}},
		{"decay.EarthedStrip", "x", []float64{1, 1, 0, 0, 1, 2, 0.5}},
		{"decay.FreeSheet", "period", []float64{0, 1, 1, 1}},
		{"decay.Slot", "mode", []float64{1, 1e12, 0.5, 1}},
		{"decay.NearEarthWeb", "x", []float64{1, 1, 1, 2}},
		{"decay.FreeSpanWeb", "radius", []float64{1, 1, 1e11, 0, 0.05, 2e-6, 0.5}},
		{"decay.Sheet", "thickness", []float64{0, 0, 1, 1e12, 0, 0, 0, 1}},
	} {
		e := compute.Find(list, c.name)
		if err := e.Call(make([]float64, len(e.Results)), c.args); err == nil || !strings.Contains(err.Error(), c.field) {
			t.Errorf("%s: %v, want an error that names %s", c.name, err, c.field)
		}
	}
}
