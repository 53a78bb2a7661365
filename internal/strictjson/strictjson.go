// Package strictjson decodes JSON into a struct and names the place of the first
// fault: the path of the field and the line of the file, which encoding/json does
// not give for text that a field's own type refuses. Unknown and repeated keys
// are faults.
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
	if e.Path != "" {
		s += e.Path + ": "
	}
	return s + e.Err.Error()
}

// Unwrap returns the fault itself.
func (e *Error) Unwrap() error { return e.Err }

// Decode reads one document from b into the struct that dst points to. Fields
// take the name of their json tag; a field whose type has UnmarshalText takes a
// string, and for a type that is a number also null is refused. Fields whose tag
// has no omitempty must be present.
func Decode(b []byte, dst any) error {
	b = bytes.TrimPrefix(b, []byte("\ufeff")) // the byte order mark of some editors
	d := &decoder{src: b, dec: json.NewDecoder(bytes.NewReader(b))}
	d.dec.UseNumber()
	if err := d.value(reflect.ValueOf(dst).Elem(), ""); err != nil {
		return err
	}
	if _, err := d.dec.Token(); err != io.EOF {
		return d.fault("", errors.New("more text after the document"))
	}
	return nil
}

type decoder struct {
	src []byte
	dec *json.Decoder
}

func (d *decoder) fault(path string, err error) error {
	n := int(min(d.dec.InputOffset(), int64(len(d.src))))
	return &Error{Line: 1 + bytes.Count(d.src[:n], []byte{'\n'}), Path: path, Err: err}
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
			return d.fault(path, fmt.Errorf("%s: want a string", show(t)))
		}
		if err := u.UnmarshalText([]byte(s)); err != nil {
			return d.fault(path, err)
		}
		return nil
	}
	switch v.Kind() {
	case reflect.Struct:
		if t != json.Delim('{') {
			return d.fault(path, fmt.Errorf("%s: want an object", show(t)))
		}
		return d.object(v, path)
	case reflect.Slice:
		if t != json.Delim('[') {
			return d.fault(path, fmt.Errorf("%s: want an array", show(t)))
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
			return d.fault(path, fmt.Errorf("%s: want a string", show(t)))
		}
		if f := plain.Fault(s); f != "" {
			return d.fault(path, fmt.Errorf("%s: want plain text in one line, without %s", show(t), f))
		}
		v.SetString(s)
	case reflect.Bool:
		b, ok := t.(bool)
		if !ok {
			return d.fault(path, fmt.Errorf("%s: want true or false", show(t)))
		}
		v.SetBool(b)
	case reflect.Float64, reflect.Int:
		n, ok := t.(json.Number)
		if !ok {
			return d.fault(path, fmt.Errorf("%s: want a number", show(t)))
		}
		if v.Kind() == reflect.Int {
			i, err := n.Int64()
			if err != nil {
				return d.fault(path, fmt.Errorf("%s: want a whole number", n))
			}
			v.SetInt(i)
			return nil
		}
		f, err := n.Float64()
		if err != nil {
			return d.fault(path, fmt.Errorf("%s: want a number that fits a float64", n))
		}
		v.SetFloat(f)
	default:
		return d.fault(path, fmt.Errorf("cannot decode into %s", v.Type()))
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
			return d.fault(dot(key), errors.New("unknown field: want one of "+strings.Join(names, ", ")))
		}
		if seen[key] {
			return d.fault(dot(key), errors.New("given twice"))
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
			return d.fault(dot(n), errors.New("missing"))
		}
	}
	return nil
}
