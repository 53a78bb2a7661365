package line

import (
	"math"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/units/known"
)

// TestShareLawAtItsEdges: a bar without data at exactly its supply gives by its conductivity, and beyond it by the
// supply; what it sees at exactly its onset draws nothing; a share found there fits no strength, and a supply that is
// a hundredth over what was found stays.
func TestShareLawAtItsEdges(t *testing.T) {
	full := -math.Expm1(-1) // of 1 C/m² at factor and strength 1 and 1 m/s
	for _, c := range []struct {
		supply, want float64
		regime       ionflow.Regime
	}{{full, -full, ionflow.ConductivityLimited}, {full / 2, -full / 2, ionflow.SupplyLimited}} {
		s := shareLaw{factor: 1, strength: 1, supply: c.supply}
		if got, r, _ := s.act(1, 1); got != c.want || r != c.regime {
			t.Errorf("supply %v: %v by %v", c.supply, got, r)
		}
	}
	s := shareLaw{factor: 1, strength: 1, supply: 1, onset: 0.5}
	if got, r, f := s.act(0.5, 1); got != 0 || r != ionflow.BelowOnset || f != known.Estimate {
		t.Errorf("at the onset %v by %v", got, r)
	}
	if got, r, _ := s.act(-0.75, 1); !(math.Abs(got-0.25*full) <= 1e-15) || r != ionflow.ConductivityLimited {
		t.Errorf("a quarter beyond the onset %v by %v", got, r)
	}
	s.fit(0.5, 0.5, 1)
	if s.strength != 0 {
		t.Errorf("at the onset a strength of %v", s.strength)
	}
	s = shareLaw{factor: 1, supply: 1.01}
	if s.fit(2, 0.5, 1); s.supply != 1.01 || !(math.Abs(s.strength-math.Ln2) <= 1e-15) {
		t.Errorf("half of 2 C/m² taken: supply %v, strength %v, by hand ln 2", s.supply, s.strength)
	}
	s = shareLaw{factor: 1, supply: 1}
	if s.fit(2, 0.5, 1); s.supply != 2 {
		t.Errorf("half of 2 C/m² taken with a supply of 1 A/m at 1 m/s: %v, by hand 2", s.supply)
	}
}

// TestBandOverItsRange: 5 to 95 % may fill the range and no more.
func TestBandOverItsRange(t *testing.T) {
	b := known.Band{Value: 2, Spread: 3, Kind: known.Normal}
	if err := banded("x", b, 1, 4); err != nil {
		t.Error(err)
	}
	b.Spread = math.Nextafter(3, 4)
	if banded("x", b, 1, 4) == nil {
		t.Error("wider than its range and accepted")
	}
}
