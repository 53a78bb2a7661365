package plants

import (
	"testing"

	"example.org/pithball/line"
)

// TestPlants: every plant is a line that line.New takes, and its truth is what
// its kind says.
func TestPlants(t *testing.T) {
	for name, g := range Generators() {
		for _, k := range Kinds() {
			alone, readings := 0, 0
			for seed := range uint64(20) {
				c := g(k, seed)
				if _, err := line.New(c.Description); err != nil {
					t.Fatalf("%s, %v: %v", name, c, err)
				}
				if c.Truth.Alone {
					alone++
				}
				readings += len(c.Survey.Readings)
				n := len(c.Truth.Main)
				if want := map[Kind]int{Two: 2, None: 0, Unlisted: 0}; k == Two && n != 2 ||
					(k == None || k == Unlisted) && n != want[k] ||
					(k == Unlisted) != (c.Truth.After >= 0) {
					t.Errorf("%s, %v", name, c)
				}
			}
			t.Logf("%s, %s: %d of 20 alone, %d readings", name, k, alone, readings/20)
		}
	}
}

// TestSame: the same seed gives the same plant, another another.
func TestSame(t *testing.T) {
	for name, g := range Generators() {
		a, b, c := g(One, 5), g(One, 5), g(One, 6)
		if a.Survey.Readings[3] != b.Survey.Readings[3] || a.Survey.Readings[3].Value == c.Survey.Readings[3].Value {
			t.Errorf("%s does not follow its seed", name)
		}
	}
}
