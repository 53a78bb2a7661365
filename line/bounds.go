package line

import (
	"strconv"

	"example.org/pithball/internal/plain"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Bounds of what a description may say: far beyond every plant, so that a slip of the
// pen is told and no power or sum of squares leaves the range of a float64.
const (
	leastSpread   = 1e-12 // C/m²: 6 electrons on a square millimetre
	mostCharge    = 1e-2  // C/m²: a hundred times what any gas leaves on a face
	leastLimit    = 1e-10 // C/m²
	mostVolts     = 10e6  // V
	mostResistive = 1e24  // Ω·m
	leastLeak     = 1e-9  // s
	mostLeak      = 1e12  // s: 30,000 years
	mostFarad     = 1e-3  // F
	mostIons      = 1e-3  // S/m, of air: a billion times that of a strong ioniser
	mostSupply    = 10    // A/m
)

// orZero is known.InRange where 0 stands for "not stated" or "none".
func orZero[T ~float64](field string, v, lo, hi T) error {
	if v == 0 {
		return nil
	}
	return known.InRange(field, v, lo, hi)
}

// banded checks a band, its value and that 5 … 95 % of it stay within the same range.
func banded(field string, b known.Band, lo, hi float64) error { // [see b]
	if err := b.Check(field); err != nil {
		return err
	}
	if err := known.InRange(field+".value", units.Ratio(b.Value), units.Ratio(lo), units.Ratio(hi)); err != nil {
		return err
	}
	if top := hi - lo; b.Spread > top {
		return known.Wrong(field+".spread", b.Spread, "at most "+strconv.FormatFloat(top, 'g', -1, 64))
	}
	return nil
}

// oneLine refuses text that could print a line of its own.
func oneLine(field, s string) error {
	if f := plain.Fault(s); f != "" {
		return known.Wrong(field, strconv.Quote(s), "plain text in one line, without "+f)
	}
	return nil
}

// checkTexts checks every text of the description.
func (d *Description) checkTexts(add func(error)) {
	add(oneLine("name", d.Name))
	add(oneLine("note", d.Note))
	for i := range d.Meters {
		add(oneLine("meters["+strconv.Itoa(i)+"].name", d.Meters[i].Name))
	}
	for i := range d.Stations {
		add(oneLine("stations["+strconv.Itoa(i)+"].name", d.Stations[i].Name))
	}
}
