package cure

import (
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// TestEndsOfChanges: both ends of the range of each change of a line are taken, and what lies just beyond is refused
// by its field; what stands first and last stays.
func TestEndsOfChanges(t *testing.T) {
	m := free(t, nil)
	move := func(d units.Length) Change { return Move{Station: "bar B1", Distance: d} }
	wrap := func(from, to float64) Change {
		return Wrap{Station: "idler 5", From: units.Angle(from) * units.Degree, To: units.Angle(to) * units.Degree}
	}
	for _, c := range []struct {
		field    string
		in, out  Change
		received bool // the change within is tried too
	}{
		{"speed", Run{1e-4}, Run{0.99e-4}, true}, {"speed", Run{100}, Run{100.1}, true},
		{"distance", move(units.Millimetre), move(0.99 * units.Millimetre), false}, {"distance", move(5), move(5.01), false},
		{"to", Moisten{To: 0.01}, Moisten{To: 0.0099}, false}, {"to", Moisten{To: 0.9}, Moisten{To: 1.01}, false},
		{"to", Warm{To: units.Celsius(-40)}, Warm{To: units.Celsius(-40.1)}, false},
		{"to", Warm{To: units.Celsius(80)}, Warm{To: units.Celsius(80.1)}, false},
		{"from", wrap(1, 90), wrap(0.9, 90), true}, {"from", wrap(350, 90), wrap(350.1, 90), true},
		{"to", wrap(90, 0), wrap(90, -0.1), true}, {"to", wrap(90, 350), wrap(90, 350.1), true},
		{"times", Wrap{Station: "idler 5", Times: 350}, Wrap{Station: "idler 5", Times: 350.1}, true},
		{"from", Load{Station: "tension nip", From: 1e-3, To: 1}, Load{Station: "tension nip", To: 1}, true},
		{"station", Remove{"idler 5"}, Remove{"winder"}, true}, {"station", Remove{"bar B1"}, Remove{"unwind"}, true},
	} {
		has := func(x Change) (bool, error) {
			_, err := m.Try(x)
			return err != nil && strings.Contains(err.Error(), "changes[0]."+c.field+":"), err
		}
		if refused, err := has(c.in); refused || c.received && err != nil {
			t.Errorf("%v: %v", c.in, err)
		}
		if refused, err := has(c.out); !refused {
			t.Errorf("%v: %v", c.out, err)
		}
	}
}

// TestSupplyOfABar: a bar that brings 4 µA/m at most takes 1 µC/m² off a web at 4 m/s, 2 at 2 m/s, where its curve
// would take more of 3: 1.8 and 3·(1 − 0.4²) = 2.5.
func TestSupplyOfABar(t *testing.T) {
	m := foundBar(t, barLine(strong(), nil), 1.2e-6)
	m.stages[1].bar.supply = same(4e-6)
	for v, want := range map[units.Speed]float64{4: 2, 2: 1} {
		x := try(t, m, Run{v})
		near(t, "left at "+v.String(), behindBar(x)/micro, want, 1e-6)
		if got := x.Predict().Stations[1].Ruled; got != line.SupplyOfIons {
			t.Errorf("%v rules at %v", got, v)
		}
	}
}

// TestCoverThatKeepsAll: a cover that loses nothing in a turn stands at what the gas leaves it; a web that gains
// nothing from it comes with twice its saturation.
func TestCoverThatKeepsAll(t *testing.T) {
	c := &cover{tau: 1e30, turn: 0.3, bound: 20e-6}
	for _, kept := range []float64{1, 0.5} {
		near(t, "saturation", c.strengthFor(8e-6, 0, 0.3, kept)/micro, 4, 1e-9)
	}
}

// TestSpeedOfAProfile: a profile has a speed and no rate: at 3 m/s 180 m/min, and half as much again asks for new
// readings.
func TestSpeedOfAProfile(t *testing.T) {
	all := strings.Join(route(t, tube()).triggers(), "; ")
	if !strings.Contains(all, "a speed beyond 270 m/min (described 180)") || strings.Contains(all, "a rate beyond") {
		t.Error(all)
	}
	if all = strings.Join(route(t, moulded()).triggers(), "; "); strings.Contains(all, "a speed beyond") ||
		!strings.Contains(all, "a rate beyond 5400 an hour (described 3600)") {
		t.Error(all)
	}
}
