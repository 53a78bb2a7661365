package unitstest

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Values draws finite values of all sizes and signs: ordinary ones, few digits,
// any bit pattern, zeros and ends of the range.
func Values() *rapid.Generator[float64] { // [SI]
	return rapid.OneOf(
		rapid.Float64Range(-1e6, 1e6),
		rapid.Custom(func(t *rapid.T) float64 { // few digits, any prefix
			m := rapid.IntRange(-99999, 99999).Draw(t, "digits")
			e := rapid.IntRange(-20, 20).Draw(t, "power of ten")
			return float64(m) * math.Pow(10, float64(e))
		}),
		rapid.Custom(func(t *rapid.T) float64 {
			for {
				v := math.Float64frombits(rapid.Uint64().Draw(t, "bits"))
				if !math.IsNaN(v) && !math.IsInf(v, 0) {
					return v
				}
			}
		}),
		rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, -1, 273.15, 256, math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64, 0x1p-1022}),
	)
}

// Numbers draws numbers as people write them, up to 1e9 and down to 1e-9 in
// magnitude, and zero.
func Numbers() *rapid.Generator[float64] { // [any unit]
	return rapid.OneOf(
		rapid.Float64Range(-1e9, 1e9),
		rapid.Custom(func(t *rapid.T) float64 {
			return float64(rapid.IntRange(-9999, 9999).Draw(t, "digits")) * math.Pow(10, float64(rapid.IntRange(-9, 5).Draw(t, "power of ten")))
		}),
	).Filter(func(x float64) bool { return x == 0 || math.Abs(x) >= 1e-9 })
}

// Inputs draws inputs for the laws of a codec.
func Inputs(c Codec) *rapid.Generator[Input] {
	units := rapid.SampledFrom(c.Units())
	return rapid.Custom(func(t *rapid.T) Input {
		return Input{
			Value:  Values().Draw(t, "value"),
			Number: Numbers().Draw(t, "number"),
			Other:  Numbers().Draw(t, "other"),
			A:      units.Draw(t, "a"),
			B:      units.Draw(t, "b"),
			C:      units.Draw(t, "c"),
		}
	})
}

// Option changes a run.
type Option interface{ apply(*config) }

type config struct{ skip map[string]string }

type skip struct{ law, reason string }

func (s skip) apply(c *config) { c.skip[s.law] = s.reason }

// Skip leaves a law out; the subtest prints the reason.
func Skip(law, reason string) Option { return skip{law, reason} }

// Run tries every law on drawn inputs, one subtest a law.
func Run(t *testing.T, c Codec, opts ...Option) {
	t.Helper()
	conf := config{map[string]string{}}
	for _, o := range opts {
		o.apply(&conf)
	}
	in := Inputs(c)
	for _, l := range Laws() {
		t.Run(l.Name, func(t *testing.T) {
			if why, ok := conf.skip[l.Name]; ok {
				t.Skip(why)
			}
			rapid.Check(t, func(t *rapid.T) {
				if err := l.Check(c, in.Draw(t, "in")); err != nil {
					t.Fatal(err)
				}
			})
		})
	}
}

// Check tries every law on the inputs and joins the violations. It needs no
// test.
func Check(c Codec, in ...Input) error {
	var all []error
	for _, l := range Laws() {
		for _, i := range in {
			all = append(all, l.Check(c, i))
		}
	}
	return errors.Join(all...)
}

// Fuzz tries every law on inputs that the fuzzer makes.
func Fuzz(f *testing.F, c Codec) {
	in := Inputs(c)
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) {
		i := in.Draw(t, "in")
		for _, l := range Laws() {
			if err := l.Check(c, i); err != nil {
				t.Fatal(err)
			}
		}
	}))
}

// Equivalent checks on drawn inputs that two codecs give the same bits and
// refuse the same texts, for instance a fast path against a plain one.
func Equivalent(t *testing.T, want, got Codec) {
	t.Helper()
	in := Inputs(want)
	rapid.Check(t, func(t *rapid.T) {
		i := in.Draw(t, "in")
		for _, s := range []string{join(i.Number, i.A), join(i.Value, i.A), join(i.Number, i.A+"x")} {
			v, err1 := want.Parse(s)
			w, err2 := got.Parse(s)
			if (err1 == nil) != (err2 == nil) || err1 == nil && !bits(v, w) {
				t.Fatalf("%q: %.17g, %v from %s, %.17g, %v from %s", s, v, err1, want.Name(), w, err2, got.Name())
			}
		}
		a, err1 := want.Text(i.Value)
		b, err2 := got.Text(i.Value)
		if a != b || (err1 == nil) != (err2 == nil) {
			t.Fatalf("%.17g: %q, %v from %s, %q, %v from %s", i.Value, a, err1, want.Name(), b, err2, got.Name())
		}
	})
}
