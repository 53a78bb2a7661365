package strictjson_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.org/pithball/internal/strictjson"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

type inner struct {
	Radius units.Length `json:"radius"`
	Note   string       `json:"note,omitempty"`
}

type doc struct {
	Name  string   `json:"name"`
	N     int      `json:"n,omitempty"`
	X     float64  `json:"x,omitempty"`
	On    bool     `json:"on,omitempty"`
	List  []inner  `json:"list,omitempty"`
	Maybe *inner   `json:"maybe,omitempty"`
	Words []string `json:"words,omitempty"`
	Skip  string   `json:"-"`
	plain int
}

// TestDecode: every kind of field, by hand.
func TestDecode(t *testing.T) {
	var d doc
	err := strictjson.Decode([]byte(`{"name":"a","n":-3,"x":2.5e-1,"on":true,"list":[{"radius":"50 mm"},{"radius":"2 in","note":"n"}],"maybe":{"radius":"1 m"},"words":["u","v"]}`), &d)
	if err != nil {
		t.Fatal(err)
	}
	got := fmt.Sprintln(d.Name, d.N, d.X, d.On, len(d.List), float64(d.List[0].Radius), float64(d.List[1].Radius),
		d.List[1].Note, float64(d.Maybe.Radius), d.Words, d.plain)
	if want := "a -3 0.25 true 2 0.05 0.0508 n 1 [u v] 0\n"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestMark: the byte order mark that some editors write is no fault.
func TestMark(t *testing.T) {
	var d doc
	if err := strictjson.Decode([]byte("\ufeff{\"name\":\"a\"}"), &d); err != nil || d.Name != "a" {
		t.Errorf("%v, %+v", err, d)
	}
}

// TestFaults: line, path and reason of each fault, counted by hand.
func TestFaults(t *testing.T) {
	for in, want := range map[string]struct {
		line int
		path string
		says string
	}{
		``:                                      {1, "", "ends too early"},
		`[1]`:                                   {1, "", "want an object"},
		`null`:                                  {1, "", "want an object"},
		`{"name":"a"`:                           {1, "", "ends too early"},
		"{\n\"name\":\n":                        {3, "name", "ends too early"},
		`{"name":"a"} x`:                        {1, "", "more text"},
		`{"name":"a"}{}`:                        {1, "", "more text"},
		`{"name":"a","name":1}`:                 {1, "name", "given twice"},
		`{"Name":"a"}`:                          {1, "Name", "unknown field"},
		`{"plain":1}`:                           {1, "plain", "unknown field"},
		`{"skip":"a"}`:                          {1, "skip", "unknown field"},
		`{}`:                                    {1, "name", "missing"},
		`{"name":3}`:                            {1, "name", "3: want a string"},
		`{"name":null}`:                         {1, "name", "null: want a string"},
		"{\"name\":\"a\",\n\"n\":1.5}":          {2, "n", "whole number"},
		`{"name":"a","n":99999999999999999999}`: {1, "n", "whole number"},
		`{"name":"a","x":1e999}`:                {1, "x", "fits a float64"},
		`{"name":"a","x":"1"}`:                  {1, "x", "want a number"},
		`{"name":"a","on":1}`:                   {1, "on", "true or false"},
		`{"name":"a","list":{}}`:                {1, "list", "want an array"},
		"{\"name\":\"a\",\n\"list\":[{\"radius\":\"1 m\"},\n{}]}":    {3, "list[1].radius", "missing"},
		"{\"name\":\"a\",\n\n\"list\":[{\"radius\":\"1 s\"}]}":       {3, "list[0].radius", "s"},
		`{"name":"a","list":[{"radius":3}]}`:                         {1, "list[0].radius", "3: want a string"},
		`{"name":"a","list":[{"radius":null}]}`:                      {1, "list[0].radius", "null: want a string"},
		`{"name":"a","maybe":null}`:                                  {1, "maybe", "want an object"},
		`{"name":"a",}`:                                              {1, "", "not JSON"},
		"{\"name\":\"a\",\n\"words\":[\"u\",[]]}":                    {2, "words[1]", "an array: want a string"},
		`{"name":"a","words":[` + strings.Repeat("[", 20000):         {1, "words[0]", "an array: want a string"},
		`{"name":"a","maybe":{"radius":"1 m","note":{"deep":"er"}}}`: {1, "maybe.note", "an object: want a string"},
		`{"name":"a","list":[{"radius":"1 m"} {"radius":"1 m"}]}`:    {1, "list[1]", "not JSON"},
	} {
		err := strictjson.Decode([]byte(in), &doc{})
		var e *strictjson.Error
		if !errors.As(err, &e) {
			t.Errorf("%.60q: error %v", in, err)
			continue
		}
		if e.Line != want.line || e.Path != want.path || !strings.Contains(e.Err.Error(), want.says) {
			t.Errorf("%.60q: line %d, path %q, %q; want %+v", in, e.Line, e.Path, e.Err, want)
		}
		if s := err.Error(); !strings.HasPrefix(s, fmt.Sprintf("line %d: ", e.Line)) || errors.Unwrap(e) != e.Err {
			t.Errorf("%q", s)
		}
	}
}

// TestKinds: what is wrong with the form is a value that a program can ask, whose parts make its words.
func TestKinds(t *testing.T) {
	for in, want := range map[string]strictjson.Fault{
		`{}`:                              {strictjson.Missing, "", ""},
		`{"name":3}`:                      {strictjson.Unfit, "3", "a string"},
		`{"name":"a","n":"b"}`:            {strictjson.Unfit, `"b"`, "a number"},
		`{"name":"a","list":{}}`:          {strictjson.Unfit, "an object", "an array"},
		`{"name":"a","maybe":null}`:       {strictjson.Unfit, "null", "an object"},
		`{"name":"a","name":"b"}`:         {strictjson.Repeated, "", ""},
		`{"name":"a","b":1}`:              {strictjson.Unknown, "", "one of name, n, x, on, list, maybe, words"},
		`{"name":"a"`:                     {strictjson.Broken, "the document ends too early", ""},
		`{"name":"a"} 1`:                  {strictjson.Broken, "more text after the document", ""},
		`{"name":"a","list":[{"radius"}]`: {strictjson.Broken, "not JSON: invalid character '}' after object key", ""},
	} {
		err := strictjson.Decode([]byte(in), &doc{})
		var f *strictjson.Fault
		if !errors.As(err, &f) || *f != want {
			t.Errorf("%s: %#v, want %#v", in, f, want)
			continue
		}
		words := map[strictjson.Kind]string{strictjson.Missing: "missing", strictjson.Repeated: "given twice",
			strictjson.Unknown: "unknown field: want " + f.Want, strictjson.Broken: f.Value,
			strictjson.Unfit: f.Value + ": want " + f.Want}[f.Kind]
		if f.Error() != words {
			t.Errorf("%s: %q, want %q", in, f, words)
		}
	}
	err := strictjson.Decode([]byte(`{"name":"a","list":[{"radius":"3 kg"}]}`), &doc{})
	var f *strictjson.Fault
	if q := (*units.ParseError)(nil); !errors.As(err, &q) || errors.As(err, &f) {
		t.Errorf("%#v", err) // the fault of a unit stays that of its package
	}
}

// TestMap: keys of the user's own; a name with a control character and one that is given twice are faults.
func TestMap(t *testing.T) {
	var d struct {
		Bars map[string]inner `json:"bars"`
	}
	places, err := strictjson.DecodePlaces([]byte("{\"bars\": {\n\"bar 1\": {\"radius\": \"2 in\"},\n\"b\": "+
		"{\"radius\": \"1 m\"}}}"), &d)
	if err != nil || len(d.Bars) != 2 || float64(d.Bars["bar 1"].Radius) != 0.0508 {
		t.Errorf("%+v %v", d, err)
	}
	got := places.Within(known.InRange("bars[bar 1].radius", d.Bars["bar 1"].Radius, 1, 2)).Error()
	if want := "line 2: bars[bar 1].radius: 2 in: want 39.3701 … 78.7402 in"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	const twice = `{"bars": {"a": {"radius": "1 m"}, "a": {"radius": "1 m"}}}`
	for in, want := range map[string]string{twice: "bars[a]: given twice",
		`{"bars": {"a\u0007": {"radius": "1 m"}}}`: "U+0007", `{"bars": []}`: "want an object"} {
		if err := strictjson.Decode([]byte(in), &d); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", in, err, want)
		}
	}
}

// TestObject: an object that a key of its own says how to read has the lines and paths of the document.
func TestObject(t *testing.T) {
	var d struct {
		List []strictjson.Object `json:"list"`
	}
	places, err := strictjson.DecodePlaces([]byte("{\"list\": [\n{\"do\": \"a\", \"radius\": \"1 "+
		"m\"},\n{\n\"radius\": \"1 s\",\n"+
		"\"deep\": {}, \"do\": \"b\"},\n{}]}"), &d)
	if err != nil || len(d.List) != 3 || d.List[0].Key("do") != "a" || d.List[1].Key("do") != "b" ||
		d.List[2].Key("do") != "" {
		t.Fatalf("%+v %v", d, err)
	}
	var x inner
	if err := d.List[0].Decode(&x, "do"); err != nil || x.Radius != units.Metre {
		t.Errorf("%+v %v", x, err)
	}
	if err := d.List[0].Decode(&x, ""); err == nil ||
		!strings.HasPrefix(err.Error(), "line 2: list[0].do: unknown field") {
		t.Errorf("%v", err)
	}
	got := places.Within(known.InRange("list[0].radius", units.Metre, 2, 3)).Error()
	if want := "line 2: list[0].radius: 1 m: want 2 … 3 m"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	err = d.List[1].Decode(&x, "do")
	if lines := strings.Split(fmt.Sprint(err), "\n"); len(lines) != 2 ||
		!strings.HasPrefix(lines[0], "line 4: list[1].radius: ") ||
		!strings.HasPrefix(lines[1], "line 5: list[1].deep: unknown") {
		t.Errorf("%v", err)
	}
	for i, want := range []string{"line 2: list[0].do: a: want x", "line 5: list[1].do: b: want x",
		"line 6: list[2].do: nothing given: want x"} {
		if got := d.List[i].Wrong("do", "x").Error(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// TestWithin: what a document does not state is told with the line of what it would stand in, and what it
// states in its own words; Stated drops the one and keeps the other.
func TestWithin(t *testing.T) {
	var d doc
	places, err := strictjson.DecodePlaces([]byte("{\"name\": \"a\",\n\"list\": [\n{\"radius\": \"25.4 mm\"}]}"), &d)
	if err != nil {
		t.Fatal(err)
	}
	faults := errors.Join(known.InRange("list[0].radius", d.List[0].Radius, 1, 2), known.Wrong("list[0].gap", "", "a gap"),
		known.Wrong("list", 1, "two"), known.Wrong("nothing", "", "a thing"), errors.New("other"))
	if got, want := places.Within(faults).Error(), `line 3: list[0].radius: 25.4 mm: want 1000 … 2000 mm
line 3: list[0].gap: nothing given: want a gap
line 2: list: 1: want two
line 1: nothing: nothing given: want a thing
other`; got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	if got := places.Stated(faults).Error(); got != "line 3: list[0].radius: 25.4 mm: want 1000 … 2000 mm\nother" {
		t.Errorf("%s", got)
	}
}

// TestNoJSON: of a text that breaks off nothing is known but that; of one in UTF-16 its encoding.
func TestNoJSON(t *testing.T) {
	if p, err := strictjson.DecodePlaces([]byte(`{"name": "a", "list": [`), &doc{}); p != nil || err == nil {
		t.Errorf("%v %v", p, err)
	}
	if err := strictjson.Decode([]byte("\xff\xfe{\x00}\x00"), &doc{}); err == nil ||
		!strings.Contains(err.Error(), "UTF-16") {
		t.Error(err)
	}
}

// FuzzDecode holds the decoder against encoding/json: no text makes it panic,
// what it accepts the standard decoder accepts with the same result, and a fault
// lies inside the text.
func FuzzDecode(f *testing.F) {
	for _, s := range []string{`{"name":"a","n":1,"x":0.5,"on":true}`,
		`{"name":"a","list":[{"radius":"50 mm"}],"maybe":{"radius":"2 in"}}`,
		"\ufeff{}", `{"name":"\ud800"}`, `[`, `{"name":`, `{"words":[null]}`, "{\"name\":\"a\"}\n\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		var d, e doc
		err := strictjson.Decode(b, &d)
		var fault *strictjson.Error
		switch {
		case err == nil:
			if err := json.Unmarshal(bytes.TrimPrefix(b, []byte("\ufeff")), &e); err != nil {
				t.Fatalf("encoding/json refuses: %v", err)
			}
			if x, y := fmt.Sprintf("%+v", flat(d)), fmt.Sprintf("%+v", flat(e)); x != y {
				t.Fatalf("%s, encoding/json %s", x, y)
			}
		case !errors.As(err, &fault):
			t.Fatalf("error %v", err)
		case fault.Line < 1 || fault.Line > 1+bytes.Count(b, []byte{'\n'}):
			t.Fatalf("line %d of %d", fault.Line, 1+bytes.Count(b, []byte{'\n'}))
		}
	})
}

// flat puts the value in the place of the pointer, for printing.
func flat(d doc) any {
	m := inner{}
	if d.Maybe != nil {
		m = *d.Maybe
	}
	d.Maybe = nil
	return []any{d, m}
}
