package chargetest

import (
	"pgregory.net/rapid"

	"example.org/pithball/charge/field"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// PlaceFunc makes a [Place] of a function such as [field.FieldFactor].
type PlaceFunc func(distance, gap units.Length) float64 // [1]

// Factor calls the function.
func (f PlaceFunc) Factor(distance, gap units.Length) float64 { return f(distance, gap) } // [1]

// FieldInputs draws charge densities up to 30 µC/m², distances of 5 mm to 0.2 m,
// gaps of 1 mm to 3 m.
func FieldInputs() *rapid.Generator[FieldInput] {
	return rapid.Custom(func(t *rapid.T) FieldInput {
		return FieldInput{Near: density(t, "near", 3e-5), Far: density(t, "far", 3e-5), Distance: units.Length(spread(t, "distance", 0.005, 0.2)),
			Gap: units.Length(spread(t, "gap", 1e-3, 3)), Step: rapid.Float64Range(1.001, 5).Draw(t, "step")}
	})
}

// Meters draws field meters of package charge with a guarded or a bare face, a
// gain off 1 and an offset.
func Meters() *rapid.Generator[Meter] {
	return rapid.Custom(func(t *rapid.T) Meter {
		m, err := field.NewFieldMeter(field.FieldMeterSpec{Nominal: units.Length(spread(t, "nominal", 0.01, 0.3)), Guarded: rapid.Bool().Draw(t, "guarded"),
			FaceRadius: units.Length(spread(t, "face", 0.01, 0.3)), SheetRadius: units.Length(spread(t, "sheet", 0.1, 3)), FullScale: units.DisplayVoltage(spread(t, "full scale", 1e3, 1e6)),
			Gain: known.Band{Value: rapid.Float64Range(0.8, 1.2).Draw(t, "gain")}, Offset: known.Band{Value: rapid.Float64Range(-100, 100).Draw(t, "offset")}})
		if err != nil {
			t.Fatal(err)
		}
		return m
	})
}

// Films draws films of 1 µm to 1 mm with a relative permittivity of 1 to 10.
func Films() *rapid.Generator[FilmModel] {
	return rapid.Custom(func(t *rapid.T) FilmModel {
		return field.Film{Thickness: units.Length(spread(t, "thickness", 1e-6, 1e-3)), RelativePermittivity: rapid.Float64Range(1, 10).Draw(t, "permittivity")}
	})
}

// BrokenPlaces returns for every law of [PlaceLaws] a place that breaks it.
func BrokenPlaces() map[string]Place {
	ratio := func(f func(d, h float64) float64) Place {
		return PlaceFunc(func(d, h units.Length) float64 { return f(float64(d), float64(h)) })
	}
	return map[string]Place{
		"bounds":   ratio(func(d, h float64) float64 { return 2 * h / (d + h) }), // the factor of two of a missing image
		"touching": ratio(func(d, h float64) float64 { return (h + 1e-3) / (d + h + 1e-3) }),
		// The field of a web between two far planes, taken for a meter.
		"free-span": ratio(func(d, h float64) float64 { return 0.5 * h / (d + h) }),
		"gap":       ratio(func(d, h float64) float64 { return d / (d + h) }), // planes exchanged
		// A conductor at fixed voltage instead of fixed charge, and the wrong way round.
		"distance": ratio(func(d, h float64) float64 { return d * h / (1 + d*h) }),
		"exchange": ratio(func(d, h float64) float64 { return h * h / (d*d + 2*d*h + h*h) }),
		"scale":    ratio(func(d, h float64) float64 { return h/(0.025+h) + 0*d }),
		// Takes a missing gap for a far one.
		"nan": ratio(func(d, h float64) float64 {
			if !(h < 1e6) {
				return 1
			}
			return h / (d + h)
		}),
	}
}

type meterFunc struct {
	display func(s, d, h float64) float64
	net     func(v, d, h float64) float64
}

func (m meterFunc) Display(s units.SurfaceChargeDensity, d, h units.Length) units.DisplayVoltage {
	return units.DisplayVoltage(m.display(float64(s), float64(d), float64(h)))
}

func (m meterFunc) Net(v units.DisplayVoltage, d, h units.Length) units.SurfaceChargeDensity {
	return units.SurfaceChargeDensity(m.net(float64(v), float64(d), float64(h)))
}

func (meterFunc) Saturated(units.DisplayVoltage) bool { return false }

// BrokenMeters returns for every law of [MeterLaws] a meter that breaks it.
func BrokenMeters() map[string]Meter {
	k := func(d, h float64) float64 { return 0.025 / units.Epsilon0 * h / (d + h) }
	good := meterFunc{func(s, d, h float64) float64 { return s * k(d, h) }, func(v, d, h float64) float64 { return v / k(d, h) }}
	with := func(change func(m *meterFunc)) Meter { m := good; change(&m); return m }
	return map[string]Meter{
		// Rectifies.
		"mirror": with(func(m *meterFunc) {
			m.display = func(s, d, h float64) float64 { return max(s, -s) * k(d, h) }
		}),
		// Compresses.
		"linear": with(func(m *meterFunc) {
			m.display = func(s, d, h float64) float64 { v := s * k(d, h); return v / (1 + v*v*1e-12) }
		}),
		"sign": with(func(m *meterFunc) { m.display = func(s, d, h float64) float64 { return -s * k(d, h) } }),
		// Inverts without the metal behind the web.
		"round-trip": with(func(m *meterFunc) { m.net = func(v, d, h float64) float64 { return v * units.Epsilon0 / 0.025 } }),
		// Shows 0 for a dead sensor.
		"nan": with(func(m *meterFunc) {
			m.display = func(s, d, h float64) float64 {
				if s != s {
					return 0
				}
				return s * k(d, h)
			}
		}),
	}
}

type filmFunc func(n, f, d, h float64) field.FilmField

func (m filmFunc) Between(near, far units.SurfaceChargeDensity, distance, gap units.Length) field.FilmField {
	return m(float64(near)/units.Epsilon0, float64(far)/units.Epsilon0, float64(distance), float64(gap))
}

// BrokenFilms returns for every law of [FilmLaws] a film that breaks it.
func BrokenFilms() map[string]FilmModel {
	const r = 1e-5 // [m] t/ε_r
	exact := func(n, f, d, h float64) field.FilmField {
		e := (n*(r+h) + f*h) / (d + r + h)
		b := n + f - e
		return field.FilmField{AtMeter: units.ElectricField(e), Behind: units.ElectricField(b), NearFace: units.Voltage(e * d), FarFace: units.Voltage(b * h)}
	}
	with := func(change func(c *field.FilmField, n, f, d, h float64)) FilmModel {
		return filmFunc(func(n, f, d, h float64) field.FilmField { c := exact(n, f, d, h); change(&c, n, f, d, h); return c })
	}
	return map[string]FilmModel{
		"gauss": with(func(c *field.FilmField, n, f, d, h float64) { c.Behind /= 2 }),
		// The potential of a web alone, not lowered by the meter.
		"potentials": with(func(c *field.FilmField, n, f, d, h float64) { c.NearFace = units.Voltage((n + f) * d) }),
		// Quadratic in the charge.
		"superposition": with(func(c *field.FilmField, n, f, d, h float64) {
			c.AtMeter = units.ElectricField(float64(c.AtMeter) * (1 + 1e-12*n*f))
		}),
		// Takes both faces for the near one.
		"turned": filmFunc(func(n, f, d, h float64) field.FilmField { return exact(n+f, 0, d, h) }),
		"roller": filmFunc(func(n, f, d, h float64) field.FilmField { return exact(n+f, 0, d, h) }),
	}
}
