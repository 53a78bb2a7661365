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

// TestEntries: names are unique and complete, everything has a text, ranges are
// ranges, and every computation answers the ends and the middle of its ranges
// with finite numbers or an error of the registry's kind, and NaN with an error.
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
		for i := range args {
			args[i] = math.NaN()
			if err := e.Call(res, args); err == nil {
				t.Errorf("%s accepts NaN for %s", e.Name, e.Args[i].Name)
			}
			args[i] = middle(e.Args[i].Low, e.Args[i].High)
		}
	}
	if len(seen) < 300 {
		t.Errorf("only %d computations", len(seen))
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
