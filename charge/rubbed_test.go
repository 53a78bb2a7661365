package charge

import (
	"math"
	"testing"

	"example.org/pithball/charge/field"
	"example.org/pithball/units"
)

// TestRubbedSheet: common practice, no source: a sheet rubbed by hand shows more than
// 12 kV on a meter at 25 mm, another value at every spot. A hand rubs a patch of
// 50 mm radius far beyond what air holds; lifted off the table the gas lets go of
// it over a millimetre, and the least of nine in ten partings still shows as much in
// front of the patch, less than half of it 50 mm beside.
func TestRubbedSheet(t *testing.T) {
	p, err := NewParting(PartingSpec{Place: FreePlace(1, units.Millimetre), Exit: units.Millimetre, Density: 1})
	if err != nil {
		t.Fatal(err)
	}
	m, err := field.NewFieldMeter(field.FieldMeterSpec{Nominal: 25 * units.Millimetre, Guarded: true,
		FullScale: 100 * units.KilovoltDisplayed})
	if err != nil {
		t.Fatal(err)
	}
	low, _ := p.LeftLimits(100*units.MicrocoulombPerSquareMetre, 0, 1, units.Time(math.Inf(1)))
	const d, r = 25 * units.Millimetre, 50 * units.Millimetre
	open := units.Length(math.Inf(1))
	before := m.DisplayAt(low, field.DiscFactor(r, d, open))
	// The straight edge of a wide sheet is the upper limit beside a round one.
	beside := m.DisplayAt(low, field.EdgeFactor(-r, d, open))
	if !(before > 12*units.KilovoltDisplayed && beside < before/2) {
		t.Errorf("before the patch %v, beside it %v: want more than 12 kV and less than half of it", before, beside)
	}
}
