package units

import (
	"math"
	"math/bits"
	"strconv"
	"unsafe"
)

// Every conversion here is exact integer arithmetic rounded once, to nearest
// even. Two paths give the same bits: 128-bit integers where they suffice, and
// fixed arrays for the rest. Neither allocates.

// maxDigits and maxNumber bound what the arrays must hold.
const (
	maxDigits = 64  // significant digits of a number
	maxNumber = 128 // bytes of a number's digits
	maxExp    = 400 // magnitude of a written exponent
)

// scanned is a decimal number taken apart: ±m·10^exp, with m overflowed if
// there are more than 19 significant digits.
type scanned struct {
	neg    bool
	m      uint64
	digits int    // significant digits, 0 for zero
	exp    int    // power of ten of the last digit
	text   string // digits and point
}

var pow10u = [...]uint64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
	1e17, 1e18, 1e19}

var pow10f = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
	1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// toSI returns the number in unit u as SI, correctly rounded; ±Inf when it
// overflows, and an unsigned or signed zero when it underflows.
func toSI(d *scanned, u *unit) float64 {
	neg, m, e := d.neg, d.m, d.exp
	if d.digits > 19 {
		return toSIBig(d, u)
	}
	if u.off != 0 {
		var ok bool
		if neg, m, e, ok = addOffset(neg, m, e, u.off); !ok {
			return toSIBig(d, u)
		}
	}
	if m == 0 {
		return signed(neg, 0)
	}
	e += u.exp
	if u.num == 1 && u.den == 1 {
		if m < 1<<53 && e >= -22 && e <= 22 { // both exact: one rounding
			if e < 0 {
				return signed(neg, float64(m)/pow10f[-e])
			}
			return signed(neg, float64(m)*pow10f[e])
		}
		var buf [32]byte
		b := strconv.AppendUint(buf[:0], m, 10)
		b = append(b, 'e')
		b = strconv.AppendInt(b, int64(e), 10)
		v, _ := strconv.ParseFloat(unsafe.String(&b[0], len(b)), 64) // ±Inf on overflow
		return signed(neg, v)
	}
	hi, lo := bits.Mul64(m, u.num)
	den, ok := u.den, true
	switch {
	case e > 0 && e < len(pow10u):
		var over, h, c uint64
		over, h = bits.Mul64(hi, pow10u[e])
		hi, lo = bits.Mul64(lo, pow10u[e])
		hi, c = bits.Add64(hi, h, 0)
		ok = over == 0 && c == 0
	case e < 0 && -e < len(pow10u):
		var over uint64
		over, den = bits.Mul64(den, pow10u[-e])
		ok = over == 0
	case e != 0:
		ok = false
	}
	if !ok {
		return toSIBig(d, u)
	}
	return quotient(neg, hi, lo, den)
}

// addOffset returns ±m·10^e + off/100 when it fits.
func addOffset(neg bool, m uint64, e int, off int64) (bool, uint64, int, bool) {
	const room = 1 << 62
	b := uint64(off)
	switch {
	case m == 0:
		return false, b, -2, true
	case e >= -2:
		if e+2 >= len(pow10u) {
			return false, 0, 0, false
		}
		h, l := bits.Mul64(m, pow10u[e+2])
		if h != 0 || l >= room {
			return false, 0, 0, false
		}
		m, e = l, -2
	default:
		if -2-e >= len(pow10u) || m >= room {
			return false, 0, 0, false
		}
		h, l := bits.Mul64(b, pow10u[-2-e])
		if h != 0 || l >= room {
			return false, 0, 0, false
		}
		b = l
	}
	s := int64(m)
	if neg {
		s = -s
	}
	if s += int64(b); s < 0 {
		return true, uint64(-s), e, true
	}
	return false, uint64(s), e, true
}

func signed(neg bool, v float64) float64 {
	if neg {
		return -v
	}
	return v
}

// quotient returns ±(hi·2^64 + lo)/den rounded once; the numerator is not 0.
func quotient(neg bool, hi, lo, den uint64) float64 {
	if hi == 0 && lo == 0 {
		return signed(neg, 0)
	}
	shift := bits.LeadingZeros64(hi)
	if hi == 0 {
		shift = 64 + bits.LeadingZeros64(lo)
		hi, lo = lo<<(shift-64), 0
	} else if shift > 0 {
		hi, lo = hi<<shift|lo>>(64-shift), lo<<shift
	}
	up := bits.LeadingZeros64(den)
	den <<= up
	e := up - shift
	sticky := false
	if hi >= den {
		sticky = lo&1 != 0
		hi, lo = hi>>1, lo>>1|hi<<63
		e++
	}
	q, r := bits.Div64(hi, lo, den)
	return roundTo(neg, q, sticky || r != 0, e)
}

// roundTo returns ±(q + part)·2^e rounded to nearest even, where part lies
// strictly between 0 and 1 if sticky, else is 0. q must be at least 2^54.
func roundTo(neg bool, q uint64, sticky bool, e int) float64 {
	z := bits.LeadingZeros64(q)
	q <<= z
	e += 63 - z // power of two of the leading bit
	drop := 11
	if e < -1022 {
		drop += -1022 - e
	}
	var m uint64
	switch {
	case drop > 64:
	case drop == 64:
		if q > 1<<63 || q == 1<<63 && sticky {
			m = 1
		}
	default:
		m = q >> drop
		rest, half := q&(1<<drop-1), uint64(1)<<(drop-1)
		if rest > half || rest == half && (sticky || m&1 != 0) {
			m++
		}
	}
	if e >= -1022 { // m has its leading bit at 2^52, or carried into the exponent
		if e > 1023 {
			return signed(neg, math.Inf(1))
		}
		m += uint64(e+1022) << 52
	}
	return signed(neg, math.Float64frombits(m)) // a carry beyond the last exponent is Inf
}

// toSIBig is toSI for any number that scan lets pass.
func toSIBig(d *scanned, u *unit) float64 {
	var n, den nat
	if d.digits > 19 {
		n.setDigits(d.text)
	} else {
		n.set(d.m)
	}
	e, neg := d.exp, d.neg
	if u.off != 0 {
		var off nat
		off.set(uint64(u.off))
		if e > -2 {
			n.mulPow10(e + 2)
			e = -2
		} else {
			off.mulPow10(-2 - e)
		}
		if !neg {
			n.add(&off)
		} else if n.cmp(&off) > 0 {
			n.sub(&off)
		} else {
			off.sub(&n)
			n, neg = off, false
		}
	}
	if n.n == 0 {
		return signed(neg, 0)
	}
	n.mul(u.num)
	den.set(u.den)
	if e += u.exp; e > 0 {
		n.mulPow10(e)
	} else {
		den.mulPow10(-e)
	}
	return n.quotient(&den, neg)
}

// fromSI returns the SI value v as a number in unit u, correctly rounded. NaN
// and Inf stay what they are.
func fromSI(v float64, u *unit) float64 {
	if v == 0 && u.off == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return v
	}
	if u.num == 1 && u.den == 1 && u.exp == 0 && u.off == 0 {
		return v
	}
	frac, k := math.Frexp(math.Abs(v))
	var n, den nat
	n.set(uint64(frac * (1 << 53)))
	k -= 53
	n.mul(u.den)
	den.set(u.num)
	if u.exp < 0 {
		n.mulPow10(-u.exp)
	} else {
		den.mulPow10(u.exp)
	}
	if k > 0 {
		n.shl(uint(k))
	} else {
		den.shl(uint(-k))
	}
	neg := v < 0
	if u.off != 0 { // n/den − off/100 = (100·n − off·den)/(100·den)
		off := den
		off.mul(uint64(u.off))
		n.mul(100)
		den.mul(100)
		switch {
		case neg:
			n.add(&off)
		case n.cmp(&off) >= 0:
			n.sub(&off)
		default:
			off.sub(&n)
			n, neg = off, true
		}
		if n.n == 0 {
			return 0
		}
	}
	return n.quotient(&den, neg)
}

// fromUnit returns x in unit u as SI, where x stands for its shortest decimal,
// as if it had been written down. NaN and Inf stay what they are.
func fromUnit(x float64, u *unit) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	var buf [32]byte
	t := strconv.AppendFloat(buf[:0], x, 'e', -1, 64)
	d, _, _ := scan(unsafe.String(&t[0], len(t)))
	return toSI(&d, u)
}
