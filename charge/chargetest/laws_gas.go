package chargetest

import (
	"math"

	"example.org/pithball/charge"
	"example.org/pithball/charge/gas"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Gas is a breakdown law of air: the voltage of a uniform gap at a relative
// density.
type Gas func(gap units.Length, delta float64) units.Voltage // delta [1]

// GasInput is where a breakdown law is tried.
type GasInput struct {
	Gap   units.Length // 100 nm … 10 cm
	Delta float64      // [1] 0.7 … 1.15
}

// GasLaws returns the laws of a breakdown law of air, cheapest first.
func GasLaws() []Law[Gas, GasInput] {
	nan := math.NaN()
	return []Law[Gas, GasInput]{
		{"positive", "finite and above 0 at every gap; NaN in, NaN out", "a form with a singularity must not show it",
			func(m Gas, in GasInput) error {
				a, b, c := float64(m(in.Gap, in.Delta)), float64(m(units.Length(nan), in.Delta)), float64(m(in.Gap, nan))
				return broken(finite(a) && a > 0 && math.IsNaN(b) && math.IsNaN(c), "positive", in, "a positive number, then NaN twice", a, b, c)
			}},
		{"minimum", "V ≥ 327 V for d ≥ 7.5 µm/δ, and V ≤ 352 V somewhere near", "least breakdown voltage of air 327 V at 7.5 µm by Paschen's law, −0/+25 V",
			func(m Gas, in GasInput) error {
				v := float64(m(in.Gap, in.Delta))
				w := float64(m(units.Length(7.5e-6/in.Delta), in.Delta))
				return broken((float64(in.Gap)*in.Delta < 7.5e-6 || v >= 327*(1-1e-9)) && w <= 352, "minimum", in, "327 V or more, and up to 352 V at the minimum", v, w)
			}},
		{"similarity", "V(d, δ) = V(δ·d, 1) for δ·d above 20 µm", "Paschen's law: only the product of density and gap counts",
			func(m Gas, in GasInput) error {
				x := float64(in.Gap) * in.Delta
				if x < 20e-6 {
					return nil
				}
				a, b := float64(m(in.Gap, in.Delta)), float64(m(units.Length(x), 1))
				// 0.2 %: a law pieced together may step at a join by that much, and
				// rounding can put x on either side.
				return broken(math.Abs(a-b) <= 2e-3*b, "similarity", in, "equal voltages", a, b)
			}},
		{"field", "V/d never rises with d by more than 0.2 %", "a larger gap gives the electrons more room to multiply",
			func(m Gas, in GasInput) error {
				a := float64(m(in.Gap, in.Delta)) / float64(in.Gap)
				b := float64(m(in.Gap*5/4, in.Delta)) / (float64(in.Gap) * 1.25)
				return broken(b <= a*1.002, "field", in, "V/d at 1.25·d no greater than at d", b, a)
			}},
		{"published", "30.3 kV ± 3 % at 1 cm, 4.13 … 5.0 kV at 1 mm, 175 V ± 25 % at 0.5 µm (δ = 1)", "J. M. Meek and J. D. Craggs; A. Peschot et al. 2014: one Paschen set for all gaps fails",
			func(m Gas, in GasInput) error {
				cm, mm, um := float64(m(units.Centimetre, 1)), float64(m(units.Millimetre, 1)), float64(m(units.Micrometre/2, 1))
				return broken(math.Abs(cm-30300) <= 909 && mm >= 4130 && mm <= 5000 && math.Abs(um-175) <= 44, "published", in, "30.3 kV, 4.13 … 5.0 kV, 175 V", cm, mm, um)
			}},
	}
}

// AirGas is the breakdown law of package charge as a [Gas].
func AirGas(gap units.Length, delta float64) units.Voltage { // delta [1]
	v, _ := gas.BreakdownVoltage(gap, delta)
	return v
}

// Parting is what a parting model must offer.
type Parting interface {
	// Left returns what is left on the parting face, and the stage that ruled.
	Left(charge, other units.SurfaceChargeDensity, v units.Speed, tau units.Time) (units.SurfaceChargeDensity, charge.Stage)
	// Cap returns the gas cap with its gap and validity.
	Cap() (units.SurfaceChargeDensity, units.Length, known.Validity)
}

// PartingInput is where a parting is tried.
type PartingInput struct {
	Charge, Other units.SurfaceChargeDensity // of the parting and the opposite face
	Speed         units.Speed                // above 0
	Tau           units.Time                 // relaxation time of the face, above 0
}

// PartingLaws returns the laws of a parting, cheapest first.
func PartingLaws() []Law[Parting, PartingInput] {
	insulator := units.Time(math.Inf(1))
	left := func(m Parting, q, o units.SurfaceChargeDensity, v units.Speed, tau units.Time) float64 {
		l, _ := m.Left(q, o, v, tau)
		return float64(l)
	}
	bound := func(m Parting) float64 { c, _, _ := m.Cap(); return float64(c) }
	return []Law[Parting, PartingInput]{
		{"finite", "finite in, finite out; NaN in, NaN out", "total functions",
			func(m Parting, in PartingInput) error {
				nan := math.NaN()
				a := left(m, in.Charge, in.Other, in.Speed, in.Tau)
				b := left(m, units.SurfaceChargeDensity(nan), in.Other, in.Speed, in.Tau)
				c := left(m, in.Charge, units.SurfaceChargeDensity(nan), in.Speed, in.Tau)
				d := left(m, in.Charge, in.Other, units.Speed(nan), in.Tau)
				return broken(finite(a) && math.IsNaN(b) && math.IsNaN(c) && math.IsNaN(d), "finite", in, "a number, then NaN three times", a, b, c, d)
			}},
		{"cap", "|σ| ≤ cap with an uncharged opposite face", "the gas lets no more survive",
			func(m Parting, in PartingInput) error {
				a := left(m, in.Charge, 0, in.Speed, in.Tau)
				return broken(math.Abs(a) <= bound(m)*(1+1e-12), "cap", in, "no more than the cap", a, bound(m))
			}},
		{"no creation", "0 ≤ σ_left/σ ≤ 1 with an uncharged opposite face", "parting creates no charge",
			func(m Parting, in PartingInput) error {
				a, q := left(m, in.Charge, 0, in.Speed, in.Tau), float64(in.Charge)
				return broken(a*q >= 0 && math.Abs(a) <= math.Abs(q)*(1+1e-12), "no creation", in, "between 0 and the charge", a, q)
			}},
		{"odd", "σ_left(−σ, −other) = −σ_left(σ, other)", "gas and conduction know no sign here",
			func(m Parting, in PartingInput) error {
				a, b := left(m, in.Charge, in.Other, in.Speed, in.Tau), left(m, -in.Charge, -in.Other, in.Speed, in.Tau)
				return broken(math.Abs(a+b) <= slack(a, b), "odd", in, "opposite results", a, b)
			}},
		{"monotone", "more speed and a longer relaxation time never leave less, up to the breakdown of the gas", "less time to flow back; a discharge takes the face below the cap",
			func(m Parting, in PartingInput) error {
				a := math.Abs(left(m, in.Charge, 0, in.Speed, in.Tau))
				l, s := m.Left(in.Charge, 0, 2*in.Speed, in.Tau)
				k, r := m.Left(in.Charge, 0, in.Speed, 2*in.Tau)
				b, c := math.Abs(float64(l)), math.Abs(float64(k))
				return broken((b >= a-slack(a) || s == charge.GasRuled) && (c >= a-slack(a) || r == charge.GasRuled), "monotone", in, "no less at 2v or 2τ", a, b, c)
			}},
		{"insulator", "an insulator keeps its charge up to the cap, and a fixed part of the cap above it", "nothing flows back; what a discharge leaves does not depend on a large charge before",
			func(m Parting, in PartingInput) error {
				a, q := math.Abs(left(m, in.Charge, 0, in.Speed, insulator)), math.Abs(float64(in.Charge))
				if q <= bound(m) {
					return broken(math.Abs(a-q) <= slack(q), "insulator", in, "|σ| up to the cap", a, q)
				}
				b := math.Abs(left(m, 2*in.Charge, 0, in.Speed, insulator))
				// Measured discharges leave from 0.3 to all of what was there.
				return broken(math.Abs(a-b) <= slack(a) && a >= 0.3*bound(m) && a <= bound(m)*(1+1e-12), "insulator", in, "0.3 … 1 of the cap, the same for 2σ", a, b)
			}},
		{"stage", "the gas is said to rule exactly when it took charge", "the result names what limited it",
			func(m Parting, in PartingInput) error {
				a, s := m.Left(in.Charge, 0, in.Speed, insulator)
				over := math.Abs(float64(in.Charge)) > bound(m)
				return broken((s == charge.GasRuled) == over && (over || s == charge.TransferRuled), "stage", in, "gas above the cap, transfer below", float64(a), float64(s))
			}},
	}
}
