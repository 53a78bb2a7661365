package humidity

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Body is a piece of material that takes up or gives off moisture (or heat, with
// thermal diffusivities) by diffusion from its surface, with constant
// diffusivity. It is immutable. Make it with [NewSheet], [NewPile] or [NewRoll].
//
// The unaccomplished share of a change is a product over its axes of the series
//
//	slab      Φ = Σ 2 Bi²/(ζ²(ζ² + Bi² + Bi))·exp(−ζ² Fo),  ζ tan ζ = Bi
//	cylinder  Φ = Σ 4 Bi²/(ζ²(ζ² + Bi²))·exp(−ζ² Fo),       ζ J₁(ζ) = Bi J₀(ζ)
//
// with Fo = D t/l², l half the thickness or the radius. Without surface
// resistance (Bi → ∞) the slab's half-time is 0.0492 L²/D. Source: J. Crank, The
// Mathematics of Diffusion, 2nd ed. (1975), ch. 4 and 5; H. S. Carslaw,
// J. C. Jaeger, Conduction of Heat in Solids, 2nd ed. (1959), §3.11, §7.6 (from
// memory; checked against a finite-difference solution).
type Body struct {
	axes [3]axis
	n    int
}

type axis struct {
	l, d   float64 // [m], [m²/s]
	rate   float64 // [1/s] D/l²
	round  bool
	open   bool // no surface resistance
	zeta   []float64
	weight []float64 // of the mean
	centre []float64 // of the centre
	face   []float64 // of the surface
}

const diffusionTerms = 200

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

// NewPile returns a pile of sheets, length × width × height, with the
// diffusivity along the sheets, from the open edges, and across them. A wrapped
// or covered direction has the diffusivity 0. The top and the bottom both count
// as open.
func NewPile(length, width, height units.Length, along, across units.Diffusivity) (Body, error) {
	err := errors.Join(checkLength("length", length), checkLength("width", width), checkLength("height", height),
		checkSome(along, across))
	if err != nil {
		return Body{}, err
	}
	return Body{axes: [3]axis{
		slab(float64(length)/2, float64(along), math.Inf(1)), slab(float64(width)/2, float64(along), math.Inf(1)),
		slab(float64(height)/2, float64(across), math.Inf(1))}, n: 3}, nil
}

// NewRoll returns a wound roll: a full cylinder (the core closed and small) with
// the diffusivity along its width, from the edges, and across its wraps, from
// the outer lap. A film roll has next to nothing across.
func NewRoll(diameter, width units.Length, along, across units.Diffusivity) (Body, error) {
	err := errors.Join(checkLength("diameter", diameter), checkLength("width", width), checkSome(along, across))
	if err != nil {
		return Body{}, err
	}
	return Body{axes: [3]axis{cylinder(float64(diameter)/2, float64(across), math.Inf(1)),
		slab(float64(width)/2, float64(along), math.Inf(1))}, n: 2}, nil
}

// WithSurface returns the body with a resistance of the air film at every open
// surface, as the Biot number h·l/k of its first axis that is open (heat: h in
// W/(m²·K), k the conductivity, l half the thickness or the radius); 0.001 … 1000.
// The other axes have the same h and the same heat capacity ρc = k/D.
func (b Body) WithSurface(biot float64) (Body, error) { // biot [1]
	if !(biot >= 1e-3 && biot <= 1e3) {
		return Body{}, known.Wrong("biot", biot, "0.001 … 1000")
	}
	if b.n == 0 {
		return Body{}, known.Wrong("body", "the zero Body", "a body made by NewSheet, NewPile or NewRoll")
	}
	first := -1
	for i := range b.n {
		a := b.axes[i]
		if a.rate == 0 {
			continue
		}
		if first < 0 {
			first = i
		}
		bi := biot * (a.l / b.axes[first].l) * (b.axes[first].d / a.d)
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

func checkSome(along, across units.Diffusivity) error {
	err := errors.Join(known.InRange("along", along, 0, units.Diffusivity(1)), known.InRange("across", across, 0, units.Diffusivity(1)))
	if err == nil && along == 0 && across == 0 {
		err = known.Wrong("across", across, "more than 0 in at least one direction")
	}
	return err
}

// slab finds the terms of a slab of half thickness l [m].
func slab(l, d, bi float64) axis {
	a := axis{l: l, d: d, rate: d / (l * l), open: math.IsInf(bi, 1)}
	if d == 0 {
		return a
	}
	for n := range diffusionTerms {
		if math.IsInf(bi, 1) {
			z := (float64(n) + 0.5) * math.Pi
			a.add(z, 2/(z*z), 2*math.Sin(z)/z, 0)
			continue
		}
		// One root of ζ sin ζ = Bi cos ζ in each (nπ, nπ + π/2).
		z := bisect(float64(n)*math.Pi, (float64(n)+0.5)*math.Pi, func(z float64) float64 { return z*math.Sin(z) - bi*math.Cos(z) })
		c := 2 * math.Sin(z) / (z + math.Sin(z)*math.Cos(z))
		a.add(z, 2*bi*bi/(z*z*(z*z+bi*bi+bi)), c, c*math.Cos(z))
	}
	return a
}

// cylinder finds the terms of a cylinder of radius l [m].
func cylinder(l, d, bi float64) axis {
	a := axis{l: l, d: d, rate: d / (l * l), round: true, open: math.IsInf(bi, 1)}
	if d == 0 {
		return a
	}
	for n := range diffusionTerms {
		// Zeros of J₀ and J₁ interlace; McMahon's first term brackets them.
		j0 := bisect((float64(n)+0.5)*math.Pi, (float64(n)+1)*math.Pi, math.J0)
		if math.IsInf(bi, 1) {
			a.add(j0, 4/(j0*j0), 2/(j0*math.J1(j0)), 0)
			continue
		}
		lo := 0.0
		if n > 0 {
			lo = bisect(float64(n)*math.Pi, (float64(n)+0.5)*math.Pi, math.J1)
		}
		z := bisect(lo, j0, func(z float64) float64 { return z*math.J1(z) - bi*math.J0(z) })
		c := 2 * math.J1(z) / (z * (math.J0(z)*math.J0(z) + math.J1(z)*math.J1(z)))
		a.add(z, 4*bi*bi/(z*z*(z*z+bi*bi)), c, c*math.J0(z))
	}
	return a
}

func (a *axis) add(z, mean, centre, face float64) {
	a.zeta = append(a.zeta, z)
	a.weight = append(a.weight, mean)
	a.centre = append(a.centre, centre)
	a.face = append(a.face, face)
}

// bisect finds the sign change of f in (lo, hi).
func bisect(lo, hi float64, f func(float64) float64) float64 {
	s := math.Signbit(f(lo + 1e-12*(1+lo)))
	for range 80 {
		m := (lo + hi) / 2
		if math.Signbit(f(m)) == s {
			lo = m
		} else {
			hi = m
		}
	}
	return (lo + hi) / 2
}

// place says where a share is told.
type place uint8

const (
	onAverage place = iota
	atCentre
	atFace
)

// left returns the unaccomplished share of the mean, the centre or the surface
// after t [s]. At short times, where the series converges slowly, the mean of an open
// axis is 1 − 2√(Fo/π) (slab) or 1 − 4√(Fo/π) + Fo + Fo√(Fo/π)/3 (cylinder) and the
// centre has not moved.
func (a *axis) left(t float64, where place) float64 {
	if a.rate == 0 {
		return 1
	}
	fo := a.rate * t
	w := a.weight
	switch {
	case where == atFace && a.open:
		return 0
	case where == atFace:
		w = a.face
	case where == atCentre && fo < 1e-3:
		return 1
	case where == atCentre:
		w = a.centre
	case fo < 1e-3 && a.open:
		r := math.Sqrt(fo / math.Pi)
		if a.round {
			return 1 - 4*r + fo + fo*r/3
		}
		return 1 - 2*r
	}
	if fo == 0 {
		return 1
	}
	var s float64
	for i := len(w) - 1; i >= 0; i-- {
		if x := a.zeta[i] * a.zeta[i] * fo; x < 700 {
			s += w[i] * math.Exp(-x)
		}
	}
	return math.Min(1, math.Max(0, s))
}

// Uptake returns the share of the whole change of moisture that has passed
// after t: 0 at once, 1 at last. With surface resistance the cut series is
// inexact by up to 1e-3 near 0. NaN or negative t gives NaN.
func (b Body) Uptake(t units.Time) units.Ratio { return b.share(t, onAverage) }

// Centre returns the share of the change that has passed at the middle.
func (b Body) Centre(t units.Time) units.Ratio { return b.share(t, atCentre) }

// Surface returns the share of the change that has passed at the middle of the
// open face that lags most: 1 at once without surface resistance.
func (b Body) Surface(t units.Time) units.Ratio {
	if !(t >= 0) || b.n == 0 {
		return units.Ratio(math.NaN())
	}
	most := 0.0
	for i := range b.n {
		if b.axes[i].rate == 0 {
			continue
		}
		left := 1.0
		for j := range b.n {
			where := atCentre
			if i == j {
				where = atFace
			}
			left *= b.axes[j].left(float64(t), where)
		}
		most = math.Max(most, left)
	}
	return units.Ratio(1 - most)
}

// ClearOfDew returns how long the body, brought into air at the uniform
// temperature start, stays below the air's condensation point at the middle of
// its slowest face: the time to leave it wrapped. 0 if nothing condenses. The body must have been made
// with thermal diffusivities (paper and board about 1e-7 m²/s across the
// sheets and a few times that along them, without a source) and a surface resistance ([Body.WithSurface]);
// without the latter its faces are warm at once. The heat of condensation, which
// shortens the time, is left out. Bodies that are too cold for air that is nearly
// saturated never clear: +Inf. NaN for the zero Air and start outside
// −100 … 200 °C.
func (b Body) ClearOfDew(a Air, start units.Temperature) units.Time {
	if !a.valid() || b.n == 0 || !(start >= lowestT && start <= highestT) {
		return units.Time(math.NaN())
	}
	cp := float64(a.CondensationPoint())
	if float64(start) >= cp {
		return 0
	}
	share := units.Ratio((cp - float64(start)) / (float64(a.t) - float64(start)))
	if !(share <= units.Ratio(0.999)) {
		return units.Time(math.Inf(1))
	}
	return b.timeTo(max(share, units.Ratio(0.001)), b.Surface)
}

func (b Body) share(t units.Time, where place) units.Ratio {
	if !(t >= 0) || b.n == 0 {
		return units.Ratio(math.NaN())
	}
	left := 1.0
	for i := range b.n {
		left *= b.axes[i].left(float64(t), where)
	}
	return units.Ratio(1 - left)
}

// TimeTo returns when the mean has made the share of its change, for 0.001 … 0.999;
// NaN otherwise.
func (b Body) TimeTo(share units.Ratio) units.Time { return b.timeTo(share, b.Uptake) }

// CentreTimeTo returns when the middle has made the share of its change, for
// 0.001 … 0.999; NaN otherwise.
func (b Body) CentreTimeTo(share units.Ratio) units.Time { return b.timeTo(share, b.Centre) }

func (b Body) timeTo(share units.Ratio, f func(units.Time) units.Ratio) units.Time {
	if !(share >= units.Ratio(0.001) && share <= units.Ratio(0.999)) || b.n == 0 {
		return units.Time(math.NaN())
	}
	lo, hi := -60.0, 140.0 // powers of two of a second
	for range 60 {
		if m := (lo + hi) / 2; f(units.Time(math.Exp2(m))) < share {
			lo = m
		} else {
			hi = m
		}
	}
	return units.Time(math.Exp2(hi))
}
