package strictjson

import (
	"errors"
	"reflect"
	"strings"

	"example.org/pithball/internal/written"
	"example.org/pithball/units/known"
)

// Places says of each text and number of a document, by its path, where it stood.
type Places map[string]place

type place struct {
	line int
	text string       // as written
	typ  reflect.Type // that it was read into, nil for an object or a list
}

// Locate tells the [*known.FieldError]s of err, joined or not, in the words of the
// document: with the line, the value as written and the range in its unit. A field that the
// document does not state, or that was changed since, stays as it is. The path of a
// field may have the name of its element in parentheses: "stations[3] (nip).at".
func (p Places) Locate(err error) error {
	located, _ := p.locate(err)
	return located
}

// Stated is Locate that drops the fields that the document does not state.
func (p Places) Stated(err error) error {
	if list, ok := err.(interface{ Unwrap() []error }); ok {
		var out []error
		for _, e := range list.Unwrap() {
			out = append(out, p.Stated(e))
		}
		return errors.Join(out...)
	}
	located, ok := p.locate(err)
	f, field := err.(*known.FieldError)
	if !field || ok {
		return located
	}
	// A part of a text, as the third word of a list in one, is stated.
	for path := p.path(f.Field); path != ""; path = outside(path) {
		if at, ok := p[path]; ok && path != p.path(f.Field) && at.typ != nil {
			return &Error{at.line, path, err}
		}
	}
	return nil
}

// outside is the path of what holds a field, empty for the document.
func outside(path string) string { return path[:max(0, strings.LastIndexAny(path, ".["))] }

// Within is Locate for a document that nobody can have changed since it was read: what it
// does not state has the line of the object or list in which it would stand.
func (p Places) Within(err error) error {
	if list, ok := err.(interface{ Unwrap() []error }); ok {
		var out []error
		for _, e := range list.Unwrap() {
			out = append(out, p.Within(e))
		}
		return errors.Join(out...)
	}
	if located, ok := p.locate(err); ok {
		return located
	}
	f, ok := err.(*known.FieldError)
	if !ok {
		return err
	}
	path := p.path(f.Field)
	if at, ok := p[path]; ok && at.typ != nil {
		return &Error{at.line, path, &known.FieldError{Field: f.Field, Value: at.text,
			Want: written.Range(at.typ, at.text, f.Want)}}
	}
	for path != "" {
		if at, ok := p[path]; ok {
			return &Error{at.line, path, err}
		}
		path = outside(path)
	}
	return &Error{1, "", err}
}

func (p Places) locate(err error) (error, bool) {
	if list, ok := err.(interface{ Unwrap() []error }); ok {
		var out []error
		for _, e := range list.Unwrap() {
			located, _ := p.locate(e)
			out = append(out, located)
		}
		return errors.Join(out...), true
	}
	f, ok := err.(*known.FieldError)
	if !ok {
		return err, false
	}
	path := p.path(f.Field)
	at, ok := p[path]
	if !ok || at.typ == nil || f.Value != at.text && !written.Reads(at.typ, at.text, f.Value) {
		return err, false
	}
	return &Error{at.line, path, &known.FieldError{Field: f.Field, Value: at.text,
		Want: written.Range(at.typ, at.text, f.Want)}}, true
}

// path drops the names in parentheses behind an index.
func (p Places) path(field string) string {
	for i := 0; ; {
		k := strings.Index(field[i:], "] (")
		if k < 0 {
			return field
		}
		i += k + 1
		name := " (" + p[field[:i]+".name"].text + ")"
		if strings.HasPrefix(field[i:], name) {
			field = field[:i] + field[i+len(name):]
		}
	}
}
