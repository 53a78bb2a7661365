package units

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// The oracle of this file is math/big: the number as the exact rational that
// its digits say, times the exact factor, rounded once by big.Rat.Float64.

func ratUnit(u *unit) *big.Rat {
	f := new(big.Rat).SetFrac(new(big.Int).SetUint64(u.num), new(big.Int).SetUint64(u.den))
	return f.Mul(f, mustRat(fmt.Sprintf("1e%d", u.exp)))
}

func mustRat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("no number: " + s)
	}
	return r
}

// bigToSI is (x + off/100)·factor, rounded once. A zero keeps the sign of x.
func bigToSI(text string, u *unit) float64 {
	x := mustRat(text)
	x.Add(x, big.NewRat(u.off, 100))
	x.Mul(x, ratUnit(u))
	v, _ := x.Float64()
	if v == 0 && (x.Sign() < 0 || x.Sign() == 0 && u.off == 0 && text[0] == '-') {
		return math.Copysign(0, -1)
	}
	return v
}

func same(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }

// checkExact compares both integer paths, forward and back, with math/big.
func checkExact(t *testing.T, text string, u *unit) {
	t.Helper()
	want := bigToSI(text, u)
	d, rest, why := scan(text)
	if rest != "" || why != "" {
		t.Fatalf("scan(%q): %q %q", text, rest, why)
	}
	if got := toSI(&d, u); !same(got, want) {
		t.Errorf("%s %s: got %x, want %x", text, u.symbol, got, want)
	}
	if got := toSIBig(&d, u); !same(got, want) {
		t.Errorf("%s %s by arrays: got %x, want %x", text, u.symbol, got, want)
	}
	if math.IsInf(want, 0) || want == 0 {
		return
	}
	x := new(big.Rat).SetFloat64(want)
	x.Quo(x, ratUnit(u))
	x.Sub(x, big.NewRat(u.off, 100))
	if w, _ := x.Float64(); !same(fromSI(want, u), w) {
		t.Errorf("%x in %s: got %x, want %x", want, u.symbol, fromSI(want, u), w)
	}
	number := strconv.FormatFloat(want, 'e', -1, 64) // the same number, taken as one in the unit
	if w := bigToSI(number, u); !same(fromUnit(want, u), w) {
		t.Errorf("float %s %s: got %x, want %x", number, u.symbol, fromUnit(want, u), w)
	}
}

// TestExact draws numbers for every unit of the table: short and long, tiny and
// huge, subnormal results and overflow among them.
func TestExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	n := 40
	if testing.Short() {
		n = 10
	}
	for _, k := range allKinds {
		k.link()
		for i := range k.units {
			u := &k.units[i]
			for range n {
				checkExact(t, drawNumber(rng), u)
			}
		}
	}
}

func drawNumber(rng *rand.Rand) string {
	var b strings.Builder
	if rng.IntN(2) == 0 {
		b.WriteByte('-')
	}
	digits := 1 + rng.IntN(20)
	if rng.IntN(8) == 0 {
		digits = 1 + rng.IntN(maxDigits)
	}
	point := rng.IntN(digits + 1)
	for i := range digits {
		if i == point {
			b.WriteByte('.')
		}
		b.WriteByte(byte('0' + rng.IntN(10)))
	}
	switch rng.IntN(4) {
	case 0:
		fmt.Fprintf(&b, "e%d", rng.IntN(700)-350)
	case 1, 2:
		fmt.Fprintf(&b, "e%d", rng.IntN(50)-25)
	}
	return b.String()
}

// TestExactTies lays numbers exactly on and beside the middle between two
// float64s: only exact arithmetic rounds them to even.
func TestExactTies(t *testing.T) {
	for _, u := range []*unit{kindLength.find("in"), kindLength.find("m"), kindTime.find("min"),
		kindTemperature.find("°F"), kindPressure.find("psi"), kindSpeed.find("km/h")} {
		rng := rand.New(rand.NewPCG(2, 2))
		for range 200 {
			v := math.Ldexp(1+rng.Float64(), rng.IntN(40)-20)
			mid := new(big.Rat).SetFloat64(v)
			mid.Add(mid, new(big.Rat).SetFloat64(math.Nextafter(v, math.Inf(1))))
			mid.Quo(mid, big.NewRat(2, 1))
			mid.Quo(mid, ratUnit(u))
			mid.Sub(mid, big.NewRat(u.off, 100))
			text := mid.FloatString(60) // cut or exact: either way checked by the oracle
			if text = strings.TrimRight(text, "0"); len(text) > 60 {
				text = text[:60]
			}
			checkExact(t, text, u)
		}
	}
}

// TestQuotient divides 128-bit numbers whose last bit decides.
func TestQuotient(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for i := range 4000 {
		hi, lo, den := rng.Uint64(), rng.Uint64(), rng.Uint64()|1<<rng.IntN(64)
		switch i % 4 {
		case 0: // just above the middle of two float64s, by the last bit alone
			hi, lo, den = 1<<63|rng.Uint64()<<11|1<<10, 1, 1<<63
		case 1:
			hi, lo, den = 0, lo>>rng.IntN(63)|1, den>>rng.IntN(63)|1
		case 2:
			hi >>= rng.IntN(64)
		}
		n := new(big.Int).SetUint64(hi)
		n.Lsh(n, 64).Or(n, new(big.Int).SetUint64(lo))
		if n.Sign() == 0 {
			continue
		}
		want, _ := new(big.Rat).SetFrac(n, new(big.Int).SetUint64(den)).Float64()
		if got := quotient(false, hi, lo, den); !same(got, want) {
			t.Fatalf("%x:%x / %x: got %x, want %x", hi, lo, den, got, want)
		}
	}
}

func TestRangeEnds(t *testing.T) {
	for _, text := range []string{
		"1.7976931348623157e308", "1.7976931348623158e308", "1.797693134862315807e308", "1.797693134862315808e308",
		"9e399", "-9e399",
		// The 64 digits below and above 2^-1075, half the least number.
		"2.470328229206232720882843964341106861825299013071623822127928412e-324",
		"2.470328229206232720882843964341106861825299013071623822127928413e-324",
		"4.9e-324", "2.4703282292062327e-324", "2.4703282292062328e-324", "2.2250738585072011e-308", "1e-400", "0", "-0",
		"-0.000e400",
	} {
		for _, u := range []*unit{kindLength.find("m"), kindLength.find("in"), kindForce.find("kN"), kindTime.find("d"),
			kindEnergy.find("eV"), kindTemperature.find("°C"), kindAngle.find("°")} {
			checkExact(t, text, u)
		}
	}
}

// FuzzExact compares the integer paths with math/big for any number and unit.
func FuzzExact(f *testing.F) {
	f.Add("25.375", uint16(6))
	f.Add("-459.67", uint16(150))
	f.Add("1.7976931348623158e308", uint16(3))
	f.Add("9007199254740993", uint16(9))
	f.Add("2.4703282292062327208e-324", uint16(44))
	var all []*unit
	for _, k := range allKinds {
		k.link()
		for i := range k.units {
			all = append(all, &k.units[i])
		}
	}
	f.Fuzz(func(t *testing.T, text string, which uint16) {
		d, rest, why := scan(text)
		if rest != "" || why != "" || strings.HasPrefix(text, "\u2212") {
			return
		}
		if d.digits > maxDigits {
			t.Fatalf("%q: scan lets %d digits pass", text, d.digits)
		}
		checkExact(t, text, all[int(which)%len(all)])
	})
}
