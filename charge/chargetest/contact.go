package chargetest

import (
	"math"

	"example.org/pithball/charge"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Contact is what a contact model must offer.
//
// Beyond physics, the laws ask: finite arguments give a finite result, and NaN in
// any of them gives NaN; at v = 0 or load = 0 the face keeps exactly what it had, for
// no area passes; only the magnitude of v counts.
type Contact interface {
	// Transfer returns the charge density of the face after the contact.
	Transfer(before units.SurfaceChargeDensity, v units.Speed, load units.ForcePerWidth) units.SurfaceChargeDensity
}

// ContactInput is where a contact is tried.
type ContactInput struct {
	Before, Other units.SurfaceChargeDensity // two charge densities of the face before, up to 1 mC/m²
	Speed         units.Speed                // 1 mm/s … 100 m/s
	Load          units.ForcePerWidth        // 0.1 N/m … 1 MN/m
}

func contactInput[M any](d *lawtest.Draw, _ M) ContactInput {
	return ContactInput{Before: lawtest.Between(d, "before", -most, most), Other: lawtest.Between(d, "other", -most, most),
		Speed: lawtest.Decades(d, "speed", 1e-3*units.MetrePerSecond, 100*units.MetrePerSecond),
		Load:  lawtest.Decades(d, "load", units.ForcePerWidth(0.1), units.ForcePerWidth(1e6))}
}

// contact draws contacts of package charge over the accepted range of exponents, the
// exponent of speed from least on.
func contact(d *lawtest.Draw, least float64) *charge.Contact {
	return must(charge.NewContact(charge.ContactSpec{
		Saturation:     lawtest.Between(d, "saturation", -most, most),
		Exposure:       lawtest.Between(d, "exposure", 0.0, 20),
		SpeedExponent:  lawtest.Between(d, "speed exponent", least, 2),
		LoadExponent:   lawtest.Between(d, "load exponent", -1.0, 2),
		ReferenceSpeed: lawtest.Decades(d, "reference speed", 0.01*units.MetrePerSecond, 50*units.MetrePerSecond),
		ReferenceLoad:  lawtest.Decades(d, "reference load", units.ForcePerWidth(1), units.ForcePerWidth(1e5))}))
}

// contactFunc is a wrong contact that does nothing at a standstill.
type contactFunc func(q, v float64) float64

func (c contactFunc) Transfer(q sigma, v units.Speed, f units.ForcePerWidth) sigma {
	if v == 0 || f == 0 {
		return q
	}
	return sigma(c(float64(q), float64(v)) + 0*float64(f))
}

// standing is a contact that charges at a standstill too.
type standing struct{}

func (standing) Transfer(q sigma, v units.Speed, f units.ForcePerWidth) sigma {
	return q/2 + sigma(1e-5+0*float64(v)+0*float64(f))
}

// Contacts returns the laws of a contact.
func Contacts() lawtest.Kit[Contact, ContactInput] {
	type law = lawtest.Law[Contact, ContactInput]
	model := func(d *lawtest.Draw) Contact { return contact(d, -1) }
	return lawtest.Kit[Contact, ContactInput]{Input: contactInput[Contact], Models: model, Laws: []law{{
		Name: "finite", Says: "finite in, finite out; NaN in, NaN out", Source: "total functions",
		// Swallows NaN, as a comparison with a default does.
		Broken: contactFunc(func(q, v float64) float64 {
			if !(math.Abs(q) < 1) {
				q = 0
			}
			return 1e-5 + (q-1e-5)*0.5 + 0*v
		}),
		Check: func(m Contact, in ContactInput) error {
			return lawtest.Total(m.Transfer(in.Before, in.Speed, in.Load), m.Transfer(nan[sigma](), in.Speed, in.Load),
				m.Transfer(in.Before, nan[units.Speed](), in.Load), m.Transfer(in.Before, in.Speed, nan[units.ForcePerWidth]()))
		},
	}, {
		Name: "standstill", Says: "T(σ, 0, F) = T(σ, v, 0) = σ",
		Source: "no area passes a contact at a standstill; a lifted contact touches nothing", Broken: standing{},
		Check: func(m Contact, in ContactInput) error {
			a, b := m.Transfer(in.Before, 0, in.Load), m.Transfer(in.Before, in.Speed, 0)
			return lawtest.That(a == in.Before && b == in.Before, "the charge before", a, b)
		},
	}, {
		Name: "contraction", Says: "0 ≤ (T(a) − T(b))/(a − b) ≤ 1",
		Source: "charge already on the face opposes further transfer, and the contact forgets no more than all of it",
		// Adds the strength of the pair whatever is there already, and more to more.
		Broken: contactFunc(func(q, v float64) float64 { return 1.5*q + 1e-5 + 0*v }),
		Check: func(m Contact, in ContactInput) error {
			a, b, d := m.Transfer(in.Before, in.Speed, in.Load), m.Transfer(in.Other, in.Speed, in.Load), in.Before-in.Other
			if d < 0 {
				a, b, d = b, a, -d
			}
			s := slack(a, b, d)
			return lawtest.That(float64(a-b) >= -s && float64(a-b) <= float64(d)+s, "a difference of 0 … "+d.String(), a, b)
		},
	}, {
		Name: "approach", Says: "each contact goes the same way as the one before, and no further",
		Source: "q_n tends to q∞ from either side without crossing it",
		// Overshoots the saturation and comes back.
		Broken: contactFunc(func(q, v float64) float64 { return 1e-5 - 0.5*(q-1e-5) + 0*v }),
		Check: func(m Contact, in ContactInput) error {
			once := m.Transfer(in.Before, in.Speed, in.Load)
			twice := m.Transfer(once, in.Speed, in.Load)
			s := slack(in.Before, once, twice)
			d, e := float64(once-in.Before), float64(twice-once)
			return lawtest.That(d*e >= -s*s && math.Abs(d*e) <= d*d+s*(math.Abs(d)+s), "steps of one sign, falling", once, twice)
		},
	}, {
		Name: "reversal", Says: "T(σ, −v, F) = T(σ, v, F)", Source: "the direction of travel does not count",
		// Charges by the signed speed.
		Broken: contactFunc(func(q, v float64) float64 { return q/2 + 1e-6*v }),
		Check: func(m Contact, in ContactInput) error {
			a, b := m.Transfer(in.Before, in.Speed, in.Load), m.Transfer(in.Before, -in.Speed, in.Load)
			return lawtest.That(a == b, "the same both ways", a, b)
		},
	}}}
}

// Growing returns the law that more speed never gives less charge to an uncharged
// face, for models whose exponent of speed is not negative.
func Growing() lawtest.Kit[Contact, ContactInput] {
	return lawtest.Kit[Contact, ContactInput]{Input: contactInput[Contact],
		Models: func(d *lawtest.Draw) Contact { return contact(d, 0) },
		Laws: []lawtest.Law[Contact, ContactInput]{{
			Name: "grows", Says: "|σ(2v)| ≥ |σ(v)|", Source: "what an exponent of speed of 0 or more means",
			Broken: contactFunc(func(q, v float64) float64 { return 1e-5 / (1 + v) }),
			Check: func(m Contact, in ContactInput) error {
				a, b := m.Transfer(0, in.Speed, in.Load), m.Transfer(0, 2*in.Speed, in.Load)
				ok := abs(b) >= abs(a)-slack(a, b) && float64(a)*float64(b) >= 0
				return lawtest.That(ok, "no less at 2v, of the same sign", a, b)
			},
		}}}
}

// Pair is a contact of two materials seen from either.
type Pair struct {
	AB, BA Contact // what A gains at B, and B at A
}

// Pairs returns the law that exchanging the partners changes the sign.
func Pairs() lawtest.Kit[Pair, ContactInput] {
	one := contactFunc(func(q, v float64) float64 { return 1e-5 + 0*v })
	return lawtest.Kit[Pair, ContactInput]{Input: contactInput[Pair], Laws: []lawtest.Law[Pair, ContactInput]{{
		Name: "swapped", Says: "σ(A,B) = −σ(B,A) on uncharged faces", Source: "what one gains the other loses",
		Broken: Pair{one, one},
		Check: func(m Pair, in ContactInput) error {
			a, b := m.AB.Transfer(0, in.Speed, in.Load), m.BA.Transfer(0, in.Speed, in.Load)
			return lawtest.That(abs(a+b) <= slack(a, b), "opposite charges", a, b)
		},
	}}}
}

// Roller is what a roller that keeps its charge must offer.
type Roller interface {
	// Turn returns the charge densities of web and roller face after the contact,
	// and what went elsewhere, to earthed parts and the air.
	Turn(web, cover units.SurfaceChargeDensity, v units.Speed, load units.ForcePerWidth) (
		webAfter, coverAfter, lost units.SurfaceChargeDensity)
	// Bound returns the most that the gas leaves on the roller face, +Inf for a
	// model without gas.
	Bound() units.SurfaceChargeDensity
}

type rollerFunc func(w, r sigma) (sigma, sigma)

func (m rollerFunc) Turn(w, r sigma, _ units.Speed, _ units.ForcePerWidth) (sigma, sigma, sigma) {
	w, r = m(w, r)
	return w, r, 0
}

func (rollerFunc) Bound() sigma { return 4e-5 }

// Rollers returns the laws of a roller; Before of the input is the web, Other the
// face of the roller.
func Rollers() lawtest.Kit[Roller, ContactInput] {
	type law = lawtest.Law[Roller, ContactInput]
	model := func(d *lawtest.Draw) Roller {
		return must(charge.NewCoveredRoller(charge.CoveredRollerSpec{Contact: *contact(d, -1),
			Radius:    lawtest.Decades(d, "radius", units.Millimetre, units.Metre),
			Tau:       lawtest.Decades(d, "time constant", 1e-6*units.Second, 1e6*units.Second),
			Thickness: lawtest.Decades(d, "thickness of the cover", 0.1*units.Millimetre, 0.1*units.Metre),
			Returned:  lawtest.Between(d, "returned", 0.0, 1)}))
	}
	return lawtest.Kit[Roller, ContactInput]{Input: contactInput[Roller], Models: model, Laws: []law{{
		Name: "conservation", Says: "σ_w' + σ_r' + lost = σ_w + σ_r", Source: "what the web gains the roller loses",
		Broken: rollerFunc(func(w, r sigma) (sigma, sigma) { return w + 1e-5, r }),
		Check: func(m Roller, in ContactInput) error {
			w, r, lost := m.Turn(in.Before, in.Other, in.Speed, in.Load)
			ok := abs(w+r+lost-(in.Before+in.Other)) <= slack(w, r, in.Before, in.Other)
			return lawtest.That(ok, "the sum before, "+(in.Before+in.Other).String(), w, r, lost)
		},
	}, {
		Name: "bound", Says: "|σ_r'| ≤ bound", Source: "the gas over the roller face breaks down above it",
		// Takes and takes.
		Broken: rollerFunc(func(w, r sigma) (sigma, sigma) { return w + 1e-5, r - 1e-5 }),
		Check: func(m Roller, in ContactInput) error {
			_, r, _ := m.Turn(in.Before, in.Other, in.Speed, in.Load)
			return lawtest.That(abs(r) <= float64(m.Bound())*(1+1e-12), "at most "+m.Bound().String(), r)
		},
	}, {
		Name: "starvation", Says: "the more the roller has taken, the less it takes",
		Source: "its charge opposes further transfer",
		// The charge it has taken pulls more.
		Broken: rollerFunc(func(w, r sigma) (sigma, sigma) { m := 1e-5 - r; return w + m, r - m }),
		Check: func(m Roller, in ContactInput) error {
			// Taken is the gain of the web; a roller charged against it has a greater
			// opposite charge, which is what giving leaves on it.
			fresh, _, _ := m.Turn(in.Before, 0, in.Speed, in.Load)
			gain := float64(fresh - in.Before)
			taken := sigma(-math.Copysign(1e-6, gain))
			tired, _, _ := m.Turn(in.Before, taken, in.Speed, in.Load)
			more := math.Copysign(1, gain) * (float64(tired-in.Before) - gain)
			ok := more <= slack(fresh, tired, in.Before, 1e-6)
			return lawtest.That(ok, "a gain that is no greater", fresh-in.Before, tired-in.Before)
		},
	}}}
}
