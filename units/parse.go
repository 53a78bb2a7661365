package units

import (
	"errors"
	"math"
	"strings"
	"unsafe"
)

// What is wrong with a text; errors.Is finds them in a [*ParseError].
var (
	ErrSyntax      = errors.New("not a decimal number followed by a unit") // no decimal number stands there
	ErrNoUnit      = errors.New("no unit")                                 // a number without its unit
	ErrUnknownUnit = errors.New("unknown unit")                            // the unit is not in the table of the type
	ErrRange       = errors.New("number out of range")                     // overflow, or not 0 but rounds to 0
)

// ParseError says what could not be read as a quantity.
type ParseError struct {
	Kind  string   // kind of quantity wanted, "length"
	Input string   // the text as given
	Valid []string // accepted spellings, the nearest first
	Why   string   // what is wrong with the text
	Err   error    // ErrSyntax, ErrNoUnit, ErrUnknownUnit or ErrRange
}

// Error returns the kind, the input, what is wrong and the nearest spellings.
func (e *ParseError) Error() string {
	s := e.Kind + " \"" + e.Input + "\": " + e.Why
	if len(e.Valid) > 0 {
		s += "; accepted units: " + strings.Join(e.Valid, ", ")
	}
	return s
}

// Unwrap returns Err.
func (e *ParseError) Unwrap() error { return e.Err }

// Parse reads a number with its unit, "25.4 mm" or "220 m/min": decimal digits
// with an optional sign, point and exponent, optional spaces, then one spelling
// from the closed table of the type ([Spellings], [Catalogue]). The value is
// the exact number times the exact unit, rounded once.
//
// Accepted alike are µ, μ and u; Ω, the ohm sign and Ohm or ohm; ², ³ and 2, 3;
// · and the full stop of a product; no-break and thin spaces; − and the hyphen.
//
// Refused are NaN, Inf, hexadecimal digits, underscores, a decimal comma or
// thousands separator, more than 64 significant digits, a number without its
// unit (except for [Ratio]), any unit that is not in the table, and a number
// that overflows or that is not 0 but rounds to 0. Errors are [*ParseError].
func Parse[T Quantity](s string) (T, error) {
	var z T
	v, _, err := parse(s, z.kind())
	return T(v), err
}

func unmarshal[T Quantity](q *T, b []byte) error {
	v, _, err := parse(unsafe.String(unsafe.SliceData(b), len(b)), (*q).kind())
	if err != nil {
		return err
	}
	*q = T(v)
	return nil
}

// parse keeps no part of s: unmarshal lends it bytes of the caller.
func parse(s string, k *kind) (float64, *unit, error) {
	t := trim(s)
	d, rest, why := scan(t)
	if why != "" {
		return 0, nil, k.fail(s, why, ErrSyntax)
	}
	symbol := trim(rest)
	u := k.find(symbol)
	if u == nil {
		return 0, nil, k.unknown(s, symbol)
	}
	v := toSI(&d, u)
	switch {
	case math.IsInf(v, 0):
		return 0, nil, k.fail(s, "the number is too large", ErrRange)
	case v == 0 && d.digits > 0 && u.off == 0:
		return 0, nil, k.fail(s, "the number is too small to tell from 0", ErrRange)
	}
	return v, u, nil
}

// find returns the unit of that spelling, nil if there is none.
func (k *kind) find(symbol string) *unit {
	k.link()
	if u := k.index[symbol]; u != nil {
		return u
	}
	for i := 0; i < len(symbol); i++ {
		if symbol[i] >= 0x80 {
			var buf [maxSpelling]byte
			return k.index[string(fold(buf[:0], symbol))]
		}
	}
	return nil
}

// trim cuts spaces of every kind from both ends.
func trim(s string) string {
	for len(s) > 0 {
		n := space(s)
		if n == 0 {
			break
		}
		s = s[n:]
	}
	for len(s) > 0 {
		switch c := s[len(s)-1]; {
		case c == ' ' || c == '\t':
			s = s[:len(s)-1]
		case c < 0x80:
			return s
		case strings.HasSuffix(s, "\u00a0"):
			s = s[:len(s)-2]
		case strings.HasSuffix(s, "\u202f") || strings.HasSuffix(s, "\u2009"):
			s = s[:len(s)-3]
		default:
			return s
		}
	}
	return s
}

// space returns the length of the space that s starts with, 0 for none.
func space(s string) int {
	switch c := s[0]; {
	case c == ' ' || c == '\t':
		return 1
	case c < 0x80:
		return 0
	case strings.HasPrefix(s, "\u00a0"): // no-break
		return 2
	case strings.HasPrefix(s, "\u202f") || strings.HasPrefix(s, "\u2009"): // narrow no-break, thin
		return 3
	}
	return 0
}

// scan takes the decimal number at the start of s apart and returns what
// follows it, or says what is wrong.
func scan(s string) (d scanned, rest, why string) {
	switch {
	case strings.HasPrefix(s, "-"):
		d.neg, s = true, s[1:]
	case strings.HasPrefix(s, "+"):
		s = s[1:]
	case strings.HasPrefix(s, "\u2212"): // minus sign
		d.neg, s = true, s[3:]
	}
	i, seen, point := 0, false, false
	for ; i < len(s); i++ {
		if c := s[i] - '0'; c <= 9 {
			seen = true
			if d.digits > 0 || c != 0 {
				d.m = d.m*10 + uint64(c) // overflow is told by digits
				d.digits++
			}
			if point {
				d.exp--
			}
		} else if s[i] == '.' && !point {
			point = true
		} else {
			break
		}
	}
	d.text, rest = s[:i], s[i:]
	switch {
	case !seen:
		return d, rest, noNumber(rest)
	case d.digits > maxDigits || i > maxNumber:
		return d, rest, "more than 64 digits"
	case rest == "":
		return d, rest, ""
	}
	switch rest[0] {
	case 'e', 'E':
		return d.exponent(rest)
	case ',', '\'', '_', '.', 'x', 'X':
		return d, rest, noNumber(rest)
	}
	return d, rest, ""
}

// exponent reads the exponent at the start of rest, if it is one.
func (d *scanned) exponent(rest string) (scanned, string, string) {
	j, neg, e := 1, false, 0
	if j < len(rest) && (rest[j] == '+' || rest[j] == '-') {
		neg = rest[j] == '-'
		j++
	}
	k := j
	for ; k < len(rest) && rest[k]-'0' <= 9; k++ {
		if e = e*10 + int(rest[k]-'0'); e > maxExp {
			return *d, rest, "an exponent beyond ±400"
		}
	}
	if k == j {
		return *d, rest, "" // a unit that starts with e
	}
	if neg {
		e = -e
	}
	d.exp += e
	return *d, rest[k:], ""
}

// noNumber says why s, which goes on where a digit should be, is no number.
func noNumber(s string) string {
	if s == "" {
		return "no number"
	}
	switch s[0] {
	case ',':
		return "a comma: write the decimal point as \".\" and no separator between thousands"
	case '\'', '_':
		return "a separator between digits: write them without"
	case '.':
		return "a second decimal point"
	case 'x', 'X':
		return "hexadecimal digits: write the number in decimal"
	}
	for _, w := range []string{"nan", "inf", "∞"} {
		if len(s) >= len(w) && strings.EqualFold(s[:len(w)], w) {
			return "not a finite number"
		}
	}
	return "no number"
}

func (k *kind) fail(s, why string, err error) error {
	return &ParseError{Kind: k.name, Input: strings.Clone(s), Why: why, Err: err}
}

// unknown explains a spelling that is not in the table.
func (k *kind) unknown(s, symbol string) error {
	e := &ParseError{Kind: k.name, Input: strings.Clone(s), Valid: nearest(symbol, k.spellings()), Err: ErrUnknownUnit}
	symbol = strings.Clone(symbol)
	if symbol == "" {
		e.Err = ErrNoUnit
	}
	switch hint, known := k.hint(foldString(symbol)); {
	case known:
		e.Why = hint
	case symbol == "":
		e.Why = "no unit"
	default:
		e.Why = "unknown unit \"" + symbol + "\""
		if other := elsewhere(symbol, k); other != "" {
			e.Why += ", which is a unit of " + other
		}
	}
	return e
}

// elsewhere names the first other kind that has the spelling.
func elsewhere(symbol string, not *kind) string {
	for _, k := range allKinds {
		if k != not && k.find(symbol) != nil {
			return k.name
		}
	}
	return ""
}

// nearest orders the spellings by edit distance to s, the best eight.
func nearest(s string, all []string) []string {
	type near struct {
		text string
		d    int
	}
	list := make([]near, len(all))
	for i, a := range all {
		list[i] = near{a, 0}
		if s != "" {
			list[i].d = distance(foldString(s), foldString(a))
			if strings.HasPrefix(a, s) { // begun rightly, like "scfm"
				list[i].d /= 4
			}
		}
	}
	// Insertion keeps the order of the table among equals.
	for i := 1; i < len(list); i++ {
		for j := i; j > 0 && list[j].d < list[j-1].d; j-- {
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
	out := make([]string, min(len(list), 8))
	for i := range out {
		out[i] = list[i].text
	}
	return out
}

// distance is the edit distance, a change of case counting half.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	if len(x) > 2*maxSpelling {
		x = x[:2*maxSpelling]
	}
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = 2 * j
	}
	for i := range x {
		diag := row[0]
		row[0] = 2 * (i + 1)
		for j := range y {
			d := diag
			if x[i] != y[j] {
				d += 2
				if strings.EqualFold(string(x[i]), string(y[j])) {
					d--
				}
			}
			diag, row[j+1] = row[j+1], min(d, row[j]+2, row[j+1]+2)
		}
	}
	return row[len(y)]
}
