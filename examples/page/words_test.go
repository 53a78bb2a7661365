package main

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"example.org/pithball/units"
)

// TestWords: every text that the page asks for stands in the one table, nothing else does, and none says that a place
// is free of danger.
func TestWords(t *testing.T) {
	have := map[string]bool{}
	table := part("words.js")
	for _, m := range text.FindAllStringSubmatch(table, -1) {
		if have[m[1]] {
			t.Errorf("%s stands twice", m[1])
		}
		have[m[1]] = true
	}
	if len(have) < 200 {
		t.Fatalf("%d texts found", len(have))
	}
	used := map[string]bool{"noScript": true} // by the page itself
	var code strings.Builder
	for _, s := range scripts {
		code.WriteString(part(s + ".js"))
	}
	for _, m := range regexp.MustCompile(`\bP?\.?t\("([\w. -]+)"[,)]`).FindAllStringSubmatch(code.String(), -1) {
		used[m[1]] = true
		if !have[m[1]] {
			t.Errorf("%q is asked for and not in the table", m[1])
		}
	}
	for k := range have {
		// Some keys are put together or chosen: their stems or their names in quotes stand in the scripts.
		stem, _, _ := strings.Cut(k, ".")
		if !used[k] && !strings.Contains(code.String(), `"`+k+`"`) && !strings.Contains(code.String(), `"`+stem+`."`) {
			t.Errorf("%q is in the table and never asked for", k)
		}
	}
	if bad := regexp.MustCompile(`(?i)\bsa` + `fe(ly|ty)?\b|harmless|no risk`).FindString(table); bad != "" {
		t.Errorf("a text says %q", bad)
	}
}

// TestOtherWords: a second table of texts makes the page; one that lacks a text, or an opening for a figure, is refused
// with the name of it.
func TestOtherWords(t *testing.T) {
	file := filepath.Join(t.TempDir(), "words.js")
	put := func(table string) (string, error) {
		if err := os.WriteFile(file, []byte(table), 0o600); err != nil {
			t.Fatal(err)
		}
		return otherWords(file)
	}
	other := strings.NewReplacer(`newLine: "New line"`, `newLine: "Neue Linie"`, `noScript:`, `noScript :`).
		Replace(part("words.js"))
	if _, err := put(other); err == nil || !strings.Contains(err.Error(), "noScript is missing") {
		t.Errorf("a table without noScript: %v", err)
	}
	other = strings.ReplaceAll(other, "noScript :", "noScript:")
	other = strings.ReplaceAll(other, "Nothing is sent anywhere.\"", `Nichts geht <weg> \u00fcber das Netz."`)
	words, err := put(other)
	if err != nil {
		t.Fatal(err)
	}
	b := string(one(&module{}, words))
	if !strings.Contains(b, "Neue Linie") || strings.Contains(b, `"New line"`) || strings.Contains(b, "{{") {
		t.Error("the page does not hold the other table alone")
	}
	if !strings.Contains(b, "Nichts geht &lt;weg&gt; über das Netz.</p></noscript>") {
		t.Error("what a browser without scripts shows is not the other table's")
	}
	_, err = put(strings.ReplaceAll(other, "{1}", ""))
	if err == nil || !strings.Contains(err.Error(), `want ["{0}" "{1}"`) {
		t.Errorf("texts without {1}: %v", err)
	}
}

// TestScriptsAreShort: the house's limits hold for the page as well: 500 lines a file, 120 characters a line; a text of
// the table may be longer.
func TestScriptsAreShort(t *testing.T) {
	files, err := web.ReadDir("web")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		lines := strings.Split(strings.TrimSuffix(part(f.Name()), "\n"), "\n")
		if len(lines) > 500 {
			t.Errorf("%s has %d lines, at most 500: split it", f.Name(), len(lines))
		}
		for i, l := range lines {
			text := f.Name() == "words.js" && strings.HasPrefix(strings.TrimSpace(l), `"`)
			if w := utf8.RuneCountInString(l); w > 120 && !text && !strings.HasPrefix(l, "<") {
				t.Errorf("%s:%d: %d characters, at most 120", f.Name(), i+1, w)
			}
		}
	}
}

// luminance is the relative luminance of WCAG 2.2 of a colour such as #1a2b3c or #fff.
func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	c := strings.TrimPrefix(colour, "#")
	if len(c) == 3 {
		c = string([]byte{c[0], c[0], c[1], c[1], c[2], c[2]})
	}
	v, err := strconv.ParseUint(c, 16, 32)
	if err != nil || len(c) != 6 {
		t.Fatalf("%q is no colour", colour)
	}
	var y float64
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		x := float64(v>>(16-8*i)&255) / 255
		if x <= 0.04045 {
			x /= 12.92
		} else {
			x = math.Pow((x+0.055)/1.055, 2.4)
		}
		y += weight * x
	}
	return y
}

func contrast(t *testing.T, a, b string) float64 {
	x, y := luminance(t, a), luminance(t, b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// TestContrast: every colour of text on every ground of the style it can stand on is at least 7:1 (WCAG 2.2, 1.4.6);
// the browser check looks at what stands where. #767676 on white is 4.54:1, the limit of level AA that its texts
// name.
func TestContrast(t *testing.T) {
	if c := contrast(t, "#767676", "#fff"); !(math.Abs(c-4.54) <= 0.005) {
		t.Errorf("grey on white is %.3f:1, want 4.54:1", c)
	}
	css := part("page.css")
	colour := map[string]string{}
	for _, m := range regexp.MustCompile(`--(\w+): (#[0-9a-f]+);`).FindAllStringSubmatch(css, -1) {
		colour[m[1]] = m[2]
	}
	find := func(s string) string {
		if name, ok := strings.CutPrefix(s, "var(--"); ok {
			return colour[strings.TrimSuffix(name, ")")]
		}
		return s
	}
	texts, dark, light := map[string]bool{}, map[string]bool{}, map[string]bool{}
	pair := regexp.MustCompile(`(?m)^\s+(color|background): (#[0-9a-f]+|var\(--\w+\))`)
	for _, m := range pair.FindAllStringSubmatch(css, -1) {
		c := find(m[2])
		switch {
		case m[1] == "color":
			texts[c] = true
		case luminance(t, c) > 0.5:
			light[c] = true
		default:
			dark[c] = true
		}
	}
	if len(texts) < 5 || len(light) < 3 || len(dark) < 1 {
		t.Fatalf("texts %v, grounds %v and %v", texts, light, dark)
	}
	for text := range texts {
		grounds := light
		if luminance(t, text) > 0.5 {
			grounds = dark
		}
		for ground := range grounds {
			if c := contrast(t, text, ground); c < 7 {
				t.Errorf("%s on %s is %.2f:1, want 7:1", text, ground, c)
			}
		}
	}
}

// TestUnitsAreRead: the library reads every unit that the page offers for the maker's data of a bar. That a pressure
// without (g) is refused is what the library promises.
func TestUnitsAreRead(t *testing.T) {
	form := part("form.js")
	for kind, read := range map[string]func(string) error{
		"frequency": reads[units.Frequency], "perLength": reads[units.LineCurrent], "share": reads[units.Ratio],
		"gauge": reads[units.GaugePressure], "volts": reads[units.Voltage], "short": reads[units.Length],
		"speed": reads[units.Speed], "time": reads[units.Time], "density": reads[units.Density],
		"thickness": reads[units.Length], "width": reads[units.Length], "along": reads[units.Length],
		"pressure": reads[units.Pressure],
	} {
		m := regexp.MustCompile(`(?s)\n    ` + kind + `: \[(.*?)\],\n    (?:\w|\])`).FindStringSubmatch(form + "\n    ]")
		if m == nil {
			t.Errorf("%s: no units", kind)
			continue
		}
		names := regexp.MustCompile(`"([^"]+)"`).FindAllStringSubmatch(m[1], -1)
		if len(names) < 2 {
			t.Errorf("%s: %q", kind, m[1])
		}
		for _, n := range names {
			if err := read("1 " + n[1]); err != nil {
				t.Errorf("%s: %v", kind, err)
			}
		}
	}
	if reads[units.GaugePressure]("1 bar") == nil {
		t.Error("a pressure that may be absolute is read")
	}
}

func reads[T units.Quantity](s string) error {
	_, err := units.Parse[T](s)
	return err
}
