package main

import (
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"strings"
	"testing"
)

const sample = `package p

type t struct{ x int }

func (t) plain(int, _ float64) int { return 1 }

func (r *t) grow(by ...int) {
	for _, n := range by {
		r.x += n
	}
}

func most[K comparable, V ~float64](m map[K]V) (best V) {
	for _, v := range m {
		if v > best {
			best = v
		}
	}
	return best
}
`

// Every changed function stands beside its own, under a name that reflection does not see, and the whole still has its
// types: receivers and parameters without names, variadic ones and those of types are passed on.
func TestWoven(t *testing.T) {
	s := &source{name: "p.go", text: []byte(sample), fset: token.NewFileSet()}
	var err error
	if s.file, err = parser.ParseFile(s.fset, s.name, s.text, parser.ParseComments); err != nil {
		t.Fatal(err)
	}
	all, functions := draw([]*source{s}, 1, nil)
	if functions != 3 || len(all) != 4 { // 1 -> 2, += -> -=, if -> not, > -> <=
		t.Fatalf("%d changes of %d functions", len(all), functions)
	}
	for i, c := range all {
		c.id = i + 1
	}
	text, err := s.woven(all)
	if err != nil {
		t.Fatal(err)
	}
	fset := token.NewFileSet()
	const chosen = "package p\nvar zzChange int\nfunc zzCalls(int) {}\n"
	var files []*ast.File
	for name, src := range map[string]string{"p.go": string(text), "zz.go": chosen} {
		f, err := parser.ParseFile(fset, name, src, 0)
		if err != nil {
			t.Fatalf("%v\n%s", err, src)
		}
		files = append(files, f)
	}
	pkg, err := (&types.Config{Importer: importer.Default()}).Check("p", fset, files, nil)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	changed := 0
	for _, name := range pkg.Scope().Names() {
		if strings.HasPrefix(name, "zz") && strings.HasSuffix(name, "most") {
			changed++
		}
	}
	if changed == 0 {
		t.Errorf("no changed function in\n%s", text)
	}
	lines := strings.Split(string(text), "\n")
	for _, c := range all {
		if !strings.Contains(lines[c.first-1], "func ") || !strings.HasSuffix(lines[c.last-1], "}") {
			t.Errorf("%v stands on lines %d … %d: %q … %q", c.mutant, c.first, c.last, lines[c.first-1], lines[c.last-1])
		}
	}
}
