package ionflow_test

import (
	"fmt"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// The small ions of room air at their medians, and at 1500 m where the air is thinner.
func ExampleSmallIons() {
	room := ionflow.SmallIons().At(0, 0, 0)
	high, _ := room.In(units.Celsius(20), 84.5*units.Kilopascal)
	fmt.Printf("%.2g and %.2g m²/(V·s), α %.2g m³/s\n", float64(room.Plus), float64(room.Minus), float64(room.Alpha))
	fmt.Printf("at 1500 m %.0f %% faster\n", 100*(float64(high.Plus)/float64(room.Plus)-1)) // 101.325/84.5
	lo, hi := ionflow.SmallIons().Alpha.Limits()
	fmt.Printf("α between %.2g and %.2g\n", lo, hi)
	// Output:
	// 0.00014 and 0.00017 m²/(V·s), α 1.6e-12 m³/s
	// at 1500 m 20 % faster
	// α between 1.1e-12 and 2.3e-12
}

// A body in air with 1e12 ions of the other polarity per m³ loses its charge with 0.39 s.
func ExampleFreeDecayTime() {
	lambda := ionflow.PolarConductivity(units.NumberDensity(1e12), units.Mobility(1.4e-4))
	fmt.Printf("%.2g S/m, %.2f s\n", float64(lambda), float64(ionflow.FreeDecayTime(lambda)))
	// Output: 2.2e-11 S/m, 0.39 s
}

// A round hole of 2 mm at 80 m/s: far from it the flow is 0.32·x/d times that of the hole, and the
// centre runs at twice the mean speed.
func ExampleNewJet() {
	jet, err := ionflow.NewJet(ionflow.JetSpec{Kind: ionflow.Round, Width: 2 * units.Millimetre, Speed: 80 * units.MetrePerSecond})
	if err != nil {
		fmt.Println(err)
		return
	}
	x := 200 * units.Millimetre
	fmt.Printf("Q/Q0 %.1f, centre %.1f m/s, mean %.1f m/s, age %.0f ms\n", float64(jet.Entrainment(x)), float64(jet.CentreSpeed(x)), float64(jet.MeanSpeed(x)), float64(jet.Age(x))*1e3)
	fmt.Println(jet.Validity())
	// Output:
	// Q/Q0 32.0, centre 5.0 m/s, mean 2.5 m/s, age 40 ms
	// inside the published range
}

// Isentropic flow: M = 0.5 has p/p0 = 0.8430 and A/A* = 1.3398 in
// the tables.
func ExampleIsentropicAt() {
	s := ionflow.IsentropicAt(0.5)
	fmt.Printf("%.4f %.4f\n", float64(s.Pressure), float64(s.Area))
	fmt.Printf("chokes above %.3f bar(g)\n", float64(ionflow.ChokingGauge(units.Atmosphere))/1e5)
	// Output:
	// 0.8430 1.3398
	// chokes above 0.905 bar(g)
}

// A valve of C = 1e-8 m³/(s·Pa) and b = 0.35 from 7 to 1 bar absolute is choked: 1e-8·7e5·1.185 kg/s.
func ExampleISO6358Flow() {
	m, err := ionflow.ISO6358Flow(1e-8, 0.35, 7*units.Bar, 1*units.Bar, units.Celsius(20))
	fmt.Printf("%.3f g/s %v; %.0f L/min ANR, %.0f L/min normal\n", float64(m)*1e3, err, float64(ionflow.ANR.Volume(m))*60000, float64(ionflow.Normal.Volume(m))*60000)
	// Output: 8.295 g/s <nil>; 420 L/min ANR, 385 L/min normal
}

// One stream, two plate voltages: conductivity rules at 10 V, the supply at 1000 V.
func ExamplePlateCurrent() {
	lambda, supply := units.Conductivity(2e-9), 20*units.Current(1e-9)
	for _, v := range []units.Voltage{10, 1000} {
		fmt.Printf("%.1f nA\n", float64(ionflow.PlateCurrent(v, 6*units.Picofarad, lambda, supply))*1e9)
	}
	// Output:
	// -8.1 nA
	// -19.7 nA
}

// A surplus of 5 % in air of 5 m/s offsets a surface by up to 814 V/m, whatever the density.
func ExampleOffsetField() {
	i := ionflow.Ions{Plus: 1.4e-4, Minus: 1.6e-4, Alpha: 1.6e-12}
	fmt.Printf("%.0f V/m\n", float64(ionflow.OffsetField(5*units.MetrePerSecond, 1.05e13, 1e13, i)))
	// Output: -814 V/m
}

// A 10 nm particle with one charge, and the small ion that the same formula makes too fast.
func ExampleMillikanMobility() {
	for _, d := range []units.Length{10 * units.Nanometre, 1 * units.Nanometre} {
		mu, flag := ionflow.MillikanMobility(d, units.Celsius(20), 1.013*units.Bar)
		fmt.Printf("%.2e %v\n", float64(mu), flag)
	}
	// Output:
	// 2.09e-06 inside the published range
	// 2.05e-04 below the published range
}
