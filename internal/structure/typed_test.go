package structure_test

import (
	"encoding/json"
	"errors"
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
	"strings"
	"sync"
	"testing"
)

// typed is a package of the module with its types, without its tests.
type typed struct {
	dir   string // below root, with slashes
	fset  *token.FileSet
	files map[string]*ast.File // by name
	pkg   *types.Package
	info  *types.Info
}

// typedPackages are all packages of the module, by the export data of one call of the go
// command.
var typedPackages = sync.OnceValues(func() ([]*typed, error) {
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Export,Dir,GoFiles,Module", "./...")
	cmd.Dir = root
	text, err := cmd.Output()
	if err != nil {
		return nil, err
	}
	type listed struct {
		ImportPath, Export, Dir string
		GoFiles                 []string
		Module                  *struct{ Main bool }
	}
	exports := map[string]string{}
	var own []listed
	for d := json.NewDecoder(strings.NewReader(string(text))); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, err
		}
		exports[p.ImportPath] = p.Export
		if p.Module != nil && p.Module.Main {
			own = append(own, p)
		}
	}
	fset := token.NewFileSet()
	imports := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	var out []*typed
	for _, p := range own {
		t := &typed{dir: strings.TrimPrefix(strings.TrimPrefix(p.ImportPath, module), "/"), fset: fset,
			files: map[string]*ast.File{}}
		var files []*ast.File
		for _, name := range p.GoFiles {
			f, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
			if err != nil {
				return nil, err
			}
			t.files[name] = f
			files = append(files, f)
		}
		if err := t.check(p.ImportPath, files, imports); err != nil {
			return nil, err
		}
		out = append(out, t)
	}
	if len(out) < 30 {
		return nil, fmt.Errorf("only %d packages found: the search is broken", len(out))
	}
	return out, nil
})

func (p *typed) check(path string, files []*ast.File, imports types.Importer) (err error) {
	p.info = &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	p.pkg, err = (&types.Config{Importer: imports}).Check(path, p.fset, files, p.info)
	return err
}

// packages returns the typed packages.
func packages(t *testing.T) []*typed {
	t.Helper()
	p, err := typedPackages()
	if err != nil {
		t.Fatal(err)
	}
	return p
}
