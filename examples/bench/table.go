package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"example.org/pithball/examples/outfile"
)

// runPeer runs a program of the folder and reads its lines.
func runPeer(dir, python, script string) ([]result, error) {
	path := filepath.Join(dir, script)
	if _, err := os.Stat(path); err != nil {
		return nil, err
	}
	name := python
	if strings.HasSuffix(script, ".js") {
		name = "node"
	}
	c := exec.Command(name, script)
	c.Dir = dir
	c.Env = append(os.Environ(), "PYTHONDONTWRITEBYTECODE=1")
	var fault bytes.Buffer
	c.Stderr = &fault
	text, err := c.Output()
	if err != nil {
		last := strings.Split(strings.TrimSpace(fault.String()), "\n")
		return nil, fmt.Errorf("%w: %s", err, last[len(last)-1])
	}
	var out []result
	for l := range bytes.Lines(text) {
		var x result
		if err := json.Unmarshal(l, &x); err != nil {
			return nil, fmt.Errorf("%q: %w", l, err)
		}
		out = append(out, x)
	}
	return out, nil
}

type entry struct {
	result
	cores int
}

type table struct {
	ours   []entry
	theirs []result
}

// write prints the ratios: of each work the least time of all rounds on either side, the other's in its quickest form
// on the same number of cores.
func (t *table) write(out io.Writer) error {
	fmt.Fprintf(out, "%s/%s, %d processors; ms, least of all rounds\n\n", runtime.GOOS, runtime.GOARCH, runtime.NumCPU())
	fmt.Fprintln(out, "| work | n | cores | pithball | the other | its form | ratio |")
	fmt.Fprintln(out, "|---|---|---|---|---|---|---|")
	var faults []error
	done := map[string]bool{}
	for _, e := range t.ours {
		key := fmt.Sprint(e.Name, e.N)
		if done[key] {
			continue
		}
		done[key] = true
		best := e.Min
		for _, o := range t.ours {
			if o.Name == e.Name && o.N == e.N {
				best = min(best, o.Min)
			}
		}
		forms := peersOf[e.Name]
		if forms == nil {
			forms = []string{e.Name}
		}
		var other *result
		for i := range t.theirs {
			l := &t.theirs[i]
			if !slices.Contains(forms, l.Name) || l.N != e.N && !strings.HasPrefix(e.Name, "p1b") {
				continue
			}
			if err := agree(e.Name, e.Digest, l.Digest); err != nil {
				faults = append(faults, fmt.Errorf("%s against %s: %w", e.Name, l.Name, err))
			}
			if other == nil || l.Min < other.Min {
				other = l
			}
		}
		if other == nil {
			fmt.Fprintf(out, "| %s | %d | %d | %.3g | – | not run | – |\n", e.Name, e.N, e.cores, 1e3*best)
			continue
		}
		fmt.Fprintf(out, "| %s | %d | %d | %.3g | %.3g | %s | %.3g |\n", e.Name, e.N, e.cores, 1e3*best, 1e3*other.Min,
			other.Name, other.Min/best)
	}
	return errors.Join(faults...)
}

// peersOf names the forms of the other side that do a work on the same number of cores; one core is allowed to whom
// two are, because more threads are not always quicker.
var peersOf = map[string][]string{
	"p2_sheet_decay/1d_2^20/2cores": {"p2_sheet_decay/1d_2^20/1core", "p2_sheet_decay/1d_2^20/workers2",
		"p2_sheet_decay/1d_2^20/threads2"},
	"p2_sheet_decay/2d_1024x1024/2cores": {"p2_sheet_decay/2d_1024x1024/1core", "p2_sheet_decay/2d_1024x1024/workers2",
		"p2_sheet_decay/2d_1024x1024/threads2"},
	"p3_psychro/1core":  {"p3_psychro_numpy/1core", "p3_psychrolib_node"},
	"p3_psychro/2cores": {"p3_psychro_numpy/1core", "p3_psychro_numpy/threads2"},
	"p4_line_mc/2cores": {"p4_line_mc/1core", "p4_line_mc/threads2"},
	"p5_fit/each":       {"p5_fit/gaussian_batched", "p5_fit/lstsq_loop"},
	"p5_fit/shared":     {"p5_fit/shared_A"},
	"p6_paschen/1core":  {"p6_paschen/newton/1core"},
	"p6_paschen/2cores": {"p6_paschen/newton/1core", "p6_paschen/newton/threads2"},
}

// agree compares two digests: numbers by their keys, relative to a scale that the kind of work sets.
func agree(name string, ours, theirs json.RawMessage) error {
	var a, b any
	if err := errors.Join(json.Unmarshal(ours, &a), json.Unmarshal(theirs, &b)); err != nil {
		return err
	}
	var faults []error
	walk("", a, b, func(path string, x, y, scale float64) {
		tol := tolerance(name, path)
		if !(math.Abs(x-y) <= tol*scale) {
			faults = append(faults, fmt.Errorf("%s: %.12g, the other %.12g, allowed %.1g", strings.TrimPrefix(path, "."), x, y,
				tol))
		}
	})
	return errors.Join(faults...)
}

// tolerance is what the definition of the work allows, relative to the greater of the two, or of the numbers beside
// them in a list. 0 asks for nothing.
func tolerance(name, path string) float64 {
	switch {
	case strings.HasPrefix(name, "p1_") && strings.Contains(path, "E_"):
		return 1e-6 // differences of nearby potentials
	case strings.HasPrefix(name, "p1_"):
		return 1e-8
	case strings.HasPrefix(name, "p1b") && strings.HasSuffix(path, ".E_0") || strings.Contains(path, "nodes") ||
		strings.Contains(path, "status"):
		return math.Inf(1) // of a neutral gap it is 1e-9 of what the potentials hold
	case strings.HasPrefix(name, "p1b"):
		return 1e-6
	case strings.HasPrefix(name, "p2"):
		return 1e-12
	case strings.Contains(path, "mean_tw"):
		return 1e-3 / 9 // two roots near 0 °C
	case strings.HasPrefix(name, "p3"):
		return 1e-4 // one of the other programs stops at 1e-3 K
	case strings.HasPrefix(name, "p4"):
		return 3e-3 // the other has other random numbers
	case strings.Contains(path, "first3_z"), strings.Contains(path, "mean_z"):
		return 1e-3 // of a flat minimum; the pieces of the law join at their crossing here, at a rounded gap there
	case strings.Contains(path, "limited"):
		return 1e-3
	case strings.HasPrefix(name, "p6") && strings.Contains(path, "mean"):
		return 1e-4 // as above; a fifth of the films have their minimum at the joint
	case strings.HasPrefix(name, "p6"):
		return 1e-9
	}
	return 1e-9
}

// walk visits the numbers that both sides have. Fluxes and fields have those of the same object as scale, elements of a
// list their spread.
func walk(path string, a, b any, visit func(path string, x, y, scale float64)) {
	switch a := a.(type) {
	case float64:
		if y, ok := b.(float64); ok {
			visit(path, a, y, math.Max(math.Abs(a), math.Abs(y)))
		}
	case []any:
		b, _ := b.([]any)
		scale := 0.0
		for i := range a {
			x, ok := a[i].(float64)
			if ok && i < len(b) {
				y, _ := b[i].(float64)
				scale = max(scale, math.Abs(x), math.Abs(y))
			}
		}
		for i := range min(len(a), len(b)) {
			x, ok := a[i].(float64)
			y, ok2 := b[i].(float64)
			if ok && ok2 {
				visit(fmt.Sprintf("%s[%d]", path, i), x, y, scale)
				continue
			}
			walk(fmt.Sprintf("%s[%d]", path, i), a[i], b[i], visit)
		}
	case map[string]any:
		b, _ := b.(map[string]any)
		flux := 0.0 // a polarity that is swept out leaves rounding noise
		for _, k := range []string{"Jp_w", "Jn_w"} {
			x, _ := b[k].(float64)
			flux = max(flux, math.Abs(x))
		}
		for k, x := range a {
			y, ok := b[k]
			if !ok {
				continue
			}
			fx, isNumber := x.(float64)
			fy, _ := y.(float64)
			if k == "Jp_w" || k == "Jn_w" {
				visit(path+"."+k, fx, fy, max(flux*1e-6, math.Abs(fx), math.Abs(fy)))
			} else if isNumber {
				visit(path+"."+k, fx, fy, math.Max(math.Abs(fx), math.Abs(fy)))
			} else {
				walk(path+"."+k, x, y, visit)
			}
		}
	}
}

// The marks of the table in a file.
const begin, end = "<!-- table of bench -->", "<!-- end of table -->"

// insert puts the table into a file.
func insert(path, text string) error {
	b, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	before, rest, ok := strings.Cut(string(b), begin)
	_, after, ok2 := strings.Cut(rest, end)
	if !ok || !ok2 {
		return fmt.Errorf("%s: want the marks %s and %s", path, begin, end)
	}
	_, err = outfile.Write(path, []byte(before+begin+"\n"+text+end+after))
	return err
}
