package structure_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strings"
	"testing"
)

// TestNoNaNPasses: a test that fails where math.Abs(got-want) > tol lets a NaN pass,
// since no comparison holds of it: it asks for !(math.Abs(got-want) <= tol).
func TestNoNaNPasses(t *testing.T) {
	goFiles(t, func(file string, f *ast.File, fset *token.FileSet) {
		if strings.HasSuffix(file, "_test.go") {
			for _, line := range blind(f, fset) {
				t.Errorf("%s:%d: a NaN passes: write !(math.Abs(…) <= …)", file, line)
			}
		}
	})
}

func TestBlindIsFound(t *testing.T) {
	const src = `package p
func f() {
	if math.Abs(x-y) > 1 { t.Errorf("2") }
	if err != nil || math.Abs(x/y-1) > 1 { t.Fatal("3") }
	if !(math.Abs(x-y) <= 1) { t.Error("right") }
	if math.Abs(x-y) > 1 { continue }
	if x := g(); a && math.Abs(x) > 1 { t.Errorf("7") }
}`
	fset := token.NewFileSet()
	f, err := parser.ParseFile(fset, "p.go", src, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := blind(f, fset); !slices.Equal(got, []int{3, 4, 7}) {
		t.Errorf("found in lines %v", got)
	}
}

// blind gives the lines of the conditions of a file by which a test fails and no NaN does.
func blind(f *ast.File, fset *token.FileSet) []int {
	var lines []int
	ast.Inspect(f, func(n ast.Node) bool {
		s, ok := n.(*ast.IfStmt)
		if !ok || len(s.Body.List) == 0 || !fails(s.Body.List[0]) {
			return true
		}
		var look func(e ast.Expr)
		look = func(e ast.Expr) {
			b, ok := e.(*ast.BinaryExpr)
			if !ok {
				return
			}
			switch b.Op {
			case token.LOR, token.LAND:
				look(b.X)
				look(b.Y)
			case token.GTR:
				if c, ok := b.X.(*ast.CallExpr); ok && name(c) == "math.Abs" {
					lines = append(lines, fset.Position(b.Pos()).Line)
				}
			}
		}
		look(s.Cond)
		return true
	})
	return lines
}

// fails says whether a statement reports a failure of a test.
func fails(s ast.Stmt) bool {
	x, ok := s.(*ast.ExprStmt)
	if !ok {
		return false
	}
	c, ok := x.X.(*ast.CallExpr)
	return ok && slices.Contains([]string{"t.Error", "t.Errorf", "t.Fatal", "t.Fatalf"}, name(c))
}

func name(c *ast.CallExpr) string {
	if s, ok := c.Fun.(*ast.SelectorExpr); ok {
		if x, ok := s.X.(*ast.Ident); ok {
			return x.Name + "." + s.Sel.Name
		}
	}
	return ""
}
