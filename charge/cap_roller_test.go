package charge

import (
	"math"
	"testing"

	"example.org/pithball/charge/field"
	"example.org/pithball/charge/gas"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func TestCapBehindRoller(t *testing.T) {
	// Without an outer earth the roller's gap is a free gap on one side.
	r, _, _ := CapBehindRoller(50*units.Millimetre, 30*units.Millimetre, units.Length(math.Inf(1)), 1)
	w, _ := gas.CapFreeWeb(1, field.GapBehindRoller(50*units.Millimetre, 30*units.Millimetre), 1)
	if !(math.Abs(float64(r/w)-1) <= 1e-12) {
		t.Errorf("behind the roller %v, free gap %v", r, w)
	}
	// An earth at the same distance on the outer side halves the field there; on
	// the way the gap was smaller and the cap no higher.
	h := field.GapBehindRoller(50*units.Millimetre, 30*units.Millimetre)
	checkNear(t, "gap 30 mm past a 50 mm roller", float64(h), 8.309518948e-3, 1e-12) // √3400 − 50 mm
	both, _, _ := CapBehindRoller(50*units.Millimetre, 30*units.Millimetre, h, 1)
	two, _ := gas.CapFreeWeb(2, h, 1)
	if both > two || both <= w {
		t.Errorf("earth on both sides %v, one free face %v, two %v", both, w, two)
	}
	if _, _, f := CapBehindRoller(50*units.Millimetre, 300*units.Millimetre, 1, 1); f&known.WrongShape == 0 {
		t.Error("300 mm past a 50 mm roller: not flagged")
	}
	if a, _, _ := CapBehindRoller(0, um, um, 1); !math.IsNaN(float64(a)) {
		t.Errorf("radius 0: %v", a)
	}
	if a, _, _ := CapBehindRoller(um, -um, um, 1); !math.IsNaN(float64(a)) {
		t.Errorf("before the roller: %v", a)
	}
}
