package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestBuilds: what differs between two dumps is told, by an allowance or not.
func TestBuilds(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return p
	}
	base := file("base", "a.F\t0\tx=0x1p+00\ty=0x1p+00 z=0x0p+00\na.F\t1\tx=0x1p+00\terror\t\"no\"\n")
	loose := file("loose", "# entry\na.F\ty\t1e-3\t0\tby hand\na.F\t*\t0\t1e-12\tby hand\n")
	for _, c := range []struct {
		text, loose string
		ok          bool
	}{
		{"a.F\t0\tx=0x1p+00\ty=0x1p+00 z=0x0p+00\na.F\t1\tx=0x1p+00\terror\t\"other text\"\n", "", true},
		{"a.F\t0\tx=0x1p+00\ty=1.0000000005 z=0x0p+00\na.F\t1\tx=0x1p+00\terror\t\"no\"\n", "", true},
		{"a.F\t0\tx=0x1p+00\ty=1.000000002 z=0x0p+00\na.F\t1\tx=0x1p+00\terror\t\"no\"\n", "", false},
		{"a.F\t0\tx=0x1p+00\ty=1.000000002 z=0x0p+00\na.F\t1\tx=0x1p+00\terror\t\"no\"\n", loose, true},
		{"a.F\t0\tx=0x1p+00\ty=1.002 z=0x0p+00\na.F\t1\tx=0x1p+00\terror\t\"no\"\n", loose, false},
		{"a.F\t0\tx=0x1p+00\ty=0x1p+00 z=1e-13\na.F\t1\tx=0x1p+00\terror\t\"no\"\n", "", false},
		{"a.F\t0\tx=0x1p+00\ty=0x1p+00 z=1e-13\na.F\t1\tx=0x1p+00\terror\t\"no\"\n", loose, true},
		{"a.F\t0\tx=0x1p+00\ty=0x1p+00 z=NaN\na.F\t1\tx=0x1p+00\terror\t\"no\"\n", loose, false},
		{"a.F\t0\tx=0x1p+00\ty=0x1p+00 z=0x0p+00\na.F\t1\tx=0x1p+00\ty=0x1p+00 z=0x0p+00\n", loose, false},
		{"a.F\t0\tx=0x1p+00\ty=0x1p+00 z=0x0p+00\n", loose, false},
	} {
		if err := builds(base, file("other", c.text), c.loose); (err == nil) != c.ok {
			t.Errorf("%q: %v", c.text, err)
		}
	}
	if _, err := allowances(file("bad", "a\tb\t1\t1\t \n")); err == nil || !strings.Contains(err.Error(), "bad:1") {
		t.Errorf("an allowance without a reason: %v", err)
	}
}

// TestLeftOut: calls that a dump does without are calls of the registry.
func TestLeftOut(t *testing.T) {
	m, err := calls("slow.tsv")
	if err != nil || !m[[2]string{"transport.Transient.Advance", "5"}] {
		t.Errorf("got %v, %v", m, err)
	}
	wrong := filepath.Join(t.TempDir(), "wrong.tsv")
	if err := os.WriteFile(wrong, []byte("transport.Nothing\t5\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := calls(wrong); err == nil || !strings.Contains(err.Error(), `wrong.tsv:1: "transport.Nothing\t5" is no entry`) {
		t.Errorf("got %v", err)
	}
}
