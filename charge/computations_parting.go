package charge

import (
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

var dischargeSource = known.Source{Provenance: known.Quoted,
	Cite: "R. G. Horn and D. T. Smith, Science 256 (1992) 362; with A. Grabbe, Nature 366 (1993) 442; " +
		"B. A. Kwetkus et al., J. Phys. D 25 (1992) 139 " +
		"and 1991; L. S. McCarty et al. (2006–07)",
	Via: "a public collection of digitised breakdown data"}

// limits are the 5, 50 and 95 % of a charge density.
type limits struct{ low, middle, high units.SurfaceChargeDensity }

func partingComputations() []compute.Entry {
	form := derived("conservation of charge in the opening gap")
	const exit = "exit 0…1: exit zone in which the contact conducts"
	type sigma = units.SurfaceChargeDensity
	return []compute.Entry{
		compute.Of43("CapBehindRoller", CapBehindRoller, derived("Gauss's law with the breakdown law"),
			"radius 1e-4…10: of the roller; past 1e-6…10: distance past the tangent point",
			"outer 1e-6…1e6: distance to the next earth on the outer side", aDensity,
			"-> cap: greatest charge density that the gas leaves; gap: gap of the breakdown that rules; validity: flags"),
		compute.Of42("BackFlow", func(v units.Speed, l units.Length, epsr float64, rho units.VolumeResistivity) (float64,
			units.Time) {
			t := bulkRelaxation(rho, epsr)
			return BackFlow(v, l, t), t
		}, form, "= Part of the charge left after conduction back through the opening contact, exp(−ℓ/(v·ε0·εr·ρ)).",
			aSpeed, exit, aEpsr, "resistivity 0…1e30: volume resistivity -> kept: part left; tau: relaxation time"),
		compute.Of52("SurfaceRelaxation", func(l units.Length, rs units.SheetResistance, t units.Length, epsr float64,
			bulk units.Time) (units.Time,
			units.Time) {
			tau := SurfaceRelaxation(l, rs, t, epsr)
			return tau, Relaxation(tau, bulk)
		}, form, "= Relaxation time of spreading along the face, ℓ²·Rs·ε0·εr/t, alone and beside a bulk path.",
			exit, "sheet_resistance 0…1e30: surface resistivity; thickness 1e-9…1: of the film", aEpsr,
			"bulk 0…1e300: relaxation time of the bulk",
			"-> tau: surface alone; both: both paths"),
		compute.Of("Parting.Part", func(where int, l units.Length, second float64, exit units.Length, delta float64, q,
			other sigma, v units.Speed,
			tau units.Time, strength, discharge float64) (Parted, error) {
			place := FreePlace(where+1, l)
			switch where {
			case 2:
				place = BackedPlace(l, second)
			case 3:
				place = RollerPlace(l, units.Length(second), 1e6*units.Metre)
			}
			p, err := NewParting(PartingSpec{Place: place, Exit: exit, Density: delta, Strength: strength, Discharge: discharge})
			if err != nil {
				return Parted{}, err
			}
			return p.Part(q, other, v, tau), nil
		}, form, "= What is left after parting, the least of transferred charge, back-flow and gas cap.",
			"place {free span, one face|free span, two faces|film on earthed backing|behind a roller}: where it parts",
			"length 1e-7…10: gap, film thickness, or radius of the roller; "+
				"second 0…1e5: permittivity of the backed film, or distance past the tangent point in m",
			exit, aDensity, "charge -1…1: of the parting face; other -1…1: of the opposite face", aSpeed,
			"tau 0…1e300: relaxation time of the face; "+
				"strength 0…10: breakdown voltage relative to the law, 0 for the median of measured ones",
			"discharge 0…1: part of the cap that a discharge leaves, 0 for the middle of the measured",
			"-> left: on the parting face; low: lower limit of left; high: upper limit of left; stage: which stage ruled",
			"kept: part of the charge that back-flow left; gas: removed by the gas; "+
				"gap: of the first breakdown, NaN if none; voltage: there"),
		compute.Of22("DischargeLeaves", func(before, cap sigma) (a, l limits) {
			of := func(b known.Band, x sigma) limits {
				lo, hi := b.Limits()
				q := float64(x)
				return limits{sigma(lo * q), sigma(b.Value * q), sigma(hi * q)}
			}
			return of(DischargeRatio(), before), of(DischargeLeaves(), cap)
		}, dischargeSource, "= What a discharge between parting faces leaves: of the charge before one discharge, and "+
			"of the gas cap in the end, "+
			"with 5 and 95 %.",
			"before 0…1: before one discharge; cap 0…1: gas cap",
			"-> after_low: after one discharge, 5 %; after: middle; after_high: 95 %; left_low: in the end, 5 %; "+
				"left: middle; left_high: 95 %"),
	}
}
