package field

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Gauss's law at both faces, zero voltage from plane to plane along both ways,
// and the limits of the free span and of the roller.
func TestBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Film{units.Length(rapid.Float64Range(5e-6, 3e-4).Draw(t, "t/m")), rapid.Float64Range(1, 8).Draw(t, "εr")}
		n := rapid.Float64Range(-3e-5, 3e-5).Draw(t, "near")
		b := rapid.Float64Range(-3e-5, 3e-5).Draw(t, "far")
		d := rapid.Float64Range(0.002, 0.2).Draw(t, "d/m")
		h := rapid.Float64Range(0, 1).Draw(t, "h/m")
		r := f.Between(units.SurfaceChargeDensity(n), units.SurfaceChargeDensity(b), units.Length(d), units.Length(h))
		scale := (math.Abs(n) + math.Abs(b)) / units.Epsilon0 * (1 + d + h)
		if s := float64(r.AtMeter) + float64(r.Behind) - (n+b)/units.Epsilon0; !(math.Abs(s) <= 1e-12*scale) {
			t.Fatalf("Gauss: off by %g V/m", s)
		}
		if s := float64(r.NearFace) - float64(r.AtMeter)*d; !(math.Abs(s) <= 1e-12*scale) {
			t.Fatalf("meter gap: off by %g V", s)
		}
		if s := float64(r.FarFace) - float64(r.Behind)*h; !(math.Abs(s) <= 1e-12*scale) {
			t.Fatalf("back gap: off by %g V", s)
		}
	})
	f := Film{25e-6, 3.2}
	inf := units.Length(math.Inf(1))
	if r := f.Between(14e-6, -15.5e-6, 0.025, inf); !near(float64(r.AtMeter), -1.5e-6/units.Epsilon0, 1e-12) {
		t.Errorf("free span: %+v", r)
	}
	if r := f.Between(10e-6, -99e-6, 0.025, 0); !near(float64(r.AtMeter), 352.8, 1e-3) ||
		!(math.Abs(float64(r.FarFace)) <= 1e-9) {
		t.Errorf("roller: %+v", r)
	}
	// 10 µC/m² at 25 mm with 500 mm behind: 1075.63 kV/m; alone: 28.24 kV.
	if v := PlanePotential(10e-6, 0.025, 0.5); !near(float64(v), 1075.63e3*0.025, 1e-5) {
		t.Errorf("%v", v)
	}
	if v := PlanePotential(10e-6, 0.025, inf); !near(float64(v), 28.24e3, 1e-3) {
		t.Errorf("%v", v)
	}
	if r := f.Between(1, 1, -1, 0); !math.IsNaN(float64(r.AtMeter)) {
		t.Errorf("negative distance: %+v", r)
	}
}

func TestVoltmeter(t *testing.T) {
	m, err := NewVoltmeter(VoltmeterSpec{FullScale: 500, Floor: 0.3,
		Gain: known.Band{Value: 1, Spread: 0.04, Kind: known.Normal}})
	if err != nil {
		t.Fatal(err)
	}
	film := Film{20e-6, 2.2}
	// 14 and −15.5 µC/m² on 20 µm of ε_r 2.2: +14.4 V and −15.9 V, worked by hand.
	a, b := m.Shows(14e-6, -15.5e-6, film, 0), m.Shows(-15.5e-6, 14e-6, film, 0)
	if !(math.Abs(float64(a)-14.4) <= 0.05) || !(math.Abs(float64(b)+15.9) <= 0.05) {
		t.Errorf("%v, %v", a, b)
	}
	// Independent small errors: 4 %, 3 %, 5 % and 0.3 V of 14.37 V make 7.38 %.
	s, sd := m.OuterFace(a, film, 0.03, 0.05)
	want := math.Sqrt(.04*.04 + .03*.03 + .05*.05 + math.Pow(0.3/14.374, 2))
	if !near(float64(s), 14e-6, 1e-12) || !near(float64(sd)/14e-6, want, 1e-3) {
		t.Errorf("%v ± %v", s, sd)
	}
	if v := m.Shows(1e-5, 1e-5, film, 0.1); v != 500 || !m.Saturated(v) {
		t.Errorf("free span: %v", v)
	}
	if got := m.Detectable(film); !near(float64(got), 3*0.3*units.Epsilon0*2.2/20e-6, 1e-12) {
		t.Errorf("%v", got)
	}
	for _, bad := range []VoltmeterSpec{{}, {FullScale: 1, Floor: 2},
		{FullScale: 500, Floor: 0.1, Gain: known.Band{Value: -1}}} {
		if _, err := NewVoltmeter(bad); err == nil {
			t.Errorf("%+v accepted", bad)
		}
	}
}

// A net near zero leaves the faces open; the voltmeter on both sides tells a
// double layer; more readings than unknowns are weighed.
func TestSeparateFaces(t *testing.T) {
	f, err := SeparateFaces(ObservedNet(-0.2e-6, 0.1e-6))
	if err != nil || f.Known != OneCombination || f.Net != -0.2e-6 || !math.IsNaN(float64(f.A)) ||
		!math.IsNaN(float64(f.SDB)) {
		t.Errorf("%+v, %v", f, err)
	}
	f, err = SeparateFaces(ObservedNet(-0.2e-6, 0.1e-6), ObservedFaceA(16.3e-6, 1e-6))
	if err != nil || f.Known != BothFacesKnown || !near(float64(f.A), 16.3e-6, 1e-12) ||
		!near(float64(f.B), -16.5e-6, 1e-12) ||
		!near(float64(f.SDB), math.Hypot(1e-6, .1e-6), 1e-12) || !near(float64(f.SDNet), .1e-6, 1e-9) || f.Misfit > 1e-12 {
		t.Errorf("%+v, %v", f, err)
	}
	if f, _ := SeparateFaces(); f.Known != NothingKnown {
		t.Errorf("%+v", f)
	}
	if f, _ := SeparateFaces(ObservedFaceB(2e-6, 1e-6), ObservedFaceB(4e-6, 1e-6)); !near(float64(f.B), 3e-6, 1e-12) ||
		!near(f.Misfit, 2, 1e-12) || !math.IsNaN(float64(f.Net)) {
		t.Errorf("%+v", f)
	}
	for _, bad := range []FaceObservation{{}, {1, 0, 1, 0}, {1, 0, units.SurfaceChargeDensity(math.NaN()), 1},
		{math.Inf(1), 0, 0, 1}} {
		if _, err := SeparateFaces(bad); err == nil {
			t.Errorf("%+v accepted", bad)
		}
	}
	// Unbiased and of the stated spread: the residual of a consistent truth is 0.
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(-3e-5, 3e-5).Draw(t, "a"), rapid.Float64Range(-3e-5, 3e-5).Draw(t, "b")
		var obs []FaceObservation
		for range rapid.IntRange(0, 3).Draw(t, "n") {
			wa, wb := rapid.Float64Range(-1, 1).Draw(t, "wa"), rapid.Float64Range(-1, 1).Draw(t, "wb")
			if math.Abs(wa)+math.Abs(wb) > 1e-3 {
				obs = append(obs, FaceObservation{wa, wb, units.SurfaceChargeDensity(wa*a + wb*b), 1e-7})
			}
		}
		obs = append(obs, ObservedFaceA(units.SurfaceChargeDensity(a), 2e-7),
			ObservedNet(units.SurfaceChargeDensity(a+b), 1e-7))
		f, err := SeparateFaces(obs...)
		if err != nil || !(math.Abs(float64(f.A)-a) <= 1e-15) || !(math.Abs(float64(f.B)-b) <= 1e-15) || f.Misfit > 1e-9 {
			t.Fatalf("%+v, %v", f, err)
		}
	})
}

// TestVoltmeterByHand: a voltmeter that shows 2 % too much and 2 V too much reads 104 V
// over a roller: 100 V on 20 µm of εr 2 are 100·ε0·2/20e-6 = 88.542 µC/m². Gain 2 %,
// thickness 3 % and permittivity 5 % make 6.164 % of it, floor and offset of 1 V each
// √2/1.02 = 1.386 V, together 6.318 V or 5.594 µC/m².
func TestVoltmeterByHand(t *testing.T) {
	m, err := NewVoltmeter(VoltmeterSpec{FullScale: 500, Floor: 1,
		Gain:   known.Band{Value: 1.02, Spread: 0.0204, Kind: known.Normal},
		Offset: known.Band{Value: 2, Spread: 1, Kind: known.Normal}})
	if err != nil {
		t.Fatal(err)
	}
	film := Film{Thickness: 20 * units.Micrometre, RelativePermittivity: 2}
	outer, sd := m.OuterFace(104, film, 0.03, 0.05)
	if !near(float64(outer), 88.542e-6, 1e-5) || !near(float64(sd), 5.594e-6, 2e-4) {
		t.Errorf("%g ± %g C/m²", float64(outer), float64(sd))
	}
	if got := m.Shows(outer, 0, film, 0); !near(float64(got), 104, 1e-12) {
		t.Errorf("back: %v", got)
	}
	// 3·1 V on the film, whatever the gain: 2.6563 µC/m².
	if got := float64(m.Detectable(film)); !near(got, 2.6563e-6, 1e-4) {
		t.Errorf("detectable %g C/m²", got)
	}
}

// TestFilmCheck: the limits of a film, inside and out.
func TestFilmCheck(t *testing.T) {
	for _, c := range []struct {
		f  Film
		ok bool
	}{{Film{1e-6, 1}, true}, {Film{1e-6, 1e4}, true}, {Film{1e-6, 1.1e4}, false}, {Film{1e-6, 0.99}, false},
		{Film{0, 2}, false}, {Film{units.Length(math.Inf(1)), 2}, false}} {
		if err := c.f.Check(); (err == nil) != c.ok {
			t.Errorf("%+v: %v", c.f, err)
		}
	}
}
