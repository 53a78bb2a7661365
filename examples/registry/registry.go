// Package registry joins the public computations of all packages for the
// programs that call them by name: the scoreboard and the notebook's server.
package registry

import (
	_ "embed"
	"slices"
	"strings"
	"sync"

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

//go:generate go run ./testdata/names names.txt

// shelf is the list of one package, put together when somebody asks for it: that takes milliseconds.
type shelf struct {
	name string
	make func() []compute.Entry
	once sync.Once
	list []compute.Entry
}

func (s *shelf) entries() []compute.Entry {
	s.once.Do(func() { s.list = s.make() })
	return s.list
}

var shelves = [...]*shelf{
	{name: "units", make: units.Computations},
	{name: "humidity", make: humidity.Computations},
	{name: "charge", make: charge.Computations},
	{name: "field", make: field.Computations},
	{name: "gas", make: gas.Computations},
	{name: "hazard", make: hazard.Computations},
	{name: "decay", make: decay.Computations},
	{name: "sheet", make: sheet.Computations},
	{name: "ionflow", make: ionflow.Computations},
	{name: "ioniser", make: ioniser.Computations},
	{name: "jet", make: jet.Computations},
	{name: "transport", make: transport.Computations},
	{name: "line", make: line.Computations},
	{name: "survey", make: survey.Computations},
	{name: "cure", make: cure.Computations},
	{name: "upkeep", make: upkeep.Computations},
	{name: "ensemble", make: ensemble.Computations},
}

// All returns every public computation of the library.
func All() []compute.Entry {
	var all []compute.Entry
	for _, s := range shelves {
		all = append(all, s.entries()...)
	}
	return all
}

//go:embed names.txt
var names string

// Names returns the names of [All], in its order, without putting one entry together.
func Names() []string { return strings.Fields(names) }

// Find returns the computation of that name, nil if there is none, and puts together the list of its package only.
func Find(name string) *compute.Entry {
	room, _, _ := strings.Cut(name, ".")
	i := slices.IndexFunc(shelves[:], func(s *shelf) bool { return s.name == room })
	if i < 0 {
		return nil
	}
	return compute.Find(shelves[i].entries(), name)
}
