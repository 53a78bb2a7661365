package compute_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// length stands for a quantity of package units, which imports compute.
type length float64

func (length) SI() string { return "m" }

type shape uint8

func (s shape) String() string {
	if s < 2 {
		return []string{"thin", "thick"}[s]
	}
	return "shape(9)"
}

type spec struct {
	Width length
	Shape shape
}

type bar struct{ s spec }

func newBar(s spec) (bar, error) {
	if s.Width == 3 {
		return bar{}, errors.New("three is odd")
	}
	return bar{s}, nil
}

func (b bar) half() length                { return b.s.Width / 2 }
func (b bar) at(x length) (length, shape) { return b.s.Width + x, b.s.Shape }
func (b bar) near(x length, up bool) (float64, error) {
	if !up {
		return 0, known.Wrong("up", up, "true")
	}
	return float64(x), nil
}

var source = known.Source{Provenance: known.Computed, Cite: "by hand"}

func TestOf(t *testing.T) {
	e := compute.Of("Bar", compute.Made(newBar, bar.half, bar.at, bar.near), source,
		"= Demo.", "! felt-shock",
		"width 0…10=2: of the bar; shape=thick: of its face", "x -1…1: place; up: direction",
		"-> half: of the width; sum: of both; shape: back; near [1/m] 0…1: x")
	want := []compute.Arg{
		{Name: "width", Unit: "m", Doc: "of the bar", Low: 0, High: 10, Default: ptr(2)},
		{Name: "shape", Unit: "1", Doc: "of its face", High: 1, Choices: []string{"thin", "thick"}, Default: ptr(1)},
		{Name: "x", Unit: "m", Doc: "place", Low: -1, High: 1},
		{Name: "up", Unit: "1", Doc: "direction", High: 1, Choices: []string{"no", "yes"}},
	}
	for i, a := range e.Args {
		w := want[i]
		if a.Name != w.Name || a.Unit != w.Unit || a.Doc != w.Doc || a.Low != w.Low || a.High != w.High ||
			!slices.Equal(a.Choices, w.Choices) || (a.Default == nil) != (w.Default == nil) || a.Default != nil &&
			*a.Default != *w.Default {
			t.Errorf("argument %d: %+v, want %+v", i, a, w)
		}
	}
	if r := e.Results; len(r) != 4 || r[0].Unit != "m" || r[2].Unit != "1" || r[3].Unit != "1/m" || r[3].High != 1 {
		t.Errorf("results %+v", r)
	}
	if e.Doc != "Demo." || !slices.Equal(e.Notices, []string{"felt-shock"}) {
		t.Errorf("%q, %q", e.Doc, e.Notices)
	}
	got := make([]float64, 4)
	if err := e.Call(got, []float64{4, 1, 0.5, 1}); err != nil || !slices.Equal(got, []float64{2, 4.5, 1, 0.5}) {
		t.Errorf("%v, %v", got, err)
	}
	var fe *known.FieldError
	if err := e.Call(got, []float64{4, 1, 0.5, 0}); !errors.As(err, &fe) || fe.Field != "up" || !math.IsNaN(got[0]) {
		t.Errorf("a method's error: %v, %v", err, got)
	}
	if err := e.Call(got, []float64{3, 1, 0.5, 1}); !errors.As(err, &fe) || fe.Field != "Bar" {
		t.Errorf("a constructor's error: %v", err)
	}
}

func ptr(x float64) *float64 { return &x }

// TestOfStops: a context is no argument; it reaches the function, and its end is the error of the call.
func TestOfStops(t *testing.T) {
	e := compute.Of("Long", func(ctx context.Context, x length) (length, error) { return 2 * x, ctx.Err() }, source,
		"x 0…1 -> twice")
	got := make([]float64, 1)
	if err := e.Call(got, []float64{0.5}); err != nil || got[0] != 1 || len(e.Args) != 1 {
		t.Errorf("%v, %v, %d arguments", got, err, len(e.Args))
	}
	ctx, cancel := context.WithCancel(t.Context())
	if err := e.EvalContext(ctx, got, []float64{0.25}); err != nil || got[0] != 0.5 {
		t.Errorf("%v, %v", got, err)
	}
	cancel()
	if err := e.EvalContext(ctx, got, []float64{0.25}); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	short := compute.Of("Short", func(x length) length { return x }, source, "x 0…1 -> same")
	for _, x := range []*compute.Entry{&e, &short} {
		if err := x.CallContext(ctx, got, []float64{0.25}); err != context.Canceled {
			t.Errorf("%s: %v", x.Name, err)
		}
	}
	if short.EvalContext != nil {
		t.Error("a short computation takes a context")
	}
}

// TestOfFlattens: an array of structs needs one item for each number of an element.
func TestOfFlattens(t *testing.T) {
	type reading struct{ T, V float64 }
	e := compute.Of("Sum", func(first length, r [3]reading, last float64) (s [2]float64) {
		s[0] += last
		for _, x := range r {
			s[0] += x.T
			s[1] += x.V
		}
		return s
	}, source, "first 0…1; t# [s] 0…9: time; v# [V] 0…9: reading; _", "-> sum#")
	var names []string
	for _, a := range append(e.Args, e.Results...) {
		names = append(names, a.Name)
	}
	if got := strings.Join(names, " "); got != "first t1 v1 t2 v2 t3 v3 sum1 sum2" {
		t.Error(got)
	}
	got := make([]float64, 2)
	if err := e.Call(got, []float64{0, 1, 2, 3, 4, 5, 6}); err != nil || got[0] != 9 || got[1] != 12 {
		t.Error(got, err)
	}
}

func TestOfRefuses(t *testing.T) {
	f := func(a length, b float64) float64 { return b }
	for name, items := range map[string][]string{
		"2 items for 2":   nil,
		"no range":        {"a 0…1; b", "-> c"},
		"the type says m": {"a [s] 0…1; b 0…1", "-> c"},
		"default is not":  {"a 0…1=2; b 0…1", "-> c"},
		"is no number":    {"a 0…x; b 0…1", "-> c"},
		"a second ->":     {"a 0…1; b 0…1", "-> c -> d"},
		"is not \"name":   {"A 0…1; b 0…1", "-> c"},
		"2 items for 1":   {"a 0…1; b 0…1", "-> c; d"},
		"3 items for 2":   {"a 0…1; b 0…1; c 0…1", "-> c"},
	} {
		if name == "2 items for 2" {
			name = "0 items for 2"
		}
		func() {
			defer func() {
				if p, _ := recover().(string); !strings.Contains(p, name) || !strings.HasPrefix(p, `compute.Of("F"): `) {
					t.Errorf("%q: %q", name, p)
				}
			}()
			compute.Of("F", f, source, items...)
		}()
	}
}

func TestList(t *testing.T) {
	f := func(a float64) float64 { return a }
	list := compute.List("demo", "Same\tThe same number.\nOther\tNever.\n", []compute.Entry{
		compute.Of("Same", f, source, "a 0…1", "-> b"), compute.Of("Own", f, source, "= Own words.", "a 0…1", "-> b")})
	if list[0].Name != "demo.Same" || list[0].Doc != "The same number." || list[1].Doc != "Own words." {
		t.Errorf("%+v", list)
	}
}

// TestOfConcurrent: an entry is used from many goroutines.
func TestOfConcurrent(t *testing.T) {
	e := compute.Of("Sum", func(a, b length) length { return a + b }, source, "a 0…1e9; b 0…1e9", "-> c")
	done := make(chan bool)
	for g := range 4 {
		go func() {
			got := make([]float64, 1)
			for i := range 1000 {
				if err := e.Call(got, []float64{float64(g * i), float64(i)}); err != nil || got[0] != float64(g*i+i) {
					t.Error(got, err)
				}
			}
			done <- true
		}()
	}
	for range 4 {
		<-done
	}
}

func BenchmarkOf(b *testing.B) {
	sum := func(a, b length) length { return a + b }
	got, args := make([]float64, 1), []float64{0.25, 0.5}
	for name, e := range map[string]compute.Entry{
		"reflected": compute.Of("Sum", sum, source, "a 0…1; b 0…1", "-> c"),
		"direct":    compute.Of21("Sum", sum, source, "a 0…1; b 0…1", "-> c"),
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				_ = e.Call(got, args)
			}
		})
	}
}

func (l *length) UnmarshalText(b []byte) error {
	switch string(b) {
	case "25 mm":
		*l = 0.025
		return nil
	}
	return errors.New("unknown unit")
}

// TestParse: text becomes a number only where it has one meaning.
func TestParse(t *testing.T) {
	e := compute.Of("F", func(l length, s shape, plain float64) known.Validity { return known.AboveRange }, source,
		"l 0…9; s; plain 0…1", "-> validity")
	for _, c := range []struct {
		arg  int
		text string
		want float64
	}{{0, "25 mm", 0.025}, {1, "thick", 1}, {1, "thin", 0}} {
		if v, err := e.Args[c.arg].Parse(c.text); err != nil || v != c.want {
			t.Errorf("%q: %v, %v", c.text, v, err)
		}
	}
	for _, c := range []struct {
		arg        int
		text, want string
	}{{0, "25", "a number in m"}, {0, "", "a number in m"}, {1, "1", "thin, thick"}, {1, "Thin", "thin, thick"},
		{2, "0.5", "a number in 1"}} {
		var fe *known.FieldError
		v, err := e.Args[c.arg].Parse(c.text)
		if !errors.As(err, &fe) || fe.Field != e.Args[c.arg].Name || !strings.Contains(fe.Want, c.want) || !math.IsNaN(v) {
			t.Errorf("%q: %v, %v", c.text, v, err)
		}
	}
	if f := e.Results[0].Flags; len(f) < 6 || f[0] != "" || f[2] != known.AboveRange.String() ||
		f[5] != known.LowerLimit.String() {
		t.Errorf("flags %q", f)
	}
}

type grade uint8

func (g grade) String() string { return map[grade]string{0: "clear", 1: "matt"}[g] }

// TestChoicesEnd: names end where a type has no more of them.
func TestChoicesEnd(t *testing.T) {
	e := compute.Of("F", func(g grade) float64 { return float64(g) }, source, "g", "-> x")
	if c := e.Args[0].Choices; !slices.Equal(c, []string{"clear", "matt"}) || e.Args[0].High != 1 {
		t.Errorf("%q", c)
	}
}
