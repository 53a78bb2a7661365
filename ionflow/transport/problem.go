package transport

import (
	"errors"
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/ionflow/transport/internal/bvp"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Carrier is one polarity of the ions that enter at the inlet.
type Carrier struct {
	Mobility units.Mobility      // above 0, at most 1 m²/(V·s)
	Density  units.NumberDensity // at the inlet, 0 … 1e20 1/m³
	// Diffusivity is by default (0) that of Einstein's relation, D = μkT/e.
	Diffusivity units.Diffusivity
}

// WallCondition says what is known of the surface at the end of the gap.
type WallCondition uint8

// The conditions of the surface.
const (
	FixedPotential    WallCondition = iota // a conductor held at Wall.Potential
	FixedCharge                            // an insulator that carries Wall.Charge
	FloatingPotential                      // a surface that has come to zero net current
)

var wallNames = [...]string{"fixed potential", "fixed charge", "floating potential"}

// String returns the name, or "WallCondition(n)".
func (w WallCondition) String() string { return enum.Name("WallCondition", wallNames[:], w) }

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (w WallCondition) MarshalText() ([]byte, error) {
	return enum.Write("condition", wallNames[:], w)
}

// UnmarshalText reads a name; anything else is a [*known.FieldError] and leaves the value.
func (w *WallCondition) UnmarshalText(b []byte) error {
	return enum.Read("condition", wallNames[:], b, w)
}

// Wall is the surface that the ions reach. It takes every ion that touches it.
type Wall struct {
	Condition WallCondition              // what is known of it
	Potential units.Voltage              // against the inlet, for FixedPotential
	Charge    units.SurfaceChargeDensity // net, for FixedCharge
	// BackGap is the air-equivalent distance (thickness over relative permittivity,
	// layers added) from the surface to earthed metal behind it, at the potential
	// of the inlet; part of the field lines then ends there. The default 0 is no
	// metal behind: all field lines of the charge run to the inlet. For FixedCharge.
	BackGap units.Length
}

// Problem is the steady one-dimensional transport of positive and negative ions
// from an inlet plane (x = 0, potential 0) to a surface (x = L):
//
//	(1/A)·d(A·J±)/dx = −c·α·n+·n− − s·n±   J± = n±·(u ± μ±E) − D±·dn±/dx
//	(1/A)·d(A·E)/dx = (e/ε0)·(n+ − n−)     E = −dφ/dx
//	n±(0) = inlet densities, n±(L) = 0, and φ(L), or σ = −ε0E(L) + ε0φ(L)/gap,
//	or J+(L) = J−(L)
//
// with air speed u, cross-section A, side flow s and crowding c of Flow. A surface that takes
// every ion has n = 0; for ions carried to it the flux does not depend on that.
// Diffusion layers are D/|u ± μE|, of the order of a micrometre. Not in it:
// production of ions in the gap, aerosol, turbulence other than through A, any
// second dimension.
// Source: Castellanos (ed.), "Electrohydrodynamics", Springer 1998, ch. 1–2
// (equations); Jonassen, "Neutralization of static charges by air ions",
// Compliance Engineering 2002 (their use).
type Problem struct {
	Positive      Carrier                        // ions, single charge
	Negative      Carrier                        // ions, single charge
	Length        units.Length                   // of the gap, 1 µm … 100 m
	Flow          FlowProfile                    // the air; UniformFlow{} is air at rest
	Wall          Wall                           // the surface at x = Length
	Recombination units.RecombinationCoefficient // α, 0 … 1e-9 m³/s
	Temperature   units.Temperature              // of the air, 100 … 1000 K, for Einstein's relation
}

// Validate returns nil or every fault of the problem, joined, each a
// [*known.FieldError].
func (p *Problem) Validate() error {
	err := errors.Join(carrierFaults("positive", &p.Positive), carrierFaults("negative", &p.Negative),
		known.InRange("recombination", p.Recombination, 0, 1e-9),
		known.InRange("temperature", p.Temperature, 100, 1000))
	if p.Positive.Density == 0 && p.Negative.Density == 0 {
		err = errors.Join(err, known.Wrong("positive.density", p.Positive.Density,
			"more than 0 for one of the two polarities"))
	}
	if p.Wall.Condition == FloatingPotential && (p.Positive.Density == 0 || p.Negative.Density == 0) {
		err = errors.Join(err, known.Wrong("wall.condition", p.Wall.Condition, "both polarities present: with one alone "+
			"the surface charges on until no ion arrives"))
	}
	if e := known.InRange("length", p.Length, units.Length(1e-6), 100); e != nil {
		return errors.Join(err, e)
	}
	return errors.Join(err, p.Wall.faults(), checkFlow(p.Flow, p.Length))
}

func carrierFaults(name string, c *Carrier) error {
	mu, n, d := float64(c.Mobility), float64(c.Density), float64(c.Diffusivity)
	if mu > 0 && mu <= 1 && n >= 0 && n <= 1e20 && d >= 0 && d <= 1 {
		return nil // before any name is put together: a good problem allocates nothing
	}
	var err error
	if !(mu > 0 && mu <= 1) {
		err = known.Wrong(name+".mobility", c.Mobility, "more than 0, at most 1 m²/(V·s)")
	}
	return errors.Join(err, known.InRange(name+".density", c.Density, 0, units.NumberDensity(1e20)),
		known.InRange(name+".diffusivity", c.Diffusivity, 0, units.Diffusivity(1)))
}

func (w *Wall) faults() error {
	switch w.Condition {
	case FixedPotential:
		return known.InRange("wall.potential", w.Potential, -1e7, 1e7)
	case FixedCharge:
		return errors.Join(known.InRange("wall.charge", w.Charge, -1, 1), known.InRange("wall.back_gap", w.BackGap, 0, 1000))
	case FloatingPotential:
		return nil
	}
	return known.Wrong("wall.condition", w.Condition, "one of the named conditions")
}

// data translates the problem for the kernels; nref is the density that scales
// theirs.
func (p *Problem) data(d *bvp.Data, geo *flowAdapter) (nref float64) {
	nref = math.Max(float64(p.Positive.Density), float64(p.Negative.Density))
	*d = bvp.Data{
		L:     float64(p.Length),
		Mu:    [2]float64{float64(p.Positive.Mobility), float64(p.Negative.Mobility)},
		D:     [2]float64{p.diffusivity(&p.Positive), p.diffusivity(&p.Negative)},
		N0:    [2]float64{float64(p.Positive.Density) / nref, float64(p.Negative.Density) / nref},
		Alpha: float64(p.Recombination) * nref,
		CQ:    units.ElementaryCharge * nref / units.Epsilon0,
		Geo:   geo,
	}
	geo.f = p.Flow
	switch p.Wall.Condition {
	case FixedPotential:
		d.Kind, d.Wall = bvp.WallPotential, float64(p.Wall.Potential)
	case FixedCharge:
		d.Kind, d.Wall = bvp.WallCharge, float64(p.Wall.Charge)/units.Epsilon0
		if p.Wall.BackGap > 0 {
			d.Back = 1 / float64(p.Wall.BackGap)
		}
	default:
		d.Kind = bvp.WallFloating
	}
	return nref
}

func (p *Problem) diffusivity(c *Carrier) float64 {
	if c.Diffusivity > 0 {
		return float64(c.Diffusivity)
	}
	return float64(c.Mobility) * units.Boltzmann * float64(p.Temperature) / units.ElementaryCharge
}

// Mirror returns the problem with the polarities exchanged: carriers swapped,
// potential and charge negated. Its solution is that of p with n+ and n−
// exchanged and φ, E and the net current negated.
func (p Problem) Mirror() Problem {
	p.Positive, p.Negative = p.Negative, p.Positive
	p.Wall.Potential, p.Wall.Charge = -p.Wall.Potential, -p.Wall.Charge
	return p
}
