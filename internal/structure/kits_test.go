package structure_test

import (
	"errors"
	"go/ast"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// called returns the name of a function that is called, without package and type
// arguments.
func called(x ast.Expr) string {
	switch x := x.(type) {
	case *ast.IndexExpr:
		return called(x.X)
	case *ast.IndexListExpr:
		return called(x.X)
	case *ast.SelectorExpr:
		return x.Sel.Name
	case *ast.Ident:
		return x.Name
	}
	return ""
}

// TestKits: every function that returns a kit of laws has a test in its package
// that proves that each law can fail, an example, and in the module of
// examples/embed a test that runs it on models of that module's own.
func TestKits(t *testing.T) {
	kits, proven, examples := map[string]bool{}, map[string]bool{}, map[string]bool{}
	goFiles(t, func(file string, f *ast.File, _ *token.FileSet) {
		dir := path.Dir(file)
		if !strings.HasSuffix(dir, "test") || dir == "units/lawtest" {
			return
		}
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			if of, ok := strings.CutPrefix(fn.Name.Name, "Example"); ok {
				examples[dir+"."+of] = true
			}
			if r := fn.Type.Results; fn.Name.IsExported() && r != nil && called(r.List[0].Type) == "Kit" {
				kits[dir+"."+fn.Name.Name] = true
			}
		}
		ast.Inspect(f, func(n ast.Node) bool {
			c, ok := n.(*ast.CallExpr)
			if !ok || !strings.HasSuffix(file, "_test.go") || called(c.Fun) != "Prove" {
				return true
			}
			if s, ok := c.Fun.(*ast.SelectorExpr); ok {
				if made, ok := s.X.(*ast.CallExpr); ok {
					proven[dir+"."+called(made.Fun)] = true
				}
			}
			return true
		})
	})
	if len(kits) < 4 {
		t.Errorf("only %d kits found: the search is broken", len(kits))
	}
	elsewhere := ""
	tests, err := filepath.Glob(root + "/examples/embed/kits/*_test.go")
	for _, file := range tests {
		b, e := os.ReadFile(file)
		elsewhere, err = elsewhere+string(b), errors.Join(err, e)
	}
	if err != nil {
		t.Error(err)
	}
	for kit := range kits {
		if call := path.Base(kit); !regexp.MustCompile(`\b` + regexp.QuoteMeta(call) +
			`(\[[^\]]*\])?\(`).MatchString(elsewhere) {
			t.Errorf("%s: no test of examples/embed/kits calls %s", kit, call)
		}
		if !proven[kit] {
			t.Errorf("%s: no test calls Prove on what it returns", kit)
		}
		if !examples[kit] {
			t.Errorf("%s has no example", kit)
		}
	}
}
