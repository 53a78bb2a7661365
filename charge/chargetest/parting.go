package chargetest

import (
	"math"

	"example.org/pithball/charge"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"example.org/pithball/units/lawtest"
)

// Parting is what a parting model must offer.
//
// Beyond physics, the laws ask: finite arguments give a finite result, and NaN as
// charge of either face or as speed gives NaN; an infinite relaxation time is an
// insulator; the cap is that with an uncharged opposite face, and the stage says gas
// exactly where it took charge from an insulator.
type Parting interface {
	// Left returns what is left on the parting face, and the stage that ruled.
	Left(charge, other units.SurfaceChargeDensity, v units.Speed, tau units.Time) (
		units.SurfaceChargeDensity, charge.Stage)
	// Cap returns the gas cap with its gap and validity.
	Cap() (units.SurfaceChargeDensity, units.Length, known.Validity)
}

// Limited is a parting that also says between which limits it leaves the face, in
// order; the law "limits" skips all others.
type Limited interface {
	// LeftLimits returns the least and the greatest charge density that is left.
	LeftLimits(charge, other units.SurfaceChargeDensity, v units.Speed, tau units.Time) (
		low, high units.SurfaceChargeDensity)
}

// PartingInput is where a parting is tried.
type PartingInput struct {
	Charge units.SurfaceChargeDensity // of the parting face, 10 nC/m² … 5 mC/m² of either sign
	Other  units.SurfaceChargeDensity // of the opposite face, up to 1 mC/m²
	Speed  units.Speed                // 1 mm/s … 100 m/s
	Tau    units.Time                 // relaxation time of the face, 1 µs … 1e6 s
}

// parting draws partings of package charge at every kind of place.
func parting(d *lawtest.Draw) Parting {
	length := func(name string, lo, hi units.Length) units.Length { return lawtest.Decades(d, name, lo, hi) }
	var p charge.Place
	switch lawtest.Pick(d, "place", "free, one face", "free, both faces", "backed", "roller") {
	case "free, one face":
		p = charge.FreePlace(1, length("gap", units.Micrometre, 0.1*units.Metre))
	case "free, both faces":
		p = charge.FreePlace(2, length("gap", units.Micrometre, 0.1*units.Metre))
	case "backed":
		p = charge.BackedPlace(length("thickness", units.Micrometre, units.Centimetre),
			lawtest.Between(d, "permittivity", 1.0, 10))
	default:
		p = charge.RollerPlace(length("radius", 5*units.Millimetre, units.Metre),
			length("past", units.Millimetre, 0.5*units.Metre), length("outer", units.Millimetre, 10*units.Metre))
	}
	return must(charge.NewParting(charge.PartingSpec{Place: p, Exit: lawtest.Between(d, "exit", 0, units.Centimetre),
		Density: lawtest.Between(d, "density", 0.7, 1.15)}))
}

type leaves = func(q, o sigma, v units.Speed, tau units.Time) (sigma, charge.Stage)

// faulty changes the answers of a good parting.
type faulty struct {
	*charge.Parting
	left leaves
}

func (f faulty) Left(q, o sigma, v units.Speed, tau units.Time) (sigma, charge.Stage) {
	return f.left(q, o, v, tau)
}

// narrow takes the discharge to stop at the cap.
type narrow struct{ *charge.Parting }

func (n narrow) LeftLimits(q, _ sigma, v units.Speed, tau units.Time) (sigma, sigma) {
	c, _, _ := n.Cap()
	l, s := n.Left(q, 0, v, tau)
	if s != charge.GasRuled {
		return l, l
	}
	a, b := math.Copysign(0.9*float64(c), float64(q)), math.Copysign(float64(c), float64(q))
	return sigma(min(a, b)), sigma(max(a, b))
}

// Partings returns the laws of a parting.
func Partings() lawtest.Kit[Parting, PartingInput] {
	type (
		speed = units.Speed
		ticks = units.Time
	)
	insulator := units.Time(math.Inf(1))
	left := func(m Parting, q, o sigma, v speed, tau ticks) sigma {
		l, _ := m.Left(q, o, v, tau)
		return l
	}
	bound := func(m Parting) sigma { c, _, _ := m.Cap(); return c }
	good := must(charge.NewParting(charge.PartingSpec{Place: charge.FreePlace(1, units.Millimetre), Exit: units.Millimetre,
		Density: 1}))
	bad := func(left leaves) Parting { return faulty{good, left} }
	return lawtest.Kit[Parting, PartingInput]{
		Models: parting,
		Input: func(d *lawtest.Draw, _ Parting) PartingInput {
			return PartingInput{Charge: lawtest.EitherSign(d, "charge", sigma(1e-8), sigma(5e-3)),
				Other: lawtest.Between(d, "other", -most, most),
				Speed: lawtest.Decades(d, "speed", 1e-3*units.MetrePerSecond, 100*units.MetrePerSecond),
				Tau:   lawtest.Decades(d, "tau", 1e-6*units.Second, 1e6*units.Second)}
		},
		Laws: []lawtest.Law[Parting, PartingInput]{{
			Name: "finite", Says: "finite in, finite out; NaN in, NaN out", Source: "total functions",
			Broken: bad(func(q, o sigma, v speed, tau ticks) (sigma, charge.Stage) {
				l, s := good.Left(q, o, v, tau)
				if l != l {
					l = 0
				}
				return l, s
			}),
			Check: func(m Parting, in PartingInput) error {
				return lawtest.Total(left(m, in.Charge, in.Other, in.Speed, in.Tau),
					left(m, nan[sigma](), in.Other, in.Speed, in.Tau), left(m, in.Charge, nan[sigma](), in.Speed, in.Tau),
					left(m, in.Charge, in.Other, nan[speed](), in.Tau))
			},
		}, {
			Name: "cap", Says: "|σ| ≤ cap with an uncharged opposite face", Source: "the gas lets no more survive",
			Broken: bad(func(q, o sigma, v speed, tau ticks) (sigma, charge.Stage) { return q, charge.TransferRuled }),
			Check: func(m Parting, in PartingInput) error {
				a := left(m, in.Charge, 0, in.Speed, in.Tau)
				return lawtest.That(abs(a) <= float64(bound(m))*(1+1e-12), "at most the cap of "+bound(m).String(), a)
			},
		}, {
			Name: "no creation", Says: "0 ≤ σ_left/σ ≤ 1 with an uncharged opposite face", Source: "parting creates no charge",
			// The cap as if every face carried it.
			Broken: bad(func(q, o sigma, v speed, tau ticks) (sigma, charge.Stage) { return bound(good), charge.GasRuled }),
			Check: func(m Parting, in PartingInput) error {
				a := left(m, in.Charge, 0, in.Speed, in.Tau)
				ok := float64(a)*float64(in.Charge) >= 0 && abs(a) <= abs(in.Charge)*(1+1e-12)
				return lawtest.That(ok, "between 0 and the charge", a)
			},
		}, {
			Name: "odd", Says: "σ_left(−σ, −other) = −σ_left(σ, other)", Source: "gas and conduction know no sign here",
			Broken: bad(func(q, o sigma, v speed, tau ticks) (sigma, charge.Stage) {
				if q < 0 {
					q *= 0.9
				}
				return good.Left(q, o, v, tau)
			}),
			Check: func(m Parting, in PartingInput) error {
				a, b := left(m, in.Charge, in.Other, in.Speed, in.Tau), left(m, -in.Charge, -in.Other, in.Speed, in.Tau)
				return lawtest.That(abs(a+b) <= slack(a, b), "opposite results", a, b)
			},
		}, {
			Name: "monotone", Says: "more speed and a longer relaxation time never leave less, up to the breakdown of the gas",
			Source: "less time to flow back; a discharge takes the face below the cap",
			// Time and speed mixed up.
			Broken: bad(func(q, o sigma, v speed, tau ticks) (sigma, charge.Stage) {
				return good.Left(q, o, speed(1/float64(v)), tau)
			}),
			Check: func(m Parting, in PartingInput) error {
				a := left(m, in.Charge, 0, in.Speed, in.Tau)
				b, fast := m.Left(in.Charge, 0, 2*in.Speed, in.Tau)
				c, slow := m.Left(in.Charge, 0, in.Speed, 2*in.Tau)
				least := abs(a) - slack(a)
				ok := (abs(b) >= least || fast == charge.GasRuled) && (abs(c) >= least || slow == charge.GasRuled)
				return lawtest.That(ok, "no less at 2v and at 2τ", a, b, c)
			},
		}, {
			Name: "insulator", Says: "an insulator keeps its charge up to the cap, and a fixed part of the cap above it",
			Source: "nothing flows back; what a discharge leaves does not depend on a large charge before",
			// The field halved as if it left both ways.
			Broken: bad(func(q, o sigma, v speed, tau ticks) (sigma, charge.Stage) { return good.Left(q/2, o, v, tau) }),
			Check: func(m Parting, in PartingInput) error {
				a, top := left(m, in.Charge, 0, in.Speed, insulator), bound(m)
				if q := abs(in.Charge); q <= float64(top) {
					return lawtest.That(math.Abs(abs(a)-q) <= slack(q), "all of it, up to the cap", a, top)
				}
				// Measured discharges leave from 0.3 to all of what was there.
				b := left(m, 2*in.Charge, 0, in.Speed, insulator)
				ok := abs(abs(a)-abs(b)) <= slack(a) && abs(a) >= 0.3*float64(top) && abs(a) <= float64(top)*(1+1e-12)
				return lawtest.That(ok, "0.3 … 1 of the cap of "+top.String()+", the same for 2σ", a, b)
			},
		}, {
			Name: "stage", Says: "the gas is said to rule exactly when it took charge",
			Source: "the result names what limited it",
			Broken: bad(func(q, o sigma, v speed, tau ticks) (sigma, charge.Stage) {
				return left(good, q, o, v, tau), charge.TransferRuled
			}),
			Check: func(m Parting, in PartingInput) error {
				want := charge.TransferRuled
				if abs(in.Charge) > float64(bound(m)) {
					want = charge.GasRuled
				}
				a, s := m.Left(in.Charge, 0, in.Speed, insulator)
				return lawtest.That(s == want, want.String(), s, a)
			},
		}, {
			Name: "limits", Says: "low ≤ σ_left ≤ high, one value below a third of the cap, where the gas does not break " +
				"down, and never more than the charge",
			Source: "a band holds what it is the band of",
			// The band of the cap alone, as if a discharge stopped there.
			Broken: narrow{good},
			Check: func(m Parting, in PartingInput) error {
				l, ok := m.(Limited)
				if !ok {
					return lawtest.Lacks(m, "LeftLimits(charge, other units.SurfaceChargeDensity, v units.Speed, "+
						"tau units.Time) (low, high units.SurfaceChargeDensity)")
				}
				low, high := l.LeftLimits(in.Charge, 0, in.Speed, in.Tau)
				a, s := m.Left(in.Charge, 0, in.Speed, in.Tau)
				wide := slack(a, low, high)
				ok = float64(low) <= float64(a)+wide && float64(a) <= float64(high)+wide &&
					abs(low) <= abs(in.Charge)+wide && abs(high) <= abs(in.Charge)+wide
				// Measured voltages of the least gaps reach down to 0.35 of the law's.
				if s != charge.GasRuled && abs(a) < float64(bound(m))/3 {
					ok = ok && abs(low-high) <= wide
				}
				return lawtest.That(ok, "limits around what is left", low, a, high)
			},
		}},
	}
}
