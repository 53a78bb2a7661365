package humidity

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// By hand, with e_w(16.667 °C) = 1897.0 Pa and e_w(20 °C) = 2339.2 Pa (IF97): 68 °F
// dry, 62 °F wet at 1 atm: A = 6.60e-4·1.01917 = 6.7265e-4, e = 1897.0·f −
// 6.7265e-4·101325·3.3333 = 1677 Pa, 71.4 %RH. The U.S. Army's TM 5-3610-285-14
// prints 71 %.
func TestPsychrometerByHand(t *testing.T) {
	a, err := AirFrom(units.Atmosphere, DryBulb(units.Celsius(20)), Sling.Shows(units.Celsius(50./3)))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "e", float64(a.VapourPressure()), 1897.0*1.004-6.7265e-4*101325*10/3, 2)
	near(t, "RH", 100*float64(a.RelativeHumidity()), 71, 0.6)
}

// What the instrument shows in an air leads back to the air, over water and over
// ice, for both instruments; the wick is never warmer than unsaturated air and
// reads above the dew point.
func TestPsychrometerReadsBack(t *testing.T) {
	for k := range psychrometers {
		for _, p := range []units.Pressure{70e3, 101325} {
			for _, c := range []float64{-20, -10, -2, 0.5, 5, 20, 45} {
				for _, h := range []float64{0.1, 0.4, 0.75, 0.95} {
					a, err := NewAir(units.Celsius(c), units.RelativeHumidity(h), p)
					if err != nil {
						t.Fatal(err)
					}
					wet := k.Reading(a)
					if !a.Supersaturated() && (wet > a.Temperature() || wet < a.DewPoint()) {
						t.Errorf("%v in %v shows %v", k, a, wet)
					}
					b, err := AirFrom(p, DryBulb(a.Temperature()), k.Shows(wet))
					if err != nil {
						t.Errorf("%v in %v: %v", k, a, err)
						continue
					}
					near(t, "e", float64(b.VapourPressure()), float64(a.VapourPressure()), 1e-6)
				}
			}
		}
	}
	if !math.IsNaN(float64(Sling.Reading(Air{}))) || !math.IsNaN(float64(Psychrometer(9).Reading(mustAir(t, IAPWS,
		units.Atmosphere, DryBulb(293), RH(0.5))))) {
		t.Error("a reading of no air or by no instrument")
	}
	if _, err := AirFrom(units.Atmosphere, DryBulb(293), Psychrometer(9).Shows(280)); err == nil {
		t.Error("no instrument accepted")
	}
}

// Below 0 °C an instrument is no thermodynamic wet bulb: at −4 °C dry and −6.8 °C on
// an iced wick the table of the U.S. Weather Bureau has 38 %RH over ice; taken for a
// thermodynamic ice bulb it is 6 % more. Liquid water on the wick says a third thing.
func TestPsychrometerIsNoWetBulb(t *testing.T) {
	dry, wet := DryBulb(units.Celsius(-4)), units.Celsius(-6.8)
	p := units.Pressure(742.7 * 133.322)
	rh := func(g Given) float64 {
		a, err := AirFrom(p, dry, g)
		if err != nil {
			t.Fatal(err)
		}
		return 100 * float64(a.RelativeHumidityIce())
	}
	iced, wetBulb, liquid := rh(Sling.Shows(wet)), rh(WetBulb(wet)), rh(Sling.ShowsSupercooled(wet))
	near(t, "iced", iced, 38, 1)
	if !(wetBulb-iced > 5 && wetBulb-iced < 9) {
		t.Errorf("wet bulb %.1f %%, instrument %.1f %%", wetBulb, iced)
	}
	if !(liquid-iced > 4) {
		t.Errorf("supercooled %.1f %%, iced %.1f %%", liquid, iced)
	}
}

// The chart that counts relative humidity over ice has less vapour: W here is 16 %
// above it at −15 °C, 80 % (e_w/e_i = 1.157 and the enhancement factor).
func TestChartInWinter(t *testing.T) {
	for _, c := range [][2]float64{{-10, 10}, {-15, 16}, {-20, 22}} {
		a, err := NewAir(units.Celsius(c[0]), units.RelativeHumidity(0.8), units.Atmosphere)
		if err != nil {
			t.Fatal(err)
		}
		chart, err := ASHRAEIdeal.AirFrom(units.Atmosphere, DryBulb(units.Celsius(c[0])), RHMixed(0.8))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "W over the chart's, %", 100*(float64(a.HumidityRatio())/float64(chart.HumidityRatio())-1), c[1], 0.9)
	}
}

// The constants of the aspirated instrument against those of A. Sprung for
// Assmann's, 0.50 over water and 0.43 over ice in e = e′ − c·(t − t′)·p/755 (from
// memory): within 2 %, that is 0.1 K of wet bulb in 5 K.
func TestAspiratedAgainstSprung(t *testing.T) {
	for i, c := range []float64{0.50 / 755, 0.43 / 755} {
		near(t, "A over Sprung's", coefficients[Aspirated][i].at(0)/c, 1, 0.02)
	}
}
