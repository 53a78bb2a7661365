package humidity

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Sourced is a law with what it rests on: the source of its numbers and the
// temperatures at which they hold. A law from memory, common practice or a
// demonstration says so in its Validity in every air. It is immutable; the zero
// value gives NaN.
type Sourced[Q Value] struct {
	law       Law[Q]
	source    known.Source
	low, high units.Temperature
}

// driftPerDecade is the spread of an unknown activation energy, in decades·K: its
// 95 % end is 100 kJ/mol (1 eV), as polymers, glass and paper have 0.4 … 1 eV.
// Common practice, no source.
const driftPerDecade = 100e3 / known.Z95 / (units.MolarGas * math.Ln10)

// NewSourced returns law with its source and the temperatures low … high, within
// −100 … 200 °C, at which its numbers were found. Outside them the median stays as
// it is, flagged, and the spread grows with what an unknown activation energy of
// up to 1 eV can do, 61 kJ/mol/(R ln 10)·|1/T − 1/T_end|: one decade for 30 K at
// room temperature.
func NewSourced[Q Value](law Law[Q], source known.Source, low, high units.Temperature) (Sourced[Q], error) {
	var err error
	if law == nil {
		err = known.Wrong("law", "", "a law in humidity")
	}
	if source.Provenance == known.Unstated {
		err = errors.Join(err, known.Wrong("source.provenance", source.Provenance, "a provenance"))
	}
	if !(low >= lowestT && high >= low && high <= highestT) {
		err = errors.Join(err, known.Wrong("low", low, "−100 °C … high, high up to 200 °C"))
	}
	if err != nil {
		return Sourced[Q]{}, err
	}
	return Sourced[Q]{law, source, low, high}, nil
}

// IsZero reports whether there is no law: nothing is held.
func (s Sourced[Q]) IsZero() bool { return s.law == nil }

// Source returns where the numbers of the law come from.
func (s Sourced[Q]) Source() known.Source { return s.source }

// Temperatures returns the temperatures at which the numbers hold.
func (s Sourced[Q]) Temperatures() (low, high units.Temperature) {
	if s.law == nil {
		return units.Temperature(math.NaN()), units.Temperature(math.NaN())
	}
	return s.low, s.high
}

// Value returns the value of the law.
func (s Sourced[Q]) Value(a Air) Q {
	if s.law == nil {
		return Q(math.NaN())
	}
	return s.law.Value(a)
}

// Decades returns the spread of the law, grown outside its temperatures.
func (s Sourced[Q]) Decades(a Air) float64 { // [1]
	if s.law == nil {
		return math.NaN()
	}
	out := math.Max(0, math.Max(1/float64(a.t)-1/float64(s.low), 1/float64(s.high)-1/float64(a.t)))
	return math.Hypot(s.law.Decades(a), driftPerDecade*out)
}

// Validity joins the flags of the law with those of temperature and source.
func (s Sourced[Q]) Validity(a Air) known.Validity {
	if s.law == nil {
		return known.WrongShape
	}
	return s.law.Validity(a) | rangeOf(float64(a.t), float64(s.low), float64(s.high)) | restsOn(s.source)
}

// restsOn is Unpublished for a source that nobody can look up.
func restsOn(s known.Source) known.Validity {
	switch s.Provenance {
	case known.Memory, known.CommonPractice, known.Demo:
		return known.Unpublished
	}
	return known.Inside
}
