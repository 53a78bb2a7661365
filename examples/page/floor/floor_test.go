package floor

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
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

// TestEuropeanFile: a survey that semicolons divide, with decimal commas, is opened as the same rows as one of
// commas and points; a number that may be two is a fault.
func TestEuropeanFile(t *testing.T) {
	const head = "schema version,station,quantity,face,distance,gap behind,cross-web position,repeat,date and time," +
		"line speed,running or stopped,air temperature,air humidity,meter,zero,full scale,value,unit,remark\n"
	const row = "pithball survey 1;A 1,5;field meter;A;25,5 mm;;;1;;220 m/min;running;22,5 °C;30 %RH;F;;;-1,25;kV;a, b\n"
	of := func(text string) (o opened) {
		q, _ := json.Marshal(texts{Survey: text})
		if err := json.Unmarshal(Do("open", q), &o); err != nil {
			t.Fatal(err)
		}
		return o
	}
	o := of(strings.ReplaceAll(head, ",", ";") + row)
	if len(o.Faults) != 0 || len(o.Rows) != 1 {
		t.Fatalf("%+v", o)
	}
	for column, want := range map[string]string{"station": "A 1,5", "distance": "25.5 mm",
		"air temperature": "22.5 °C", "value": "-1.25", "remark": "a, b"} {
		if got := o.Rows[0][column]; got != want {
			t.Errorf("%s: %q, want %q", column, got, want)
		}
	}
	o = of(strings.ReplaceAll(head, ",", ";") + strings.Replace(row, "-1,25;kV", "-1,250;kV", 1))
	if len(o.Faults) != 1 || !strings.Contains(o.Faults[0].Text, "-1.250 or -1250") {
		t.Errorf("%+v", o.Faults)
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

// TestMaker: a bar whose sheet is at hand takes nothing from what is assumed of any bar, with air and without; what its
// sheet lacks is asked for by name.
func TestMaker(t *testing.T) {
	const path = `{"line": {"name": "x", "speed": "100 m/min", "web": {"material": "PET film", "thickness": "50 µm",
		"width": "1 m"}, "air": {"temperature": "22 °C", "relativeHumidity": "30 %%RH"}, "stations": [
		{"name": "unwind", "kind": "unwind", "at": "0 m"}, {"name": "bar", "kind": "ioniser", "at": "1 m", "gap": "300 mm",
		"ioniser": {"distance": "100 mm", "bar": {"kind": "DC", "current": "100 µA/m"%s}}},
		{"name": "winder", "kind": "winder", "at": "3 m"}]}}`
	for more, fault := range map[string]string{
		``: "voltage",
		`, "voltage": "6 kV", "start": "3 kV", "pitch": "20 mm"`:                                             "",
		`, "gauge": "0.3 bar(g)", "hole": "1 mm", "holePitch": "20 mm", "captured": "30 %", "at": "205 m/s"`: "",
		`, "gauge": "0.3 bar(g)", "hole": "1 mm", "holePitch": "20 mm"`:                                      "captured",
	} {
		var a Answer
		if err := json.Unmarshal(Do("answer", fmt.Appendf(nil, path, more)), &a); err != nil {
			t.Fatal(err)
		}
		if fault == "" && len(a.Faults) > 0 || fault != "" && !slices.ContainsFunc(a.Faults, func(f Fault) bool {
			return strings.Contains(f.Text, fault)
		}) {
			t.Errorf("%s: %+v", more, a.Faults)
		}
		for _, x := range a.Assumed {
			if strings.HasPrefix(x, "bar:") && !strings.Contains(x, "meets face") {
				t.Errorf("assumed of a bar with a sheet: %s", x)
			}
		}
	}
}
