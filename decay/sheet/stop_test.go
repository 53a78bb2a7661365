package sheet_test

import (
	"context"
	"errors"
	"testing"

	"example.org/pithball/decay/sheet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// ticking is a context that ends when it has been asked n times, so that the end falls amid the work.
type ticking struct {
	context.Context
	n *int
}

func (c ticking) Err() error {
	if *c.n--; *c.n < 0 {
		return context.Canceled
	}
	return nil
}

// TestAntistatStops: wherever the end falls, the error is that of the context and the answer is none.
func TestAntistatStops(t *testing.T) {
	spec := sheet.AntistatSpec{Span: sheet.FreeSpanSpec{Length: 1, Speed: 5, InletRadius: 0.05, OutletRadius: 0.05,
		ContactGap: 2 * units.Micrometre}, Resistivity: known.Band{Value: 1e10}, Enough: 0.5}
	for n := range 4 {
		left := n
		a, err := sheet.AntistatOnSpanContext(ticking{t.Context(), &left}, spec)
		if !errors.Is(err, context.Canceled) || a.Left != 0 {
			t.Fatalf("after %d: %v, %v", n, a, err)
		}
	}
}
