package main

import (
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestOneRound: whatever is wrong with any file or flag of a command is told in one round, each fault with file, line
// and text as written. Lines are counted and ranges converted by hand.
func TestOneRound(t *testing.T) {
	text := func(name string) string { return read(t, name) }
	l := spoiled(t, "line.json", text("line.json"), `"20 µm"`, `"20 m"`, `"220 m/min"`, `"220 kg"`)
	s := spoiled(t, "survey.csv", text("survey.csv"), "idler 2,resistance to ground", "idler 9,resistance to ground",
		",0.6,Ω,", ",0.6,furlong,", ",running,", ",walking,")
	site := spoiled(t, "site.json", text("site.json"), `"zone": "`, `"zone": "un`, `"hours": `, `"hours": -`)
	hours := "time,dew point\n2025-01-01 00:00,-2 °C\n2025-01-01 02:00,28 °F\n"
	season := spoiled(t, "season.json", text("season.json"), `"dwell": "0.3 s"`, `"dwell": "-3 ms"`,
		`"chargeSpread"`, `"chargeSprad"`)
	write := func(name, text string) string {
		if err := os.WriteFile(filepath.Join(filepath.Dir(season), name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return filepath.Join(filepath.Dir(season), name)
	}
	months := text("season.json")
	months = months[strings.Index(months, `"months": [`):]
	months = months[:strings.Index(months, "]")+1]
	hourly := write("hourly.json", strings.Replace(strings.Replace(text("season.json"), months, `"hours": "hours.csv"`, 1),
		`"dwell": "0.3 s"`, `"dwell": "-3 ms"`, 1))
	h := write("hours.csv", hours)
	care := write("care.json", `{"schema": "pithball care 2",
  "outputs": [{"station": "nowhere", "age": ["1 d", "2 d"], "current": ["5 kg", "4 µA/m"]}]}`)
	known := write("known.json", `{"schema": "pithball care 1",
  "outputs": [{"station": "nowhere", "age": ["1 d", "2 d"], "current": ["5 µA/m", "4 µA/m"]}]}`)
	changes := spoiled(t, "changes.json", text("changes.json"), `"earth"`, `"earthe"`)
	where := spoiled(t, "where.json", text("changes.json"), `"idler 5"`, `"idler 50"`)
	many := write("many.json", `{"schema": "pithball changes 1", "changes": [
  {"do": "earth", "station": "idler 50"},
  {"do": "run", "speed": "900 kg"},
  {"do": "moisten", "to": "0.5 %RH"},
  {"do": "switch", "station": "idler 5"},
  {"do": "run", "speed": "7000 m/min"},
  {"do": "earthe", "station": "idler 5"},
  {"do": "earth", "station": "idler 51"}]}`)
	b, err := os.ReadFile("testdata/plant_b.json")
	if err != nil {
		t.Fatal(err)
	}
	goods := spoiled(t, "goods.json", string(b), `"12000 1/h"`, `"12000 kg"`, `"115 g/m²"`, `"115 kg/m²"`)
	nothing := filepath.Join(filepath.Dir(season), "nothing.json")
	for name, c := range map[string]struct {
		args []string
		want []string // how each line begins behind "survey: "
	}{
		"verdict": {[]string{"-line", l, "-survey", s, "-site", site, "-season", hourly, "-speed", "1e6 ft/min", "-html",
			s}, []string{
			l + ": line 7: web.thickness: 20 m: want 1e-07 … 0.05 m", l + `: line 15: speed: speed "220 kg": unknown unit`,
			s + `: line 2: value: resistance "0.6 furlong"`,
			s + ": line 3: station: idler 9: want the name of a station of the description",
			s + ": line 9: running or stopped: walking", site + ": line 2: safety.zone: un", site + ": line ",
			"-speed: 1e6 ft/min: want 0.019685 … 19685 ft/min", h + ": line 3: time: 2025-01-01 02:00: want 2025-01-01 01:00",
			hourly + ": line 7: stations[0].dwell: -3 ms", "-html: " + s + ": is the input"}},
		"no page over the weather": {[]string{"-season", hourly, "-html", h}, []string{
			h + ": line 3: time: ", hourly + ": line 7: stations[0].dwell: -3 ms", "-html: " + h + ": is the input"}},
		"sound but for names": {[]string{"keep", "-care", known, "-meter", "meter 9"}, []string{
			"-meter: meter 9: want", known + ": line 2: outputs[0].station: nowhere: want an ioniser of the line"}},
		"keep": {[]string{"keep", "-line", l, "-survey", s, "-care", care, "-season", season}, []string{
			l + ": line 7: ", l + ": line 15: ", s + ": line 2: ", s + ": line 3: ", s + ": line 9: ",
			care + ": line 1: schema: pithball care 2", care + `: line 2: outputs[0].current[0]: current per width "5 kg"`,
			season + ": line 6: stations[0].chargeSprad: unknown field", season + ": line 7: stations[0].dwell: -3 ms",
			season + ": line 11: stations[0].chargeSpread: missing"}},
		"try": {[]string{"try", "-line", l, "-survey", s, "-site", site, "-changes", changes}, []string{
			l + ": line 7: ", l + ": line 15: ", s + ": line 2: ", s + ": line 3: ", s + ": line 9: ", site + ": line 2: ",
			site + ": line ", changes + ": line 5: changes[0].do: earthe"}},
		"names and ranges of changes beside the rest": {[]string{"try", "-line", l, "-survey", s, "-site", site, "-changes",
			many}, slices.Concat([]string{l + ": line 7: ", l + ": line 15: ", s + ": line 2: ", s + ": line 3: ",
			s + ": line 9: ", site + ": line 2: ", site + ": line "}, ofMany(many))},
		"names and ranges of changes on a sound line": {[]string{"try", "-changes", many}, ofMany(many)},
		"try on a sound line": {[]string{"try", "-site", site, "-changes", changes}, []string{site + ": line 2: ",
			site + ": line ", changes + ": line 5: changes[0].do: earthe"}},
		"names of changes": {[]string{"try", "-changes", where}, []string{
			where + ": line 5: changes[0].station: idler 50: want the name of a station of the line"}},
		"goods": {[]string{"-line", goods, "-rate", "1e9 1/h", "-cold", "300 °F", "-site", site, "-season", season}, []string{
			goods + `: line 5: rate: frequency "12000 kg"`, goods + ": line 5: basis: 115 kg/m²: want", site + ": line 2: ",
			site + ": line ", "-rate: 1e9 1/h: want 0.36 … 3.6e+06 1/h", "-cold: 300 °F: want -40 … 176 °F",
			season + ": line 6: ", season + ": line 7: ", season + ": line 11: "}},
		"no such files": {[]string{"-line", nothing, "-survey", s, "-site", nothing}, []string{nothing + ": open ",
			s + ": line 2: ", s + ": line 9: ", "open " + nothing}},
		"not for a web": {[]string{"-rate", "1 1/s", "-limit", "5 kg", "-chance", "3"}, []string{`-limit: surface charge density "5 kg"`,
			"-rate: not for a web", "-chance: 3: want 0.001 … 0.5"}},
		"no such flag": {[]string{"plan", "-limit", "5 kg"}, []string{
			"flag provided but not defined: -limit; see survey plan -h"}},
	} {
		t.Run(name, func(t *testing.T) {
			var o, e strings.Builder
			if code := run(c.args, &o, &e); code != 2 || o.Len() > 0 {
				t.Errorf("exit %d, %s", code, o.String())
			}
			got := strings.Split(strings.TrimSpace(e.String()), "\n")
			for i, w := range c.want {
				if i >= len(got) || !strings.HasPrefix(got[i], "survey: "+w) {
					t.Errorf("fault %d: want %q", i, w)
				}
			}
			if len(got) != len(c.want) {
				t.Errorf("%d faults, want %d", len(got), len(c.want))
			}
			if t.Failed() {
				t.Log(e.String())
			}
		})
	}
}

// ofMany are the faults of many changes: behind one that nobody can read, which may add what the next one names, names
// are not told.
func ofMany(file string) []string {
	return []string{file + ": line 2: changes[0].station: idler 50: want the name of a station of the line",
		file + `: line 3: changes[1].speed: speed "900 kg"`, file + ": line 4: changes[2].to: 0.5 %RH: want 1 … 100 %RH",
		file + ": line 5: changes[3].on: missing",
		file + ": line 5: changes[3].station: idler 5: want the name of an ioniser",
		file + ": line 6: changes[4].speed: 7000 m/min: want 0.006 … 6000 m/min", file + ": line 7: changes[5].do: earthe"}
}

// TestFolded: one slip that stands in every row is one fault, and does not hide the one beside it.
func TestFolded(t *testing.T) {
	text := strings.ReplaceAll(read(t, "survey.csv"), ",meter 1,", ",meter l,")
	s := spoiled(t, "survey.csv", text, ",0.6,Ω,", ",0.6,furlong,")
	l := spoiled(t, "line.json", read(t, "line.json"))
	var first []string
	for i, row := range strings.Split(text, "\n") {
		if strings.Contains(row, ",meter l,") && strings.Contains(row, ",running,") {
			first = append(first, strconv.Itoa(i+1))
		}
	}
	var o, e strings.Builder
	run([]string{"-line", l, "-survey", s}, &o, &e)
	want := "survey: " + s + ": line 2: value: resistance \"0.6 furlong\": unknown unit \"furlong\"; accepted units: " +
		"mΩ, Ω, kΩ, MΩ, GΩ, TΩ\nsurvey: " + s + ": line " + first[0] + ": meter: meter l: want the name of a field " +
		"meter of the description (and lines " + strings.Join(first[1:6], ", ") + " and " +
		strconv.Itoa(len(first)-6) + " more)\n"
	if e.String() != want {
		t.Errorf("%s\nwant\n%s", &e, want)
	}
}

// TestWhoseFault: a change that waits for an answer on the zone is told of the site, not of the list of changes.
func TestWhoseFault(t *testing.T) {
	dir := t.TempDir()
	var o, e strings.Builder
	if code := run([]string{"start", "-body", "profile", "-folder", dir}, &o, &e); code != 0 {
		t.Fatal(e.String())
	}
	o.Reset()
	code := run([]string{"try", "-line", filepath.Join(dir, "line.json"), "-changes", filepath.Join(dir, "changes.json")},
		&o, &e)
	const want = "survey: -site: safety.zone: not answered: want an answer to zone and flammables by a person who " +
		"decides, first\n"
	if code != 2 || e.String() != want {
		t.Errorf("exit %d, %q", code, e.String())
	}
}
