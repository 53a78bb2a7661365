// Command golden dumps what every computation of the registry answers, to the
// last bit, and compares a later tree with such a dump.
//
//	go run ./.ci/golden > base.tsv
//	go run ./.ci/golden -against base.tsv -renames .ci/golden/renames.tsv
//	go run ./.ci/golden -builds v1.tsv -and v3.tsv -loose .ci/golden/rounding.tsv
//
// A dump has one line a call: entry, point, arguments as name=number (with
// /choice where the argument selects), results as name=number or the text of the
// error, and the numbers are hexadecimal. The points are eight in the ranges of
// the arguments, always the same ones, and one for each row of testdata.
//
// The comparison calls the present registry with the arguments of the dump, by
// name, so that neither the order of arguments nor a changed range moves a
// point. A rename table has lines of four columns: kind (entry, argument,
// result, gone or changed), entry (the old name), old, new. "entry" maps a name,
// "argument", "choice" and "result" map one within the old entry ("-": it is gone), "gone" says that an entry
// has left the registry, "changed" that its numbers, arguments or results differ; the
// fourth column of both is the reason. What differs is printed by reason, and a
// difference without one, or a reason without difference, is a fault.
//
// With -builds two dumps of one tree are compared that were made by builds for two
// processors: no number may differ by more than 1e-9 of itself but for the reasons in
// the table of -loose.
package main

import (
	"bufio"
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"

	"example.org/pithball/examples/registry"
	"example.org/pithball/testdata"
	"example.org/pithball/units/compute"
)

func main() {
	against := flag.String("against", "", "dump to compare the tree with")
	renames := flag.String("renames", "", "table of names old to new")
	one := flag.String("builds", "", "dump of another build of this tree, to compare with that of -and")
	other := flag.String("and", "", "the second dump")
	loose := flag.String("loose", "", "table of results that may differ by more, with the reason")
	first := flag.Int("from", 0, "leave out so many calls of the dump")
	without := flag.String("without", "", "file of calls to leave out of the dump, entry and point in columns")
	flag.Parse()
	var err error
	if *without != "" {
		if leftOut, err = calls(*without); err != nil {
			fmt.Fprintln(os.Stderr, "golden:", err)
			os.Exit(1)
		}
	}
	if *one != "" {
		err = builds(*one, *other, *loose)
	} else if *against == "" {
		err = dump(os.Stdout, *first)
	} else {
		err = compare(*against, *renames)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "golden:", err)
		os.Exit(1)
	}
}

// leftOut are calls, entry and point, that the dump does without.
var leftOut map[[2]string]bool

// calls reads a file of calls; each must be one of the registry, so that a renamed entry is noticed.
func calls(path string) (map[[2]string]bool, error) {
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	list, m := registry.All(), map[[2]string]bool{}
	for n, l := range strings.Split(strings.TrimSpace(string(b)), "\n") {
		if strings.HasPrefix(l, "#") {
			continue
		}
		entry, at, ok := strings.Cut(l, "\t")
		if !ok || compute.Find(list, entry) == nil {
			return nil, fmt.Errorf("%s:%d: %q is no entry of the registry with its point", path, n+1, l)
		}
		m[[2]string{entry, at}] = true
	}
	return m, nil
}

// points is how many calls within the ranges each entry gets.
const points = 8

// point returns the k-th value of the i-th argument within its range.
func point(a *compute.Arg, i, k int) float64 {
	r := rand.New(rand.NewPCG(uint64(k)+1, uint64(i)+1))
	u := r.Float64()
	if n := len(a.Choices); n > 0 {
		return float64((k + i) % n)
	}
	var x float64
	switch {
	case a.Low == a.High:
		return a.Low
	case a.Low > 0: // even on a log axis
		x = math.Exp(math.Log(a.Low) + u*(math.Log(a.High)-math.Log(a.Low)))
	case k%2 == 1 && a.High-a.Low < 1e300: // even between the ends
		x = a.Low + u*(a.High-a.Low)
	case a.Low == 0:
		x = min(a.High, 1e12) * math.Pow(10, -9*u)
	case a.High <= 0:
		x = -min(-a.Low, 1e12) * math.Pow(10, -9*u)
	default:
		x = min(a.High, -a.Low, 1e12) * math.Pow(10, -9*u) * float64(1-2*(k/2%2))
	}
	return min(max(x, a.Low), a.High)
}

func dump(w io.Writer, first int) error {
	out := bufio.NewWriter(w)
	defer out.Flush()
	list := registry.All()
	n := 0 // calls so far
	begun := func() bool { n++; return n > first }
	for i := range list {
		e := &list[i]
		for k := range points {
			args := make([]float64, len(e.Args))
			for j := range e.Args {
				args[j] = point(&e.Args[j], j, k)
			}
			if begun() {
				line(out, e, strconv.Itoa(k), args)
			}
		}
	}
	for _, set := range testdata.Packages() {
		rows, err := testdata.Rows(set)
		if err != nil {
			return err
		}
		for _, r := range rows {
			e := compute.Find(list, r.Compute)
			if e == nil {
				fmt.Fprintln(os.Stderr, "no entry for row", set, r.ID, r.Compute)
				continue
			}
			args := make([]float64, len(e.Args))
			for j, a := range e.Args {
				args[j] = r.Args[a.Name]
			}
			if begun() {
				line(out, e, "row "+set+" "+r.ID, args)
			}
		}
	}
	return nil
}

func hex(x float64) string { return strconv.FormatFloat(x, 'x', -1, 64) }

func line(w *bufio.Writer, e *compute.Entry, at string, args []float64) {
	if leftOut[[2]string{e.Name, at}] {
		return
	}
	fmt.Fprintf(w, "%s\t%s\t", e.Name, at)
	for j, a := range e.Args {
		if j > 0 {
			fmt.Fprint(w, " ")
		}
		fmt.Fprintf(w, "%s=%s", a.Name, hex(args[j]))
		if k := int(args[j]); len(a.Choices) > k && k >= 0 {
			fmt.Fprintf(w, "/%s", strings.ReplaceAll(a.Choices[k], " ", "~"))
		}
	}
	fmt.Fprint(w, "\t")
	w.Flush() // what ends the program stands in the last line
	res := make([]float64, len(e.Results))
	if err := call(e, res, args); err != nil {
		fmt.Fprintf(w, "error\t%q\n", err.Error())
		return
	}
	for j, a := range e.Results {
		if j > 0 {
			fmt.Fprint(w, " ")
		}
		fmt.Fprintf(w, "%s=%s", a.Name, hex(res[j]))
	}
	fmt.Fprint(w, "\n")
}

func call(e *compute.Entry, res, args []float64) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v", p)
		}
	}()
	return e.Call(res, args)
}

// table is a rename table by kind and old entry.
type table struct {
	entry, gone, changed     map[string]string
	argument, result, choice map[[2]string]string
}

func read(path string) (table, error) {
	t := table{map[string]string{}, map[string]string{}, map[string]string{}, map[[2]string]string{},
		map[[2]string]string{}, map[[2]string]string{}}
	if path == "" {
		return t, nil
	}
	b, err := os.ReadFile(path)
	if err != nil {
		return t, err
	}
	for n, l := range strings.Split(string(b), "\n") {
		if l == "" || strings.HasPrefix(l, "#") {
			continue
		}
		f := strings.Split(l, "\t")
		if len(f) != 4 {
			return t, fmt.Errorf("%s:%d: %d columns, want kind, entry, old, new", path, n+1, len(f))
		}
		switch f[0] {
		case "entry":
			t.entry[f[1]] = f[3]
		case "gone":
			t.gone[f[1]] = f[3]
		case "changed":
			t.changed[f[1]] = f[3]
		case "argument":
			t.argument[[2]string{f[1], f[2]}] = f[3]
		case "choice":
			t.choice[[2]string{f[1], f[2]}] = f[3]
		case "result":
			t.result[[2]string{f[1], f[2]}] = f[3]
		default:
			return t, fmt.Errorf("%s:%d: kind %q", path, n+1, f[0])
		}
	}
	return t, nil
}

func renamed(m map[[2]string]string, entry, name string) string {
	if n, ok := m[[2]string{entry, name}]; ok {
		return n
	}
	return name
}

// account is what the comparison found of one old entry.
type account struct {
	calls, changed int
	greatest       float64 // relative difference of a result
	what           string  // the first thing that is not the same
}

func (a *account) say(format string, v ...any) {
	if a.changed++; a.what == "" {
		a.what = fmt.Sprintf(format, v...)
	}
}

func compare(base, renames string) error {
	t, err := read(renames)
	if err != nil {
		return err
	}
	b, err := os.ReadFile(base)
	if err != nil {
		return err
	}
	list := registry.All()
	seen := map[string]bool{} // new names
	var order []string
	found := map[string]*account{}
	calls, texts := 0, 0
	for l := range strings.Lines(string(b)) {
		f := strings.Split(strings.TrimSuffix(l, "\n"), "\t")
		if len(f) < 4 {
			return fmt.Errorf("%s: a line of %d columns", base, len(f))
		}
		name, now := f[0], f[0]
		if n, ok := t.entry[name]; ok {
			now = n
		}
		seen[now] = true
		if found[name] == nil {
			found[name] = &account{}
			order = append(order, name)
		}
		if _, ok := t.gone[name]; ok {
			continue
		}
		a := found[name]
		a.calls++
		calls++
		e := compute.Find(list, now)
		if e == nil {
			a.say("no entry %s", now)
			continue
		}
		if a.call(e, &t, f) {
			texts++
		}
	}
	fresh := 0
	for i := range list {
		if !seen[list[i].Name] {
			fresh++
		}
	}
	bad, changed := t.report(order, found)
	fmt.Printf("%d calls of %d entries: %d calls of %d entries changed for a reason, %d differ without one; "+
		"%d error texts changed, %d new entries\n", calls, len(order), changed.calls, changed.changed, bad, texts, fresh)
	if bad > 0 {
		return errors.New("not the same numbers")
	}
	return nil
}

// call compares one line of the dump, and reports whether only the text of an error differs.
func (a *account) call(e *compute.Entry, t *table, f []string) (text bool) {
	name, at := f[0], f[1]
	args, err := arguments(e, t, name, f[2])
	if err != nil {
		a.say("%s: %v", at, err)
		return false
	}
	res := make([]float64, len(e.Results))
	err = call(e, res, args)
	if f[3] == "error" {
		was, _ := strconv.Unquote(f[4])
		if err == nil {
			a.say("%s: %v, was the error %s", at, res, was)
			return false
		}
		return strings.ReplaceAll(err.Error(), e.Name, name) != was
	}
	if err != nil {
		a.say("%s: the error %v, was %s", at, err, f[3])
		return false
	}
	differs := ""
	for _, r := range strings.Fields(f[3]) {
		n, v, _ := strings.Cut(r, "=")
		n = renamed(t.result, name, n)
		if n == "-" { // a result that the table says is gone
			continue
		}
		j := slices.IndexFunc(e.Results, func(a compute.Arg) bool { return a.Name == n })
		if j < 0 {
			differs = "no result " + n
		} else if hex(res[j]) != v {
			was, _ := strconv.ParseFloat(v, 64)
			if d := math.Abs(res[j]-was) / math.Abs(was); d > a.greatest || math.IsNaN(d) && a.greatest == 0 {
				a.greatest = d
			}
			differs = fmt.Sprintf("%s = %v, was %v", n, res[j], was)
		}
	}
	if differs != "" {
		a.say("%s: %s", at, differs)
	}
	return false
}

// report prints the changed entries by their reasons, those without one first, and
// counts. An entry that the table calls changed and that is not is a fault of the
// table.
func (t *table) report(order []string, found map[string]*account) (bad int, total account) {
	by := map[string][]string{}
	for _, name := range order {
		a, reason := found[name], t.changed[name]
		if t.gone[name] != "" {
			by["gone: "+t.gone[name]] = append(by["gone: "+t.gone[name]], "  "+name)
			continue
		}
		if a.changed == 0 {
			if reason != "" {
				bad++
				fmt.Printf("%s: called changed, but is not\n", name)
			}
			continue
		}
		line := fmt.Sprintf("  %s: %d of %d calls", name, a.changed, a.calls)
		if a.greatest > 0 {
			line += fmt.Sprintf(", by up to %.1g", a.greatest)
		}
		if reason == "" {
			bad += a.changed
			fmt.Printf("%s; %s\n", line, a.what)
			continue
		}
		total.calls += a.changed
		total.changed++
		by[reason] = append(by[reason], line+"; "+a.what)
	}
	for _, reason := range slices.Sorted(maps.Keys(by)) {
		fmt.Println(reason)
		fmt.Println(strings.Join(by[reason], "\n"))
	}
	return bad, total
}

func arguments(e *compute.Entry, t *table, entry, text string) ([]float64, error) {
	args := make([]float64, len(e.Args))
	set := make([]bool, len(e.Args))
	for _, a := range strings.Fields(text) {
		n, v, _ := strings.Cut(a, "=")
		v, choice, isChoice := strings.Cut(v, "/")
		n = renamed(t.argument, entry, n)
		if n == "-" { // an argument that the table says is gone
			continue
		}
		j := slices.IndexFunc(e.Args, func(a compute.Arg) bool { return a.Name == n })
		if j < 0 {
			return nil, fmt.Errorf("no argument %s", n)
		}
		x, err := strconv.ParseFloat(v, 64)
		if err != nil {
			return nil, err
		}
		if isChoice && len(e.Args[j].Choices) > 0 {
			choice = renamed(t.choice, entry, strings.ReplaceAll(choice, "~", " "))
			k := slices.Index(e.Args[j].Choices, choice)
			if k < 0 {
				return nil, fmt.Errorf("no choice %q of %s", choice, n)
			}
			x = float64(k)
		}
		args[j], set[j] = x, true
	}
	for j, ok := range set {
		if !ok {
			return nil, fmt.Errorf("a new argument %s", e.Args[j].Name)
		}
	}
	return args, nil
}
