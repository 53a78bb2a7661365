package quantitycheck_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/internal/quantitycheck"
)

// TestPlanted finds each planted fault on its line, and nothing else.
func TestPlanted(t *testing.T) {
	src, err := os.ReadFile("testdata/planted/planted.go")
	if err != nil {
		t.Fatal(err)
	}
	want := map[int][]string{}
	for i, line := range strings.Split(string(src), "\n") {
		if _, rules, ok := strings.Cut(line, "// want "); ok {
			want[i+1] = strings.Fields(rules)
		}
	}
	if len(want) < 20 {
		t.Fatalf("only %d lines with faults", len(want))
	}
	found, err := quantitycheck.Check("testdata/planted")
	if err != nil {
		t.Fatal(err)
	}
	dropped, err := quantitycheck.DroppedErrors("testdata/planted")
	if err != nil {
		t.Fatal(err)
	}
	found = append(found, dropped...)
	got := map[int][]string{}
	for _, f := range found {
		if filepath.Base(f.Pos.Filename) != "planted.go" || f.Text == "" {
			t.Errorf("stray finding %v", f)
		}
		got[f.Pos.Line] = append(got[f.Pos.Line], f.Rule)
	}
	for line, rules := range want {
		if !slices.Equal(got[line], rules) {
			t.Errorf("line %d: got %q, want %q", line, got[line], rules)
		}
		delete(got, line)
	}
	for line, rules := range got {
		t.Errorf("line %d: found %q where all is right", line, rules)
	}
	for _, rule := range []string{quantitycheck.Product, quantitycheck.Quotient, quantitycheck.Literal,
		quantitycheck.Temperature, quantitycheck.Dropped} {
		if !slices.ContainsFunc(found, func(f quantitycheck.Finding) bool { return f.Rule == rule }) {
			t.Errorf("rule %q never fired", rule)
		}
	}
}

// TestExamplesHandleErrors: what people copy, programs of examples and runnable
// examples, drops no error.
func TestExamplesHandleErrors(t *testing.T) {
	if testing.Short() {
		t.Skip("reads the types of the whole tree")
	}
	found, err := quantitycheck.DroppedErrors("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range found {
		file := filepath.ToSlash(f.Pos.Filename)
		if test := strings.HasSuffix(file, "_test.go"); !test && strings.Contains(file, "/examples/") ||
			test && strings.HasPrefix(f.Func, "Example") {
			t.Error(f)
		}
	}
}

func TestNoPackage(t *testing.T) {
	if _, err := quantitycheck.Check("testdata/nowhere"); err == nil {
		t.Error("no error for a missing folder")
	}
}
