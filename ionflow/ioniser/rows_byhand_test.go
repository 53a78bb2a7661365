package ioniser

import (
	"math"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// A row of points at ±7 kV that starts at 3.5 kV, K = 1e-12 A/(m·V²) of either polarity. At φ the points at −7 kV see
// x = φ + 7 kV and those at 7 kV φ − 7 kV: half of x·(|x| − 3.5 kV) of each.
func TestRowByHand(t *testing.T) {
	r := row{n: 2, start: 3500, plus: 1e-12, minus: 1e-12, most: math.Inf(1), least: math.Inf(1), d: 0.05, body: 0.1,
		voltage: 7000}
	r.share[0], r.share[1], r.at[0], r.at[1] = 0.5, 0.5, 7000, -7000
	limited := r
	limited.most, limited.least = 4e-5, 1e-5
	none := limited
	none.least = 0
	weak := r
	weak.at[0], weak.at[1] = 3000, -3000 // beyond the reach of an alternating bar
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		// φ = 700: ½·(7700·4200 − 6300·2800) V²
		{"weak web", r.current(700), 7.35e-6}, {"weak negative web", r.current(-700), -7.35e-6},
		// φ = 7 kV: ½·14000·10500
		{"at their potential", r.current(7000), 73.5e-6},
		// φ = 14 kV: ½·(21000·17500 + 7000·3500)
		{"strong web", r.current(14000), 196e-6},
		// y·I'/(y + I'): 7.35·10/17.35 and 7.35·40/47.35
		{"few negative ions", limited.current(700), 73.5e-6 / 17.35},
		{"few positive ions", limited.current(-700), -294e-6 / 47.35},
		{"no negative ions", none.current(700), 0}, {"but positive ones", none.current(-700), -294e-6 / 47.35},
		{"nothing starts", weak.current(200), 0}, {"one side starts", weak.current(1000), 0.5e-12 * 4000 * 500},
		// (N − P)/(N + P) of 7700·4200 and 6300·2800
		{"balance of 700 V", r.balanceAt(700), 14.7 / 49.98}, {"balance of −700 V", r.balanceAt(-700), -14.7 / 49.98},
		{"balance of all", r.balanceAt(3500), 1}, {"balance without ions", weak.balanceAt(200), 0},
		// field φ/D + sp·φ·(1.5/d − 1/D), sp·φ = ½·(4200 − 2800) = 700 = φ: full
		{"field, full space charge", r.field(700), 700 * 30}, {"negative", r.field(-700), -700 * 30},
		{"field of half a volt", r.field(0.5), 15}, {"of minus half a volt", r.field(-0.5), -15},
		// one side at x = 4000: sp·φ = ½·500
		{"field, half started", weak.field(1000), 1000*10 + 250*20.},
		{"half started, negative", weak.field(-1000), -10000 - 5000},
		{"field before the start", weak.field(200), 2000},
		// 2ε0μ/(d·pitch), or 1.35ε0μ/d² of a line, whichever is less: they meet at a pitch of 1.48 d
		{"points apart", saturation(1.5e-4, 0.05, 0.1), eps0 * 1.5e-4 * 400}, {"points close", saturation(1.5e-4, 0.05, 0.01),
			eps0 * 1.5e-4 * 540},
		// 7000·3500 of one polarity alone, and 4/π of it in the first harmonic of a square wave
		{"swing", r.swingOfPoints(), 98e-6 / math.Pi}, {"swing of few", limited.swingOfPoints(), 392e-6 / 6.45 / math.Pi},
		{"swing before the start", weak.swingOfPoints(), 0},
	} {
		if c.want == 0 {
			if c.got != 0 {
				t.Errorf("%s: %v", c.what, c.got)
			}
			continue
		}
		near(t, c.what, c.got, c.want, 1e-9)
	}
	// Points at 4 kV that start at 2 kV, at a sine: the first harmonic of K·V²·s·(s − ½) for s = sin θ above ½, by its
	// integral 2K·V²/π·∫ s²(s − ½) dθ from 30° to 150° with ∫ s³ = 2·(c − c³/3), ∫ s² = π/3 + c/2 for c = cos 30°.
	ac := row{n: levels, start: 2000, plus: 1e-12, minus: 1e-12, most: math.Inf(1), least: math.Inf(1), d: 0.05,
		body:    0.05,
		voltage: 4000}
	for k := range levels {
		ac.share[k], ac.at[k] = 1./levels, 4000*math.Sin((float64(k)+0.5)*2*math.Pi/levels)
	}
	c := math.Sqrt(0.75)
	sine := 2 / math.Pi * 16e-6 * (2*(c-c*c*c/3) - (math.Pi/3+c/2)/2)
	near(t, "swing of a sine", ac.swingOfPoints(), sine, 0.02) // sixteen phases
	for k := range levels {
		ac.at[k] /= 4
	}
	if i := ac.swingOfPoints(); i != 0 {
		t.Errorf("a sine below the start: %v", i)
	}
	// Rest: of passive points ± the start, of balanced ones 0, of one polarity V − V_s and beyond.
	passive := row{n: 1, start: 1500, plus: 1e-12, minus: 1e-12, most: 1, least: 1, d: 0.05, body: 0.1}
	passive.share[0] = 1
	if lo, hi := passive.rest(); !(math.Abs(lo+1500) <= 1e-9) || !(math.Abs(hi-1500) <= 1e-9) {
		t.Errorf("passive points rest within %v … %v V", lo, hi)
	}
	if lo, hi := r.rest(); lo != 0 || hi != 0 {
		t.Errorf("balanced points rest at %v … %v V", lo, hi)
	}
	tilted := r
	tilted.plus, tilted.minus = (1+14.7/49.98)*1e-12, (1-14.7/49.98)*1e-12
	if lo, hi := tilted.rest(); !(math.Abs(lo-700) <= 1e-6) || !(math.Abs(hi-700) <= 1e-6) {
		t.Errorf("tilted points rest at %v … %v V", lo, hi)
	}
	// A branch goes from 1 V to 3 MV beyond the rest; from half of the emission on it is supply that limits.
	for _, sign := range []float64{1, -1} {
		points := limited.pull(nil, 700*sign, sign, false)
		if len(points) != curvePoints {
			t.Fatal(len(points))
		}
		near(t, "first", points[0].voltage, sign*701, 1e-12)
		near(t, "last", points[curvePoints-1].voltage, sign*3.0007e6, 1e-12)
		near(t, "middle", points[21].voltage, sign*(700+math.Cbrt(3e6)), 1e-12) // 21/63
		top := map[float64]float64{1: 1e-5, -1: 4e-5}[sign]
		for _, p := range points {
			near(t, "peak", p.peak, math.Abs(p.field), 0)
			near(t, "current", p.current, math.Abs(limited.current(p.voltage)), 1e-12)
			if by := p.regime == ionflow.SupplyLimited; by != (p.current > top/2) || p.soft {
				t.Errorf("%v of %v A/m: %v", p.current, top, p.regime)
			}
		}
	}
	windy := limited
	windy.wind, windy.slower = 20, 1.4e-4
	for _, p := range windy.pull(nil, 0, 1, false) { // an estimate where air takes more than a fifth
		if p.soft != (windy.calm(p.voltage) < 0.8) {
			t.Errorf("at %v V wind leaves %v: %v", p.voltage, windy.calm(p.voltage), p.soft)
		}
	}
}

// Where passive points start, worked out from V_s = V_on·D/(D − d) of one point and V_on·(π/2)·√(d/p) of a row, for a
// start of 2 kV measured at 20 mm: the rule with the greater field at the web, V_s over the distance of what the web
// feels as earth. That is for a row the fin, 60 mm away, less and less of it between pitches of 20 and 40 mm.
func TestStartOfPassiveByHand(t *testing.T) {
	for _, c := range []struct {
		pitch, body, tip float64 // [mm]
		start, plane     float64 // [kV], [mm]
		row              bool
	}{
		{5, 60, 0, 2 * math.Pi, 60, true},                                       // √(20/5) = 2 beside 1.5
		{5, 200, 0, 2 * math.Pi, 60, true},                                      // the fin is nearer than its body
		{5, 30, 0, 2 * math.Pi, 30, true},                                       // π/30 over 3/30
		{5, 25, 0, 10, 25, false},                                               // 5/25 over π/25
		{25, 200, 0, math.Pi * math.Sqrt(0.8), 1 / (1./200 + 0.75*7/600), true}, // 2 − 25/20 = ¾ of a fin
		{30, 200, 0, math.Pi * math.Sqrt(2./3), 1 / (1./200 + 0.5*7/600), true}, // ½
		{50, 200, 0, 2 / 0.9, 200, false},                                       // none: 1.11 beside 0.993
	} {
		s := tinsel(0.02, c.body/1e3)
		s.Points.Pitch, s.Points.Tip, s.Points.Start, s.Points.Delta = units.Length(c.pitch/1e3), 0, 2000, 1
		start, plane, row := s.startOfPassive()
		near(t, "start", start, c.start*1e3, 1e-9)
		near(t, "plane", plane, c.plane/1e3, 1e-9)
		if row != c.row {
			t.Errorf("%+v: a row: %v", c, row)
		}
	}
	// With a tip the start of a row is that half a pitch before the points, if that is more than two radii.
	for _, c := range []struct{ pitch, tip, near float64 }{ // [mm]
		{5, 0.05, 2.5}, {1.5, 0.5, 20}, {2.1, 0.5, 1.05}, {1.9, 0.5, 20}, {39, 0.05, 19.5},
	} {
		s := tinsel(0.02, 1)
		s.Points.Pitch, s.Points.Tip, s.Points.Delta = units.Length(c.pitch/1e3), units.Length(c.tip/1e3), 1
		on, _ := ionflow.OnsetVoltage(ionflow.PeekCylinder, s.Points.Tip, units.Length(c.near/1e3), 1)
		one, _ := ionflow.OnsetVoltage(ionflow.PeekCylinder, s.Points.Tip, 0.02, 1)
		start, _, row := s.startOfPassive()
		if row {
			near(t, "tip of a row", start, float64(on)*math.Pi/2*math.Sqrt(20/c.pitch), 1e-9)
		} else {
			near(t, "one tip", start, float64(one)/0.98, 1e-9)
		}
		// A measured start scales what the tip law says of half a pitch.
		s.Points.Start = 2 * units.Voltage(one)
		if start, _, row = s.startOfPassive(); row {
			near(t, "scaled", start, 2*float64(on)*math.Pi/2*math.Sqrt(20/c.pitch), 1e-9)
		}
	}
}

// What an alternating source loses on the way: bunches as long as the plume is broad, u = 2·f·b, are half mixed.
func TestAlternatingByHand(t *testing.T) {
	i := ionflow.Ions{Plus: 1e-4, Minus: 3e-4, Alpha: 2e-12}
	repel := 2 * elementary * 2e-4 / eps0 // 2eμ/ε0 of the mean mobility
	for _, c := range []struct{ f, u, b, want float64 }{
		{50, 10, 0.1, (2e-12 + repel) / 2}, {50, 20, 0.1, 0.2*2e-12 + 0.8*repel}, {100, 10, 0.1, 0.8*2e-12 + 0.2*repel},
		{50, 10, 0.2, 0.8*2e-12 + 0.2*repel}, {0, 10, 0.1, 2e-12},
	} {
		near(t, "loss", float64(alternating(i, units.Frequency(c.f), c.u, c.b)), c.want, 1e-12)
	}
	// √(μV/(2f)) of the slower ion: √(1.4e-4·7000/100) m = 98.99 mm; a direct bar reaches everywhere.
	s := pointSpec(t, 0.2)
	s.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.AC, Current: 3e-4, Voltage: 7000, Switch: 50})
	src, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "reach", float64(src.Reach()), math.Sqrt(9.8e-3), 1e-12)
	// At 0.2 m a fourth of that potential is left, 1/4.0816 = 0.245.
	r, soft := src.row(3e-4, 3e-4)
	near(t, "level", r.at[0], 7000*0.245*math.Sin(math.Pi/levels), 1e-9)
	near(t, "share", r.share[levels-1], 1./levels, 0)
	if r.n != levels || !soft || r.voltage != 7000 {
		t.Errorf("%+v, %v", r, soft)
	}
	near(t, "level of the last phase", r.at[levels-1], -7000*0.245*math.Sin(math.Pi/levels), 1e-9)
	direct, err := New(pointSpec(t, 0.05))
	if err != nil {
		t.Fatal(err)
	}
	if !math.IsInf(float64(direct.Reach()), 1) {
		t.Errorf("a direct bar reaches %v", direct.Reach())
	}
	if r, soft = direct.row(3e-4, 2e-4); r.n != 2 || soft || r.at[0] != 7000 || r.at[1] != -7000 || r.share[0] != 0.5 ||
		r.share[1] != 0.5 || r.most != 3e-4 || r.least != 2e-4 {
		t.Errorf("%+v", r)
	}
	near(t, "K", r.plus, saturation(1.4e-4, 0.05, 0.01), 1e-12)
	tilted := pointSpec(t, 0.05)
	e := tilted.Emitter.Spec()
	e.Balance = 0.25
	tilted.Emitter = emitter(t, e)
	src, err = New(tilted)
	if err != nil {
		t.Fatal(err)
	}
	r, _ = src.row(3e-4, 3e-4)
	near(t, "K+", r.plus, 1.25*saturation(1.4e-4, 0.05, 0.01), 1e-12)
	near(t, "K−", r.minus, 0.75*saturation(1.4e-4, 0.05, 0.01), 1e-12)
	passive, err := New(tinsel(0.02, 0.06))
	if err != nil {
		t.Fatal(err)
	}
	r, _ = passive.row(0, 0)
	near(t, "K+ of passive points", r.plus, saturation(1.4e-4, 0.02, 0.005), 1e-12)
	near(t, "K− of passive points", r.minus, saturation(1.6e-4, 0.02, 0.005), 1e-12)
	if r.most != 1e-3 || r.least != 1e-3 || r.n != 1 || r.share[0] != 1 {
		t.Errorf("%+v", r)
	}
}
