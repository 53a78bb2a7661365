package registry_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/pithball/examples/registry"
	"example.org/pithball/units/compute"
)

// TestNoticesByCondition: what an entry computes or takes says which hazards it has, and it carries their notices. The
// conditions are those of the hazard, not the names in the list: compressed air where a gauge pressure goes in, ozone
// where it comes out, ignition where an energy of a spark does.
func TestNoticesByCondition(t *testing.T) {
	takes := func(names ...string) func(compute.Entry) bool {
		return func(e compute.Entry) bool {
			return slices.ContainsFunc(e.Args, func(a compute.Arg) bool { return slices.Contains(names, a.Name) })
		}
	}
	gives := func(names ...string) func(compute.Entry) bool {
		return func(e compute.Entry) bool {
			return slices.ContainsFunc(e.Results, func(r compute.Arg) bool { return slices.Contains(names, r.Name) })
		}
	}
	of := func(prefix string, but ...string) func(compute.Entry) bool {
		return func(e compute.Entry) bool {
			name, ok := strings.CutPrefix(e.Name, prefix+".")
			return ok && !slices.Contains(but, name)
		}
	}
	for _, c := range []struct {
		what  string
		when  func(compute.Entry) bool
		code  string // "": any
		least int    // as many entries raise it
	}{
		{"a gauge pressure", func(e compute.Entry) bool { return takes("gauge")(e) && !of("units")(e) }, "compressed-air", 3},
		{"a source of ions", of("ioniser", "GapOf", "Shown"), "ioniser-in-zone", 15},
		{"a powered source", of("ioniser", "GapOf", "Shown", "Passive"), "high-voltage", 15},
		{"ozone", gives("ozone"), "ozone", 1},
		{"passive points", func(e compute.Entry) bool { return e.Name == "ioniser.Passive" }, "isolated-conductor", 1},
		{"a spark", gives("spark", "sparks", "spark_every"), "", 3},
		{"a spark's energy", func(e compute.Entry) bool {
			return (of("hazard")(e) || of("charge")(e)) &&
				slices.ContainsFunc(e.Results, func(r compute.Arg) bool { return r.Unit == "J" })
		}, "", 4},
		{"a hazard", of("hazard"), "", 10},
		{"a reading at a running line", of("survey"), "reach-in", 1},
	} {
		n := 0
		for _, e := range registry.All() {
			if !c.when(e) {
				continue
			}
			n++
			if len(e.Notices) == 0 || c.code != "" && !slices.Contains(e.Notices, c.code) {
				t.Errorf("%s: %s, but the notices are %q, without %q", e.Name, c.what, e.Notices, c.code)
			}
		}
		if n < c.least {
			t.Errorf("%s: only %d entries", c.what, n)
		}
	}
}
