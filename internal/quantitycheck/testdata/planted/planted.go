// Package planted misuses quantities: a line with "want rule" is a planted
// fault, all others are right.
package planted

import (
	"math"
	"strconv"
	"strings"

	"example.org/pithball/units"
)

const three = 3

type box struct{ side units.Length }

func use(units.Length, ...units.Voltage) {}

func faults(a, b units.Length, t, u units.Temperature, e units.ElectricField) (units.Length, bool) {
	_ = a * b                    // want product
	_ = units.Length(2) * b      // want product
	_ = (a) / (b)                // want quotient
	_ = 1 / a                    // want quotient
	a *= b                       // want product
	a /= b                       // want quotient
	a += 3                       // want literal
	use(0.025)                   // want literal
	use(-25e-3, 3)               // want literal literal
	use(2 + 3)                   // want literal
	use(three)                   // want literal
	use((2 + 3) * three)         // want literal
	_ = box{0.3}                 // want literal
	_ = box{side: +0.3}          // want literal
	_ = []units.Voltage{1, 0}    // want literal
	_ = a > 5                    // want literal
	_ = a + 1e-3                 // want literal
	var c units.Length = 7       // want literal
	const d units.Voltage = 8e3  // want literal
	_ = units.Angle(1) + math.Pi // want literal
	_ = t + u                    // want temperature
	t -= u                       // want temperature
	_ = max(a, 3)                // want literal
	_, _ = c, d
	_, _ = strconv.Atoi("4") // want dropped
	_ = error(nil)           // want dropped
	n, _ := strings.CutSuffix("a", "b")
	_, err := strconv.Atoi(n)
	_ = err == nil
	return 4, a == b // want literal
}

func right(a, b units.Length, t, u units.Temperature, r units.Ratio, x float64) units.Length {
	use(0)
	use(3*units.Inch, 4*units.Kilovolt)
	use(units.Length(3), units.Voltage(x))
	use(units.Inch*three + a - b)
	_ = float64(a) * float64(b)
	_ = float64(a) / float64(b)
	_ = r * r / (r + r)
	_ = a/2 + 2*b*math.Pi
	a *= 2
	a /= three
	_ = -a > 0 && t < u && t >= 0
	_ = t.Sub(u)
	const w = 25 * units.Millimetre
	var f float64 = 3
	_ = x*f + 3
	return w
}
