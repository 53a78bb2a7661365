package ionflowtest

import (
	"math"

	"pgregory.net/rapid"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// span draws a number from lo … hi, equal in its logarithm.
func span(t *rapid.T, name string, lo, hi float64) float64 {
	return math.Exp(rapid.Float64Range(math.Log(lo), math.Log(hi)).Draw(t, "ln "+name))
}

// Webs draws charge densities of 1 nC/m² … 100 µC/m² of either sign, speeds of 1 mm/s … 30 m/s
// and field factors of 1e-4 … 1.
func Webs(Domain) *rapid.Generator[Web] {
	return rapid.Custom(func(t *rapid.T) Web {
		w := Web{
			Net:    units.SurfaceChargeDensity(span(t, "net", 1e-9, 1e-4)),
			More:   units.SurfaceChargeDensity(span(t, "more", 1e-12, 1e-4)),
			Speed:  units.Speed(span(t, "speed", 1e-3, 30)),
			Factor: span(t, "factor", 1e-4, 1),
		}
		if rapid.Bool().Draw(t, "negative") {
			w.Net = -w.Net
		}
		return w
	})
}

// Parcels draws densities of 1e9 … 1e16 m⁻³, now and then 0, and times of 1 µs … 100 s.
func Parcels(Domain) *rapid.Generator[Parcel] {
	return rapid.Custom(func(t *rapid.T) Parcel {
		in := Parcel{
			Plus: units.NumberDensity(span(t, "plus", 1e9, 1e16)), Minus: units.NumberDensity(span(t, "minus", 1e9, 1e16)),
			T: units.Time(span(t, "t", 1e-6, 100)), DT: units.Time(span(t, "dt", 1e-6, 100)),
		}
		if rapid.IntRange(0, 9).Draw(t, "none") == 0 {
			in.Minus = 0
		}
		return in
	})
}

// must returns what was made: the drawn arguments are inside the ranges.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// AnyNeutraliser draws a neutraliser with the supply and the offset of the domain (supply drawn if
// it is 0): airborne, or drawn across a gap with or without onset.
func AnyNeutraliser(d Domain) *rapid.Generator[Actor] {
	return rapid.Custom(func(t *rapid.T) Actor {
		c := ionflow.Carriers{Supply: d.Supply}
		if c.Supply == 0 {
			c.Supply = units.LineCurrent(span(t, "supply", 1e-9, 1e-2))
		}
		s := ionflow.NeutraliserSpec{Zone: units.Length(span(t, "zone", 1e-3, 1)), Offset: d.Offset}
		if rapid.Bool().Draw(t, "airborne") {
			c.Conductivity = units.Conductivity(span(t, "conductivity", 1e-13, 1e-6))
		} else {
			c.Mobility = units.Mobility(span(t, "mobility", 1e-4, 2e-4))
			s.Gap = units.Length(span(t, "gap", 5e-3, 1))
			if d.Offset == 0 && rapid.Bool().Draw(t, "passive") {
				s.Onset = units.SurfaceChargeDensity(span(t, "onset", 1e-8, 1e-5))
			}
		}
		s.Plus, s.Minus = c, c
		return must(ionflow.NewNeutraliser(s))
	})
}

// AnyPopulation draws a population with the coefficients of the domain: [ionflow.RecombineUnequal]
// if it states no mobility, else the unconfined parcel of [ionflow.Path] with the given tolerance, and for
// α of the Langevin limit also [ionflow.LangevinParcel].
func AnyPopulation(d Domain) *rapid.Generator[Population] {
	if d.Mobility == 0 {
		return rapid.Just[Population](func(p, m units.NumberDensity, t units.Time) (units.NumberDensity, units.NumberDensity) {
			return ionflow.RecombineUnequal(p, m, d.Alpha, t)
		})
	}
	ions := ionflow.Ions{Plus: d.Mobility, Minus: d.Mobility, Alpha: d.Alpha}
	path := Population(func(p, m units.NumberDensity, t units.Time) (units.NumberDensity, units.NumberDensity) {
		if t == 0 {
			return p, m
		}
		a := must(ionflow.Path(ionflow.Uniform{Speed: units.MetrePerSecond, Repulsion: 1}, ions, p, m, units.Length(t), 1e-9))
		return a.Plus, a.Minus
	})
	langevin := ionflow.LangevinRecombination(d.Mobility, d.Mobility)
	if math.Abs(float64(d.Alpha-langevin)) > 1e-12*float64(langevin) {
		return rapid.Just(path)
	}
	exact := Population(func(p, m units.NumberDensity, t units.Time) (units.NumberDensity, units.NumberDensity) {
		return ionflow.LangevinParcel(p, m, d.Mobility, t)
	})
	return rapid.SampledFrom([]Population{path, exact})
}
