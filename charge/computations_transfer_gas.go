package charge

import (
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func gasComputations() []compute.Entry {
	meek := known.Source{Provenance: known.Published, Cite: "J. M. Meek and J. D. Craggs, Electrical Breakdown of Gases; A. Peschot et al. (2014); E. M. Bazelyan and Yu. P. Raizer, Spark Discharge", Note: "pieced together; books read second-hand"}
	return []compute.Entry{
		{Name: "charge.BreakdownVoltage", Doc: "Breakdown voltage of air in a uniform gap, pieced together from 100 nm to 10 cm, with its limits.",
			Args:    []compute.Arg{argGap, argDensity},
			Results: []compute.Arg{out("voltage", "V", ""), out("low", "V", "lower limit"), out("high", "V", "upper limit")},
			Covers:  []string{"BreakdownVoltage", "BreakdownLimits", "BreakdownSpread"}, Source: meek,
			Eval: func(r, a []float64) error {
				lo, mid, hi := BreakdownLimits(units.Length(a[0]), a[1])
				r[0], r[1], r[2] = float64(mid), float64(lo), float64(hi)
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
		{Name: "charge.HumidityFactor", Doc: "Factor of absolute humidity on the breakdown voltage, 1 + 0.002·(h/δ − 8.5).",
			Args:    []compute.Arg{arg("vapour", "kg/m³", "absolute humidity", 0, 1), argDensity},
			Results: []compute.Arg{out("factor", "1", "")}, Covers: []string{"HumidityFactor"}, Source: known.Source{Provenance: known.Memory, Cite: "IEC 60052"},
			Eval: func(r, a []float64) error {
				r[0], _ = HumidityFactor(units.VapourDensity(a[0]), a[1])
				return nil
			}},
		{Name: "charge.FindSparkingMinimum", Doc: "Least breakdown voltage of a gas, from a table.",
			Args: []compute.Arg{choice("gas", "published entries", "air")}, Results: []compute.Arg{out("voltage", "V", ""), out("pd", "Pa·m", "")},
			Covers: []string{"FindSparkingMinimum"}, Source: known.Source{Provenance: known.Published, Cite: "M. S. Naidu and V. Kamaraju, High Voltage Engineering", Note: "read second-hand"},
			Eval: func(r, a []float64) error {
				m, err := FindSparkingMinimum("air", known.Published)
				r[0], r[1] = float64(m.Voltage), m.PD
				return err
			}},
	}
}

func capComputations() []compute.Entry {
	gauss := known.Source{Provenance: known.Computed, Cite: "Gauss with the breakdown law"}
	return []compute.Entry{
		{Name: "charge.CapBacked", Doc: "Gas cap of a film on earthed backing, min over z of ε0·V_b(z)·(t + εr·z)/(t·z).",
			Args:    []compute.Arg{arg("thickness", "m", "of the film", 1e-7, 1), argEpsr, argDensity},
			Results: []compute.Arg{outCap, outGap}, Covers: []string{"CapBacked", "CapBackedTo"}, Source: gauss,
			Eval: func(r, a []float64) error {
				s, z, _ := CapBacked(units.Length(a[0]), a[1], a[2])
				r[0], r[1] = float64(s), float64(z)
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
		{Name: "charge.CapBehindRoller", Doc: "Gas cap of a web that leaves an earthed roller, min over the gaps passed of ε0·V_b(h)·(1/h + 1/outer).",
			Args: []compute.Arg{arg("radius", "m", "of the roller", 1e-4, 10), arg("past", "m", "distance past the tangent point", 1e-6, 10),
				arg("outer", "m", "distance to the next earth on the outer side", 1e-6, 1e6), argDensity},
			Results: []compute.Arg{outCap, outGap}, Covers: []string{"CapBehindRoller"}, Source: gauss,
			Eval: func(r, a []float64) error {
				s, z, _ := CapBehindRoller(units.Length(a[0]), units.Length(a[1]), units.Length(a[2]), a[3])
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

func partingComputations() []compute.Entry {
	form := known.Source{Provenance: known.Memory, Cite: "J. A. Cross, Electrostatics: Principles, Problems and Applications (1987); D. M. Taylor and P. E. Secker, Industrial Electrostatics (1994)"}
	exit := arg("exit", "m", "exit zone in which the contact conducts", 0, 1)
	return []compute.Entry{
		{Name: "charge.BackFlow", Doc: "Part of the charge left after conduction back through the opening contact, exp(−ℓ/(v·ε0·εr·ρ)).",
			Args:    []compute.Arg{argSpeed, exit, argEpsr, arg("resistivity", "Ω·m", "volume resistivity", 0, 1e30)},
			Results: []compute.Arg{out("kept", "1", ""), out("tau", "s", "relaxation time")}, Covers: []string{"BackFlow", "BulkRelaxation", "BackFlowIdle"}, Source: form,
			Eval: func(r, a []float64) error {
				t := BulkRelaxation(a[2], units.VolumeResistivity(a[3]))
				r[0], r[1] = BackFlow(units.Speed(a[0]), units.Length(a[1]), t), float64(t)
				return nil
			}},
		{Name: "charge.SurfaceRelaxation", Doc: "Relaxation time of spreading along the face, ℓ²·Rs·ε0·εr/t, alone and beside a bulk path.",
			Args:    []compute.Arg{exit, arg("sheet_resistance", "Ω", "surface resistivity", 0, 1e30), arg("thickness", "m", "", 1e-9, 1), argEpsr, arg("bulk", "s", "relaxation time of the bulk", 0, 1e300)},
			Results: []compute.Arg{out("tau", "s", "surface alone"), out("both", "s", "both paths")}, Covers: []string{"SurfaceRelaxation", "Relaxation"}, Source: form,
			Eval: func(r, a []float64) error {
				t := SurfaceRelaxation(units.Length(a[0]), units.SheetResistance(a[1]), units.Length(a[2]), a[3])
				r[0], r[1] = float64(t), float64(Relaxation(t, units.Time(a[4])))
				return nil
			}},
		{Name: "charge.Parting.Part", Doc: "What is left after parting, the least of transferred charge, back-flow and gas cap.",
			Args: []compute.Arg{choice("place", "where it parts", "free span, one face", "free span, two faces", "film on earthed backing", "behind a roller"),
				arg("length", "m", "gap, film thickness, or radius of the roller", 1e-7, 10), arg("second", "1", "permittivity of the backed film, or distance past the tangent point in m", 0, 1e5),
				exit, argDensity, arg("charge", "C/m²", "of the parting face", -1, 1), arg("other", "C/m²", "of the opposite face", -1, 1), argSpeed, arg("tau", "s", "relaxation time of the face", 0, 1e300)},
			Results: []compute.Arg{out("left", "C/m²", "on the parting face"), out("stage", "1", "0 transfer, 1 back-flow, 2 gas"), out("gap", "m", "of the first breakdown, NaN if none"), out("voltage", "V", "there")},
			Covers:  []string{"NewParting", "FreePlace", "BackedPlace", "RollerPlace", "Parting.Part", "Parting.Left", "Parting.Cap", "Parting.FirstBreakdown"}, Source: form,
			Eval: func(r, a []float64) error {
				l := units.Length(a[1])
				place := FreePlace(int(a[0])+1, l)
				switch int(a[0]) {
				case 2:
					place = BackedPlace(l, a[2])
				case 3:
					place = RollerPlace(l, units.Length(a[2]), 1e6*units.Metre)
				}
				p, err := NewParting(PartingSpec{Place: place, Exit: units.Length(a[3]), Density: a[4]})
				if err != nil {
					return err
				}
				x := p.Part(units.SurfaceChargeDensity(a[5]), units.SurfaceChargeDensity(a[6]), units.Speed(a[7]), units.Time(a[8]))
				r[0], r[1], r[2], r[3] = float64(x.Left), float64(x.Stage), float64(x.Gap), float64(x.Voltage)
				return nil
			}},
	}
}
