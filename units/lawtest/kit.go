package lawtest

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Kit is a set of laws with what is needed to try them.
type Kit[M, I any] struct {
	Laws []Law[M, I] // the cheapest first
	// Input draws where to try the model.
	Input func(d *Draw, m M) I
	// Models draws models that obey the laws, for [Kit.RunModels]; nil if there are none.
	Models func(d *Draw) M

	without map[string]string // law -> reason
}

// Without returns the kit without a law, for the reason that its subtest prints.
func (k Kit[M, I]) Without(law, reason string) Kit[M, I] {
	w := map[string]string{law: reason}
	for l, r := range k.without {
		w[l] = r
	}
	k.without = w
	return k
}

// of returns the kit with one model.
func (k Kit[M, I]) of(m M) Kit[M, I] {
	k.Models = func(*Draw) M { return m }
	return k
}

// examples is how many inputs Check draws for a law.
const examples = 200

// Check tries every law on the model and returns what it breaks, joined: each a
// [*Violation]. Without inputs it draws some, the same at each call, and gives the
// simplest that breaks the law. That no law could be tried is an error too. It
// needs no test.
func (k Kit[M, I]) Check(m M, in ...I) error {
	errs, tried := []error{k.unknown()}, 0
	for _, l := range k.Laws {
		if _, ok := k.without[l.Name]; ok {
			continue
		}
		var n tally
		if len(in) == 0 {
			if x := k.of(m).search(l, &n); x != nil {
				errs = append(errs, k.of(m).simplest(l, *x))
			}
		}
		for _, x := range in {
			if err := n.count(l.try(m, x)); err != nil {
				errs = append(errs, told(err, nameOf(m), fields(x)))
			}
		}
		tried += n.tried
		errs = append(errs, n.verdict(l.Name))
	}
	if tried == 0 {
		errs = append(errs, errors.New("lawtest: no law was tried"))
	}
	return errors.Join(errs...)
}

// Run tries every law on the model, one subtest a law.
func (k Kit[M, I]) Run(t *testing.T, m M) {
	t.Helper()
	k.of(m).RunModels(t)
}

// RunModels tries every law on the models that the kit draws.
func (k Kit[M, I]) RunModels(t *testing.T) {
	t.Helper()
	if err := k.unknown(); err != nil {
		t.Error(err)
	}
	for _, l := range k.Laws {
		t.Run(l.Name, func(t *testing.T) {
			t.Helper()
			if why, ok := k.without[l.Name]; ok {
				t.Skip(why)
			}
			switch n, err := k.attempt(t, l); {
			case err != nil:
				t.Fatal(err)
			case n.tried == 0:
				t.Skip(n.reason)
			case n.refused > 0:
				t.Logf("not tried at %d of %d inputs: %s", n.refused, n.refused+n.tried, n.reason)
			}
		})
	}
}

// Fuzz tries every law on the model where the native fuzzer leads.
func (k Kit[M, I]) Fuzz(f *testing.F, m M) { k.of(m).FuzzModels(f) }

// FuzzModels does so on the models that the kit draws.
func (k Kit[M, I]) FuzzModels(f *testing.F) {
	f.Helper()
	if err := k.unknown(); err != nil {
		f.Fatal(err)
	}
	f.Fuzz(rapid.MakeFuzz(func(t *rapid.T) {
		x := k.draw(&Draw{t: t})
		for _, l := range k.Laws {
			if _, ok := k.without[l.Name]; !ok && broken(l.try(x.m, x.in)) {
				t.Fatal(k.simplest(l, x))
			}
		}
	}))
}

// Prove returns an error unless each law can fail: it has a name of its own, a
// statement, a source, and a broken model that breaks it, not by a panic. It draws
// like [Kit.Check] and needs no test.
func (k Kit[M, I]) Prove() error {
	var errs []error
	fault := func(law, what string) { errs = append(errs, fmt.Errorf("law %q: %s", law, what)) }
	names := map[string]bool{}
	for _, l := range k.Laws {
		if l.Name == "" || l.Says == "" || l.Source == "" || names[l.Name] {
			fault(l.Name, "it needs a name of its own, a statement and a source")
		}
		names[l.Name] = true
		if reflect.ValueOf(&l.Broken).Elem().IsZero() {
			fault(l.Name, "no broken model")
			continue
		}
		var v *Violation
		if x := k.of(l.Broken).search(l, new(tally)); x == nil {
			fault(l.Name, "the broken model passes")
		} else if !errors.As(l.try(x.m, x.in), &v) {
			fault(l.Name, "the broken model passes at times")
		} else if v.Got == "" || v.Want == "" || fields(x.in) == "" || strings.HasPrefix(v.Got, "a panic") {
			fault(l.Name, "the broken model panics, or the violation says too little: "+v.Error())
		}
	}
	if len(k.Laws) == 0 {
		errs = append(errs, errors.New("lawtest: no laws"))
	}
	return errors.Join(errs...)
}

// unknown returns an error for a law that is left out but is not there.
func (k Kit[M, I]) unknown() error {
	for name := range k.without {
		if !slices.ContainsFunc(k.Laws, func(l Law[M, I]) bool { return l.Name == name }) {
			return fmt.Errorf("lawtest: no law %q to leave out", name)
		}
	}
	return nil
}

// trial is a model and an input, with what they were drawn from.
type trial[M, I any] struct {
	m     M
	in    I
	trail []choice
	split int // choices of the model
}

func (k Kit[M, I]) draw(d *Draw) trial[M, I] {
	var x trial[M, I]
	x.m = k.Models(d)
	x.split = len(d.trail)
	x.in = k.Input(d, x.m)
	x.trail = d.trail
	return x
}

// model is how the model of a trial appears: a drawn one with its choices.
func (x trial[M, I]) model() string {
	s := nameOf(x.m)
	for _, c := range x.trail[:x.split] {
		s += "\n\t" + c.name + ": " + c.text(c.value)
	}
	return s
}

// told completes a violation.
func told(err error, model, input string) error {
	v := *err.(*Violation)
	v.Model, v.Input = model, input
	return &v
}

// tally counts what inputs said about a law.
type tally struct {
	tried, refused, skipped int
	reason                  string
}

// count returns err if it is a violation.
func (n *tally) count(err error) error {
	u, ok := err.(*untried)
	switch {
	case !ok:
		n.tried++
		return err
	case u.refused:
		n.refused++
		n.reason = u.reason
	default:
		n.skipped++
		if n.refused == 0 {
			n.reason = u.reason
		}
	}
	return nil
}

// verdict is the error of a model that refused more than half.
func (n *tally) verdict(law string) error {
	if n.refused <= n.tried {
		return nil
	}
	return fmt.Errorf("%s: not tried at %d of %d inputs: %s", law, n.refused, n.refused+n.tried, n.reason)
}

// search draws examples until one breaks the law.
func (k Kit[M, I]) search(l Law[M, I], n *tally) *trial[M, I] {
	gen := rapid.Custom(func(t *rapid.T) trial[M, I] {
		rapid.Bool().Draw(t, "at least one draw")
		return k.draw(&Draw{t: t})
	})
	for i := range examples {
		x := gen.Example(i)
		if n.count(l.try(x.m, x.in)) != nil {
			return &x
		}
	}
	return nil
}

// simplest returns the violation at the simplest input that it finds, coming from
// x: it exchanges one number after the other for a rounder one while the law stays
// broken.
func (k Kit[M, I]) simplest(l Law[M, I], x trial[M, I]) error {
	err := l.try(x.m, x.in)
	if !broken(err) {
		err := l.violation("a violation, and none at the same input again", "the same each time")
		return told(err, x.model(), fields(x.in))
	}
	end := time.Now().Add(10 * time.Second)
	step := func(i int) bool { // simplifies choice i, if that still breaks the law
		for _, given := range x.trail[i].simpler(x.trail) {
			if time.Now().After(end) {
				return false
			}
			y := k.draw(&Draw{given: given})
			if e := l.try(y.m, y.in); broken(e) && len(y.trail) <= len(x.trail) {
				x, err = y, e
				return true
			}
		}
		return false
	}
	for again := true; again; {
		again = false
		for i := 0; i < len(x.trail); i++ {
			for i < len(x.trail) && step(i) {
				again = true
			}
		}
	}
	return told(err, x.model(), fields(x.in))
}

// attempt tries one law on drawn models and inputs under rapid.
func (k Kit[M, I]) attempt(t rapid.TB, l Law[M, I]) (n tally, err error) {
	var bad *trial[M, I]
	q := quiet{TB: t}
	q.check(func(t *rapid.T) {
		x := k.draw(&Draw{t: t})
		if err := n.count(l.try(x.m, x.in)); err != nil {
			bad = &x
			t.Fatal(err.(*Violation).Got)
		}
	})
	switch {
	case bad != nil:
		err = k.simplest(l, *bad)
		if _, again, ok := strings.Cut(q.text.String(), "To reproduce, specify "); ok {
			again, _, _ = strings.Cut(again, "\n")
			err = fmt.Errorf("%w\n\tagain: go test %s", err, again)
		}
		return n, err
	case q.failed: // while drawing
		return n, errors.New(q.text.String())
	}
	return n, n.verdict(l.Name)
}

// quiet runs a property and keeps what rapid would print: the caller prints less.
type quiet struct {
	rapid.TB
	text   strings.Builder
	failed bool
}

// stopped is the panic that ends a property early.
type stopped struct{}

func (q *quiet) check(property func(t *rapid.T)) {
	defer func() {
		if r := recover(); r != nil && r != (stopped{}) {
			panic(r)
		}
	}()
	rapid.Check(q, property)
}

// What rapid.Check calls.
func (q *quiet) Helper()                        {}
func (q *quiet) Log(a ...any)                   { fmt.Fprintln(&q.text, a...) }
func (q *quiet) Logf(format string, a ...any)   { fmt.Fprintf(&q.text, format+"\n", a...) }
func (q *quiet) Errorf(format string, a ...any) { q.Logf(format, a...); q.failed = true }
func (q *quiet) FailNow()                       { panic(stopped{}) }
func (q *quiet) Failed() bool                   { return q.failed }
