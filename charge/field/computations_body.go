package field

import (
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
)

func fieldBodyComputations() []compute.Entry {
	m := func(x float64) units.Length { return units.Length(x) }
	resC := result("capacitance", "F")
	one := func(name, doc string, args []compute.Arg, cover string, f func(a []float64) units.Capacitance) compute.Entry {
		return scalar("charge."+name, doc, args, resC, electrostatics, []string{cover}, func(a []float64) float64 { return float64(f(a)) })
	}
	field := result("field", "V/m")
	return []compute.Entry{
		one("SphereCapacitance", "isolated sphere, 4πε0r", []compute.Arg{argRadius}, "SphereCapacitance",
			func(a []float64) units.Capacitance { return SphereCapacitance(m(a[0])) }),
		one("DiscCapacitance", "isolated thin disc, 8ε0r", []compute.Arg{argRadius}, "DiscCapacitance",
			func(a []float64) units.Capacitance { return DiscCapacitance(m(a[0])) }),
		one("RodCapacitance", "isolated prolate spheroid of length L and diameter D", []compute.Arg{argLength, fieldArg("diameter", "m", "not above the length", 1e-9, 1e6)}, "RodCapacitance",
			func(a []float64) units.Capacitance { return RodCapacitance(m(a[0]), m(a[1])) }),
		one("SphereOverPlaneCapacitance", "sphere over an earthed plane, series of images", []compute.Arg{argRadius, fieldArg("gap", "m", "sphere to plane", 1e-12, 1e6)}, "SphereOverPlaneCapacitance",
			func(a []float64) units.Capacitance { return SphereOverPlaneCapacitance(m(a[0]), m(a[1])) }),
		one("PlateCapacitance", "two plates, ε0εrA/d", []compute.Arg{fieldArg("area", "m²", "", 0, 1e6), fieldArg("distance", "m", "", 1e-12, 1e3), argEpsR}, "PlateCapacitance",
			func(a []float64) units.Capacitance { return PlateCapacitance(units.Area(a[0]), m(a[1]), a[2]) }),
		one("CylinderOverPlaneCapacitance", "cylinder over an earthed plane, 2πε0L/arcosh(H/R)", []compute.Arg{argRadius, argLength, fieldArg("axis", "m", "height of the axis, above the radius", 1e-12, 1e6)}, "CylinderOverPlaneCapacitance",
			func(a []float64) units.Capacitance { return CylinderOverPlaneCapacitance(m(a[0]), m(a[1]), m(a[2])) }),
		one("CoaxialCapacitance", "shaft in a sleeve, 2πε0εrL/ln(b/a)", []compute.Arg{fieldArg("inner", "m", "radius", 1e-9, 1e3), fieldArg("outer", "m", "radius, above the inner", 1e-9, 1e3), argLength, argEpsR}, "CoaxialCapacitance",
			func(a []float64) units.Capacitance { return CoaxialCapacitance(m(a[0]), m(a[1]), m(a[2]), a[3]) }),
		scalar("charge.SphereField", "field before a charged sphere, kQ/(4πε0(a+s)²)", []compute.Arg{argCharge, fieldArg("radius", "m", "", 0, 1e3), fieldArg("distance", "m", "from the surface", 1e-9, 1e6), argFacing}, field, electrostatics,
			[]string{"SphereField"}, func(a []float64) float64 {
				return float64(SphereField(units.Charge(a[0]), m(a[1]), m(a[2]), Facing(a[3])))
			}),
		scalar("charge.CylinderField", "field before a charged bottle, of a line charge on its axis", []compute.Arg{argCharge, fieldArg("radius", "m", "", 0, 1e3), fieldArg("length", "m", "", 0, 1e6), fieldArg("distance", "m", "from the side", 1e-9, 1e6), argFacing}, field, electrostatics,
			[]string{"CylinderField"}, func(a []float64) float64 {
				return float64(CylinderField(units.Charge(a[0]), m(a[1]), m(a[2]), m(a[3]), Facing(a[4])))
			}),
		scalar("charge.BoxField", "field before a box with the same charge density on all faces", []compute.Arg{fieldArg("density", "C/m²", "", -1e-2, 1e-2), fieldArg("width", "m", "", 1e-6, 1e3), fieldArg("height", "m", "", 1e-6, 1e3), fieldArg("depth", "m", "", 1e-6, 1e3), fieldArg("distance", "m", "", 1e-6, 1e3), argFacing}, field, electrostatics,
			[]string{"BoxField"}, func(a []float64) float64 {
				return float64(BoxField(units.SurfaceChargeDensity(a[0]), m(a[1]), m(a[2]), m(a[3]), m(a[4]), Facing(a[5])))
			}),
		scalar("charge.StreamField", "field beside a falling stream, k(q/m)(ṁ/v)/(2πε0s)", []compute.Arg{fieldArg("charge_per_mass", "C/kg", "", -1, 1), fieldArg("flow", "kg/s", "", 0, 1e4), fieldArg("speed", "m/s", "", 1e-6, 1e3), fieldArg("distance", "m", "", 1e-6, 1e3), argFacing}, field, electrostatics,
			[]string{"StreamField"}, func(a []float64) float64 {
				return float64(StreamField(units.ChargePerMass(a[0]), units.MassFlow(a[1]), units.Speed(a[2]), m(a[3]), Facing(a[4])))
			}),
		{Name: "charge.Stack.Voltage", Doc: "potential of the top of a pile of charged sheets on an earthed plate",
			Args: []compute.Arg{argThick, argEpsR, fieldArg("upper", "C/m²", "upper face", -1e-2, 1e-2), fieldArg("lower", "C/m²", "lower face", -1e-2, 1e-2), fieldArg("air_gap", "m", "under each sheet", 0, 1),
				fieldArg("width", "m", "least width of the pile", 1e-3, 1e3), fieldArg("sheets", "1", "number, whole", 0, 1e9), fieldArg("target", "V", "for the number of sheets to reach it", 1e-9, 1e12)},
			Results: []compute.Arg{result("voltage", "V"), result("validity", "1"), result("sheets_to_target", "1"), result("height", "m")},
			Covers:  []string{"NewStack", "Stack.Voltage", "Stack.SheetsTo", "Stack.Height", "Stack.Spec"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				k, err := NewStack(StackSpec{Thickness: m(a[0]), RelativePermittivity: a[1], Upper: units.SurfaceChargeDensity(a[2]), Lower: units.SurfaceChargeDensity(a[3]), AirGap: m(a[4]), Width: m(a[5])})
				if err != nil {
					return err
				}
				v, ok := k.Voltage(int(a[6]))
				n, found := k.SheetsTo(units.Voltage(a[7]))
				if !found {
					n = -1
				}
				r[0], r[1], r[2], r[3] = float64(v), float64(ok), float64(n), float64(k.Height(int(a[6])))
				return nil
			}},
		{Name: "charge.Roll.At", Doc: "field and potential at the surface of a winding roll, on an insulating or an earthed core",
			Args: []compute.Arg{fieldArg("core_radius", "m", "", 1e-4, 10), {Name: "core", Unit: "1", Low: 0, High: 1, Choices: []string{"insulating", "earthed"}}, argThick, argEpsR,
				fieldArg("outer", "C/m²", "outward face", -1e-2, 1e-2), fieldArg("inner", "C/m²", "inward face", -1e-2, 1e-2), fieldArg("surroundings", "m", "radius of the earthed room", 1e-3, 1e3), fieldArg("wraps", "1", "number, whole", 0, 1e6), fieldArg("target", "V/m", "field for the number of wraps to reach it", 1, 1e9)},
			Results: []compute.Arg{result("radius", "m"), result("field", "V/m"), result("voltage", "V"), result("wraps_to_target", "1")},
			Covers:  []string{"NewRoll", "Roll.At", "Roll.WrapsTo", "Roll.Spec"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				w, err := NewRoll(RollSpec{CoreRadius: m(a[0]), EarthedCore: a[1] == 1, Thickness: m(a[2]), RelativePermittivity: a[3], Outer: units.SurfaceChargeDensity(a[4]), Inner: units.SurfaceChargeDensity(a[5]), Surroundings: m(a[6])})
				if err != nil {
					return err
				}
				s := w.At(int(a[7]))
				n, found := w.WrapsTo(units.ElectricField(a[8]))
				if !found {
					n = -1
				}
				r[0], r[1], r[2], r[3] = float64(s.Radius), float64(s.Field), float64(s.Voltage), float64(n)
				return nil
			}},
		scalar("charge.DustPickUp", "dust collected relative to a reference state of the same surface, |E|t/(|E_ref|t_ref)",
			[]compute.Arg{fieldArg("field", "V/m", "", -1e8, 1e8), fieldArg("reference", "V/m", "not 0", -1e8, 1e8), fieldArg("time", "s", "", 0, 1e9), fieldArg("reference_time", "s", "", 1e-3, 1e9)},
			result("relative", "1"), electrostatics, []string{"DustPickUp"}, func(a []float64) float64 {
				return DustPickUp(units.ElectricField(a[0]), units.ElectricField(a[1]), units.Time(a[2]), units.Time(a[3]))
			}),
	}
}
