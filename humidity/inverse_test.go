package humidity

import (
	"testing"

	"example.org/pithball/units"
)

// TestOutdoorForInverts: the outdoor air that a room needs leads back to the room's, with
// the flow counted on either side; 5 kg/h of gain are about 1 g/kg of 4000 m³/h.
func TestOutdoorForInverts(t *testing.T) {
	target := inRoom(t, 22, 45)
	for _, at := range []FlowState{AtIndoor, AtOutdoor} {
		r, err := NewRoom(RoomSpec{Volume: 3200, Ventilation: 4000. / 3600, CountedAt: at,
			Gain: units.MassFlow(5 * kgPerHour)})
		if err != nil {
			t.Fatal(err)
		}
		out, err := r.OutdoorFor(target, units.Celsius(10))
		if err != nil {
			t.Fatal(err)
		}
		back, err := r.Steady(out, target.Temperature())
		if err != nil {
			t.Fatal(err)
		}
		near(t, "W back", float64(back.HumidityRatio()), float64(target.HumidityRatio()), 1e-12)
		// 5 kg/h over 4000 m³/h of dry air of 1.19 (22 °C) or 1.24 kg/m³ (10 °C).
		near(t, "less outside, g/kg", 1e3*float64(target.HumidityRatio()-out.HumidityRatio()), 1.03, 0.04)
	}
}

// TestWicksAreTold: each instrument shows its own measure, iced or liquid.
func TestWicksAreTold(t *testing.T) {
	for i, g := range []Given{Sling.Shows(280), Sling.ShowsSupercooled(280), Aspirated.Shows(280),
		Aspirated.ShowsSupercooled(280)} {
		if want := []measure{slingBulb, slingLiquid, aspiratedBulb, aspiratedLiquid}[i]; g.kind != want {
			t.Errorf("%d: %v", i, g)
		}
	}
}

// TestSlowRiseIsRefused: half a decade more over 80 %RH is a rise all the same.
func TestSlowRiseIsRefused(t *testing.T) {
	if l, err := FitLogLinear([]Point[units.Time]{{rh(10), 1}, {rh(90), 3}}, nil); err == nil {
		t.Errorf("%+v", l)
	}
}
