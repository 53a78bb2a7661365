package survey

import (
	"cmp"
	"math"
	"slices"
	"time"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// condition is a speed, an air and a day at which readings were taken.
type condition struct {
	speed    units.Speed
	humidity float64 // over water, at the web [1]; what was not recorded counts as what was recorded most
	day      string  // the same
	count    int
	// The air itself, of which humidity is that at the web.
	airTemperature units.Temperature
	airHumidity    units.RelativeHumidity
	// Against the reference condition: the logarithm of the ratio of speeds, and
	// whether air or day are others.
	rho                float64
	otherAir, otherDay bool
}

// Speeds within 5 % of each other and humidities within 10 %RH are one condition:
// below that two speeds or airs cannot be told apart by what they do. Where the web leaks
// by its moisture they can sooner: then as far as two hygrometers differ.
const (
	sameSpeed    = 1.05
	sameHumidity = 0.10
	sameLeak     = 0.05
)

// conditions sorts the readings of the running web into conditions and returns
// them, the reference first: the one with most readings, the one nearest to the
// described speed where two have as many. of says to which one a reading belongs.
func conditions(s *Survey, desc *line.Description, running []int) (list []condition, of map[int]int) {
	apart := sameHumidity
	if followsAir(desc) {
		apart = sameLeak
	}
	damp := func(r *Reading) float64 { // 0 where nobody looked, or at the thermometer only
		if h := float64(desc.Web.Damp(r.AirTemperature, r.AirHumidity)); r.HasAir && h > 0 {
			return h
		}
		return 0
	}
	speed, air := map[float64]float64{}, map[float64]float64{}
	days, airs := map[string]int{}, map[float64]int{}
	temperatures, humidities := map[float64][]float64{}, map[float64][]float64{} // of the air, by that at the web
	var vs, hs []float64
	for _, i := range running {
		vs = append(vs, float64(s.Readings[i].Speed))
		if h := damp(&s.Readings[i]); h > 0 {
			hs = append(hs, h)
		}
	}
	cluster(vs, speed, func(first, x float64) bool { return x <= sameSpeed*first })
	cluster(hs, air, func(first, x float64) bool { return x <= first+apart })
	for _, i := range running {
		r := &s.Readings[i]
		if h := damp(r); h > 0 {
			h = air[h]
			airs[h]++
			temperatures[h] = append(temperatures[h], float64(r.AirTemperature))
			humidities[h] = append(humidities[h], float64(r.AirHumidity))
		}
		if !r.Time.IsZero() {
			days[day(r.Time)]++
		}
	}
	usualAir, usualDay := most(airs), most(days)
	if len(airs) == 0 { // nobody looked: that of the description
		usualAir = describedDamp(desc)
	}
	aired := func(h float64) (units.Temperature, units.RelativeHumidity) {
		if len(airs) == 0 {
			return desc.Air.Temperature, desc.Air.RelativeHumidity
		}
		return units.Temperature(mean(temperatures[h])), units.RelativeHumidity(mean(humidities[h]))
	}
	of = map[int]int{}
	for _, i := range running {
		r := &s.Readings[i]
		c := condition{speed: units.Speed(speed[float64(r.Speed)]), humidity: usualAir, day: usualDay}
		if h := damp(r); h > 0 {
			c.humidity = air[h]
		}
		if !r.Time.IsZero() {
			c.day = day(r.Time)
		}
		k := slices.IndexFunc(
			list,
			func(o condition) bool { return o.speed == c.speed && o.day == c.day && o.humidity == c.humidity },
		)
		if k < 0 {
			k = len(list)
			c.airTemperature, c.airHumidity = aired(c.humidity)
			list = append(list, c)
		}
		list[k].count++
		of[i] = k
	}
	// The order must not depend on that of the rows.
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	away := func(c condition) float64 { return math.Abs(math.Log(float64(c.speed) / float64(desc.Speed))) }
	slices.SortFunc(order, func(a, b int) int {
		x, y := list[a], list[b]
		return cmp.Or(cmp.Compare(y.count, x.count), cmp.Compare(away(x), away(y)), cmp.Compare(x.speed, y.speed),
			cmp.Compare(x.humidity, y.humidity), cmp.Compare(x.day, y.day))
	})
	sorted, place := make([]condition, len(list)), make([]int, len(list))
	for i, k := range order {
		sorted[i], place[k] = list[k], i
	}
	for i := range of {
		of[i] = place[of[i]]
	}
	for i := range sorted {
		c, ref := &sorted[i], &sorted[0]
		c.rho = math.Log(float64(c.speed) / float64(ref.speed))
		c.otherAir, c.otherDay = c.humidity != ref.humidity, c.day != ref.day
	}
	return sorted, of
}

// mean is that of values in any order, to the last bit.
func mean(x []float64) float64 {
	slices.Sort(x)
	var sum float64
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

// cluster maps each value to the mean of those that count as the same.
func cluster(x []float64, to map[float64]float64, same func(first, x float64) bool) {
	slices.Sort(x)
	for i := 0; i < len(x); {
		j := i
		var sum float64
		for ; j < len(x) && same(x[i], x[j]); j++ {
			sum += x[j]
		}
		for k := i; k < j; k++ {
			to[x[k]] = sum / float64(j-i)
		}
		i = j
	}
}

// most returns the key that was counted most, the least of those that draw.
func most[K cmp.Ordered](counts map[K]int) (key K) {
	best := 0
	for k, n := range counts {
		if n > best || n == best && k < key {
			key, best = k, n
		}
	}
	return key
}

func day(t time.Time) string { return t.Format(time.DateOnly) }
