package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/format"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
)

// A mutant is one change: apply makes it in the syntax tree, undo takes it back.
type mutant struct {
	file        string
	line        int
	fn, what    string
	apply, undo func()
}

func (m mutant) String() string {
	return fmt.Sprintf("%s: %s: %s", filepath.ToSlash(m.file), m.fn, m.what)
}

var swap = map[token.Token]token.Token{
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL,
	token.LSS: token.GEQ, token.GEQ: token.LSS, token.GTR: token.LEQ, token.LEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL, token.LAND: token.LOR, token.LOR: token.LAND,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN,
	token.MUL_ASSIGN: token.QUO_ASSIGN, token.QUO_ASSIGN: token.MUL_ASSIGN,
}

// offers lists the changes that a function's syntax offers.
func offers(file, fn string, body ast.Node, fset *token.FileSet) []mutant {
	var out []mutant
	text := func(n ast.Node) string {
		var b bytes.Buffer
		if err := format.Node(&b, fset, n); err != nil {
			return "?"
		}
		s := strings.Join(strings.Fields(b.String()), " ")
		if len(s) > 70 {
			s = s[:70] + "…"
		}
		return s
	}
	add := func(n ast.Node, what string, apply, undo func()) {
		out = append(out, mutant{file, fset.Position(n.Pos()).Line, fn, what, apply, undo})
	}
	ast.Inspect(body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr: // what an error says is not under test here
			if s, ok := n.Fun.(*ast.SelectorExpr); ok && (s.Sel.Name == "Errorf" || s.Sel.Name == "Sprintf") {
				return false
			}
			if f, ok := n.Fun.(*ast.Ident); ok && f.Name == "panic" {
				return false
			}
		case *ast.BinaryExpr:
			if to, ok := swap[n.Op]; ok && !isString(n.X) && !isString(n.Y) {
				from := n.Op
				add(n, fmt.Sprintf("%s -> %v", text(n), to), func() { n.Op = to }, func() { n.Op = from })
			}
		case *ast.AssignStmt:
			if to, ok := swap[n.Tok]; ok {
				from := n.Tok
				add(n, fmt.Sprintf("%s -> %v", text(n), to), func() { n.Tok = to }, func() { n.Tok = from })
			}
		case *ast.UnaryExpr:
			if n.Op == token.SUB {
				add(n, text(n)+" -> +", func() { n.Op = token.ADD }, func() { n.Op = token.SUB })
			}
		case *ast.IfStmt:
			cond := n.Cond
			add(n, "if "+text(cond)+" -> not", func() {
				n.Cond = &ast.UnaryExpr{Op: token.NOT, X: &ast.ParenExpr{X: cond}}
			}, func() { n.Cond = cond })
		case *ast.BasicLit:
			if n.Kind != token.FLOAT && n.Kind != token.INT {
				break
			}
			from, to := n.Value, ""
			if v, err := strconv.ParseFloat(from, 64); n.Kind == token.FLOAT && err == nil && v != 0 {
				to = strconv.FormatFloat(1.5*v, 'g', -1, 64)
			} else if v, err := strconv.Atoi(from); n.Kind == token.INT && err == nil {
				to = strconv.Itoa(v + 1)
			} else {
				break
			}
			add(n, fmt.Sprintf("%s -> %s at column %d of line %d", from, to, fset.Position(n.Pos()).Column,
				fset.Position(n.Pos()).Line-fset.Position(body.Pos()).Line), func() { n.Value = to }, func() { n.Value = from })
		}
		return true
	})
	return out
}

func isString(x ast.Expr) bool {
	switch x := x.(type) {
	case *ast.BasicLit:
		return x.Kind == token.STRING
	case *ast.BinaryExpr:
		return isString(x.X) || isString(x.Y)
	}
	return false
}
