package line

import (
	"testing"

	"example.org/pithball/units"
)

// TestWoundByHand: one wrap of 20 µm with 1 µC/m² on its outward face, earth 2 m off. Gauss about a core of 40 mm gives
// V = σ·r/ε0·ln(2 m/r) with r = 40.02 mm, about 76 mm (that of the last station) with r = 76.02 mm; on the inward face
// the charge lies at the core. Over an earthed core two cylinders share the flux: V = σ·r/ε0 over the sum of
// 2.2/ln(r/40 mm) and 1/ln(2 m/r).
func TestWoundByHand(t *testing.T) {
	const s = units.MicrocoulombPerSquareMetre
	d := uncharged()
	core := uncharged()
	core.Stations[0].Core, core.Stations[1].Core = units.Metre, 76*units.Millimetre
	alone := uncharged()
	alone.Stations = alone.Stations[1:]
	alone.Stations[0].Core = 76 * units.Millimetre
	none := uncharged()
	none.Stations = nil
	for _, c := range []struct {
		what    string
		d       *Description
		a, b    units.SurfaceChargeDensity
		earthed bool
		want    float64
	}{
		{"no core given", d, s, 0, false, 17679.674},
		{"the core of the last station", core, s, 0, false, 28074.653},
		{"one station", alone, s, 0, false, 28074.653},
		{"no station", none, s, 0, false, 17679.674},
		{"on the inward face", d, 0, s, false, 17670.839},
		{"earthed", d, s, 0, true, 1.0269325},
	} {
		r, err := c.d.Wound(c.a, c.b, c.earthed)
		if err != nil {
			t.Fatal(err)
		}
		byHand(t, c.what, float64(r.At(1).Voltage), c.want)
	}
	d.Web.Thickness = 0
	if _, err := d.Wound(s, 0, false); err == nil {
		t.Error("a web without thickness was wound")
	}
}
