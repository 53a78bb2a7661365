package survey_test

import (
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// TestWinding: the net field at the surface of a roll of n wraps on an insulating core is, by Gauss's law,
// (Σ σ_in·a_k + σ_out·(a_k + t))/(ε0·r), a_k = r_c + k·t, r = r_c + n·t: the wraps are the first n at which it reaches
// the cap of the air. A core that is not described has a radius of 40 mm; a thicker one needs more wraps; without
// charge no number does it.
func TestWinding(t *testing.T) {
	for _, c := range []struct {
		core, radius units.Length
		volts        float64
	}{{0, 0.04, 3000}, {0, 0.04, -3000}, {0.2, 0.2, 3000}, {0.04, 0.04, 9000}} {
		desc := hand(place("P", 1))
		last := len(desc.Stations) - 1
		desc.Stations[last].Core = c.core
		d := read(t, desc, fields("P", c.volts))
		l, err := line.New(desc)
		if err != nil {
			t.Fatal(err)
		}
		state := d.States[len(d.States)-1]
		thick, eps := float64(desc.Web.Thickness), units.Epsilon0
		want := 0
		for n, flux := 1, 0.0; n < 100_000; n++ {
			a := float64(c.radius) + float64(n-1)*thick
			flux += state.B.Value*a + state.A.Value*(a+thick)
			e := flux / (eps * (a + thick))
			if e < 0 {
				e = -e
			}
			if e >= float64(l.NetCap())/eps {
				want = n
				break
			}
		}
		if got, ok := d.Winding(); !ok || want == 0 || got != want {
			t.Errorf("core %v, %g V: %d wraps, %v, by hand %d", c.core, c.volts, got, ok, want)
		}
	}
	if n, ok := read(t, hand(place("P", 1)), fields("P", 0)).Winding(); ok && n < 10_000 {
		t.Errorf("nothing on the web, and %d wraps reach the strength of the air", n)
	}
}

// TestIsolatedOfOthers: what is no isolated roller with a capacity, a finding of another line too, has no state.
func TestIsolatedOfOthers(t *testing.T) {
	bare := roller("bare", 3, line.FaceA)
	bare.Roller.Capacity = 0
	desc := hand(roller("R", 1, line.FaceB), place("P", 2), bare)
	d := read(t, desc, ohms("R", 5e9), ohms("bare", 5e9), fields("P", 2000))
	for _, g := range []survey.GroundFinding{
		{Station: -1, Isolated: true, Resistance: 5e9}, {Station: len(desc.Stations), Isolated: true, Resistance: 5e9},
		{Station: 1, Resistance: 1e3}, {Station: 2, Isolated: true, Resistance: 5e9},
		{Station: 3, Isolated: true, Resistance: 5e9},
	} {
		if s, ok := d.Isolated(g); ok {
			t.Errorf("%+v: %+v", g, s)
		}
	}
	s, ok := d.Isolated(survey.GroundFinding{Station: 1, Isolated: true, Resistance: 5e9})
	if !ok || !(s.HighVoltage > 0) {
		t.Errorf("the isolated roller: %+v, %v", s, ok)
	}
}
