package units

import (
	_ "embed" // for the sentences
	"slices"
	"strconv"
	"strings"

	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// exactFactors is the source of every factor of the table.
var exactFactors = known.Source{Provenance: known.Definition,
	Cite: "A. Thompson, B. N. Taylor, Guide for the Use of the International System of Units, NIST SP 811:2008, " +
		"appendix B",
	Note: "1 in = 25.4 mm, 1 lb = 0.45359237 kg, g0 = 9.80665 m/s², 1 atm = 101325 Pa; factors exact by these"}

var idealGas = known.Source{Provenance: known.Computed, Cite: "ideal gas law with R = k·N_A, exact since 2019"}

const huge = " -1e250…1e250" // range of arguments that know no other

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper: a conversion for each type ("units.ConvertLength"),
// the relations between quantities, and the constants.
func Computations() []compute.Entry {
	return compute.List("units", sentences,
		slices.Concat(conversions(), []compute.Entry{convertStandardFlow()}, relations(), flowComputations(),
			constantComputations()))
}

// choices lists the units of a kind as an item of a declaration does.
func choices(k *kind) string {
	var out []string
	for i := range k.units {
		s := k.units[i].symbol
		if s == "" {
			s = "1"
		}
		out = append(out, s)
	}
	return "{" + strings.Join(out, "|") + "}"
}

// convert is the conversion of one type: the text "value from" is parsed, and
// what it means is expressed in the other unit.
func convert[T Quantity]() compute.Entry {
	var z T
	k := z.kind()
	return compute.Of33("Convert"+k.goType(), func(x float64, from, to int) (value, of float64, err error) {
		f, t := k.units[from].symbol, k.units[to].symbol
		q, err := Parse[T](strconv.FormatFloat(x, 'e', -1, 64) + " " + f)
		if err != nil {
			return 0, 0, err
		}
		if value, err = In(q, t); err != nil {
			return 0, 0, err
		}
		if q, err = Of[T](x, f); err != nil {
			return 0, 0, err
		}
		of, err = In(q, t)
		return value, of, err
	}, exactFactors,
		"= Converts a "+k.name+" between accepted units: the exact number times the exact factor, rounded once each way.",
		"value [in from]"+huge+": number in the unit from; from "+choices(k)+": unit of value; to "+choices(
			k)+": unit of the results",
		"-> value [in to]: the text \"value from\", parsed and expressed in the unit to; "+
			"of [in to]: the same from the float64 without text")
}

func convertStandardFlow() compute.Entry {
	k := &kindStandardFlow
	k.link()
	return compute.Of32("ConvertStandardFlow", func(x float64, from, to int) (float64, error) {
		f, err := ParseStandardFlow(strconv.FormatFloat(x, 'e', -1, 64) + " " + k.units[from].symbol)
		if err != nil {
			return 0, err
		}
		return fromSI(float64(f.At(k.units[to].ref).Volume()), &k.units[to]), nil
	}, idealGas,
		"= Converts a standard flow between units with named reference states; "+
			"the amount of gas stays, V̇2 = V̇1·(p1/p2)·(T2/T1).",
		"value [in from]"+huge+": number in the unit from; from "+choices(k)+": unit of value; to "+choices(
			k)+": unit of the result",
		"-> value [in to]: flow in the unit to")
}

func flowComputations() []compute.Entry {
	references := make([]string, 0, 8)
	for _, r := range GasReferences() {
		references = append(references, r.String())
	}
	at := "reference {" + strings.Join(references, "|") + "}: reference state"
	volume := "volume" + huge + ": volume flow at the reference state"
	flow := func(v VolumeFlow, ref int) (StandardFlow, error) {
		return NewStandardFlow(v, ReferenceDIN1343+GasReference(ref))
	}
	return []compute.Entry{
		compute.Of("StandardFlow.Molar", compute.Made(flow, StandardFlow.Molar), idealGas, volume, at,
			"-> molar: amount of gas per time"),
		compute.Of("StandardFlow.Actual", compute.Made(flow, StandardFlow.Actual), idealGas, volume, at,
			"t 1…5000: temperature of the place; p 1…1e9: absolute pressure of the place -> volume: actual volume flow"),
		compute.Of("StandardFlow.Mass", compute.Made(flow, StandardFlow.Mass), idealGas, volume, at,
			"density 0…1e5: at the reference state -> mass: mass flow"),
		compute.Of13("GasReference", func(ref int) (Temperature, Pressure, RelativeHumidity) {
			r := ReferenceDIN1343 + GasReference(ref)
			return r.Temperature(), r.Pressure(), r.RelativeHumidity()
		}, ReferenceDIN1343.Source(), "= State that a reference of standard flow names.", at,
			"-> t: temperature; p: absolute pressure; rh: relative humidity over water"),
	}
}

func constantComputations() []compute.Entry {
	values := []float64{ElementaryCharge, Boltzmann, Avogadro, MolarGas, Faraday, StandardGravity}
	return []compute.Entry{
		compute.Of11("Constant", func(i int) float64 { return values[i] },
			known.Source{Provenance: known.Definition, Cite: "BIPM, SI Brochure, 9th edition, 2019"},
			"= Constants that are exact by definition of the SI of 2019 or by convention (g0).",
			"constant {e [C]|k [J/K]|N_A [1/mol]|R [J/(mol·K)]|F [C/mol]|g0 [m/s²]}: which -> value [as named]: value"),
		compute.Of11("VacuumPermittivity", VacuumPermittivity,
			known.Source{Provenance: known.Quoted, Cite: "CODATA recommended values of the fundamental physical constants, 2022",
				Via:  "constants of public unit libraries that hold the set of 2022",
				Note: "relative standard uncertainty 1.6e-10"},
			"edition: of the constants -> epsilon0 [F/m]: vacuum electric permittivity"),
	}
}
