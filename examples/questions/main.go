// Command questions writes the page of the fifty questions of the floor: each with the
// package whose runnable example answers it, and the answer that the example prints.
//
//	go run ./examples/questions > examples/questions/README.md
//
// The answers are those of the examples' Output comments, which go test compares with
// what the code says: the page cannot drift from the library.
package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

//go:generate sh -c "go run . -root ../.. > README.md"

// count is how many questions there are.
const count = 50

// answer is one question with its example.
type answer struct {
	number   int
	question string // as the example's comment begins
	file     string // of the example, below the root
	test     bool   // whether a TestQuestionNN stands in the same file
	lines    []string
}

func main() {
	root := "."
	if len(os.Args) == 3 && os.Args[1] == "-root" {
		root = os.Args[2]
	}
	list, err := find(root)
	if err != nil {
		fmt.Fprintln(os.Stderr, "questions:", err)
		os.Exit(1)
	}
	fmt.Print(page(list))
}

var (
	example = regexp.MustCompile(`^Example_question(\d\d)$`)
	tested  = regexp.MustCompile(`^TestQuestion(\d\d)$`)
	asked   = regexp.MustCompile(`(?s)^Question \d+: (.*?)([?]|$)`)
)

// find reads all test files named questions_test.go below root.
func find(root string) ([]answer, error) {
	var out []answer
	tests := map[string]bool{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && strings.HasPrefix(d.Name(), ".") && path != root:
			return filepath.SkipDir
		case d.IsDir() || d.Name() != "questions_test.go":
			return nil
		}
		fset := token.NewFileSet()
		f, err := parser.ParseFile(fset, path, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		for _, decl := range f.Decls {
			fn, ok := decl.(*ast.FuncDecl)
			if !ok {
				continue
			}
			if m := tested.FindStringSubmatch(fn.Name.Name); m != nil {
				tests[m[1]+rel] = true
			}
			m := example.FindStringSubmatch(fn.Name.Name)
			if m == nil {
				continue
			}
			n, err := strconv.Atoi(m[1])
			if err != nil {
				return err
			}
			q := strings.ReplaceAll(fn.Doc.Text(), "\n", " ")
			if p := asked.FindStringSubmatch(q); p != nil {
				q = strings.TrimSpace(p[1]) + p[2]
				q = strings.ToUpper(q[:1]) + q[1:]
			}
			out = append(out, answer{number: n, question: q, file: rel, lines: output(f, fn)})
		}
		return nil
	})
	for i := range out {
		out[i].test = tests[fmt.Sprintf("%02d", out[i].number)+out[i].file]
	}
	slices.SortFunc(out, func(a, b answer) int { return a.number - b.number })
	return out, err
}

// output is the text of the Output comment of an example.
func output(f *ast.File, fn *ast.FuncDecl) []string {
	for _, c := range f.Comments {
		if c.Pos() < fn.Body.Pos() || c.End() > fn.Body.End() {
			continue
		}
		text, ok := strings.CutPrefix(strings.TrimSpace(c.Text()), "Output:")
		if ok {
			return strings.Split(strings.TrimSpace(text), "\n")
		}
	}
	return nil
}

// page writes the list as Markdown.
func page(list []answer) string {
	var b strings.Builder
	b.WriteString("# The fifty questions of the floor\n\n" +
		"Each is answered by a runnable example beside the package that answers it; a test beside the example holds the\n" +
		"direction under a changed input. Lines, goods, readings and prices are invented. Made by `go generate " +
		"./examples/questions`.\n")
	for _, a := range list {
		dir := filepath.ToSlash(filepath.Dir(a.file))
		fmt.Fprintf(&b, "\n%d. %s `go test ./%s -v -run Example_question%02d`, [%s](../../%s)\n\n", a.number, a.question,
			dir, a.number,
			dir, a.file)
		for _, l := range a.lines {
			fmt.Fprintf(&b, "       %s\n", l)
		}
		fmt.Fprintf(&b, "\n    TestQuestion%02d: %s.\n", a.number, directions[a.number])
	}
	return b.String()
}
