package unitstest_test

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/unitstest"
	"pgregory.net/rapid"
)

// TestUnits runs every law on every quantity type.
func TestUnits(t *testing.T) {
	list := everyType()
	if n := len(units.Catalogue()) - 1; len(list) != n { // all but StandardFlow, which is no float64
		t.Fatalf("%d types are tried, the catalogue has %d", len(list), n)
	}
	for _, c := range list {
		t.Run(c.Name(), func(t *testing.T) { unitstest.Quantities().Run(t, c) })
	}
}

// TestProof shows that each law can fail.
func TestProof(t *testing.T) {
	length := unitstest.Of[units.Length]()
	if err := errors.Join(unitstest.Quantities().Prove(), unitstest.Like(length).Prove(),
		unitstest.Like(length).Check(length)); err != nil {
		t.Error(err)
	}
}

// TestStandardFlow gives the laws of text to the one type that is no float64.
func TestStandardFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64().Draw(t, "volume")
		r := rapid.SampledFrom(units.GasReferences()).Draw(t, "reference")
		f, err := units.NewStandardFlow(units.VolumeFlow(v), r)
		if err != nil {
			t.Fatal(err)
		}
		g, err := units.ParseStandardFlow(f.String())
		if err != nil || g.Reference() != r || math.Float64bits(float64(g.Volume())) != math.Float64bits(v) {
			t.Fatalf("%v reads back as %v, %v", f, g, err)
		}
	})
}

func FuzzLength(f *testing.F) { unitstest.Quantities().Fuzz(f, unitstest.Of[units.Length]()) }

func FuzzTemperature(f *testing.F) { unitstest.Quantities().Fuzz(f, unitstest.Of[units.Temperature]()) }
