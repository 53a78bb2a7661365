package survey_test

import (
	"bytes"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

// sheet makes a survey file of one reading with the given columns set.
func sheet(set map[string]string) string {
	row := map[string]string{
		"schema version":     survey.SurveySchema,
		"station":            "A4",
		"quantity":           "field meter",
		"face":               "A",
		"distance":           "25 mm",
		"line speed":         "220 m/min",
		"running or stopped": "running",
		"meter":              "meter 1",
		"value":              "-4390",
		"unit":               "V",
	}
	for k, v := range set {
		row[k] = v
	}
	var cells []string
	for _, c := range survey.Columns() {
		cells = append(cells, row[c])
	}
	return strings.Join(survey.Columns(), ",") + "\n" + strings.Join(cells, ",") + "\n"
}

// TestSpreadsheets: what spreadsheet programs add to a file does not change what
// is read.
func TestSpreadsheets(t *testing.T) {
	plain := sheet(nil)
	want, err := survey.ReadSurvey(strings.NewReader(plain))
	if err != nil {
		t.Fatal(err)
	}
	blanks := strings.Repeat(",", len(survey.Columns())-1) + "\n"
	for name, s := range map[string]string{
		"byte order mark":                 "\ufeff" + plain,
		"mark before a quoted name":       "\ufeff" + strings.Replace(plain, "schema version", `"schema version"`, 1),
		"Windows line ends":               strings.ReplaceAll(plain, "\n", "\r\n"),
		"rows without content at the end": plain + blanks + blanks,
	} {
		got, err := survey.ReadSurvey(strings.NewReader(s))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if len(got.Readings) != 1 || got.Readings[0] != want.Readings[0] {
			t.Errorf("%s: %+v", name, got.Readings)
		}
	}
}

// TestSurveyFaults: each fault names line, column and what is wanted.
func TestSurveyFaults(t *testing.T) {
	for name, c := range map[string]struct {
		file   string
		column string
		want   string
	}{
		"no speed":      {sheet(map[string]string{"line speed": ""}), "line speed", "nothing given"},
		"beyond reason": {sheet(map[string]string{"value": "1e300"}), "value", "at most 10 MV"},
		"zero":          {sheet(map[string]string{"zero": "-1e9 V"}), "zero", "at most 10 MV"},
		"sign":          {sheet(map[string]string{"value": "<20000"}), "value", "before a negative value"},
		"only blanks": {
			strings.SplitAfter(sheet(nil), "\n")[0] + strings.Repeat(",", len(survey.Columns())-1) + "\n",
			"", "at least one reading",
		},
		"no distance": {sheet(map[string]string{"distance": ""}), "distance", "means nothing without it"},
		"no face":     {sheet(map[string]string{"face": ""}), "face", "A or B"},
		"no meter":    {sheet(map[string]string{"meter": ""}), "meter", "name of the meter"},
		"nan":         {sheet(map[string]string{"value": "NaN"}), "value", ""},
	} {
		_, err := survey.ReadSurvey(strings.NewReader(c.file))
		var r *survey.RowError
		if !errors.As(err, &r) {
			t.Errorf("%s: error %v", name, err)
			continue
		}
		if r.Column != c.column || !strings.Contains(err.Error(), c.want) || r.Line < 1 || len(err.Error()) > 300 {
			t.Errorf("%s: %q, column %q", name, err, r.Column)
		}
	}
}

// TestLowOhms: an ohmmeter that shows "<1 Ω" is a reading of at most that.
func TestLowOhms(t *testing.T) {
	s, err := survey.ReadSurvey(
		strings.NewReader(sheet(map[string]string{"quantity": "resistance to ground", "value": "<1", "unit": "Ω"})),
	)
	if err != nil {
		t.Fatal(err)
	}
	if r := s.Readings[0]; r.Value != 1 || r.AtLeast {
		t.Errorf("%+v", r)
	}
}

// FuzzReadSurvey: no file makes the reader panic, and what it accepts is finite.
func FuzzReadSurvey(f *testing.F) {
	b, err := os.ReadFile("../../examples/survey/demo/survey.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(b[:2000])
	f.Add([]byte(sheet(nil)))
	f.Add([]byte(sheet(map[string]string{"value": ">20000", "zero": "-10 V", "full scale": "20 kV"})))
	f.Add([]byte(sheet(map[string]string{"value": "<", "unit": "kV"})))
	f.Add([]byte("\ufeff\"schema version\"\r\n,,\r\n"))
	f.Add([]byte("a;b;c"))
	f.Add([]byte(strings.ReplaceAll(sheet(map[string]string{"value": "-1.5", "unit": "kV"}), ",", "\t")))
	european := strings.ReplaceAll(sheet(nil), ",", ";")
	f.Add([]byte(strings.ReplaceAll(european, ".", ",")))
	f.Add([]byte(strings.ReplaceAll(european, ";25 mm;", ";25,5 mm;")))
	d := newLine(f, demoDescription(f)).Description()
	f.Fuzz(func(t *testing.T, b []byte) {
		s, err := survey.ReadSurvey(bytes.NewReader(b))
		of, more := survey.ReadSurveyOf(bytes.NewReader(b), &d)
		if (of == nil) != (more != nil) || err != nil && (more == nil || len(more.Error()) < len(err.Error())) {
			t.Fatalf("%v beside the line, %v alone", more, err)
		}
		if err != nil {
			if s != nil {
				t.Fatal("a survey beside an error")
			}
			return
		}
		if len(s.Readings) == 0 {
			t.Fatal("an empty survey without an error")
		}
		for _, r := range s.Readings {
			for _, v := range []float64{r.Value, r.Zero, r.FullScale, float64(r.Distance), float64(r.Gap), float64(r.Speed)} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%+v", r)
				}
			}
			if r.Line < 2 || r.Quantity < line.FieldMeter || r.Quantity > line.DecayTime {
				t.Fatalf("%+v", r)
			}
		}
	})
}
