package gas

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// All caps below are the least of one function over the gap z,
//
//	σ(z) = m·ε0·V_b(z)·(1/z + 1/g),
//
// with m the number of free faces and g the length that stands for the other
// capacitor: t/εr for a film of thickness t on earthed backing, the distance to
// the other earth for a web, endless when there is none. With x = δz the gas
// law of relative density 1 serves every density: σ(z; g, δ) = δ·σ1(x; δg).

// field returns V_b(x)·(1/x + 1/g) in V/m for relative density 1.
func (l *airLaw) field(x, g float64) float64 {
	return l.volts(x, 1) * (1/x + 1/g)
}

// Ranges of g = t/εr (relative density 1) in which one piece holds the least.
const (
	// Up to here the stationary point of the logarithmic form rules; from here
	// to stepScale it is the foot of the 0.11 % step at 55 µm.
	logScale  = 78.145371570076759673e-6 // [m]
	stepScale = 87.497098699539909914e-6 // [m] beyond: the stationary point of the uniform-field fit
	// lambertScale is exp(logA − 1): the stationary point of the logarithmic form
	// is z = g/W(lambertScale·g) with W Lambert's function.
	lambertScale = 90871.421754871851 // [1/m]
)

// stepField is V_b(55 µm)/55 µm of the uniform-field fit and its voltage.
var (
	stepVolt  = 584.1148680154163     // [V] uniformLin*plateauEnd + uniformRt*√plateauEnd
	stepField = 1.0620270327553023e07 // [V/m]
)

// least returns the least value in V/m of field over all gaps and the gap in m
// at which it is met, each piece by its closed form. g > 0.
func (l *airLaw) least(g float64) (f, x float64) {
	switch {
	case g <= l.joinScale:
		return l.joinV/l.join + l.joinV/g, l.join
	case g < logScale:
		u := lambert(lambertScale * g)
		// At the stationary point z·u = g, so V_b/z·(1 + z/g) = B/(1+u)·(1 + 1/u) = B/u.
		r := 1 / u
		return townsendB * r, g * r
	case g < stepScale:
		return stepField + stepVolt/g, plateauEnd
	}
	return leastUniform(g)
}

// leastUniform is least for the uniform-field fit K·z + S·√z. With Y = √(g/z) the
// stationary point solves Y³ − Y = h, h = 2K·√g/S; g is not below stepScale, so
// that h > 0.74.
func leastUniform(g float64) (f, x float64) {
	if math.IsInf(g, 1) {
		return uniformLin, math.Inf(1)
	}
	root := math.Sqrt(g)
	h := 2 * uniformLin / uniformRt * root
	var y float64
	if h < 1.3 {
		// Chebyshev fit to the root, error 7e-6, squared by the step below.
		y = 1.01928086655 + h*(0.395392502074+h*(-0.108965014199+h*0.0190160607188))
	} else {
		y = math.Cbrt(h)
		y += 1 / (3 * y)
		y -= (y*(y*y-1) - h) / (3*y*y - 1)
		y -= (y*(y*y-1) - h) / (3*y*y - 1)
	}
	y -= (y*(y*y-1) - h) / (3*y*y - 1)
	r := 1 / (y * y) // x/g
	return (uniformLin + uniformRt*y/root) * (1 + r), g * r
}

// lambert returns W(x) of W·e^W = x for 0.63 ≤ x ≤ 8.05: a polynomial in
// √(x + 1/e), the variable in which the branch point is regular. Greatest error
// 4.6e-12 (Chebyshev fit to values of 40 digits).
func lambert(x float64) float64 {
	const inverseE = 0.36787944117144232160
	t := (math.Sqrt(x+inverseE) - 1.95015) * 1.05129
	t2 := t * t
	t4 := t2 * t2
	t8 := t4 * t4
	// Estrin's scheme: short chains, so that films overlap in the processor.
	a := (1.12039524896956115 + 0.570659672785173109*t) + (-0.100443212333231638+0.0241641092235612538*t)*t2
	b := (-0.00660568734525885651 + 0.00193649888015814797*t) + (-0.000593292577350486777+0.000187288612021312999*t)*t2
	c := (-0.0000604754064890036501 + 0.0000200743037349619499*t) + (-6.6845631524694848e-6+1.97041106003418623e-6*t)*t2
	d := (-6.66446637592096841e-7 + 4.13492113980398462e-7*t) - 1.42979181679381905e-7*t2
	return (a + b*t4) + (c+d*t4)*t8
}

// leastWithin is least over gaps up to end.
func (l *airLaw) leastWithin(g, end float64) (f, x float64) {
	if f, x = l.least(g); x <= end {
		return f, x
	}
	f, x = l.field(end, g), end
	// The stationary point of the logarithmic form may lie below end while the
	// foot of the step above it does not.
	if u := lambertScale * g; u > 0.63 && u < 8.05 {
		if z := g / lambert(u); z >= l.join && z < end && z < plateauEnd {
			if v := townsendB / lambert(u); v < f {
				f, x = v, z
			}
		}
	}
	return f, x
}

// CapBacked returns the greatest charge density that the outer face of a film
// on earthed metal keeps while a body parts from it (or an earthed body comes
// near), and the gap of the first breakdown above it:
//
//	σ_max = min over z of ε0·V_b(z)·(t + εr·z)/(t·z).
//
// The minimum is exact in each piece of [BreakdownVoltage]: the end of the
// plateau at 16.7163 µm/δ, Lambert's W in the logarithmic piece, the cubic in
// the uniform-field piece. It falls from 544 µC/m² (25 µm, εr 3.2) to 240
// (100 µm). For films below about 3 µm the field-emission limit
// ε0·350 V/µm = 3.1 mC/m² rules; it is flagged and the gap is 0. The film's own
// breakdown ([CapBulk]) may come first.
//
// Special cases: a thickness that is not above 0, epsr below 1, or a δ outside
// 0 < δ ≤ 5 gives NaN. Source: plate capacitor with the breakdown law; measured
// about 240 µC/m² on 50 µm FEP (S. Wang et al., Adv. Mater. 26 (2014) 6720, not
// compared with the paper) against 276.
func CapBacked(thickness units.Length,
	epsr, delta float64) (units.SurfaceChargeDensity, units.Length, known.Validity) { // epsr, delta [1]
	t := float64(thickness)
	if !(t > 0) || !(epsr >= 1) || !(delta > 0 && delta <= MaxDensity) {
		return units.SurfaceChargeDensity(math.NaN()), units.Length(math.NaN()), known.WrongShape
	}
	f, z := air.backed(t/epsr, delta)
	return units.SurfaceChargeDensity(units.Epsilon0 * f), units.Length(z), gapValidity(z, delta)
}

// backed scales least to the density δ.
func (l *airLaw) backed(g, delta float64) (f, z float64) {
	f, x := l.least(g * delta)
	if f *= delta; f > microField {
		return microField, 0 // very thin films: field emission in the closing gap
	}
	return f, x / delta
}

// CapBackedTo computes [CapBacked] for columns of films at one air density into
// cap and gap, which must have the length of thickness and epsr. Bad rows get
// NaN, and one error lists them. It allocates nothing unless it fails.
func CapBackedTo(cap []units.SurfaceChargeDensity, gap, thickness []units.Length,
	epsr []float64, delta float64) error { // epsr, delta [1]
	n := len(thickness)
	if len(cap) != n || len(gap) != n || len(epsr) != n {
		return known.Wrong("cap", fmt.Sprintf("columns of %d, %d, %d and %d", len(cap), len(gap), n, len(epsr)),
			"columns of one length")
	}
	if !(delta > 0 && delta <= MaxDensity) {
		for i := range cap {
			cap[i], gap[i] = units.SurfaceChargeDensity(math.NaN()), units.Length(math.NaN())
		}
		return known.Wrong("delta", delta, "above 0, up to 5")
	}
	return air.backedTo(cap, gap, thickness, epsr, delta)
}

func (l *airLaw) backedTo(cap []units.SurfaceChargeDensity, gap, thickness []units.Length, epsr []float64,
	delta float64) error {
	bad := 0
	for i, th := range thickness {
		t, er := float64(th), epsr[i]
		if !(t > 0) || !(er >= 1) {
			cap[i], gap[i] = units.SurfaceChargeDensity(math.NaN()), units.Length(math.NaN())
			bad++
			continue
		}
		f, z := l.backed(t/er, delta)
		cap[i], gap[i] = units.SurfaceChargeDensity(units.Epsilon0*f), units.Length(z)
	}
	if bad == 0 {
		return nil
	}
	errs := make([]error, 0, bad)
	for i, t := range thickness {
		errs = append(errs, known.Positive(fmt.Sprintf("thickness[%d]", i), t))
		if !(epsr[i] >= 1) {
			errs = append(errs, known.Wrong(fmt.Sprintf("epsr[%d]", i), epsr[i], "1 or more"))
		}
	}
	return errors.Join(errs...)
}

// CapFreeWeb returns the greatest net charge density of a web in free span over
// a uniform gap to earth: faces 1 when all the field goes to one near earth,
// 2 when it leaves both faces alike to earths at the same gap,
//
//	σ_max = faces·ε0·V_b(gap)/gap.
//
// It falls as the gap opens: 75 µC/m² at 0.1 mm, 38.5 at 1 mm, 26.8 at 1 cm for
// one face. With no earth near, use [CapUniform]. NaN for faces other than 1 and
// 2 and for the bad arguments of [BreakdownVoltage]; a gap of 0 gives the
// field-emission limit.
func CapFreeWeb(faces int, gap units.Length,
	delta float64) (units.SurfaceChargeDensity, known.Validity) { // faces, delta [1]
	d := float64(gap)
	if faces != 1 && faces != 2 || !(d >= 0) || !(delta > 0 && delta <= MaxDensity) {
		return units.SurfaceChargeDensity(math.NaN()), known.WrongShape
	}
	f := microField
	if d > microEnd {
		f = air.volts(d, delta) / d
	}
	if math.IsInf(d, 1) {
		f = uniformLin * delta // the limit of V_b/d
	}
	return units.SurfaceChargeDensity(float64(faces) * units.Epsilon0 * f), gapValidity(d, delta)
}

// AirStrength is the conventional breakdown strength of air at normal density
// over centimetres, 3 MV/m. Source: AIChE CCPS glossary, surface charge density
// (26.5 µC/m²).
const AirStrength = 3e6 * units.VoltPerMetre

// CapUniform returns faces·ε0·E for a stated breakdown strength: with
// [AirStrength] 26.56 µC/m² for one free face and 53.12 for two (no earth near).
// NaN for faces other than 1 and 2 and for a strength that is not 0 or more.
func CapUniform(faces int, strength units.ElectricField) units.SurfaceChargeDensity { // faces [1]
	if faces != 1 && faces != 2 || !(strength >= 0) {
		return units.SurfaceChargeDensity(math.NaN())
	}
	return units.SurfaceChargeDensity(float64(faces) * units.Epsilon0 * float64(strength))
}

// CapBulk returns ε0·εr·E, the charge density at which a film on earthed metal
// breaks down through its thickness, for the film's own breakdown strength
// (which depends on thickness: polyethylene about 20 MV/m in bulk by IEC
// 61340-1, hundreds of MV/m for thin films). NaN for epsr below 1 and for a
// strength that is not 0 or more.
func CapBulk(epsr float64, strength units.ElectricField) units.SurfaceChargeDensity { // epsr [1]
	if !(epsr >= 1) || !(strength >= 0) {
		return units.SurfaceChargeDensity(math.NaN())
	}
	return units.SurfaceChargeDensity(units.Epsilon0 * epsr * float64(strength))
}

// Least returns the least field over the gap z that lets air break down between
// a face and a body that leaves it, and the gap at which it is met:
//
//	min over z ≤ end of V_b(z)·(1/z + 1/other),
//
// times ε0 the gas cap of one face. other is the length of the capacitor on the
// other side: t/εr of a film on earthed backing, the distance to the next earth
// of a web, +Inf for none; end the greatest gap, +Inf for no end. Where field
// emission rules, the least is [FieldEmission] and the gap 0. The caps of this
// package and the parting of a face are made of it.
//
// NaN and WrongShape for lengths that are not above 0 or a δ outside 0 < δ ≤ 5.
func Least(other, end units.Length, delta float64) (units.ElectricField, units.Length, known.Validity) { // delta [1]
	g, e := float64(other), float64(end)
	if !(g > 0) || !(e > 0) || !(delta > 0 && delta <= MaxDensity) {
		return units.ElectricField(math.NaN()), units.Length(math.NaN()), known.WrongShape
	}
	f, z := air.within(g, e, delta)
	return units.ElectricField(f), units.Length(z), gapValidity(z, delta)
}

// within scales leastWithin to the density δ.
func (l *airLaw) within(g, end, delta float64) (f, z float64) {
	if end <= microEnd {
		return microField, 0
	}
	// Left of the plateau the law does not scale with δ; there σ(z) only falls.
	if x := end * delta; x < plateauStart {
		f, z = l.volts(end, delta)*(1/end+1/g), end
	} else {
		f, x = l.leastWithin(g*delta, x)
		f, z = f*delta, x/delta
	}
	if f > microField {
		return microField, 0
	}
	return f, z
}
