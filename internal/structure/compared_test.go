package structure_test

import (
	"go/ast"
	"go/constant"
	"go/parser"
	"go/token"
	"go/types"
	"path"
	"slices"
	"strings"
	"testing"
)

// compares lists the functions that may compare words, with the reason.
var compares = map[string]string{
	"charge/chargetest/parting.go parting": drawsByName,
	"decay/decaytest/drawn.go anyLaw":      drawsByName,
	"decay/decaytest/drawn.go simple":      drawsByName,
	"ionflow/ionflowtest/maker.go drawn":   drawsByName,
	"ionflow/ionflowtest/steady.go column": drawsByName,
	"line/linetest/answers.go answerLaws":  "finds the bar of a line that the kit made",
	"line/description.go check":            "the schema",
	"line/cure/goods.go check":             "the schema",
	"line/cure/damp.go local":              "\"line\" stands among the names that a user gives to stations",
	"line/cure/goods_start.go StartGoods":  "tells faults by the path of their field",
	"line/cure/text.go marshal":            "puts JSON together",
	"line/survey/read.go columns":          "reads a survey",
	"line/survey/read.go withoutMark":      "reads a survey",
	"line/survey/read.go parseRow":         "reads a survey",
	"line/survey/reading.go overRange":     "reads a survey",
	"units/compute/declare.go describe":    "reads a declaration",
	"units/compute/declare.go parse":       "reads a declaration",
	"units/spellings.go spellings":         "reads the table of spellings",
	"units/text.go appendSymbol":           "writes the one symbol that follows its number without a space",
}

const drawsByName = "draws by a name, which the counter-example prints"

// TestNoWordsAreCompared: in the packages of the library a choice is an enumeration; no
// string is compared with a word but where text is read.
func TestNoWordsAreCompared(t *testing.T) {
	used := map[string]bool{}
	for _, p := range packages(t) {
		top, _, _ := strings.Cut(p.dir, "/")
		if !slices.Contains([]string{"line", "charge", "decay", "ionflow", "humidity", "units"}, top) ||
			strings.Contains("/"+p.dir+"/", "/internal/") {
			continue
		}
		for name, f := range p.files {
			for fn, line := range p.words(f) {
				key := path.Join(p.dir, name) + " " + fn
				if used[key] = true; compares[key] == "" && fn != "UnmarshalText" && fn != "UnmarshalJSON" {
					t.Errorf("%s/%s:%d: %s compares a string with a word: make it an enumeration", p.dir, name, line, fn)
				}
			}
		}
	}
	for key := range compares {
		if !used[key] {
			t.Errorf("%s is excused, but compares no word", key)
		}
	}
}

// TestWordsAreFound: each shape of such a comparison is seen, and what only looks like one
// is not.
func TestWordsAreFound(t *testing.T) {
	const src = `package p
type kind string
type number int
const metal kind = "metal"
const word = "word"
func a() bool { return s == "a" }
func b() bool { return "b" != s }
func c() bool { return s == word }
func d() bool { return k == "metal" }
func e() bool { return t.String() == "c" }
func g() { switch s { case "", "d": } }
func h() { switch k { case "metal": } }
func i() { switch { case s == "e": } }
func none() bool { return s == "" || k == metal || k == "" || n == 1 || s == t.String() || word == "word" }
func nor() { switch k { case metal: } }
func neither() { switch s { case "": } }
func number_() { switch n { case 1: } }
var s string
var k kind
var n number
var t interface{ String() string }
`
	p := &typed{fset: token.NewFileSet()}
	f, err := parser.ParseFile(p.fset, "p.go", src, 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := p.check("p", []*ast.File{f}, nil); err != nil {
		t.Fatal(err)
	}
	var got []string
	for fn := range p.words(f) {
		got = append(got, fn)
	}
	slices.Sort(got)
	if want := []string{"a", "b", "c", "d", "e", "g", "h", "i"}; !slices.Equal(got, want) {
		t.Errorf("found %v, want %v", got, want)
	}
}

// words finds the functions of a file that compare a string with a word, with the line: a
// value of type string with a constant that is not empty, or one of a type of its own with
// a literal.
func (p *typed) words(f *ast.File) map[string]int {
	lines := map[string]int{}
	fn := ""
	compared := func(x, word ast.Expr) {
		v, w := p.info.Types[x], p.info.Types[word]
		if v.Value != nil || w.Value == nil || w.Value.Kind() != constant.String ||
			constant.StringVal(w.Value) == "" {
			return
		}
		_, literal := word.(*ast.BasicLit)
		if literal || types.Identical(v.Type, types.Typ[types.String]) {
			lines[fn] = p.fset.Position(word.Pos()).Line
		}
	}
	look := func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BinaryExpr:
			if n.Op == token.EQL || n.Op == token.NEQ {
				compared(n.X, n.Y)
				compared(n.Y, n.X)
			}
		case *ast.SwitchStmt:
			if n.Tag == nil {
				break
			}
			for _, c := range n.Body.List {
				for _, word := range c.(*ast.CaseClause).List {
					compared(n.Tag, word)
				}
			}
		}
		return true
	}
	for _, d := range f.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			fn = d.Name.Name
			ast.Inspect(d, look)
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				if v, ok := spec.(*ast.ValueSpec); ok {
					fn = v.Names[0].Name
					ast.Inspect(v, look)
				}
			}
		}
	}
	return lines
}
