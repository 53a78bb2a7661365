package main

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the reports under testdata anew: read them before they are kept")

// The whole job for the three plants: a web with two faces, sheets that leak by
// humidity, doses that a liner charges. The reports are made by the program and were
// read by a person; the figures in them are held by the tests of the packages.
var goldens = []struct {
	name string
	args []string
	want []string // sentences whose direction and size the plant is made to give
}{
	{"a_report", []string{"-site", "demo/site.json", "-speed", "300 m/min", "-faces"},
		[]string{"Earth first: idler 5", "Main source: tension nip", "do not: trust a small reading",
			"not before tension nip"}},
	{"a_plan", []string{"plan", "-site", "demo/site.json", "-speed", "300 m/min", "-faces"},
		[]string{"ISOLATED", "a driven pair of", "by no other bar", "moisten to 45 %RH – an inert web"}},
	{"b_report", []string{"-line", "testdata/plant_b.json", "-site", "demo/site.json", "-season", "demo/season.json",
		"-rate",
		"15000 1/h", "-cold", "8 °C"},
		[]string{"Main source: pick", "the same water is only 29 %RH", "Do next: bring feeder to 22", "wets goods of 8"}},
	{"b_plan", []string{"plan", "-line", "testdata/plant_b.json", "-site", "demo/site.json", "-cold", "8 °C"},
		[]string{"* 2. leak: bring feeder to 22", "gripper bar: not measured, counts as isolated", "wets goods of 8"}},
	{"c_report", []string{"-line", "testdata/plant_c.json", "-site", "demo/site.json"},
		[]string{"Earth first: hopper lid", "Main source: liner gives −7", "take away what charges at liner"}},
	{"c_plan", []string{"plan", "-line", "testdata/plant_c.json", "-site", "demo/site.json"},
		[]string{"hopper lid: 20 MΩ, ISOLATED", "it treats the container"}},
}

func TestGolden(t *testing.T) {
	for _, g := range goldens {
		page := filepath.Join(t.TempDir(), "r.html")
		for _, format := range []string{"text", "json"} {
			args := append([]string{}, g.args...)
			if args[0] != "plan" {
				args = append(args, "-html", "")
			}
			var o, e bytes.Buffer
			if code := run(append(args, "-format", format), &o, &e); code != 0 {
				t.Fatalf("%s: exit %d: %s", g.name, code, e.String())
			}
			kept(t, g.name+map[string]string{"text": ".txt", "json": ".json"}[format], o.String())
			flat := strings.ToLower(strings.Join(strings.Fields(o.String()), " "))
			for _, w := range g.want {
				if format == "text" && !strings.Contains(flat, strings.ToLower(w)) {
					t.Errorf("%s lacks %q", g.name, w)
				}
			}
		}
		if g.args[0] == "plan" {
			continue
		}
		var o, e bytes.Buffer
		if code := run(append(append([]string{}, g.args...), "-html", page), &o, &e); code != 0 {
			t.Fatalf("%s: exit %d: %s", g.name, code, e.String())
		}
		b, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		kept(t, g.name+".html", string(b))
		for _, h := range []string{"Hazards and limits of use", "What to do, in this order", "Where the charge may come from",
			"Outlook with what is marked"} {
			if !strings.Contains(string(b), h) {
				t.Errorf("%s: the page lacks %q", g.name, h)
			}
		}
	}
}

var numeral = regexp.MustCompile(`[0-9]+(\.[0-9]+)?(e[-+]?[0-9]+)?`)

// kept compares a report with the one under testdata: text exactly, numbers to 1e-6,
// since fused multiply-adds of other machines move their last digits.
func kept(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	was, is := strings.Split(strings.ReplaceAll(string(b), "\r\n", "\n"), "\n"), strings.Split(got, "\n")
	for i := range max(len(was), len(is)) {
		switch {
		case i >= len(was) || i >= len(is):
			t.Errorf("%s: %d lines, want %d; -update writes it anew", name, len(is), len(was))
			return
		case !same(was[i], is[i]):
			t.Errorf("%s, line %d:\n got %.300s\nwant %.300s\n(-update writes it anew: read it then)", name, i+1, is[i], was[i])
			return
		}
	}
}

func same(a, b string) bool {
	if numeral.ReplaceAllString(a, "#") != numeral.ReplaceAllString(b, "#") {
		return false
	}
	y := numeral.FindAllString(b, -1)
	for i, s := range numeral.FindAllString(a, -1) {
		p, _ := strconv.ParseFloat(s, 64)
		q, _ := strconv.ParseFloat(y[i], 64)
		if math.Abs(p-q) > 1e-6*math.Max(math.Abs(p), math.Abs(q))+1e-15 {
			return false
		}
	}
	return true
}
