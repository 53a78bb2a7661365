package sheet_test

import (
	"fmt"

	"example.org/pithball/decay/sheet"
	"example.org/pithball/units"
)

// A researcher's first question: is a decay test on a metal plate any guide to
// the free span? Sideways decay of a 50 mm pattern on a 50 µm film, on the plate
// and in air: the plate slows it 180 times.
func ExampleNewSheet() {
	spec := sheet.SheetSpec{Thickness: 50 * units.Micrometre, RelativePermittivity: 2.25, SurfaceResistivity: 1e11}
	plate, err := sheet.NewSheet(spec)
	if err != nil {
		fmt.Println(err)
		return
	}
	spec.Support = sheet.FreeSpan
	span, err := sheet.NewSheet(spec)
	if err != nil {
		fmt.Println(err)
		return
	}
	const lambda = 50 * units.Millimetre
	fmt.Printf("on the plate %.2f s, in the span %.4f s\n",
		float64(plate.TimeConstant(lambda)), float64(span.TimeConstant(lambda)))
	fmt.Println("net charge in the span decays:", span.Decays())
	// Output:
	// on the plate 2.53 s, in the span 0.0142 s
	// net charge in the span decays: false
}

func ExampleSpreadingSpeed() {
	for _, rho := range []units.SheetResistance{1e10, 1e12, 1e14} {
		fmt.Printf("%.0e Ω: %.3g m/s\n", float64(rho), float64(sheet.SpreadingSpeed(rho)))
	}
	// Output:
	// 1e+10 Ω: 5.65 m/s
	// 1e+12 Ω: 0.0565 m/s
	// 1e+14 Ω: 0.000565 m/s
}

// There is no threshold at v_s = U: a slower spreading web still carries part
// of a deposit back.
func ExampleUpWebShare() {
	for _, vs := range []units.Speed{0.1, 1, 2} {
		fmt.Printf("v_s/U = %g: %.1f %% up-web\n", float64(vs), 100*sheet.UpWebShare(vs, 1))
	}
	// Output:
	// v_s/U = 0.1: 3.2 % up-web
	// v_s/U = 1: 25.0 % up-web
	// v_s/U = 2: 35.2 % up-web
}
