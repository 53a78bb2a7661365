package survey_test

import (
	"strings"
	"testing"

	"example.org/pithball/line/survey"
)

// TestZeroOfEitherKind: a display of nothing is written "0 V" beside a field as well as "0 kV/cm"; a drift has to
// be of the kind of the value.
func TestZeroOfEitherKind(t *testing.T) {
	const head = "schema version,station,quantity,face,distance,gap behind,cross-web position,repeat,date and time," +
		"line speed,running or stopped,air temperature,air humidity,meter,zero,full scale,value,unit,remark\n"
	for zero, taken := range map[string]bool{"0 V": true, "0 kV/cm": true, "0": true, "-0.0": true, "5": false,
		"0.1 kV/cm": true, "50 V": false} {
		row := "pithball survey 1,after nip,field meter,A,25 mm,,0.2 m,1,2026-01-14,220 m/min,running,22 °C,13%RH,m," +
			zero + ",,-1.8,kV/cm,\n"
		s, err := survey.ReadSurvey(strings.NewReader(head + row))
		if (err == nil) != taken {
			t.Errorf("zero %q: %v", zero, err)
		}
		if err == nil && (!s.Readings[0].AsField || s.Readings[0].Value != -1.8e5 || !s.Readings[0].HasZero) {
			t.Errorf("zero %q: %+v", zero, s.Readings[0])
		}
	}
}

// TestAsWrittenOnTheFloor: a display that says no number has no unit to write, and its zero may be a bare 0; a fault
// says what a display may be only where the unit is the fault.
func TestAsWrittenOnTheFloor(t *testing.T) {
	for _, c := range []struct {
		set  map[string]string
		want string // the fault, empty for none
	}{
		{map[string]string{"value": "-OL", "unit": "", "zero": "0", "full scale": "20 kV"}, ""},
		{map[string]string{"value": "+over range", "unit": "", "zero": "", "full scale": "20 kV"}, ""},
		{map[string]string{"value": "12", "unit": ""}, "line 2: unit: nothing given: want a value"},
		{map[string]string{"value": `"0,4"`, "unit": "kV"}, `line 2: value: field-meter display "0,4 kV": a comma: write ` +
			`the decimal point as "." and no separator between thousands`},
		{map[string]string{"value": "0,4", "unit": "kV"}, "line 2: row: 20 fields: want 19, as the first row names; " +
			"a number has a decimal point, and a text with a comma stands in quotes"},
		{map[string]string{"value": "0.4", "unit": "A"}, "or a field in V/m, kV/cm or kV/in"},
		{map[string]string{"value": "0.4", "unit": "kV", "zero": "5"}, "or a field in V/m, kV/cm or kV/in"},
	} {
		s, err := survey.ReadSurvey(strings.NewReader(sheet(c.set)))
		if c.want == "" {
			if err != nil || !s.Readings[0].Over || s.Readings[0].HasZero != (c.set["zero"] != "") {
				t.Errorf("%v: %+v, %v", c.set, s, err)
			}
		} else if err == nil || !strings.HasSuffix(err.Error(), c.want) {
			t.Errorf("%v: %v, want %q", c.set, err, c.want)
		}
	}
}
