package charge

import (
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func pairComputations() []compute.Entry {
	entries, phis := Series(known.Quoted), WorkFunctions(known.Quoted)
	names, metals := make([]string, len(entries)), make([]string, len(phis))
	for i, e := range entries {
		names[i] = e.Name
	}
	for i, e := range phis {
		metals[i] = e.Set + " " + e.Name
	}
	material := " {" + strings.Join(names, "|") + "}: published entries"
	zou := known.Source{Provenance: known.Quoted, Cite: "H. Zou et al., Quantifying the triboelectric series, " +
		"Nat. Commun. 10 (2019) 1427, doi 10.1038/s41467-019-09461-x, Table 1",
		Via: "notes on the series, author and title not recorded"}
	return []compute.Entry{
		compute.Of12("FindSeries", func(i int) (units.SurfaceChargeDensity, error) {
			e, err := FindSeries(names[i], known.Quoted)
			return e.Density, err
		}, zou, "= Charge density against mercury, the entry of the triboelectric series.", "material"+material,
			"-> density: against mercury"),
		compute.Of21("SeriesPair", func(a, b int) PairStrength { return SeriesPair(entries[a], entries[b]) },
			derived("difference of two entries"),
			"= Relative strength of a pair, the difference of two entries over that of PTFE.", "a"+material, "b"+material,
			"-> relative: positive, a becomes positive; spread: standard deviation"),
		compute.Of31("PairStrength.FirstPositive", func(relative, spread, scatter float64) float64 {
			return PairStrength{Relative: relative, Spread: spread}.FirstPositive(scatter)
		}, known.Source{Provenance: known.CommonPractice, Note: "scatter outside the laboratory is a judgement"},
			"= Chance that the first material of a pair becomes positive on a line.",
			"relative -10…10: strength of the pair; spread 0…10: its standard deviation; "+
				"scatter 0…10=0.3: outside the laboratory -> chance: of a positive first"),
		compute.Of52("PairStrength.Calibrated", func(relative, spread, measured, logSD, reference float64) (known.Band,
			error) {
			s, err := CalibrateSeries(PairStrength{Relative: reference},
				known.Band{Value: measured, Spread: logSD, Kind: known.LogNormal})
			if err != nil {
				return known.Band{}, err
			}
			return PairStrength{Relative: relative, Spread: spread}.Calibrated(s)
		}, derived("proportion"), "= Saturation of a pair from its relative strength and a calibration with spread.",
			"relative -10…10: strength of the pair; spread 0…10: its standard deviation; "+
				"measured [C/m²] -0.1…0.1: saturation of the reference pair",
			"measured_spread 1e-6…10: standard deviation of its logarithm; "+
				"reference -10…10: relative strength of the reference pair",
			"-> value [C/m²]: median; spread: standard deviation of the logarithm; _"),
		compute.Of14("FindWorkFunction", func(i int) (v, lo, hi float64, err error) {
			e, err := FindWorkFunction(phis[i].Set, phis[i].Name, known.Quoted)
			return e.Phi.Value, e.Phi.Value - e.Phi.Spread, e.Phi.Value + e.Phi.Spread, err
		}, known.Source{Provenance: known.Quoted, Cite: "CRC Handbook of Chemistry and Physics, 2008, p. 12-124",
			Via: "Wikipedia, Work function (table of elements)", Note: "the set of Rivière was read in its abstract"},
			"= Work function of a metal in one author's set.",
			"entry {"+strings.Join(metals, "|")+"}: published entries, set and element",
			"-> value [eV]: middle; low [eV]: lower limit or value − σ; high [eV]: upper limit or value + σ"),
		compute.Of42("ContactPotential", func(a, b, da, db float64) (PairStrength, error) {
			w := func(phi, s float64) WorkFunction {
				return WorkFunction{Set: "one author", Phi: known.Band{Value: phi, Spread: s, Kind: known.Normal}}
			}
			v, err := ContactPotential(w(a, da), w(b, db))
			return PotentialPair(v), err
		}, derived("definition of the work function"),
			"= Contact potential difference (φ_b − φ_a)/e of two entries of one set, positive when a becomes positive.",
			"phi_a [eV] 0…20: of a; phi_b [eV] 0…20: of b; deviation_a [eV] 0…5: standard deviation; "+
				"deviation_b [eV] 0…5: standard deviation",
			"-> value [V]: of the pair; deviation [V]: standard deviation"),
		compute.Of31("CondenserSaturation", CondenserSaturation, derived("plate condenser, ε0·V/δ"),
			"potential -20…20: contact potential difference; cutoff 1e-10…1e-3: cut-off gap; "+
				"field -1e10…1e10: of all other charges",
			"-> saturation: σ∞"),
		compute.Of31("MetalPolymer.Saturation", MetalPolymer.Saturation, known.Source{Provenance: known.Published,
			Cite: "J. Lowell, J. Phys. D 9 (1976) 1571", Note: "abstract"},
			"single -0.1…0.1: of one contact; level 0…20: work function of no transfer; slope [F/m²] -1…1: of repeated contact",
			"phi 0…20: work function of the metal; contacts 0…1e6: beyond the first, relative -> saturation: charge density"),
	}
}
