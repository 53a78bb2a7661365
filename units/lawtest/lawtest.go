// Package lawtest is the engine of the property checks of this library: it tries
// laws, which are plain functions that return an error, on models at drawn inputs,
// and tells a broken law with the shortest input that breaks it. The packages
// charge/chargetest, decay/decaytest, humidity/humiditytest, ionflow/ionflowtest,
// line/linetest and units/unitstest hold the laws. All are used in one way, by one
// call on a kit:
//
//	func TestMyContact(t *testing.T) { chargetest.Contacts().Run(t, mine) }
//
//	err := chargetest.Contacts().Check(mine) // the same without a test
//
// A kit is open: append laws of your own to Kit.Laws, or make one with models and
// inputs of your own; see [Kit].
//
// [Kit.Run] draws with pgregory.net/rapid: the flag -rapid.checks=N sets how many
// inputs a law gets, -rapid.seed=N repeats a run. [Kit.Check] draws the same inputs
// each time. The package registers the flags of rapid and imports testing: import
// it from tests only.
package lawtest

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"slices"
	"strings"
)

// Law is one statement that holds for every model M at every input I.
type Law[M, I any] struct {
	Name   string // stable; the name of the subtest
	Says   string // the statement in one line, as a relation
	Source string // why it holds
	// Check returns nil if the model obeys the law at the input, the error of [That]
	// if it breaks it, or that of [Skip] or [Refused] if the input says nothing. Any
	// other error, and a panic, is a broken law.
	Check func(m M, in I) error
	// Broken is a model that breaks this law, to prove that the law can fail.
	Broken M
}

// Violation is a law that a model breaks; errors.As finds it.
type Violation struct {
	Law    string // name of the law
	Says   string // its statement
	Source string // why it holds
	Model  string // the model: its type, or its text if it has one; a drawn one with what it was drawn from
	Input  string // where it breaks, one field a line with its unit
	Got    string // what the model gave
	Want   string // what the law asks
}

// Error returns the law, the model, the input, got and want, one a line.
func (v *Violation) Error() string {
	return fmt.Sprintf("%s: %s\n\twhy: %s\n\tmodel: %s\n%s\n\tgot: %s\n\twant: %s", v.Law, v.Says, v.Source,
		indent(v.Model), "\t"+indent(v.Input), v.Got, v.Want)
}

func indent(s string) string { return strings.ReplaceAll(s, "\n", "\n\t") }

// That returns nil if ok, else a violation: got is what the model gave, quantities
// with their units, errors if there are any. A comparison with NaN is false, so write what must hold, not
// what must not.
func That(ok bool, want string, got ...any) error {
	if ok {
		return nil
	}
	var texts []string
	for _, g := range got {
		if g != nil {
			texts = append(texts, fmt.Sprint(g))
		}
	}
	return &Violation{Got: strings.Join(texts, ", "), Want: want}
}

// Total returns nil if the first is finite and all others are NaN: what a function
// without errors makes of finite arguments, and of NaN in one after the other.
func Total[T ~float64](finite T, nan ...T) error {
	ok := !math.IsNaN(float64(finite)) && !math.IsInf(float64(finite), 0)
	got := []any{finite}
	for _, x := range nan {
		ok = ok && math.IsNaN(float64(x))
		got = append(got, x)
	}
	return That(ok, "a finite value, and NaN for NaN in each argument", got...)
}

// untried is the error of an input that says nothing about a law.
type untried struct {
	reason  string
	refused bool
}

func (u *untried) Error() string { return u.reason }

// Skip returns the error of a law that does not apply to this model or input. A law
// that never applied is skipped with the reason, not passed.
func Skip(reason string) error { return &untried{reason: reason} }

// Lacks returns the error of a law about a method that model does not have as want asks, for example
// "TimeTo(f float64) (units.Time, error)": [Skip] if model has none of that name, a violation if it has one of
// another signature, or has it on its pointer only, which would else be passed over without a word.
func Lacks(model any, want string) error {
	name, _, _ := strings.Cut(want, "(")
	if t := reflect.TypeOf(model); t != nil {
		if m, ok := t.MethodByName(name); ok {
			return &Violation{Got: "a method " + name + " of type " + m.Type.String(), Want: want}
		}
		if m, ok := reflect.PointerTo(t).MethodByName(name); ok {
			return &Violation{Got: "a method " + name + " of *" + t.String() + ", which a " + t.String() + " has not: " +
				m.Type.String(), Want: want + ", or the pointer given to the kit"}
		}
	}
	return Skip("it has no method " + want)
}

// Refused returns the error of a law whose model gives no answer at this input, or
// nil for nil. A model may refuse inputs, up to half of those tried.
func Refused(err error) error {
	if err == nil {
		return nil
	}
	return &untried{"the model refused: " + err.Error(), true}
}

// try checks the law at one input: nil, *untried or *Violation.
func (l Law[M, I]) try(m M, in I) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = l.violation(fmt.Sprintf("a panic%s: %v", where(), r), "no panic")
		}
	}()
	err = l.Check(m, in)
	var u *untried
	var v *Violation
	switch {
	case err == nil:
		return nil
	case errors.As(err, &v):
		return l.violation(v.Got, v.Want)
	case errors.As(err, &u):
		return u
	}
	return l.violation(err.Error(), "no error")
}

func (l Law[M, I]) violation(got, want string) error {
	return &Violation{Law: l.Name, Says: l.Says, Source: l.Source, Got: got, Want: want}
}

// where names the line that panicked: the first outside the runtime, seen from a
// deferred function.
func where() string {
	var pc [16]uintptr
	frames := runtime.CallersFrames(pc[:runtime.Callers(3, pc[:])])
	for {
		f, more := frames.Next()
		if !strings.HasPrefix(f.Function, "runtime.") && f.File != "" {
			return fmt.Sprintf(" in %s:%d", f.File[strings.LastIndexByte(f.File, '/')+1:], f.Line)
		}
		if !more {
			return ""
		}
	}
}

func broken(err error) bool {
	_, ok := err.(*Violation)
	return ok
}

// nameOf is how a given model appears in a violation.
func nameOf(m any) string {
	switch m := m.(type) {
	case fmt.Stringer:
		return m.String()
	case interface{ Name() string }:
		return m.Name()
	}
	if v := reflect.ValueOf(m); v.Kind() == reflect.Func {
		name := runtime.FuncForPC(v.Pointer()).Name()
		if name = name[strings.LastIndexByte(name, '/')+1:]; !strings.Contains(name, ".func") { // no closure
			return strings.TrimSuffix(name, "-fm") // which the compiler adds to a method as a function
		}
	}
	return fmt.Sprintf("%T", m)
}

// fields writes a value, a struct with one exported field a line. Inside nested
// structs and slices, what is zero is left out.
func fields(in any) string {
	var lines []string
	var walk func(name string, v reflect.Value, top bool)
	walk = func(name string, v reflect.Value, top bool) {
		if !top && v.IsZero() {
			return
		}
		at := func(more string) string { return strings.TrimPrefix(name+more, ".") }
		text, isText := v.Interface().(fmt.Stringer)
		switch {
		case isText && !(v.Kind() == reflect.Pointer && v.IsNil()):
			lines = append(lines, at(": ")+text.String())
		case v.Kind() == reflect.Pointer && !v.IsNil():
			walk(name, v.Elem(), top)
		case v.Kind() == reflect.Interface && !v.IsNil(): // which of them it is
			before, is := len(lines), at(": ")+v.Elem().Type().String()
			if walk(name, v.Elem(), true); len(lines) > before+1 {
				lines = slices.Insert(lines, before, is)
			}
		case v.Kind() == reflect.Struct:
			// What a constructor made tells what it was made from.
			if m := v.MethodByName("Spec"); m.IsValid() && m.Type().NumIn() == 0 && m.Type().NumOut() == 1 &&
				m.Type().Out(0).Kind() == reflect.Struct {
				walk(name, m.Call(nil)[0], top)
				return
			}
			before := len(lines)
			for i := range v.NumField() {
				if f := v.Type().Field(i); f.IsExported() {
					walk(name+"."+f.Name, v.Field(i), name == "")
				}
			}
			if len(lines) == before {
				lines = append(lines, at(": ")+v.Type().String())
			}
		case v.Kind() == reflect.Slice && v.Len() > 0 && v.Type().Elem().Kind() != reflect.Float64:
			for i := range v.Len() {
				walk(fmt.Sprintf("%s[%d]", name, i), v.Index(i), false)
			}
		case v.Kind() == reflect.Func:
			lines = append(lines, at(": ")+v.Type().String())
		default:
			lines = append(lines, fmt.Sprintf("%s%v", at(": "), v.Interface()))
		}
	}
	walk("", reflect.ValueOf(in), true)
	return strings.TrimPrefix(strings.Join(lines, "\n"), ": ")
}
