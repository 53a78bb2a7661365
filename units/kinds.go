package units

import (
	"slices"
	"sync"
)

// unit is one accepted unit of a kind. A number x in the unit is
// (x + off/100)·num/den·10^exp in SI, with exact integers, so that the value is
// known exactly and rounded once.
type unit struct {
	symbol   string   // as pithball prints it
	also     []string // other accepted spellings; "ucum:…" marks the UCUM code
	num, den uint64   // without common factor
	exp      int
	off      int64 // hundredths of the unit, temperatures only
	print    bool  // candidate of String, decimal units only
	ref      GasReference
}

// decimal reports whether the unit is a power of ten of the SI unit.
func (u *unit) decimal() bool { return u.num == 1 && u.den == 1 && u.off == 0 }

// kind is one kind of quantity with its closed table of units.
type kind struct {
	name  string // "length"
	si    string // symbol of the SI unit
	units []unit
	build func() []unit // makes units at the first use, for a long table
	// shown is tried first by String: the unit people read, where it is no
	// power of ten of the SI unit.
	shown string
	// metric and us are the units of reports, see [ShopUnit].
	metric, us string
	hints      []hint

	once  sync.Once // of link
	index map[string]*unit
	show  *unit
}

// hint answers spellings that are refused for a reason. The tables hold slices and no maps, so that they lie ready in
// the program and nothing is built when it starts.
type hint struct {
	why       string
	spellings []string
}

// refuse makes a hint.
func refuse(why string, spellings ...string) hint { return hint{why, spellings} }

// hint is why a spelling is refused, if the table knows it.
func (k *kind) hint(spelling string) (why string, known bool) {
	for i := range k.hints {
		if slices.Contains(k.hints[i].spellings, spelling) {
			return k.hints[i].why, true
		}
	}
	return "", false
}

// eng builds a printable unit: symbol for 10^exp SI.
func eng(exp int, symbol string, also ...string) unit {
	return unit{symbol: symbol, also: also, num: 1, den: 1, exp: exp, print: true}
}

// dec is eng for a decimal unit that is read but not printed.
func dec(exp int, symbol string, also ...string) unit {
	return unit{symbol: symbol, also: also, num: 1, den: 1, exp: exp}
}

// ratio builds a unit of num/den SI, read but not printed.
func ratio(num, den uint64, symbol string, also ...string) unit {
	return ratioExp(num, den, 0, symbol, also...)
}

// ratioExp builds a unit of num/den·10^exp SI, read but not printed.
func ratioExp(num, den uint64, exp int, symbol string, also ...string) unit {
	return unit{symbol: symbol, also: also, num: num, den: den, exp: exp}
}

// affine builds a temperature unit: SI = (x + off/100)·num/den.
func affine(num, den uint64, off int64, symbol string, also ...string) unit {
	return unit{symbol: symbol, also: also, num: num, den: den, off: off}
}
