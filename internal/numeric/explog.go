package numeric

import "math"

// Exp and Log below are the exponential and the natural logarithm to about one
// unit in the last place of the result (Log: of max(1, |result|)), by table and
// short polynomial, two to three times as fast as package math. Laws of decay and
// their fits spend nearly all of their time in them. Exp gives the same bits with and
// without fused multiplications, on amd64 and as WebAssembly, which math.Exp does not: see
// special.go.
//
// Method: argument reduction by 1/128 of an octave, as in P. T. P. Tang, ACM Trans.
// Math. Softw. 15 (1989) 144 (exp) and 16 (1990) 378 (log).

const tableBits = 7

const (
	// ln 2/128 in two parts: the first has so many zeros at its end that its
	// product with a whole number below 2^18 is exact.
	ln2N   = math.Ln2 / (1 << tableBits)
	ln2Hi  = 6.93147180369123816490e-01 // ln 2 to 33 bits
	ln2Lo  = 1.90821492927058770002e-10
	shift  = 0x1.8p52 // x + shift − shift rounds x to a whole number
	expMax = 709.7
	expMin = -708
)

// Exp returns e^x, +Inf above about 709.78, 0 below about −745, NaN for NaN.
func Exp(x float64) float64 { // [1]
	if !(x > expMin && x < expMax) {
		return beyond(x)
	}
	kd := float64(x*(1/ln2N)) + shift
	k := int64(math.Float64bits(kd)<<12) >> 12 // two's complement of the low bits
	kd -= shift
	r := (x - float64(kd*(ln2Hi/(1<<tableBits)))) - float64(kd*(ln2Lo/(1<<tableBits)))
	s := exp2Table[k&(1<<tableBits-1)]
	r2 := float64(r * r)
	p := r + float64(r2*(0.5+float64(r*(1.0/6)))) + float64(float64(r2*r2)*(1.0/24+float64(r*(1.0/120))))
	y := s + float64(s*p)
	// 2^(k>>7) is a normal number over the whole range.
	return y * math.Float64frombits(uint64(1023+k>>tableBits)<<52)
}

// beyond is e^x where it or a power of two in it is no ordinary number.
func beyond(x float64) float64 {
	switch {
	case x > 709.79:
		return math.Inf(1)
	case x < -746:
		return 0
	case math.IsNaN(x):
		return x
	}
	y := Exp(0.5 * x) // exact: the square has twice its error
	return y * y
}

// Log returns ln x, as math.Log does for 0, negative numbers, +Inf and NaN.
func Log(x float64) float64 { // [1]
	b := math.Float64bits(x)
	if b-0x0010000000000000 >= 0x7fe0000000000000 {
		return math.Log(x) // zero, subnormal, negative, infinite or NaN
	}
	e := int64(b>>52) - 1023
	m := math.Float64frombits(b&0x000fffffffffffff | 0x3ff0000000000000) // [1, 2)
	t := &logTable[b>>(52-tableBits)&(1<<tableBits-1)]
	r := (m - t[0]) * t[1] // the difference is exact
	r2 := r * r
	p := r + r2*(-0.5+r*(1.0/3)) + r2*r2*(-0.25+r*(1.0/5)+r2*(-1.0/6+r*(1.0/7)))
	k := float64(e)
	return k*ln2Hi + (t[2] + (p + k*ln2Lo))
}

// Log1p returns ln(1 + x) for x >= 0 to about 2^-53 of max(1, |result|): enough
// inside an exponential, where package math keeps the relative error of small
// results too.
func Log1p(x float64) float64 { // [1]
	u := 1 + x
	if u >= 0x1p53 { // also +Inf: nothing to correct
		return Log(u)
	}
	return Log(u) + (x-(u-1))/u
}

const fineBits = 10

// ExpTo writes e^x of each element of x into dst, which may be x itself and is at least
// as long, as exactly as [Exp] and without a call for each.
func ExpTo(dst, x []float64) { // [1]
	dst = dst[:len(x)]
	for i, v := range x {
		if !(v > expMin && v < expMax) {
			dst[i] = Exp(v)
			continue
		}
		kd := float64(v*((1<<fineBits)/math.Ln2)) + shift
		k := int64(math.Float64bits(kd)<<12) >> 12
		kd -= shift
		r := (v - float64(kd*(ln2Hi/(1<<fineBits)))) - float64(kd*(ln2Lo/(1<<fineBits)))
		s := fineTable[k&(1<<fineBits-1)]
		p := r + float64(float64(r*r)*(0.5+float64(r*(1.0/6+float64(r*(1.0/24))))))
		dst[i] = (s + float64(s*p)) * math.Float64frombits(uint64(1023+k>>fineBits)<<52)
	}
}
