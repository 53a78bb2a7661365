package line

import (
	"slices"
	"strings"
	"testing"

	"example.org/pithball/units"
)

func answers() Answers {
	return Answers{Name: "slitter", Material: "BOPP", Thickness: 20 * units.Micrometre, Width: 1.25,
		Speed:   220 * units.MetrePerMinute,
		Trouble: "shock", Stations: "unwind, idler, bar, nip, winder", Temperature: units.Celsius(22), RelativeHumidity: 0.3}
}

// A starter has the stations of the words with a place behind each, and lists what it took.
func TestStart(t *testing.T) {
	d, assumed, err := Start(answers())
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, s := range d.Stations {
		names = append(names, s.Name)
	}
	want := []string{"unwind", "after unwind", "idler 1", "after idler 1", "bar 1", "after bar 1", "nip 1",
		"after nip 1", "winder"}
	if !slices.Equal(names, want) {
		t.Errorf("%q", names)
	}
	if d.Web.Density != 905 || d.Limit.Kind != "cling" || d.Stations[2].At != 0.6 {
		t.Errorf("%+v", d.Web)
	}
	for _, field := range []string{"web.volumeResistivity", "stations[].at", "meters", "idler 1 touches", "limit"} {
		if !slices.ContainsFunc(assumed, func(a Assumption) bool {
			return a.Field == field && a.Value != "" &&
				a.Range != ""
		}) {
			t.Errorf("%s is taken and not told", field)
		}
	}
	a := answers()
	a.Material, a.Trouble, a.Stations = "unobtainium", "misplaced", "unwind, brush, winder"
	if d, _, err = Start(a); err != nil || d.Limit.Kind != "own" || !d.Stations[2].Ioniser.Passive {
		t.Errorf("%+v %v", d, err)
	}
	for field, spoil := range map[string]func(*Answers){
		"stations":      func(a *Answers) { a.Stations = "idler, winder" },
		"word 2":        func(a *Answers) { a.Stations = "unwind, dragon, winder" },
		"trouble":       func(a *Answers) { a.Trouble = "rain" },
		"web.thickness": func(a *Answers) { a.Thickness = 0 },
		"speed":         func(a *Answers) { a.Speed = -1 },
	} {
		a := answers()
		spoil(&a)
		if _, _, err := Start(a); err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("%s: %v", field, err)
		}
	}
}
