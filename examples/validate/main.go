// Command validate is the scoreboard: it computes every value that others
// published or computed by a method of their own, says how far pithball is from
// it, and fails on a miss. Rows that rest on memory or common practice are
// listed as examples and prove nothing.
//
// Exit status: 0 every proof row met, 1 a miss or a row that cannot be computed.
package main

import (
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"text/tabwriter"

	"example.org/pithball/examples/registry"
	"example.org/pithball/testdata"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// outcome is one row with what pithball makes of it.
type outcome struct {
	pkg  string
	row  testdata.Row
	got  float64
	err  error
	pass bool
}

// evaluate computes all rows of a package.
func evaluate(pkg string, list []compute.Entry) ([]outcome, error) {
	rows, err := testdata.Rows(pkg)
	if err != nil {
		return nil, err
	}
	out := make([]outcome, len(rows))
	for i, r := range rows {
		o := outcome{pkg: pkg, row: r, got: math.NaN()}
		o.got, o.err = value(&r, list)
		o.pass = o.err == nil && r.Pass(o.got)
		out[i] = o
	}
	return out, nil
}

func value(r *testdata.Row, list []compute.Entry) (float64, error) {
	e := compute.Find(list, r.Compute)
	if e == nil {
		return math.NaN(), known.Wrong("compute", r.Compute, "the name of a public computation")
	}
	args := make([]float64, len(e.Args))
	for i := range e.Args {
		v, ok := r.Args[e.Args[i].Name]
		if !ok {
			return math.NaN(), known.Wrong("args", e.Args[i].Name, "a value for every argument of "+r.Compute)
		}
		args[i] = v
	}
	if len(r.Args) != len(args) {
		return math.NaN(), known.Wrong("args", fmt.Sprint(r.Args), fmt.Sprintf("the %d arguments of %s and no others", len(args), r.Compute))
	}
	res := make([]float64, len(e.Results))
	if err := e.Call(res, args); err != nil {
		return math.NaN(), err
	}
	for i := range e.Results {
		if e.Results[i].Name == r.Result {
			return res[i], nil
		}
	}
	return math.NaN(), known.Wrong("result", r.Result, "a result of "+r.Compute)
}

func main() {
	short := flag.Bool("short", false, "print totals and misses only")
	flag.Parse()
	code, err := run(os.Stdout, *short)
	if err != nil {
		fmt.Fprintln(os.Stderr, "validate:", err)
	}
	os.Exit(code)
}

func run(w io.Writer, short bool) (int, error) {
	list := registry.All()
	code := 0
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	total := map[known.Provenance]int{}
	proofs, misses := 0, 0
	for _, pkg := range testdata.Packages() {
		out, err := evaluate(pkg, list)
		if err != nil {
			return 1, err
		}
		n, met := 0, 0
		fmt.Fprintf(t, "\n%s\t\t\t\t\t\t\n", strings.ToUpper(pkg))
		for _, o := range out {
			total[o.row.Source.Provenance]++
			if o.row.Proof() {
				n++
				if o.pass {
					met++
				}
			}
			if short && o.pass {
				continue
			}
			fmt.Fprintf(t, "%s\t%s\t%s\twant %s\tgot %s\t%s\t%s\n", o.row.ID, verdict(o), o.row.Source.Provenance, number(o.row.Want), number(o.got), short1(o.row.What), short1(o.row.Source.Cite))
		}
		fmt.Fprintf(t, "%s: %d of %d proof rows met; %d rows in all\t\t\t\t\t\t\n", pkg, met, n, len(out))
		proofs += n
		misses += n - met
		if met < n {
			code = 1
		}
	}
	if err := t.Flush(); err != nil {
		return 1, err
	}
	fmt.Fprintf(w, "\n%d proof rows, %d missed. Published %d, computed by others' methods %d; examples only: common practice %d, memory %d, demo %d.\n",
		proofs, misses, total[known.Published], total[known.Computed], total[known.CommonPractice], total[known.Memory], total[known.Demo])
	return code, nil
}

// verdict says whether a row is met; a row that proves nothing says so.
func verdict(o outcome) string {
	switch {
	case o.err != nil:
		return "cannot compute: " + o.err.Error()
	case o.pass && o.row.Proof():
		return "met"
	case o.pass:
		return "agrees (no proof)"
	case o.row.Proof():
		return "MISSED"
	}
	return "differs (no proof)"
}

func number(x float64) string { return fmt.Sprintf("%.9g", x) }

// short1 cuts a text to one line of a table.
func short1(s string) string {
	const most = 72
	r := []rune(strings.Join(strings.Fields(s), " "))
	if len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return string(r)
}
