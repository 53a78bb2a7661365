package decay_test

import (
	"testing"

	"example.org/pithball/decay"
)

// FuzzModelName: a name that is read is the name of that model, and a refusal leaves the value.
func FuzzModelName(f *testing.F) {
	for _, m := range decay.AllModels() {
		f.Add(m.String())
	}
	f.Add("")
	f.Add("Exponential ")
	f.Fuzz(func(t *testing.T, s string) {
		m := decay.AllModels()[1]
		if err := m.UnmarshalText([]byte(s)); err == nil && m.String() != s || err != nil && m != decay.AllModels()[1] {
			t.Fatalf("%q gives %v, %v", s, m, err)
		}
	})
}
