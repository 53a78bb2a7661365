package main

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
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
	if c, err := png.DecodeConfig(f); err != nil || c.Width < 400 {
		t.Errorf("picture: %+v, %v", c, err)
	}
	if err := run(filepath.Join(dir, "a.doc"), &out); err == nil {
		t.Error("a .doc was accepted")
	}
}
