package units

import (
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"
)

// TestRelationsByHand: the relations between quantities at numbers that a head can do.
func TestRelationsByHand(t *testing.T) {
	nan := math.NaN()
	nm3, err := NewStandardFlow(2, ReferenceDIN1343)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"30 °C − 10 K", float64(Celsius(30).Sub(Temperature(293.15))), 10},
		{"20 °C + 5 K", Celsius(20).Add(5).Celsius(), 25},
		{"gauge", float64(GaugePressure(0.5).Absolute(2)), 2.5}, {"and back", float64(Pressure(2.5).Gauge(2)), 0.5},
		{"specific", float64(HumidityRatio(0.25).Specific()), 0.2}, {"ratio", float64(SpecificHumidity(0.2).Ratio()), 0.25},
		{"25 kV over 0.5 m", float64(Voltage(25e3).Over(0.5)), 5e4},
		{"25 kV at 25 mm", float64(DisplayVoltage(25e3).Field(0.025)), 1e6},
		{"ε0·E", float64(ElectricField(2e6).SurfaceCharge()), 17.70838e-6},
		{"1/κ", float64(Conductivity(4).Resistivity()), 0.25}, {"1/ρ", float64(VolumeResistivity(0.25).Conductivity()), 4},
		{"ρ/t", float64(VolumeResistivity(3).Sheet(0.5)), 6}, {"Rs·t", float64(SheetResistance(6).Volume(0.5)), 3},
		{"½CV²", float64(Capacitance(2).Energy(3)), 9}, {"N/t", float64(ForcePerWidth(3).Stress(0.5)), 6},
		{"t·ρ", float64(SheetWeight(0.5, 6)), 3}, {"m″/ρ", float64(BasisWeight(3).Thickness(6)), 0.5},
		// 1.380649e-23·293.15/1.602176634e-19.
		{"kT/e, mV", 1e3 * float64(ThermalVoltage(293.15)), 25.2617},
		{"δ", Pressure(101325 / 2.0).RelativeDensity(586.3), 0.25}, {"δ of none", Pressure(-1).RelativeDensity(300), nan},
		{"δ of no temperature", Pressure(1).RelativeDensity(0), nan}, {"δ of thin air", Pressure(0).RelativeDensity(0.5), 0},
		{"q·v", float64(SurfaceChargeDensity(3).Current(0.5)), 1.5},
		{"1500 ms", float64(FromStd(1500 * time.Millisecond)), 1.5}, {"in ns", float64(Time(1.5).Std()), 1.5e9},
		{"0 °C", Celsius(0).Celsius(), 0}, {"°F of boiling water", Celsius(100).Fahrenheit(), 212},
		{"°F of ice", Celsius(0).Fahrenheit(), 32}, {"−40", Fahrenheit(-40).Celsius(), -40},
		// Twice the volume, twice the temperature and half of the pressure.
		{"actual", float64(nm3.Actual(2*273.15, 101325/2.0)), 8}, {"near vacuum", float64(nm3.Actual(273.15, 0.5)), 405300},
		{"near 0 K", float64(nm3.Actual(0.5, 101325)), 1 / 273.15}, {"at 0 K", float64(nm3.Actual(0, 1)), nan},
		{"in none", float64(nm3.Actual(300, 0)), nan}, {"mass", float64(nm3.Mass(1.25)), 2.5},
		// 101325·2/(8.314462618·273.15) = 89.2301 mol/s: 44.6150 in a cubic metre.
		{"molar", float64(nm3.Molar()), 2 * 44.6150},
		{"at 20 °C, 1 bar", float64(nm3.At(ReferenceISO1217).Volume()), 2 * 1.01325 * 293.15 / 273.15},
	} {
		if math.IsNaN(c.got) != math.IsNaN(c.want) || !math.IsNaN(c.want) &&
			!(math.Abs(c.got-c.want) <= 3e-6*math.Abs(c.want)+1e-12) {
			t.Errorf("%s: %.9g, want %.9g", c.what, c.got, c.want)
		}
	}
}

// TestCelsiusIsRoundedOnce: against the exact difference of rationals.
func TestCelsiusIsRoundedOnce(t *testing.T) {
	for k := 200.0; k < 500; k += 0.37 {
		exact := new(big.Rat).Sub(new(big.Rat).SetFloat64(k), big.NewRat(27315, 100))
		want, _ := exact.Float64()
		if got := Temperature(k).Celsius(); !same(got, want) {
			t.Errorf("%v K: %v °C, want %v", k, got, want)
		}
	}
}

// TestCatalogueSaysWhatIsPrinted: String chooses just the units of which the catalogue
// says so, over forty decades.
func TestCatalogueSaysWhatIsPrinted(t *testing.T) {
	list := Catalogue()
	for i, k := range allKinds {
		if k == &kindStandardFlow { // each reference state has a unit of its own
			continue
		}
		used := map[string]bool{}
		for e := -20; e <= 20; e++ {
			for _, d := range []float64{1.5, -2} {
				text := str(d*math.Pow(10, float64(e)), k)
				if _, symbol, ok := strings.Cut(text, " "); ok {
					used[symbol] = true
				} else if strings.HasSuffix(text, "°") {
					used["°"] = true
				} else {
					used[""] = true
				}
			}
		}
		for _, u := range list[i].Units {
			if u.Printed != used[u.Symbol] {
				t.Errorf("%s: %q printed %v, used %v", k.name, u.Symbol, u.Printed, used[u.Symbol])
			}
		}
	}
}

// TestTrim: spaces of every kind go from both ends, and nothing else.
func TestTrim(t *testing.T) {
	all := " \t\u00a0\u202f\u2009"
	for in, want := range map[string]string{"": "", " ": "", "\u00a0": "", "\u202f": "", "\u2009": "", all: "", "x": "x",
		all + "x y" + all: "x y", "é": "é", all + "é" + all: "é", "x\u00a0": "x", "x\u202f": "x", "x\u2009": "x",
		"\u2009x": "x", "5 µ": "5 µ", "\u2008x\u2008": "\u2008x\u2008", "°\t": "°"} {
		if got := trim(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

// TestReadingEdges: what stands next to a digit or a sign, and the words of a square.
func TestReadingEdges(t *testing.T) {
	for text, want := range map[string]float64{"1 Ω/square": 1, "2 Ohm/□": 2, "3 ohm per square": 3, "4 Ω/{sq}": 4,
		"5 kΩ/sq": 5000} {
		if got, err := Parse[SheetResistance](text); err != nil || !(math.Abs(float64(got)-want) <= 1e-12) {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"1: mm", "1/ mm", "12:0 mm", "5 mm/square", "5 mm per square", "1 mm/□"} {
		if got, err := Parse[Length](text); err == nil {
			t.Errorf("%q: %v", text, got)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got, err := Of[Length](x, "mm"); err != nil || !same(float64(got), x) {
			t.Errorf("%v mm: %v, %v", x, got, err)
		}
		if got, err := In(Length(x), "mm"); err != nil || !same(got, x) {
			t.Errorf("%v m: %v, %v", x, got, err)
		}
		f := StandardFlow{VolumeFlow(x), ReferenceDIN1343}
		if text, err := f.MarshalText(); err == nil {
			t.Errorf("%v: %q", x, text)
		}
	}
	if got := (StandardFlow{0, ReferenceDIN1343}).String(); got != "0 Nm³/h" {
		t.Errorf("no flow: %q", got)
	}
}

// TestDistance: two for a letter put in, left out or changed, one for its case; the
// textbook pair is three letters apart.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"mm", "mm", 0}, {"kitten", "sitting", 6}, {"sitting", "kitten", 6}, {"mm", "MM", 2}, {"mm", "mM", 1},
		{"mm", "m", 2}, {"m", "mm", 2}, {"", "abc", 6}, {"abc", "", 6}, {"kv", "kV/cm", 7}, {"ab", "ba", 4}} {
		if got := distance(c.a, c.b); got != c.want {
			t.Errorf("%q, %q: %d, want %d", c.a, c.b, got, c.want)
		}
	}
	// What is begun rightly comes first.
	if got := nearest("scf", []string{"m³", "sm", "scfm(60°F)", "L"}); !slices.Equal(got[:1], []string{"scfm(60°F)"}) {
		t.Errorf("nearest to scf: %q", got)
	}
}

// TestQuotientAtWordEnds: 128 by 64 bits against math/big, also just at the ends of words.
func TestQuotientAtWordEnds(t *testing.T) {
	words := []uint64{0, 1, 2, 3, 1 << 53, 1<<53 + 1, 1 << 62, 1 << 63, 1<<63 + 1, 1<<64 - 2, 1<<64 - 1}
	check := func(hi, lo, den uint64) {
		n := new(big.Int).Lsh(new(big.Int).SetUint64(hi), 64)
		n.Add(n, new(big.Int).SetUint64(lo))
		want, _ := new(big.Rat).SetFrac(n, new(big.Int).SetUint64(den)).Float64()
		if got := quotient(false, hi, lo, den); !same(got, want) {
			t.Errorf("(%d·2^64 + %d)/%d: %v, want %v", hi, lo, den, got, want)
		}
		if got := quotient(true, hi, lo, den); want != 0 && !same(got, -want) {
			t.Errorf("−(%d·2^64 + %d)/%d: %v, want %v", hi, lo, den, got, -want)
		}
	}
	for _, hi := range words {
		for _, lo := range words {
			for _, den := range words[1:] {
				check(hi, lo, den)
			}
		}
	}
	rng := rand.New(rand.NewPCG(3, 5))
	for range 20000 {
		check(rng.Uint64()>>rng.UintN(64), rng.Uint64()>>rng.UintN(64), 1+rng.Uint64()>>rng.UintN(64))
	}
}

// TestNat: sums, differences, shifts and lengths against math/big.
func TestNat(t *testing.T) {
	toBig := func(a *nat) *big.Int {
		out := new(big.Int)
		for i := a.n - 1; i >= 0; i-- {
			out.Lsh(out, 64).Add(out, new(big.Int).SetUint64(a.w[i]))
		}
		return out
	}
	rng := rand.New(rand.NewPCG(7, 9))
	for range 3000 {
		var a, b nat
		draw := func(x *nat) {
			x.set(rng.Uint64() >> rng.UintN(64))
			for range rng.IntN(4) {
				x.mulAdd(1<<63, rng.Uint64()>>rng.UintN(64))
			}
		}
		draw(&a)
		draw(&b)
		if rng.IntN(3) == 0 { // nearly the same: the difference loses words
			b = a
			b.add(&nat{w: [40]uint64{rng.Uint64() >> rng.UintN(64)}, n: 1})
		}
		x, y := toBig(&a), toBig(&b)
		if got, want := a.cmp(&b), x.Cmp(y); (got > 0) != (want > 0) || (got < 0) != (want < 0) {
			t.Fatalf("%v against %v: %d", x, y, got)
		}
		if a.bitLen() != x.BitLen() {
			t.Fatalf("%v has %d bits", x, a.bitLen())
		}
		if x.Cmp(y) < 0 {
			a, b, x, y = b, a, y, x
		}
		sum, diff, shifted := a, a, a
		sum.add(&b)
		diff.sub(&b)
		s := rng.UintN(150)
		shifted.shl(s)
		if toBig(&sum).Cmp(new(big.Int).Add(x, y)) != 0 || toBig(&shifted).Cmp(new(big.Int).Lsh(x, s)) != 0 {
			t.Fatalf("%v + %v, ≪ %d", x, y, s)
		}
		if d := new(big.Int).Sub(x, y); toBig(&diff).Cmp(d) != 0 || diff.n != (d.BitLen()+63)/64 {
			t.Fatalf("%v − %v: %v in %d words", x, y, toBig(&diff), diff.n)
		}
	}
}
