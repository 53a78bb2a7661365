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
	for zero, taken := range map[string]bool{"0 V": true, "0 kV/cm": true, "0.1 kV/cm": true, "50 V": false} {
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
