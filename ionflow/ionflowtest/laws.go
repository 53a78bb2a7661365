package ionflowtest

import (
	"fmt"
	"math"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// Actor is what puts ions on the near face of a moving web; [ionflow.Neutraliser]
// is one.
type Actor interface {
	// Act returns what is added to the near face of a web of the net charge density
	// at the speed and field factor.
	Act(net units.SurfaceChargeDensity, v units.Speed, factor float64) (units.SurfaceChargeDensity, ionflow.Regime)
}

// Population returns what is left of the ions of a parcel of air after a time.
type Population func(plus, minus units.NumberDensity, t units.Time) (p, m units.NumberDensity)

// Web is one point at which a statement about an [Actor] is tried.
type Web struct {
	Net    units.SurfaceChargeDensity // net charge density, either sign
	More   units.SurfaceChargeDensity // a further charge density, above 0
	Speed  units.Speed                // of the web, above 0
	Factor float64                    // [1] field factor of the place, above 0
}

// Parcel is one point at which a statement about a [Population] is tried.
type Parcel struct {
	Plus, Minus units.NumberDensity // densities at the start
	T, DT       units.Time          // a time and a further one, above 0
}

// Domain says what the model under test claims. The zero value claims least.
type Domain struct {
	// Offset is the net charge density at field factor 1 that the source leaves.
	Offset units.SurfaceChargeDensity
	// Supply is the most that the source can bring per metre; 0: not stated.
	Supply units.LineCurrent
	// Lopsided says that the polarities differ, so that signs may not be swapped.
	Lopsided bool
	// Alpha and Mobility, if not 0, are the recombination coefficient and the common mobility of
	// the population, for the two ceilings; Mobility 0: no repulsion.
	Alpha    units.RecombinationCoefficient
	Mobility units.Mobility // see Alpha
	// RelTol is slack for rounding, not for physics; 0 means 1e-9. [1]
	RelTol float64
}

func (d Domain) filled() Domain {
	if d.RelTol == 0 {
		d.RelTol = 1e-9
	}
	return d
}

// Law is one statement that holds for every model M at every input I.
type Law[M, I any] struct {
	Name   string // stable; name of the subtest
	Says   string // the relation in one line
	Source string // why it holds
	// Check returns a [*Violation] if the statement fails for m at in.
	Check func(m M, in I, d Domain) error
}

// Violation reports a broken statement; errors.As finds it.
type Violation struct {
	Law  string    // name of the statement
	In   string    // where
	Got  []float64 // [SI] what the model gave
	Want string    // what it should have given
}

// Error says all of it in one line.
func (v *Violation) Error() string {
	return fmt.Sprintf("%s: at %s: got %g, want %s", v.Law, v.In, v.Got, v.Want)
}

func broken(law string, in any, want string, got ...float64) error {
	return &Violation{Law: law, In: fmt.Sprintf("%+v", in), Got: got, Want: want}
}

// SurfaceLaws returns the statements about every [Actor], the cheapest first.
func SurfaceLaws() []Law[Actor, Web] {
	return []Law[Actor, Web]{Finite(), Unseen(), NeverBeyond(), WithinSupply(), Slower(), Seen(), Order(), Twice(), Mirror()}
}

// out returns the net after one pass.
func out(m Actor, net float64, w Web) float64 {
	d, _ := m.Act(units.SurfaceChargeDensity(net), w.Speed, w.Factor)
	return net + float64(d)
}

// slack is what rounding may do to the net of a web.
func (d Domain) slack(w Web) float64 {
	return d.RelTol * (math.Abs(float64(w.Net)) + math.Abs(float64(d.Offset))/w.Factor)
}

// Finite: finite arguments give a finite deposit; NaN, a negative speed and a negative
// factor give NaN.
func Finite() Law[Actor, Web] {
	const name = "finite"
	return Law[Actor, Web]{name, "finite in, finite out; NaN and negative speed or factor in, NaN out", "contract of ionflow.Neutraliser", func(m Actor, w Web, d Domain) error {
		a, _ := m.Act(w.Net, w.Speed, w.Factor)
		if math.IsNaN(float64(a)) || math.IsInf(float64(a), 0) {
			return broken(name, w, "a finite deposit", float64(a))
		}
		nan := math.NaN()
		for _, bad := range []Web{{Net: units.SurfaceChargeDensity(nan), Speed: w.Speed, Factor: w.Factor}, {Net: w.Net, Speed: units.Speed(nan), Factor: w.Factor},
			{Net: w.Net, Speed: w.Speed, Factor: nan}, {Net: w.Net, Speed: -w.Speed, Factor: w.Factor}, {Net: w.Net, Speed: w.Speed, Factor: -w.Factor}} {
			if a, _ := m.Act(bad.Net, bad.Speed, bad.Factor); !math.IsNaN(float64(a)) {
				return broken(name, bad, "NaN", float64(a))
			}
		}
		return nil
	}}
}

// Unseen: a web without net charge, however much is on its two faces, gets nothing from
// a source without offset.
func Unseen() Law[Actor, Web] {
	const name = "unseen"
	return Law[Actor, Web]{name, "net 0 and offset 0: deposit 0", "a double layer has no outside field", func(m Actor, w Web, d Domain) error {
		if d.Offset != 0 {
			return nil
		}
		if a, _ := m.Act(0, w.Speed, w.Factor); a != 0 {
			return broken(name, w, "0", float64(a))
		}
		return nil
	}}
}

// NeverBeyond: the net moves towards the offset that the source leaves, and not past it.
func NeverBeyond() Law[Actor, Web] {
	const name = "never beyond"
	return Law[Actor, Web]{name, "net − offset/factor keeps its sign and does not grow", "ions go where the field draws them", func(m Actor, w Web, d Domain) error {
		t := float64(d.Offset) / w.Factor
		a, b := float64(w.Net)-t, out(m, float64(w.Net), w)-t
		if a < 0 {
			a, b = -a, -b
		}
		if b >= -d.slack(w) && b <= a+d.slack(w) {
			return nil
		}
		return broken(name, w, fmt.Sprintf("0 … %g beyond the offset", a), b)
	}}
}

// WithinSupply: no more is taken per second than the source brings.
func WithinSupply() Law[Actor, Web] {
	const name = "supply"
	return Law[Actor, Web]{name, "|deposit|·v <= supply", "conservation of charge", func(m Actor, w Web, d Domain) error {
		a, _ := m.Act(w.Net, w.Speed, w.Factor)
		i := math.Abs(float64(a)) * float64(w.Speed)
		if d.Supply == 0 || i <= float64(d.Supply)*(1+d.RelTol) {
			return nil
		}
		return broken(name, w, fmt.Sprintf("at most %g A/m", float64(d.Supply)), i)
	}}
}

// Slower: a slower web is neutralised no less.
func Slower() Law[Actor, Web] {
	const name = "slower"
	return Law[Actor, Web]{name, "|deposit| does not grow with speed", "longer dwell", func(m Actor, w Web, d Domain) error {
		a, _ := m.Act(w.Net, w.Speed, w.Factor)
		b, _ := m.Act(w.Net, 2*w.Speed, w.Factor)
		if math.Abs(float64(b)) <= math.Abs(float64(a))+d.slack(w) {
			return nil
		}
		return broken(name, w, "the deposit at twice the speed no greater", float64(a), float64(b))
	}}
}

// Seen: a place that lets more of the field reach a source without offset is no worse.
func Seen() Law[Actor, Web] {
	const name = "seen"
	return Law[Actor, Web]{name, "|deposit| does not fall with the field factor", "the field draws the ions", func(m Actor, w Web, d Domain) error {
		if d.Offset != 0 {
			return nil
		}
		a, _ := m.Act(w.Net, w.Speed, w.Factor)
		b, _ := m.Act(w.Net, w.Speed, w.Factor/2)
		if math.Abs(float64(b)) <= math.Abs(float64(a))+d.slack(w) {
			return nil
		}
		return broken(name, w, "the deposit at half the factor no greater", float64(a), float64(b))
	}}
}

// Order: of two webs the one with more charge keeps more, and the two come closer, so that
// a small change of what comes in is a small change of what goes out.
func Order() Law[Actor, Web] {
	const name = "order"
	return Law[Actor, Web]{name, "0 <= out(net + more) − out(net) <= more", "the current grows with the field, by a first-order equation", func(m Actor, w Web, d Domain) error {
		a, b := out(m, float64(w.Net), w), out(m, float64(w.Net+w.More), w)
		tol := d.slack(w) + d.RelTol*float64(w.More)
		if b-a >= -tol && b-a <= float64(w.More)+tol {
			return nil
		}
		return broken(name, w, fmt.Sprintf("a difference of 0 … %g", float64(w.More)), a, b)
	}}
}

// Twice: a second pass never makes it worse.
func Twice() Law[Actor, Web] {
	const name = "twice"
	return Law[Actor, Web]{name, "|out(out(net)) − offset/factor| <= |out(net) − offset/factor|", "no source of charge but the ions", func(m Actor, w Web, d Domain) error {
		t := float64(d.Offset) / w.Factor
		a := out(m, float64(w.Net), w)
		b := out(m, a, w)
		if math.Abs(b-t) <= math.Abs(a-t)+d.slack(w) {
			return nil
		}
		return broken(name, w, "the second no farther from the offset", a-t, b-t)
	}}
}

// Mirror: a source with like polarities and no offset treats both signs alike.
func Mirror() Law[Actor, Web] {
	const name = "mirror"
	return Law[Actor, Web]{name, "deposit(−net) = −deposit(net)", "symmetry of charge", func(m Actor, w Web, d Domain) error {
		if d.Lopsided || d.Offset != 0 {
			return nil
		}
		a, _ := m.Act(w.Net, w.Speed, w.Factor)
		b, _ := m.Act(-w.Net, w.Speed, w.Factor)
		if math.Abs(float64(a+b)) <= d.slack(w) {
			return nil
		}
		return broken(name, w, "deposits of opposite sign", float64(a), float64(b))
	}}
}

// PopulationLaws returns the statements about every [Population], the cheapest first.
func PopulationLaws() []Law[Population, Parcel] {
	return []Law[Population, Parcel]{Unchanged(), Positive(), Closer(), StaysBalanced(), RecombinationCeiling(), RepulsionCeiling(), InSteps(), Swapped()}
}

// Unchanged: no time, no change.
func Unchanged() Law[Population, Parcel] {
	const name = "unchanged"
	return Law[Population, Parcel]{name, "n±(0) = n±0", "definition", func(m Population, in Parcel, d Domain) error {
		p, q := m(in.Plus, in.Minus, 0)
		if within(p, in.Plus, d) && within(q, in.Minus, d) {
			return nil
		}
		return broken(name, in, "the densities at the start", float64(p), float64(q))
	}}
}

func within(got, want units.NumberDensity, d Domain) bool {
	return math.Abs(float64(got-want)) <= d.RelTol*math.Abs(float64(want))+1e-200
}

// Positive: densities are finite and not negative.
func Positive() Law[Population, Parcel] {
	const name = "positive"
	return Law[Population, Parcel]{name, "0 <= n± < ∞", "densities are counts", func(m Population, in Parcel, d Domain) error {
		p, q := m(in.Plus, in.Minus, in.T)
		if p >= 0 && q >= 0 && !math.IsInf(float64(p+q), 0) {
			return nil
		}
		return broken(name, in, "two finite densities of 0 or more", float64(p), float64(q))
	}}
}

// Closer: the difference of the polarities, which is the space charge, never grows and never
// changes its sign.
func Closer() Law[Population, Parcel] {
	const name = "closer"
	return Law[Population, Parcel]{name, "0 <= (n+ − n−)/(n+0 − n−0) <= 1", "recombination takes pairs; repulsion dilutes the surplus", func(m Population, in Parcel, d Domain) error {
		p, q := m(in.Plus, in.Minus, in.T)
		a, b := float64(in.Plus-in.Minus), float64(p-q)
		if a < 0 {
			a, b = -a, -b
		}
		if tol := d.RelTol * float64(in.Plus+in.Minus); b >= -tol && b <= a+tol {
			return nil
		}
		return broken(name, in, fmt.Sprintf("0 … %g", a), b)
	}}
}

// StaysBalanced: equal densities stay equal and do not grow.
func StaysBalanced() Law[Population, Parcel] {
	const name = "balanced"
	return Law[Population, Parcel]{name, "n+0 = n−0: n+ = n− <= n0", "recombination takes pairs; a neutral plume repels nobody", func(m Population, in Parcel, d Domain) error {
		p, q := m(in.Plus, in.Plus, in.T)
		if within(p, q, d) && float64(p) <= float64(in.Plus)*(1+d.RelTol) {
			return nil
		}
		return broken(name, in, fmt.Sprintf("equal densities up to %g", float64(in.Plus)), float64(p), float64(q))
	}}
}

// RecombinationCeiling: a balanced population stays below 1/(αt).
func RecombinationCeiling() Law[Population, Parcel] {
	const name = "recombination ceiling"
	return Law[Population, Parcel]{name, "n+0 = n−0: n <= 1/(αt)", "dn/dt <= −αn²", func(m Population, in Parcel, d Domain) error {
		if d.Alpha == 0 {
			return nil
		}
		p, _ := m(in.Plus, in.Plus, in.T)
		if top := ionflow.RecombinationCeiling(d.Alpha, in.T); !(float64(p) <= float64(top)*(1+d.RelTol)) {
			return broken(name, in, fmt.Sprintf("at most %g", float64(top)), float64(p))
		}
		return nil
	}}
}

// RepulsionCeiling: one polarity alone stays below ε0/(eμt).
func RepulsionCeiling() Law[Population, Parcel] {
	const name = "repulsion ceiling"
	return Law[Population, Parcel]{name, "n−0 = 0: n+ <= ε0/(eμt)", "∇·E = en/ε0", func(m Population, in Parcel, d Domain) error {
		if d.Mobility == 0 {
			return nil
		}
		p, _ := m(in.Plus, 0, in.T)
		if top := ionflow.RepulsionCeiling(d.Mobility, in.T); !(float64(p) <= float64(top)*(1+d.RelTol)) {
			return broken(name, in, fmt.Sprintf("at most %g", float64(top)), float64(p))
		}
		return nil
	}}
}

// InSteps: two times one after the other are their sum.
func InSteps() Law[Population, Parcel] {
	const name = "in steps"
	return Law[Population, Parcel]{name, "n(t + dt) = n(dt) of n(t)", "the rates depend on the densities alone", func(m Population, in Parcel, d Domain) error {
		p, q := m(in.Plus, in.Minus, in.T)
		p, q = m(p, q, in.DT)
		r, s := m(in.Plus, in.Minus, in.T+in.DT)
		// Rounding of the first step is carried on as a relative error; a difference of nearly equal
		// densities loses digits of the smaller one.
		tol := units.NumberDensity(10 * d.RelTol * float64(r+s))
		if p-r <= tol && r-p <= tol && q-s <= tol && s-q <= tol {
			return nil
		}
		return broken(name, in, fmt.Sprintf("%g and %g", float64(r), float64(s)), float64(p), float64(q))
	}}
}

// Swapped: with like polarities the names do not matter.
func Swapped() Law[Population, Parcel] {
	const name = "swapped"
	return Law[Population, Parcel]{name, "exchanging n+ and n− exchanges the results", "symmetry of charge", func(m Population, in Parcel, d Domain) error {
		if d.Lopsided {
			return nil
		}
		p, q := m(in.Plus, in.Minus, in.T)
		r, s := m(in.Minus, in.Plus, in.T)
		if within(p, s, d) && within(q, r, d) {
			return nil
		}
		return broken(name, in, fmt.Sprintf("%g and %g", float64(s), float64(r)), float64(p), float64(q))
	}}
}
