package hazard

import (
	"example.org/pithball/internal/table"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Floor is a floor with the range of its leakage resistance: with the footwear
// it is what lies between a person and earth.
type Floor struct {
	Name string           `json:"name"` // lower case
	Low  units.Resistance `json:"low"`  // least of the range, 0 where the source prints "far below" High
	High units.Resistance `json:"high"` // greatest: the one to judge by
	known.Origin
}

var floors = table.File[Floor]{Files: &dataFiles, Name: "floor.json"}

// Floors returns the table of leakage resistances of floors; the rows are a copy.
// Dirt, wear, wax and dry air raise them: measure the floor in hand.
func Floors() []Floor { return append([]Floor(nil), floors.Rows()...) }

// FindFloor returns the row of that name, letter case aside, or a
// [*known.FieldError] that lists the names.
func FindFloor(name string) (Floor, error) {
	return table.Find("floor", floors.Rows(), func(f *Floor) (string, *known.Origin) {
		return f.Name, &f.Origin
	}, name, known.Memory)
}
