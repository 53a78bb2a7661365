package decaytest

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/decay"
	"example.org/pithball/units"
)

// Option changes what [Run], [Check] and [Fuzz] do.
type Option interface{ apply(*config) }

type config struct {
	skip map[string]string
	more []Law
}

type option func(*config)

func (o option) apply(c *config) { o(c) }

// Skip leaves out the statement of that name; the reason is printed by its
// subtest.
func Skip(law, reason string) Option {
	return option(func(c *config) { c.skip[law] = reason })
}

// With adds statements that do not hold for every law, such as [Memoryless].
func With(laws ...Law) Option {
	return option(func(c *config) { c.more = append(c.more, laws...) })
}

func configure(opts []Option) ([]Law, config) {
	c := config{skip: map[string]string{}}
	for _, o := range opts {
		o.apply(&c)
	}
	return append(Laws(), c.more...), c
}

// Inputs draws times over the whole domain, equal in ln t, now and then 0.
func Inputs(d Domain) *rapid.Generator[Input] {
	d = d.filled()
	lo, hi := math.Log(float64(d.MinTime)), math.Log(float64(d.MaxTime))
	return rapid.Custom(func(t *rapid.T) Input {
		in := Input{
			T:  units.Time(math.Exp(rapid.Float64Range(lo, hi).Draw(t, "ln T"))),
			DT: units.Time(math.Exp(rapid.Float64Range(lo, hi).Draw(t, "ln DT"))),
			Q:  rapid.Float64Range(1e-6, 1).Draw(t, "Q"),
		}
		if rapid.IntRange(0, 9).Draw(t, "at the start") == 0 {
			in.T = 0
		}
		return in
	})
}

// Run tries every statement on laws drawn from the generator, one subtest a
// statement.
func Run(t *testing.T, laws *rapid.Generator[decay.Law], d Domain, opts ...Option) {
	t.Helper()
	d = d.filled()
	list, c := configure(opts)
	for _, s := range list {
		t.Run(s.Name, func(t *testing.T) {
			if why, ok := c.skip[s.Name]; ok {
				t.Skip(why)
			}
			rapid.Check(t, func(t *rapid.T) {
				m := laws.Draw(t, "law")
				in := Inputs(d).Draw(t, "at")
				if err := s.Check(m, in, d); err != nil {
					t.Fatalf("%#v: %v (%s; %s)", m, err, s.Says, s.Source)
				}
			})
		})
	}
}

// Check tries every statement on one law at the inputs given and returns the
// violations, joined. It needs no test engine.
func Check(m decay.Law, d Domain, opts []Option, in ...Input) error {
	d = d.filled()
	list, c := configure(opts)
	var err error
	for _, s := range list {
		if _, ok := c.skip[s.Name]; ok {
			continue
		}
		for _, x := range in {
			err = errors.Join(err, s.Check(m, x, d))
		}
	}
	return err
}

// Fuzz makes a native fuzz target of the statements and a generator of laws.
func Fuzz(f *testing.F, laws *rapid.Generator[decay.Law], d Domain, opts ...Option) {
	d = d.filled()
	list, c := configure(opts)
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) {
		m := laws.Draw(t, "law")
		in := Inputs(d).Draw(t, "at")
		for _, s := range list {
			if _, ok := c.skip[s.Name]; ok {
				continue
			}
			if err := s.Check(m, in, d); err != nil {
				t.Fatalf("%#v: %v", m, err)
			}
		}
	}))
}

// Equivalent checks that two laws agree to the domain's RelTol, relative to the
// greater of both and 1e-12: a fast law against a slow one, or a law against its
// limit.
func Equivalent(t *testing.T, want, got decay.Law, d Domain) {
	t.Helper()
	d = d.filled()
	rapid.Check(t, func(t *rapid.T) {
		x := Inputs(d).Draw(t, "at").T
		a, b := want.Fraction(x), got.Fraction(x)
		if !(math.Abs(a-b) <= d.RelTol*math.Max(math.Abs(a), math.Abs(b))+1e-12) {
			t.Fatalf("at %v: got %g, want %g", x, b, a)
		}
	})
}
