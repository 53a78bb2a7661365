package decay

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/pithball/units"
)

func same(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*max(1, math.Abs(want))) && got != want {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

// TestLosses: weight is ψ(r)/r and slope ψ′(r) of ψ = ρ′, by difference quotients of ρ; the size of ρ by the printed
// forms: ½ at r = 1 (Huber), C²/6 far away (Tukey).
func TestLosses(t *testing.T) {
	const h = 1e-5
	for _, l := range []loss{huber, tukey} {
		for _, r := range []float64{-6, -4, -2, -1, -0.3, 0.2, 1, 1.3, 1.4, 3, 4.6, 4.8} {
			same(t, "ψ", r*l.weight(r), (l.rho(r+h)-l.rho(r-h))/(2*h), 1e-8)
			same(t, "ψ′", l.slope(r), ((r+h)*l.weight(r+h)-(r-h)*l.weight(r-h))/(2*h), 1e-8)
		}
	}
	same(t, "Huber at 1", huber.rho(-1), 0.5, 1e-15)
	same(t, "Huber at 2", huber.rho(2), 1.345*(2-0.6725), 1e-15)
	same(t, "Tukey far away", tukey.rho(9), 4.685*4.685/6, 1e-15)
	same(t, "Tukey near", tukey.rho(1e-3), 0.5e-6, 1e-12)
}

// TestRobustScale: median of the sizes, without the m smallest, over Φ⁻¹(¾) = 0.67449.
func TestRobustScale(t *testing.T) {
	f := &fitter{}
	r := []float64{-4, 1, 3, -2, 0}
	same(t, "of 0 1 2 3 4", f.robustScale(r, 0), 2/0.6744897501960817, 1e-14)
	same(t, "of 1 2 3 4", f.robustScale(r, 1), 2.5/0.6744897501960817, 1e-14)
	same(t, "of 2 3 4", f.robustScale(r, 2), 3/0.6744897501960817, 1e-14)
	f.settings.Known = true
	same(t, "known", f.robustScale(r, 0), 1, 0)
}

// TestStartsByHand: medians of three, the half time of records whose answer can be seen, and start values whose law
// leaves about a half at that time.
func TestStartsByHand(t *testing.T) {
	for _, p := range [][3]float64{{1, 2, 3}, {1, 3, 2}, {2, 1, 3}, {2, 3, 1}, {3, 1, 2}, {3, 2, 1}} {
		same(t, "median", middle(p[0], p[1], p[2]), 2, 0)
	}
	at := []float64{0, 1, 2, 3, 4, 6}
	same(t, "crosses 5 at 3 s", halfTime(at, []float64{10, 10, 8, 4, 0, 0}), 3, 0)
	same(t, "0.8 in 6 s", halfTime(at, []float64{10, 10, 9, 8, 8, 8}), 6*math.Ln2/math.Log(1.25), 1e-14)
	same(t, "rises", halfTime(at, []float64{1, 1, 1, 2, 2, 2}), 60, 0)
	for m := range models {
		start := m.starts(7)[0]
		v := make([]float64, len(start))
		for j, x := range start {
			v[j] = modelInfos[m].params[j].scale.natural(x)
		}
		l, err := m.law(v)
		if err != nil {
			t.Fatal(err)
		}
		if f := l.Fraction(7); !(f > 0.35 && f < 0.65) {
			t.Errorf("%v leaves %g", m, f)
		}
	}
}

// TestPairs: of exact readings of two exponentials the best pair of the grid has both times within a step of it and
// the weight; a third of the first reading and ten times the last are the ends of the grid.
func TestPairs(t *testing.T) {
	law, err := NewExponentials([]float64{0.6, 0.4}, []units.Time{2, 40})
	if err != nil {
		t.Fatal(err)
	}
	for _, vb := range []float64{0, 300} {
		var at []units.Time
		var v []units.Voltage
		for i := range 40 {
			at = append(at, units.Time(0.1*math.Pow(2000, float64(i)/39)))
			v = append(v, units.Voltage(1000*law.Fraction(at[i])+vb))
		}
		f := newFitter(at, v, FitSettings{Abs: 1, Offset: vb != 0})
		f.p.init(ModelTwoExponentials, vb != 0, false)
		best := f.starts(ModelTwoExponentials)[0]
		step := math.Log(2000/(0.1/3)) / 13
		for j, want := range []float64{math.Log(2), math.Log(40)} {
			if !(math.Abs(best[j]-want) <= step) {
				t.Errorf("offset %g: time %d is %.3g s", vb, j, math.Exp(best[j]))
			}
			at := (best[j] - math.Log(0.1/3)) / step
			same(t, "place on the grid", at, math.Round(at), 1e-9)
		}
		if w := sigmoid(best[2]); !(math.Abs(w-0.6) <= 0.2) {
			t.Errorf("offset %g: weight %g", vb, w)
		}
		if one := f.starts(ModelExponential); len(one) != 1 || len(one[0]) != 1 {
			t.Errorf("starts of the exponential: %v", one)
		}
	}
}

// TestAmplitudes: with the true shape, start voltage and offset of exact readings come out at once, whatever the
// weights.
func TestAmplitudes(t *testing.T) {
	at := []float64{0, 1, 2, 5, 9}
	w := []float64{1, 3, 2, 1, 5}
	for _, c := range []struct {
		model Model
		x     []float64
		vb    bool
	}{
		{ModelHyperbolic, []float64{0.8, math.Log(0.5)}, false},
		{ModelHyperbolic, []float64{0.8, math.Log(0.5), 0.3}, true},
		{ModelOffsetExponential, []float64{0.8, math.Log(3), -0.2}, true},
	} {
		p := &problem{t: at, v: make([]float64, len(at)), noise: noise{1, 0}}
		p.init(c.model, c.vb, false)
		for i, ti := range at {
			p.v[i] = p.at(make([]float64, p.m), c.x, ti)
		}
		x := slices.Clone(c.x)
		x[0] = 9
		if c.vb {
			x[len(x)-1] = 9
		}
		p.amplitudes(x, w)
		for j := range x {
			same(t, c.model.String(), x[j], c.x[j], 1e-12)
		}
	}
}

// TestBounds: at the lower bound of its time a law has fallen to 1/150 (e⁻⁵ = 1/148 for exponentials) at a first
// reading at 2 s; a first reading at 0 bounds nothing but the last digits.
func TestBounds(t *testing.T) {
	for m, want := range map[Model]float64{ModelExponential: math.Exp(-5), ModelOffsetExponential: math.Exp(-5),
		ModelTwoExponentials: math.Exp(-5), ModelTransit: 1. / 150} {
		low, high := m.bounds(0, 2, 2, 300)
		v := []float64{math.Exp(low), math.Exp(low), 0.5}
		l, err := m.law(v[:len(modelInfos[m].params)])
		if err != nil {
			t.Fatal(err)
		}
		same(t, m.String(), l.Fraction(2)/want, 1, 1e-12)
		same(t, "highest", math.Exp(high), 3e8, 1e-12)
	}
	low, high := ModelHyperbolic.bounds(0, 2, 2, 300)
	same(t, "hyperbola", 1+2*math.Exp(high), 151, 1e-12)
	same(t, "hyperbola", math.Exp(-low), 3e8, 1e-12)
	_, high = ModelHyperbolic.bounds(0, 0, 2, 300)
	same(t, "hyperbola from 0", math.Exp(high), 500, 1e-12)
	low, _ = ModelExponential.bounds(0, 0, 2, 300)
	same(t, "exponential from 0", math.Exp(low), 2e-3, 1e-12)
	low, high = ModelPowerLaw.bounds(1, 2, 2, 300)
	same(t, "least n", math.Exp(low), 0.02, 1e-12)
	same(t, "greatest n", math.Exp(high), 50, 1e-12)
	low, high = ModelOhmicMobility.bounds(1, 2, 2, 300)
	same(t, "least a", math.Exp(low), 1e-4, 1e-12)
	same(t, "greatest a", math.Exp(high)/1e6, 1, 1e-12)
	low, high = ModelStretched.bounds(1, 2, 2, 300)
	same(t, "β", sigmoid(low), 0.047426, 1e-5) // 1/(1 + e³)
	same(t, "β", sigmoid(high), 0.999089, 1e-5)
}

// TestOddsByHand: by distributions that can be written out: χ² of two degrees is e^(−x/2), F of two and two 1/(1+x).
func TestOddsByHand(t *testing.T) {
	f := &Fit{t: make([]float64, 5), dof: 2, inflation: 2, settings: FitSettings{Known: true}}
	same(t, "known noise", f.odds(3, 2), math.Exp(-0.75), 1e-12)
	f.settings = FitSettings{Robust: true}
	same(t, "robust", f.odds(12, 2), 0.25, 1e-12)                 // 12 over 2 over 2 parameters is 3
	same(t, "robust, far away", f.odds(2e6, 2), 1/(1+5e5), 1e-12) // up to 10⁶ a parameter
	same(t, "robust, out of reach", f.odds(8e6, 2), 0, 0)         // beyond it none
	f.settings = FitSettings{}                                    // n·ln of the cost: F = (e^(gain/2/5) − 1)·dof/2
	same(t, "estimated noise", f.odds(10*math.Log(4), 2), 0.25, 1e-12)
}

// TestRobustDeviances: twice the loss over the least scale of all fits: near 0 the square, far away C²/3.
func TestRobustDeviances(t *testing.T) {
	a, b := &Fit{scale2: 4, pearson: []float64{1e-3, 1e3}}, &Fit{scale2: 9, pearson: []float64{-2e-3}}
	robustDeviances([]*Fit{b, a})
	same(t, "first", a.deviance, 0.25e-6+4.685*4.685/3, 1e-12)
	same(t, "second", b.deviance*1e6, 1, 1e-5)
}

// TestCriteriaByHand: three parameters and ten readings, deviance 12: 12/2 + 2k + 2k(k+1)/(n−k−1) and 12/2 + k·ln n,
// with the noise as a fourth unless it is known (K. P. Burnham and D. R. Anderson 2002, section 2.4).
func TestCriteriaByHand(t *testing.T) {
	f := &Fit{x: make([]float64, 3), t: make([]float64, 10), deviance: 12, settings: FitSettings{Known: true}}
	f.criteria(2)
	same(t, "AICc", f.aicc, 6+6+4, 1e-14)
	same(t, "BIC", f.bic, 6+3*math.Log(10), 1e-14)
	f.settings.Known = false
	f.criteria(2)
	same(t, "AICc with noise", f.aicc, 6+8+8, 1e-14)
	same(t, "BIC with noise", f.bic, 6+4*math.Log(10), 1e-14)
}

// TestSmallParts: what the errors of a fit are put together from.
func TestSmallParts(t *testing.T) {
	s := &serial{weight: []float64{0.5, 1e-6, 0.3}, nodes: []tie{{rho: 1}, {rho: 2}, {rho: 3}}}
	s.trim()
	if len(s.weight) != 2 || s.nodes[1].rho != 3 {
		t.Fatalf("kept %v of %v", s.nodes, s.weight)
	}
	same(t, "first weight", s.weight[0], 0.625, 1e-14)
	same(t, "second weight", s.weight[1], 0.375, 1e-14)
	w := make([]float64, 2)
	same(t, "sum", share(w, []float64{math.Log(300), math.Log(100)}), math.Log(400), 1e-14)
	same(t, "share", w[0], 0.75, 1e-14)
	p := make([]float64, 4)
	product(p, []float64{1, 2, 3, 4}, []float64{5, 6, 7, 8}, 2)
	if !slices.Equal(p, []float64{19, 22, 43, 50}) {
		t.Errorf("product %v", p)
	}
	same(t, "quadratic form", quadratic([]float64{1, 2, 3, 4}, []float64{10, 1}), 100+20+30+4, 0)
	same(t, "prior of 8", serialPrior(8), 4, 0)
	same(t, "prior of 4", serialPrior(4), 4, 0)
	same(t, "prior of 17", serialPrior(17), 1, 0)
	same(t, "prior of 30", serialPrior(30), 0, 0)
	// Without a covariance nothing is known of a parameter, and nothing ties two.
	f := &Fit{x: make([]float64, 2)}
	if v, c := f.covariance(1, 1), f.covariance(0, 1); !math.IsInf(v, 1) || c != 0 {
		t.Errorf("no covariance: %g and %g", v, c)
	}
	// Ranges: a voltage, a time, an exponent.
	f = &Fit{model: ModelStretched, x: make([]float64, 3)}
	for j, want := range [][2]float64{{math.Inf(-1), math.Inf(1)}, {0, math.Inf(1)}, {0, 1}} {
		same(t, "open below", f.openEnd(j, -1), want[0], 0)
		same(t, "open above", f.openEnd(j, 1), want[1], 0)
	}
	path := trail{{y: 1, z: 10}, {y: -3, z: 30}, {y: 2, z: 20}}
	for y, want := range map[float64]float64{0: 10, -2: 30, 5: 20, 1.6: 20} {
		if got, exact := path.from(y); got.z != want || exact {
			t.Errorf("nearest to %g: %v, %v", y, got, exact)
		}
	}
	if got, exact := path.from(-3); got.z != 30 || !exact {
		t.Errorf("at −3: %v, %v", got, exact)
	}
	w0 := &when{f: &Fit{t: []float64{0, 2, 8}}}
	lo, hi := w0.reach()
	same(t, "earliest", lo, math.Log(2e-6), 1e-14)
	same(t, "latest", hi, math.Log(8e6), 1e-14)
	w0.f.t[0] = 1
	lo, _ = w0.reach()
	same(t, "earliest", lo, math.Log(1e-6), 1e-14)
}

// TestDriftReaches: where readings drift slowly the suppositions go to three times the record, each by the same ratio,
// from a third of the shortest step; equal steps need none.
func TestDriftReaches(t *testing.T) {
	const n = 24
	in := serialInput{jac: make([]float64, n), e: make([]float64, n), inverse: []float64{1. / n}, n: n, m: 1}
	for i := range n {
		in.jac[i] = 1
		in.t = append(in.t, float64(i*i)/10)
		in.e[i] = math.Cos(math.Pi * in.t[i] / (n - 1) / (n - 1) * 10)
	}
	s := newSerial(in)
	s.drift()
	most, sum := 0.0, 0.0
	for i, x := range s.nodes {
		most = max(most, x.over)
		sum += s.weight[i]
	}
	same(t, "longest", most, 3*52.9, 1e-12)
	same(t, "weights", sum, 1, 1e-12)
	least := 0.1 / 3
	ratio := math.Pow(most/least, 1./(driftNodes-1))
	for _, x := range s.nodes {
		if x.over > 0 {
			k := math.Log(x.over/least) / math.Log(ratio)
			same(t, "step", k, math.Round(k), 1e-9)
		}
	}
	for i := range in.t {
		in.t[i] = float64(i)
	}
	s = newSerial(in)
	s.drift()
	if slices.ContainsFunc(s.nodes, func(x tie) bool { return x.over > 0 }) {
		t.Error("equal steps have a drift")
	}
}

// TestSpreadHalves: the ends of a time over several laws are where the laws' chances, averaged with their weights,
// come to 2½ %: inside the envelope, and at one of its ends only with one law.
func TestSpreadHalves(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 4))
	var at []units.Time
	var v []units.Voltage
	for i := range 9 {
		at = append(at, units.Time(i+1))
		v = append(v, units.Voltage(1000/(1+0.4*float64(i+1))+15*rng.NormFloat64()))
	}
	c, err := FitDecay(at, v, FitSettings{Abs: 15, Known: true, Independent: true})
	if err != nil {
		t.Fatal(err)
	}
	s, err := c.TimeToVoltage(250)
	if err != nil || len(s.Laws) < 2 {
		t.Fatalf("%d laws, %v", len(s.Laws), err)
	}
	for end, want := range map[units.Time]float64{s.Low: 0.975, s.High: 0.025} {
		p := 0.0
		for _, l := range s.Laws {
			w, err := c.Of(l.Model).when(target{v: 250})
			if err != nil {
				t.Fatal(err)
			}
			w.interval() // walks to the end: each solution begins at its neighbour
			p += l.Weight * w.beyond(math.Log(float64(end)))
		}
		same(t, "chance beyond", p, want, 1e-3)
	}
	if !(s.Least < s.Low && s.Low < s.Best && s.Best < s.High && s.High < s.Most) {
		t.Errorf("%v < %v < %v < %v < %v", s.Least, s.Low, s.Best, s.High, s.Most)
	}
}

// TestJudgeByHand: 1/e of the first reading, nine tenths at the first reading, and a χ² of two degrees, whose chance is
// e^(−x/2), at one in a thousand.
func TestJudgeByHand(t *testing.T) {
	law, err := NewExponential(1)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		last, first, chance float64
		want                []Finding
	}{
		{0.36, 0.1, 0.0012, nil},
		{0.37, 0.1, 0.0012, []Finding{RecordShort}},
		{-0.37, 0.1, 0.0012, []Finding{RecordShort}},
		{0.36, 0.11, 0.0012, []Finding{LateStart}},
		{0.36, 0.1, 0.0009, []Finding{PoorFit}},
		{0.36, 0.05, 0.0012, nil},
	} {
		f := &Fit{v: make([]float64, 2), fitted: []float64{1, c.last}, t: []float64{c.first, 9}, law: law, dof: 2,
			scale2: 1, settings: FitSettings{Known: true}, pearson: []float64{math.Sqrt(-2 * math.Log(c.chance))}}
		if c.first == 0.05 { // and 0.04 s before the clock
			f.model, f.start, f.x = ModelTransit, true, []float64{1, 0, math.Log(0.04)}
		}
		f.judge()
		if !slices.Equal(f.findings, c.want) {
			t.Errorf("%+v: %v", c, f.findings)
		}
	}
}

// TestRoughWeights: by the median of a reading and its neighbours.
func TestRoughWeights(t *testing.T) {
	at := []units.Time{0, 1, 2, 3, 4, 5}
	f := newFitter(at, []units.Voltage{10, 1, 6, 3, 5, 2}, FitSettings{Abs: 0.1, Rel: 0.1})
	for i, middle := range []float64{10, 6, 3, 5, 3, 2} {
		same(t, "weight", f.rough[i], 10/math.Sqrt(0.01+0.01*middle*middle), 1e-13)
	}
	same(t, "unit", f.unit, 10, 0)
	same(t, "first", f.lo, 1, 0)
	same(t, "last", f.hi, 5, 0)
}

// TestMixedDeviation: two equally likely errors 1 and 2 with normal tails: the interval ends where both tails together
// come to 2.5 %, ½Q(h) + ½Q(h/2) = 0.025.
func TestMixedDeviation(t *testing.T) {
	s := &serial{weight: []float64{0.5, 0.5}, nodes: make([]tie, 2), cov: [][]float64{{1}, {4}}}
	se, half := s.deviation([]float64{1}, math.Inf(1), 1.959963985)
	same(t, "error", se, math.Sqrt(2.5), 1e-14)
	tail := func(x float64) float64 { return 0.5 * math.Erfc(x/math.Sqrt2) }
	same(t, "tails", 0.5*tail(half)+0.5*tail(half/2), 0.025, 1e-5)
	f := &Fit{x: []float64{0}, inverse: []float64{1}, scale2: 1, settings: FitSettings{Known: true}}
	same(t, "without a covariance", f.widening([]float64{1}), 1, 0)
}

// TestUndeterminedByHand: readings at t = 0 alone say nothing of a time constant; two at τ beside it know ln τ to
// √(e²/2 + 1) = 2.166 times their noise, and ±2 is the most that counts; two exponentials of one time are not two.
func TestUndeterminedByHand(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		model  Model
		at, sd float64
		want   bool
	}{{ModelExponential, 0, 1e-3, true}, {ModelExponential, 1, 0.9, false}, {ModelExponential, 1, 0.95, true},
		{ModelTwoExponentials, 1, 1e-9, true}} {
		p := &problem{t: []float64{0, c.at, c.at}, v: make([]float64, 3), noise: noise{c.sd, 0}}
		p.init(c.model, false, false)
		f := &Fit{model: c.model, x: make([]float64, p.m), t: p.t, v: p.v, settings: FitSettings{Known: true}, dof: 1}
		f.x[0] = 1
		for range p.m {
			f.lower, f.upper = append(f.lower, -inf), append(f.upper, inf)
		}
		f.finish(p, nil)
		if got := slices.Contains(f.findings, Undetermined); got != c.want {
			t.Errorf("%+v: %v, regular %v, inverse %v", c, f.findings, f.regular, f.inverse)
		}
	}
}

// TestStartScoreIsStandard: where the clock was right the score of an earlier start is a standard normal number: the
// mean of 300 squares is 1 within four times √(2/300).
func TestStartScoreIsStandard(t *testing.T) {
	law, err := NewStretched(12, 0.6)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(17, 2))
	const sets = 300
	sum := 0.0
	for range sets {
		var at []units.Time
		var v []units.Voltage
		for i := range 30 {
			at = append(at, units.Time(0.3*math.Pow(200, float64(i)/29)))
			v = append(v, units.Voltage(1000*law.Fraction(at[i])+5*rng.NormFloat64()))
		}
		f, err := newFitter(at, v, FitSettings{Abs: 5, Known: true}).fit(ModelStretched, false)
		if err != nil {
			t.Fatal(err)
		}
		sum += f.score * f.score / sets
	}
	same(t, "mean square", sum, 1, 4*math.Sqrt(2./sets))
}

// TestFixedNoise: without a part that goes with the voltage the deviance is the residual over the noise, and its slope
// one over the noise.
func TestFixedNoise(t *testing.T) {
	d, slope := noise{a: 0.25}.deviance(3, 2)
	same(t, "deviance", d, 4, 0)
	same(t, "slope", slope, 4, 0)
}
