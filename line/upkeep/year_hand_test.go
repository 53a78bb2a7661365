package upkeep

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// outdoors is so many hours of air of 20 °C with each dew point [°C] in turn; NaN is a gap.
func outdoors(t *testing.T, spells ...[2]float64) (out []humidity.Air) {
	t.Helper()
	for _, s := range spells {
		a := humidity.Air{}
		if !math.IsNaN(s[1]) {
			var err error
			a, err = humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(20)),
				humidity.DewPoint(units.Celsius(s[1])))
			if err != nil {
				t.Fatal(err)
			}
		}
		out = append(out, slices.Repeat([]humidity.Air{a}, int(s[0]))...)
	}
	return out
}

// 400 hours counted by hand: two weeks of 168 and a short one of 64. Over at the median are 85 hours from the first on,
// more than half of their week; 84 of the second, just half; 33 of the third. They touch 11, 11 and 5 shifts of 8 h. At
// the lower quantile one hour is over, at the upper one the last of one shift and the first of the next.
func TestTallyByHand(t *testing.T) {
	var c tally
	for i := range 400 {
		c.next(i, [3]bool{i == 7, i < 85 || i >= 168 && i < 252 || i >= 336 && i < 369, i == 7 || i == 8}, true)
	}
	c.close(400)
	if c.hours != [3]int{1, 85 + 84 + 33, 2} || c.weeks != [3]int{0, 2, 0} || c.shifts != [3]int{1, 11 + 11 + 5, 2} {
		t.Errorf("%v hours, %v weeks, %v shifts", c.hours, c.weeks, c.shifts)
	}
	if !slices.Equal(c.byWeek, []float64{85.0 / 168, 0.5, 33.0 / 64}) {
		t.Errorf("shares of the weeks %v", c.byWeek)
	}
	if !slices.Equal(c.spells, [][2]int{{0, 0}, {2, 2}}) {
		t.Errorf("spells %v", c.spells)
	}
	// Weeks that follow each other are one spell; gaps count as hours of the week and not of its share.
	c = tally{}
	for i := range 4 * 168 {
		c.next(i, [3]bool{1: i%168 < 100 && i/168 != 2}, i%168 < 120)
	}
	c.close(4 * 168)
	if !slices.Equal(c.spells, [][2]int{{0, 1}, {3, 3}}) || c.weeks[1] != 3 {
		t.Errorf("spells %v, %v weeks", c.spells, c.weeks)
	}
	if !slices.Equal(c.byWeek, []float64{100.0 / 120, 100.0 / 120, 0, 100.0 / 120}) {
		t.Errorf("shares of the weeks %v", c.byWeek)
	}
	// A week without air has a share of 0.
	c = tally{}
	for i := range 170 {
		c.next(i, [3]bool{}, false)
	}
	c.close(170)
	if !slices.Equal(c.byWeek, []float64{0, 0}) {
		t.Errorf("%v", c.byWeek)
	}
}

// The month of the largest share; of equals the one with the least dew, of equals again the first.
func TestDriestByHand(t *testing.T) {
	for _, c := range []struct {
		share, dew [12]float64
		want       time.Month
	}{
		{[12]float64{}, [12]float64{}, time.January},
		{[12]float64{}, [12]float64{11: -1}, time.December},
		{[12]float64{3: 0.2}, [12]float64{0: -9}, time.April},
		{[12]float64{0: 1, 1: 1, 2: 0.5}, [12]float64{0: -5, 1: -8, 2: -9}, time.February},
		{[12]float64{0: 1, 1: 1}, [12]float64{0: -8, 1: -8}, time.January},
	} {
		if got := driest(c.share, func(m int) float64 { return c.dew[m] }); got != c.want {
			t.Errorf("%v, %v: %v, by hand %v", c.share, c.dew, got, c.want)
		}
	}
}

// A humidifier holds its set point, no more; it adds nothing to air that is damper, and where it cannot it gives what
// it can. Humidity ratios in g/kg.
func TestHoldByHand(t *testing.T) {
	for _, c := range [][4]float64{ // set, without, with it at its most, in the hall
		{7, 5, 9, 7}, {7, 5, 6, 6}, {7, 8, 12, 8}, {math.Inf(1), 5, 9, 9}, {-1, 5, 9, 5},
	} {
		if got := (&indoors{set: c[0]}).hold(c[1], c[2]); got != c[3] {
			t.Errorf("%v: %v", c, got)
		}
	}
}

// The forecast by hand: dew points of 0 and 18 °C lie on either side of the 12.8 °C at which the feeder needs damp
// air, in a hall without memory. 168 hours dry, 168 damp, 218 dry: the first week, and the third and fourth up to the
// last hour.
func TestCalendarByHand(t *testing.T) {
	need := []Need{press(t, 12000, 27, 1.74)}
	y, err := ForecastYear(need, fast(t, Hall{}), Weather{Hourly: outdoors(t, [2]float64{168, 0}, [2]float64{168, 18},
		[2]float64{218, 0})})
	if err != nil {
		t.Fatal(err)
	}
	from := time.Date(2001, time.January, 1, 0, 0, 0, 0, time.UTC) // a Monday
	want := []Spell{{from, from.Add(167 * time.Hour)}, {from.Add(336 * time.Hour), from.Add(553 * time.Hour)}}
	if !slices.Equal(y.Calendar, want) || from.Weekday() != time.Monday {
		t.Errorf("%v, by hand %v", y.Calendar, want)
	}
	if y.Hours[1] != 386*units.Hour || y.Weeks[1] != 3 || y.Shifts[1] != 21+28 || y.Missing != 0 ||
		y.Months != [12]float64{386.0 / 554} || y.Driest != time.January {
		t.Errorf("%+v", y)
	}
	// Half a day on each side of the first of February; damp both, so that the drier month is the one with less dew.
	begin := time.Date(2025, time.January, 31, 12, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		dew    [2]float64
		months [2]float64
		driest time.Month
	}{{[2]float64{0, 18}, [2]float64{1, 0}, time.January}, {[2]float64{18, 0}, [2]float64{0, 1}, time.February},
		{[2]float64{18, 16}, [2]float64{}, time.February}, {[2]float64{16, 18}, [2]float64{}, time.January}} {
		y, err := ForecastYear(need, fast(t, Hall{}), Weather{Begin: begin,
			Hourly: outdoors(t, [2]float64{12, c.dew[0]}, [2]float64{12, c.dew[1]})})
		if err != nil {
			t.Fatal(err)
		}
		if y.Months != [12]float64{c.months[0], c.months[1]} || y.Driest != c.driest {
			t.Errorf("%v: months %v, driest %v", c.dew, y.Months, y.Driest)
		}
	}
	// What comes first may be a gap; nothing but gaps tells nothing.
	y, err = ForecastYear(need, fast(t, Hall{}), Weather{Hourly: outdoors(t, [2]float64{3, math.NaN()}, [2]float64{30,
		0})})
	if err != nil || y.Missing != 3 || y.Hours[1] != 30*units.Hour || y.Shifts[1] != 5 {
		t.Errorf("%+v, %v", y, err)
	}
	_, err = ForecastYear(need, fast(t, Hall{}), Weather{Hourly: outdoors(t, [2]float64{30, math.NaN()})})
	if err == nil || !strings.Contains(err.Error(), "no air at all") {
		t.Errorf("gaps alone: %v", err)
	}
}

// A limit above the charge needs no air and leaves no hour over; its upper quantile of 6 + 1.645·0.6 = 6.99 µC/m² needs
// some where the limit is 6.5.
func TestForecastOfNoNeed(t *testing.T) {
	for limit, want := range map[float64][3]bool{20: {}, 6.5: {2: true}} {
		y, err := ForecastYear([]Need{press(t, 12000, 27, limit)}, fast(t, Hall{}), Weather{Hourly: outdoors(t,
			[2]float64{24, -20})})
		if err != nil {
			t.Fatal(err)
		}
		for k, over := range want {
			if (y.Hours[k] > 0) != over || (y.Outdoor[k] != units.Celsius(-150)) != over {
				t.Errorf("limit %g: hours %v, outdoors %v", limit, y.Hours, y.Outdoor)
			}
		}
	}
}

// A need whose upper quantile is beyond saturated air (TestUnreachedByHand) is over at that quantile in any weather:
// the place at 27 °C asks for its dew point of 27 °C.
func TestForecastUnreached(t *testing.T) {
	n := press(t, 12000, 27, 1.74)
	n.Leak, n.AirError = sheetLaw(t, 3), 0.06
	y, err := ForecastYear([]Need{n}, fast(t, Hall{}), Weather{Hourly: outdoors(t, [2]float64{24, 18})})
	if err != nil {
		t.Fatal(err)
	}
	if y.Hours != [3]units.Time{0, 0, 24 * units.Hour} || y.Outdoor[0] != units.Celsius(-150) {
		t.Errorf("hours %v, outdoors %v", y.Hours, y.Outdoor)
	}
	near(t, "dew point outdoors", celsius(y.Outdoor[2]), 27, 0.1)
}

// The outdoor dew point is the inverse of what the hall makes of outdoor air. At 0 °C and a dew point of −5 °C (4.222
// hPa over water by Magnus' formula, 0.4 % more in air) 4000 m³/h counted outdoors are 5,148 kg/h of dry air with
// 2.612 g/kg, to which 4 kg/h of people and goods add 0.777; a humidifier of 8 kg/h whose set point is damp enough
// adds 1.554, one whose set point is drier nothing. More vapour than the place needs keeps it in any weather.
func TestOutdoorForByHand(t *testing.T) {
	out, err := humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(0)),
		humidity.DewPoint(units.Celsius(-5)))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		gain, most, set float64 // kg/h, kg/h, °C
		want            float64 // g/kg in the hall
	}{{4, 0, 0, 2.612 + 0.777}, {4, 8, 15, 2.612 + 0.777 + 1.554}, {4, 8, -20, 2.612 + 0.777}, {0, 0, 0, 2.612}} {
		h := Hall{Temperature: units.Celsius(22), Most: units.MassFlow(c.most / 3600), SetPoint: duct(t, c.set)}
		h.Room, err = humidity.NewRoom(humidity.RoomSpec{Volume: 3200, Ventilation: units.VolumeFlow(4000.0 / 3600),
			Gain: units.MassFlow(c.gain / 3600), CountedAt: humidity.AtOutdoor})
		if err != nil {
			t.Fatal(err)
		}
		in, err := h.indoors()
		if err != nil {
			t.Fatal(err)
		}
		room := in.room
		if c.set > 0 {
			room = in.wet
		}
		target, err := room.Steady(out, h.Temperature)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "g/kg in the hall", 1e3*float64(target.HumidityRatio()), c.want, 0.01)
		near(t, "outdoor dew point", celsius(in.outdoorFor(target)), -5, 0.003)
	}
	h := fast(t, Hall{Most: units.MassFlow(100.0 / 3600), AlwaysOn: true})
	in, err := h.indoors()
	if err != nil {
		t.Fatal(err)
	}
	if got := in.outdoorFor(duct(t, 5)); got != units.Celsius(-150) || !math.IsInf(in.set, 1) {
		t.Errorf("100 kg/h in 4,700 kg/h of air are 21 g/kg, the 5.4 of 5 °C in any weather: %v", got)
	}
}

// Monthly means by hand: a threshold at the mean of a month leaves half of its 730 hours, a deviation below it Φ(−1)
// = 0.158655 of them.
func TestMonthlyByHand(t *testing.T) {
	var mean [12]units.Temperature
	for m := range mean {
		mean[m] = units.Celsius(40)
	}
	y := Year{Outdoor: [3]units.Temperature{units.Celsius(6), units.Celsius(10), units.Celsius(14)}}
	mean[4], mean[6] = units.Celsius(10), units.Celsius(14)
	y.monthly(&Weather{Monthly: &mean, Within: 4})
	for k, want := range []float64{730 * (0.158655 + 0.022750), 730 * (0.5 + 0.158655), 730 * (0.841345 + 0.5)} {
		near(t, "hours", float64(y.Hours[k]/units.Hour), want, 0.01)
	}
	near(t, "May", y.Months[4], 0.5, 1e-12)
	near(t, "July", y.Months[6], 0.158655, 1e-6)
	if y.Driest != time.May {
		t.Errorf("%v", y.Driest)
	}
}

// A station that has no lower limit to its air: the law 10^(2.9 − 0.085·RH) s falls to τ at (2.9 − lg τ)/0.085 %RH,
// with 0.1 decades of doubt one deviation up 1.18 % later; in dry air it stands at 794 s, in saturated air at 2.5 µs.
func TestCrossingByHand(t *testing.T) {
	law := sheetLaw(t, 0.1)
	for _, c := range []struct{ tau, z, want float64 }{
		{1, 0, 2.9 / 8.5}, {1, 1, 3.0 / 8.5}, {1, -1, 2.8 / 8.5}, {800, 0, 0}, {790, 1, 0.1 / 8.5}, {2.4e-6, 0, 1}, {790,
			-1, 0},
		{790, 0, (2.9 - math.Log10(790)) / 8.5},
	} {
		got, err := crossing(law, c.tau, c.z, units.Celsius(27))
		if err != nil {
			t.Fatal(err)
		}
		tolerance := 1e-9
		if c.tau == 790 && c.z == 1 {
			tolerance = 0.003 // lg 790 is 2.8976
		}
		near(t, "crossing", got, c.want, tolerance)
	}
	if _, err := crossing(humidity.LogLinear[units.Time]{}, 1, 0, units.Celsius(27)); err == nil ||
		!strings.Contains(err.Error(), "need.leak") {
		t.Errorf("a law without a value: %v", err)
	}
}

// A doubt that reaches beyond saturated air is told, and no more than 100 %RH is asked for: 41.36 %RH and three decades
// of law up, 1.645·3/0.085 = 58.06 %RH, with the hygrometer's 4 or 6 % √(58.06² + (1.645·4)²) = 58.43 or 58.89 %RH.
func TestUnreachedByHand(t *testing.T) {
	n := press(t, 12000, 27, 1.74)
	n.Leak, n.Start = sheetLaw(t, 3), known.Band{Value: 6e-6}
	for air, want := range map[units.RelativeHumidity]float64{0.04: 0.9979, 0.06: 1} {
		n.AirError = air
		got, err := n.Threshold()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "upper end", float64(got.Humidity[2]), want, 1e-4)
		near(t, "lower end", float64(got.Humidity[0]), 0, 0)
		near(t, "law, cut at 0", float64(got.Law), 0.99419/(2*1.644854), 1e-4)
		if got.Unreached != (want == 1) || got.Never {
			t.Errorf("%v: %+v", air, got)
		}
	}
}
