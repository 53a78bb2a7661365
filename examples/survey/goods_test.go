package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every command takes goods by the same flag, or says what takes its place.
func TestGoodsCommands(t *testing.T) {
	dir := t.TempDir()
	changes := write(t, dir, "c.json", `{"schema": "pithball changes 1", "changes": [
		{"do": "warm", "air": "feeder", "to": "22 °C"},
		{"do": "pace", "rate": "15000 1/h"}]}`)
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"hazards", "-line", "testdata/plant_c.json"}, []string{" 1. not-an-approval", "hopper lid: 20 MΩ to earth",
			"compressed-air", "cone-discharge", "dust"}},
		{[]string{"plan", "-line", "testdata/plant_c.json"},
			[]string{"STOP: safety.zone: not answered", "hopper lid: 20 MΩ"}},
		{[]string{"try", "-line", "testdata/plant_b.json", "-site", "demo/site.json", "-changes", changes},
			[]string{"Tried: bring feeder to 22.0 °C", "feed board", "Hazards and limits of use"}},
		{[]string{"try", "-line", "testdata/plant_b.json", "-site", "demo/site.json", "-changes", changes, "-format", "json"},
			[]string{`"unit": "C/m²"`, `"now"`, `"notices"`}},
		{[]string{"-line", "testdata/plant_b.json", "-html", "", "-units", "us"},
			[]string{"Ground: the parts measured", "°F"}},
	} {
		var o, e strings.Builder
		code := run(c.args, &o, &e)
		for _, w := range c.want {
			if code != 0 || !strings.Contains(o.String(), w) {
				t.Errorf("%v: exit %d, %s, lacks %q in\n%s", c.args, code, e.String(), w, o.String())
			}
		}
	}
	b := read2(t, "testdata/plant_b.json")
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"keep", "-line", "testdata/plant_b.json"}, "for a sheet the plan names"},
		{[]string{"-line", "testdata/plant_b.json", "-survey", "x.csv"}, "readings of goods stand in the description"},
		{[]string{"-line", "testdata/plant_b.json", "-limit", "cling"}, "the limit of goods stands in the description"},
		{[]string{"plan", "-line", "testdata/plant_b.json", "-speed", "1 m/s"}, "goods have -rate"},
		{[]string{"plan", "-line", "testdata/plant_b.json", "-faces"}, "one charge a body"},
		{[]string{"plan", "-line", "testdata/plant_b.json", "-rate", "3 m"}, "-rate"},
		{[]string{"plan", "-line", "testdata/plant_b.json", "-rate", "-3 1/h"}, "-rate"},
		{[]string{"plan", "-line", "testdata/plant_b.json", "-cold", "8"}, "-cold"},
		{[]string{"try", "-line", "testdata/plant_b.json"}, "-changes: missing"},
		{[]string{"-line", write(t, dir, "x.json", strings.Replace(b, `"pick", "kind": "pick"`, `"pick", "kind": "die"`, 1))},
			"of a sheet one of pile, pick"},
		{[]string{"-line", write(t, dir, "y.json", strings.Replace(b, `"rate": "12000 1/h"`, `"rate": "12000"`, 1))}, "rate"},
		{[]string{"-line", write(t, dir, "z.json", strings.Replace(b, `"basis"`, `"weight"`, 1))}, "weight"},
	} {
		var o, e strings.Builder
		if code := run(c.args, &o, &e); code != 2 || !strings.Contains(e.String(), c.want) || o.Len() != 0 ||
			strings.Count(strings.TrimSpace(e.String()), "\n") != 0 {
			t.Errorf("%v: exit %d, %q lacks %q", c.args, code, e.String(), c.want)
		}
	}
}

func read2(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// The folder of a first description runs as it stands, for every body, and nothing in it
// is replaced.
func TestStartFolder(t *testing.T) {
	for _, body := range []string{"web", "sheet", "part", "profile", "dose"} {
		dir := filepath.Join(t.TempDir(), "mine")
		var o, e strings.Builder
		if code := run([]string{"start", "-body", body, "-folder", dir}, &o, &e); code != 0 ||
			!strings.Contains(o.String(), "invented: replace them") {
			t.Fatalf("%s: exit %d: %s%s", body, code, o.String(), e.String())
		}
		file := func(name string) string { return filepath.Join(dir, name) }
		// Rates and readings stand in the units of the floor.
		b, err := os.ReadFile(file("line.json"))
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range map[string][]string{"sheet": {`"rate": "12000 1/h"`, `"display": "6 kV"`},
			"part": {`"rate": "1200 1/h"`, `"pail": "25 nC"`}, "dose": {`"rate": "3600 1/h"`, `"pail": "30 nC"`}}[body] {
			if !strings.Contains(string(b), want) {
				t.Errorf("%s: no %s in\n%s", body, want, b)
			}
		}
		args := []string{"-line", file("line.json"), "-site", file("site.json"), "-html", file("r.html")}
		if body == "web" {
			args = append(args, "-survey", file("survey.csv"))
		}
		for _, command := range []string{"verdict", "hazards", "plan"} {
			a := append([]string{command}, args...)
			if command != "verdict" {
				a = append([]string{command}, append(args[:4:4], args[6:]...)...)
			}
			o.Reset()
			if code := run(a, &o, &e); code != 0 || !strings.Contains(o.String(), "safety.zone: not answered") &&
				command != "verdict" {
				t.Errorf("%s: %v: exit %d: %s\n%s", body, a, code, e.String(), o.String())
			}
		}
		// The answers that it wrote give the same description again.
		o.Reset()
		if code := run([]string{"start", "-answers", file("answers.json")}, &o, &e); code != 0 ||
			!json.Valid([]byte(o.String())) {
			t.Errorf("%s: exit %d: %s", body, code, e.String())
		}
		e.Reset()
		if code := run([]string{"start", "-body", body, "-folder", dir}, &o, &e); code != 2 ||
			!strings.Contains(e.String(), "is there already") {
			t.Errorf("%s: exit %d: %s", body, code, e.String())
		}
	}
	var o, e strings.Builder
	if code := run([]string{"start", "-body", "gas"}, &o, &e); code != 2 || !strings.Contains(e.String(), "web, sheet") {
		t.Errorf("exit %d: %s", code, e.String())
	}
}
