package charge

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func TestFits(t *testing.T) {
	// Readings made from a contact with known numbers (n 0.7, S 15 µC/m² at 220
	// m/min, exponents 0.6 and 0.5), with charge already on the face.
	c := mustContact(t, ContactSpec{Saturation: 15 * uC, Exposure: 0.7, SpeedExponent: 0.6, LoadExponent: 0.5,
		ReferenceSpeed: 220 * units.MetrePerMinute, ReferenceLoad: 30000})
	read := func(before units.SurfaceChargeDensity, v, load float64) ContactReading {
		return ContactReading{Before: before, After: c.Transfer(before, units.Speed(v), units.ForcePerWidth(load)),
			Deviation: 0.3 * uC,
			Speed:     units.Speed(v), Load: units.ForcePerWidth(load)}
	}
	const v1, v2 = 220.0 / 60, 300.0 / 60
	a, b := read(-2*uC, v1, 30000), read(1*uC, v2, 30000)
	e, err := FitSpeedExponent(a, b, 0.7)
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "speed exponent", e.Value, 0.6, 1e-12)
	g := 1 - math.Exp(-0.7)
	s1, s2 := 15e-6, 15e-6*math.Pow(v2/v1, 0.6)
	checkNear(t, "its deviation", e.Spread, 0.3e-6/g*math.Hypot(1/s1, 1/s2)/math.Log(v2/v1), 1e-12)
	l, err := FitLoadExponent(a, read(-2*uC, v1, 15000), 0.7)
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "load exponent", l.Value, 0.5, 1e-12)
	s, err := FitSaturation(a, 0.7)
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "saturation", s.Value, 15e-6, 1e-18)
	n, s3, err := FitTwoContacts(a, read(-12*uC, v1, 30000))
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "exposure", n, 0.7, 1e-12)
	checkNear(t, "saturation", s3.Value, 15e-6, 1e-17)
	// The stated deviation is the first-order change: both errors by finite difference.
	x, y := a, read(-12*uC, v1, 30000)
	x.After += 1e-3 * uC
	_, d1, _ := FitTwoContacts(x, y)
	x = a
	y.After += 1e-3 * uC
	_, d2, _ := FitTwoContacts(x, y)
	checkNear(t, "deviation of S", s3.Spread, math.Hypot(d1.Value-s3.Value, d2.Value-s3.Value)*300, 2e-3*s3.Spread)
	q, err := FitSwap(a, ContactReading{After: -3 * uC, Deviation: 0.1 * uC, Speed: a.Speed, Load: a.Load}, 0.7)
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "swap", q.Value, -3e-6/g/15e-6, 1e-12)
}

func TestFitsRefuse(t *testing.T) {
	ok := ContactReading{Before: 0, After: 5 * uC, Deviation: 0.5 * uC, Speed: 3, Load: 10}
	change := func(f func(*ContactReading)) ContactReading { r := ok; f(&r); return r }
	var f *known.FieldError
	for name, r := range map[string]ContactReading{
		"a.before":    change(func(r *ContactReading) { r.Before = units.SurfaceChargeDensity(math.NaN()) }),
		"a.speed":     change(func(r *ContactReading) { r.Speed = 0 }),
		"a.deviation": change(func(r *ContactReading) { r.Deviation = 9 * uC }),
	} {
		b := ok
		b.Speed = 2 * r.Speed
		if _, err := FitSpeedExponent(r, b, 1); !errors.As(err, &f) || f.Field != name {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, err := range map[string]error{
		"b.after":  second(FitSpeedExponent(ok, change(func(r *ContactReading) { r.After = -5 * uC; r.Speed = 6 }), 1)),
		"b.speed":  second(FitSpeedExponent(ok, change(func(r *ContactReading) { r.Speed = 3.01 }), 1)),
		"b.load":   second(FitSpeedExponent(ok, change(func(r *ContactReading) { r.Load = 11; r.Speed = 6 }), 1)),
		"exposure": second(FitSaturation(ok, 0)),
	} {
		if !errors.As(err, &f) || f.Field != name {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, _, err := FitTwoContacts(ok, ok); !errors.As(err, &f) || f.Field != "b.before" {
		t.Errorf("no lever: %v", err)
	}
	if _, _, err := FitTwoContacts(ok, change(func(r *ContactReading) {
		r.Before = 5 * uC
		r.After = 12 * uC
	})); !errors.As(err, &f) || f.Field != "b.after" {
		t.Errorf("slope above 1: %v", err)
	}
}

func second[T any](_ T, err error) error { return err }

func TestCondenser(t *testing.T) {
	// Kolehmainen et al.
	checkNear(t, "1 eV at 500 nm", float64(CondenserSaturation(1, 500*units.Nanometre, 0)), 17.71e-6, 0.01e-6)
	checkNear(t, "0.5 eV at 1 nm", float64(CondenserSaturation(0.5, units.Nanometre, 0)), 4427e-6, 0.005*4427e-6)
	// The field of the other charges adds: −V_c/δ_c stops the transfer.
	if s := CondenserSaturation(1, 500*units.Nanometre, -2e6); !(math.Abs(float64(s)) <= 1e-20) {
		t.Errorf("balanced by a field: %v", s)
	}
	if !math.IsNaN(float64(CondenserSaturation(1, 0, 0))) {
		t.Error("cut-off 0 accepted")
	}
	m := MetalPolymer{Single: -2 * uC, Level: 4.26, Slope: 30e-6}
	// One contact: independent of the metal; many: linear in its work function.
	if m.Saturation(4.2, 0) != m.Saturation(5.2, 0) {
		t.Error("a single contact depends on the metal")
	}
	a, b, c := m.Saturation(4.2, 50), m.Saturation(4.7, 50), m.Saturation(5.2, 50)
	checkNear(t, "linear", float64(a+c-2*b), 0, 1e-18)
	if !(c > a) {
		t.Error("a metal of higher work function must leave the polymer more positive")
	}
}

func TestBandsAndModes(t *testing.T) {
	b := ContactBands{Saturation: known.Band{Value: 15e-6, Spread: 0.5, Kind: known.LogNormal},
		Exposure:      known.Band{Value: 1},
		SpeedExponent: known.Band{Value: 0.5, Spread: 0.5, Kind: known.Uniform}, ReferenceSpeed: 3}
	if err := b.Check(); err != nil {
		t.Fatal(err)
	}
	s := b.At([4]float64{1, 0, -9, 0})
	checkNear(t, "one deviation up", float64(s.Saturation), 15e-6*math.Exp(0.5), 1e-18)
	checkNear(t, "lower limit of the exponent", s.SpeedExponent, 0, 1e-12)
	b.Exposure = known.Band{Value: 2, Spread: 0.5, Kind: known.Normal}
	b.LoadExponent, b.ReferenceLoad = known.Band{Value: 0.6, Spread: 0.1, Kind: known.Normal}, 100
	each := b.At([4]float64{0, 1, 0, -1}) // each score moves its own number
	checkNear(t, "saturation at its median", float64(each.Saturation), 15e-6, 1e-18)
	checkNear(t, "exposure one up", each.Exposure, 2.5, 1e-12)
	checkNear(t, "speed exponent at its median", each.SpeedExponent, 0.5, 1e-12)
	checkNear(t, "load exponent one down", each.LoadExponent, 0.5, 1e-12)
	if _, err := NewContact(b.At([4]float64{40, 0, 0, 0})); err != nil {
		t.Errorf("a far sample is refused: %v", err)
	}
	b.SpeedExponent.Value = 7
	if err := b.Check(); err == nil {
		t.Error("an exponent of 7 is accepted")
	}
	for _, m := range []Mode{PeelContact, RollContact, NipContact, SlideContact} {
		p := m.Prior()
		for _, e := range []known.Band{p.SpeedExponent, p.LoadExponent} {
			if lo, hi := e.Limits(); lo < -0.6 || hi > 1 || e.Spread == 0 {
				t.Errorf("%v: prior %v", m, e)
			}
		}
		if p.Speed.Provenance == known.Unstated || p.Load.Provenance == known.Unstated {
			t.Errorf("%v: prior without provenance", m)
		}
	}
	checkNear(t, "slip", SlipExposure(0.1, 0.001, 100*units.Millimetre, 10*um), 0.1*11, 1e-12)
	checkNear(t, "no slip", SlipExposure(0.1, 0, 100*units.Millimetre, 10*um), 0.1, 0)
	if !math.IsNaN(SlipExposure(1, 1, 1, 0)) || !math.IsNaN(SlipExposure(math.NaN(), 1, 1, 1)) {
		t.Error("bad slip accepted")
	}
}
