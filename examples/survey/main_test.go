package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.org/pithball/line/survey"
)

// runIn runs the command in a folder of its own.
func runIn(t *testing.T, args ...string) (code int, out, errs, dir string) {
	t.Helper()
	dir = t.TempDir()
	t.Chdir(dir)
	var o, e bytes.Buffer
	code = run(args, &o, &e)
	return code, o.String(), e.String(), dir
}

func TestDemo(t *testing.T) {
	code, out, errs, dir := runIn(t)
	if code != 0 {
		t.Fatalf("exit %d: %s", code, errs)
	}
	lines := strings.Split(out, "\n")
	if !strings.Contains(lines[1], "Invented") {
		t.Errorf("the demonstration does not say that it is invented: %q", lines[1])
	}
	// The verdict comes first: at most seven numbered lines before the table.
	head, _, _ := strings.Cut(out, "\nStations at ")
	if n := strings.Count(head, "\n1. ") + strings.Count(head, "\n2. ") + strings.Count(head, "\n3. ") +
		strings.Count(head, "\n4. ") +
		strings.Count(head, "\n5. ") + strings.Count(head, "\n6. ") + strings.Count(head, "\n7. ") +
		strings.Count(head, "\n8. "); n < 4 || n > 7 {
		t.Errorf("%d verdict lines", n)
	}
	for _, want := range []string{"1. Earth first: idler 5", "Main source: tension nip",
		"\nReport: pithball-survey.html"} {
		if !strings.Contains(out, want) {
			t.Errorf("output lacks %q", want)
		}
	}
	b, err := os.ReadFile(filepath.Join(dir, "pithball-survey.html"))
	if err != nil {
		t.Fatal(err)
	}
	checkReport(t, string(b))
	if left, _ := filepath.Glob(filepath.Join(dir, ".pithball-*")); len(left) != 0 {
		t.Errorf("temporary files left: %v", left)
	}
}

// checkReport: one self-contained page, no script, no network, every SVG with a
// title and a text, well formed SVGs.
func checkReport(t *testing.T, s string) {
	t.Helper()
	for _, bad := range []string{"<script", "http://", "https://", "<link", "@import", "src=", "url("} {
		// The name of the SVG language is no address to load from.
		if strings.Contains(strings.ReplaceAll(strings.ReplaceAll(s, `"http://www.w3.org/2000/svg"`, ""),
			`"http://www.w3.org/1999/xlink"`, ""), bad) {
			t.Errorf("the report holds %q", bad)
		}
	}
	// What a person reads: true minus signs, the cautions before the figures and the tables.
	seen := regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>`).ReplaceAllString(s, " ")
	if m := regexp.MustCompile(`.{0,20}[\s(]-[0-9].{0,20}`).FindString(seen); m != "" {
		t.Errorf("a hyphen for a minus sign: %q", m)
	}
	care, figure, table := strings.Index(s, "Hazards and limits"), strings.Index(s, "<svg"), strings.Index(s, ">Stations<")
	if ground := strings.Index(s, "Earth check"); !(0 < ground && ground < care && care < figure && figure < table) {
		t.Errorf("order: ground %d, hazards %d, figures %d, stations %d", ground, care, figure, table)
	}
	if !strings.Contains(seen, "measured on 2026-01-14") {
		t.Error("no date of measuring")
	}
	n := 0
	for rest := s; ; n++ {
		i := strings.Index(rest, "<svg")
		if i < 0 {
			break
		}
		end := strings.Index(rest[i:], "</svg>") + len("</svg>")
		doc := rest[i : i+end]
		d := xml.NewDecoder(strings.NewReader(doc))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Errorf("SVG %d: %v", n, err)
				break
			}
		}
		if !strings.Contains(doc, `role="img"`) || !strings.Contains(doc, "<title>") || !strings.Contains(doc, "<desc>") {
			t.Errorf("SVG %d has no role, title or text", n)
		}
		rest = rest[i+end:]
	}
	if n < 2 {
		t.Errorf("%d plots", n)
	}
}

func TestJSON(t *testing.T) {
	code, out, errs, _ := runIn(t, "-format", "json", "-html", "")
	if code != 0 {
		t.Fatalf("exit %d: %s", code, errs)
	}
	var v struct {
		Outcome string   `json:"outcome"`
		Main    []string `json:"main"`
		Between []string `json:"between"`
		Schema  string   `json:"schema"`
		Verdict struct {
			Source string `json:"source"`
		} `json:"verdict"`
		Stations []struct {
			Name string  `json:"name"`
			Net  float64 `json:"field_V_per_m"`
			A    struct {
				Value, SD, Low, High float64
			} `json:"faceA_C_per_m2"`
		} `json:"stations"`
	}
	if err := json.Unmarshal([]byte(out), &v); err != nil {
		t.Fatal(err)
	}
	if v.Schema == "" || !strings.Contains(v.Verdict.Source, "nip") || len(v.Stations) != 19 {
		t.Errorf("%+v", v)
	}
	if v.Outcome != "one source" || len(v.Main) != 1 || v.Main[0] != "tension nip" || len(v.Between) != 2 ||
		v.Between[1] != "tension nip" {
		t.Errorf("outcome %q, main %q between %q", v.Outcome, v.Main, v.Between)
	}
	for _, s := range v.Stations {
		if a := s.A; !(a.Low < a.Value && a.Value < a.High && a.SD > 0) {
			t.Errorf("%s: face A %+v", s.Name, a)
		}
	}
}

func TestUS(t *testing.T) {
	_, out, _, _ := runIn(t, "-units", "us", "-html", "")
	for _, want := range []string{"ft/min", "kV/in", " ft ", "25 mm (1 in)", "Ground first: idler 5", "not grounded"} {
		if !strings.Contains(out, want) {
			t.Errorf("US output lacks %q", want)
		}
	}
	if m := regexp.MustCompile(`(?i).{0,30}\bearth.{0,30}`).FindString(strings.ReplaceAll(out, "earthing and bonding",
		"")); m != "" {
		t.Errorf("earth for a reader who says ground: %q", m)
	}
}

func read(t *testing.T, name string) string {
	t.Helper()
	b, err := demo.ReadFile("demo/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// TestEscaped: names from the user's files cannot become markup.
func TestEscaped(t *testing.T) {
	l := strings.ReplaceAll(read(t, "line.json"), "tension nip", "nip <b>&\\\"x")
	s := strings.ReplaceAll(read(t, "survey.csv"), "tension nip", `"nip <b>&""x"`)
	dir := t.TempDir()
	write(t, dir, "l.json", l)
	write(t, dir, "s.csv", s)
	code, _, errs, out := runIn(t, "-line", filepath.Join(dir, "l.json"), "-survey", filepath.Join(dir, "s.csv"))
	if code != 0 {
		t.Fatalf("exit %d: %s", code, errs)
	}
	b, err := os.ReadFile(filepath.Join(out, "pithball-survey.html"))
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(b), "nip <b>") {
		t.Error("a station name became markup")
	}
	checkReport(t, string(b))
}

func write(t *testing.T, dir, name, s string) string {
	t.Helper()
	p := filepath.Join(dir, name)
	if err := os.WriteFile(p, []byte(s), 0o644); err != nil {
		t.Fatal(err)
	}
	return p
}

// TestBadInput runs the built binary: exit status 2, one line that names file,
// place, value and range, nothing written.
func TestBadInput(t *testing.T) {
	exe := filepath.Join(t.TempDir(), "survey.exe")
	if out, err := exec.Command("go", "build", "-o", exe, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	l, s := read(t, "line.json"), read(t, "survey.csv")
	swap := func(text, old, new string) string {
		if !strings.Contains(text, old) {
			t.Fatalf("the demo has no %q to spoil", old)
		}
		return strings.Replace(text, old, new, 1)
	}
	big := s + strings.Repeat(s[strings.LastIndex(strings.TrimSpace(s), "\n")+1:], 1_000_000)
	header, _, _ := strings.Cut(s, "\n")
	for _, c := range []struct {
		name, line, survey string
		want               []string // the message holds all of them
	}{
		{"missing field", swap(l, `"width": "1.25 m",`, ""), s, []string{"l.json", "line ", "web.width", "missing"}},
		{"unknown field", swap(l, `"width"`, `"breadth"`), s, []string{"l.json", "web.breadth", "unknown field"}},
		{"unknown unit", swap(l, `"20 µm"`, `"20 furlong"`), s,
			[]string{"l.json", "line ", "web.thickness", "furlong", "µm"}},
		{"no unit", swap(l, `"20 µm"`, `"20"`), s, []string{"l.json", "web.thickness", "unit"}},
		{"number for a quantity", swap(l, `"20 µm"`, `20`), s, []string{"l.json", "web.thickness", "string"}},
		{"negative length", swap(l, `"20 µm"`, `"-20 µm"`), s,
			[]string{"l.json", "web.thickness", "-20 µm", "0.1 … 50000 µm"}},
		{"NaN", swap(l, `"20 µm"`, `"NaN µm"`), s, []string{"l.json", "web.thickness", "NaN"}},
		{"not JSON", "line: 3", s, []string{"l.json", "line 1", "not JSON"}},
		{"empty description", "", s, []string{"l.json", "description"}},
		{"half a document", l[:len(l)/2], s, []string{"l.json", "line "}},
		{"station out of order", swap(l, `"at": "2.6 m"`, `"at": "1.6 m"`), s,
			[]string{"l.json", "stations[3] (idler 2).at", "1.6 m", "2 m or more"}},
		{"empty survey", l, "", []string{"s.csv", "line 1", "first row"}},
		{"header only", l, header + "\n", []string{"s.csv", "at least one reading"}},
		{"unknown column", l, swap(s, "remark", "comment"), []string{"s.csv", "line 1", "comment", "remark"}},
		{"missing column", l, swap(s, ",remark", ""), []string{"s.csv", "line 1", "remark"}},
		{"not a number", l, swap(s, ",-4390,V,", ",NaN,V,"), []string{"s.csv", "line 9", "value", "NaN"}},
		{"wrong unit", l, swap(s, ",-4390,V,", ",-4390,Ω,"), []string{"s.csv", "line 9", "value", "Ω"}},
		{"unknown station", l, swap(s, "A1 after unwind", "A9"), []string{"s.csv", "line 9", "A9"}},
		{"unknown meter", l, swap(s, ",meter 1,", ",meter 7,"), []string{"s.csv", "line 9", "meter 7"}},
		{"no speed", l, swap(s, ",220 m/min,running", ",0 m/min,running"), []string{"s.csv", "line 9", "line speed"}},
		{"short row", l, s + "pithball survey 1,idler 1\n", []string{"s.csv", "line 44", "2 fields", "19"}},
		{"old schema", l, swap(s, "pithball survey 1", "pithball survey 0"),
			[]string{"s.csv", "line 2", "schema version", "pithball survey 0"}},
		{"line break in a name", strings.ReplaceAll(l, `"tension nip"`, `"nip\n2. Main source: none"`), s,
			[]string{"l.json", "stations[", "name", "U+000A"}},
		{"escape in a note", swap(l, `"note": "`, `"note": "\u001b[2J`), s, []string{"l.json", "note", "U+001B"}},
		{"line break in a cell", l, swap(s, "A1 after unwind", "\"A1\nafter unwind\""),
			[]string{"s.csv", "line 9", "station", "U+000A"}},
		{"escape in a remark", l, strings.TrimSpace(s) + "\x1b[2J\n", []string{"s.csv", "line 43", "remark", "U+001B"}},
		{"line in UTF-16", "\xff\xfe{\x00}\x00", s, []string{"l.json", "UTF-16", "UTF-8"}},
		{"survey in UTF-16", l, "\xff\xfes\x00c\x00", []string{"s.csv", "line 1", "UTF-16", "UTF-8"}},
		{"survey without end", l, header + "\n\"" + strings.Repeat("long ", survey.MostBytes/5) + "\"\n",
			[]string{"s.csv", "at most 64 MiB"}},
		{"a million rows", l, big, []string{"s.csv", "at most 100000 readings"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			write(t, dir, "l.json", c.line)
			write(t, dir, "s.csv", c.survey)
			old := write(t, dir, "pithball-survey.html", "an earlier report")
			cmd := exec.Command(exe, "-line", "l.json", "-survey", "s.csv")
			cmd.Dir = dir
			var o, e bytes.Buffer
			cmd.Stdout, cmd.Stderr = &o, &e
			err := cmd.Run()
			var x *exec.ExitError
			if !errors.As(err, &x) || x.ExitCode() != 2 {
				t.Errorf("%v, want exit status 2", err)
			}
			msg := e.String()
			for _, w := range c.want {
				if !strings.Contains(msg, w) {
					t.Errorf("message %q lacks %q", msg, w)
				}
			}
			for _, l := range strings.Split(strings.TrimSpace(msg), "\n") {
				if !strings.HasPrefix(l, "survey: ") || o.Len() != 0 {
					t.Errorf("want one line a fault on stderr and nothing else, got %q and %q", msg, o.String())
				}
			}
			if b, _ := os.ReadFile(old); string(b) != "an earlier report" {
				t.Error("the earlier report was touched")
			}
			if left, _ := filepath.Glob(filepath.Join(dir, ".pithball-*")); len(left) != 0 {
				t.Errorf("left behind: %v", left)
			}
		})
	}
	for _, args := range [][]string{{"-line", "x"}, {"-format", "xml"}, {"-units", "si"}, {"stray"}, {"-nosuch"},
		{"-limit", "3 V"}, {"-line", "nofile", "-survey", "nofile"}, {"-html", "nowhere/r.html"}} {
		cmd := exec.Command(exe, args...)
		cmd.Dir = t.TempDir()
		err := cmd.Run()
		var x *exec.ExitError
		if !errors.As(err, &x) || x.ExitCode() != 2 {
			t.Errorf("%v: %v, want exit status 2", args, err)
		}
	}
}

// TestOutputIsNoInput: the report never takes the place of what was read.
func TestOutputIsNoInput(t *testing.T) {
	for _, out := range []string{"l.json", "s.csv"} {
		dir := t.TempDir()
		t.Chdir(dir)
		l := write(t, dir, "l.json", read(t, "line.json"))
		write(t, dir, "s.csv", read(t, "survey.csv"))
		var o, e bytes.Buffer
		if code := run([]string{"-line", "l.json", "-survey", "s.csv", "-html", "./" + out}, &o, &e); code != 2 ||
			!strings.Contains(e.String(), "input") || o.Len() != 0 {
			t.Errorf("%s: exit %d, %q, %q", out, code, e.String(), o.String())
		}
		if b, _ := os.ReadFile(l); string(b) != read(t, "line.json") {
			t.Error("the description was touched")
		}
	}
}

// closed is a standard output that cannot be written: a failure of ours.
type closed struct{}

func (closed) Write([]byte) (int, error) { return 0, errors.New("no room") }

func TestOurFailure(t *testing.T) {
	t.Chdir(t.TempDir())
	var e bytes.Buffer
	if code := run(nil, closed{}, &e); code != 1 || !strings.Contains(e.String(), "no room") {
		t.Errorf("exit %d, %q", code, e.String())
	}
}

func TestHelp(t *testing.T) {
	var e bytes.Buffer
	if code := run([]string{"-h"}, io.Discard, &e); code != 0 || !strings.Contains(e.String(), "cross-web position") {
		t.Errorf("exit %d, %q", code, e.String())
	}
}
