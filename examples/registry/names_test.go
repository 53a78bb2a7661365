package registry_test

import (
	"slices"
	"testing"

	"example.org/pithball/examples/registry"
)

// TestNames: the names that are told without putting any list together are those of all lists, and each is found.
func TestNames(t *testing.T) {
	var want []string
	for _, e := range registry.All() {
		want = append(want, e.Name)
		if got := registry.Find(e.Name); got == nil || got.Name != e.Name {
			t.Errorf("%s is not found", e.Name)
		}
	}
	if got := registry.Names(); !slices.Equal(got, want) {
		t.Error("names.txt is old: go generate ./examples/registry")
	}
	for _, name := range []string{"", "units", "units.", "none.Such", "charge.field.FieldFactor"} {
		if registry.Find(name) != nil {
			t.Errorf("%q is found", name)
		}
	}
}
