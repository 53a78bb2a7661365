package field

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func fieldMeterComputations() []compute.Entry {
	m := func(x float64) units.Length { return units.Length(x) }
	meterArgs := []compute.Arg{fieldArg("nominal", "m", "distance for which the display is marked", 1e-3, 1),
		{Name: "guarded", Unit: "1", Low: 0, High: 1, Choices: []string{"bare face", "guarded face"}},
		fieldArg("face", "m", "radius of the face", 1e-3, 1), fieldArg("sheet", "m", "radius of the charged sheet, for a bare face", 1e-3, 1e3),
		fieldArg("full_scale", "V(display)", "", 1, 1e6), fieldArg("gain", "1", "", 1e-3, 1e3), fieldArg("offset", "V(display)", "", -1e5, 1e5)}
	build := func(a []float64) (FieldMeter, error) {
		return NewFieldMeter(FieldMeterSpec{Nominal: m(a[0]), Guarded: a[1] == 1, FaceRadius: m(a[2]), SheetRadius: m(a[3]),
			FullScale: units.DisplayVoltage(a[4]), Gain: known.Band{Value: a[5]}, Offset: known.Band{Value: a[6]}})
	}
	with := func(more ...compute.Arg) []compute.Arg {
		return append(append([]compute.Arg(nil), meterArgs...), more...)
	}
	film := []compute.Arg{argThick, argEpsR}
	return []compute.Entry{
		{Name: "charge.FieldMeter.Display", Doc: "display of a field meter before a wide web, gain·d0·(σ/ε0)·factor + offset, and its sensitivity to distance",
			Args:    with(argNet, fieldArg("distance", "m", "meter to web", 1e-4, 10), fieldArg("gap", "m", "web to earthed metal", 1e-6, 1e6)),
			Results: []compute.Arg{result("display", "V(display)"), result("factor", "1"), result("distance_sensitivity", "1"), result("saturated", "1")},
			Covers: []string{"NewFieldMeter", "FieldMeter.Display", "FieldMeter.DisplayAt", "FieldMeter.Factor", "FieldMeter.DistanceSensitivity", "FieldMeter.Saturated",
				"FieldMeter.With", "FieldMeter.Spec", "FieldMeter.DisplayTo"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				f, err := build(a)
				if err != nil {
					return err
				}
				var dst [1]units.DisplayVoltage
				if err := f.DisplayTo(dst[:], []units.SurfaceChargeDensity{units.SurfaceChargeDensity(a[7])}, []units.Length{m(a[8])}, []units.Length{m(a[9])}); err != nil {
					return err
				}
				r[0], r[1], r[2], r[3] = float64(dst[0]), f.Factor(m(a[8]), m(a[9])), f.DistanceSensitivity(m(a[8]), m(a[9])), 0
				if f.Saturated(dst[0]) {
					r[3] = 1
				}
				return nil
			}},
		{Name: "charge.FieldMeter.Net", Doc: "net charge density and field that a display stands for, and the display corrected to the nominal distance",
			Args:    with(fieldArg("shown", "V(display)", "", -1e6, 1e6), fieldArg("distance", "m", "meter to web", 1e-4, 10), fieldArg("distance_spread", "m", "standard deviation of the distance", 0, 1), fieldArg("gap", "m", "web to earthed metal", 1e-6, 1e6)),
			Results: []compute.Arg{result("net", "C/m²"), result("net_sd", "C/m²"), result("field", "V/m"), result("at_nominal", "V(display)"), result("spread", "1"), result("display_of_field", "V(display)")},
			Covers:  []string{"FieldMeter.Net", "FieldMeter.NetAt", "FieldMeter.NetTo", "FieldMeter.FieldShown", "FieldMeter.Corrected", "FieldMeter.DisplayOf", "FieldMeter.NetWithSD"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				f, err := build(a)
				if err != nil {
					return err
				}
				var dst [1]units.SurfaceChargeDensity
				v := units.DisplayVoltage(a[7])
				if err := f.NetTo(dst[:], []units.DisplayVoltage{v}, []units.Length{m(a[8])}, []units.Length{m(a[10])}); err != nil {
					return err
				}
				e := f.FieldShown(v)
				at, spread := f.Corrected(v, m(a[8]), m(a[9]), m(a[10]))
				_, sd := f.NetWithSD(v, m(a[8]), m(a[9]), m(a[10]), 0)
				r[0], r[1], r[2], r[3], r[4], r[5] = float64(dst[0]), float64(sd), float64(e), float64(at), spread, float64(f.DisplayOf(e))
				return nil
			}},
		{Name: "charge.FieldMeter.PatchSpread", Doc: "standard deviation between displays of a guarded meter before patchy charge",
			Args:    with(fieldArg("rms", "C/m²", "standard deviation of the charge density", 0, 1e-2), fieldArg("correlation", "m", "correlation length", 1e-6, 1e3), fieldArg("distance", "m", "meter to web", 1e-4, 10), argBackGap),
			Results: []compute.Arg{result("spread", "V(display)")}, Covers: []string{"FieldMeter.PatchSpread"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				f, err := build(a)
				if err != nil {
					return err
				}
				r[0] = float64(f.PatchSpread(units.SurfaceChargeDensity(a[7]), m(a[8]), m(a[9]), m(a[10])))
				return nil
			}},
		{Name: "charge.Voltmeter", Doc: "non-contact voltmeter over a film: reading [σ_near(t/εr+h)+σ_far·h]/ε0, the outer face it stands for on a roller, what it can detect",
			Args: append(append([]compute.Arg(nil), film...), argNear, argFar, fieldArg("gap", "m", "far face to earthed metal", 0, 1e3),
				fieldArg("full_scale", "V", "", 1, 1e5), fieldArg("floor", "V", "standard deviation on bare metal", 1e-3, 100),
				fieldArg("gain_spread", "1", "relative standard deviation", 0, 1), fieldArg("thickness_spread", "1", "relative", 0, 1), fieldArg("permittivity_spread", "1", "relative", 0, 1)),
			Results: []compute.Arg{result("reading", "V"), result("outer", "C/m²"), result("outer_sd", "C/m²"), result("detectable", "C/m²"), result("saturated", "1")},
			Covers:  []string{"NewVoltmeter", "Voltmeter.Shows", "Voltmeter.OuterFace", "Voltmeter.Detectable", "Voltmeter.Saturated", "Voltmeter.With", "Voltmeter.Spec"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				f := Film{m(a[0]), a[1]}
				v, err := NewVoltmeter(VoltmeterSpec{FullScale: units.Voltage(a[5]), Floor: units.Voltage(a[6]), Gain: known.Band{Value: 1, Spread: a[7], Kind: known.Normal}})
				if err != nil {
					return err
				}
				shown := v.Shows(units.SurfaceChargeDensity(a[2]), units.SurfaceChargeDensity(a[3]), f, m(a[4]))
				outer, sd := v.OuterFace(shown, f, a[8], a[9])
				r[0], r[1], r[2], r[3], r[4] = float64(shown), float64(outer), float64(sd), float64(v.Detectable(f)), 0
				if v.Saturated(shown) {
					r[4] = 1
				}
				return nil
			}},
		{Name: "charge.SeparateFaces", Doc: "both face charges from a net reading and readings of face A and face B, weighted least squares; a standard deviation of 0 leaves a reading out",
			Args: []compute.Arg{argNet, fieldArg("net_sd", "C/m²", "0: not read", 0, 1), fieldArg("a", "C/m²", "face A", -1e-2, 1e-2), fieldArg("a_sd", "C/m²", "0: not read", 0, 1),
				fieldArg("b", "C/m²", "face B", -1e-2, 1e-2), fieldArg("b_sd", "C/m²", "0: not read", 0, 1)},
			Results: []compute.Arg{result("known", "1"), result("a", "C/m²"), result("b", "C/m²"), result("a_sd", "C/m²"), result("b_sd", "C/m²"), result("misfit", "1")},
			Covers:  []string{"SeparateFaces", "ObservedNet", "ObservedFaceA", "ObservedFaceB"},
			Source:  known.Source{Provenance: known.Published, Cite: "weighted linear least squares (Gauss–Markov theorem)"},
			Eval: func(r, a []float64) error {
				s := func(i int) units.SurfaceChargeDensity { return units.SurfaceChargeDensity(a[i]) }
				var obs []FaceObservation
				if a[1] > 0 {
					obs = append(obs, ObservedNet(s(0), s(1)))
				}
				if a[3] > 0 {
					obs = append(obs, ObservedFaceA(s(2), s(3)))
				}
				if a[5] > 0 {
					obs = append(obs, ObservedFaceB(s(4), s(5)))
				}
				f, err := SeparateFaces(obs...)
				if err != nil {
					return err
				}
				r[0], r[1], r[2], r[3], r[4], r[5] = float64(f.Known), float64(f.A), float64(f.B), float64(f.SDA), float64(f.SDB), f.Misfit
				return nil
			}},
		{Name: "charge.Repeats", Doc: "readings at each of two places that tell their means apart, (z+z)²·cv²·(a²+b²)/(a−b)²",
			Args:    []compute.Arg{fieldArg("a", "V(display)", "", -1e6, 1e6), fieldArg("b", "V(display)", "", -1e6, 1e6), fieldArg("cv", "1", "coefficient of variation of single readings", 1e-6, 100), fieldArg("alpha", "1", "chance of a false difference", 1e-9, 0.999), fieldArg("power", "1", "chance to see this one", 1e-3, 0.999999)},
			Results: []compute.Arg{result("n", "1")}, Covers: []string{"Repeats"}, Source: known.Source{Provenance: known.Published, Cite: "sample size for two normal means with known spread, two-sided; any textbook of statistics"},
			Eval: func(r, a []float64) error {
				n, err := Repeats(units.DisplayVoltage(a[0]), units.DisplayVoltage(a[1]), a[2], a[3], a[4])
				r[0] = float64(n)
				return err
			}},
		{Name: "charge.Lint", Doc: "flaws of a reading as bits: distance, metal near, width, repeats",
			Args: []compute.Arg{argDistance, argBackGap, fieldArg("width", "m", "0: wide", 0, 1e3), fieldArg("repeats", "1", "readings of the spot", 0, 1e6),
				{Name: "zeroed", Unit: "1", Low: 0, High: 1, Choices: []string{"no", "yes"}}, {Name: "earthed", Unit: "1", Low: 0, High: 1, Choices: []string{"no", "yes"}}},
			Results: []compute.Arg{result("flaws", "1"), result("unusable", "1")}, Covers: []string{"ReadingConditions.Lint", "ReadingFlaws.Unusable", "ReadingFlaws.Has"},
			Source: known.Source{Provenance: known.CommonPractice, Note: "limits derived from h/(d+h) and the strip formula"},
			Eval: func(r, a []float64) error {
				f := ReadingConditions{Distance: m(a[0]), Gap: m(a[1]), Width: m(a[2]), Repeats: int(math.Trunc(a[3])), Zeroed: a[4] == 1, Earthed: a[5] == 1,
					BothFaces: true, HumidityHere: true, Running: true, TroubleRunning: true}.Lint()
				r[0], r[1] = float64(f), 0
				if f.Unusable() {
					r[1] = 1
				}
				return nil
			}},
	}
}
