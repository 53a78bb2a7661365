package decay

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Layer is a uniform layer of material.
type Layer struct {
	Thickness    units.Length            // more than 0
	Permittivity float64                 // [1] relative permittivity εr, 1 … 1e4
	Resistivity  units.VolumeResistivity // more than 0
}

// Check returns [*known.FieldError]s, joined, whose fields begin with name.
func (l Layer) Check(name string) error {
	return errors.Join(
		known.Positive(name+".thickness", l.Thickness),
		known.InRange(name+".permittivity", l.Permittivity, 1, 1e4),
		known.Positive(name+".resistivity", l.Resistivity))
}

// Tau returns the bulk relaxation time ε0·εr·ρ of the layer.
func (l Layer) Tau() units.Time { return RelaxationTime(l.Resistivity, l.Permittivity) }

// InterfaceTime returns the relaxation time of a uniform charge on the interface
// of two layers whose outer faces are both earthed,
//
//	τ = (ε1/d1 + ε2/d2) / (1/(ρ1·d1) + 1/(ρ2·d2)),  ε = ε0·εr
//
// It is the two-layer (Maxwell–Wagner) time: the interface sees both layers as
// capacitors and as resistors in parallel.
func InterfaceTime(a, b Layer) (units.Time, error) {
	if err := errors.Join(a.Check("a"), b.Check("b")); err != nil {
		return units.Time(math.NaN()), err
	}
	d1, d2 := float64(a.Thickness), float64(b.Thickness)
	c := units.Epsilon0 * (a.Permittivity/d1 + b.Permittivity/d2)      // [F/m²]
	g := 1/(float64(a.Resistivity)*d1) + 1/(float64(b.Resistivity)*d2) // [S/m²]
	return units.Time(c / g), nil
}

// ProbeTime returns the relaxation time of the charge on a film that lies on
// earth under an earthed probe or meter face at the air gap g > 0,
//
//	τ = ρ·ε0·(εr + d/g)
//
// A close probe adds capacitance and slows the decay that it measures: by 44 %
// at g = d and εr = 2.25. The air conducts nothing here.
func ProbeTime(film Layer, gap units.Length) (units.Time, error) {
	if err := errors.Join(film.Check("film"), known.Positive("gap", gap)); err != nil {
		return units.Time(math.NaN()), err
	}
	load := float64(film.Thickness) / float64(gap) // [1]
	return units.Time(float64(film.Resistivity) * units.Epsilon0 * (film.Permittivity + load)), nil
}

// Stack is a pile of layers on earth with a uniform charge put on its top face
// and nothing earthed near above. No current leaves the top, so that in every
// layer E_i/ρ_i + ε_i·dE_i/dt = 0: each layer relaxes alone,
//
//	V(t) = (σ/ε0)·Σ (d_i/εr_i)·e^(−t/τ_i),  τ_i = ε0·εr_i·ρ_i
//
// A laminate shows a sum of exponentials even if each layer is ideal.
type Stack struct {
	law Exponentials
	s   float64 // Σ d_i/(ε0·εr_i) [V/(C/m²)]
}

// NewStack returns the stack of one or more layers; their order does not matter.
func NewStack(layers ...Layer) (Stack, error) {
	if len(layers) == 0 {
		return Stack{}, known.Wrong("layers", "none", "at least 1")
	}
	var err error
	w := make([]float64, len(layers))
	tau := make([]units.Time, len(layers))
	s := 0.0
	for i, l := range layers {
		err = errors.Join(err, l.Check(index("layers", i)))
		w[i] = float64(l.Thickness) / l.Permittivity
		tau[i] = l.Tau()
		s += w[i] / units.Epsilon0
	}
	if err != nil {
		return Stack{}, err
	}
	law, err := NewExponentials(w, tau)
	return Stack{law, s}, err
}

// Law returns the decay of the surface voltage as a fraction of its start.
func (s Stack) Law() Exponentials { return s.law }

// Voltage returns the voltage of the top face at time t after the charge density
// sigma was put there: the start voltage before t = 0.
func (s Stack) Voltage(sigma units.SurfaceChargeDensity, t units.Time) units.Voltage {
	return units.Voltage(float64(sigma) * made(s.s) * s.law.Fraction(t)) // C/m² · V·m²/C
}
