package line_test

import (
	"bytes"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"example.org/pithball/line"
)

// sheet makes a survey file of one reading with the given columns set.
func sheet(set map[string]string) string {
	row := map[string]string{"schema version": line.SurveySchema, "station": "A4", "quantity": "field meter", "face": "A", "distance": "25 mm",
		"line speed": "220 m/min", "running or stopped": "running", "meter": "FM1", "value": "-4390", "unit": "V"}
	for k, v := range set {
		row[k] = v
	}
	var cells []string
	for _, c := range line.Columns() {
		cells = append(cells, row[c])
	}
	return strings.Join(line.Columns(), ",") + "\n" + strings.Join(cells, ",") + "\n"
}

// TestSpreadsheets: what spreadsheet programs add to a file does not change what
// is read.
func TestSpreadsheets(t *testing.T) {
	plain := sheet(nil)
	want, err := line.ReadSurvey(strings.NewReader(plain))
	if err != nil {
		t.Fatal(err)
	}
	blanks := strings.Repeat(",", len(line.Columns())-1) + "\n"
	for name, s := range map[string]string{
		"byte order mark":                 "\ufeff" + plain,
		"mark before a quoted name":       "\ufeff" + strings.Replace(plain, "schema version", `"schema version"`, 1),
		"Windows line ends":               strings.ReplaceAll(plain, "\n", "\r\n"),
		"rows without content at the end": plain + blanks + blanks,
	} {
		got, err := line.ReadSurvey(strings.NewReader(s))
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
		"semicolons":    {strings.ReplaceAll(sheet(nil), ",", ";"), "", "divided by commas"},
		"tabs":          {strings.ReplaceAll(sheet(nil), ",", "\t"), "", "divided by commas"},
		"no speed":      {sheet(map[string]string{"line speed": ""}), "line speed", "nothing given"},
		"beyond reason": {sheet(map[string]string{"value": "1e300"}), "value", "at most 10 MV"},
		"zero":          {sheet(map[string]string{"zero": "-1e9 V"}), "zero", "at most 10 MV"},
		"sign":          {sheet(map[string]string{"value": "<20000"}), "value", "before a negative value"},
		"only blanks":   {strings.SplitAfter(sheet(nil), "\n")[0] + strings.Repeat(",", len(line.Columns())-1) + "\n", "", "at least one reading"},
		"no distance":   {sheet(map[string]string{"distance": ""}), "distance", "means nothing without it"},
		"no face":       {sheet(map[string]string{"face": ""}), "face", "A or B"},
		"no meter":      {sheet(map[string]string{"meter": ""}), "meter", "name of the meter"},
		"nan":           {sheet(map[string]string{"value": "NaN"}), "value", ""},
	} {
		_, err := line.ReadSurvey(strings.NewReader(c.file))
		var r *line.RowError
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
	s, err := line.ReadSurvey(strings.NewReader(sheet(map[string]string{"quantity": "resistance to ground", "value": "<1", "unit": "Ω"})))
	if err != nil {
		t.Fatal(err)
	}
	if r := s.Readings[0]; r.Value != 1 || r.AtLeast {
		t.Errorf("%+v", r)
	}
}

// FuzzReadSurvey: no file makes the reader panic, and what it accepts is finite.
func FuzzReadSurvey(f *testing.F) {
	b, err := os.ReadFile("../examples/survey/demo/survey.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(b[:2000])
	f.Add([]byte(sheet(nil)))
	f.Add([]byte(sheet(map[string]string{"value": ">20000", "zero": "-10 V", "full scale": "20 kV"})))
	f.Add([]byte(sheet(map[string]string{"value": "<", "unit": "kV"})))
	f.Add([]byte("\ufeff\"schema version\"\r\n,,\r\n"))
	f.Add([]byte("a;b;c"))
	f.Fuzz(func(t *testing.T, b []byte) {
		s, err := line.ReadSurvey(bytes.NewReader(b))
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

// FuzzReadDescription: no file makes the reader or the constructor panic, and a
// line that is accepted runs to finite charges.
func FuzzReadDescription(f *testing.F) {
	b, err := os.ReadFile("../examples/survey/demo/line.json")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(b)
	f.Add([]byte("\ufeff{}"))
	f.Add([]byte(`{"schema":"pithball line 1","web":{"thickness":"-20 µm"}}`))
	f.Add([]byte(`{"stations":[{"name":"x","kind":"place","past":{}}]}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		d, err := line.ReadDescription(bytes.NewReader(b))
		if err != nil {
			if d != nil {
				t.Fatal("a description beside an error")
			}
			return
		}
		l, err := line.New(d)
		if err != nil {
			return
		}
		res := make([]line.Result, l.Len())
		l.RunTo(res, d.Speed)
		for i, r := range res {
			if v := float64(r.A) + float64(r.B); math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("station %d: %+v", i, r)
			}
		}
	})
}
