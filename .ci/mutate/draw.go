package main

import (
	"cmp"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"hash/fnv"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// A source is one file of the package with the functions that can be changed.
type source struct {
	name string
	text []byte
	fset *token.FileSet
	file *ast.File
}

// A change is a mutant with the function that it stands in and what became of it.
type change struct {
	mutant
	src           *source
	decl          *ast.FuncDecl
	id            int    // beside which the environment's number is held, from 1
	woven         string // name of the woven file, in which the changed function stands on
	first, last   int    // these lines
	called, lives bool
}

// read parses the files of a package that are neither tests nor generated nor lists of computations.
func read(dir string) ([]*source, error) {
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		return nil, err
	}
	var out []*source
	for _, name := range names {
		base := filepath.Base(name)
		if strings.HasSuffix(base, "_test.go") || strings.HasPrefix(base, "computations") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		s := &source{name: name, text: text, fset: token.NewFileSet()}
		if s.file, err = parser.ParseFile(s.fset, name, text, parser.ParseComments); err != nil {
			return nil, err
		}
		if !ast.IsGenerated(s.file) {
			out = append(out, s)
		}
	}
	return out, nil
}

// draw lists the changes of a package, one a function in turn, and counts the functions that offer any.
func draw(srcs []*source, seed uint64, skip map[string]bool) (out []*change, functions int) {
	rank := func(s string) uint64 {
		h := fnv.New64a()
		fmt.Fprint(h, seed, " ", s)
		x := h.Sum64() // like texts have like sums: the last digits are mixed in
		x ^= x >> 31
		x *= 0x9e3779b97f4a7c15
		return x ^ x>>29
	}
	type ranked struct {
		rank uint64
		of   []*change
	}
	var all []ranked
	for _, s := range srcs {
		for _, d := range s.file.Decls {
			d, ok := d.(*ast.FuncDecl)
			if !ok || d.Body == nil || d.Name.Name == "String" || d.Name.Name == "Error" || d.Name.Name == "init" {
				continue
			}
			fn := d.Name.Name
			if d.Recv != nil {
				fn = typeName(d.Recv.List[0].Type) + "." + fn
			}
			f := ranked{rank: rank(s.name + fn)}
			for _, m := range offers(s.name, fn, d.Body, s.fset) {
				if !skip[m.String()] {
					f.of = append(f.of, &change{mutant: m, src: s, decl: d})
				}
			}
			if len(f.of) > 0 {
				slices.SortStableFunc(f.of, func(a, b *change) int { return cmp.Compare(rank(a.String()), rank(b.String())) })
				all = append(all, f)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b ranked) int { return cmp.Compare(a.rank, b.rank) })
	for k := 0; ; k++ {
		before := len(out)
		for _, f := range all {
			if k < len(f.of) {
				out = append(out, f.of[k])
			}
		}
		if len(out) == before {
			return out, len(all)
		}
	}
}

// typeName is the name of a receiver's type without its star and its parameters.
func typeName(t ast.Expr) string {
	switch t := t.(type) {
	case *ast.StarExpr:
		return typeName(t.X)
	case *ast.IndexExpr:
		return typeName(t.X)
	case *ast.IndexListExpr:
		return typeName(t.X)
	case *ast.Ident:
		return t.Name
	}
	return "?"
}

// equivalent reads the changes that alter nothing.
func equivalent(name string) (map[string]bool, error) {
	out := map[string]bool{}
	b, err := os.ReadFile(name)
	if errors.Is(err, os.ErrNotExist) {
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	for l := range strings.Lines(string(b)) {
		if l = strings.TrimSpace(l); l != "" && l[0] != '#' {
			what, why, ok := strings.Cut(l, " | ")
			if !ok || strings.TrimSpace(why) == "" {
				return nil, fmt.Errorf("%s: %q gives no reason", name, l)
			}
			out[strings.TrimSpace(what)] = true
		}
	}
	return out, nil
}
