package main

import (
	"bytes"
	_ "embed" // for the table of fields
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.org/pithball/examples/outfile"
	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// started is a first description: of a web with its rows of readings, or of goods.
type started struct {
	description any
	rows        [][]string // of a survey; nil: the readings stand in the description
	assumed     []line.Assumption
	answers     []byte
}

// begin reads the answers and makes a description of them.
func begin(o *options) (*started, error) {
	bodies := []string{"web", "sheet", "part", "profile", "dose"}
	if !slices.Contains(bodies, o.body) {
		return nil, &inputError{known.Wrong("-body", o.body, strings.Join(bodies, ", "))}
	}
	demonstration := "answers_" + o.body + ".json"
	b, name, err := o.files.read(o.answers, demonstration)
	if err != nil {
		return nil, err
	}
	var head struct {
		Kind string `json:"kind"`
	}
	if json.Unmarshal(bytes.TrimPrefix(b, []byte("\ufeff")), &head) == nil && head.Kind != "" {
		var a cure.GoodsAnswers
		s := &started{answers: b}
		_, err := decode(b, name, &a, func() error {
			var g *cure.Goods
			var err error
			g, s.assumed, err = cure.StartGoods(a)
			s.description = g
			return err
		})
		return s, err
	}
	var a line.Answers
	s := &started{answers: b}
	_, err = decode(b, name, &a, func() error {
		var d *line.Description
		var err error
		if d, s.assumed, err = line.Start(a); err == nil {
			s.description, s.rows = d, starterRows(d)
		}
		return err
	})
	return s, err
}

// starterRows are a row for each conductor and two for each place, with invented values.
func starterRows(d *line.Description) [][]string {
	rows := [][]string{survey.Columns()}
	add := func(set map[string]string) {
		row := make([]string, len(rows[0]))
		for i, c := range rows[0] {
			row[i] = set[c]
		}
		rows = append(rows, row)
	}
	const invented = "invented, replace it"
	air := map[string]string{"schema version": survey.SurveySchema, "air temperature": text(d.Air.Temperature, "°C"),
		"air humidity": text(d.Air.RelativeHumidity, "%RH"), "remark": invented, "repeat": "1"}
	with := func(more map[string]string) map[string]string {
		out := map[string]string{}
		for _, m := range []map[string]string{air, more} {
			for k, v := range m {
				out[k] = v
			}
		}
		return out
	}
	for i := range d.Stations {
		s := &d.Stations[i]
		switch {
		case s.Roller != nil && s.Roller.Kind == line.BareMetal:
			add(with(map[string]string{"station": s.Name, "quantity": "resistance to ground", "line speed": "0 m/min",
				"running or stopped": "stopped", "value": "1", "unit": "Ω"}))
		case s.Kind == line.Place && len(d.Meters) > 0:
			for k := range 2 {
				add(with(map[string]string{"station": s.Name, "quantity": "field meter", "face": "A", "distance": "25 mm",
					"repeat": fmt.Sprint(k + 1), "cross-web position": text(units.Length(float64(k+1)*float64(d.Web.Width)/3), "mm"),
					"line speed": text(d.Speed, "m/min"), "running or stopped": "running", "meter": d.Meters[0].Name, "zero": "0 V",
					"value": fmt.Sprint(1000 + 200*k), "unit": "V"}))
			}
		}
	}
	return rows
}

// text writes a quantity with its unit for a file.
func text[T units.Quantity](x T, unit string) string {
	s, err := units.Format(x, unit, 4)
	if err != nil {
		return fmt.Sprint(x)
	}
	return s
}

// start writes a first description.
func start(o *options, stdout io.Writer) error {
	if o.fields {
		_, err := io.WriteString(stdout, fields)
		return err
	}
	s, err := begin(o)
	if err != nil {
		return pointed(err)
	}
	if g, ok := s.description.(*cure.Goods); ok && o.folder != "" {
		firstReading(g)
	}
	var b strings.Builder
	if err := encode(&b, s.description); err != nil {
		return err
	}
	text := b.String()
	if g, ok := s.description.(*cure.Goods); ok { // a floor counts by the hour
		text = strings.Replace(text, `"rate": "`+g.Rate.String()+`"`,
			fmt.Sprintf(`"rate": "%.12g 1/h"`, float64(g.Rate)*float64(units.Hour)), 1)
		text = ofBody(text, g)
	}
	text = floorWords(text)
	switch {
	case o.folder != "" && o.out != "":
		return &inputError{errors.New("-folder and -out: want one of the two")}
	case o.folder == "" && o.out == "":
		_, err = io.WriteString(stdout, text)
		return err
	}
	var written []string
	if o.folder != "" {
		written, err = s.fill(o.folder, text)
	} else {
		var path string
		if path, err = outfile.Write(o.out, []byte(text), o.answers); err != nil {
			err = fmt.Errorf("-out: %w", err)
		}
		written = []string{path}
	}
	if err != nil {
		return &inputError{err}
	}
	if o.json {
		return encode(stdout, struct {
			Schema  string            `json:"schema"`
			File    string            `json:"file"`
			Files   []string          `json:"files"`
			Assumed []line.Assumption `json:"assumed"`
		}{"pithball start 1", written[0], written, s.assumed})
	}
	var t strings.Builder
	fmt.Fprintf(&t, "Written: %s\n%s", strings.Join(written, ", "), s.list())
	if o.folder != "" {
		fmt.Fprintf(&t, "\nReadings in these files are invented: replace them, answer the questions in site.json, then "+
			"run\n  "+
			"survey -line %s", filepath.Join(o.folder, "line.json"))
		if s.rows != nil {
			fmt.Fprintf(&t, " -survey %s", filepath.Join(o.folder, "survey.csv"))
		}
		fmt.Fprintf(&t, " -site %s\n", filepath.Join(o.folder, "site.json"))
		t.WriteString("Files for other commands, with invented figures too:\n")
		for _, x := range s.examples() {
			fmt.Fprintf(&t, "  survey %s -%s %s", x.command, strings.TrimSuffix(x.name, ".json"),
				filepath.Join(o.folder, x.name))
			if x.command == "try" {
				t.WriteString(" beside the flags above")
			}
			t.WriteString("\n")
		}
	}
	_, err = io.WriteString(stdout, t.String())
	return err
}

func (s *started) list() string {
	var t strings.Builder
	t.WriteString("Assumed, to be replaced by what the plant knows:\n")
	for _, x := range s.assumed {
		fmt.Fprintf(&t, "- %s\n", report.Wrap(x.Field+": "+x.Value+" ("+x.Range+")", 92, "  "))
	}
	return t.String()
}

// firstReading puts an invented reading behind the first stop that charges, in the form in which the floor has it: a
// display before a sheet, a pail for a part or a dose. It is to be replaced.
func firstReading(g *cure.Goods) {
	for i := range g.Stations {
		if c := g.Stations[i].Change; c.Spread > 0 {
			x := cure.GoodsReading{Station: g.Stations[i].Name, Share: 0.3, RelativeHumidity: g.Airs[0].RelativeHumidity}
			switch g.Kind {
			case cure.SheetBody:
				x.Display, x.Gap = 6*units.DisplayVoltage(units.Kilovolt), 200*units.Millimetre
			case cure.PartBody:
				x.Pail = units.Charge(c.Spread / 2)
			case cure.DoseBody:
				x.Pail = units.Charge(math.Round(c.Spread/2*float64(g.Mass)*1e9) / 1e9)
			default:
				x.Charge = c.Spread / 2
			}
			g.Readings = append(g.Readings, x)
			break
		}
	}
	note := "The reading is invented: replace it."
	if g.Note != "" {
		note = g.Note + " " + note
	}
	g.Note = note
}

// unanswered are the questions of safety, each without an answer.
const unanswered = `{
  "safety": {
    "flammables": "unknown",
    "zone": "unknown",
    "decidedBy": "",
    "gasGroup": "",
    "substance": "",
    "certified": [],
    "fines": "", "silo": "", "liner": "", "blownAir": "", "radioactive": "",
    "humidifier": "", "agents": "", "electronics": ""
  },
  "prices": {"currency": "EUR", "perHour": 0, "hours": 0, "kWh": 0, "water": 0}
}
`

//go:embed demo/fields.txt
var fields string

// fill writes all files of a folder; none that is there is replaced.
func (s *started) fill(folder, description string) ([]string, error) {
	files := []struct{ name, text string }{{"line.json", description}}
	if s.rows != nil {
		var b strings.Builder
		w := csv.NewWriter(&b)
		if err := w.WriteAll(s.rows); err != nil {
			return nil, err
		}
		files = append(files, struct{ name, text string }{"survey.csv", b.String()})
	}
	files = append(files, []struct{ name, text string }{{"site.json", unanswered}, {"assumed.txt", s.list()},
		{"answers.json", string(s.answers)}, {"fields.txt", fields}}...)
	for _, x := range s.examples() {
		files = append(files, struct{ name, text string }{x.name, x.text})
	}
	for _, f := range files {
		path := filepath.Join(folder, f.name)
		if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("-folder: %s is there already: want a folder without it", path)
		}
	}
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return nil, err
	}
	var out []string
	for _, f := range files {
		path, err := outfile.Write(filepath.Join(folder, f.name), []byte(f.text))
		if err != nil {
			return out, err
		}
		out = append(out, path)
	}
	return out, nil
}
