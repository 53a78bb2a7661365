package cure

import (
	"errors"
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Every change with figures of its own is asked for them.
var _ = []ranged{Run{}, Earth{}, Cover{}, Load{}, Wrap{}, Moisten{}, Warm{}, Move{}, Blow{}}

// TestCheckChanges: what is wrong with each change, whatever the line is, is told without a sound line in the
// words in which a sound one tells it: names of the demonstration's stations, figures beyond the documented
// ranges.
func TestCheckChanges(t *testing.T) {
	m := free(t, nil)
	unsound := plantDescription(t)
	unsound.Web.Thickness, unsound.Stations[2].At = 0, -1
	if _, err := line.New(unsound); err == nil {
		t.Fatal("sound")
	}
	place := line.StationSpec{Name: "new", Kind: line.Place, At: 3}
	for want, x := range map[string]Change{
		"speed: ":                    Run{Speed: -1},
		"station: nowhere: ":         Earth{Station: "nowhere"},
		"station: bar B1: ":          Earth{Station: "bar B1"},
		"station: winder: ":          Earth{Station: "winder"},
		"resistance: ":               Earth{Station: "idler 4", Resistance: 2 * units.Megohm},
		"station: idler 4: ":         Switch{Station: "idler 4"},
		"station: idler 5: ":         Clean{Station: "idler 5"},
		"station: idler 6: ":         Move{Station: "idler 6"},
		"distance: 6 m: ":            Move{Station: "bar B2", Distance: 6},
		"station: unwind: ":          Cover{Station: "unwind", Face: line.FaceA},
		"strength.value: 11: ":       Cover{Station: "tension nip", Face: line.FaceA, Strength: known.Band{Value: 11}},
		"from: 0 N/m: ":              Load{Station: "tension nip", To: 1},
		"station: A4 after nip: ":    Load{Station: "A4 after nip", Times: 1},
		"to: 351°: ":                 Wrap{Station: "idler 4", From: 90 * units.Degree, To: 351 * units.Degree},
		"times: 351: ":               Wrap{Station: "idler 4", Times: 351},
		"from: none: ":               Wrap{Station: "idler 4"},
		"station: lay-on roller: ":   Shield{Station: "lay-on roller"},
		"to: 0.5 %RH: ":              Moisten{To: 0.5 * units.PercentRH},
		"to: 81 °C: ":                Warm{To: units.Celsius(81)},
		"air: hall: ":                Moisten{Air: "hall", To: 0.5},
		"station: winder: want a st": Remove{Station: "winder"},
		"station.name: idler 4: ":    Add{Station: line.StationSpec{Name: "idler 4", Kind: line.Place}},
		"station: bar B9: ":          Blow{Station: "bar B9"},
	} {
		_, sound := m.Try(x)
		err := CheckChanges(unsound, x)
		if sound == nil || err == nil || !strings.HasPrefix(err.Error(), "changes[0]."+want) || err.Error() != sound.Error() {
			t.Errorf("%T, %s:\n%v\nby a sound line\n%v", x, want, err, sound)
		}
	}
	for _, c := range []struct{ last, beyond Change }{ // the ends of the ranges
		{Run{Speed: 1e-4}, Run{Speed: 0.9e-4}}, {Run{Speed: 100}, Run{Speed: 100.1}},
		{Earth{Station: "idler 5", Resistance: units.Megohm}, Earth{Station: "idler 5", Resistance: 1.001 * units.Megohm}},
		{Moisten{To: 0.01}, Moisten{To: 0.0099}}, {Moisten{To: 1}, Moisten{To: 1.001}},
		{Warm{To: units.Celsius(-40)}, Warm{To: units.Celsius(-40.1)}},
		{Warm{To: units.Celsius(80)}, Warm{To: units.Celsius(80.1)}},
		{Blow{Station: "bar B2"}, Blow{Station: "bar B2", Gauge: -1}},
		{Blow{Station: "bar B2", Gauge: 10 * units.BarGauge}, Blow{Station: "bar B2", Gauge: 10.01 * units.BarGauge}},
		{Move{Station: "bar B2", Distance: 1e-3}, Move{Station: "bar B2", Distance: 0.9e-3}},
		{Move{Station: "bar B2", Distance: 5}, Move{Station: "bar B2", Distance: 5.1}},
		{Cover{Station: "tension nip", Face: line.FaceA, Strength: known.Band{Value: -10}},
			Cover{Station: "tension nip", Face: line.FaceA, Strength: known.Band{Value: -10.1}}},
		{Cover{Station: "tension nip", Face: line.FaceA}, Cover{Station: "tension nip", Face: line.FaceA, Time: -1}},
		{Load{Station: "idler 4", From: 1, To: 2}, Load{Station: "idler 4", From: 1}},
		{Wrap{Station: "idler 4", From: units.Degree, To: 0}, Wrap{Station: "idler 4", From: 0.9 * units.Degree}},
		{Wrap{Station: "idler 4", From: 350 * units.Degree, To: 350 * units.Degree},
			Wrap{Station: "idler 4", From: 351 * units.Degree}},
		{Wrap{Station: "idler 4", Times: 350}, Wrap{Station: "idler 4", Times: -1}},
	} {
		if err := CheckChanges(unsound, c.last); err != nil {
			t.Errorf("%+v: %v", c.last, err)
		}
		if err := CheckChanges(unsound, c.beyond); err == nil {
			t.Errorf("%+v is taken", c.beyond)
		}
	}
	var f *known.FieldError
	for what, list := range map[string][]Change{
		"sound": {Run{Speed: 3}, Earth{Station: "idler 5"}, Switch{Station: "bar B1"}, Move{Station: "bar B2", To: 7},
			Remove{Station: "idler 6"}, Moisten{To: 0.4}, Shield{Station: "winder"}, Add{Station: place}, Remove{Station: "new"},
			Add{Station: line.StationSpec{Name: "idler 6", Kind: line.Roller, At: 4}}, Earth{Station: "idler 6"}},
		"behind what nobody could read": {nil, Earth{Station: "nowhere"}, Moisten{Air: "somewhere", To: 0.4}},
		"behind an addition without its name": {Add{Station: line.StationSpec{Kind: line.Roller}},
			Earth{Station: "nowhere"}},
	} {
		if err := CheckChanges(unsound, list...); err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
	err := CheckChanges(unsound, Remove{Station: "idler 6"}, Earth{Station: "idler 6"}, nil, Run{})
	if list, ok := err.(interface{ Unwrap() []error }); !ok || len(list.Unwrap()) != 2 ||
		!errors.As(list.Unwrap()[0], &f) || f.Field != "changes[1].station" ||
		!errors.As(list.Unwrap()[1], &f) || f.Field != "changes[3].speed" {
		t.Errorf("what was removed, and a range behind what nobody could read: %v", err)
	}
	for _, d := range []*line.Description{nil, {}} { // nothing was read: figures alone
		if err := CheckChanges(d, Earth{Station: "nowhere"}, Run{}); err == nil || strings.Contains(err.Error(), "nowhere") {
			t.Errorf("%+v: %v", d, err)
		}
	}
	odd := plantDescription(t)
	odd.Stations[2].Kind = 0 // it could not be read
	if err := CheckChanges(odd, Switch{Station: odd.Stations[2].Name}); err != nil {
		t.Error(err)
	}
}
