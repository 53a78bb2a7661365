package floor

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
)

// TestFileKeeps: a file that was opened is saved as it was, and nothing is assumed of it.
func TestFileKeeps(t *testing.T) {
	var o opened
	if err := json.Unmarshal(demo(t), &o); err != nil || len(o.Faults) != 0 {
		t.Fatal(err, o.Faults)
	}
	q, _ := json.Marshal(files{Line: o.Line, Rows: o.Rows})
	var s saved
	if err := json.Unmarshal(Do("save", q), &s); err != nil {
		t.Fatal(err)
	}
	if want, _ := os.ReadFile("../../survey/demo/survey.csv"); s.Survey != string(want) {
		t.Errorf("the survey changed:\n%s", s.Survey)
	}
	var got, want any
	b, _ := os.ReadFile("../../survey/demo/line.json")
	if json.Unmarshal([]byte(s.Line), &got) != nil || json.Unmarshal(b, &want) != nil {
		t.Fatal("not JSON")
	}
	g, _ := json.Marshal(got)
	if w, _ := json.Marshal(want); string(g) != string(w) || len(s.Assumed) != 0 {
		t.Errorf("the line changed: %s; assumed %q", g, s.Assumed)
	}
}

// TestFaultsAreTold: what is missing is told by field and station, all at once.
func TestFaultsAreTold(t *testing.T) {
	var a Answer
	in := `{"line": {"stations": [{"name": "unwind", "kind": "unwind", "at": "0 m"}, {"name": "w", "kind": "winder"}]}}`
	if err := json.Unmarshal(Do("answer", []byte(in)), &a); err != nil {
		t.Fatal(err)
	}
	if len(a.Faults) == 0 || a.Verdict != nil {
		t.Errorf("%+v", a)
	}
}

// TestHostile: what is no request, and names that no plant has, are refused in words.
func TestHostile(t *testing.T) {
	for _, in := range []string{"", "null", "[]", `{"line": 3}`, `{"line": {"stations": 7, "web": "x", "air": []}}`,
		`{"rows": [{"value": "1"}], "line": {}}`} {
		for _, name := range []string{"answer", "fill", "save", "open", "nosuch"} {
			if out := Do(name, []byte(in)); !json.Valid(out) || strings.Contains(string(out), "panic") {
				t.Errorf("%s %q: %s", name, in, out)
			}
		}
	}
	for _, bad := range []string{strings.Repeat("x", 10000), `a\nb`} {
		b, _ := os.ReadFile("../../survey/demo/line.json")
		q, _ := json.Marshal(texts{Line: strings.ReplaceAll(string(b), "idler 1", bad)})
		var o opened
		if json.Unmarshal(Do("open", q), &o) != nil || len(o.Faults) == 0 || o.Line != nil {
			t.Errorf("%.20q: %+v", bad, o.Faults)
		}
	}
}
