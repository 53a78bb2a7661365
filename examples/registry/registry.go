// Package registry joins the public computations of all packages for the
// programs that call them by name: the scoreboard and the notebook's server.
package registry

import (
	_ "embed"
	"slices"
	"strings"

	"example.org/pithball/charge"
	"example.org/pithball/charge/field"
	"example.org/pithball/charge/gas"
	"example.org/pithball/charge/hazard"
	"example.org/pithball/decay"
	"example.org/pithball/decay/sheet"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/lazy"
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
	list listed
}

type listed = lazy.Value[[]compute.Entry]

var shelves = [...]*shelf{
	{name: "units", list: listed{Make: units.Computations}},
	{name: "humidity", list: listed{Make: humidity.Computations}},
	{name: "charge", list: listed{Make: charge.Computations}},
	{name: "field", list: listed{Make: field.Computations}},
	{name: "gas", list: listed{Make: gas.Computations}},
	{name: "hazard", list: listed{Make: hazard.Computations}},
	{name: "decay", list: listed{Make: decay.Computations}},
	{name: "sheet", list: listed{Make: sheet.Computations}},
	{name: "ionflow", list: listed{Make: ionflow.Computations}},
	{name: "ioniser", list: listed{Make: ioniser.Computations}},
	{name: "jet", list: listed{Make: jet.Computations}},
	{name: "transport", list: listed{Make: transport.Computations}},
	{name: "line", list: listed{Make: line.Computations}},
	{name: "survey", list: listed{Make: survey.Computations}},
	{name: "cure", list: listed{Make: cure.Computations}},
	{name: "upkeep", list: listed{Make: upkeep.Computations}},
	{name: "ensemble", list: listed{Make: ensemble.Computations}},
}

// All returns every public computation of the library.
func All() []compute.Entry {
	var all []compute.Entry
	for _, s := range shelves {
		all = append(all, s.list.Get()...)
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
	return compute.Find(shelves[i].list.Get(), name)
}
