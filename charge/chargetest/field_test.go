package chargetest_test

import (
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/charge/chargetest"
	"example.org/pithball/charge/field"
)

func TestPlaces(t *testing.T) {
	chargetest.Run(t, chargetest.PlaceLaws(), rapid.Just[chargetest.Place](chargetest.PlaceFunc(field.FieldFactor)), chargetest.FieldInputs())
}

func TestMeters(t *testing.T) {
	chargetest.Run(t, chargetest.MeterLaws(), chargetest.Meters(), chargetest.FieldInputs())
}

func TestFilms(t *testing.T) {
	chargetest.Run(t, chargetest.FilmLaws(), chargetest.Films(), chargetest.FieldInputs())
}

func FuzzMeters(f *testing.F) {
	chargetest.Fuzz(f, chargetest.MeterLaws(), chargetest.Meters(), chargetest.FieldInputs())
}

func TestFieldLawsBite(t *testing.T) {
	bite(t, chargetest.PlaceLaws(), chargetest.BrokenPlaces(), chargetest.FieldInputs())
	bite(t, chargetest.MeterLaws(), chargetest.BrokenMeters(), chargetest.FieldInputs())
	bite(t, chargetest.FilmLaws(), chargetest.BrokenFilms(), chargetest.FieldInputs())
}
