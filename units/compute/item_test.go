package compute

import (
	"regexp"
	"strings"
	"testing"
)

// form is the same grammar as a regular expression.
var form = regexp.MustCompile(`^([a-z_][A-Za-z0-9_#]*)` + // name
	`(?:\s+\[([^\]]+)\])?` + // unit
	`(?:\s+([^\s{:=]+)…([^\s{:=]+))?` + // range
	`(?:\s*\{([^}]*)\})?` + // choices
	`(?:\s*=\s*([^:]+?))?` + // default
	`(?:\s*:\s*(.*))?$`) // text

// FuzzItem: what both read, both read alike, and the hand takes nothing that the expression refuses.
func FuzzItem(f *testing.F) {
	for _, s := range []string{"distance 0…10=0.025: meter plane to web", "gap 0…1e6", "x [C/m²] -1…1",
		"which {thin|thick} = thin: a",
		"factor: E·ε0/σ", "a#1 1…2 {b}=3 : c", "x 1…2…3: y", "x …2", "x 1…", "9", "x[1]", "x  [a b]  1…2", "x = : y",
		"x {}: y", "x y"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		s = strings.TrimSpace(s) // as declarations are
		got, ok := readItem(s)
		m := form.FindStringSubmatch(s)
		if ok && m == nil {
			t.Fatalf("%q: %q, want nothing", s, got)
		}
		if want := (item{}); ok {
			want = item{m[1], m[2], m[3], m[4], m[5], m[6], m[7]}
			if got != want {
				t.Errorf("%q: %q, want %q", s, got, want)
			}
		}
		if unnamed(s) != regexp.MustCompile(`\(-?\d+\)$`).MatchString(s) {
			t.Errorf("%q: unnamed %v", s, unnamed(s))
		}
	})
}

// TestItem: every form that declarations use is read.
func TestItem(t *testing.T) {
	for s, want := range map[string]item{
		"distance 0…10=0.025: meter plane to web": {name: "distance", low: "0", high: "10", def: "0.025",
			text: "meter plane to web"},
		"x [C/(s·m)] -1e-3…1 = 0": {name: "x", unit: "C/(s·m)", low: "-1e-3", high: "1", def: "0"},
		"which {thin|thick film} = thin: of the two: one": {name: "which", choices: "thin|thick film", def: "thin",
			text: "of the two: one"},
		"x {a…b|c}":      {name: "x", choices: "a…b|c"},
		"time_#: median": {name: "time_#", text: "median"},
		"_":              {name: "_"},
	} {
		if got, ok := readItem(s); !ok || got != want {
			t.Errorf("%q: %q, %v", s, got, ok)
		}
	}
	for _, s := range []string{"", "9", "Name", "x [", "x y", "x {}", "x =", "x {a"} {
		if got, ok := readItem(s); ok {
			t.Errorf("%q: %q, want nothing", s, got)
		}
	}
}
