package main

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/pithball/examples/internal/picture"
)

// The program writes both kinds of picture and the figures of the endless web
// that anyone can check: 25 % at v_s/U = 1, 3.2 % at 0.1 (atan(0.1)/π).
func TestRun(t *testing.T) {
	dir := t.TempDir()
	var out bytes.Buffer
	name := filepath.Join(dir, "a.png")
	if err := run(name, &out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"1         25.0 %", "0.1        3.2 %"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is missing in\n%s", want, out.String())
		}
	}
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if c, err := png.DecodeConfig(f); err != nil || c.Width < 300 {
		t.Errorf("picture: %+v, %v", c, err)
	}
	if err := run(filepath.Join(dir, "a.doc"), &out); err == nil {
		t.Error("a .doc was accepted")
	}
}

// TestPicture: the words read on a phone, in any face, and the caution stands there and below the table.
func TestPicture(t *testing.T) {
	var out bytes.Buffer
	name := filepath.Join(t.TempDir(), "a.svg")
	if err := run(name, &out); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range picture.Faults(b, 390) {
		t.Error(f)
	}
	for _, s := range []string{"are invented.", "It approves nothing"} {
		if !strings.Contains(string(b), s) || !strings.Contains(out.String(), s) {
			t.Errorf("no caution: %q", s)
		}
	}
}
