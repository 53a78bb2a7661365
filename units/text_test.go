package units_test

import (
	"testing"

	"example.org/pithball/units"
)

func TestSmoke(t *testing.T) {
	for _, s := range []string{"220 m/min", "3 in", "1000 fpm"} {
		v, err := units.Parse[units.Speed](s)
		t.Log(s, v, err)
	}
	t.Log(25*units.Millimetre, units.VolumeResistivity(1e15), units.SurfaceChargeDensity(-2.1e-6), units.Celsius(23), 45*units.PercentRH, units.DisplayVoltage(-8200), units.Ratio(0.3), units.Voltage(0), units.Length(123456789), units.SheetResistance(1e17))
}
