package decaytest_test

import (
	"fmt"
	"strings"
	"testing"

	"example.org/pithball/decay/decaytest"
	"example.org/pithball/decay/sheet"
	"example.org/pithball/units"
)

func TestChargeMaps(t *testing.T) { decaytest.RunSheet(t, decaytest.ChargeMaps) }

func sheetProblems(t testing.TB) []decaytest.SheetInput {
	var in []decaytest.SheetInput
	for i, spec := range []sheet.SheetSpec{
		{Support: sheet.FreeSpan, RelativePermittivity: 2, SurfaceResistivity: 1e12},
		{Thickness: 50 * units.Micrometre, RelativePermittivity: 2, SurfaceResistivity: 1e11, VolumeResistivity: 1e13},
	} {
		s, err := sheet.NewSheet(spec)
		if err != nil {
			t.Fatal(err)
		}
		v := make([]float64, 64)
		for j := range v {
			v[j] = float64((j*j)%13)/13 - 0.2
		}
		in = append(in, decaytest.SheetInput{Spec: sheet.MapSpec{Charge: v, Rows: 1 + 3*i, Pixel: units.Millimetre, Law: s},
			T: 0.2, DT: 0.3, Shift: 5, Waves: 3})
	}
	return in
}

// Every statement fails for the evolver that breaks it, and holds for ours.
func TestSheetLawsBite(t *testing.T) {
	in := sheetProblems(t)
	if err := decaytest.CheckSheet(decaytest.ChargeMaps, in...); err != nil {
		t.Error(err)
	}
	broken := decaytest.BrokenSheets()
	if len(broken) != len(decaytest.SheetLaws()) {
		t.Errorf("%d statements, %d broken evolvers", len(decaytest.SheetLaws()), len(broken))
	}
	for _, s := range decaytest.SheetLaws() {
		n := broken[s.Name]
		if n == nil {
			t.Errorf("no broken evolver for %q", s.Name)
			continue
		}
		bites := false
		for _, x := range in {
			if err := s.Check(n, x); err != nil && strings.HasPrefix(err.Error(), s.Name) {
				bites = true
			}
		}
		if !bites {
			t.Errorf("%s: the broken evolver passed", s.Name)
		}
	}
}

// An evolver of one's own, checked at one problem without a test engine.
func ExampleCheckSheet() {
	free, err := sheet.NewSheet(sheet.SheetSpec{Support: sheet.FreeSpan, RelativePermittivity: 1, SurfaceResistivity: 1e12})
	if err != nil {
		fmt.Println(err)
		return
	}
	spec := sheet.MapSpec{Charge: []float64{1, 0, 0, 0, 0, 0, 0, 0}, Pixel: 10 * units.Millimetre, Law: free}
	in := decaytest.SheetInput{Spec: spec, T: 0.1, DT: 0.2, Shift: 3, Waves: 2}
	fmt.Println(decaytest.CheckSheet(decaytest.ChargeMaps, in))
	err = decaytest.CheckSheet(decaytest.BrokenSheets()["total"], in)
	fmt.Println(strings.Contains(err.Error(), "total:"))
	// Output:
	// <nil>
	// true
}
