package registry_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
)

// TestImportingCostsNothing: a program that imports the library and asks nothing pays
// nothing. The time at start, which is to stay below 0.1 ms on a free machine, depends
// on who else is at work; what it allocates does not, and is held: 16 KiB in 150 pieces,
// where the tables of units alone once took 144 KiB in 1,837.
func TestImportingCostsNothing(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a program")
	}
	exe := filepath.Join(t.TempDir(), "start.exe")
	c := exec.Command("go", "build", "-o", exe, "./testdata/start")
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	trace := regexp.MustCompile(`init example\.org/pithball\S* @\S+ ms, (\S+) ms clock, (\d+) bytes, (\d+) allocs`)
	best, bytes, pieces := 1e9, 0, 0
	for range 5 {
		c := exec.Command(exe)
		c.Env = append(os.Environ(), "GODEBUG=inittrace=1")
		out, err := c.CombinedOutput()
		if err != nil {
			t.Fatal(err)
		}
		sum, b, k := 0.0, 0, 0
		for _, m := range trace.FindAllStringSubmatch(string(out), -1) {
			ms, _ := strconv.ParseFloat(m[1], 64)
			n, _ := strconv.Atoi(m[2])
			a, _ := strconv.Atoi(m[3])
			sum, b, k = sum+ms, b+n, k+a
		}
		best, bytes, pieces = min(best, sum), b, k
	}
	t.Logf("%.3f ms, %d bytes in %d pieces", best, bytes, pieces)
	if pieces == 0 || pieces > 150 || bytes > 16<<10 {
		t.Errorf("importing the library allocates %d bytes in %d pieces, want at most 16 KiB in 150", bytes, pieces)
	}
}
