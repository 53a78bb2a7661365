// Package apicheck holds a package to its registry of computations: every
// exported function and method is called by a declaration of the registry, or
// is exempt for a stated reason.
package apicheck

import (
	"encoding/json"
	"fmt"
	"go/ast"
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

// plumbing lists methods that compute nothing: text, errors, encodings.
var plumbing = map[string]bool{
	"String": true, "Error": true, "Unwrap": true, "Is": true, "As": true,
	"AppendText": true, "MarshalText": true, "UnmarshalText": true,
	"MarshalJSON": true, "UnmarshalJSON": true, "GoString": true, "Format": true,
	"Len": true, "Less": true, "Swap": true, "SI": true,
}

// Unreached returns what is wrong between the package in dir and its registry,
// the files computations*.go: one line each and sorted; an empty slice means
// that nothing is. Reported are
//
//   - an exported function "Func" or method of an exported type "Type.Method"
//     that those files do not use and that is not exempt: its bare name;
//   - an exemption without a reason, of an unknown name, or of a used one.
//
// A method is used also through an interface that its type implements, if the
// files name the type or call a function that returns it. Keys of exempt are "Func",
// "Type.Method", "Type.*" for all methods of a type or "*.Method" for that
// method of every type; its values are the reasons. Of a function F and its form
// FContext, which ends with a context, one reaches the other, and the
// exemption of F is that of both. Computations itself and
// plumbing methods (String, Error, MarshalText, …) need no exemption. Types are
// resolved with the go command.
func Unreached(dir string, exempt map[string]string) []string {
	p, err := load(dir)
	if err != nil {
		return []string{err.Error()}
	}
	if p.files == 0 {
		return []string{"apicheck: no files computations*.go in " + dir}
	}
	var out []string
	used := map[string]bool{}
	all := p.exported()
	for name, obj := range all {
		typ, method, isMethod := strings.Cut(name, ".")
		keys := []string{name}
		if isMethod {
			keys = append(keys, typ+".*", "*."+method)
		}
		covered := p.covers(obj)
		if plain, ok := strings.CutSuffix(name, "Context"); ok {
			keys = append(keys, plain)
		}
		skip := name == "Computations" || isMethod && plumbing[method] || p.twinCovered(all, name)
		for _, k := range keys {
			if _, ok := exempt[k]; ok {
				used[k] = true
				skip = true
				if k == name && covered {
					out = append(out, name+" (exempt, but reached)")
				}
			}
		}
		if !skip && !covered {
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

// loaded is a package with its types and what its registry uses.
type loaded struct {
	pkg   *types.Package
	files int                   // of the registry
	uses  map[types.Object]bool // by the registry
}

func load(dir string) (*loaded, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	fset := token.NewFileSet()
	var files []*ast.File
	registry := map[*ast.File]bool{}
	for _, e := range entries {
		name := e.Name()
		if e.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(fset, filepath.Join(dir, name), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files = append(files, f)
		registry[f] = strings.HasPrefix(name, "computations")
	}
	exports, err := exportData(dir)
	if err != nil {
		return nil, err
	}
	imports := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) {
		file, ok := exports[path]
		if !ok {
			return nil, fmt.Errorf("apicheck: no export data of %s", path)
		}
		return os.Open(file)
	})
	info := &types.Info{Uses: map[*ast.Ident]types.Object{}}
	pkg, err := (&types.Config{Importer: imports}).Check(dir, fset, files, info)
	if err != nil {
		return nil, err
	}
	p := &loaded{pkg: pkg, uses: map[types.Object]bool{}}
	for f, yes := range registry {
		if !yes {
			continue
		}
		p.files++
		ast.Inspect(f, func(n ast.Node) bool {
			if id, ok := n.(*ast.Ident); ok && info.Uses[id] != nil {
				p.uses[origin(info.Uses[id])] = true
			}
			return true
		})
	}
	return p, nil
}

// origin is the declared function of an instantiated one.
func origin(o types.Object) types.Object {
	if f, ok := o.(*types.Func); ok {
		return f.Origin()
	}
	return o
}

// exportData asks the go command for the compiled imports of the package.
func exportData(dir string) (map[string]string, error) {
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Export", ".")
	cmd.Dir = dir
	text, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("apicheck: go list in %s: %w", dir, err)
	}
	out := map[string]string{}
	for d := json.NewDecoder(strings.NewReader(string(text))); ; {
		var p struct{ ImportPath, Export string }
		if err := d.Decode(&p); err == io.EOF {
			return out, nil
		} else if err != nil {
			return nil, err
		}
		if p.Export != "" {
			out[p.ImportPath] = p.Export
		}
	}
}

// exported returns the functions and the methods of the exported types.
func (p *loaded) exported() map[string]*types.Func {
	out := map[string]*types.Func{}
	for _, name := range p.pkg.Scope().Names() {
		obj := p.pkg.Scope().Lookup(name)
		if !obj.Exported() {
			continue
		}
		switch o := obj.(type) {
		case *types.Func:
			out[name] = o
		case *types.TypeName:
			named, ok := o.Type().(*types.Named)
			if !ok {
				continue
			}
			for m := range named.Methods() {
				if m.Exported() {
					out[name+"."+m.Name()] = m
				}
			}
		}
	}
	return out
}

// covers reports whether the registry uses the function, or calls the method
// through an interface on a type that it names.
func (p *loaded) covers(f *types.Func) bool {
	if p.uses[f] {
		return true
	}
	recv := f.Signature().Recv()
	if recv == nil {
		return false
	}
	t := recv.Type()
	if ptr, ok := t.(*types.Pointer); ok {
		t = ptr.Elem()
	}
	named, ok := t.(*types.Named)
	if !ok || !p.names(named.Obj()) {
		return false
	}
	for o := range p.uses {
		m, ok := o.(*types.Func)
		if !ok || m.Name() != f.Name() || m.Signature().Recv() == nil {
			continue
		}
		// A generic interface is taken by the name of its method.
		of := m.Signature().Recv().Type()
		i, ok := of.Underlying().(*types.Interface)
		if n, generic := of.(*types.Named); ok && (generic && n.TypeParams().Len() > 0 || types.Implements(recv.Type(), i)) {
			return true
		}
	}
	return false
}

// twinCovered reports whether the form with or without Context of a function is covered.
func (p *loaded) twinCovered(all map[string]*types.Func, name string) bool {
	twin, ok := strings.CutSuffix(name, "Context")
	if !ok {
		twin = name + "Context"
	}
	f := all[twin]
	return f != nil && p.covers(f)
}

// names reports whether the registry names the type or calls a function that
// returns it.
func (p *loaded) names(t types.Object) bool {
	if p.uses[t] {
		return true
	}
	for o := range p.uses {
		f, ok := o.(*types.Func)
		if !ok {
			continue
		}
		for v := range f.Signature().Results().Variables() {
			r := v.Type()
			if ptr, ok := r.(*types.Pointer); ok {
				r = ptr.Elem()
			}
			if n, ok := r.(*types.Named); ok && n.Obj() == t {
				return true
			}
		}
	}
	return false
}
