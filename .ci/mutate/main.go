// Command mutate changes one sign, factor, branch or bound at a time in a
// package of this module and runs tests on each change: a change that no test
// notices shows a test that cannot fail.
//
//	go run ./.ci/mutate -n 60 -seed 1 -tests ./line,./line/survey ./line
//
// Nobody picks the changes: all that the syntax offers are drawn with the seed,
// one a function in turn, until n of them have compiled. Files are never
// written: the go command overlays the changed one. Changes that alter nothing
// stand in equivalent.txt with the reason why. The exit status is 1 if one of
// the others lives.
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/format"
	"go/parser"
	"go/token"
	"log"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
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

func main() {
	log.SetFlags(0)
	log.SetPrefix("mutate: ")
	n := flag.Int("n", 60, "changes that compile to try")
	seed := flag.Uint64("seed", 1, "of the draw")
	tests := flag.String("tests", "", "packages whose tests are run, comma separated; without it the changed one")
	jobs := flag.Int("jobs", 2, "test runs at a time")
	allow := flag.Int("allow", 0, "percent of the changes that may live")
	known := flag.String("equivalent", ".ci/mutate/equivalent.txt",
		"changes that alter nothing, a line each: change | reason")
	verbose := flag.Bool("v", false, "print every change")
	flag.Parse()
	if flag.NArg() != 1 || *n < 1 || *jobs < 1 {
		flag.Usage()
		os.Exit(2)
	}
	dir := filepath.Clean(flag.Arg(0))
	run := strings.Split(*tests, ",")
	if *tests == "" {
		run = []string{"./" + filepath.ToSlash(dir)}
	}
	pending := draw(dir, rand.New(rand.NewPCG(*seed, 0)), equivalent(*known))
	if len(pending) == 0 {
		log.Fatalf("%s: no changes to make", dir)
	}
	tmp, err := os.MkdirTemp("", "mutate")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(tmp)
	tried, lived, broken := try(pending, *n, *jobs, tmp, run, *verbose)
	for _, m := range lived {
		fmt.Println("lives:", m)
	}
	fmt.Printf("%s: %d changes, %d noticed (%.0f %%), %d live, %d did not compile\n", dir, tried, tried-len(lived),
		100*float64(tried-len(lived))/float64(tried), len(lived), broken)
	if 100*len(lived) > *allow*tried {
		os.RemoveAll(tmp)
		os.Exit(1)
	}
}

// A change carries the whole text of its file, so that runs need no tree.
type change struct {
	mutant
	text []byte
}

// draw lists the changes of a package, one a function in turn.
func draw(dir string, rng *rand.Rand, skip map[string]bool) []change {
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		log.Fatal(err)
	}
	var byFunction [][]change
	for _, name := range names {
		base := filepath.Base(name)
		if strings.HasSuffix(base, "_test.go") || strings.HasPrefix(base, "computations") {
			continue
		}
		fset := token.NewFileSet()
		f, err := parser.ParseFile(fset, name, nil, parser.ParseComments)
		if err != nil {
			log.Fatal(err)
		}
		if ast.IsGenerated(f) {
			continue
		}
		for _, d := range f.Decls {
			d, ok := d.(*ast.FuncDecl)
			if !ok || d.Body == nil || d.Name.Name == "String" || d.Name.Name == "Error" {
				continue
			}
			fn := d.Name.Name
			if d.Recv != nil {
				t := d.Recv.List[0].Type
				if s, ok := t.(*ast.StarExpr); ok {
					t = s.X
				}
				if id, ok := t.(*ast.Ident); ok {
					fn = id.Name + "." + fn
				}
			}
			var of []change
			for _, m := range offers(name, fn, d.Body, fset) {
				if skip[m.String()] {
					continue
				}
				var b bytes.Buffer
				m.apply()
				err := format.Node(&b, fset, f)
				m.undo()
				if err == nil {
					of = append(of, change{m, b.Bytes()})
				}
			}
			if len(of) > 0 {
				rng.Shuffle(len(of), func(i, j int) { of[i], of[j] = of[j], of[i] })
				byFunction = append(byFunction, of)
			}
		}
	}
	rng.Shuffle(len(byFunction), func(i, j int) { byFunction[i], byFunction[j] = byFunction[j], byFunction[i] })
	var out []change
	for k := 0; ; k++ {
		before := len(out)
		for _, of := range byFunction {
			if k < len(of) {
				out = append(out, of[k])
			}
		}
		if len(out) == before {
			return out
		}
	}
}

func equivalent(name string) map[string]bool {
	out := map[string]bool{}
	b, err := os.ReadFile(name)
	if err != nil && !os.IsNotExist(err) {
		log.Fatal(err)
	}
	for l := range strings.Lines(string(b)) {
		if l = strings.TrimSpace(l); l != "" && l[0] != '#' {
			what, why, ok := strings.Cut(l, " | ")
			if !ok || strings.TrimSpace(why) == "" {
				log.Fatalf("%s: %q gives no reason", name, l)
			}
			out[strings.TrimSpace(what)] = true
		}
	}
	return out
}

// try runs the tests on changes until n of them have compiled.
func try(pending []change, n, jobs int, tmp string, tests []string, verbose bool) (tried int, lived []mutant,
	broken int) {
	var mu sync.Mutex
	var wg sync.WaitGroup
	next, running := 0, 0
	for j := range jobs {
		wg.Go(func() {
			for {
				mu.Lock()
				if next == len(pending) || tried+running >= n {
					mu.Unlock()
					return
				}
				c := pending[next]
				next++
				running++
				mu.Unlock()
				ok, compiled, err := passes(c, filepath.Join(tmp, strconv.Itoa(j)), tests)
				if err != nil {
					log.Fatal(err)
				}
				mu.Lock()
				running--
				switch {
				case !compiled:
					broken++
				case ok:
					tried++
					lived = append(lived, c.mutant)
				default:
					tried++
				}
				if verbose && compiled {
					fmt.Printf("%t %v (line %d)\n", !ok, c.mutant, c.line)
				}
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	slices.SortFunc(lived, func(a, b mutant) int { return strings.Compare(a.String(), b.String()) })
	return tried, lived, broken
}

// passes reports whether the tests pass on the changed file. A run that takes
// far too long has noticed the change.
func passes(c change, tmp string, tests []string) (ok, compiled bool, err error) {
	if err := os.MkdirAll(tmp, 0o777); err != nil {
		return false, false, err
	}
	file, over := filepath.Join(tmp, "changed.go"), filepath.Join(tmp, "overlay.json")
	if err := os.WriteFile(file, c.text, 0o666); err != nil {
		return false, false, err
	}
	abs, err := filepath.Abs(c.file)
	if err != nil {
		return false, false, err
	}
	b, err := json.Marshal(map[string]map[string]string{"Replace": {abs: file}})
	if err != nil {
		return false, false, err
	}
	if err := os.WriteFile(over, b, 0o666); err != nil {
		return false, false, err
	}
	args := append([]string{"test", "-short", "-vet=off", "-failfast", "-timeout=120s", "-overlay=" + over}, tests...)
	out, err := exec.Command("go", args...).CombinedOutput()
	if err == nil {
		return true, true, nil
	}
	return false, !bytes.Contains(out, []byte("[build failed]")) && !bytes.Contains(out, []byte("[setup failed]")), nil
}
