package humiditytest_test

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/humidity/humiditytest"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func TestModels(t *testing.T) {
	for _, m := range humidity.Models() {
		t.Run(m.String(), func(t *testing.T) { humiditytest.Run(t, humiditytest.Of(m), humiditytest.Domain{}) })
	}
}

func FuzzAir(f *testing.F) {
	humiditytest.Fuzz(f, humiditytest.Of(humidity.IAPWS), humiditytest.Domain{MinT: 193.15 * units.Kelvin, MaxT: 333.15 * units.Kelvin, MinP: 70 * units.Kilopascal, MaxP: 1400 * units.Kilopascal, RelTol: 1e-8})
}

func inputs() (out []humiditytest.Input) {
	for _, t := range []float64{-30, -5, 3, 20, 45} {
		for _, rh := range []float64{0.1, 0.5, 0.95} {
			out = append(out, humiditytest.Input{T: units.Celsius(t), RH: units.RelativeHumidity(rh), P: units.Atmosphere, DT: units.TemperatureDifference(10)})
		}
	}
	return out
}

// TestLawsBite proves that every law fails for the model that breaks it, and
// that no model breaks a law unseen.
func TestLawsBite(t *testing.T) {
	broken := humiditytest.Broken()
	if len(broken) != len(humiditytest.Laws()) {
		t.Errorf("%d laws, %d broken models", len(humiditytest.Laws()), len(broken))
	}
	for _, l := range humiditytest.Laws() {
		m, ok := broken[l.Name]
		if !ok {
			t.Errorf("no broken model for %s", l.Name)
			continue
		}
		var err error
		for _, in := range inputs() {
			err = errors.Join(err, l.Check(m, in, humiditytest.Domain{}))
		}
		var v *humiditytest.Violation
		if !errors.As(err, &v) || v.Law != l.Name || v.Want == "" {
			t.Errorf("%s: the broken model passed: %v", l.Name, err)
		}
	}
	if err := humiditytest.Check(humiditytest.Of(humidity.IAPWS), humiditytest.Domain{}, inputs()...); err != nil {
		t.Error(err)
	}
}

// rising is a law that no leak obeys; shrinking claims to know most where nobody measured.
type rising struct{ shrinking bool }

func (r rising) Value(a humidity.Air) units.SheetResistance {
	if r.shrinking {
		return 5 * units.OhmPerSquare
	}
	return units.SheetResistance(1 + float64(a.RelativeHumidity()))
}
func (r rising) Decades(a humidity.Air) float64 {
	if r.shrinking && r.Validity(a) != 0 {
		return 0.1
	}
	return 0.3
}
func (r rising) Validity(a humidity.Air) known.Validity {
	if a.RelativeHumidity() > 60*units.PercentRH {
		return known.AboveRange
	}
	return known.Inside
}

type falling struct{}

func (falling) Regain(rh units.RelativeHumidity, _ units.Temperature) humidity.Regain {
	return humidity.Regain(float64(rh) * (1 - float64(rh)))
}
func (falling) Validity(units.RelativeHumidity, units.Temperature) known.Validity {
	return known.Inside
}

func TestMaterials(t *testing.T) {
	at := units.Celsius(23)
	for _, m := range append(humidity.Materials(), humidity.UnknownPolymer()) {
		if m.Surface != nil {
			if err := humiditytest.CheckResistivity(m.Surface, at); err != nil {
				t.Errorf("%s, surface: %v", m.Key, err)
			}
		}
		if m.Volume != nil {
			if err := humiditytest.CheckResistivity(m.Volume, at); err != nil {
				t.Errorf("%s, volume: %v", m.Key, err)
			}
		}
		if m.Sorption != nil {
			for _, side := range []humidity.Branch{humidity.FromDry, humidity.FromWet} {
				y, err := humidity.NewHysteresis(m.Sorption, 20*units.PercentRH, side)
				if err != nil {
					t.Fatal(err)
				}
				if err := errors.Join(humiditytest.CheckIsotherm(m.Sorption, at), humiditytest.CheckIsotherm(y, at)); err != nil {
					t.Errorf("%s: %v", m.Key, err)
				}
			}
		}
	}
	for _, bad := range []rising{{false}, {true}} {
		if err := humiditytest.CheckResistivity[units.SheetResistance](bad, at); err == nil {
			t.Errorf("a wrong law passed: %+v", bad)
		}
	}
	if err := humiditytest.CheckIsotherm(falling{}, at); err == nil || math.IsNaN(float64(falling{}.Regain(0, at))) {
		t.Error("an isotherm that falls passed")
	}
}
