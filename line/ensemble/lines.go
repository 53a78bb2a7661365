package ensemble

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Spec is a line by its steps. The web comes to the first one uncharged.
type Spec struct {
	Steps []Step `json:"steps"` // 1 … 1000, in the order of the path
	// Leak is how fast both faces lose charge on a way; nil: they keep it.
	Leak *Leak `json:"leak,omitempty"`
	// Humidity is that of the web [1], 0 … 1, drawn once for each line; draws beyond
	// Driest … Dampest are held there.
	Humidity known.Band             `json:"humidity"`
	Driest   units.RelativeHumidity `json:"driest,omitempty"`  // 0 … 1
	Dampest  units.RelativeHumidity `json:"dampest,omitempty"` // 0 … 1; 0: 1
}

// Step is one thing that happens to the web: exactly one of the three.
type Step struct {
	Name    string     `json:"name,omitempty"`    // for the caller
	Contact *Contact   `json:"contact,omitempty"` // with one face
	Way     units.Time `json:"way,omitempty"`     // that the web takes to the next step, above 0
	Ioniser *Ioniser   `json:"ioniser,omitempty"` // that meets one face
	Read    bool       `json:"read,omitempty"`    // a survey reads the net behind this step: [Lines.Fit]
}

// Contact takes one face from σ to S + (σ − S)·e^−n.
type Contact struct {
	Face       line.Face  `json:"face"`       // that it touches
	Saturation known.Band `json:"saturation"` // S [C/m²], a magnitude up to 1e-3
	Exposure   known.Band `json:"exposure"`   // n [1], above 0 and up to 50; draws below 0 count as 0
	// Cap is the most that the face keeps, of either sign; 0: no cap.
	Cap units.SurfaceChargeDensity `json:"cap,omitempty"`
}

// Ioniser puts on one face what it takes of the net: a share, or what it can supply.
type Ioniser struct {
	Face  line.Face   `json:"face"`  // that it meets
	Share units.Ratio `json:"share"` // of the net, 0 … 1
	// Most is the most that it brings, its line current over the speed of the web; 0: no bound.
	Most units.SurfaceChargeDensity `json:"most,omitempty"`
}

// Leak is a time constant that falls by Decades of ten per %RH from Time at At.
type Leak struct {
	At      units.RelativeHumidity `json:"at"`      // 0 … 1
	Time    units.Time             `json:"time"`    // above 0
	Decades float64                `json:"decades"` // [1/%RH] 0 … 1
}

// Lines are the lines of a specification: immutable, for use by many goroutines.
type Lines struct {
	spec  Spec
	steps []step
	draws int // normal scores of one line
}

// step is a step with its numbers at hand.
type step struct {
	kind          kind
	face          int // 0: A
	strength, n   known.Band
	top           float64 // cap or most, +Inf without one [C/m²]
	share         float64 // [1]
	time          float64 // of a way [s]
	read          bool
	contact       int // number of the contact
	same          int // index of an earlier way of the same time, −1: none
	strengthDrawn bool
	nDrawn        bool
}

type kind uint8

const (
	contact kind = iota
	way
	ioniser
)

// mostCharge is the greatest charge density that anything here may have. [C/m²]
const mostCharge = 1e-3

// New checks a specification. All faults are returned at once, as [*known.FieldError]s
// joined by errors.Join.
func New(s *Spec) (*Lines, error) {
	if s == nil {
		return nil, known.Wrong("spec", "nil", "a specification")
	}
	l := &Lines{spec: *s}
	var errs []error
	if n := len(s.Steps); n < 1 || n > 1000 {
		errs = append(errs, known.Wrong("steps", fmt.Sprintf("%d steps", n), "1 … 1000 steps"))
	}
	if l.spec.Dampest == 0 {
		l.spec.Dampest = 100 * units.PercentRH
	}
	errs = append(errs, s.Humidity.Check("humidity"), known.InRange("humidity", s.Humidity.Value, 0, 1),
		bounded("humidity", s.Humidity),
		known.InRange("dampest", l.spec.Dampest, 0, 1), known.InRange("driest", s.Driest, 0, l.spec.Dampest))
	if k := s.Leak; k != nil {
		errs = append(errs, known.InRange("leak.at", k.At, 0, 1), known.InRange("leak.time", k.Time, 1e-9, 1e15),
			known.InRange("leak.decades", k.Decades, 0, 1))
	}
	if drawn(s.Humidity) {
		l.draws++
	}
	contacts := 0
	seen := map[units.Time]int{}
	for i := range s.Steps {
		x := &s.Steps[i]
		at := fmt.Sprintf("steps[%d]", i)
		t := step{read: x.Read, same: -1, top: math.Inf(1)}
		if one := b2i(x.Contact != nil) + b2i(x.Way != 0) + b2i(x.Ioniser != nil); one != 1 {
			errs = append(errs, known.Wrong(at, fmt.Sprintf("%d of them", one), "one of contact, way and ioniser"))
			continue
		}
		switch {
		case x.Contact != nil:
			c := x.Contact
			errs = append(errs, c.check(at+".contact"))
			t.kind, t.face, t.strength, t.n, t.contact = contact, int(c.Face)-1, c.Saturation, c.Exposure, contacts
			if c.Cap > 0 {
				t.top = float64(c.Cap)
			}
			t.strengthDrawn, t.nDrawn = drawn(c.Saturation), drawn(c.Exposure)
			l.draws += b2i(t.strengthDrawn) + b2i(t.nDrawn)
			contacts++
		case x.Ioniser != nil:
			q := x.Ioniser
			errs = append(errs, q.check(at+".ioniser"))
			t.kind, t.face, t.share = ioniser, int(q.Face)-1, float64(q.Share)
			if q.Most > 0 {
				t.top = float64(q.Most)
			}
		default:
			errs = append(errs, known.InRange(at+".way", x.Way, 1e-9, 1e9))
			t.kind, t.time = way, float64(x.Way)
			if k, ok := seen[x.Way]; ok {
				t.same = k
			} else {
				seen[x.Way] = len(seen)
				t.same = -1 - seen[x.Way] // its own, by number
			}
		}
		l.steps = append(l.steps, t)
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	l.spec.Steps = append([]Step(nil), s.Steps...)
	return l, nil
}

func (c *Contact) check(at string) error {
	return errors.Join(faced(at+".face", c.Face), c.Saturation.Check(at+".saturation"),
		bounded(at+".saturation", c.Saturation),
		known.InRange(at+".saturation", c.Saturation.Value, -mostCharge, mostCharge),
		c.Exposure.Check(at+".exposure"), bounded(at+".exposure", c.Exposure),
		known.Positive(at+".exposure", c.Exposure.Value), known.InRange(at+".exposure", c.Exposure.Value, 0, 50),
		known.InRange(at+".cap", c.Cap, 0, mostCharge))
}

func (q *Ioniser) check(at string) error {
	return errors.Join(faced(at+".face", q.Face), known.InRange(at+".share", q.Share, 0, 1),
		known.InRange(at+".most", q.Most, 0, mostCharge))
}

func faced(at string, f line.Face) error {
	if f == line.FaceA || f == line.FaceB {
		return nil
	}
	return known.Wrong(at, f, "A or B")
}

// bounded refuses a band of which no draw can be made.
func bounded(at string, b known.Band) error {
	if b.Kind == known.AtLeast {
		return known.Wrong(at+".kind", b.Kind, "exact, normal, lognormal or uniform")
	}
	if b.Kind == known.LogNormal && b.Spread > 5 {
		return known.Wrong(at+".spread", b.Spread, "0 … 5 of a logarithm")
	}
	return nil
}

func drawn(b known.Band) bool { return b.Kind != known.Exact && b.Spread > 0 }

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Len returns the number of steps.
func (l *Lines) Len() int { return len(l.steps) }

// Draws returns how many normal scores one line takes.
func (l *Lines) Draws() int { return l.draws }

// Spec returns what the lines were made from.
func (l *Lines) Spec() Spec {
	s := l.spec
	s.Steps = append([]Step(nil), s.Steps...)
	return s
}

// rate is the reciprocal of the leak time at a humidity. [1/s]
func (l *Lines) rate(rh float64) float64 {
	k := l.spec.Leak
	if k == nil {
		return 0
	}
	rh = min(max(rh, float64(l.spec.Driest)), float64(l.spec.Dampest))
	return numeric.Exp(math.Ln10*k.Decades*100*(rh-float64(k.At))) / float64(k.Time)
}

// Walk takes one line through all steps and writes its net charge density behind each
// into dst, as far as dst reaches; it returns the number written. z are the normal scores
// of the line: one for the humidity, then of each contact in turn one for its saturation
// and one for its exposure, each only where the band spreads. Fewer than [Lines.Draws]
// write nothing. It allocates nothing.
func (l *Lines) Walk(dst []units.SurfaceChargeDensity, z []float64) int {
	if len(z) < l.draws {
		return 0
	}
	next := func(b known.Band, d bool) float64 {
		if !d {
			return b.Value
		}
		x := b.At(z[0])
		z = z[1:]
		return x
	}
	rate := l.rate(next(l.spec.Humidity, drawn(l.spec.Humidity)))
	var face [2]float64
	n := min(len(dst), len(l.steps))
	for i := range n {
		t := &l.steps[i]
		switch t.kind {
		case contact:
			s := next(t.strength, t.strengthDrawn)
			e := numeric.Exp(-max(next(t.n, t.nDrawn), 0))
			face[t.face] = min(max(s+(face[t.face]-s)*e, -t.top), t.top)
		case way:
			keep := numeric.Exp(-t.time * rate)
			face[0] *= keep
			face[1] *= keep
		case ioniser:
			net := face[0] + face[1]
			face[t.face] -= min(max(t.share*net, -t.top), t.top)
		}
		dst[i] = units.SurfaceChargeDensity(face[0] + face[1])
	}
	return n
}
