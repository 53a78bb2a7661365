package sheet_test

import (
	"context"
	"errors"
	"testing"

	"example.org/pithball/decay/sheet"
	"example.org/pithball/internal/ticking"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestAntistatStops: wherever the end falls, the error is that of the context and the answer is none.
func TestAntistatStops(t *testing.T) {
	spec := sheet.AntistatSpec{Span: sheet.FreeSpanSpec{Length: 1, Speed: 5, InletRadius: 0.05, OutletRadius: 0.05,
		ContactGap: 2 * units.Micrometre}, Resistivity: known.Band{Value: 1e10}, Enough: 0.5}
	for n := range 4 {
		left := n
		a, err := sheet.AntistatOnSpanContext(ticking.Context{Context: t.Context(), Left: &left}, spec)
		if !errors.Is(err, context.Canceled) || a.Left != 0 {
			t.Fatalf("after %d: %v, %v", n, a, err)
		}
	}
}

// TestFreeSpanWebStops: the same for one span, and it asks at every row of the operator: 1,000 rows, 1,000 times.
func TestFreeSpanWebStops(t *testing.T) {
	spec := sheet.FreeSpanSpec{Length: 1, Speed: 5, InletRadius: 0.05, OutletRadius: 0.05, ContactGap: 2e-6,
		SurfaceResistivity: 1e10}
	left := 1 << 30
	if _, err := sheet.NewFreeSpanWebContext(ticking.Context{Context: t.Context(), Left: &left}, spec, nil); err != nil {
		t.Fatal(err)
	}
	asked := 1<<30 - left
	c, err := sheet.NewFreeSpanWeb(spec, nil)
	if err != nil {
		t.Fatal(err)
	}
	if rows := len(c.FromInlet(1).X); asked < rows+3 {
		t.Errorf("asked %d times in %d rows", asked, rows)
	}
	for n := 0; n < asked; n += 1 + asked/17 {
		left := n
		w, err := sheet.NewFreeSpanWebContext(ticking.Context{Context: t.Context(), Left: &left}, spec, nil)
		if !errors.Is(err, context.Canceled) || w != nil {
			t.Fatalf("after %d of %d: %v, %v", n, asked, w, err)
		}
		if left != -2 && left != -1 { // what ends does not ask on and on
			t.Errorf("after %d of %d: asked %d times more", n, asked, -left)
		}
	}
}
