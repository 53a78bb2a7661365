package ionflow

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func air(lambda, supply float64) NeutraliserSpec {
	c := Carriers{Conductivity: units.Conductivity(lambda), Supply: units.LineCurrent(supply)}
	return NeutraliserSpec{Plus: c, Minus: c, Zone: 50 * units.Millimetre}
}

func bar(mu, supply, gap float64) NeutraliserSpec {
	c := Carriers{Mobility: units.Mobility(mu), Supply: units.LineCurrent(supply)}
	return NeutraliserSpec{Plus: c, Minus: c, Zone: 50 * units.Millimetre, Gap: units.Length(gap)}
}

func mustNeutraliser(t testing.TB, s NeutraliserSpec) Neutraliser {
	t.Helper()
	n, err := NewNeutraliser(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// march integrates the balance dσ/dt = −factor-weighted current along the zone
// by classical Runge–Kutta: a second method that knows neither ω nor the
// quadratic.
func march(s NeutraliserSpec, net, v, f float64, steps int) float64 {
	j := func(sigma float64) float64 { // current density onto the face, signed as the deposit
		d := f*sigma - float64(s.Offset)
		c, sign := s.Minus, -1.0
		if d < 0 {
			c, sign = s.Plus, 1
		}
		z := math.Abs(d) - float64(s.Onset)
		if z <= 0 {
			return 0
		}
		j0 := float64(c.Conductivity) * z / units.Epsilon0
		if s.Gap > 0 {
			// Mott and Gurney with the voltage that goes with the field at the surface, E = 3V/(2d).
			volt := 2. / 3 * z / units.Epsilon0 * float64(s.Gap)
			j0 = 9. / 8 * units.Epsilon0 * float64(c.Mobility) * volt * volt / math.Pow(float64(s.Gap), 3)
		}
		top := float64(c.Supply) / float64(s.Zone)
		return sign * j0 * top / (j0 + top)
	}
	h := float64(s.Zone) / v / float64(steps)
	x := net
	for range steps {
		k1 := j(x)
		k2 := j(x + h/2*k1)
		k3 := j(x + h/2*k2)
		k4 := j(x + h*k3)
		x += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
	}
	return x - net
}

func TestActAgainstRungeKutta(t *testing.T) {
	for _, s := range []NeutraliserSpec{
		air(2.4e-10, 40e-6), air(2.4e-9, 40e-6), air(2.4e-9, 4e-6), air(2.4e-11, 1e-3),
		bar(1.5e-4, 200e-6, 0.025), bar(1.5e-4, 5e-6, 0.1), bar(1.2e-4, 1e-3, 0.3),
	} {
		for _, off := range []float64{0, 7e-9, -3e-8} {
			for _, on := range []float64{0, 1e-6} {
				for _, f := range []float64{0.25, 1} {
					for _, v := range []float64{0.5, 20} {
						for _, net := range []float64{20e-6, -6e-6, 1.2e-6, -2e-7} {
							s.Offset, s.Onset = units.SurfaceChargeDensity(off), units.SurfaceChargeDensity(on)
							got, _ := mustNeutraliser(t, s).Act(units.SurfaceChargeDensity(net), units.Speed(v), f)
							want := march(s, net, v, f, 4000)
							// Runge–Kutta with 4000 steps of at most τ/10 is good to 1e-9 here.
							if !(math.Abs(float64(got)-want) <= 1e-7*math.Abs(want)+1e-15) {
								t.Errorf("%+v net %g v %g factor %g: got %g, want %g", s, net, v, f, float64(got), want)
							}
						}
					}
				}
			}
		}
	}
}

func TestActLimits(t *testing.T) {
	const sigma, v, f = 1e-6, 2.0, 0.8
	// Abundant supply: σ(1 − exp(−f·λL/(ε0v))).
	got, r := mustNeutraliser(t, air(2.4e-10, 1e6)).Act(sigma, v, f)
	want := -sigma * (1 - math.Exp(-f*2.4e-10*0.05/(units.Epsilon0*v)))
	if !(math.Abs(float64(got)-want) <= 1e-9*math.Abs(want)) || r != ConductivityLimited {
		t.Errorf("abundant supply: %g %v, want %g", float64(got), r, want)
	}
	// Scarce supply: I'/v, exactly but for the air's own resistance.
	got, r = mustNeutraliser(t, air(2.4e-3, 0.5e-6)).Act(sigma, v, f)
	if want := -0.25e-6; !(math.Abs(float64(got)-want) <= 1e-4*math.Abs(want)) || r != SupplyLimited {
		t.Errorf("scarce supply: %g %v, want %g", float64(got), r, want)
	}
	// Space charge alone: z₂ = z₁/(1 + μf·z₁L/(2ε0·d·v)).
	got, r = mustNeutraliser(t, bar(1.5e-4, 1e6, 0.05)).Act(sigma, 20, 1)
	k := 1.5e-4 / 2 * sigma * 0.05 / (units.Epsilon0 * 0.05 * 20)
	if want := -sigma * k / (1 + k); !(math.Abs(float64(got)-want) <= 1e-9*math.Abs(want)) || r != DriftLimited {
		t.Errorf("space charge: %g %v, want %g", float64(got), r, want)
	}
	// Standing still: everything, down to the offset over the factor.
	s := air(2.4e-10, 1e-6)
	s.Offset = 1e-8
	got, _ = mustNeutraliser(t, s).Act(sigma, 0, f)
	if want := 1e-8/f - sigma; !(math.Abs(float64(got)-want) <= 1e-12*math.Abs(want)) {
		t.Errorf("standing still: %g, want %g", float64(got), want)
	}
	// A balanced double layer has no net: nothing happens.
	if got, r := mustNeutraliser(t, air(2.4e-10, 1e-3)).Act(0, v, 1); got != 0 || r != Idle {
		t.Errorf("net 0: %g %v", float64(got), r)
	}
	// A passive source stops at its onset over the factor.
	s = bar(1.5e-4, 1e-3, 0.025)
	s.Onset = 1e-6
	n := mustNeutraliser(t, s)
	if got, r := n.Act(1.2e-6, v, 0.8); got != 0 || r != BelowOnset {
		t.Errorf("below onset: %g %v", float64(got), r)
	}
	got, _ = n.Act(5e-6, 0, 0.8)
	if want := 1e-6/0.8 - 5e-6; !(math.Abs(float64(got)-want) <= 1e-12*math.Abs(want)) {
		t.Errorf("onset residual: %g, want %g", float64(got), want)
	}
}

func TestActTotal(t *testing.T) {
	specs := []NeutraliserSpec{air(2.4e-10, 40e-6), air(1e-300, 1e-300), air(1e300, 1e-300), air(1e300, 1e300),
		air(1e-300, 1e300),
		bar(1.5e-4, 2e-4, 0.025), bar(1e-300, 1e-300, 1e-300), bar(1e300, 1e-300, 1e-300), bar(1e-300, 1e300, 1e300)}
	vals := []float64{0, 1e-320, 1e-300, 1e-30, 1e-9, 1e-6, 1, 1e6, 1e30, 1e300, math.MaxFloat64}
	for _, s := range specs {
		for _, off := range []float64{0, 1e-9, -1e300} {
			s.Offset = units.SurfaceChargeDensity(off)
			n, err := NewNeutraliser(s)
			if err != nil {
				continue // a specification whose products overflow is refused
			}
			for _, net := range vals {
				for _, v := range vals {
					for _, f := range []float64{0, 1e-300, 4.5e-4, 1, 3} {
						for _, sg := range []float64{-1, 1} {
							got, r := n.Act(units.SurfaceChargeDensity(sg*net), units.Speed(v), f)
							if !(math.Abs(float64(got)) <= math.MaxFloat64) || r == Undefined {
								t.Fatalf("%+v net %g v %g factor %g: %g %v", s, sg*net, v, f, float64(got), r)
							}
							if off == 0 && math.Abs(float64(got)) > net {
								t.Fatalf("%+v net %g v %g factor %g: deposit %g beyond the net", s, sg*net, v, f, float64(got))
							}
						}
					}
				}
			}
		}
	}
	n := mustNeutraliser(t, specs[0])
	for _, bad := range [][3]float64{{math.NaN(), 1, 1}, {math.Inf(1), 1, 1}, {1e-6, -1, 1}, {1e-6, math.NaN(), 1},
		{1e-6, 1, -1}, {1e-6, 1, math.NaN()}, {1e-6, 1, math.Inf(1)}} {
		if got, r := n.Act(units.SurfaceChargeDensity(bad[0]), units.Speed(bad[1]), bad[2]); !math.IsNaN(float64(got)) ||
			r != Undefined {
			t.Errorf("%v: %g %v, want NaN, undefined", bad, float64(got), r)
		}
	}
}

func TestNewNeutraliserRefuses(t *testing.T) {
	mod := func(f func(*NeutraliserSpec)) NeutraliserSpec { s := air(1e-10, 1e-5); f(&s); return s }
	for field, s := range map[string]NeutraliserSpec{
		"zone":               mod(func(s *NeutraliserSpec) { s.Zone = 0 }),
		"gap":                mod(func(s *NeutraliserSpec) { s.Gap = -1 }),
		"onset":              mod(func(s *NeutraliserSpec) { s.Onset = -1 }),
		"offset":             mod(func(s *NeutraliserSpec) { s.Offset = units.SurfaceChargeDensity(math.NaN()) }),
		"plus.conductivity":  mod(func(s *NeutraliserSpec) { s.Plus.Conductivity = 0 }),
		"minus.supply":       mod(func(s *NeutraliserSpec) { s.Minus.Supply = units.LineCurrent(math.Inf(1)) }),
		"minus.mobility":     mod(func(s *NeutraliserSpec) { s.Gap = 1; s.Plus = Carriers{}; s.Minus.Conductivity = 0 }),
		"minus.conductivity": mod(func(s *NeutraliserSpec) { s.Gap = 1; s.Plus = Carriers{}; s.Minus.Mobility = 1 }),
		"plus":        {Zone: 1},
	} {
		_, err := NewNeutraliser(s)
		var fe *known.FieldError
		if !errors.As(err, &fe) || fe.Field != field {
			t.Errorf("%s: got %v", field, err)
		}
	}
}

func TestActAllocatesNothing(t *testing.T) {
	n := mustNeutraliser(t, air(2.4e-10, 40e-6))
	if a := testing.AllocsPerRun(100, func() { n.Act(5e-6, 3, 0.9) }); a != 0 {
		t.Errorf("%g allocations", a)
	}
}

func BenchmarkAct(b *testing.B) {
	for name, s := range map[string]NeutraliserSpec{"airborne": air(2.4e-9, 40e-6), "drawn": bar(1.5e-4, 2e-4, 0.025)} {
		b.Run(name, func(b *testing.B) {
			n := mustNeutraliser(b, s)
			b.ReportAllocs()
			net := units.SurfaceChargeDensity(1e-6)
			for b.Loop() {
				net += 1e-12
				n.Act(net, 3, 0.9)
			}
		})
	}
}

func TestOmegaSatisfiesItsEquation(t *testing.T) {
	for c := -29.0; c < 200; c += 0.37 {
		y := omega(c)
		if res := y + math.Log(y) - c; !(math.Abs(res) <= 1e-8) {
			t.Errorf("omega(%g) = %g leaves %g", c, y, res)
		}
	}
	// The omega constant, W(1) = ω(0) (OEIS A030178).
	if got := omega(0); !(math.Abs(got-0.5671432904097838) <= 1e-9) {
		t.Errorf("omega(0) = %.12g", got)
	}
}
