package ionflow

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

var testIons = Ions{Plus: 1.4e-4, Minus: 1.6e-4, Alpha: 1.6e-12}

func arrive(t *testing.T, w Way, i Ions, p, m, l float64) Arrival {
	t.Helper()
	a, err := Path(w, i, units.NumberDensity(p), units.NumberDensity(m), units.Length(l), 1e-10)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Every closed form is one way, and the integrator must find it.
func TestPathFindsTheClosedForms(t *testing.T) {
	const tol = 1e-8 // asked: 1e-10 per step
	a := arrive(t, Uniform{Speed: 5, LossPlus: 30, LossMinus: 30}, testIons, 3e13, 3e13, 0.5)
	near(t, "recombination and loss", float64(a.Plus), float64(RecombineLosing(3e13, testIons.Alpha, 30, 0.1)), tol)
	a = arrive(t, Uniform{Speed: 5}, testIons, 3e13, 1e13, 0.5)
	p, m := RecombineUnequal(3e13, 1e13, testIons.Alpha, 0.1)
	near(t, "unequal +", float64(a.Plus), float64(p), tol)
	near(t, "unequal −", float64(a.Minus), float64(m), tol)
	a = arrive(t, Uniform{Speed: 5, Repulsion: 1}, testIons, 0, 3e13, 0.5)
	near(t, "repulsion", float64(a.Minus), float64(Repel(3e13, testIons.Minus, 0.1)), tol)
	a = arrive(t, Uniform{Speed: 1, Source: 1e16, LossPlus: 2, LossMinus: 2}, testIons, 1, 1, 100)
	near(t, "steady source", float64(a.Plus), float64(SteadyDensity(1e16, testIons.Alpha, 2)), tol)
	a = arrive(t, WayFunc(func(x units.Length) Local {
		return Local{Speed: units.Speed(10 * (1 - float64(x)/0.05))}
	}), testIons, 2e13, 2e13, 0.045)
	near(t, "stagnation", float64(a.Plus), float64(InStagnation(2e13, testIons.Alpha, 0.045, 0.05, 10)), tol)
	for _, s := range []jet.JetSpec{{Kind: jet.Round, Width: 2e-3, Speed: 80}, {Kind: jet.Plane, Width: 1e-3, Speed: 40}} {
		j := mustJet(t, s)
		a = arrive(t, InFreeJet{Jet: j}, testIons, 5e13, 5e13, 0.3)
		// a step may straddle the end of the core
		near(t, s.Kind.String()+" jet", float64(a.Plus),
			float64(InJet(5e13, testIons.Alpha, 0.3, s.Speed, j.Entrainment(0.3))), 1e-7)
		near(t, s.Kind.String()+" age", float64(a.Age), float64(j.Age(0.3)), 1e-7)
	}
	// Recombination over a jet and then a duct is one path.
	mid := arrive(t, Uniform{Speed: 4, LossPlus: 3, LossMinus: 3}, testIons, 5e13, 5e13, 0.2)
	end := arrive(t, Uniform{Speed: 1}, testIons, float64(mid.Plus), float64(mid.Minus), 0.1)
	both := arrive(t, WayFunc(func(x units.Length) Local {
		if x < 0.2 {
			return Local{Speed: 4, LossPlus: 3, LossMinus: 3}
		}
		return Local{Speed: 1}
	}), testIons, 5e13, 5e13, 0.3)
	near(t, "composition", float64(both.Plus), float64(end.Plus), 1e-6) // the step that straddles the jump
}

func TestPathTellsWhatRuled(t *testing.T) {
	a := arrive(t, InFreeJet{Jet: mustJet(t, jet.JetSpec{Kind: jet.Round, Width: 2e-3, Speed: 80})}, testIons, 1e12, 1e12,
		0.3)
	if a.PlusLoss.Ruled() != Diluted {
		t.Errorf("thin jet: %v", a.PlusLoss.Ruled())
	}
	a = arrive(t, Uniform{Speed: 1}, testIons, 1e14, 1e14, 1)
	if a.PlusLoss.Ruled() != Recombined {
		t.Errorf("dense air: %v", a.PlusLoss.Ruled())
	}
	if !(a.Plus < a.Recombination) {
		t.Errorf("above the ceiling: %v", a.Plus)
	}
	a = arrive(t, Uniform{Speed: 1, Repulsion: 1}, testIons, 1e14, 1, 1)
	if a.PlusLoss.Ruled() != Repelled || !(a.Plus < a.Repulsion) {
		t.Errorf("one polarity: %v %v", a.PlusLoss.Ruled(), a.Plus)
	}
	a = arrive(t, Uniform{Speed: 1, LossPlus: 50, LossMinus: 5, Repulsion: 0.3, Source: 1e14}, testIons, 1e12, 3e12, 1)
	if a.PlusLoss.Ruled() != Lost {
		t.Errorf("walls: %v", a.PlusLoss.Ruled())
	}
	// The tally adds up to what happened.
	for _, c := range []struct {
		n0, n float64
		l     Tally
	}{{1e12, float64(a.Plus), a.PlusLoss}, {3e12, float64(a.Minus), a.MinusLoss}} {
		sum := -c.l.Made
		for _, b := range c.l.By {
			sum += b
		}
		near(t, "tally", sum, math.Log(c.n0/c.n), 1e-6)
	}
}

// Swapping the polarities swaps the result.
func TestPathSignSymmetry(t *testing.T) {
	w := Uniform{Speed: 3, Repulsion: 1, LossPlus: 7, LossMinus: 2}
	a := arrive(t, w, testIons, 4e13, 2e13, 0.2)
	b := arrive(t, Uniform{Speed: 3, Repulsion: 1, LossPlus: 2, LossMinus: 7},
		Ions{Plus: testIons.Minus, Minus: testIons.Plus, Alpha: testIons.Alpha}, 2e13, 4e13, 0.2)
	if a.Plus != b.Minus || a.Minus != b.Plus {
		t.Errorf("%v %v against %v %v", a.Plus, a.Minus, b.Minus, b.Plus)
	}
}

func TestPathErrors(t *testing.T) {
	var fe *known.FieldError
	if _, err := Path(Uniform{Speed: 1}, Ions{}, 1, 1, 1, 0); !errors.As(err, &fe) {
		t.Errorf("zero ions: %v", err)
	}
	if _, err := Path(Uniform{Speed: 1}, testIons, -1, 1, 1, 0); !errors.As(err, &fe) || fe.Field != "plus" {
		t.Errorf("negative density: %v", err)
	}
	if _, err := Path(nil, testIons, 1, 1, 1, 0); !errors.As(err, &fe) || fe.Field != "way" {
		t.Errorf("no way: %v", err)
	}
	var ce *ConvergenceError
	if _, err := Path(Uniform{Speed: units.Speed(math.Inf(1))}, testIons, 1e13, 1e13, 1, 0); !errors.As(err, &ce) {
		t.Errorf("infinite speed: %v", err)
	}
	_, err := Path(WayFunc(func(x units.Length) Local {
		return Local{Speed: units.Speed(0.5 - float64(x))}
	}), testIons, 1e13, 1e13, 1, 0)
	if !errors.As(err, &ce) || !(ce.At >= 0 && ce.At <= 0.51) {
		t.Errorf("air that stops: %v", err)
	}
}

func TestRecombineUnequalKeepsItsDigits(t *testing.T) {
	p, m := RecombineUnequal(1e13, 1e13, 1.6e-12, 0.1)
	near(t, "equal", float64(p), float64(Recombine(1e13, 1.6e-12, 0.1)), 1e-15)
	if p != m {
		t.Error("equal densities must stay equal")
	}
	p, m = RecombineUnequal(1e13*(1+1e-9), 1e13, 1.6e-12, 0.1)
	near(t, "nearly equal", float64(m), float64(Recombine(1e13, 1.6e-12, 0.1)), 1e-8)
	near(t, "difference", float64(p)-float64(m), 1e4, 1e-3)
	p, m = RecombineUnequal(1e13, 0, 1.6e-12, 1e9)
	if p != 1e13 || m != 0 {
		t.Errorf("one polarity: %v %v", p, m)
	}
	p, m = RecombineUnequal(1e13, 2e13, 1.6e-12, 1e6)
	if p != 0 || !(math.Abs(float64(m)-1e13) < 1) {
		t.Errorf("for ever: %v %v", p, m)
	}
}

func TestUnipolarFluxLimits(t *testing.T) {
	// Thin ions: no space charge, e·n·(u + μE).
	j, _, _ := UnipolarFlux(1e6, 1.5e-4, 2, 0.05, 1e4)
	near(t, "thin", float64(j), units.ElementaryCharge*1e6*3.5, 1e-6)
	// Dense ions, no air: the field at the inlet is 0 and j = ε0·μ·E²/(2L), as 9/8·ε0·μ·V²/L³ with
	// E = 3V/(2L).
	j, _, _ = UnipolarFlux(1e20, 1.4e-4, 0, 0.05, 3*1000/(2*0.05))
	near(t, "Mott–Gurney", float64(j), 9./8*units.Epsilon0*1.4e-4*1000*1000/math.Pow(0.05, 3), 1e-4)
	// Against the wind of a repelling field nothing arrives.
	if j, _, flag := UnipolarFlux(1e13, 1.5e-4, 2, 0.05, -1e6); j != 0 || flag != known.WrongShape {
		t.Errorf("repelled: %v, %v", j, flag)
	}
	if j, _, flag := UnipolarFlux(1e13, 1.5e-4, 2, 0.05, -1e3); !(j > 0) || flag != known.WrongShape {
		t.Errorf("blown on against a weak field: %v, %v", j, flag)
	}
	if _, _, flag := UnipolarFlux(1e13, 1.5e-4, 2, 0.05, 1e4); flag != known.Inside {
		t.Error(flag)
	}
}

// What is negative or undefined has no density.
func TestPopulationsRefuse(t *testing.T) {
	for _, bad := range []float64{-1, math.NaN(), math.Inf(-1)} {
		n, a, s := units.NumberDensity(bad), units.RecombinationCoefficient(bad), units.Time(bad)
		up, um := RecombineUnequal(n, 1e13, 1e-12, 1)
		vp, vm := RecombineUnequal(1e13, 1e12, 1e-12, s)
		j, w, _ := UnipolarFlux(n, 1e-4, 1, 1, 1)
		k, _, _ := UnipolarFlux(1e13, 1e-4, 1, units.Length(bad), 1)
		for i, v := range []float64{float64(Recombine(n, 1e-12, 1)), float64(Recombine(1e13, a, 1)),
			float64(Recombine(1e13, 1e-12, s)), float64(up), float64(um), float64(vp), float64(vm),
			float64(RecombineLosing(1e13, 1e-12, units.Frequency(bad), 1)), float64(SteadyDensity(bad, 1e-12, 1)),
			float64(SteadyDensity(1, a, 1)),
			float64(Repel(1e13, units.Mobility(bad), 1)), float64(InJet(n, 1e-12, 1, 1, 1)), float64(j), float64(w),
			float64(k)} {
			if !math.IsNaN(v) {
				t.Errorf("%g: number %d is %g", bad, i, v)
			}
		}
	}
	if !math.IsInf(float64(SteadyDensity(1, 0, 0)), 1) {
		t.Error("nothing takes the ions")
	}
}

func TestPathAllocatesNothing(t *testing.T) {
	var w Way = Uniform{Speed: 1, Repulsion: 1}
	if a := testing.AllocsPerRun(20, func() { Path(w, testIons, 1e13, 2e13, 1, 1e-6) }); a != 0 {
		t.Errorf("%g allocations", a)
	}
}
