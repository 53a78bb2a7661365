package upkeep

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Need is what a station asks of the air: that the charge made before it has leaked
// below the limit when it matters,
//
//	σ₀·exp(−T/τ(RH)) < σ_limit,  that is  τ < τ_c = T/ln(σ₀/σ_limit)
type Need struct {
	Station string // its name, for the report
	// Start is the charge before it leaks, as magnitude [C/m²].
	Start known.Band
	Limit units.SurfaceChargeDensity // more than 0
	Dwell units.Time                 // T: the interval between two sheets, or the way of a web to the station
	Leak  humidity.Law[units.Time]   // τ of the body on its path to earth, with its spread
	At    units.Temperature          // of the body where it was conditioned, −40 … 80 °C
	// AirError is the standard deviation of the humidity as it is measured at the
	// place; 0: 2.5 %RH.
	AirError units.RelativeHumidity
}

// NeedAt takes start, limit and dwell from a line at speed v: the net charge that
// leaves the station, the limit of the description, the way to the next station.
// spread is the relative standard deviation of the charge.
func NeedAt(l *line.Line, station string, v units.Speed, spread units.Ratio, leak humidity.Law[units.Time],
	at units.Temperature) (Need, error) {
	if l == nil {
		return Need{}, known.Wrong("line", "nil", "a line made by line.New")
	}
	i := l.Station(station)
	if i < 0 || i == l.Len()-1 {
		return Need{}, known.Wrong("station", station, "a station of the line other than its last")
	}
	if err := errors.Join(known.Positive("speed", v), known.InRange("spread", spread, 0, 5)); err != nil {
		return Need{}, err
	}
	res := make([]line.Result, l.Len())
	l.RunTo(res, v)
	d := l.Description()
	way := float64(d.Stations[i+1].At - d.Stations[i].At)
	net := math.Abs(float64(res[i].Net()))
	n := Need{Station: station, Start: known.Band{Value: net, Spread: float64(spread), Kind: known.LogNormal},
		Limit: l.Limit(), Dwell: units.Time(way / float64(v)), Leak: leak, At: at}
	if spread == 0 {
		n.Start = known.Band{Value: net}
	}
	return n, n.check("need")
}

func (n *Need) check(at string) error {
	err := errors.Join(n.Start.Check(at+".start"), known.Positive(at+".limit", n.Limit),
		known.Positive(at+".dwell", n.Dwell),
		known.InRange(at+".at", n.At, units.Celsius(-40), units.Celsius(80)),
		known.InRange(at+".airError", n.AirError, 0, 0.5))
	if n.Leak == nil {
		err = errors.Join(err, known.Wrong(at+".leak", "", "a law of the leak in humidity; without a path to earth no "+
			"air helps"))
	}
	if !(n.Start.Value > 0) || n.Start.Kind == known.AtLeast {
		err = errors.Join(err, known.Wrong(at+".start", units.SurfaceChargeDensity(n.Start.Value), "a charge of more than 0"))
	}
	return err
}

// StationThreshold is the air from which a station stays below its limit, with the 5, 50
// and 95 % quantiles of what is known of it.
type StationThreshold struct {
	Humidity [3]units.RelativeHumidity // at the place
	DewPoint [3]units.Temperature      // there
	// Law, Air and Start are what each source of doubt alone would leave as standard
	// deviation: the leak law, the hygrometer, the charge.
	Law, Air, Start units.RelativeHumidity
	Unreached       bool // more than 5 % stay over the limit in saturated air
	// Never says that the charge is below the limit in dry air already. An end of which
	// that holds too, of law and charge, is 0: no hygrometer moves it.
	Never    bool
	Validity known.Validity // of the law at the median
}

// Threshold returns the critical humidity of the need: where the law of its leak
// crosses τ_c. The three doubts move it one by one and join in quadrature, each end
// on its own. A median that no humidity reaches is a [*known.FieldError] for leak.
func (n Need) Threshold() (StationThreshold, error) {
	if err := n.check("need"); err != nil {
		return StationThreshold{}, err
	}
	critical := func(start, z float64) (float64, error) {
		over := math.Log(start / float64(n.Limit))
		if !(over > 0) {
			return 0, nil
		}
		return crossing(n.Leak, float64(n.Dwell)/over, z, n.At)
	}
	mid, err := critical(n.Start.Value, 0)
	if err != nil {
		return StationThreshold{}, err
	}
	if mid >= 1 {
		return StationThreshold{}, known.Wrong("need.leak", n.Leak.Value(mustAir(n.At, 1)), fmt.Sprintf(
			"a leak of less than %v at 100 %%RH; no humidity brings %s below its limit", units.Time(float64(n.Dwell)/
				math.Log(n.Start.Value/float64(n.Limit))), n.Station))
	}
	air := 0.025
	if n.AirError > 0 {
		air = float64(n.AirError)
	}
	var end [2]float64
	var law, start [2]float64
	for k, z := range [2]float64{-known.Z95, known.Z95} {
		if law[k], err = critical(n.Start.Value, z); err != nil {
			return StationThreshold{}, err
		}
		if start[k], err = critical(n.Start.At(z), 0); err != nil {
			return StationThreshold{}, err
		}
		if max(law[k], start[k], mid) == 0 {
			continue // dry air will do, whatever a hygrometer shows
		}
		d := math.Sqrt(sq(law[k]-mid) + sq(start[k]-mid) + sq(z*air))
		end[k] = mid + math.Copysign(d, z)
	}
	out := StationThreshold{Unreached: end[1] >= 1, Never: mid == 0, Air: units.RelativeHumidity(air),
		Law:      units.RelativeHumidity((law[1] - law[0]) / (2 * known.Z95)),
		Start:    units.RelativeHumidity((start[1] - start[0]) / (2 * known.Z95)),
		Validity: n.Leak.Validity(mustAir(n.At, mid))}
	for k, rh := range [3]float64{end[0], mid, end[1]} {
		rh = min(max(rh, 0), 1)
		if out.Never && k < 2 {
			rh = 0
		}
		out.Humidity[k] = units.RelativeHumidity(rh)
		out.DewPoint[k] = mustAir(n.At, rh).DewPoint()
	}
	return out, nil
}

// mustAir is air at sea level within the ranges that check holds.
func mustAir(t units.Temperature, rh float64) humidity.Air {
	a, _ := humidity.NewAir(t, units.RelativeHumidity(rh), units.Atmosphere)
	return a
}

// crossing returns the relative humidity at which the law, z spreads up, falls to
// tau [s]: 0 if it is below in dry air, 1 if above in saturated air.
func crossing(law humidity.Law[units.Time], tau, z float64, t units.Temperature) (float64, error) {
	over := func(rh float64) float64 {
		a := mustAir(t, rh)
		return math.Log10(float64(law.Value(a))/tau) + z*law.Decades(a)
	}
	switch dry, wet := over(0), over(1); {
	case math.IsNaN(dry + wet):
		return 0, known.Wrong("need.leak", "a law without a value", "a law that was made by its constructor")
	case wet > 0:
		return 1, nil
	case dry <= 0:
		return 0, nil
	}
	return numeric.Brent(over, 0, 1, 1e-12, 1e-12)
}
