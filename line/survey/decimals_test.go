package survey_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/pithball/line/survey"
)

// divided writes rows under the columns with what a spreadsheet puts between.
func divided(by string, rows ...map[string]string) string {
	var out []string
	for _, set := range rows {
		lines := strings.Split(strings.TrimSpace(sheet(nil)), "\n")
		head, cells := strings.Split(lines[0], ","), strings.Split(lines[1], ",")
		for i, c := range head {
			if v, ok := set[c]; ok {
				cells[i] = v
			}
		}
		if out == nil {
			out = []string{strings.Join(head, by)}
		}
		out = append(out, strings.Join(cells, by))
	}
	return strings.Join(out, "\n") + "\n"
}

// TestEuropean: a table that semicolons or tabs divide is the same survey as one with commas and points: every column
// of a number with a decimal comma, a text with a comma in it, a bound, a point beside no comma.
func TestEuropean(t *testing.T) {
	point := map[string]string{"distance": "25.5 mm", "gap behind": "0.35 m", "cross-web position": "0.4 m",
		"line speed": "220.5 m/min", "air temperature": "-3.2 °C", "air humidity": "30.5 %RH", "zero": "-10.5 V",
		"full scale": "20.25 kV", "value": ">1.75", "unit": "kV", "remark": "bar 1 off"}
	comma := map[string]string{}
	for k, v := range point {
		comma[k] = v
		if slices.Contains(survey.NumberColumns(), k) {
			comma[k] = strings.Replace(v, ".", ",", 1)
		}
	}
	point["station"], comma["station"] = "nip", "nip"
	want, err := survey.ReadSurvey(strings.NewReader(divided(",", point, map[string]string{"value": "0.500"})))
	if err != nil {
		t.Fatal(err)
	}
	half := map[string]string{"value": "0,500"}
	for name, text := range map[string]string{
		"semicolons": divided(";", comma, half), "tabs": divided("\t", comma, half),
		"points":  divided(";", point, map[string]string{"value": "0.500"}),
		"Windows": "\ufeff" + strings.ReplaceAll(divided(";", comma, half), "\n", "\r\n"),
		"quoted":  strings.Replace(divided(";", comma, half), "-10,5 V", `"-10,5 V"`, 1),
	} {
		got, err := survey.ReadSurvey(strings.NewReader(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if diff := cmp.Diff(want.Readings, got.Readings); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	text := map[string]string{"remark": "bar 1, then 1,500 m", "station": "nip 1,5"} // no numbers
	got, err := survey.ReadSurvey(strings.NewReader(divided(";", text)))
	if err != nil || got.Readings[0].Remark != text["remark"] || got.Readings[0].Station != text["station"] {
		t.Errorf("%v, %+v", err, got)
	}
}

// TestTwoReadings: a number that one reader takes for decimals and another for thousands is refused with both,
// in the row and as it was written; a point only beside decimal commas. What is wrong otherwise is told as written.
func TestTwoReadings(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want []string
	}{
		"value": {divided(";", map[string]string{"value": ">1,500"}), []string{
			"line 2: value: >1,500: want 1.500 or 1500, written 1,5000 or 1500: a comma before three digits"}},
		"with its unit": {divided("\t", nil, map[string]string{"full scale": "-20,000 V"}), []string{
			"line 3: full scale: -20,000 V: want -20.000 or -20000, written -20,0000 or -20000: "}},
		"points beside commas": {divided(";", map[string]string{"value": "-1.500"}, map[string]string{"distance": "22,5 mm"},
			map[string]string{"value": "walk"}), []string{
			"line 2: value: -1.500: want -1.500 or -1500, written -1.5000 or -1500: beside the decimal commas of this file",
			"line 4: value: "}},
		"points alone": {divided(";", map[string]string{"value": "-1.500"}), nil},
		"out of range": {divided(";", map[string]string{"distance": "25,5 km"}), []string{
			"line 2: distance: 25,5 km: want 1e-07 … 0.01 km"}},
		"a unit": {divided(";", map[string]string{"distance": "25,5 kg"}), []string{
			`line 2: distance: length "25,5 kg": unknown unit`}},
		"a bound": {divided(";", map[string]string{"value": ">-1,5", "unit": "kV"}), []string{
			"line 2: value: >-1,5: want > before a positive"}},
		"a unit of the value": {divided(";", map[string]string{"value": "≥1,5", "unit": "kg"}), []string{
			`line 2: value: field-meter display "1,5 kg": unknown unit`}},
		"both signs": {divided(";", map[string]string{"value": "1.234,5"}), []string{
			`line 2: value: field-meter display "1.234,5 V": a comma`}},
		"commas of a table of commas": {strings.Replace(sheet(nil), "25 mm", `"25,5 mm"`, 1), []string{
			`line 2: distance: length "25,5 mm": a comma: write the decimal point`}},
		"too many": {divided(";", nil) + strings.Repeat(";", 30) + "x\n", []string{
			"line 3: row: 31 fields: want 19, as the first row names; a text with a semicolon stands in quotes"}},
		"too many of commas": {sheet(nil) + strings.Repeat(",", 30) + "x\n", []string{
			"line 3: row: 31 fields: want 19, as the first row names; a number has a decimal point, and a text with a comma"}},
	} {
		_, err := survey.ReadSurvey(strings.NewReader(c.text))
		var got []string
		if err != nil {
			got = strings.Split(err.Error(), "\n")
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for i, w := range c.want {
			if !strings.HasPrefix(got[i], w) {
				t.Errorf("%s: %s, want %s", name, got[i], w)
			}
		}
	}
}
