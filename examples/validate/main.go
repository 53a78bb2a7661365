// Command validate is the scoreboard: it computes every value that others
// measured, published or computed by a method of their own, says how far
// pithball is from it, and fails on a miss. What it counts as proof is a value
// that was read in the work (published), read where another work repeats it
// (quoted) or computed from a published law by a method that is not pithball's.
// Definitions, look-ups of tables that the library ships itself, facts of the
// trade, numbers from memory and demos must agree as well, but prove nothing and
// stand apart. So do measurements: they lie inside the model's band, or outside
// with a reason.
//
// The README quotes the counts; after a change of rows go generate brings them
// up to date.
//
// Exit status: 0 no fault, 1 a miss, a measurement outside without a reason or
// inside with one, or a row that cannot be computed.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
	"text/tabwriter"

	"example.org/pithball/examples/registry"
	"example.org/pithball/testdata"
	"example.org/pithball/units/compute"
)

//go:generate go run . -readme ../../README.md

// evaluate computes all rows of a package.
func evaluate(pkg string, list []compute.Entry) ([]testdata.Outcome, error) {
	rows, err := testdata.Rows(pkg)
	if err != nil {
		return nil, err
	}
	out := make([]testdata.Outcome, len(rows))
	for i := range rows {
		out[i] = rows[i].Evaluate(list)
	}
	return out, nil
}

func main() {
	short := flag.Bool("short", false, "print counts and faults only")
	readme := flag.String("readme", "", "write the counts into this `file` instead of printing")
	flag.Parse()
	code, err := 0, error(nil)
	if *readme != "" {
		err = quote(*readme)
	} else {
		code, err = run(os.Stdout, *short)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "validate:", err)
		code = 1
	}
	os.Exit(code)
}

func run(w io.Writer, short bool) (int, error) {
	list := registry.All()
	var total tally
	counts := make([]tally, len(testdata.Packages()))
	var held []band
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for i, pkg := range testdata.Packages() {
		out, err := evaluate(pkg, list)
		if err != nil {
			return 1, err
		}
		fmt.Fprintf(t, "\n%s\t\t\t\t\t\t\n", strings.ToUpper(pkg))
		for j := range out {
			o := &out[j]
			counts[i].add(o)
			total.add(o)
			held = addBand(held, o)
			if short && o.Fault() == nil {
				continue
			}
			fmt.Fprintf(t, "%s\t%s\t%s\twant %s\tgot %s\t%s\t%s\n", o.Row.ID, o.Verdict(), o.Row.Source.Provenance,
				number(o.Row.Want), got(o), cut(o.Row.What), cut(work(o)))
			if m := o.Row.Measured; m != nil && m.KnownDisagreement != "" {
				fmt.Fprintf(t, "\t  because %s\t\t\t\t\t\n", m.KnownDisagreement)
			}
		}
	}
	if err := t.Flush(); err != nil {
		return 1, err
	}
	fmt.Fprintln(w)
	if err := table(w, counts, &total); err != nil {
		return 1, err
	}
	if err := bands(w, held); err != nil {
		return 1, err
	}
	fmt.Fprintf(w, "\n%s\n", total.String())
	if total.faults > 0 {
		return 1, nil
	}
	return 0, nil
}

// got prints what the computation gives: a number, or the model's band.
func got(o *testdata.Outcome) string {
	if m := o.Row.Measured; m != nil && (m.Low != "" || m.High != "") {
		return fmt.Sprintf("%.4g … %.4g", o.Low, o.High)
	}
	return number(o.Got)
}

// work names the work, for a quoted value the one it was read in.
func work(o *testdata.Outcome) string {
	if s := &o.Row.Source; s.Via != "" {
		return "via " + s.Via + ": " + s.Cite
	}
	return o.Row.Source.Cite
}

func number(x float64) string { return fmt.Sprintf("%.9g", x) }

// cut shortens a text to one line of a table.
func cut(s string) string {
	const most = 72
	r := []rune(strings.Join(strings.Fields(s), " "))
	if len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return string(r)
}
