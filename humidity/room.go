package humidity

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// FlowState says at which state a ventilation flow is counted.
type FlowState uint8

// The states.
const (
	AtIndoor  FlowState = iota // air changes: volume of room air, at the room's temperature
	AtOutdoor                  // volume of outdoor air as the intake fan moves it
)

var flowNames = [...]string{"at indoor state", "at outdoor state"}

// String returns the name of the state.
func (s FlowState) String() string { return enum.Name("FlowState", flowNames[:], s) }

// MarshalText writes the name; a value that is no state is a
// [*known.FieldError].
func (s FlowState) MarshalText() ([]byte, error) { return enum.Write("flow state", flowNames[:], s) }

// UnmarshalText reads a name as written by String.
func (s *FlowState) UnmarshalText(b []byte) error { return enum.Read("flow state", flowNames[:], b, s) }

// RoomSpec describe a hall. The zero value of a field is refused unless its
// comment says otherwise.
type RoomSpec struct {
	Volume      units.Volume     // of air, more than 0, up to 1e7 m³
	Ventilation units.VolumeFlow // outdoor air, exhaust of machines and leaks included; more than 0, up to 1e4 m³/s
	CountedAt   FlowState        // default AtIndoor
	// vapour from people, process and goods, −10 … 10 kg/s; may be 0; negative where goods or coils dry the air
	Gain units.MassFlow
	// Buffer is the moisture that goods and surfaces take up for each kilogram
	// that the air takes up, 0 … 100; it slows changes and leaves the steady
	// state as it is. Default 0. A hall full of paper has 5 and more: common
	// practice, no source. [1]
	Buffer float64
}

// Room is a ventilated hall at constant pressure. It is immutable.
type Room struct{ s RoomSpec }

// NewRoom checks the settings. Errors are [*known.FieldError]s.
func NewRoom(s RoomSpec) (Room, error) {
	err := errors.Join(
		known.Positive("volume", s.Volume), known.InRange("volume", s.Volume, 0, units.Volume(1e7)),
		known.Positive("ventilation", s.Ventilation), known.InRange("ventilation", s.Ventilation, 0, units.VolumeFlow(1e4)),
		known.InRange("gain", s.Gain, units.MassFlow(-10), units.MassFlow(10)), known.InRange("buffer", s.Buffer, 0, 100))
	if s.CountedAt > AtOutdoor {
		err = errors.Join(err, known.Wrong("counted_at", uint8(s.CountedAt), "AtIndoor or AtOutdoor"))
	}
	if err != nil {
		return Room{}, err
	}
	return Room{s}, nil
}

// Spec returns what the room was made from.
func (r Room) Spec() RoomSpec { return r.s }

// Adding returns the room with more vapour set free, for example a humidifier
// running at w. The sum is refused outside −10 … 10 kg/s.
func (r Room) Adding(w units.MassFlow) (Room, error) {
	s := r.s
	s.Gain += w
	return NewRoom(s)
}

// AirChanges returns ventilation over volume. Counted at outdoor state it is
// the rate at that state.
func (r Room) AirChanges() units.Frequency {
	return units.Frequency(float64(r.s.Ventilation) / float64(r.s.Volume))
}

// Steady returns the indoor air at t that outdoor air comes to when it is heated
// or cooled at constant pressure and mixed with the room's moisture gain G:
//
//	W_in = W_out + G/ṁ,  ṁ dry air of the ventilation
//
// The pressure is that of the outdoor air. An air that would be more than
// saturated is returned as it is and flagged by [Air.Supersaturated]: in truth
// the excess condenses. Errors are [*known.FieldError]s for outdoor, t and for a
// gain that no air can carry.
func (r Room) Steady(outdoor Air, t units.Temperature) (Air, error) {
	if err := r.checkIndoor(outdoor, t); err != nil {
		return Air{}, err
	}
	return r.toAir(r.steadyRatio(outdoor, t), outdoor, t)
}

func (r Room) checkIndoor(outdoor Air, t units.Temperature) error {
	var err error
	if r.s.Volume == 0 {
		err = known.Wrong("room", "the zero Room", "a room made by NewRoom")
	}
	if !outdoor.valid() {
		err = errors.Join(err, known.Wrong("outdoor", "the zero Air", "air made by NewAir or AirFrom"))
	}
	if e := known.InRange("t", t, lowestT, highestT); e != nil {
		err = errors.Join(err, known.Wrong("t", t, "−100 … 200 °C"))
	}
	return err
}

func (r Room) toAir(w float64, outdoor Air, t units.Temperature) (Air, error) {
	if !(w >= 0 && w < 60) {
		return Air{}, known.Wrong("gain", r.s.Gain, fmt.Sprintf("a gain that leaves a humidity ratio of 0 or "+
			"more, not %.3g kg/kg", w))
	}
	return withVapour(outdoor.m, t, outdoor.p, units.Pressure(vapourFromRatio(w, float64(outdoor.p))), "gain", r.s.Gain)
}

// steadyRatio returns W_in [kg/kg]. With the flow counted indoors ṁ itself
// depends on W_in: ṁ = V̇ p ε/(R T (ε + W)).
func (r Room) steadyRatio(outdoor Air, t units.Temperature) float64 {
	wo := float64(outdoor.HumidityRatio())
	g, v := float64(r.s.Gain), float64(r.s.Ventilation)
	if r.s.CountedAt == AtOutdoor {
		return wo + g/(v*float64(outdoor.DryAirDensity()))
	}
	k := v * float64(outdoor.p) / (gasDryAir * float64(t)) * massRatio
	if k <= g {
		return math.Inf(1)
	}
	return (k*wo + g*massRatio) / (k - g)
}

// dryFlow returns the dry air of the ventilation [kg/s] for given air in the room.
func (r Room) dryFlow(outdoor, indoor Air) float64 {
	if r.s.CountedAt == AtOutdoor {
		return float64(r.s.Ventilation) * float64(outdoor.DryAirDensity())
	}
	return float64(r.s.Ventilation) * float64(indoor.DryAirDensity())
}

// rate returns the relaxation rate [1/s] of the indoor humidity ratio.
func (r Room) rate(outdoor, indoor Air) float64 {
	m := float64(r.s.Volume) * float64(indoor.DryAirDensity())
	return r.dryFlow(outdoor, indoor) / (m * (1 + r.s.Buffer))
}

// After returns the indoor air a time dt after it was start, with constant
// outdoor air, gain and start's temperature:
//
//	W(t) = W_∞ + (W_0 − W_∞)·exp(−n t/(1 + Buffer)),  n = ṁ/(dry air in the room)
//
// W_∞ is that of [Room.Steady]. The dry air in the room is taken constant: an
// error of ΔW/0.62 of the rate, below 2 % indoors. Errors are
// [*known.FieldError]s for outdoor, start, dt (0 or more) and gain.
func (r Room) After(dt units.Time, start, outdoor Air) (Air, error) {
	err := errors.Join(checkStart(start), known.NotNegative("dt", dt))
	if err == nil {
		err = r.checkIndoor(outdoor, start.t)
	}
	if err != nil {
		return Air{}, err
	}
	return r.toAir(r.relaxed(float64(dt), start, outdoor), outdoor, start.t)
}

func checkStart(a Air) error {
	if !a.valid() {
		return known.Wrong("start", "the zero Air", "air made by NewAir or AirFrom")
	}
	return nil
}

func (r Room) relaxed(dt float64, start, outdoor Air) float64 {
	w := r.steadyRatio(outdoor, start.t)
	return w + (float64(start.HumidityRatio())-w)*numeric.Exp(-r.rate(outdoor, start)*dt)
}

// SeriesTo follows the indoor air through a series of outdoor air, each of which
// lasts for step: dst[i] is the indoor air at the end of outdoor[i], at start's
// temperature. It is exact for outdoor air that is constant within a step,
// whatever the step. Rows whose outdoor air is the zero Air, or that no air can
// follow, hold the zero Air and are listed in the one error; the state before
// them continues after them.
func (r Room) SeriesTo(dst []Air, step units.Time, start Air, outdoor []Air) error {
	err := errors.Join(checkStart(start), known.Positive("step", step))
	if r.s.Volume == 0 {
		err = errors.Join(err, known.Wrong("room", "the zero Room", "a room made by NewRoom"))
	}
	if len(dst) != len(outdoor) {
		err = errors.Join(err, known.Wrong("dst", fmt.Sprint(len(dst), " rows"), fmt.Sprint(len(outdoor), " as outdoor")))
	}
	if err != nil {
		return err
	}
	var bad rowList
	now := start
	for i, o := range outdoor {
		dst[i] = Air{m: o.m}
		if !o.valid() {
			bad.add(i)
			continue
		}
		w := r.relaxed(float64(step), now, o)
		e := vapourFromRatio(w, float64(o.p))
		if !(w >= 0 && e <= mostVapour*float64(o.p)) {
			bad.add(i)
			continue
		}
		now = Air{t: start.t, p: o.p, e: units.Pressure(e), m: o.m}
		dst[i] = now
	}
	return bad.err("outdoor air that leaves a humidity ratio of 0 or more")
}

// Demand is what a humidifier must give.
type Demand struct {
	Water units.MassFlow // evaporated; 0 if the room is damp enough without
	// Steam is the heat to raise saturated steam of 100 °C from the feed water,
	// 2676 kJ/kg less that of the water. Boiler losses and blow-down come on top.
	Steam units.Power
	// Evaporation is the heat that spray, ultrasonic or pad units take from the
	// room air, 2501 + 1.86 t kJ/kg less that of the feed water, which the heating
	// must give back. Their own electricity comes on top.
	Evaporation units.Power
}

// Notice returns the caution that goes with a humidifier.
func (d Demand) Notice() known.Notice {
	return known.Notice{Code: "humidifier", Condition: "a humidifier brings standing water, hot steam or mains voltage " +
		"to the line, and damp air wets what is colder than its dew point",
		Figure: fmt.Sprintf("%.3g kg/h", 3600*float64(d.Water)), Consult: "the local rules of hygiene for " +
			"humidifiers and of electrical work",
		Decide: "kind and place of the humidifier, treatment and checks of its water"}
}

const (
	steamEnthalpy = 2676e3 // [J/kg] saturated steam at 100 °C, IAPWS R7-97
	waterHeat     = 4186.0 // [J/(kg·K)] ASHRAE Fundamentals 2017 ch. 1 eq. 33
)

// Humidify returns the demand that holds the room at target against outdoor
// air, with feed water of the given temperature (0 … 100 °C):
//
//	H = ṁ (W_target − W_out) − Gain
//
// the balance of the ASHRAE Handbook, HVAC Systems and Equipment, ch. 22
// (form quoted elsewhere, not compared with the handbook). Condensation on cold walls and windows comes on top.
// The pressures of target and outdoor air must be the same to 1 %. Humidifying a
// line whose charged parts have no path to earth, or of clean polymer, does
// nothing: see [Class]. The caution that goes with it is [Demand.Notice].
func (r Room) Humidify(outdoor, target Air, feed units.Temperature) (Demand, error) {
	if !target.valid() {
		return Demand{}, known.Wrong("target", "the zero Air", "air made by NewAir or AirFrom")
	}
	err := r.checkIndoor(outdoor, target.t)
	if e := known.InRange("feed", feed, units.Temperature(273.15), units.Temperature(373.15)); e != nil {
		err = errors.Join(err, known.Wrong("feed", feed, "0 … 100 °C"))
	}
	if math.Abs(float64(target.p-outdoor.p)) > 0.01*float64(outdoor.p) {
		err = errors.Join(err, known.Wrong("target", target.p, "the pressure of the outdoor air, "+outdoor.p.String()))
	}
	if err != nil {
		return Demand{}, err
	}
	h := r.dryFlow(outdoor, target)*float64(target.HumidityRatio()-outdoor.HumidityRatio()) - float64(r.s.Gain)
	h = math.Max(h, 0)
	f := waterHeat * feed.Celsius()
	return Demand{
		Water:       units.MassFlow(h),
		Steam:       units.Power(h * (steamEnthalpy - f)),
		Evaporation: units.Power(h * (latentZero + cpVapour*target.t.Celsius() - f)),
	}, nil
}

// OutdoorFor returns outdoor air, at its own temperature t, for which the room
// without humidifier settles at target: the inverse of [Room.Steady]. Its dew
// point is the outdoor dew point at which the room starts to miss the target.
// A gain that alone makes the room damper is a [*known.FieldError] for gain.
func (r Room) OutdoorFor(target Air, t units.Temperature) (Air, error) {
	if !target.valid() {
		return Air{}, known.Wrong("target", "the zero Air", "air made by NewAir or AirFrom")
	}
	if err := r.checkIndoor(target, t); err != nil {
		return Air{}, err
	}
	w := float64(target.HumidityRatio())
	g := float64(r.s.Gain)
	if r.s.CountedAt == AtIndoor {
		w -= g / (float64(r.s.Ventilation) * float64(target.DryAirDensity()))
	} else {
		// ṁ is that of the outdoor air: k(W_in − W)/(ε + W) = G with k = V̇ p ε/(R T).
		k := float64(r.s.Ventilation) * float64(target.p) / (gasDryAir * float64(t)) * massRatio
		w = (k*w - g*massRatio) / (k + g)
	}
	return r.toAir(w, target, t)
}
