package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"example.org/pithball/examples/registry"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
)

// ask sends requests and decodes the answers.
func ask(t *testing.T, lines ...string) []map[string]any {
	t.Helper()
	var out strings.Builder
	if err := serve(strings.NewReader(strings.Join(lines, "\n")+"\n"), &out); err != nil {
		t.Fatal(err)
	}
	var all []map[string]any
	for l := range strings.Lines(out.String()) {
		var m map[string]any
		if err := json.Unmarshal([]byte(l), &m); err != nil {
			t.Fatal(err)
		}
		all = append(all, m)
	}
	if len(all) != len(lines) {
		t.Fatalf("%d answers to %d requests", len(all), len(lines))
	}
	return all
}

func TestServe(t *testing.T) {
	a := ask(t,
		`{"jsonrpc":"2.0","id":1,"method":"hello"}`,
		`{"jsonrpc":"2.0","id":2,"method":"compute","params":{"name":"field.FieldFactor","args":{"distance":0.025,"gap":[0.025,0.075]}}}`,
		`{"jsonrpc":"2.0","id":3,"method":"compute","params":{"name":"field.FieldFactor","args":{"distance":-1,"gap":0.025}}}`,
		`{"jsonrpc":"2.0","id":4,"method":"compute","params":{"name":"nothing","args":{}}}`,
		`{"jsonrpc":"2.0","id":5,"method":"dance"}`,
		`not json`)
	if n := len(a[0]["result"].(map[string]any)["computations"].([]any)); n < 50 {
		t.Errorf("hello lists %d computations", n)
	}
	if c := a[0]["result"].(map[string]any)["constants"]; c != units.CODATA {
		t.Errorf("constants %v", c)
	}
	res, _ := a[1]["result"].(map[string]any)["results"].(map[string]any)
	col, _ := res["factor"].([]any)
	// h/(d+h)
	if len(col) != 2 || !(math.Abs(col[0].(float64)-0.5) <= 1e-12) || !(math.Abs(col[1].(float64)-0.75) <= 1e-12) {
		t.Errorf("column %v", a[1])
	}
	for i, want := range map[int]float64{2: -32602, 3: -32602, 4: -32601, 5: -32700} {
		e, _ := a[i]["error"].(map[string]any)
		if e == nil || e["code"] != want {
			t.Errorf("request %d: %v, want error %v", i, a[i], want)
		}
	}
	if d, _ := a[2]["error"].(map[string]any)["data"].(map[string]any); d == nil ||
		!strings.Contains(d["field"].(string), "distance") || d["want"] == "" {
		t.Errorf("the fault does not name the field: %v", a[2])
	}
}

func TestSurvey(t *testing.T) {
	read := func(name string) string {
		b, err := os.ReadFile("../../survey/demo/" + name)
		if err != nil {
			t.Fatal(err)
		}
		s, err := json.Marshal(string(b))
		if err != nil {
			t.Fatal(err)
		}
		return string(s)
	}
	a := ask(t, `{"jsonrpc":"2.0","id":1,"method":"survey","params":{"line":`+read("line.json")+`,"survey":`+read(
		"survey.csv")+`}}`)
	lines := a[0]["result"].(map[string]any)["lines"].([]any)
	if len(lines) < 4 || !strings.Contains(lines[1].(string), "tension nip") {
		t.Errorf("%v", lines)
	}
	res := a[0]["result"].(map[string]any)
	if n := res["notices"].([]any); len(n) < 3 {
		t.Errorf("%d notices", len(n))
	}
	if f := res["figures"].(map[string]any); len(f) != 3 || !strings.HasPrefix(f["charge"].(string), "<svg ") {
		t.Errorf("figures %v", f)
	}
	b := ask(t, `{"jsonrpc":"2.0","id":1,"method":"describe","params":{"line":`+read("line.json")+`,"speed":"100 m/min"}}`,
		`{"jsonrpc":"2.0","id":2,"method":"describe","params":{"line":`+read("line.json")+`,"speed":"1e9 m/min"}}`)
	if s := b[0]["result"].(map[string]any)["stations"].([]any); len(s) != 19 {
		t.Errorf("%d stations", len(s))
	}
	if e, _ := b[1]["error"].(map[string]any); e == nil || !strings.Contains(e["message"].(string), "speed") {
		t.Errorf("%v", b[1])
	}
}

// TestNullIsNoZero: a null or NaN argument is an error that names argument and row.
func TestNullIsNoZero(t *testing.T) {
	for arg, row := range map[string]any{"null": nil, "[0.1,null]": 1.0, "[0.1,1e999]": nil, `"NaN m"`: nil, "true": nil,
		"[[1]]": nil, `{"frame":0}`: nil} {
		a := ask(t, `{"jsonrpc":"2.0","id":1,"method":"compute","params":{"name":"field.FieldFactor","args":{"distance":1,"gap":`+
			arg+`}}}`)
		e, _ := a[0]["error"].(map[string]any)
		if e == nil {
			t.Errorf("%s: taken: %v", arg, a[0])
			continue
		}
		d := e["data"].(map[string]any)
		if !strings.Contains(d["field"].(string), "gap") || d["row"] != row {
			t.Errorf("%s: %v", arg, d)
		}
	}
	a := ask(t, `{"jsonrpc":"2.0","id":1,"method":"compute","params":{"name":"field.FieldFactor","args":{"distance":"25 mm",`+
		`"gap":[0.025,-1,0.075,-2]},"bad":"nan"}}`)
	r := a[0]["result"].(map[string]any)
	got := r["results"].(map[string]any)["factor"].([]any)
	if got[0] == nil || got[1] != nil || got[2] == nil || got[3] != nil {
		t.Errorf("%v", got)
	}
	if b := r["bad"].(map[string]any); b["rows"] != 2.0 ||
		!strings.Contains(b["first"].(map[string]any)["message"].(string), "row 1") {
		t.Errorf("%v", b)
	}
}

// TestOversize: a request that is too long is read to its end and refused, and the next one answered.
func TestOversize(t *testing.T) {
	long := `{"jsonrpc":"2.0","id":41,"method":"survey","params":{"line":"` + strings.Repeat("x", mostLine) + `"}}`
	a := ask(t, long, `{"jsonrpc":"2.0","id":42,"method":"dance"}`)
	e := a[0]["error"].(map[string]any)
	if a[0]["id"] != 41.0 || !strings.Contains(e["message"].(string), "bytes") || a[1]["id"] != 42.0 {
		t.Errorf("%v, %v", a[0], a[1])
	}
}

// answer takes a line through reading and computing.
func (s *server) answer(line string) *answer {
	q, a := s.read([]byte(line), false)
	if a == nil {
		a = s.reply(context.Background(), q)
	}
	return a
}

// TestRecover: a computation that panics is answered, alone and in a column.
func TestRecover(t *testing.T) {
	s := &server{find: func(string) *compute.Entry {
		return &compute.Entry{Name: "demo.Panics", Args: []compute.Arg{{Name: "x", Unit: "1", High: 9}},
			Results: []compute.Arg{{Name: "y"}}, Eval: func(_, _ []float64) error { panic("at the disco") }}
	}}
	for _, x := range []string{"1", "[1,2,3]"} {
		a := s.answer(`{"id":7,"method":"compute","params":{"name":"demo.Panics","args":{"x":` + x + `}}}`)
		if a.Error == nil || !strings.Contains(a.Error.Message, "at the disco") || string(a.ID) != "7" {
			t.Errorf("%s: %+v", x, a.Error)
		}
	}
}

// TestFrames: columns travel as doubles, and the first bad row is the one that is told, however the rows were dealt
// out.
func TestFrames(t *testing.T) {
	const n = 100_000
	frame := func(change func([]float64)) string {
		c := make([]float64, n)
		for i := range c {
			c[i] = 0.01 + 1e-6*float64(i)
		}
		change(c)
		b := make([]byte, 0, 8*n)
		for _, v := range c {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
		return string(b)
	}
	head := fmt.Sprintf(`{"id":1,"method":"compute","frames":[%d],"params":{"name":"field.FieldFactor","args":{"distance":0.025,`+
		`"gap":{"frame":0}}}}`+"\n", n)
	var out bytes.Buffer
	if err := serve(strings.NewReader(head+frame(func([]float64) {})), &out); err != nil {
		t.Fatal(err)
	}
	line, rest, _ := bytes.Cut(out.Bytes(), []byte("\n"))
	if !strings.Contains(string(line), fmt.Sprintf(`"frames":[%d]`, n)) || len(rest) != 8*n {
		t.Fatalf("%s, %d bytes", line, len(rest))
	}
	for _, i := range []int{0, 511, 512, n - 1} {
		gap := 0.01 + 1e-6*float64(i)
		got := math.Float64frombits(binary.LittleEndian.Uint64(rest[8*i:]))
		if want := gap / (0.025 + gap); !(math.Abs(got-want) <= 1e-12) { // h/(d+h)
			t.Errorf("row %d: %v, want %v", i, got, want)
		}
	}
	for range 20 {
		out.Reset()
		if err := serve(strings.NewReader(head+frame(func(c []float64) {
			c[70_001], c[60_000], c[99_999] = math.NaN(), -1,
				-1
		})),
			&out); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(out.String(), `"row":60000`) {
			t.Fatalf("%s", out.String()[:200])
		}
	}
	// A frame beyond the limit is read and dropped.
	out.Reset()
	r := io.MultiReader(strings.NewReader(fmt.Sprintf(`{"id":1,"method":"hello","frames":[%d]}`+"\n", mostFrame+1)),
		io.LimitReader(zeros{}, 8*(mostFrame+1)), strings.NewReader(`{"id":2,"method":"dance"}`+"\n"))
	if err := serve(r, &out); err != nil {
		t.Fatal(err)
	}
	if s := out.String(); !strings.Contains(s, "at most") || !strings.Contains(s, `"id":2`) {
		t.Errorf("%s", s)
	}
}

type zeros struct{}

func (zeros) Read(b []byte) (int, error) { clear(b); return len(b), nil }

// TestAttached: the end of the input ends the program amid a computation.
func TestAttached(t *testing.T) {
	r, w := io.Pipe()
	ended := make(chan bool)
	in := ending(r, func() { close(ended) })
	go w.Write([]byte("half a li"))
	b := make([]byte, 4)
	if _, err := io.ReadFull(in, b); err != nil || string(b) != "half" {
		t.Fatal(string(b), err)
	}
	go io.Copy(io.Discard, in)
	w.Close()
	<-ended
}

// FuzzServe: no text ends the conversation, hangs it or leaves a line without its answer.
func FuzzServe(f *testing.F) {
	for _, s := range []string{`{"id":1,"method":"hello"}`,
		`{"id":1,"method":"compute","params":{"name":"field.FieldFactor",` +
			`"args":{"distance":"25 mm","gap":[1,2]}}}`, `{"id":"x","method":"survey","params":{}}`, `{"frames":[1],"id":1}`,
		`{"id":1,"method":"compare","params":{"schema":"x","name":"x","before":{"readings":["9 kV","8 kV"]},"after":{"events":[1]}}}`, `[]`,
		`{"id":1,"frames":[-1]}`, `{"id":null,"method":"describe","params":{"line":"{}","speed":"3"}}`} {
		f.Add(s)
	}
	s := &server{find: registry.Find, out: bufio.NewWriter(io.Discard)}
	f.Fuzz(func(t *testing.T, text string) {
		if strings.Contains(text, "hello") {
			return // always the same, and long
		}
		s.in = bufio.NewReader(strings.NewReader(""))
		a := s.answer(text)
		if (a.Result == nil) == (a.Error == nil) {
			t.Errorf("%q: %+v", text, a)
		}
		if a.Error != nil && a.Error.Code == -32603 {
			t.Errorf("%q: %s", text, a.Error.Message)
		}
		if _, err := json.Marshal(a); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	})
}

// FuzzConversation: whatever bytes come in, frames among them, the conversation ends when they do, and every line that
// goes out is an answer in JSON with the frames that it names.
func FuzzConversation(f *testing.F) {
	for _, s := range []string{"", "\n", `{"id":1,"method":"hello"}`, `{"id":1,"frames":[1],"method":"compute"}` +
		"\n12345678",
		`{"id":1,"frames":[2],"method":"compute"}` + "\n1234567", `{"id":1}` + "\n" + `{"id":2}` + "\n", "{\x00}\n[1]\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, in []byte) {
		if bytes.Contains(in, []byte("hello")) {
			return // always the same, and long
		}
		var out bytes.Buffer
		_ = serve(bytes.NewReader(in), &out)
		for r := bufio.NewReader(&out); ; {
			l, err := r.ReadBytes('\n')
			if err == io.EOF && len(l) == 0 {
				return
			}
			var a struct{ Frames []int }
			if json.Unmarshal(l, &a) != nil {
				t.Fatalf("%q: answered %q", in, l)
			}
			for _, n := range a.Frames {
				if k, err := r.Discard(8 * n); err != nil {
					t.Fatalf("%q: %d of the %d bytes of a frame, %v", in, k, 8*n, err)
				}
			}
		}
	})
}
