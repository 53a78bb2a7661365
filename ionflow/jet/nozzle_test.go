package jet

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func flowOf(t *testing.T, s NozzleSpec, gauge, ambient float64) NozzleFlow {
	t.Helper()
	n, err := NewNozzle(s)
	if err != nil {
		t.Fatal(err)
	}
	f, err := n.Flow(units.GaugePressure(gauge), units.Pressure(ambient), units.Celsius(20))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestNozzleLimits(t *testing.T) {
	s := NozzleSpec{Area: Hole(units.Millimetre), Discharge: 0.7}
	// A few pascals: incompressible, u = √(2Δp/ρ), and no pressure thrust.
	f := flowOf(t, s, 20, 101325)
	rho := float64(AirDensity(units.Celsius(20), 101325))
	near(t, "incompressible speed", float64(f.Throat), math.Sqrt(2*20/rho), 2e-4) // next term Δp/(2γp)
	near(t, "incompressible flow", float64(f.Mass), 0.7*float64(s.Area)*math.Sqrt(2*20*rho), 2e-4)
	near(t, "jet", float64(f.Jet), float64(f.Throat), 1e-12)
	near(t, "vena contracta", float64(f.Diameter), 1e-3*math.Sqrt(0.7), 2e-4)
	// Continuous where it chokes.
	g := float64(ChokingGauge(101325))
	a, b := flowOf(t, s, g*(1-1e-6), 101325), flowOf(t, s, g*(1+1e-6), 101325)
	near(t, "mass at choking", float64(a.Mass), float64(b.Mass), 2e-6)
	near(t, "momentum at choking", float64(a.Momentum), float64(b.Momentum), 1e-5)
	if a.Choked || !b.Choked {
		t.Error("choking not seen")
	}
	// Choked at 20 °C: throat √(2γRT/(γ+1)) = 313 m/s; the flow follows p0 alone.
	near(t, "sonic throat", float64(b.Throat), 313.3, 5e-4)
	f6, f3 := flowOf(t, s, 6e5, 101325), flowOf(t, s, 3e5, 101325)
	near(t, "choked flow ∝ p0", float64(f6.Mass)/float64(f3.Mass), 701325/401325., 1e-12)
	// The equivalent source lies below the full expansion but above the throat.
	if u := float64(f6.Jet); !(u > float64(f6.Throat) && u < float64(IdealExitSpeed(6e5, 101325, units.Celsius(20)))) {
		t.Errorf("equivalent jet %g m/s", u)
	}
	near(t, "equivalent momentum", rho*math.Pi/4*math.Pow(float64(f6.Diameter), 2)*math.Pow(float64(f6.Jet), 2),
		float64(f6.Momentum), 1e-12)
	near(t, "equivalent mass", rho*math.Pi/4*math.Pow(float64(f6.Diameter), 2)*float64(f6.Jet), float64(f6.Mass), 1e-12)
	for _, g := range []float64{0, 5e-324, 1e-11, 1e-9} {
		if f := flowOf(t, s, g, 12345.678+9000); math.IsNaN(float64(f.Jet)) || math.IsNaN(float64(f.Diameter)) || g < 1e-20 &&
			f != (NozzleFlow{}) {
			t.Errorf("next to no pressure, %g Pa: %+v", g, f)
		}
	}
	// At 1500 m (84.5 kPa) the same gauge pressure gives a faster jet.
	if !(flowOf(t, s, 3e4, 84500).Jet > flowOf(t, s, 3e4, 101325).Jet) {
		t.Error("altitude")
	}
}

// Trade figures for one 1 mm hole, Cd 0.7, 20 °C: 7.3 L/min of free air at 0.3 bar(g) and
// 205 m/s, 13 L/min at 1 bar(g); recomputed by hand with the isentropic formulas.
func TestAirUseOfOneHole(t *testing.T) {
	s := NozzleSpec{Area: Hole(units.Millimetre), Discharge: 0.7}
	rho := float64(AirDensity(units.Celsius(20), 101325))
	f := flowOf(t, s, 3e4, 101325)
	near(t, "0.3 bar speed", float64(f.Throat), 205, 0.005)
	near(t, "0.3 bar flow", float64(f.Mass)/rho*60000, 7.3, 0.01)
	near(t, "1 bar flow", float64(flowOf(t, s, 1e5, 101325).Mass)/rho*60000, 13, 0.02)
}

func TestMachRoundTrip(t *testing.T) {
	for m := 0.01; m < 5; m *= 1.3 {
		near(t, "Mach", MachAt(IsentropicAt(m).Pressure), m, 1e-13+1e-15/(m*m)) // p/p0 is 1 − 0.7M² rounded
	}
	near(t, "A/A* at 1", float64(IsentropicAt(1).Area), 1, 1e-14)
	if !math.IsNaN(float64(IsentropicAt(-1).Pressure)) || !math.IsNaN(MachAt(1.1)) {
		t.Error("impossible Mach numbers")
	}
}

func TestISO6358(t *testing.T) {
	at := func(p2 float64) float64 {
		m, err := ISO6358Flow(1e-8, 0.3, 5e5, units.Pressure(p2), units.Celsius(20))
		if err != nil {
			t.Fatal(err)
		}
		return float64(m)
	}
	near(t, "continuous at b", at(1.5e5*(1-1e-9)), at(1.5e5*(1+1e-9)), 1e-8)
	near(t, "continuous at the linear branch", at(5e5*0.999*(1-1e-10)), at(5e5*0.999*(1+1e-10)), 1e-6)
	if at(5e5) != 0 {
		t.Error("flow without pressure difference")
	}
	// The ellipse with b = 0.528 stays within 0.3 % of the isentropic nozzle at p2/p1 = 0.8.
	n, _ := NewNozzle(NozzleSpec{Area: Hole(units.Millimetre), Discharge: 1})
	f := flowOf(t, NozzleSpec{Area: Hole(units.Millimetre), Discharge: 1}, 1e5*(1/0.8-1), 1e5)
	m, err := ISO6358Flow(n.SonicConductance(), 0.528, 1.25e5, 1e5, units.Celsius(20))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ellipse against nozzle", float64(m), float64(f.Mass), 3e-3)
	_, err = ISO6358Flow(1e-8, 0.3, 1e5, 2e5, units.Celsius(20))
	var fe *known.FieldError
	if !errors.As(err, &fe) || fe.Field != "outlet_pressure" {
		t.Errorf("backward flow: %v", err)
	}
}

func TestReferenceStatesDiffer(t *testing.T) {
	// 9 % apart
	near(t, "Nm³ against ANR", float64(Standard(1, units.ReferenceISO8778).Volume())/float64(Standard(1,
		units.ReferenceDIN1343).Volume()), 1.09, 0.003)
	// 1.293 kg/m³, handbooks
	near(t, "normal density", float64(ReferenceDensity(units.ReferenceDIN1343)), 1.2922, 1e-3)
	// ISO 2533:1975, standard atmosphere at sea level: 1.225 kg/m³ at 15 °C and 101.325 kPa.
	near(t, "15 °C", float64(ReferenceDensity(units.Reference15C)), 1.225, 5e-4/1.225)
	// ISO 8778 as printed in public programs for pneumatics.
	near(t, "ANR", float64(ReferenceDensity(units.ReferenceISO8778)), 1.185, 1e-12)
	// A moist state against package humidity, whose air is real: 0.04 % denser at 20 °C.
	air, err := humidity.NewAir(units.Celsius(20), 0.36, units.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "moist", float64(ReferenceDensity(units.Reference68FMoist)), float64(air.Density()), 6e-4)
	f := Standard(2, units.Reference68FMoist)
	near(t, "and back", float64(f.Mass(ReferenceDensity(units.Reference68FMoist))), 2, 1e-14)
	if f := Standard(1, 0); !math.IsNaN(float64(f.Volume())) || !math.IsNaN(float64(ReferenceDensity(0))) {
		t.Error("a volume at no state")
	}
	if f := Standard(units.MassFlow(math.NaN()), units.ReferenceISO8778); !math.IsNaN(float64(f.Volume())) {
		t.Error("a volume of no flow")
	}
}

func TestCompressionWork(t *testing.T) {
	iso := CompressionWork(7e5, 101325, units.Celsius(0), 0)
	near(t, "many stages tend to isothermal", float64(CompressionWork(7e5, 101325, units.Celsius(0), 1000000)),
		float64(iso), 1e-6)
	// A blower: at small pressure rise the work is the flow work Δp/ρ.
	near(t, "blower", float64(CompressionWork(100, 101325, units.Celsius(20), 1)),
		100/float64(AirDensity(units.Celsius(20), 101325)), 1e-3)
	if !math.IsNaN(float64(CompressionWork(7e5, 101325, -5, 1))) ||
		!math.IsNaN(float64(CompressionWork(-1, 101325, 293, 1))) ||
		!math.IsNaN(float64(SupplyPower(1, 1e5, 101325, 293, 0))) {
		t.Error("impossible arguments")
	}
}

func TestNozzleRefuses(t *testing.T) {
	for field, s := range map[string]NozzleSpec{
		"area": {Discharge: 0.7}, "discharge": {Area: 1e-6, Discharge: 1.1}, "thrust": {Area: 1e-6, Discharge: 1, Thrust: 2},
	} {
		_, err := NewNozzle(s)
		var fe *known.FieldError
		if !errors.As(err, &fe) || fe.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	n, _ := NewNozzle(NozzleSpec{Area: 1e-6, Discharge: 1})
	for field, a := range map[string][3]float64{"gauge": {-1, 1e5, 293}, "ambient": {1e4, 1e3, 293},
		"temperature": {1e4, 1e5, math.NaN()}} {
		_, err := n.Flow(units.GaugePressure(a[0]), units.Pressure(a[1]), units.Temperature(a[2]))
		var fe *known.FieldError
		if !errors.As(err, &fe) || fe.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}
