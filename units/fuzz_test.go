package units

import (
	"errors"
	"math"
	"regexp"
	"strings"
	"testing"
)

// The oracle is a second reader, written for clarity: a regular expression, a
// linear search of the table and math/big.

var (
	spaces  = `[ \t\x{a0}\x{202f}\x{2009}]*`
	grammar = regexp.MustCompile(`^` + spaces + `([+-]|\x{2212})?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?(.*)$`)
	outer   = regexp.MustCompile(`^` + spaces + `|` + spaces + `$`)
	alike   = strings.NewReplacer("µ", "u", "μ", "u", "Ω", "Ohm", "\u2126", "Ohm", "²", "2", "³", "3", "¹", "1", "⁻",
		"-", "₂", "2", "·", ".", "⋅", ".", "\u2212", "-",
		"\u00a0", " ", "\u202f", " ", "\u2009", " ", "℃", "°C", "℉", "°F", "∆", "Δ")
)

func plainFind(k *kind, symbol string) *unit {
	symbol = alike.Replace(symbol)
	for i := range k.units {
		u := &k.units[i]
		for _, s := range append(u.spellings(), u.symbol) {
			s = alike.Replace(s)
			for _, v := range []string{s, strings.ReplaceAll(s, "Ohm", "ohm")} {
				if v == symbol {
					return u
				}
				if base, ok := strings.CutSuffix(v, "/sq"); ok &&
					(symbol == base+"/square" || symbol == base+"/□" || symbol == base+"/{sq}" || symbol == base+" per square") {
					return u
				}
			}
		}
	}
	return nil
}

// plainParse returns the value, or false where the text is refused.
func plainParse(s string, k *kind) (float64, bool) {
	m := grammar.FindStringSubmatch(s)
	if m == nil || strings.Contains(s, "\n") {
		return 0, false
	}
	u := plainFind(k, outer.ReplaceAllString(m[4], ""))
	digits := strings.TrimLeft(strings.ReplaceAll(m[2], ".", ""), "0")
	exponent := strings.TrimLeft(strings.Trim(m[3], "eE+-"), "0")
	if u == nil || len(digits) > 64 || len(m[2]) > 128 || len(exponent) > 3 || len(exponent) == 3 && exponent > "400" {
		return 0, false
	}
	number := m[2] + m[3]
	if m[1] == "-" || m[1] == "\u2212" {
		number = "-" + number
	}
	v := bigToSI(number, u)
	return v, !math.IsInf(v, 0) && (v != 0 || digits == "" || u.off != 0)
}

// checkParse compares parse with the oracle.
func checkParse(t *testing.T, k *kind, s string) {
	t.Helper()
	k.link() // the oracle reads the table that parse links at its first use
	want, ok := plainParse(s, k)
	got, u, err := parse(s, k)
	if (err == nil) != ok || err == nil && (!same(got, want) || u == nil) {
		t.Fatalf("%s %q: got %x, %v, want %x, %t", k.name, s, got, err, want, ok)
	}
	var p *ParseError
	if err != nil && (!errors.As(err, &p) || p.Input != s || p.Why == "" || p.Err == nil) {
		t.Fatalf("%s %q: error %#v", k.name, s, err)
	}
}

// FuzzParse reads any text as any kind.
func FuzzParse(f *testing.F) {
	for i, s := range []string{"25.4 mm", "3in", "-1.5e-3 µm", "1e308 km", "NaN m", "0x1p-2 m", "1_000 m", "1,5 m",
		"20 °C", "1e5V", "45 %RH", "", "5", "\u22125\u00a0kV", "1e12 Ω per square", "1.e2 m", "1e+m", "3 ft 6 in"} {
		f.Add(s, uint8(i))
	}
	for i, k := range allKinds {
		k.link()
		f.Add("1.25 "+k.units[len(k.units)-1].symbol, uint8(i))
	}
	f.Fuzz(func(t *testing.T, s string, which uint8) {
		checkParse(t, allKinds[int(which)%len(allKinds)], s)
	})
}

// FuzzText writes any float64 as any kind and reads it back.
func FuzzText(f *testing.F) {
	for i, v := range []float64{0, math.Copysign(0, -1), 293.15, 1e15, 5e-324, math.MaxFloat64, -8200, 0.1} {
		f.Add(math.Float64bits(v), uint8(i))
	}
	f.Fuzz(func(t *testing.T, b uint64, which uint8) {
		k := allKinds[int(which)%len(allKinds)]
		v := math.Float64frombits(b)
		if k == &kindStandardFlow { // its units name a state, see FuzzStandardFlow
			return
		}
		text, err := appendText(nil, v, k)
		if (err != nil) != (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Fatalf("%x: %v", v, err)
		}
		if err != nil {
			return
		}
		if got, _, err := parse(string(text), k); err != nil || !same(got, v) {
			t.Fatalf("%x prints %q, which reads %x, %v", v, text, got, err)
		}
		if len(text) > 40 {
			t.Fatalf("%x prints the long %q", v, text)
		}
	})
}

// FuzzStandardFlow reads any text as a standard flow, and writes and reads back
// what it has read.
func FuzzStandardFlow(f *testing.F) {
	for _, s := range []string{"120 L/min(ANR)", "35 scfm(68°F)", "60 Nm3/h", "5 scfm", "5 L/min",
		"7e30 scfm(68°F,36%RH)", "1 Sm³/h", "2 l/min ANR"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		checkParse(t, &kindStandardFlow, s)
		q, err := ParseStandardFlow(s)
		if err != nil {
			return
		}
		back, err := ParseStandardFlow(q.String())
		if err != nil || back.reference != q.reference || !same(float64(back.volume), float64(q.volume)) {
			t.Fatalf("%q prints %q, which reads %v, %v", s, q, back, err)
		}
	})
}
