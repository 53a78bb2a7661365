// Package structure_test holds what must be true of the tree as a whole.
package structure_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/internal/quantitycheck"
)

const (
	module = "example.org/pithball"
	root   = "../.."
)

// goFiles walks all Go files below root that are part of the module proper.
func goFiles(t *testing.T, visit func(path string, f *ast.File, fset *token.FileSet)) {
	t.Helper()
	fset := token.NewFileSet()
	n := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && d.Name() != ".." || d.Name() == "node_modules") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(path, ".go") {
			return nil
		}
		f, err := parser.ParseFile(fset, path, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		n++
		rel, _ := filepath.Rel(root, path)
		visit(filepath.ToSlash(rel), f, fset)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if n < 10 {
		t.Fatalf("only %d Go files found: the walk is broken", n)
	}
}

// rooms lists, for every room of the physics packages and of line, the other rooms that it
// may import. All the rest are strangers.
var rooms = map[string][]string{
	"charge":            {"charge/field", "charge/gas"},
	"charge/field":      nil,
	"charge/gas":        nil,
	"charge/hazard":     nil,
	"decay":             nil,
	"decay/sheet":       nil,
	"ionflow":           {"ionflow/jet"},
	"ionflow/ioniser":   {"ionflow", "ionflow/jet"},
	"ionflow/jet":       nil,
	"ionflow/transport": nil,
	"line":              nil,
	"line/ensemble":     {"line"},
	"line/survey":       {"line"},
	"line/upkeep":       {"line", "line/survey"},
	"line/cure":         {"line", "line/survey", "line/upkeep"},
}

// roomOf returns the room that a folder belongs to, "" if it is none of them.
func roomOf(dir string) string {
	for ; dir != "." && dir != ""; dir = filepath.ToSlash(filepath.Dir(dir)) {
		if _, ok := rooms[dir]; ok {
			return dir
		}
	}
	return ""
}

// TestImportLadder: units ← humidity ← charge, decay, ionflow ← line ← examples,
// and inside charge, decay and ionflow the arrows of rooms.
func TestImportLadder(t *testing.T) {
	rank := map[string]int{"internal": 2, "units": 1, "testdata": 2, "humidity": 2, "charge": 3, "decay": 3,
		"ionflow": 3, "line": 4, "examples": 5}
	goFiles(t, func(path string, f *ast.File, _ *token.FileSet) {
		top, _, ok := strings.Cut(path, "/")
		if !ok {
			return // doc.go of the root
		}
		test := strings.HasSuffix(path, "_test.go")
		dir := filepath.ToSlash(filepath.Dir(path))
		testSupport := strings.HasSuffix(dir, "test") && dir != "internal/structure"
		if _, ok := rank[top]; !ok {
			t.Errorf("%s: %q is not in the agreed layout", path, top)
		}
		for _, im := range f.Imports {
			p := strings.Trim(im.Path.Value, `"`)
			switch {
			case p == "C":
				t.Errorf("%s: cgo", path)
			case strings.HasPrefix(p, "gonum.org/v1/plot"):
				if top != "examples" {
					t.Errorf("%s imports %s: plots are for examples only", path, p)
				}
			case p == "pgregory.net/rapid" || strings.HasPrefix(p, "github.com/google/go-cmp"):
				if !test && dir != "units/lawtest" {
					t.Errorf("%s imports %s: only units/lawtest and _test.go files may", path, p)
				}
			case strings.HasPrefix(p, module+"/"):
				to, _, _ := strings.Cut(strings.TrimPrefix(p, module+"/"), "/")
				if top == "internal" && (test || strings.Contains(path, "/testdata/")) {
					continue // tests of internal may look at anything
				}
				same := to == top
				if top == "internal" && to != "internal" && to != "units" {
					t.Errorf("%s imports %s: internal knows no physics", path, p)
				}
				if to == "internal" {
					continue
				}
				if from, room := roomOf(dir), roomOf(strings.TrimPrefix(p, module+"/")); same && from != "" && room != "" &&
					from != room && !slices.Contains(rooms[from], room) && !(same && (test || testSupport)) {
					t.Errorf("%s imports %s: the room %s may import %v only", path, p, from, rooms[from])
				}
				if !same && to != "testdata" && rank[to] >= rank[top] {
					t.Errorf("%s imports %s: against the ladder", path, p)
				}
				if to == "testdata" && !test && !testSupport && top != "examples" {
					t.Errorf("%s imports testdata: only tests, *test packages and examples may", path)
				}
				if strings.HasSuffix(p, "test") && !test && !testSupport {
					t.Errorf("%s imports %s: a test-support package outside tests", path, p)
				}
			case strings.Contains(p, "."):
				if host, _, _ := strings.Cut(p, "/"); host != "gonum.org" && !ownModule(dir) {
					t.Errorf("%s imports %s: not one of the agreed libraries", path, p)
				}
			}
		}
	})
}

// ownModule tells a folder of examples with a go.mod in it or above it: such a module may use what the library may not.
func ownModule(dir string) bool {
	for ; strings.HasPrefix(dir, "examples/"); dir = filepath.ToSlash(filepath.Dir(dir)) {
		if _, err := os.Stat(filepath.Join(root, filepath.FromSlash(dir), "go.mod")); err == nil {
			return true
		}
	}
	return false
}

// TestDocumented: every exported thing has a comment, methods of interfaces too, and
// every exported bare float64 says its unit in brackets.
func TestDocumented(t *testing.T) {
	goFiles(t, func(path string, f *ast.File, fset *token.FileSet) {
		if strings.HasSuffix(path, "_test.go") || strings.HasPrefix(path, "examples/") ||
			strings.Contains(path, "internal/") || f.Name.Name == "main" {
			// Users do not see the inside.
			return
		}
		lines := commentLines(f, fset)
		at := func(p token.Pos) string { return path + ":" + itoa(fset.Position(p).Line) }
		// A comment on any line of a signature or field speaks for it, also of one that
		// is wrapped.
		unit := func(from, to token.Pos, what string, docs ...*ast.CommentGroup) {
			text := ""
			for k := fset.Position(from).Line; k <= fset.Position(to).Line; k++ {
				text += lines[k]
			}
			for _, d := range docs {
				text += d.Text()
			}
			if !strings.Contains(text, "[") {
				t.Errorf("%s: %s is a bare float64 whose comment names no [unit]", at(from), what)
			}
		}
		for _, decl := range f.Decls {
			switch d := decl.(type) {
			case *ast.FuncDecl:
				if !d.Name.IsExported() || d.Recv != nil && !exportedReceiver(d.Recv) {
					continue
				}
				if d.Doc.Text() == "" {
					t.Errorf("%s: func %s has no comment", at(d.Pos()), d.Name.Name)
				}
				if bareFloat(d.Type.Params) || bareFloat(d.Type.Results) {
					unit(d.Pos(), d.Type.End(), "func "+d.Name.Name, d.Doc)
				}
			case *ast.GenDecl:
				for _, s := range d.Specs {
					switch s := s.(type) {
					case *ast.TypeSpec:
						if !s.Name.IsExported() {
							continue
						}
						if d.Doc.Text() == "" && s.Doc.Text() == "" {
							t.Errorf("%s: type %s has no comment", at(s.Pos()), s.Name.Name)
						}
						if in, ok := s.Type.(*ast.InterfaceType); ok {
							for _, m := range in.Methods.List {
								ft, method := m.Type.(*ast.FuncType)
								if !method || !m.Names[0].IsExported() {
									continue
								}
								if m.Doc.Text() == "" && m.Comment.Text() == "" {
									t.Errorf("%s: method %s.%s has no comment", at(m.Pos()), s.Name.Name, m.Names[0].Name)
								}
								if bareFloat(ft.Params) || bareFloat(ft.Results) {
									unit(m.Pos(), m.End(), s.Name.Name+"."+m.Names[0].Name, m.Doc, m.Comment)
								}
							}
						}
						if st, ok := s.Type.(*ast.StructType); ok {
							// A comment also speaks for the fields on the lines that follow at once.
							var group *ast.CommentGroup
							last := -1
							for _, fl := range st.Fields.List {
								if line := fset.Position(fl.Pos()).Line; fl.Doc != nil || line != last+1 {
									group = fl.Doc
								}
								last = fset.Position(fl.End()).Line
								for _, n := range fl.Names {
									if !n.IsExported() {
										continue
									}
									if group.Text() == "" && fl.Comment.Text() == "" {
										t.Errorf("%s: field %s.%s has no comment", at(fl.Pos()), s.Name.Name, n.Name)
									}
									if isFloat(fl.Type) {
										unit(fl.Pos(), fl.End(), s.Name.Name+"."+n.Name, group, fl.Comment)
									}
								}
							}
						}
					case *ast.ValueSpec:
						for _, n := range s.Names {
							if n.IsExported() && d.Doc.Text() == "" && s.Doc.Text() == "" && s.Comment.Text() == "" {
								t.Errorf("%s: %s has no comment", at(s.Pos()), n.Name)
							}
						}
					}
				}
			}
		}
	})
}

func itoa(n int) string {
	s := ""
	for ; n > 0; n /= 10 {
		s = string(rune('0'+n%10)) + s
	}
	return s
}

func commentLines(f *ast.File, fset *token.FileSet) map[int]string {
	m := map[int]string{}
	for _, g := range f.Comments {
		for _, c := range g.List {
			m[fset.Position(c.Pos()).Line] += c.Text
		}
	}
	return m
}

func exportedReceiver(r *ast.FieldList) bool {
	x := r.List[0].Type
	if s, ok := x.(*ast.StarExpr); ok {
		x = s.X
	}
	switch ix := x.(type) {
	case *ast.IndexExpr:
		x = ix.X
	case *ast.IndexListExpr:
		x = ix.X
	}
	id, ok := x.(*ast.Ident)
	return ok && id.IsExported()
}

func isFloat(x ast.Expr) bool {
	switch x := x.(type) {
	case *ast.Ident:
		return x.Name == "float64"
	case *ast.ArrayType:
		return isFloat(x.Elt)
	}
	return false
}

func bareFloat(l *ast.FieldList) bool {
	return l != nil && slices.ContainsFunc(l.List, func(f *ast.Field) bool { return isFloat(f.Type) })
}

// TestEmbeddersGetNoPlot: who imports the library does not get the plotting or
// property-testing libraries.
func TestEmbeddersGetNoPlot(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", module+"/line", module+"/humidity", module+"/charge",
		module+"/decay", module+"/ionflow").Output()
	if err != nil {
		t.Skipf("go list: %v", err)
	}
	for p := range strings.Lines(string(out)) {
		if strings.Contains(p, "gonum.org/v1/plot") || strings.Contains(p, "pgregory.net") ||
			strings.Contains(p, "go-cmp") || strings.Contains(p, "/testdata") {
			t.Errorf("the library depends on %s", strings.TrimSpace(p))
		}
	}
}

// TestQuantities: nobody multiplies or divides quantities, or passes a bare
// number for one.
func TestQuantities(t *testing.T) {
	checked := map[string]bool{}
	goFiles(t, func(path string, f *ast.File, _ *token.FileSet) {
		if !strings.HasSuffix(path, "_test.go") && strings.Contains(path, "/") && !strings.HasPrefix(path, "units/") &&
			!strings.Contains(path, "/testdata/") && !strings.HasSuffix(filepath.Dir(path), "test") {
			checked[filepath.Dir(path)] = true
		}
	})
	base, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	found, err := quantitycheck.Check(root) // once: a run of the go command for each folder takes minutes
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range found {
		dir, err := filepath.Rel(base, filepath.Dir(f.Pos.Filename))
		if err != nil || !checked[dir] || strings.HasSuffix(f.Pos.Filename, "_test.go") {
			continue // tests may write SI numbers
		}
		// Bounds in SI beside the value that they bound, and pure numbers.
		if s := sourceLine(t, f.Pos); f.Rule == quantitycheck.Literal &&
			(strings.Contains(s, "InRange(") || strings.Contains(s, "bounded(") || strings.Contains(s, "orZero(") ||
				strings.Contains(f.Text, "units.Ratio")) {
			continue
		}
		t.Error(f)
	}
}

func sourceLine(t *testing.T, p token.Position) string {
	b, err := os.ReadFile(p.Filename)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(b), "\n")
	return lines[p.Line-1]
}

// TestNoForbiddenWord: nothing that the project prints or says calls a place
// free of danger.
func TestNoForbiddenWord(t *testing.T) {
	word := "sa" + "fe"
	goFiles(t, func(path string, f *ast.File, fset *token.FileSet) {
		ast.Inspect(f, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
				for w := range strings.FieldsFuncSeq(strings.ToLower(l.Value), func(r rune) bool { return r < 'a' || r > 'z' }) {
					if w == word && !strings.HasSuffix(path, "_test.go") {
						t.Errorf("%s: a text says %q", fset.Position(n.Pos()), word)
					}
				}
			}
			return true
		})
	})
}
