package strictjson

import (
	"bytes"
	"encoding/json"

	"example.org/pithball/units/known"
)

// Object is an object that is read later, when one of its keys has told as what: a field
// of this type takes any object.
type Object struct {
	src    []byte
	before int // lines of the document before it
	path   string
	places Places
}

// Key returns the text under a key of the object, empty where there is none.
func (o *Object) Key(name string) string {
	var fields map[string]json.RawMessage
	var s string
	if json.Unmarshal(o.src, &fields) != nil || json.Unmarshal(fields[name], &s) != nil {
		return ""
	}
	return s
}

// Wrong is a fault of the text under a key of the object, or of its lack.
func (o *Object) Wrong(name, want string) error {
	path := name
	if o.path != "" {
		path = o.path + "." + name
	}
	at := o.before + 1
	var v map[string]json.RawMessage
	if json.Unmarshal(o.src, &v) == nil && v[name] != nil { // the line of the key, which stands once at least
		for d := json.NewDecoder(bytes.NewReader(o.src)); ; {
			t, err := d.Token()
			if err != nil || t == name {
				at += bytes.Count(o.src[:d.InputOffset()], []byte{'\n'})
				break
			}
		}
	}
	return &Error{at, path, known.Wrong(path, o.Key(name), want)}
}

// Decode reads the object as [Decode] does, without the key that told as what. Lines and
// paths are those of the whole document, whose Places know the fields from then on.
func (o *Object) Decode(dst any, without string) error {
	return (&decoder{src: o.src, before: o.before, without: without, places: o.places}).decode(dst, o.path)
}

// later keeps an object, whose brace was read, for [Object.Decode].
func (d *decoder) later(o *Object, path string) error {
	start, before := d.dec.InputOffset()-1, d.line()-1
	if err := d.skip(json.Delim('{'), path); err != nil {
		return err
	}
	*o = Object{d.src[start:d.dec.InputOffset()], before, path, d.places}
	return nil
}
