package charge

import (
	"example.org/pithball/internal/table"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

var sparkingTable = table.Load[SparkingMinimum](dataFiles, "sparking.json")

// SparkingMinimum is the least breakdown voltage of a gas.
type SparkingMinimum struct {
	Name    string        `json:"name"`    // "air" or the formula of the gas
	Voltage units.Voltage `json:"voltage"` // least breakdown voltage
	PD      float64       `json:"pd"`      // [Pa·m] pressure times gap at which it is met
	known.Origin
}

// FindSparkingMinimum returns the least breakdown voltage of a gas; see
// [FindSeries] for weight.
func FindSparkingMinimum(gas string, weight known.Provenance) (SparkingMinimum, error) {
	return table.Find("gas", sparkingTable(), func(e *SparkingMinimum) (string, *known.Origin) { return e.Name, &e.Origin }, gas, weight)
}
