package humidity

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Body is a piece of material that takes up or gives off moisture (or heat, with
// thermal diffusivities) by diffusion from its surface, with constant
// diffusivity. It is immutable; the zero value gives NaN. Make it with [NewSheet],
// [NewPile] or [NewRoll]; for goods as they stand on the floor see [Goods].
//
// The unaccomplished share of a change is a product over its axes of the series
//
//	slab      Φ = Σ 2 Bi²/(ζ²(ζ² + Bi² + Bi))·exp(−ζ² Fo),  ζ tan ζ = Bi
//	cylinder  Φ = Σ 4 Bi²/(ζ²(ζ² + Bi²))·exp(−ζ² Fo),       ζ J₁(ζ) = Bi J₀(ζ)
//
// with Fo = D t/l², l half the thickness or the radius, Bi = g l/D of a film of
// transfer speed g. Without a film (Bi → ∞) the slab's half-time is 0.0492 L²/D.
// Source: J. Crank, The Mathematics of Diffusion, 2nd ed. (1975), ch. 4 and 5; H. S.
// Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), §3.11, §7.6
// (from memory; checked against a finite-difference solution).
type Body struct {
	axes [3]axis
	n    int
}

// NewSheet returns a film, sheet or board of the given thickness and
// diffusivity, open on both faces, or on one face only.
func NewSheet(thickness units.Length, d units.Diffusivity, bothFaces bool) (Body, error) {
	err := errors.Join(checkLength("thickness", thickness), checkDiffusivity("d", d))
	if err != nil {
		return Body{}, err
	}
	half := float64(thickness)
	if bothFaces {
		half /= 2
	}
	return Body{axes: [3]axis{slab(half, float64(d), math.Inf(1))}, n: 1}, nil
}

// PileSpec describes a pile of sheets for [NewPile].
type PileSpec struct {
	Length, Width, Height units.Length      // above 0, up to 100 m
	Along                 units.Diffusivity // in the plane of the sheets, from the open edges; 0 … 1 m²/s
	Across                units.Diffusivity // across the sheets; 0 if top and bottom are covered
	// BottomClosed says that nothing passes at the bottom: a floor, or a closed
	// pallet. The slowest place is then at the bottom, not in the middle.
	BottomClosed bool
}

// NewPile returns a pile of sheets. A wrapped or covered direction has the
// diffusivity 0; at least one has more.
func NewPile(s PileSpec) (Body, error) {
	err := errors.Join(checkLength("Length", s.Length), checkLength("Width", s.Width), checkLength("Height", s.Height),
		checkSome("Along", s.Along, "Across", s.Across))
	if err != nil {
		return Body{}, err
	}
	height := float64(s.Height)
	if !s.BottomClosed {
		height /= 2
	}
	inf := math.Inf(1)
	return Body{axes: [3]axis{slab(float64(s.Length)/2, float64(s.Along), inf), slab(float64(s.Width)/2, float64(s.Along),
		inf),
		slab(height, float64(s.Across), inf)}, n: 3}, nil
}

// NewRoll returns a wound roll: a full cylinder (the core closed and small) with
// the diffusivity along its width, from the edges, and across its wraps, from
// the outer lap. A film roll has next to nothing across.
func NewRoll(diameter, width units.Length, along, across units.Diffusivity) (Body, error) {
	err := errors.Join(checkLength("diameter", diameter), checkLength("width", width), checkSome("along", along, "across",
		across))
	if err != nil {
		return Body{}, err
	}
	return Body{axes: [3]axis{cylinder(float64(diameter)/2, float64(across), math.Inf(1)),
		slab(float64(width)/2, float64(along), math.Inf(1))}, n: 2}, nil
}

// WithFilm returns the body with the resistance of the air film at every open
// surface, as its transfer speed g: for heat h/(ρc), film coefficient over heat
// capacity per volume (8 W/(m²·K) over 1.25 MJ/(m³·K) is 6.4 µm/s); for moisture that
// of vapour over what the material takes up. The Biot number g·l/D of every open
// axis must come out at 1e-3 or more; from 1e4 the film is left out.
func (b Body) WithFilm(g units.Speed) (Body, error) {
	if b.n == 0 {
		return Body{}, known.Wrong("body", "the zero Body", "a body made by NewSheet, NewPile or NewRoll")
	}
	if !(g > 0) || math.IsInf(float64(g), 0) {
		return Body{}, known.Wrong("g", g, "more than 0 and finite")
	}
	for i := range b.n {
		a := b.axes[i]
		if a.rate == 0 {
			continue
		}
		bi := float64(g) * a.l / a.d
		switch {
		case bi < 1e-3:
			return Body{}, known.Wrong("g", g, "a Biot number g·l/D of 0.001 and more; a body with less has "+
				"one temperature: ColdBody")
		case bi >= 1e4:
			bi = math.Inf(1)
		}
		if a.round {
			b.axes[i] = cylinder(a.l, a.d, bi)
		} else {
			b.axes[i] = slab(a.l, a.d, bi)
		}
	}
	return b, nil
}

func checkLength(field string, l units.Length) error {
	return errors.Join(known.Positive(field, l), known.InRange(field, l, 0, 100*units.Metre))
}

func checkDiffusivity(field string, d units.Diffusivity) error {
	return errors.Join(known.Positive(field, d), known.InRange(field, d, 0, units.Diffusivity(1)))
}

func checkSome(field1 string, along units.Diffusivity, field2 string, across units.Diffusivity) error {
	err := errors.Join(known.InRange(field1, along, 0, units.Diffusivity(1)), known.InRange(field2, across, 0,
		units.Diffusivity(1)))
	if err == nil && along == 0 && across == 0 {
		err = known.Wrong(field2, across, "more than 0 in at least one direction")
	}
	return err
}

// Uptake returns the share of the whole change of moisture that has passed
// after t: 0 at once, 1 at last. With a film the cut series is inexact near 0, by up to
// 1e-3 in a sheet and 3e-3 in a pile or a roll. NaN or negative t gives NaN.
func (b Body) Uptake(t units.Time) units.Ratio {
	return b.passed(t, func(i int) float64 { return b.axes[i].mean(float64(t)) })
}

// Centre returns the share of the change that has passed at the slowest place: the
// middle, or the middle of a closed bottom.
func (b Body) Centre(t units.Time) units.Ratio {
	return b.passed(t, func(i int) float64 { return b.axes[i].at(float64(t), 0) })
}

func (b Body) passed(t units.Time, left func(axis int) float64) units.Ratio {
	if !(t >= 0) || b.n == 0 {
		return units.Ratio(math.NaN())
	}
	x := 1.0
	for i := range b.n {
		x *= left(i)
	}
	return units.Ratio(1 - x)
}

// AtDepth returns the share of the change that has passed at a depth below the
// middle of the open face that lags most; at depth 0 without a film it is 1 at
// once. NaN for a depth below 0 or beyond the slowest place.
func (b Body) AtDepth(t units.Time, depth units.Length) units.Ratio {
	return b.below(t, depth, func(share, other units.Ratio) bool { return share < other })
}

// below is AtDepth of the face that is chosen by first.
func (b Body) below(t units.Time, depth units.Length, first func(share, other units.Ratio) bool) units.Ratio {
	out := units.Ratio(math.NaN())
	for i := range b.n {
		face := b.axes[i]
		pos := 1 - float64(depth)/face.l
		if face.rate == 0 || !(pos >= 0 && pos <= 1) {
			continue
		}
		share := b.passed(t, func(k int) float64 {
			if k == i {
				return b.axes[k].at(float64(t), pos)
			}
			return b.axes[k].at(float64(t), 0)
		})
		if math.IsNaN(float64(out)) || first(share, out) {
			out = share
		}
	}
	return out
}

// TimeTo returns when the mean has made the share of its change, for 0.001 … 0.999;
// NaN otherwise.
func (b Body) TimeTo(share units.Ratio) units.Time { return timeTo(share, b.Uptake) }

// CentreTimeTo returns when the slowest place has made the share of its change, for
// 0.001 … 0.999; NaN otherwise.
func (b Body) CentreTimeTo(share units.Ratio) units.Time { return timeTo(share, b.Centre) }

// DepthTimeTo returns when the place of AtDepth has made the share of its change, for
// 0.001 … 0.999; NaN otherwise.
func (b Body) DepthTimeTo(share units.Ratio, depth units.Length) units.Time {
	return timeTo(share, func(t units.Time) units.Ratio { return b.AtDepth(t, depth) })
}

// timeTo inverts a share that rises with time, in powers of two of a second.
func timeTo(share units.Ratio, f func(units.Time) units.Ratio) units.Time {
	const first, last = -60.0, 140.0
	if !(share >= units.Ratio(0.001) && share <= units.Ratio(0.999)) || math.IsNaN(float64(f(units.Second))) {
		return units.Time(math.NaN())
	}
	if f(units.Time(math.Exp2(first))) >= share {
		return 0
	}
	return units.Time(math.Exp2(root(first, last, func(x float64) float64 {
		return float64(f(units.Time(math.Exp2(x))) - share)
	})))
}
