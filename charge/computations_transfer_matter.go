package charge

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// matterComputations are those of particles, powders and liquids.
func matterComputations() []compute.Entry {
	var operations []string
	for _, o := range PowderOperations() {
		operations = append(operations, o.Name)
	}
	nfpa := known.Source{Provenance: known.Published, Cite: "NFPA 77-2000, Table B.2"}
	schoenSource := known.Source{Provenance: known.Memory, Cite: "G. Schön (1962); IEC TS 60079-32-1"}
	return []compute.Entry{
		{Name: "charge.Impact.Area", Doc: "Greatest area of contact of a sphere at normal impact, Hertz or plastic.",
			Args: []compute.Arg{arg("radius", "m", "", 1e-8, 0.1), arg("density", "kg/m³", "of the particle", 1e-3, 1e5), arg("young", "Pa", "modulus of the particle", 1, 1e13), arg("poisson", "1", "", -1, 0.5),
				arg("hardness", "Pa", "0: elastic at every speed", 0, 1e13), argSpeed},
			Results: []compute.Arg{out("area", "m²", ""), out("modulus", "Pa", "effective, against a rigid wall")},
			Covers:  []string{"NewImpact", "Impact.Area", "EffectiveModulus"}, Source: derived("Hertz, re-derived from the energy balance"),
			Eval: func(r, a []float64) error {
				e := EffectiveModulus(units.Pressure(a[2]), a[3], units.Pressure(math.Inf(1)), 0)
				i, err := NewImpact(ImpactSpec{Radius: units.Length(a[0]), Density: units.Density(a[1]), Modulus: e, Hardness: units.Pressure(a[4])})
				if err != nil {
					return err
				}
				r[0], r[1] = float64(i.Area(units.Speed(a[5]))), float64(e)
				return nil
			}},
		{Name: "charge.Impact.Charge", Doc: "Charge after an impact at an angle, q + σ_c·A(v sin β)·(1 − q/q_e).",
			Args: []compute.Arg{arg("radius", "m", "", 1e-8, 0.1), arg("density", "kg/m³", "of the particle", 1e-3, 1e5), arg("modulus", "Pa", "effective", 1, 1e13),
				arg("transferred", "C/m²", "charge per area of contact", -0.1, 0.1), arg("equilibrium", "C", "0: no saturation", -1, 1), arg("before", "C", "", -1, 1), argSpeed, arg("angle", "rad", "between path and wall", 0, math.Pi/2)},
			Results: []compute.Arg{out("after", "C", "")}, Covers: []string{"Impact.Charge", "Normal"}, Source: derived("condenser law on the Hertz area"),
			Eval: func(r, a []float64) error {
				i, err := NewImpact(ImpactSpec{Radius: units.Length(a[0]), Density: units.Density(a[1]), Modulus: units.Pressure(a[2]),
					Transferred: units.SurfaceChargeDensity(a[3]), Equilibrium: units.Charge(a[4])})
				if err != nil {
					return err
				}
				r[0] = float64(i.Charge(units.Charge(a[5]), Normal(units.Speed(a[6]), units.Angle(a[7]))))
				return nil
			}},
		{Name: "charge.FindPowderOperation", Doc: "Range of charge per mass by operation, and of the charge of a dose.",
			Args:    []compute.Arg{choice("operation", "", operations...), arg("mass", "kg", "of the dose", 0, 1e9)},
			Results: []compute.Arg{out("low", "C/kg", ""), out("high", "C/kg", ""), out("dose_low", "C", ""), out("dose_high", "C", "")},
			Covers:  []string{"FindPowderOperation", "PowderOperations", "PowderOperation.DoseCharge"}, Source: known.Source{Provenance: known.Published, Cite: "CLC/TR 50404:2003, clause 7.2.2, table 5", Note: "read in a reproduction"},
			Eval: func(r, a []float64) error {
				o, err := FindPowderOperation(operations[int(a[0])])
				l, h := o.DoseCharge(units.Mass(a[1]))
				r[0], r[1], r[2], r[3] = float64(o.Low), float64(o.High), float64(l), float64(h)
				return err
			}},
		{Name: "charge.ClassifyPowder", Doc: "Class of a powder by its volume resistivity.",
			Args: []compute.Arg{arg("resistivity", "Ω·m", "", 0, 1e30)}, Results: []compute.Arg{out("class", "1", "0 low, 1 medium, 2 high")},
			Covers: []string{"ClassifyPowder"}, Source: known.Source{Provenance: known.Published, Cite: "CLC/TR 50404:2003, clause 7.2", Note: "read in a reproduction"},
			Eval: func(r, a []float64) error {
				c, err := ClassifyPowder(units.VolumeResistivity(a[0]))
				r[0] = float64(c)
				return err
			}},
		{Name: "charge.FieldToWeight", Doc: "Charge of a dose and the force of a field on it relative to its weight.",
			Args:    []compute.Arg{arg("charge_per_mass", "C/kg", "", -1, 1), arg("mass", "kg", "", 0, 1e9), arg("field", "V/m", "", -1e9, 1e9)},
			Results: []compute.Arg{out("charge", "C", ""), out("ratio", "1", "|q/m·E|/g")}, Covers: []string{"DoseCharge", "FieldToWeight"}, Source: derived("definition"),
			Eval: func(r, a []float64) error {
				r[0] = float64(DoseCharge(units.ChargePerMass(a[0]), units.Mass(a[1])))
				r[1] = FieldToWeight(units.ChargePerMass(a[0]), units.ElectricField(a[2]))
				return nil
			}},
		{Name: "charge.CloudField", Doc: "Field at the wall and potential in the middle of an evenly charged cloud, ρR/(n·ε0) and ρR²/(2n·ε0).",
			Args:    []compute.Arg{choice("shape", "", cloudNames[:]...), arg("radius", "m", "or half-width", 1e-6, 1e3), arg("concentration", "kg/m³", "of the dust", 0, 1e4), arg("charge_per_mass", "C/kg", "", -1, 1)},
			Results: []compute.Arg{out("field", "V/m", "at the wall"), out("potential", "V", "in the middle")}, Covers: []string{"CloudField"}, Source: derived("Gauss"),
			Eval: func(r, a []float64) error {
				e, v := CloudField(Cloud(a[0]), units.Length(a[1]), units.Density(a[2]), units.ChargePerMass(a[3]))
				r[0], r[1] = float64(e), float64(v)
				return nil
			}},
		{Name: "charge.ConeEnergy", Doc: "Greatest energy of a cone discharge, 5.22 mJ·D^3.36·d^1.46.",
			Args:    []compute.Arg{arg("silo", "m", "diameter", 0, 100), arg("grain", "m", "median diameter", 0, 0.1)},
			Results: []compute.Arg{out("energy", "J", "")}, Covers: []string{"ConeEnergy"}, Source: known.Source{Provenance: known.Memory, Cite: "M. Glor, cone discharges"},
			Eval: func(r, a []float64) error {
				w, _ := ConeEnergy(units.Length(a[0]), units.Length(a[1]))
				r[0] = float64(w)
				return nil
			}},
		{Name: "charge.Liquid", Doc: "Conductivity, permittivity and relaxation time of a liquid of the table; 0 or NaN where none is held.",
			Args: []compute.Arg{choice("liquid", "", liquidNames()...)},
			Results: []compute.Arg{out("conductivity", "S/m", ""), out("at_most", "1", "1: the conductivity is an upper bound"),
				out("permittivity", "1", ""), out("tau", "s", "")},
			Covers: []string{"FindLiquid", "Liquids", "Liquid.Relaxation"}, Source: nfpa,
			Eval: func(r, a []float64) error {
				l := &liquidTable()[int(a[0])]
				r[0], r[1], r[2], r[3] = float64(l.Conductivity), 0, l.Permittivity, float64(l.Relaxation())
				if l.AtMost {
					r[1] = 1
				}
				return nil
			}},
		{Name: "charge.LiquidRelaxation", Doc: "Relaxation time of a liquid, ε0·εr/κ.",
			Args:    []compute.Arg{argEpsr, arg("conductivity", "S/m", "", 0, 1e8)},
			Results: []compute.Arg{out("tau", "s", "")}, Covers: []string{"LiquidRelaxation", "Liquid.Relaxation", "FindLiquid", "Liquids"}, Source: nfpa,
			Eval: func(r, a []float64) error {
				r[0] = float64(Liquid{Permittivity: a[0], Conductivity: units.Conductivity(a[1])}.Relaxation())
				return nil
			}},
		{Name: "charge.StreamingCurrent", Doc: "Streaming current and charge density of a liquid in a pipe.",
			Args:    []compute.Arg{argSpeed, arg("bore", "m", "", 0, 10), arg("length", "m", "", 0, 1e6), arg("tau", "s", "relaxation time of the liquid", 0, 1e30)},
			Results: []compute.Arg{out("current", "A", ""), out("long", "A", "of an endless pipe"), out("density", "C/m³", "that leaves an endless pipe")},
			Covers:  []string{"StreamingCurrent", "StreamingDensity"}, Source: schoenSource,
			Eval: func(r, a []float64) error {
				i, _ := StreamingCurrent(units.Speed(a[0]), units.Length(a[1]), units.Length(a[2]), units.Time(a[3]))
				l, _ := StreamingCurrent(units.Speed(a[0]), units.Length(a[1]), units.Length(math.Inf(1)), units.Time(a[3]))
				q, _ := StreamingDensity(units.Speed(a[0]))
				r[0], r[1], r[2] = float64(i), float64(l), float64(q)
				return nil
			}},
		{Name: "charge.ResidenceKept", Doc: "Part of the charge of a liquid left after a residence time, exp(−t/τ).",
			Args: []compute.Arg{arg("time", "s", "", 0, 1e9), arg("tau", "s", "", 0, 1e30)}, Results: []compute.Arg{out("kept", "1", "")},
			Covers: []string{"ResidenceKept"}, Source: derived("exponential relaxation"),
			Eval: func(r, a []float64) error {
				r[0] = ResidenceKept(units.Time(a[0]), units.Time(a[1]))
				return nil
			}},
		{Name: "charge.VelocityLimit", Doc: "Customary limit of the filling velocity; from memory, to be read in the standard.",
			Args: []compute.Arg{choice("state", "", "two phases", "low conductivity", "conducting"), arg("bore", "m", "", 1e-4, 10)}, Results: []compute.Arg{out("speed", "m/s", "")},
			Covers: []string{"VelocityLimit"}, Source: schoenSource,
			Eval: func(r, a []float64) error {
				v, _ := VelocityLimit(LiquidFlow(a[0]), units.Length(a[1]))
				r[0] = float64(v)
				return nil
			}},
		{Name: "charge.RubbedDensity", Doc: "Charge density of a rubbed area from the potential of the body, C·V/A.",
			Args:    []compute.Arg{arg("capacitance", "F", "of the body", 0, 1), arg("voltage", "V", "", -1e9, 1e9), arg("area", "m²", "rubbed", 1e-12, 1e6)},
			Results: []compute.Arg{out("density", "C/m²", "")}, Covers: []string{"RubbedDensity"}, Source: known.Source{Provenance: known.Published, Cite: "M. Saito, Oyo Buturi 32 (1963) 301"},
			Eval: func(r, a []float64) error {
				r[0] = float64(RubbedDensity(units.Capacitance(a[0]), units.Voltage(a[1]), units.Area(a[2])))
				return nil
			}},
	}
}

func liquidNames() []string {
	names := make([]string, len(liquidTable()))
	for i := range names {
		names[i] = liquidTable()[i].Name
	}
	return names
}
