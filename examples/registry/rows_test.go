package registry_test

import (
	"testing"

	"example.org/pithball/examples/registry"
	"example.org/pithball/testdata"
)

// TestRows runs every row of every file of testdata through the registry: a row
// whose computation, argument or result is not there fails, so that none is lost
// when computations move.
func TestRows(t *testing.T) {
	list := registry.All()
	for _, set := range testdata.Packages() {
		rows, err := testdata.Rows(set)
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) == 0 {
			t.Errorf("testdata/%s.json has no rows", set)
		}
		for i := range rows {
			o := rows[i].Evaluate(list)
			if err := o.Fault(); err != nil {
				t.Errorf("%s: %v", set, err)
			}
		}
	}
}
