package ioniser

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Spec describes an ioniser on one side of a web, at its distance. Air, points, or both: a bar of which only
// the air is described delivers by its stream and by what the charge draws from the mouth; with its points
// described their field acts beside it.
type Spec struct {
	Emitter  ionflow.Emitter // powered points; the zero value stands for passive ones, which need Points
	Points   Points          // of a source without air; with air as far as known
	Air      BlownAir        // zero: none
	Distance units.Length    // from the points or the mouth to the web, 1 mm … 10 m; without air up to 1 m
	Ions     ionflow.Ions    // at the state of the air
	// Span is the length of free web about the source, from the roller before it to the roller after it. 0: long.
	Span units.Length
	// Offset is what a plate monitor with its plate in the place of the web shows when the source has all the
	// time it wants: the imbalance in volts instead of the Balance of the emitter, which must then be 0. 0: by
	// the emitter.
	Offset units.Voltage
	// Wind is the speed of the air of the room across the gap, 0 … 100 m/s. An estimate.
	Wind units.Speed
}

// Points are the emitter points of a source as far as their field acts on the web.
type Points struct {
	Pitch units.Length // distance between the points, 1 mm … 1 m; 0: not described
	// Start is the voltage at which the corona of a powered point starts; it rises with dirt and wear. For passive
	// points that of one of them alone at the distance, if measured.
	Start units.Voltage
	// Body is the distance from the web to the nearest earthed plane on the side of the points: the body that
	// holds them, or the far wall. Powered points, 0: as Distance. Passive points feel the potential where they
	// stand, so that their body must lie beyond them, at 1.1 times Distance or more.
	Body units.Length
	// Passive points without a measured Start: radius of their tips, law of the onset and relative density of the air
	// (0: 1).
	Tip   units.Length
	Law   ionflow.TipLaw    // see Tip
	Delta float64           // [1] see Tip
	Most  units.LineCurrent // most that passive points carry; 0: 1000 µA/m
}

// BlownAir is the air that blows the ions of a bar to the web.
type BlownAir struct {
	Stream Stream // plane, from a slot or a row of holes: a jet of this kind, or a [Plume]; nil: no air
	// Captured is the share of the emission that left the bar with the air, instead of going back to its own
	// earthed parts, in a measurement without a charged web at the air speed At. The model keeps the return
	// speed
	//
	//	w = At·(1 − Captured)/Captured
	//
	// as the property of the bar: a stronger field or faster air takes a larger share. [1]
	Captured float64
	At       units.Speed // 0: the speed of Stream at its mouth
	// Contact is the length of web that the stream touches. 0: the breadth of the plume at the web and twice the
	// distance to either side, at most Span: the turned stream goes on to take in air and to recombine, so that
	// its density falls as (1 + s/x)^(−3/2) and counts for ∫n ds/n = 2x. The two-dimensional reference of the
	// package documentation agrees; no measurement is known.
	Contact units.Length
	// Through says that the air goes on through the surface (a screen, a perforated plate) instead of turning
	// before it.
	Through bool
}

// Source is a checked [Spec] with its characteristic curves: what it delivers to a web of either sign, against the
// field and the voltage that the charge makes in the gap. It is immutable.
type Source struct {
	spec     Spec
	channels []channel
	flag     known.Validity // of jet, tip law and shape
	zone     float64        // [m] length of web on which it acts
	draught  float64        // [m/s] web speed above which the air that the web drags along decides with
	slow     float64        // [m/s] web speed above which a point of the web meets less than a period; 0: none
	swing    float64        // [A/m] current of one polarity alone on to an uncharged web
	// only, if not 0, is the one net charge that will be asked for: a search makes no curves for the other sign.
	only units.SurfaceChargeDensity
}

// New checks the specification and makes the curves. Errors are joined [*known.FieldError]s; the ranges stand
// at the fields. A round jet serves parts: see [NewNozzle].
func New(spec Spec) (*Source, error) {
	s := &Source{spec: spec}
	if err := s.check(); err != nil {
		return nil, err
	}
	s.build()
	return s, nil
}

// Spec returns what the source was made from, with the defaults filled in.
func (s *Source) Spec() Spec { return s.spec }

// passive reports whether the points have no supply.
func (s *Spec) passive() bool { return s.Emitter.Spec().Current == 0 }

func (s *Source) check() error {
	p := &s.spec
	far := 10 * units.Metre
	if p.Air.Stream == nil {
		far = units.Metre
	}
	errs := []error{
		known.InRange("distance", p.Distance, 1e-3, far),
		known.InRange("span", p.Span, 0, 1000),
		known.InRange("wind", p.Wind, 0, 100),
		p.Ions.Check(),
		known.Finite("offset", p.Offset),
	}
	if p.Offset != 0 && (p.passive() || p.Emitter.Spec().Balance != 0) {
		errs = append(errs, known.Wrong("offset", p.Offset, "0 for passive points and beside a balance of the emitter"))
	}
	if p.Air.Stream != nil {
		errs = append(errs, s.checkAir())
	}
	switch {
	case p.passive():
		errs = append(errs, s.checkPassive())
	case p.Points != (Points{}) || p.Air.Stream == nil:
		e := p.Emitter.Spec()
		if p.Points.Body == 0 {
			p.Points.Body = p.Distance
		}
		errs = append(errs,
			known.InRange("points.pitch", p.Points.Pitch, 1e-3, 1),
			known.InRange("points.body", p.Points.Body, p.Distance, 100))
		if e.Voltage == 0 {
			errs = append(errs, known.Wrong("emitter.voltage", e.Voltage, "the voltage of the points, for their field"))
		} else if !(p.Points.Start >= 0 && p.Points.Start < e.Voltage) {
			errs = append(errs, known.Wrong("points.start", p.Points.Start,
				"0 up to less than the voltage of the points"))
		} else if math.Abs(float64(p.Offset)) > float64(e.Voltage-p.Points.Start) {
			errs = append(errs, known.Wrong("offset", p.Offset,
				fmt.Sprintf("at most %v either way, the offset of one polarity alone", e.Voltage-p.Points.Start)))
		}
		if p.Points.Tip != 0 || p.Points.Delta != 0 || p.Points.Law != 0 || p.Points.Most != 0 {
			errs = append(errs, known.Wrong("points", p.Points,
				"no tip, law, delta or most with a powered emitter: those describe passive points"))
		}
	}
	return errors.Join(errs...)
}

func (s *Source) checkAir() error {
	a := &s.spec.Air
	if s.spec.passive() {
		return known.Wrong("emitter", "zero value", "an emitter from NewEmitter: passive points blow nothing")
	}
	if j, ok := a.Stream.(jet.Jet); ok && j.Spec().Kind == jet.Round {
		return known.Wrong("air.stream", j.Spec().Kind, "plane or row; a single hole serves parts, see NewNozzle")
	}
	for k := range panels + 1 {
		x := units.Length(float64(s.spec.Distance) * float64(k) / panels)
		u, b := float64(a.Stream.MeanSpeed(x)), float64(a.Stream.Breadth(x))
		if !(u > 0 && u <= 700) || !(b > 0 && b <= 1e4) {
			return known.Wrong("air.stream", a.Stream,
				"a speed above 0 up to 700 m/s and a breadth above 0 on the whole way")
		}
	}
	if a.At == 0 {
		a.At = a.Stream.MeanSpeed(0)
	}
	return errors.Join(known.InRange("air.captured", a.Captured, 1e-6, 1), known.InRange("air.at", a.At, 1e-3,
		700), known.InRange("air.contact", a.Contact, 0, 100))
}

func (s *Source) checkPassive() error {
	p := &s.spec.Points
	if p.Delta == 0 {
		p.Delta = 1
	}
	if p.Most == 0 {
		p.Most = 1000 * units.MicroamperePerMetre
	}
	errs := []error{
		known.InRange("points.pitch", p.Pitch, 1e-3, 1),
		known.InRange("points.body", p.Body, units.Length(1.1*float64(s.spec.Distance)), 100),
		known.InRange("points.start", p.Start, 0, 1e6),
		known.InRange("points.delta", p.Delta, 0.3, 1.5),
		known.InRange("points.most", p.Most, 1e-9, 0.1),
	}
	if p.Start == 0 {
		errs = append(errs, known.InRange("points.tip", p.Tip, 1e-6, min(2e-3, s.spec.Distance/2)))
	}
	if p.Law > ionflow.PeekSphere {
		errs = append(errs, known.Wrong("points.law", uint8(p.Law), "a tip law"))
	}
	return errors.Join(errs...)
}

// build makes the curves of a checked source.
func (s *Source) build() {
	p := &s.spec
	d := float64(p.Distance)
	plus, minus := 0.0, 0.0 // [A/m]
	if !p.passive() {
		a, b := p.Emitter.Currents()
		plus, minus = float64(a), float64(b)
	}
	if p.Offset != 0 || plus != minus {
		s.only = 0 // a web of one sign may lie beyond the offset of the other
	}
	if max(plus, minus) > 1e-3 {
		s.flag |= known.AboveRange
	}
	layer := s.layer()
	s.draught = math.Inf(1)
	if a := &p.Air; a.Stream != nil {
		contact, breadth := float64(a.Contact), float64(a.Stream.Breadth(p.Distance))
		if contact == 0 {
			contact = breadth + tail*d
		}
		if p.Span > 0 {
			contact = min(contact, float64(p.Span))
		}
		col := newColumn(a.Stream, d, contact, breadth+fan*d)
		if v, ok := a.Stream.(interface{ Validity() known.Validity }); ok {
			s.flag |= v.Validity()
		}
		if p.Span > 0 && (col.bd > float64(p.Span) || a.Contact > p.Span) {
			s.flag |= known.WrongShape
		}
		s.channels = append(s.channels, s.stream(&col, plus, minus))
		if !a.Through {
			s.channels = append(s.channels, s.still(&col, plus, minus))
		}
		s.zone = contact
		s.draught = numeric.Pow(0.1*36*col.ud*col.ud*col.bd/layer, 1/1.8)
	}
	if p.Points.Pitch > 0 {
		r, soft := s.row(plus, minus)
		if soft && p.Air.Stream == nil {
			s.flag |= known.Estimate // also where nothing arrives
		}
		s.channels = append(s.channels, r.channel(soft))
		s.swing = max(s.swing, r.swingOfPoints())
		s.zone = max(s.zone, ownZone*d)
		s.flag |= known.Unpublished // the saturation law
		if p.Span > 0 && ownZone*p.Distance > p.Span {
			s.flag |= known.WrongShape
		}
		e := max(r.voltage, r.start) / d
		s.draught = min(s.draught, numeric.Pow(0.3*0.5*ownZone*d*r.slower*e*8/layer, 1/0.8))
	}
	if f := p.Emitter.Spec().Switch; f > 0 {
		s.slow = float64(f) * s.zone
	}
}

// Closures, in distances from the mouth: how far a turned stream counts, to both sides together, and over which breadth
// beside its own the field of the charge in the plume spreads. In the two-dimensional reference drawn ions spread over
// half the distance before an earthed plane and over twice the distance before a bar of 20 mm.
const tail, fan = 4.0, 0.82

// layer returns δ·v^0.2 of the turbulent layer of air that a web drags along, 1.01·x^0.8·ν^0.2 after half the
// span x (half a metre if the span is not known): with the profile 1 − (y/δ)^(1/7) and Blasius' friction
// 0.0225·v²·(ν/(vδ))^¼ the momentum v²·δ/36 grows by the friction; the air carried is v·δ/8. The constant is
// that of B. C. Sakiadis, AIChE J. 7 (1961) 221 (from memory).
func (s *Source) layer() float64 { // [m·(m/s)^0.2]
	x := 0.5
	if s.spec.Span > 0 {
		x = float64(s.spec.Span) / 2
	}
	return 1.01 * numeric.Pow(x, 0.8) * numeric.Pow(1.51e-5, 0.2)
}
