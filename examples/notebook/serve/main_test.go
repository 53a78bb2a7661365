package main

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"example.org/pithball/units"
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
	col, _ := a[1]["result"].(map[string]any)["factor"].([]any)
	if len(col) != 2 || math.Abs(col[0].(float64)-0.5) > 1e-12 || math.Abs(col[1].(float64)-0.75) > 1e-12 { // h/(d+h)
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
}
