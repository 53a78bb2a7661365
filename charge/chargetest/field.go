package chargetest

import (
	"math"

	"example.org/pithball/charge/field"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"example.org/pithball/units/lawtest"
)

// Place is a geometry whose field a wide earthed meter plane sees.
// [field.FieldFactor] and a guarded [field.FieldMeter] are such places.
//
// Beyond physics, the laws ask: a gap of 0 is metal that touches the web and gives
// 0, not an error; a gap of a million distances is a free span; NaN gives NaN.
type Place interface {
	// Factor returns E·ε0/σ at the distance from the web with earthed metal at the gap
	// behind.
	Factor(distance, gap units.Length) float64 // [1]
}

// PlaceFunc makes a [Place] of a function such as [field.FieldFactor].
type PlaceFunc func(distance, gap units.Length) float64 // [1]

// Factor calls the function.
func (f PlaceFunc) Factor(distance, gap units.Length) float64 { return f(distance, gap) } // [1]

// Meter is an instrument that turns net charge into a display and back.
// [field.FieldMeter] is one.
//
// Beyond physics, the laws ask: positive charge raises the display; what is beyond
// full scale is said to be saturated, and is not judged, but no charge, and less charge
// than one on scale, is on scale; an offset is allowed, and Net undoes it; NaN gives NaN.
type Meter interface {
	// Display returns what the meter shows.
	Display(net units.SurfaceChargeDensity, distance, gap units.Length) units.DisplayVoltage
	// Net returns the charge that makes the meter show so much.
	Net(shown units.DisplayVoltage, distance, gap units.Length) units.SurfaceChargeDensity
	// Saturated reports a display at the end of its scale.
	Saturated(shown units.DisplayVoltage) bool
}

// FilmModel gives the field of a film with charge on both faces between two earthed
// planes. [field.Film] is one.
//
// Beyond physics, the laws ask that a gap of 0 is metal under the film.
type FilmModel interface {
	// Between returns the field with charge on the face near to the meter plane and on
	// the far one, the planes at distance and gap.
	Between(near, far units.SurfaceChargeDensity, distance, gap units.Length) field.FilmField
}

// FieldInput is one point at which a law of the field side is tried.
type FieldInput struct {
	Near     units.SurfaceChargeDensity // on the face that looks at the meter, or the net charge; up to 30 µC/m²
	Far      units.SurfaceChargeDensity // on the other face; up to 30 µC/m²
	Distance units.Length               // meter plane to web, 5 mm … 0.2 m
	Gap      units.Length               // web to earthed metal behind, 1 mm … 3 m
	Step     float64                    // [1] 1.001 … 5: ratio of two distances or gaps to compare
}

func fieldInput[M any](d *lawtest.Draw, _ M) FieldInput {
	const most sigma = 3e-5
	return FieldInput{Near: lawtest.Between(d, "near", -most, most), Far: lawtest.Between(d, "far", -most, most),
		Distance: lawtest.Decades(d, "distance", 5*units.Millimetre, 0.2*units.Metre),
		Gap:      lawtest.Decades(d, "gap", units.Millimetre, 3*units.Metre), Step: lawtest.Between(d, "step", 1.001, 5)}
}

// rounding allows for rounding errors, not for physics.
const rounding = 1e-9 // [1]

func times(k float64, x units.Length) units.Length { return units.Length(k * float64(x)) }

const gauss = "Gauss's law and equal potentials of two planes"

// Places returns the laws of a wide meter plane before a wide web.
func Places() lawtest.Kit[Place, FieldInput] {
	ratio := func(f func(d, h float64) float64) Place {
		return PlaceFunc(func(d, h units.Length) float64 { return f(float64(d), float64(h)) })
	}
	return lawtest.Kit[Place, FieldInput]{Input: fieldInput[Place], Laws: []lawtest.Law[Place, FieldInput]{{
		Name: "bounds", Says: "0 <= E·ε0/σ <= 1", Source: gauss,
		Broken: ratio(func(d, h float64) float64 { return 2 * h / (d + h) }), // the factor of two of a missing image
		Check: func(m Place, in FieldInput) error {
			f := m.Factor(in.Distance, in.Gap)
			return lawtest.That(f >= -rounding && f <= 1+rounding, "0 … 1", f)
		},
	}, {
		Name: "touching", Says: "no field when the web touches the metal behind it", Source: gauss,
		Broken: ratio(func(d, h float64) float64 { return (h + 1e-3) / (d + h + 1e-3) }),
		Check: func(m Place, in FieldInput) error {
			f := m.Factor(in.Distance, 0)
			return lawtest.That(math.Abs(f) <= rounding, "0", f)
		},
	}, {
		Name: "free span", Says: "E·ε0/σ → 1 when the metal behind is far", Source: gauss,
		// The field of a web between two far planes, taken for a meter.
		Broken: ratio(func(d, h float64) float64 { return 0.5 * h / (d + h) }),
		Check: func(m Place, in FieldInput) error {
			f := m.Factor(in.Distance, times(1e6, in.Distance))
			return lawtest.That(math.Abs(f-1) <= 1e-5, "1", f)
		},
	}, {
		Name: "gap", Says: "more gap behind never lowers the field", Source: "the metal takes field lines from the meter",
		Broken: ratio(func(d, h float64) float64 { return d / (d + h) }), // planes exchanged
		Check: func(m Place, in FieldInput) error {
			a, b := m.Factor(in.Distance, in.Gap), m.Factor(in.Distance, times(in.Step, in.Gap))
			return lawtest.That(b >= a-rounding, "not falling with the gap", a, b)
		},
	}, {
		Name: "distance", Says: "more distance never raises the field", Source: "the meter takes field lines from the metal",
		// A conductor at fixed voltage instead of fixed charge, and the wrong way round.
		Broken: ratio(func(d, h float64) float64 { return d * h / (1 + d*h) }),
		Check: func(m Place, in FieldInput) error {
			a, b := m.Factor(in.Distance, in.Gap), m.Factor(times(in.Step, in.Distance), in.Gap)
			return lawtest.That(b <= a+rounding, "not rising with the distance", a, b)
		},
	}, {
		Name: "exchange", Says: "F(d, h) + F(h, d) = 1", Source: "all flux ends on one of the two planes",
		Broken: ratio(func(d, h float64) float64 { return h * h / (d*d + 2*d*h + h*h) }),
		Check: func(m Place, in FieldInput) error {
			a, b := m.Factor(in.Distance, in.Gap), m.Factor(in.Gap, in.Distance)
			return lawtest.That(math.Abs(a+b-1) <= rounding, "a sum of 1", a, b)
		},
	}, {
		Name: "scale", Says: "F(k·d, k·h) = F(d, h)", Source: "electrostatics has no length of its own",
		Broken: ratio(func(_, h float64) float64 { return h / (0.025 + h) }),
		Check: func(m Place, in FieldInput) error {
			a, b := m.Factor(in.Distance, in.Gap), m.Factor(times(in.Step, in.Distance), times(in.Step, in.Gap))
			return lawtest.That(math.Abs(a-b) <= rounding, "the same factor", a, b)
		},
	}, {
		Name: "nan", Says: "finite in, finite out; NaN in, NaN out", Source: "a dead sensor must not become a number",
		// Takes a missing gap for a far one.
		Broken: ratio(func(d, h float64) float64 {
			if !(h < 1e6) {
				return 1
			}
			return h / (d + h)
		}),
		Check: func(m Place, in FieldInput) error {
			dead := nan[units.Length]()
			return lawtest.Total(m.Factor(in.Distance, in.Gap), m.Factor(dead, in.Gap), m.Factor(in.Distance, dead))
		},
	}}}
}

// shows is a wrong meter.
type shows struct {
	display func(s, d, h float64) float64
	net     func(v, d, h float64) float64
}

func (m shows) Display(s sigma, d, h units.Length) units.DisplayVoltage {
	return units.DisplayVoltage(m.display(float64(s), float64(d), float64(h)))
}

func (m shows) Net(v units.DisplayVoltage, d, h units.Length) sigma {
	return sigma(m.net(float64(v), float64(d), float64(h)))
}

func (shows) Saturated(units.DisplayVoltage) bool { return false }

// pinned is a wrong meter that is always at the end of its scale.
type pinned struct{ shows }

func (pinned) Saturated(units.DisplayVoltage) bool { return true }

// meter draws field meters of package field with a guarded or a bare face, a gain off
// 1 and an offset.
func meter(d *lawtest.Draw) Meter {
	length := func(name string, lo, hi units.Length) units.Length { return lawtest.Decades(d, name, lo, hi) }
	return *must(field.NewFieldMeter(field.FieldMeterSpec{Guarded: d.Bool("guarded"),
		Nominal:     length("nominal distance", units.Centimetre, 0.3*units.Metre),
		FaceRadius:  length("face", units.Centimetre, 0.3*units.Metre),
		SheetRadius: length("sheet", 0.1*units.Metre, 3*units.Metre),
		FullScale:   lawtest.Decades(d, "full scale", units.DisplayVoltage(1e3), units.DisplayVoltage(1e6)),
		Gain:        known.Band{Value: lawtest.Between(d, "gain", 0.8, 1.2)},
		Offset:      known.Band{Value: lawtest.Between(d, "offset", -100.0, 100)}}))
}

// Meters returns the laws of a field meter.
func Meters() lawtest.Kit[Meter, FieldInput] {
	const linear = "the field is linear in the charge"
	k := func(d, h float64) float64 { return 0.025 / units.Epsilon0 * h / (d + h) }
	net := func(v, d, h float64) float64 { return v / k(d, h) }
	shape := func(f func(s float64) float64) Meter {
		return shows{func(s, d, h float64) float64 { return f(s * k(d, h)) }, net}
	}
	// at looks at the displays of some charges, unless one is off scale.
	at := func(m Meter, in FieldInput, s ...sigma) ([]units.DisplayVoltage, error) {
		v := make([]units.DisplayVoltage, len(s))
		for i := range s {
			if v[i] = m.Display(s[i], in.Distance, in.Gap); m.Saturated(v[i]) {
				return nil, lawtest.Skip("off scale")
			}
		}
		return v, nil
	}
	tol := func(v ...units.DisplayVoltage) float64 { return rounding*(abs(v[0])+abs(v[1])) + 1e-9 }
	return lawtest.Kit[Meter, FieldInput]{Input: fieldInput[Meter], Models: meter, Laws: []lawtest.Law[Meter, FieldInput]{{
		Name: "mirror", Says: "the displays of σ and −σ lie evenly about that of 0", Source: linear,
		Broken: shape(math.Abs), // rectifies
		Check: func(m Meter, in FieldInput) error {
			v, err := at(m, in, in.Near, -in.Near, 0)
			if err != nil {
				return err
			}
			return lawtest.That(abs(v[0]+v[1]-2*v[2]) <= tol(v[0], v[2]), "V(σ) + V(−σ) = 2·V(0)", v[0], v[1], v[2])
		},
	}, {
		Name: "linear", Says: "V(2σ) − V(0) = 2·(V(σ) − V(0))", Source: linear,
		Broken: shape(func(v float64) float64 { return v / (1 + v*v*1e-12) }), // compresses
		Check: func(m Meter, in FieldInput) error {
			v, err := at(m, in, in.Near, 2*in.Near, 0)
			if err != nil {
				return err
			}
			ok := abs(v[1]-2*v[0]+v[2]) <= tol(v[1], v[2])
			return lawtest.That(ok, "twice the display for twice the charge", v[0], v[1], v[2])
		},
	}, {
		Name: "sign", Says: "positive charge raises the display", Source: "a positive field points away from positive charge",
		Broken: shape(func(v float64) float64 { return -v }),
		Check: func(m Meter, in FieldInput) error {
			p := m.Display(sigma(abs(in.Near)+1e-9), in.Distance, in.Gap)
			z := m.Display(0, in.Distance, in.Gap)
			return lawtest.That(p > z || m.Saturated(z), "above the display of 0", p, z)
		},
	}, {
		Name: "full scale", Says: "no charge, and half of a charge on scale, is on scale",
		Source: "the end of a scale hides what is beyond it, and nothing else",
		// Says of every display that it is off scale: the other laws would have nothing to judge.
		Broken: pinned{shows{func(s, d, h float64) float64 { return s * k(d, h) }, net}},
		Check: func(m Meter, in FieldInput) error {
			z, v := m.Display(0, in.Distance, in.Gap), m.Display(in.Near, in.Distance, in.Gap)
			half := m.Display(in.Near/2, in.Distance, in.Gap)
			return lawtest.That(!m.Saturated(z) && (m.Saturated(v) || !m.Saturated(half)), "on scale", z, half, v)
		},
	}, {
		Name: "round trip", Says: "Net(Display(σ)) = σ below full scale", Source: "the inverse undoes the display",
		// Inverts without the metal behind the web.
		Broken: shows{func(s, d, h float64) float64 { return s * k(d, h) },
			func(v, _, _ float64) float64 { return v * units.Epsilon0 / 0.025 }},
		Check: func(m Meter, in FieldInput) error {
			v, err := at(m, in, in.Near)
			if err != nil {
				return err
			}
			// Rounding of the display at an offset costs up to 1e-16 of it.
			s := m.Net(v[0], in.Distance, in.Gap)
			unit := abs(m.Net(v[0]+1, in.Distance, in.Gap) - s) // [C/m²] per volt of display
			return lawtest.That(abs(s-in.Near) <= rounding*abs(in.Near)+1e-9*unit, "the charge that made the display", s, v[0])
		},
	}, {
		Name: "nan", Says: "finite in, finite out; NaN in, NaN out", Source: "a dead sensor must not become a number",
		// Shows 0 for a dead sensor.
		Broken: shape(func(v float64) float64 {
			if v != v {
				return 0
			}
			return v
		}),
		Check: func(m Meter, in FieldInput) error {
			v := m.Display(in.Near, in.Distance, in.Gap)
			if err := lawtest.Total(v, m.Display(nan[sigma](), in.Distance, in.Gap)); err != nil {
				return err
			}
			return lawtest.Total(m.Net(v, in.Distance, in.Gap), m.Net(nan[units.DisplayVoltage](), in.Distance, in.Gap))
		},
	}}}
}

// filmFunc is a wrong film, in V/m of each face.
type filmFunc func(n, f, d, h float64) field.FilmField

func (m filmFunc) Between(near, far sigma, distance, gap units.Length) field.FilmField {
	return m(float64(near)/units.Epsilon0, float64(far)/units.Epsilon0, float64(distance), float64(gap))
}

// Films returns the laws of a film with charge on both faces.
func Films() lawtest.Kit[FilmModel, FieldInput] {
	exact := func(n, f, d, h float64) field.FilmField {
		const r = 1e-5 // [m] t/ε_r
		e := (n*(r+h) + f*h) / (d + r + h)
		b := n + f - e
		return field.FilmField{AtMeter: units.ElectricField(e), Behind: units.ElectricField(b),
			NearFace: units.Voltage(e * d), FarFace: units.Voltage(b * h)}
	}
	bad := func(change func(c *field.FilmField, n, f, d float64)) FilmModel {
		return filmFunc(func(n, f, d, h float64) field.FilmField { c := exact(n, f, d, h); change(&c, n, f, d); return c })
	}
	// Takes the charge of both faces for that of the near one.
	oneFace := filmFunc(func(n, f, d, h float64) field.FilmField { return exact(n+f, 0, d, h) })
	tol := func(in FieldInput) float64 { return rounding * (abs(in.Near) + abs(in.Far)) / units.Epsilon0 } // [V/m]
	between := func(m FilmModel, in FieldInput) field.FilmField {
		return m.Between(in.Near, in.Far, in.Distance, in.Gap)
	}
	model := func(d *lawtest.Draw) FilmModel {
		return field.Film{Thickness: lawtest.Decades(d, "thickness", units.Micrometre, units.Millimetre),
			RelativePermittivity: lawtest.Between(d, "permittivity", 1.0, 10)}
	}
	type law = lawtest.Law[FilmModel, FieldInput]
	return lawtest.Kit[FilmModel, FieldInput]{Input: fieldInput[FilmModel], Models: model, Laws: []law{{
		Name: "gauss", Says: "ε0·(E_meter + E_behind) = σ_near + σ_far", Source: "Gauss's law",
		Broken: bad(func(c *field.FilmField, n, f, d float64) { c.Behind /= 2 }),
		Check: func(m FilmModel, in FieldInput) error {
			f, all := between(m, in), units.ElectricField(float64(in.Near+in.Far)/units.Epsilon0)
			return lawtest.That(abs(f.AtMeter+f.Behind-all) <= tol(in), "a sum of "+all.String(), f.AtMeter, f.Behind)
		},
	}, {
		Name: "potentials", Says: "V_near = E_meter·d and V_far = E_behind·h", Source: "the planes are earthed",
		// The potential of a web alone, not lowered by the meter.
		Broken: bad(func(c *field.FilmField, n, f, d float64) { c.NearFace = units.Voltage((n + f) * d) }),
		Check: func(m FilmModel, in FieldInput) error {
			f := between(m, in)
			near := units.Voltage(float64(f.AtMeter) * float64(in.Distance))
			far := units.Voltage(float64(f.Behind) * float64(in.Gap))
			ok := abs(f.NearFace-near)+abs(f.FarFace-far) <= tol(in)*float64(in.Distance+in.Gap)
			return lawtest.That(ok, near.String()+", "+far.String(), f.NearFace, f.FarFace)
		},
	}, {
		Name: "superposition", Says: "the fields of the two faces add", Source: "the field is linear in the charge",
		// Quadratic in the charge.
		Broken: bad(func(c *field.FilmField, n, f, d float64) {
			c.AtMeter = units.ElectricField(float64(c.AtMeter) * (1 + 1e-12*n*f))
		}),
		Check: func(m FilmModel, in FieldInput) error {
			both, near := between(m, in).AtMeter, m.Between(in.Near, 0, in.Distance, in.Gap).AtMeter
			far := m.Between(0, in.Far, in.Distance, in.Gap).AtMeter
			return lawtest.That(abs(both-near-far) <= tol(in), "the sum of both", both, near, far)
		},
	}, {
		Name: "turned", Says: "turning the film over exchanges the planes", Source: "symmetry", Broken: oneFace,
		Check: func(m FilmModel, in FieldInput) error {
			a, b := between(m, in).AtMeter, m.Between(in.Far, in.Near, in.Gap, in.Distance).Behind
			return lawtest.That(abs(a-b) <= tol(in), "the same field", a, b)
		},
	}, {
		Name: "roller", Says: "on metal the inner face shows nothing", Source: "it sits on its own image", Broken: oneFace,
		Check: func(m FilmModel, in FieldInput) error {
			f := m.Between(0, in.Far, in.Distance, 0).AtMeter
			return lawtest.That(abs(f) <= tol(in), "0", f)
		},
	}}}
}
