package chargetest

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Law is one statement that holds for every model M at every input I.
type Law[M, I any] struct {
	Name   string                // stable; the name of the subtest
	Says   string                // the statement, as a relation
	Source string                // why it holds
	Check  func(m M, in I) error // nil, or a *Violation
}

// Violation is a law that a model breaks; errors.As finds it.
type Violation struct {
	Law  string    // name of the law
	In   any       // input at which it is broken
	Got  []float64 // [SI] what the model gave
	Want string    // the relation that should hold
}

// Error returns the law, the input, the values and the relation.
func (v *Violation) Error() string {
	return fmt.Sprintf("%s at %+v: got %.17g, want %s", v.Law, v.In, v.Got, v.Want)
}

// broken returns a violation if ok is false; NaN makes comparisons false, so it
// breaks a law.
func broken(ok bool, law string, in any, want string, got ...float64) error {
	if ok {
		return nil
	}
	return &Violation{Law: law, In: in, Got: got, Want: want}
}

// Option changes a run.
type Option struct{ skip, reason string }

// Skip leaves a law out; the reason is printed by its subtest.
func Skip(law, reason string) Option { return Option{law, reason} }

func skipped(opts []Option, law string) (string, bool) {
	for _, o := range opts {
		if o.skip == law {
			return o.reason, true
		}
	}
	return "", false
}

// Run tries every law on drawn models and inputs, one subtest a law.
func Run[M, I any](t *testing.T, laws []Law[M, I], models *rapid.Generator[M], inputs *rapid.Generator[I], opts ...Option) {
	for _, l := range laws {
		t.Run(l.Name, func(t *testing.T) {
			if why, ok := skipped(opts, l.Name); ok {
				t.Skip(why)
			}
			rapid.Check(t, func(t *rapid.T) {
				m, in := models.Draw(t, "model"), inputs.Draw(t, "input")
				if err := l.Check(m, in); err != nil {
					t.Fatalf("%s: %v", l.Says, err)
				}
			})
		})
	}
}

// Check tries every law on one model at the given inputs without a test engine,
// and joins all violations.
func Check[M, I any](laws []Law[M, I], m M, in ...I) error {
	var errs []error
	for _, l := range laws {
		for _, x := range in {
			errs = append(errs, l.Check(m, x))
		}
	}
	return errors.Join(errs...)
}

// Fuzz lets the native fuzzer draw models and inputs.
func Fuzz[M, I any](f *testing.F, laws []Law[M, I], models *rapid.Generator[M], inputs *rapid.Generator[I]) {
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) {
		m, in := models.Draw(t, "model"), inputs.Draw(t, "input")
		for _, l := range laws {
			if err := l.Check(m, in); err != nil {
				t.Fatalf("%s: %v", l.Says, err)
			}
		}
	}))
}

func finite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
