package cure

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Switch turns an ioniser on or off.
type Switch struct {
	Station string `json:"station"` // an ioniser
	On      bool   `json:"on"`      // or off
}

// Step returns Neutralise.
func (Switch) Step() Step { return Neutralise }

// String says which and how.
func (c Switch) String() string {
	if c.On {
		return "switch " + c.Station + " on"
	}
	return "switch " + c.Station + " off"
}

func (c Switch) apply(m *Calibrated) error {
	_, b, err := m.barAt(c.Station)
	if err != nil {
		return err
	}
	if c.On && b.off {
		if err := m.gate(c.Station); err != nil {
			return err
		}
	}
	b.off = !c.On
	return nil
}

// Clean cleans the points of an ioniser. One whose maker's data are given emits all of
// its current again, and in half of the draws what was missing against them, or against
// a bar with the same data, was dirt. One without data is credited with what a like bar
// of the same line takes, in half of the draws; without a like bar nothing says what it
// did when it was clean, and the change is refused.
type Clean struct {
	Station string `json:"station"` // an ioniser
}

// Step returns Neutralise.
func (Clean) Step() Step { return Neutralise }

// String says which.
func (c Clean) String() string { return "clean " + c.Station }

func (c Clean) apply(m *Calibrated) error {
	_, b, err := m.barAt(c.Station)
	if err != nil {
		return err
	}
	if err := m.gate(c.Station); err != nil {
		return err
	}
	if b.curve != nil {
		return m.cleanCurve(c.Station, b)
	}
	if b.twin == nil {
		return known.Wrong("station", c.Station,
			"an ioniser with a like one in the line: nothing says what this one took when it was clean; compare its current")
	}
	b.strength = slices.Clone(b.strength)
	for i, u := range chances("dirty", c.Station) {
		if u < 0.5 {
			b.strength[i] = max(b.strength[i], b.twin[i]*b.found)
		}
	}
	return nil
}

// Move puts an ioniser to another place, distance or face; what is zero stays.
type Move struct {
	Station  string       `json:"station"`            // an ioniser
	To       units.Length `json:"to,omitempty"`       // along the web path
	Distance units.Length `json:"distance,omitempty"` // from the web, 1 mm … 5 m
	Face     line.Face    `json:"face,omitempty"`     // that it meets
	Gap      units.Length `json:"gap,omitempty"`      // to metal behind the web at the new place, 0: none but the rollers
}

// Step returns Neutralise.
func (Move) Step() Step { return Neutralise }

// String says which and where.
func (c Move) String() string {
	s := "move " + c.Station
	if c.To > 0 {
		s += " to " + c.To.String()
	}
	if c.Distance > 0 {
		s += ", " + c.Distance.String() + " off the web"
	}
	if c.Face != line.NoFace {
		s += ", to face " + c.Face.String()
	}
	return s
}

func (c Move) apply(m *Calibrated) error {
	s, b, err := m.barAt(c.Station)
	if err != nil {
		return err
	}
	if err := m.gate(c.Station); err != nil {
		return err
	}
	spec := m.desc.Stations[s]
	ion := *spec.Ioniser
	if c.To == 0 {
		c.To = spec.At
	}
	if err := known.InRange("to", c.To, 0, m.desc.Stations[len(m.desc.Stations)-1].At); err != nil {
		return err
	}
	if c.To != spec.At {
		if err := m.clear("to", c.To); err != nil {
			return err
		}
	}
	if c.Distance != 0 {
		if err := c.check(); err != nil {
			return err
		}
		b.far *= float64(c.Distance) / float64(ion.Distance)
		ion.Distance = c.Distance
	}
	if c.Face != line.NoFace {
		ion.Face, b.face = c.Face, int(c.Face-line.FaceA)
	}
	spec.At, spec.Ioniser = c.To, &ion
	b.factor = m.factorAt(c.To, ion.Distance, c.Gap)
	t := m.takeOut(s)
	spec.Leak, spec.WebTemperature = nil, 0
	m.placeBar(&spec, c.Gap)
	return m.putIn(spec, t)
}

// clear refuses a place of an ioniser where the web lies on something: at an unwind, a
// roller, a nip or the winder there is no field for ions and no room for a bar.
func (m *Calibrated) clear(field string, at units.Length) error {
	const room = 10 * units.Millimetre
	for i := range m.desc.Stations {
		s := &m.desc.Stations[i]
		if s.Kind == line.Place || s.Kind == line.Ioniser {
			continue
		}
		if d := float64(at) - float64(s.At); math.Abs(d) < float64(room) {
			return known.Wrong(field, at, fmt.Sprintf("free web, %v or more from %s at %v", room, s.Name, s.At))
		}
	}
	return nil
}

// placeBar gives an ioniser the geometry of its new place.
func (m *Calibrated) placeBar(spec *line.StationSpec, gap units.Length) {
	spec.Past, spec.Gap = nil, gap
	if gap == 0 {
		if first, _, from, _ := m.span(spec.At, true); first > 0 && spec.At > from {
			spec.Past = &line.PastSpec{Radius: first, X: spec.At - from}
		} else {
			spec.Gap = units.Metre
		}
	}
}

// Remove takes a roller, nip, ioniser or place away.
type Remove struct {
	Station string `json:"station"` // between unwind and winder
}

// Step returns AtSource: what is not there makes no charge.
func (Remove) Step() Step { return AtSource }

// String says which.
func (c Remove) String() string { return "remove " + c.Station }

func (c Remove) apply(m *Calibrated) error {
	s, err := m.atStation(c.Station)
	if err != nil {
		return err
	}
	if s == 0 || s == len(m.stages)-1 {
		return known.Wrong("station", c.Station, noInside)
	}
	was := m.desc.Stations[s]
	m.removed[c.Station] = removed{was, m.takeOut(s)}
	return m.rebuild()
}

// takeOut removes station s and returns what stood there. What the web meets behind
// it, a leak path of its own or a gain that nothing described, stays: a place marks
// where it begins. The places that name the station as off keep the rest of their
// lists.
func (m *Calibrated) takeOut(s int) stage {
	t, spec := m.stages[s], m.desc.Stations[s]
	if t.hidden[0] != nil || t.hidden[1] != nil || spec.Leak != m.desc.Stations[s-1].Leak || spec.WebTemperature != 0 {
		place := line.StationSpec{Name: spec.Name + itsPlace, Kind: line.Place, At: spec.At, Gap: units.Metre,
			Leak: spec.Leak, WebTemperature: spec.WebTemperature}
		left := newStage(&m.desc, s)
		left.name, left.kind, left.hidden, left.tauNet, left.tau = place.Name, line.Place, t.hidden, t.tauNet, t.tau
		left.web = t.web
		m.desc.Stations[s], m.stages[s] = place, left
		t.hidden, t.tauNet, t.tau = [2]column{}, math.Inf(1), nil
		m.tidyOff()
		return t
	}
	m.desc.Stations = slices.Delete(m.desc.Stations, s, s+1)
	m.stages = slices.Delete(m.stages, s, s+1)
	m.stages[s-1].length = float64(m.desc.Stations[s].At - m.desc.Stations[s-1].At)
	m.tidyOff()
	return t
}

// tidyOff drops from the lists of switched-off ionisers what does not stand before
// the place.
func (m *Calibrated) tidyOff() {
	before := map[string]bool{}
	for i := range m.desc.Stations {
		d := &m.desc.Stations[i]
		var off []string
		for _, o := range d.Off {
			if before[o] {
				off = append(off, o)
			}
		}
		d.Off = off
		before[d.Name] = d.Kind == line.Ioniser
	}
}

// Add puts a device to a place of the path: an ioniser, a place to read, a roller or
// a nip. A station that was removed comes back as it was. Gap and Past may be left out
// at an ioniser: the rollers of the span then make the field. A bar with its maker's
// data does what its curve says, within the accuracy of the model; a powered one without takes
// κ = 2.5 ×/÷ 2 at its place, a passive one 1 ×/÷ 2 of what it sees beyond its onset
// (1.5 µC/m² if that is 0); judgements, to be replaced by a reading.
type Add struct {
	Station line.StationSpec `json:"station"` // what, with name and position
}

// Step returns Neutralise.
func (Add) Step() Step { return Neutralise }

// String says what and where.
func (c Add) String() string {
	return fmt.Sprintf("%v %s at %v", c.Station.Kind, c.Station.Name, c.Station.At)
}

// What a new bar does, as a judgement.
const (
	poweredStrength, passiveStrength = 2.5, 1.0
	newBarFactor                     = 2.0
	passiveOnset                     = 1.5 * units.MicrocoulombPerSquareMetre
	newSupply                        = units.LineCurrent(300e-6)
	balance                          = 30 * units.Volt // standard deviation of the balance of a powered bar
)

func (c Add) apply(m *Calibrated) error {
	spec := c.Station
	if m.station(spec.Name) >= 0 {
		return known.Wrong("station.name", spec.Name, notNew)
	}
	last := m.desc.Stations[len(m.desc.Stations)-1].At
	if err := known.InRange("station.at", spec.At, 0, last); err != nil {
		return err
	}
	if spec.Kind == line.Ioniser {
		if spec.Ioniser == nil {
			return known.Wrong("station.ioniser", "none", "an ioniser")
		}
		if err := errors.Join(m.gate(spec.Name), m.clear("station.at", spec.At)); err != nil {
			return err
		}
	}
	if r, ok := m.removed[spec.Name]; ok && reflect.DeepEqual(r.spec, spec) {
		spec.Leak, spec.WebTemperature = nil, 0 // what it had stayed at its place
		return m.putIn(spec, r.stage)
	}
	if spec.WebTemperature != 0 {
		return known.Wrong("station.webTemperature", spec.WebTemperature, "nothing: what heats or cools the web stands in "+
			"the description of the line")
	}
	t := newStage(&line.Description{Web: m.desc.Web, Stations: []line.StationSpec{spec}}, 0)
	switch spec.Kind {
	case line.Place:
		if spec.Gap == 0 && spec.Past == nil {
			m.placeBar(&spec, 0)
		}
	case line.Ioniser:
		ion := *spec.Ioniser
		if err := m.newIoniser(&t, &spec, &ion); err != nil {
			return err
		}
	case line.Roller, line.Nip:
		one := &line.Description{Web: m.desc.Web, Stations: []line.StationSpec{spec}}
		for j, x := range spec.Change {
			touch, err := newTouch(one, 0, j, false)
			if err != nil {
				return err
			}
			b := known.Band{Value: float64(x.Median), Spread: float64(x.Spread), Kind: known.Normal}
			touch.strength = drawn(b, "change "+x.Face.String(), spec.Name)
			for i := range touch.strength {
				touch.strength[i] /= touch.closes[i] // the change of an uncharged face
			}
			t.touch = append(t.touch, touch)
		}
		if len(spec.Change) > 0 {
			t.exponent = exponents(spec.Change[0].Speed, scores("exponent", ""), scores("exponent", spec.Name))
		}
	default:
		return known.Wrong("station.kind", spec.Kind, "ioniser, place, roller or nip")
	}
	return m.putIn(spec, t)
}

func (m *Calibrated) newIoniser(t *stage, spec *line.StationSpec, ion *line.IonSpec) error {
	if ion.Bar != nil {
		return m.newCurved(t, spec, ion)
	}
	if ion.Zone == 0 {
		ion.Zone = 50 * units.Millimetre
	}
	if ion.Conductivity == 0 {
		ion.Conductivity = units.Conductivity(1.6e-9)
	}
	if ion.Supply == 0 {
		ion.Supply = newSupply
	}
	gap := spec.Gap
	median := poweredStrength
	if ion.Passive {
		median = passiveStrength
		if ion.Onset == 0 {
			ion.Onset = passiveOnset
		}
	}
	f := m.factorAt(spec.At, ion.Distance, gap)
	b := &bar{face: int(ion.Face - line.FaceA), factor: f, found: 1, far: 1, size: same(1), law: make([]barLaw, Draws+1),
		strength: drawn(spreadFactor(median, newBarFactor), "strength", spec.Name), onset: float64(ion.Onset),
		supply: same(float64(ion.Supply)), passive: ion.Passive, offset: same(float64(ion.Offset))}
	if !ion.Passive {
		z := scores("balance", spec.Name)
		for i := range b.offset {
			b.offset[i] += units.Epsilon0 * float64(balance) * z[i] / float64(ion.Distance)
		}
	}
	spec.Ioniser, t.bar = ion, b
	if gap == 0 && spec.Past == nil {
		m.placeBar(spec, 0)
	}
	return nil
}

// putIn inserts a station by its position, behind those that stand there already. A
// leak path that it cuts goes on behind it.
func (m *Calibrated) putIn(spec line.StationSpec, t stage) error {
	s := slices.IndexFunc(m.desc.Stations, func(d line.StationSpec) bool { return d.At > spec.At })
	if s < 0 {
		s = len(m.stages) - 1
	}
	if s == 0 {
		return known.Wrong("at", spec.At, "a position behind the unwind")
	}
	before := &m.stages[s-1]
	own := spec.Leak != nil
	if !own { // the same path goes on
		spec.Leak = m.desc.Stations[s-1].Leak
		t.tauNet, t.tau = before.tauNet, before.tau
	}
	t.web = before.web
	m.desc.Stations = slices.Insert(m.desc.Stations, s, spec)
	if own {
		m.stretch(&t, s)
	}
	m.stages = slices.Insert(m.stages, s, t)
	m.stages[s-1].length = float64(spec.At - m.desc.Stations[s-1].At)
	m.stages[s].length = float64(m.desc.Stations[s+1].At - spec.At)
	m.tidyOff()
	return m.rebuild()
}
