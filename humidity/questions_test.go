package humidity_test

import (
	"fmt"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
)

// The halls and goods of these examples are invented.

// press is the hall of a sheet-fed press on a January day, with the given share of its air change.
func press(share float64, dew float64) (humidity.Room, humidity.Air) {
	room := must(humidity.NewRoom(humidity.RoomSpec{Volume: units.Volume(3200),
		Ventilation: units.VolumeFlow(share * 4000.0 / 3600)}))
	return room, must(humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(dew+4)),
		humidity.DewPoint(units.Celsius(dew))))
}

// water is what 45 %RH at the feeder of 22 °C takes [kg/h].
func water(share, dew float64) float64 {
	room, out := press(share, dew)
	d := must(room.Humidify(out, must(humidity.NewAir(units.Celsius(22), 45*units.PercentRH, units.Atmosphere)),
		units.Celsius(10)))
	return 3600 * float64(d.Water)
}

// Question 22: how much water for 45 %RH at the feeder, and will it hold in January?
// The air change is known to 20 %.
func Example_question22() {
	const dew = -9
	room, out := press(1, dew)
	wet := must(room.Adding(units.MassFlow(22.0 / 3600)))
	held := must(wet.Steady(out, units.Celsius(22)))
	fmt.Printf("%.0f kg/h (%.0f … %.0f); the humidifier of 22 kg/h holds %.0f %%RH: not 45\n", water(1, dew),
		water(0.8, dew), water(1.2, dew), 100*float64(held.RelativeHumidity()))
	// Output: 26 kg/h (21 … 31); the humidifier of 22 kg/h holds 40 %RH: not 45
}

func TestQuestion22(t *testing.T) {
	if !(water(1, -9) > water(1, 2) && water(1, 2) > water(1, 5) && water(1.2, -9) > water(1, -9)) {
		t.Error("damper air outside or less of it needs more water")
	}
}

// elsewhere is the relative humidity [%] and dew point [°C] of the air of the wall at the press.
func elsewhere(wall, wallRH, at float64) (rh, dew float64) {
	a := must(humidity.NewAir(units.Celsius(wall), units.RelativeHumidity(wallRH)*units.PercentRH,
		units.Atmosphere)).At(units.Celsius(at))
	return 100 * float64(a.RelativeHumidity()), float64(a.DewPoint()) - 273.15
}

// Question 23: 45 %RH at the wall of 20 °C and 27 °C at the press: what is it there?
func Example_question23() {
	rh, dew := elsewhere(20, 45, 27)
	lo, _ := elsewhere(20, 45-1.645*2.5, 27) // hygrometer ±2.5 %RH
	hi, _ := elsewhere(20, 45+1.645*2.5, 27)
	fmt.Printf("%.1f %%RH (%.1f … %.1f) at 27 °C, dew point %.1f °C at both\n", rh, lo, hi, dew)
	// Output: 29.5 %RH (26.8 … 32.2) at 27 °C, dew point 7.7 °C at both
}

func TestQuestion23(t *testing.T) {
	at20, _ := elsewhere(20, 45, 20)
	at22, dew22 := elsewhere(20, 45, 22)
	at27, dew27 := elsewhere(20, 45, 27)
	if !(at20 > at22 && at22 > at27 && dew22-dew27 < 1e-9) {
		t.Errorf("warmer air of the same vapour is not drier: %g %g %g", at20, at22, at27)
	}
}

func pallet(wrapped bool) humidity.Goods {
	return must(humidity.NewGoods(humidity.GoodsSpec{Material: must(humidity.MaterialFor("paper-bond")),
		Length: 1.02 * units.Metre, Width: 0.72 * units.Metre, Height: 1 * units.Metre, BottomClosed: true,
		Wrapped: wrapped}))
}

// Question 24: how long must the pile stand before printing?
func Example_question24() {
	hall := must(humidity.NewAir(units.Celsius(22), 45*units.PercentRH, units.Atmosphere))
	w := must(pallet(true).Warm(hall, units.Celsius(8)))
	c := must(pallet(false).Condition(units.Ratio(0.5)))
	fmt.Println("wrapped, core within 1 K of the hall:", rough(w.Core.Hall))
	fmt.Println("open, half of the moisture 20 mm in:", rough(c.Rim))
	// Output:
	// wrapped, core within 1 K of the hall: 6 d (3 d … 10 d)
	// open, half of the moisture 20 mm in: 8 d (51 h … 34 d)
}

func TestQuestion24(t *testing.T) {
	hall := must(humidity.NewAir(units.Celsius(22), 45*units.PercentRH, units.Atmosphere))
	cold, cool := must(pallet(true).Warm(hall, units.Celsius(-5))), must(pallet(true).Warm(hall, units.Celsius(15)))
	half, most := must(pallet(false).Condition(units.Ratio(0.5))), must(pallet(false).Condition(units.Ratio(0.9)))
	if !(cold.Core.Hall.Value > cool.Core.Hall.Value && most.Rim.Value > half.Rim.Value) {
		t.Error("a colder pile or a larger share does not take longer")
	}
}

// spare is by how much a pallet of 8 °C stays dry if the air is damper by more [K].
func spare(a humidity.Air, more units.RelativeHumidity) float64 {
	b := must(humidity.NewAir(a.Temperature(), a.RelativeHumidity()+more, a.Pressure()))
	return float64(units.Celsius(8).Sub(b.DewPoint()))
}

// Question 25: does a cold pallet of 8 °C get wet when it comes in?
func Example_question25() {
	for _, dew := range []float64{7, 13} {
		hall := must(humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(22)),
			humidity.DewPoint(units.Celsius(dew))))
		w := must(pallet(true).Warm(hall, units.Celsius(8)))
		if !w.Condenses {
			lo, hi := spare(hall, 0.025), spare(hall, -0.025)
			fmt.Printf("dew point %.0f °C: dry, by %.0f K (%.1f … %.1f for a hygrometer of ±2.5 %%RH)\n", dew, 8-dew, lo, hi)
			continue
		}
		fmt.Printf("dew point %.0f °C: wet if opened; wait %s for the faces, %s for the core\n", dew, rough(w.Face.Dew),
			rough(w.Core.Dew))
	}
	// Output:
	// dew point 7 °C: dry, by 1 K (0.1 … 2.0 for a hygrometer of ±2.5 %RH)
	// dew point 13 °C: wet if opened; wait 23 min (7 min … 74 min) for the faces, 37 h (20 h … 69 h) for the core
}

func TestQuestion25(t *testing.T) {
	wait := func(dew float64) float64 {
		hall := must(humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(22)),
			humidity.DewPoint(units.Celsius(dew))))
		return must(pallet(true).Warm(hall, units.Celsius(8))).Core.Dew.Value
	}
	if !(wait(7) == 0 && wait(10) > 0 && wait(13) > wait(10)) {
		t.Error("damper air does not make the wait longer")
	}
}
