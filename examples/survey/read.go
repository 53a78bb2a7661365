package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"

	"example.org/pithball/internal/strictjson"
	"example.org/pithball/internal/written"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// document is a JSON file that was read.
type document struct {
	name   string
	places strictjson.Places
}

// readFile reads a file, or the demonstration of that name where path is empty.
func readFile(path, demonstration string) (b []byte, name string, err error) {
	if name = path; path == "" {
		name = "demo/" + demonstration
		b, err = demo.ReadFile(name)
	} else {
		b, err = os.ReadFile(path)
	}
	switch {
	case err != nil:
		return nil, name, &inputError{err}
	case len(b) > 32<<20:
		return nil, name, &inputError{fmt.Errorf("%s: more than 32 MiB", name)}
	}
	return b, name, nil
}

// readJSON reads such a file into dst. check tells what is wrong beyond the form, by the paths
// of the file; nil: nothing is asked. All faults come back together.
func readJSON(path, demonstration string, dst any, check func() error) (document, error) {
	b, name, err := readFile(path, demonstration)
	if err != nil {
		return document{name: name}, err
	}
	return decode(b, name, dst, check)
}

// decode is readJSON of what was read from the file of that name.
func decode(b []byte, name string, dst any, check func() error) (document, error) {
	d := document{name: name}
	var form, faults error
	d.places, form = strictjson.DecodePlaces(b, dst)
	if check != nil {
		faults = check()
	}
	switch {
	case form != nil:
		// What the form leaves open is no fault of its own.
		return d, &inputError{named(name, errors.Join(form, d.places.Stated(faults)))}
	case faults != nil:
		return d, d.told(faults)
	}
	return d, nil
}

// told gives faults of the fields of a document its name, lines and words.
func (d document) told(err error) error {
	var flags, fields []error
	for _, e := range flatten([]error{err}) {
		if f, ok := e.(*known.FieldError); ok && (d.name == "" || strings.HasPrefix(f.Field, "-")) {
			flags = append(flags, e)
		} else {
			fields = append(fields, d.places.Within(e))
		}
	}
	if err := errors.Join(errors.Join(flags...), named(d.name, errors.Join(fields...))); err != nil {
		return &inputError{err}
	}
	return nil
}

// wrong marks a fault of the input of a verb.
func wrong(file, demonstration string, err error) error {
	if err == nil {
		return nil
	}
	if file == "" {
		file = "demo/" + demonstration
	}
	return &inputError{named(file, err)}
}

// fileError is one fault of a file.
type fileError struct {
	file string
	err  error
}

func (e *fileError) Error() string { return e.file + ": " + e.err.Error() }
func (e *fileError) Unwrap() error { return e.err }

// named puts the file's name before each fault that has none.
func named(file string, err error) error {
	if file == "" || err == nil {
		return err
	}
	var out []error
	for _, e := range flatten([]error{err}) {
		var f *fileError
		if !errors.As(e, &f) {
			e = &fileError{file, e}
		}
		out = append(out, e)
	}
	slices.SortStableFunc(out, func(a, b error) int { return cmp.Compare(lineOf(a), lineOf(b)) })
	if len(out) == 1 {
		return out[0]
	}
	return errors.Join(out...)
}

// lineOf is the line of a fault of a document, 0 of any other.
func lineOf(err error) int {
	if e := (*strictjson.Error)(nil); errors.As(err, &e) {
		return e.Line
	}
	return 0
}

func flatten(list []error) []error {
	var out []error
	for _, e := range list {
		if many, ok := e.(interface{ Unwrap() []error }); ok {
			out = append(out, flatten(many.Unwrap())...)
		} else if e != nil {
			out = append(out, e)
		}
	}
	return out
}

// schema checks what a file says that it is.
func schema(got, want string) error {
	if got != want {
		return known.Wrong("schema", got, `"`+want+`"`)
	}
	return nil
}

// flagged reads a quantity of the command line and checks its range, which it tells in the unit of the user.
func flagged[T units.Quantity](name, text string, lo, hi T) (T, error) {
	v, err := units.Parse[T](text)
	if err != nil {
		return 0, &inputError{fmt.Errorf("%s: %w", name, err)}
	}
	if err := within(name, text, v, lo, hi); err != nil {
		return 0, &inputError{err}
	}
	return v, nil
}

// within checks the range of what a text was read as, and tells it in the unit of the text.
func within[T units.Quantity](name, text string, v, lo, hi T) error {
	var f *known.FieldError
	if errors.As(known.InRange(name, v, lo, hi), &f) {
		return known.Wrong(name, text, written.Range(reflect.TypeFor[T](), text, f.Want))
	}
	return nil
}
