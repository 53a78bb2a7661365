package decay_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// eachLaw is one law of every type, with times of the order of a second.
func eachLaw() map[string]decay.Law {
	exp := must(decay.NewExponential(2))
	kww := must(decay.NewStretched(2, .6))
	return map[string]decay.Law{
		"Exponential": exp, "OffsetExponential": must(decay.NewOffsetExponential(2, 1000, 35)),
		"Exponentials": must(decay.NewExponentials([]float64{.7, .3}, []units.Time{1, 20})),
		"Stretched":    kww, "PowerLaw": must(decay.NewPowerLaw(1, .5)), "Hyperbolic": must(decay.NewHyperbolic(.3)),
		"OhmicMobility":   must(decay.NewOhmicMobility(2, 3)),
		"CurieSchweidler": must(decay.NewCurieSchweidler(.8, 10, 1000)),
		"Logarithmic":     must(decay.NewLogarithmic(20, 1000, .1)), "Transit": must(decay.NewTransit(3, 1)),
		"Transit2":   must(decay.NewTransit(3, 2)),
		"FreeStripe": must(decay.NewFreeStripe(.01, .05)), "FreeDisc": must(decay.NewFreeDisc(.01, .05)),
		"LineUnderProbe": must(decay.NewLineUnderProbe(.02, .05)), "SpotUnderProbe": must(decay.NewSpotUnderProbe(.02, .05)),
		"Parallel": must(decay.NewParallel(exp, kww)), "Mixture": must(decay.NewMixture([]float64{1, 2}, exp, kww)),
		"Later": must(decay.After(kww, 1)), "Sequence": must(decay.Then(exp, 1, kww)), "Constant": decay.Constant(0.5),
	}
}

func TestLawsDoNotAllocate(t *testing.T) {
	sink := 0.0
	for name, l := range eachLaw() {
		n := testing.AllocsPerRun(100, func() {
			for _, x := range [...]units.Time{0, 0.1, 3, 50} {
				sink += l.Fraction(x) + decay.Rate(l, x+1)
			}
		})
		if n != 0 {
			t.Errorf("%s: %g allocations", name, n)
		}
	}
	if math.IsNaN(sink) {
		t.Error("NaN")
	}
}

// TestLawsAtTheEnds: NaN in, NaN out; the start; and the end of time.
func TestLawsAtTheEnds(t *testing.T) {
	floor := map[string]float64{"OffsetExponential": 0.035, "Constant": 0.5}
	for name, l := range eachLaw() {
		nan := units.Time(math.NaN())
		if f, r := l.Fraction(nan), decay.Rate(l, nan); !math.IsNaN(f) || !math.IsNaN(r) {
			t.Errorf("%s at NaN: fraction %g, rate %g", name, f, r)
		}
		if f := l.Fraction(-1); f != 1 {
			t.Errorf("%s before the start: %g", name, f)
		}
		if r := decay.Rate(l, -1); r != 0 {
			t.Errorf("%s: rate before the start: %g", name, r)
		}
		if f := l.Fraction(units.Time(math.Inf(1))); !(math.Abs(f-floor[name]) < 1e-12) {
			t.Errorf("%s after all time: %g, want %g", name, f, floor[name])
		}
	}
}

func TestLawsBadInput(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		what  string
		err   error
		field string
	}{
		{"tau 0", second(decay.NewExponential(0)), "tau"},
		{"tau Inf", second(decay.NewExponential(units.Time(inf))), "tau"},
		{"v0 0", second(decay.NewOffsetExponential(1, 0, 0)), "v0"},
		{"vb beyond v0", second(decay.NewOffsetExponential(1, 100, -100)), "vb"},
		{"no terms", second(decay.NewExponentials(nil, nil)), "weights"},
		{"more weights", second(decay.NewExponentials([]float64{1, 2}, []units.Time{1})), "weights"},
		{"negative weight", second(decay.NewExponentials([]float64{1, -2}, []units.Time{1, 1})), "weights[1]"},
		{"negative time", second(decay.NewExponentials([]float64{1, 2}, []units.Time{-1, 1})), "taus[0]"},
		{"beta 0", second(decay.NewStretched(1, 0)), "beta"},
		{"beta above 1", second(decay.NewStretched(1, 1.1)), "beta"},
		{"n 0", second(decay.NewPowerLaw(1, 0)), "n"},
		{"k NaN", second(decay.NewHyperbolic(nan)), "k_v0"},
		{"nothing left", second(decay.HyperbolicThrough(0, 1)), "fraction"},
		{"all left", second(decay.HyperbolicThrough(1, 1)), "fraction"},
		{"a negative", second(decay.NewOhmicMobility(1, -1)), "a"},
		{"n 1", second(decay.NewCurieSchweidler(1, 1, 1)), "n"},
		{"v0 0", second(decay.NewCurieSchweidler(.5, 1, 0)), "v0"},
		{"b 0", second(decay.NewLogarithmic(0, 1, 1)), "b"},
		{"m 0", second(decay.NewTransit(1, 0)), "m"},
		{"no width", second(decay.NewFreeStripe(0, 1)), "half-width"},
		{"no speed", second(decay.NewFreeDisc(1, 0)), "spreading_speed"},
		{"no height", second(decay.NewLineUnderProbe(-1, 1)), "height"},
		{"no height", second(decay.NewSpotUnderProbe(units.Length(nan), 1)), "height"},
		{"no laws", second(decay.NewParallel()), "laws"},
		{"nil law", second(decay.NewParallel(nil)), "laws[0]"},
		{"weights", second(decay.NewMixture([]float64{1}, decay.Constant(1), decay.Constant(1))), "weights"},
		{"nil", second(decay.After(nil, 1)), "law"},
		{"all gone", second(decay.After(decay.Constant(0), 1)), "age"},
		{"negative age", second(decay.After(decay.Constant(1), -1)), "age"},
		{"nil", second(decay.Then(nil, 1, nil)), "law"},
		{"negative time", second(decay.Then(decay.Constant(1), -1, decay.Constant(1))), "until"},
		{"thickness", second(decay.InterfaceTime(decay.Layer{Permittivity: 2, Resistivity: 1},
			decay.Layer{Thickness: 1, Permittivity: 2, Resistivity: 1})), "a.thickness"},
		{"negative resistivity", second(decay.NewStack(decay.Layer{Thickness: 1, Permittivity: 2, Resistivity: -1})),
			"layers[0].resistivity"},
		{"permittivity", second(decay.ProbeTime(decay.Layer{Thickness: 1, Permittivity: .5, Resistivity: 1}, 1)),
			"film.permittivity"},
		{"gap", second(decay.ProbeTime(decay.Layer{Thickness: 1, Permittivity: 2, Resistivity: 1}, 0)), "gap"},
		{"no layers", second(decay.NewStack()), "layers"},
		{"face",
			second(decay.NewFloatingFilm(decay.ConductingFilm{Layer: decay.Layer{Thickness: 1e-5, Permittivity: 2,
				Resistivity: 1},
				FaceA: -1}, 1)), "film.face_a"},
		{"wavelength",
			second(decay.NewFloatingFilm(decay.ConductingFilm{Layer: decay.Layer{Thickness: 1e-5, Permittivity: 2,
				Resistivity: 1}}, 0)),
			"wavelength"},
		{"liquid", second(decay.NewLiquid(0, 2)), "conductivity"},
		{"liquid", second(decay.NewLiquid(1e-11, 300)), "permittivity"},
		{"liquid", second(decay.NewLowConductivityLiquid(1e-9, 0, 2)), "q0"},
		{"ring", second(decay.NewRing(2, 1)), "outer_diameter"},
		{"ring", second(decay.NewRingMeanDiameter(0, 1)), "inner_diameter"},
		{"bars", second(decay.NewBars(1, 0)), "gap"},
		{"guard", second(decay.NewGuardedElectrode(1, 1)), "outer_diameter"},
		{"plate", second(decay.NewPlateMonitor(0, 1)), "capacitance"},
		{"plate end", second(decay.PlateDecayTime(1, 1000, -100, 0)), "v1"},
		{"plate end", second(decay.PlateDecayTime(1, 1000, 1100, 0)), "v1"},
	} {
		var f *known.FieldError
		if !errors.As(c.err, &f) || f.Field != c.field {
			t.Errorf("%s: got %v, want an error of %s", c.what, c.err, c.field)
		}
	}
	// All faults at once.
	_, err := decay.NewOffsetExponential(-1, units.Voltage(nan), units.Voltage(inf))
	if s := fmt.Sprint(err); strings.Count(s, "\n") < 2 {
		t.Errorf("three faults, got %q", s)
	}
}

// second returns the error of a constructor.
func second[T any](_ T, err error) error { return err }

// TestSmallDropLaws: their flag, and the floor that they document.
func TestSmallDropLaws(t *testing.T) {
	for _, l := range []decay.Checker{must(decay.NewCurieSchweidler(.8, 10, 1000)),
		must(decay.NewLogarithmic(20, 1000, .1))} {
		ten := must(decay.TimeTo(l, 0.9))
		if l.Validity(ten*0.999) != known.Inside || l.Validity(ten*1.001) != known.AboveRange {
			t.Errorf("%T: flags before and after a drop of 10 %%: %v, %v", l, l.Validity(ten*0.999), l.Validity(ten*1.001))
		}
		if f := l.Fraction(1e300); f != 0 {
			t.Errorf("%T: %g long after it reached 0", l, f)
		}
		if l.Validity(units.Time(math.NaN())) == known.Inside {
			t.Errorf("%T: NaN passes as inside", l)
		}
	}
}

// TestAgeing shows which laws may be restarted: ageing slows a stretched
// exponential, and 10 % of the first reading is not 10 % of the deposit.
func TestAgeing(t *testing.T) {
	kww := must(decay.NewStretched(50, .6))
	late := must(decay.After(kww, 100))
	// From the law: exp[−(t/τ)^β] relative to age 100 s; t10 solves (t+100)^β = 100^β + τ^β·ln 10.
	want := math.Pow(math.Pow(100, .6)+math.Pow(50, .6)*math.Ln10, 1/.6) - 100
	near(t, "t10 seen from 100 s", float64(must(decay.TimeTo(late, .1))), want, 1e-12)
	if fresh := float64(must(kww.TimeTo(.1))); !(want > fresh) {
		t.Errorf("aged t10 %g s is not later than fresh %g s", want, fresh)
	}
}

// TestTransitMerging: curves of different start voltage merge after one transit
// and never cross.
func TestTransitMerging(t *testing.T) {
	const l, mu = 50 * units.Micrometre, units.Mobility(1e-14)
	hi := must(decay.NewTransit(decay.TransitTime(l, mu, 1000), 1))
	lo := must(decay.NewTransit(decay.TransitTime(l, mu, -500), 1))
	for x := units.Time(1); x < 1e5; x *= 1.1 {
		a, b := 1000*hi.Fraction(x), 500*lo.Fraction(x)
		if x > 500 {
			near(t, fmt.Sprintf("voltages after both transits, at %v", x), a, b, 1e-14)
		} else if !(a > b*(1-1e-14)) {
			t.Errorf("at %v: %g V from 1000 V, %g V from 500 V: crossed", x, a, b)
		}
	}
	// Half of the charge column remains as voltage at the transit (Batra et al.).
	near(t, "at the transit time", hi.Fraction(250), 0.5, 1e-15)
	if v := decay.TransitTime(0, mu, 1); !math.IsNaN(float64(v)) {
		t.Errorf("no thickness: %v", v)
	}
}

// TestTransitByFiniteVolumes solves ∂E/∂t + v(E)·∂E/∂x = 0 with v = E^m by an
// upwind scheme and compares the voltage ∫E dx. The scheme is of first order: the
// error must fall with the cell.
func TestTransitByFiniteVolumes(t *testing.T) {
	solve := func(m float64, cells int, end float64) float64 {
		h := 1 / float64(cells)
		e := make([]float64, cells) // E in units of E0, x in L, t in t_tr
		for i := range e {
			e[i] = 1
		}
		flux := func(u float64) float64 { return math.Pow(u, m+1) / (m + 1) } // ∫v dE
		for x := 0.0; x < end; {
			dt := min(0.5*h, end-x) // v <= 1
			in := 0.0               // no field at the charged face once the charge has left it
			for i := range e {
				out := flux(e[i])
				e[i] -= dt / h * (out - in)
				in = out
			}
			x += dt
		}
		v := 0.0
		for _, u := range e {
			v += u * h
		}
		return v
	}
	for _, m := range []float64{1, 2} {
		law := must(decay.NewTransit(1, m))
		for _, end := range []float64{0.4, 1, 3} {
			want := law.Fraction(units.Time(end))
			coarse, fine := math.Abs(solve(m, 100, end)-want), math.Abs(solve(m, 400, end)-want)
			if !(fine < 0.45*coarse+1e-12) || !(fine < 0.02) {
				t.Errorf("m = %g at %g t_tr: finite volumes off by %.2g (100 cells) and %.2g (400 cells) from %g", m, end, coarse,
					fine, want)
			}
		}
	}
}
