package ionflow

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// AirBarSpec describes an air-assisted ioniser: emitter points in the air of a
// slot or a row of holes that blows on a web.
type AirBarSpec struct {
	Emitter Emitter // points that make the ions, balance and output
	// Captured is the share of the emitted ions that the air takes along instead of the bar's own
	// earthed parts: 0 … 1, a property of the bar to be measured. [1]
	Captured float64      // [1]
	Jet      jet.JetSpec  // shape; Speed (and Width of a row or slot) as blown, see AirBarFromPressure
	Distance units.Length // from the source to the web
	// Zone is the length of web on which the plume acts. 0: the breadth of the plume where it
	// meets the web and 0.41 × Distance to either side, along which the stream that turns there runs
	// on over the web until its density has halved. That is this package's own estimate, checked against
	// no measurement: cut at half density it is cautious, the whole tail would be 2 × Distance to
	// either side. It weighs in full where the conductivity limits, and not at all where
	// the supply does. Give the free span if it is shorter.
	Zone units.Length
	Ions Ions // at the state of the air
}

// Delivery is what a stream carries at some distance.
type Delivery struct {
	Plus, Minus               units.NumberDensity // densities in the plume
	PlusCurrent, MinusCurrent units.LineCurrent   // carried per metre of width
	Speed                     units.Speed         // mean speed of the plume
	Breadth                   units.Length        // thickness of the plume
	// Recombination and Repulsion are the two ceilings of the carried current, whatever
	// the source: e·Q0'·U0/(α·x) for a bipolar stream and Q0'·U0·ε0/(μ·x) for one of one
	// polarity. Dilution is in both.
	Recombination, Repulsion units.LineCurrent
	// Loss is what took most of the ions that the air had carried off, [Recombined] or
	// [Repelled]; Kept is the share of them that is left. [1]
	Loss Loss
	Kept float64        // [1] see Loss
	Flag known.Validity // of the jet
}

// AirBar is a checked [AirBarSpec]. It is immutable.
type AirBar struct {
	spec        AirBarSpec
	jet         jet.Jet
	plus, minus float64 // [1/m³] densities at the source
}

// NewAirBar checks the specification. Errors are joined [*known.FieldError]s: Captured
// above 0 … 1; a plane jet or a row; Distance 0 … 10 m, Zone 0 … 10 m; ions and jet by
// their own checks; an emitter from [NewEmitter].
func NewAirBar(spec AirBarSpec) (AirBar, error) {
	j, err := jet.NewJet(spec.Jet)
	errs := []error{err,
		known.Positive("captured", spec.Captured), known.InRange("captured", spec.Captured, 0, 1),
		known.InRange("distance", spec.Distance, 0, 10), known.Positive("distance", spec.Distance),
		known.InRange("zone", spec.Zone, 0, 10),
		spec.Ions.Check(),
	}
	if spec.Jet.Kind == jet.Round {
		errs = append(errs, known.Wrong("jet.kind", spec.Jet.Kind, "plane or row; a single hole serves parts, see Collect"))
	}
	if spec.Emitter.spec.Current == 0 {
		errs = append(errs, known.Wrong("emitter", "zero value", "an emitter from NewEmitter"))
	}
	if err := errors.Join(errs...); err != nil {
		return AirBar{}, err
	}
	spec.Jet = j.Spec()
	b := AirBar{spec: spec, jet: j}
	p, m := spec.Emitter.Currents()
	per := spec.Captured / (units.ElementaryCharge * j.FlowPerWidth()) // from A/m to 1/m³
	b.plus, b.minus = float64(p)*per, float64(m)*per
	return b, nil
}

// Spec returns what the bar was made from, with the defaults of the jet filled in.
func (b AirBar) Spec() AirBarSpec { return b.spec }

// Jet returns the jet of the bar.
func (b AirBar) Jet() jet.Jet { return b.jet }

// Source returns the densities that the air has at the source.
func (b AirBar) Source() (plus, minus units.NumberDensity) {
	return units.NumberDensity(b.plus), units.NumberDensity(b.minus)
}

// At returns what the stream carries at distance x. With N = n·Q/Q0, the number carried
// along, and τ = x/U0 both dilution and slowing down cancel and
//
//	dN±/dτ = −α·N+·N− ∓ k±·N±·(N+ − N−),  k = e·μ/ε0
//
// The closed forms are [RecombineUnequal] for the numbers and, for the difference
// of a nearly balanced stream, (N+ − N−) = (N+ − N−)0·(1 + αSτ/2)^(−2k/α) with S the sum at
// the source and k of the mean mobility: exact to first order in the imbalance where the mobilities are
// equal. Up to an imbalance of 0.1 the difference is good to 2 % with equal mobilities and to 5 % with 1.4 and
// 1.7e-4 m²/(V·s), the currents to 0.4 and 1.1 %. One polarity alone follows
// [Repel]. In between the equation is integrated ([Path]), which takes some ten
// microseconds instead of a few hundred nanoseconds. x outside 0 … 1 km gives NaN throughout.
func (b AirBar) At(x units.Length) Delivery {
	if !(x >= 0 && x <= 1000*units.Metre) {
		nan := math.NaN()
		l := units.LineCurrent(nan)
		return Delivery{Plus: units.NumberDensity(nan), Minus: units.NumberDensity(nan), PlusCurrent: l, MinusCurrent: l,
			Speed:   units.Speed(nan),
			Breadth: units.Length(nan), Recombination: l, Repulsion: l, Kept: nan, Flag: b.jet.Validity()}
	}
	u0, q0 := float64(b.jet.Spec().Speed), b.jet.FlowPerWidth()
	q := float64(b.jet.Entrainment(x))
	tau := units.Time(float64(x) / u0)
	d := Delivery{Speed: b.jet.MeanSpeed(x), Breadth: b.jet.Breadth(x), Flag: b.jet.Validity()}
	p, m := b.carried(tau)
	d.Plus, d.Minus = units.NumberDensity(p/q), units.NumberDensity(m/q)
	d.PlusCurrent = units.LineCurrent(units.ElementaryCharge * p * q0)
	d.MinusCurrent = units.LineCurrent(units.ElementaryCharge * m * q0)
	push := q0 * u0 / float64(x)
	d.Recombination = units.LineCurrent(units.ElementaryCharge * push / float64(b.spec.Ions.Alpha))
	d.Repulsion = units.LineCurrent(units.Epsilon0 * push / float64(min(b.spec.Ions.Plus, b.spec.Ions.Minus)))
	d.Kept = (p + m) / (b.plus + b.minus)
	// Each pair that recombines takes two; the rest was repelled. With D the difference,
	// recombination alone would have kept D.
	if rp, rm := RecombineUnequal(units.NumberDensity(b.plus), units.NumberDensity(b.minus), b.spec.Ions.Alpha,
		tau); float64(rp+rm)-(p+m) > b.plus+b.minus-float64(rp+rm) {
		d.Loss = Repelled
	}
	return d
}

// carried returns N+ and N− after τ.
func (b *AirBar) carried(tau units.Time) (p, m float64) {
	i := b.spec.Ions
	n, k := units.NumberDensity(b.plus), units.NumberDensity(b.minus)
	switch sum, diff := b.plus+b.minus, b.plus-b.minus; {
	case k == 0:
		return float64(Repel(n, i.Plus, tau)), 0
	case n == 0:
		return 0, float64(Repel(k, i.Minus, tau))
	case math.Abs(diff) <= 0.1*sum:
		half := float64(Recombine(units.NumberDensity(sum/2), i.Alpha, tau))
		kk := float64(repulsion((i.Plus + i.Minus) / 2))
		a := float64(i.Alpha)
		y := sum / 2 * float64(tau) // αSτ/2 = α·y
		f := math.Exp(-2 * kk * y)  // α → 0
		if a > 0 {
			f = math.Exp(-2 * kk / a * math.Log1p(a*y))
		}
		return half + diff*f/2, half - diff*f/2
	}
	if tau == 0 {
		return b.plus, b.minus
	}
	a, err := Path(Uniform{Speed: units.MetrePerSecond, Repulsion: 1}, i, n, k, units.Length(tau), 1e-6)
	if err != nil { // densities above those that Path takes: no bar has them
		return math.NaN(), math.NaN()
	}
	return float64(a.Plus), float64(a.Minus)
}

// Neutraliser returns the bar as the web meets it at its distance: conductivity and carried
// current of the plume there, the zone of the specification, and the offset ε0 times
// [OffsetField] of the imbalance that is left, an upper bound.
func (b AirBar) Neutraliser() (Neutraliser, error) { return NewNeutraliser(b.neutraliserSpec()) }

func (b *AirBar) neutraliserSpec() NeutraliserSpec {
	d := b.At(b.spec.Distance)
	i := b.spec.Ions
	s := NeutraliserSpec{Zone: b.spec.Zone}
	if s.Zone == 0 {
		// After it has turned the stream goes on to take in air and to recombine: n falls as
		// (1 + s/x)^(−3/2) (recombined plane jet, n ∝ 1/(x·√x)), to half at s = 0.587x, and up to there
		// counts for ∫n ds/n = 2x(1 − 1/√1.587) = 0.413x on each side.
		s.Zone = d.Breadth + 2*0.413*b.spec.Distance
	}
	if d.Plus > 0 {
		s.Plus = Carriers{Conductivity: PolarConductivity(d.Plus, i.Plus), Supply: d.PlusCurrent}
	}
	if d.Minus > 0 {
		s.Minus = Carriers{Conductivity: PolarConductivity(d.Minus, i.Minus), Supply: d.MinusCurrent}
	}
	// The field counts along the air, towards the web; the charge that makes it on the
	// web is −ε0 times that.
	s.Offset = -OffsetField(d.Speed, d.Plus, d.Minus, i).SurfaceCharge()
	return s
}

// UnreachableError says that no value of a searched quantity gives the residual that
// was asked for.
type UnreachableError struct {
	Want   units.SurfaceChargeDensity // the residual asked for
	Best   units.SurfaceChargeDensity // the least residual found
	At     float64                    // [SI unit of the quantity] where it was found
	Search string                     // the quantity that was searched
}

// Error says what was asked and what can be had.
func (e *UnreachableError) Error() string {
	return fmt.Sprintf("ionflow: no %s leaves %v or less; the least is %v at %g (SI)", e.Search, e.Want, e.Best, e.At)
}

// Residual returns the magnitude of the net that the bar leaves of a net density sigma at
// web speed v and field factor [1]; NaN as [Neutraliser.Act]. It is the whole quick model, some
// hundred nanoseconds without allocation.
func (b AirBar) Residual(sigma units.SurfaceChargeDensity, v units.Speed, factor float64) units.SurfaceChargeDensity {
	// What a checked bar delivers needs no second check, which would allocate.
	s := b.neutraliserSpec()
	n := Neutraliser{spec: s, plus: trackOf(s.Plus, s), minus: trackOf(s.Minus, s)}
	d, _ := n.Act(sigma, v, factor)
	return units.SurfaceChargeDensity(math.Abs(float64(sigma + d)))
}

// Efficiency returns 1 − |residual/σ| of [AirBar.Residual].
func (b AirBar) Efficiency(sigma units.SurfaceChargeDensity, v units.Speed, factor float64) units.Ratio { // factor [1]
	return 1 - units.Ratio(float64(b.Residual(sigma, v, factor))/math.Abs(float64(sigma)))
}

// FarthestFor returns the greatest distance between lo and hi at which the bar leaves at
// most want of sigma. The field factor is taken as given, although it depends on the
// distance: give it for the distance found, and repeat. Errors: [*known.FieldError]
// for a range that is not 0 < lo < hi or arguments out of theirs, [*UnreachableError].
func (b AirBar) FarthestFor(want, sigma units.SurfaceChargeDensity, v units.Speed, factor float64,
	lo, hi units.Length) (units.Length, error) { // factor [1]
	x, err := search("distance", want, float64(lo), float64(hi), true, goal(sigma, v, factor), func(x float64) float64 {
		c := b
		c.spec.Distance = units.Length(x)
		return float64(c.Residual(sigma, v, factor))
	})
	return units.Length(x), err
}

// LeastCurrentFor returns the least emission per polarity between lo and hi with which the bar
// leaves at most want of sigma. Errors as [AirBar.FarthestFor].
func (b AirBar) LeastCurrentFor(want, sigma units.SurfaceChargeDensity, v units.Speed, factor float64,
	lo, hi units.LineCurrent) (units.LineCurrent, error) { // factor [1]
	x, err := search("current", want, float64(lo), float64(hi), false, goal(sigma, v, factor), func(x float64) float64 {
		c := b
		f := x / float64(b.spec.Emitter.spec.Current)
		c.plus, c.minus = b.plus*f, b.minus*f
		return float64(c.Residual(sigma, v, factor))
	})
	return units.LineCurrent(x), err
}

// LeastGaugeFor returns the least gauge pressure between lo and hi at which the bar of spec,
// blown from a nozzle as [AirBarSpec.Blown], leaves at most want of sigma. Errors as
// [AirBar.FarthestFor], and those of the specification.
func LeastGaugeFor(spec AirBarSpec, air Blow, want, sigma units.SurfaceChargeDensity, v units.Speed, factor float64,
	lo, hi units.GaugePressure) (units.GaugePressure, error) { // factor [1]
	if _, _, err := spec.Blown(air.at(float64(hi))); err != nil {
		return 0, err
	}
	x, err := search("gauge pressure", want, float64(lo), float64(hi), false, goal(sigma, v, factor),
		func(x float64) float64 {
			b, _, err := spec.Blown(air.at(x))
			if err != nil {
				return math.NaN()
			}
			return float64(b.Residual(sigma, v, factor))
		})
	return units.GaugePressure(x), err
}

func goal(sigma units.SurfaceChargeDensity, v units.Speed, factor float64) error {
	err := errors.Join(known.Finite("sigma", sigma), known.Positive("speed", v), known.Positive("factor", factor))
	if sigma == 0 {
		err = errors.Join(err, known.Wrong("sigma", sigma, "not 0"))
	}
	return err
}

// search finds the edge of the set of x in lo … hi with residual(x) <= want that is nearest to hi
// (fromHigh) or lo: a scan on 200 logarithmic steps, then bisection to 1e-9.
func search(name string, want units.SurfaceChargeDensity, lo, hi float64, fromHigh bool, bad error,
	residual func(float64) float64) (float64, error) {
	if err := errors.Join(bad, known.Positive("want", want), known.Positive(name+" lo", lo),
		known.Positive(name+" hi", hi)); err != nil {
		return math.NaN(), err
	}
	if !(lo < hi) {
		return math.NaN(), known.Wrong(name, fmt.Sprintf("%g … %g", lo, hi), "lo below hi")
	}
	const steps = 200
	at := func(i int) float64 {
		if fromHigh {
			i = steps - i
		}
		return lo * math.Pow(hi/lo, float64(i)/steps)
	}
	best, where := math.Inf(1), math.NaN()
	for i := 0; i <= steps; i++ {
		x := at(i)
		r := residual(x)
		if r < best {
			best, where = r, x
		}
		if !(r <= float64(want)) {
			continue
		}
		if i == 0 {
			return x, nil
		}
		good, wrong := x, at(i-1)
		for math.Abs(good-wrong) > 1e-9*good {
			mid := (good + wrong) / 2
			if residual(mid) <= float64(want) {
				good = mid
			} else {
				wrong = mid
			}
		}
		return good, nil
	}
	return math.NaN(), &UnreachableError{Want: want, Best: units.SurfaceChargeDensity(best), At: where, Search: name}
}

// Blow is the air supply of a bar.
type Blow struct {
	Gauge       units.GaugePressure // at the holes or the slot
	Ambient     units.Pressure      // of the room
	Temperature units.Temperature   // of the supplied air
	Discharge   float64             // [1] coefficient of the holes or the slot, see [jet.NozzleSpec]
}

func (b Blow) at(gauge float64) Blow { b.Gauge = units.GaugePressure(gauge); return b }

// Blown returns the bar of spec with Speed and Width of its jet computed from the air
// supply, and the mass flow per metre of width in kg/(s·m). spec.Jet.Width is the
// geometric hole or slot, spec.Jet.Speed is not used. The equivalent source carries
// the mass and the momentum of the real, choked or contracted, one at the density of the
// room ([Nozzle.Flow]); consumption is that of [Reference.Volume]. A gauge pressure of 0 is an
// error, for there is no jet.
func (spec AirBarSpec) Blown(air Blow) (AirBar, float64, error) { // [kg/(s·m)]
	if err := errors.Join(known.Positive("gauge", air.Gauge), known.Positive("jet.width", spec.Jet.Width)); err != nil {
		return AirBar{}, math.NaN(), err
	}
	w := float64(spec.Jet.Width)
	area, per := jet.Hole(spec.Jet.Width), 1/float64(spec.Jet.Pitch)
	if spec.Jet.Kind == jet.Plane {
		area, per = units.Area(w), 1 // one metre of slot
	}
	n, err := jet.NewNozzle(jet.NozzleSpec{Area: area, Discharge: air.Discharge})
	if err != nil {
		return AirBar{}, math.NaN(), err
	}
	f, err := n.Flow(air.Gauge, air.Ambient, air.Temperature)
	if err != nil {
		return AirBar{}, math.NaN(), err
	}
	spec.Jet.Speed = f.Jet
	spec.Jet.Width = f.Diameter
	if spec.Jet.Kind == jet.Plane {
		spec.Jet.Width = units.Length(math.Pi / 4 * float64(f.Diameter) * float64(f.Diameter)) // same area, one metre long
	}
	b, err := NewAirBar(spec)
	return b, float64(f.Mass) * per, err
}

// AirNotices returns the cautions that go with any use of compressed air.
func AirNotices() []known.Notice {
	return []known.Notice{
		{Code: "compressed-air", Condition: "a jet of compressed air can injure and throws up chips and dust",
			Consult: "the rule of the place (for example 29 CFR 1910.242(b), below 30 psi dead-ended for cleaning)",
			Decide:  "pressure, guards and protection; never towards people"},
		{Code: "jet-noise", Condition: "a jet is loud, and its noise rises steeply with its speed",
			Consult: "the noise limits of the place (for example Directive 2003/10/EC, 29 CFR 1910.95)",
			Decide:  "a noise measurement and hearing protection"},
	}
}
