package structure_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path"
	"slices"
	"strings"
	"testing"
)

// Whoever reads `go doc` sees the names of a declaration and nothing behind those that are not exported: a signature
// that speaks of one cannot be called from its documentation alone.
func TestSignaturesSpeakOfWhatIsShown(t *testing.T) {
	files := map[string][]*ast.File{}
	goFiles(t, func(p string, f *ast.File, _ *token.FileSet) {
		if strings.HasSuffix(p, "_test.go") || f.Name.Name == "main" || strings.Contains(p, "internal/") {
			return
		}
		files[path.Dir(p)] = append(files[path.Dir(p)], f)
	})
	for dir, list := range files {
		for _, s := range hiddenNames(list) {
			t.Errorf("%s: %s", dir, s)
		}
	}
}

// hiddenNames lists the exported declarations of a package whose signature names one of its unexported types.
func hiddenNames(files []*ast.File) []string {
	hidden := map[string]bool{}
	for _, f := range files {
		for _, d := range f.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok {
				continue
			}
			for _, s := range g.Specs {
				if ts, ok := s.(*ast.TypeSpec); ok && !ts.Name.IsExported() {
					hidden[ts.Name.Name] = true
				}
			}
		}
	}
	var out []string
	look := func(what string, params *ast.FieldList, n ast.Node) {
		own := map[string]bool{}
		if params != nil {
			for _, f := range params.List {
				for _, id := range f.Names {
					own[id.Name] = true
				}
			}
		}
		for _, id := range typeNames(n) {
			if hidden[id] && !own[id] {
				out = append(out, what+" speaks of "+id)
			}
		}
	}
	for _, f := range files {
		for _, d := range f.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if !d.Name.IsExported() || d.Recv != nil && !ast.IsExported(receiver(d)) {
					continue
				}
				look("func "+d.Name.Name, d.Type.TypeParams, d.Type)
			case *ast.GenDecl:
				for _, s := range d.Specs {
					if ts, ok := s.(*ast.TypeSpec); ok && ts.Name.IsExported() {
						look("type "+ts.Name.Name, ts.TypeParams, ts.Type)
					}
				}
			}
		}
	}
	return out
}

// typeNames lists the bare type names in a signature or a type, without those of unexported fields and methods.
func typeNames(n ast.Node) []string {
	var out []string
	var walk func(ast.Node)
	fields := func(l *ast.FieldList, all bool) {
		if l == nil {
			return
		}
		for _, f := range l.List {
			shown := all // what a type embeds is known by its methods, which are shown with it
			for _, id := range f.Names {
				shown = shown || id.IsExported()
			}
			if shown {
				walk(f.Type)
			}
		}
	}
	walk = func(n ast.Node) {
		switch n := n.(type) {
		case *ast.Ident:
			out = append(out, n.Name)
		case *ast.StarExpr:
			walk(n.X)
		case *ast.ArrayType:
			walk(n.Elt)
		case *ast.MapType:
			walk(n.Key)
			walk(n.Value)
		case *ast.ChanType:
			walk(n.Value)
		case *ast.Ellipsis:
			walk(n.Elt)
		case *ast.ParenExpr:
			walk(n.X)
		case *ast.IndexExpr:
			walk(n.X)
			walk(n.Index)
		case *ast.IndexListExpr:
			walk(n.X)
			for _, e := range n.Indices {
				walk(e)
			}
		case *ast.FuncType:
			fields(n.TypeParams, true)
			fields(n.Params, true)
			fields(n.Results, true)
		case *ast.StructType:
			fields(n.Fields, false)
		case *ast.InterfaceType:
			for _, f := range n.Methods.List {
				if len(f.Names) == 0 || f.Names[0].IsExported() {
					walk(f.Type)
				}
			}
		case *ast.BinaryExpr:
			walk(n.X)
			walk(n.Y)
		case *ast.UnaryExpr:
			walk(n.X)
		}
	}
	walk(n)
	return out
}

func TestHiddenNamesAreFound(t *testing.T) {
	f, err := parser.ParseFile(token.NewFileSet(), "a.go", `package a
type alias = B[int]
type inner struct{}
func F(x []alias) {}
func (T) M() map[string]alias { return nil }
type G func(*alias)
type I interface{ Do(inner); do(inner) }
type U interface{ ~int | alias }
type S struct { X [2]inner; y inner; inner }
func Own[alias any](x alias) {}
func quiet(x alias) {}
func (inner) Q() alias { return nil }
`, 0)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"func F speaks of alias", "func M speaks of alias", "type G speaks of alias", "type I speaks of inner",
		"type U speaks of alias", "type S speaks of inner",
	}
	if got := hiddenNames([]*ast.File{f}); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
