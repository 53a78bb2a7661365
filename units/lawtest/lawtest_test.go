package lawtest

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/units"
)

func init() {
	_ = flag.Set("rapid.seed", "1") // a run repeats
	_ = flag.Set("rapid.nofailfile", "true")
}

// drag is a toy: the force on a body in a stream.
type drag func(v units.Speed, a units.Area) units.Force

type stream struct {
	Speed  units.Speed
	Area   units.Area
	Air    units.Temperature
	Blades int
	Turns  int
	Gusts  []units.Speed
	Side   string
}

func square(v units.Speed, a units.Area) units.Force {
	return units.Force(0.6 * float64(v) * math.Abs(float64(v)) * float64(a))
}

var odd = Law[drag, stream]{
	Name: "odd", Says: "F(−v) = −F(v)", Source: "the body has no front",
	Check: func(m drag, in stream) error {
		a, b := m(in.Speed, in.Area), m(-in.Speed, in.Area)
		return That(a == -b, "opposite forces", a, b)
	},
	Broken: func(v units.Speed, a units.Area) units.Force { return units.Force(float64(v) * float64(v)) },
}

func toy(laws ...Law[drag, stream]) Kit[drag, stream] {
	return Kit[drag, stream]{
		Laws: laws,
		Input: func(d *Draw, _ drag) stream {
			in := stream{Speed: EitherSign(d, "speed", 1e-3*units.MetrePerSecond, 100*units.MetrePerSecond),
				Area:   Decades(d, "area", units.Area(1e-6), units.Area(10)),
				Air:    Between(d, "air", units.Celsius(-20), units.Celsius(60)),
				Blades: d.Int("blades", 2, 9), Turns: d.Int("turns", -99, 99), Side: Pick(d, "side", "left", "right")}
			in.Gusts = List(d, "gust", 0, 5, func(i int) units.Speed {
				return Between(d, "gust", 0, 50*units.MetrePerSecond) + units.Speed(d.Int("squall", 0, i))
			})
			if d.Bool("more") {
				in.Blades++
			}
			return in
		},
		Models: func(d *Draw) drag {
			c := Between(d, "coefficient", 0.1, 2)
			return func(v units.Speed, a units.Area) units.Force { return units.Force(c * float64(square(v, a))) }
		},
	}
}

func TestRight(t *testing.T) {
	k := toy(odd)
	if err := errors.Join(k.Prove(), k.Check(square), k.Check(square, stream{Speed: 3, Area: 1})); err != nil {
		t.Error(err)
	}
	k.Run(t, square)
	k.RunModels(t)
}

// law returns a law whose check answers as told.
func law(check func(in stream) error) Law[drag, stream] {
	return Law[drag, stream]{Name: "law", Says: "s", Source: "w", Broken: square,
		Check: func(_ drag, in stream) error { return check(in) }}
}

// limit breaks from a threshold on, so that there is a least input that breaks it.
func limit(from float64, of func(in stream) float64) Law[drag, stream] {
	return law(func(in stream) error { return That(of(in) < from, "less", of(in)) })
}

// TestShort: what breaks a law is told with round numbers in the printed units.
func TestShort(t *testing.T) {
	speed := func(in stream) float64 { return float64(in.Speed) }
	air := func(in stream) float64 { return in.Air.Celsius() }
	for _, c := range []struct {
		law  Law[drag, stream]
		want string // of 1 m/s, 1 m², 0 °C, 2 blades, left
		rare bool
	}{
		{limit(-1, func(stream) float64 { return 0 }), "", false},
		{limit(2.71, speed), "Speed: 10 m/s", false},
		{limit(17.3, func(in stream) float64 { return -speed(in) }), "Speed: -100 m/s", false},
		{limit(28.05, air), "Air: 30 °C", false},
		{limit(-0.95, func(in stream) float64 { return -math.Abs(air(in) - 33) }), "Air: 33 °C", true},
		{limit(7, func(in stream) float64 { return float64(in.Blades) }), "Blades: 7", false},
		{limit(37, func(in stream) float64 { return float64(in.Turns) }), "Turns: 37", false},
		{limit(37, func(in stream) float64 { return -float64(in.Turns) }), "Turns: -37", false},
		{limit(37, func(in stream) float64 { return float64(slices.Max(append(in.Gusts, 0))) }), "Gusts: [40 m/s]", false},
	} {
		field, _, _ := strings.Cut(c.want, ":")
		var want []string
		for l := range strings.SplitSeq("Speed: 1 m/s,Area: 1 m²,Air: 0 °C,Blades: 2,Turns: 0,Gusts: [],Side: left", ",") {
			if c.want != "" && strings.HasPrefix(l, field) {
				l = c.want
			}
			want = append(want, l)
		}
		k := toy(c.law)
		var v *Violation
		if err := k.Check(square); !errors.As(err, &v) || v.Input != strings.Join(want, "\n") {
			t.Errorf("Check: got %v, want %q", err, want)
		}
		_, err := k.of(square).attempt(t, c.law)
		if !c.rare && (!errors.As(err, &v) || v.Input != strings.Join(want, "\n")) {
			t.Errorf("Run: got %v, want %q", err, want)
		}
	}
}

// TestTold: one thing a line; a drawn model with what it was drawn from; the same
// at each call.
func TestTold(t *testing.T) {
	l := odd
	l.Check = func(m drag, in stream) error { return That(m(1, 1) < 0.5, "less than 0.5 N", m(1, 1)) }
	k := toy(l)
	const rest = "\n\tSpeed: 1 m/s\n\tArea: 1 m²\n\tAir: 0 °C\n\tBlades: 2\n\tTurns: 0\n\tGusts: []\n\tSide: left" +
		"\n\tgot: 600 mN\n\twant: less than 0.5 N"
	const start = "odd: F(−v) = −F(v)\n\twhy: the body has no front\n\tmodel: lawtest."
	for range 2 {
		if err := k.Check(square); err == nil || err.Error() != start+"square"+rest {
			t.Errorf("got %q", err)
		}
	}
	_, err := k.attempt(t, l)
	want := start + "drag\n\t\tcoefficient: 1" + rest + "\n\tagain: go test -run=\"TestTold\" -rapid.seed="
	if err == nil || !strings.HasPrefix(err.Error(), want) {
		t.Errorf("got %q\nwant %q", err, want)
	}
}

func TestFields(t *testing.T) {
	type inner struct {
		X    units.Length
		Note string
		F    []float64
	}
	in := struct {
		A  *inner
		B  []inner
		C  any
		D  func()
		E  error
		no int
	}{&inner{X: 1}, []inner{{}, {Note: "n", F: []float64{1, 2}}}, 2 * units.Volt, func() {}, nil, 1}
	const want = "A.X: 1 m\nB[1].Note: n\nB[1].F: [1 2]\nC: 2 V\nD: func()\nE: <nil>"
	if got := fields(in); got != want {
		t.Errorf("got %q\nwant %q", got, want)
	}
	if got := fields(3 * units.Volt); got != "3 V" {
		t.Errorf("got %q", got)
	}
	if got := fields(struct{}{}); got != "struct {}" {
		t.Errorf("got %q", got)
	}
}

// TestNeverAPass: what was not tried does not pass for tried.
func TestNeverAPass(t *testing.T) {
	every := func(n int) func(stream) error { // refuses all but every n-th
		i := 0
		return func(stream) error {
			if i++; i%n == 0 {
				return nil
			}
			return Refused(errors.New("too cold"))
		}
	}
	for name, c := range map[string]struct {
		kit  Kit[drag, stream]
		want string
	}{
		"skipped":      {toy(law(func(stream) error { return Skip("no gap") })), "no law was tried"},
		"left out":     {toy(odd).Without("odd", "known"), "no law was tried"},
		"unknown":      {toy(odd).Without("even", "known"), `no law "even" to leave out`},
		"refused":      {toy(law(every(3))), "not tried at 134 of 200 inputs: the model refused: too cold"},
		"no laws":      {toy(), "no law was tried"},
		"other errors": {toy(law(func(stream) error { return errors.New("oops") })), "got: oops"},
		"panic":        {toy(law(func(stream) error { panic("bang") })), "got: a panic in lawtest_test.go:"},
	} {
		if err := c.kit.Check(square); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", name, err, c.want)
		}
	}
	if err := toy(law(every(2))).Check(square); err != nil {
		t.Error(err)
	}
	if Refused(nil) != nil {
		t.Error("no error is a refusal")
	}
	once := true
	err := toy(law(func(stream) error { once = !once; return That(once, "w", 1) })).Check(square)
	if err == nil || !strings.Contains(err.Error(), "none at the same input again") {
		t.Errorf("a law that breaks now and then: %v", err)
	}
}

// TestProofBites: a law that cannot fail, or says nothing, is found.
func TestProofBites(t *testing.T) {
	without := func(f func(l *Law[drag, stream])) Kit[drag, stream] { l := odd; f(&l); return toy(l) }
	for name, k := range map[string]Kit[drag, stream]{
		"no broken model":         without(func(l *Law[drag, stream]) { l.Broken = nil }),
		"the broken model passes": without(func(l *Law[drag, stream]) { l.Broken = square }),
		"the broken model panics": without(func(l *Law[drag, stream]) {
			l.Broken = func(units.Speed, units.Area) units.Force { panic(1) }
		}),
		"a name of its own":        toy(odd, odd),
		"a statement and a source": without(func(l *Law[drag, stream]) { l.Source = "" }),
		"no laws":                  toy(),
	} {
		if err := k.Prove(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: got %v", name, err)
		}
	}
	// A broken model that refuses breaks nothing.
	if err := toy(law(func(stream) error { return Refused(errors.New("no")) })).Prove(); err == nil {
		t.Error("a refusal proves a law")
	}
}

func TestSkips(t *testing.T) {
	k := toy(odd, law(func(stream) error { return Skip("the model has no rate") }))
	k = k.Without("odd", "proves that Without leaves out")
	k.Run(t, square)
	if n, err := k.attempt(t, k.Laws[1]); err != nil || n.tried != 0 || n.reason != "the model has no rate" {
		t.Errorf("got %+v, %v", n, err)
	}
}

// TestDrawFails: what goes wrong while drawing fails the run.
func TestDrawFails(t *testing.T) {
	k := toy(odd)
	k.Input = func(d *Draw, _ drag) stream { d.Bool("b"); panic("a bad kit") }
	if _, err := k.attempt(t, odd); err == nil || !strings.Contains(err.Error(), "a bad kit") {
		t.Errorf("got %v", err)
	}
}

// TestRanges: what is drawn, and what takes its place, is in range.
func TestRanges(t *testing.T) {
	all := func(d *Draw) []bool {
		a, b := Between(d, "a", 2.5, 9), Decades(d, "b", units.Length(1e-6), 1e-3)
		c := EitherSign(d, "c", units.Volt, 1e3*units.Volt)
		return []bool{a >= 2.5 && a <= 9, b >= 1e-6 && b <= 1e-3, math.Abs(float64(c)) >= 1 && math.Abs(float64(c)) <= 1e3}
	}
	rapid.Check(t, func(r *rapid.T) {
		d := &Draw{t: r}
		got := fmt.Sprint(all(d))
		for _, c := range d.trail {
			for _, v := range c.rounder() {
				got += fmt.Sprint(all(&Draw{given: map[key]float64{c.key: v}}))
				if !c.ok(v) || c.rank(v) >= c.rank(c.value) {
					t.Errorf("%s: %v for %v", c.name, c.text(v), c.text(c.value))
				}
			}
		}
		got += fmt.Sprint(all(&Draw{given: map[key]float64{{"", "a", 0}: 17, {"", "c", 0}: 0.5}}))
		if strings.Contains(got, "false") {
			t.Error(got)
		}
	})
}

func FuzzToy(f *testing.F) { toy(odd).FuzzModels(f) }

// made is what a constructor made: nothing of it is exported.
type made struct{ from spec }

type spec struct{ Gap units.Length }

func (m made) Spec() spec { return m.from }

// TestFieldsOfMade: a counter-example with something that a constructor made shows what it was made from.
func TestFieldsOfMade(t *testing.T) {
	in := struct{ A, B made }{A: made{spec{2}}}
	if got, want := fields(in), "A.Gap: 2 m\nB: lawtest.spec"; got != want {
		t.Errorf("got %q\nwant %q", got, want)
	}
}

type (
	none    struct{}
	other   struct{}
	pointed struct{}
)

func (other) Rate() int                   { return 0 }
func (*pointed) Rate(units.Time) float64  { return 0 }
func (none) Other(units.Time) (x float64) { return x }

// TestLacks: a method of another signature, or of the pointer, is told and not passed over.
func TestLacks(t *testing.T) {
	const want = "Rate(t units.Time) float64"
	for _, c := range []struct {
		model any
		got   string
	}{{none{}, ""}, {nil, ""}, {other{}, "a method Rate of type func(lawtest.other) int"},
		{&other{}, "a method Rate of type func(*lawtest.other) int"},
		{pointed{}, "a method Rate of *lawtest.pointed, which a lawtest.pointed has not: " +
			"func(*lawtest.pointed, units.Time) float64"}} {
		var v *Violation
		if errors.As(Lacks(c.model, want), &v) != (c.got != "") || v != nil && v.Got != c.got {
			t.Errorf("%T: got %v, want %q", c.model, Lacks(c.model, want), c.got)
		}
	}
}

// TestNames: a method as a model has the name that it has in the source.
func TestNames(t *testing.T) {
	if got := nameOf(made{}.Spec); got != "lawtest.made.Spec" {
		t.Errorf("got %q", got)
	}
}
