package humidity_test

import (
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/zerocheck"
	"example.org/pithball/units"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	air, err := humidity.NewAir(units.Celsius(23), 50*units.PercentRH, units.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	type q = units.SheetResistance
	values := []any{humidity.Air{}, humidity.Given{},
		humidity.Room{}, humidity.ColdBody{}, humidity.Body{}, humidity.Constant[q]{},
		humidity.AtLeast[q]{}, humidity.Goods{}, humidity.LogLinear[q]{}, humidity.AdsorbedFilm[q]{},
		humidity.MoisturePower[q, humidity.Regain]{},
		humidity.Chained[q]{}, humidity.Arrhenius[q]{}, humidity.Warmed[q]{}, humidity.Sourced[q]{}, humidity.GAB{},
		humidity.Proportional{}, humidity.Hysteresis{}, humidity.SourcedIsotherm{}}
	args := []any{air, []humidity.Air{air}, units.Celsius(20), []units.Temperature{units.Celsius(20)},
		humidity.PulpHeats()}
	for _, f := range zerocheck.Faults(".", values, args, map[string]string{
		"Room.Spec": "what it was made from: nothing",
		"Air.At":    "the zero Air, which is none",
	}) {
		t.Error(f)
	}
}
