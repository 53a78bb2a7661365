package structure_test

import (
	"os"
	"strings"
	"testing"
)

// TestFaultsStand: the expression of each deliberate fault stands once in its file, so that a move of code is noticed
// by the short tests and not only by the run that tries the faults.
func TestFaultsStand(t *testing.T) {
	b, err := os.ReadFile("../../.ci/faults/faults.txt")
	if err != nil {
		t.Fatal(err)
	}
	name, count := "", 0
	for _, l := range strings.Split(string(b), "\n") {
		if file, ok := strings.CutPrefix(l, "file: "); ok {
			name = file
		}
		right, ok := strings.CutPrefix(l, "right: ")
		if !ok {
			continue
		}
		count++
		code, err := os.ReadFile("../../" + name)
		if err != nil {
			t.Error(err)
		} else if n := strings.Count(string(code), right); n != 1 {
			t.Errorf("%s: %q stands %d times", name, right, n)
		}
	}
	if count < 30 {
		t.Errorf("%d faults", count)
	}
}
