package cure

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
)

// TestMoistenInertWeb: CHA-9, 45 %RH in the hall of plant A: 26 kg/h, 19 kW, by KEE-4
// 8,853 a year, and no bit of the charge moves.
func TestMoistenInertWeb(t *testing.T) {
	m := free(t, nil)
	m.site.Prices = Prices{Hours: 3000, Kilowatt: 0.15, Water: 4, FreshAir: units.VolumeFlow(4000.0 / 3600)}
	wet := try(t, m, Moisten{To: 45 * units.PercentRH})
	was, is := m.run(float64(m.at)), wet.run(float64(m.at))
	for s := range was.a {
		for i := range was.a[s] {
			if was.a[s][i] != is.a[s][i] || was.b[s][i] != is.b[s][i] {
				t.Fatal("an inert web changed")
			}
		}
	}
	side := wet.Predict().Side
	near(t, "water", float64(side.Water)*3600, 26, 0.8)
	near(t, "power", float64(side.Power), 19e3, 950)
	near(t, "a year", side.PerYear, 8853, 0.03*8853)
	p := planned(t, m, Aim{})
	c := p.Refused[0]
	if c.Step != Leaking || !strings.Contains(c.Reason, "inert") || c.Prediction.Side.PerYear != side.PerYear {
		t.Errorf("%v, %v", c.Reason, c.Prediction.Side)
	}
}

// TestMoistenLeakingWeb: RUN-2, a web that loses 0.6 s long along an earthed edge with
// τ = 8.83 s at 25 %RH, 1.65 at 35 and 0.132 at 50, steps of 0.0728 decades per %RH:
// 0.065693, 0.304856 and 0.989 of the net are lost. Warmer air with the same water is
// drier.
func TestMoistenLeakingWeb(t *testing.T) {
	d := plantDescription(t)
	d.Web.Humidity, d.Web.VolumeResistivity = humidity.Absorbing, 1e19
	d.Air.RelativeHumidity = 25 * units.PercentRH
	d.Stations = []line.StationSpec{
		{Name: "unwind", Kind: line.Unwind, Leak: &line.LeakSpec{Path: decay.EarthedEdge, Time: 8.83 * units.Second},
			Change: []line.ChangeSpec{{Face: line.FaceA, Spread: 1e-6}, {Face: line.FaceB, Spread: 1e-6}}},
		{Name: "end", Kind: line.Place, At: 1, Gap: 0.3}, {Name: "winder", Kind: line.Winder, At: 1}}
	const v = 100.0 / 60
	m, err := build(d, found{speed: v, low: v, high: v, changes: []column{same(3 * micro), same(0)}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	m.site = nobody()
	m.site.Leak = &LeakLaw{Class: humidity.Absorbing, Decades: math.Log10(8.83/1.65) / 10, Spread: 0.1}
	lost := func(m *Calibrated) float64 {
		w := m.run(v)
		return 1 - (w.a[1][Draws]+w.b[1][Draws])/(3*micro)
	}
	near(t, "25 %RH", lost(m), 0.065693, 1e-4)
	near(t, "35 %RH", lost(try(t, m, Moisten{To: 35 * units.PercentRH})), 0.304856, 1e-4)
	near(t, "in two steps", lost(try(t, m, Moisten{To: 0.3}, Moisten{To: 0.35})), 0.304856, 1e-4)
	near(t, "50 %RH", lost(try(t, m, Moisten{To: 50 * units.PercentRH})), 0.989385, 0.004)
	if x := lost(try(t, m, Warm{To: units.Celsius(30)})); !(x < 0.05) {
		t.Errorf("warmer, it loses %v", x)
	}
	q := try(t, m, Moisten{To: 0.35}).Predict().Stations[1].Net
	if !(q[0] < q[1]-0.1*micro && q[2] > q[1]+0.1*micro) {
		t.Errorf("the law's spread does not reach the net: %v", q)
	}
	p := planned(t, m, Aim{Places: []string{"end"}})
	found := false
	for _, c := range p.Cures {
		found = found || c.Step == Leaking && c.After < c.Before
	}
	if !found {
		t.Errorf("no moistening among %v", p.Cures)
	}
	// A web of 27 °C in a hall of 22 °C has 0.7415 of its humidity (Magnus): a step of 7.4 %RH for one of
	// 10, τ = 8.83·10^(−0.540) = 2.546 s, 0.210 lost.
	m.site.WebTemperature = units.Celsius(27)
	near(t, "warm web", lost(try(t, m, Moisten{To: 35 * units.PercentRH})), 0.2100, 0.002)
	m.site.WebTemperature = 0
	// Damp air at one path alone: an absorbing web does not follow it, an adsorbing one does, and no
	// water of the hall is counted.
	if _, err := m.Try(Moisten{Air: "unwind", To: 0.35}); err == nil || !strings.Contains(err.Error(), "absorbing") {
		t.Errorf("one path of an absorbing web: %v", err)
	}
	m.site.Leak.Class = humidity.Adsorbing
	m.site.Prices.FreshAir = 1
	one := try(t, m, Moisten{Air: "unwind", To: 0.35})
	near(t, "one path", lost(one), 0.304856, 1e-4)
	if one.Predict().Side.Water != 0 || one.desc.Air.RelativeHumidity != 25*units.PercentRH {
		t.Errorf("the hall is wetter: %v", one.Predict().Side)
	}
	if _, err := m.Try(Moisten{Air: "end", To: 0.35}); err == nil || !strings.Contains(err.Error(), "leak path") {
		t.Errorf("a place without a path: %v", err)
	}
	m.site.Leak = nil
	if _, err := m.Try(Moisten{To: 0.35}); err == nil || !strings.Contains(err.Error(), "law") {
		t.Errorf("without a law: %v", err)
	}
	if _, err := m.Try(Moisten{Air: "feeder", To: 0.35}); err == nil {
		t.Error("another air")
	}
	m.site.Safety.Zone = upkeep.UnknownZone
	if _, err := m.Try(Moisten{To: 0.35}); err == nil {
		t.Error("moistened before the zone was answered")
	}
}
