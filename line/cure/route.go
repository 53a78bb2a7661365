package cure

import (
	"math"
	"slices"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Route is the way of goods as far as it is known: [Draws] ways that fit the
// description and its readings. It is immutable and may be used from many goroutines.
type Route struct {
	goods  Goods
	site   Site
	airs   map[string]humidity.Air
	gains  []column          // what each stop gives at its humidity [unit of the body]
	decade column            // error of log₁₀ of the leak time [1]
	damp   map[string]column // error of the humidity of each air [%RH]
	alpha  column            // recombination coefficient of the ions [m³/s]
	power  column            // of the charge in the scatter of a dose [1]
}

// recombination is 1.6e-12 m³/s (1.3 … 2.3): 90 % of the spread of published values, ln(2.3/1.3)/(2·Z95).
var recombination = known.Band{Value: 1.6e-12, Spread: 0.17343332230875932, Kind: known.LogNormal}

// NewRoute checks a description and fits it to its readings: each draw of what the
// stops give is moved by the share of the disagreement that its spread has (an
// ensemble Kalman step, exact where all is normal), one reading after the other. site
// may be nil. Errors are [*known.FieldError]s.
func NewRoute(g *Goods, site *Site) (*Route, error) {
	if g == nil {
		return nil, known.Wrong("goods", "none", "a description of goods")
	}
	if err := g.check(); err != nil {
		return nil, g.places.Locate(err)
	}
	r := &Route{goods: *g, airs: map[string]humidity.Air{}, damp: map[string]column{}}
	if site != nil {
		if err := site.Check(); err != nil {
			return nil, err
		}
		r.site = *site
	}
	for _, a := range g.Airs {
		air, err := humidity.NewAir(a.Temperature, max(a.RelativeHumidity, units.RelativeHumidity(1e-9)), units.Atmosphere)
		if a.From != "" {
			air = r.airs[a.From].At(a.Temperature) // the same water
		}
		if err != nil {
			return nil, err
		}
		r.airs[a.Name] = air
		sd := float64(a.Spread)
		if sd == 0 {
			sd = 0.025
		}
		// One hygrometer for all airs that go back to the same reading.
		source := a.Name
		for k := slices.IndexFunc(g.Airs, func(o NamedAir) bool { return o.Name == a.Name }); k >= 0 &&
			g.Airs[k].From != ""; {
			source = g.Airs[k].From
			k = slices.IndexFunc(g.Airs, func(o NamedAir) bool { return o.Name == source })
		}
		r.damp[a.Name] = drawn(known.Band{Spread: 100 * sd, Kind: known.Normal}, "hygrometer", source)
	}
	for i := range g.Stations {
		r.gains = append(r.gains, drawn(g.Stations[i].Change, "gain", g.Stations[i].Name))
	}
	spread := 0.0
	if g.Leak != nil {
		spread = g.Leak.Spread
	}
	r.decade = drawn(known.Band{Spread: spread, Kind: known.Normal}, "leak law", g.Name)
	r.alpha = drawn(recombination, "recombination", "")
	r.power = chances("power", g.Name)
	for i := range r.power {
		r.power[i]++
	}
	r.goods.Readings = g.inBody()
	for i := range r.goods.Readings {
		r.fit(&r.goods.Readings[i], i)
	}
	return r, nil
}

// fit moves the gains to a reading.
func (r *Route) fit(x *GoodsReading, k int) {
	at := slices.IndexFunc(r.goods.Stations, func(s Stop) bool { return s.Name == x.Station })
	now := make(column, Draws+1)
	for i := range now {
		now[i] = r.walk(i, r.goods.Rate, float64(x.RelativeHumidity)*100)[at]
	}
	mean := func(c column) float64 {
		var s float64
		for _, v := range c[:Draws] {
			s += v
		}
		return s / Draws
	}
	covariance := func(c, d column) float64 {
		mc, md := mean(c), mean(d)
		var s float64
		for i := range Draws {
			s += (c[i] - mc) * (d[i] - md)
		}
		return s / (Draws - 1)
	}
	total := covariance(now, now) + sq(x.Spread)
	z := scores("reading", string(rune('a'+k%26))+x.Station)
	moved := make([]column, len(r.gains))
	for s := range r.gains {
		share := covariance(r.gains[s], now) / total
		moved[s] = slices.Clone(r.gains[s])
		for i := range moved[s] {
			moved[s][i] += share * (x.Charge + x.Spread*z[i] - now[i])
		}
	}
	r.gains = moved
}

// humidityAt is the humidity in which the body of a draw is at a stop, in %RH.
func (r *Route) humidityAt(s *Stop, i int, given float64) float64 {
	if given > 0 {
		return given
	}
	name := s.Air
	if s.Conditioned != "" {
		name = s.Conditioned
	}
	a, ok := r.airs[name]
	if !ok {
		return 100 * float64(s.At)
	}
	return min(max(100*float64(a.RelativeHumidity())+r.damp[name][i], 0), 100)
}

// leakTime is the time constant of the body of a draw at a humidity in %RH. [s]
func (r *Route) leakTime(i int, rh float64) float64 {
	l := r.goods.Leak
	e := 0.0
	if l.Class != humidity.Inert {
		e = l.Decades * (100*float64(l.At) - rh)
	}
	return float64(l.Time) * numeric.Pow(10, e+r.decade[i])
}

// whole is a body with one charge.
var whole = BodyPatch{Share: 1, Reach: 1}

// walk is the charge of a draw behind each stop, at a rate and, if it is above 0, at
// one humidity everywhere in %RH. [unit of the body]
func (r *Route) walk(i int, rate units.Frequency, given float64) []float64 {
	return r.walkPatch(i, rate, given, &whole)
}

// walkPatch is walk of a patch.
func (r *Route) walkPatch(i int, rate units.Frequency, given float64, at *BodyPatch) []float64 {
	out := make([]float64, len(r.goods.Stations))
	x := 0.0
	for k := range r.goods.Stations {
		s := &r.goods.Stations[k]
		rh := r.humidityAt(s, i, given)
		gain := r.gains[k][i]
		if s.Slope > 0 && s.At > 0 {
			gain *= numeric.Exp(-s.Slope * (rh - 100*float64(s.At)))
		}
		x += gain * float64(at.Share)
		dwell := r.dwell(s, rate)
		if s.Path != decay.NoPath && dwell > 0 {
			x *= numeric.Exp(-dwell / r.leakTime(i, rh))
		}
		if n := s.Nozzle; n != nil && !n.Off {
			x -= math.Copysign(min(math.Abs(x), float64(at.Reach)*r.served(n, i, dwell)), x)
		}
		out[k] = x
	}
	return out
}

// dwell is the time at a stop: its own, shorter in proportion where the rate is
// raised, or an interval. [s]
func (r *Route) dwell(s *Stop, rate units.Frequency) float64 {
	switch {
	case s.Dwell > 0 && r.goods.Rate > 0 && rate > 0:
		return float64(s.Dwell) * float64(r.goods.Rate) / float64(rate)
	case s.Dwell > 0:
		return float64(s.Dwell)
	case rate > 0:
		return 1 / float64(rate)
	}
	return 0
}

// served is the charge that a nozzle takes off a body in a dwell, at most: of what is
// left by recombination on the way, e·v²·A/(α·L), or of its supply. The charge's own
// field collects it from the whole stream. [unit of the body]
func (r *Route) served(n *IonStream, i int, dwell float64) float64 {
	current := r.bound(n, i)
	switch r.goods.Kind {
	case DoseBody:
		return current * dwell / float64(r.goods.Mass)
	case ProfileBody:
		return current / float64(r.goods.Speed)
	}
	return current * dwell
}

// bound is the most current that a nozzle brings to a body. [A]
func (r *Route) bound(n *IonStream, i int) float64 {
	age := units.Time(float64(n.Distance) / float64(n.Air))
	ions := ionflow.RecombinationCeiling(units.RecombinationCoefficient(r.alpha[i]), age)
	area := math.Pi * sq(float64(n.HalfRadius))
	i0 := units.ElementaryCharge * float64(ions) * float64(n.Air) * area // C · 1/m³ · m/s · m²
	if n.Supply > 0 {
		i0 = min(i0, float64(n.Supply))
	}
	return i0
}

// StopPrediction is a body behind a stop.
type StopPrediction struct {
	Name   string    // of the stop
	Charge Quantiles // [unit of the body]
	Over   float64   // [1] chance over the limit; by the scatter of a dose: over 5 % of doses outside their tolerance
}

// Predict says what the goods carry behind each stop at a rate, 0: that described.
func (r *Route) Predict(rate units.Frequency) []StopPrediction {
	if rate == 0 {
		rate = r.goods.Rate
	}
	return r.told(r.columns(rate, &whole))
}

// PatchPrediction is a patch of the body behind each stop.
type PatchPrediction struct {
	Name  string           // of the patch
	Stops []StopPrediction // in the order of the way
	// Ends is the chance that the patch is over the limit at the end of the way [1]: the
	// greatest of all is the patch that stays.
	Ends float64
}

// PredictPatches says what each patch of the body carries behind each stop at a rate, 0: that
// described; nothing where the description has no patches.
func (r *Route) PredictPatches(rate units.Frequency) []PatchPrediction {
	if rate == 0 {
		rate = r.goods.Rate
	}
	var out []PatchPrediction
	for k := range r.goods.Patches {
		s := &r.goods.Patches[k]
		told := r.told(r.columns(rate, s))
		out = append(out, PatchPrediction{s.Name, told, told[len(told)-1].Over})
	}
	return out
}

// told are the quantiles of columns.
func (r *Route) told(cols []column) []StopPrediction {
	var out []StopPrediction
	for k := range cols {
		over := r.over(cols[k])
		out = append(out, StopPrediction{r.goods.Stations[k].Name, quantiles(slices.Clone(cols[k][:Draws])), over})
	}
	return out
}

// Expect is what a reading of the charge behind a stop should show, at the humidity of
// the reading: 5, 50 and 95 % of what is known after all readings. NaN for a station
// that is not there. [unit of the body]
func (r *Route) Expect(x *GoodsReading) Quantiles {
	k := r.stop(x.Station)
	if k < 0 {
		nan := math.NaN()
		return Quantiles{nan, nan, nan}
	}
	q := make([]float64, Draws)
	for i := range q {
		q[i] = r.walk(i, r.goods.Rate, 100*float64(x.RelativeHumidity))[k]
	}
	return quantiles(q)
}

// Readings are those of the description, in the unit of the body.
func (r *Route) Readings() []GoodsReading { return slices.Clone(r.goods.Readings) }

// Air is the air of a place by name, the zero Air for one that is not there.
func (r *Route) Air(name string) humidity.Air { return r.airs[name] }

// Limit is the charge that counts as too much; 0 where the scatter of a dose decides.
// [unit of the body]
func (r *Route) Limit() float64 {
	if len(r.gains) == 0 {
		return math.NaN()
	}
	return r.goods.limit()
}

func (r *Route) columns(rate units.Frequency, at *BodyPatch) []column {
	cols := make([]column, len(r.goods.Stations))
	for k := range cols {
		cols[k] = make(column, Draws+1)
	}
	inParts(Draws+1, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			for k, x := range r.walkPatch(i, rate, 0, at) {
				cols[k][i] = x
			}
		}
	})
	return cols
}

// over is the chance that a column is over the limit. [1]
func (r *Route) over(c column) float64 {
	limit := r.goods.limit()
	return shareOf(Draws, func(i int) bool {
		if limit > 0 {
			return math.Abs(c[i]) > limit
		}
		return r.Outside(units.ChargePerMass(c[i]), r.power[i]) > 0.05
	})
}

// Scatter is the standard deviation of the mass of a dose of a charge per mass, with
// the power of the charge (1 … 2) between the two states of the plant. NaN without
// them. [1]
func (r *Route) Scatter(q units.ChargePerMass, power float64) units.Mass {
	s := r.goods.Scatter
	if s == nil {
		return units.Mass(math.NaN())
	}
	more := s.steepness(power) * (raised(q, power) - raised(s.GoodCharge, power))
	return units.Mass(math.Sqrt(max(sq(float64(s.Good))+more, 0)))
}

// raised is |q|^2m of the law of [MassScatter].
func raised(q units.ChargePerMass, power float64) float64 { // [(C/kg)^2m]
	return numeric.Pow(math.Abs(float64(q)), 2*power)
}

// steepness is the k² of that law that leads through both states. [kg²/(C/kg)^2m]
func (s *MassScatter) steepness(power float64) float64 {
	return (sq(float64(s.Now)) - sq(float64(s.Good))) / (raised(s.NowCharge, power) - raised(s.GoodCharge, power))
}

// Outside is the share of doses outside their tolerance, NaN where [Route.Scatter] is. [1]
func (r *Route) Outside(q units.ChargePerMass, power float64) float64 {
	if r.goods.Scatter == nil {
		return math.NaN()
	}
	sd := float64(r.Scatter(q, power))
	return numeric.Erfc(float64(r.goods.Scatter.Tolerance) / sd / math.Sqrt2)
}

// StopSource is a stop with the chance that it gives the goods most of their charge.
type StopSource struct {
	Name   string    // of the stop
	Chance float64   // [1]
	Gain   Quantiles // [unit of the body]
}

// Sources lists the stops that give charge, the likeliest source first: the verdict.
func (r *Route) Sources() []StopSource {
	if len(r.gains) == 0 {
		return nil
	}
	lead := make([]int, len(r.gains))
	for i := range Draws {
		best := 0
		for s := range r.gains {
			if math.Abs(r.gains[s][i]) > math.Abs(r.gains[best][i]) {
				best = s
			}
		}
		lead[best]++
	}
	var out []StopSource
	for s := range r.gains {
		if q := quantiles(slices.Clone(r.gains[s][:Draws])); q != (Quantiles{}) {
			out = append(out, StopSource{r.goods.Stations[s].Name, float64(lead[s]) / Draws, q})
		}
	}
	slices.SortStableFunc(out, func(a, b StopSource) int {
		if a.Chance > b.Chance {
			return -1
		} else if a.Chance < b.Chance {
			return 1
		}
		return 0
	})
	return out
}

// isolated says whether a metal counts as isolated: above 1 MΩ, or not measured.
func (c *Metal) isolated() bool { return c.Resistance == 0 || c.Resistance > survey.GroundLimit }
