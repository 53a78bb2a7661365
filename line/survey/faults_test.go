package survey_test

import (
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/line"
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

// TestFaultsAgainstTheDescription: what the line does not have is told in the same round as what is wrong with the
// rows, in the order of the file; of a description that is refused at least the names are asked.
func TestFaultsAgainstTheDescription(t *testing.T) {
	b, err := os.ReadFile("../../examples/survey/demo/line.json")
	if err != nil {
		t.Fatal(err)
	}
	const text = `schema version,station,quantity,face,distance,gap behind,cross-web position,repeat,date and time,line speed,` +
		`running or stopped,air temperature,air humidity,meter,zero,full scale,value,unit,remark
pithball survey 1,A1 after unwind,field meter,A,25 mm,,,1,,220 m/min,running,22 °C,12 %RH,meter 1,,,1200,V,good
pithball survey 1,nowhere,field meter,A,25 mm,,,1,,220 m/min,running,22 °C,12 %RH,meter 1,,,1200,V,no such station
pithball survey 1,nowhere,field meter,A,25 s,,,1,,220 m/min,running,22 °C,12 %RH,meter 1,,,1200,V,and a distance in seconds
pithball survey 1,nowhere,resistance to ground,,,,,,,,stopped,,,,,,1,MΩ,a station alone
pithball survey 1,A1 after unwind,field meter,A,25 mm,,,1,,220 m/min,running,22 °C,12 %RH,meter 9,,,1200,V,no such meter
pithball survey 1,A1 after unwind,over-roller voltmeter,A,,,,1,,220 m/min,running,22 °C,12 %RH,voltmeter 1,,,900,V,no roller
pithball survey 1,A1 after unwind,field meter,A,25 mm,,,1,,220 m/min,running,22 °C,12 %RH,,,,12,A,no meter and amperes
pithball survey 1,A1 after unwind,field meter,A,25 mm,,,1,,220 m/min,running,22 °C,12 %RH,meter 3,,,+over range,V,no full scale
`
	names := []string{"line 3: station: nowhere: want the name of a station", "line 4: distance: ",
		"line 4: station: nowhere", "line 5: station: nowhere", "line 6: meter: meter 9: want the name of a field meter",
		"line 7: station: A1 after unwind: want a roller or nip", "line 8: value: ", "line 8: meter: "}
	full := append(slices.Clone(names), "line 9: full scale: ")
	for _, c := range []struct {
		name string
		from string
		to   string
		want []string
	}{{"sound", "", "", full}, {"range", `"220 m/min"`, `"1e6 m/min"`, names}, {"form", `"220 m/min"`, `"220 kg"`, names}} {
		s := strings.Replace(string(b), c.from, c.to, 1)
		s = strings.Replace(s, `"meters": [`, `"meters": [{"name": "meter 3", "kind": "field meter", "nominal": "25 mm", `+
			`"guarded": true, "gain": "5%", "offset": "40 V", "placing": "2 mm", "spots": "10%"},`, 1)
		d, err := line.ReadDescription(strings.NewReader(s))
		if (err != nil) != (c.name == "form") || d == nil {
			t.Fatal(c.name, err)
		}
		if _, again := line.New(d); c.name == "form" && (again == nil || again.Error() != err.Error()) {
			t.Errorf("a description with faults of form is taken: %v", again)
		}
		_, err = survey.ReadSurveyOf(strings.NewReader(text), d)
		if err == nil {
			t.Fatal(c.name, "taken")
		}
		got := strings.Split(err.Error(), "\n")
		for i := range max(len(got), len(c.want)) {
			if i >= len(got) || i >= len(c.want) || !strings.HasPrefix(got[i], c.want[i]) {
				t.Errorf("%s: fault %d of %d, want %d like %q\n%v", c.name, i, len(got), len(c.want), c.want, err)
				break
			}
		}
	}
	good := strings.Join(strings.SplitAfter(text, "\n")[:2], "")
	if s, err := survey.ReadSurveyOf(strings.NewReader(good), nil); err != nil || len(s.Readings) != 1 {
		t.Error(s, err)
	}
}
