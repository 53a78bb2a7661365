package main

import (
	"io"
	"strings"
	"testing"

	"example.org/pithball/examples/registry"
	"example.org/pithball/testdata"
	"example.org/pithball/units/known"
)

// TestScoreboard: every proof row is met and every other row can be computed.
func TestScoreboard(t *testing.T) {
	list := registry.All()
	for _, pkg := range testdata.Packages() {
		out, err := evaluate(pkg, list)
		if err != nil {
			t.Fatal(err)
		}
		published := 0
		for _, o := range out {
			if o.row.Source.Provenance == known.Published {
				published++
			}
			if o.err != nil {
				t.Errorf("%s %s: %v", pkg, o.row.ID, o.err)
			} else if o.row.Proof() && !o.pass {
				t.Errorf("%s %s (%s): got %v, want %v ± %v + %v·want; %s", pkg, o.row.ID, o.row.What, o.got, o.row.Want, o.row.AbsTol, o.row.RelTol, o.row.Source.Cite)
			}
		}
		if len(out) < 12 || published < 6 {
			t.Errorf("%s: %d rows, %d published; want at least 12 and 6", pkg, len(out), published)
		}
	}
}

// TestMissFails: a row that is off by more than its tolerance is a miss.
func TestMissFails(t *testing.T) {
	rows, err := testdata.Rows("units")
	if err != nil || len(rows) == 0 {
		t.Fatal(err, len(rows))
	}
	r := rows[0]
	got, err := value(&r, registry.All())
	if err != nil {
		t.Fatal(err)
	}
	r.Want = got + 2*(r.AbsTol+r.RelTol*(got+1)) + 1e-3
	if r.Pass(got) {
		t.Errorf("row %s passes with a wrong value", r.ID)
	}
	r = rows[0]
	r.Compute = "units.Nothing"
	if _, err := value(&r, registry.All()); err == nil {
		t.Error("an unknown computation gives a value")
	}
}

func TestPrints(t *testing.T) {
	var b strings.Builder
	code, err := run(&b, false)
	if err != nil || code != 0 {
		t.Errorf("exit %d, %v", code, err)
	}
	if !strings.Contains(b.String(), "proof rows") {
		t.Error("no total")
	}
	if _, err := run(io.Discard, true); err != nil {
		t.Error(err)
	}
}
