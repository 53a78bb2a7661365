package chargetest

import (
	"math"

	"example.org/pithball/charge"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

type contactFunc func(q, v, f float64) float64

func (c contactFunc) Transfer(q units.SurfaceChargeDensity, v units.Speed, f units.ForcePerWidth) units.SurfaceChargeDensity {
	if v == 0 || f == 0 {
		return q
	}
	return units.SurfaceChargeDensity(c(float64(q), float64(v), float64(f)))
}

// standing is a contact that charges at a standstill too.
type standing struct{}

func (standing) Transfer(q units.SurfaceChargeDensity, v units.Speed, f units.ForcePerWidth) units.SurfaceChargeDensity {
	return q/2 + units.SurfaceChargeDensity(1e-5+0*float64(v)+0*float64(f))
}

// BrokenContacts returns for every law of [ContactLaws] a contact that breaks it.
func BrokenContacts() map[string]Contact {
	return map[string]Contact{
		// Swallows NaN, as a comparison with a default does.
		"finite": contactFunc(func(q, v, f float64) float64 {
			if !(math.Abs(q) < 1) {
				q = 0
			}
			return 1e-5 + (q-1e-5)*0.5 + 0*v + 0*f
		}),
		"standstill": standing{},
		// Adds the strength of the pair whatever is there already, and more to more.
		"contraction": contactFunc(func(q, v, f float64) float64 { return 1.5*q + 1e-5 + 0*v + 0*f }),
		// Overshoots the saturation and comes back.
		"approach": contactFunc(func(q, v, f float64) float64 { return 1e-5 - 0.5*(q-1e-5) + 0*v + 0*f }),
		// Charges by the signed speed.
		"reversal": contactFunc(func(q, v, f float64) float64 { return q/2 + 1e-6*v + 0*f }),
	}
}

type rollerFunc func(w, r float64) (float64, float64)

func (m rollerFunc) Turn(w, r units.SurfaceChargeDensity, v units.Speed, f units.ForcePerWidth) (units.SurfaceChargeDensity, units.SurfaceChargeDensity) {
	a, b := m(float64(w), float64(r))
	return units.SurfaceChargeDensity(a), units.SurfaceChargeDensity(b)
}

// BrokenRollers returns for every law of [RollerLaws] a roller that breaks it.
func BrokenRollers() map[string]Roller {
	return map[string]Roller{
		"conservation": rollerFunc(func(w, r float64) (float64, float64) { return w + 1e-5, r }),
		// The charge it has taken pulls more.
		"starvation": rollerFunc(func(w, r float64) (float64, float64) { m := 1e-5 - r; return w + m, r - m }),
	}
}

// BrokenGases returns for every law of [GasLaws] a breakdown law that breaks it.
func BrokenGases() map[string]Gas {
	// The logarithmic form with one set of constants, as met in code: pd in
	// Torr·cm.
	ln := func(gap units.Length, delta float64) units.Voltage {
		pd := float64(gap) * 76000 * delta
		return units.Voltage(365 * pd / (math.Log(15*pd) - math.Log(math.Log(101))))
	}
	return map[string]Gas{
		"positive": ln, // negative left of the singularity
		"minimum":  func(gap units.Length, delta float64) units.Voltage { return AirGas(gap, delta) * 305 / 327 },
		// The density forgotten.
		"similarity": func(gap units.Length, delta float64) units.Voltage { return AirGas(gap, 1) + units.Voltage(0*delta) },
		// A strength that grows with the gap.
		"field": func(gap units.Length, delta float64) units.Voltage {
			return units.Voltage(1e9 * math.Pow(float64(gap)*delta, 1.5))
		},
		// 17 % too high at 1 cm.
		"published": func(gap units.Length, delta float64) units.Voltage {
			if float64(gap)*delta < 5e-5 {
				return AirGas(gap, delta)
			}
			return ln(gap, delta)
		},
	}
}

// faulty changes one answer of a good parting.
type faulty struct {
	Parting
	left func(m Parting, q, o units.SurfaceChargeDensity, v units.Speed, tau units.Time) (units.SurfaceChargeDensity, charge.Stage)
}

func (f faulty) Left(q, o units.SurfaceChargeDensity, v units.Speed, tau units.Time) (units.SurfaceChargeDensity, charge.Stage) {
	return f.left(f.Parting, q, o, v, tau)
}

func (f faulty) Cap() (units.SurfaceChargeDensity, units.Length, known.Validity) {
	return f.Parting.Cap()
}

// BrokenPartings returns for every law of [PartingLaws] a parting that breaks it.
func BrokenPartings() map[string]Parting {
	good, err := charge.NewParting(charge.PartingSpec{Place: charge.FreePlace(1, units.Millimetre), Exit: units.Millimetre, Density: 1})
	if err != nil {
		panic(err) // constants that the tests construct
	}
	b := map[string]Parting{}
	add := func(law string, left func(m Parting, q, o units.SurfaceChargeDensity, v units.Speed, tau units.Time) (units.SurfaceChargeDensity, charge.Stage)) {
		b[law] = faulty{&good, left}
	}
	type (
		sigma = units.SurfaceChargeDensity
		speed = units.Speed
		ticks = units.Time
	)
	add("finite", func(m Parting, q, o sigma, v speed, tau ticks) (sigma, charge.Stage) {
		l, s := m.Left(q, o, v, tau)
		if math.IsNaN(float64(l)) {
			l = 0
		}
		return l, s
	})
	add("cap", func(m Parting, q, o sigma, v speed, tau ticks) (sigma, charge.Stage) { return q, charge.TransferRuled })
	add("no creation", func(m Parting, q, o sigma, v speed, tau ticks) (sigma, charge.Stage) {
		c, _, _ := m.Cap()
		return c, charge.GasRuled // the cap as if every face carried it
	})
	add("odd", func(m Parting, q, o sigma, v speed, tau ticks) (sigma, charge.Stage) {
		if q < 0 {
			q *= 0.9
		}
		return m.Left(q, o, v, tau)
	})
	add("monotone", func(m Parting, q, o sigma, v speed, tau ticks) (sigma, charge.Stage) {
		return m.Left(q, o, speed(1/float64(v)), tau) // time and speed mixed up
	})
	add("insulator", func(m Parting, q, o sigma, v speed, tau ticks) (sigma, charge.Stage) {
		return m.Left(q/2, o, v, tau) // the field halved as if it left both ways
	})
	add("stage", func(m Parting, q, o sigma, v speed, tau ticks) (sigma, charge.Stage) {
		l, _ := m.Left(q, o, v, tau)
		return l, charge.TransferRuled
	})
	return b
}
