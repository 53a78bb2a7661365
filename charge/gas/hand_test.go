package gas

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/internal/rangecheck"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestPublishedRange: gaps of 100 nm to 10 cm and densities of 0.7 to 1.15 are not flagged.
func TestPublishedRange(t *testing.T) {
	for _, c := range []struct {
		gap, delta float64
		want       known.Validity
	}{{101e-9, 1, known.Inside}, {99e-9, 1, known.BelowRange}, {0.099, 1, known.Inside}, {0.101, 1, known.AboveRange},
		{1e-3, 0.71, known.Inside}, {1e-3, 0.69, known.BelowRange}, {1e-3, 1.14, known.Inside},
		{1e-3, 1.16, known.AboveRange}, {0.101, 0.69, known.BelowRange | known.AboveRange}} {
		if _, v := BreakdownVoltage(units.Length(c.gap), c.delta); v != c.want {
			t.Errorf("%+v: %v", c, v)
		}
		if _, v := CapFreeWeb(1, units.Length(c.gap), c.delta); v != c.want {
			t.Errorf("%+v: free web %v", c, v)
		}
	}
	// Humidity: 0.5 to 3 cm, up to 20 g/m³; outside a factor of 2 at 5 and 95 %.
	for _, c := range []struct {
		gap, factor float64
		want        known.Validity
	}{{5e-3, 1.086, known.Inside}, {30e-3, 1.086, known.Inside}, {4.8e-3, 2, known.BelowRange},
		{32e-3, 2, known.AboveRange}} {
		b, v := HumiditySlope(units.Length(c.gap))
		lo, hi := b.Limits()
		checkNear(t, "middle", b.Value, 2.25*math.Pow(c.gap/0.01, 0.2), 1e-12)
		checkNear(t, "high", hi/b.Value, c.factor, 1e-3)
		checkNear(t, "low", b.Value/lo, c.factor, 1e-3)
		if v != c.want {
			t.Errorf("%g m: %v", c.gap, v)
		}
	}
}

// TestPiecesByHand: one voltage of each piece of the law, by its formula in the comment.
func TestPiecesByHand(t *testing.T) {
	for _, c := range []struct{ um, delta, want float64 }{
		{0, 1, 0}, {0.5, 1, 175}, {1, 2, 350}, {4.25, 1, 338.5}, {1 + 1.375, 2, 338.5}, {10, 1, 327}, {20, 0.5, 327},
		// A·pd = 15·760·100·30e-6 = 34.2, B·pd 832.2 V, ln 34.2 − ln ln 101 = 2.002888.
		{30, 1, 832.2 / 2.002888}, {60, 0.5, 832.2 / 2.002888},
		{1e4, 1, 24220 + 6080}, {1e4, 4, 4*24220 + 2*6080},
	} {
		v, _ := BreakdownVoltage(units.Length(c.um*1e-6), c.delta)
		checkNear(t, "V", float64(v), c.want, 1e-5*c.want)
	}
}

// TestNoNumber: what is not in the range of an argument has no cap.
func TestNoNumber(t *testing.T) {
	inf := units.Length(math.Inf(1))
	volt := func(gap units.Length, delta float64) float64 { v, _ := BreakdownVoltage(gap, delta); return float64(v) }
	web := func(faces int, gap units.Length, delta float64) float64 {
		s, _ := CapFreeWeb(faces, gap, delta)
		return float64(s)
	}
	backed := func(t units.Length, epsr, delta float64) float64 {
		s, _, _ := CapBacked(t, epsr, delta)
		return float64(s)
	}
	limits := func(t units.Length, epsr, delta float64) float64 {
		_, s, _ := CapBackedLimits(t, epsr, delta)
		return float64(s)
	}
	least := func(other, end units.Length, delta float64) float64 {
		f, _,
			_ := Least(other, end, delta)
		return float64(f)
	}
	spread := func(other, end units.Length, delta float64) float64 {
		_, m, _ := LeastLimits(other, end, delta)
		return float64(m)
	}
	square := func(side units.Length, c Counter, delta float64) float64 {
		s, _, _ := CapSquare(side, c, delta)
		return float64(s)
	}
	sphere := func(r units.Length, delta float64) float64 { q, _, _ := CapSphere(r, delta); return float64(q) }
	humid := func(gap units.Length, h units.VapourDensity) float64 { k, _ := HumidityFactor(gap, h); return k }
	for _, c := range []struct {
		what   string
		got    float64
		number bool
	}{
		{"density 5", volt(1e-3, 5), true}, {"density 5.01", volt(1e-3, 5.01), false}, {"no density", volt(1e-3, 0), false},
		{"thin air", volt(1e-3, 0.01), true}, {"negative gap", volt(-1e-9, 1), false},
		{"one face", web(1, 1e-3, 5), true}, {"no face", web(0, 1e-3, 1), false}, {"three faces", web(3, 1e-3, 1), false},
		{"web, density", web(2, 1e-3, 5.01), false}, {"web, no density", web(2, 1e-3, 0), false},
		{"web, negative", web(2, -1e-9, 1), false}, {"web, no end", web(2, inf, 1), true},
		{"film of air", backed(1e-4, 1, 5), true}, {"εr", backed(1e-4, 0.99, 1), false}, {"no film", backed(0, 2, 1), false},
		{"film, density", backed(1e-4, 2, 5.01), false}, {"film, no density", backed(1e-4, 2, 0), false},
		{"limits", limits(1e-4, 1, 5), true}, {"limits, εr", limits(1e-4, 0.99, 1), false},
		{"limits, density", limits(1e-4, 2, 5.01), false}, {"limits, no density", limits(1e-4, 2, 0), false},
		{"least", least(1e-4, 1e-3, 5), true}, {"least, other", least(0, 1, 1), false}, {"least, end", least(1, 0, 1), false},
		{"least, density", least(1, 1, 5.01), false}, {"least, no density", least(1, 1, 0), false},
		{"spread", spread(1e-4, 1e-3, 5), true}, {"spread, other", spread(0, 1, 1), false},
		{"spread, end", spread(1, 0, 1), false},
		{"spread, density", spread(1, 1, 5.01), false}, {"spread, no density", spread(1, 1, 0), false},
		{"square", square(10e-6, EqualSquare, 5), true}, {"square of 1 m", square(1, OverPlane, 1), true},
		{"small square", square(9.9e-6, OverPlane, 1), false}, {"great square", square(1.01, OverPlane, 1), false},
		{"square, counter", square(1e-3, 2, 1), false}, {"square, density", square(1e-3, OverPlane, 5.01), false},
		{"square, no density", square(1e-3, OverPlane, 0), false},
		{"sphere", sphere(1e-6, 5), true}, {"sphere of 1 m", sphere(1, 1), true}, {"small sphere", sphere(0.99e-6, 1), false},
		{"great sphere", sphere(1.01, 1), false}, {"sphere, density", sphere(1e-3, 5.01), false},
		{"sphere, no density", sphere(1e-3, 0), false},
		{"uniform", float64(CapUniform(1, 0.5)), true}, {"uniform, none", float64(CapUniform(1, -0.5)), false},
		{"uniform, no face", float64(CapUniform(0, 1)), false}, {"uniform, three", float64(CapUniform(3, 1)), false},
		{"bulk", float64(CapBulk(1, 0.5)), true}, {"bulk, εr", float64(CapBulk(0.99, 1)), false},
		{"bulk, none", float64(CapBulk(2, -0.5)), false},
		{"humid", humid(1e-6, 0), true}, {"humid, gap", humid(0, 0), false}, {"humid, none", humid(1, -1e-9), false},
		{"humid, endless", humid(inf, 0), false},
	} {
		if math.IsNaN(c.got) == c.number {
			t.Errorf("%s: %g", c.what, c.got)
		}
	}
}

// TestClosingGap: up to 1 µm field emission rules, 350 V/µm, at no gap.
func TestClosingGap(t *testing.T) {
	for _, c := range []struct{ other, end units.Length }{{1, units.Micrometre}, {1e-9, 1}} {
		if f, z, v := Least(c.other, c.end, 1); f != FieldEmission || z != 0 || v != known.BelowRange {
			t.Errorf("%+v: %v at %v, %v", c, f, z, v)
		}
	}
	cap, gap := make([]units.SurfaceChargeDensity, 3), make([]units.Length, 3)
	thickness := []units.Length{1e-9, 2e-4, 1e-4}
	if err := CapBackedTo(cap, gap, thickness, []float64{1, 2, 1}, 1); err != nil {
		t.Error(err)
	}
	if gap[0] != 0 || cap[1] != cap[2] || gap[1] != gap[2] {
		t.Errorf("%v at %v", cap, gap)
	}
	checkNear(t, "field emission, C/m²", float64(cap[0]), 350e6*8.8541878e-12, 1e-8)
	var f *known.FieldError
	err := CapBackedTo(cap, gap, thickness, []float64{1, 0.99, 1}, 1)
	if !errors.As(err, &f) || f.Field != "epsr[1]" || !math.IsNaN(float64(cap[1])) || math.IsNaN(float64(cap[2])) {
		t.Errorf("%v, %v", cap, err)
	}
	for i := range 3 {
		n := [3]int{3, 3, 3}
		n[i] = 2
		if CapBackedTo(cap[:n[0]], gap[:n[1]], thickness, make([]float64, n[2]), 1) == nil {
			t.Errorf("columns of %v beside 3", n)
		}
	}
}

// TestPaschenRange: 15 /(cm·Torr), 365 V/(cm·Torr), 100 … 800 V/(cm·Torr) with 1 cm·Torr =
// 1.333224 Pa·m. The reduced field is 365/q at A·pd = e^q·ln 101: q 3.65 and 0.45625 at the
// ends.
func TestPaschenRange(t *testing.T) {
	s := AirPaschen()
	for _, c := range [][2]float64{{s.A, 11.25093}, {s.B, 273.7726}, {s.LowestE, 75.0062}, {s.HighestE, 600.0493}} {
		checkNear(t, "constant", c[0], c[1], 1e-6*c[1])
	}
	p, err := NewPaschen(s)
	if err != nil {
		t.Fatal(err)
	}
	for q, want := range map[float64]known.Validity{3.64: known.Inside, 3.66: known.AboveRange, 0.457: known.Inside,
		0.455: known.BelowRange} {
		pd := math.Exp(q) * math.Log(101) / 11.25093
		v, flag := p.Voltage(pd)
		checkNear(t, "voltage", float64(v), 273.7726*pd/q, 1e-4*float64(v))
		if flag != want {
			t.Errorf("q %g: %v, want %v", q, flag, want)
		}
	}
	// A gas whose limits lie below 1 V/(Pa·m): B/q = 0.5 at q = 2.
	weak, err := NewPaschen(PaschenSpec{A: 1, B: 1, Gamma: 1, LowestE: 0.4, HighestE: 0.6})
	if err != nil {
		t.Fatal(err)
	}
	for q, want := range map[float64]known.Validity{2: known.Inside, 2.6: known.AboveRange, 1.6: known.BelowRange} {
		if _, flag := weak.Voltage(math.Exp(q) * math.Ln2); flag != want {
			t.Errorf("q %g: %v, want %v", q, flag, want)
		}
	}
	if c, _, _ := p.CapBacked(1e-4, 1, 0.5); !(c > 0) {
		t.Errorf("at 0.5 Pa: %v", c)
	}
	spec := func(set func(s *PaschenSpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := AirPaschen()
			set(&s, v)
			_, err := NewPaschen(s)
			return err
		}
	}
	for _, c := range []struct {
		name    string
		set     func(s *PaschenSpec, v float64)
		in, out []float64
	}{{"a", func(s *PaschenSpec, v float64) { s.A = v }, []float64{0.5}, []float64{0}},
		{"b", func(s *PaschenSpec, v float64) { s.B = v }, []float64{0.5}, []float64{0}},
		{"gamma", func(s *PaschenSpec, v float64) { s.Gamma = v }, []float64{1e-9, 1}, []float64{0, 1.01}},
		{"lowest_e", func(s *PaschenSpec, v float64) { s.LowestE = v }, []float64{0, 0.5}, []float64{-0.5}},
		{"highest_e", func(s *PaschenSpec, v float64) { s.HighestE = v }, []float64{0, 0.5}, []float64{-0.5}}} {
		for _, fault := range rangecheck.Faults("NewPaschen", c.name, spec(c.set), c.in, c.out) {
			t.Error(fault)
		}
	}
}

// TestValley: the deepest valley of those that the walk of 64 steps sees, one within the
// first step, one at the end, and a foot that lies on a step.
func TestValley(t *testing.T) {
	dent := func(y, at, width float64) float64 { return -math.Exp(-(y - at) * (y - at) / width / width) }
	for _, c := range []struct {
		what string
		f    func(y float64) float64
		at   float64
	}{
		{"the deeper of two", func(y float64) float64 { return dent(y, 5.1, 0.3) + 0.6*dent(y, 1.7, 0.5) }, 5.1},
		{"the deeper of two, first", func(y float64) float64 { return dent(y, 1.7, 0.3) + 0.6*dent(y, 5.1, 0.5) }, 1.7},
		{"within the first step", func(y float64) float64 { return math.Abs(y - 0.03) }, 0.03},
		{"at the start", func(y float64) float64 { return y }, 0},
		{"at the end", func(y float64) float64 { return -y }, 6.4},
		{"on a step", func(y float64) float64 { return math.Abs(y - 2.5) }, 2.5},
	} {
		least, at := valley(c.f, 0, 6.4)
		if !(math.Abs(at-c.at) <= 1e-4) || !(math.Abs(least-c.f(c.at)) <= 1e-6) {
			t.Errorf("%s: %g at %g", c.what, least, at)
		}
	}
}

// TestSphereShape: the gap found must be half of the radius or less. Over a small sphere
// it is the end of the plateau, 16.7 µm: 0.418 of 40 µm, 0.557 of 30.
func TestSphereShape(t *testing.T) {
	for radius, want := range map[units.Length]known.Validity{40 * um: known.Inside, 30 * um: known.WrongShape} {
		if _, z, v := CapSphere(radius, 1); v != want || !(math.Abs(float64(z)-16.7163e-6) <= 1e-9) {
			t.Errorf("%v: at %v, %v", radius, z, v)
		}
	}
}
