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
	"example.org/pithball/units/known"
)

// Error is a fault in the document.
type Error struct {
	Line int    // 1-based
	Path string // "stations[3].roller.radius", empty for the whole document
	Err  error  // a [*Fault], a [*known.FieldError], or what the UnmarshalText of a field says
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
// string, and for a type that is a number also null is refused. A map takes an object with
// keys of the user's own, an [Object] any object. Fields whose tag
// has no omitempty must be present. All faults come back, each an [*Error], joined by
// errors.Join if there are several; text that is no JSON ends the reading.
func Decode(b []byte, dst any) error {
	_, err := DecodePlaces(b, dst)
	return err
}

// DecodePlaces is Decode that also returns where everything stood; nil for a text that is no JSON, of which
// nothing behind its fault is known.
func DecodePlaces(b []byte, dst any) (Places, error) {
	places := Places{}
	b = bytes.TrimPrefix(b, []byte("\ufeff")) // the byte order mark of some editors
	if e := plain.Encoded(b); e != "" {
		return places, &Error{Line: 1, Err: known.Wrong("", "text in "+e, "text in UTF-8")}
	}
	d := &decoder{src: b, places: places}
	err := d.decode(dst, "")
	if d.broken {
		return nil, err
	}
	return places, err
}

// decode reads one document.
func (d *decoder) decode(dst any, path string) error {
	d.dec = json.NewDecoder(bytes.NewReader(d.src))
	d.dec.UseNumber()
	err := d.value(reflect.ValueOf(dst).Elem(), path)
	if err == nil {
		if _, end := d.dec.Token(); end != io.EOF {
			err = d.fault(path, &Fault{Kind: Broken, Value: "more text after the document"})
		}
	}
	if err != nil && err != errMany {
		d.faults = append(d.faults, err)
	}
	switch len(d.faults) {
	case 0:
		return nil
	case 1:
		return d.faults[0]
	}
	return errors.Join(d.faults...)
}

type decoder struct {
	src     []byte
	before  int    // lines of the document before src
	without string // a key of the outermost object that is passed over
	dec     *json.Decoder
	places  Places
	faults  []error
	broken  bool // the text is no JSON
}

// errMany ends the reading of a document with too many faults.
var errMany = errors.New("too many faults")

func (d *decoder) line() int {
	n := int(min(d.dec.InputOffset(), int64(len(d.src))))
	return d.before + 1 + bytes.Count(d.src[:n], []byte{'\n'})
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
	d.broken = err != nil
	if err == io.EOF || errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, &Error{Line: d.before + 1 + bytes.Count(d.src, []byte{'\n'}), Path: path,
			Err: &Fault{Kind: Broken, Value: "the document ends too early"}}
	}
	if err != nil {
		var s *json.SyntaxError
		if errors.As(err, &s) {
			return nil, d.fault(path, &Fault{Kind: Broken, Value: "not JSON: " + s.Error()})
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
			return d.report(path, t, unfit(show(t), "a string"))
		}
		if err := u.UnmarshalText([]byte(s)); err != nil {
			if f, ok := err.(*known.FieldError); ok && path != "" { // which knows its type, but not where it stands
				err = &known.FieldError{Field: path, Value: s, Want: f.Want}
			}
			return d.report(path, t, err)
		}
		d.places[path] = place{d.line(), s, v.Type()}
		return nil
	}
	if _, ok := t.(json.Delim); ok {
		d.places[path] = place{line: d.line()}
	}
	switch v.Kind() {
	case reflect.Struct, reflect.Map:
		if t != json.Delim('{') {
			return d.report(path, t, unfit(show(t), "an object"))
		}
		if o, ok := v.Addr().Interface().(*Object); ok {
			return d.later(o, path)
		}
		if v.Kind() == reflect.Map {
			return d.entries(v, path)
		}
		return d.object(v, path)
	case reflect.Slice:
		if t != json.Delim('[') {
			return d.report(path, t, unfit(show(t), "an array"))
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
			return d.report(path, t, unfit(show(t), "a string"))
		}
		if f := plain.Fault(s); f != "" {
			return d.report(path, t, unfit(show(t), "plain text in one line, without "+f))
		}
		v.SetString(s)
		d.places[path] = place{d.line(), s, v.Type()}
	case reflect.Bool:
		b, ok := t.(bool)
		if !ok {
			return d.report(path, t, unfit(show(t), "true or false"))
		}
		v.SetBool(b)
	case reflect.Float64, reflect.Int:
		n, ok := t.(json.Number)
		if !ok {
			return d.report(path, t, unfit(show(t), "a number"))
		}
		if v.Kind() == reflect.Int {
			i, err := n.Int64()
			if err != nil {
				return d.report(path, t, unfit(n.String(), "a whole number"))
			}
			v.SetInt(i)
			d.places[path] = place{d.line(), n.String(), v.Type()}
			return nil
		}
		f, err := n.Float64()
		if err != nil {
			return d.report(path, t, unfit(n.String(), "a number that fits a float64"))
		}
		v.SetFloat(f)
		d.places[path] = place{d.line(), n.String(), v.Type()}
	default:
		return d.report(path, t, fmt.Errorf("cannot decode into %s", v.Type()))
	}
	return nil
}

// entries reads an object whose keys are names of the user's own, as devices[bar 1].
func (d *decoder) entries(v reflect.Value, path string) error {
	v.Set(reflect.MakeMap(v.Type()))
	for d.dec.More() {
		t, err := d.token(path)
		if err != nil {
			return err
		}
		key := reflect.ValueOf(t)
		at := path + "[" + t.(string) + "]"
		if f := plain.Fault(t.(string)); f != "" {
			if err := d.other(at, unfit("", "a name in one line, without "+f)); err != nil {
				return err
			}
			continue
		}
		if v.MapIndex(key).IsValid() {
			if err := d.other(at, &Fault{Kind: Repeated}); err != nil {
				return err
			}
			continue
		}
		e := reflect.New(v.Type().Elem()).Elem()
		if err := d.value(e, at); err != nil {
			return err
		}
		v.SetMapIndex(key, e)
	}
	_, err := d.token(path)
	return err
}

func (d *decoder) object(v reflect.Value, path string) error {
	without := d.without
	d.without = "" // of the outermost object only
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
		if key == without && key != "" {
			if t, err = d.token(path); err == nil {
				err = d.skip(t, path)
			}
			if err != nil {
				return err
			}
			continue
		}
		if !ok {
			if err := d.other(dot(key), &Fault{Kind: Unknown, Want: "one of " + strings.Join(names, ", ")}); err != nil {
				return err
			}
			continue
		}
		if seen[key] {
			if err := d.other(dot(key), &Fault{Kind: Repeated}); err != nil {
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
			if err := d.report(dot(n), nil, &Fault{Kind: Missing}); err != nil {
				return err
			}
		}
	}
	return nil
}

// other reports a key that has no place, and reads past its value.
func (d *decoder) other(path string, f *Fault) error {
	if err := d.report(path, nil, f); err != nil {
		return err
	}
	t, err := d.token(path)
	if err != nil {
		return err
	}
	return d.skip(t, path)
}
