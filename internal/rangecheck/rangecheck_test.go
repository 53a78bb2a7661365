package rangecheck_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/internal/rangecheck"
	"example.org/pithball/units/known"
)

// TestFaults: a range of 0 … 3 that is kept, and every way of not keeping it.
func TestFaults(t *testing.T) {
	within := func(lo, hi float64) func(v float64) error {
		return func(v float64) error { return known.InRange("x", v, lo, hi) }
	}
	in, out := []float64{0, 3}, []float64{-0.1, 3.1}
	var got []string
	field := func(of, name string, try func(v float64) error, in, out []float64) {
		got = append(got, rangecheck.Faults(of, name, try, in, out)...)
	}
	field("kept", "x", within(0, 3), in, out)
	field("wrapped", "x", func(v float64) error {
		if err := within(0, 3)(v); err != nil {
			return fmt.Errorf("while it was made: %w", errors.Join(nil, err))
		}
		return nil
	}, in, out)
	field("narrow", "x", within(0.1, 3), in, out)
	field("wide", "x", within(0, 4), in, out)
	field("other", "y", within(0, 3), in, []float64{5})
	field("both", "x", func(v float64) error { return errors.Join(within(0, 3)(v), known.Positive("z", v-1)) },
		[]float64{2}, []float64{-1})
	field("nameless", "x", func(v float64) error {
		if !(v >= 0 && v <= 3) {
			return errors.New("no")
		}
		return nil
	}, in, []float64{4})
	field("infinite", "x", func(v float64) error {
		if math.IsInf(v, 1) {
			return nil
		}
		return within(0, 3)(v)
	}, in, nil)
	want := []string{
		"narrow: x 0: refused: x: 0: want 0.1 … 3",
		"wide: x 3.1: taken",
		"other: y NaN: the error names x", "other: y +Inf: the error names x", "other: y -Inf: the error names x",
		"other: y 5: the error names x",
		"both: x NaN: the error names z", "both: x +Inf: the error names z", "both: x -Inf: the error names z",
		"both: x -1: the error names z",
		"nameless: x NaN: the error names no field: no", "nameless: x +Inf: the error names no field: no",
		"nameless: x -Inf: the error names no field: no", "nameless: x 4: the error names no field: no",
		"infinite: x +Inf: taken",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
