package structure_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestReadmeProgram runs the README's program in a module of its own, as the
// README says to embed the library, and compares what it prints.
func TestReadmeProgram(t *testing.T) {
	b, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(b), "```go\n")
	program, rest, ok2 := strings.Cut(rest, "```\n")
	_, rest, ok3 := strings.Cut(rest, "prints\n\n")
	if !ok || !ok2 || !ok3 {
		t.Fatal("README.md has no program with its output")
	}
	var want strings.Builder
	for l := range strings.Lines(rest) {
		text, ok := strings.CutPrefix(l, "    ")
		if !ok {
			break
		}
		want.WriteString(text)
	}
	dir := t.TempDir()
	abs, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	sum, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"main.go": program,
		"go.mod": "module reader\n\ngo 1.26\n\nrequire example.org/pithball v0.0.0\n\nreplace example.org/pithball => " +
			filepath.ToSlash(abs) + "\n",
		"go.sum": string(sum),
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command("go", "run", "-mod=mod", ".")
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if string(out) != want.String() {
		t.Errorf("README says\n%s\nthe program prints\n%s", want.String(), out)
	}
}
