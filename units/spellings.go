package units

import (
	"slices"
	"strings"
)

// ucumMark marks the UCUM code among the spellings of the table; "ucum:-" says
// that UCUM has none, and no mark that the folded symbol is the code.
const ucumMark = "ucum:"

// maxSpelling bounds the folded spellings of the table, in bytes.
const maxSpelling = 48

// folds lists what is read alike: the second is how the index writes it. The
// right side is what UCUM writes, where UCUM has the sign.
var folds = [...][2]string{
	{"µ", "u"}, {"μ", "u"}, // micro sign U+00B5 and Greek mu U+03BC
	{"Ω", "Ohm"}, {"\u2126", "Ohm"}, // Greek omega and ohm sign
	{"²", "2"}, {"³", "3"}, {"¹", "1"}, {"⁻", "-"}, {"₂", "2"},
	{"·", "."}, {"⋅", "."}, {"−", "-"},
	{"\u00a0", " "}, {"\u202f", " "}, {"\u2009", " "},
	{"℃", "°C"}, {"℉", "°F"}, {"∆", "Δ"},
}

// fold appends the folded form of s to b, which has room for maxSpelling bytes;
// a longer spelling is cut, so that no table entry equals it.
func fold(b []byte, s string) []byte {
outer:
	for i := 0; i < len(s); {
		if len(b)+4 > maxSpelling {
			return append(b[:0], 0)
		}
		if s[i] < 0x80 {
			b = append(b, s[i])
			i++
			continue
		}
		for j := range folds {
			if f := &folds[j]; strings.HasPrefix(s[i:], f[0]) {
				b = append(b, f[1]...)
				i += len(f[0])
				continue outer
			}
		}
		b = append(b, s[i])
		i++
	}
	return b
}

func foldString(s string) string {
	var buf [maxSpelling]byte
	return string(fold(buf[:0], s))
}

// link completes a kind at its first use, since a program that imports the package
// and never reads or writes a text of the kind should not pay for it: index, exact
// factors in lowest terms.
func (k *kind) link() { k.once.Do(k.complete) }

// goType is the name of the Go type.
func (k *kind) goType() string { return typeNames[slices.Index(allKinds, k)] }

func (k *kind) complete() {
	if k.build != nil {
		k.units = k.build()
	}
	k.index = make(map[string]*unit, 4*len(k.units))
	for j := range k.units {
		u := &k.units[j]
		g := gcd(u.num, u.den)
		u.num, u.den = u.num/g, u.den/g
		k.enter(u.symbol, u)
		for _, s := range u.spellings() {
			k.enter(s, u)
		}
		if u.symbol == k.shown {
			k.show = u
		}
	}
}

// enter indexes a spelling and its mechanical variants.
func (k *kind) enter(spelling string, u *unit) {
	s := foldString(spelling)
	for _, v := range []string{spelling, strings.ReplaceAll(spelling, "µ", "μ"),
		strings.ReplaceAll(spelling, "Ω", "\u2126")} {
		k.index[v] = u // found without folding
	}
	for _, v := range []string{s, strings.ReplaceAll(s, "Ohm", "ohm")} {
		k.index[v] = u
		if base, ok := strings.CutSuffix(v, "/sq"); ok {
			for _, sq := range []string{"/square", "/□", "/{sq}", " per square"} {
				k.index[foldString(base+sq)] = u
			}
		}
	}
}

func gcd(a, b uint64) uint64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// Spellings returns the accepted spellings of a quantity type, the printed ones
// first, without the variants that [Parse] reads alike.
func Spellings[T Quantity]() []string {
	var z T
	return z.kind().spellings()
}

func (k *kind) spellings() []string {
	var first, then []string
	for i := range k.units {
		u := &k.units[i]
		if u.print {
			first = append(first, u.symbol)
		} else {
			then = append(then, u.symbol)
		}
		then = append(then, u.spellings()...)
	}
	return append(first, then...)
}

// spellings returns what is accepted besides the symbol.
func (u *unit) spellings() []string {
	var out []string
	for _, s := range u.also {
		if s = strings.TrimPrefix(s, ucumMark); s != "-" && s != u.symbol {
			out = append(out, s)
		}
	}
	return out
}

// ucum returns the UCUM code, "" if UCUM has none.
func (u *unit) ucum() string {
	for _, s := range u.also {
		if code, ok := strings.CutPrefix(s, ucumMark); ok {
			return strings.TrimPrefix(code, "-")
		}
	}
	return foldString(u.symbol)
}
