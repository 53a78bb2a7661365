package ionflow

import (
	"math"
	"testing"

	"example.org/pithball/ionflow/jet"
)

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.10g, want %.10g within %g", what, got, want, rel)
	}
}

func mustJet(t testing.TB, s jet.JetSpec) jet.Jet {
	t.Helper()
	j, err := jet.NewJet(s)
	if err != nil {
		t.Fatal(err)
	}
	return j
}
