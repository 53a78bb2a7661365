package structure_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path"
	"strings"
	"testing"
)

// sameBits lists the packages of the way from a survey to its report, which promises the same bits on every
// platform.
var sameBits = []string{"units", "units/known", "humidity", "charge", "charge/field", "charge/gas", "charge/hazard",
	"decay", "ionflow", "ionflow/jet",
	"ionflow/ioniser", "line", "line/survey", "line/cure", "line/upkeep", "line/ensemble", "examples/survey",
	"examples/survey/report",
	"examples/internal/days", "examples/page/floor", "internal/counter"}

// otherBits lists what may give other last digits from one platform to the next, with the reason.
var otherBits = map[string]string{
	"examples/page/floor/answer.go math.Pow": "a whole power, which has no exponential in it",
	"examples/page/floor/expect.go math.Pow": "squares, which have no exponential in them",
	"humidity/fast.go mat":                   "tables of the hot path of batches, which no survey asks",
	"humidity/spread.go distuv":              "bands of a fit, which no survey asks",
	"decay/fitted.go distuv":                 "bands of a fit, which no survey asks",
	"decay/finding.go distuv":                "a test of a fit, which no survey asks",
	"decay/comparison.go distuv":             "a test of a fit, which no survey asks",
	"decay/dispersive.go math.Gamma":         "area under a stretched decay, which no survey asks",
	"line/upkeep/compare.go distuv":          "rounded to ten digits, or on one side of a threshold",
	"line/upkeep/count.go distuv":            "rounded to ten digits",
	"line/upkeep/scatter.go distuv":          "rounded to ten digits, or on one side of a threshold",
}

// exponentials are the functions of package math that are made from its exponential, which is another one in
// assembly, with fused multiplications and in Go.
var exponentials = []string{"Exp", "Pow", "Erf", "Erfc", "Sinh", "Cosh", "Tanh", "Gamma"}

// TestSameBits: nothing on that way calls what has assembly on one platform and not on another: package math's
// exponential, and sums, products and factors of gonum. internal/numeric has them in a stated order.
func TestSameBits(t *testing.T) {
	used, seen := map[string]bool{}, map[string]bool{}
	goFiles(t, func(file string, f *ast.File, fset *token.FileSet) {
		dir := path.Dir(file)
		if strings.HasSuffix(file, "_test.go") || !contains(sameBits, dir) {
			return
		}
		seen[dir] = true
		for call, line := range platformCalls(f, fset) {
			if key := file + " " + call; otherBits[key] != "" {
				used[key] = true
			} else {
				t.Errorf("%s:%d: %s differs from platform to platform: use internal/numeric", file, line, call)
			}
		}
	})
	for key := range otherBits {
		if !used[key] {
			t.Errorf("%s is excused, but calls nothing of the kind", key)
		}
	}
	for _, dir := range sameBits {
		if !seen[dir] {
			t.Errorf("no file in %s", dir)
		}
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// platformCalls are the calls of a file that may differ, each with its first line.
func platformCalls(f *ast.File, fset *token.FileSet) map[string]int {
	out := map[string]int{}
	add := func(call string, at token.Pos) {
		if _, ok := out[call]; !ok {
			out[call] = fset.Position(at).Line
		}
	}
	for _, im := range f.Imports {
		switch p := strings.Trim(im.Path.Value, `"`); p {
		case "gonum.org/v1/gonum/mat", "gonum.org/v1/gonum/blas/blas64", "gonum.org/v1/gonum/lapack/lapack64":
			add(path.Base(p), im.Pos())
		}
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if c, ok := n.(*ast.CallExpr); ok {
			if of, name := selected(c.Fun); of == "stat" && len(c.Args) > 1 {
				for _, a := range c.Args {
					if id, ok := a.(*ast.Ident); ok && id.Name == "nil" {
						add("stat."+name+" without weights", c.Pos())
					}
				}
			}
		}
		e, ok := n.(ast.Expr)
		if !ok {
			return true
		}
		switch of, name := selected(e); {
		case of == "math" && contains(exponentials, name):
			add("math."+name, n.Pos())
		case of == "floats" && name != "Add" && name != "Sub" && name != "Scale":
			add("floats."+name, n.Pos())
		case of == "distuv" && name != "UnitNormal":
			add("distuv", n.Pos())
		}
		if s, ok := e.(*ast.SelectorExpr); ok { // the quantile of a normal has but a logarithm in it
			if of, name := selected(s.X); of == "distuv" && name == "UnitNormal" && s.Sel.Name != "Quantile" {
				add("distuv.UnitNormal."+s.Sel.Name, n.Pos())
			}
		}
		return true
	})
	return out
}

// selected is package and name of an expression such as math.Exp.
func selected(e ast.Expr) (of, name string) {
	if s, ok := e.(*ast.SelectorExpr); ok {
		if id, ok := s.X.(*ast.Ident); ok {
			return id.Name, s.Sel.Name
		}
	}
	return "", ""
}

// TestPlatformCallsAreFound: each kind of call is seen, and what is the same everywhere is not.
func TestPlatformCallsAreFound(t *testing.T) {
	const src = `package p
import "gonum.org/v1/gonum/mat"
func a() { _ = math.Exp(1) + math.Log(2) + math.Pow(x, y) + numeric.Exp(3) }
func b() { f := math.Tanh; floats.Dot(x, y); floats.Add(x, y) }
func c() { distuv.UnitNormal.CDF(1); distuv.UnitNormal.Quantile(p); _ = distuv.F{}; stat.Mean(x, nil); stat.Mean(x, w); append(x, nil) }
`
	fset := token.NewFileSet()
	f, err := parser.ParseFile(fset, "p.go", src, 0)
	if err != nil {
		t.Fatal(err)
	}
	got := platformCalls(f, fset)
	want := map[string]int{"mat": 2, "math.Exp": 3, "math.Pow": 3, "math.Tanh": 4, "floats.Dot": 4,
		"stat.Mean without weights": 5, "distuv.UnitNormal.CDF": 5,
		"distuv": 5}
	if len(got) != len(want) {
		t.Errorf("%v, want %v", got, want)
	}
	for call, line := range want {
		if got[call] != line {
			t.Errorf("%s in line %d, want %d", call, got[call], line)
		}
	}
}
