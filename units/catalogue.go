package units

// Kind describes one quantity type and its closed table of units.
type Kind struct {
	Type   string // Go type, "Length"
	Name   string // in words, "length"
	SI     string // symbol of the SI unit in which the number is held
	Metric string // unit of metric reports, see [ShopUnit]
	US     string // unit of inch-pound reports
	Units  []Unit // in the order of the registry's choices
}

// Unit is one accepted unit. A number x in it is, exactly,
// (x + Offset/100)·Num/Den·10^Exp in SI.
type Unit struct {
	Symbol    string       // as String writes it where Printed is set
	Also      []string     // other spellings, without the variants read alike
	UCUM      string       // UCUM code, "" if UCUM has none
	Num       uint64       // numerator of the factor, without common divisor
	Den       uint64       // denominator of the factor
	Exp       int          // power of ten of the factor
	Offset    int64        // in hundredths of the unit; temperatures only
	Printed   bool         // whether String may choose it
	Reference GasReference `json:",omitzero"` // state that a unit of [StandardFlow] names, else 0
}

// Catalogue returns the whole table of accepted units, one entry a type, for
// lists in documents and for checks against other unit systems. The caller owns
// the result.
func Catalogue() []Kind {
	out := make([]Kind, len(allKinds))
	for i, k := range allKinds {
		out[i] = Kind{Type: typeNames[i], Name: k.name, SI: k.si, Metric: k.metric, US: k.us}
		k.link()
		for j := range k.units {
			u := &k.units[j]
			out[i].Units = append(out[i].Units, Unit{
				Symbol: u.symbol, Also: u.spellings(), UCUM: u.ucum(),
				Num: u.num, Den: u.den, Exp: u.exp, Offset: u.off,
				Printed: u.print || u == k.show, Reference: u.ref,
			})
		}
	}
	return out
}
