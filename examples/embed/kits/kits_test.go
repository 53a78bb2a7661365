package kits

import (
	"errors"
	"flag"
	"regexp"
	"strings"
	"testing"

	"example.org/pithball/units/lawtest"
)

// One seed, so that a run repeats.
func init() { _ = flag.Set("rapid.seed", "1") }

// hold returns what runs a kit on a right model and has it find the law that a wrong
// one breaks, with a counter-example that can be read.
func hold[M, I any](t *testing.T, kit lawtest.Kit[M, I]) func(right, wrong M, law string) {
	return func(right, wrong M, law string) {
		t.Helper()
		kit.Run(t, right)
		err := kit.Check(wrong)
		t.Logf("the wrong model:\n%v", err)
		for v := range violations(err) {
			if v.Law == law {
				readable(t, v)
				return
			}
		}
		t.Errorf("the wrong model should break the law %q: %v", law, err)
	}
}

// violations walks through joined errors.
func violations(err error) func(yield func(v *lawtest.Violation) bool) {
	return func(yield func(v *lawtest.Violation) bool) {
		all := []error{err}
		if j, ok := err.(interface{ Unwrap() []error }); ok {
			all = j.Unwrap()
		}
		for _, e := range all {
			var v *lawtest.Violation
			if errors.As(e, &v) && !yield(v) {
				return
			}
		}
	}
}

var numbers = regexp.MustCompile(`\d[\d.]*`)

// readable wants one named thing a line, and no number such as 2.718281828459045.
func readable(t *testing.T, v *lawtest.Violation) {
	t.Helper()
	if v.Says == "" || v.Source == "" || v.Model == "" || v.Got == "" || v.Want == "" {
		t.Errorf("it says too little:\n%v", v)
	}
	for l := range strings.SplitSeq(v.Input, "\n") {
		name, value, ok := strings.Cut(l, ": ")
		if !ok || name == "" || value == "" {
			t.Errorf("line %q of the input names nothing", l)
		}
		for _, n := range numbers.FindAllString(value, -1) {
			if digits := strings.Trim(strings.ReplaceAll(n, ".", ""), "0"); len(digits) > 6 {
				t.Errorf("line %q of the input has a number of %d digits", l, len(digits))
			}
		}
	}
}
