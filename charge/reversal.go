package charge

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units/known"
)

// Reversal is evidence that the sign of a contact can turn.
type Reversal struct {
	Cause  string       // what turned it
	Pair   string       // on which materials it was seen
	Seen   string       // what was seen
	Source known.Source // where
}

var reversals = [...]Reversal{
	{"material transfer", "polymers, polystyrene and PTFE among them",
		"minute amounts of one material left on the other reverse its polarity; soft on hard",
		known.Source{Provenance: known.Published,
			Cite: "H. T. Baytekin, B. Baytekin, J. T. Incorvati, B. A. Grzybowski, Material Transfer and Polarity Reversal " +
				"in Contact Charging, " +
				"Angew. Chem. Int. Ed. 51 (2012) 4843", Note: "abstract read"}},
	{"strain", "rubber balloon on PTFE", "PTFE becomes positive against the relaxed balloon and negative against the " +
		"inflated one",
		known.Source{Provenance: known.Published,
			Cite: "M. Sow, R. Widenor, A. Kumar, S. W. Lee, D. J. Lacks, R. M. Sankaran, Strain-Induced Reversal of Charge " +
				"Transfer in Contact " +
				"Electrification, Angew. Chem. Int. Ed. (2012) 2695", Note: "abstract read"}},
	{"surface shape", "polyethylene particles",
		"rounder and smoother particles charge positive, and the place in a series moves with it",
		known.Source{Provenance: known.Published,
			Cite: "Contact electrification polarity of polyethylene particles: a morphology-derived anomalous size dependence",
			Note: "abstract read"}},
	{"charge and field before, with humidity", "identical insulators",
		"a field that is there already sets the sign; water adsorbed from humid air carries it",
		known.Source{Provenance: known.Published,
			Cite: "Y. Zhang, T. Pähtz et al., Electric Field and Humidity Trigger Contact Electrification, Phys. Rev. X 5 " +
				"(2015) 011002", Note: "abstract read"}},
	{"both signs at once", "silicone rubber peeled from acrylic",
		"maps show patches up to 72 … 95 µC/m² where the mean is 12 … 47: a change of the mean can look like a turn",
		known.Source{Provenance: known.Published,
			Cite: "Y. I. Sobolev, W. Adamkiewicz, M. Siek, B. A. Grzybowski, Nature Physics (2022), data behind fig. 3b"}},
	{"additives and grade", "acetal", "two grades stand 128 µC/m² apart in one series, on both sides of zero",
		known.Source{Provenance: known.Memory, Cite: "H. Zou et al., Nat. Commun. 10 (2019) 1427",
			Note: "not compared with the source"}},
}

// Reversals returns the evidence that the sign of a contact can turn; the rows are a
// copy. None gives a humidity or an amount of dirt at which a pair turns: where a
// sign changes on a line, look for what changed (a new lot, dirt or wear on the
// roller, an antistatic agent, silicone or slip agent carried over, tension, an
// ioniser or charged cover upstream), clean and measure again. Humidity by
// itself was seen to change how much is made, and to let charge that is there
// set the sign.
func Reversals() []Reversal { return append([]Reversal(nil), reversals[:]...) }

// SeriesScatter is how far entries of a triboelectric series move, as a standard
// deviation in units of the entry of PTFE, with lot, dirt, humidity and wear on a
// line: a judgement, no source. [1]
const SeriesScatter = 0.3

// FirstPositive returns the chance that the first material of the pair becomes
// positive on a line, Φ(Relative/√(Spread² + scatter²)): scatter is how far pairs
// move outside the laboratory, in the unit of Relative ([SeriesScatter]). A pair
// between 0.1 and 0.9 has no sign to rely on. NaN for a negative scatter; without
// any spread 0, ½ or 1.
func (p PairStrength) FirstPositive(scatter float64) float64 { // scatter [1] → [1]
	s := math.Hypot(p.Spread, scatter)
	if !(scatter >= 0) || math.IsNaN(p.Relative) {
		return math.NaN()
	}
	if s == 0 {
		switch {
		case p.Relative > 0:
			return 1
		case p.Relative < 0:
			return 0
		}
		return 0.5
	}
	return 0.5 * numeric.Erfc(-p.Relative/(s*math.Sqrt2))
}
