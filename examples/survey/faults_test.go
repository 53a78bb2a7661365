package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// spoiled writes a demonstration's file with texts exchanged, each where it stands first.
func spoiled(t *testing.T, name, text string, exchange ...string) string {
	t.Helper()
	for i := 0; i < len(exchange); i += 2 {
		if !strings.Contains(text, exchange[i]) {
			t.Fatalf("%s: no %q", name, exchange[i])
		}
		text = strings.Replace(text, exchange[i], exchange[i+1], 1)
	}
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestAllFaults: every file that the program reads is told all that is wrong with it at once, each fault in a
// line of its own with file, line, path, what was written and the range in its unit. Lines are counted and
// ranges converted by hand.
func TestAllFaults(t *testing.T) {
	const site = `{
  "safety": {"flammables": "some", "zone": "3", "substance": "tea",
    "decidedBy": "A. Person"},
  "prices": {"hours": 1e5},
  "webTemperature": "900 °F",
  "devices": {
    "bar 1": {"noise": 300, "air": "99 m³/s"}
  }
}
`
	const care = `{
  "schema": "pithball care 1",
  "readings": 1000,
  "outputs": [
    {"station": "bar B1", "age": ["1 d", "2 d"], "current": ["5 µA/m", "0 µA/m"], "error": "300%"},
    {"station": "nowhere", "age": ["1 d"], "current": ["5 µA/m"]}
  ],
  "history": [{"station": "somewhere", "values": ["900 V"]}]
}
`
	for name, c := range map[string]struct {
		args []string // the last is the file
		want string   // one line a fault, without the file
	}{
		"form": {[]string{"forecast", "-season", spoiled(t, "f.json", read(t, "season.json"), `"6 µC/m²"`, `"6 V"`,
			`"chargeSpread"`, `"chargeSprad"`, `"volume": "3200 m³"`, `"volume": "3e12 l"`, `"within": "4 K"`, `"within": 4`)},
			"line 6: stations[0].charge: surface charge density \"6 V\": unknown unit …\n" +
				"line 6: stations[0].chargeSprad: unknown field: …\nline 11: stations[0].chargeSpread: missing\n" +
				"line 13: hall.volume: 3e12 l: want 0 … 1e+10 l\nline 16: within: 4: want a string"},
		"season": {[]string{"forecast", "-season", spoiled(t, "s.json", read(t, "season.json"), "season 1", "season 9",
			`"6 µC/m²"`, `"0 nC/cm²"`, `"dwell": "0.3 s"`, `"dwell": "-3 ms"`, `"temperature": "27 °C"`,
			`"temperature": "300 °F"`,
			`"4.5 µC/m²"`, `"0 µC/m²"`, `"time": "0.84 s"`, `"time": "-1 ms"`, `"29.5%RH"`, `"130 %RH"`,
			`"most": "40 kg/h"`, `"most": "-40 lb/h"`)},
			"line 2: schema: pithball season 9: want \"pithball season 1\"\n" +
				"line 6: stations[0].limits[1]: 0 µC/m²: want more than 0 and finite\n" +
				"line 6: stations[0].charge: 0 nC/cm²: want a charge of more than 0\n" +
				"line 7: stations[0].dwell: -3 ms: want more than 0 and finite\n" +
				"line 7: stations[0].temperature: 300 °F: want -40 … 176 °F\n" +
				"line 8: stations[0].leak.points[0].time: -1 ms: want more than 0 and finite\n" +
				"line 9: stations[0].log[0].relativeHumidity: 130 %RH: want 0 … 100 %RH\n" +
				"line 14: hall.humidifier.most: -40 lb/h: want 0 or more and finite"},
		"months": {[]string{"forecast", "-season", spoiled(t, "m.json", read(t, "season.json"), `"-9 °C"`, `"-90 °F"`,
			`"15 °C"`, `"150 °C"`, `"within": "4 K"`, `"within": "-4 K"`)},
			"line 15: months[0]: -90 °F: want -76 … 104 °F\nline 15: months[6]: 150 °C: want -60 … 40 °C\n" +
				"line 16: within: -4 K: want more than 0 and finite"},
		"days": {[]string{"compare", "-days", spoiled(t, "d.json", read(t, "days.json"), `"relativeHumidity": "29.5%RH"`,
			`"relativeHumidity": "129 %RH"`, `"rhError": "1.5%RH"},`, `"rhError": "80 %RH"},`, `"spots": "25%"`,
			`"spots": "900%"`, `"dwell": "0.3 s"`, `"dwell": "0 ms"`, `"dryDay": "25%RH"`, `"dryDay": "125 %RH"`)},
			"line 6: before.relativeHumidity: 129 %RH: want 0 … 100 %RH\n" +
				"line 6: before.rhError: 80 %RH: want 0 … 50 %RH\n" +
				"line 9: spots: 900%: want 0 … 500 %\n" +
				"line 11: dwell: 0 ms: want more than 0 and finite\n" +
				"line 12: dryDay: 125 %RH: want 0 … 100 %RH"},
		"site": {[]string{"hazards", "-site", spoiled(t, "site.json", site)},
			"line 2: safety.flammables: some: want one of unknown, none, vapour, gas, dust\n" +
				"line 2: safety.zone: 3: want one of unknown, none, 0, 1, 2, 20, 21, 22\n" +
				"line 2: safety.substance: tea: want a substance that is held …\n" +
				"line 4: prices.hours: 1e5: want 0 … 8784\n" +
				"line 5: webTemperature: 900 °F: want -40 … 392 °F\n" +
				"line 7: devices[bar 1].air: 99 m³/s: want 0 … 10 m³/s\n" +
				"line 7: devices[bar 1].noise: 300: want 0 … 160"},
		"care": {[]string{"keep", "-care", spoiled(t, "care.json", care)}, "line 3: readings: 1000: want 1 … 100\n" +
			"line 5: outputs[0].error: 300%: want 0 … 100 %\n" +
			"line 5: outputs[0].current[1]: 0 µA/m: want more than 0 and finite\n" +
			"line 6: outputs[1].current: 1 currents, 1 ages: want two or more currents, each with its age\n" +
			"line 6: outputs[1].station: nowhere: want an ioniser of the line\n" +
			"line 8: history[0].station: somewhere: want a station of the line"},
		"start": {[]string{"start", "-answers", spoiled(t, "a.json", read(t, "answers_web.json"), `"20 µm"`, `"20 in"`,
			`"220 m/min"`, `"1e6 ft/min"`, `"22 °C"`, `"222 °F"`, `"shock"`, `"rain"`, "bar, nip", "bear, nip")},
			"line 4: thickness: 20 in: want 3.93701e-06 … 1.9685 in\n" +
				"line 5: speed: 1e6 ft/min: want 0.019685 … 19685 ft/min\n" +
				"line 6: trouble: rain: want one of jam, double feed, cling, …\n" +
				"line 7: stations[3]: bear: want unwind, idler, roller, nip, bar, brush or winder; what the web slides over " +
				"counts as a roller, knives are left out\n" +
				"line 8: temperature: 222 °F: want -40 … 176 °F"},
		"start goods": {[]string{"start", "-answers", spoiled(t, "g.json", read(t, "answers_part.json"), `"inert"`,
			`"dry"`, `"20 1/min"`, `"2e6 1/min"`, `"24 °C"`, `"240 °F"`, "slide,", "slip,")},
			"line 4: moisture: dry: want one of unknown, inert, adsorbing, absorbing\n" +
				"line 4: rate: 2e6 1/min: want 0.006 … 60000 1/min\n" +
				"line 5: stations[1]: slip: want of a part one of mould, slide, drop, ioniser, place, bin\n" +
				"line 6: temperature: 240 °F: want -40 … 176 °F"},
		"changes": {[]string{"try", "-changes", spoiled(t, "c.json", read(t, "changes.json"), `"idler 5"`, `"idler 50"`,
			`"30 kN/m"`, `"-30 lbf/in"`)}, "line 5: changes[0].station: idler 50: want the name of a station of the line\n" +
			"line 6: changes[1].from: -30 lbf/in: want more than 0 and finite"},
		"changes, form": {[]string{"try", "-changes", spoiled(t, "c.json", read(t, "changes.json"), "changes 1", "changes 2",
			`"earth"`, `"earthe"`, `"30 kN/m"`, `"30 K"`, `"15 kN/m"`,
			`"15 kN/m", "exponent": {"value": 1, "kind": "exactly"}`)},
			"line 2: schema: pithball changes 2: want \"pithball changes 1\"\n" +
				"line 5: changes[0].do: earthe: want run, earth, switch, …\n" +
				"line 6: changes[1].from: force per width \"30 K\": unknown unit \"K\", …\n" +
				"line 6: changes[1].exponent.kind: exactly: want one of exact, normal, lognormal, uniform, at least"},
		"line": {[]string{"plan", "-line", spoiled(t, "l.json", read(t, "line.json"), `"220 m/min"`, `"1e6 m/min"`,
			`"20 µm"`, `"20 m"`, `"1.25 m"`, `"90 ft"`)},
			"line 7: web.thickness: 20 m: want 1e-07 … 0.05 m\nline 9: web.width: 90 ft: want 0.00328084 … 65.6168 ft\n" +
				"line 15: speed: 1e6 m/min: want 0.006 … 6000 m/min"},
	} {
		t.Run(name, func(t *testing.T) {
			var o, e strings.Builder
			if code := run(c.args, &o, &e); code != 2 || o.Len() > 0 {
				t.Errorf("exit %d, %s", code, o.String())
			}
			head := "survey: " + c.args[len(c.args)-1] + ": "
			var got []string
			for _, l := range strings.Split(strings.TrimSpace(e.String()), "\n") {
				rest, ok := strings.CutPrefix(l, head)
				if !ok {
					t.Errorf("%q does not begin with %q", l, head)
				}
				got = append(got, rest)
			}
			want := strings.Split(c.want, "\n")
			for i, w := range want {
				if cut, ok := strings.CutSuffix(w, "…"); ok && i < len(got) && strings.HasPrefix(got[i], cut) {
					got[i] = w
				}
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestFaultsOfHours: a year of hours is told all its faults, each in its row, and what is no table of hours at all.
func TestFaultsOfHours(t *testing.T) {
	const text = "\ufefftime,dew point\n2025-03-01 00:00,-2 °C\n2025-03-01 01:00,\n2025-03-01 03:00,28 °F\n" +
		"soon,-2 °C\n2025-03-01 05:00,-2 bar\n2025-03-01 06:00\n2025-03-01 07:00,999 °F\n2025-03-01 08:00,1 °C\n"
	_, _, err := readHours(strings.NewReader(text))
	want := []string{
		"line 4: time: 2025-03-01 03:00: want 2025-03-01 02:00, an hour after the row before; " +
			"leave the dew point of a gap empty",
		"line 5: time: soon: want a time such as 2025-01-01 00:00",
		`line 6: dew point: temperature "-2 bar": unknown unit`,
		"line 7: row: 1 fields: want 2, a time and a dew point",
		"line 8: dew point: 999 °F: want -146.2 … 140 °F",
	}
	if err == nil {
		t.Fatal("taken")
	}
	got := strings.Split(err.Error(), "\n")
	for i, w := range want {
		if i >= len(got) || !strings.HasPrefix(got[i], w) {
			t.Errorf("fault %d: want %q in\n%v", i, w, err)
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d faults, want %d\n%v", len(got), len(want), err)
	}
	for in, want := range map[string]string{"": "line 1: row: ",
		"hour,dew\n":      "line 1: row: hour,dew: want time,dew point",
		"t\x00i\x00m\x00": "line 1: hours: text in UTF-16: want text in UTF-8",
		"time,dew point\n2025-03-01 00:00,\"-2\n": "line 2: not a CSV row"} {
		if _, _, err := readHours(strings.NewReader(in)); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, want %s", in, err, want)
		}
	}
	for text, want := range map[string]string{
		"2025-03-01 00:00;1,500 °C\n": "line 2: dew point: 1,500 °C: want 1.500 or 1500, written 1,5000 or 1500: ",
		"2025-03-01 00:00;-99,5 °C\n": "line 2: dew point: -99,5 °C: want -99 … 60 °C",
		"2025-03-01 00:00;-2,5 bar\n": `line 2: dew point: temperature "-2,5 bar": unknown unit`} {
		if _, _, err := readHours(strings.NewReader("time;dew point\n" + text)); err == nil ||
			!strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
	for text, by := range map[string]string{"time;dew point\r\n2025-03-01 00:00;-2,5 °C\r\n2025-03-01 01:00;\r\n": ";",
		"\ufefftime\tdew point\n2025-03-01 00:00\t-2.5 °C\n2025-03-01 01:00\t\n": "a tab"} {
		list, _, err := readHours(strings.NewReader(text))
		if err != nil || len(list) != 2 || list[0].DewPoint() < 270.64 || list[0].DewPoint() > 270.66 {
			t.Errorf("divided by %s: %v %v, by hand −2.5 °C is 270.65 K", by, list, err)
		}
	}
	list, begin, err := readHours(strings.NewReader(text[:strings.Index(text, "2025-03-01 03")]))
	if err != nil || len(list) != 2 || begin.Hour() != 0 || list[0].DewPoint() < 271.1 || list[0].DewPoint() > 271.2 {
		t.Errorf("%v %v %v", list, begin, err)
	}
}

// TestFlagRanges: a flag out of its range is told as it was written, with the range in its unit, converted by hand.
func TestFlagRanges(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"plan", "-speed", "1e6 ft/min"}, "survey: -speed: 1e6 ft/min: want 0.019685 … 19685 ft/min\n"},
		{[]string{"-limit", "5 C/m²"}, "survey: -limit: 5 C/m²: want 1e-12 … 0.01 C/m²; or cling, or \"5 kV/in\"\n"},
		{[]string{"plan", "-line", "testdata/plant_b.json", "-rate", "1e9 1/h"},
			"survey: -rate: 1e9 1/h: want 0.36 … 3.6e+06 1/h\n"},
		{[]string{"plan", "-line", "testdata/plant_b.json", "-cold", "300 °F"},
			"survey: -cold: 300 °F: want -40 … 176 °F\n"},
	} {
		var o, e strings.Builder
		if code := run(c.args, &o, &e); code != 2 || e.String() != c.want || o.Len() > 0 {
			t.Errorf("%v: exit %d, %q, want %q", c.args, code, e.String(), c.want)
		}
	}
}

// TestFaultsOfBothFiles: the faults of the description do not hide those of the survey.
func TestFaultsOfBothFiles(t *testing.T) {
	read := func(name string) string {
		b, err := demo.ReadFile("demo/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	l := spoiled(t, "line.json", read("line.json"), `"speed": "220 m/min"`, `"speed": "fast"`)
	s := spoiled(t, "survey.csv", read("survey.csv"), ",0.6,Ω,", ",0.6,furlong,", ",running,", ",walking,")
	var out, told strings.Builder
	if code := run([]string{"-line", l, "-survey", s, "-html", ""}, &out, &told); code != 2 {
		t.Fatalf("exit code %d", code)
	}
	for _, want := range []string{l + `: line `, `speed "fast": no number`, s + ": line 2: value:", `"furlong"`,
		s + ": line 9: running or stopped: walking"} {
		if !strings.Contains(told.String(), want) {
			t.Errorf("%s\ndoes not say %q", &told, want)
		}
	}
	if out.Len() > 0 {
		t.Errorf("printed %q", &out)
	}
}
