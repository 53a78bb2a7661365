package structure_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strings"
	"testing"
)

// written lists the functions that solve by an iteration of their own, with the reason.
var written = map[string]string{
	"humidity/fast.go newton":        "hot path: a call for each step would take a fifth of a row",
	"charge/gas/paschen.go lambertW": "six steps of Halley's method, a closed form of a special function",
}

// TestRootsByOnePackage: nobody halves a bracket or takes steps of Newton's method but
// internal/numeric. Halving of whole numbers (a place in a table, a count of sheets) is
// no root, nor is a minimum.
func TestRootsByOnePackage(t *testing.T) {
	used := map[string]bool{}
	goFiles(t, func(file string, f *ast.File, fset *token.FileSet) {
		if strings.HasSuffix(file, "_test.go") || strings.HasPrefix(file, "internal/numeric/") ||
			strings.HasPrefix(file, ".ci/") {
			return
		}
		for fn, line := range iterations(f, fset) {
			if key := file + " " + fn; written[key] != "" {
				used[key] = true
			} else {
				t.Errorf("%s:%d: %s solves by an iteration of its own: use internal/numeric", file, line, fn)
			}
		}
	})
	for key := range written {
		if !used[key] {
			t.Errorf("%s is excused, but solves nothing", key)
		}
	}
}

// TestIterationsAreFound: each shape of a hand-written iteration is seen, and what only
// looks like one is not.
func TestIterationsAreFound(t *testing.T) {
	const src = `package p
func halve() { for hi-lo > 1e-9 { mid := (lo + hi) / 2; if f(mid) { hi = mid } else { lo = mid } } }
func times() { for range 50 { mid := 0.5 * (lo + hi); if f(mid) { hi = mid } else { lo = mid } } }
func decades() { for hi/lo > 1.1 { if m := math.Sqrt(lo * hi); f(m) { hi = m } else { lo = m } } }
func newton() { for range 9 { d := f(x) / g(x); x -= d } }
func bounded() { for range 9 { d := f(x) / g(x); d = max(-1, d); x -= d } }
func next() { for range 9 { y := x - f(x)/g(x); x = y } }
func direct() { for range 9 { x -= f(x) / g(x) } }
func table() { for hi-lo > 1 { mid := (lo + hi) / 2; if z[mid] > 1 { hi = mid } else { lo = mid } } }
func mean() { for i := range x { m := (a + b) / 2; y[i] = m } }
func rest() { for i := range x { rest -= x[i] / n } }
func ended() { for range 9 { d := y / s; x -= d; if d < tol { break } } }
func each() { for i := range x { x[i] -= m / n } }
`
	fset := token.NewFileSet()
	f, err := parser.ParseFile(fset, "p.go", src, 0)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for fn := range iterations(f, fset) {
		got = append(got, fn)
	}
	slices.Sort(got)
	if want := []string{"bounded", "decades", "direct", "ended", "halve", "newton", "next",
		"times"}; !slices.Equal(got, want) {
		t.Errorf("found %v, want %v", got, want)
	}
}

// iterations finds the functions of a file that solve by iteration, with the line of the loop.
func iterations(f *ast.File, fset *token.FileSet) map[string]int {
	found := map[string]int{}
	for _, d := range f.Decls {
		fn, ok := d.(*ast.FuncDecl)
		if !ok || fn.Body == nil {
			continue
		}
		ast.Inspect(fn, func(n ast.Node) bool {
			var body *ast.BlockStmt
			switch n := n.(type) {
			case *ast.ForStmt:
				if !wholeNumbers(n.Cond) {
					body = n.Body
				}
			case *ast.RangeStmt:
				if n.Key == nil { // not over the elements of something
					body = n.Body
				}
			}
			if body != nil && solves(body) {
				found[fn.Name.Name] = fset.Position(n.Pos()).Line
			}
			return true
		})
	}
	return found
}

// wholeNumbers reports the condition "hi-lo > 1" or "lo < hi" of a search among whole numbers.
func wholeNumbers(cond ast.Expr) bool {
	c, ok := cond.(*ast.BinaryExpr)
	if ok && c.Op == token.LSS {
		_, left := c.X.(*ast.Ident)
		_, right := c.Y.(*ast.Ident)
		return left && right
	}
	if !ok || c.Op != token.GTR {
		return false
	}
	_, minus := c.X.(*ast.BinaryExpr)
	one, ok := c.Y.(*ast.BasicLit)
	return ok && minus && one.Value == "1"
}

// solves reports a body that moves an end of a bracket to its middle, or a value by a quotient
// that names it or whose size ends the loop.
func solves(body *ast.BlockStmt) bool {
	middles, steps, next := map[string][]string{}, map[string]ast.Expr{}, map[string]string{}
	yes := false
	ends := func(x string) (ends bool) { // a condition on x leaves the loop
		ast.Inspect(body, func(n ast.Node) bool {
			c, ok := n.(*ast.IfStmt)
			if ok && mentions(c.Cond, x) {
				ast.Inspect(c.Body, func(n ast.Node) bool {
					b, ok := n.(*ast.BranchStmt)
					_, back := n.(*ast.ReturnStmt)
					ends = ends || back || ok && b.Tok == token.BREAK
					return true
				})
			}
			return true
		})
		return ends
	}
	ast.Inspect(body, func(n ast.Node) bool {
		a, ok := n.(*ast.AssignStmt)
		if !ok || len(a.Lhs) != 1 || len(a.Rhs) != 1 {
			return true
		}
		x, ok := a.Lhs[0].(*ast.Ident)
		if !ok {
			return true
		}
		r := plainExpr(a.Rhs[0])
		from, named := r.(*ast.Ident)
		quotient, ok := r.(*ast.BinaryExpr)
		if !ok || quotient.Op != token.QUO {
			quotient = nil
		}
		switch a.Tok {
		case token.DEFINE, token.ASSIGN:
			if named {
				yes = yes || slices.Contains(middles[from.Name], x.Name) || next[from.Name] == x.Name
			}
			if pair := middleOf(r); pair != nil {
				middles[x.Name] = pair
			}
			if of, d := quotientOff(r); of != "" && (ends(x.Name) || mentions(d, of)) {
				next[x.Name] = of
			}
			if quotient != nil {
				steps[x.Name] = quotient
			}
		case token.SUB_ASSIGN:
			if named && steps[from.Name] != nil {
				yes = yes || ends(from.Name) || mentions(steps[from.Name], x.Name)
			}
			yes = yes || quotient != nil && mentions(quotient, x.Name)
		}
		return true
	})
	return yes
}

func plainExpr(x ast.Expr) ast.Expr {
	for {
		p, ok := x.(*ast.ParenExpr)
		if !ok {
			return x
		}
		x = p.X
	}
}

// middleOf returns the ends of (a + b)/2, 0.5·(a + b) or √(a·b).
func middleOf(x ast.Expr) []string {
	pair := func(x ast.Expr, op token.Token) []string {
		b, ok := plainExpr(x).(*ast.BinaryExpr)
		if !ok || b.Op != op {
			return nil
		}
		l, okL := b.X.(*ast.Ident)
		r, okR := b.Y.(*ast.Ident)
		if !okL || !okR {
			return nil
		}
		return []string{l.Name, r.Name}
	}
	half := func(x ast.Expr, value string) bool {
		l, ok := x.(*ast.BasicLit)
		return ok && l.Value == value
	}
	switch x := x.(type) {
	case *ast.BinaryExpr:
		switch {
		case x.Op == token.QUO && half(x.Y, "2"):
			return pair(x.X, token.ADD)
		case x.Op == token.MUL && half(x.X, "0.5"):
			return pair(x.Y, token.ADD)
		}
	case *ast.CallExpr:
		if called(x.Fun) == "Sqrt" && len(x.Args) == 1 {
			return pair(x.Args[0], token.MUL)
		}
	}
	return nil
}

// quotientOff returns x and the quotient of "x − a/b".
func quotientOff(e ast.Expr) (of string, quotient ast.Expr) {
	b, ok := e.(*ast.BinaryExpr)
	if !ok || b.Op != token.SUB {
		return "", nil
	}
	x, okX := b.X.(*ast.Ident)
	q, okQ := plainExpr(b.Y).(*ast.BinaryExpr)
	if !okX || !okQ || q.Op != token.QUO {
		return "", nil
	}
	return x.Name, q
}

// mentions reports whether an expression names x.
func mentions(e ast.Expr, x string) bool {
	found := false
	ast.Inspect(e, func(n ast.Node) bool {
		id, ok := n.(*ast.Ident)
		found = found || ok && id.Name == x
		return true
	})
	return found
}
