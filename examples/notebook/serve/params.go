package main

import (
	"encoding/json"
	"errors"
	"strconv"
	"strings"

	"example.org/pithball/internal/strictjson"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// document is the text of a file, which has line breaks.
type document string

// UnmarshalText takes any text.
func (d *document) UnmarshalText(b []byte) error {
	*d = document(b)
	return nil
}

// readParams reads params into the struct that dst points to. What is wrong with them comes back by the names that a
// client has for its arguments: whoever calls a function knows no params and no line of it.
func readParams(raw json.RawMessage, dst any) error {
	if len(raw) == 0 {
		raw = json.RawMessage("{}")
	}
	if err := strictjson.Decode(raw, dst); err != nil {
		return misread(err)
	}
	return nil
}

func misread(err error) error {
	if list, ok := err.(interface{ Unwrap() []error }); ok {
		var out []error
		for _, e := range list.Unwrap() {
			out = append(out, misread(e))
		}
		return errors.Join(out...)
	}
	var e *strictjson.Error
	if !errors.As(err, &e) {
		return err
	}
	field := asClientCalls(e.Path)
	if field == "" {
		field = "params"
	}
	return ofForm(field, e)
}

// ofForm is a fault of the form of a document as one of a field.
func ofForm(field string, e *strictjson.Error) error {
	var f *known.FieldError
	var q *units.ParseError
	var form *strictjson.Fault
	switch {
	case errors.As(e.Err, &f):
		return known.Wrong(field, f.Value, f.Want)
	case errors.As(e.Err, &q):
		want := "a " + q.Kind + ": " + q.Why
		if len(q.Valid) > 0 {
			want += "; accepted units: " + strings.Join(q.Valid, ", ")
		}
		return known.Wrong(field, strconv.Quote(q.Input), want)
	case !errors.As(e.Err, &form):
		return known.Wrong(field, "", e.Err.Error())
	}
	switch form.Kind {
	case strictjson.Missing:
		return known.Wrong(field, "", "a value")
	case strictjson.Unknown:
		return known.Wrong(field, "no argument", asClientCalls(form.Want))
	case strictjson.Repeated:
		return known.Wrong(field, "given twice", "one value")
	case strictjson.Broken:
		return known.Wrong(field, form.Value, "one object")
	}
	return known.Wrong(field, form.Value, form.Want)
}
