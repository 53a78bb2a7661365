package registry_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/examples/registry"
	"example.org/pithball/units/known"
)

// TestEntries: names are unique and complete, everything has a text and a source
// whose words agree with its kind, ranges are ranges, and every computation answers
// the ends and the middle of its ranges with numbers or an error of the registry's
// kind.
func TestEntries(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range registry.All() {
		if seen[e.Name] || !strings.Contains(e.Name, ".") {
			t.Errorf("%s: not a unique name of a package's computation", e.Name)
		}
		seen[e.Name] = true
		if e.Doc == "" || len(e.Results) == 0 || e.Eval == nil || e.Source.Provenance == 0 {
			t.Errorf("%s: no doc, results, computation or source", e.Name)
		}
		if err := e.Source.Check(e.Name); err != nil {
			t.Error(err)
		}
		for _, code := range e.Notices {
			if !slices.ContainsFunc(hazard.Notices(), func(id hazard.NoticeID) bool { return id.Code() == code }) {
				t.Errorf("%s: no notice has the code %q", e.Name, code)
			}
		}
		names := map[string]bool{}
		for _, a := range e.Args {
			if names[a.Name] || a.Unit == "" || a.Doc == "" || !(a.Low <= a.High) {
				t.Errorf("%s: argument %q is repeated or has no unit, text or range", e.Name, a.Name)
			}
			names[a.Name] = true
		}
		clear(names)
		for _, r := range e.Results {
			if names[r.Name] || r.Unit == "" || r.Doc == "" {
				t.Errorf("%s: result %q is repeated or has no unit or text", e.Name, r.Name)
			}
			names[r.Name] = true
		}
		res := make([]float64, len(e.Results))
		args := make([]float64, len(e.Args))
		for _, pick := range []func(lo, hi float64) float64{middle, func(lo, _ float64) float64 { return lo },
			func(_, hi float64) float64 { return hi }} {
			for i, a := range e.Args {
				if args[i] = pick(a.Low, a.High); len(a.Choices) > 0 {
					args[i] = a.Low
				} else if counts[a.Name] {
					args[i] = min(args[i], 1e4) // time grows with the number
				}
			}
			if err := e.Call(res, args); err == nil {
				continue
			} else if fe := (*known.FieldError)(nil); !errors.As(err, &fe) {
				t.Errorf("%s%v: %v is no field error", e.Name, args, err)
			}
		}
	}
	if len(seen) < 300 {
		t.Errorf("only %d computations", len(seen))
	}
}

// TestWrongArguments: whatever is wrong with an argument, the error is a
// known.FieldError that names the computation, the argument, the value with its unit
// and what is allowed, and the results stay as they were.
func TestWrongArguments(t *testing.T) {
	for _, e := range registry.All() {
		args := make([]float64, len(e.Args))
		for i, a := range e.Args {
			args[i] = a.Low
		}
		res := make([]float64, len(e.Results))
		for i := range res {
			res[i] = -7
		}
		refused := func(what, field, unit string, dst, args []float64) {
			err := e.Call(dst, args)
			var f *known.FieldError
			if !errors.As(err, &f) {
				t.Errorf("%s, %s: %v is no field error", field, what, err)
				return
			}
			if f.Field != field || f.Want == "" || !strings.HasSuffix(f.Value, unit) {
				t.Errorf("%s, %s: %v", field, what, err)
			}
			for _, x := range res {
				if x != -7 {
					t.Errorf("%s, %s: computed nevertheless", field, what)
				}
			}
		}
		if len(args) > 0 {
			refused("an argument too few", e.Name, "", res, args[1:])
		}
		refused("an argument too many", e.Name, "", res, append(slices.Clone(args), 0))
		refused("no room", e.Name, "", nil, args)
		for i, a := range e.Args {
			wrong := map[string]float64{"NaN": math.NaN(), "+Inf": math.Inf(1), "-Inf": math.Inf(-1)}
			if a.High < 1e300 {
				wrong["above"] = a.High + max(1, math.Abs(a.High))
			}
			if a.Low > -1e300 {
				wrong["below"] = a.Low - max(1, math.Abs(a.Low))
			}
			unit := " " + a.Unit
			if len(a.Choices) > 0 {
				wrong["between two choices"] = 0.5
				unit = ""
			}
			for what, x := range wrong {
				args[i] = x
				refused(what, e.Name+"."+a.Name, unit, res, args)
			}
			args[i] = a.Low
		}
	}
}

// counts are arguments that repeat work.
var counts = map[string]bool{"wraps": true, "sheets": true, "cells": true, "n": true}

func middle(lo, hi float64) float64 {
	switch {
	case lo > 0:
		return math.Sqrt(lo) * math.Sqrt(hi)
	case lo == 0:
		return min(1, hi/2)
	}
	return lo/2 + hi/2
}
