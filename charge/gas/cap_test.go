package gas

import (
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// scan is the second method for every cap: the smallest value of σ(z) over a
// fine logarithmic scan of gaps, which knows nothing of the pieces.
func scan(g, end, delta float64) (f, z float64) {
	f = math.Inf(1)
	for y := math.Log(1e-8); y <= math.Log(end); y += 1e-4 {
		x := math.Exp(y)
		v, _ := BreakdownVoltage(units.Length(x), delta)
		if e := float64(v) * (1/x + 1/g); e < f {
			f, z = e, x
		}
	}
	return f, z
}

func TestCapBackedAgainstScan(t *testing.T) {
	for _, c := range []struct{ t, er, delta float64 }{
		{10e-6, 3.9, 1}, {25e-6, 3.2, 1}, {50e-6, 2.1, 1}, {100e-6, 3.2, 0.8}, {200e-6, 2.3, 1.1},
		{260e-6, 3.2, 1}, {500e-6, 2, 1}, {2e-3, 2.3, 0.9}, {20e-3, 5, 1},
	} {
		got, gap, _ := CapBacked(units.Length(c.t), c.er, c.delta)
		want, z := scan(c.t/c.er, 0.3, c.delta)
		want *= units.Epsilon0
		// The scan's step of 1e-4 in ln z meets a kink to 1e-4 and a smooth minimum to 1e-8.
		if r := float64(got)/want - 1; !(r <= 1e-12 && r >= -1e-4) {
			t.Errorf("%+v: %v at %v, scan %g at %g m (ratio − 1 = %g)", c, got, gap, want, z, r)
		}
	}
}

// At the stationary points the derivative is zero: checked to full
// accuracy, by Newton on the derivative of each piece.
func TestCapBackedStationary(t *testing.T) {
	for g := 7e-6; g < 1; g *= 1.01 {
		f, x := air.least(g)
		switch {
		case x == airJoin || x == plateauEnd:
			continue
		case x < plateauEnd: // (x/g)(logA + ln x − 1) = 1
			z := x
			for range 5 {
				q := logA + math.Log(z) - 1
				z -= (z*q - g) / (q + 1)
			}
			want := townsendB / (logA + math.Log(z)) * (1 + z/g)
			if !(math.Abs(f/want-1) <= 1e-10) {
				t.Fatalf("g %g: %.15g, Newton %.15g", g, f, want)
			}
		default: // 2K s³ + S s² = S g with s = √z
			s := math.Cbrt(uniformRt * g / (2 * uniformLin))
			for range 40 {
				s -= (s*s*(2*uniformLin*s+uniformRt) - uniformRt*g) / (s * (6*uniformLin*s + 2*uniformRt))
			}
			want := (uniformLin + uniformRt/s) * (1 + s*s/g)
			if !(math.Abs(f/want-1) <= 1e-12) || !(math.Abs(x/(s*s)-1) <= 1e-9) {
				t.Fatalf("g %g: %.15g at %g, Newton %.15g at %g", g, f, x, want, s*s)
			}
		}
	}
}

// The three ranges meet without a jump, except that none may rise with g.
func TestCapBackedFallsWithThickness(t *testing.T) {
	last := math.Inf(1)
	for d := 1e-6; d < 0.1; d *= 1.001 {
		s, _, _ := CapBacked(units.Length(d), 2.5, 1)
		if float64(s) > last*(1+1e-11) {
			t.Fatalf("%g m: %v above %g", d, s, last)
		}
		if last < 1 && float64(s) < last*0.99 {
			t.Fatalf("%g m: jump from %g to %v", d, last, s)
		}
		last = float64(s)
	}
}

func TestCapLimits(t *testing.T) {
	// A very thick film is a free face: the cap falls to that of the open gap.
	thick, _, _ := CapBacked(1000, 1, 1)
	if want := units.Epsilon0 * uniformLin; !(math.Abs(float64(thick)/want-1) <= 0.02) {
		t.Errorf("thick film %v, want %g", thick, want)
	}
	// A very thin one meets field emission, with its flag.
	thin, gap, f := CapBacked(units.Micrometre, 3, 1)
	if !(math.Abs(float64(thin)-units.Epsilon0*350e6) <= 1e-12) || gap != 0 || f&known.BelowRange == 0 {
		t.Errorf("1 µm film: %v at %v, %v", thin, gap, f)
	}
	// No earth at all: V_b/d of the fit tends to 24.22 kV/cm, in proportion to δ.
	open, f := CapFreeWeb(1, units.Length(math.Inf(1)), 0.8)
	checkNear(t, "endless gap", float64(open), units.Epsilon0*24.22e5*0.8, 1e-17)
	if f != known.AboveRange {
		t.Errorf("endless gap: %v", f)
	}
}

// Ends of the gap are those behind a 50 mm roller, √(R² + x²) − R.
func TestLeastAgainstScan(t *testing.T) {
	for _, c := range []struct{ past, outer, delta float64 }{{5e-3, 1e-3, 1}, {2e-3, 50e-6, 1}, {3.2e-3, 80e-6, 1},
		{30e-3, 0.3, 0.9}, {1e-3, 30e-6, 1.1},
		// Ends at 54 µm, between the stationary point of the logarithmic piece and the step.
		{2.3239e-3, 79e-6, 1}, {2.3239e-3, 84e-6, 1}} {
		end := math.Hypot(0.05, c.past) - 0.05
		got, _, _ := Least(units.Length(c.outer), units.Length(end), c.delta)
		want, _ := scan(c.outer, end, c.delta)
		if r := float64(got)/want - 1; !(r <= 1e-12 && r >= -2e-4) {
			t.Errorf("%+v: %v, scan %g", c, got, want)
		}
	}
	// Without an end it is the least behind a backed film, to the bit.
	for g := 1e-7; g < 1; g *= 1.3 {
		got, gap, f := Least(units.Length(g), units.Length(math.Inf(1)), 0.9)
		cap, z, flag := CapBacked(units.Length(g), 1, 0.9)
		if units.Epsilon0*float64(got) != float64(cap) || gap != z || f != flag {
			t.Errorf("g %g: %v at %v (%v), CapBacked %v at %v (%v)", g, got, gap, f, cap, z, flag)
		}
	}
}

func TestCapBadArguments(t *testing.T) {
	isNaN := func(name string, v units.SurfaceChargeDensity) {
		t.Helper()
		if !math.IsNaN(float64(v)) {
			t.Errorf("%s: %v, want NaN", name, v)
		}
	}
	a, _, _ := CapBacked(0, 2, 1)
	isNaN("thickness 0", a)
	a, _, _ = CapBacked(um, 0.5, 1)
	isNaN("εr 0.5", a)
	a, _, _ = CapBacked(um, 2, math.NaN())
	isNaN("δ NaN", a)
	a, _ = CapFreeWeb(3, um, 1)
	isNaN("three faces", a)
	a, _ = CapFreeWeb(1, units.Length(math.NaN()), 1)
	isNaN("gap NaN", a)
	least, _, _ := Least(0, um, 1)
	isNaN("least, no length", units.SurfaceChargeDensity(least))
	least, _, _ = Least(um, units.Length(math.NaN()), 1)
	isNaN("least, end NaN", units.SurfaceChargeDensity(least))
	least, _, _ = Least(um, um, 6)
	isNaN("least, δ 6", units.SurfaceChargeDensity(least))
	isNaN("uniform, no face", CapUniform(0, AirStrength))
	isNaN("bulk, εr 0", CapBulk(0, AirStrength))
	isNaN("bulk, NaN", CapBulk(2, units.ElectricField(math.NaN())))
}

func TestCapBackedTo(t *testing.T) {
	th := []units.Length{25 * um, -1, 50 * um, units.Length(math.NaN())}
	er := []float64{3.2, 2, 0.1, 2}
	cap, gap := make([]units.SurfaceChargeDensity, 4), make([]units.Length, 4)
	err := CapBackedTo(cap, gap, th, er, 1)
	if err == nil {
		t.Fatal("no error for bad rows")
	}
	if n := len(err.(interface{ Unwrap() []error }).Unwrap()); n != 3 {
		t.Errorf("%d errors, want 3: %v", n, err)
	}
	want, z, _ := CapBacked(25*um, 3.2, 1)
	if cap[0] != want || gap[0] != z || !math.IsNaN(float64(cap[1]+0)) || !math.IsNaN(float64(cap[2])) ||
		!math.IsNaN(float64(gap[3])) {
		t.Errorf("columns %v %v", cap, gap)
	}
	if err := CapBackedTo(cap[:2], gap, th, er, 1); err == nil {
		t.Error("columns of different length: no error")
	}
	if err := CapBackedTo(cap, gap, th, er, 9); err == nil || !math.IsNaN(float64(cap[0])) {
		t.Error("δ 9: no error")
	}
}
