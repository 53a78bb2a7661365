// Package quantitycheck finds the misuses of quantities that the compiler lets
// pass: named float64 types multiply to their own type, and bare literals
// convert to them in silence. It also finds errors that are given to the blank
// identifier. It reads types from the export data of the go
// command, so it needs a Go tool and a package that compiles.
package quantitycheck

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
)

// The rules.
const (
	Product     = "product"     // quantity × quantity has the type of a factor
	Quotient    = "quotient"    // quantity ÷ quantity, or number ÷ quantity, has the type of a part
	Literal     = "literal"     // a bare number, other than 0, stands for a quantity
	Temperature = "temperature" // sum or difference of two temperatures is no temperature
	Dropped     = "dropped"     // an error is given to the blank identifier
)

// unitsPath is the package whose types are quantities.
const unitsPath = "example.org/pithball/units"

// Finding is one misuse.
type Finding struct {
	Pos  token.Position // where it starts
	Rule string         // Product, Quotient, Literal, Temperature or Dropped
	Text string         // what stands there and what to write
	Func string         // name of the function that it stands in, "" outside of any
}

// String returns "file:line:column: rule: text".
func (f Finding) String() string { return fmt.Sprintf("%s: %s: %s", f.Pos, f.Rule, f.Text) }

// listed is what the go command tells about a package.
type listed struct {
	ImportPath, Dir, Export, ForTest string
	GoFiles                          []string
	ImportMap                        map[string]string
	Module                           *struct{ Main bool }
}

// Check returns the misuses in all packages below dir, test files included,
// sorted by position. Products and quotients of the dimensionless Ratio are
// right and not reported, nor is a literal as a factor (3*units.Inch), in a
// conversion (units.Length(3)) or in package units itself, which defines the
// constants. dir must lie in the module of package units.
func Check(dir string) ([]Finding, error) {
	return findings(dir, func(f Finding) bool { return f.Rule != Dropped })
}

// DroppedErrors returns where below dir an error is given to the blank identifier,
// test files included, sorted by position.
func DroppedErrors(dir string) ([]Finding, error) {
	return findings(dir, func(f Finding) bool { return f.Rule == Dropped })
}

func findings(dir string, want func(Finding) bool) ([]Finding, error) {
	pkgs, err := list(dir)
	if err != nil {
		return nil, err
	}
	exports := map[string]string{}
	tested := map[string]bool{} // packages that the list has again with their tests
	for _, p := range pkgs {
		exports[p.ImportPath] = p.Export
		if p.ForTest != "" && strings.HasPrefix(p.ImportPath, p.ForTest+" ") {
			tested[p.ForTest] = true
		}
	}
	root, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	var out []Finding
	for _, p := range pkgs {
		if p.Module == nil || !p.Module.Main || tested[p.ImportPath] || strings.HasSuffix(p.ImportPath, ".test") ||
			!within(root, p.Dir) {
			continue
		}
		if p.ForTest != "" && !strings.HasPrefix(p.ImportPath, p.ForTest+" ") &&
			!strings.HasPrefix(p.ImportPath, p.ForTest+"_test ") {
			continue // recompiled for somebody else's test
		}
		found, err := p.check(exports)
		if err != nil {
			return nil, err
		}
		for _, f := range found {
			if want(f) {
				out = append(out, f)
			}
		}
	}
	sort.Slice(out, func(i, j int) bool {
		a, b := out[i].Pos, out[j].Pos
		if a.Filename != b.Filename {
			return a.Filename < b.Filename
		}
		return a.Offset < b.Offset
	})
	return out, nil
}

func within(root, dir string) bool {
	rel, err := filepath.Rel(root, dir)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

func list(dir string) ([]*listed, error) {
	cmd := exec.Command("go", "list", "-export", "-deps", "-test",
		"-json=ImportPath,Dir,Export,ForTest,GoFiles,ImportMap,Module", "./...")
	cmd.Dir = dir
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Run(); err != nil {
		return nil, fmt.Errorf("go list: %w: %s", err, stderr.String())
	}
	var out []*listed
	for d := json.NewDecoder(&stdout); ; {
		p := new(listed)
		if err := d.Decode(p); errors.Is(err, io.EOF) {
			return out, nil
		} else if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
}

func (p *listed) check(exports map[string]string) ([]Finding, error) {
	fset := token.NewFileSet()
	var files []*ast.File
	for _, name := range p.GoFiles {
		if !filepath.IsAbs(name) {
			name = filepath.Join(p.Dir, name)
		}
		f, err := parser.ParseFile(fset, name, nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files = append(files, f)
	}
	imp := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) {
		if to, ok := p.ImportMap[path]; ok {
			path = to
		}
		return os.Open(exports[path])
	})
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}}
	path, _, _ := strings.Cut(p.ImportPath, " ")
	conf := types.Config{Importer: imp}
	if _, err := conf.Check(path, fset, files, info); err != nil {
		return nil, fmt.Errorf("%s: %w", p.ImportPath, err)
	}
	c := checker{fset: fset, info: info, home: path == unitsPath}
	for _, f := range files {
		c.file(f)
	}
	return c.found, nil
}

type checker struct {
	in    string // name of the function
	fset  *token.FileSet
	info  *types.Info
	home  bool // package units itself
	found []Finding
}

func (c *checker) report(n ast.Node, rule, format string, args ...any) {
	c.found = append(c.found, Finding{c.fset.Position(n.Pos()), rule, fmt.Sprintf(format, args...), c.in})
}

func (c *checker) file(f *ast.File) {
	var stack []ast.Node
	ast.Inspect(f, func(n ast.Node) bool {
		if n == nil {
			stack = stack[:len(stack)-1]
			return true
		}
		stack = append(stack, n)
		if len(stack) == 2 { // a declaration of the file
			c.in = ""
			if fn, ok := n.(*ast.FuncDecl); ok {
				c.in = fn.Name.Name
			}
		}
		switch n := n.(type) {
		case *ast.BinaryExpr:
			c.operation(n, n.Op, n.X, n.Y)
		case *ast.AssignStmt:
			c.dropped(n)
			switch n.Tok {
			case token.MUL_ASSIGN:
				c.operation(n, token.MUL, n.Lhs[0], n.Rhs[0])
			case token.QUO_ASSIGN:
				c.operation(n, token.QUO, n.Lhs[0], n.Rhs[0])
			case token.ADD_ASSIGN:
				c.operation(n, token.ADD, n.Lhs[0], n.Rhs[0])
			case token.SUB_ASSIGN:
				c.operation(n, token.SUB, n.Lhs[0], n.Rhs[0])
			}
		}
		if e, ok := n.(ast.Expr); ok {
			c.literal(e, stack[:len(stack)-1])
		}
		return true
	})
}

var errorType = types.Universe.Lookup("error").Type()

// dropped judges an assignment to the blank identifier.
func (c *checker) dropped(n *ast.AssignStmt) {
	for i, left := range n.Lhs {
		if id, ok := left.(*ast.Ident); !ok || id.Name != "_" {
			continue
		}
		var t types.Type
		if len(n.Rhs) == len(n.Lhs) {
			t = c.info.Types[n.Rhs[i]].Type
		} else if tuple, ok := c.info.Types[n.Rhs[0]].Type.(*types.Tuple); ok {
			t = tuple.At(i).Type()
		}
		if t != nil && types.Identical(t, errorType) {
			c.report(n, Dropped, "an error is dropped: handle it")
		}
	}
}

// operation judges x op y.
func (c *checker) operation(n ast.Node, op token.Token, x, y ast.Expr) {
	t, other := c.quantity(x), c.quantity(y)
	if t == "" || t != other || c.bare(y) {
		return
	}
	switch {
	case op == token.QUO && c.bare(x) && t != "Ratio":
		c.report(n, Quotient, "number / units.%s is no %s: write the expression in float64", t, t)
	case c.bare(x):
	case op == token.MUL && t != "Ratio":
		c.report(n, Product, "units.%s * units.%s is no %s: write the expression in float64", t, t, t)
	case op == token.QUO && t != "Ratio":
		c.report(n, Quotient, "units.%s / units.%s is a ratio: write float64(a)/float64(b)", t, t)
	case (op == token.ADD || op == token.SUB) && t == "Temperature":
		c.report(n, Temperature, "units.Temperature %s units.Temperature: use Sub and Add with a TemperatureDifference", op)
	}
}

// literal judges whether e is a bare number that became a quantity. Parts of a
// constant expression keep their untyped type, so only the whole is seen.
func (c *checker) literal(e ast.Expr, parents []ast.Node) {
	t := c.quantity(e)
	if t == "" || !c.bare(e) {
		return
	}
	if v := c.info.Types[e].Value; v == nil || constant.Sign(v) == 0 {
		return
	}
	for i := len(parents) - 1; i >= 0; i-- {
		switch p := parents[i].(type) {
		case *ast.ParenExpr:
			continue
		case *ast.BinaryExpr:
			if p.Op == token.MUL || p.Op == token.QUO {
				return // a factor
			}
		case *ast.AssignStmt:
			if p.Tok == token.MUL_ASSIGN || p.Tok == token.QUO_ASSIGN {
				return
			}
		case *ast.CallExpr:
			if c.info.Types[p.Fun].IsType() {
				return // a conversion says that it is meant
			}
		case *ast.ValueSpec:
			if c.home {
				return
			}
		}
		break
	}
	c.report(e, Literal, "a bare number for units.%s: multiply by a unit constant or convert", t)
}

// quantity returns the name of the quantity type of e, "" for anything else.
func (c *checker) quantity(e ast.Expr) string {
	tv, ok := c.info.Types[e]
	if !ok || tv.Type == nil || tv.IsType() {
		return ""
	}
	n, ok := types.Unalias(tv.Type).(*types.Named)
	if !ok || n.Obj().Pkg() == nil || n.Obj().Pkg().Path() != unitsPath {
		return ""
	}
	if b, ok := n.Underlying().(*types.Basic); !ok || b.Kind() != types.Float64 {
		return ""
	}
	return n.Obj().Name()
}

// bare reports whether e is made of literals and untyped constants alone.
func (c *checker) bare(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.BasicLit:
		return true
	case *ast.ParenExpr:
		return c.bare(e.X)
	case *ast.UnaryExpr:
		return c.bare(e.X)
	case *ast.BinaryExpr:
		return c.bare(e.X) && c.bare(e.Y)
	case *ast.SelectorExpr:
		return c.untyped(e.Sel)
	case *ast.Ident:
		return c.untyped(e)
	}
	return false
}

func (c *checker) untyped(id *ast.Ident) bool {
	k, ok := c.info.Uses[id].(*types.Const)
	if !ok {
		return false
	}
	b, ok := k.Type().(*types.Basic)
	return ok && b.Info()&types.IsUntyped != 0
}
