package jet_test

import (
	"fmt"

	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
)

// A round hole of 2 mm at 80 m/s: far from it the flow is 0.32·x/d times that of the hole, and the
// centre runs at twice the mean speed.
func ExampleNewJet() {
	j, err := jet.NewJet(jet.JetSpec{Kind: jet.Round, Width: 2 * units.Millimetre, Speed: 80 * units.MetrePerSecond})
	if err != nil {
		fmt.Println(err)
		return
	}
	x := 200 * units.Millimetre
	fmt.Printf("Q/Q0 %.1f, centre %.1f m/s, mean %.1f m/s, age %.0f ms\n", float64(j.Entrainment(x)),
		float64(j.CentreSpeed(x)), float64(j.MeanSpeed(x)), float64(j.Age(x))*1e3)
	fmt.Println(j.Validity())
	// Output:
	// Q/Q0 32.0, centre 5.0 m/s, mean 2.5 m/s, age 40 ms
	// inside the published range
}

// Isentropic flow: M = 0.5 has p/p0 = 0.8430 and A/A* = 1.3398 in
// the tables.
func ExampleIsentropicAt() {
	s := jet.IsentropicAt(0.5)
	fmt.Printf("%.4f %.4f\n", float64(s.Pressure), float64(s.Area))
	fmt.Printf("chokes above %.3f bar(g)\n", float64(jet.ChokingGauge(units.Atmosphere))/1e5)
	// Output:
	// 0.8430 1.3398
	// chokes above 0.905 bar(g)
}

// A valve of C = 1e-8 m³/(s·Pa) and b = 0.35 from 7 to 1 bar absolute is choked: 1e-8·7e5·1.185 kg/s.
func ExampleISO6358Flow() {
	m, err := jet.ISO6358Flow(1e-8, 0.35, 7*units.Bar, 1*units.Bar, units.Celsius(20))
	fmt.Printf("%.3f g/s %v; %.0f L/min ANR, %.0f L/min normal\n", float64(m)*1e3, err,
		float64(jet.Standard(m, units.ReferenceISO8778).Volume())*60000,
		float64(jet.Standard(m, units.ReferenceDIN1343).Volume())*60000)
	// Output: 8.295 g/s <nil>; 420 L/min ANR, 385 L/min normal
}

// A hole of 1 mm with a discharge coefficient of 0.7, at 0.3 and at 6 bar(g).
func ExampleNozzle_Flow() {
	n, err := jet.NewNozzle(jet.NozzleSpec{Area: jet.Hole(units.Millimetre), Discharge: 0.7})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, gauge := range []units.GaugePressure{0.3 * units.BarGauge, 6 * units.BarGauge} {
		f, err := n.Flow(gauge, units.Atmosphere, units.Celsius(20))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.1f L/min ANR, throat %.0f m/s, choked %v\n",
			float64(jet.Standard(f.Mass, units.ReferenceISO8778).Volume())*60000, float64(f.Throat),
			f.Choked)
	}
	// Output:
	// 7.4 L/min ANR, throat 205 m/s, choked false
	// 46.1 L/min ANR, throat 313 m/s, choked true
}

// A recommended supply is a choice of machine: a row of 1 mm holes, 50 a metre, at 0.3 bar(g) from the
// plant network or from a blower.
func ExampleSupplyPower() {
	n, err := jet.NewNozzle(jet.NozzleSpec{Area: jet.Hole(units.Millimetre), Discharge: 0.7})
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := n.Flow(0.3*units.BarGauge, units.Atmosphere, units.Celsius(20))
	if err != nil {
		fmt.Println(err)
		return
	}
	m := 50 * f.Mass
	fmt.Printf("network %.1f kW/m, blower %.2f kW/m\n",
		float64(jet.SupplyPower(m, 7*units.BarGauge, units.Atmosphere, units.Celsius(20), 0.7))/1e3,
		float64(jet.SupplyPower(m, 0.3*units.BarGauge, units.Atmosphere, units.Celsius(20), 0.5))/1e3)
	// Output:
	// network 2.5 kW/m, blower 0.33 kW/m
}
