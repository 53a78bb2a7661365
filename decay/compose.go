package decay

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Parallel is the law of independent linear leaks that act on the same charge at
// the same time: the fractions multiply, the rates −(1/V)·dV/dt add. It is right
// only for leaks of one mode in one geometry (bulk and air over one plate, say);
// the times of different geometries do not add, and neither do laws that depend
// on the start value.
type Parallel struct{ laws []Law }

// NewParallel returns the product of one or more laws, none nil. The slice is
// copied.
func NewParallel(laws ...Law) (Parallel, error) {
	if err := checkLaws(laws); err != nil {
		return Parallel{}, err
	}
	return Parallel{append([]Law(nil), laws...)}, nil
}

func checkLaws(laws []Law) error {
	if len(laws) == 0 {
		return known.Wrong("laws", "none", "at least 1")
	}
	var err error
	for i, l := range laws {
		if l == nil {
			err = errors.Join(err, known.Wrong(index("laws", i), "nil", "a law"))
		}
	}
	return err
}

// Fraction returns the product of the fractions.
func (p Parallel) Fraction(t units.Time) float64 { // [1]
	if len(p.laws) == 0 {
		return math.NaN()
	}
	f := 1.0
	for _, l := range p.laws {
		f *= l.Fraction(t)
	}
	return f
}

// Rate returns the derivative of the product.
func (p Parallel) Rate(t units.Time) float64 { // [1/s]
	if len(p.laws) == 0 {
		return math.NaN()
	}
	sum := 0.0
	for i := range p.laws {
		term := Rate(p.laws[i], t)
		for j, l := range p.laws {
			if j != i {
				term *= l.Fraction(t)
			}
		}
		sum += term
	}
	return sum
}

// Mixture is the law of charges side by side, each with its own law, seen
// together: the fractions add with weights.
type Mixture struct {
	laws []Law
	w    []float64
}

// NewMixture returns Σ w_i·f_i of as many laws as positive weights, which are
// divided by their sum. The slices are copied.
func NewMixture(weights []float64, laws ...Law) (Mixture, error) { // weights [1]
	err := checkLaws(laws)
	if len(weights) != len(laws) {
		err = errors.Join(err, known.Wrong("weights", len(weights), "as many as laws"))
	}
	sum := 0.0
	for i, w := range weights {
		err = errors.Join(err, known.Positive(index("weights", i), w))
		sum += w
	}
	if err = errors.Join(err, known.Finite("sum_of_weights", sum)); err != nil {
		return Mixture{}, err
	}
	m := Mixture{append([]Law(nil), laws...), make([]float64, len(weights))}
	for i, w := range weights {
		m.w[i] = w / sum
	}
	return m, nil
}

// Fraction returns Σ w_i·f_i(t).
func (m Mixture) Fraction(t units.Time) float64 { // [1]
	switch {
	case len(m.laws) == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	f := 0.0
	for i, l := range m.laws {
		f += m.w[i] * l.Fraction(t)
	}
	return f
}

// Rate returns Σ w_i·f_i′(t).
func (m Mixture) Rate(t units.Time) float64 { // [1/s]
	if len(m.laws) == 0 {
		return math.NaN()
	}
	r := 0.0
	for i, l := range m.laws {
		r += m.w[i] * Rate(l, t)
	}
	return r
}

// Later is the law as seen by somebody who begins to measure at an age: what is
// left after t in units of what was left at that age,
//
//	f(age + t)/f(age)
//
// Ten per cent of the first reading is not ten per cent of the deposited charge.
// For memoryless laws with one time constant nothing changes; a stretched
// exponential or a power law decays ever more slowly with age.
type Later struct {
	law Law
	age units.Time
	at  float64
}

// After returns the law seen from the given age >= 0. It fails if nothing is
// left at that age.
func After(law Law, age units.Time) (Later, error) {
	if law == nil {
		return Later{}, known.Wrong("law", "nil", "a law")
	}
	if err := known.NotNegative("age", age); err != nil {
		return Later{}, err
	}
	at := law.Fraction(age)
	if !(math.Abs(at) > 0) {
		return Later{}, known.Wrong("age", age, "a time at which the law has not reached 0")
	}
	return Later{law, age, at}, nil
}

// Fraction returns f(age + t)/f(age), 1 before t = 0.
func (l Later) Fraction(t units.Time) float64 { // [1]
	switch {
	case l.law == nil:
		return math.NaN()
	case t <= 0:
		return 1
	}
	return l.law.Fraction(l.age+t) / l.at
}

// Rate returns f′(age + t)/f(age), 0 before t = 0.
func (l Later) Rate(t units.Time) float64 { // [1/s]
	switch {
	case l.law == nil:
		return math.NaN()
	case t < 0:
		return 0
	}
	return Rate(l.law, l.age+t) / l.at
}

// Sequence is one law up to a time and another, started fresh on what is left,
// after it: a web that leaves one place for the next, a sample whose humidity
// changes. For a memoryless law this is exact; for one with an age it says that
// the change of place restarts the ageing.
type Sequence struct {
	first, next Law
	until       units.Time
	at          float64
}

// Then returns first up to the time until >= 0 and next after it.
func Then(first Law, until units.Time, next Law) (Sequence, error) {
	if first == nil || next == nil {
		return Sequence{}, known.Wrong("law", "nil", "a law")
	}
	if err := known.NotNegative("until", until); err != nil {
		return Sequence{}, err
	}
	return Sequence{first, next, until, first.Fraction(until)}, nil
}

// Fraction returns first(t), or first(until)·next(t − until).
func (s Sequence) Fraction(t units.Time) float64 { // [1]
	switch {
	case s.first == nil:
		return math.NaN()
	case t <= s.until:
		return s.first.Fraction(t)
	}
	return s.at * s.next.Fraction(t-s.until)
}

// Rate returns the derivative, that of the first law at the join.
func (s Sequence) Rate(t units.Time) float64 { // [1/s]
	switch {
	case s.first == nil:
		return math.NaN()
	case t <= s.until:
		return Rate(s.first, t)
	}
	return s.at * Rate(s.next, t-s.until)
}
