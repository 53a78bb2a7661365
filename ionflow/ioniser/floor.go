package ioniser

import (
	"math"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// PlateOffset returns the net charge density that a web keeps, or takes up, under a source that leaves the
// voltage v on a plate monitor whose plate stands at the distance d: the web comes to the same voltage, so that
//
//	σ = ε0·v·(k/d + 1/h)
//
// with h the gap behind the web ([NoMetal] for none) and k from 1, no space charge in the gap, to 1.5, full
// space charge. A plate that was read at another distance than the web has says nothing: balance at one
// distance is not balance at another. d and h must be above 0, else NaN.
func PlateOffset(v units.Voltage, d, h units.Length) (low, high units.SurfaceChargeDensity) {
	if !(d > 0) || !(h > 0) {
		nan := units.SurfaceChargeDensity(math.NaN())
		return nan, nan
	}
	at := func(k float64) units.SurfaceChargeDensity {
		return units.SurfaceChargeDensity(units.Epsilon0 * float64(v) * (k/float64(d) + 1/float64(h)))
	}
	a, b := at(1), at(1.5)
	return min(a, b), max(a, b)
}

// Shown returns what a guarded field meter with a wide face displays over a web of the net charge density with
// metal at the gap h behind it, if it is held at the distance d for which its display is calibrated: E·d with E
// = (σ/ε0)·h/(d + h). d and h must be above 0, else NaN.
func Shown(net units.SurfaceChargeDensity, d, h units.Length) units.DisplayVoltage {
	if !(d > 0) || !(h > 0) {
		return units.DisplayVoltage(math.NaN())
	}
	return units.DisplayVoltage(float64(net) / units.Epsilon0 / (1/float64(d) + 1/float64(h)))
}

// MakerSheet is what the maker's sheet of a bar says and no model can: per metre of bar, NaN for what is not stated.
type MakerSheet struct {
	Power float64 // [W/m] taken from the mains
	Ozone float64 // [kg/(s·m)] given off when clean
	Air   float64 // [kg/(s·m)] taken, if the nozzle is not known
}

// Totals returns power, ozone and air of a bar of the length l; NaN for what the sheet does not state. Errors:
// a length that is not positive.
func (s MakerSheet) Totals(l units.Length) (power units.Power, ozone, air units.MassFlow, err error) {
	if err := known.Positive("length", l); err != nil {
		nan := math.NaN()
		return units.Power(nan), units.MassFlow(nan), units.MassFlow(nan), err
	}
	x := float64(l)
	return units.Power(s.Power * x), units.MassFlow(s.Ozone * x), units.MassFlow(s.Air * x), nil
}

// CleanAfter returns after which time of work the points must have been cleaned if their emission falls as
// exp(−rate·t) from what it is, so that the source leaves at most want of the web's net: for the median rate,
// and for its 95 % and 5 % quantiles. That the fall is exponential is an assumption; dirt that raises the start
// of the points takes more. Errors as [Spec.LeastCurrent]; a source that does not do it when clean is
// unreachable.
func (s Spec) CleanAfter(want units.SurfaceChargeDensity, w Web, rate known.Band) (median, early,
	late units.Time, err error) { // rate [1/s]
	if s.passive() {
		return 0, 0, 0, known.Wrong("emitter", "zero value", "a powered emitter")
	}
	e := s.Emitter.Spec()
	now := units.LineCurrent(float64(e.Current) * e.Output)
	need, err := s.LeastCurrent(want, w, units.LineCurrent(1e-6*float64(now)), now)
	if err != nil {
		return 0, 0, 0, err
	}
	median, early, late = ionflow.TimeToLimit(now, need.Value, rate)
	return median, early, late, nil
}

// Notices returns the cautions that go with any use of the source.
func (s *Source) Notices() []known.Notice {
	var out []known.Notice
	if s.spec.passive() {
		out = ionflow.PassiveNotices()
	} else {
		out = s.spec.Emitter.Notices()
	}
	if s.spec.Air.Stream != nil {
		out = append(out, ionflow.AirNotices()...)
	}
	return out
}
