package units

import (
	"math"
	"slices"
	"strconv"

	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// exactFactors is the source of every factor of the table.
var exactFactors = known.Source{Provenance: known.Published,
	Cite: "A. Thompson, B. N. Taylor, Guide for the Use of the International System of Units, NIST SP 811:2008, appendix B",
	Note: "1 in = 25.4 mm, 1 lb = 0.45359237 kg, g0 = 9.80665 m/s², 1 atm = 101325 Pa; factors exact by these"}

var idealGas = known.Source{Provenance: known.Published, Cite: "BIPM, SI Brochure, 9th edition, 2019 (R = k·N_A exact)", Note: "ideal gas law"}

const huge = 1e250 // bound of arguments that know no other

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper: a conversion for each type ("units.ConvertLength"),
// the relations between quantities, and the constants.
func Computations() []compute.Entry {
	return slices.Concat(conversions(), []compute.Entry{convertStandardFlow()}, relations(), flowComputations(), constantComputations())
}

func choice(name, doc string, choices []string) compute.Arg {
	return compute.Arg{Name: name, Unit: "1", Doc: doc, High: float64(len(choices) - 1), Choices: choices}
}

func number(name, unit, doc string, low, high float64) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Doc: doc, Low: low, High: high}
}

func choices(k *kind) []string {
	var out []string
	for i := range k.units {
		s := k.units[i].symbol
		if s == "" {
			s = "1"
		}
		out = append(out, s)
	}
	return out
}

// convert is the conversion of one type: the text "value from" is parsed, and
// what it means is expressed in the other unit.
func convert[T Quantity]() compute.Entry {
	var z T
	k := z.kind()
	list := choices(k)
	return compute.Entry{
		Name: "units.Convert" + k.typ,
		Doc:  "Converts a " + k.name + " between accepted units: the exact number times the exact factor, rounded once each way.",
		Args: []compute.Arg{
			number("value", "in from", "number in the unit from", -huge, huge),
			choice("from", "unit of value", list), choice("to", "unit of the results", list)},
		Results: []compute.Arg{
			number("value", "in to", "the text \"value from\", parsed and expressed in the unit to", -math.MaxFloat64, math.MaxFloat64),
			number("of", "in to", "the same from the float64 without text", -math.MaxFloat64, math.MaxFloat64)},
		Covers: []string{"Parse", "In", "Of"},
		Source: exactFactors,
		Eval: func(results, args []float64) error {
			from, to := &k.units[int(args[1])], &k.units[int(args[2])]
			q, err := Parse[T](strconv.FormatFloat(args[0], 'e', -1, 64) + " " + from.symbol)
			if err != nil {
				return err
			}
			if results[0], err = In(q, to.symbol); err != nil {
				return err
			}
			if q, err = Of[T](args[0], from.symbol); err != nil {
				return err
			}
			results[1], err = In(q, to.symbol)
			return err
		},
	}
}

func convertStandardFlow() compute.Entry {
	k := &kindStandardFlow
	list := choices(k)
	return compute.Entry{
		Name:    "units.ConvertStandardFlow",
		Doc:     "Converts a standard flow between units with named reference states; the amount of gas stays, V̇2 = V̇1·(p1/p2)·(T2/T1).",
		Args:    []compute.Arg{number("value", "in from", "number in the unit from", -huge, huge), choice("from", "unit of value", list), choice("to", "unit of the result", list)},
		Results: []compute.Arg{number("value", "in to", "flow in the unit to", -math.MaxFloat64, math.MaxFloat64)},
		Covers:  []string{"ParseStandardFlow", "StandardFlow.At", "StandardFlow.Volume"},
		Source:  idealGas,
		Eval: func(results, args []float64) error {
			from, to := &k.units[int(args[1])], &k.units[int(args[2])]
			f, err := ParseStandardFlow(strconv.FormatFloat(args[0], 'e', -1, 64) + " " + from.symbol)
			if err != nil {
				return err
			}
			results[0] = fromSI(float64(f.At(to.ref).Volume()), to)
			return nil
		},
	}
}

func flowComputations() []compute.Entry {
	var names []string
	for _, r := range GasReferences() {
		names = append(names, r.String())
	}
	volume := number("volume", "m³/s", "volume flow at the reference state", -huge, huge)
	reference := choice("reference", "reference state", names)
	flow := func(args []float64) (StandardFlow, error) {
		return NewStandardFlow(VolumeFlow(args[0]), ReferenceDIN1343+GasReference(args[1]))
	}
	return []compute.Entry{
		{Name: "units.StandardFlow.Molar", Doc: "Amount of gas per time of a standard flow, p·V̇/(R·T).",
			Args: []compute.Arg{volume, reference}, Results: []compute.Arg{number("molar", "mol/s", "amount of gas per time", -huge, huge)},
			Covers: []string{"NewStandardFlow", "StandardFlow.Molar"}, Source: idealGas,
			Eval: func(results, args []float64) error {
				f, err := flow(args)
				results[0] = float64(f.Molar())
				return err
			}},
		{Name: "units.StandardFlow.Actual", Doc: "Actual volume flow of a standard flow at a state, V̇·(p_ref/p)·(T/T_ref).",
			Args:    []compute.Arg{volume, reference, number("t", "K", "temperature of the place", 1, 5000), number("p", "Pa", "absolute pressure of the place", 1, 1e9)},
			Results: []compute.Arg{number("volume", "m³/s", "actual volume flow", -huge, huge)},
			Covers:  []string{"NewStandardFlow", "StandardFlow.Actual"}, Source: idealGas,
			Eval: func(results, args []float64) error {
				f, err := flow(args)
				results[0] = float64(f.Actual(Temperature(args[2]), Pressure(args[3])))
				return err
			}},
		{Name: "units.StandardFlow.Mass", Doc: "Mass flow of a standard flow whose gas has the density at the reference state, ρ·V̇.",
			Args:    []compute.Arg{volume, reference, number("density", "kg/m³", "density at the reference state", 0, 1e5)},
			Results: []compute.Arg{number("mass", "kg/s", "mass flow", -huge, huge)},
			Covers:  []string{"NewStandardFlow", "StandardFlow.Mass"}, Source: idealGas,
			Eval: func(results, args []float64) error {
				f, err := flow(args)
				results[0] = float64(f.Mass(Density(args[2])))
				return err
			}},
		{Name: "units.GasReference", Doc: "State that a reference of standard flow names.",
			Args: []compute.Arg{reference},
			Results: []compute.Arg{number("t", "K", "temperature", 0, 1000), number("p", "Pa", "absolute pressure", 0, 1e6),
				number("rh", "1", "relative humidity over water", 0, 1)},
			Covers: []string{"GasReferences", "GasReference.Temperature", "GasReference.Pressure", "GasReference.RelativeHumidity", "GasReference.Source"},
			Source: ReferenceDIN1343.Source(),
			Eval: func(results, args []float64) error {
				r := ReferenceDIN1343 + GasReference(args[0])
				results[0], results[1], results[2] = float64(r.Temperature()), float64(r.Pressure()), float64(r.RelativeHumidity())
				return nil
			}},
	}
}

func constantComputations() []compute.Entry {
	names := []string{"e [C]", "k [J/K]", "N_A [1/mol]", "R [J/(mol·K)]", "F [C/mol]", "g0 [m/s²]"}
	values := []float64{ElementaryCharge, Boltzmann, Avogadro, MolarGas, Faraday, StandardGravity}
	editions := []string{CODATA2022.String(), CODATA2018.String(), Before2019.String()}
	return []compute.Entry{
		{Name: "units.Constant", Doc: "Constants that are exact by definition of the SI of 2019 or by convention (g0).",
			Args: []compute.Arg{choice("constant", "which", names)}, Results: []compute.Arg{number("value", "as named", "value", 0, huge)},
			Source: known.Source{Provenance: known.Published, Cite: "BIPM, SI Brochure, 9th edition, 2019"},
			Eval: func(results, args []float64) error {
				results[0] = values[int(args[0])]
				return nil
			}},
		{Name: "units.VacuumPermittivity", Doc: "ε0 in an edition of the constants.",
			Args: []compute.Arg{choice("edition", "edition", editions)}, Results: []compute.Arg{number("epsilon0", "F/m", "vacuum electric permittivity", 0, 1)},
			Covers: []string{"VacuumPermittivity"},
			Source: known.Source{Provenance: known.Published, Cite: "CODATA recommended values of the fundamental physical constants, 2022", Note: "read second-hand; relative standard uncertainty 1.6e-10"},
			Eval: func(results, args []float64) error {
				results[0] = VacuumPermittivity(Edition(args[0]))
				return nil
			}},
	}
}
