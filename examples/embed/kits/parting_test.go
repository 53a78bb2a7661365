package kits

import (
	"math"
	"testing"

	"example.org/pithball/charge"
	"example.org/pithball/charge/chargetest"
	"example.org/pithball/charge/field"
	"example.org/pithball/charge/hazard"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// slip is a contact that slips the more the faster it runs.
type slip struct{ rub }

func (s slip) Transfer(q units.SurfaceChargeDensity, v units.Speed, f units.ForcePerWidth) units.SurfaceChargeDensity {
	return s.rub.Transfer(q, units.Speed(1/(1+math.Abs(float64(v)))), f)
}

func TestSpeedOfContact(t *testing.T) {
	right := rub{saturation: 2e-5}
	hold(t, chargetest.Growing())(right, slip{right}, "grows")
}

// nip is the wedge behind a nip: charge flows back for the time of 1 mm of way, and
// the air takes what is above its cap, and a fifth of the cap with it.
type nip struct{ signed bool } // signed: compares the charge with the cap, not its magnitude

func (nip) Cap() (units.SurfaceChargeDensity, units.Length, known.Validity) {
	return 4e-5, 10 * units.Micrometre, known.Estimate
}

func (n nip) Left(q, other units.SurfaceChargeDensity, v units.Speed, tau units.Time) (units.SurfaceChargeDensity,
	charge.Stage) {
	most, _, _ := n.Cap()
	kept := math.Exp(-1e-3/float64(v)/float64(tau)) * float64(q)
	kept += 0 * float64(other) // is not there, but may be NaN
	over := math.Abs(kept) > float64(most)
	if n.signed {
		over = kept > float64(most)
	}
	if over {
		return units.SurfaceChargeDensity(math.Copysign(0.8*float64(most), kept)), charge.GasRuled
	}
	return units.SurfaceChargeDensity(kept), charge.TransferRuled
}

func TestParting(t *testing.T) { hold(t, chargetest.Partings())(nip{}, nip{signed: true}, "cap") }

// stack is a pile of sheets of 0.1 mm with 1 µC/m² of net charge in the middle of each.
type stack struct{ flat bool } // flat: nothing breaks down, as in a book

func (s stack) At(sheets int) field.PileState {
	const sheet, epsr, net = 1e-4, 2.3, 1e-6 // [m], [1], [C/m²]
	n := float64(sheets)
	free := net * sheet / epsr / units.Epsilon0 * n * n / 2
	x := field.PileState{Free: units.Voltage(free), Height: units.Length(n * sheet)}
	if x.Voltage = x.Free; sheets > 0 {
		x.Edge = units.ElectricField(free / float64(x.Height))
		if held := units.Voltage(3e6 * float64(x.Height)); x.Free > held {
			x.Voltage, x.Spark, x.Validity = held, field.SparkOutside, known.AboveRange
		}
	}
	if s.flat {
		x.Voltage = x.Free
	}
	return x
}

func TestPile(t *testing.T) { hold(t, chargetest.Piles())(stack{}, stack{flat: true}, "edge") }

// careful judges by the least value that any table prints, and dusts by a twentieth of
// it; what nobody measured reaches.
func careful(w units.Energy, in hazard.Ignitable) bool {
	if math.IsNaN(float64(w)) || w > 0 && in.Below {
		return true
	}
	least := in.MIE
	if in.Dust {
		least /= 20
	}
	return w > 0 && w >= least
}

// mean judges by the mean of the values that tables print.
func mean(w units.Energy, in hazard.Ignitable) bool {
	in.MIE = (in.MIE + in.High) / 2
	return careful(w, in)
}

func TestIgnition(t *testing.T) { hold(t, chargetest.Judges())(careful, mean, "low end") }
