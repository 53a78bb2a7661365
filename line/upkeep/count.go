package upkeep

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"gonum.org/v1/gonum/stat/distuv"
)

// Counts are events (jams, shocks, rejects) shift by shift.
type Counts struct {
	Events []int // of each shift, 0 … 1e6; one entry may stand for several shifts
	// Shifts is how much each entry stands for; nil: 1 each.
	Shifts []float64 // [1]
}

func (c *Counts) check(name string) (events int, shifts float64, err error) {
	if len(c.Events) == 0 || len(c.Events) > 100000 {
		return 0, 0, known.Wrong(name+".events", fmt.Sprintf("%d entries", len(c.Events)), "1 … 100000 entries")
	}
	if c.Shifts != nil && len(c.Shifts) != len(c.Events) {
		return 0, 0, known.Wrong(name+".shifts", fmt.Sprintf("%d entries", len(c.Shifts)),
			fmt.Sprintf("%d, one for each entry of events", len(c.Events)))
	}
	var errs []error
	for i, e := range c.Events {
		if e < 0 || e > 1e6 {
			errs = append(errs, known.Wrong(fmt.Sprintf("%s.events[%d]", name, i), e, "0 … 1000000"))
		}
		s := c.shifts(i)
		errs = append(errs, known.InRange(fmt.Sprintf("%s.shifts[%d]", name, i), units.Ratio(s), 1e-6, 1e6))
		events += e
		shifts += s
	}
	return events, shifts, errors.Join(errs...)
}

func (c *Counts) shifts(i int) float64 {
	if c.Shifts == nil {
		return 1
	}
	return c.Shifts[i]
}

// pearson is Σ(n − expected)²/expected over the entries, for a common rate.
func (c *Counts) pearson(rate float64) (chi2 float64) {
	for i, e := range c.Events {
		if x := rate * c.shifts(i); x > 0 {
			chi2 += sq(float64(e)-x) / x
		}
	}
	return chi2
}

// CompareCounts compares events per shift before and after. weather is the ratio
// that the weather alone makes of the rate; the zero Band: not corrected, ratio 1.
//
// Given the sum of events the after is binomial with p₀ = r·t_a/(t_b + r·t_a); the
// two-sided p is twice the smaller tail, and the 95 % interval of the rate ratio is
// the exact one of p (beta quantiles). The spread of r is averaged over (p) and
// joined in quadrature on the logarithm (interval). Events that come in clusters
// are no such thing: where the entries of both sides scatter more than Poisson's
// law lets them (Pearson's χ² over its degrees of freedom, φ > 1), ln of the ratio of
// rates is tested with variance φ(1/N_b + 1/N_a) and Student's distribution instead;
// one entry on each side cannot show it. Errors are [*known.FieldError]s.
func CompareCounts(before, after Counts, weather known.Band) (Comparison, error) {
	nb, tb, errB := before.check("before")
	na, ta, errA := after.check("after")
	corrected := weather != known.Band{}
	if !corrected {
		weather = known.Band{Value: 1}
	}
	err := errors.Join(errB, errA, weather.Check("weather"), known.Positive("weather", units.Ratio(weather.Value)))
	if err == nil && nb+na == 0 {
		err = known.Wrong("before.events", "none on either side", "an event on one side or the other")
	}
	if lo, _ := weather.Limits(); err == nil && !(lo > 0) {
		err = known.Wrong("weather", weather.Value, "a ratio whose whole band is above 0")
	}
	if err != nil {
		return Comparison{}, err
	}
	out := Comparison{Weather: weather.Value, Corrected: corrected}
	out.Observed = float64(na) / ta / (float64(nb) / tb)
	d := math.Log(out.Observed / out.Weather)
	lo, hi := weather.Limits()
	spread := (math.Log(hi) - math.Log(lo)) / (2 * known.Z95)

	freedom := float64(len(before.Events) + len(after.Events) - 2)
	phi := 1.0
	if freedom > 0 {
		phi = (before.pearson(float64(nb)/tb) + after.pearson(float64(na)/ta)) / freedom
	}
	if phi > 1 && nb > 0 && na > 0 {
		own := phi * (1/float64(nb) + 1/float64(na))
		out.PlainP = twoSided(math.Log(out.Observed)/math.Sqrt(own), freedom)
		out.P = twoSided(d/math.Sqrt(own+sq(spread)), freedom)
		e := quantile(freedom) * math.Sqrt(own+sq(spread))
		out.Effect = Interval{numeric.Exp(d - e), numeric.Exp(d), numeric.Exp(d + e)}
	} else {
		phi = 1
		out.PlainP = conditional(nb, na, ta/(tb+ta))
		out.P = averaged(spread, func(z float64) float64 {
			r := out.Weather * numeric.Exp(z)
			return conditional(nb, na, r*ta/(tb+r*ta))
		})
		out.Effect = exact(nb, na, tb/ta/out.Weather, spread)
	}
	if na > 0 && nb > 0 {
		// A shift of each side brings the variance φ/(events per shift).
		out.More = needed(d, phi*(tb/float64(nb)+ta/float64(na)), sq(spread))
	}
	return out, nil
}

// conditional is the two-sided chance of the split nb, na if an event falls after
// with chance p.
func conditional(nb, na int, p float64) float64 {
	n := distuv.Binomial{N: float64(nb + na), P: p}
	below := n.CDF(float64(na))
	above := 1.0
	if na > 0 {
		above = 1 - n.CDF(float64(na)-1)
	}
	return numeric.Statistic(min(1, 2*min(below, above)))
}

// averaged is the mean of f over a normal error of that spread.
func averaged(spread float64, f func(z float64) float64) float64 {
	if spread == 0 {
		return f(0)
	}
	const n = 201
	var sum float64
	for i := range n {
		sum += f(spread * distuv.UnitNormal.Quantile((float64(i)+0.5)/n))
	}
	return sum / n
}

// exact is the exact 95 % interval of the ratio of rates, times scale, its ends
// moved outwards by a normal error of its logarithm.
func exact(nb, na int, scale, spread float64) Interval {
	x, n := float64(na), float64(nb+na)
	odds := func(p float64) float64 { return p / (1 - p) * scale }
	out := Interval{0, x / (n - x) * scale, math.Inf(1)}
	if na > 0 {
		out.Low = odds(numeric.Statistic(distuv.Beta{Alpha: x, Beta: n - x + 1}.Quantile(0.025)))
	}
	if nb > 0 {
		out.High = odds(numeric.Statistic(distuv.Beta{Alpha: x + 1, Beta: n - x}.Quantile(0.975)))
	}
	z := distuv.UnitNormal.Quantile(0.975)
	widen := func(end float64) float64 {
		if end == 0 || math.IsInf(end, 0) || na == 0 {
			return end * numeric.Exp(z*spread)
		}
		d := math.Log(end / out.Middle)
		return out.Middle * numeric.Exp(math.Copysign(math.Hypot(d, z*spread), d))
	}
	out.Low, out.High = widen(out.Low), widen(out.High)
	return out
}
