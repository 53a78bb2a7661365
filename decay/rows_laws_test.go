package decay_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strings"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/internal/apicheck"
)

// TestRegistryCoversLaws: every exported computation of the laws, layers,
// methods and fits is reached by the registry.
func TestRegistryCoversLaws(t *testing.T) {
	exempt := map[string]string{
		"ClassScheme.Measure": "a field",
		"ClassScheme.Source":  "a field",
		"Constant.Fraction":   "a constant",
		"Liquid.Notice":       "a text",
		"FractionsTo":         "the column form of Law.Fraction",
		"*.Rate":              "asked through the function Rate",
		"*.TimeTo":            "asked through the function TimeTo",
		"AllModels":           "a list of names",
		"Layer.Check":         "checks; computes nothing",
		"Liquid.Law":          "an exponential of Liquid.Tau",
	}
	mine := declared(t, "law*.go", "bulk.go", "layer*.go", "liquid.go", "electrode*.go", "plate.go", "limits.go", "fit*.go")
	for _, line := range apicheck.Unreached(".", exempt) {
		if name, _, _ := strings.Cut(line, " "); mine[name] {
			t.Error(line)
		}
	}
}

// declared returns the functions ("Func") and methods ("Type.Method") of the
// files that match; sheets and moving webs have a test of their own.
func declared(t *testing.T, patterns ...string) map[string]bool {
	names := map[string]bool{}
	for _, p := range patterns {
		files, err := filepath.Glob(p)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %d files, %v", p, len(files), err)
		}
		for _, path := range files {
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range f.Decls {
				fn, ok := d.(*ast.FuncDecl)
				if !ok {
					continue
				}
				name := fn.Name.Name
				if fn.Recv != nil {
					x := fn.Recv.List[0].Type
					if star, ok := x.(*ast.StarExpr); ok {
						x = star.X
					}
					name = x.(*ast.Ident).Name + "." + name
				}
				names[name] = true
			}
		}
	}
	return names
}
