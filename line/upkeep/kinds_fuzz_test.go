package upkeep_test

import (
	"testing"

	"example.org/pithball/line/upkeep"
)

// FuzzKinds: an answer about the site is read to what prints the same, nothing for no answer, and a refusal leaves the
// value: no text turns one zone into another.
func FuzzKinds(f *testing.F) {
	for _, s := range []string{"", "none", "1", "zone 1", "20", "0", "solvent", "Zone(1)", " none"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		z, l := upkeep.NoZone, upkeep.NoFlammables
		if err := z.UnmarshalText([]byte(s)); err != nil && z != upkeep.NoZone ||
			err == nil && z != upkeep.UnknownZone && z.String() != s || err == nil && z == upkeep.UnknownZone && s != "" {
			t.Fatalf("zone %q gives %v, %v", s, z, err)
		}
		if err := l.UnmarshalText([]byte(s)); err != nil && l != upkeep.NoFlammables || err == nil && s != "" &&
			l.String() != s {
			t.Fatalf("flammables %q gives %v, %v", s, l, err)
		}
	})
}
