package charge

import (
	"math"
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func particleComputations() []compute.Entry {
	const particle = "radius 1e-8…0.1: of the particle; density 1e-3…1e5: of the particle"
	return []compute.Entry{
		compute.Of63("Impact.Area", func(r units.Length, rho units.Density, young units.Pressure, poisson float64,
			hardness units.Pressure,
			v units.Speed) (units.Area, units.Pressure, error) {
			e := EffectiveModulus(young, poisson, units.Pressure(math.Inf(1)), 0)
			i, err := NewImpact(ImpactSpec{Radius: r, Density: rho, Modulus: e, Hardness: hardness})
			if err != nil {
				return 0, 0, err
			}
			return i.Area(v), e, nil
		}, derived("Hertz, re-derived from the energy balance"), "= Greatest area of contact of a sphere at normal "+
			"impact, Hertz or plastic.",
			particle, "young 1…1e13: modulus of the particle; poisson -1…0.5: of the particle; "+
				"hardness 0…1e13: 0, elastic at every speed", aSpeed,
			"-> area: of contact; modulus: effective, against a rigid wall"),
		compute.Of("Impact.Charge", func(r units.Length, rho units.Density, m units.Pressure,
			per units.SurfaceChargeDensity, most, before units.Charge,
			v units.Speed, angle units.Angle) (units.Charge, error) {
			i, err := NewImpact(ImpactSpec{Radius: r, Density: rho, Modulus: m, Transferred: per, Equilibrium: most})
			if err != nil {
				return 0, err
			}
			return i.Charge(before, Normal(v, angle)), nil
		}, derived("condenser law on the Hertz area"), "= Charge after an impact at an angle, q + σ_c·A(v sin β)·(1 − "+
			"q/q_e).",
			particle, "modulus 1…1e13: effective; transferred -0.1…0.1: charge per area of contact; "+
				"equilibrium -1…1: 0, no saturation",
			"before -1…1: charge before", aSpeed, "angle 0…1.5707963267948966: between path and wall -> after: charge after"),
	}
}

func powderComputations() []compute.Entry {
	operations := PowderOperations()
	names := make([]string, len(operations))
	for i, o := range operations {
		names[i] = o.Name
	}
	clc := func(table, note string) known.Source {
		return known.Source{Provenance: known.Quoted, Cite: "CLC/TR 50404:2003, clause 7.2" + table,
			Via: "a copy of the clause", Note: note}
	}
	const perMass = "charge_per_mass -1…1: of the powder"
	return []compute.Entry{
		compute.Of("FindPowderOperation", func(i int, m units.Mass) (lo, hi units.ChargePerMass, low, high units.Charge,
			err error) {
			o, err := FindPowderOperation(names[i])
			low, high = o.DoseCharge(m)
			return o.Low, o.High, low, high, err
		}, clc(".2, table 5", ""), "= Range of charge per mass by operation, and of the charge of a dose.",
			"operation {"+strings.Join(names, "|")+"}: what was done; mass 0…1e9: of the dose",
			"! dust", "-> low: per mass; high: per mass; dose_low: of the dose; dose_high: of the dose"),
		compute.Of12("ClassifyPowder", ClassifyPowder, clc("", "1e10 Ω·m stands in two classes there"),
			"! dust", "resistivity 0…1e30: of the powder -> class: how fast it "+
				"loses charge"),
		compute.Of32("FieldToWeight", func(q units.ChargePerMass, m units.Mass, e units.ElectricField) (units.Charge,
			float64) {
			return DoseCharge(q, m), FieldToWeight(q, e)
		}, derived("definition"), "= Charge of a dose and the force of a field on it relative to its weight.",
			perMass, "mass 0…1e9: of the dose; field -1e9…1e9: at the dose -> charge: of the dose; ratio: |q/m·E|/g"),
		compute.Of42("CloudField", CloudField, derived("Gauss"), "shape: of the cloud; radius 1e-6…1e3: or half-width; "+
			"concentration 0…1e4: of the dust",
			perMass, "! dust", "-> field: at the wall; potential: in the middle"),
		compute.Of22("ConeEnergy", ConeEnergy, known.Source{Provenance: known.Memory, Cite: "M. Glor, cone discharges",
			Note: "not compared with the source"},
			"! cone-discharge dust", "silo 0…100: diameter; grain 0…0.1: median diameter -> energy: greatest of a cone "+
				"discharge; validity: flags"),
	}
}

func liquidComputations() []compute.Entry {
	lange := known.Source{Provenance: known.Quoted,
		Cite: "N. A. Lange, Handbook of Chemistry; CRC Handbook of Chemistry and Physics (2014)",
		Via:  "a public collection of chemical data", Note: "each row of the table has its own source"}
	schoen := known.Source{Provenance: known.Memory, Cite: "G. Schön (1962); IEC TS 60079-32-1",
		Note: "not compared with the source"}
	all := Liquids()
	names := make([]string, len(all))
	for i, l := range all {
		names[i] = l.Name
	}
	return []compute.Entry{
		compute.Of("FindLiquid", func(i int) (units.Conductivity, bool, float64, units.Time, error) {
			l, err := FindLiquid(names[i])
			return l.Conductivity, l.AtMost, l.Permittivity, l.Relaxation(), err
		}, lange, "= Conductivity, permittivity and relaxation time of a liquid of the table; 0 or NaN where none is held.",
			"liquid {"+strings.Join(names, "|")+"}: entry -> conductivity: as held; at_most: whether it is an upper bound",
			"! not-an-approval", "permittivity: relative; tau: relaxation time"),
		compute.Of43("StreamingCurrent", func(v units.Speed, d, l units.Length, tau units.Time) (i, long units.Current,
			q units.VolumeChargeDensity) {
			i, _ = StreamingCurrent(v, d, l, tau)
			long, _ = StreamingCurrent(v, d, units.Length(math.Inf(1)), tau)
			q, _ = StreamingDensity(v)
			return i, long, q
		}, schoen, "= Streaming current and charge density of a liquid in a pipe.",
			aSpeed, "bore 0…10: of the pipe; length 0…1e6: of the pipe; tau 0…1e30: relaxation time of the liquid",
			"! not-an-approval isolated-conductor", "-> current: at the end; long: of an endless pipe; "+
				"density: that leaves an endless pipe"),
		compute.Of21("ResidenceKept", ResidenceKept, derived("exponential relaxation"),
			"! not-an-approval", "time 0…1e9: of residence; tau 0…1e30: relaxation time -> kept: part of the charge left"),
		compute.Of22("VelocityLimit", VelocityLimit, schoen,
			"! not-an-approval", "state {two phases|low conductivity|conducting}: of the liquid; "+
				"bore 1e-4…10: of the pipe -> speed: customary limit; validity: flags"),
		compute.Of31("RubbedDensity", RubbedDensity, derived("C·V/A"),
			"capacitance 0…1: of the body; voltage -1e9…1e9: of the body; area 1e-12…1e6: rubbed "+
				"-> density: of the rubbed area"),
	}
}
