package units

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
	"unsafe"
)

// ParseError says what could not be read as a quantity.
type ParseError struct {
	Kind  string   // kind of quantity wanted, "length"
	Input string   // the text as given
	Valid []string // accepted spellings, the nearest first
	Why   string   // what is wrong with the text
}

// Error returns the kind, the input, what is wrong and the nearest spellings.
func (e *ParseError) Error() string {
	s := e.Kind + " " + strconv.Quote(e.Input) + ": " + e.Why
	if len(e.Valid) > 0 {
		s += "; accepted units: " + strings.Join(e.Valid, ", ")
	}
	return s
}

// Parse reads a number with its unit, "25.4 mm" or "220 m/min": decimal digits
// with an optional sign, point and exponent, optional spaces, then one spelling
// from the closed table of the type. Errors are [*ParseError].
func Parse[T Quantity](s string) (T, error) {
	var z T
	v, err := parse(s, z.kind())
	return T(v), err
}

// Spellings returns the accepted spellings of a quantity type, the printed ones
// first.
func Spellings[T Quantity]() []string {
	var z T
	return z.kind().spellings()
}

func (k *kind) spellings() []string {
	var first, then []string
	for _, u := range k.units {
		if u.print {
			first = append(first, u.symbol)
		} else {
			then = append(then, u.symbol)
		}
		then = append(then, u.also...)
	}
	return append(first, then...)
}

var index = func() map[*kind]map[string]*unit {
	m := map[*kind]map[string]*unit{}
	for _, k := range allKinds {
		t := map[string]*unit{}
		for i := range k.units {
			u := &k.units[i]
			for _, s := range append([]string{u.symbol}, u.also...) {
				for _, v := range variants(s) {
					t[v] = u
				}
			}
		}
		m[k] = t
	}
	return m
}()

// variants writes µ as either micro sign or u, and Ω as either ohm sign.
func variants(s string) []string {
	out := []string{s}
	if strings.Contains(s, "µ") {
		out = append(out, strings.ReplaceAll(s, "µ", "μ"), strings.ReplaceAll(s, "µ", "u"))
	}
	if strings.Contains(s, "Ω") {
		for _, v := range slices.Clone(out) {
			out = append(out, strings.ReplaceAll(v, "Ω", "\u2126"))
		}
	}
	return out
}

// number splits s after the longest plain decimal number at its start.
func number(s string) (mant, exp, rest string) {
	i := 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	digits := 0
	for ; i < len(s) && (s[i] >= '0' && s[i] <= '9' || s[i] == '.'); i++ {
		if s[i] != '.' {
			digits++
		}
	}
	if digits == 0 {
		return "", "", s
	}
	mant = s[:i]
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		k := j
		for k < len(s) && s[k] >= '0' && s[k] <= '9' {
			k++
		}
		if k > j {
			return mant, s[i+1 : k], s[k:]
		}
	}
	return mant, "", s[i:]
}

func parse(s string, k *kind) (float64, error) {
	fail := func(why string, near string) (float64, error) {
		e := &ParseError{Kind: k.name, Input: strings.Clone(s), Why: why}
		if near != "" || why == "no unit" {
			e.Valid = nearest(near, k.spellings())
		}
		return 0, e
	}
	t := strings.Trim(s, " \t")
	mant, exp, rest := number(t)
	if mant == "" {
		return fail("no number", "")
	}
	symbol := strings.TrimLeft(rest, " \t")
	u, ok := index[k][symbol]
	if !ok {
		if symbol == "" {
			return fail("no unit", "")
		}
		return fail("unknown unit "+strconv.Quote(symbol), symbol)
	}
	e := 0
	if exp != "" {
		var err error
		if e, err = strconv.Atoi(exp); err != nil || e > 400 || e < -400 {
			return fail("exponent out of range", "")
		}
	}
	if u.off == 0 && (u.exp != 0 || u.num == 1 && u.den == 1) {
		e += u.exp
		var buf [64]byte
		b := append(buf[:0], mant...)
		b = append(b, 'e')
		b = strconv.AppendInt(b, int64(e), 10)
		v, err := strconv.ParseFloat(unsafe.String(&b[0], len(b)), 64)
		if err != nil {
			return fail("number out of range", "")
		}
		return v, nil
	}
	v, err := strconv.ParseFloat(t[:len(t)-len(rest)], 64)
	if err != nil {
		return fail("number out of range", "")
	}
	v = v*u.num/u.den + u.off
	if math.IsInf(v, 0) {
		return fail("number out of range", "")
	}
	return v, nil
}

// nearest orders the spellings by edit distance to s, the best eight.
func nearest(s string, all []string) []string {
	out := slices.Clone(all)
	if s != "" {
		slices.SortStableFunc(out, func(a, b string) int { return distance(s, a) - distance(s, b) })
	}
	return out[:min(len(out), 8)]
}

func distance(a, b string) int {
	x, y := []rune(strings.ToLower(a)), []rune(strings.ToLower(b))
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		diag := row[0]
		row[0] = i + 1
		for j := range y {
			d := diag
			if x[i] != y[j] {
				d = 1 + min(diag, row[j], row[j+1])
			}
			diag, row[j+1] = row[j+1], d
		}
	}
	return row[len(y)]
}

func str(v float64, k *kind) string {
	b, err := appendText(make([]byte, 0, 32), v, k)
	if err != nil {
		return strconv.FormatFloat(v, 'g', -1, 64) + " " + k.si
	}
	return string(b)
}

type notFinite string

func (e notFinite) Error() string { return "a " + string(e) + " that is not finite has no text" }

// appendText writes the shortest digits that parse back to v, with the printable
// unit that leaves 1 to 999 before the point.
func appendText(b []byte, v float64, k *kind) ([]byte, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return b, notFinite(k.name)
	}
	var buf [32]byte
	d := strconv.AppendFloat(buf[:0], v, 'e', -1, 64) // d.ddde±xx
	neg := d[0] == '-'
	if neg {
		d = d[1:]
	}
	ei := slices.Index(d, 'e')
	exp, _ := strconv.Atoi(string(d[ei+1:]))
	digits := append(d[:1:1], d[min(2, ei):ei]...)
	// Leading digit stands for 10^exp.
	var best *unit
	for i := range k.units {
		u := &k.units[i]
		if !u.print {
			continue
		}
		if v == 0 {
			if best == nil || abs(u.exp) < abs(best.exp) {
				best = u
			}
			continue
		}
		if best == nil || better(exp-u.exp, exp-best.exp) {
			best = u
		}
	}
	if best == nil {
		best = &k.units[0]
	}
	if neg {
		b = append(b, '-')
	}
	shift := exp - best.exp // power of ten of the leading digit in the printed unit
	switch {
	case v == 0:
		b = append(b, '0')
	case shift < -4 || shift > 5:
		b = append(b, digits[0])
		if len(digits) > 1 {
			b = append(b, '.')
			b = append(b, digits[1:]...)
		}
		b = append(b, 'e')
		b = strconv.AppendInt(b, int64(shift), 10)
	case shift < 0:
		b = append(b, '0', '.')
		for i := -1; i > shift; i-- {
			b = append(b, '0')
		}
		b = append(b, digits...)
	default:
		for i := range max(len(digits), shift+1) {
			if i == shift+1 {
				b = append(b, '.')
			}
			if i < len(digits) {
				b = append(b, digits[i])
			} else {
				b = append(b, '0')
			}
		}
	}
	if best.symbol == "" {
		return b, nil
	}
	if r, _ := utf8.DecodeRuneInString(best.symbol); r != '%' && r != '°' {
		b = append(b, ' ')
	}
	return append(b, best.symbol...), nil
}

// better reports whether leading-digit power p is nicer than q: 0, 1 or 2 wins,
// else the one nearer to that window.
func better(p, q int) bool {
	return window(p) < window(q)
}

func window(p int) int {
	switch {
	case p < 0:
		return -p
	case p > 2:
		return p - 2
	}
	return 0
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

func unmarshal[T Quantity](q *T, b []byte) error {
	v, err := parse(string(b), (*q).kind())
	if err != nil {
		return err
	}
	*q = T(v)
	return nil
}
