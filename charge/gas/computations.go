package gas

import (
	"slices"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// whole is written for an argument without a bound of its own.
const whole = 1e308

// arg and out build the descriptions of arguments and results.
func arg(name, unit, doc string, low, high float64) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Doc: doc, Low: low, High: high}
}

func out(name, unit, doc string) compute.Arg { return arg(name, unit, doc, -whole, whole) }

func choice(name, doc string, choices ...string) compute.Arg {
	return compute.Arg{Name: name, Unit: "1", Doc: doc, Low: 0, High: float64(len(choices) - 1), Choices: choices}
}

// Arguments that many computations share.
var (
	argGap     = arg("gap", "m", "uniform gap", 0, 10)
	argDensity = arg("density", "1", "air density relative to 20 °C and 101.325 kPa", 0.01, MaxDensity)
	argEpsr    = arg("permittivity", "1", "relative permittivity", 1, 1e5)
	outCap     = out("cap", "C/m²", "greatest charge density that the gas leaves")
	outGap     = out("gap", "m", "gap of the breakdown that rules")
)

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	return slices.Concat(gasComputations(), capComputations())
}

func gasComputations() []compute.Entry {
	meek := known.Source{Provenance: known.Published, Cite: "J. M. Meek and J. D. Craggs, Electrical Breakdown of Gases; A. Peschot et al. (2014); E. M. Bazelyan and Yu. P. Raizer, Spark Discharge", Note: "pieced together; books read second-hand"}
	return []compute.Entry{
		{Name: "charge.BreakdownVoltage", Doc: "Breakdown voltage of air in a uniform gap, pieced together from 100 nm to 10 cm, with its limits.",
			Args: []compute.Arg{argGap, argDensity},
			Results: []compute.Arg{out("voltage", "V", "of the law"), out("low", "V", "lower limit of measured voltages"),
				out("high", "V", "upper limit of measured voltages"), out("median", "V", "of measured voltages")},
			Covers: []string{"BreakdownVoltage", "BreakdownLimits", "BreakdownSpread"}, Source: meek,
			Eval: func(r, a []float64) error {
				v, _ := BreakdownVoltage(units.Length(a[0]), a[1])
				lo, mid, hi := BreakdownLimits(units.Length(a[0]), a[1])
				r[0], r[1], r[2], r[3] = float64(v), float64(lo), float64(hi), float64(mid)
				return nil
			}},
		{Name: "charge.RelativeDensity", Doc: "Air density relative to 20 °C and 101.325 kPa.",
			Args:    []compute.Arg{arg("pressure", "Pa", "absolute", 0, 1e7), arg("temperature", "K", "", 1, 2000)},
			Results: []compute.Arg{out("density", "1", "")}, Covers: []string{"RelativeDensity"}, Source: meek,
			Eval: func(r, a []float64) error {
				r[0] = RelativeDensity(units.Pressure(a[0]), units.Temperature(a[1]))
				return nil
			}},
		{Name: "charge.BreakdownAt", Doc: "Breakdown voltage of air at a pressure and temperature: BreakdownVoltage at RelativeDensity.",
			Args:    []compute.Arg{argGap, arg("pressure", "Pa", "absolute", 1e3, 5e5), arg("temperature", "K", "", 200, 500)},
			Results: []compute.Arg{out("voltage", "V", "")}, Covers: []string{"BreakdownVoltage", "RelativeDensity"}, Source: meek,
			Eval: func(r, a []float64) error {
				v, _ := BreakdownVoltage(units.Length(a[0]), RelativeDensity(units.Pressure(a[1]), units.Temperature(a[2])))
				r[0] = float64(v)
				return nil
			}},
		{Name: "charge.Paschen", Doc: "Paschen's law with one set of constants, V = B·pd/(ln(A·pd) − ln ln(1+1/γ)), and its minimum.",
			Args:    []compute.Arg{arg("a", "1/(Pa·m)", "", 1e-3, 1e9), arg("b", "V/(Pa·m)", "", 1e-3, 1e9), arg("gamma", "1", "secondary emission", 1e-9, 1), arg("pd", "Pa·m", "pressure times gap", 0, 1e9)},
			Results: []compute.Arg{out("voltage", "V", "+Inf where there is no breakdown"), out("minimum", "V", "least voltage"), out("minimum_pd", "Pa·m", "where it is met")},
			Covers:  []string{"NewPaschen", "Paschen.Voltage", "Paschen.Minimum", "AirPaschen"},
			Source:  known.Source{Provenance: known.Published, Cite: "A. M. Loveless and A. L. Garner, Sci. Rep. (2019), doi 10.1038/s41598-019-42111-2"},
			Eval: func(r, a []float64) error {
				p, err := NewPaschen(PaschenSpec{A: a[0], B: a[1], Gamma: a[2]})
				if err != nil {
					return err
				}
				v, _ := p.Voltage(a[3])
				m, pd := p.Minimum()
				r[0], r[1], r[2] = float64(v), float64(m), pd
				return nil
			}},
		{Name: "charge.Paschen.CapBacked", Doc: "Gas cap of a film on earthed backing in a gas with one set of Paschen constants, ε0·B·p/W(A·p·g/(e·ln(1+1/γ))), g = t/εr.",
			Args: []compute.Arg{arg("a", "1/(Pa·m)", "", 1e-3, 1e9), arg("b", "V/(Pa·m)", "", 1e-3, 1e9), arg("gamma", "1", "secondary emission", 1e-9, 1),
				arg("thickness", "m", "of the film", 1e-7, 1), argEpsr, arg("pressure", "Pa", "absolute", 1, 1e7)},
			Results: []compute.Arg{outCap, outGap}, Covers: []string{"Paschen.CapBacked"},
			Source: known.Source{Provenance: known.Published, Cite: "A. M. Loveless and A. L. Garner, Sci. Rep. (2019), doi 10.1038/s41598-019-42111-2", Note: "Paschen's law; the least over the gap is derived"},
			Eval: func(r, a []float64) error {
				p, err := NewPaschen(PaschenSpec{A: a[0], B: a[1], Gamma: a[2]})
				if err != nil {
					return err
				}
				s, z, _ := p.CapBacked(units.Length(a[3]), a[4], units.Pressure(a[5]))
				r[0], r[1] = float64(s), float64(z)
				return nil
			}},
		{Name: "charge.HumidityFactor", Doc: "Factor of water vapour on the breakdown voltage of a uniform gap, (1 + s·h)/(1 + s·8.5 g/m³), s growing with the gap.",
			Args:    []compute.Arg{argGap, arg("vapour", "kg/m³", "absolute humidity", 0, 1)},
			Results: []compute.Arg{out("factor", "1", ""), out("slope", "m³/kg", "s"), out("low", "m³/kg", "lower limit of s"), out("high", "m³/kg", "upper limit of s")},
			Covers:  []string{"HumidityFactor", "HumiditySlope"}, Source: kuffel,
			Eval: func(r, a []float64) error {
				r[0], _ = HumidityFactor(units.Length(a[0]), units.VapourDensity(a[1]))
				s, _ := HumiditySlope(units.Length(a[0]))
				lo, hi := s.Limits()
				r[1], r[2], r[3] = s.Value, lo, hi
				return nil
			}},
		{Name: "charge.FindSparkingMinimum", Doc: "Least breakdown voltage of a gas, from a table.",
			Args: []compute.Arg{choice("gas", "published entries", "air")}, Results: []compute.Arg{out("voltage", "V", ""), out("pd", "Pa·m", "")},
			Covers: []string{"FindSparkingMinimum"}, Source: known.Source{Provenance: known.Published, Cite: "M. S. Naidu and V. Kamaraju, High Voltage Engineering", Note: "read second-hand"},
			Eval: func(r, a []float64) error {
				m, err := FindSparkingMinimum("air", known.Quoted)
				r[0], r[1] = float64(m.Voltage), m.PD
				return err
			}},
	}
}

func capComputations() []compute.Entry {
	gauss := known.Source{Provenance: known.Computed, Cite: "Gauss with the breakdown law"}
	return []compute.Entry{
		{Name: "charge.CapBacked", Doc: "Gas cap of a film on earthed backing, min over z of ε0·V_b(z)·(t + εr·z)/(t·z).",
			Args: []compute.Arg{arg("thickness", "m", "of the film", 1e-7, 1), argEpsr, argDensity},
			Results: []compute.Arg{outCap, outGap, out("low", "C/m²", "lower limit by measured voltages"), out("median", "C/m²", "by measured voltages"),
				out("high", "C/m²", "upper limit by measured voltages")},
			Covers: []string{"CapBacked", "CapBackedTo", "CapBackedLimits", "LeastLimits"}, Source: gauss,
			Eval: func(r, a []float64) error {
				s, z, _ := CapBacked(units.Length(a[0]), a[1], a[2])
				lo, mid, hi := CapBackedLimits(units.Length(a[0]), a[1], a[2])
				r[0], r[1], r[2], r[3], r[4] = float64(s), float64(z), float64(lo), float64(mid), float64(hi)
				return nil
			}},
		{Name: "charge.CapFreeWeb", Doc: "Gas cap of a web in free span over a uniform gap, faces·ε0·V_b/gap.",
			Args:    []compute.Arg{arg("faces", "1", "1 or 2", 1, 2), argGap, argDensity},
			Results: []compute.Arg{outCap}, Covers: []string{"CapFreeWeb"}, Source: gauss,
			Eval: func(r, a []float64) error {
				s, _ := CapFreeWeb(int(a[0]), units.Length(a[1]), a[2])
				r[0] = float64(s)
				return nil
			}},
		{Name: "charge.CapUniform", Doc: "Cap for a stated breakdown strength, faces·ε0·E.",
			Args:    []compute.Arg{arg("faces", "1", "1 or 2", 1, 2), arg("strength", "V/m", "", 0, 1e10)},
			Results: []compute.Arg{outCap}, Covers: []string{"CapUniform"}, Source: gauss,
			Eval: func(r, a []float64) error {
				r[0] = float64(CapUniform(int(a[0]), units.ElectricField(a[1])))
				return nil
			}},
		{Name: "charge.CapBulk", Doc: "Charge density at which a film on earthed metal breaks down through its thickness, ε0·εr·E.",
			Args:    []compute.Arg{argEpsr, arg("strength", "V/m", "of the film", 0, 1e10)},
			Results: []compute.Arg{outCap}, Covers: []string{"CapBulk"}, Source: gauss,
			Eval: func(r, a []float64) error {
				r[0] = float64(CapBulk(a[0], units.ElectricField(a[1])))
				return nil
			}},
		{Name: "charge.CapSquare", Doc: "Greatest mean charge density of a small square part that leaves its counter-body, min over z of ε0·V_b(z)/L(z).",
			Args:    []compute.Arg{arg("side", "m", "of the square", 10e-6, 1), choice("counter", "what it leaves", counterNames[:]...), argDensity},
			Results: []compute.Arg{outCap, outGap}, Covers: []string{"CapSquare"}, Source: gauss,
			Eval: func(r, a []float64) error {
				s, z, _ := CapSquare(units.Length(a[0]), Counter(a[1]), a[2])
				r[0], r[1] = float64(s), float64(z)
				return nil
			}},
		{Name: "charge.CapSphere", Doc: "Greatest charge of a metal sphere that parts from an earthed plane, min over z of C(z)·V_b(z).",
			Args:    []compute.Arg{arg("radius", "m", "of the sphere", 1e-6, 1), argDensity},
			Results: []compute.Arg{out("charge", "C", ""), outGap}, Covers: []string{"CapSphere"},
			Source: known.Source{Provenance: known.Published, Cite: "T. Matsuyama and H. Yamamoto, J. Phys. D 28 (1995) 2418", Note: "abstract"},
			Eval: func(r, a []float64) error {
				q, z, _ := CapSphere(units.Length(a[0]), a[1])
				r[0], r[1] = float64(q), float64(z)
				return nil
			}},
	}
}
