package units

import "math/bits"

// nat is a natural number in a fixed array, least word first. 40 words hold
// the widest case: 64 digits, a factor of 64 bits, 10^(maxExp+maxNumber+30) and
// the 64 bits of a shift, or 2^1074 times the same factors.
type nat struct {
	w [40]uint64
	n int // words in use; the last is not 0
}

func (a *nat) set(x uint64) {
	a.n = 0
	if x != 0 {
		a.w[0] = x
		a.n = 1
	}
}

// setDigits sets a to the decimal digits of s, skipping anything else.
func (a *nat) setDigits(s string) {
	a.n = 0
	var chunk, scale uint64 = 0, 1
	for i := 0; i < len(s); i++ {
		if c := s[i] - '0'; c <= 9 {
			chunk, scale = chunk*10+uint64(c), scale*10
			if scale == 1e19 {
				a.mulAdd(scale, chunk)
				chunk, scale = 0, 1
			}
		}
	}
	a.mulAdd(scale, chunk)
}

// mulAdd sets a to a·x + y.
func (a *nat) mulAdd(x, y uint64) {
	c := y
	for i := 0; i < a.n; i++ {
		hi, lo := bits.Mul64(a.w[i], x)
		var k uint64
		a.w[i], k = bits.Add64(lo, c, 0)
		c = hi + k
	}
	if c != 0 {
		a.w[a.n] = c
		a.n++
	}
}

func (a *nat) mul(x uint64) { a.mulAdd(x, 0) }

func (a *nat) mulPow10(e int) {
	for ; e >= 19; e -= 19 {
		a.mul(1e19)
	}
	if e > 0 {
		a.mul(pow10u[e])
	}
}

func (a *nat) add(b *nat) {
	var c uint64
	n := max(a.n, b.n)
	for i := range n {
		var x, y uint64
		if i < a.n {
			x = a.w[i]
		}
		if i < b.n {
			y = b.w[i]
		}
		a.w[i], c = bits.Add64(x, y, c)
	}
	if a.n = n; c != 0 {
		a.w[n] = c
		a.n++
	}
}

// sub sets a to a − b; b is not greater.
func (a *nat) sub(b *nat) {
	var c uint64
	for i := range a.n {
		var y uint64
		if i < b.n {
			y = b.w[i]
		}
		a.w[i], c = bits.Sub64(a.w[i], y, c)
	}
	for a.n > 0 && a.w[a.n-1] == 0 {
		a.n--
	}
}

func (a *nat) cmp(b *nat) int {
	if a.n != b.n {
		return a.n - b.n
	}
	for i := a.n - 1; i >= 0; i-- {
		if a.w[i] > b.w[i] {
			return 1
		} else if a.w[i] < b.w[i] {
			return -1
		}
	}
	return 0
}

func (a *nat) bitLen() int {
	if a.n == 0 {
		return 0
	}
	return 64*(a.n-1) + bits.Len64(a.w[a.n-1])
}

func (a *nat) shl(s uint) {
	if a.n == 0 || s == 0 {
		return
	}
	words, s := int(s/64), s%64
	if s != 0 {
		var c uint64
		for i := range a.n {
			a.w[i], c = a.w[i]<<s|c, a.w[i]>>(64-s)
		}
		if c != 0 {
			a.w[a.n] = c
			a.n++
		}
	}
	if words > 0 {
		copy(a.w[words:words+a.n], a.w[:a.n])
		clear(a.w[:words])
		a.n += words
	}
}

// quotient returns ±a/b rounded once to nearest even, and spoils both. Neither
// is 0. It scales the pair so that the quotient has 63 or 64 bits, divides by
// Knuth's algorithm D for that one digit (The Art of Computer Programming 2,
// 4.3.1) and keeps "the remainder is not 0" for the rounding.
func (a *nat) quotient(b *nat, neg bool) float64 {
	shift := b.bitLen() + 63 - a.bitLen()
	if shift >= 0 {
		a.shl(uint(shift))
	} else {
		b.shl(uint(-shift))
	}
	if up := uint(bits.LeadingZeros64(b.w[b.n-1])); up > 0 {
		a.shl(up)
		b.shl(up)
	}
	// Now 2^62 < a/b < 2^64 and b's leading bit is set.
	n := b.n
	for i := a.n; i <= n; i++ {
		a.w[i] = 0
	}
	top := b.w[n-1]
	var q uint64
	if a.w[n] >= top {
		q = 1<<64 - 1
	} else {
		q, _ = bits.Div64(a.w[n], a.w[n-1], top)
	}
	var carry, borrow uint64
	for i := range n {
		hi, lo := bits.Mul64(q, b.w[i])
		var k uint64
		lo, k = bits.Add64(lo, carry, 0)
		carry = hi + k
		a.w[i], borrow = bits.Sub64(a.w[i], lo, borrow)
	}
	a.w[n], borrow = bits.Sub64(a.w[n], carry, borrow)
	for borrow != 0 { // at most twice: the estimate is never too small
		q--
		var k uint64
		for i := range n {
			a.w[i], k = bits.Add64(a.w[i], b.w[i], k)
		}
		a.w[n], k = bits.Add64(a.w[n], 0, k)
		borrow -= k
	}
	sticky := false
	for i := range n {
		if a.w[i] != 0 {
			sticky = true
			break
		}
	}
	return roundTo(neg, q, sticky, -shift)
}
