package humidity

import (
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Three examples in public circulation are wrong; none may come out of here.
func TestWrongPublicExamplesAreNotReproduced(t *testing.T) {
	heated := func(t1 units.Temperature, rh units.RelativeHumidity, t2 units.Temperature) float64 {
		return 100 * float64(mustAir(t, IAPWS, units.Atmosphere, DryBulb(t1), RH(rh)).At(t2).RelativeHumidity())
	}
	for _, c := range []struct {
		what              string
		got, right, wrong float64
	}{
		// 5 and 22 g/m³, rounded, at constant volume.
		{"0 °C saturated to 25 °C", heated(units.Celsius(0), units.RelativeHumidity(1), units.Celsius(25)), 19.29, 23},
		// RH over water 8.9 %, over ice 8.3 %.
		{"20 °F 60 % to 70 °F", heated(units.Fahrenheit(20), 60*units.PercentRH, units.Fahrenheit(70)), 8.9, 6},
		// A lost minus sign: 14 % is −5 °C.
		{"5 °C 80 % to 20 °C", heated(units.Celsius(5), 80*units.PercentRH, units.Celsius(20)), 29.84, 14},
	} {
		if !(math.Abs(c.got-c.right) <= 0.1) || math.Abs(c.got-c.wrong) < 2 {
			t.Errorf("%s: %.2f %%, right %.2f %%, wrong %.0f %%", c.what, c.got, c.right, c.wrong)
		}
	}
	// Constant volume is wrong by T_in/T_out: the library must differ from it.
	out := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(-10)), RH(80*units.PercentRH))
	in := out.At(units.Celsius(20))
	near(t, "vapour density falls by T_out/T_in", float64(in.VapourDensity())/float64(out.VapourDensity()), 263.15/293.15,
		1e-12)
}

// The supersaturated winter air begins where saturation over ice is met: 82.2 %
// over water at −20 °C, 90.7 % at −10 °C, by published saturation pressures.
func TestSupersaturatedWinterAir(t *testing.T) {
	for _, c := range [][2]float64{{-20, 82.2}, {-10, 90.7}} {
		for d, want := range map[float64]bool{-0.2: false, 0.2: true} {
			a, err := NewAir(units.Celsius(c[0]), units.RelativeHumidity((c[1]+d)/100), units.Atmosphere)
			if err != nil {
				t.Fatal(err)
			}
			if a.Supersaturated() != want || (a.WetBulb() > a.Temperature()) != want {
				t.Errorf("%g °C %g %%: supersaturated %v, ice bulb %v", c[0], c[1]+d, a.Supersaturated(), a.WetBulb())
			}
			if a.DewPoint() > a.Temperature() {
				t.Error("dew point over water above the dry bulb")
			}
		}
	}
}

func TestAirWithoutAirAndVapour(t *testing.T) {
	var zero Air
	for name, v := range map[string]float64{"RH": float64(zero.RelativeHumidity()), "dew": float64(zero.DewPoint()),
		"frost": float64(zero.FrostPoint()),
		"wet":   float64(zero.WetBulb()), "W": float64(zero.HumidityRatio()), "d": float64(zero.VapourDensity()),
		"h": float64(zero.Enthalpy()),
		"δ": zero.RelativeDensity(), "at": float64(zero.At(300 * units.Kelvin).HumidityRatio())} {
		if !math.IsNaN(v) {
			t.Errorf("%s of no air is %v", name, v)
		}
	}
	dry, err := NewAir(units.Celsius(20), 0, units.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	if dry.DewPoint() != 123.15*units.Kelvin || dry.HumidityRatio() != 0 || dry.Supersaturated() ||
		!(dry.WetBulb() < dry.Temperature()) {
		t.Error("dry air:", dry.DewPoint(), dry.WetBulb())
	}
	if a := dry.At(units.Temperature(math.NaN())); !math.IsNaN(float64(a.RelativeHumidity())) {
		t.Error("NaN in, a number out")
	}
	// 99 °C and wetter: no NaN where water nearly boils.
	hot, err := NewAir(units.Celsius(99), 95*units.PercentRH, units.Atmosphere)
	if err != nil || math.IsNaN(float64(hot.WetBulb())) || hot.WetBulb() > hot.Temperature() ||
		hot.DewPoint() > hot.WetBulb() {
		t.Error(hot.WetBulb(), hot.DewPoint(), err)
	}
}

// The heat capacity of the condensate less the fall of the latent heat is that of
// the vapour, in both phases: else the root leaves the span from dew point to dry
// bulb (Kirchhoff's equation).
func TestWetBulbConstants(t *testing.T) {
	for _, f := range phases {
		near(t, "c − b", f.c-f.b, cpVapour, 0)
	}
}

func TestAirValidity(t *testing.T) {
	for _, c := range []struct {
		m    AirModel
		t    float64
		want known.Validity
	}{{IAPWS, 20, known.Inside}, {IAPWS, -20, known.Inside}, {IAPWS, -60, known.BelowRange}, {IAPWS, 120,
		known.AboveRange}, {IAPWSIdeal, 120, known.Inside},
		{ASHRAEIdeal, -20, known.Inside}, {ASHRAEIdeal, 199, known.Inside}, {WMOMagnus, 20, known.Inside}, {WMOMagnus, 80,
			known.AboveRange},
		{WMOMagnus, -70, known.Unpublished | known.BelowRange}} {
		a, err := c.m.Air(units.Celsius(c.t), units.RelativeHumidity(0.01), units.Atmosphere)
		if err != nil {
			t.Fatal(err)
		}
		if v := a.Validity(); v != c.want {
			t.Errorf("%v %g °C: %v, want %v", c.m, c.t, v, c.want)
		}
	}
	if (Air{}).Validity() == known.Inside {
		t.Error("no air is inside every range")
	}
}

func TestAirAllocatesNothing(t *testing.T) {
	a, err := NewAir(units.Celsius(23), 50*units.PercentRH, units.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	var s float64
	if n := testing.AllocsPerRun(50, func() {
		s += float64(a.DewPoint()) + float64(a.FrostPoint()) + float64(a.WetBulb()) +
			float64(a.At(units.Celsius(30)).RelativeHumidity()) + float64(a.Enthalpy())
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
	if n := testing.AllocsPerRun(50, func() {
		b, err := NewAir(units.Celsius(23), 50*units.PercentRH, units.Atmosphere)
		if err != nil {
			t.Fatal(err)
		}
		s += float64(b.e)
	}); n != 0 {
		t.Errorf("NewAir: %g allocations", n)
	}
	l, err := FitLogLinear([]Point[units.Time]{{30 * units.PercentRH, 2 * units.Second}, {40 * units.PercentRH,
		0.3 * units.Second}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if n := testing.AllocsPerRun(50, func() { s += float64(l.Value(a)) + l.Decades(a) }); n != 0 {
		t.Errorf("law: %g allocations", n)
	}
}

// The wall sensor and the press: a duct at 20 °C, 45 %RH is a dew point of 7.7 °C
// and 29.5 %RH at a feeder of 27 °C; the web of 60 °C in 23 °C, 50 %RH sees 7.0 %.
// Reference: Magnus 17.62/243.12 by hand, whole tenths.
func TestHumidityAtAnotherTemperature(t *testing.T) {
	duct := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(20)), RH(45*units.PercentRH))
	near(t, "dew point", duct.DewPoint().Celsius(), 7.7, 0.06)
	near(t, "feeder", 100*float64(duct.At(units.Celsius(27)).RelativeHumidity()), 29.5, 0.06)
	hall := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(23)), RH(50*units.PercentRH))
	near(t, "web", 100*float64(hall.At(units.Celsius(60)).RelativeHumidity()), 7.0, 0.06)
	near(t, "condensation below", hall.CondensationPoint().Celsius(), 12.0, 0.06)
	if !Condenses(hall, units.Celsius(5)) || Condenses(hall, units.Celsius(13)) {
		t.Error("a roll of 5 °C gets wet in 23 °C, 50 %RH, one of 13 °C does not")
	}
}
