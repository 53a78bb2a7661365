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

// Held says what stayed the same while a resistivity was measured against
// temperature; the two give different activation energies.
type Held uint8

// What was held.
const (
	HeldMoisture Held = iota // the moisture of the specimen: sealed, or dry
	HeldHumidity             // the relative humidity of the air around it
)

var heldNames = [...]string{"moisture", "humidity"}

// String returns what was held.
func (h Held) String() string { return enum.Name("Held", heldNames[:], h) }

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (h Held) MarshalText() ([]byte, error) { return enum.Write("held", heldNames[:], h) }

// UnmarshalText reads a name as written by String.
func (h *Held) UnmarshalText(b []byte) error { return enum.Read("held", heldNames[:], b, h) }

// Arrhenius is the law x = x₀·exp[(E_a/R)(1/T − 1/T₀)]. It is immutable; the zero
// value gives NaN.
type Arrhenius[Q Value] struct {
	x0, l0, ea float64 // 1/T₀ [1/K], log10 of the value there, decades·K
	doubt      float64 // spread of ea, decades·K
	held       Held
	spread     // in 1/T [1/K]
}

// HotPoint is a value measured at a temperature.
type HotPoint[Q Value] struct {
	T     units.Temperature // −100 … 200 °C
	Value Q                 // > 0
}

func (p HotPoint[Q]) check(field string) error {
	err := positive(field+".value", p.Value)
	if !(p.T >= lowestT && p.T <= highestT) {
		err = errors.Join(err, known.Wrong(field+".T", p.T, "−100 … 200 °C"))
	}
	return err
}

// ArrheniusSpec states a law of [NewArrhenius].
type ArrheniusSpec[Q Value] struct {
	At         HotPoint[Q]       // a value at a temperature
	Activation float64           // [J/mol] 0 … 400 000; 96 485 J/mol is 1 eV
	Error      float64           // [J/mol] standard deviation of Activation, 0 … 200 000; carried to other temperatures
	Decades    float64           // [1] spread of log10 of the value at At, 0 … 3
	Low, High  units.Temperature // range that it stands for, within −100 … 200 °C
	Held       Held              // what was held
}

// NewArrhenius states the law. Its spread at T is that of the value and that of
// the activation energy, in quadrature:
//
//	√(Decades² + [Error/(R ln 10)·(1/T − 1/T₀)]²)
func NewArrhenius[Q Value](s ArrheniusSpec[Q]) (Arrhenius[Q], error) {
	err := errors.Join(s.At.check("At"), known.InRange("decades", s.Decades, 0, 3),
		checkEnergy("Activation", s.Activation, 400e3), checkEnergy("Error", s.Error, 200e3))
	if !(s.Low >= lowestT && s.High >= s.Low && s.High <= highestT) {
		err = errors.Join(err, known.Wrong("low", s.Low, "−100 °C … High, High up to 200 °C"))
	}
	if s.Held > HeldHumidity {
		err = errors.Join(err, known.Wrong("held", s.Held, "HeldMoisture or HeldHumidity"))
	}
	if err != nil {
		return Arrhenius[Q]{}, err
	}
	const perDecade = units.MolarGas * math.Ln10
	return Arrhenius[Q]{x0: 1 / float64(s.At.T), l0: math.Log10(float64(s.At.Value)), ea: s.Activation / perDecade,
		doubt: s.Error / perDecade, held: s.Held,
		spread: statedSpread(s.Decades, 0, 1/float64(s.High), 1/float64(s.Low))}, nil
}

func checkEnergy(field string, e, most float64) error { // e, most [J/mol]
	if !(e >= 0 && e <= most) {
		return known.Wrong(field, fmt.Sprint(e, " J/mol"), fmt.Sprintf("0 … %g J/mol", most))
	}
	return nil
}

// FitArrhenius fits the law to two or more points by least squares of log x
// against 1/T, with the spread of [FitLogLinear]. A value that rises with
// temperature is refused.
func FitArrhenius[Q Value](points []HotPoint[Q], held Held, settings *FitSettings) (Arrhenius[Q], error) {
	var err error
	if held > HeldHumidity {
		err = known.Wrong("held", held, "HeldMoisture or HeldHumidity")
	}
	f, err2 := fitPoints(points, settings, "T",
		func(p HotPoint[Q]) float64 { return 1 / float64(p.T) }, func(p HotPoint[Q]) float64 { return float64(p.Value) })
	if err = errors.Join(err, err2); err != nil {
		return Arrhenius[Q]{}, err
	}
	if f.slope < 0 {
		return Arrhenius[Q]{}, known.Wrong("points", "values that rise with temperature", "values that fall")
	}
	return Arrhenius[Q]{x0: f.x, l0: f.y, ea: f.slope, doubt: f.ofSlope(), held: held, spread: f.spread}, nil
}

// At returns the value at a temperature. NaN and temperatures at or below 0 K
// give NaN.
func (l Arrhenius[Q]) At(t units.Temperature) Q {
	if !(t > 0) || !l.made {
		return Q(math.NaN())
	}
	return Q(numeric.Pow(10, l.l0+l.ea*(1/float64(t)-l.x0)))
}

// Activation returns the activation energy and its spread, half its 5 to 95 %
// band over 1.645. Two readings at 20 and 60 °C of a scatter of 0.3 decades fix
// it to 20 kJ/mol only.
func (l Arrhenius[Q]) Activation() (e, spread float64) { // [J/mol]
	if !l.made {
		return math.NaN(), math.NaN()
	}
	const perDecade = units.MolarGas * math.Ln10
	return l.ea * perDecade, l.doubt * perDecade
}

// Held returns what was held while the points were taken.
func (l Arrhenius[Q]) Held() Held { return l.held }

// Value returns the value at the air's temperature.
func (l Arrhenius[Q]) Value(a Air) Q { return l.At(a.t) }

// Decades returns the spread, growing with the distance in 1/T from the points.
func (l Arrhenius[Q]) Decades(a Air) float64 { // [1]
	x := 1 / float64(a.t)
	if l.n > 0 {
		return l.at(x)
	}
	return math.Hypot(l.at(x), l.doubt*(x-l.x0))
}

// ratio returns log10 of the value at t over that at t0 and its spread.
func (l Arrhenius[Q]) ratio(t, t0 units.Temperature) (log10, decades float64) {
	dx := 1/float64(t) - 1/float64(t0)
	return l.ea * dx, math.Abs(l.doubt * dx)
}

// Validity flags air colder or hotter than the range.
func (l Arrhenius[Q]) Validity(a Air) known.Validity {
	switch v := l.validity(1 / float64(a.t)); v { // 1/T runs the other way
	case known.BelowRange:
		return known.AboveRange
	case known.AboveRange:
		return known.BelowRange
	default:
		return v
	}
}
