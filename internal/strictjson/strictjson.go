// Package strictjson decodes JSON into a struct and names the place of every
// fault: the path of the field and the line of the file, which encoding/json does
// not give for text that a field's own type refuses. Unknown and repeated keys
// are faults. It also remembers where each value stood and how it was written, so that
// a fault that is found later, by a check of ranges, is told in the words of the file.
package strictjson

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.org/pithball/internal/plain"
	"example.org/pithball/internal/written"
	"example.org/pithball/units/known"
)

// Error is a fault in the document.
type Error struct {
	Line int    // 1-based
	Path string // "stations[3].roller.radius", empty for the whole document
	Err  error  // the fault itself
}

// Error returns "line n: path: fault".
func (e *Error) Error() string {
	s := "line " + strconv.Itoa(e.Line) + ": "
	if f, ok := e.Err.(*known.FieldError); e.Path != "" && !(ok && f.Field != "") { // which names its path itself
		s += e.Path + ": "
	}
	return s + e.Err.Error()
}

// Unwrap returns the fault itself.
func (e *Error) Unwrap() error { return e.Err }

// most is the number of faults after which reading ends.
const most = 100

// Decode reads one document from b into the struct that dst points to. Fields
// take the name of their json tag; a field whose type has UnmarshalText takes a
// string, and for a type that is a number also null is refused. Fields whose tag
// has no omitempty must be present. All faults come back, each an [*Error], joined by
// errors.Join if there are several; text that is no JSON ends the reading.
func Decode(b []byte, dst any) error {
	_, err := DecodePlaces(b, dst)
	return err
}

// DecodePlaces is Decode that also returns where everything stood.
func DecodePlaces(b []byte, dst any) (Places, error) {
	b = bytes.TrimPrefix(b, []byte("\ufeff")) // the byte order mark of some editors
	d := &decoder{src: b, dec: json.NewDecoder(bytes.NewReader(b)), places: Places{}}
	d.dec.UseNumber()
	err := d.value(reflect.ValueOf(dst).Elem(), "")
	if err == nil {
		if _, end := d.dec.Token(); end != io.EOF {
			err = d.fault("", errors.New("more text after the document"))
		}
	}
	if err != nil && err != errMany {
		d.faults = append(d.faults, err)
	}
	switch len(d.faults) {
	case 0:
		return d.places, nil
	case 1:
		return d.places, d.faults[0]
	}
	return d.places, errors.Join(d.faults...)
}

// Places says of each text and number of a document, by its path, where it stood.
type Places map[string]place

type place struct {
	line int
	text string       // as written
	typ  reflect.Type // that it was read into
}

// Locate tells the [*known.FieldError]s of err, joined or not, in the words of the
// document: with the line, the value as written and the range in its unit. A field that the
// document does not state, or that was changed since, stays as it is. The path of a
// field may have the name of its element in parentheses: "stations[3] (nip).at".
func (p Places) Locate(err error) error {
	located, _ := p.locate(err)
	return located
}

// Stated is Locate that drops what the document does not state.
func (p Places) Stated(err error) error {
	if list, ok := err.(interface{ Unwrap() []error }); ok {
		var out []error
		for _, e := range list.Unwrap() {
			out = append(out, p.Stated(e))
		}
		return errors.Join(out...)
	}
	if located, ok := p.locate(err); ok {
		return located
	}
	return nil
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
	if !ok || f.Value != at.text && !written.Reads(at.typ, at.text, f.Value) {
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

type decoder struct {
	src    []byte
	dec    *json.Decoder
	places Places
	faults []error
}

// errMany ends the reading of a document with too many faults.
var errMany = errors.New("too many faults")

func (d *decoder) line() int {
	n := int(min(d.dec.InputOffset(), int64(len(d.src))))
	return 1 + bytes.Count(d.src[:n], []byte{'\n'})
}

func (d *decoder) fault(path string, err error) error {
	return &Error{Line: d.line(), Path: path, Err: err}
}

// report keeps a fault behind which reading goes on, past the value that token t began.
func (d *decoder) report(path string, t json.Token, err error) error {
	if d.faults = append(d.faults, d.fault(path, err)); len(d.faults) == most {
		return errMany
	}
	return d.skip(t, path)
}

// skip reads on to the end of the value that token t began.
func (d *decoder) skip(t json.Token, path string) error {
	for depth := 0; ; {
		switch t {
		case json.Delim('{'), json.Delim('['):
			depth++
		case json.Delim('}'), json.Delim(']'):
			depth--
		}
		if depth <= 0 {
			return nil
		}
		var err error
		if t, err = d.token(path); err != nil {
			return err
		}
	}
}

func (d *decoder) token(path string) (json.Token, error) {
	t, err := d.dec.Token()
	if err == io.EOF || errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, &Error{Line: 1 + bytes.Count(d.src, []byte{'\n'}), Path: path,
			Err: errors.New("the document ends too early")}
	}
	if err != nil {
		var s *json.SyntaxError
		if errors.As(err, &s) {
			return nil, d.fault(path, errors.New("not JSON: "+s.Error()))
		}
		return nil, d.fault(path, err)
	}
	return t, nil
}

func show(t json.Token) string {
	switch v := t.(type) {
	case nil:
		return "null"
	case string:
		return strconv.Quote(v)
	case json.Delim:
		if v == '{' {
			return "an object"
		}
		return "an array"
	}
	return fmt.Sprint(t)
}

func (d *decoder) value(v reflect.Value, path string) error {
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		return d.value(v.Elem(), path)
	}
	t, err := d.token(path)
	if err != nil {
		return err
	}
	if u, ok := v.Addr().Interface().(encoding.TextUnmarshaler); ok {
		s, ok := t.(string)
		if !ok {
			return d.report(path, t, fmt.Errorf("%s: want a string", show(t)))
		}
		if err := u.UnmarshalText([]byte(s)); err != nil {
			if f, ok := err.(*known.FieldError); ok && path != "" { // which knows its type, but not where it stands
				err = &known.FieldError{Field: path, Value: f.Value, Want: f.Want}
			}
			return d.report(path, t, err)
		}
		d.places[path] = place{d.line(), s, v.Type()}
		return nil
	}
	switch v.Kind() {
	case reflect.Struct:
		if t != json.Delim('{') {
			return d.report(path, t, fmt.Errorf("%s: want an object", show(t)))
		}
		return d.object(v, path)
	case reflect.Slice:
		if t != json.Delim('[') {
			return d.report(path, t, fmt.Errorf("%s: want an array", show(t)))
		}
		for i := 0; d.dec.More(); i++ {
			e := reflect.New(v.Type().Elem()).Elem()
			if err := d.value(e, path+"["+strconv.Itoa(i)+"]"); err != nil {
				return err
			}
			v.Set(reflect.Append(v, e))
		}
		_, err := d.token(path)
		return err
	case reflect.String:
		s, ok := t.(string)
		if !ok {
			return d.report(path, t, fmt.Errorf("%s: want a string", show(t)))
		}
		if f := plain.Fault(s); f != "" {
			return d.report(path, t, fmt.Errorf("%s: want plain text in one line, without %s", show(t), f))
		}
		v.SetString(s)
		d.places[path] = place{d.line(), s, v.Type()}
	case reflect.Bool:
		b, ok := t.(bool)
		if !ok {
			return d.report(path, t, fmt.Errorf("%s: want true or false", show(t)))
		}
		v.SetBool(b)
	case reflect.Float64, reflect.Int:
		n, ok := t.(json.Number)
		if !ok {
			return d.report(path, t, fmt.Errorf("%s: want a number", show(t)))
		}
		if v.Kind() == reflect.Int {
			i, err := n.Int64()
			if err != nil {
				return d.report(path, t, fmt.Errorf("%s: want a whole number", n))
			}
			v.SetInt(i)
			d.places[path] = place{d.line(), n.String(), v.Type()}
			return nil
		}
		f, err := n.Float64()
		if err != nil {
			return d.report(path, t, fmt.Errorf("%s: want a number that fits a float64", n))
		}
		v.SetFloat(f)
		d.places[path] = place{d.line(), n.String(), v.Type()}
	default:
		return d.report(path, t, fmt.Errorf("cannot decode into %s", v.Type()))
	}
	return nil
}

func (d *decoder) object(v reflect.Value, path string) error {
	type field struct {
		index    int
		required bool
	}
	fields := map[string]field{}
	var names []string
	for i := range v.NumField() {
		tag, ok := v.Type().Field(i).Tag.Lookup("json")
		if !ok || tag == "-" {
			continue
		}
		name, opts, _ := strings.Cut(tag, ",")
		fields[name] = field{i, opts != "omitempty"}
		names = append(names, name)
	}
	dot := func(key string) string {
		if path == "" {
			return key
		}
		return path + "." + key
	}
	seen := map[string]bool{}
	for d.dec.More() {
		t, err := d.token(path)
		if err != nil {
			return err
		}
		key := t.(string)
		f, ok := fields[key]
		if !ok {
			if err := d.other(dot(key), "unknown field: want one of "+strings.Join(names, ", ")); err != nil {
				return err
			}
			continue
		}
		if seen[key] {
			if err := d.other(dot(key), "given twice"); err != nil {
				return err
			}
			continue
		}
		seen[key] = true
		if err := d.value(v.Field(f.index), dot(key)); err != nil {
			return err
		}
	}
	if _, err := d.token(path); err != nil {
		return err
	}
	slices.Sort(names)
	for _, n := range names {
		if fields[n].required && !seen[n] {
			if err := d.report(dot(n), nil, errors.New("missing")); err != nil {
				return err
			}
		}
	}
	return nil
}

// other reports a key that has no place, and reads past its value.
func (d *decoder) other(path, says string) error {
	if err := d.report(path, nil, errors.New(says)); err != nil {
		return err
	}
	t, err := d.token(path)
	if err != nil {
		return err
	}
	return d.skip(t, path)
}
