package compute_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// switched is a value with methods of a pointer receiver, as models have them.
type switched struct{ on bool }

func newSwitched(on bool) switched { return switched{on} }

func (s *switched) not() bool                 { return !s.on }
func (s *switched) times(x float64) float64   { return map[bool]float64{false: 1, true: 2}[s.on] * x }
func (s *switched) both(x, y float64) float64 { return s.times(x) + y }
func (s *switched) fails(x float64) error {
	return map[bool]error{true: known.Wrong("x", x, "off")}[s.on && x > 5]
}
func (s *switched) other(x int) float64          { return float64(x) }
func ofNothing() float64                         { return 1 }
func (s switched) plain(x, y float64) [2]float64 { return [2]float64{x, y} }

// TestMadeOfPointers: methods of a pointer serve too, take all further parameters or the
// first of them, and a bool is a number as well.
func TestMadeOfPointers(t *testing.T) {
	e := compute.Of("S", compute.Made(newSwitched, (*switched).not, (*switched).times, (*switched).both,
		(*switched).fails, switched.plain), source, "on; x 0…9; y 0…9", "-> not; times; both; pair#")
	for _, c := range []struct{ args, want []float64 }{
		{[]float64{0, 3, 4}, []float64{1, 3, 7, 3, 4}},
		{[]float64{1, 3, 4}, []float64{0, 6, 10, 3, 4}},
	} {
		got := make([]float64, len(c.want))
		if err := e.Call(got, c.args); err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v, %v", c.args, got, c.want, err)
		}
	}
	var fe *known.FieldError
	if err := e.Call(make([]float64, 5), []float64{1, 6, 4}); !errors.As(err, &fe) || fe.Field != "x" {
		t.Errorf("a method's error: %v", err)
	}
	if got := e.Args[0].Choices; !slices.Equal(got, []string{"no", "yes"}) {
		t.Errorf("choices %q", got)
	}
	for what, made := range map[string]func(){
		"no method":    func() { compute.Made(newSwitched, math.Sqrt) },
		"no receiver":  func() { compute.Made(newSwitched, ofNothing) },
		"a other type": func() { compute.Made(newSwitched, (*switched).times, (*switched).other) },
	} {
		func() {
			defer func() {
				if p, _ := recover().(string); !strings.HasPrefix(p, "compute.Made: ") {
					t.Errorf("%s: %q", what, p)
				}
			}()
			made()
		}()
	}
}

// TestParseOfOneChoice: an argument with a single name reads that name and no other; a
// flag that stands for a number reads from its text.
func TestParseOfOneChoice(t *testing.T) {
	a := compute.Arg{Name: "in", Unit: "1", Choices: []string{"m"}}
	if v, err := a.Parse("m"); err != nil || v != 0 {
		t.Errorf("%v, %v", v, err)
	}
	if _, err := a.Parse("km"); err == nil {
		t.Error("km is taken")
	}
}

// TestOpenRanges: a number without a range has that of all numbers that are written.
func TestOpenRanges(t *testing.T) {
	e := compute.Of("F", func(x float64) float64 { return x }, source, "x 0…1", "-> y")
	if y := e.Results[0]; y.Low != -1e308 || y.High != 1e308 {
		t.Errorf("%g … %g", y.Low, y.High)
	}
	// No parameter, and no result but an error.
	none := compute.Of("N", func() float64 { return 7 }, source, "-> y")
	got := make([]float64, 1)
	if err := none.Call(got, nil); err != nil || got[0] != 7 || len(none.Args) != 0 {
		t.Errorf("%v, %v", got, err)
	}
	fails := compute.Of("E", func(x float64) error { return known.Positive("x", x) }, source, "x -1…1")
	if err := fails.Call(nil, []float64{1}); err != nil || len(fails.Results) != 0 {
		t.Error(err)
	}
	if fails.Call(nil, []float64{-1}) == nil {
		t.Error("an error is lost")
	}
}

// code has names like numbers and parentheses, which are names all the same.
type code uint8

func (c code) String() string {
	return []string{"A(1", "(2)x", "3)", "(a)", "B(", "code(5)"}[min(int(c), 5)]
}

// TestNamesThatLookLikeNone: only the type and its number in parentheses end the names.
func TestNamesThatLookLikeNone(t *testing.T) {
	e := compute.Of("F", func(c code) float64 { return float64(c) }, source, "c", "-> x")
	if got := e.Args[0].Choices; !slices.Equal(got, []string{"A(1", "(2)x", "3)", "(a)", "B("}) {
		t.Errorf("%q", got)
	}
}

// TestEndedCalls: the end of a context is told as it is, whatever a function wraps it in;
// another error beside it, an error without it, and an end that nobody heeded are not it.
func TestEndedCalls(t *testing.T) {
	other := errors.New("another")
	for _, c := range []struct {
		what string
		f    func(ctx context.Context, stop func()) error
		is   error // nil for none
		bare bool  // it is the error of the context itself
	}{
		{"wrapped", func(ctx context.Context, stop func()) error { stop(); return fmt.Errorf("at 3: %w", ctx.Err()) },
			context.Canceled, true},
		{"another at the end", func(_ context.Context, stop func()) error { stop(); return other }, other, false},
		{"another", func(context.Context, func()) error { return other }, other, false},
		{"one of its own", func(context.Context, func()) error { return context.Canceled }, context.Canceled, false},
		{"not heeded", func(_ context.Context, stop func()) error { stop(); return nil }, nil, false},
		{"none", func(context.Context, func()) error { return nil }, nil, false},
	} {
		ctx, stop := context.WithCancel(t.Context())
		e := compute.Of("L", func(ctx context.Context, x float64) (float64, error) { return 2 * x, c.f(ctx, stop) }, source,
			"x 0…9", "-> y")
		got := make([]float64, 1)
		err := e.CallContext(ctx, got, []float64{3})
		var fe *known.FieldError
		if c.is != nil && !c.bare && (!errors.As(err, &fe) || fe.Field != "L" || !strings.Contains(fe.Want, c.is.Error())) ||
			(err == context.Canceled) != c.bare || (err == nil) != (c.is == nil) ||
			err == nil && got[0] != 6 {
			t.Errorf("%s: %v, %v", c.what, got, err)
		}
		stop()
	}
	// Where only one of both ways is declared, it is taken.
	both := compute.Entry{Name: "demo.Both", Args: []compute.Arg{{Name: "a", Low: 0, High: 1}},
		Eval: func(_, _ []float64) error { return other }}
	if err := both.Call(nil, []float64{0.5}); err == nil || !strings.Contains(err.Error(), other.Error()) {
		t.Error(err)
	}
	both.Eval, both.EvalContext = nil, func(context.Context, []float64, []float64) error { return nil }
	if err := both.Call(nil, []float64{0.5}); err != nil {
		t.Error(err)
	}
	// No infinite argument, whatever the range says.
	both.Args[0].Low, both.Args[0].High = math.Inf(-1), math.Inf(1)
	if both.Call(nil, []float64{math.Inf(-1)}) == nil || both.Call(nil, []float64{math.Inf(1)}) == nil {
		t.Error("an infinite argument")
	}
	both.Args[0].Low, both.Args[0].High = 0, 1
	// A function of a context alone has no argument.
	alone := compute.Of("C", func(ctx context.Context) (float64, error) { return 7, ctx.Err() }, source, "-> y")
	got := make([]float64, 1)
	if err := alone.Call(got, nil); err != nil || got[0] != 7 || alone.EvalContext == nil {
		t.Errorf("%v, %v", got, err)
	}
	// A single choice is chosen by 0 alone.
	both.Args[0].Choices = []string{"m"}
	if err := both.Call(nil, []float64{0}); err != nil {
		t.Error(err)
	}
	if both.Call(nil, []float64{1}) == nil || both.Call(nil, []float64{0.5}) == nil {
		t.Error("a choice that is not there")
	}
}
