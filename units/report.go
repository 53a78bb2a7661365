package units

import (
	"math"
	"strconv"

	"example.org/pithball/internal/enum"
)

// In returns the quantity as a number in the named unit, any accepted spelling
// of its type: In(30*KilovoltPerCentimetre, "kV/in") is 76.2. The exact value
// is rounded once. NaN and Inf stay what they are; an unknown unit is a
// [*ParseError] with the nearest spellings.
func In[T Quantity](q T, unit string) (float64, error) { // [unit]
	k := q.kind()
	u := k.find(trim(unit))
	if u == nil {
		return 0, k.unknown(unit, trim(unit))
	}
	return fromSI(float64(q), u), nil
}

// Of returns the quantity of x in the named unit, the inverse of [In]:
// Of[Speed](300, "m/min") is 5 m/s. It takes x as the shortest decimal that
// stands for it and rounds once, so that Of(25.4, "mm") has the bits of
// Parse("25.4 mm"), where 25.4*Millimetre may be an ulp off. NaN and Inf stay
// what they are, and overflow gives Inf.
func Of[T Quantity](x float64, unit string) (T, error) { // x [unit]
	var z T
	k := z.kind()
	u := k.find(trim(unit))
	if u == nil {
		return 0, k.unknown(unit, trim(unit))
	}
	return T(fromUnit(x, u)), nil
}

// Format returns the quantity in the named unit with that many significant
// digits (1 to 17), for reports: Format(q, "kV/in", 3) is "1.25 kV/in". It
// alters nothing: the quantity keeps all its digits. The unit is written as
// given. Below 0.0001 and from a million on the text has an exponent. NaN and
// Inf print as such; an unknown unit is a [*ParseError].
func Format[T Quantity](q T, unit string, digits int) (string, error) {
	x, err := In(q, unit)
	if err != nil {
		return "", err
	}
	var buf [64]byte
	return string(appendSymbol(appendRounded(buf[:0], x, digits), trim(unit))), nil
}

// appendRounded writes x with n significant digits, trailing zeros included.
func appendRounded(b []byte, x float64, n int) []byte {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.AppendFloat(b, x, 'g', -1, 64)
	}
	n = max(1, min(n, 17))
	var buf [32]byte
	neg, digits, exp := split(strconv.AppendFloat(buf[:0], x, 'e', n-1, 64))
	if neg {
		b = append(b, '-')
	}
	if x == 0 {
		exp = 0
		if n == 1 {
			return append(b, '0')
		}
	}
	return appendDecimal(b, digits, exp)
}

// System is a system of units of reports.
type System uint8

// The systems of [ShopUnit].
const (
	Metric System = iota // the metric units of the line: mm, m/min, kV/cm, g/m²
	US                   // inch-pound units: in, ft/min, kV/in, lb/3000 ft²
)

var systemNames = [...]string{"metric", "US"}

// String returns "metric" or "US", else "System(n)".
func (s System) String() string { return enum.Name("System", systemNames[:], s) }

// MarshalText writes "metric" or "US"; a value without one is a [*known.FieldError].
func (s System) MarshalText() ([]byte, error) { return enum.Write("system", systemNames[:], s) }

// UnmarshalText reads "metric" or "US"; anything else is a [*known.FieldError] and leaves the
// value as it was.
func (s *System) UnmarshalText(b []byte) error { return enum.Read("system", systemNames[:], b, s) }

// ShopUnit returns the unit in which a report for that system shows the type.
// Where inch-pound practice has no unit of its own both systems have one unit.
func ShopUnit[T Quantity](s System) string {
	var z T
	if k := z.kind(); s == US {
		return k.us
	} else {
		return k.metric
	}
}

// Display returns the quantity in the shop unit of the system with that many
// significant digits, see [Format].
func Display[T Quantity](q T, s System, digits int) string {
	text, err := Format(q, ShopUnit[T](s), digits)
	if err != nil {
		return err.Error() // never: a test formats every type in both units
	}
	return text
}
