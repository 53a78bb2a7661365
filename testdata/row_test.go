package testdata

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// square is a computation with a band: x², and a factor 2 either way.
var square = []compute.Entry{{
	Name:    "test.Square",
	Args:    []compute.Arg{{Name: "x", Low: -10, High: 10}},
	Results: []compute.Arg{{Name: "y"}, {Name: "low"}, {Name: "high"}},
	Eval: func(out, in []float64) error {
		y := in[0] * in[0]
		out[0], out[1], out[2] = y, y/2, 2*y
		if in[0] == 9 {
			out[2] = math.Inf(1)
		}
		if in[0] == 8 {
			out[1], out[2] = out[2], out[1]
		}
		return nil
	},
}}

func measured(x, want float64) Row {
	return Row{
		ID: "m", What: "measured", Compute: "test.Square", Args: map[string]float64{"x": x}, Want: want,
		Measured: &Measured{Use: Gate, Conditions: "dry", Uncertainty: Limits, Low: "low", High: "high"},
		Source:   known.Source{Provenance: known.Published, Cite: "A. Author, A work, 1990"},
	}
}

// A measured value inside the band passes, outside it needs a reason, and a
// reason that has become untrue is a fault. By hand: x = 2 gives the band 2 … 8.
func TestMeasured(t *testing.T) {
	for _, c := range []struct {
		name    string
		edit    func(r *Row)
		fault   string // "" for none
		verdict string
	}{
		{"inside", func(r *Row) {}, "", "inside"},
		{"at the end", func(r *Row) { r.Want = 8 }, "", "inside"},
		{"outside", func(r *Row) { r.Want = 8.1 }, "lies outside", "OUTSIDE"},
		{"outside below", func(r *Row) { r.Want = 1.9 }, "lies outside", "OUTSIDE"},
		{"widened", func(r *Row) { r.Want, r.AbsTol = 8.1, 0.2 }, "", "inside"},
		{"widened by a ratio", func(r *Row) { r.Want, r.RelTol = 1.9, 0.1 }, "", "inside"},
		{"known outside", func(r *Row) { r.Want, r.Measured.KnownDisagreement = 9, "why" }, "", "outside, known"},
		{"no longer outside", func(r *Row) { r.Measured.KnownDisagreement = "why" }, "remove it",
			"INSIDE, reason out of date"},
		{"open above", func(r *Row) { r.Want, r.Measured.High = 1e9, "" }, "", "inside"},
		{"open above, too low", func(r *Row) { r.Want, r.Measured.High = 1, "" }, "lies outside", "OUTSIDE"},
		{"open below", func(r *Row) { r.Want, r.Measured.Low = -1e9, "" }, "", "inside"},
		{"tolerance", func(r *Row) { r.Result, r.AbsTol, r.Measured.Low, r.Measured.High = "y", 1, "", "" }, "", "inside"},
		{"tolerance missed", func(r *Row) { r.Result, r.Want, r.AbsTol, r.Measured.Low, r.Measured.High = "y", 6, 1, "", "" },
			"lies outside", "OUTSIDE"},
		{"context outside", func(r *Row) { r.Want, r.Measured.Use = 9, Context }, "", "outside (context)"},
		{"infinite end", func(r *Row) { r.Args["x"] = 9 }, "finite ends", "cannot compute"},
		{"ends in the wrong order", func(r *Row) { r.Args["x"] = 8 }, "low below high", "cannot compute"},
		{"no such result", func(r *Row) { r.Measured.Low = "lowest" }, "a result of test.Square", "cannot compute"},
		{"no such argument", func(r *Row) { r.Args = map[string]float64{"z": 1} }, "a value for every argument",
			"cannot compute"},
		{"one argument too many", func(r *Row) { r.Args["z"] = 1 }, "no others", "cannot compute"},
		{"no such computation", func(r *Row) { r.Compute = "test.Cube" }, "public computation", "cannot compute"},
		{"out of range", func(r *Row) { r.Args["x"] = 11 }, "-10 … 10", "cannot compute"},
	} {
		r := measured(2, 5)
		c.edit(&r)
		o := r.Evaluate(square)
		err := o.Fault()
		if c.fault == "" != (err == nil) || err != nil && !strings.Contains(err.Error(), c.fault) {
			t.Errorf("%s: fault %v, want %q", c.name, err, c.fault)
		}
		if !strings.HasPrefix(o.Verdict(), c.verdict) {
			t.Errorf("%s: verdict %q, want %q", c.name, o.Verdict(), c.verdict)
		}
		if r.Proof() {
			t.Errorf("%s: a measured row counts as proof", c.name)
		}
	}
}

// What a row proves follows from its provenance; a look-up, a definition and a
// row from memory must agree, but prove nothing.
func TestProof(t *testing.T) {
	for _, c := range []struct {
		p             known.Provenance
		lookup, proof bool
	}{
		{known.Published, false, true}, {known.Quoted, false, true}, {known.Computed, false, true},
		{known.Published, true, false}, {known.Quoted, true, false}, {known.Definition, false, false},
		{known.CommonPractice, false, false}, {known.Memory, false, false}, {known.Demo, false, false},
		{known.Memory, true, false}, {known.Unstated, false, false},
	} {
		r := Row{Compute: "test.Square", Args: map[string]float64{"x": 2}, Result: "y", Want: 4, AbsTol: 1e-9,
			Lookup: c.lookup,
			Source: known.Source{Provenance: c.p}}
		if r.Proof() != c.proof {
			t.Errorf("%v, look-up %v: proof %v", c.p, c.lookup, r.Proof())
		}
		off := r
		off.Want = 5
		hit, miss := r.Evaluate(square), off.Evaluate(square)
		if hit.Fault() != nil || miss.Fault() == nil {
			t.Errorf("%v, look-up %v: faults %v and %v", c.p, c.lookup, hit.Fault(), miss.Fault())
		}
	}
	r := Row{Want: math.NaN(), AbsTol: 1}
	if r.Pass(0) || (&Row{AbsTol: 1}).Pass(math.NaN()) {
		t.Error("NaN passes")
	}
}

// The loader refuses a row that leaves out what a reader needs, and names it.
func TestRefuses(t *testing.T) {
	good := measured(2, 5)
	plain := Row{ID: "p", What: "w", Compute: "c", Result: "y", Want: 1, RelTol: 1e-3, TolWhy: "printed digits",
		Source: good.Source}
	if _, err := parse("x", encode(t, good, plain)); err != nil {
		t.Fatal(err)
	}
	for field, edit := range map[string]func(r *Row){
		".id":                          func(r *Row) { r.ID = "" },
		".what":                        func(r *Row) { r.What = "" },
		".compute":                     func(r *Row) { r.Compute = "" },
		".result":                      func(r *Row) { r.Result, r.Measured = "", nil },
		".rel_tol":                     func(r *Row) { r.RelTol = -1 },
		".abs_tol":                     func(r *Row) { r.AbsTol = -1 },
		".tol_why":                     func(r *Row) { r.RelTol = 0.1 },
		".source.cite":                 func(r *Row) { r.Source.Cite = "" },
		".source.via":                  func(r *Row) { r.Source.Provenance = known.Quoted },
		".source.provenance":           func(r *Row) { r.Source.Note = "read second-hand" },
		".measured":                    func(r *Row) { r.Source.Provenance = known.Memory },
		".measured.conditions":         func(r *Row) { r.Measured.Conditions = "" },
		".measured.high":               func(r *Row) { r.Measured.High = "low" },
		".measured.why_context":        func(r *Row) { r.Measured.Use = Context },
		".measured.known_disagreement": func(r *Row) { r.Measured.Use, r.Measured.KnownDisagreement = Context, "why" },
	} {
		r, m := measured(2, 5), *good.Measured
		r.Measured, r.Result = &m, "y"
		edit(&r)
		_, err := parse("x", encode(t, r))
		var fe *known.FieldError
		if !errors.As(err, &fe) || !strings.HasSuffix(fe.Field, field) || fe.Want == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
	twice := measured(2, 5)
	if _, err := parse("x", encode(t, good, twice)); err == nil {
		t.Error("an id stands twice")
	}
	loose := plain
	loose.RelTol = 0
	if _, err := parse("x", encode(t, loose)); err == nil {
		t.Error("a row has no tolerance")
	}
	via := plain
	via.Source.Via = "another work"
	if _, err := parse("x", encode(t, via)); err == nil {
		t.Error("a published row names a quoting work")
	}
	for _, text := range []string{`[{"id":"a","colour":"red"}]`, `[{"measured":{"use":"proof"}}]`,
		`[{"measured":{"uncertainty":"none"}}]`, `[`} {
		if _, err := parse("x", []byte(text)); err == nil {
			t.Errorf("%s is read", text)
		}
	}
}

func encode(t *testing.T, rows ...Row) []byte {
	t.Helper()
	b, err := json.Marshal(rows)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Names are read back as they are written.
func TestNames(t *testing.T) {
	for u := Gate; u <= Context; u++ {
		var v Use
		if b, err := u.MarshalText(); err != nil || v.UnmarshalText(b) != nil || v != u {
			t.Errorf("%v reads back as %v", u, v)
		}
	}
	for u := Standard; u <= Judged; u++ {
		var v Uncertainty
		if b, err := u.MarshalText(); err != nil || v.UnmarshalText(b) != nil || v != u {
			t.Errorf("%v reads back as %v", u, v)
		}
	}
	if Use(99).String() != "Use(99)" || Uncertainty(0).String() != "Uncertainty(0)" {
		t.Error("names of unknown values")
	}
}

// Every file loads.
func TestRows(t *testing.T) {
	for _, pkg := range Packages() {
		if rows, err := Rows(pkg); err != nil || len(rows) == 0 {
			t.Errorf("%s: %d rows, %v", pkg, len(rows), err)
		}
	}
	if _, err := Rows("nothing"); err == nil {
		t.Error("a package without rows has some")
	}
}
