package jet

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// The jet of each shape carries the mass and the momentum of its nozzle: 1 mm holes 20 mm apart are fifty to the
// metre, and a slot of 1 mm is a nozzle of 1000 mm² to the metre.
func TestSupplyBlows(t *testing.T) {
	air := Supply{Gauge: 0.3 * units.BarGauge, Ambient: units.Atmosphere, Temperature: units.Celsius(20), Discharge: 0.7}
	rho := float64(AirDensity(units.Celsius(20), units.Atmosphere))
	for _, c := range []struct {
		spec JetSpec
		area float64 // [m²] of one nozzle
		many float64 // to the metre
	}{
		{JetSpec{Kind: Round, Width: units.Millimetre}, math.Pi / 4 * 1e-6, 1},
		{JetSpec{Kind: Row, Width: units.Millimetre, Pitch: 20 * units.Millimetre}, math.Pi / 4 * 1e-6, 50},
		{JetSpec{Kind: Plane, Width: units.Millimetre}, 1e-3, 1},
	} {
		f := flowOf(t, NozzleSpec{Area: units.Area(c.area), Discharge: 0.7}, 0.3e5, 101325)
		j, m, err := air.Blow(c.spec)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "mass", m, c.many*float64(f.Mass), 1e-12)
		near(t, "speed", float64(j.Spec().Speed), float64(f.Jet), 1e-12)
		if c.spec.Kind != Round {
			near(t, "flow", j.FlowPerWidth(), c.many*float64(f.Mass)/rho, 1e-3)
			near(t, "momentum", rho*j.FlowPerWidth()*float64(j.Spec().Speed), c.many*float64(f.Momentum), 1e-3)
		}
	}
	for _, bad := range []func(*Supply, *JetSpec){
		func(a *Supply, _ *JetSpec) { a.Gauge = 0 }, func(a *Supply, _ *JetSpec) { a.Discharge = 2 },
		func(a *Supply, _ *JetSpec) { a.Ambient = 0 }, func(_ *Supply, s *JetSpec) { s.Width = 0 },
		func(_ *Supply, s *JetSpec) { s.Pitch = 0 }, func(_ *Supply, s *JetSpec) { s.Pitch = 1e-4 },
	} {
		a, s := air, JetSpec{Kind: Row, Width: units.Millimetre, Pitch: 20 * units.Millimetre}
		bad(&a, &s)
		if _, m, err := a.Blow(s); err == nil || !math.IsNaN(m) {
			t.Errorf("%+v %+v accepted", a, s)
		}
	}
}
