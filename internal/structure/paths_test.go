package structure_test

import (
	"go/ast"
	"go/token"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var fieldPath = regexp.MustCompile(`^[a-z][a-z0-9_]*(\[\d*\]?)?(\.[a-z][a-z0-9_]*(\[\d*\]?)?)*\.?$`)

// TestErrorPathsHaveOneStyle: an error names its field in lower_snake with
// dots, as the registry names arguments. Package line names the path in the
// user's file instead, whose keys are its own.
func TestErrorPathsHaveOneStyle(t *testing.T) {
	checks := []string{"Wrong", "InRange", "Positive", "NotNegative", "Finite"}
	n := 0
	goFiles(t, func(path string, f *ast.File, fset *token.FileSet) {
		top, _, _ := strings.Cut(path, "/")
		if strings.HasSuffix(path, "_test.go") ||
			!slices.Contains([]string{"charge", "decay", "humidity", "ionflow", "units"}, top) {
			return
		}
		ast.Inspect(f, func(node ast.Node) bool {
			c, ok := node.(*ast.CallExpr)
			if !ok || len(c.Args) < 2 {
				return true
			}
			s, ok := c.Fun.(*ast.SelectorExpr)
			if !ok || !slices.Contains(checks, s.Sel.Name) {
				return true
			}
			x := c.Args[0]
			for { // of "a" + b the first part
				b, ok := x.(*ast.BinaryExpr)
				if !ok {
					break
				}
				x = b.X
			}
			if l, ok := x.(*ast.BasicLit); ok && l.Kind == token.STRING {
				n++
				if p, _ := strconv.Unquote(l.Value); !fieldPath.MatchString(p) {
					t.Errorf("%s: field %q, want lower_snake with dots", fset.Position(l.Pos()), p)
				}
			}
			return true
		})
	})
	if n < 200 {
		t.Fatalf("only %d checks of fields found", n)
	}
}
