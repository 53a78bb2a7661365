package survey_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

// TestVoltmeterShowsNoField: a field is what a field meter may show, and no voltmeter does.
func TestVoltmeterShowsNoField(t *testing.T) {
	set := map[string]string{"quantity": "over-roller voltmeter", "distance": "", "value": "2", "unit": "kV/cm"}
	if s, err := survey.ReadSurvey(strings.NewReader(sheet(set))); err == nil {
		t.Errorf("read as %v V", s.Readings[0].Value)
	}
	set["unit"] = "kV"
	if s, err := survey.ReadSurvey(strings.NewReader(sheet(set))); err != nil || s.Readings[0].Value != 2000 {
		t.Errorf("%v", err)
	}
}

// TestBeyondAsPredicted: four displays of 8 kV before and four behind say what one between them
// shows that ran out of a range of 5 kV; displays of the other sign do not.
func TestBeyondAsPredicted(t *testing.T) {
	for _, c := range []struct {
		volts, end float64
		as         bool
	}{{8000, 5000, true}, {-8000, -5000, true}, {-8000, 5000, false}, {8000, -5000, false}} {
		out := fields("Q", c.end)[:1]
		out[0].AtLeast = true
		d := read(t, hand(place("P", 1), place("Q", 2), place("T", 3)), fields("P", c.volts), out, fields("T", c.volts))
		f := d.Fits[4]
		if got := strings.Contains(f.Why, "as predicted"); got != c.as || (f.Residual == 0) != c.as {
			t.Errorf("%+v: %q, residual %v", c, f.Why, f.Residual)
		}
	}
}

// TestUnknownsOfTwoSpeeds: one exponent for all and one for each station with a contact, none of
// which has a face or a place before and behind.
func TestUnknownsOfTwoSpeeds(t *testing.T) {
	fast := fields("Q", 2*perNet)
	for i := range fast {
		fast[i].Speed = 3
	}
	d := read(t, hand(place("P", 1), roller("R", 2, line.FaceA), place("Q", 3)), fields("P", 0), fields("Q", perNet),
		fast)
	var shared, own []int
	for _, u := range d.Posterior().Unknowns() {
		if u.Kind != survey.UnlistedUnknown && u.Before != -1 {
			t.Errorf("%+v", u)
		}
		if u.Kind == survey.ExponentUnknown {
			if u.Face != line.NoFace {
				t.Errorf("%+v", u)
			}
			if u.Station < 0 {
				shared = append(shared, u.Station)
			} else {
				own = append(own, u.Station)
			}
		}
	}
	if !slices.Equal(shared, []int{-1}) || !slices.Equal(own, []int{0, 2}) {
		t.Errorf("exponents of %v and %v", shared, own)
	}
}

// TestAtLeastHasTheSignOfTheValue: > stands before what is 0 or more, < before what is 0 or
// less, however small it is.
func TestAtLeastHasTheSignOfTheValue(t *testing.T) {
	for value, ok := range map[string]bool{
		">0.5": true, "<-0.5": true, ">20000": true, "<-20000": true, "<0.5": false, ">-0.5": false, "≥3": true, "≤-3": true,
	} {
		s, err := survey.ReadSurvey(strings.NewReader(sheet(map[string]string{"value": value})))
		if ok != (err == nil) {
			t.Errorf("%s: %v", value, err)
		}
		if err == nil && (!s.Readings[0].AtLeast || s.Readings[0].Over) {
			t.Errorf("%s: %+v", value, s.Readings[0])
		}
	}
}
