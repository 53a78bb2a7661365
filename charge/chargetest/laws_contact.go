package chargetest

import (
	"math"

	"example.org/pithball/units"
)

// Contact is what a contact model must offer.
type Contact interface {
	// Transfer returns the charge density of the face after the contact.
	Transfer(before units.SurfaceChargeDensity, v units.Speed, load units.ForcePerWidth) units.SurfaceChargeDensity
}

// ContactInput is where a contact is tried.
type ContactInput struct {
	Before, Other units.SurfaceChargeDensity // two charge densities of the face before
	Speed         units.Speed                // above 0
	Load          units.ForcePerWidth        // above 0
}

// slack is for rounding only: relative to the largest charge density in play.
func slack(xs ...float64) float64 {
	s := 0.0
	for _, x := range xs {
		s = math.Max(s, math.Abs(x))
	}
	return 1e-13*s + 1e-300
}

// ContactLaws returns the laws of a contact, cheapest first.
func ContactLaws() []Law[Contact, ContactInput] {
	nan := math.NaN()
	return []Law[Contact, ContactInput]{
		{"finite", "finite in, finite out; NaN in, NaN out", "total functions",
			func(m Contact, in ContactInput) error {
				a := float64(m.Transfer(in.Before, in.Speed, in.Load))
				b := float64(m.Transfer(units.SurfaceChargeDensity(nan), in.Speed, in.Load))
				c := float64(m.Transfer(in.Before, units.Speed(nan), in.Load))
				d := float64(m.Transfer(in.Before, in.Speed, units.ForcePerWidth(nan)))
				return broken(finite(a) && math.IsNaN(b) && math.IsNaN(c) && math.IsNaN(d), "finite", in, "a number, then NaN three times", a, b, c, d)
			}},
		{"standstill", "T(σ, 0, F) = T(σ, v, 0) = σ", "no area passes a contact at a standstill; a lifted contact touches nothing",
			func(m Contact, in ContactInput) error {
				a, b := m.Transfer(in.Before, 0, in.Load), m.Transfer(in.Before, in.Speed, 0)
				return broken(a == in.Before && b == in.Before, "standstill", in, "the charge before", float64(a), float64(b))
			}},
		{"contraction", "0 ≤ (T(a) − T(b))/(a − b) ≤ 1", "charge already on the face opposes further transfer, and the contact forgets no more than all of it",
			func(m Contact, in ContactInput) error {
				a, b := float64(m.Transfer(in.Before, in.Speed, in.Load)), float64(m.Transfer(in.Other, in.Speed, in.Load))
				d := float64(in.Before - in.Other)
				if d < 0 {
					a, b, d = b, a, -d
				}
				s := slack(a, b, d)
				return broken(a-b >= -s && a-b <= d+s, "contraction", in, "0 ≤ T(a) − T(b) ≤ a − b", a, b, d)
			}},
		{"approach", "each contact goes the same way as the one before, and no further", "q_n tends to q∞ from either side without crossing it",
			func(m Contact, in ContactInput) error {
				x := float64(in.Before)
				y := float64(m.Transfer(in.Before, in.Speed, in.Load))
				z := float64(m.Transfer(units.SurfaceChargeDensity(y), in.Speed, in.Load))
				s := slack(x, y, z)
				d, e := y-x, z-y
				return broken(d*e >= -s*s && math.Abs(d*e) <= d*d+s*(math.Abs(d)+s), "approach", in, "steps of one sign, falling", x, y, z)
			}},
		{"reversal", "T(σ, −v, F) = T(σ, v, F)", "the direction of travel does not count",
			func(m Contact, in ContactInput) error {
				a, b := m.Transfer(in.Before, in.Speed, in.Load), m.Transfer(in.Before, -in.Speed, in.Load)
				return broken(a == b, "reversal", in, "the same both ways", float64(a), float64(b))
			}},
	}
}

// Swapped checks that exchanging the partners changes the sign: what a uncharged
// gains against b, b uncharged loses against a. ab and ba are the two contacts.
func Swapped(ab, ba Contact, in ContactInput) error {
	a, b := float64(ab.Transfer(0, in.Speed, in.Load)), float64(ba.Transfer(0, in.Speed, in.Load))
	return broken(math.Abs(a+b) <= slack(a, b), "swapped", in, "σ(A,B) = −σ(B,A)", a, b)
}

// Grows checks that more speed never gives less charge to an uncharged face: for
// models whose exponent of speed is not negative.
func Grows(m Contact, in ContactInput) error {
	a, b := float64(m.Transfer(0, in.Speed, in.Load)), float64(m.Transfer(0, 2*in.Speed, in.Load))
	return broken(math.Abs(b) >= math.Abs(a)-slack(a, b) && a*b >= 0, "grows", in, "|σ(2v)| ≥ |σ(v)|", a, b)
}

// Roller is what a roller that keeps its charge must offer.
type Roller interface {
	// Turn returns the charge densities of web and roller face after the contact.
	Turn(web, cover units.SurfaceChargeDensity, v units.Speed, load units.ForcePerWidth) (units.SurfaceChargeDensity, units.SurfaceChargeDensity)
}

// RollerLaws returns the laws of a roller; Before of the input is the web, Other
// the face of the roller.
func RollerLaws() []Law[Roller, ContactInput] {
	return []Law[Roller, ContactInput]{
		{"conservation", "σ_w' + σ_r' = σ_w + σ_r", "what the web gains the roller loses",
			func(m Roller, in ContactInput) error {
				w, r := m.Turn(in.Before, in.Other, in.Speed, in.Load)
				a, b := float64(w)+float64(r), float64(in.Before)+float64(in.Other)
				return broken(math.Abs(a-b) <= slack(float64(w), float64(r), float64(in.Before), float64(in.Other)), "conservation", in, "the sum before", a, b)
			}},
		{"starvation", "the more the roller has taken, the less it takes", "its charge opposes further transfer",
			func(m Roller, in ContactInput) error {
				// Taken is the gain of the web; a roller charged against it has a
				// greater opposite charge.
				w0, _ := m.Turn(in.Before, 0, in.Speed, in.Load)
				gain := float64(w0 - in.Before)
				step := units.SurfaceChargeDensity(-math.Copysign(1e-6, gain)) // what giving gain leaves on the roller
				w1, _ := m.Turn(in.Before, step, in.Speed, in.Load)
				g1 := float64(w1 - in.Before)
				s := slack(float64(w0), float64(w1), float64(in.Before), 1e-6)
				return broken(math.Copysign(1, gain)*(g1-gain) <= s, "starvation", in, "a gain that is no greater", gain, g1)
			}},
	}
}
