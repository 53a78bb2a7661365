package kits

import (
	"math"
	"testing"

	"example.org/pithball/charge/chargetest"
	"example.org/pithball/charge/field"
	"example.org/pithball/units"
)

// rub is a contact that closes a part of the way to its saturation: the more the
// faster and the harder.
type rub struct {
	saturation units.SurfaceChargeDensity
	additive   bool // adds to what is there however much that is, and more to more
}

func (r rub) Transfer(q units.SurfaceChargeDensity, v units.Speed, f units.ForcePerWidth) units.SurfaceChargeDensity {
	way := units.SurfaceChargeDensity(-math.Expm1(-math.Sqrt(math.Abs(float64(v)) * float64(f) / 1000)))
	if r.additive {
		return q + way*(r.saturation+q/10)
	}
	return q + way*(r.saturation-q)
}

func TestContact(t *testing.T) {
	hold(t, chargetest.Contacts())(rub{saturation: 2e-5}, rub{2e-5, true}, "contraction")
	plus, minus := rub{saturation: 2e-5}, rub{saturation: -2e-5}
	hold(t, chargetest.Pairs())(chargetest.Pair{AB: plus, BA: minus}, chargetest.Pair{AB: plus, BA: plus}, "swapped")
}

// sleeve is a roller that takes what the web gains.
type sleeve struct {
	rub
	earthed bool // forgets what it takes
}

func (s sleeve) Turn(w, r units.SurfaceChargeDensity, v units.Speed, f units.ForcePerWidth) (
	units.SurfaceChargeDensity, units.SurfaceChargeDensity, units.SurfaceChargeDensity) {
	gain := (s.Transfer(w-r, v, f) - (w - r)) / 2
	if s.earthed {
		return w + gain, r, 0
	}
	return w + gain, r - gain, 0
}

// Bound knows no gas.
func (sleeve) Bound() units.SurfaceChargeDensity { return units.SurfaceChargeDensity(math.Inf(1)) }

func TestRoller(t *testing.T) {
	right := sleeve{rub: rub{saturation: 2e-5}}
	hold(t, chargetest.Rollers())(right, sleeve{right.rub, true}, "conservation")
}

// streamer is a breakdown law of air in three pieces: field emission, the minimum, and
// 24.22 kV/cm·d + 6.08 kV/√cm·√d for long gaps.
func streamer(gap units.Length, delta float64) units.Voltage { // delta [1]
	x := float64(gap) * delta
	return units.Voltage(min(350e6*x, max(340, 24.22e5*x+6.08e4*math.Sqrt(x))))
}

// aloft forgets that thin air breaks down earlier.
func aloft(gap units.Length, _ float64) units.Voltage { return streamer(gap, 1) }

func TestGas(t *testing.T) { hold(t, chargetest.Gases())(streamer, aloft, "similarity") }

// film is a film of 10 µm of thickness over permittivity between two earthed planes,
// as three capacitances in a row.
type film struct{ thin bool } // thin: puts the charge of both faces on one

func (f film) Between(near, far units.SurfaceChargeDensity, d, h units.Length) field.FilmField {
	const inside = 10 * units.Micrometre
	if f.thin {
		near, far = near+far, 0
	}
	whole := float64(d + inside + h)
	meter := (float64(near)*float64(inside+h) + float64(far)*float64(h)) / whole / units.Epsilon0
	behind := (float64(near)*float64(d) + float64(far)*float64(d+inside)) / whole / units.Epsilon0
	return field.FilmField{AtMeter: units.ElectricField(meter), Behind: units.ElectricField(behind),
		NearFace: units.Voltage(meter * float64(d)), FarFace: units.Voltage(behind * float64(h))}
}

func TestFilm(t *testing.T) { hold(t, chargetest.Films())(film{}, film{thin: true}, "roller") }

// planes is the field of a web between a meter plane and metal behind it.
func planes(d, h units.Length) float64 { return float64(h) / float64(d+h) } // [1]

// halves forgets the image in the meter plane.
func halves(d, h units.Length) float64 { return 0.5 * planes(d, h) } // [1]

func TestPlace(t *testing.T) {
	hold(t, chargetest.Places())(chargetest.PlaceFunc(planes), chargetest.PlaceFunc(halves), "free span")
}

// mill is a field meter that shows volts at its nominal distance of 25 mm.
type mill struct{ blind bool } // blind: inverts as if nothing were behind the web

func (m mill) Display(s units.SurfaceChargeDensity, d, h units.Length) units.DisplayVoltage {
	return units.DisplayVoltage(float64(s) / units.Epsilon0 * planes(d, h) * 0.025)
}

func (m mill) Net(v units.DisplayVoltage, d, h units.Length) units.SurfaceChargeDensity {
	if m.blind {
		h = 1e9
	}
	return units.SurfaceChargeDensity(float64(v) / 0.025 / planes(d, h) * units.Epsilon0)
}

func (mill) Saturated(v units.DisplayVoltage) bool { return math.Abs(float64(v)) > 50e3 }

func TestMeter(t *testing.T) {
	hold(t, chargetest.Meters())(mill{}, mill{true}, "round trip")
}
