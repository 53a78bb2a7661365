package floor

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.org/pithball/internal/divided"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
)

// Row is one reading as the survey file has it: text by column.
type Row map[string]string

// longest is the greatest number of characters of a name or remark that the page shows.
const longest = 200

// files is the request that holds one line with its readings.
type files struct {
	Line  map[string]any `json:"line"`
	Rows  []Row          `json:"rows"`
	Units string         `json:"units"`
	Names [2]string      `json:"names"`

	Safety  upkeep.SafetyAnswers `json:"safety"`  // what the people in charge answered
	Changes []change             `json:"changes"` // to try, in this order
}

// saved is both files as text.
type saved struct {
	Line    string   `json:"line"`
	Survey  string   `json:"survey"`
	Assumed []string `json:"assumed"`
}

func save(q *files) (saved, error) {
	assumed := Fill(q.Line)
	l, err := LineFile(q.Line)
	if err != nil {
		return saved{}, err
	}
	s, err := SurveyFile(q.Rows)
	return saved{string(l), string(s), assumed}, err
}

// LineFile writes a description with its fields in the order in which people read them.
func LineFile(d map[string]any) ([]byte, error) {
	var b, out bytes.Buffer
	if err := ordered(&b, d); err != nil {
		return nil, err
	}
	if err := json.Indent(&out, b.Bytes(), "", "  "); err != nil {
		return nil, err
	}
	out.WriteByte('\n')
	return out.Bytes(), nil
}

var order = []string{"schema", "name", "note", "safety", "body", "material", "web", "speed", "wish", "air", "airs",
	"limit", "meters", "kind", "at", "nominal", "guarded", "faceRadius", "fullScale", "gain", "offset", "placing",
	"spots", "stations", "gap", "past", "off", "roller", "radius", "cover", "capacity", "sparkover", "change", "ioniser",
	"face", "distance", "median", "spread", "thickness", "thicknessSpread", "width", "density"}

func rank(key string) int {
	if i := slices.Index(order, key); i >= 0 {
		return i
	}
	return len(order)
}

func ordered(b *bytes.Buffer, v any) error {
	switch v := v.(type) {
	case map[string]any:
		keys := make([]string, 0, len(v))
		for k := range v {
			keys = append(keys, k)
		}
		slices.SortFunc(keys, func(x, y string) int {
			if d := rank(x) - rank(y); d != 0 {
				return d
			}
			return strings.Compare(x, y)
		})
		b.WriteByte('{')
		for i, k := range keys {
			if i > 0 {
				b.WriteByte(',')
			}
			name, err := json.Marshal(k)
			if err != nil {
				return err
			}
			b.Write(name)
			b.WriteByte(':')
			if err := ordered(b, v[k]); err != nil {
				return err
			}
		}
		b.WriteByte('}')
	case []any:
		b.WriteByte('[')
		for i, x := range v {
			if i > 0 {
				b.WriteByte(',')
			}
			if err := ordered(b, x); err != nil {
				return err
			}
		}
		b.WriteByte(']')
	default:
		x, err := json.Marshal(v)
		if err != nil {
			return err
		}
		b.Write(x)
	}
	return nil
}

// SurveyFile writes the readings as the survey's CSV file. An optional column stands in it if a reading fills it.
func SurveyFile(rows []Row) ([]byte, error) {
	columns := survey.Columns()
	for _, c := range survey.OptionalColumns() {
		if slices.ContainsFunc(rows, func(r Row) bool { return r[c] != "" }) {
			columns = append(columns, c)
		}
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rec := make([]string, len(columns))
	if err := w.Write(columns); err != nil {
		return nil, err
	}
	for _, r := range rows {
		for i, c := range columns {
			rec[i] = r[c]
			if c == "schema version" {
				rec[i] = survey.SurveySchema
			}
		}
		if err := w.Write(rec); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// texts is the request that holds files as a person opened them; either may be empty.
type texts struct {
	Line   string `json:"line"`
	Survey string `json:"survey"`
}

// opened is what the files hold.
type opened struct {
	Line   map[string]any `json:"line,omitempty"`
	Rows   []Row          `json:"rows,omitempty"`
	Faults []Fault        `json:"faults"`
}

// open reads files of the program survey and keeps every field as it stands in them.
func open(q *texts) (opened, error) {
	o := opened{Faults: []Fault{}}
	if q.Line != "" {
		if _, err := line.ReadDescription(strings.NewReader(q.Line)); err != nil {
			o.Faults = append(o.Faults, faults("line", err)...)
		} else if err := json.Unmarshal([]byte(q.Line), &o.Line); err != nil {
			o.Faults = append(o.Faults, Fault{"line", -1, err.Error()})
		} else if err := plain("line", o.Line); err != nil {
			o.Line, o.Faults = nil, append(o.Faults, Fault{"line", -1, err.Error()})
		}
	}
	if q.Survey != "" {
		var err error
		if o.Rows, err = rows(q.Survey); err != nil {
			o.Rows, o.Faults = nil, append(o.Faults, faults("survey", err)...)
		}
	}
	return o, nil
}

// rows reads the survey twice: by the reader of the library, which finds the faults, and as text.
func rows(s string) ([]Row, error) {
	if _, err := survey.ReadSurvey(strings.NewReader(s)); err != nil {
		return nil, err
	}
	c := csv.NewReader(strings.NewReader(strings.TrimPrefix(s, "\ufeff")))
	c.FieldsPerRecord, c.Comma = -1, divided.By([]byte(s))
	numbers := survey.NumberColumns()
	head, err := c.Read()
	if err != nil {
		return nil, err
	}
	var out []Row
	for {
		rec, err := c.Read()
		if err == io.EOF {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		r, any := Row{}, false
		for i, f := range rec[:min(len(rec), len(head))] {
			if f = strings.TrimSpace(f); f != "" {
				any = true
				name := strings.TrimSpace(head[i])
				if err := short(name, f); err != nil {
					n, _ := c.FieldPos(0)
					return nil, fmt.Errorf("line %d: %w", n, err)
				}
				if c.Comma != ',' && slices.Contains(numbers, name) {
					f = divided.Read(f).Text // the reader of the library took it
				}
				if name != "schema version" {
					r[name] = f
				}
			}
		}
		if any {
			out = append(out, r)
		}
	}
}

// plain refuses what no plant writes into a name: control characters and thousands of letters.
func plain(at string, v any) error {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			if k == "note" {
				continue // free text, shown as such
			}
			if err := plain(at+"."+k, x); err != nil {
				return err
			}
		}
	case []any:
		for i, x := range v {
			if err := plain(fmt.Sprintf("%s[%d]", at, i), x); err != nil {
				return err
			}
		}
	case string:
		return short(at, v)
	}
	return nil
}

func short(at, s string) error {
	if n := utf8.RuneCountInString(s); n > longest {
		return fmt.Errorf("%s: %q… (%d characters): want at most %d", at, string([]rune(s)[:20]), n, longest)
	}
	if strings.ContainsFunc(s, unicode.IsControl) {
		return fmt.Errorf("%s: %q: want no line breaks and no control characters", at, s)
	}
	return nil
}

// faults takes joined errors apart.
func faults(where string, err error) []Fault {
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		var out []Fault
		for _, e := range many.Unwrap() {
			if e != nil {
				out = append(out, faults(where, e)...)
			}
		}
		return out
	}
	f := Fault{Where: where, Row: -1, Text: err.Error()}
	var r *survey.RowError
	if errors.As(err, &r) && r.Line >= 2 {
		f.Row = r.Line - 2 // the page writes one line a reading
		if r.Column != "" {
			f.Text = r.Err.Error()
		}
	}
	return []Fault{f}
}
