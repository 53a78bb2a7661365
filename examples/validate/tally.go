package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"text/tabwriter"

	"example.org/pithball/examples/outfile"
	"example.org/pithball/examples/registry"
	"example.org/pithball/testdata"
	"example.org/pithball/units/known"
)

// tally counts rows by what they prove.
type tally struct {
	proof   [known.Demo + 1]int // by provenance: published, quoted, computed
	apart   [known.Demo + 1]int // by provenance: definition, common practice, memory, demo
	lookups int                 // of tables that the library ships, whatever their provenance
	// Measurements: inside or outside the model's band or tolerance; those that
	// decide nothing apart.
	inside, outside, context int
	faults                   int
}

func (t *tally) add(o *testdata.Outcome) {
	r := o.Row
	switch {
	case r.Lookup: // also of a measured value: it guards the table and shows no model
		t.lookups++
	case r.Gate() && o.Inside():
		t.inside++
	case r.Gate():
		t.outside++
	case r.Measured != nil:
		t.context++
	case r.Proof():
		t.proof[r.Source.Provenance]++
	default:
		t.apart[r.Source.Provenance]++
	}
	if o.Fault() != nil {
		t.faults++
	}
}

// proofs returns the number of rows that may support a claim of validation,
// measurements not among them.
func (t *tally) proofs() int {
	return t.proof[known.Published] + t.proof[known.Quoted] + t.proof[known.Computed]
}

// String is the sentence that the README quotes.
func (t *tally) String() string {
	return fmt.Sprintf("%d values prove something: %d published, %d quoted, %d computed from a published law by "+
		"another method. "+
		"Measured: %d inside the model's band, %d outside (known, with reason), %d for context only. "+
		"Apart, as they prove nothing: %d look-ups of tables of ours, %d definitions, %d from common practice, %d from "+
		"memory, %d demo. "+
		"Faults: %d.",
		t.proofs(), t.proof[known.Published], t.proof[known.Quoted], t.proof[known.Computed], t.inside, t.outside, t.context,
		t.lookups, t.apart[known.Definition], t.apart[known.CommonPractice], t.apart[known.Memory], t.apart[known.Demo],
		t.faults)
}

// table prints the counts of every package.
func table(w io.Writer, counts []tally, total *tally) error {
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tw, strings.Join([]string{"", "published", "quoted", "computed", "measured: inside", "outside, known",
		"context",
		"look-ups of own tables", "definition", "common practice", "memory", "demo", "faults", ""}, "\t"))
	row := func(name string, t *tally) {
		fmt.Fprint(tw, name)
		for _, n := range []int{t.proof[known.Published], t.proof[known.Quoted], t.proof[known.Computed], t.inside,
			t.outside, t.context,
			t.lookups, t.apart[known.Definition], t.apart[known.CommonPractice], t.apart[known.Memory], t.apart[known.Demo],
			t.faults} {
			fmt.Fprintf(tw, "\t%d", n)
		}
		fmt.Fprint(tw, "\t\n")
	}
	for i, pkg := range testdata.Packages() {
		row(pkg, &counts[i])
	}
	row("all", total)
	return tw.Flush()
}

// The README holds the counts between these two lines.
const before, after = "<!-- counts of examples/validate -->\n", "<!-- end of counts -->\n"

// readme returns what stands between the lines.
func (t *tally) readme() string {
	const most = 116
	s, _, _ := strings.Cut(t.String(), " Faults:") // a README that ships has none
	var b strings.Builder
	n := 0
	for _, word := range strings.Fields(s) {
		switch l := len([]rune(word)); {
		case n == 0:
			n = l
		case n+1+l > most:
			b.WriteByte('\n')
			n = l
		default:
			b.WriteByte(' ')
			n += 1 + l
		}
		b.WriteString(word)
	}
	b.WriteByte('\n')
	return b.String()
}

// quoted returns the counts that the text of a README quotes, and the text
// before and after them.
func quoted(text string) (head, counts, tail string, err error) {
	head, rest, ok := strings.Cut(text, before)
	counts, tail, ok2 := strings.Cut(rest, after)
	if !ok || !ok2 {
		return "", "", "", fmt.Errorf("no lines %q and %q", before, after)
	}
	return head + before, counts, after + tail, nil
}

// count counts the rows of all packages.
func count() (tally, error) {
	var t tally
	list := registry.All()
	for _, pkg := range testdata.Packages() {
		out, err := evaluate(pkg, list)
		if err != nil {
			return t, err
		}
		for i := range out {
			t.add(&out[i])
		}
	}
	return t, nil
}

// quote writes the counts into the README of that name.
func quote(name string) error {
	t, err := count()
	if err != nil {
		return err
	}
	b, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	head, _, tail, err := quoted(string(b))
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	_, err = outfile.Write(name, []byte(head+t.readme()+tail))
	return err
}
