package decay

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Electrode turns a resistance measured between two electrodes on a surface
// into the surface resistivity, and back:
//
//	ρs = K·R
//
// K is pure geometry: it is the width of the current path over its length,
// counted in squares. Ring resistance in Ω and surface resistivity in Ω per
// square differ by K; say which one is meant.
type Electrode struct{ k float64 }

// Factor returns K; NaN for the zero value.
func (e Electrode) Factor() float64 { return made(e.k) } // [1]

// SheetResistance returns K·R; NaN unless R > 0.
func (e Electrode) SheetResistance(r units.Resistance) units.SheetResistance {
	if !(r > 0) {
		return units.SheetResistance(math.NaN())
	}
	return units.SheetResistance(made(e.k) * float64(r))
}

// Resistance returns ρs/K; NaN unless ρs > 0.
func (e Electrode) Resistance(rho units.SheetResistance) units.Resistance {
	if !(rho > 0) {
		return units.Resistance(math.NaN())
	}
	return units.Resistance(float64(rho) / made(e.k))
}

// NewRing returns the concentric ring electrode of inner diameter d1 (the outer
// edge of the centre disc) and outer diameter d2 > d1 (the inner edge of the
// ring):
//
//	K = 2π/ln(d2/d1)
//
// exact for a uniform thin sheet; for a guarded ring the current in the gap is
// the same, and the bulk current goes to the guard.
func NewRing(d1, d2 units.Length) (Electrode, error) {
	if err := checkRing(d1, d2); err != nil {
		return Electrode{}, err
	}
	// ln(d2/d1) = log1p((d2−d1)/d1) keeps a narrow gap exact.
	return Electrode{2 * math.Pi / math.Log1p((float64(d2)-float64(d1))/float64(d1))}, nil
}

// NewRingMeanDiameter returns the ring with the factor that many instructions
// print, the mean circumference over the gap,
//
//	K = π·(d1 + d2)/(d2 − d1)
//
// It is the narrow-gap limit of [NewRing] and too high by (x²/12) for x =
// ln(d2/d1): 3.3 % for 30.5/57.2 mm, 0.1 % for 2.00/2.25 in.
func NewRingMeanDiameter(d1, d2 units.Length) (Electrode, error) {
	if err := checkRing(d1, d2); err != nil {
		return Electrode{}, err
	}
	return Electrode{math.Pi * float64(d1+d2) / float64(d2-d1)}, nil
}

func checkRing(d1, d2 units.Length) error {
	err := errors.Join(known.Positive("inner_diameter", d1), known.Positive("outer_diameter", d2))
	if err == nil && !(d2 > d1) {
		err = known.Wrong("outer_diameter", d2, "more than the inner diameter "+d1.String())
	}
	return err
}

// NewBars returns two parallel blades or bars of the given length > 0 at the gap
// > 0:
//
//	K = length/gap
//
// Current that fringes round the ends is left out; it makes the true K larger.
func NewBars(length, gap units.Length) (Electrode, error) {
	if err := errors.Join(known.Positive("length", length), known.Positive("gap", gap)); err != nil {
		return Electrode{}, err
	}
	return Electrode{float64(length) / float64(gap)}, nil
}

// GuardedElectrode measures through a specimen: a centre disc inside a guard
// ring, over a full counter-electrode.
type GuardedElectrode struct{ area float64 } // [m²]

// NewGuardedElectrode returns the electrode whose centre disc has diameter d1 and
// whose guard begins at d2 > d1. The effective area is that of the mean
// diameter, π(d1 + d2)²/16: half of the gap is counted to the disc.
func NewGuardedElectrode(d1, d2 units.Length) (GuardedElectrode, error) {
	if err := checkRing(d1, d2); err != nil {
		return GuardedElectrode{}, err
	}
	d := 0.5 * float64(d1+d2)
	return GuardedElectrode{0.25 * math.Pi * d * d}, nil
}

// Area returns the effective area.
func (e GuardedElectrode) Area() units.Area { return units.Area(made(e.area)) }

// Resistivity returns the volume resistivity R·A/d of a specimen of thickness d;
// NaN unless both are positive.
func (e GuardedElectrode) Resistivity(r units.Resistance, thickness units.Length) units.VolumeResistivity {
	if !(r > 0) || !(thickness > 0) {
		return units.VolumeResistivity(math.NaN())
	}
	return units.VolumeResistivity(float64(r) * made(e.area) / float64(thickness)) // Ω·m²/m
}

// NamedElectrode is an electrode as a standard describes it.
type NamedElectrode struct {
	Name      string       // standard and form
	Electrode Electrode    // its geometry
	Source    known.Source // of the dimensions
}

// NamedElectrodes lists electrodes of standards. Dimensions whose provenance is
// memory must be compared with the standard before they are relied on.
func NamedElectrodes() []NamedElectrode {
	ring := func(d1, d2 float64) Electrode { return Electrode{2 * math.Pi / math.Log(d2/d1)} } // [mm]
	return []NamedElectrode{
		{"ANSI/ESD STM11.11 concentric ring, 30.48/57.15 mm", ring(30.48, 57.15),
			known.Source{Provenance: known.Published, Cite: "ANSI/ESD STM11.12-2000, 7.1.1",
				Note: "the rings of STM11.12; that STM11.11 has the same was not compared; they give the trade's rule ρs = 10·R " +
					"(9.995)"}},
		{"ASTM D257 guarded ring, 2.000/2.250 in", ring(2, 2.25),
			known.Source{Provenance: known.Memory, Cite: "ASTM D257",
				Note: "sizes and the printed mean-diameter factor 53.4 not compared with the standard"}},
		{"EN 1149-1 ring, radii 25.2/34.6 mm", ring(25.2, 34.6),
			known.Source{Provenance: known.Memory, Cite: "EN 1149-1",
				Note: "sizes and factor 19.8 not compared with the standard"}},
		{"DIN 53482 blades, 100 mm at 10 mm", Electrode{10},
			known.Source{Provenance: known.Memory, Cite: "DIN 53482", Note: "not compared with the standard; 1000 V"}},
		{"DIN 53482 bars, 25 mm at 2 mm", Electrode{12.5},
			known.Source{Provenance: known.Memory, Cite: "DIN 53482", Note: "not compared with the standard; 1000 V"}},
	}
}
