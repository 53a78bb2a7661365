package unitstest_test

import (
	"errors"
	"flag"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/unitstest"
	"pgregory.net/rapid"
)

// One seed, so that a run repeats; -rapid.seed=0 draws anew, and fuzzing explores.
func init() { _ = flag.Set("rapid.seed", "1") }

// everyType lists the quantity types, which no loop can reach.
func everyType() []unitstest.Codec {
	return []unitstest.Codec{
		unitstest.Of[units.Length](), unitstest.Of[units.Area](), unitstest.Of[units.Volume](), unitstest.Of[units.Time](),
		unitstest.Of[units.Frequency](), unitstest.Of[units.Speed](), unitstest.Of[units.Acceleration](),
		unitstest.Of[units.Mass](), unitstest.Of[units.Force](), unitstest.Of[units.ForcePerWidth](),
		unitstest.Of[units.Pressure](), unitstest.Of[units.GaugePressure](), unitstest.Of[units.Temperature](),
		unitstest.Of[units.TemperatureDifference](), unitstest.Of[units.Voltage](), unitstest.Of[units.DisplayVoltage](),
		unitstest.Of[units.ElectricField](), unitstest.Of[units.Charge](), unitstest.Of[units.SurfaceChargeDensity](),
		unitstest.Of[units.LineChargeDensity](), unitstest.Of[units.VolumeChargeDensity](),
		unitstest.Of[units.ChargePerMass](), unitstest.Of[units.Current](), unitstest.Of[units.LineCurrent](),
		unitstest.Of[units.CurrentDensity](), unitstest.Of[units.Capacitance](), unitstest.Of[units.Resistance](),
		unitstest.Of[units.SheetResistance](), unitstest.Of[units.VolumeResistivity](),
		unitstest.Of[units.AreaResistance](), unitstest.Of[units.MassResistivity](), unitstest.Of[units.Conductivity](),
		unitstest.Of[units.Energy](), unitstest.Of[units.Power](), unitstest.Of[units.EnergyPerMass](),
		unitstest.Of[units.EnergyPerArea](), unitstest.Of[units.Viscosity](), unitstest.Of[units.Mobility](),
		unitstest.Of[units.Diffusivity](), unitstest.Of[units.NumberDensity](),
		unitstest.Of[units.RecombinationCoefficient](), unitstest.Of[units.RelativeHumidity](),
		unitstest.Of[units.RelativeHumidityIce](), unitstest.Of[units.HumidityRatio](),
		unitstest.Of[units.SpecificHumidity](), unitstest.Of[units.VapourDensity](), unitstest.Of[units.Density](),
		unitstest.Of[units.BasisWeight](), unitstest.Of[units.MassFlow](), unitstest.Of[units.MolarFlow](),
		unitstest.Of[units.VolumeFlow](), unitstest.Of[units.Angle](), unitstest.Of[units.Ratio](),
	}
}

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
