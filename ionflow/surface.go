package ionflow

import (
	"errors"
	"math"

	"example.org/pithball/internal/caution"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// FacingField returns σ/ε0, the field of a charged face all of whose flux goes to
// one side; half of it leaves each side of a web that hangs free.
func FacingField(sigma units.SurfaceChargeDensity) units.ElectricField {
	return units.ElectricField(float64(sigma) / units.Epsilon0)
}

// CarriedCurrent returns e·n·u, the current density of one polarity that the air
// carries: a cap on what the opposite polarity can do. Without a field bipolar air
// delivers no net charge at all.
func CarriedCurrent(n units.NumberDensity, u units.Speed) units.CurrentDensity {
	return units.CurrentDensity(units.ElementaryCharge * float64(n) * float64(u))
}

// Removed returns j·l/v, the charge per area that a current density takes from a web of
// speed v along a zone of length l.
func Removed(j units.CurrentDensity, l units.Length, v units.Speed) units.SurfaceChargeDensity {
	return units.SurfaceChargeDensity(float64(j) * float64(l) / float64(v))
}

// CrossingField returns u/μ, the field at which ions drift as fast as the air moves: above
// it a charge pulls its own ions, below it the air must bring them.
func CrossingField(u units.Speed, mu units.Mobility) units.ElectricField {
	return units.ElectricField(float64(u) / float64(mu))
}

// SpeedForMargin returns the web speed at which a source of the given current per width
// has margin times the current that the charge demands, I'/(margin·|σ|).
func SpeedForMargin(source units.LineCurrent, sigma units.SurfaceChargeDensity, margin float64) units.Speed { // [1]
	return units.Speed(float64(source) / (margin * math.Abs(float64(sigma))))
}

// RecombinationLimit returns e·v²/(α·L), the most that air of local speed v can bring at a
// distance L from any source, per area of the stream: n ≤ 1/(αt) with t = L/v. In a jet of
// constant momentum v is the local speed and the dilution is then already in it; with the
// true age of the ions the density limit is lower by 2 (round) or 1.5 (plane).
func RecombinationLimit(alpha units.RecombinationCoefficient, v units.Speed, l units.Length) units.CurrentDensity {
	return units.CurrentDensity(units.ElementaryCharge * float64(v) * float64(v) / (float64(alpha) * float64(l)))
}

// OffsetField returns the field at which a floating surface in an air stream of speed u
// takes no net current:
//
//	E = −u(n+ − n−)/(μ+·n+ + μ−·n−)
//
// along the direction of the air. It scales with speed and imbalance: balance at one
// distance is not balance at another. The densities are those where the stream enters
// the gap. Derived for air that ends at the surface; recombination and the space charge in the
// gap lower the field at the surface, and where the air turns aside and takes its surplus
// along next to nothing is left: an upper bound (see the package documentation). No ions
// give NaN.
func OffsetField(u units.Speed, plus, minus units.NumberDensity, i Ions) units.ElectricField {
	return units.ElectricField(-float64(u) * float64(plus-minus) /
		(float64(i.Plus)*float64(plus) + float64(i.Minus)*float64(minus)))
}

// DiffusionOffset returns (kT/e)·ln(λ+/λ−), the potential that mobility alone gives a body
// in still ionised air, with λ = e·n·μ: some millivolts.
func DiffusionOffset(lambdaPlus, lambdaMinus units.Conductivity, t units.Temperature) units.Voltage {
	return units.Voltage(float64(units.ThermalVoltage(t)) * math.Log(float64(lambdaPlus)/float64(lambdaMinus)))
}

// Faces are the charge densities of the two faces of a web, as a source sees them.
type Faces struct {
	Near units.SurfaceChargeDensity // of the face that the source faces
	Far  units.SurfaceChargeDensity // of the other face
}

// Net returns the sum, which alone makes a field outside.
func (f Faces) Net() units.SurfaceChargeDensity { return f.Near + f.Far }

// DrivenPairSpec describes two sources of opposite polarity that face each other
// across a web and drive their ions on to it: what a double layer needs, because its
// outside field is zero and draws nothing.
type DrivenPairSpec struct {
	// Current is the ion current per metre that each side puts on its face; its sign is
	// the polarity on the near side.
	Current units.LineCurrent
	// Imbalance is (I_near − I_far)/(I_near + I_far) of the magnitudes, −1 … 1. [1]
	Imbalance float64 // [1]
}

// DrivenPair is a checked [DrivenPairSpec].
type DrivenPair struct{ near, far float64 }

// NewDrivenPair checks the specification: Current finite, at most 0.1 A/m either way and not
// 0, Imbalance −1 … 1.
func NewDrivenPair(spec DrivenPairSpec) (DrivenPair, error) {
	errs := []error{
		known.InRange("current", spec.Current, -0.1, 0.1),
		known.InRange("imbalance", spec.Imbalance, -1, 1),
	}
	if spec.Current == 0 {
		errs = append(errs, known.Wrong("current", spec.Current, "not 0"))
	}
	if err := errors.Join(errs...); err != nil {
		return DrivenPair{}, err
	}
	i := float64(spec.Current)
	return DrivenPair{near: i * (1 + spec.Imbalance), far: -i * (1 - spec.Imbalance)}, nil
}

// Act returns what the pair adds to each face of a web of speed v: +I'/v near and −I'/v far.
// It is a forced deposit that neither sees nor stops at the charge of the web: too much
// of it makes a double layer of the other sign. v must be above 0, else NaN, as of
// the zero value.
//
// Caution: a strongly charged double layer can discharge along the film; whether ions
// may be driven on to it in a zoned place is for a competent person to judge.
func (p DrivenPair) Act(v units.Speed) Faces {
	if !(v > 0) || p == (DrivenPair{}) {
		nan := units.SurfaceChargeDensity(math.NaN())
		return Faces{nan, nan}
	}
	return Faces{
		Near: units.SurfaceChargeDensity(p.near / float64(v)),
		Far:  units.SurfaceChargeDensity(p.far / float64(v)),
	}
}

// Notices returns the cautions that go with any use of a driven pair, beside those of its emitters
// ([Emitter.Notices]).
func (p DrivenPair) Notices() []known.Notice {
	return []known.Notice{caution.Of(caution.PropagatingBrush, "")}
}

// PairFor returns the pair that clears both faces of a web of speed v: currents −σ_near·v and
// −σ_far·v, of which only the double layer (σ_near − σ_far)/2 needs a pair; the net is better
// left to a source that sees it. Errors: faces without a double layer, v not positive,
// more current than [NewDrivenPair] takes.
func PairFor(f Faces, v units.Speed) (DrivenPairSpec, error) {
	layer := (float64(f.Near) - float64(f.Far)) / 2
	err := errors.Join(known.Positive("speed", v), known.Finite("near", f.Near), known.Finite("far", f.Far))
	if err != nil {
		return DrivenPairSpec{}, err
	}
	if layer == 0 {
		return DrivenPairSpec{}, known.Wrong("faces", f, "unlike charges: nothing for a pair to do")
	}
	i := units.LineCurrent(-layer * float64(v))
	if err := known.InRange("current", i, -0.1, 0.1); err != nil {
		return DrivenPairSpec{}, err
	}
	return DrivenPairSpec{Current: i}, nil
}
