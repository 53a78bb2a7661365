package charge

import (
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func partingComputations() []compute.Entry {
	form := known.Source{Provenance: known.Memory, Cite: "J. A. Cross, Electrostatics: Principles, Problems and Applications (1987); D. M. Taylor and P. E. Secker, Industrial Electrostatics (1994)"}
	exit := arg("exit", "m", "exit zone in which the contact conducts", 0, 1)
	return []compute.Entry{
		{Name: "charge.CapBehindRoller", Doc: "Gas cap of a web that leaves an earthed roller, min over the gaps passed of ε0·V_b(h)·(1/h + 1/outer).",
			Args: []compute.Arg{arg("radius", "m", "of the roller", 1e-4, 10), arg("past", "m", "distance past the tangent point", 1e-6, 10),
				arg("outer", "m", "distance to the next earth on the outer side", 1e-6, 1e6), argDensity},
			Results: []compute.Arg{outCap, outGap}, Covers: []string{"CapBehindRoller"}, Source: known.Source{Provenance: known.Computed, Cite: "Gauss with the breakdown law"},
			Eval: func(r, a []float64) error {
				s, z, _ := CapBehindRoller(units.Length(a[0]), units.Length(a[1]), units.Length(a[2]), a[3])
				r[0], r[1] = float64(s), float64(z)
				return nil
			}},
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
				exit, argDensity, arg("charge", "C/m²", "of the parting face", -1, 1), arg("other", "C/m²", "of the opposite face", -1, 1), argSpeed, arg("tau", "s", "relaxation time of the face", 0, 1e300),
				arg("strength", "1", "breakdown voltage relative to the law, 0: median of measured ones", 0, 10),
				arg("discharge", "1", "part of the cap that a discharge leaves, 0: middle of the measured", 0, 1)},
			Results: []compute.Arg{out("left", "C/m²", "on the parting face"), out("stage", "1", "0 transfer, 1 back-flow, 2 gas"), out("gap", "m", "of the first breakdown, NaN if none"),
				out("voltage", "V", "there"), out("low", "C/m²", "lower limit of left"), out("high", "C/m²", "upper limit of left")},
			Covers: []string{"NewParting", "FreePlace", "BackedPlace", "RollerPlace", "Parting.Part", "Parting.Left", "Parting.LeftLimits", "Parting.Cap", "Parting.CapLimits", "Parting.FirstBreakdown"}, Source: form,
			Eval: func(r, a []float64) error {
				l := units.Length(a[1])
				place := FreePlace(int(a[0])+1, l)
				switch int(a[0]) {
				case 2:
					place = BackedPlace(l, a[2])
				case 3:
					place = RollerPlace(l, units.Length(a[2]), 1e6*units.Metre)
				}
				p, err := NewParting(PartingSpec{Place: place, Exit: units.Length(a[3]), Density: a[4], Strength: a[9], Discharge: a[10]})
				if err != nil {
					return err
				}
				x := p.Part(units.SurfaceChargeDensity(a[5]), units.SurfaceChargeDensity(a[6]), units.Speed(a[7]), units.Time(a[8]))
				r[0], r[1], r[2], r[3] = float64(x.Left), float64(x.Stage), float64(x.Gap), float64(x.Voltage)
				r[4], r[5] = float64(x.Low), float64(x.High)
				return nil
			}},
		{Name: "charge.DischargeLeaves", Doc: "What a discharge between parting faces leaves: of the charge before one discharge, and of the gas cap in the end, with 5 and 95 %.",
			Args: []compute.Arg{arg("before", "C/m²", "before one discharge", 0, 1), arg("cap", "C/m²", "gas cap", 0, 1)},
			Results: []compute.Arg{out("after_low", "C/m²", "after one discharge"), out("after", "C/m²", ""), out("after_high", "C/m²", ""),
				out("left_low", "C/m²", "in the end"), out("left", "C/m²", ""), out("left_high", "C/m²", "")},
			Covers: []string{"DischargeRatio", "DischargeLeaves"}, Source: dischargeSource,
			Eval: func(r, a []float64) error {
				for i, b := range []known.Band{DischargeRatio(), DischargeLeaves()} {
					lo, hi := b.Limits()
					r[3*i], r[3*i+1], r[3*i+2] = lo*a[i], b.Value*a[i], hi*a[i]
				}
				return nil
			}},
	}
}

var dischargeSource = known.Source{Provenance: known.Quoted,
	Cite: "R. G. Horn and D. T. Smith, Science 256 (1992) 362; with A. Grabbe, Nature 366 (1993) 442; B. A. Kwetkus et al., J. Phys. D 25 (1992) 139 and 1991; L. S. McCarty et al. (2006–07)",
	Via:  "a public collection of digitised breakdown data"}
