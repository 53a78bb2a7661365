package survey

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// The leak times of a web that takes up water follow the air: log₁₀ τ falls in proportion
// to the humidity at the web's own temperature, by a law that all paths and airs of the
// line share. An air that was recorded is that of the whole line while the reading was
// taken, and of an absorbing web that in which its rolls came to rest. What is not known of
// the law is one unknown for the line, what a hygrometer is off by one for each other air;
// so that readings in two airs tell the law, and the source behind a leak.

// hygrometer is the standard deviation of a humidity that was read, between two airs
// [%RH]: a judgement, of the instrument and of the place.
const hygrometer = 2.5

// As a description of a line has them [s].
const leastLeak, mostLeak = 1e-9, 1e12

// followsAir says that a leak of the line goes by its air.
func followsAir(desc *line.Description) bool {
	if fall, sd := desc.Web.LeakFall(); fall == 0 && sd == 0 {
		return false
	}
	for i := range desc.Stations {
		if desc.Stations[i].Leak != nil {
			return true
		}
	}
	return false
}

// describedDamp is the described humidity at the web, in which the described leak times
// hold. [1]
func describedDamp(desc *line.Description) float64 {
	return float64(desc.Web.Damp(desc.Air.Temperature, desc.Air.RelativeHumidity))
}

// newDamp sets up what airs do to leaks, and returns the number of its unknowns: the law,
// and the hygrometer in each condition but the first, whose error is that of the leak.
func (a *layout) newDamp(desc *line.Description) int {
	if !followsAir(desc) {
		return 0
	}
	a.fall[0], a.fall[1] = desc.Web.LeakFall()
	other := false
	for i := range a.conds {
		row := make([]moist, len(a.leaks))
		for j, station := range a.leaks {
			m := &row[j]
			m.over, m.share = 100*(a.conds[i].humidity-describedDamp(desc)), 1
			m.law = m.over
			if desc.Stations[station].Leak.WebTemperature != 0 || stretched(desc, station) {
				at := a.conds[i].behind(desc, station)
				m.over = 100 * (at - float64(desc.DampBehind(station, desc.Air.Temperature, desc.Air.RelativeHumidity)))
				m.law = m.over - 100*float64(desc.LeakStep(station))
				m.share = at / a.conds[i].humidity
			}
			other = other || m.over != 0 || m.law != 0
		}
		a.moist = append(a.moist, row)
	}
	if !other {
		a.moist = nil
		return 0
	}
	return len(a.conds)
}

// moist is the air of a condition at the web behind a leak.
type moist struct {
	over  float64 // its humidity over the described one there [%RH]
	law   float64 // over the humidity at which the described leak time holds: the law is used so far [%RH]
	share float64 // of an error of the hygrometer that arrives there [1]
}

// stretched says that the web behind a station has a temperature of its own.
func stretched(desc *line.Description, station int) bool {
	_, own := desc.WebTemperature(station)
	return own
}

// behind is the humidity of the condition's air that the leak behind a station follows. [1]
func (c *condition) behind(desc *line.Description, station int) float64 {
	if !stretched(desc, station) {
		return c.humidity
	}
	return float64(desc.DampBehind(station, c.airTemperature, c.airHumidity))
}

// dampShift is the logarithm of what a condition makes of the described leak time j.
func (a *layout) dampShift(cond, j int, at []float64) float64 {
	if a.moist == nil {
		return 0
	}
	shift := -math.Ln10 * a.fall[0] * a.moist[cond][j].over
	var more float64
	a.dampSlopes(cond, j, func(c int, of float64) { more += of * at[c] })
	return shift + min(max(more, -4), 4)
}

// dampSlopes calls follow with each unknown that dampShift follows, and its slope.
func (a *layout) dampSlopes(cond, j int, follow func(c int, slope float64)) {
	if a.moist == nil {
		return
	}
	m := &a.moist[cond][j]
	follow(a.damp, -math.Ln10*a.fall[1]*m.law)
	if a.conds[cond].humidity != a.conds[0].humidity {
		follow(a.damp+cond, -math.Ln10*a.fall[0]*hygrometer*m.share)
	}
}

// LeakFound is what readings tell of a way to earth.
type LeakFound struct {
	Station int         // where it begins
	Airs    []LeakInAir // the air of Changes and States first, then the others that were read in
	Prior   Estimate    // [s] its time constant as described, in the described air
	// Assumed says that how it follows the air is a judgement of such webs: the description
	// has no test of this one, and the readings correct it only as far as they show it.
	Assumed bool
}

// LeakInAir is the time constant of a leak in one air.
type LeakInAir struct {
	Humidity units.RelativeHumidity // at the web
	Time     Estimate               // [s]
}

// leaks fills what the readings tell of the ways to earth, and the line that has them so.
func (d *Diagnosis) leaks() error {
	l := d.model.lay
	d.settled = d.line
	if len(l.leaks) == 0 {
		return nil
	}
	times := func(i int, mean, sd float64) Estimate {
		tau := float64(d.desc.LeakTime(i))
		at := func(z float64) float64 { return min(max(tau*numeric.Exp(mean+z*sd), leastLeak), mostLeak) }
		return Estimate{Value: at(0), SD: at(0) * numeric.Exp(sd*sd/2) * math.Sqrt(math.Expm1(sd*sd)), Low: at(-known.Z95),
			High: at(known.Z95)}
	}
	desc := d.line.Description()
	for j, i := range l.leaks {
		f := LeakFound{Station: i, Prior: times(i, 0, leakDoubt), Assumed: l.moist != nil &&
			d.desc.Web.DecadesPerPercent == nil}
		seen := map[float64]bool{}
		for c := range l.conds {
			if seen[l.conds[c].humidity] {
				continue
			}
			seen[l.conds[c].humidity] = true
			e := make([]float64, l.n)
			e[l.leak+j] = 1
			l.dampSlopes(c, j, func(k int, slope float64) { e[k] += slope })
			more, variance := d.model.dual.moments(e)
			law := 0.0
			if l.moist != nil {
				law = -math.Ln10 * l.fall[0] * l.moist[c][j].over
			}
			f.Airs = append(f.Airs, LeakInAir{units.RelativeHumidity(l.conds[c].behind(&d.desc, i)),
				times(i, law+min(max(more, -6), 6), math.Sqrt(variance))})
		}
		d.Leaks = append(d.Leaks, f)
		held := desc.Stations[i].Leak // found at the temperature that the web has there
		held.Time, held.WebTemperature = units.Time(f.Airs[0].Time.Value), 0
		if t, own := desc.WebTemperature(i); own {
			held.WebTemperature = t
		}
	}
	var err error
	d.settled, err = line.New(&desc)
	return err
}
