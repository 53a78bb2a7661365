package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/format"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// The variable that says which change runs: its number, or -1 to write into the
// file named by the other which functions are called.
const (
	whichChange = "MUTATE_CHANGE"
	callsInto   = "MUTATE_CALLS"
)

// chooser is the file that the woven package gains.
const chooser = `package %s

import (
	zzos "os"
	zzconv "strconv"
	zzsync "sync"
)

var zzChange, _ = zzconv.Atoi(zzos.Getenv("` + whichChange + `"))

var zzCalled zzsync.Map

func zzCalls(fn int) {
	if _, again := zzCalled.LoadOrStore(fn, true); again {
		return
	}
	f, err := zzos.OpenFile(zzos.Getenv("` + callsInto + `"), zzos.O_APPEND|zzos.O_CREATE|zzos.O_WRONLY, 0o666)
	if err == nil {
		_, err = f.WriteString(zzconv.Itoa(fn) + "\n")
		f.Close()
	}
	if err != nil {
		panic(err)
	}
}
`

// weave writes the package's files with every change beside the function that it
// came from, and the overlay that puts them into place. A function is numbered
// by the first of its changes.
func weave(dir string, changes []*change, tmp string) (overlay string, err error) {
	replace := map[string]string{}
	put := func(name string, text []byte) error {
		abs, err := filepath.Abs(name)
		if err != nil {
			return err
		}
		to := filepath.Join(tmp, fmt.Sprint(len(replace), ".go"))
		replace[abs] = to
		return os.WriteFile(to, text, 0o666)
	}
	bySource := map[*source][]*change{}
	var srcs []*source
	for _, c := range changes {
		if bySource[c.src] == nil {
			srcs = append(srcs, c.src)
		}
		bySource[c.src] = append(bySource[c.src], c)
	}
	for _, s := range srcs {
		text, err := s.woven(bySource[s])
		if err != nil {
			return "", err
		}
		if err := put(s.name, text); err != nil {
			return "", err
		}
		for _, c := range bySource[s] {
			c.woven = fmt.Sprint(len(replace)-1, ".go")
		}
	}
	added := fmt.Appendf(nil, chooser, changes[0].src.file.Name.Name)
	if err := put(filepath.Join(dir, "zz_chooser.go"), added); err != nil {
		return "", err
	}
	b, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	overlay = filepath.Join(tmp, "overlay.json")
	return overlay, os.WriteFile(overlay, b, 0o666)
}

// woven is the text of a file with its changed functions, all on lines of their own behind it.
func (s *source) woven(changes []*change) ([]byte, error) {
	type edit struct {
		at, cut int
		text    string
	}
	var edits []edit
	var tail bytes.Buffer
	line := bytes.Count(s.text, []byte("\n")) + 1
	byDecl := map[*ast.FuncDecl][]*change{}
	var decls []*ast.FuncDecl
	for _, c := range changes {
		if byDecl[c.decl] == nil {
			decls = append(decls, c.decl)
		}
		byDecl[c.decl] = append(byDecl[c.decl], c)
	}
	for _, d := range decls {
		offset := func(n ast.Node) int { return s.fset.Position(n.Pos()).Offset }
		var args []string
		named := 0
		name := func(f *ast.Field) {
			if len(f.Names) == 0 {
				named++
				n := fmt.Sprint("zzp", named)
				edits = append(edits, edit{offset(f.Type), 0, n + " "})
				args = append(args, n)
			}
			for _, id := range f.Names {
				n := id.Name
				if n == "_" {
					named++
					n = fmt.Sprint("zzp", named)
					edits = append(edits, edit{offset(id), 1, n})
				}
				args = append(args, n)
			}
			if _, ok := f.Type.(*ast.Ellipsis); ok {
				args[len(args)-1] += "..."
			}
		}
		call := ""
		if d.Recv != nil {
			name(d.Recv.List[0])
			call, args = args[0]+".", nil
		}
		for _, f := range d.Type.Params.List {
			name(f)
		}
		params := ""
		if d.Type.TypeParams != nil {
			var of []string
			for _, f := range d.Type.TypeParams.List {
				for _, id := range f.Names {
					of = append(of, id.Name)
				}
			}
			params = "[" + strings.Join(of, ", ") + "]"
		}
		var head strings.Builder
		fmt.Fprintf(&head, " switch zzChange { case 0:; case -1: zzCalls(%d);", byDecl[d][0].id)
		for _, c := range byDecl[d] {
			clone := fmt.Sprintf("zz%d%s", c.id, d.Name.Name)
			do := fmt.Sprintf("%s%s%s(%s)", call, clone, params, strings.Join(args, ", "))
			if d.Type.Results != nil {
				do = "return " + do
			} else {
				do += "; return"
			}
			fmt.Fprintf(&head, " case %d: %s;", c.id, do)

			doc, was := d.Doc, d.Name.Name
			d.Doc, d.Name.Name = nil, clone
			c.apply()
			var b bytes.Buffer
			err := format.Node(&b, s.fset, d)
			c.undo()
			d.Doc, d.Name.Name = doc, was
			if err != nil {
				return nil, err
			}
			b.WriteString("\n")
			c.first = line + 1
			line += 1 + bytes.Count(b.Bytes(), []byte("\n"))
			c.last = line - 1
			tail.WriteString("\n")
			tail.Write(b.Bytes())
		}
		head.WriteString(" };")
		edits = append(edits, edit{s.fset.Position(d.Body.Lbrace).Offset + 1, 0, head.String()})
	}
	slices.SortStableFunc(edits, func(a, b edit) int { return cmp.Compare(a.at, b.at) })
	var out bytes.Buffer
	from := 0
	for _, e := range edits {
		out.Write(s.text[from:e.at])
		out.WriteString(e.text)
		from = e.at + e.cut
	}
	out.Write(s.text[from:])
	out.Write(tail.Bytes())
	return out.Bytes(), nil
}

var compileError = regexp.MustCompile(`(?m)^(.+\.go):(\d+):\d+: (.*)$`)

// compiles weaves until what is left of the changes compiles.
func compiles(dir string, changes []*change, tmp string) (overlay string, left []*change, err error) {
	for {
		if len(changes) == 0 {
			return "", nil, fmt.Errorf("no changes to make")
		}
		if overlay, err = weave(dir, changes, tmp); err != nil {
			return "", nil, err
		}
		out, err := exec.Command("go", "build", "-gcflags=-e", "-overlay="+overlay,
			"./"+filepath.ToSlash(dir)).CombinedOutput()
		if err == nil {
			return overlay, changes, nil
		}
		broken := map[*change]bool{}
		for _, m := range compileError.FindAllSubmatch(out, -1) {
			line, _ := strconv.Atoi(string(m[2]))
			for _, c := range changes {
				if c.woven == filepath.Base(string(m[1])) && c.first <= line && line <= c.last {
					broken[c] = true
				}
			}
		}
		if len(broken) == 0 {
			return "", nil, fmt.Errorf("the woven package does not compile:\n%s", out)
		}
		changes = slices.DeleteFunc(changes, func(c *change) bool { return broken[c] })
	}
}
