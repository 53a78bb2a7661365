package cure

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// there writes a result as JSON, reads it again and writes it once more: both texts are one, and
// the values too where no NaN stands in them.
func there[T any](t *testing.T, x T) {
	t.Helper()
	b, err := json.Marshal(x)
	if err != nil {
		t.Fatalf("%T: %v", x, err)
	}
	var y T
	if err := json.Unmarshal(b, &y); err != nil {
		t.Fatalf("%T: %v in %.200s", x, err, b)
	}
	again, err := json.Marshal(y)
	if err != nil || string(again) != string(b) {
		t.Errorf("%T, %v:\n%.3000s\n%.3000s", x, err, b, again)
	}
	if p, q := fmt.Sprintf("%+v", x), fmt.Sprintf("%+v", y); p != q && !strings.Contains(p, "0x") {
		t.Errorf("%T:\n%.2000s\n%.2000s", x, p, q)
	}
}

// TestResultsGoToJSONAndBack: all that a line of goods or a web answers is plain data.
func TestResultsGoToJSONAndBack(t *testing.T) {
	m := free(t, nil)
	m.earth["idler 5"] = ohms{4e9, true, true}
	p := planned(t, m, Aim{Faces: true, Speed: 5})
	there(t, m.Predict())
	there(t, m.Conductors())
	there(t, m.IfOneFails())
	there(t, m.MaxSpeed(0.05))
	there(t, *p)
	for _, c := range p.Cures {
		there(t, c.Changes)
	}
	there(t, p.Refused)
	spot, err := m.BestPlace("idler 2", 25*units.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	there(t, spot)
	for _, plant := range []string{"plant_b", "plant_c"} {
		f, err := os.Open("testdata/" + plant + ".json")
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		g, err := ReadGoods(f)
		if err != nil {
			t.Fatal(err)
		}
		site := nobody()
		r, err := NewRoute(g, &site)
		if err != nil {
			t.Fatal(err)
		}
		there(t, r.Predict(0))
		there(t, r.Sources())
		there(t, *r.Plan(units.Celsius(8)))
	}
}

// TestChangesInJSON: each change of the list has a name of its own and comes back with all its
// fields; what is no change is refused by its field.
func TestChangesInJSON(t *testing.T) {
	all := Changes{Run{2}, Earth{"a", 1000}, Switch{"b", true}, Clean{"c"},
		Move{"d", 1, 0.025, line.FaceB, 0.3}, Add{line.StationSpec{Name: "x", Kind: line.Ioniser, At: 1,
			Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 0.025}}}, Remove{"e"}, Blow{Station: "j", Gauge: 3e4},
		Cover{Station: "f", Face: line.FaceA, Strength: known.Band{Value: 0.5, Spread: 0.3, Kind: known.LogNormal}, Time: 1},
		Load{Station: "g", Times: 0.5}, Wrap{Station: "h", Times: 0.5}, Moisten{"line", 0.45}, Warm{"line", 295.15},
		Shield{"i"}}
	if len(all) != len(webChanges.Get()) {
		t.Errorf("%d changes, %d have a name", len(all), len(webChanges.Get()))
	}
	b, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	var back Changes
	if err := json.Unmarshal(b, &back); err != nil || !cmp.Equal(all, back) {
		t.Errorf("%v\n%s\n%v\n%v", err, b, all, back)
	}
	for text, field := range map[string]string{`[{"do":"jump"}]`: "do", `[{"do":1}]`: "do", `[7]`: "change",
		`{}`:                            "changes",
		`[{"do":"run","sped":"1 m/s"}]`: "sped", `[{"do":"run","speed":"1 kg"}]`: "speed"} {
		if err := json.Unmarshal([]byte(text), &back); err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// TestShortChanges: what has a default may be left out of a change.
func TestShortChanges(t *testing.T) {
	var got Changes
	if err := json.Unmarshal([]byte(`[{"do":"load","station":"nip","times":"0.5"},
		{"do":"wrap","station":"roller","times":"200%"},{"do":"moisten","to":"45%RH"},
		{"do":"warm","to":"25 °C"},{"do":"cover","station":"nip","face":"A"}]`), &got); err != nil {
		t.Fatal(err)
	}
	want := Changes{Load{Station: "nip", Times: 0.5}, Wrap{Station: "roller", Times: 2}, Moisten{To: 0.45},
		Warm{To: units.Celsius(25)}, Cover{Station: "nip", Face: line.FaceA}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	for x, words := range map[Change]string{want[2]: "moisten to 45 %RH", want[3]: "bring to 25.0 °C, same water",
		Moisten{Air: "hall", To: 0.45}: "moisten hall to 45 %RH"} {
		if x.String() != words {
			t.Errorf("%q, want %q", x, words)
		}
	}
}

// TestFaultsOfChanges: a list is told all that is wrong with its form, each fault under line and path, and stays as
// it was.
func TestFaultsOfChanges(t *testing.T) {
	list := Changes{Run{3}}
	err := json.Unmarshal([]byte("[{\"do\": \"run\", \"speed\": \"3 V\"},\n{\"do\": \"ran\"},\n{\"station\": \"x\"},\n"+
		"{\"do\": \"earth\",\n \"station\": \"idler 5\", \"resistence\": \"1 Ω\"}]"), &list)
	want := []string{`line 1: changes[0].speed: speed "3 V": unknown unit "V"`, "line 2: changes[1].do: ran: want one of add, ",
		"line 3: changes[2].do: nothing given: want one of add, ", "line 5: changes[3].resistence: unknown field"}
	if err == nil || len(list) != 1 {
		t.Fatal("taken")
	}
	got := strings.Split(err.Error(), "\n")
	for i, w := range want {
		if i >= len(got) || !strings.HasPrefix(got[i], w) {
			t.Errorf("fault %d: want %q in\n%v", i, w, err)
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d faults:\n%v", len(got), err)
	}
}
