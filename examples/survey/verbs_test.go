package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/pithball/line"
)

// Each command runs its demonstration, says that it is invented, and says what the
// shift needs to hear.
func TestVerbs(t *testing.T) {
	for _, c := range []struct {
		name string
		want []string
	}{
		{"hazards", []string{" 1. not-an-approval      safety.zone: not answered", " 2. isolated-conductor   idler 5: 3.6 GΩ",
			"7 kV and 4.9 mJ", "To decide: ", "IEC TS 60079-32-1:2013+A1:2017", "editions as of "}},
		{"forecast", []string{"Limit 1.74 µC/m²: over it below 41 %RH at feeder",
			"By the log of complaints the limit at feeder lies above", "contradicts that", "Limit 4.5 µC/m²",
			"Of the year: 7100 h",
			"Survey in January"}},
		{"compare", []string{"January against September", "the weather alone gives 0.67", "no more than the",
			"off on one day"}},
		{"plan", []string{"STOP: safety.zone: not answered", "- idler 5: 3.6 GΩ, ISOLATED", "earth: "}},
		{"keep", []string{"A5 after idlers 4-6", "earth of each, turning: idler 1", "clean bar B2",
			"A new survey before the next shift"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, out, errs, _ := runIn(t, c.name)
			if code != 0 || errs != "" {
				t.Fatalf("exit %d: %s", code, errs)
			}
			if c.name == "compare" {
				out = strings.ReplaceAll(out, "The weather alone", "the weather alone")
			}
			for _, w := range append(c.want, "Invented") {
				if !strings.Contains(out, w) {
					t.Errorf("lacks %q in\n%s", w, out)
				}
			}
			if c.name != "hazards" && !strings.Contains(out, "\nHazards and limits of use\n- ") {
				t.Errorf("%s: no caution", c.name)
			}
			for _, l := range strings.Split(out, "\n") {
				if strings.Contains(l, "(display)") || len([]rune(l)) > 150 {
					t.Errorf("not for a reader: %q", l)
				}
			}
			code, out, errs, _ = runIn(t, c.name, "-format", "json")
			var v map[string]any
			if err := json.Unmarshal([]byte(out), &v); code != 0 || err != nil ||
				!strings.HasPrefix(v["schema"].(string), "pithball ") {
				t.Errorf("exit %d, %v, %s", code, err, errs)
			}
			if list, _ := v["notices"].([]any); c.name != "hazards" && len(list) == 0 {
				t.Errorf("%s: no caution in JSON", c.name)
			}
			code, _, errs, _ = runIn(t, c.name, "-h")
			if code != 0 || !strings.Contains(errs, "usage: survey "+c.name+" [flags]") {
				t.Errorf("exit %d: %s", code, errs)
			}
		})
	}
}

// With the questions of zone answered a plan goes on, and changes can be tried.
func TestPlanAndTry(t *testing.T) {
	site := filepath.Join(t.TempDir(), "site.json")
	if err := os.WriteFile(site, []byte(read(t, "site.json")), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"plan", "-site", site}, []string{"Aim: ", "Cures in their order", "source: ", "If one ioniser fails",
			"bar B2 out", "Proof", "The laws behind it: bar B1: an estimate; bar B2: ",
			"rests on no published value"}},
		{[]string{"plan", "-site", site, "-speed", "300 m/min", "-format", "json"},
			[]string{`"schema": "pithball plan 1"`, `"refused"`, `"bar B2: `, "rests on no published value"}},
		{[]string{"try"}, []string{"Tried: ", "A7 after lay-on", "display then",
			"The laws behind it: bar B1: an estimate; bar B2: ",
			"rests on no published value"}},
		{[]string{"try", "-site", site, "-format", "json"}, []string{`"any_over_now_then"`, `"then"`,
			"rests on no published value"}},
	} {
		code, out, errs, _ := runIn(t, c.args...)
		for _, w := range c.want {
			if code != 0 || !strings.Contains(out, w) {
				t.Errorf("%v: exit %d, %s, lacks %q in\n%s", c.args, code, errs, w, out)
			}
		}
	}
	for change, want := range map[string]string{
		`{"do": "dance"}`: "changes[0].do", `{"do": "move", "station": "bar B2", "to": "3 V"}`: "to",
		`{"do": "clean", "station": "bar B1"}`: "safety.zone", `{"do": "earth", "station": "nobody"}`: "nobody",
	} {
		f := filepath.Join(t.TempDir(), "c.json")
		if err := os.WriteFile(f, []byte(`{"schema": "pithball changes 1", "changes": [`+change+`]}`), 0o600); err != nil {
			t.Fatal(err)
		}
		if code, out, errs, _ := runIn(t, "try", "-changes", f); code != 2 || out != "" || !strings.Contains(errs, want) {
			t.Errorf("%s: exit %d, %q", change, code, errs)
		}
	}
}

// Hazards need a description alone, and then list every roller as not measured.
func TestHazardsAlone(t *testing.T) {
	f := filepath.Join(t.TempDir(), "l.json")
	if err := os.WriteFile(f, []byte(read(t, "line.json")), 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, errs, _ := runIn(t, "hazards", "-line", f)
	if code != 0 || strings.Count(out, "resistance to earth not measured (open)") != 7 {
		t.Errorf("exit %d: %s\n%s", code, errs, out)
	}
}

// A starter file is a description that the other commands read.
func TestStart(t *testing.T) {
	code, out, errs, dir := runIn(t, "start", "-out", "l.json")
	if code != 0 || !strings.Contains(out, "Assumed") || !strings.Contains(out, "stations[].at: 0.6 m apart") {
		t.Fatalf("exit %d: %s\n%s", code, errs, out)
	}
	f, err := os.Open(filepath.Join(dir, "l.json"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	d, err := line.ReadDescription(f)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := line.New(d); err != nil {
		t.Fatal(err)
	}
	var o, e strings.Builder
	if code := run([]string{"hazards", "-line", filepath.Join(dir, "l.json")}, &o, &e); code != 0 {
		t.Errorf("exit %d: %s", code, e.String())
	}
	if code, _, _, _ := runIn(t, "start"); code != 0 {
		t.Errorf("exit %d", code)
	}
}

// TestAnswersElsewhere: an answer that is none of the eight says where it belongs, a word that is no station what to do
// with it.
func TestAnswersElsewhere(t *testing.T) {
	web, err := os.ReadFile("demo/answers_web.json")
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := os.ReadFile("demo/answers_sheet.json")
	if err != nil {
		t.Fatal(err)
	}
	const there = ": none of the eight answers: who is responsible for the place answers it in site.json, which " +
		"start -folder " +
		"writes and -site reads\n"
	for _, c := range []struct {
		b        []byte
		from, to string
		lines    []string
	}{{b: web, from: `"meter"`, to: `"flammables": "none", "zone": "none", "meter"`,
		lines: []string{"flammables" + there, "zone" + there}},
		{b: sheet, from: `"kind"`, to: `"decidedBy": "invented", "kind"`, lines: []string{"decidedBy" + there}},
		{b: web, from: "nip,", to: "nip, slitting knives,",
			lines: []string{"slitting knives: want unwind", "knives are left out"}},
	} {
		path := filepath.Join(t.TempDir(), "a.json")
		if err := os.WriteFile(path, []byte(strings.Replace(string(c.b), c.from, c.to, 1)), 0o666); err != nil {
			t.Fatal(err)
		}
		var o, e strings.Builder
		if code := run([]string{"start", "-answers", path}, &o, &e); code != 2 {
			t.Errorf("exit %d: %s", code, o.String())
		}
		for _, want := range c.lines {
			if !strings.Contains(e.String(), want) {
				t.Errorf("no %q in %s", want, e.String())
			}
		}
	}
}

// An hour by hour year from a file beside the season; wrong input names its field.
func TestVerbInput(t *testing.T) {
	dir := t.TempDir()
	put := func(name, text string) string {
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return p
	}
	season, days := read(t, "season.json"), read(t, "days.json")
	months := season[strings.Index(season, `"months"`):strings.LastIndex(season, "}")]
	hours := "time,dew point\n"
	for d := 1; d <= 2; d++ {
		for h := range 24 {
			hours += "2025-03-0" + string(rune('0'+d)) + " " + string(rune('0'+h/10)) + string(rune('0'+h%10)) + ":00,-2 °C\n"
		}
	}
	put("h.csv", hours)
	hourly := put("hourly.json", strings.Replace(season, months, `"hours": "h.csv"`+"\n", 1))
	var o, e strings.Builder
	if code := run([]string{"forecast", "-season", hourly}, &o, &e); code != 0 ||
		!strings.Contains(o.String(), "Of the year: 48 h") ||
		!strings.Contains(o.String(), "6 shifts") ||
		!strings.Contains(o.String(), "Of each week, in %:\n  from 1 March       100\n") {
		t.Errorf("exit %d: %s%s", code, e.String(), o.String())
	}
	put("gap.csv", strings.Replace(hours, "2025-03-02 23:00", "2025-03-02 22:00", 1))
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"forecast", "-season", put("a.json", strings.Replace(season, `"6 µC/m²"`, `"6 V"`, 1))}, "charge"},
		{[]string{"forecast", "-season", put("b.json", strings.Replace(season, "season 1", "season 9", 1))}, "season 9"},
		{[]string{"forecast", "-season", put("c.json", strings.Replace(season, months, `"hours": "gap.csv"`, 1))},
			"gap.csv: line 49: time: 2025-03-02 22:00: want 2025-03-02 23:00"},
		{[]string{"forecast", "-season", "nofile"}, "nofile"},
		{[]string{"compare", "-days", put("d.json", strings.Replace(days, `"13800 V"`, `"NaN V"`, 1))}, "readings"},
		{[]string{"compare", "-days", put("e.json", strings.Replace(days, `"dwell": "0.3 s"`, `"dwell": "0 s"`, 1))},
			"dwell"},
		{[]string{"hazards", "-site", put("f.json", `{"safety": {"zone": "3"}}`)}, "zone"},
		{[]string{"hazards", "-survey", "x.csv"}, "-line"},
		{[]string{"keep", "-meter", "none"}, "meter"},
		{[]string{"start", "-answers", put("g.json", strings.Replace(read(t, "answers_web.json"), `"shock"`, `"rain"`, 1))},
			"trouble"},
		{[]string{"dance"}, "verdict, hazards"},
	} {
		var o, e strings.Builder
		if code := run(c.args, &o, &e); code != 2 || !strings.Contains(e.String(), c.want) || o.Len() != 0 ||
			strings.Count(strings.TrimSpace(e.String()), "\n") != 0 {
			t.Errorf("%v: exit %d, %q lacks %q", c.args, code, e.String(), c.want)
		}
	}
}

// Counts, weights and off–on–off go through the same file.
func TestCompareKinds(t *testing.T) {
	dir := t.TempDir()
	for name, c := range map[string][2]string{
		"few counts": {`"before": {"events": [42], "shifts": [10]}, "after": {"events": [25], "shifts": [10]},
			"weather": 0.667`,
			" shifts a side would be needed"},
		"few weights": {`"before": {"deviation": "0.21 g", "number": 5}, "after": {"deviation": "0.12 g", "number": 5}`,
			" weights a side would be needed"},
		"words": {`"before": {"deviation": "0.21 g", "number": 5}, "after": {"deviation": "0.12 g", "number": 5}`,
			"standard deviations of the weights are compared"},
		"counts": {`"before": {"events": [42], "shifts": [10]}, "after": {"events": [15], "shifts": [10]}, "weather": 0.667`,
			"effect 0.54"},
		"weights": {`"before": {"deviation": "0.21 g", "number": 30}, "after": {"deviation": "0.12 g", "number": 30}`,
			"p 0.0036"},
		"switched": {`"before": {"readings": ["4 kV", "4.2 kV"]}, "after": {"readings": ["700 V", "800 V"]}, "again":
			{"readings": ["2 kV", "2.2 kV"]}, "spots": "20%"`, "effect 0.26"},
	} {
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, []byte(`{"schema": "pithball days 1", "name": "x", `+c[0]+`}`), 0o600); err != nil {
			t.Fatal(err)
		}
		var o, e strings.Builder
		if code := run([]string{"compare", "-days", p}, &o, &e); code != 0 || !strings.Contains(o.String(), c[1]) {
			t.Errorf("%s: exit %d %s%s", name, code, e.String(), o.String())
		}
	}
}

// TestCompareAsksForTheWholeAir: a temperature without its humidity is not air of 0 %RH, in which everything would be
// charged.
func TestCompareAsksForTheWholeAir(t *testing.T) {
	for field, side := range map[string]string{"before.relativeHumidity": `"temperature": "22 °C"`,
		"before.temperature": `"relativeHumidity": "30 %RH"`} {
		p := filepath.Join(t.TempDir(), "days.json")
		text := `{"schema": "pithball days 1", "name": "x", "before": {"readings": ["4 kV", "4.2 kV"], ` + side + `},
			"after": {"readings": ["700 V", "800 V"], "temperature": "22 °C", "relativeHumidity": "40 %RH"},
			"leak": {"points": [{"rh": "35 %RH", "time": "0.84 s"}, {"rh": "45 %RH", "time": "0.12 s"}]}, "dwell": "0.3 s"}`
		if err := os.WriteFile(p, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		var o, e strings.Builder
		if code := run([]string{"compare", "-days", p}, &o, &e); code == 0 ||
			!strings.Contains(e.String(), field+": nothing given: want the ") {
			t.Errorf("%s: exit %d %s%s", field, code, e.String(), o.String())
		}
	}
}

// TestWeeksOfAYear: hourly weather of 53 weeks from 3 July on: each week stands where it lies in the calendar, the one
// that comes twice with the mean of both.
func TestWeeksOfAYear(t *testing.T) {
	y := yearOf{begin: time.Date(2025, time.July, 3, 0, 0, 0, 0, time.UTC)} // day 184 of the year, week 26 from 0
	y.ByWeek = make([]float64, 53)
	y.ByWeek[0], y.ByWeek[1], y.ByWeek[26], y.ByWeek[52] = 0.25, 0.5, 0.75, 0.5
	got := y.weeks(&seasonFile{Hours: "hours.csv"})
	// Week 26 after the first is that of 1 January; the last one is that of 2 July 2026, day 183.
	for k, want := range map[int]float64{26: 0.375, 27: 0.5, 0: 0.75, 1: 0, 51: 0} {
		if got[k] != want {
			t.Errorf("week %d: %v, by hand %v", k, got[k], want)
		}
	}
}

// TestFloorWords: a first description has the numbers that a floor writes: 3.6666666666666665 m/s are 220 m/min, no
// length has the digits of the machine, and a display is in V.
func TestFloorWords(t *testing.T) {
	for in, want := range map[string]string{
		`"speed": "3.6666666666666665 m/s"`: `"speed": "220 m/min"`, `"wish": "5 m/s"`: `"wish": "300 m/min"`,
		`"at": "899.9999999999999 mm"`: `"at": "900 mm"`, `"spread": "4.9999999999999996 µC/m²"`: `"spread": "5 µC/m²"`,
		`"median": "0 C/m²"`: `"median": "0 µC/m²"`, `"fullScale": "20 kV(display)"`: `"fullScale": "20 kV"`,
		`"at": "1.234 m"`: `"at": "1.234 m"`,
	} {
		if got := floorWords(in); got != want {
			t.Errorf("%s: %s, want %s", in, got, want)
		}
	}
	var o, e strings.Builder
	if code := run([]string{"start", "-body", "web"}, &o, &e); code != 0 {
		t.Fatal(e.String())
	}
	d, err := line.ReadDescription(strings.NewReader(o.String()))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := line.New(d); err != nil {
		t.Error(err)
	}
	if strings.Contains(o.String(), "m/s\"") || strings.Contains(o.String(), "(display)") ||
		longNumber.MatchString(o.String()) {
		t.Error(o.String())
	}
}
