package kits

import (
	"errors"
	"flag"
	"math"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/linetest"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// desk is where changes are tried, on a line behind it. A thrifty one keeps what a
// changed line carries in 32 bits.
type desk struct {
	linetest.Decider
	tried   []cure.Change
	thrifty bool
}

func (d desk) With(changes ...cure.Change) (linetest.Decider, error) {
	m, err := d.Decider.With(changes...)
	return desk{m, append(d.tried[:len(d.tried):len(d.tried)], changes...), d.thrifty}, err
}

func (d desk) Predict() cure.Prediction {
	p := d.Decider.Predict()
	for i := range p.Stations {
		for k, x := range p.Stations[i].A {
			if d.thrifty && d.tried != nil {
				p.Stations[i].A[k] = float64(float32(x))
			}
		}
	}
	return p
}

func TestDesk(t *testing.T) {
	open := func(thrifty bool) linetest.DeciderMaker {
		return func(l *line.Description, s *cure.Site) (linetest.Decider, error) {
			m, err := linetest.Decides(l, s)
			return desk{Decider: m, thrifty: thrifty}, err
		}
	}
	// fewer inputs and laws than of the other kits: each makes 2000 lines
	few := flag.Lookup("rapid.checks").Value.String()
	_ = flag.Set("rapid.checks", "5")
	defer func() { _ = flag.Set("rapid.checks", few) }()
	kit := linetest.Cures()
	kit.Laws = kit.Laws[:2]
	hold(t, kit)(open(false), open(true), "place added")
}

// almanac counts the hours of a year in which a place is too dry, month by month. A
// cold one takes the humidity that a station needs at the temperature of the hall.
type almanac struct{ cold bool }

func (a almanac) year(needs []upkeep.Need, h upkeep.Hall, w upkeep.Weather) (upkeep.Year, error) {
	var y upkeep.Year
	n := needs[0]
	if len(needs) != 1 || w.Monthly == nil || !(n.Start.Value > float64(n.Limit)) {
		return y, errors.New("not for this almanac")
	}
	room := h.Room.Spec()
	at := n.At
	if a.cold {
		at = h.Temperature
	}
	for k, z := range []float64{-known.Z95, 0, known.Z95} {
		need := math.Log10(float64(n.Dwell) / math.Log(n.Start.Value/float64(n.Limit))) // log10 of s
		lo, hi := units.RelativeHumidity(0), units.RelativeHumidity(1)
		for range 50 {
			mid := (lo + hi) / 2
			air, err := humidity.NewAir(at, mid, units.Atmosphere)
			if err != nil || math.Log10(float64(n.Leak.Value(air)))+z*n.Leak.Decades(air) > need {
				lo = mid
			} else {
				hi = mid
			}
		}
		e := float64(hi) * overWater(at) // [Pa]
		y.Threshold.Humidity[k], y.Threshold.DewPoint[k] = hi, inverse(e, 17.62, 243.12)
		extra := float64(room.Gain) // [kg/s]
		if h.AlwaysOn || h.SetPoint.DewPoint() >= y.Threshold.DewPoint[k] {
			extra += float64(h.Most)
		}
		// A kilogram a second into so many m³/s adds ρ·R·T to the pressure of the vapour.
		e -= extra / float64(room.Ventilation) * 461.5 * float64(h.Temperature)
		out := -math.MaxFloat64
		if e > 0 {
			out = float64(inverse(e, 17.62, 243.12))
		}
		y.Outdoor[k] = units.Temperature(max(out, float64(units.Celsius(-150))))
		for _, mean := range w.Monthly {
			below := 0.5 * math.Erfc((float64(mean)-out)/float64(w.Within)/math.Sqrt2)
			y.Hours[k] += units.Time(below * 8760 / 12 * float64(units.Hour))
		}
	}
	y.Binding = n.Station
	return y, nil
}

func TestAlmanac(t *testing.T) {
	hold(t, linetest.Seasons())(almanac{}.year, almanac{cold: true}.year, "place")
}

// days compares the means of two days whose spots scatter as much as is known
// beforehand. A keen one takes repeats for spots.
type days struct{ keen bool }

// mean returns the mean of the spots and how many there are.
func (d days) mean(r upkeep.Readings) (mean, spots float64) { // [V], [1]
	sums, counts := map[int]float64{}, map[int]float64{}
	for i, v := range r.Values {
		k := i
		if r.Spots != nil && !d.keen {
			k = r.Spots[i]
		}
		sums[k] += float64(v)
		counts[k]++
	}
	for k := range len(r.Values) { // in order, so that the sum has the same bits each time
		if counts[k] > 0 {
			mean += sums[k] / counts[k]
			spots++
		}
	}
	return mean / spots, spots
}

func (d days) compare(before, after upkeep.Readings, s upkeep.Scatter, w *upkeep.Weathering) (upkeep.Comparison,
	error) {
	a, na := d.mean(before)
	b, nb := d.mean(after)
	if !(a*b > 0) || s.Spots == 0 {
		return upkeep.Comparison{}, errors.New("not for this comparison")
	}
	left := func(r upkeep.Readings) float64 { return -float64(w.Dwell) / float64(w.Time.Value(r.Air)) }
	c := upkeep.Comparison{Weather: math.Exp(left(after) - left(before)), Observed: b / a, Corrected: true}
	sd := float64(s.Spots) * math.Sqrt(1/na+1/nb)
	c.Effect.Middle = c.Observed / c.Weather
	c.Effect.Low, c.Effect.High = c.Effect.Middle*math.Exp(-1.96*sd), c.Effect.Middle*math.Exp(1.96*sd)
	c.P = math.Erfc(math.Abs(math.Log(c.Effect.Middle)) / sd / math.Sqrt2)
	c.PlainP = math.Erfc(math.Abs(math.Log(c.Observed)) / sd / math.Sqrt2)
	return c, nil
}

func TestDays(t *testing.T) {
	hold(t, linetest.Comparisons())(days{}.compare, days{keen: true}.compare, "repeats")
}
