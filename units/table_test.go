package units

import (
	"math/big"
	"regexp"
	"strings"
	"testing"
)

// TestSpellings reads every spelling of the table with its variants, and finds
// no spelling that two units of a kind share.
func TestSpellings(t *testing.T) {
	variants := []*strings.Replacer{
		strings.NewReplacer("µ", "μ"), strings.NewReplacer("µ", "u"), strings.NewReplacer("Ω", "\u2126"),
		strings.NewReplacer("Ω", "Ohm"), strings.NewReplacer("Ω", "ohm"), strings.NewReplacer("²", "2", "³", "3"),
		strings.NewReplacer("·", "."), strings.NewReplacer("·", "⋅"), strings.NewReplacer(" ", "\u00a0"),
		strings.NewReplacer(" ", "\u202f"),
		strings.NewReplacer("°C", "℃"), strings.NewReplacer("Δ", "∆"), strings.NewReplacer("-", "\u2212"),
		strings.NewReplacer("H2O", "H₂O"), strings.NewReplacer("⁻", "-"),
	}
	for _, k := range allKinds {
		k.link()
		owner := map[string]*unit{}
		for i := range k.units {
			u := &k.units[i]
			if len(foldString(u.symbol)) >= maxSpelling-4 {
				t.Errorf("%s: %q is too long for the folding buffer", k.goType(), u.symbol)
			}
			for _, s := range append(u.spellings(), u.symbol) {
				if o := owner[foldString(s)]; o != nil && o != u {
					t.Errorf("%s: %q is a spelling of %s and of %s", k.goType(), s, o.symbol, u.symbol)
				}
				owner[foldString(s)] = u
				if got := k.find(s); got != u {
					t.Errorf("%s: %q is not found", k.goType(), s)
				}
				for _, v := range variants {
					if got := k.find(v.Replace(s)); got != u {
						t.Errorf("%s: %q, written %q, is not found", k.goType(), s, v.Replace(s))
					}
				}
			}
		}
		for _, h := range k.hints {
			for _, s := range h.spellings {
				if why, _ := k.hint(s); k.find(s) != nil || foldString(s) != s || why != h.why {
					t.Errorf("%s: the refused %q is accepted, or never looked up", k.goType(), s)
				}
			}
		}
	}
}

// TestTableIsWhole checks what every kind must have, and that the units that
// String prints are powers of ten.
func TestTableIsWhole(t *testing.T) {
	codes := regexp.MustCompile(`^[!-~]+$`)
	for _, k := range allKinds {
		k.link()
		if k.goType() == "" || k.name == "" || k.si == "" || len(k.units) == 0 {
			t.Errorf("%s: incomplete", k.goType())
		}
		if k != &kindStandardFlow && (k.find(k.metric) == nil || k.find(k.us) == nil) {
			t.Errorf("%s: shop units %q and %q are not in the table", k.goType(), k.metric, k.us)
		}
		if k.shown != "" && k.show == nil {
			t.Errorf("%s: %q is not in the table", k.goType(), k.shown)
		}
		printed := 0
		for i := range k.units {
			u := &k.units[i]
			if u.num == 0 || u.den == 0 || gcd(u.num, u.den) != 1 {
				t.Errorf("%s %s: factor %d/%d", k.goType(), u.symbol, u.num, u.den)
			}
			if u.print {
				printed++
				if !u.decimal() {
					t.Errorf("%s %s: printed, but no power of ten", k.goType(), u.symbol)
				}
			}
			if c := u.ucum(); c != "" && !codes.MatchString(c) {
				t.Errorf("%s %s: UCUM code %q is not plain ASCII", k.goType(), u.symbol, c)
			}
		}
		if printed == 0 && k != &kindStandardFlow {
			t.Errorf("%s: no printed unit", k.goType())
		}
	}
}

// TestFactors checks factors against exact rationals that were worked out apart
// from the library, from 1 in = 127/5000 m, 1 lb = 45359237e-8 kg, g0 =
// 196133/20000 m/s² and 1 atm = 101325 Pa (NIST SP 811:2008, appendix B, gives
// the same to its seven digits).
func TestFactors(t *testing.T) {
	for _, c := range []struct {
		kind     *kind
		unit, si string
	}{
		{&kindField, "kV/in", "5000000/127"}, {&kindField, "V/in", "5000/127"}, {&kindField, "V/mil", "5000000/127"},
		{&kindField, "kV/cm", "100000"}, {&kindField, "kV/mm", "1000000"},
		{&kindSurfaceCharge, "µC/m²", "1/1000000"}, {&kindSurfaceCharge, "nC/cm²", "1/100000"},
		{&kindSurfaceCharge, "pC/cm²", "1/100000000"},
		{&kindSurfaceCharge, "nC/in²", "1/645160"}, {&kindSheetResistance, "Ω/sq", "1"},
		{&kindVolumeResistivity, "Ω·cm", "1/100"},
		{&kindCapacitance, "pF", "1/1000000000000"}, {&kindLineCurrent, "µA/m", "1/1000000"},
		{&kindSpeed, "m/min", "1/60"}, {&kindSpeed, "ft/min", "127/25000"}, {&kindLength, "in", "127/5000"},
		{&kindLength, "mil", "127/5000000"},
		{&kindLength, "gauge", "127/500000000"}, {&kindBasisWeight, "g/m²", "1/1000"},
		{&kindBasisWeight, "lb/3000ft²", "45359237/27870912000"}, {&kindBasisWeight, "lb/1000ft²", "45359237/9290304000"},
		{&kindPressure, "psi", "8896443230521/1290320000"}, {&kindPressure, "inH2O", "24908891/100000"},
		{&kindPressure, "mmH2O", "196133/20000"},
		{&kindPressure, "kgf/cm²", "196133/2"}, {&kindPressure, "Torr", "20265/152"},
		{&kindPressure, "inHg", "3386388640341/1000000000"},
		{&kindHumidityRatio, "gr/lb", "1/7000"}, {&kindLineForce, "lbf/in", "8896443230521/50800000000"},
		{&kindLineForce, "kgf/cm", "196133/200"},
		{&kindVolumeFlow, "cfm", "18435447/39062500000"}, {&kindEnergy, "Btu", "52752792631/50000000"},
		{&kindSpeed, "mph", "1397/3125"},
		{&kindTemperature, "°F", "5/9"}, {&kindDensity, "lb/ft³", "28349523125/1769802912"},
	} {
		u := c.kind.find(c.unit)
		if u == nil {
			t.Errorf("%s is gone", c.unit)
			continue
		}
		want, ok := new(big.Rat).SetString(c.si)
		if !ok || ratUnit(u).Cmp(want) != 0 {
			t.Errorf("1 %s is %s SI, want %s", c.unit, ratUnit(u).RatString(), c.si)
		}
	}
}
