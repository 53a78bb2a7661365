package structure_test

import (
	"go/types"
	"slices"
	"strings"
	"testing"
)

// twice lists the type names that two packages have, with what each means. No two of them
// are one thing, and a value of one cannot become the other.
var twice = map[string]string{
	"Constant": "decay: charge that does not leak; humidity: a resistivity that moisture leaves as it is",
	"Contact":  "charge: two bodies that touch; line/ensemble: a station that takes a face towards its saturation",
	"Fit":      "decay: a law fitted to one record; line/ensemble: saturations fitted to surveys of a line",
	"FitSettings": "decay: of records in time; humidity: of points against humidity; each package owns its fit, and the " +
		"ladder keeps them from sharing one",
	"Goods": "humidity: a pile or roll from the store that has to warm; " +
		"line/cure: what moves on a line that has no web",
	"Law":      "decay: charge against time; humidity: a resistivity against the air; units/lawtest: a property to check",
	"Place":    "charge: where a face parts from its partner; ionflow/ioniser: a source before a web and its metal",
	"Quantity": "units: the constraint of all quantities; line: what a reading reads, by the word of the survey's column",
	"Result":   "ionflow/ioniser: of one pass of a source; line: the web as it leaves a station",
	"Source":   "units/known: where a value was found; ionflow/ioniser: what makes ions",
	"Spec":     "what the one constructor of ionflow/ioniser takes, and that of line/ensemble",
	"Step":     "line/cure: the place of a change in the order of cures; line/ensemble: one thing that happens to the web",
	"Web":      "ionflow/ioniser: what passes a source; line: the material of a description",
}

// TestNamesMeanOneThing: two packages of the library share the name of an exported type
// only where the list says what each means, and never that of an enumeration, because Go
// converts one small integer into another. A kit names its models and inputs as the
// package that it tests.
func TestNamesMeanOneThing(t *testing.T) {
	rooms, enumerations := map[string][]string{}, map[string]int{}
	for _, p := range packages(t) {
		if strings.Contains("/"+p.dir+"/", "/internal/") || strings.HasPrefix(p.dir, "examples") ||
			strings.HasSuffix(p.dir, "test") && p.dir != "units/lawtest" {
			continue
		}
		for _, name := range p.pkg.Scope().Names() {
			o, ok := p.pkg.Scope().Lookup(name).(*types.TypeName)
			if !ok || !o.Exported() {
				continue
			}
			rooms[name] = append(rooms[name], p.dir)
			if b, ok := o.Type().Underlying().(*types.Basic); ok && b.Info()&types.IsInteger != 0 {
				enumerations[name]++
			}
		}
	}
	if len(rooms) < 300 || len(enumerations) < 50 {
		t.Errorf("only %d types and %d enumerations found: the search is broken", len(rooms), len(enumerations))
	}
	for name, dirs := range rooms {
		slices.Sort(dirs)
		switch says := twice[name]; {
		case len(dirs) > 1 && enumerations[name] > 1:
			t.Errorf("enumerations named %s in %v: a value of one converts into the other", name, dirs)
		case len(dirs) > 1 && says == "":
			t.Errorf("%s is a type in %v: is it one thing? Say what each means", name, dirs)
		case len(dirs) == 1 && says != "":
			t.Errorf("%s is listed as a type of two packages, but stands in %v only", name, dirs)
		}
	}
	for name := range twice {
		if rooms[name] == nil {
			t.Errorf("%s is listed, but is no type", name)
		}
	}
}
