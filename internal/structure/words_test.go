package structure_test

import (
	"go/ast"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// programs are names of general-purpose programs and of their routines.
var programs = regexp.MustCompile(`(?i)\b(scipy|numpy|pandas|psychrolib|mpmath|sympy|gmsh|getdp|fenics|coolprop|matlab|` +
	`octave\.|wolfram|mathematica|gnu units|dop853|brentq|dblquad|curve_fit|linregress|solve_ivp|solve_bvp)\b`)

// mayName are the places where a program's name belongs: the cross-checks, the method of a row or of a kept answer, the
// table of times, and a client for which arrays of a program are a format.
func mayName(path string) bool {
	for _, p := range []string{".ci/", ".git/", "examples/bench/", "examples/notebook/", "testdata/",
		"internal/structure/"} {
		if strings.HasPrefix(path, p) {
			return true
		}
	}
	return strings.Contains(path, "/testdata/")
}

// TestProgramsAreNamedInChecks: comments, documents and messages say by which method a value was found; which program
// did it stands with the cross-check.
func TestProgramsAreNamedInChecks(t *testing.T) {
	list := exec.Command("git", "ls-files", "-co", "--exclude-standard")
	list.Dir = "../.."
	out, err := list.Output()
	if err != nil {
		t.Skip("no git here: ", err)
	}
	n := 0
	for _, path := range strings.Fields(string(out)) {
		if ext := filepath.Ext(path); mayName(path) || ext != ".go" && ext != ".md" && ext != ".txt" && ext != ".js" {
			continue
		}
		b, err := os.ReadFile("../../" + path)
		if os.IsNotExist(err) {
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		n++
		for i, l := range strings.Split(string(b), "\n") {
			if m := programs.FindString(l); m != "" {
				t.Errorf("%s:%d: %q: say the method here, and the program in .ci", path, i+1, m)
			}
		}
	}
	if n < 500 {
		t.Errorf("only %d files looked at", n)
	}
}

// TestProgramsAreFound plants names and words that are none.
func TestProgramsAreFound(t *testing.T) {
	for text, want := range map[string]bool{"// by scipy.integrate.quad": true, "// a NumPy array": true,
		"GNU units 2.22":            true,
		"// by adaptive quadrature": false, "an octave of pressure": false, "numpyish": false} {
		if got := programs.MatchString(text); got != want {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
}

// TestStructsAreComparedByCmp: a test that compares structs says what differs, by go-cmp, and not only that something
// does.
func TestStructsAreComparedByCmp(t *testing.T) {
	n := 0
	goFiles(t, func(path string, f *ast.File, fset *token.FileSet) {
		if !strings.HasSuffix(path, "_test.go") {
			return
		}
		ast.Inspect(f, func(x ast.Node) bool {
			s, ok := x.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			p, ok := s.X.(*ast.Ident)
			if ok && p.Name == "cmp" && (s.Sel.Name == "Diff" || s.Sel.Name == "Equal") {
				n++
			}
			if ok && p.Name == "reflect" && s.Sel.Name == "DeepEqual" {
				t.Errorf("%s: reflect.DeepEqual: want cmp.Diff of go-cmp, which says what differs", fset.Position(x.Pos()))
			}
			return true
		})
	})
	if n < 5 {
		t.Errorf("only %d comparisons by go-cmp found", n)
	}
}
