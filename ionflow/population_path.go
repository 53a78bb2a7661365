package ionflow

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Local is what happens to the ions at one place of their way.
type Local struct {
	Speed units.Speed // speed of the air, above 0
	// Dilution is d ln Q/dx, the rate at which the stream takes in ion-free air. [1/m]
	Dilution  float64         // [1/m]
	LossPlus  units.Frequency // rate at which each positive ion is lost (wall, aerosol)
	LossMinus units.Frequency // rate at which each negative ion is lost
	Source    float64         // [1/(m³·s)] ion pairs made
	// Repulsion is the share of the stream's own space charge that acts, 1 for an
	// unconfined plume, 0 where walls or the other polarity hold it. [1]
	Repulsion float64 // [1]
}

// Way tells what happens to the ions at distance x from the source. It is called
// from one goroutine at a time, with x from 0 to the end of the path.
type Way interface {
	// At returns the conditions at x.
	At(x units.Length) Local
}

// Uniform is a way along which nothing changes.
type Uniform Local

// At returns the local conditions.
func (u Uniform) At(units.Length) Local { return Local(u) }

// WayFunc makes a Way of a function.
type WayFunc func(x units.Length) Local

// At calls the function.
func (f WayFunc) At(x units.Length) Local { return f(x) }

// InFreeJet is the way along a free jet, with the losses and the repulsion of Base;
// speed and dilution come from the jet.
type InFreeJet struct {
	Jet  jet.Jet // the jet
	Base Local   // losses, source and repulsion; Speed and Dilution are not used
}

// At returns the local conditions in the jet.
func (j InFreeJet) At(x units.Length) Local {
	l := j.Base
	l.Speed, l.Dilution = j.Jet.MeanSpeed(x), j.Jet.Dilution(x)
	return l
}

// Loss names what can take ions from a stream, for [Tally].
type Loss uint8

// The losses.
const (
	Recombined Loss = iota // with the other polarity
	Repelled               // out of the stream by its own charge
	Lost                   // to walls and aerosol
	Diluted                // thinned by entrained air; the number carried does not change
	losses
)

var lossNames = [...]string{"recombination", "repulsion", "wall and aerosol", "dilution"}

// String returns the name, or "Loss(n)".
func (l Loss) String() string { return enum.Name("Loss", lossNames[:], l) }

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (l Loss) MarshalText() ([]byte, error) { return enum.Write("loss", lossNames[:], l) }

// UnmarshalText reads a name; anything else is a [*known.FieldError] and leaves the value.
func (l *Loss) UnmarshalText(b []byte) error { return enum.Read("loss", lossNames[:], b, l) }

// Tally adds up what took the ions of one polarity: the natural logarithm of the
// factor by which each loss thinned them, so that ln(n0/n) is their sum less
// Made. A negative entry is a gain.
type Tally struct {
	By [losses]float64 // [1] natural logarithms, indexed by Loss
	// Made is the natural logarithm of what the source added: +Inf where all ions come from it, 0 without one. [1]
	Made float64 // [1]
}

// Ruled returns the loss with the largest share.
func (t Tally) Ruled() Loss {
	best := Recombined
	for l := Repelled; l < losses; l++ {
		if t.By[l] > t.By[best] {
			best = l
		}
	}
	return best
}

// made puts down to the source what the losses leave open between the densities n0 and n: an integral of source/n
// would need steps of its own where n rises from next to nothing.
func (t *Tally) made(n0, n float64) {
	t.Made = math.Log(n / n0)
	for _, b := range t.By {
		t.Made += b
	}
}

// Arrival is a population at the end of its way.
type Arrival struct {
	Plus, Minus         units.NumberDensity // densities
	Age                 units.Time          // travelling time with the air
	PlusLoss, MinusLoss Tally               // what took the ions
	// Recombination and Repulsion are the ceilings 1/(αt) and ε0/(eμt) at the
	// same age with the smaller mobility; dilution lowers both further.
	Recombination, Repulsion units.NumberDensity
	Steps                    int // accepted steps of the integrator
}

// ConvergenceError says that the integration along a path stopped short.
type ConvergenceError struct {
	At    units.Length // where it stopped
	Steps int          // steps taken
	Last  float64      // [1] error estimate of the last step over the tolerance
	Why   string       // what was wrong
}

// Error describes the stop.
func (e *ConvergenceError) Error() string {
	return fmt.Sprintf("ionflow: path stopped at %v after %d steps (error/tolerance %.3g): %s", e.At, e.Steps, e.Last,
		e.Why)
}

// Path follows both polarities along a way of length l:
//
//	u·dn±/dx = q − α·n+·n− − λ±·n± ∓ r·(e·μ±/ε0)·n±·(n+ − n−) − u·n±·d ln Q/dx
//
// by the embedded Runge–Kutta pair of J. R. Dormand and P. J. Prince, J. Comput. Appl. Math.
// 6 (1980) 19, with steps that keep the error of ln n below tol (0 means 1e-9). Any
// composition of the closed forms of this package is a way. Errors: joined
// [*known.FieldError]s for a nil way, ions, negative or infinite densities, a length not
// positive, tol outside 1e-13 … 1e-2; a [*ConvergenceError] where the way itself
// returns something impossible or 100000 steps do not suffice.
//
// The method is explicit: a loss much faster than the travelling time costs a step for
// each of its time constants. A density of exactly 0 stays 0 unless the source makes ions. No allocation.
func Path(way Way, i Ions, plus, minus units.NumberDensity, l units.Length, tol float64) (Arrival, error) { // tol [1]
	if tol == 0 {
		tol = 1e-9
	}
	if way == nil {
		return Arrival{}, known.Wrong("way", "", "a way, for example Uniform{Speed: 5}")
	}
	if err := errors.Join(i.Check(), known.InRange("plus", plus, 0, 1e25), known.InRange("minus", minus, 0, 1e25),
		known.Positive("length", l), known.InRange("tolerance", tol, 1e-13, 1e-2)); err != nil {
		return Arrival{}, err
	}
	var y state
	y[0], y[1] = float64(plus), float64(minus)
	p := path{way: way, alpha: float64(i.Alpha), kp: float64(repulsion(i.Plus)), km: float64(repulsion(i.Minus))}
	x, end := 0.0, float64(l)
	h := end / 100
	steps, last := 0, 0.0
	for x < end {
		h = min(h, end-x)
		next, bad := p.step(x, h, &y)
		last = bad / tol
		switch {
		case steps >= 100000:
			return Arrival{}, &ConvergenceError{At: units.Length(x), Steps: steps, Last: last, Why: "too many steps"}
		case !(last <= 1): // also NaN
			if math.IsNaN(last) || math.IsInf(last, 0) {
				h *= 0.1 // so far beyond stability that numbers overflow, or the way is impossible
			} else {
				h *= max(0.1, min(0.5, 0.9*numeric.Pow(last, -0.2)))
			}
			if !(h > end*1e-13) {
				return Arrival{}, &ConvergenceError{At: units.Length(x), Steps: steps, Last: last,
					Why: "the way has no finite speed or rate here"}
			}
			continue
		}
		x += h
		if end-x < end*1e-14 {
			x = end
		}
		y = next
		steps++
		h *= min(5, 0.9*numeric.Pow(last+1e-12, -0.2))
	}
	a := Arrival{Plus: units.NumberDensity(y[0]), Minus: units.NumberDensity(y[1]), Age: units.Time(y[2]), Steps: steps}
	copy(a.PlusLoss.By[:], y[3:7])
	copy(a.MinusLoss.By[:], y[7:11])
	if y[11] > 0 {
		a.PlusLoss.made(float64(plus), y[0])
		a.MinusLoss.made(float64(minus), y[1])
	}
	a.Recombination = RecombinationCeiling(i.Alpha, a.Age)
	a.Repulsion = RepulsionCeiling(min(i.Plus, i.Minus), a.Age)
	return a, nil
}

// state is n+, n−, age, the four losses of each polarity and the pairs made.
type state [12]float64

type path struct {
	way           Way
	alpha, kp, km float64
}

func (p *path) slope(x float64, y *state, d *state) {
	l := p.way.At(units.Length(x))
	n, m, u := y[0], y[1], float64(l.Speed)
	if !(u > 0 && u <= math.MaxFloat64) || !(l.Source >= 0) {
		d[0] = math.NaN()
		return
	}
	by := [2][losses]float64{
		{p.alpha * m / u, l.Repulsion * p.kp * (n - m) / u, float64(l.LossPlus) / u, l.Dilution},
		{p.alpha * n / u, l.Repulsion * p.km * (m - n) / u, float64(l.LossMinus) / u, l.Dilution},
	}
	made := l.Source / u
	d[0], d[1], d[2] = made, made, 1/u
	for k := range losses {
		d[0] -= n * by[0][k]
		d[1] -= m * by[1][k]
		d[3+k], d[7+k] = by[0][k], by[1][k]
	}
	d[11] = made
}

// Dormand–Prince 5(4).
var (
	dpC = [7]float64{0, 1. / 5, 3. / 10, 4. / 5, 8. / 9, 1, 1}
	dpA = [7][6]float64{
		{},
		{1. / 5},
		{3. / 40, 9. / 40},
		{44. / 45, -56. / 15, 32. / 9},
		{19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
		{9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656},
		{35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84},
	}
	dpE = [7]float64{71. / 57600, 0, -71. / 16695, 71. / 1920, -17253. / 339200, 22. / 525, -1. / 40}
)

// step makes one step and returns the new state and the estimated relative error of
// the densities; a negative density counts as an error.
func (p *path) step(x, h float64, y *state) (state, float64) {
	var k [7]state
	var z state
	for s := range 7 {
		z = *y
		for j := range s {
			if a := h * dpA[s][j]; a != 0 {
				for c := range z {
					z[c] += a * k[j][c]
				}
			}
		}
		p.slope(x+dpC[s]*h, &z, &k[s])
	}
	bad := 0.0
	for c := range 2 {
		e := 0.0
		for s := range 7 {
			e += dpE[s] * k[s][c]
		}
		switch {
		case math.IsNaN(z[c]) || math.IsNaN(e):
			return z, math.NaN()
		case z[c] < 0:
			bad = math.Inf(1)
		case z[c] > 0 || e != 0:
			bad = max(bad, math.Abs(h*e)/(z[c]+1e-300))
		}
	}
	return z, bad
}
