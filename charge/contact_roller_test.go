package charge

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/pithball/charge/gas"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func mustRoller(t *testing.T, s CoveredRollerSpec) CoveredRoller {
	t.Helper()
	r, err := NewCoveredRoller(s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The second method for the steady state is to turn the roller: below the bound, at
// it, with all, half or nothing of what the gas takes going back to the web.
func TestCoveredRollerSteady(t *testing.T) {
	const v, load = units.Speed(4), units.ForcePerWidth(1)
	for _, sat := range []units.SurfaceChargeDensity{1 * uC, 15 * uC, 60 * uC, -40 * uC} {
		c := mustContact(t, ContactSpec{Saturation: sat, Exposure: 0.8, SpeedExponent: 0.5, ReferenceSpeed: 3})
		for _, tau := range []float64{0, 0.01, 1, 100, math.Inf(1)} {
			for _, returned := range []float64{0, 0.5, 1} {
				r := mustRoller(t, CoveredRollerSpec{Contact: c, Radius: 80 * units.Millimetre, Tau: units.Time(tau),
					Returned: returned})
				web := -3 * uC
				s := r.Steady(web, v, load)
				var x, w, lost units.SurfaceChargeDensity
				for range 4000 {
					var y units.SurfaceChargeDensity
					w, y, lost = r.Turn(web, x, v, load)
					checkNear(t, "web + cover + lost", float64(w+y+lost), float64(web+x), 1e-19)
					if !(math.Abs(float64(y)) <= float64(r.Bound())*(1+1e-12)) {
						t.Fatalf("cover at %v above its bound %v", y, r.Bound())
					}
					x = units.SurfaceChargeDensity(float64(y) * r.Kept(v))
				}
				checkNear(t, "steady cover", float64(s.Cover), float64(x), 1e-16)
				checkNear(t, "steady web", float64(s.Web), float64(w), 1e-16)
				// What the web gains the cover leaks and loses.
				leak := float64(s.Cover) * (1/max(r.Kept(v), 1e-300) - 1)
				if tau != 0 {
					checkNear(t, "gain", float64(s.Web-web), -leak-float64(lost), 1e-16)
				}
				if tau == 0 && (s.Cover != 0 || s.Turns != 0) {
					t.Errorf("cover that keeps nothing: %+v", s)
				}
				if s.Gas != (math.Abs(leak+float64(s.Cover)) >= float64(r.Bound())*(1-1e-9) && tau != 0) {
					t.Errorf("S %v, τ %g: %+v, bound %v", sat, tau, s, r.Bound())
				}
				// The inverse finds the saturation, or says why there is none.
				got, err := r.SaturationFor(web, s.Web-web, v, load)
				switch gain := float64(s.Web - web); {
				case err != nil && !(returned == 1 && s.Gas):
					t.Errorf("S %v, τ %g, returned %g: %v", sat, tau, returned, err)
				case err == nil && !(s.Gas && returned == 1) && math.Abs(gain) > 1e-12: // a gain that is all rounding tells nothing
					checkNear(t, "saturation", float64(got), float64(c.Saturation(v, load)), 1e-7*math.Abs(float64(sat)))
				}
			}
		}
	}
}

// The condenser law by hand: S 15 µC/m², n 1, a cover that keeps its charge, nothing
// returned. 10 mm of εr 3 keep 52 µC/m², more than 2S: the pair bounds the cover to
// 30 and the web leaves as it came. With S 40 the cover stands at the bound B and
// the web gains (1 − 1/e)·(40 − B/2).
func TestCoveredRollerBounds(t *testing.T) {
	const v, load = units.Speed(4), units.ForcePerWidth(1)
	g := 1 - math.Exp(-1)
	small := mustRoller(t, CoveredRollerSpec{Contact: mustContact(t, ContactSpec{Saturation: 15 * uC, Exposure: 1}),
		Radius: 0.1, Tau: units.Time(math.Inf(1))})
	_, b, _ := gas.CapBackedLimits(10*units.Millimetre, 3, 1)
	if small.Bound() != b || !(b > 50*uC && b < 54*uC) {
		t.Errorf("bound %v, gas %v", small.Bound(), b)
	}
	s := small.Steady(0, v, load)
	checkNear(t, "bounded by the pair", float64(s.Cover), -30e-6, 1e-18)
	checkNear(t, "web", float64(s.Web), 0, 1e-18)
	if s.Gas || s.Validity != known.Inside {
		t.Errorf("%+v", s)
	}
	big := mustRoller(t, CoveredRollerSpec{Contact: mustContact(t, ContactSpec{Saturation: 40 * uC, Exposure: 1}),
		Radius: 0.1, Tau: units.Time(math.Inf(1))})
	s = big.Steady(0, v, load)
	checkNear(t, "bounded by the gas", float64(s.Cover), -float64(b), 1e-18)
	checkNear(t, "web", float64(s.Web), g*(40e-6-float64(b)/2), 1e-18)
	// 10 mm of εr 3 at the bound: about 20 kV over the core.
	checkNear(t, "voltage", float64(s.Voltage), -float64(b)*0.01/(3*8.8541878188e-12), 1e-6)
	// A conductive cover of the same pair is worse by a factor of a few, not hundreds.
	if ratio := g * 40e-6 / float64(s.Web); !s.Gas || s.Validity != known.Estimate || !(ratio > 1 && ratio < 5) {
		t.Errorf("ratio %g, %+v", ratio, s)
	}
	// All returned: the web could gain only what leaks, and 5 µC/m² is refused with the reason.
	shut := mustRoller(t, CoveredRollerSpec{Contact: mustContact(t, ContactSpec{Exposure: 1}), Radius: 0.1, Tau: 100,
		Returned: 1})
	_, err := shut.SaturationFor(0, 5*uC, v, load)
	var f *known.FieldError
	if !errors.As(err, &f) || f.Field != "change" || !strings.Contains(f.Want, "would have to carry") ||
		!strings.Contains(f.Want, "the gas leaves it") {
		t.Errorf("%v", err)
	}
	if _, err := shut.SaturationFor(0, 0.01*uC, v, load); err != nil {
		t.Errorf("what leaks can be given: %v", err)
	}
	if _, err := big.SaturationFor(0, 5*uC, 0, load); err == nil {
		t.Error("a standstill gives 5 µC/m²")
	}
	if _, err := big.SaturationFor(0, units.SurfaceChargeDensity(math.NaN()), v, load); err == nil {
		t.Error("NaN has a saturation")
	}
}

// An earthed metal roller is the limit in which the cover carries the image.
func TestCoveredRollerWithImage(t *testing.T) {
	c := mustContact(t, ContactSpec{Saturation: 15 * uC, Exposure: 0.8})
	r := mustRoller(t, CoveredRollerSpec{Contact: c, Radius: units.Metre / 10, Tau: 1})
	for _, w := range []units.SurfaceChargeDensity{0, 4 * uC, -9 * uC} {
		after, cover, lost := r.Turn(w, -w, 1, 1)
		checkNear(t, "web", float64(after), float64(c.Transfer(w, 1, 1)), 1e-20)
		checkNear(t, "cover", float64(cover), -float64(after), 1e-20)
		if lost != 0 {
			t.Errorf("lost %v", lost)
		}
	}
	if w, x, _ := r.Turn(1*uC, 2*uC, 0, 1); w != 1*uC || x != 2*uC {
		t.Errorf("standstill: %v %v", w, x)
	}
	if w, _, _ := r.Turn(units.SurfaceChargeDensity(math.NaN()), 0, 1, 1); !math.IsNaN(float64(w)) {
		t.Errorf("NaN web: %v", w)
	}
	_, err := NewCoveredRoller(CoveredRollerSpec{Contact: c, Radius: -1, Tau: units.Time(math.NaN()), Thickness: 2,
		Permittivity: 0.5, Returned: 2, Density: -1})
	for _, field := range []string{"radius", "tau", "thickness", "permittivity", "returned", "density"} {
		if err == nil || !strings.Contains(err.Error(), field+":") {
			t.Errorf("%s not named in %v", field, err)
		}
	}
}

// A contact that barely touches a cover that keeps all never settles: +Inf turns,
// not −Inf. The time constant: a departure shrinks by e in that many turns.
func TestCoveredRollerTurns(t *testing.T) {
	barely := mustRoller(t, CoveredRollerSpec{Contact: mustContact(t, ContactSpec{Saturation: uC, Exposure: 1e-22}),
		Radius: 50 * units.Millimetre, Tau: units.Time(math.Inf(1))})
	if n := barely.Steady(0, 1, 1).Turns; !math.IsInf(n, 1) {
		t.Errorf("%v turns", n)
	}
	r := mustRoller(t, CoveredRollerSpec{Contact: mustContact(t, ContactSpec{Saturation: 5 * uC, Exposure: 0.1}),
		Radius: 80 * units.Millimetre, Tau: 100})
	s := r.Steady(0, 4, 1)
	y := s.Cover + uC
	for range int(s.Turns) {
		_, y, _ = r.Turn(0, y, 4, 1)
		y = units.SurfaceChargeDensity(float64(y) * r.Kept(4))
	}
	if f := float64(y-s.Cover) / float64(uC); f < math.Exp(-1) || f > math.Exp(-1+1/s.Turns) {
		t.Errorf("departure %g after %g turns", f, s.Turns)
	}
}

func TestCoverSwap(t *testing.T) {
	b, src := CoverSwap()
	lo, hi := b.Limits()
	checkNear(t, "low", lo, 0.1, 1e-12)
	checkNear(t, "high", hi, 1.5, 1e-12)
	if src.Provenance != known.CommonPractice {
		t.Errorf("%+v", src)
	}
}
