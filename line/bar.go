package line

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/lazy"
	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/ioniser"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Bar is what the maker's data sheet and the plant say of an ioniser: with it the bar is its characteristic curve at
// its place ([ioniser.New], with the ranges of each field) times one factor that readings fit.
type Bar struct {
	Kind      ionflow.EmitterKind `json:"kind"`                // DC, AC, pulsed or passive
	Current   units.LineCurrent   `json:"current,omitempty"`   // of each polarity when clean; passive: the most
	Output    units.Ratio         `json:"output,omitempty"`    // share of the emission left by dirt and wear, 0: all
	Voltage   units.Voltage       `json:"voltage,omitempty"`   // of powered points, peak if they alternate
	Frequency units.Frequency     `json:"frequency,omitempty"` // of AC or pulses
	Balance   units.Voltage       `json:"balance,omitempty"`   // that a plate monitor shows in the place of the web
	Pitch     units.Length        `json:"pitch,omitempty"`     // of the points; 0 with air: not described
	Start     units.Voltage       `json:"start,omitempty"`     // at which the corona of the points starts
	Body      units.Length        `json:"body,omitempty"`      // from the web to the earthed body, see [ioniser.Points]
	Tip       units.Length        `json:"tip,omitempty"`       // radius of passive tips without a measured start
	Gauge     units.GaugePressure `json:"gauge,omitempty"`     // of the air at the holes or the slot; 0: no air
	Slot      units.Length        `json:"slot,omitempty"`      // height of the slot, or
	Hole      units.Length        `json:"hole,omitempty"`      // diameter of the holes, with
	HolePitch units.Length        `json:"holePitch,omitempty"` // their distance
	Discharge units.Ratio         `json:"discharge,omitempty"` // [1] coefficient of holes or slot, 0: 0.7
	Captured  units.Ratio         `json:"captured,omitempty"`  // share of the emission that left the bar with the air, at
	At        units.Speed         `json:"at,omitempty"`        // this speed of the air, 0: that at this pressure
	Wind      units.Speed         `json:"wind,omitempty"`      // air of the room across the gap
	// the measured current over that of the model, 0: 1.
	Fit units.Ratio `json:"fit,omitempty"`
}

// Spec returns the source at a distance from the web in the air, span its length of free web (0: long).
func (b *Bar) Spec(distance, span units.Length, air humidity.Air) (ioniser.Spec, error) {
	ions, _ := ionflow.SmallIons().At(0, 0, 0).In(air.Temperature(), air.Pressure())
	s := ioniser.Spec{Distance: distance, Span: span, Offset: b.Balance, Wind: b.Wind, Ions: ions,
		Points: ioniser.Points{Pitch: b.Pitch, Start: b.Start, Body: b.Body, Tip: b.Tip}}
	if b.Kind == ionflow.Passive {
		s.Points.Delta, s.Points.Most = air.RelativeDensity(), b.Current
		if b.Gauge != 0 || b.Voltage != 0 || b.Frequency != 0 || b.Balance != 0 || b.Output != 0 {
			return s, known.Wrong("kind", b.Kind, "no air, voltage, frequency, balance or output with passive points")
		}
		return s, nil
	}
	var err error
	if s.Emitter, err = ionflow.NewEmitter(ionflow.EmitterSpec{Kind: b.Kind, Current: b.Current, Voltage: b.Voltage,
		Switch: b.Frequency, Output: float64(b.Output)}); err != nil || b.Gauge == 0 {
		return s, err
	}
	stream, _, err := b.blow(air)
	s.Air = ioniser.BlownAir{Stream: stream, Captured: float64(b.Captured), At: b.At}
	return s, err
}

// blow is the jet of the bar and its mass flow [kg/(s·m)].
func (b *Bar) blow(air humidity.Air) (jet.Jet, float64, error) {
	shape := jet.JetSpec{Kind: jet.Plane, Width: b.Slot}
	if b.Hole != 0 {
		shape = jet.JetSpec{Kind: jet.Row, Width: b.Hole, Pitch: b.HolePitch}
	}
	if (b.Slot == 0) == (b.Hole == 0) {
		return jet.Jet{}, math.NaN(), known.Wrong("slot", b.Slot, "either a slot or holes for the air")
	}
	c := float64(b.Discharge)
	if c == 0 {
		c = 0.7
	}
	return jet.Supply{Gauge: b.Gauge, Ambient: air.Pressure(), Temperature: air.Temperature(),
		Discharge: c}.Blow(shape)
}

// AirUse returns the air that a bar of that width blows, as volume of the air of the room; 0 of a bar without
// air. Errors are [*known.FieldError]s.
func (b *Bar) AirUse(width units.Length, air humidity.Air) (units.VolumeFlow, error) {
	if b.Gauge == 0 {
		return 0, nil
	}
	_, mass, err := b.blow(air)
	if err != nil {
		return 0, err
	}
	return units.VolumeFlow(mass * float64(width) / float64(air.Density())), known.Positive("width", width)
}

// barKeys are the keys in a line file, below ioniser, of fields that laws of a bar call otherwise: those of a jet
// have no word before them.
var barKeys = lazy.Value[map[string]string]{Make: func() map[string]string {
	return map[string]string{"distance": "distance", "points.most": "bar.current", "offset": "bar.balance",
		"pitch": "bar.holePitch", "switch": "bar.frequency", "emitter.switch": "bar.frequency", "air.stream": "bar.gauge",
		"width": "bar.hole or bar.slot"}
}}

// barField is the key in a line file, below ioniser, of a field that a law of the bar finds fault with.
func barField(f string) string {
	if key, ok := barKeys.Get()[f]; ok {
		return key
	}
	if _, last, ok := strings.Cut(f, "."); ok {
		return "bar." + last
	}
	return "bar." + f
}

// source is what an ioniser of the line does to the net charge of the web: the curve of a bar, or the law of its
// share where its data are not given.
type source struct {
	bar   ioniser.Fitted // zero: by the share
	share shareLaw
	zone  float64 // [m] along the web
}

// source makes the source of station i.
func (l *Line) source(i int) (source, error) {
	s := l.desc.Stations[i].Ioniser
	factor, _ := l.PlaceFactor(i, s.Distance, 0)
	if s.Bar == nil {
		return source{share: shareLaw{factor: factor, strength: float64(s.Conductivity) * float64(s.Zone) / units.Epsilon0,
			supply: float64(s.Supply), onset: float64(s.Onset), offset: float64(s.Offset)}, zone: float64(s.Zone)}, nil
	}
	spec, err := s.Bar.Spec(s.Distance, l.span(i), l.air)
	if err != nil {
		return source{}, err
	}
	src, err := ioniser.New(spec)
	if err != nil {
		return source{}, err
	}
	place, err := src.At(ioniser.GapOf(s.Distance, factor))
	if err != nil {
		return source{}, err
	}
	fit := float64(s.Bar.Fit)
	if fit == 0 {
		fit = 1
	}
	return source{bar: place.Times(fit), zone: float64(place.Zone())}, nil
}

// span returns the length of free web about station i, between the rollers before and behind it; 0 if none are near.
func (l *Line) span(i int) units.Length {
	touches := func(k int) bool { return l.desc.Stations[k].Kind != Place && l.desc.Stations[k].Kind != Ioniser }
	lo, hi := i-1, i+1
	for lo > 0 && !touches(lo) {
		lo--
	}
	for hi < len(l.desc.Stations)-1 && !touches(hi) {
		hi++
	}
	if lo < 0 || hi >= len(l.desc.Stations) {
		return 0
	}
	return l.desc.Stations[hi].At - l.desc.Stations[lo].At
}

// checkZones refuses ionisers whose zones overlap: what two sources do that share a field is not the sum.
func (l *Line) checkZones() error {
	var errs []error
	before := -1
	for i := range l.desc.Stations {
		s := &l.desc.Stations[i]
		if s.Ioniser == nil {
			continue
		}
		if before >= 0 {
			least := l.desc.Stations[before].At + units.Length((l.steps[before].ion.zone+l.steps[i].ion.zone)/2)
			if s.At < least {
				errs = append(errs, known.Wrong(fmt.Sprintf("stations[%d] (%s).at", i, s.Name), s.At, fmt.Sprintf(
					"%v or more: its zone would overlap that of %q, and two sources that share a field are not added",
					least, l.desc.Stations[before].Name)))
			}
		}
		before = i
	}
	return errors.Join(errs...)
}

// act returns what the source adds to the near face of a web of this net charge density at speed v.
func (s *source) act(net float64, v units.Speed) (float64, ionflow.Regime, known.Validity) { // [C/m²]
	if s.bar.Place() == nil {
		return s.share.act(net, v)
	}
	r := s.bar.Act(units.SurfaceChargeDensity(net), v)
	return float64(r.Deposited), r.Regime, r.Validity
}

// fit returns the source with which it takes the share found of the net charge at speed v. A share outside
// 0 … 0.995 is taken at the end.
func (s source) fit(net, share float64, v units.Speed) source { // [C/m²], [1]
	if s.bar.Place() == nil {
		s.share.fit(net, share, v)
		return s
	}
	f, err := s.bar.Place().Fit(units.SurfaceChargeDensity(net), units.SurfaceChargeDensity((1-max(share, 0))*net), v)
	if err == nil { // else nothing is known of it: as described
		s.bar = f
	}
	return s
}

// shareLaw serves a bar whose data are not given: it takes the share 1 − exp(−f·κ/v) of what it sees beyond offset
// and onset, f the field factor of its place and κ = λL/ε0 its strength, and no more than supply/v. Every result
// of it is an estimate.
type shareLaw struct {
	factor        float64 // [1]
	strength      float64 // [m/s]
	supply        float64 // [A/m]
	onset, offset float64 // [C/m²] as seen with factor 1
}

func (s *shareLaw) act(net float64, v units.Speed) (float64, ionflow.Regime, known.Validity) { // [C/m²]
	seen := s.factor*net - s.offset
	z := math.Abs(seen) - s.onset
	if !(z > 0) || s.factor == 0 {
		return 0, ionflow.BelowOnset, known.Estimate
	}
	take, most := -math.Expm1(-s.factor*s.strength/float64(v))*z/s.factor, s.supply/float64(v)
	if take > most {
		return -math.Copysign(most, seen), ionflow.SupplyLimited, known.Estimate
	}
	return -math.Copysign(take, seen), ionflow.ConductivityLimited, known.Estimate
}

func (s *shareLaw) fit(net, share float64, v units.Speed) { // [C/m²], [1]
	want := min(share, 0.995) * math.Abs(net)
	z := math.Abs(s.factor*net-s.offset) - s.onset
	if !(share > 0) || !(s.factor > 0) || !(z > 0) {
		s.strength = 0
		return
	}
	// A described supply that could not have brought what was found is raised to twice that.
	if s.supply < 1.01*want*float64(v) {
		s.supply = 2 * want * float64(v)
	}
	s.strength = -math.Log1p(-min(want*s.factor/z, 0.995)) / s.factor * float64(v)
}
