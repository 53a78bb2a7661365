package decay

import (
	"errors"
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TimeToVoltage returns the time of the record's clock at which the fitted
// voltage is v; [*NeverError] if it stays beyond, [*known.FieldError] if v lies
// above the fitted start or on its other side. What the error of the fit makes of
// it says [Fit.TimeToVoltageInterval].
func (f *Fit) TimeToVoltage(v units.Voltage) (units.Time, error) {
	if f.law == nil {
		return units.Time(math.NaN()), errZeroFit()
	}
	q := float64(v-f.Offset()) / f.amplitude()
	if q <= 0 && float64(v)/float64(f.V0()) > 0 {
		return units.Time(math.Inf(1)), &NeverError{float64(v) / float64(f.V0()), float64(f.Offset()) / float64(f.V0())}
	}
	t, err := TimeTo(f.law, q)
	return t - f.Start(), err
}

// TimeToFraction returns the time of the record's clock at which the fraction q
// of the fitted voltage at t = 0 is left, 0 < q < 1; errors as for TimeToVoltage.
func (f *Fit) TimeToFraction(q float64) (units.Time, error) { // q [1]
	if !(q > 0 && q < 1) {
		return units.Time(math.NaN()), known.Wrong("fraction", q, "more than 0 and less than 1")
	}
	return f.TimeToVoltage(units.Voltage(q * float64(f.Voltage(0))))
}

// TimeInterval is a time with its interval at the level of the settings.
type TimeInterval struct {
	Time      units.Time // by the fit; +Inf if it never gets there, 0 if it is past before the clock starts
	Low, High units.Time // High is +Inf where the readings set no limit
}

// TimeToVoltageInterval returns the time at which the voltage is v and its
// interval from the errors of all parameters: the times t at which the
// quasi-deviance, minimised over all parameters under the condition V(t) = v, has
// risen by no more than for [Fit.Profile]. For a robust fit it is that of ln t by
// the linearised law. The errors are those of v only ([*known.FieldError]): a law
// that never gets there has the time +Inf and an interval.
//
// It holds if the law is the right one: see [ModelComparison.TimeToVoltage].
func (f *Fit) TimeToVoltageInterval(v units.Voltage) (TimeInterval, error) {
	w, err := f.when(target{v: float64(v)})
	if err != nil {
		return TimeInterval{units.Time(math.NaN()), units.Time(math.NaN()), units.Time(math.NaN())}, err
	}
	return w.interval(), nil
}

// TimeToFractionInterval returns the same for the fraction q, 0 < q < 1, of the
// voltage at t = 0 of the record's clock.
func (f *Fit) TimeToFractionInterval(q float64) (TimeInterval, error) { // q [1]
	w, err := f.when(target{q: q, fraction: true})
	if err != nil {
		return TimeInterval{units.Time(math.NaN()), units.Time(math.NaN()), units.Time(math.NaN())}, err
	}
	return w.interval(), nil
}

// target is what is waited for: a voltage, or a fraction of the voltage at t = 0.
type target struct {
	v        float64 // [V]
	q        float64 // [1]
	fraction bool
}

// when is the time to a target as a parameter of the fit: a least-squares problem
// with one more residual, which holds the law to the target at a given time.
type when struct {
	f      *Fit
	p      *problem
	target target
	best   float64   // [s] by the fit; 0 if past before the clock, +Inf if never
	spread float64   // standard error of ln(best) by the linearised law, for the first step
	hold   float64   // weight of the condition
	widen  float64   // by the correlation of the readings
	t      float64   // [s] at which the condition is to hold
	row    []float64 // derivatives of the condition
	zero   []float64 // and of the voltage at t = 0
	lm     numeric.LM
	trail  trail
}

func (f *Fit) when(g target) (*when, error) {
	switch {
	case f.law == nil:
		return nil, errZeroFit()
	case g.fraction && !(g.q > 0 && g.q < 1):
		return nil, known.Wrong("fraction", g.q, "more than 0 and less than 1")
	case !g.fraction && !(g.v/float64(f.V0()) > 0):
		return nil, known.Wrong("voltage", units.Voltage(g.v), "of the sign of the start voltage, not 0")
	}
	v := units.Voltage(g.v)
	if g.fraction {
		v = units.Voltage(g.q * float64(f.Voltage(0)))
	}
	t, err := f.TimeToVoltage(v)
	var never *NeverError
	switch {
	case errors.As(err, &never):
		t = units.Time(math.Inf(1))
	case err != nil, t < 0:
		t = 0
	}
	w := &when{f: f, p: f.problem(), target: g, best: float64(t), widen: 1, spread: 0.3,
		row: make([]float64, len(f.x)), zero: make([]float64, len(f.x))}
	w.trail = trail{{math.Log(w.best), 0, f.x}}
	w.lm = numeric.LM{Lower: f.lower, Upper: f.upper, Tol: 1e-9, MaxSteps: 60}
	// The linearised law: gradient of the condition and the slope in ln t.
	w.t = min(max(w.best, f.t[0]+1e-3*f.t[len(f.t)-1]), 1e2*f.t[len(f.t)-1])
	se := w.loose(f.x)
	if f.regular {
		w.widen = f.widening(w.row)
	}
	slope := math.Abs(float64(f.amplitude())/f.unit*Rate(f.law, units.Time(w.t)+f.Start())) * w.t
	if s := se / slope; s > 0 && !math.IsInf(s, 1) {
		w.spread = s
	}
	return w, nil
}

// loose sets the weight of the condition and returns the error of what it
// concerns by the linearised law at x. At 30 times the weight of the readings the
// condition is missed by 0.1 % of that error, while the valley along it stays wide
// enough for the search.
func (w *when) loose(x []float64) float64 {
	w.condition(x)
	se := math.Sqrt(quadratic(w.f.inverse, w.row) * w.f.scale2)
	if !(se > 0) || math.IsInf(se, 1) {
		se = math.Sqrt(w.f.scale2) * w.f.noise.sd(w.p.at(w.zero, x, w.t))
	}
	w.hold = 30 / se
	return se
}

// condition returns by how much the law of parameters x misses the target at
// w.t, in units of the fit, and writes the derivatives into row.
func (w *when) condition(x []float64) float64 {
	v := w.p.at(w.row, x, w.t)
	if !w.target.fraction {
		return v - w.target.v/w.f.unit
	}
	v0 := w.p.at(w.zero, x, 0)
	for j := range w.row {
		w.row[j] -= w.target.q * w.zero[j]
	}
	return v - w.target.q*v0
}

// Eval implements numeric.Residuals.
func (w *when) Eval(r, jac, x []float64) {
	w.p.Eval(r, jac, x)
	n, m := w.p.n, w.p.m
	r[n] = w.hold * w.condition(x)
	if jac != nil {
		for j, d := range w.row {
			jac[n*m+j] = w.hold * d
		}
	}
}

// z returns the signed root of the rise of the deviance if the target is to be
// reached at e^y, in standard deviations: negative before the best time.
func (w *when) z(y float64) float64 {
	side := 1.0
	if t := numeric.Exp(y); t < w.best {
		side = -1
	}
	if w.f.settings.Robust {
		if w.best == 0 || math.IsInf(w.best, 1) {
			return 0
		}
		return (y - math.Log(w.best)) / (w.spread * w.widen)
	}
	near, same := w.trail.from(y)
	if same {
		return near.z
	}
	x := slices.Clone(near.x)
	w.t = numeric.Exp(y)
	w.loose(x)
	cost, _ := w.lm.Solve(w, x, w.p.n+1)
	z := side * math.Inf(1)
	if cost >= 0 {
		z = side * math.Sqrt(max(cost-w.f.cost, 0)/w.f.scale2) / w.widen
	}
	w.trail = append(w.trail, solved{y, z, x})
	return z
}

// beyond returns the chance, by the fit's law, that the time to the target is
// longer than e^y.
func (w *when) beyond(y float64) float64 { // [1]
	return studentTail(w.z(y), w.f.freedom())
}

// Times looked at: to a millionth of the first reading and a million times the last.
func (w *when) reach() (lo, hi float64) {
	t := w.f.t
	first := t[0]
	if first == 0 {
		first = t[1]
	}
	return math.Log(1e-6 * first), math.Log(1e6 * t[len(t)-1])
}

func (w *when) interval() TimeInterval {
	out := TimeInterval{Time: units.Time(w.best), Low: 0, High: units.Time(math.Inf(1))}
	least, most := w.reach()
	q := w.f.quantile()
	start := min(max(math.Log(w.best), least), most)
	if w.best > 0 {
		out.Low = units.Time(w.end(start, least, -1, q))
	}
	if !math.IsInf(w.best, 1) {
		out.High = units.Time(w.end(start, most, 1, q))
	}
	return out
}

// end finds where z leaves ±q, on the way from y to the limit of what is looked
// at; there it is 0 or +Inf.
func (w *when) end(y, limit, side, q float64) float64 {
	g := func(d float64) float64 { return side*w.z(y+side*d) - q }
	room := math.Abs(limit - y)
	lo, hi := 0.0, min(q*w.spread*w.widen, 1, room)
	if !(hi > 0) {
		hi = min(0.1, room)
	}
	gh := g(hi)
	for !(gh >= 0) {
		if hi >= room {
			if side < 0 {
				return 0
			}
			return math.Inf(1)
		}
		lo, hi = hi, min(1.7*hi, room)
		gh = g(hi)
	}
	d, err := numeric.Brent(g, lo, hi, 1e-4, 1e-6)
	if err != nil {
		d = hi
	}
	return numeric.Exp(y + side*d)
}

// LawTime is the time to a target by one law.
type LawTime struct {
	Model        Model   // the law
	Weight       float64 // [1] Akaike weight among the laws of the spread
	TimeInterval         // by that law alone
}

// TimeSpread is a time as the fitted laws see it.
type TimeSpread struct {
	Best units.Time // by the best fit
	// Low and High enclose the time at the level of the settings, errors of the
	// parameters and doubt about the law together: where the chances that it is
	// shorter, or longer, averaged over the laws with their Akaike weights, come to
	// half of what the level leaves.
	Low, High units.Time
	// Least and Most is the envelope: the outermost ends of the laws' own intervals.
	Least, Most units.Time
	// Laws has every law within 10 AICc of the best, the best first.
	Laws []LawTime
	// Extrapolated: the best law gets there after the last reading. What no law
	// of the list foresees is then not in the interval either.
	Extrapolated bool
}

// surviving is the difference in AICc up to which a law counts in a [TimeSpread].
const surviving = 10

// TimeToVoltage returns the time of the record's clock at which the voltage is
// v, with the interval from the errors of the parameters and the doubt between
// the laws. Errors as [Fit.TimeToVoltage] of the best fit; with a [*NeverError]
// the spread is still filled in, with Best = +Inf. A voltage beyond zero, to which an
// offset of the other sign leads, has a time and no interval: NaN and the error of
// [Fit.TimeToVoltageInterval].
//
// Source of the averaging: D. Turek and D. Fletcher, Comput. Stat. Data Anal. 56
// (2012) 2809 (model-averaged tail areas).
func (c *ModelComparison) TimeToVoltage(v units.Voltage) (TimeSpread, error) {
	return c.spread(target{v: float64(v)}, func(f *Fit) (units.Time, error) { return f.TimeToVoltage(v) })
}

// TimeToFraction returns the same for the fraction q, 0 < q < 1, of the voltage
// at t = 0 of the record's clock.
func (c *ModelComparison) TimeToFraction(q float64) (TimeSpread, error) { // q [1]
	return c.spread(target{q: q, fraction: true}, func(f *Fit) (units.Time, error) { return f.TimeToFraction(q) })
}

func (c *ModelComparison) spread(g target, timeTo func(*Fit) (units.Time, error)) (TimeSpread, error) {
	best := c.Best()
	if best == nil {
		nan := units.Time(math.NaN())
		return TimeSpread{Best: nan, Low: nan, High: nan, Least: nan, Most: nan}, errZeroFit()
	}
	t, err := timeTo(best)
	var never *NeverError
	if err != nil && !errors.As(err, &never) {
		return TimeSpread{Best: t, Low: t, High: t, Least: t, Most: t, Extrapolated: true}, err
	}
	s := TimeSpread{Best: t, Extrapolated: !(float64(t) <= best.t[len(best.t)-1])}
	var laws []*when
	sum := 0.0
	for _, f := range c.fits {
		if f.aicc-best.aicc > surviving {
			continue
		}
		w, err := f.when(g)
		if err != nil && f == best { // beyond zero the time of the law is a number, and nothing holds its interval
			nan := units.Time(math.NaN())
			return TimeSpread{Best: t, Low: nan, High: nan, Least: nan, Most: nan, Extrapolated: s.Extrapolated}, err
		}
		if err != nil { // a law of the other sign
			continue
		}
		laws = append(laws, w)
		i := w.interval()
		weight := numeric.Exp(-0.5 * (f.aicc - best.aicc))
		s.Laws = append(s.Laws, LawTime{f.model, weight, i})
		sum += weight
		if len(laws) == 1 {
			s.Least, s.Most = i.Low, i.High
		}
		s.Least, s.Most = min(s.Least, i.Low), max(s.Most, i.High)
	}
	for i := range s.Laws {
		s.Laws[i].Weight /= sum
	}
	tail := 0.5 * (1 - best.settings.level())
	beyond := func(y float64) float64 {
		p := 0.0
		for i, w := range laws {
			p += s.Laws[i].Weight * w.beyond(y)
		}
		return p
	}
	s.Low = s.averaged(laws[0], s.Least, func(y float64) float64 { return 1 - tail - beyond(y) })
	s.High = s.averaged(laws[0], s.Most, func(y float64) float64 { return beyond(y) - tail })
	return s, err
}

// averaged finds the root of g between the best time and the end of the
// envelope.
func (s *TimeSpread) averaged(w *when, end units.Time, g func(y float64) float64) units.Time {
	least, most := w.reach()
	a := min(max(math.Log(float64(s.Best)), least), most)
	b := min(max(math.Log(float64(end)), least), most)
	if !(g(b) < 0) { // at or beyond what is looked at
		return end
	}
	if g(a) <= 0 { // the best law has little weight: all of it lies beyond its time
		a = min(max(math.Log(float64(s.Least)), least), most)
		if end == s.Least {
			a = min(max(math.Log(float64(s.Most)), least), most)
		}
	}
	y, err := numeric.Brent(g, a, b, 0, 1e-5)
	if err != nil {
		return end
	}
	return units.Time(numeric.Exp(y))
}
