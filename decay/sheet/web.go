package sheet

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// WebStretch is a part of the web path with one relaxation time: a span, the
// wrap of a roller.
type WebStretch struct {
	Length       units.Length // of the path, ≥ 0
	TimeConstant units.Time   // τ of the charge on it, > 0; +Inf where nothing leaks
}

// WebRemaining returns the share of its charge that a web of speed u > 0 still
// carries after the stretches when charge leaks locally,
//
//	σ/σ0 = exp(−Σ ΔL_i/(U τ_i))    [1]
//
// from U dσ/dx = −σ/τ(x). It holds where the field of the charge reaches earth
// nearby (a wrap), not in a free span, where the rate is non-local: see
// [FreeSpanWeb]. Special cases: a wrong argument gives NaN.
func WebRemaining(u units.Speed, stretches ...WebStretch) float64 { // [1]
	sum := 0.0
	for _, s := range stretches {
		if !(s.Length >= 0) || !(s.TimeConstant > 0) {
			return math.NaN()
		}
		sum += float64(s.Length) / float64(s.TimeConstant)
	}
	if !(u > 0) {
		return math.NaN()
	}
	return math.Exp(-sum / float64(u))
}

// NearEarthSpec describes a moving web all along an earthed surface, between
// two earthed rollers that the charged face touches.
type NearEarthSpec struct {
	Length      units.Length      // L between the rollers, > 0
	Speed       units.Speed       // U, ≥ 0, from x = 0 to x = L
	Diffusivity units.Diffusivity // D of the charge, ≥ 0, not both U and D zero; see [SheetDiffusivity]
}

// NearEarthWeb is charge on a web close to earth: it is carried and diffuses,
//
//	∂σ/∂t = D σ″ − U σ′ + source,  σ = 0 at a roller that takes it.
//
// Immutable; see [NewNearEarthWeb].
type NearEarthWeb struct {
	l, u, d, pe float64 // m, m/s, m²/s, Péclet number
}

// NewNearEarthWeb checks the spec. Errors are [known.FieldError]s, joined.
func NewNearEarthWeb(spec NearEarthSpec) (*NearEarthWeb, error) {
	errs := []error{
		known.Positive("length", spec.Length),
		known.NotNegative("speed", spec.Speed),
		known.NotNegative("diffusivity", spec.Diffusivity),
	}
	if spec.Speed == 0 && spec.Diffusivity == 0 {
		errs = append(errs, known.Wrong("speed", spec.Speed, "more than 0 if the diffusivity is 0: nothing would move"))
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	w := &NearEarthWeb{l: float64(spec.Length), u: float64(spec.Speed), d: float64(spec.Diffusivity)}
	w.pe = w.u / w.d * w.l
	return w, nil
}

// Peclet returns U L/D, +Inf without diffusion. [1]
func (w *NearEarthWeb) Peclet() float64 { // [1]
	if w.l == 0 {
		return math.NaN()
	}
	return w.pe
}

// ProfileAt returns the steady charge at x over that at the inlet, with no
// source between and an outlet roller that takes all charge,
//
//	σ/σ0 = [1 − e^{−Pe(1−x/L)}]/(1 − e^{−Pe})    [1]
//
// Special cases: x outside 0 … L and NaN give NaN.
func (w *NearEarthWeb) ProfileAt(x units.Length) float64 { return w.share(1 - float64(x)/w.l) } // [1]

// DownstreamShare returns the chance that a charge laid at x leaves at the
// outlet and not back at the inlet,
//
//	(1 − e^{−Pe x/L})/(1 − e^{−Pe})    [1]
//
// the exit probability of Brownian motion with drift. Special cases: x outside
// 0 … L and NaN give NaN.
func (w *NearEarthWeb) DownstreamShare(x units.Length) float64 { return w.share(float64(x) / w.l) } // [1]

// share is (1−e^{−Pe f})/(1−e^{−Pe}), f for Pe → 0.
func (w *NearEarthWeb) share(f float64) float64 {
	switch {
	case !(f >= 0 && f <= 1):
		return math.NaN()
	case w.pe < 1e-300:
		return f
	case f == 0:
		return 0
	}
	return math.Expm1(-w.pe*f) / math.Expm1(-w.pe)
}

// SlowestRate returns the rate of the last mode of a charge left on the web,
// π²D/L² + U²/(4D); +Inf without diffusion, when all is gone after L/U.
func (w *NearEarthWeb) SlowestRate() units.Frequency {
	return units.Frequency(math.Pi/w.l*(math.Pi/w.l)*w.d + w.u/w.d*w.u/4)
}

// FreeSpanSpec describes a moving web between two earthed rollers with air on
// both its faces.
type FreeSpanSpec struct {
	Length             units.Length          // L between the tangent lines, > 0
	Speed              units.Speed           // U, ≥ 0, from the inlet roller at x = 0 to the outlet roller at x = L
	SurfaceResistivity units.SheetResistance // ρ_s of the charged face; 0: it does not conduct (then U > 0)
	InletRadius        units.Length          // of the roller that the web leaves; 0 (a sharp edge) only at U = 0
	OutletRadius       units.Length          // of the roller that the web reaches; 0 (a sharp edge) only at U = 0
	// ContactGap h0 is the electrical distance from the charge to the roller where
	// web and roller touch: roughness, and thickness/ε_r if the charge sits on the
	// face that does not touch. > 0 for a moving web, and below every radius.
	ContactGap units.Length
	// SameFace says that both rollers touch the same face of the web. It changes no
	// result; see [FreeSpanWeb.Validity].
	SameFace bool
}

// FreeSpanSettings tunes the discretisation. The zero value is right.
type FreeSpanSettings struct {
	// Step of the mesh in ln(x/(L−x)), 0.02 … 0.5; 0 means 0.1. At 0.1 the share that
	// goes back and the charge are good to 1e-3 of their value, to 4e-3 where half of
	// a deposit goes back; the error falls with the square of the step, the cost
	// with the cube. [1]
	Step float64
}

func (s *FreeSpanSpec) check() error {
	errs := []error{
		known.Positive("length", s.Length),
		known.NotNegative("speed", s.Speed),
		known.NotNegative("surface_resistivity", s.SurfaceResistivity),
		known.NotNegative("inlet_radius", s.InletRadius),
		known.NotNegative("outlet_radius", s.OutletRadius),
		known.NotNegative("contact_gap", s.ContactGap),
	}
	if s.SurfaceResistivity == 0 && s.Speed == 0 {
		errs = append(errs, known.Wrong("speed", s.Speed, "more than 0 if the face does not conduct: nothing would move"))
	}
	if s.Speed > 0 {
		// Without the opening gap the problem has no inlet condition: the sharp
		// slot lets part of a deposit go back even on a perfect insulator.
		for _, r := range []struct {
			field string
			v     units.Length
		}{{"inlet_radius", s.InletRadius}, {"outlet_radius", s.OutletRadius}, {"contact_gap", s.ContactGap}} {
			if !(r.v > 0) {
				errs = append(errs, known.Wrong(r.field, r.v, "more than 0 for a moving web: the opening gap behind the roller "+
					"decides what goes back"))
			}
		}
	}
	if l := s.Length; l > 0 {
		for _, r := range []struct {
			field string
			v     units.Length
		}{{"inlet_radius", s.InletRadius}, {"outlet_radius", s.OutletRadius}} {
			if r.v > 0 {
				errs = append(errs, known.InRange(r.field, r.v, l/1e5, l*10))
				if s.ContactGap > r.v/10 {
					errs = append(errs, known.Wrong("contact_gap", s.ContactGap,
						fmt.Sprintf("at most a tenth of the %s, %v", r.field, r.v/10)))
				}
			}
		}
		if s.ContactGap > 0 {
			errs = append(errs, known.InRange("contact_gap", s.ContactGap, l/1e9, l/100))
		}
	}
	return errors.Join(errs...)
}
