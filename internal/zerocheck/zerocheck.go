// Package zerocheck holds a package to the rule that the zero value of a type
// that needs a constructor gives NaN, an error or a flag from every method:
// never a finite number, never a panic.
package zerocheck

import (
	"context"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"sort"
	"strings"

	"example.org/pithball/units/known"
)

// Faults calls every exported method of each zero value with ordinary arguments
// and returns what is wrong, one line each and sorted:
//
//   - a method that panics;
//   - a float result that is not NaN although no error result is set, no
//     validity result flags and no bool result is false;
//   - a type T of the package in dir with a constructor NewT (returning T or *T),
//     or an exported struct that keeps something to itself, so that only a function
//     of the package can fill it, with exported methods, that is not among values;
//   - an exemption of what does not fail.
//
// An argument is taken from args by its type, else made: floats 0.1, integers 1,
// slices of one element, structs of such fields, the zero value for the rest.
// Keys of exempt are "Type.Method" or "Type", its values are the reasons.
func Faults(dir string, values, args []any, exempt map[string]string) []string {
	given := map[reflect.Type]reflect.Value{}
	for _, a := range args {
		given[reflect.TypeOf(a)] = reflect.ValueOf(a)
	}
	var out []string
	seen, used := map[string]bool{}, map[string]bool{}
	report := func(key, format string, a ...any) {
		typ, _, _ := strings.Cut(key, ".")
		for _, k := range []string{key, typ} {
			if exempt[k] != "" {
				used[k] = true
				return
			}
		}
		out = append(out, key+": "+fmt.Sprintf(format, a...))
	}
	for _, zero := range values {
		t := reflect.TypeOf(zero)
		name, _, _ := strings.Cut(t.Name(), "[")
		seen[name] = true
		v := reflect.New(t) // its method set has those of the value too
		for i := range v.NumMethod() {
			key := name + "." + v.Type().Method(i).Name
			if text := call(v.Method(i), given); text != "" {
				report(key, "%s", text)
			}
		}
	}
	constructed, err := constructed(dir)
	if err != nil {
		return []string{err.Error()}
	}
	for _, name := range constructed {
		if !seen[name] {
			report(name, "has a constructor, but its zero value is not tried")
		}
	}
	for k := range exempt {
		if !used[k] {
			out = append(out, k+" (exempt, but without fault)")
		}
	}
	sort.Strings(out)
	return out
}

// call calls a method and says what is wrong with what comes back.
func call(m reflect.Value, given map[reflect.Type]reflect.Value) (fault string) {
	defer func() {
		if p := recover(); p != nil {
			fault = fmt.Sprintf("panics: %v", p)
		}
	}()
	t := m.Type()
	in := make([]reflect.Value, t.NumIn())
	for i := range in {
		in[i] = ordinary(t.In(i), given, 0)
	}
	var res []reflect.Value
	if t.IsVariadic() {
		res = m.CallSlice(in)
	} else {
		res = m.Call(in)
	}
	for _, r := range res {
		switch x := r.Interface().(type) {
		case error:
			if x != nil {
				return ""
			}
		case known.Validity:
			if x != known.Inside {
				return ""
			}
			fault = "inside the published range"
		case bool:
			if !x {
				return ""
			}
		}
	}
	for _, r := range res {
		if text := finite(r); text != "" {
			return text
		}
	}
	return fault
}

// finite returns the first finite float inside a result, as text.
func finite(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Float64, reflect.Float32:
		if x := v.Float(); !math.IsNaN(x) && !math.IsInf(x, 0) {
			return fmt.Sprintf("gives %g", x)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if text := finite(v.Field(i)); text != "" {
				return text
			}
		}
	case reflect.Array, reflect.Slice:
		for i := range v.Len() {
			if text := finite(v.Index(i)); text != "" {
				return text
			}
		}
	}
	return ""
}

func ordinary(t reflect.Type, given map[reflect.Type]reflect.Value, depth int) reflect.Value {
	if t == reflect.TypeFor[context.Context]() {
		v := reflect.New(t).Elem()
		v.Set(reflect.ValueOf(context.Background()))
		return v
	}
	if v, ok := given[t]; ok {
		return v
	}
	v := reflect.New(t).Elem()
	if depth > 4 {
		return v
	}
	switch t.Kind() {
	case reflect.Float64, reflect.Float32:
		v.SetFloat(0.1)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(1)
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		v.SetUint(1)
	case reflect.Slice:
		v.Set(reflect.Append(v, ordinary(t.Elem(), given, depth+1)))
	case reflect.Pointer:
		v.Set(reflect.New(t.Elem()))
		v.Elem().Set(ordinary(t.Elem(), given, depth+1))
	case reflect.Struct:
		for i := range t.NumField() {
			if t.Field(i).IsExported() {
				v.Field(i).Set(ordinary(t.Field(i).Type, given, depth+1))
			}
		}
	case reflect.Func:
		v.Set(reflect.MakeFunc(t, func([]reflect.Value) []reflect.Value {
			var res []reflect.Value
			for i := range t.NumOut() {
				res = append(res, ordinary(t.Out(i), given, depth+1))
			}
			return res
		}))
	case reflect.Interface: // any given value that implements it
		for typ, g := range given {
			if t.NumMethod() > 0 && typ.Implements(t) {
				v.Set(g)
			}
		}
	}
	return v
}

// constructed lists the exported types that only the package can make: those that
// a function New with their name returns, and structs with unexported fields and
// exported methods.
func constructed(dir string) ([]string, error) {
	files, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	made, closed, methods := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, f := range files {
		if f.IsDir() || !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(dir, f.Name()), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		for _, d := range file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				switch {
				case d.Recv != nil && d.Name.IsExported():
					methods[typeName(d.Recv.List[0].Type)] = true
				case d.Recv == nil && d.Type.Results != nil:
					name := typeName(d.Type.Results.List[0].Type)
					made[name] = made[name] || d.Name.Name == "New"+name
				}
			case *ast.GenDecl:
				for _, s := range d.Specs {
					if s, ok := s.(*ast.TypeSpec); ok {
						closed[s.Name.Name] = keepsToItself(s.Type)
					}
				}
			}
		}
	}
	var names []string
	for name := range closed {
		if ast.IsExported(name) && (made[name] || closed[name] && methods[name]) {
			names = append(names, name)
		}
	}
	sort.Strings(names)
	return names, nil
}

// typeName is the name of T, *T or T[...], "" for anything else.
func typeName(x ast.Expr) string {
	switch x := x.(type) {
	case *ast.StarExpr:
		return typeName(x.X)
	case *ast.IndexExpr:
		return typeName(x.X)
	case *ast.IndexListExpr:
		return typeName(x.X)
	case *ast.Ident:
		return x.Name
	}
	return ""
}

// keepsToItself reports a struct with an unexported field.
func keepsToItself(x ast.Expr) bool {
	st, ok := x.(*ast.StructType)
	if !ok {
		return false
	}
	for _, f := range st.Fields.List {
		for _, n := range f.Names {
			if !n.IsExported() {
				return true
			}
		}
		if len(f.Names) == 0 && !ast.IsExported(typeName(f.Type)) && typeName(f.Type) != "" {
			return true
		}
	}
	return false
}

// Needed reports whether the package in dir has types whose zero values are to be tried.
func Needed(dir string) (bool, error) {
	names, err := constructed(dir)
	return len(names) > 0, err
}
