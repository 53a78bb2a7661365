package written

import (
	"fmt"
	"math"

	"example.org/pithball/units"
)

// EveryDays says how often in whole days, rounded down: every day at most and once a year at least, since what a
// few months have shown foretells no more.
func EveryDays(every units.Time) string {
	switch days := math.Floor(float64(every) / float64(units.Day)); {
	case !(days > 1):
		return "every day"
	case days < 365:
		return fmt.Sprintf("every %.0f days", days)
	}
	return "once a year"
}
