package gas

import (
	"embed"

	"example.org/pithball/internal/table"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// The table that the package ships. Each row has its source, its provenance, the
// condition it was measured under and a note on the licence of the work.
//
//go:embed data/*.json
var dataFiles embed.FS

var sparkingTable = table.File[SparkingMinimum]{Files: &dataFiles, Name: "sparking.json"}

// SparkingMinimum is the least breakdown voltage of a gas.
type SparkingMinimum struct {
	Name    string        `json:"name"`    // "air" or the formula of the gas
	Voltage units.Voltage `json:"voltage"` // least breakdown voltage
	PD      float64       `json:"pd"`      // [Pa·m] pressure times gap at which it is met
	known.Origin
}

// FindSparkingMinimum returns the least breakdown voltage of a gas. A row that
// rests on less than weight is refused: with [known.Memory] the caller asks for
// values that were not compared with their source, by name.
func FindSparkingMinimum(gas string, weight known.Provenance) (SparkingMinimum, error) {
	return table.Find("gas", sparkingTable.Rows(), func(e *SparkingMinimum) (string, *known.Origin) {
		return e.Name, &e.Origin
	}, gas, weight)
}
