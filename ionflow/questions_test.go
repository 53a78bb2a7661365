package ionflow_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// ozone is the share [1e-6] in a hall with a fresh air [m³/h] from a corona current [µA] of a yield [mg/C].
func ozone(current, yield, fresh float64) float64 {
	m := ionflow.OzoneRate(units.Current(current*1e-6), yield*1e-6)
	return 1e6 * float64(ionflow.OzoneConcentration(m, units.VolumeFlow(fresh/3600), units.Celsius(25), units.Atmosphere))
}

// Question 41: ozone in the hall? A bar of 375 µA, 4000 m³/h; the yield of 5 mg/C is
// invented: ask for a measured one, which is known to a factor of two or worse.
func Example_question41() {
	fmt.Printf("%.2g ppm (%.2g … %.2g) in well-mixed air, of a limit of 0.1 ppm; not what stands beside the bar\n",
		ozone(375, 5, 4000), ozone(375, 2.5, 4000), ozone(375, 10, 4000))
	// Output: 0.00086 ppm (0.00043 … 0.0017) in well-mixed air, of a limit of 0.1 ppm; not what stands beside the bar
}

// 375 µA·5 mg/C·3600 s = 6.75 mg/h in 4000 m³/h are 1.6875 µg/m³, times 24.45/48 0.00085957 ppm.
func TestQuestion41(t *testing.T) {
	if got := ozone(375, 5, 4000); !(math.Abs(got/0.00085957-1) <= 0.01) {
		t.Errorf("%g ppm", got)
	}
	if !(ozone(375, 5, 2000) > ozone(375, 5, 4000) && ozone(750, 5, 4000) > ozone(375, 5, 4000)) {
		t.Error("less air or more current does not make more ozone")
	}
}
