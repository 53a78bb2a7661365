package main

import (
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"example.org/pithball/examples/registry"
	"example.org/pithball/testdata"
	"example.org/pithball/units/known"
)

// TestScoreboard: no row has a fault, and every package has values from outside.
func TestScoreboard(t *testing.T) {
	list := registry.All()
	read := 0
	for _, pkg := range testdata.Packages() {
		out, err := evaluate(pkg, list)
		if err != nil {
			t.Fatal(err)
		}
		var n tally
		for i := range out {
			if err := out[i].Fault(); err != nil {
				t.Errorf("%s: %v", pkg, err)
			}
			n.add(&out[i])
		}
		if n.proofs() < 12 {
			t.Errorf("%s: %d proofs; want at least 12", pkg, n.proofs())
		}
		read += n.proof[known.Published] + n.proof[known.Quoted] + n.inside + n.outside
	}
	if read < 60 {
		t.Errorf("%d values that others printed; want at least 60", read)
	}
}

// TestMissFails: a row that is off by more than its tolerance is a fault, also
// one that proves nothing.
func TestMissFails(t *testing.T) {
	rows, err := testdata.Rows("units")
	if err != nil || len(rows) == 0 {
		t.Fatal(err, len(rows))
	}
	list := registry.All()
	r := rows[0]
	o := r.Evaluate(list)
	if err := o.Fault(); err != nil {
		t.Fatal(err)
	}
	r.Want = o.Got + 2*(r.AbsTol+r.RelTol*(o.Got+1)) + 1e-3
	if o = r.Evaluate(list); o.Fault() == nil {
		t.Errorf("row %s passes with a wrong value", r.ID)
	}
	var n tally
	if n.add(&o); n.faults != 1 {
		t.Error("the scoreboard does not count a fault")
	}
	r.Source.Provenance = known.Memory
	if o = r.Evaluate(list); o.Fault() == nil {
		t.Errorf("row %s passes with a wrong value, from memory", r.ID)
	}
	r = rows[0]
	r.Compute = "units.Nothing"
	if o = r.Evaluate(list); o.Fault() == nil {
		t.Error("an unknown computation gives a value")
	}
}

// TestTally: every row counts once, in the column that its kind says.
func TestTally(t *testing.T) {
	row := func(p known.Provenance) testdata.Row {
		return testdata.Row{ID: "x", Want: 1, AbsTol: 0.5, Source: known.Source{Provenance: p}}
	}
	lookup, in, out, context := row(known.Published), row(known.Quoted), row(known.Quoted), row(known.Quoted)
	lookup.Lookup = true
	in.Measured = &testdata.Measured{Use: testdata.Gate}
	out.Measured = &testdata.Measured{Use: testdata.Gate, KnownDisagreement: "why"}
	context.Measured = &testdata.Measured{Use: testdata.Context}
	published, quoted, computed := row(known.Published), row(known.Quoted), row(known.Computed)
	definition, practice, memory, demo := row(known.Definition), row(known.CommonPractice), row(known.Memory),
		row(known.Demo)
	var n tally
	for _, c := range []struct {
		row *testdata.Row
		got float64
		k   int
	}{
		{&published, 1, 1}, {&quoted, 1, 2}, {&computed, 1, 3}, {&in, 1, 4}, {&out, 2, 5}, {&context, 2, 6},
		{&lookup, 1, 7}, {&definition, 1, 8}, {&practice, 1, 9}, {&memory, 1, 10}, {&demo, 1, 11},
	} {
		for range c.k {
			n.add(&testdata.Outcome{Row: c.row, Got: c.got})
		}
	}
	want := "6 values prove something: 1 published, 2 quoted, 3 computed from a published law by another method. " +
		"Measured: 4 inside the model's band, 5 outside (known, with reason), 6 for context only. " +
		"Apart, as they prove nothing: 7 look-ups of tables of ours, 8 definitions, 9 from common practice, 10 from " +
		"memory, 11 demo. " +
		"Faults: 0."
	if n.String() != want {
		t.Errorf("got  %s\nwant %s", n.String(), want)
	}
	n.add(&testdata.Outcome{Row: &published, Got: 2})
	n.add(&testdata.Outcome{Row: &in, Got: 2})
	n.add(&testdata.Outcome{Row: &out, Got: 1})
	if n.faults != 3 {
		t.Errorf("%d faults, want 3: a miss, outside without a reason, inside with one", n.faults)
	}
}

func TestPrints(t *testing.T) {
	var b strings.Builder
	code, err := run(&b, false)
	if err != nil || code != 0 {
		t.Errorf("exit %d, %v", code, err)
	}
	for _, s := range []string{"look-ups of own tables", "values prove something", "charge.Mode.Elsewhere, low … high"} {
		if !strings.Contains(b.String(), s) {
			t.Errorf("%q is not printed", s)
		}
	}
	if _, err := run(io.Discard, true); err != nil {
		t.Error(err)
	}
}

// TestBandsHold: a band is as wide as its rows ask, nine of ten. Too narrow is one that
// holds less than 85 % of them although their stated errors widen it, too wide one that
// holds more than 95 % by itself. Of fewer than 18 rows a share says nothing.
func TestBandsHold(t *testing.T) {
	list := registry.All()
	var held []band
	for _, pkg := range testdata.Packages() {
		out, err := evaluate(pkg, list)
		if err != nil {
			t.Fatal(err)
		}
		for i := range out {
			held = addBand(held, &out[i])
		}
	}
	judged := 0
	for i := range held {
		b := &held[i]
		if b.rows < 18 {
			continue
		}
		judged++
		if wide := float64(b.wide) / float64(b.rows); wide < 0.85 || b.share() > 0.95 {
			t.Errorf("%s: of %d rows %d inside, %d with their errors", b.name, b.rows, b.bare, b.wide)
		}
	}
	if judged < 4 {
		t.Errorf("%d bands have enough rows, want at least 4", judged)
	}
}

// TestAddBand: a row at the end of a band is inside, one a little beyond it by its
// stated error alone; look-ups, context and bands with one end are no evidence.
func TestAddBand(t *testing.T) {
	row := testdata.Row{Compute: "x", Want: 2, AbsTol: 0.2, Measured: &testdata.Measured{Use: testdata.Gate,
		Low: "a", High: "b"}}
	look, aside := row, row
	look.Lookup, aside.Measured = true, &testdata.Measured{Use: testdata.Context, Low: "a", High: "b"}
	var held []band
	for _, o := range []testdata.Outcome{{Row: &row, Low: 1, High: 2}, {Row: &row, Low: 1, High: 1.9},
		{Row: &row, Low: 2.3, High: 3}, {Row: &look, Low: 1, High: 3}, {Row: &aside, Low: 1, High: 3},
		{Row: &row, Low: 1, High: math.Inf(1)}} {
		held = addBand(held, &o)
	}
	if want := (band{"x, a … b", 3, 1, 2}); len(held) != 1 || held[0] != want {
		t.Errorf("%+v, want %+v", held, want)
	}
}

// TestReadme: the README quotes the counts that the program prints.
func TestReadme(t *testing.T) {
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	n, err := count()
	if err != nil {
		t.Fatal(err)
	}
	_, counts, _, err := quoted(string(b))
	if err != nil {
		t.Fatal(err)
	}
	if counts != n.readme() {
		t.Errorf("README.md says\n%s\nthe rows give\n%s\nrun go generate ./examples/validate", counts, n.readme())
	}
}
