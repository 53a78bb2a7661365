package ioniser

import (
	"errors"
	"math"

	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// SpotSpec describes an ionising nozzle, one round jet, that blows on a part, a heap or a stream of powder.
type SpotSpec struct {
	Emitter ionflow.Emitter // its Current taken as of the whole nozzle, see Points
	// Points is the current of the nozzle per polarity; it replaces the Current of the emitter, which is per
	// metre of a bar.
	Points   units.Current
	Captured float64      // [1] share that leaves the nozzle with the air at its speed, see [BlownAir]
	Jet      jet.Jet      // round
	Distance units.Length // from the nozzle to the part, 1 mm … 10 m
	Ions     ionflow.Ions
}

// Spot is a checked [SpotSpec]. It is immutable.
type Spot struct {
	spec         SpotSpec
	plus, minus  float64 // [1/s] ions of each polarity that leave the nozzle
	speed, flow  float64 // [m/s], [m³/s] of the plume at the part
	alpha        units.RecombinationCoefficient
	flag         known.Validity
	source, exit float64 // [m³/s], [m/s] at the nozzle
}

// NewSpot checks the specification. Errors are joined [*known.FieldError]s: a round jet, Points above 0 up to 1
// A, Captured above 0 up to 1, Distance 1 mm … 10 m, ions by their own check, an emitter from NewEmitter.
func NewSpot(spec SpotSpec) (*Spot, error) {
	j := spec.Jet.Spec()
	errs := []error{
		known.Positive("points", spec.Points), known.InRange("points", spec.Points, 0, 1),
		known.InRange("captured", spec.Captured, 1e-6, 1),
		known.InRange("distance", spec.Distance, 1e-3, 10),
		spec.Ions.Check(),
	}
	if spec.Emitter.Spec().Current == 0 {
		errs = append(errs, known.Wrong("emitter", "zero value", "an emitter from NewEmitter"))
	}
	if j.Speed == 0 || j.Kind != jet.Round {
		errs = append(errs, known.Wrong("jet", j.Kind, "a round jet from NewJet; a row or a slot serves webs, see New"))
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	s := &Spot{spec: spec, flag: spec.Jet.Validity(), exit: float64(j.Speed)}
	s.source = s.exit * math.Pi / 4 * float64(j.Width) * float64(j.Width)
	s.flow = s.source * float64(spec.Jet.Entrainment(spec.Distance))
	s.speed = float64(spec.Jet.MeanSpeed(spec.Distance))
	i := float64(spec.Points) * spec.Emitter.Spec().Output * spec.Captured / units.ElementaryCharge
	s.plus, s.minus = i*(1+spec.Emitter.Spec().Balance), i*(1-spec.Emitter.Spec().Balance)
	s.alpha = alternating(spec.Ions, spec.Emitter.Spec().Switch, s.speed, float64(spec.Jet.Breadth(spec.Distance)))
	if f := spec.Emitter.Spec().Switch; f > 0 && s.speed/(2*float64(f)) > float64(spec.Jet.Breadth(spec.Distance)) {
		s.flag |= known.Estimate
	}
	dense := max(s.plus*float64(spec.Ions.Plus), s.minus*float64(spec.Ions.Minus)) / s.source * units.ElementaryCharge
	if p, _ := s.Carried(spec.Distance); math.IsNaN(float64(p)) || dense > 1 { // [S/m]
		return nil, known.Wrong("points", spec.Points,
			"a current whose ions the air of the jet can hold, below 1e25 per m³ and 1 S/m")
	}
	return s, nil
}

// Spec returns what the nozzle was made from.
func (s *Spot) Spec() SpotSpec { return s.spec }

// Carried returns the current of each polarity that the plume carries past x. With N the number carried along
// and τ = x/U0 dilution and slowing down cancel, and both polarities recombine and repel their surplus:
//
//	dN±/dτ = −α·N+·N−/Q0 ∓ k±·N±·(N+ − N−)/Q0,  k = e·μ/ε0
//
// x outside 0 … 10 m gives NaN.
func (s *Spot) Carried(x units.Length) (plus, minus units.Current) {
	nan := units.Current(math.NaN())
	if !(x >= 0 && x <= 10*units.Metre) {
		return nan, nan
	}
	p, m := s.plus/s.source, s.minus/s.source // [1/m³] at the nozzle
	if tau := float64(x) / s.exit; tau > 0 {
		i := s.spec.Ions
		i.Alpha = s.alpha
		a, err := ionflow.Path(ionflow.Uniform{Speed: units.MetrePerSecond, Repulsion: 1}, i,
			units.NumberDensity(p), units.NumberDensity(m), units.Length(tau), 1e-6)
		if err != nil {
			return nan, nan
		}
		p, m = float64(a.Plus), float64(a.Minus)
	}
	k := units.ElementaryCharge * s.source
	return units.Current(k * p), units.Current(k * m)
}

// Treated is what a nozzle did to a part.
type Treated struct {
	Left units.Charge // on the part after the dwell, by the smaller supply
	// Least is what is left if the field of the part keeps the polarities of the plume apart from where its
	// pull outruns the air on, r = √(μ·|q|/(4π·ε0·u)) before the part: they then recombine only up to there.
	Least    units.Charge
	Supply   units.Current // of the polarity needed at the part, the smaller
	Most     units.Current // the same with Least
	Regime   ionflow.Regime
	Validity known.Validity
}

// Act returns what the plume leaves of the charge q of a part that stays in it for the dwell. All of the field
// of the part that ends in the air, the share exposed of its charge (0 … 1), draws the opposite polarity from
// air of polar conductivity λ at λ·exposed·|q|/ε0, and the plume brings no more than it carries
// ([ionflow.Collect]). The supply is flagged an estimate where both ends differ by more than 1.3. A dwell that
// is negative, exposed outside 0 … 1, and NaN give NaN and [ionflow.Undefined].
func (s *Spot) Act(q units.Charge, dwell units.Time, exposed float64) Treated { // exposed [1]
	t := Treated{Validity: s.flag}
	mu := s.spec.Ions.Minus
	if q < 0 {
		mu = s.spec.Ions.Plus
	}
	one := func(x units.Length) (units.Charge, units.Current, ionflow.Regime) {
		p, m := s.Carried(x)
		if q > 0 {
			p = m
		}
		n := units.NumberDensity(float64(p) / (units.ElementaryCharge * s.flow))
		d, r := ionflow.Collect(q, dwell, exposed, ionflow.PolarConductivity(n, mu), p)
		return q + d, p, r
	}
	pull := math.Sqrt(float64(mu) * math.Abs(float64(q)) / (4 * math.Pi * units.Epsilon0 * s.speed))
	t.Left, t.Supply, t.Regime = one(s.spec.Distance)
	t.Least, t.Most, _ = one(units.Length(max(float64(s.spec.Distance)-pull, 0)))
	if float64(t.Most) > 1.3*float64(t.Supply) {
		t.Validity |= known.Estimate
	}
	return t
}

// DwellFor returns the dwell after which at most want of the charge q is left, by the smaller supply; +Inf if
// none does, 0 if q is that small already, NaN where [Spot.Act] gives it.
func (s *Spot) DwellFor(want, q units.Charge, exposed float64) units.Time { // exposed [1]
	if s.exit == 0 || !(exposed >= 0 && exposed <= 1) || !(want >= 0) || math.IsNaN(float64(q)) {
		return units.Time(math.NaN())
	}
	a, b := math.Abs(float64(q)), float64(want)
	if a <= b {
		return 0
	}
	t := s.Act(q, 0, exposed)
	mu := float64(s.spec.Ions.Minus)
	if q < 0 {
		mu = float64(s.spec.Ions.Plus)
	}
	supply := float64(t.Supply)
	lambda := supply / s.flow * mu // e·n·μ
	if supply == 0 || exposed == 0 || b == 0 {
		return units.Time(math.Inf(1))
	}
	// 1/I = ε0/(λ·exposed·q) + 1/I_s, integrated.
	return units.Time(units.Epsilon0/(lambda*exposed)*math.Log(a/b) + (a-b)/supply)
}

// Notices returns the cautions that go with any use of the nozzle.
func (s *Spot) Notices() []known.Notice {
	return append(s.spec.Emitter.Notices(), ionflow.AirNotices()...)
}
