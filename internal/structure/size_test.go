package structure_test

import (
	"go/ast"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"
)

const (
	longestFile = 500 // lines
	widestLine  = 120 // characters
	mostNames   = 120 // exported types and functions of a package
)

var output = regexp.MustCompile(`^\s*// (Unordered output|Output):`)

// TestFilesAndLinesAreShort: one file holds one idea, and a line fits beside
// another one. What a program prints, a literal in back quotes and generated
// code keep the lines that they have.
func TestFilesAndLinesAreShort(t *testing.T) {
	goFiles(t, func(path string, f *ast.File, fset *token.FileSet) {
		if ast.IsGenerated(f) {
			return
		}
		b, err := os.ReadFile(filepath.Join(root, path))
		if err != nil {
			t.Fatal(err)
		}
		raw := map[int]bool{}
		ast.Inspect(f, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && strings.HasPrefix(l.Value, "`") {
				for k := fset.Position(l.Pos()).Line; k <= fset.Position(l.End()).Line; k++ {
					raw[k] = true
				}
			}
			return true
		})
		lines := strings.Split(strings.TrimSuffix(string(b), "\n"), "\n")
		if len(lines) > longestFile {
			t.Errorf("%s has %d lines, at most %d: split it", path, len(lines), longestFile)
		}
		printed := false
		for i, l := range lines {
			printed = printed && strings.HasPrefix(strings.TrimSpace(l), "//") || output.MatchString(l)
			if w := utf8.RuneCountInString(l); w > widestLine && !printed && !raw[i+1] {
				t.Errorf("%s:%d: %d characters, at most %d", path, i+1, w, widestLine)
			}
		}
	})
}

// TestPackagesAreSmall: a package can be read as one page.
func TestPackagesAreSmall(t *testing.T) {
	names := map[string]map[string]bool{}
	goFiles(t, func(path string, f *ast.File, _ *token.FileSet) {
		dir := filepath.ToSlash(filepath.Dir(path))
		if strings.HasSuffix(path, "_test.go") || f.Name.Name == "main" || strings.Contains("/"+dir+"/", "/internal/") {
			return
		}
		if names[dir] == nil {
			names[dir] = map[string]bool{}
		}
		for _, d := range f.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if d.Recv == nil && d.Name.IsExported() {
					names[dir][d.Name.Name] = true
				}
			case *ast.GenDecl:
				for _, s := range d.Specs {
					if s, ok := s.(*ast.TypeSpec); ok && s.Name.IsExported() {
						names[dir][s.Name.Name] = true
					}
				}
			}
		}
	})
	for dir, n := range names {
		t.Logf("%s: %d", dir, len(n))
		if len(n) > mostNames {
			t.Errorf("%s exports %d types and functions, at most %d", dir, len(n), mostNames)
		}
	}
	if len(names) < 10 {
		t.Fatal("no packages found")
	}
}
