package survey_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

// spots are displays of a field meter at four spots [V].
func spots(station string, volts ...float64) []survey.Reading {
	out := fields(station, 0)
	for i := range out {
		out[i].Value = volts[i]
	}
	return out
}

// layered is a line with a nip between the places P and Q, four more places behind it, and a
// roller in front; spots scatter by 20 %.
func layered() *line.Description {
	desc := hand(place("O", 0.5), roller("R", 0.8, line.FaceA), place("P", 1), nip("N", 2), place("Q", 3),
		roller("S", 3.5, line.FaceA), place("T", 4), place("U", 5), place("V", 6))
	for i := range desc.Meters {
		desc.Meters[i].Spots = 0.2
	}
	return desc
}

// TestSpotsShowALayer: in front of the nip four spots lie within 300 V of nothing, behind it
// they lie at ±9 kV about a mean of nearly nothing. 9 kV are 3.5 µC/m²: patches of 20 % on
// two faces of ±12 µC/m² make as much. The nip is told, by the spots alone, and not named
// alone; where spots behind it are as even as those in front, nothing is told.
func TestSpotsShowALayer(t *testing.T) {
	for _, f := range []float64{1, -1, 0.03} {
		rows := [][]survey.Reading{spots("O", 100, -200, 150, -100), spots("P", 200, -200, 300, -100)}
		for i, p := range []string{"Q", "T", "U", "V"} {
			x := []float64{9000 * f, -8000 * f, 6000 * f, -9500 * f}
			rows = append(rows, spots(p, append(x[i:], x[:i]...)...))
		}
		d := read(t, layered(), rows...)
		a := d.Answer
		if f == 0.03 {
			if a.Kind != survey.CannotTell || a.Why != survey.FacesUnread {
				t.Errorf("even spots: %+v", a)
			}
			continue
		}
		if a.Kind != survey.OneOf || !a.Scatter || !slices.Equal(a.Sets[0], []int{4}) || a.Between != [2]int{3, 5} {
			t.Fatalf("%v: %+v, quiet %v, %+v", f, a, d.Quiet, d.Leads)
		}
		v, _ := said(t, d)
		if want := "Main source: N, between the readings at P and Q, by the spots alone: they scatter by more than the " +
			"charge outside explains"; !strings.HasPrefix(v.Source, want) {
			t.Error(v.Source)
		}
	}
}

// TestVoltmeterOverrulesSpots: with voltmeter readings of both faces behind the nip that show nothing, the
// same spots tell of no layer.
func TestVoltmeterOverrulesSpots(t *testing.T) {
	rows := [][]survey.Reading{spots("O", 100, -200, 150, -100), spots("P", 200, -200, 300, -100),
		over("R", line.FaceB, 0), over("S", line.FaceB, 0), over("S", line.FaceB, 0.1), over("N", line.FaceB, 0),
		ohms("S", 1), ohms("R", 1), ohms("N", 1)}
	for i, p := range []string{"Q", "T", "U", "V"} {
		x := []float64{9000, -8000, 6000, -9500}
		rows = append(rows, spots(p, append(x[i:], x[:i]...)...))
	}
	if a := read(t, layered(), rows...).Answer; a.Scatter || a.Kind == survey.OneSource {
		t.Errorf("%+v", a)
	}
}
