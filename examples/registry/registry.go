// Package registry joins the public computations of all packages for the
// programs that call them by name: the scoreboard and the notebook's server.
package registry

import (
	"slices"

	"example.org/pithball/charge"
	"example.org/pithball/charge/field"
	"example.org/pithball/charge/gas"
	"example.org/pithball/charge/hazard"
	"example.org/pithball/decay"
	"example.org/pithball/decay/sheet"
	"example.org/pithball/humidity"
	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/ioniser"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/ionflow/transport"
	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/ensemble"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
)

// All returns every public computation of the library.
func All() []compute.Entry {
	return slices.Concat(units.Computations(), humidity.Computations(), charge.Computations(), field.Computations(),
		gas.Computations(),
		hazard.Computations(), decay.Computations(), sheet.Computations(), ionflow.Computations(), ioniser.Computations(),
		jet.Computations(),
		transport.Computations(), line.Computations(), survey.Computations(), cure.Computations(), upkeep.Computations(),
		ensemble.Computations())
}
