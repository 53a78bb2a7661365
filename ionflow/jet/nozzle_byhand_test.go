package jet

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// A perfect gas where its temperature falls by a simple factor f: p/p0 = f^−3.5, ρ/ρ0 = f^−2.5, M² = 5(f − 1),
// u² = 7·R·T0·(1 − 1/f), and the work of compression by f^3.5 in one stage is 3.5·R·T·(f − 1).
func TestGasByHand(t *testing.T) {
	const r = 287.055
	two := IsentropicAt(math.Sqrt(5)) // f = 2; A/A* = (2·2/2.4)³/M
	mach := IsentropicAt(2)           // NACA Report 1135, table I
	still := IsentropicAt(0)
	eight := units.GaugePressure((math.Pow(2, 3.5) - 1) * 9e4) // over 90 kPa f = 2
	for _, c := range []struct {
		what           string
		got, want, rel float64
	}{
		{"p", float64(two.Pressure), math.Pow(2, -3.5), 1e-12}, {"ρ", float64(two.Density), math.Pow(2, -2.5), 1e-12},
		{"T", float64(two.Temperature), 0.5, 1e-12}, {"A", float64(two.Area), 125. / 27 / math.Sqrt(5), 1e-12},
		{"p, M = 2", float64(mach.Pressure), 0.1278, 4e-4}, {"ρ, M = 2", float64(mach.Density), 0.2300, 3e-4},
		{"T, M = 2", float64(mach.Temperature), 0.5556, 1e-4}, {"A, M = 2", float64(mach.Area), 1.6875, 3e-5},
		{"p at rest", float64(still.Pressure), 1, 0}, {"A at rest", float64(still.Area), math.Inf(1), math.Inf(1)},
		{"M", MachAt(units.Ratio(math.Pow(2, -3.5))), math.Sqrt(5), 1e-12},
		{"critical", float64(CriticalPressureRatio()), math.Pow(1.2, -3.5), 1e-12},
		{"choking", float64(ChokingGauge(5e4)), 5e4 * (math.Pow(1.2, 3.5) - 1), 1e-12},
		{"exit", float64(IdealExitSpeed(eight, 9e4, 300)), math.Sqrt(3.5 * r * 300), 1e-12},
		{"density", float64(AirDensity(300, r*600)), 2, 1e-12}, {"hole", float64(Hole(2e-3)), math.Pi * 1e-6, 1e-12},
		{"one stage", float64(CompressionWork(eight, 9e4, 300, 1)), 3.5 * r * 300, 1e-12},
		{"two stages", float64(CompressionWork(eight, 9e4, 300, 2)), 7 * r * 300 * (math.Sqrt2 - 1), 1e-12},
		{"isothermal", float64(CompressionWork(eight, 9e4, 300, 0)), 3.5 * math.Ln2 * r * 300, 1e-12},
		{"power", float64(SupplyPower(2e-3, eight, 9e4, 300, 0.5)), 3.5 * r * 300 * 4e-3, 1e-12},
		{"power, all of it", float64(SupplyPower(2e-3, eight, 9e4, 300, 1)), 3.5 * r * 300 * 2e-3, 1e-12},
		// 101325 Pa less 0.378·0.36·2339 Pa of air at 20 °C
		{"moist", float64(ReferenceDensity(units.Reference68FMoist)), (101325 - 0.378*0.36*2339) / (r * 293.15), 1e-9},
		{"volume", float64(Standard(0.237, units.ReferenceISO8778).Volume()), 0.2, 1e-12},
	} {
		if c.got != c.want {
			near(t, c.what, c.got, c.want, c.rel)
		}
	}
	for i, v := range []float64{
		float64(IdealExitSpeed(-1, 1e5, 300)), float64(CompressionWork(-1, 1e5, 300, 1)),
		float64(CompressionWork(1e5, 0, 300, 1)), float64(CompressionWork(1e5, 1e5, 0, 0)),
		float64(CompressionWork(1e5, 1e5, 300, -1)), float64(SupplyPower(1, 1e5, 1e5, 300, 1.01)),
		float64(SupplyPower(1, 1e5, 1e5, 300, 0)), float64(SupplyPower(1, 1e5, 1e5, 300, -0.5)),
		float64(IsentropicAt(-1e-9).Density), float64(IsentropicAt(-1).Area), float64(IsentropicAt(-1).Temperature),
		MachAt(1.01),
	} {
		if !math.IsNaN(v) {
			t.Errorf("impossible state %d: %v", i, v)
		}
	}
	// Less than a kelvin and a pascal are still a state: ln 2·R·T/2.
	near(t, "thin and cold", float64(CompressionWork(0.5, 0.5, 0.5, 0)), math.Ln2*r/2, 1e-12)
	if w := CompressionWork(0, 1e5, 300, 1); w != 0 {
		t.Errorf("work of nothing: %v", w)
	}
}

// A nozzle of 3 mm² with a discharge of 0.8 and a thrust of 0.9 at f = 1.1 (subsonic) and at twice the choking
// pressure.
func TestNozzleByHand(t *testing.T) {
	const r, pa, t0, area = 287.055, 9e4, 310.0, 0.8 * 3e-6
	n, err := NewNozzle(NozzleSpec{Area: 3e-6, Discharge: 0.8, Thrust: 0.9})
	if err != nil {
		t.Fatal(err)
	}
	room := pa / (r * t0)
	for _, c := range []struct {
		name     string
		ratio, f float64 // p0/pa, T0/T in the throat
		choked   bool
	}{
		{"subsonic", math.Pow(1.1, 3.5), 1.1, false}, {"choked", 2 * math.Pow(1.2, 3.5), 1.2, true},
	} {
		got, err := n.Flow(units.GaugePressure((c.ratio-1)*pa), pa, t0)
		if err != nil {
			t.Fatal(err)
		}
		u := math.Sqrt(7 * r * t0 * (1 - 1/c.f))
		m := area * c.ratio * pa * math.Pow(c.f, -2.5) / (r * t0) * u
		thrust := 0.9*m*u + area*(c.ratio*pa*math.Pow(c.f, -3.5)-pa)
		near(t, c.name+" speed", float64(got.Throat), u, 1e-9)
		near(t, c.name+" mass", float64(got.Mass), m, 1e-9)
		near(t, c.name+" momentum", float64(got.Momentum), thrust, 1e-9)
		near(t, c.name+" jet", float64(got.Jet), thrust/m, 1e-9)
		near(t, c.name+" diameter", float64(got.Diameter), 2*m/math.Sqrt(math.Pi*room*thrust), 1e-9)
		if got.Choked != c.choked {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	// √1.4·(2/2.4)³/√(R·293.15)/1.185
	near(t, "conductance", n.SonicConductance(), area*math.Sqrt(1.4)*125/216/math.Sqrt(r*293.15)/1.185, 1e-12)
	for _, c := range []struct {
		gauge   units.GaugePressure
		ambient units.Pressure
		t       units.Temperature
		field   string
	}{
		{20e5, 2e4, 200, ""}, {0, 1.1e5, 400, ""}, {0.5, 1.1e5, 400, ""}, {20.1e5, 1e5, 300, "gauge"},
		{-0.5, 1e5, 300, "gauge"}, {1e5, 1.99e4, 300, "ambient"}, {1e5, 1.11e5, 300, "ambient"},
		{1e5, 1e5, 199.5, "temperature"}, {1e5, 1e5, 400.5, "temperature"},
	} {
		_, err := n.Flow(c.gauge, c.ambient, c.t)
		hold(t, c.field, err)
	}
	for _, c := range []struct {
		spec  NozzleSpec
		field string
	}{
		{NozzleSpec{1, 0.3, 0.3}, ""}, {NozzleSpec{0.5, 1, 1}, ""}, {NozzleSpec{1.01, 0.5, 1}, "area"},
		{NozzleSpec{0, 0.5, 1}, "area"}, {NozzleSpec{1, 0.299, 1}, "discharge"}, {NozzleSpec{1, 1.01, 1}, "discharge"},
		{NozzleSpec{1, 0.5, 0.299}, "thrust"}, {NozzleSpec{1, 0.5, 1.01}, "thrust"},
	} {
		_, err := NewNozzle(c.spec)
		hold(t, c.field, err)
	}
	// Pressure differences below the rounding of the pressures give a jet or none.
	for pa := units.Pressure(2e4); pa < 1.1e5; pa += 137.31 {
		f, err := n.Flow(1e-11, pa, 300)
		if err != nil || !(f.Jet >= 0) || !(f.Diameter >= 0) || !(f.Mass >= 0) {
			t.Errorf("next to no pressure over %v: %+v, %v", pa, f, err)
		}
	}
	if f, err := n.Flow(0, 1e5, 300); err != nil || f != (NozzleFlow{}) {
		t.Errorf("no pressure: %+v, %v", f, err)
	}
}

// A component of 1e-8 m³/(s·Pa) and b = 0.3 at 5 bar: choked 1e-8·5e5·1.185 kg/s at 20 °C; at p2/p1 = 0.65 √(1 − ½²)
// of it, at 0.9995 half of what the ellipse has at 0.999; from four times as warm air half of all.
func TestComponentByHand(t *testing.T) {
	const full = 1e-8 * 5e5 * 1.185
	last := math.Sqrt(1 - math.Pow(0.699/0.7, 2))
	for _, c := range []struct{ p2, temperature, want float64 }{
		{0, 293.15, full}, {1e5, 293.15, full}, {1.5e5, 293.15, full}, {3.25e5, 293.15, full * math.Sqrt(0.75)},
		{3.25e5, 4 * 293.15, full * math.Sqrt(0.75) / 2}, {4.9975e5, 293.15, full * last / 2}, {5e5, 293.15, 0},
		{4.75e5, 293.15, full * math.Sqrt(1-math.Pow(0.65/0.7, 2))},
	} {
		m, err := ISO6358Flow(1e-8, 0.3, 5e5, units.Pressure(c.p2), units.Temperature(c.temperature))
		if err != nil {
			t.Fatal(err)
		}
		if !(math.Abs(float64(m)-c.want) <= 1e-12*full) {
			t.Errorf("to %g Pa at %g K: %v, want %v", c.p2, c.temperature, float64(m), c.want)
		}
	}
	for _, c := range []struct {
		c, b   float64
		p1, p2 units.Pressure
		t      units.Temperature
		field  string
	}{
		{0.5, 0, 0.5, 0.25, 0.5, ""}, {1e-8, 0.999, 5e5, 0, 293, ""}, {0, 0.3, 5e5, 1e5, 293, "conductance"},
		{1e-8, -0.01, 5e5, 1e5, 293, "critical_ratio"}, {1e-8, 0.9995, 5e5, 1e5, 293, "critical_ratio"},
		{1e-8, 0.3, 0, 0, 293, "inlet_pressure"}, {1e-8, 0.3, 5e5, -0.5, 293, "outlet_pressure"},
		{1e-8, 0.3, 5e5, 5.01e5, 293, "outlet_pressure"}, {1e-8, 0.3, 5e5, 1e5, 0, "inlet_temperature"},
	} {
		_, err := ISO6358Flow(c.c, c.b, c.p1, c.p2, c.t)
		hold(t, c.field, err)
	}
}
