package units

// unit is one accepted unit of a kind: the value in SI is x·num/den + off, with
// exact integers or exactly written decimals for num and den.
type unit struct {
	symbol string   // as pithball prints it
	also   []string // other accepted spellings
	num    float64  // exact
	den    float64  // exact
	off    float64  // added after the factor; temperatures only
	exp    int      // printed form: value in SI is x·10^exp; only where print is set
	print  bool     // candidate when printing
}

// kind is one kind of quantity with its closed table of units.
type kind struct {
	name  string // "length"
	si    string // symbol of the SI unit
	units []unit
}

// eng builds a printable unit: symbol for 10^exp SI.
func eng(exp int, symbol string, also ...string) unit {
	u := unit{symbol: symbol, also: also, num: 1, den: 1, exp: exp, print: true}
	if exp >= 0 {
		u.num = pow10(exp)
	} else {
		u.den = pow10(-exp)
	}
	return u
}

// dec is eng for a decimal unit that is read but not printed.
func dec(exp int, symbol string, also ...string) unit {
	u := eng(exp, symbol, also...)
	u.print = false
	return u
}

// ratio builds a unit of num/den SI, read but not printed.
func ratio(num, den float64, symbol string, also ...string) unit {
	return unit{symbol: symbol, also: also, num: num, den: den}
}

// affine builds a temperature unit: SI = x·num/den + off.
func affine(num, den, off float64, symbol string, also ...string) unit {
	return unit{symbol: symbol, also: also, num: num, den: den, off: off}
}

func pow10(n int) float64 {
	p := 1.0
	for ; n > 0; n-- {
		p *= 10
	}
	return p
}
