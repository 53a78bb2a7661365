// Command docgen writes computations.txt: a line "Name<TAB>sentence" for each
// entry of the package's registry that is declared for one function or method,
// with the first sentence of its doc comment, so that the registry says nothing
// twice. It reads the package in the working folder; go generate runs it.
package main

import (
	"fmt"
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"log"
	"os"
	"sort"
	"strconv"
	"strings"
)

func main() {
	log.SetFlags(0)
	text, err := sentences(".")
	if err == nil {
		err = os.WriteFile("computations.txt", []byte(text), 0o644)
	}
	if err != nil {
		log.Fatal("docgen: ", err)
	}
}

// sentences returns the text of the file for the package in dir.
func sentences(dir string) (string, error) {
	files, err := os.ReadDir(dir)
	if err != nil {
		return "", err
	}
	fset := token.NewFileSet()
	var parsed []*ast.File
	declared := map[string]bool{}
	for _, f := range files {
		if f.IsDir() || !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, dir+"/"+f.Name(), nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return "", err
		}
		parsed = append(parsed, file)
		if strings.HasPrefix(f.Name(), "computations") {
			ast.Inspect(file, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					if name, err := strconv.Unquote(lit.Value); err == nil && token.IsExported(name) &&
						!strings.ContainsAny(name, " :") {
						declared[name] = true
					}
				}
				return true
			})
		}
	}
	p, err := doc.NewFromFiles(fset, parsed, "example.org/pithball", doc.PreserveAST)
	if err != nil {
		return "", err
	}
	var lines []string
	add := func(name string, f *doc.Func) {
		if declared[name] {
			if s := sentence(p.Synopsis(f.Doc), f.Name); s != "" {
				lines = append(lines, name+"\t"+s+"\n")
			}
		}
	}
	for _, f := range p.Funcs {
		add(f.Name, f)
	}
	for _, t := range p.Types {
		for _, f := range t.Funcs {
			add(f.Name, f)
		}
		for _, m := range t.Methods {
			add(t.Name+"."+m.Name, m)
		}
	}
	sort.Strings(lines)
	return fmt.Sprint(strings.Join(lines, "")), nil
}

// sentence drops the function's name and the verb that godoc asks for.
func sentence(s, name string) string {
	for _, verb := range []string{" returns ", " is ", " computes ", " gives "} {
		if rest, ok := strings.CutPrefix(s, name+verb); ok {
			if word, _, _ := strings.Cut(rest, " "); word == strings.ToLower(word) && !strings.ContainsFunc(word, symbol) {
				rest = strings.ToUpper(rest[:1]) + rest[1:]
			}
			return rest
		}
	}
	return s
}

// symbol reports a rune that no plain word has: a formula begins with one.
func symbol(r rune) bool { return r < 'a' || r > 'z' }
