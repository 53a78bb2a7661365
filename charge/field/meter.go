package field

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// FieldMeterSpec describes a class of field meter.
type FieldMeterSpec struct {
	// Nominal is the distance d0 for which the display is marked: the display is
	// the field at the face times d0. 25 mm or one inch are common.
	Nominal units.Length
	// FaceRadius is the radius of the earthed face around the aperture.
	FaceRadius units.Length
	// Guarded says that the face is a part of an earthed plane that is wide
	// against the distance; then [FieldFactor] holds and FaceRadius has no effect.
	Guarded bool
	// SheetRadius is, for a bare face only, the radius of the charged area that
	// the meter sees; a bare face gathers field from all of it. For a web of
	// width w take w/2, for a sheet the radius of the circle of the same area.
	SheetRadius units.Length
	// FullScale is the largest display; a display at ±FullScale means "at least".
	FullScale units.DisplayVoltage
	// Gain is the display over the true field × d0, its median and spread between
	// meters. [1] The zero Band means exactly 1.
	Gain known.Band
	// Offset is the display without field, its median and spread. [V(display)]
	// The zero Band means exactly 0.
	Offset known.Band
}

// FieldMeter is a validated field meter, made by [NewFieldMeter]; the zero
// FieldMeter gives NaN. It is a small value that many goroutines may use at once.
type FieldMeter struct {
	spec   *FieldMeterSpec // never written after NewFieldMeter
	gain   float64         // [V·m²/C] display over charge density at factor 1
	offset float64         // [V]
	full   float64         // [V]
}

// NewFieldMeter checks the specification: nominal distance 1 mm … 1 m, full
// scale above 0, a positive gain; for a bare face FaceRadius and SheetRadius
// above 0 and finite.
func NewFieldMeter(s FieldMeterSpec) (FieldMeter, error) {
	if s.Gain == (known.Band{}) {
		s.Gain.Value = 1
	}
	errs := []error{
		known.InRange("field_meter.nominal", s.Nominal, 1*units.Millimetre, 1*units.Metre),
		known.Positive("field_meter.full_scale", s.FullScale),
		s.Gain.Check("field_meter.gain"),
		known.Positive("field_meter.gain", units.Ratio(s.Gain.Value)),
		s.Offset.Check("field_meter.offset"),
	}
	if !s.Guarded {
		errs = append(errs,
			known.Positive("field_meter.face_radius", s.FaceRadius),
			known.Positive("field_meter.sheet_radius", s.SheetRadius))
	} else {
		errs = append(errs, known.NotNegative("field_meter.face_radius", s.FaceRadius))
	}
	if err := errors.Join(errs...); err != nil {
		return FieldMeter{}, err
	}
	m := FieldMeter{spec: &s, full: float64(s.FullScale)}
	return m.With(s.Gain.Value, units.DisplayVoltage(s.Offset.Value)), nil
}

// Spec returns what the meter was built from.
func (m FieldMeter) Spec() FieldMeterSpec {
	if m.spec == nil {
		return FieldMeterSpec{}
	}
	return *m.spec
}

// With returns the meter with this one gain and this one offset, as a sampled
// copy of its class: draw Gain.At(z) and Offset.At(z) once for each meter.
func (m FieldMeter) With(gain float64, offset units.DisplayVoltage) FieldMeter { // gain [1]
	if m.spec == nil {
		return m
	}
	m.gain = gain * float64(m.spec.Nominal) / units.Epsilon0
	if !m.spec.Guarded {
		m.gain /= bareCalibration(float64(m.spec.FaceRadius), float64(m.spec.Nominal))
	}
	m.offset = float64(offset)
	return m
}

// Factor returns the field at the middle of the face over σ/ε0, for a wide web
// at this distance with an earthed plane at this gap behind it. Guarded face:
// [FieldFactor], at most 1. Bare face: [BareFaceFactor], which may be far above
// 1. Negative arguments give NaN.
func (m FieldMeter) Factor(distance, gap units.Length) float64 { // [1]
	if m.spec == nil {
		return math.NaN()
	}
	if !m.spec.Guarded {
		return BareFaceFactor(m.spec.FaceRadius, m.spec.SheetRadius, distance, gap)
	}
	return FieldFactor(distance, gap)
}

// Display returns what the meter shows in front of a wide web of net charge
// density σ at the given distance, with earthed metal at the given gap behind
// the web:
//
//	V = gain·d0·(σ/ε0)·Factor + offset, cut at ± the full scale
//
// d0 is the nominal distance, whatever the real one. For a bare face the field
// is divided by that of a wide plate at 1 V at the nominal distance, as such a
// meter is calibrated. A true factor of another geometry (behind a roller, a
// narrow strip) goes through DisplayAt. NaN in, NaN out.
func (m FieldMeter) Display(net units.SurfaceChargeDensity, distance, gap units.Length) units.DisplayVoltage {
	if m.spec != nil && m.spec.Guarded {
		return m.DisplayAt(net, FieldFactor(distance, gap))
	}
	return m.DisplayAt(net, m.Factor(distance, gap))
}

// DisplayAt is Display with the field factor E·ε0/σ given, for a place that has
// its own: [RollerFieldFactor], [StripFactor], [Film.OverRollerFactor].
func (m FieldMeter) DisplayAt(net units.SurfaceChargeDensity, factor float64) units.DisplayVoltage { // factor [1]
	v := m.gain*float64(net)*factor + m.offset
	switch {
	case v > m.full:
		v = m.full
	case v < -m.full:
		v = -m.full
	case m.full == 0: // the zero FieldMeter
		v = math.NaN()
	}
	return units.DisplayVoltage(v)
}

// DisplayOf returns the display in a field E at a guarded face, or for a bare
// face in the field E at the middle of that face.
func (m FieldMeter) DisplayOf(field units.ElectricField) units.DisplayVoltage {
	return m.DisplayAt(units.SurfaceChargeDensity(float64(field)*units.Epsilon0), 1)
}

// Saturated reports whether a display stands at the end of the scale, so that
// it means "at least" and an inversion of it is a lower bound.
func (m FieldMeter) Saturated(shown units.DisplayVoltage) bool {
	return math.Abs(float64(shown)) >= m.full
}

// FieldShown returns the field at the face that a display stands for,
// (V − offset)/(gain·d0): the way from "kV" to kV/cm and kV/in.
func (m FieldMeter) FieldShown(shown units.DisplayVoltage) units.ElectricField {
	return units.ElectricField((float64(shown) - m.offset) / m.gain / units.Epsilon0)
}

// Net is the inverse of Display: the net charge density of both faces together
// that makes this display at this distance and gap. It says nothing about the
// two faces: +40 and −40 µC/m² show 0. A gap of 0 gives Inf or NaN, because a
// web that touches metal cannot be read. See Saturated.
func (m FieldMeter) Net(shown units.DisplayVoltage, distance, gap units.Length) units.SurfaceChargeDensity {
	return m.NetAt(shown, m.Factor(distance, gap))
}

// NetAt is the inverse of DisplayAt.
func (m FieldMeter) NetAt(shown units.DisplayVoltage, factor float64) units.SurfaceChargeDensity { // factor [1]
	return units.SurfaceChargeDensity((float64(shown) - m.offset) / (m.gain * factor))
}

// DistanceSensitivity returns d ln E/d ln d at this place, the relative error of
// the display for a relative error of the distance: −d/(d+h) for a guarded face
// ([DistanceSensitivity]), a central difference of Factor for a bare one.
func (m FieldMeter) DistanceSensitivity(distance, gap units.Length) float64 { // [1]
	if m.spec != nil && m.spec.Guarded {
		return DistanceSensitivity(distance, gap)
	}
	const step = 1e-3 // [1] relative; truncation about 1e-6, rounding 1e-12
	up := m.Factor(units.Length(float64(distance)*(1+step)), gap)
	dn := m.Factor(units.Length(float64(distance)*(1-step)), gap)
	return math.Log(up/dn) / math.Log((1+step)/(1-step))
}

// Corrected returns the display that the meter would have shown at its nominal
// distance, from one taken at another distance from the same wide web with the
// same gap, and the relative standard deviation [1] that an uncertain distance adds
// to it, |d ln E/d ln d|·s/d. The offset is taken out and put back.
func (m FieldMeter) Corrected(shown units.DisplayVoltage,
	distance, distanceSpread, gap units.Length) (atNominal units.DisplayVoltage, spread float64) { // spread [1]
	if m.spec == nil {
		return units.DisplayVoltage(math.NaN()), math.NaN()
	}
	ratio := m.Factor(m.spec.Nominal, gap) / m.Factor(distance, gap)
	v := (float64(shown)-m.offset)*ratio + m.offset
	spread = math.Abs(m.DistanceSensitivity(distance, gap)) * float64(distanceSpread) / float64(distance)
	return units.DisplayVoltage(v), spread
}

// NetWithSD is Net with its standard deviation, from the spread of the meter's
// gain and offset in its specification and the standard deviations of distance
// and gap, as independent small errors:
//
//	(s_σ/σ)² = s_g² + (S_d·s_d/d)² + (S_h·s_h/h)² + (s_offset/(V − offset))²
//
// S_d and S_h are d ln E/d ln d and d ln E/d ln h, for a guarded face −d/(d+h) and
// d/(d+h). The scatter of a patchy charge is not in it: give it as the spread of
// repeated readings. The two faces stay unknown: see [SeparateFaces].
func (m FieldMeter) NetWithSD(shown units.DisplayVoltage,
	distance, distanceSD, gap, gapSD units.Length) (net, sd units.SurfaceChargeDensity) {
	if m.spec == nil {
		nan := units.SurfaceChargeDensity(math.NaN())
		return nan, nan
	}
	net = m.Net(shown, distance, gap)
	const step = 1e-3 // [1] relative; truncation about 1e-6
	up := m.Factor(distance, units.Length(float64(gap)*(1+step)))
	dn := m.Factor(distance, units.Length(float64(gap)*(1-step)))
	gapSensitivity := math.Log(up/dn) / math.Log((1+step)/(1-step))
	rel := math.Hypot(relativeSD(m.spec.Gain),
		math.Hypot(m.DistanceSensitivity(distance, gap)*float64(distanceSD)/float64(distance),
			gapSensitivity*float64(gapSD)/float64(gap)))
	perVolt := 1 / (m.gain * m.Factor(distance, gap)) // [C/(m²·V)]
	return net, units.SurfaceChargeDensity(math.Hypot(rel*float64(net), absoluteSD(m.spec.Offset)*perVolt))
}

// relativeSD returns the standard deviation of a band over its value, to first
// order for a log-normal one.
func relativeSD(b known.Band) float64 { // [1]
	switch b.Kind {
	case known.Normal:
		return math.Abs(b.Spread / b.Value)
	case known.LogNormal:
		return b.Spread
	case known.Uniform:
		return math.Abs(b.Spread/b.Value) / math.Sqrt(3)
	}
	return 0
}

// absoluteSD returns the standard deviation of a band, to first order for a
// log-normal one.
func absoluteSD(b known.Band) float64 { // [unit of the band]
	switch b.Kind {
	case known.Normal:
		return b.Spread
	case known.LogNormal:
		return b.Spread * math.Abs(b.Value)
	case known.Uniform:
		return b.Spread / math.Sqrt(3)
	}
	return 0
}
