package chargetest

import (
	"math"

	"pgregory.net/rapid"

	"example.org/pithball/charge"
	"example.org/pithball/units"
)

// spread draws a positive number with an even logarithm.
func spread(t *rapid.T, name string, lo, hi float64) float64 {
	return math.Exp(rapid.Float64Range(math.Log(lo), math.Log(hi)).Draw(t, "ln "+name))
}

func density(t *rapid.T, name string, most float64) units.SurfaceChargeDensity {
	return units.SurfaceChargeDensity(rapid.Float64Range(-most, most).Draw(t, name))
}

// Contacts draws contacts of package charge over the whole accepted range of
// exponents.
func Contacts() *rapid.Generator[Contact] {
	return rapid.Custom(func(t *rapid.T) Contact { c := contact(t); return &c })
}

func contact(t *rapid.T) charge.Contact {
	c, err := charge.NewContact(charge.ContactSpec{
		Saturation: density(t, "saturation", 1e-3), Exposure: rapid.Float64Range(0, 20).Draw(t, "exposure"),
		SpeedExponent: rapid.Float64Range(-1, 2).Draw(t, "speed exponent"), LoadExponent: rapid.Float64Range(-1, 2).Draw(t, "load exponent"),
		ReferenceSpeed: units.Speed(spread(t, "reference speed", 0.01, 50)), ReferenceLoad: units.ForcePerWidth(spread(t, "reference load", 1, 1e5))})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// ContactInputs draws charge densities up to 1 mC/m², speeds of 1 mm/s to 100
// m/s, loads of 0.1 N/m to 1 MN/m.
func ContactInputs() *rapid.Generator[ContactInput] {
	return rapid.Custom(func(t *rapid.T) ContactInput {
		return ContactInput{Before: density(t, "before", 1e-3), Other: density(t, "other", 1e-3),
			Speed: units.Speed(spread(t, "speed", 1e-3, 100)), Load: units.ForcePerWidth(spread(t, "load", 0.1, 1e6))}
	})
}

// Rollers draws covered rollers of package charge.
func Rollers() *rapid.Generator[Roller] {
	return rapid.Custom(func(t *rapid.T) Roller {
		r, err := charge.NewCoveredRoller(contact(t), units.Length(spread(t, "radius", 1e-3, 1)), units.Time(spread(t, "tau", 1e-6, 1e6)))
		if err != nil {
			t.Fatal(err)
		}
		return &r
	})
}

// GasInputs draws gaps of 100 nm to 8 cm and relative densities of 0.7 to 1.15.
func GasInputs() *rapid.Generator[GasInput] {
	return rapid.Custom(func(t *rapid.T) GasInput {
		return GasInput{Gap: units.Length(spread(t, "gap", 1e-7, 0.08)), Delta: rapid.Float64Range(0.7, 1.15).Draw(t, "delta")}
	})
}

// Partings draws partings of package charge at every kind of place.
func Partings() *rapid.Generator[Parting] {
	return rapid.Custom(func(t *rapid.T) Parting {
		l := func(name string, lo, hi float64) units.Length { return units.Length(spread(t, name, lo, hi)) }
		var p charge.Place
		switch rapid.IntRange(0, 3).Draw(t, "place") {
		case 0:
			p = charge.FreePlace(1, l("gap", 1e-6, 0.1))
		case 1:
			p = charge.FreePlace(2, l("gap", 1e-6, 0.1))
		case 2:
			p = charge.BackedPlace(l("thickness", 1e-6, 1e-2), rapid.Float64Range(1, 10).Draw(t, "epsr"))
		default:
			p = charge.RollerPlace(l("radius", 5e-3, 1), l("past", 1e-3, 0.5), l("outer", 1e-3, 10))
		}
		m, err := charge.NewParting(charge.PartingSpec{Place: p, Exit: units.Length(rapid.Float64Range(0, 0.01).Draw(t, "exit")), Density: rapid.Float64Range(0.7, 1.15).Draw(t, "density")})
		if err != nil {
			t.Fatal(err)
		}
		return &m
	})
}

// PartingInputs draws charge densities up to 5 mC/m², speeds of 1 mm/s to 100
// m/s and relaxation times of 1 µs to 1e6 s.
func PartingInputs() *rapid.Generator[PartingInput] {
	return rapid.Custom(func(t *rapid.T) PartingInput {
		q := spread(t, "charge", 1e-8, 5e-3)
		if rapid.Bool().Draw(t, "negative") {
			q = -q
		}
		return PartingInput{Charge: units.SurfaceChargeDensity(q), Other: density(t, "other", 1e-3),
			Speed: units.Speed(spread(t, "speed", 1e-3, 100)), Tau: units.Time(spread(t, "tau", 1e-6, 1e6))}
	})
}
