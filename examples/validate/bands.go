package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"text/tabwriter"

	"example.org/pithball/testdata"
)

// band is what the measured rows of one band of a model say of it.
type band struct {
	name string // computation and the results that are the ends
	rows int    // that the model is held to
	bare int    // inside the band itself
	wide int    // inside it, widened by the stated error of the row
}

// share returns the part of the rows that lies inside the bare band.
func (b *band) share() float64 { return float64(b.bare) / float64(b.rows) } // [1]

// addBand counts a row in the band that it names. Bands that are open on one side
// and look-ups of tables of ours show nothing here.
func addBand(list []band, o *testdata.Outcome) []band {
	r := o.Row
	if !r.Gate() || r.Lookup || o.Err != nil || math.IsInf(o.Low, 0) || math.IsInf(o.High, 0) {
		return list
	}
	name := r.Compute + ", " + r.Measured.Low + " … " + r.Measured.High
	i := slices.IndexFunc(list, func(b band) bool { return b.name == name })
	if i < 0 {
		i = len(list)
		list = append(list, band{name: name})
	}
	b := &list[i]
	b.rows++
	if r.Want >= o.Low && r.Want <= o.High {
		b.bare++
	}
	if o.Inside() {
		b.wide++
	}
	return list
}

// bands prints how many of its measured rows each band holds.
func bands(w io.Writer, list []band) error {
	fmt.Fprintln(w, "\nBands of models and the measured values that they are held to; of few rows a share says little.")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "band\trows\tinside\tshare\tinside with stated errors")
	for i := range list {
		b := &list[i]
		fmt.Fprintf(t, "%s\t%d\t%d\t%.0f %%\t%d\n", b.name, b.rows, b.bare, 100*b.share(), b.wide)
	}
	return t.Flush()
}
