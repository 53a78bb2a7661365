// Package compute is the registry of public computations: what a package can
// compute, from which arguments in which units and ranges, and where the law
// comes from. The scoreboard (examples/validate) and the notebook wrapper
// (examples/notebook) call every computation through it, so that neither needs
// a second list. Each physics package exports its own list as Computations().
package compute

import (
	"context"
	"encoding"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"example.org/pithball/units/known"
)

// Arg is one argument or one result of a computation.
type Arg struct {
	Name string  `json:"name"`          // lower case with underscores, unique in its entry
	Unit string  `json:"unit"`          // SI unit of the number, "1" for a ratio
	Doc  string  `json:"doc,omitempty"` // what it is
	Low  float64 `json:"low"`           // [Unit] least accepted value; -Inf is written as -1e308
	High float64 `json:"high"`          // [Unit] greatest accepted value
	// Choices names the values of an argument that selects; the number is then
	// the index 0, 1, …
	Choices []string `json:"choices,omitempty"`
	// Default is what a caller who gives nothing means; nil for an argument that must be given.
	Default *float64 `json:"default,omitempty"` // [Unit]
	// Flags names the bits of a result that is a set of flags, the lowest first; a bit
	// that means nothing has an empty name. No bit set means inside the published range.
	Flags []string `json:"flags,omitempty"`

	typ reflect.Type // of the Go parameter; nil where the entry was not made by [Of]
}

// Parse reads a value from text as a person writes it: the name of a choice, or a
// number with its unit ("25 mm" for a length). The result is in [Arg.Unit]; its range
// is not checked, [Entry.Call] does that. Errors are [*known.FieldError]s.
func (a *Arg) Parse(s string) (float64, error) { // [Unit]
	if len(a.Choices) > 0 {
		for i, c := range a.Choices {
			if c == s {
				return float64(i), nil
			}
		}
		return math.NaN(), known.Wrong(a.Name, strconv.Quote(s), "one of "+strings.Join(a.Choices, ", "))
	}
	if a.typ != nil {
		v := reflect.New(a.typ)
		if u, ok := v.Interface().(encoding.TextUnmarshaler); ok {
			if err := u.UnmarshalText([]byte(s)); err != nil {
				return math.NaN(), known.Wrong(a.Name, strconv.Quote(s), "a number in "+a.Unit+", or text: "+err.Error())
			}
			return getNumber(v.Elem()), nil
		}
	}
	return math.NaN(), known.Wrong(a.Name, strconv.Quote(s), "a number in "+a.Unit)
}

// validityFlags names the bits of [known.Validity].
func validityFlags() []string {
	names := []string{""} // the lowest bit is not in use
	for bit := known.BelowRange; bit <= known.Estimate; bit <<= 1 {
		names = append(names, bit.String())
	}
	return names
}

// Entry is one public computation.
type Entry struct {
	Name    string       `json:"name"`              // "package.Computation", as Go names it
	Doc     string       `json:"doc"`               // one sentence and the equation
	Args    []Arg        `json:"args"`              // in the order of Eval
	Results []Arg        `json:"results"`           // in the order of Eval
	Source  known.Source `json:"source"`            // of the law
	Notices []string     `json:"notices,omitempty"` // codes of the hazard notices that belong to every result
	// Eval computes results from args, both in SI units and in the order of Args
	// and Results. It keeps neither slice. It is never called with a wrong
	// length or with an argument outside its range: see [Entry.Call].
	Eval func(results, args []float64) error `json:"-"`
	// EvalContext is Eval for a computation that can take longer than 0.2 s: it ends soon
	// after ctx does, with the error of ctx. nil for all others.
	EvalContext func(ctx context.Context, results, args []float64) error `json:"-"`
}

// Call checks the arguments and computes the results into dst, which must have
// len(Results). Errors are [*known.FieldError]s that name the argument.
func (e *Entry) Call(dst, args []float64) error { // [see Results, Args]
	return e.CallContext(context.Background(), dst, args)
}

// CallContext is Call that computes no longer than ctx lasts; its error is then that of ctx. A computation without
// EvalContext is short and runs to its end once it has begun.
func (e *Entry) CallContext(ctx context.Context, dst, args []float64) error { // [see Results, Args]
	if err := ctx.Err(); err != nil {
		return err
	}
	if e.Eval == nil && e.EvalContext == nil {
		return known.Wrong("entry", strconv.Quote(e.Name), "one that Of or Made declares")
	}
	if len(args) != len(e.Args) {
		return known.Wrong(e.Name, fmt.Sprintf("%d arguments", len(args)), fmt.Sprintf("%d", len(e.Args)))
	}
	if len(dst) != len(e.Results) {
		return known.Wrong(e.Name, fmt.Sprintf("room for %d results", len(dst)), fmt.Sprintf("%d", len(e.Results)))
	}
	for i := range e.Args {
		a := &e.Args[i]
		if v := args[i]; !(v >= a.Low && v <= a.High) || math.IsInf(v, 0) {
			return known.Wrong(e.Name+"."+a.Name, fmt.Sprintf("%g %s", v, a.Unit),
				fmt.Sprintf("%g … %g %s", a.Low, a.High, a.Unit))
		}
		if n := len(a.Choices); n > 0 && (args[i] != math.Trunc(args[i]) || int(args[i]) >= n) {
			return known.Wrong(e.Name+"."+a.Name, args[i], fmt.Sprintf("a whole number below %d (%v)", n, a.Choices))
		}
	}
	var err error
	if e.EvalContext != nil {
		err = e.EvalContext(ctx, dst, args)
		if stopped := ctx.Err(); err != nil && stopped != nil && errors.Is(err, stopped) {
			return stopped
		}
	} else {
		err = e.Eval(dst, args)
	}
	if err != nil {
		return e.named(err, args)
	}
	return nil
}

// named is err as one that names a field.
func (e *Entry) named(err error, args []float64) error {
	var fe *known.FieldError
	if errors.As(err, &fe) {
		return err
	}
	return known.Wrong(e.Name, fmt.Sprint(args), "other arguments: "+err.Error())
}

// Find returns the entry of that name, nil if there is none.
func Find(list []Entry, name string) *Entry {
	for i := range list {
		if list[i].Name == name {
			return &list[i]
		}
	}
	return nil
}
