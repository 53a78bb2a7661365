package sheet

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// made returns what no constructor lets be 0, and NaN for the zero value of a type.
func made(x float64) float64 {
	if x == 0 {
		return math.NaN()
	}
	return x
}

// SpreadingSpeed returns the speed at which charge on a resistive sheet far
// from any earth spreads,
//
//	v_s = 1/(2 ε0 ρ_s)    [m/s]
//
// ρ_s [Ω per square] > 0. The potential of a charge wave of wave number k on a
// sheet in air is σ/(2ε0k); Ohm's law in the sheet and continuity then give the
// rate k·v_s: the field above the sheet is that of the original charge receding
// at v_s, the electric twin of Maxwell's receding images (J. C. Maxwell, Proc.
// R. Soc. 20 (1872) 160, doi 10.1098/rspl.1871.0036; not read, the law is
// derived above). 56.5 mm/s at 10¹² Ω, 5.65 m/s at 10¹⁰ Ω.
//
// Special cases: 0 gives +Inf; negative and NaN give NaN.
func SpreadingSpeed(rhoS units.SheetResistance) units.Speed {
	if !(rhoS >= 0) {
		return units.Speed(math.NaN())
	}
	return units.Speed(1 / (2 * units.Epsilon0 * float64(rhoS)))
}

// UpWebShare returns the share of a deposit that is found up-web of the place
// where it was laid, on an endless free web of speed u,
//
//	(1/π)·atan(v_s/u)    [1]
//
// the integral over x < 0 of the Lorentzian (1/π) v_s t/((x−ut)²+(v_s t)²). It
// is the same at all times and there is no threshold: 3.2 % at v_s/u = 0.1,
// 25 % at 1, ½ on a web at rest (the limit; also for u = v_s = 0). u > 0 runs
// towards +x.
//
// Special cases: negative v_s and NaN give NaN; u < 0 gives more than ½.
func UpWebShare(vs, u units.Speed) float64 { // [1]
	if !(vs >= 0) || math.IsNaN(float64(u)) {
		return math.NaN()
	}
	if vs == 0 && u == 0 {
		return 0.5
	}
	return math.Atan2(float64(vs), float64(u)) / math.Pi
}

// Support says what is behind the charged face of a sheet.
type Support uint8

// The kinds of support.
const (
	OnEarth      Support = iota // film on earthed metal: a sample on a plate, a web on a roller
	FreeSpan                    // air on both faces: a web between rollers, a hanging sheet
	OnDielectric                // the surface of a block much thicker than the charge pattern is long
)

var supportNames = [...]string{"on earth", "free span", "on a thick dielectric"}

// String returns the name of the support, or "Support(n)".
func (s Support) String() string { return enum.Name("Support", supportNames[:], s) }

// MarshalText writes the name of the support; a value without one is a [*known.FieldError].
func (s Support) MarshalText() ([]byte, error) { return enum.Write("support", supportNames[:], s) }

// UnmarshalText reads the name of the support; anything else is a [*known.FieldError] and leaves the
// value as it was.
func (s *Support) UnmarshalText(b []byte) error { return enum.Read("support", supportNames[:], b, s) }

// SheetSpec describes a sheet with charge on one face. A resistivity, distance
// or conductivity of zero means that there is none: no conduction, no plate.
type SheetSpec struct {
	Support Support // what is behind the charged face
	// Thickness d of the film; > 0 on earth, ≥ 0 in a free span (0: a sheet
	// without a body), not used on a thick dielectric.
	Thickness units.Length
	// RelativePermittivity ε_r of the film or block, ≥ 1. [1]
	RelativePermittivity float64
	SurfaceResistivity   units.SheetResistance   // ρ_s of the charged face; 0: the face does not conduct
	VolumeResistivity    units.VolumeResistivity // ρ_v of film or block; 0: it does not conduct. Not in a free span
	PlateDistance        units.Length            // h from the charged face to an earthed plate above; 0: no plate
	AirConductivity      units.Conductivity      // γ of the air, ≥ 0. In a free span only with Thickness 0
}

// Sheet is a checked [SheetSpec]: the decay rate of every charge wave on it.
// The zero value gives NaN; see [NewSheet]. It is immutable.
type Sheet struct {
	spec             SheetSpec
	gs, gv, ga       float64 // 1/ρ_s, 1/ρ_v, γ_a [S, S/m, S/m]
	d, h, epsR, zero float64 // thickness, plate (Inf: none), ε_r, rate at k = 0
}

// NewSheet checks the spec. Errors are [known.FieldError]s, joined. Bulk
// conduction in a free span is refused: charge then moves between the faces and
// one rate does not describe it (two-face problem: 20 µm, ε_r 2.2, ρ_v 10¹⁵ Ω·m
// at λ 1 m decays in 1.4·10⁸ s, where one-face bookkeeping would say 2 s).
func NewSheet(spec SheetSpec) (*Sheet, error) {
	errs := []error{
		known.InRange("relative_permittivity", spec.RelativePermittivity, 1, 1e6),
		known.NotNegative("surface_resistivity", spec.SurfaceResistivity),
		known.NotNegative("volume_resistivity", spec.VolumeResistivity),
		known.NotNegative("plate_distance", spec.PlateDistance),
		known.NotNegative("air_conductivity", spec.AirConductivity),
	}
	switch spec.Support {
	case OnEarth:
		errs = append(errs, known.Positive("thickness", spec.Thickness))
	case FreeSpan:
		errs = append(errs, known.NotNegative("thickness", spec.Thickness))
		if spec.VolumeResistivity != 0 {
			errs = append(errs, known.Wrong("volume_resistivity", spec.VolumeResistivity,
				"0 (no bulk conduction) in a free span: bulk conduction there is a problem of two faces"))
		}
		if spec.AirConductivity != 0 && spec.Thickness != 0 {
			errs = append(errs, known.Wrong("air_conductivity", spec.AirConductivity,
				"0 in a free span of a film with thickness: conducting air there is a problem of two faces"))
		}
	case OnDielectric:
		if spec.Thickness != 0 {
			errs = append(errs, known.Wrong("thickness", spec.Thickness, "0: a thick dielectric has no other side"))
		}
	default:
		errs = append(errs, known.Wrong("support", spec.Support, enum.OneOf(supportNames[:])))
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	s := &Sheet{spec: spec, ga: float64(spec.AirConductivity), d: float64(spec.Thickness),
		h: math.Inf(1), epsR: spec.RelativePermittivity}
	if spec.SurfaceResistivity > 0 {
		s.gs = 1 / float64(spec.SurfaceResistivity)
	}
	if spec.VolumeResistivity > 0 {
		s.gv = 1 / float64(spec.VolumeResistivity)
	}
	if spec.PlateDistance > 0 {
		s.h = float64(spec.PlateDistance)
	}
	s.zero = s.uniform()
	if math.IsInf(s.gs, 0) || math.IsInf(s.gv, 0) || math.IsInf(s.zero, 0) || math.IsNaN(s.zero) {
		return nil, known.Wrong("surface_resistivity", spec.SurfaceResistivity, "resistivities whose reciprocal is finite")
	}
	return s, nil
}

// Spec returns what the sheet was made from.
func (s *Sheet) Spec() SheetSpec { return s.spec }

// uniform is the limit of the rate for k → 0.
func (s *Sheet) uniform() float64 {
	up := 0.0 // 1/h, the capacitance to the plate over ε0
	if !math.IsInf(s.h, 1) {
		up = 1 / s.h
	}
	switch {
	case s.spec.Support == OnEarth:
		return (s.gv/s.d + s.ga*up) / (units.Epsilon0 * (up + s.epsR/s.d))
	case up > 0:
		// The plate is the only earth; the far side is open and, for k → 0,
		// takes no field.
		return s.ga / units.Epsilon0
	case s.spec.Support == OnDielectric:
		return (s.gv + s.ga) / (units.Epsilon0 * (1 + s.epsR))
	}
	return s.ga / units.Epsilon0
}

// Rate returns the rate at which a charge wave of wave number k [rad/m] on the
// sheet decays, σ_k(t) = σ_k(0)·exp(−Rate(k)·t), with k = 2π/λ:
//
//	rate(k) = [k²/ρ_s + (k/ρ_v) coth kd + γ k coth kh] / {ε0 k [coth kh + ε_r coth kd]}
//
// on earth; on a thick dielectric kd → ∞; in a free span ε_r coth kd is
// replaced by ε_r(1 + ε_r tanh kd)/(ε_r + tanh kd). It is the quasi-static
// solution for uniform layers (Laplace's equation in each, continuity of charge
// at the face), so it holds at any kd, both ways from the limits
//
//	D k²,  D = d/(ρ_s ε0 ε_r)           close to earth, kd ≪ 1
//	k v,   v = 1/(ρ_s ε0 (1+ε_r))       kd ≫ 1, or a thick dielectric
//	k v_s, v_s = 1/(2 ε0 ρ_s)           free span, kd ≪ 1
//	1/(ρ_v ε0 ε_r)                      bulk alone, kd ≪ 1, no plate
//
// The face itself must be thin against 1/k. Negative k counts as |k|; k = 0 is
// the limit k → 0. NaN gives NaN; an infinite k gives the limit, which is +Inf
// if the face conducts. It does not allocate.
func (s *Sheet) Rate(k float64) units.Frequency { // k [rad/m]
	if s.epsR == 0 {
		return units.Frequency(math.NaN())
	}
	k = math.Abs(k)
	// Below this the hyperbolic cotangents overflow; the rate differs from its
	// limit by less than rounding.
	if k < 1e-120 {
		return units.Frequency(s.zero)
	}
	up := 1.0
	if kh := k * s.h; kh < 20 {
		up = 1 / math.Tanh(kh)
	}
	g, c := 0.0, 0.0 // conductance and capacitance of the far side, over k and ε0 k
	switch s.spec.Support {
	case OnEarth:
		c = 1
		if kd := k * s.d; kd < 20 {
			c = 1 / math.Tanh(kd)
		}
		g = s.gv * c
		c *= s.epsR
	case OnDielectric:
		g, c = s.gv, s.epsR
	default:
		t := 0.0
		if s.d > 0 {
			t = math.Tanh(k * s.d)
		}
		c = s.epsR * (1 + s.epsR*t) / (s.epsR + t)
		g = s.ga
	}
	if s.gs > 0 { // not 0·Inf
		g += k * s.gs
	}
	return units.Frequency((g + s.ga*up) / (units.Epsilon0 * (up + c)))
}

// RatesTo sets dst[i] to Rate(k[i]). dst and k have the same length. Rows with
// NaN get NaN and are listed in one error.
func (s *Sheet) RatesTo(dst, k []float64) error { // dst [1/s], k [rad/m]
	if len(dst) != len(k) {
		return known.Wrong("dst", fmt.Sprintf("%d rows", len(dst)), fmt.Sprintf("%d rows, as k", len(k)))
	}
	var bad []int
	for i, v := range k {
		dst[i] = float64(s.Rate(v))
		if math.IsNaN(v) {
			bad = append(bad, i)
		}
	}
	if bad != nil {
		return known.Wrong("k", fmt.Sprintf("NaN in rows %v", bad), "finite wave numbers")
	}
	return nil
}

// TimeConstant returns 1/Rate(2π/λ) for the wavelength λ > 0, +Inf if the wave
// does not decay. Special cases: λ ≤ 0 and NaN give NaN.
func (s *Sheet) TimeConstant(wavelength units.Length) units.Time {
	if !(wavelength > 0) {
		return units.Time(math.NaN())
	}
	return units.Time(1 / float64(s.Rate(2*math.Pi/float64(wavelength))))
}

// Decays reports whether uniform charge on the sheet decays at all: whether
// there is a path to earth through the film or the air. Without one, conduction
// along the face only spreads the charge, and its total stays.
func (s *Sheet) Decays() bool { return s.zero > 0 }

// NearEarth returns the diffusivity of charge on a sheet close to earth,
//
//	D = 1/(ρ_s C′),  C′ = ε0 ε_r/d + ε0/h    [m²/s]
//
// and how well it holds for a pattern of wavelength λ: the flag is
// [known.WrongShape] where D k² is more than 2 % off [Sheet.Rate] less its
// value at k = 0, as for λ of the order of the thickness, and always for a
// support other than [OnEarth], where D is NaN.
func (s *Sheet) NearEarth(wavelength units.Length) (units.Diffusivity, known.Validity) {
	if s.spec.Support != OnEarth {
		return units.Diffusivity(math.NaN()), known.WrongShape
	}
	d := s.gs / (units.Epsilon0 * (s.epsR/s.d + 1/s.h))
	k := 2 * math.Pi / float64(wavelength)
	if got := float64(s.Rate(k)) - s.zero; !(wavelength > 0) || !(math.Abs(d*k*k-got) <= 0.02*got) {
		return units.Diffusivity(d), known.WrongShape
	}
	return units.Diffusivity(d), known.Inside
}

// SheetDiffusivity returns the diffusivity of charge on a film of thickness d
// on earth with nothing near above, D = d/(ρ_s ε0 ε_r) [m²/s], for patterns
// much longer than d. d > 0, ρ_s > 0, ε_r ≥ 1; anything else gives NaN.
func SheetDiffusivity(d units.Length, rhoS units.SheetResistance, epsR float64) units.Diffusivity { // epsR [1]
	if !(d > 0) || !(rhoS > 0) || !(epsR >= 1) {
		return units.Diffusivity(math.NaN())
	}
	return units.Diffusivity(float64(d) / (float64(rhoS) * units.Epsilon0 * epsR))
}
