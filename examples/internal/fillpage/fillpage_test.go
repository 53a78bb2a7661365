package fillpage

import (
	"bytes"
	"html/template"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

type row struct {
	Name string
	On   bool
	N    int
}

type data struct {
	Title, Empty string
	Pair         [2]string
	Rows, None   []row
	Words        []string
	Mark         HTML
	Inner        row
}

// The oracle takes markup in a type of its own.
type oracle struct {
	Title, Empty string
	Pair         [2]string
	Rows, None   []row
	Words        []string
	Mark         template.HTML
	Inner        row
}

const all = `<!DOCTYPE html><html><head><title>A {{.Title}}</title></head><body><p title="{{.Title}}">{{.Title}}</p>{{.Mark}}
{{if .Empty}}no{{else}}yes {{.Inner.Name}}{{end}}{{if .Mark}}m{{end}}{{if .Rows}}r{{end}}{{if .None}}no{{end}}
{{range .Rows}}<td{{if .On}} class="on"{{end}} data-l="of {{$.Title}}">{{.Name}} {{.N}}{{if .N}}!{{end}}</td>{{end}}
{{range $i, $w := .Words}}{{if $i}}; {{end}}{{$w}}{{range $.Rows}}{{.Name}}{{$w}}{{end}}{{end}}
{{range .None}}none{{else}}nothing{{end}}{{index .Pair 1}}</body></html>`

// TestOracle: the bytes are those of html/template, whatever stands in the fields.
func TestOracle(t *testing.T) {
	page, want := MustParse(all), template.Must(template.New("").Parse(all))
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[<>&"'+\x00a-c/=\x60 ]*`), rapid.Just("\xff\xfe<"))
		rows := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) row {
			return row{text.Draw(t, "name"), rapid.Bool().Draw(t, "on"), rapid.IntRange(-2, 2).Draw(t, "n")}
		}), 0, 4)
		d := data{Title: text.Draw(t, "title"), Pair: [2]string{"x", text.Draw(t, "pair")}, Rows: rows.Draw(t, "rows"),
			Words: rapid.SliceOfN(text, 0, 3).Draw(t, "words"), Mark: HTML(rapid.SampledFrom([]string{"", "<b>&amp;</b>"}).
				Draw(t, "mark")), Inner: row{Name: text.Draw(t, "inner")}}
		got, err := page.Fill(d)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := want.Execute(&b, oracle{d.Title, d.Empty, d.Pair, d.Rows, d.None, d.Words, template.HTML(d.Mark),
			d.Inner}); err != nil {
			t.Fatal(err)
		}
		if string(got) != b.String() {
			t.Fatalf("got\n%q\nwant\n%q", got, b.String())
		}
	})
}

// TestRefused: what is not known is an error, not an empty place.
func TestRefused(t *testing.T) {
	for _, bad := range []string{"{{", "{{end}}", "{{else}}", "{{if .A}}", "{{with .A}}{{end}}", "{{.A | printf}}",
		"{{A}}",
		"{{index .A x}}", "{{}}", "{{range $i := .A}}{{end}}", "{{template \"x\"}}"} {
		if _, err := Parse(bad); err == nil {
			t.Errorf("%s was read", bad)
		}
	}
	for _, bad := range []string{"{{.Nosuch}}", "{{.Title.Nosuch}}", "{{$x}}", "{{index .Pair 2}}", "{{index .Title 0}}",
		"{{range .Title}}{{end}}", "{{.Rows}}", "{{range .Rows}}{{.Nosuch}}{{end}}", "{{if .Nosuch}}{{end}}"} {
		if out, err := MustParse(bad).Fill(data{Rows: []row{{}}}); err == nil {
			t.Errorf("%s gave %q", bad, out)
		}
	}
	if _, err := Parse(strings.Repeat("{{if .A}}", 3) + strings.Repeat("{{end}}", 2)); err == nil {
		t.Error("an if without its end was read")
	}
}
