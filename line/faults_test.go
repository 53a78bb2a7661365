package line_test

import (
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/pithball/line"
	"example.org/pithball/units/known"
)

// damaged is the demo's description with some texts exchanged, each of which stands once
// at least and is exchanged where it stands first.
func damaged(t *testing.T, exchange ...string) string {
	t.Helper()
	b, err := os.ReadFile("../examples/survey/demo/line.json")
	if err != nil {
		t.Fatal(err)
	}
	s := string(b)
	for i := 0; i < len(exchange); i += 2 {
		if !strings.Contains(s, exchange[i]) {
			t.Fatalf("%q is not in the description", exchange[i])
		}
		s = strings.Replace(s, exchange[i], exchange[i+1], 1)
	}
	return s
}

// TestFaultsInTheWordsOfTheFile: every fault comes back, with its line, the value as it was
// written and the range in the unit of the file, converted by hand.
func TestFaultsInTheWordsOfTheFile(t *testing.T) {
	d, err := line.ReadDescription(strings.NewReader(damaged(t,
		`"schema": "pithball line 1"`, `"schema": "pithball line 9"`,
		`"thickness": "20 µm"`, `"thickness": "20 m"`,
		`"width": "1.25 m"`, `"width": "90 ft"`,
		`"density": "905 kg/m³"`, `"density": "0.1 kg/m³"`,
		`"speed": "220 m/min"`, `"speed": "1e6 m/min"`,
		`"temperature": "22 °C"`, `"temperature": "300 °F"`,
		`"pressure": "97.8 kPa"`, `"pressure": "978 kPa"`,
		`"gain": "6%"`, `"gain": "600%"`,
		`"name": "idler 2", "kind": "roller", "at": "2.6 m", "roller": {"radius": "50 mm"`,
		`"name": "idler 2", "kind": "roller", "at": "2.6 m", "roller": {"radius": "9000 mm"`)))
	if err != nil {
		t.Fatal(err)
	}
	_, err = line.New(d)
	want := `line 2: schema: pithball line 9: want "pithball line 1"
line 7: web.thickness: 20 m: want 1e-07 … 0.05 m
line 9: web.width: 90 ft: want 0.00328084 … 65.6168 ft
line 10: web.density: 0.1 kg/m³: want 1 … 20000 kg/m³
line 15: speed: 1e6 m/min: want 0.006 … 6000 m/min
line 17: air.temperature: 300 °F: want -40 … 176 °F
line 17: air.pressure: 978 kPa: want 50 … 120 kPa
line 20: meters[0].gain: 600%: want 0 … 100 %
line 30: stations[3] (idler 2).roller.radius: 9000 mm: want 1 … 2000 mm`
	if diff := cmp.Diff(want, err.Error()); diff != "" {
		t.Error(diff)
	}
	var f *known.FieldError
	if !errors.As(err, &f) || f.Field != "schema" {
		t.Errorf("no FieldError in %v", err)
	}
	// A value that was set after reading is told as it is now.
	d.Speed = 300
	if _, err := line.New(d); !strings.Contains(err.Error(), "\nspeed: 300 m/s: want ") {
		t.Error(err)
	}
}

// TestFaultsOfForm: faults of form and of range come back together.
func TestFaultsOfForm(t *testing.T) {
	_, err := line.ReadDescription(strings.NewReader(damaged(t,
		`"width": "1.25 m"`, `"width": "1.25 s"`,
		`"wish": "300 m/min"`, `"wish": 300, "hope": [{"a": 1}, 2]`,
		`"speed": "220 m/min"`, `"speed": "1e6 m/min"`,
		`"guarded": true`, `"guarded": "yes"`, `"kind": "cling"`, `"kind": "clung"`,
		`"roller": {"radius": "50 mm", "kind": "metal"`, `"roller": {"radius": "50 mm", "kind": "wood"`)))
	if err == nil {
		t.Fatal("taken")
	}
	got := strings.Split(err.Error(), "\n")
	for i, want := range []string{"line 9: web.width: ", "line 16: wish: 300: want a string",
		"line 16: hope: unknown field",
		"line 18: limit.kind: clung: want one of cling, 5 kV/in, own",
		`line 20: meters[0].guarded: "yes": want true or false`,
		"line 28: stations[2].roller.kind: wood: want one of metal, insulating",
		"line 15: speed: 1e6 m/min: want 0.006 … 6000 m/min"} {
		if i >= len(got) || !strings.HasPrefix(got[i], want) {
			t.Errorf("fault %d: want %q in\n%v", i, want, err)
		}
	}
	if len(got) != 7 {
		t.Errorf("%d faults:\n%v", len(got), err)
	}
}
