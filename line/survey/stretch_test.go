package survey_test

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// hot is the leaky span of 1 m with its web at 28 °C in the described 22 °C and 30 %RH.
func hot(fall *known.Band) *line.Description {
	d := leaky(humidity.Adsorbing, fall)
	d.Stations[1].WebTemperature = units.Celsius(28)
	return d
}

// TestTwoAirsOnAStretch: by Magnus (6.112 hPa·exp(17.62·t/(243.12 + t))) 26.374 hPa saturate 22 °C and 37.712 hPa
// 28 °C: 30 %RH are 20.98 at the web and 60 %RH 41.96. By lg 2/30 decades per %RH the leak of 1 s at 30 %RH takes
// 1.232 s and 0.7586 s, which leave 2.220 and 1.338 of 5 µC/m². Read in both airs, or in the first alone.
func TestTwoAirsOnAStretch(t *testing.T) {
	dry := [][]survey.Reading{at(0.3, fields("P", 5*perNet)), at(0.3, fields("Q", 2.220*perNet))}
	both := append(dry[:2:2], at(0.6, fields("P", 5*perNet)), at(0.6, fields("Q", 1.338*perNet)))
	for what, rows := range map[string][][]survey.Reading{"dry": dry, "both": both} {
		d := read(t, hot(&halves), rows...)
		within(t, what+": source", d.States[1].Net, 5, 0.15)
		within(t, what+": behind the leak", d.States[2].Net, 2.220, 0.1)
		want := []struct{ rh, tau float64 }{{0.2098, 1.232}, {0.4196, 0.7586}}[:len(rows)/2]
		if len(d.Leaks) != 1 || len(d.Leaks[0].Airs) != len(want) || !(math.Abs(d.Leaks[0].Prior.Value-1.232) <= 0.003) {
			t.Fatalf("%s: %+v", what, d.Leaks)
		}
		for i, want := range want {
			a := d.Leaks[0].Airs[i]
			if !(math.Abs(float64(a.Humidity)-want.rh) <= 1e-3) || !(math.Abs(a.Time.Value-want.tau) <= 0.05*want.tau) ||
				!(a.Time.Low < want.tau && want.tau < a.Time.High) {
				t.Errorf("%s: at %v a leak of %+v, by hand %v s at %v", what, a.Humidity, a.Time, want.tau, want.rh)
			}
		}
		l, err := d.Calibrated() // as found, though the description has 1 s of another air
		if err != nil {
			t.Fatal(err)
		}
		res := make([]line.Result, l.Len())
		l.RunTo(res, 1)
		if got := 1e6 * float64(res[2].Net()); !(math.Abs(got-2.220) <= 0.1) {
			t.Errorf("%s: the middle line has %v µC/m² behind the leak, by hand 2.220", what, got)
		}
	}
}

// TestLawOnAStretch: the law is used by 9.02 %RH before any reading, so that a law that nobody tested, 0.06 ± 0.03
// decades per %RH, leaves the leak there in doubt by a factor of 10^(0.03·9.02·1.645) = 2.8 more at the end of its
// band; a tested one does not.
func TestLawOnAStretch(t *testing.T) {
	wide := func(fall *known.Band, cold bool) float64 {
		desc := hot(fall)
		if cold {
			desc.Stations[1].WebTemperature = 0
		}
		l := read(t, desc, at(0.3, fields("P", 5*perNet))).Leaks[0]
		if l.Assumed != (fall == nil && !cold) {
			t.Errorf("law of %v, cold %v: assumed %v", fall, cold, l.Assumed)
		}
		return math.Log(l.Airs[0].Time.High / l.Airs[0].Time.Low)
	}
	const doubt = 0.5 // of a described leak time, in its logarithm
	if got, want := wide(nil, false), 2*1.645*math.Hypot(doubt, math.Ln10*0.03*9.02); !(math.Abs(got-want) <= 0.02*want) {
		t.Errorf("untested: %v, by hand %v", got, want)
	}
	if got, want := wide(nil, true), 2*1.645*doubt; !(math.Abs(got-want) <= 0.02*want) {
		t.Errorf("in the room: %v, by hand %v", got, want)
	}
	tested := 2 * 1.645 * math.Hypot(doubt, math.Ln10*0.002*9.02)
	if got, want := wide(&halves, false), tested; !(math.Abs(got-want) <= 0.02*want) {
		t.Errorf("tested: %v, by hand %v", got, want)
	}
}

// TestSecondAirOnAStretch: read in 60 %RH too, 41.96 at the web, the law is used by 11.96 %RH from the 30 in which
// the leak time holds, and 2.5 %RH of a hygrometer are 2.5·26.374/37.712 at the web: of a law of 0.06 ± 0.03 the
// logarithm is in doubt by 0.5, ln 10·0.03·11.96 and ln 10·0.06·1.748.
func TestSecondAirOnAStretch(t *testing.T) {
	d := read(t, hot(nil), at(0.3, fields("P", 5*perNet)), at(0.6, fields("P", 5*perNet)))
	a := d.Leaks[0].Airs[1].Time
	want := 2 * 1.645 * math.Hypot(0.5, math.Hypot(math.Ln10*0.03*11.96, math.Ln10*0.06*1.748))
	if got := math.Log(a.High / a.Low); !(math.Abs(got-want) <= 0.02*want) {
		t.Errorf("%v, by hand %v", got, want)
	}
	if want := math.Pow(10, -0.06*11.96); !(math.Abs(a.Value/want-1) <= 0.01) {
		t.Errorf("%v s, by hand %v", a.Value, want)
	}
}

// TestReadingOfDewyAir: 22 °C and 60 %RH have a dew point of 13.9 °C (Magnus): water would condense on a web of 10
// °C, whose description holds in the 3.6 °C of 30 %RH. 14.5 °C are accepted.
func TestReadingOfDewyAir(t *testing.T) {
	for celsius, refused := range map[float64]bool{10: true, 14.5: false} {
		desc := hot(&halves)
		desc.Stations[1].WebTemperature = units.Celsius(celsius)
		s := &survey.Survey{Readings: append(at(0.3, fields("P", 5*perNet)), at(0.6, fields("P", 5*perNet))...)}
		_, err := survey.Diagnose(newLine(t, desc), s)
		if refused != (err != nil) {
			t.Errorf("%v °C: %v", celsius, err)
		}
		if refused && !(strings.Contains(err.Error(), "air humidity") && strings.Contains(err.Error(), "behind P") &&
			strings.Count(err.Error(), "\n") == 3) {
			t.Errorf("four rows: %v", err)
		}
	}
}
