package testdata

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// Outcome is one row with what pithball makes of it.
type Outcome struct {
	Row       *Row    // the row itself
	Got       float64 // [SI] the row's result; NaN if it names none or cannot be computed
	Low, High float64 // [SI] the band of a measured row with one, else −Inf and +Inf
	Err       error   // why the row cannot be computed
}

// Evaluate computes the row through the registry list. The row must give every
// argument of the computation and no other.
func (r *Row) Evaluate(list []compute.Entry) Outcome {
	o := Outcome{Row: r, Got: math.NaN(), Low: math.Inf(-1), High: math.Inf(1)}
	o.Err = o.evaluate(list)
	return o
}

func (o *Outcome) evaluate(list []compute.Entry) error {
	r := o.Row
	e := compute.Find(list, r.Compute)
	if e == nil {
		return known.Wrong("compute", r.Compute, "the name of a public computation")
	}
	args, out := make([]float64, len(e.Args)), make([]float64, len(e.Results))
	for i := range e.Args {
		v, ok := r.Args[e.Args[i].Name]
		if !ok {
			return known.Wrong("args", e.Args[i].Name, "a value for every argument of "+r.Compute)
		}
		args[i] = v
	}
	if len(r.Args) != len(args) {
		want := fmt.Sprintf("the %d arguments of %s and no others", len(args), r.Compute)
		return known.Wrong("args", fmt.Sprint(r.Args), want)
	}
	if err := e.Call(out, args); err != nil {
		return err
	}
	pick := func(field, name string, dst *float64) error {
		i := slices.IndexFunc(e.Results, func(a compute.Arg) bool { return a.Name == name })
		if name == "" {
			return nil
		}
		if i < 0 {
			return known.Wrong(field, name, "a result of "+r.Compute)
		}
		*dst = out[i]
		return nil
	}
	err := pick("result", r.Result, &o.Got)
	if m := r.Measured; m != nil {
		err = errors.Join(err, pick("measured.low", m.Low, &o.Low), pick("measured.high", m.High, &o.High))
		if err == nil && m.banded() && !o.sound() {
			err = known.Wrong("measured", fmt.Sprintf("band %g … %g", o.Low, o.High), "finite ends, low below high")
		}
	}
	return err
}

// sound reports whether the ends that the row names are finite and in order.
func (o *Outcome) sound() bool {
	m := o.Row.Measured
	finite := func(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
	return (m.Low == "" || finite(o.Low)) && (m.High == "" || finite(o.High)) && o.Low <= o.High
}

// Inside reports whether the computation meets the row: the measured value lies
// in the model's band, which the tolerance widens, or without a band the result
// lies within the tolerance.
func (o *Outcome) Inside() bool {
	if o.Err != nil {
		return false
	}
	r := o.Row
	if r.Measured != nil && r.Measured.banded() {
		return o.Low-r.slack() <= r.Want && r.Want <= o.High+r.slack()
	}
	return r.Pass(o.Got)
}

// Fault returns what is wrong with the outcome, nil if nothing is: a row that
// cannot be computed, a row that is missed (also one that proves nothing: who
// doubts its value drops it), a gate row outside that gives no reason, or one
// inside that still gives a reason. A context row is only asked to compute.
func (o *Outcome) Fault() error {
	r := o.Row
	switch {
	case o.Err != nil:
		return fmt.Errorf("%s (%s): cannot compute: %w", r.ID, r.What, o.Err)
	case r.Measured == nil && !o.Inside():
		return fmt.Errorf("%s (%s): got %.12g, want %.12g, relative error %.2g, tolerances %g·|want| + %g (%s); %s",
			r.ID, r.What, o.Got, r.Want, o.Got/r.Want-1, r.RelTol, r.AbsTol, r.TolWhy, r.Source.Cite)
	case r.Gate() && !o.Inside() && r.Measured.KnownDisagreement == "":
		return fmt.Errorf("%s (%s): measured %.6g lies outside %s: mend the model or say why in known_disagreement; %s",
			r.ID, r.What, r.Want, o.expected(), r.Source.Cite)
	case r.Gate() && o.Inside() && r.Measured.KnownDisagreement != "":
		return fmt.Errorf("%s (%s): measured %.6g lies inside %s, but known_disagreement says %q: remove it",
			r.ID, r.What, r.Want, o.expected(), r.Measured.KnownDisagreement)
	}
	return nil
}

// expected says where the model puts a measured value.
func (o *Outcome) expected() string {
	r := o.Row
	if r.Measured != nil && r.Measured.banded() {
		return fmt.Sprintf("the band %.6g … %.6g (widened by %.3g)", o.Low, o.High, r.slack())
	}
	return fmt.Sprintf("%.6g ± %.3g", o.Got, r.slack())
}

// Verdict says in a few words what came of the row.
func (o *Outcome) Verdict() string {
	r, in := o.Row, o.Inside()
	pick := func(yes, no string) string {
		if in {
			return yes
		}
		return no
	}
	switch {
	case o.Err != nil:
		return "cannot compute: " + o.Err.Error()
	case r.Gate() && r.Measured.KnownDisagreement != "":
		return pick("INSIDE, reason out of date", "outside, known")
	case r.Gate():
		return pick("inside", "OUTSIDE")
	case r.Measured != nil:
		return pick("inside (context)", "outside (context)")
	case r.Proof():
		return pick("met", "MISSED")
	}
	return pick("agrees (no proof)", "MISSED")
}
