package survey_test

import (
	"errors"
	"strings"
	"testing"

	"example.org/pithball/line/survey"
)

// TestAllFaultsOfASurvey: every fault of every row comes back, with line, column, the value as
// it was written and the range in its unit, converted by hand.
func TestAllFaultsOfASurvey(t *testing.T) {
	const text = `schema version,station,quantity,face,distance,gap behind,cross-web position,repeat,date and time,line speed,` +
		`running or stopped,air temperature,air humidity,meter,zero,full scale,value,unit,remark
pithball survey 1,A1,field meter,A,25 mm,,,1,,220 m/min,running,22 °C,12 %RH,m,,,1200,V,good
pithball survey 1,A1,field meter,A,40 ft,,,1,,1e6 m/min,running,300 °F,12 %RH,m,,,1200,V,three of them
pithball survey 1,A2,field meter,C,25 mm,,,0,,220 m/min,walking,22 °C,12 %RH,m,,,1200,kg,four of them
pithball survey 1,A3
pithball survey 1,A4,field meter,A,25 mm,,,1,,220 m/min,running,22 °C,12 %RH,m,0 A,1 s,1200,V,zero and full scale
`
	_, err := survey.ReadSurvey(strings.NewReader(text))
	if err == nil {
		t.Fatal("taken")
	}
	got := strings.Split(err.Error(), "\n")
	want := []string{
		`line 3: distance: 40 ft: want 0.000328084 … 32.8084 ft`,
		`line 3: line speed: 1e6 m/min: want 0 … 6000 m/min`,
		`line 3: air temperature: 300 °F: want -40 … 176 °F`,
		`line 4: face: `,
		`line 4: repeat: 0: want a whole number`,
		`line 4: running or stopped: walking: want running or stopped`,
		`line 4: value: `,
		`line 5: row: 2 fields: want 19`,
		`line 6: zero: `,
		`line 6: full scale: `,
	}
	for i, w := range want {
		if i >= len(got) || !strings.HasPrefix(got[i], w) {
			t.Errorf("fault %d: want %q", i, w)
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d faults, want %d", len(got), len(want))
	}
	if t.Failed() {
		t.Log(err)
	}
	var row *survey.RowError
	if !errors.As(err, &row) || row.Line != 3 || row.Column != "distance" {
		t.Errorf("no RowError in %v", err)
	}
	// A table that is wrong throughout is not told to its end.
	many := strings.SplitAfter(text, "\n")[0] + strings.Repeat("pithball survey 1,A3\n", 1000)
	if _, err := survey.ReadSurvey(strings.NewReader(many)); err == nil || strings.Count(err.Error(), "\n") != 99 {
		t.Errorf("%.200v", err)
	}
}
