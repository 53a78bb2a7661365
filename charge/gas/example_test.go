package gas_test

import (
	"fmt"

	"example.org/pithball/charge/gas"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// 24.22·1 + 6.08·√1 = 30.3 kV at 1 cm. Below 17 µm no gap breaks down under
// 327 V.
func ExampleBreakdownVoltage() {
	for _, gap := range []units.Length{12 * units.Micrometre, units.Millimetre, units.Centimetre} {
		v, flag := gas.BreakdownVoltage(gap, 1)
		fmt.Printf("%v: %.0f V, %v\n", gap, float64(v), flag)
	}
	// Output:
	// 12 µm: 327 V, inside the published range
	// 1 mm: 4345 V, inside the published range
	// 10 mm: 30300 V, inside the published range
}

// Where nine of ten measured voltages lie at 50 µm, and their median: the law's
// 552 V is low there.
func ExampleBreakdownLimits() {
	v, _ := gas.BreakdownVoltage(50*units.Micrometre, 1)
	lo, mid, hi := gas.BreakdownLimits(50*units.Micrometre, 1)
	fmt.Printf("%.0f V; %.0f … %.0f … %.0f V\n", float64(v), float64(lo), float64(mid), float64(hi))
	// Output: 552 V; 513 … 668 … 811 V
}

// 15 g/m³ of water vapour strengthen a gap of 1 cm by (1 + 0.00225·15)/(1 +
// 0.00225·8.5): 1.4 %. Humidity acts on surfaces, hardly on the gas.
func ExampleHumidityFactor() {
	k, flag := gas.HumidityFactor(units.Centimetre, 0.015)
	fmt.Printf("%.3f, %v\n", k, flag)
	// Output: 1.014, inside the published range
}

// One set of Paschen constants: near the minimum 7 % below what is measured, at
// 1 cm (1013 Pa·m) 17 % above.
func ExamplePaschen() {
	p, err := gas.NewPaschen(gas.AirPaschen())
	if err != nil {
		fmt.Println(err)
		return
	}
	v, _ := p.Minimum()
	cm, flag := p.Voltage(1013.25)
	fmt.Printf("minimum %.0f V; 1 cm %.1f kV, %v\n", float64(v), float64(cm)/1e3, flag)
	none, _ := p.Voltage(0.4)
	fmt.Println("left of the singularity:", float64(none))
	// Output:
	// minimum 305 V; 1 cm 35.5 kV, above the published range
	// left of the singularity: +Inf
}

// A gas of half the B keeps half the charge.
func ExamplePaschen_CapBacked() {
	s := gas.AirPaschen()
	for range 2 {
		p, err := gas.NewPaschen(s)
		if err != nil {
			fmt.Println(err)
			return
		}
		c, _, _ := p.CapBacked(100*units.Micrometre, 3.2, units.Atmosphere)
		fmt.Printf("%.0f µC/m²\n", float64(c)*1e6)
		s.B /= 2
	}
	// Output:
	// 240 µC/m²
	// 120 µC/m²
}

// ε0·30.3 kV/1 cm = 26.8 µC/m² when all the field goes one way, twice that when
// it leaves both faces alike.
func ExampleCapFreeWeb() {
	one, _ := gas.CapFreeWeb(1, units.Centimetre, 1)
	two, _ := gas.CapFreeWeb(2, units.Centimetre, 1)
	fmt.Printf("%.1f and %.1f µC/m²\n", float64(one)*1e6, float64(two)*1e6)
	// Output: 26.8 and 53.7 µC/m²
}

// The conventional figure, ε0·3 MV/m.
func ExampleCapUniform() {
	fmt.Printf("%.2f µC/m²\n", float64(gas.CapUniform(1, gas.AirStrength))*1e6)
	// Output: 26.56 µC/m²
}

// A film on earthed metal keeps ten times more than a free web: the field of its
// charge goes into the film.
func ExampleCapBacked() {
	for _, t := range []units.Length{25, 50, 100} {
		s, gap, _ := gas.CapBacked(t*1e-6, 3.2, 1)
		fmt.Printf("%.0f µm: %.0f µC/m² (breaks down at %.0f µm)\n", float64(t), float64(s)*1e6, float64(gap)*1e6)
	}
	// Output:
	// 25 µm: 544 µC/m² (breaks down at 17 µm)
	// 50 µm: 349 µC/m² (breaks down at 22 µm)
	// 100 µm: 240 µC/m² (breaks down at 31 µm)
}

// Columns of films; a bad row is NaN and named.
func ExampleCapBackedTo() {
	thickness := []units.Length{25 * units.Micrometre, -1}
	cap, gap := make([]units.SurfaceChargeDensity, 2), make([]units.Length, 2)
	err := gas.CapBackedTo(cap, gap, thickness, []float64{3.2, 3.2}, 1)
	fmt.Printf("%.0f µC/m², %g\n", float64(cap[0])*1e6, float64(cap[1]))
	fmt.Println(err)
	// Output:
	// 544 µC/m², NaN
	// thickness[1]: -1 m: want more than 0 and finite
}

// ε0·2.3·20 MV/m for polyethylene in bulk.
func ExampleCapBulk() {
	fmt.Printf("%.0f µC/m²\n", float64(gas.CapBulk(2.3, 20e6))*1e6)
	// Output: 407 µC/m²
}

// A metal sphere of 3 mm that leaves a plane keeps C(16.7 µm)·327 V =
// 0.532 pF · 327 V, whatever the contact had made.
func ExampleCapSphere() {
	q, gap, _ := gas.CapSphere(1.5*units.Millimetre, 1)
	fmt.Printf("%.0f pC, last discharge at %.1f µm\n", float64(q)*1e12, float64(gap)*1e6)
	// Output: 174 pC, last discharge at 16.7 µm
}

// The least voltage at which air breaks down.
func ExampleFindSparkingMinimum() {
	m, err := gas.FindSparkingMinimum("air", known.Quoted)
	fmt.Println(m.Voltage, err)
	// Output: 327 V <nil>
}
