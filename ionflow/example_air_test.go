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
