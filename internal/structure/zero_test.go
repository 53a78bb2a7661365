package structure_test

import (
	"go/ast"
	"go/token"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"example.org/pithball/internal/zerocheck"
)

// TestZeroValuesAreTried: every package with types that only it can make has a
// test of their zero values (internal/zerocheck).
func TestZeroValuesAreTried(t *testing.T) {
	dirs, tried := map[string]bool{}, map[string]bool{}
	goFiles(t, func(file string, f *ast.File, _ *token.FileSet) {
		dir := path.Dir(file)
		// The engine's draws and kits are no values that compute.
		if dir == "units/lawtest" ||
			f.Name.Name == "main" || strings.Contains("/"+dir+"/", "/internal/") || strings.HasPrefix(dir, "examples") {
			return
		}
		dirs[dir] = true
		ast.Inspect(f, func(n ast.Node) bool {
			c, ok := n.(*ast.CallExpr)
			tried[dir] = tried[dir] || ok && strings.HasSuffix(file, "_test.go") && called(c.Fun) == "Faults"
			return true
		})
	})
	if len(tried) < 10 {
		t.Errorf("only %d packages found: the search is broken", len(tried))
	}
	for dir := range dirs {
		need, err := zerocheck.Needed(filepath.Join(root, dir))
		if err != nil {
			t.Fatal(err)
		}
		if need && !tried[dir] {
			t.Errorf("%s: no test tries its zero values (zerocheck.Faults)", dir)
		}
	}
}
