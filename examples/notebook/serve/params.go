package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"example.org/pithball/internal/strictjson"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// misread turns what is wrong with the JSON of params into faults of the arguments, by the names that a client has for
// them: whoever calls a function knows no params and no line of it.
func misread(err error) error {
	if list, ok := err.(interface{ Unwrap() []error }); ok {
		var out []error
		for _, e := range list.Unwrap() {
			out = append(out, misread(e))
		}
		return errors.Join(out...)
	}
	var typ *json.UnmarshalTypeError
	if errors.As(err, &typ) {
		want := map[string]string{"string": "text", "float64": "a number", "bool": "true or false"}[fmt.Sprint(typ.Type)]
		if want == "" {
			want = "another value"
		}
		if typ.Field == "" {
			typ.Field, want = "params", "an object"
		}
		return known.Wrong(asClientCalls(typ.Field), "a JSON "+typ.Value, want)
	}
	if name, ok := strings.CutPrefix(err.Error(), "json: unknown field "); ok {
		if plain, err := strconv.Unquote(name); err == nil {
			name = plain
		}
		return known.Wrong(asClientCalls(name), "no argument", "the arguments that the protocol names, see serve -h")
	}
	var e *strictjson.Error
	if !errors.As(err, &e) {
		return known.Wrong("params", "", err.Error()) // no JSON, or no object
	}
	field := asClientCalls(e.Path)
	var f *known.FieldError
	var q *units.ParseError
	switch {
	case errors.As(e.Err, &f):
		return known.Wrong(field, f.Value, f.Want)
	case errors.As(e.Err, &q):
		return known.Wrong(field, strconv.Quote(q.Input), "a "+strings.Replace(q.Error(), " \""+q.Input+"\"", "", 1))
	}
	if value, want, ok := strings.Cut(e.Err.Error(), ": want "); ok {
		return known.Wrong(field, value, want)
	}
	if e.Err.Error() == "missing" {
		return known.Wrong(field, "", "a value")
	}
	return known.Wrong(field, "", e.Err.Error())
}
