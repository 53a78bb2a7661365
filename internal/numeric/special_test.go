package numeric_test

import (
	"encoding/binary"
	"hash/fnv"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"

	"example.org/pithball/internal/numeric"
)

var special = []struct {
	name     string
	f, math  func(float64) float64
	from, to float64
	ulp      float64 // allowed against package math, in units of 2⁻⁵² of the value
}{
	{"Exp", numeric.Exp, math.Exp, -740, 709.4, 3},
	{"Sinh", numeric.Sinh, math.Sinh, -30, 30, 5},
	{"Cosh", numeric.Cosh, math.Cosh, -30, 30, 4},
	{"Tanh", numeric.Tanh, math.Tanh, -50, 50, 4},
	{"Erf", numeric.Erf, math.Erf, -7, 7, 2},
	{"Erfc", numeric.Erfc, math.Erfc, -7, 26, 8},
	{"x^0.25", func(x float64) float64 { return numeric.Pow(x, 0.25) },
		func(x float64) float64 { return math.Pow(x, 0.25) }, 1e-9, 1e9, 5},
	{"x^-2.7", func(x float64) float64 { return numeric.Pow(x, -2.7) },
		func(x float64) float64 { return math.Pow(x, -2.7) }, 1e-3, 1e3, 8},
	{"10^x", func(x float64) float64 { return numeric.Pow(10, x) },
		func(x float64) float64 { return math.Pow(10, x) }, -30, 30, 8},
}

// TestSpecial compares with package math, to the errors of both.
func TestSpecial(t *testing.T) {
	for _, s := range special {
		worst := 0.0
		for i := range 20000 {
			x := s.from + (s.to-s.from)*(float64(i)+0.5)/20000
			got, want := s.f(x), s.math(x)
			d := math.Abs(got-want) / (math.Abs(want)*0x1p-52 + 2*math.SmallestNonzeroFloat64)
			if worst = max(worst, d); !(d <= s.ulp) {
				t.Fatalf("%s(%v) = %v, package math %v: %v units", s.name, x, got, want, d)
			}
		}
		t.Logf("%s: at most %.1f units in the last place off package math", s.name, worst)
	}
}

// TestSpecialEnds: what is no ordinary number, and both sides of every change of method.
func TestSpecialEnds(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	at := []float64{0, math.Copysign(0, -1), 0.5, 0.625, 1.25, 1 / 0.35, 6, 21, 28, 44, 1e-300, 1e300, 5e-324, inf, nan}
	for _, s := range special {
		for _, a := range at {
			for _, x := range []float64{a, -a, math.Nextafter(a, inf), math.Nextafter(a, -inf), math.Nextafter(-a, -inf)} {
				got, want := s.f(x), s.math(x)
				if math.IsNaN(want) && math.IsNaN(got) || got == want {
					continue
				}
				if !(math.Abs(got-want) <= 10*0x1p-52*math.Abs(want)+2*math.SmallestNonzeroFloat64) {
					t.Errorf("%s(%v) = %v, package math %v", s.name, x, got, want)
				}
			}
		}
	}
	for _, x := range at {
		for _, y := range []float64{0, 1, -1, 2, 0.5, -0.5, 0.3, 1e17, -1e17, inf, -inf, nan, 1.5, 2.75} {
			for _, x := range []float64{x, -x} {
				got, want := numeric.Pow(x, y), math.Pow(x, y)
				if math.IsNaN(want) && math.IsNaN(got) || got == want {
					continue
				}
				if !(math.Abs(got/want-1) <= 1e-13) {
					t.Errorf("Pow(%v, %v) = %v, package math %v", x, y, got, want)
				}
			}
		}
	}
}

// TestExpNearItsEnd: e^709.75 in 40-digit decimal arithmetic is 1.739836873264160558e308; package math has +Inf there
// on amd64.
func TestExpNearItsEnd(t *testing.T) {
	if got := numeric.Exp(709.75); !(math.Abs(got/1.739836873264160558e308-1) <= 4*0x1p-52) {
		t.Error(got)
	}
}

// TestStatistic: ten digits, by hand.
func TestStatistic(t *testing.T) {
	for x, want := range map[float64]float64{0.12345678904999: 0.123456789, 0.99999999996: 1, -2.00000000049e-30: -2e-30,
		math.Inf(1): math.Inf(1), 0: 0, math.MaxFloat64: math.MaxFloat64} {
		if got := numeric.Statistic(x); got != want {
			t.Errorf("%v: %v, want %v", x, got, want)
		}
	}
	if !math.IsNaN(numeric.Statistic(math.NaN())) {
		t.Error("NaN is lost")
	}
}

// TestOnes: with weights of one gonum's statistics are those without.
func TestOnes(t *testing.T) {
	x := normals(37, 9)
	mean, sd := stat.MeanStdDev(x, numeric.Ones(len(x)))
	wantMean, wantSD := stat.MeanStdDev(x, nil)
	if !(math.Abs(mean-wantMean) <= 1e-15) || !(math.Abs(sd-wantSD) <= 1e-15) {
		t.Errorf("%v ± %v, want %v ± %v", mean, sd, wantMean, wantSD)
	}
}

// TestErfcByTable: complementary error function, NIST Digital Library of Mathematical Functions, eq. 7.2.2, to the
// 16 digits that tables print (from memory).
func TestErfcByTable(t *testing.T) {
	for x, want := range map[float64]float64{1.5: 0.03389485352468927, 2: 0.004677734981047266, 3: 2.209049699858544e-05,
		5: 1.5374597944280349e-12, -2: 1.9953222650189527} {
		if got := numeric.Erfc(x); !(math.Abs(got/want-1) <= 1e-15) {
			t.Errorf("erfc %v = %v, want %v", x, got, want)
		}
	}
}

// TestSpecialBits: the same bits in every build, for every processor. The hashes were taken on amd64 and hold nothing
// but that.
func TestSpecialBits(t *testing.T) {
	want := map[string]uint64{
		"Exp":    0xc67387f692f72a6f,
		"Sinh":   0xa80abbeccdcb87fb,
		"Cosh":   0x9fe41f50840d3275,
		"Tanh":   0x736756bb232c62e1,
		"Erf":    0x3b11a6d302cb3127,
		"Erfc":   0xdd4d894379c26359,
		"x^0.25": 0xed128701921092bf,
		"x^-2.7": 0xa7bcc790f8857a19,
		"10^x":   0x2a208561c51b766c,
	}
	for _, s := range special {
		h := fnv.New64a()
		for i := range 5000 {
			var b [8]byte
			x := s.from + float64((s.to-s.from)*((float64(i)+0.5)/5000))
			if math.Abs(x) < 1.25 && s.name != "Exp" {
				continue // package math, which is fused where the processor can
			}
			binary.LittleEndian.PutUint64(b[:], math.Float64bits(s.f(x)))
			h.Write(b[:])
		}
		if got := h.Sum64(); got != want[s.name] {
			t.Errorf("%q: %#x,", s.name, got)
		}
	}
}
