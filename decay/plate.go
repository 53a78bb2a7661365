package decay

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// PlateMonitor is a charged-plate monitor: an isolated metal plate of known
// capacitance that is charged and left to what discharges it. It measures the
// air and the field of the place, or a conductor that touches an item, not the
// decay of a charge on an insulating surface.
//
// High voltage: the plate is charged to about 1 kV at about 20 pF. Instruments
// of this kind are built and operated under the local rules for electrical work.
type PlateMonitor struct{ c, r float64 } // [F], [Ω]

// NewPlateMonitor returns the monitor of total capacitance c > 0 (plate, meter
// and leads) and leakage resistance leak > 0 to earth.
func NewPlateMonitor(c units.Capacitance, leak units.Resistance) (PlateMonitor, error) {
	if err := errors.Join(known.Positive("capacitance", c), known.Positive("leakage", leak)); err != nil {
		return PlateMonitor{}, err
	}
	return PlateMonitor{float64(c), float64(leak)}, nil
}

// The plate of ANSI/ESD STM3.1-2006, clauses 5.1 and 5.3, not compared with the
// standard.
const (
	PlateSide             = 150 * units.Millimetre // edge of the square plate
	PlateLeastCapacitance = 15 * units.Picofarad   // of the plate alone, at least
	MonitorCapacitance    = 20 * units.Picofarad   // in circuit, ±2 pF
	PlateMostLoss         = 0.10                   // [1] greatest loss by its own leakage …
	PlateLossTime         = 5 * units.Minute       // … in this time
)

// LeastLeakage returns the least leakage resistance with which a plate of
// capacitance c loses at most the fraction loss in the time t:
//
//	R = t/(C·ln(1/(1−loss)))
//
// NaN unless c, t > 0 and 0 < loss < 1.
func LeastLeakage(c units.Capacitance, loss float64, t units.Time) units.Resistance { // loss [1]
	if !(c > 0) || !(t > 0) || !(loss > 0 && loss < 1) {
		return units.Resistance(math.NaN())
	}
	return units.Resistance(float64(t) / (float64(c) * -math.Log1p(-loss))) // s/F = Ω
}

// SelfTime returns the time constant R·C of the plate's own leakage.
func (p PlateMonitor) SelfTime() units.Time { return units.Time(made(p.r * p.c)) }

// Corrected returns the time constant of what discharges the plate besides its
// own leakage, from the measured one: 1/τ = 1/τ_m − 1/(RC). Here rates add: both
// act on the same plate in the same geometry. It fails if the measured decay is
// no faster than the plate's own.
func (p PlateMonitor) Corrected(measured units.Time) (units.Time, error) {
	if err := known.Positive("measured", measured); err != nil {
		return units.Time(math.NaN()), err
	}
	self := p.SelfTime()
	if !(measured < self) {
		return units.Time(math.NaN()), known.Wrong("measured", measured, "less than the plate's own time constant "+
			self.String())
	}
	return units.Time(1 / (1/float64(measured) - 1/float64(self))), nil
}

// PlateDecayTime returns the time in which the plate falls from v0 to v1 towards
// the balance voltage vb with the time constant tau,
//
//	t = τ·ln[(v0 − vb)/(v1 − vb)]
//
// From 1000 V to 100 V this is 2.303·τ only for a balance of zero: 2.698·τ for
// +35 V, 2.037·τ for −35 V. |v1| <= |v0|, same sign; [*NeverError] if the balance
// lies at or beyond v1.
func PlateDecayTime(tau units.Time, v0, v1, vb units.Voltage) (units.Time, error) {
	l, err := NewOffsetExponential(tau, v0, vb)
	if err != nil {
		return units.Time(math.NaN()), err
	}
	f := float64(v1) / float64(v0)
	if !(f > 0 && f <= 1) {
		return units.Time(math.NaN()), known.Wrong("v1", v1, "between 0 (not included) and the start voltage "+v0.String())
	}
	return l.TimeTo(f)
}

// DischargeTime returns the time in which the plate falls from v0 to v1 when a
// current i(V) leaves it (positive: towards zero for a positive plate), together
// with its own leakage,
//
//	t = C·∫ dV/(i(V) + V/R)  from v1 to v0
//
// which need not be exponential: ion current against voltage saturates. v0 and
// v1 have one sign, |v1| < |v0|. [*NeverError] if the current does not discharge
// the plate somewhere on the way; NaN from i gives a [*known.FieldError].
//
// Method: Gauss–Legendre rule of 16 points on 8, 16, … panels, equal in ln V,
// until two agree to 1e-10.
func (p PlateMonitor) DischargeTime(i func(units.Voltage) units.Current, v0, v1 units.Voltage) (units.Time, error) {
	nan := units.Time(math.NaN())
	err := errors.Join(known.Finite("v0", v0), known.Finite("v1", v1))
	if err == nil && !(float64(v0)/float64(v1) > 1) {
		err = known.Wrong("v1", v1, "the sign of the start voltage "+v0.String()+" and smaller in size, not 0")
	}
	if p.c == 0 {
		err = errors.Join(err, notMade("PlateMonitor"))
	}
	if i == nil {
		err = errors.Join(err, known.Wrong("i", "nil", "current against voltage"))
	}
	if err != nil {
		return nan, err
	}
	sign := math.Copysign(1, float64(v0))
	out := func(x float64) float64 { // current that discharges at x = ln|V| [A]
		v := sign * numeric.Exp(x)
		return sign * (float64(i(units.Voltage(v))) + v/p.r)
	}
	stuck, bad := math.NaN(), false // highest point met where nothing discharges
	f := func(x float64) float64 {
		o := out(x)
		bad = bad || math.IsNaN(o)
		if o <= 0 && !(x < stuck) {
			stuck = x
		}
		return p.c * numeric.Exp(x) / o
	}
	a, b := math.Log(math.Abs(float64(v1))), math.Log(math.Abs(float64(v0)))
	integrate := func(panels int) float64 {
		sum, w := 0.0, (b-a)/float64(panels)
		for j := range panels {
			lo := a + w*float64(j)
			sum += quad.Fixed(f, lo, lo+w, 16, quad.Legendre{}, 0)
		}
		return sum
	}
	old := integrate(8)
	for n := 16; n <= 4096; n *= 2 {
		t := integrate(n)
		switch {
		case bad:
			return nan, known.Wrong("i", "NaN", "a current at every voltage between v1 and v0")
		case !math.IsNaN(stuck):
			if x, err := numeric.Brent(out, stuck, b, 1e-12, 0); err == nil {
				stuck = x
			}
			return units.Time(math.Inf(1)), &NeverError{float64(v1) / float64(v0), numeric.Exp(stuck - b)}
		case math.Abs(t-old) <= 1e-10*t:
			return units.Time(t), nil
		}
		old = t
	}
	return units.Time(old), known.Wrong("i", "a current with jumps", "a current smooth enough to integrate to 1e-10")
}

// Swing returns half the peak-to-peak voltage that an alternating source leaves
// on the plate: the amplitude that it would force at rest, low-passed by the time
// constant tau of the discharge,
//
//	V = amplitude/√(1 + (2π·f·τ)²)
//
// NaN unless all arguments are zero or more.
func Swing(amplitude units.Voltage, f units.Frequency, tau units.Time) units.Voltage {
	if !(amplitude >= 0) || !(f >= 0) || !(tau >= 0) {
		return units.Voltage(math.NaN())
	}
	return units.Voltage(float64(amplitude) / math.Hypot(1, 2*math.Pi*float64(f)*float64(tau)))
}

// OffsetSwing returns the offset (mean) and the swing (peak to peak) of readings
// of a plate that was earthed and released. NaN for none and if any reading is
// NaN.
func OffsetSwing(v []units.Voltage) (offset, swing units.Voltage) {
	if len(v) == 0 {
		nan := units.Voltage(math.NaN())
		return nan, nan
	}
	lo, hi, sum := v[0], v[0], 0.0
	for _, x := range v {
		lo, hi = min(lo, x), max(hi, x)
		sum += float64(x)
	}
	return units.Voltage(sum / float64(len(v))), hi - lo
}
