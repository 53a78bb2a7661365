package written

import (
	"fmt"
	"strings"

	"example.org/pithball/units"
)

// Degrees is a temperature in °C for a sentence, to a tenth and with a true minus sign.
func Degrees(t units.Temperature) string {
	return strings.Replace(fmt.Sprintf("%.1f °C", float64(t)-273.15), "-", "−", 1)
}
