package known_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestBand compares quantiles with those of another implementation (normal, lognormal,
// uniform; at 0.05 and 0.95), which prints 16 digits.
func TestBand(t *testing.T) {
	for _, c := range []struct {
		b      known.Band
		lo, hi float64
	}{
		{known.Band{Value: 10, Spread: 2, Kind: known.Normal}, 6.710292746097054, 13.289707253902945},
		{known.Band{Value: 3, Spread: 0.5, Kind: known.LogNormal}, 1.3180923147824772, 6.828049825542951},
		{known.Band{Value: -3, Spread: 0.5, Kind: known.LogNormal}, -6.828049825542951, -1.3180923147824772},
		{known.Band{Value: 0, Spread: 1, Kind: known.Uniform}, -0.9, 0.9},
		{known.Band{Value: 7, Kind: known.Exact}, 7, 7},
		{known.Band{Value: 7, Kind: known.AtLeast}, 7, math.Inf(1)},
	} {
		lo, hi := c.b.Limits()
		if !(math.Abs(lo-c.lo) <= 1e-14*math.Abs(c.b.Value+1)*10) || hi != c.hi &&
			!(math.Abs(hi-c.hi) <= 1e-14*math.Abs(c.b.Value+1)*10) {
			t.Errorf("%v: limits %.16g, %.16g, want %.16g, %.16g", c.b, lo, hi, c.lo, c.hi)
		}
		if got := c.b.At(0); got != c.b.Value {
			t.Errorf("%v: median %g", c.b, got)
		}
		if got := c.b.At(math.NaN()); !math.IsNaN(got) {
			t.Errorf("%v: At(NaN) = %g", c.b, got)
		}
		if err := c.b.Check("x"); err != nil {
			t.Errorf("%v: %v", c.b, err)
		}
	}
	if !(math.Abs(0.5*math.Erfc(-known.Z95/math.Sqrt2)-0.95) <= 1e-15) {
		t.Error("Z95 is not the score of 95 %")
	}
}

// TestBandAt: one deviation above the median by hand: 10 + 2, 3·e^0.5, 1·erf(1/√2) = 0.682689;
// nothing of an exact value and of a limit.
func TestBandAt(t *testing.T) {
	for _, c := range []struct {
		b    known.Band
		want float64
	}{
		{known.Band{Value: 10, Spread: 2, Kind: known.Normal}, 12},
		{known.Band{Value: 3, Spread: 0.5, Kind: known.LogNormal}, 3 * math.Exp(0.5)},
		{known.Band{Value: 4, Spread: 1, Kind: known.Uniform}, 4.682689},
		{known.Band{Value: 7, Kind: known.Exact}, 7}, {known.Band{Value: 7, Kind: known.AtLeast}, 7},
	} {
		if got := c.b.At(1); !(math.Abs(got-c.want) <= 1e-6) {
			t.Errorf("%v at 1: %g, want %g", c.b, got, c.want)
		}
	}
}

func TestBandCheck(t *testing.T) {
	for _, c := range []struct {
		b     known.Band
		field string
	}{
		{known.Band{Value: math.NaN()}, "x"},
		{known.Band{Value: math.Inf(1)}, "x"},
		{known.Band{Value: math.Inf(-1)}, "x"},
		{known.Band{Value: 1, Spread: -1, Kind: known.Normal}, "x.spread"},
		{known.Band{Value: 1, Spread: math.NaN(), Kind: known.Normal}, "x.spread"},
		{known.Band{Value: 1, Spread: math.Inf(1), Kind: known.Uniform}, "x.spread"},
		{known.Band{Value: 1, Spread: 1, Kind: 9}, "x.kind"},
		{known.Band{Value: 1, Spread: 1}, "x.spread"},
		{known.Band{Value: 1, Spread: 1, Kind: known.AtLeast}, "x.spread"},
		{known.Band{Value: 0, Spread: 1, Kind: known.LogNormal}, "x"},
	} {
		var fe *known.FieldError
		if err := c.b.Check("x"); !errors.As(err, &fe) || fe.Field != c.field || fe.Want == "" {
			t.Errorf("%v: %v, want an error for %s", c.b, err, c.field)
		}
	}
}

func TestRanges(t *testing.T) {
	const gap = units.Millimetre
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	for _, c := range []struct {
		name string
		ok   bool
		err  error
	}{
		{"in range", true, known.InRange("gap", 3*gap, 1*gap, 5*gap)},
		{"at the low end", true, known.InRange("gap", 1*gap, 1*gap, 5*gap)},
		{"at the high end", true, known.InRange("gap", 5*gap, 1*gap, 5*gap)},
		{"above", false, known.InRange("gap", 6*gap, 1*gap, 5*gap)},
		{"below", false, known.InRange("gap", 0, 1*gap, 5*gap)},
		{"NaN", false, known.InRange("gap", nan, 1*gap, 5*gap)},
		{"Inf within Inf", false, known.InRange("gap", inf, 1*gap, inf)},
		{"−Inf within −Inf", false, known.InRange("gap", -inf, -inf, 5*gap)},
		{"positive", true, known.Positive("gap", gap)}, {"zero", false, known.Positive[units.Length]("gap", 0)},
		{"NaN", false, known.Positive("gap", nan)}, {"Inf", false, known.Positive("gap", inf)},
		{"not negative", true, known.NotNegative[units.Length]("gap", 0)},
		{"negative", false, known.NotNegative("gap", -gap)}, {"NaN", false, known.NotNegative("gap", nan)},
		{"Inf", false, known.NotNegative("gap", inf)},
		{"finite", true, known.Finite("gap", -gap)}, {"NaN", false, known.Finite("gap", nan)},
		{"Inf", false, known.Finite("gap", -inf)},
	} {
		var fe *known.FieldError
		if c.ok != (c.err == nil) || c.err != nil &&
			(!errors.As(c.err, &fe) || fe.Field != "gap" || fe.Value == "" || fe.Want == "") {
			t.Errorf("%s: %v", c.name, c.err)
		}
	}
	err := known.InRange("roller.radius", 6*gap, 1*gap, 5*gap)
	if got, want := err.Error(), "roller.radius: 6 mm: want 1 mm … 5 mm"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := known.Wrong("name", "", "a name").Error(); got != "name: nothing given: want a name" {
		t.Error(got)
	}
	joined := errors.Join(known.Positive("a", -gap), known.Positive("b", -gap))
	var fe *known.FieldError
	if !errors.As(joined, &fe) || !strings.Contains(joined.Error(), "b: -1 mm") {
		t.Error(joined)
	}
}

// TestNames writes and reads the names of the enumerations.
func TestNames(t *testing.T) {
	for p := known.Unstated; p <= known.Demo; p++ {
		b, err := p.MarshalText()
		var q known.Provenance
		if back := q.UnmarshalText(b); err != nil || back != nil || q != p {
			t.Errorf("%v reads back as %v, %v", p, q, back)
		}
	}
	for k := known.Exact; k <= known.AtLeast; k++ {
		b, err := k.MarshalText()
		var q known.BandKind
		if back := q.UnmarshalText(b); err != nil || back != nil || q != k {
			t.Errorf("%v reads back as %v, %v", k, q, back)
		}
	}
	if known.Provenance(99).String() != "Provenance(99)" || known.BandKind(99).String() != "BandKind(99)" {
		t.Error("names of unknown values")
	}
	for v := range 256 {
		v := known.Validity(v)
		b, err := v.MarshalText()
		if unknown := v&1 != 0 || v > 127; unknown != (err != nil) {
			t.Errorf("%d is written %q, %v", v, b, err)
		}
		q := known.Validity(1)
		if err == nil {
			if back := q.UnmarshalText(b); back != nil || q != v {
				t.Errorf("%q reads back as %d, %v; want %d", b, q, back, v)
			}
		}
	}
	flags := known.Estimate
	if err := flags.UnmarshalText([]byte("a lower limit, nonsense")); err == nil || flags != known.Estimate {
		t.Errorf("read as %v, %v", flags, err)
	}
	if got := known.Validity(129).String(); got != "Validity(129)" {
		t.Error(got)
	}
	var s known.Source
	if err := json.Unmarshal([]byte(`{"provenance":"hearsay"}`), &s); err == nil {
		t.Error("hearsay is a provenance")
	}
	b, err := json.Marshal(known.Source{Provenance: known.Published, Cite: "X"})
	if err != nil || string(b) != `{"provenance":"published","cite":"X"}` {
		t.Errorf("%s, %v", b, err)
	}
}

// TestSourceCheck: a source says what it rests on, and its words agree with it.
func TestSourceCheck(t *testing.T) {
	const work = "A. Author, A work, 1990"
	for _, c := range []struct {
		s     known.Source
		field string // "" for none
	}{
		{known.Source{Provenance: known.Published, Cite: work}, ""},
		{known.Source{Provenance: known.Published, Cite: work, Note: "abstract"}, ""},
		{known.Source{Provenance: known.Quoted, Cite: work, Via: "B. Other, Handbook, 2000"}, ""},
		{known.Source{Provenance: known.Definition, Cite: work}, ""},
		{known.Source{Provenance: known.Computed, Cite: "closed form, recomputed in decimals"}, ""},
		{known.Source{Provenance: known.CommonPractice}, ""},
		{known.Source{Provenance: known.Memory, Cite: work, Note: "not compared with the source"}, ""},
		{known.Source{Provenance: known.Memory, Note: "a range of the trade"}, ""},
		{known.Source{Provenance: known.Published, Note: "abstract"}, "x.cite"},
		{known.Source{Cite: work}, "x.provenance"},
		{known.Source{Provenance: 99, Cite: work}, "x.provenance"},
		{known.Source{Provenance: known.Published}, "x.cite"},
		{known.Source{Provenance: known.Memory}, "x.cite"},
		{known.Source{Provenance: known.Quoted, Cite: work}, "x.via"},
		{known.Source{Provenance: known.Published, Cite: work, Via: "B. Other"}, "x.via"},
		{known.Source{Provenance: known.Published, Cite: work, Note: "read second-hand"}, "x.provenance"},
		{known.Source{Provenance: known.Published, Cite: "a work as Quoted by another"}, "x.provenance"},
		{known.Source{Provenance: known.Published, Cite: work + ", the number recomputed"}, "x.provenance"},
		{known.Source{Provenance: known.Memory, Cite: work, Note: "recalled, 88 % sure"}, "x.note"},
		{known.Source{Provenance: known.Memory, Cite: work, Note: "from memory"}, "x.note"},
	} {
		var fe *known.FieldError
		if err := c.s.Check("x"); c.field == "" != (err == nil) || err != nil &&
			(!errors.As(err, &fe) || fe.Field != c.field) {
			t.Errorf("%+v: %v, want %q", c.s, err, c.field)
		}
	}
}

// TestProvenancesAreListed: who gave none is told which there are.
func TestProvenancesAreListed(t *testing.T) {
	s := known.Source{Cite: "a work"}
	const want = "one of definition, published, quoted, computed, common practice, memory, demo"
	var fe *known.FieldError
	if err := s.Check("x"); !errors.As(err, &fe) || fe.Want != want {
		t.Errorf("%v, want %s", err, want)
	}
}

func TestValidity(t *testing.T) {
	if known.Inside.String() != "inside the published range" {
		t.Error(known.Inside)
	}
	all := known.BelowRange | known.AboveRange | known.WrongShape | known.Unpublished | known.LowerLimit | known.Estimate
	if n := len(strings.Split(all.String(), ", ")); n != 6 {
		t.Errorf("%d flags in %q", n, all)
	}
	seen := known.Inside
	for _, v := range []known.Validity{known.BelowRange, known.AboveRange, known.WrongShape, known.Unpublished,
		known.LowerLimit, known.Estimate} {
		if v == 0 || seen&v != 0 {
			t.Errorf("%v shares a bit", v)
		}
		seen |= v
	}
}

func FuzzProvenance(f *testing.F) {
	for _, s := range []string{"published", "common practice", "unstated", "", "Published", "Provenance(3)",
		known.BelowRange.String() + ", " + known.Estimate.String(), known.Validity(0).String()} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p := known.Memory
		if err := p.UnmarshalText([]byte(s)); err == nil && p.String() != s || err != nil && p != known.Memory {
			t.Fatalf("%q gives %v, %v", s, p, err)
		}
		v := known.LowerLimit
		if err := v.UnmarshalText([]byte(s)); err != nil && v != known.LowerLimit {
			t.Fatalf("%q gives %v, %v", s, v, err)
		} else if err == nil {
			text, err := v.MarshalText()
			var back known.Validity
			if err != nil || back.UnmarshalText(text) != nil || back != v {
				t.Fatalf("%q: %v prints %q, %v, which reads %v", s, v, text, err, back)
			}
		}
		k := known.Uniform
		if err := k.UnmarshalText([]byte(s)); err == nil && k.String() != s || err != nil && k != known.Uniform {
			t.Fatalf("%q gives %v, %v", s, k, err)
		}
	})
}
