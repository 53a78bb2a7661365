package humidity

import (
	"fmt"
	"slices"
	"strings"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Class says how water gets at a material, and with it what humidification can
// do: above about 65 %RH most surfaces adsorb enough moisture to leak, below
// about 30 % the same ones may insulate well; clean polymer surfaces adsorb too
// little and may keep charge at 100 %RH. And without a path to earth moisture
// only spreads charge. Source: NFPA 77-2000, 6.4.2, from a copy of its text.
type Class uint8

// The classes. The zero value is none of them: nobody has said.
const (
	// Inert are clean polymers: humidity changes nothing that one may rely on.
	Inert Class = iota + 1
	// Adsorbing surfaces carry a film of water and have none inside: glass,
	// porcelain. They follow the air within minutes to an hour.
	Adsorbing
	// Absorbing materials have water inside: paper, board, cotton, wool,
	// polyamide. They follow at the pace of diffusion and keep their past.
	Absorbing
)

var classNames = [...]string{Inert: "inert", Adsorbing: "adsorbing", Absorbing: "absorbing"}

// String returns the name of the class.
func (c Class) String() string { return enum.Name("Class", classNames[:], c) }

// MarshalText writes the name; a value that is no class is a
// [*known.FieldError].
func (c Class) MarshalText() ([]byte, error) { return enum.Write("class", classNames[:], c) }

// UnmarshalText reads a name as written by String.
func (c *Class) UnmarshalText(b []byte) error { return enum.Read("class", classNames[:], b, c) }

// Material is what is known of a material and water. What is not held is the zero
// value, which gives NaN, and stands in [Material.Missing]. The values are
// starting points with wide bands: two samples of one name differ by a decade,
// and a value measured on the plant's own material takes the place of all of
// this.
type Material struct {
	Key         string       // closed key, lower case with hyphens
	Name        string       // as one says it
	Class       Class        // how water gets at it
	ClassSource known.Source // of Class

	Surface  Sourced[units.SheetResistance]   // surface resistivity
	Volume   Sourced[units.VolumeResistivity] // volume resistivity
	Sorption SourcedIsotherm                  // equilibrium regain, adsorption branch
	// [1] hysteresis in relative humidity at 50 %RH, see [NewHysteresis]; 0 not held
	Shift     float64
	Diffusion Diffusion // of water in the material
	Heat      Heat      // how it conducts heat
}

// Diffusion is the diffusivity of water in a material near 23 °C.
type Diffusion struct {
	Across units.Diffusivity // through the thickness of a sheet; 0 not held
	Along  units.Diffusivity // in its plane; 0 not held
	Factor float64           // [1] 5 to 95 % of samples lie within ×/÷ this
	Source known.Source      // of the diffusivities
}

// Heat is how a material conducts heat.
type Heat struct {
	Across   float64 // [W/(m·K)] conductivity through the thickness; 0 not held
	Along    float64 // [W/(m·K)] conductivity in the plane; 0 not held
	Capacity float64 // [J/(m³·K)] heat capacity per volume
	// Factor: 5 to 95 % of samples lie within ×/÷ this in diffusivity. [1]
	Factor float64
	Source known.Source // of the conductivities and the capacity
}

// Missing lists what the table does not hold of the material, "moisture
// diffusivity" for instance: a question that needs it has no answer without a
// measurement.
func (m Material) Missing() []string {
	var out []string
	for _, x := range []struct {
		missing bool
		name    string
	}{{m.Surface.IsZero(), "surface resistivity"}, {m.Volume.IsZero(), "volume resistivity"}, {m.Sorption.IsZero(),
		"isotherm"},
		{!(m.Diffusion.Across > 0), "moisture diffusivity"}, {!(m.Heat.Across > 0), "thermal conductivity"}} {
		if x.missing {
			out = append(out, x.name)
		}
	}
	return out
}

// String returns the name with the class and what is missing: "polypropylene
// (inert; not held: isotherm, moisture diffusivity, thermal conductivity)".
func (m Material) String() string {
	s := m.Name + " (" + m.Class.String()
	if missing := m.Missing(); len(missing) > 0 {
		s += "; not held: " + strings.Join(missing, ", ")
	}
	return s + ")"
}

// UnknownPolymer is the default for a polymer that is not in the table: inert,
// so that humidity earns no credit, with a surface resistivity of 1e16 Ω and a
// volume resistivity of 1e15 Ω·m, each with a standard deviation of a decade.
func UnknownPolymer() Material { return polymer("unknown-polymer", "unknown polymer", guessed()) }

// MaterialFor returns the material with the key; an unknown key is a
// [*known.FieldError] that lists the keys.
func MaterialFor(key string) (Material, error) {
	all := Materials()
	i := slices.IndexFunc(all, func(m Material) bool { return m.Key == key })
	if i < 0 {
		var keys []string
		for _, m := range all {
			keys = append(keys, m.Key)
		}
		return Material{}, known.Wrong("key", key, fmt.Sprint("one of ", keys, "; UnknownPolymer for another polymer"))
	}
	return all[i], nil
}

// must turns an error of the shipped table into NaN laws, which a test finds.
func must[T any](v T, err error) T {
	if err != nil {
		var zero T
		return zero
	}
	return v
}
