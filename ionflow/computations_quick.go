package ionflow

import (
	"math"
	"slices"

	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func quickComputations() []compute.Entry {
	return slices.Concat(ionComputations(), populationComputations(), surfaceComputations())
}

// arg is one argument or result in SI.
func arg(name, unit string, low, high float64, doc string) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Low: low, High: high, Doc: doc}
}

// out is a result, which has no range of its own.
func out(name, unit, doc string) compute.Arg { return arg(name, unit, -1e308, 1e308, doc) }

// choice is an argument that selects.
func choice(name, doc string, choices ...string) compute.Arg {
	return compute.Arg{Name: name, Unit: "1", High: float64(len(choices) - 1), Doc: doc, Choices: choices}
}

func args(a ...compute.Arg) []compute.Arg { return a }

func names(s ...string) []string { return s }

func derived(how string) known.Source {
	return known.Source{Provenance: known.Computed, Cite: how}
}

func published(cite string) known.Source {
	return known.Source{Provenance: known.Published, Cite: cite}
}

func fromMemory(cite string) known.Source {
	return known.Source{Provenance: known.Memory, Cite: cite}
}

// Arguments that many entries share.
var (
	aT     = arg("temperature", "K", 100, 500, "temperature of the air")
	aP     = arg("pressure", "Pa", 1e3, 1e6, "absolute pressure")
	aMu    = arg("mobility", "m²/(V·s)", 1e-9, 1e-2, "mobility of the ions")
	aPlus  = arg("mobility_plus", "m²/(V·s)", 1e-9, 1e-2, "mobility of positive ions")
	aMinus = arg("mobility_minus", "m²/(V·s)", 1e-9, 1e-2, "mobility of negative ions")
	aAlpha = arg("alpha", "m³/s", 0, 1e-9, "recombination coefficient")
	aN0    = arg("density", "1/m³", 0, 1e25, "density of each polarity at the start")
	aNp    = arg("density_plus", "1/m³", 0, 1e25, "density of positive ions")
	aNm    = arg("density_minus", "1/m³", 0, 1e25, "density of negative ions")
	aTime  = arg("time", "s", 0, 1e9, "time")
	aX     = arg("distance", "m", 0, 100, "distance from the source")
	aU     = arg("speed", "m/s", 0, 1e3, "speed of the air")
	aV     = arg("web_speed", "m/s", 0, 100, "speed of the web")
	aSigma = arg("sigma", "C/m²", -1, 1, "net surface charge density")
	aF     = arg("factor", "1", 0, 10, "field factor of the place")
	aAmb   = arg("ambient", "Pa", 2e4, 1.1e5, "ambient pressure")
)

func ionComputations() []compute.Entry {
	return []compute.Entry{
		{Name: "ionflow.ThermalVoltage", Doc: "Thermal voltage kT/e.", Args: args(aT), Results: args(out("voltage", "V", "")),
			Covers: names("ThermalVoltage"), Source: derived("closed form, SI constants"),
			Eval: func(r, a []float64) error { r[0] = float64(ThermalVoltage(units.Temperature(a[0]))); return nil }},
		{Name: "ionflow.Diffusion", Doc: "Diffusivity of an ion, D = μkT/e, and how far a given D is off it.",
			Args: args(aMu, aT, arg("given", "m²/s", 0, 1, "diffusivity to compare")), Results: args(out("diffusivity", "m²/s", ""), out("mismatch", "1", "given/D − 1")),
			Covers: names("Diffusion", "EinsteinMismatch"), Source: published("A. Einstein, Ann. Phys. 17 (1905) 549"),
			Eval: func(r, a []float64) error {
				mu, t := units.Mobility(a[0]), units.Temperature(a[1])
				r[0] = float64(Diffusion(mu, t))
				r[1] = float64(EinsteinMismatch(mu, units.Diffusivity(a[2]), t))
				return nil
			}},
		{Name: "ionflow.CoulombLength", Doc: "Length e²/(4πε0kT) at which two elementary charges have the thermal energy.", Args: args(aT), Results: args(out("length", "m", "")),
			Covers: names("CoulombLength"), Source: published("L. Onsager, Phys. Rev. 54 (1938) 554"),
			Eval: func(r, a []float64) error { r[0] = float64(CoulombLength(units.Temperature(a[0]))); return nil }},
		{Name: "ionflow.LangevinRecombination", Doc: "Drift limit of recombination e(μ+ + μ−)/ε0, and the share of it that a coefficient is.",
			Args: args(aPlus, aMinus, aAlpha), Results: args(out("limit", "m³/s", ""), out("share", "1", "alpha over the limit")),
			Covers: names("LangevinRecombination"), Source: published("P. Langevin, Ann. Chim. Phys. 28 (1903) 433"),
			Eval: func(r, a []float64) error {
				r[0] = float64(LangevinRecombination(units.Mobility(a[0]), units.Mobility(a[1])))
				r[1] = a[2] / r[0]
				return nil
			}},
		{Name: "ionflow.SmallIons", Doc: "Properties of the small ions of air at standard normal scores of their bands.",
			Args:    args(arg("score_plus", "1", -5, 5, ""), arg("score_minus", "1", -5, 5, ""), arg("score_alpha", "1", -5, 5, ""), aT, aP),
			Results: args(out("mobility_plus", "m²/(V·s)", ""), out("mobility_minus", "m²/(V·s)", ""), out("alpha", "m³/s", "")),
			Covers:  names("SmallIons", "IonBands.At", "Ions.In"), Source: SmallIons().Source,
			Eval: func(r, a []float64) error {
				i, _ := SmallIons().At(a[0], a[1], a[2]).In(units.Temperature(a[3]), units.Pressure(a[4]))
				r[0], r[1], r[2] = float64(i.Plus), float64(i.Minus), float64(i.Alpha)
				return i.Check()
			}},
		{Name: "ionflow.Recombination", Doc: "Recombination coefficient of air by a named law.",
			Args: args(choice("law", "which law", recombinationLaws[:]...), aT, aP), Results: args(out("alpha", "m³/s", "")),
			Covers: names("Recombination"), Source: published("A. Franchin et al., Atmos. Chem. Phys. 15 (2015) 7203; B. A. Tinsley and L. Zhou, J. Geophys. Res. 111 (2006) D16205"),
			Eval: func(r, a []float64) error {
				v, _ := Recombination(RecombinationLaw(a[0]), units.Temperature(a[1]), units.Pressure(a[2]))
				r[0] = float64(v)
				return nil
			}},
		{Name: "ionflow.MobilityAt", Doc: "Mobility at another temperature and pressure, μ = μ0(p0/p)·g(T)/g(T0).",
			Args: args(choice("law", "of the temperature", mobilityLaws[:]...), aMu, arg("temperature_0", "K", 100, 500, "at which it is known"),
				arg("pressure_0", "Pa", 1e3, 1e6, "at which it is known"), aT, aP), Results: args(out("mobility", "m²/(V·s)", "")),
			Covers: names("MobilityAt"), Source: published("H. Tammet, J. Geophys. Res. 103 (1998) 13933; L. Zhou and B. A. Tinsley, J. Geophys. Res. 112 (2007) D11203"),
			Eval: func(r, a []float64) error {
				v, _ := MobilityAt(MobilityLaw(a[0]), units.Mobility(a[1]), units.Temperature(a[2]), units.Pressure(a[3]), units.Temperature(a[4]), units.Pressure(a[5]))
				r[0] = float64(v)
				return nil
			}},
		{Name: "ionflow.MillikanMobility", Doc: "Mobility of a singly charged sphere with the mean free path and viscosity of the air.",
			Args: args(arg("diameter", "m", 1e-10, 1e-3, ""), aT, aP), Results: args(out("mobility", "m²/(V·s)", ""), out("mean_free_path", "m", ""), out("viscosity", "Pa·s", "")),
			Covers: names("MillikanMobility", "MeanFreePath", "AirViscosity"), Source: published("H. Tammet, plain Millikan mobility algorithm, University of Tartu, hdl 10062/50287"),
			Eval: func(r, a []float64) error {
				v, _ := MillikanMobility(units.Length(a[0]), units.Temperature(a[1]), units.Pressure(a[2]))
				r[0], r[1], r[2] = float64(v), float64(MeanFreePath(units.Temperature(a[1]), units.Pressure(a[2]))), AirViscosity(units.Temperature(a[1]))
				return nil
			}},
		{Name: "ionflow.Attachment", Doc: "Rate coefficient 2πD(d − 1.5 nm) of attachment to aerosol, and the factor x/(eˣ−1) of its charge.",
			Args:    args(aMu, aT, arg("diameter", "m", 1e-9, 1e-4, "of the particles"), arg("charges", "1", -1e3, 1e3, "on the particle, positive if like the ion"), arg("ion_diameter", "m", 0, 1e-8, "")),
			Results: args(out("beta", "m³/s", ""), out("charge_factor", "1", "")),
			Covers:  names("Attachment", "AttachmentCharged"), Source: published("H. Tammet, ion equilibrium algorithm, University of Tartu, hdl 10062/50287"),
			Eval: func(r, a []float64) error {
				t, d := units.Temperature(a[1]), units.Length(a[2])
				b, _ := Attachment(Diffusion(units.Mobility(a[0]), t), d)
				r[0], r[1] = float64(b), float64(AttachmentCharged(a[3], d, units.Length(a[4]), t))
				return nil
			}},
		{Name: "ionflow.IonEquilibrium", Doc: "Steady small ions in still air with aerosol: q = αn+n− + β±Nn±, particles with a distribution of charges.",
			Args: args(aPlus, aMinus, aAlpha, arg("production", "1/(m³·s)", 1e-3, 1e20, "ion pairs made"), arg("particles", "1/m³", 0, 1e14, ""),
				arg("diameter", "m", 2e-9, 1e-5, "of the particles"), arg("ion_diameter", "m", 0, 1e-8, ""), aT),
			Results: args(out("plus", "1/m³", ""), out("minus", "1/m³", "")),
			Covers:  names("IonEquilibrium"), Source: published("H. Tammet, ion equilibrium algorithm, University of Tartu, hdl 10062/50287"),
			Eval: func(r, a []float64) error {
				i := Ions{Plus: units.Mobility(a[0]), Minus: units.Mobility(a[1]), Alpha: units.RecombinationCoefficient(a[2])}
				p, m, _ := IonEquilibrium(i, a[3], units.NumberDensity(a[4]), units.Length(a[5]), units.Length(a[6]), units.Temperature(a[7]))
				r[0], r[1] = float64(p), float64(m)
				return must("particles", r[0])
			}},
	}
}

func populationComputations() []compute.Entry {
	// The integrator is explicit: within these ranges it needs some thousand steps at most.
	path := args(arg("density_plus", "1/m³", 0, 1e18, "density of positive ions"), arg("density_minus", "1/m³", 0, 1e18, "density of negative ions"),
		arg("mobility_plus", "m²/(V·s)", 1e-5, 1e-3, "mobility of positive ions"), arg("mobility_minus", "m²/(V·s)", 1e-5, 1e-3, "mobility of negative ions"), arg("alpha", "m³/s", 0, 1e-11, "recombination coefficient"))
	density := func(v float64) units.NumberDensity { return units.NumberDensity(v) }
	alpha := func(v float64) units.RecombinationCoefficient { return units.RecombinationCoefficient(v) }
	return []compute.Entry{
		{Name: "ionflow.Recombine", Doc: "Equal densities that recombine, n = n0/(1 + αn0t), and the ceiling 1/(αt).", Args: args(aN0, aAlpha, aTime),
			Results: args(out("density", "1/m³", ""), out("ceiling", "1/m³", "")), Covers: names("Recombine", "RecombinationCeiling"), Source: published("J. J. Thomson and E. Rutherford, Phil. Mag. 42 (1896) 392"),
			Eval: func(r, a []float64) error {
				r[0], r[1] = float64(Recombine(density(a[0]), alpha(a[1]), units.Time(a[2]))), float64(RecombinationCeiling(alpha(a[1]), units.Time(a[2])))
				return nil
			}},
		{Name: "ionflow.RecombineUnequal", Doc: "Unequal densities that recombine; their difference stays.", Args: args(aNp, aNm, aAlpha, aTime),
			Results: args(out("plus", "1/m³", ""), out("minus", "1/m³", "")), Covers: names("RecombineUnequal"), Source: derived("closed form of the rate equation"),
			Eval: func(r, a []float64) error {
				p, m := RecombineUnequal(density(a[0]), density(a[1]), alpha(a[2]), units.Time(a[3]))
				r[0], r[1] = float64(p), float64(m)
				return nil
			}},
		{Name: "ionflow.RecombineLosing", Doc: "Equal densities that recombine and are lost at a first-order rate.", Args: args(aN0, aAlpha, arg("loss", "1/s", 0, 1e9, "loss rate"), aTime),
			Results: args(out("density", "1/m³", "")), Covers: names("RecombineLosing"), Source: derived("closed form of the rate equation"),
			Eval: func(r, a []float64) error {
				r[0] = float64(RecombineLosing(density(a[0]), alpha(a[1]), units.Frequency(a[2]), units.Time(a[3])))
				return nil
			}},
		{Name: "ionflow.SteadyDensity", Doc: "Density that a source of ion pairs maintains against recombination and loss.", Args: args(arg("production", "1/(m³·s)", 0, 1e25, ""), aAlpha, arg("loss", "1/s", 0, 1e9, "loss rate")),
			Results: args(out("density", "1/m³", "")), Covers: names("SteadyDensity"), Source: derived("closed form of the rate equation"),
			Eval: func(r, a []float64) error {
				r[0] = float64(SteadyDensity(a[0], alpha(a[1]), units.Frequency(a[2])))
				return nil
			}},
		{Name: "ionflow.Repel", Doc: "One polarity that expands under its own charge, n = n0/(1 + eμn0t/ε0), and the ceiling ε0/(eμt).", Args: args(aN0, aMu, aTime),
			Results: args(out("density", "1/m³", ""), out("ceiling", "1/m³", "")), Covers: names("Repel", "RepulsionCeiling"), Source: derived("closed form of the continuity equation"),
			Eval: func(r, a []float64) error {
				r[0], r[1] = float64(Repel(density(a[0]), units.Mobility(a[1]), units.Time(a[2]))), float64(RepulsionCeiling(units.Mobility(a[1]), units.Time(a[2])))
				return nil
			}},
		{Name: "ionflow.Parcel", Doc: "Both polarities in a parcel of air: recombination and the repulsion of what charge is left over, by the path integrator.",
			Args:    append(slices.Clone(path), arg("time", "s", 1e-9, 1e3, "")),
			Results: args(out("plus", "1/m³", ""), out("minus", "1/m³", "")), Covers: names("Path", "Uniform.At"), Source: derived("rate equations, integrated with an embedded Runge–Kutta pair"),
			Eval: func(r, a []float64) error {
				i := Ions{Plus: units.Mobility(a[2]), Minus: units.Mobility(a[3]), Alpha: alpha(a[4])}
				v, err := Path(Uniform{Speed: units.MetrePerSecond, Repulsion: 1}, i, density(a[0]), density(a[1]), units.Length(a[5]), 1e-10)
				r[0], r[1] = float64(v.Plus), float64(v.Minus)
				return err
			}},
		{Name: "ionflow.PathInJet", Doc: "Both polarities in a free round jet behind a duct with losses, by the path integrator: densities, age, both ceilings, and which loss ruled.",
			Args:    append(slices.Clone(path), arg("duct", "m", 1e-4, 1, "length"), arg("loss", "1/s", 0, 1e4, "rate in the duct"), arg("width", "m", 1e-4, 0.1, "of the jet"), arg("speed", "m/s", 0.1, 700, "at the source"), arg("distance", "m", 1e-3, 10, "beyond the duct")),
			Results: args(out("plus", "1/m³", ""), out("minus", "1/m³", ""), out("age", "s", ""), out("recombination", "1/m³", "ceiling"), out("repulsion", "1/m³", "ceiling"), out("ruled", "1", "index of the loss of positive ions")),
			Covers:  names("Path", "InFreeJet.At", "WayFunc.At", "Tally.Ruled"), Source: derived("rate equations, integrated with an embedded Runge–Kutta pair"),
			Eval: func(r, a []float64) error {
				j, err := jet.NewJet(jet.JetSpec{Kind: jet.Round, Width: units.Length(a[7]), Speed: units.Speed(a[8])})
				if err != nil {
					return err
				}
				free, duct := InFreeJet{Jet: j, Base: Local{Repulsion: 1}}, units.Length(a[5])
				way := WayFunc(func(x units.Length) Local {
					if x < duct {
						return Local{Speed: units.Speed(a[8]), LossPlus: units.Frequency(a[6]), LossMinus: units.Frequency(a[6])}
					}
					return free.At(x - duct)
				})
				v, err := Path(way, Ions{Plus: units.Mobility(a[2]), Minus: units.Mobility(a[3]), Alpha: alpha(a[4])}, density(a[0]), density(a[1]), duct+units.Length(a[9]), 0)
				r[0], r[1], r[2] = float64(v.Plus), float64(v.Minus), float64(v.Age)
				r[3], r[4], r[5] = min(float64(v.Recombination), 1e308), float64(v.Repulsion), float64(v.PlusLoss.Ruled())
				return err
			}},
		{Name: "ionflow.LangevinParcel", Doc: "Both polarities in a parcel of air in the Langevin limit with equal mobilities.", Args: args(aNp, aNm, aMu, aTime),
			Results: args(out("plus", "1/m³", ""), out("minus", "1/m³", "")), Covers: names("LangevinParcel"), Source: derived("exact solution of the rate equations"),
			Eval: func(r, a []float64) error {
				p, m := LangevinParcel(density(a[0]), density(a[1]), units.Mobility(a[2]), units.Time(a[3]))
				r[0], r[1] = float64(p), float64(m)
				return nil
			}},
		{Name: "ionflow.InJet", Doc: "Density in a free jet of constant momentum, n0/(q(1 + αn0x/U0)).", Args: args(aN0, aAlpha, aX, arg("speed", "m/s", 1e-3, 1e3, "at the source"), arg("entrainment", "1", 1, 1e6, "Q/Q0")),
			Results: args(out("density", "1/m³", "")), Covers: names("InJet"), Source: derived("closed form; u·Q is constant"),
			Eval: func(r, a []float64) error {
				r[0] = float64(InJet(density(a[0]), alpha(a[1]), units.Length(a[2]), units.Speed(a[3]), units.Ratio(a[4])))
				return nil
			}},
		{Name: "ionflow.InStagnation", Doc: "Density in the flow U0(1 − x/L) before a wall.", Args: args(aN0, aAlpha, aX, arg("length", "m", 1e-6, 100, "distance of the wall"), arg("speed", "m/s", 1e-3, 1e3, "at the inlet")),
			Results: args(out("density", "1/m³", "")), Covers: names("InStagnation"), Source: derived("closed form of the rate equation"),
			Eval: func(r, a []float64) error {
				r[0] = float64(InStagnation(density(a[0]), alpha(a[1]), units.Length(a[2]), units.Length(a[3]), units.Speed(a[4])))
				return must("distance", r[0])
			}},
		{Name: "ionflow.TubePenetration", Doc: "Share of ions that leave a tube in laminar flow, by m = πDL/Q.", Args: args(arg("m", "1", 0, 1e3, "πDL/Q")),
			Results: args(out("share", "1", "")), Covers: names("TubePenetration"), Source: published("P. G. Gormley and M. Kennedy, Proc. R. Ir. Acad. 52A (1949) 163"),
			Eval: func(r, a []float64) error { r[0] = float64(TubePenetration(a[0])); return nil }},
		{Name: "ionflow.Tube", Doc: "Share of ions of a diffusivity that leave a tube of a length at a flow.", Args: args(arg("diffusivity", "m²/s", 1e-9, 1e-3, ""), arg("length", "m", 1e-4, 100, ""), arg("flow", "m³/s", 1e-9, 1, "")),
			Results: args(out("share", "1", "")), Covers: names("TubeParameter", "TubePenetration"), Source: published("P. G. Gormley and M. Kennedy, Proc. R. Ir. Acad. 52A (1949) 163"),
			Eval: func(r, a []float64) error {
				r[0] = float64(TubePenetration(TubeParameter(units.Diffusivity(a[0]), units.Length(a[1]), units.VolumeFlow(a[2]))))
				return nil
			}},
		{Name: "ionflow.UnipolarFlux", Doc: "Current density of one polarity in moving air to a wall that attracts it.", Args: args(aN0, aMu, aU, arg("length", "m", 1e-6, 100, ""), arg("field", "V/m", -1e8, 1e8, "at the wall, positive if it attracts")),
			Results: args(out("current", "A/m²", ""), out("inlet_speed", "m/s", "")), Covers: names("UnipolarFlux"), Source: derived("first integral of drift with space charge"),
			Eval: func(r, a []float64) error {
				j, w := UnipolarFlux(density(a[0]), units.Mobility(a[1]), units.Speed(a[2]), units.Length(a[3]), units.ElectricField(a[4]))
				r[0], r[1] = float64(j), float64(w)
				return nil
			}},
	}
}

// must turns a result that has no value into an error that names it.
func must(name string, v float64) error { // v [any]
	if math.IsNaN(v) {
		return known.Wrong(name, v, "arguments for which it exists")
	}
	return nil
}
