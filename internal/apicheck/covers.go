package apicheck

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"example.org/pithball/units/compute"
)

// Covers returns what is wrong between the package in dir and its entries, one
// line each and sorted; an empty slice means that nothing is. Reported are
//
//   - an exported function "Func" or method of an exported type "Type.Method"
//     that no entry covers and that is not exempt: its bare name;
//   - a covered name that the package does not export;
//   - a covered name that the code of Computations never mentions, followed
//     through the functions and package variables of the package by name;
//   - an exemption without a reason, of an unknown name, or of a covered name.
//
// Keys of exempt are "Func", "Type.Method", "Type.*" for all methods of a type
// or "*.Method" for that method of every type; its values are the reasons.
// Computations itself and plumbing methods (String, Error, MarshalText, …)
// need no exemption. Test files are not read.
func Covers(dir string, entries []compute.Entry, exempt map[string]string) []string {
	api, err := read(dir)
	if err != nil {
		return []string{err.Error()}
	}
	var out []string
	covered := map[string]bool{}
	reached := api.reach("Computations")
	for _, e := range entries {
		for _, name := range e.Covers {
			covered[name] = true
			switch {
			case !api.exported[name]:
				out = append(out, fmt.Sprintf("%s (covered by %s, but not exported)", name, e.Name))
			case !reached[name[strings.IndexByte(name, '.')+1:]]:
				out = append(out, fmt.Sprintf("%s (covered by %s, but never called from Computations)", name, e.Name))
			}
		}
	}
	used := map[string]bool{}
	for name := range api.exported {
		typ, method, isMethod := strings.Cut(name, ".")
		keys := []string{name}
		if isMethod {
			keys = append(keys, typ+".*", "*."+method)
		}
		skip := name == "Computations" || isMethod && plumbing[method]
		for _, k := range keys {
			if _, ok := exempt[k]; ok {
				used[k] = true
				skip = true
				if k == name && covered[name] {
					out = append(out, name+" (exempt, but covered)")
				}
			}
		}
		if !skip && !covered[name] {
			out = append(out, name)
		}
	}
	for k, why := range exempt {
		if strings.TrimSpace(why) == "" {
			out = append(out, k+" (exempt without a reason)")
		}
		if !used[k] {
			out = append(out, k+" (exempt, but not exported)")
		}
	}
	sort.Strings(out)
	return out
}

// api is what a package exports and which names each of its declarations uses.
type api struct {
	exported map[string]bool            // "Func" and "Type.Method"
	uses     map[string]map[string]bool // bare name of a declaration -> identifiers in it
}

func read(dir string) (*api, error) {
	files, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	fset := token.NewFileSet()
	a := &api{map[string]bool{}, map[string]map[string]bool{}}
	for _, f := range files {
		name := f.Name()
		if f.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, filepath.Join(dir, name), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		for _, d := range file.Decls {
			a.add(d)
		}
	}
	if len(a.uses) == 0 {
		return nil, fmt.Errorf("apicheck: no Go declarations in %s", dir)
	}
	return a, nil
}

func (a *api) add(d ast.Decl) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		name := d.Name.Name
		a.use(name, d)
		if !ast.IsExported(name) {
			return
		}
		if d.Recv == nil {
			a.exported[name] = true
		} else if t := receiver(d.Recv.List[0].Type); ast.IsExported(t) {
			a.exported[t+"."+name] = true
		}
	case *ast.GenDecl:
		for _, s := range d.Specs {
			if v, ok := s.(*ast.ValueSpec); ok {
				for _, n := range v.Names {
					a.use(n.Name, v)
				}
			}
		}
	}
}

func (a *api) use(name string, n ast.Node) {
	m := a.uses[name]
	if m == nil {
		m = map[string]bool{}
		a.uses[name] = m
	}
	ast.Inspect(n, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok {
			m[id.Name] = true
		}
		return true
	})
}

// reach returns every identifier mentioned from the named function on.
func (a *api) reach(start string) map[string]bool {
	seen := map[string]bool{}
	var walk func(string)
	walk = func(name string) {
		for id := range a.uses[name] {
			if !seen[id] {
				seen[id] = true
				walk(id)
			}
		}
	}
	walk(start)
	return seen
}

// receiver returns the type name of a method's receiver.
func receiver(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.StarExpr:
		return receiver(e.X)
	case *ast.IndexExpr:
		return receiver(e.X)
	case *ast.IndexListExpr:
		return receiver(e.X)
	case *ast.ParenExpr:
		return receiver(e.X)
	}
	return ""
}
