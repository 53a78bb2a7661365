package enum_test

import (
	"errors"
	"testing"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units/known"
)

type pet uint8

var pets = []string{1: "cat", 2: "dog"}

func TestNames(t *testing.T) {
	for v, want := range []string{"pet(0)", "cat", "dog", "pet(3)"} {
		if got := enum.Name("pet", pets, pet(v)); got != want {
			t.Errorf("%d: %q, want %q", v, got, want)
		}
		text, err := enum.Write("pet", pets, pet(v))
		var f *known.FieldError
		if named := v == 1 || v == 2; named != (err == nil) || named && string(text) != want ||
			!named && (!errors.As(err, &f) || f.Field != "pet" || f.Want != "one of cat, dog") {
			t.Errorf("%d is written %q, %v", v, text, err)
		}
	}
	for text, want := range map[string]pet{"cat": 1, "dog": 2, "": 9, "cow": 9, "pet(1)": 9, "Cat": 9} {
		got := pet(9)
		var f *known.FieldError
		if err := enum.Read("pet", pets, []byte(text), &got); got != want || (err == nil) != (want != 9) ||
			err != nil && (!errors.As(err, &f) || f.Value != text) {
			t.Errorf("%q is read as %d, %v", text, got, err)
		}
	}
}

// FuzzRead: what is read is written back as it was, anything else is refused and leaves the value.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"cat", "dog", "", "cow", "Cat", "pet(1)", "cat\n", "one of cat, dog"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v := pet(9)
		err := enum.Read("pet", pets, []byte(s), &v)
		var e *known.FieldError
		if err != nil {
			if v != 9 || !errors.As(err, &e) || e.Field != "pet" || e.Value != s {
				t.Fatalf("%q: %d, %v", s, v, err)
			}
			return
		}
		if text, err := enum.Write("pet", pets, v); err != nil || string(text) != s {
			t.Fatalf("%q is written %q, %v", s, text, err)
		}
	})
}
