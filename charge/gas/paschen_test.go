package gas

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func TestPaschenForm(t *testing.T) {
	p, err := NewPaschen(AirPaschen())
	if err != nil {
		t.Fatal(err)
	}
	v0, pd0 := p.Minimum()
	// The minimum is one: smaller on neither side, and the closed form agrees.
	at, f := p.Voltage(pd0)
	checkNear(t, "at the minimum", float64(at), float64(v0), 1e-9)
	for _, k := range []float64{0.9, 1.1} {
		if v, _ := p.Voltage(pd0 * k); v <= v0 {
			t.Errorf("V(%g·pd) = %v, below the minimum %v", k, v, v0)
		}
	}
	if f != known.Inside {
		t.Errorf("at the minimum: %v", f)
	}
	// Left of the singularity there is no breakdown, and no negative voltage.
	for pd := 0.0; pd < pd0/math.E; pd += pd0 / 100 {
		if v, f := p.Voltage(pd); !math.IsInf(float64(v), 1) || f != known.BelowRange {
			t.Errorf("pd %g: %v, %v", pd, v, f)
		}
	}
	if _, f := p.Voltage(1013.25); f != known.AboveRange { // 1 cm at 1 atm: 35 V/(cm·Torr)
		t.Errorf("1 cm: %v", f)
	}
	if _, f := p.Voltage(pd0 / math.E * 1.2); f != known.BelowRange {
		t.Errorf("near the singularity: %v", f)
	}
	if v, _ := p.Voltage(math.NaN()); !math.IsNaN(float64(v)) {
		t.Errorf("NaN: %v", v)
	}
	var e *known.FieldError
	if _, err := NewPaschen(PaschenSpec{A: -1, B: 1, Gamma: 2}); !errors.As(err, &e) || e.Field != "a" {
		t.Errorf("bad constants: %v", err)
	}
}

func TestPaschenCap(t *testing.T) {
	p, err := NewPaschen(AirPaschen())
	if err != nil {
		t.Fatal(err)
	}
	// Where the composite uses the same form, both caps are one.
	a, za, f := p.CapBacked(100*um, 3.2, units.Atmosphere)
	b, zb, _ := CapBacked(100*um, 3.2, 1)
	checkNear(t, "cap in air", float64(a)/float64(b), 1, 1e-7) // 1013.25 hPa is 760.0000 Torr to 2e-7
	checkNear(t, "gap in air", float64(za)/float64(zb), 1, 1e-6)
	if f != known.Inside {
		t.Errorf("flag %v", f)
	}
	// Proportional to B: the residual charge follows the strength of the gas.
	s := AirPaschen()
	s.B /= 2
	h, _ := NewPaschen(s)
	half, _, _ := h.CapBacked(100*um, 3.2, units.Atmosphere)
	checkNear(t, "half of B", float64(half/a), 0.5, 1e-12)
	// More pressure keeps more on the right of the minimum.
	if more, _, _ := p.CapBacked(100*um, 3.2, 2*units.Atmosphere); more <= a {
		t.Errorf("twice the pressure: %v, not above %v", more, a)
	}
	// W·e^W = x over every size.
	for x := 1e-9; x < 1e12; x *= 3 {
		w := lambertW(x)
		checkNear(t, "W·e^W/x", w*math.Exp(w)/x, 1, 1e-13*(1+w))
	}
	for _, bad := range [][3]float64{{1e-4, 0.9, 1e5}, {1e-4, 2, 0}, {math.Inf(1), 2, 1e5}, {1e-4, 2, math.Inf(1)},
		{1e-4, math.NaN(), 1e5}} {
		if c, z, f := p.CapBacked(units.Length(bad[0]), bad[1], units.Pressure(bad[2])); !math.IsNaN(float64(c)) ||
			!math.IsNaN(float64(z)) || f != known.WrongShape {
			t.Errorf("%v: %v at %v, %v", bad, c, z, f)
		}
	}
	if c, _, _ := p.CapBacked(0, 2, 1e5); !math.IsNaN(float64(c)) {
		t.Error("thickness 0 accepted")
	}
	if _, _, f := p.CapBacked(5*units.Millimetre, 2, units.Atmosphere); f&known.AboveRange == 0 {
		t.Errorf("thick film: %v", f)
	}
}
