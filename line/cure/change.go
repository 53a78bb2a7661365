package cure

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Change is one change of a line, out of a closed list: [Run], [Earth], [Switch],
// [Clean], [Blow], [Move], [Add], [Remove], [Cover], [Load], [Wrap], [Moisten], [Warm],
// [Shield].
type Change interface {
	// Step is where the change stands in the order of cures.
	Step() Step
	// String says in words what is changed.
	String() string
	apply(m *Calibrated) error
}

// Step is the place of a change in the order of cures: earth first, slow down last.
type Step uint8

// The steps.
const (
	Earthing   Step = iota + 1 // conductors to earth
	AtSource                   // the contact that makes the charge
	Leaking                    // a way to earth for the charge
	Neutralise                 // ions
	Shielding                  // screens and mechanical work-rounds
	SlowDown                   // another speed or rate
)

var stepNames = [...]string{Earthing: "earth", AtSource: "source", Leaking: "leak", Neutralise: "neutralise",
	Shielding: "shield", SlowDown: "slow down"}

// String returns the name of the step, "Step(n)" without one.
func (s Step) String() string { return enum.Name("Step", stepNames[:], s) }

// MarshalText writes the name of the step; a value without one is a
// [*known.FieldError].
func (s Step) MarshalText() ([]byte, error) { return enum.Write("step", stepNames[:], s) }

// UnmarshalText reads the name of a step; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (s *Step) UnmarshalText(b []byte) error { return enum.Read("step", stepNames[:], b, s) }

// Try returns the line with the changes, made one after the other; the line itself
// stays as it is. Without changes every answer has the same bits. While the safety
// questions are not answered, changes that bring ions, compressed air, high voltage,
// heat or moisture are refused with a [*known.FieldError] on safety.zone, and in a
// zone devices that are not certified for it.
func (m *Calibrated) Try(changes ...Change) (*Calibrated, error) {
	if m.none() {
		return nil, errNone()
	}
	c := *m
	c.stages = slices.Clone(m.stages)
	c.desc = *clone(&m.desc)
	c.acts = slices.Clone(m.acts)
	c.earth, c.removed = copied(m.earth), copied(m.removed)
	var errs []error
	for i, x := range changes {
		if x == nil {
			errs = append(errs, known.Wrong(fmt.Sprintf("changes[%d]", i), "none", "a change"))
			continue
		}
		if err := x.apply(&c); err != nil {
			errs = append(errs, ofChange(i, err))
			continue
		}
		c.acts = append(c.acts, x)
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	return &c, nil
}

// ofChange gives the fields of a fault the path of the change, except answers of the site and what the line file says.
func ofChange(i int, err error) error {
	return written.Fields(err, func(f string) string {
		if strings.HasPrefix(f, "safety.") || strings.HasPrefix(f, inLine) ||
			strings.HasPrefix(f, inAdded) {
			return f
		}
		return fmt.Sprintf("changes[%d].%s", i, f)
	})
}

// whyNot says why a change alone was refused.
func whyNot(x fmt.Stringer, err error) string {
	return x.String() + ": " + strings.ReplaceAll(err.Error(), "changes[0].", "")
}

func copied[V any](m map[string]V) map[string]V {
	out := make(map[string]V, len(m))
	for k, v := range m {
		out[k] = v
	}
	return out
}

// clone copies a description as far as changes write to it.
func clone(d *line.Description) *line.Description {
	c := *d
	c.Stations = slices.Clone(d.Stations)
	return &c
}

// gate refuses what may not be tried while the safety questions stand open, or with
// a device that is not certified for the zone.
func (m *Calibrated) gate(device string) error {
	s := &m.site.Safety
	if s.Open() != "" {
		return known.Wrong("safety.zone", "not answered", "an answer to zone and flammables by a person who decides, first")
	}
	if device != "" && s.Zone != upkeep.NoZone && !slices.Contains(s.Certified, device) {
		return known.Wrong("safety.certified", device, "a device that is certified for zone "+s.Zone.String())
	}
	return nil
}

// at finds a station.
func (m *Calibrated) atStation(name string) (int, error) {
	if s := m.station(name); s >= 0 {
		return s, nil
	}
	return -1, known.Wrong("station", name, noStation)
}

// barAt finds an ioniser and gives it a copy to write to.
func (m *Calibrated) barAt(name string) (int, *bar, error) {
	s, err := m.atStation(name)
	if err != nil {
		return s, nil, err
	}
	if m.stages[s].bar == nil {
		return s, nil, known.Wrong("station", name, noIoniser)
	}
	b := *m.stages[s].bar
	m.stages[s].bar = &b
	return s, &b, nil
}

// touchAt finds the contacts of a station and gives it a copy to write to.
func (m *Calibrated) touchAt(name string) (int, []touch, error) {
	s, err := m.atStation(name)
	if err != nil {
		return s, nil, err
	}
	if k := m.stages[s].kind; k != line.Roller && k != line.Nip {
		return s, nil, known.Wrong("station", name, noContact)
	}
	m.stages[s].touch = slices.Clone(m.stages[s].touch)
	return s, m.stages[s].touch, nil
}

// rebuild makes the geometry of a changed description.
func (m *Calibrated) rebuild() error {
	l, err := line.New(&m.desc)
	if err != nil {
		return err
	}
	m.line = l
	return m.refresh()
}

// Run lets the line run at another speed.
type Run struct {
	Speed units.Speed `json:"speed"` // above 0
}

// Step returns SlowDown.
func (Run) Step() Step { return SlowDown }

// String says at which speed.
func (c Run) String() string {
	return "run at " + written.Short(float64(c.Speed)/float64(units.MetrePerMinute), 4) + " m/min"
}

func (c Run) apply(m *Calibrated) error {
	m.at = c.Speed
	return c.check()
}

// Earth connects a conductor to earth.
type Earth struct {
	Station    string           `json:"station"`              // with a metal roller
	Resistance units.Resistance `json:"resistance,omitempty"` // that is left, up to 1 MΩ; 0: 1 MΩ
}

// Step returns Earthing.
func (Earth) Step() Step { return Earthing }

// String says which station.
func (c Earth) String() string { return "earth " + c.Station }

func (c Earth) apply(m *Calibrated) error {
	s, err := m.atStation(c.Station)
	if err != nil {
		return err
	}
	if m.stages[s].kind == line.Winder {
		return known.Wrong("station", c.Station, noMetal+"; the core of a winder goes by shield")
	}
	if r := m.desc.Stations[s].Roller; r == nil || r.Kind != line.BareMetal {
		return known.Wrong("station", c.Station, noMetal)
	}
	if c.Resistance == 0 {
		c.Resistance = units.Megohm
	}
	// Earthing never raises a voltage: a better earth that was measured stays.
	if o, ok := m.earth[c.Station]; ok && o.measured && !o.isolated && o.value < c.Resistance {
		return known.InRange("resistance", c.Resistance, 0, units.Megohm)
	}
	m.earth[c.Station] = ohms{value: c.Resistance, measured: true}
	return known.InRange("resistance", c.Resistance, 0, units.Megohm)
}

// Cover gives a roller or nip another cover on one face.
type Cover struct {
	Station string    `json:"station"` // a roller or nip
	Face    line.Face `json:"face"`    // the face that it touches
	// the saturation of the new pair over that of the old one, as a
	// side-by-side test gives it (charge.FitSwap); 0: not known, 1 ×/÷ 3. [1]
	Strength known.Band `json:"strength,omitempty"`
	// the time constant of the new cover, 0 for one that stays as it is.
	Time units.Time `json:"time,omitempty"`
	// whether the new surface is earthed metal
	Metal bool `json:"metal,omitempty"`
}

// Step returns AtSource.
func (Cover) Step() Step { return AtSource }

// String says where.
func (c Cover) String() string {
	return fmt.Sprintf("another cover on face %v of %s", c.Face, c.Station)
}

func (c Cover) apply(m *Calibrated) error {
	_, list, err := m.touchAt(c.Station)
	if err != nil {
		return err
	}
	j := slices.IndexFunc(list, func(t touch) bool { return t.face == int(c.Face-line.FaceA) })
	if j < 0 {
		return known.Wrong("face", c.Face, "a face that touches "+c.Station)
	}
	if c.Strength.Value == 0 {
		c.Strength = spreadFactor(1, 3)
	}
	if err := c.check(); err != nil {
		return err
	}
	t := &list[j]
	t.strength = t.strength.times(drawn(c.Strength, "cover "+c.Face.String(), c.Station))
	switch {
	case c.Metal:
		t.cover = nil
	case c.Time > 0 && t.cover == nil:
		return known.Wrong("time", c.Time, "nothing at a metal roller: describe it as insulating")
	case c.Time > 0:
		k := *t.cover
		k.tau = float64(c.Time)
		t.cover = &k
	}
	return nil
}

// loadExponent is how a saturation grows with the load of a nip: 0.58, 0.30 … 0.87
// (package charge, NipContact).
var loadExponent = known.Band{Value: 0.58, Spread: 0.285 / known.Z95, Kind: known.Normal}

// Load changes the load of a nip.
type Load struct {
	Station  string              `json:"station"`            // a roller or nip
	From     units.ForcePerWidth `json:"from,omitempty"`     // load now, above 0
	To       units.ForcePerWidth `json:"to,omitempty"`       // load wanted, above 0
	Times    units.Ratio         `json:"times,omitempty"`    // load wanted over load now, where from and to are not given
	Exponent known.Band          `json:"exponent,omitempty"` // [1] of the saturation; value 0: 0.58 (0.30 … 0.87)
}

// Step returns AtSource.
func (Load) Step() Step { return AtSource }

// String says where and how much.
func (c Load) String() string {
	if c.Times > 0 {
		return fmt.Sprintf("%g times the load of %s", float64(c.Times), c.Station)
	}
	return fmt.Sprintf("load of %s from %v to %v", c.Station, c.From, c.To)
}

func (c Load) apply(m *Calibrated) error {
	_, list, err := m.touchAt(c.Station)
	if err != nil {
		return err
	}
	if c.Times > 0 {
		c.From, c.To = units.NewtonPerMetre, units.ForcePerWidth(c.Times)
	}
	if err := c.check(); err != nil {
		return err
	}
	f := c.ratios()
	for j := range list {
		list[j].strength = list[j].strength.times(f)
	}
	return nil
}

// ratios are the saturations after over before. [1]
func (c Load) ratios() column {
	e := c.Exponent
	if e.Value == 0 {
		e = loadExponent
	}
	p := drawn(e, "load exponent", c.Station)
	ln := math.Log(float64(c.To) / float64(c.From))
	for i := range p {
		p[i] = numeric.Exp(p[i] * ln)
	}
	return p
}

// degrees writes an angle as a floor speaks of it.
func degrees(a units.Angle) string {
	s, err := units.Format(a, "°", 3)
	if err != nil {
		return a.String()
	}
	return s
}

// Wrap changes the angle by which the web lies on a roller: the exposure goes with
// the angle, the saturation stays; a judgement.
type Wrap struct {
	Station string      `json:"station"`        // a roller or nip
	From    units.Angle `json:"from,omitempty"` // now, 1 … 350°
	To      units.Angle `json:"to,omitempty"`   // wanted, 0 … 350°
	// the angle wanted over the angle now, where from and to are not given.
	Times units.Ratio `json:"times,omitempty"`
}

// Step returns AtSource.
func (Wrap) Step() Step { return AtSource }

// String says where and how much.
func (c Wrap) String() string {
	if c.Times > 0 {
		return fmt.Sprintf("%g times the wrap of %s", float64(c.Times), c.Station)
	}
	return fmt.Sprintf("wrap of %s from %s to %s", c.Station, degrees(c.From), degrees(c.To))
}

func (c Wrap) apply(m *Calibrated) error {
	_, list, err := m.touchAt(c.Station)
	if err != nil {
		return err
	}
	if err := c.check(); err != nil {
		return err
	}
	f := float64(c.Times)
	if f == 0 {
		f = float64(c.To) / float64(c.From)
	}
	for j := range list {
		g := slices.Clone(list[j].closes)
		for i, x := range g {
			g[i] = -math.Expm1(math.Log1p(-x) * f) // 1 − e^(−n·f)
		}
		list[j].closes = g
	}
	return nil
}

// Shield puts an earthed core into a winder. It delays, it does not cure: the charge
// stays on the web, which insulates. The core's image draws the field of the roll inwards, so that its surface reaches
// the strength of the air after more wraps, or never; what that comes to stands in [SideEffects].Notices.
type Shield struct {
	Station string `json:"station"` // the winder
}

// Step returns Shielding.
func (Shield) Step() Step { return Shielding }

// String says where.
func (c Shield) String() string { return "an earthed core in " + c.Station }

func (c Shield) apply(m *Calibrated) error {
	s, err := m.atStation(c.Station)
	if err != nil {
		return err
	}
	if m.stages[s].kind != line.Winder {
		return known.Wrong("station", c.Station, noWinder)
	}
	m.desc.Stations[s].Earthed = true
	return m.rebuild()
}
