package chargetest

import (
	"math"

	"example.org/pithball/charge/field"
	"example.org/pithball/units"
)

// Place is a geometry whose field a wide earthed meter plane sees. Factor returns
// E·ε0/σ at the distance d from the web with earthed metal at the gap h behind.
// [field.FieldFactor] and a guarded [field.FieldMeter] are such places.
type Place interface {
	Factor(distance, gap units.Length) float64 // [1]
}

// Meter is an instrument that turns net charge into a display and back.
// [field.FieldMeter] is one.
type Meter interface {
	Display(net units.SurfaceChargeDensity, distance, gap units.Length) units.DisplayVoltage
	Net(shown units.DisplayVoltage, distance, gap units.Length) units.SurfaceChargeDensity
	Saturated(shown units.DisplayVoltage) bool
}

// FilmModel gives the field of a film with charge on both faces between two
// earthed planes. [field.Film] is one.
type FilmModel interface {
	Between(near, far units.SurfaceChargeDensity, distance, gap units.Length) field.FilmField
}

// FieldInput is one point at which a law of the field side is tried.
type FieldInput struct {
	Near     units.SurfaceChargeDensity // on the face that looks at the meter; the net charge for a meter
	Far      units.SurfaceChargeDensity // on the other face
	Distance units.Length               // meter plane to web, above 0
	Gap      units.Length               // web to earthed metal behind, above 0
	Step     float64                    // [1] above 1: ratio of two distances or gaps to compare
}

// rounding allows for rounding errors, not for physics.
const rounding = 1e-9 // [1]

// PlaceLaws returns the laws of a wide meter plane before a wide web.
func PlaceLaws() []Law[Place, FieldInput] {
	const gauss = "Gauss's law and equal potentials of two planes"
	return []Law[Place, FieldInput]{
		{"bounds", "0 <= E·ε0/σ <= 1", gauss, func(m Place, in FieldInput) error {
			f := m.Factor(in.Distance, in.Gap)
			return broken(f >= -rounding && f <= 1+rounding, "bounds", in, "0 … 1", f)
		}},
		{"touching", "no field when the web touches the metal behind it", gauss, func(m Place, in FieldInput) error {
			f := m.Factor(in.Distance, 0)
			return broken(math.Abs(f) <= rounding, "touching", in, "0", f)
		}},
		{"free-span", "E·ε0/σ → 1 when the metal behind is far", gauss, func(m Place, in FieldInput) error {
			f := m.Factor(in.Distance, units.Length(1e6*float64(in.Distance)))
			return broken(math.Abs(f-1) <= 1e-5, "free-span", in, "1", f)
		}},
		{"gap", "more gap behind never lowers the field", "the metal takes field lines from the meter", func(m Place, in FieldInput) error {
			a, b := m.Factor(in.Distance, in.Gap), m.Factor(in.Distance, units.Length(in.Step*float64(in.Gap)))
			return broken(b >= a-rounding, "gap", in, "not falling with the gap", a, b)
		}},
		{"distance", "more distance never raises the field", "the meter takes field lines from the metal", func(m Place, in FieldInput) error {
			a, b := m.Factor(in.Distance, in.Gap), m.Factor(units.Length(in.Step*float64(in.Distance)), in.Gap)
			return broken(b <= a+rounding, "distance", in, "not rising with the distance", a, b)
		}},
		{"exchange", "F(d, h) + F(h, d) = 1", "all flux ends on one of the two planes", func(m Place, in FieldInput) error {
			a, b := m.Factor(in.Distance, in.Gap), m.Factor(in.Gap, in.Distance)
			return broken(math.Abs(a+b-1) <= rounding, "exchange", in, "a sum of 1", a, b)
		}},
		{"scale", "F(k·d, k·h) = F(d, h)", "electrostatics has no length of its own", func(m Place, in FieldInput) error {
			k := units.Length(in.Step)
			a, b := m.Factor(in.Distance, in.Gap), m.Factor(units.Length(float64(k)*float64(in.Distance)), units.Length(float64(k)*float64(in.Gap)))
			return broken(math.Abs(a-b) <= rounding, "scale", in, "the same factor", a, b)
		}},
		{"nan", "NaN in, NaN out", "a dead sensor must not become a number", func(m Place, in FieldInput) error {
			nan := units.Length(math.NaN())
			a, b := m.Factor(nan, in.Gap), m.Factor(in.Distance, nan)
			if math.IsNaN(a) && math.IsNaN(b) {
				return nil
			}
			return broken(false, "nan", in, "NaN", a, b)
		}},
	}
}

// MeterLaws returns the laws of a field meter.
func MeterLaws() []Law[Meter, FieldInput] {
	return []Law[Meter, FieldInput]{
		{"mirror", "the displays of σ and −σ lie evenly about that of 0", "the field is linear in the charge", func(m Meter, in FieldInput) error {
			p, n, z := m.Display(in.Near, in.Distance, in.Gap), m.Display(-in.Near, in.Distance, in.Gap), m.Display(0, in.Distance, in.Gap)
			if m.Saturated(p) || m.Saturated(n) {
				return nil
			}
			off := math.Abs(float64(p) + float64(n) - 2*float64(z))
			return broken(off <= rounding*(math.Abs(float64(p))+math.Abs(float64(z)))+1e-9, "mirror", in, "V(σ) + V(−σ) = 2·V(0)", float64(p), float64(n), float64(z))
		}},
		{"linear", "V(2σ) − V(0) = 2·(V(σ) − V(0))", "the field is linear in the charge", func(m Meter, in FieldInput) error {
			a, b, z := m.Display(in.Near, in.Distance, in.Gap), m.Display(2*in.Near, in.Distance, in.Gap), m.Display(0, in.Distance, in.Gap)
			if m.Saturated(a) || m.Saturated(b) {
				return nil
			}
			off := math.Abs(float64(b) - 2*float64(a) + float64(z))
			return broken(off <= rounding*(math.Abs(float64(b))+math.Abs(float64(z)))+1e-9, "linear", in, "twice the display for twice the charge", float64(a), float64(b), float64(z))
		}},
		{"sign", "positive charge raises the display", "a positive field points away from positive charge", func(m Meter, in FieldInput) error {
			s := units.SurfaceChargeDensity(math.Abs(float64(in.Near)) + 1e-9)
			p, z := m.Display(s, in.Distance, in.Gap), m.Display(0, in.Distance, in.Gap)
			return broken(p > z || m.Saturated(z), "sign", in, "above the display of 0", float64(p), float64(z))
		}},
		{"round-trip", "Net(Display(σ)) = σ below full scale", "the inverse undoes the display", func(m Meter, in FieldInput) error {
			v := m.Display(in.Near, in.Distance, in.Gap)
			if m.Saturated(v) {
				return nil
			}
			// Rounding of the display at an offset costs up to 1e-16 of it.
			s := m.Net(v, in.Distance, in.Gap)
			unit := math.Abs(float64(m.Net(v+units.DisplayVoltage(1), in.Distance, in.Gap) - s)) // [C/m²] per volt of display
			return broken(math.Abs(float64(s-in.Near)) <= rounding*math.Abs(float64(in.Near))+1e-9*unit, "round-trip", in, "the charge that made the display", float64(s))
		}},
		{"nan", "NaN in, NaN out", "a dead sensor must not become a number", func(m Meter, in FieldInput) error {
			a := float64(m.Display(units.SurfaceChargeDensity(math.NaN()), in.Distance, in.Gap))
			b := float64(m.Net(units.DisplayVoltage(math.NaN()), in.Distance, in.Gap))
			if math.IsNaN(a) && math.IsNaN(b) {
				return nil
			}
			return broken(false, "nan", in, "NaN", a, b)
		}},
	}
}

// FilmLaws returns the laws of a film with charge on both faces.
func FilmLaws() []Law[FilmModel, FieldInput] {
	size := func(in FieldInput) float64 { // [V/m]
		return (math.Abs(float64(in.Near)) + math.Abs(float64(in.Far))) / units.Epsilon0
	}
	return []Law[FilmModel, FieldInput]{
		{"gauss", "ε0·(E_meter + E_behind) = σ_near + σ_far", "Gauss's law", func(m FilmModel, in FieldInput) error {
			f := m.Between(in.Near, in.Far, in.Distance, in.Gap)
			off := float64(f.AtMeter) + float64(f.Behind) - float64(in.Near+in.Far)/units.Epsilon0
			return broken(math.Abs(off) <= rounding*size(in), "gauss", in, "all flux on the planes", float64(f.AtMeter), float64(f.Behind))
		}},
		{"potentials", "V_near = E_meter·d and V_far = E_behind·h", "the planes are earthed", func(m FilmModel, in FieldInput) error {
			f := m.Between(in.Near, in.Far, in.Distance, in.Gap)
			a := float64(f.NearFace) - float64(f.AtMeter)*float64(in.Distance)
			b := float64(f.FarFace) - float64(f.Behind)*float64(in.Gap)
			return broken(math.Abs(a)+math.Abs(b) <= rounding*size(in)*float64(in.Distance+in.Gap), "potentials", in, "0 V on both planes", a, b)
		}},
		{"superposition", "the fields of the two faces add", "the field is linear in the charge", func(m FilmModel, in FieldInput) error {
			both, near, far := m.Between(in.Near, in.Far, in.Distance, in.Gap), m.Between(in.Near, 0, in.Distance, in.Gap), m.Between(0, in.Far, in.Distance, in.Gap)
			off := float64(both.AtMeter) - float64(near.AtMeter) - float64(far.AtMeter)
			return broken(math.Abs(off) <= rounding*size(in), "superposition", in, "the sum of both", float64(both.AtMeter), float64(near.AtMeter), float64(far.AtMeter))
		}},
		{"turned", "turning the film over exchanges the planes", "symmetry", func(m FilmModel, in FieldInput) error {
			a, b := m.Between(in.Near, in.Far, in.Distance, in.Gap), m.Between(in.Far, in.Near, in.Gap, in.Distance)
			return broken(math.Abs(float64(a.AtMeter)-float64(b.Behind)) <= rounding*size(in), "turned", in, "the same field", float64(a.AtMeter), float64(b.Behind))
		}},
		{"roller", "on metal the inner face shows nothing", "it sits on its own image", func(m FilmModel, in FieldInput) error {
			f := m.Between(0, in.Far, in.Distance, 0)
			return broken(math.Abs(float64(f.AtMeter)) <= rounding*size(in), "roller", in, "0", float64(f.AtMeter))
		}},
	}
}
