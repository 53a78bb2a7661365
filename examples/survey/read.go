package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.org/pithball/internal/strictjson"
	"example.org/pithball/internal/written"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// document is a JSON file that was read.
type document struct {
	name   string
	places strictjson.Places
}

// files are the files that were read, by their paths: each is read once, so that a pipe can be one.
type files map[string][]byte

// mostBytes is the greatest length of any of them.
const mostBytes = 64 << 20

// read reads a file, or the demonstration of that name where path is empty.
func (f files) read(path, demonstration string) (b []byte, name string, err error) {
	if path == "" {
		name = "demo/" + demonstration
		b, err = demo.ReadFile(name)
		return b, name, err
	}
	b, ok := f[path]
	if !ok {
		if b, err = readFile(path); err != nil {
			return nil, path, &inputError{err}
		}
		if f != nil {
			f[path] = b
		}
	}
	return b, path, nil
}

// names are the paths of what was read.
func (f files) names() []string { return slices.Sorted(maps.Keys(f)) }

// readFile reads a file, a device or a pipe to its end, one byte more than the most at most.
func readFile(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, mostBytes+1))
}

// json reads such a file into dst. check tells what is wrong beyond the form, by the paths
// of the file; nil: nothing is asked. All faults come back together.
func (f files) json(path, demonstration string, dst any, check func() error) (document, error) {
	b, name, err := f.read(path, demonstration)
	if err == nil && len(b) > mostBytes/2 {
		err = &inputError{fmt.Errorf("%s: more than %d MiB", name, mostBytes/2>>20)}
	}
	if err != nil {
		return document{name: name}, err
	}
	return decode(b, name, dst, check)
}

// decode is files.json of what was read from the file of that name.
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

// folded are the faults, each a text. What is wrong in the same words with many rows of a table, as the
// name of a meter throughout, is told once with their lines, so that it does not hide the rest.
func folded(err error) []string {
	var out []string
	var lines [][]int
	at := map[string]int{}
	var each []error
	var open func(err error)
	open = func(err error) {
		for _, e := range flatten([]error{err}) {
			if bad, ok := e.(*inputError); ok {
				open(bad.err)
			} else {
				each = append(each, e)
			}
		}
	}
	open(err)
	for _, e := range each {
		var f *fileError
		var row *survey.RowError
		key := e.Error()
		if errors.As(e, &f) && errors.As(e, &row) {
			key = f.file + "\n" + row.Column + "\n" + row.Err.Error()
		}
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out, lines = append(out, e.Error()), append(lines, nil)
		} else if row != nil {
			lines[i] = append(lines[i], row.Line)
		}
	}
	const most = 5
	for i, l := range lines {
		var more []string
		for _, n := range l[:min(len(l), most)] {
			more = append(more, strconv.Itoa(n))
		}
		switch {
		case len(l) == 1:
			out[i] += fmt.Sprintf(" (and line %d)", l[0])
		case len(l) > most:
			out[i] += fmt.Sprintf(" (and lines %s and %d more)", strings.Join(more, ", "), len(l)-most)
		case len(l) > 1:
			out[i] += fmt.Sprintf(" (and lines %s)", strings.Join(more, ", "))
		}
	}
	return out
}
