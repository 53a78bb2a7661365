package units_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// TestGenerated runs the generator in an empty folder: what stands here is what
// it writes.
func TestGenerated(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a program")
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	build := exec.Command("go", "build", "-o", filepath.Join(dir, "gen.exe"), "./internal/gen")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	run := exec.Command(filepath.Join(dir, "gen.exe"))
	run.Dir = dir
	if out, err := run.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil || len(files) != 5 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, f := range files {
		want, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		got, err := os.ReadFile(filepath.Join(here, filepath.Base(f)))
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not what the generator writes (%v): run go generate", filepath.Base(f), err)
		}
	}
}
