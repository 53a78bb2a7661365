package line_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Saturation pressures over water by Magnus with the constants of Sonntag 1990 and WMO-No. 8,
// 6.112 hPa·exp(17.62·t/(243.12 + t)), worked out by hand: 20.591 hPa at 18 °C, 28.025 at 23 °C, 37.712 at 28 °C.
// The steam tables have 20.65, 28.11 and 37.83 (from memory): their ratios are the same to 0.1 %.
const sat18, sat23, sat28 = 20.591, 28.025, 37.712

// stretched is a web that comes with 5 µC/m² on face A at 1 m/s through air of 23 °C and 45 %RH, over two ways of 1 m
// with a leak of 1 s each. The law is 0.085 decades per %RH.
func stretched(class humidity.Class, fall float64) *line.Description {
	d := short()
	const uC = units.MicrocoulombPerSquareMetre
	d.Web.Humidity, d.Web.VolumeResistivity = class, 1e20
	d.Web.DecadesPerPercent = &known.Band{Value: fall}
	d.Air.Temperature, d.Air.RelativeHumidity, d.Speed = units.Celsius(23), 0.45, 1
	leak := func() *line.LeakSpec { return &line.LeakSpec{Path: decay.EarthedEdge, Time: units.Second} }
	d.Stations = []line.StationSpec{
		{Name: "unwind", Kind: line.Unwind, Leak: leak(), Change: []line.ChangeSpec{
			{Face: line.FaceA, Median: 5 * uC, Spread: uC, Exposure: 50}, {Face: line.FaceB, Spread: uC, Exposure: 50}}},
		{Name: "oven", Kind: line.Place, At: 1, Gap: 0.3, Leak: leak()},
		{Name: "exit", Kind: line.Place, At: 2, Gap: 0.3, Leak: leak()},
		{Name: "winder", Kind: line.Winder, At: 3}}
	return d
}

func nets(t *testing.T, d *line.Description) (out [4]float64) {
	t.Helper()
	l := newLine(t, d)
	res := make([]line.Result, l.Len())
	l.RunTo(res, 1)
	for i := range out {
		out[i] = 1e6 * float64(res[i].Net())
	}
	return out
}

// TestHeatedStretch: at 28 °C the water of 23 °C and 45 %RH is 45·28.025/37.712 = 33.44 %RH, 11.56 %RH less, and
// by 0.085 decades per %RH a leak of 1 s takes 10^0.9826 = 9.61 s: of 5 µC/m² 5/e = 1.839 are left behind the
// first way, times e^(−1/9.61) = 0.9012 behind the second, 1.658. Where an exit gives 23 °C again the third leaks
// in 1 s as the first: 0.610. A web that is chilled to 18 °C is at 45·28.025/20.591 = 61.25 %RH: 10^(−0.085·16.25)
// = 0.0416 s, nothing is left.
func TestHeatedStretch(t *testing.T) {
	d := stretched(humidity.Adsorbing, 0.085)
	d.Stations[1].WebTemperature = units.Celsius(28)
	a := &d.Air
	if got := float64(d.DampBehind(1, a.Temperature, a.RelativeHumidity)); !(math.Abs(got-0.45*sat23/sat28) <= 5e-4) {
		t.Errorf("%v at the web, by hand 0.3344", got)
	}
	ratio := math.Pow(10, 0.085*45*(1-sat23/sat28))
	for i, want := range []float64{1, ratio, ratio} {
		if got := float64(d.LeakTime(i)); !(math.Abs(got/want-1) <= 0.01) {
			t.Errorf("way %d: %v s, by hand %v", i, got, want)
		}
	}
	d.Stations[2].WebTemperature = units.Celsius(23)
	for i, want := range [4]float64{5, 1.839, 1.658, 0.610} {
		if got := nets(t, d)[i]; !(math.Abs(got-want) <= 2e-3) {
			t.Errorf("station %d: %v µC/m², by hand %v", i, got, want)
		}
	}
	d.Stations[1].WebTemperature = units.Celsius(18)
	if got, want := float64(d.LeakTime(1)), math.Pow(10, 0.085*45*(1-sat23/sat18)); !(math.Abs(got/want-1) <= 0.01) {
		t.Errorf("chilled %v s, by hand %v", got, want)
	}
	if got := nets(t, d); !(got[2] < 1e-6) || got[1] != nets(t, stretched(humidity.Adsorbing, 0.085))[1] {
		t.Errorf("chilled: %v", got)
	}
}

// TestStretchWhereNothingFollows: an inert web and one whose leak does not follow water keep every bit; a
// temperature that is that of the web anyhow too, and a time that was found at the temperature of the stretch.
// What stands at one station reaches those behind it.
func TestStretchWhereNothingFollows(t *testing.T) {
	for what, c := range map[string]struct {
		class  humidity.Class
		fall   float64
		change func(d *line.Description)
	}{
		"inert": {humidity.Inert, 0, func(d *line.Description) { d.Stations[1].WebTemperature = units.Celsius(60) }},
		"deaf":  {humidity.Adsorbing, 0, func(d *line.Description) { d.Stations[1].WebTemperature = units.Celsius(60) }},
		"room": {humidity.Adsorbing, 0.085, func(d *line.Description) {
			d.Web.Temperature, d.Stations[1].WebTemperature = units.Celsius(23), units.Celsius(23)
		}},
		"found there": {humidity.Adsorbing, 0.085, func(d *line.Description) {
			d.Stations[1].WebTemperature = units.Celsius(28)
			d.Stations[1].Leak.WebTemperature, d.Stations[2].Leak.WebTemperature = units.Celsius(28), units.Celsius(28)
		}},
		"found there, absorbing": {humidity.Absorbing, 0.085, func(d *line.Description) {
			d.Stations[1].WebTemperature = units.Celsius(28)
			d.Stations[1].Leak.WebTemperature, d.Stations[2].Leak.WebTemperature = units.Celsius(28), units.Celsius(28)
		}},
	} {
		d := stretched(c.class, c.fall)
		c.change(d)
		if got, want := nets(t, d), nets(t, stretched(c.class, c.fall)); got != want {
			t.Errorf("%s: %v, was %v", what, got, want)
		}
	}
	// Found at 28 °C, used at 23 °C: 1/9.61 s.
	d := stretched(humidity.Adsorbing, 0.085)
	d.Stations[1].Leak.WebTemperature = units.Celsius(28)
	if got, want := float64(d.LeakTime(1)), math.Pow(10, -0.085*45*(1-sat23/sat28)); !(math.Abs(got/want-1) <= 0.01) {
		t.Errorf("%v s, by hand %v", got, want)
	}
	d.Stations[0].WebTemperature = units.Celsius(28)
	for _, i := range []int{0, 3} {
		if got := float64(d.DampBehind(i, units.Celsius(23), 0.45)); !(math.Abs(got-0.45*sat23/sat28) <= 5e-4) {
			t.Errorf("station %d: %v", i, got)
		}
	}
	for i, want := range []bool{true, true, true, true, false} {
		if got, own := d.WebTemperature(i); own != want || want != (got == units.Celsius(28)) {
			t.Errorf("station %d: %v, %v", i, got, own)
		}
	}
}

// TestStretchFaults: each is told with its path, the value as written and what is wanted; the dew point of 23 °C
// and 45 %RH is 10.4 °C (Magnus), and 11 °C is accepted.
func TestStretchFaults(t *testing.T) {
	const oven, leak = "stations[1] (oven).webTemperature", "stations[1] (oven).leak.webTemperature"
	web := func(station int, celsius float64) func(d *line.Description) {
		return func(d *line.Description) { d.Stations[station].WebTemperature = units.Celsius(celsius) }
	}
	for what, c := range map[string]struct {
		spoil       func(d *line.Description)
		field, want string
	}{
		"hot":  {web(1, 200.1), oven, "200"},
		"cold": {web(1, -40.1), oven, "-40"},
		"dew":  {web(1, 10), oven, "condenses"},
		"winder": {web(3, 30), "stations[3] (winder).webTemperature",
			"nothing at a winder"},
		"leak": {func(d *line.Description) { d.Stations[1].Leak.WebTemperature = units.Celsius(300) }, leak,
			"200"},
		"absorbing": {func(d *line.Description) {
			d.Web.Humidity, d.Stations[1].WebTemperature = humidity.Absorbing, units.Celsius(28)
		}, leak, "measured there"},
		"absorbing behind": {func(d *line.Description) {
			d.Web.Humidity, d.Stations[1].WebTemperature = humidity.Absorbing, units.Celsius(28)
			d.Stations[1].Leak = nil
		}, "stations[2] (exit).leak.webTemperature", "measured there"},
		"absorbing without": {func(d *line.Description) {
			d.Web.Humidity, d.Stations[1].Leak.WebTemperature = humidity.Absorbing, units.Celsius(28)
		}, leak, "nothing where"},
	} {
		d := stretched(humidity.Adsorbing, 0.085)
		c.spoil(d)
		_, err := line.New(d)
		if err == nil || !strings.Contains(err.Error(), c.field) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", what, err)
		}
	}
	for left, value := range map[units.Temperature]string{0: "", units.Celsius(27): "27 °C"} { // as it was written
		d := stretched(humidity.Absorbing, 0.085)
		d.Stations[0].WebTemperature = units.Celsius(28)
		d.Stations[1].Leak.WebTemperature = left
		_, err := line.New(d)
		var list interface{ Unwrap() []error }
		if !errors.As(err, &list) {
			t.Fatal(err)
		}
		var f *known.FieldError
		if faults := list.Unwrap(); len(faults) != 3 || !errors.As(faults[1], &f) || f.Field != leak || f.Value != value {
			t.Errorf("%v", faults)
		}
	}
	first := stretched(humidity.Adsorbing, 0.085)
	first.Stations[0].WebTemperature = units.Celsius(10)
	if _, err := line.New(first); err == nil || !strings.Contains(err.Error(), "stations[0] (unwind)") {
		t.Errorf("dew from the unwind on: %v", err)
	}
	for _, celsius := range []float64{-40, 11, 200} {
		d := stretched(humidity.Adsorbing, 0.01)
		d.Stations[1].WebTemperature = units.Celsius(celsius)
		if celsius < 0 {
			d.Air.RelativeHumidity = 0 // no water at all
		}
		if _, err := line.New(d); err != nil {
			t.Error(err)
		}
	}
	// Above the law of a leak that would take longer than 1e12 s, or less than 1 ns, stands the bound of a leak.
	d := stretched(humidity.Adsorbing, 1)
	d.Stations[1].WebTemperature = units.Celsius(60)
	if got := d.LeakTime(1); got != 1e12 {
		t.Errorf("%v", got)
	}
	if d.Stations[1].WebTemperature = units.Celsius(12); d.LeakTime(1) != 1e-9 {
		t.Errorf("%v", d.LeakTime(1))
	}
}

// TestDewOnTheWeb: the first station that is as cold as the dew point is found, below 0 °C by the frost point: air
// of 23 °C with a dew point of −10 °C frosts at −8.9 °C (from memory of psychrometric tables: −10 °C over water is
// 2.863 hPa, over ice reached at −8.9 °C).
func TestDewOnTheWeb(t *testing.T) {
	d := stretched(humidity.Inert, 0)
	d.Stations[1].WebTemperature, d.Stations[2].WebTemperature = units.Celsius(30), units.Celsius(-9.5)
	a, err := humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(23)),
		humidity.DewPoint(units.Celsius(-10)))
	if err != nil {
		t.Fatal(err)
	}
	if i, dew := d.Condensing(a); i != 2 || !(math.Abs(dew.Celsius()+8.9) <= 0.1) {
		t.Errorf("station %d, %v", i, dew)
	}
	d.Stations[2].WebTemperature = units.Celsius(-8.5)
	if i, _ := d.Condensing(a); i != -1 {
		t.Errorf("station %d", i)
	}
}

// TestStretchRoundTrip: the temperatures are written and read again.
func TestStretchRoundTrip(t *testing.T) {
	d := stretched(humidity.Adsorbing, 0.085)
	d.Stations[1].WebTemperature, d.Stations[1].Leak.WebTemperature = units.Celsius(60), units.Celsius(55)
	b, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	again, err := line.ReadDescription(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(d, again, cmpopts.IgnoreUnexported(line.Description{}),
		cmpopts.EquateApprox(1e-12, 0)); diff != "" {
		t.Error(diff)
	}
	if got, want := nets(t, again), nets(t, d); !cmp.Equal(got, want, cmpopts.EquateApprox(1e-9, 0)) {
		t.Errorf("%v, was %v", got, want)
	}
	bad := strings.Replace(string(b), `"webTemperature":"60 °C"`, `"webTemperature":"400 °F"`, 1)
	if _, err := line.ReadDescription(strings.NewReader(bad)); err != nil || bad == string(b) {
		t.Fatalf("%v in %s", err, bad)
	} else if d, _ := line.ReadDescription(strings.NewReader(bad)); d != nil {
		_, err = line.New(d)
		if err == nil || !strings.Contains(err.Error(), "400 °F") || !strings.Contains(err.Error(), "392 °F") {
			t.Error(err)
		}
	}
}
