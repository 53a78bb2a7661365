package units

import (
	"math"
	"slices"
	"strconv"
	"unsafe"
)

// notFinite is the error for a value that has no text.
type notFinite string

func (e notFinite) Error() string { return "a " + string(e) + " that is not finite has no text" }

// str is String: the text, or for NaN and Inf the bare number with the SI unit.
func str(v float64, k *kind) string {
	var buf [48]byte
	b, err := appendText(buf[:0], v, k)
	if err != nil {
		return strconv.FormatFloat(v, 'g', -1, 64) + " " + k.si
	}
	return string(b)
}

// appendText writes the shortest digits that parse back to v, with the printable
// unit that leaves 1 to 999 before the point.
func appendText(b []byte, v float64, k *kind) ([]byte, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return b, notFinite(k.name)
	}
	k.link()
	if k.show != nil {
		if b, ok := appendShortestIn(b, v, k.show); ok {
			return appendSymbol(b, k.show.symbol), nil
		}
	}
	var buf [32]byte
	neg, digits, exp := split(strconv.AppendFloat(buf[:0], v, 'e', -1, 64))
	if neg {
		b = append(b, '-')
	}
	u := k.prefix(v, exp)
	b = appendDecimal(b, digits, exp-u.exp)
	return appendSymbol(b, u.symbol), nil
}

// split takes d.ddde±xx apart in place: sign, digits without the point, and the
// power of ten of the first.
func split(t []byte) (neg bool, digits []byte, exp int) {
	if t[0] == '-' {
		neg, t = true, t[1:]
	}
	ei := slices.Index(t, 'e')
	for _, c := range t[ei+2:] {
		exp = 10*exp + int(c-'0')
	}
	if t[ei+1] == '-' {
		exp = -exp
	}
	return neg, append(t[:1:ei], t[min(2, ei):ei]...), exp
}

// prefix chooses the printed unit for a value whose leading digit stands for
// 10^exp: the one that leaves 1 to 999; outside the prefixes the SI unit.
func (k *kind) prefix(v float64, exp int) *unit {
	var base, best *unit
	for i := range k.units {
		u := &k.units[i]
		if !u.print {
			continue
		}
		if base == nil || abs(u.exp) < abs(base.exp) {
			base = u
		}
		if best == nil || window(exp-u.exp) < window(exp-best.exp) {
			best = u
		}
	}
	if p := exp - best.exp; v == 0 || p > 2 || p < -3 {
		return base
	}
	return best
}

// window is the distance of a leading power of ten from 0, 1 or 2.
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

// appendDecimal writes digits whose first stands for 10^lead.
func appendDecimal(b, digits []byte, lead int) []byte {
	switch {
	case len(digits) == 1 && digits[0] == '0':
		return append(b, '0')
	case lead < -4 || lead > 5:
		b = append(b, digits[0])
		if len(digits) > 1 {
			b = append(b, '.')
			b = append(b, digits[1:]...)
		}
		b = append(b, 'e')
		return strconv.AppendInt(b, int64(lead), 10)
	case lead < 0:
		b = append(b, '0', '.')
		for i := -1; i > lead; i-- {
			b = append(b, '0')
		}
		return append(b, digits...)
	}
	for i := range max(len(digits), lead+1) {
		if i == lead+1 {
			b = append(b, '.')
		}
		if i < len(digits) {
			b = append(b, digits[i])
		} else {
			b = append(b, '0')
		}
	}
	return b
}

// appendSymbol writes the unit after a space, as the SI brochure asks (9th
// edition, 5.4.3), also before % and °C; only the degree of angle stands close.
func appendSymbol(b []byte, symbol string) []byte {
	if symbol == "" {
		return b
	}
	if symbol != "°" {
		b = append(b, ' ')
	}
	return append(b, symbol...)
}

// appendShortestIn writes the shortest number in unit u that parses back to the
// SI value v, if there is one of at most 17 digits and of an ordinary size.
func appendShortestIn(b []byte, v float64, u *unit) ([]byte, bool) {
	x := fromSI(v, u)
	if !(math.Abs(x) < 1e9) {
		return b, false
	}
	form := byte('e') // products: count digits
	if u.off != 0 {
		form = 'f' // sums: count decimals
	} else if v == 0 {
		return strconv.AppendFloat(b, v, 'f', 0, 64), true
	}
	var buf [48]byte
	for p := range 17 {
		t := strconv.AppendFloat(buf[:0], x, form, p, 64)
		d, _, _ := scan(unsafe.String(&t[0], len(t)))
		if d.digits > 17 {
			break
		}
		m := d.m
		for _, step := range [...]uint64{0, 1, math.MaxUint64} { // the neighbours: x is rounded itself
			d.m = m + step
			if d.m == 0 && u.off != 0 {
				d.neg = false
			}
			if math.Float64bits(toSI(&d, u)) == math.Float64bits(v) {
				if d.neg {
					b = append(b, '-')
				}
				digits := strconv.AppendUint(buf[:0], d.m, 10)
				lead := len(digits) - 1 + d.exp
				for len(digits) > 1 && digits[len(digits)-1] == '0' {
					digits = digits[:len(digits)-1]
				}
				return appendDecimal(b, digits, lead), true
			}
			if d.digits < 14 {
				break
			}
		}
	}
	return b, false
}
