package structure_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// writes are calls that make a file in a way that can leave half of one, replace a device or change permissions.
var writes = regexp.MustCompile(`\bos\.(WriteFile|Create|CreateTemp|OpenFile|Rename)\(`)

// otherWrites may do it for the reason beside them.
var otherWrites = map[string]string{
	"examples/outfile/outfile.go":              "is the way",
	"examples/registry/testdata/names/main.go": "a generator for its own test",
}

// TestOutputsAreWhole: every program of the examples, in whatever module, writes its files by package outfile: whole or
// not at all, through devices, behind links, by the umask, and nothing is left when it is stopped.
func TestOutputsAreWhole(t *testing.T) {
	used := map[string]bool{}
	err := filepath.WalkDir("../../examples", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		name := filepath.ToSlash(strings.TrimPrefix(path, "../../"))
		b, err := os.ReadFile(path)
		for _, call := range writes.FindAllString(string(b), -1) {
			if used[name] = true; otherWrites[name] == "" {
				t.Errorf("%s: %s…): want outfile.Write", name, call)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for name := range otherWrites {
		if !used[name] {
			t.Errorf("%s writes nothing", name)
		}
	}
}
