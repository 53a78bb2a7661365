package written

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/pithball/units"
)

// Degrees is a temperature in °C for a sentence, to a tenth and with a true minus sign.
func Degrees(t units.Temperature) string {
	c := math.Round(10*(float64(t)-273.15))/10 + 0 // a tenth of nothing has no sign
	return strings.Replace(fmt.Sprintf("%.1f °C", c), "-", "−", 1)
}

// Figures writes a quantity with two figures, in the unit that its size asks for.
func Figures[T units.Quantity](q T) string {
	x, err := strconv.ParseFloat(strconv.FormatFloat(float64(q), 'e', 1, 64), 64)
	if err != nil {
		return fmt.Sprint(q)
	}
	return fmt.Sprint(T(x))
}
