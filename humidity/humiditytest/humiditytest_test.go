package humiditytest_test

import (
	"errors"
	"flag"
	"fmt"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/humidity/humiditytest"
	"example.org/pithball/units"
)

// One seed, so that a run repeats; -rapid.seed=0 draws anew, and fuzzing explores.
func init() { _ = flag.Set("rapid.seed", "1") }

func TestModels(t *testing.T) {
	for _, m := range humidity.Models() {
		t.Run(m.String(), func(t *testing.T) { humiditytest.Airs(humiditytest.Domain{}).Run(t, humiditytest.Of(m)) })
	}
}

func FuzzAir(f *testing.F) {
	d := humiditytest.Domain{MinT: 193.15 * units.Kelvin, MaxT: 333.15 * units.Kelvin, MinP: 70 * units.Kilopascal,
		MaxP: 1400 * units.Kilopascal, RelTol: 1e-8}
	humiditytest.Airs(d).Fuzz(f, humiditytest.Of(humidity.IAPWS))
}

func TestProof(t *testing.T) {
	if err := errors.Join(humiditytest.Airs(humiditytest.Domain{}).Prove(), humiditytest.Isotherms().Prove(),
		humiditytest.Resistivities[units.SheetResistance]().Prove(), humiditytest.Warmers().Prove(),
		humiditytest.Wicks().Prove(), humiditytest.Fitters().Prove(), humiditytest.Thresholds().Prove()); err != nil {
		t.Error(err)
	}
}

func TestFitters(t *testing.T)    { humiditytest.Fitters().Run(t, humiditytest.LogLinear) }
func TestThresholds(t *testing.T) { humiditytest.Thresholds().Run(t, humidity.ThresholdFor) }

func TestWicks(t *testing.T) {
	for _, w := range []humidity.Psychrometer{humidity.Sling, humidity.Aspirated} {
		t.Run(w.String(), func(t *testing.T) { humiditytest.Wicks().Run(t, w) })
	}
}

func TestWarmers(t *testing.T) {
	paper, err := humidity.MaterialFor("board")
	if err != nil {
		t.Fatal(err)
	}
	for name, spec := range map[string]humidity.GoodsSpec{
		"pile": {Material: paper, Length: units.Metre, Width: 0.7 * units.Metre, Height: 0.8 * units.Metre},
		"low": {Material: paper, Length: units.Metre, Width: units.Metre, Height: 0.1 * units.Metre, BottomClosed: true,
			Film: 30},
		"roll": {Material: paper, Diameter: 1.2 * units.Metre, Width: 2 * units.Metre},
	} {
		g, err := humidity.NewGoods(spec)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(name, func(t *testing.T) { humiditytest.Warmers().Run(t, g) })
	}
}

func TestMaterials(t *testing.T) {
	isotherms := humiditytest.Isotherms()
	for _, m := range append(humidity.Materials(), humidity.UnknownPolymer()) {
		var err error
		if !m.Surface.IsZero() {
			err = errors.Join(err, humiditytest.Resistivities[units.SheetResistance]().Check(m.Surface))
		}
		if !m.Volume.IsZero() {
			err = errors.Join(err, humiditytest.Resistivities[units.VolumeResistivity]().Check(m.Volume))
		}
		if !m.Sorption.IsZero() {
			err = errors.Join(err, isotherms.Check(m.Sorption))
			for _, side := range []humidity.Branch{humidity.FromDry, humidity.FromWet} {
				y, e := humidity.NewHysteresis(m.Sorption, 20*units.PercentRH, side)
				if e != nil {
					t.Fatal(e)
				}
				err = errors.Join(err, isotherms.Check(y))
			}
		}
		if err != nil {
			t.Errorf("%s: %v", m.Key, err)
		}
	}
}

// litres reckons with grams per cubic metre when it heats air, as if the air did
// not expand.
type litres struct{ humiditytest.Model }

func (m litres) Heated(s humiditytest.State, t units.Temperature) (humiditytest.State, error) {
	warm, err := m.Model.Heated(s, t)
	warm.VapourPressure *= units.Pressure(float64(t) / float64(s.T))
	return warm, err
}

// A model of somebody else against the laws, without a test.
func ExampleAirs() {
	fmt.Println(humiditytest.Airs(humiditytest.Domain{}).Check(litres{humiditytest.Of(humidity.WMOMagnus)}))
	// Output:
	// heating conserves: e, W and dew point stay, RH falls
	// 	why: Dalton: mole fractions stay when nothing condenses
	// 	model: humiditytest_test.litres
	// 	T: 0 °C
	// 	RH: 100 %RH
	// 	P: 100 kPa
	// 	DT: 1 K
	// 	got: 613.4375983891634 Pa, 3.824704433497537 g/kg, 0 °C, 93.03656318565369 %RH
	// 	want: 611.2 Pa, 3.824704433497537 g/kg, 0 °C, less than 100 %RH
}
