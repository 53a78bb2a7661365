package registry_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
)

// TestImportingCostsNothing: a program that imports the whole library and asks nothing pays nothing when it starts. No
// package of it has anything to initialise: tables are numbers that lie ready in the program, and what is made, is
// made by
// the first who asks (internal/lazy). So there is no time to measure, which would depend on who else is at work.
func TestImportingCostsNothing(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a program")
	}
	exe := filepath.Join(t.TempDir(), "asks.exe")
	c := exec.Command("go", "build", "-o", exe, "./testdata/asks")
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	c = exec.Command(exe)
	c.Env = append(os.Environ(), "GODEBUG=inittrace=1")
	out, err := c.CombinedOutput()
	if err != nil {
		t.Fatal(err)
	}
	if !regexp.MustCompile(`(?m)^init runtime `).Match(out) {
		t.Fatalf("no trace of what is initialised:\n%s", out)
	}
	for _, l := range regexp.MustCompile(`(?m)^init example\.org/pithball.*$`).FindAll(out, -1) {
		t.Errorf("%s", l)
	}
}
