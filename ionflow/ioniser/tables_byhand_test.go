package ioniser

import (
	"math"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// A stretch with I ∝ z^a takes l for a = 1, e^l − 1 for a = 0 and 1 − e^(−l) for a = 2, in units of z/I at its lower
// end; close to a = 1 the first two terms of the series. The way back is shrunk.
func TestStretchByHand(t *testing.T) {
	for _, c := range []struct{ a, l, want float64 }{
		{1, 5, 5}, {0, math.Log(3), 2}, {2, math.Log(4), 0.75}, {1 - 1e-8, 5, 5.000000125}, {1 + 1e-8, 5, 4.999999875},
		{0, math.Log(0.25), -0.75},
	} {
		near(t, "stretch", stretch(c.a, c.l), c.want, 1e-12)
	}
	for _, c := range []struct{ a, tau, want float64 }{
		{1, 5, -5}, {0, 0.5, -math.Ln2}, {2, 1, -math.Ln2}, {0.5, 1, -2 * math.Ln2}, {1 - 1e-8, 5, -5.000000125},
		{1 + 1e-8, 5, -4.999999875}, {3, 4, -math.Log(9) / 2},
	} {
		near(t, "shrunk", shrunk(c.a, c.tau), c.want, 1e-12)
	}
	if x := shrunk(0, 1); !math.IsInf(x, -1) {
		t.Errorf("a constant current takes all: %v", x)
	}
}

// Beyond both ends of the table: the current is proportional below it and constant above, the time accordingly.
func TestTableEnds(t *testing.T) {
	const is, g = 5e-6, 30.0
	constant := tableOf(func(float64) float64 { return is })
	linear := tableOf(func(z float64) float64 { return g * z })
	step := tableOf(func(z float64) float64 { // nothing below a node, then in proportion
		if z < 0.99e-6 {
			return 0
		}
		return g * z
	})
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"current just below", constant.current(0.9e-10), 0.9 * is}, {"far below", constant.current(1e-13), 1e-3 * is},
		{"at the first node", constant.current(1e-10), is}, {"inside", constant.current(3e-7), is},
		{"above", linear.current(5e-3), g * 1e-3}, {"at the top", linear.current(1e-3), g * 1e-3},
		{"time just below", constant.time(0.9e-10, 0.45e-10), math.Ln2 * 1e-10 / is},
		{"time across the first node", constant.time(2e-10, 0.5e-10), (1e-10 + math.Ln2*1e-10) / is},
		{"time above", linear.time(3e-3, 1e-3), 2 / g}, {"time at the top", linear.time(1e-3, 0.5e-3), math.Ln2 / g},
		{"time down to an onset", step.time(1e-5, step.onset), math.Log(10) / g},
		{"taken just below", constant.pass(0.9e-10, math.Ln2*1e-10/is).taken, 0.45e-10},
		{"taken across the first node", constant.pass(2e-10, 1.5e-10/is).taken, 1e-10 + 1e-10*-math.Expm1(-0.5)},
		{"taken above", linear.pass(3e-3, 1/g).taken, 1e-3},
		{"taken down to the table", linear.pass(3e-3, (2+math.Ln2)/g).taken, 2.5e-3},
	} {
		near(t, c.what, c.got, c.want, 1e-9)
	}
	if !linear.pass(1.01e-3, 1).above || linear.pass(0.99e-3, 1).above {
		t.Error("beyond the table")
	}
	if x := step.time(1e-5, step.onset*0.99); !math.IsInf(x, 1) {
		t.Errorf("below an onset: %v", x)
	}
	if step.current(step.onset) != 0 || !(step.current(step.onset*1.001) > 0) {
		t.Error("current at an onset")
	}
	near(t, "onset", step.onset, 1e-6, 1e-9)
	idle := tableOf(func(float64) float64 { return 0 })
	if r := idle.pass(1e-6, 1); r.taken != 0 || r.by != ionflow.Idle || idle.current(1e-6) != 0 ||
		!math.IsInf(idle.time(1e-6, 1e-7), 1) {
		t.Errorf("an idle table: %+v", r)
	}
	// What falls back counts as what comes after it.
	bump := tableOf(func(z float64) float64 {
		if z < 1e-7 {
			return 3e-6
		}
		return 1e-6
	})
	near(t, "a bump", bump.current(1e-9), 1e-6, 1e-12)
	near(t, "a bump at the first node", bump.i[0], 1e-6, 1e-12)
	// The table's first node with a field of discharge.
	p := &passes{}
	p.fill(func(z float64) (float64, ionflow.Regime, bool, float64) {
		return z, ionflow.DriftLimited, false, z * 3e6 / 0.99e-5
	})
	if !(p.strong > 0.99e-5 && p.strong < 1.01e-5) || !p.pass(1.1e-5, 1).above || p.pass(0.9e-5, 1).above {
		t.Errorf("discharge from %v", p.strong)
	}
}

// Most of the time names the regime, half of it makes an estimate: conduction (an estimate) up to 1 µC/m², supply
// above.
func TestSharesOfTime(t *testing.T) {
	p := &passes{}
	p.fill(func(z float64) (float64, ionflow.Regime, bool, float64) {
		if z > 1e-6*(1-1e-9) {
			return 1e-6, ionflow.SupplyLimited, false, 0
		}
		return z, ionflow.ConductivityLimited, true, 0
	})
	for _, c := range []struct {
		z, tau float64
		by     ionflow.Regime
		soft   bool
	}{
		// from 4 to 1 µC/m² 3 s/m, then a factor e each s/m
		{4e-6, 2.9, ionflow.SupplyLimited, false}, {4e-6, 5.9, ionflow.SupplyLimited, false},
		{4e-6, 6.2, ionflow.ConductivityLimited, true}, {0.9e-6, 0.01, ionflow.ConductivityLimited, true},
		{5e-11, 1, ionflow.ConductivityLimited, true},
	} {
		if r := p.pass(c.z, c.tau); r.by != c.by || r.soft != c.soft {
			t.Errorf("%+v: %+v", c, r)
		}
	}
	near(t, "left", 4e-6-p.pass(4e-6, 4).taken, 1e-6/math.E, 0.01) // the node at 1 µC/m² begins the constant stretch
}

// A branch by hand: charges ε0·F of 1, 2 and 4 µC/m², currents 5, 3 and 12 µA/m, of which the first is held to the
// second.
func TestTrackByHand(t *testing.T) {
	f := func(micro float64) float64 { return micro * 1e-6 / eps0 }
	branch := []point{{current: 5e-6, field: f(1)}, {current: 0, field: f(1.5)}, {current: 3e-6, field: f(2)},
		{current: 9, field: f(1.9)}, {current: 12e-6, field: f(4)}}
	var up track
	up.lay(branch, &point{}, 1, 0)
	for _, c := range []struct {
		z, want float64 // [µC/m²], [µA/m]
		from    int
	}{
		{0.5, 1.5, 0}, {1, 3, 0}, {1.5, 3, 0}, {2, 3, 2}, {2 * math.Sqrt2, 6, 2}, {4, 12, 4}, {100, 12, 4},
	} {
		i, k := up.current(c.z * 1e-6)
		if near(t, "track", i, c.want*1e-6, 1e-9); k != c.from {
			t.Errorf("%v µC/m²: point %d, want %d", c.z, k, c.from)
		}
	}
	for _, z := range []float64{0, -1e-6, math.NaN()} {
		if i, _ := up.current(z); i != 0 {
			t.Errorf("%v C/m²: %v", z, i)
		}
	}
	// From an origin of 0.5 µC/m² with 100 V over a gap of ε0·100 V/(0.25 µC/m²): 0.75 µC/m² less.
	var less track
	less.lay(branch, &point{field: f(0.5), voltage: 100}, 1, 0.25e-6/(eps0*100))
	if i, _ := less.current(0.25e-6); !(math.Abs(i-3e-6) <= 1e-14) {
		t.Errorf("from an origin: %v", i)
	}
	// The branch of a negative web.
	var down track
	down.lay([]point{{current: 1e-6, field: f(-1)}, {current: 4e-6, field: f(-2)}}, &point{}, -1, 0)
	if i, _ := down.current(math.Sqrt2 * 1e-6); !(math.Abs(i-2e-6) <= 1e-14) {
		t.Errorf("a negative web: %v", i)
	}
	near(t, "charge", (&point{field: 3, voltage: 5}).charge(2), 13*eps0, 1e-12)
}

// Two channels at a web: the greater drives it back, less the one that drives it on; where their rests differ they end
// where both are equal.
func TestChannelsByHand(t *testing.T) {
	lane := func(kind channelKind, rest, slope float64, soft bool) laid { // rest [µC/m²], slope [m/s]
		ch := &channel{kind: kind, aboveTop: 1, belowTop: 1}
		l := laid{ch: ch, low: rest * 1e-6, high: rest * 1e-6}
		branch := make([]point, 2)
		for k, z := range []float64{1e-9, 1e-3} {
			branch[k] = point{current: slope * z, field: z / eps0, soft: soft, peak: 7}
		}
		l.above.lay(branch, &point{}, 1, 0)
		l.below = l.above
		return l
	}
	two := []laid{lane(streamChannel, 0, 2, false), lane(stillChannel, 0, 3, false)}
	i, _, soft, peak := deliver(two, 4e-6, 1)
	if near(t, "the greater", i, 12e-6, 1e-9); !soft || peak != 7 {
		t.Errorf("1.5 times the stream: %v, %v", soft, peak)
	}
	two[1] = lane(stillChannel, 0, 2.5, false)
	if _, _, soft, _ = deliver(two, 4e-6, 1); soft {
		t.Error("1.25 times the stream")
	}
	if i, _, _, _ = deliver(two, -4e-6, -1); !(math.Abs(i-10e-6) <= 1e-14) {
		t.Errorf("a negative web: %v", i)
	}
	// Rests at 1 and −2 µC/m² with slopes 2 and 4: 2·(1 − σ) = 4·(σ + 2) at σ = −1.
	two = []laid{lane(streamChannel, 1, 2, false), lane(pointChannel, -2, 4, false)}
	low, high := balance(two)
	if near(t, "balance", low, -1e-6, 1e-9); low != high {
		t.Errorf("an interval %v … %v", low, high)
	}
	// 0.5 µC/m² is 2.5 beyond one and 0.5 short of the other: 10 − 1.
	if i, _, _, _ = deliver(two, 0.5e-6, 1); !(math.Abs(i-9e-6) <= 1e-14) {
		t.Errorf("one on, one back: %v", i)
	}
	// At −1.5 one pulls back with 5 and the other, 0.5 beyond its rest, on with 2.
	if i, _, _, _ = deliver(two, -1.5e-6, -1); !(math.Abs(i-3e-6) <= 1e-14) {
		t.Errorf("one on, one back, below: %v", i)
	}
	// No more than the emission of the polarity needed.
	two[0].ch.belowTop, two[1].ch.aboveTop = 1e-6, 2e-6
	if i, _ := two[1].net(5e-6); i != 2e-6 {
		t.Errorf("emission above: %v", i)
	}
	if i, _ := two[0].net(-5e-6); i != -1e-6 {
		t.Errorf("emission below: %v", i)
	}
	// Intervals that overlap leave what they share.
	wide := lane(pointChannel, 0, 1, false)
	wide.low, wide.high = -3e-6, 2e-6
	if low, high = balance([]laid{wide, {ch: wide.ch, low: -1e-6, high: 4e-6}}); low != -1e-6 || high != 2e-6 {
		t.Errorf("shared rest %v … %v", low, high)
	}
	if i, at := wide.net(1e-6); i != 0 || at != nil {
		t.Errorf("at rest: %v", i)
	}
	if i, _, soft, _ = deliver([]laid{lane(pointChannel, 0, 1, true)}, 1e-6, 1); !soft || !(i > 0) {
		t.Errorf("an estimate alone: %v, %v", i, soft)
	}
}

// A fast web loses I/v: what a place delivers at once to either sign, far from and near its rest, is what a pass
// takes of it, with all sources and with the stream alone.
func TestCurrentIsWhatAFastWebLoses(t *testing.T) {
	leaning := blownSpec(t, 0.1, 100)
	leaning.Points = Points{Pitch: 0.01, Start: 3500}
	leaning.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 3e-4, Voltage: 7000, Balance: 0.1})
	for what, s := range map[string]Spec{"blown": blownSpec(t, 0.1, 100), "points": pointSpec(t, 0.03),
		"passive": tinsel(0.025, 0.05), "leaning": leaning} {
		p := at(t, s, 0.3)
		const v = 1e6
		for _, net := range []units.SurfaceChargeDensity{3e-6, -3e-6, 1.5e-6, -1.5e-6, 20e-6, -20e-6} {
			if low, high := p.DeadBand(); low <= net && net <= high {
				continue
			}
			alone, all := p.CurrentBracket(net)
			a, b := p.Bracket(net, v)
			near(t, what, -float64(b.Deposited)*v, float64(all), 1e-4)
			near(t, what+", stream alone", -float64(a.Deposited)*v, float64(alone), 1e-4)
			if p.Current(net) != all || net > 0 != (all > 0) || (what == "leaning") == (alone == all) {
				t.Errorf("%s, %v: %v of %v", what, net, alone, all)
			}
			// FastestFor is the speed at which the pass leaves what was wanted.
			want := units.SurfaceChargeDensity(1.3e-6)
			if f := p.FastestFor(want, net); f > 0 && !math.IsInf(float64(f), 0) {
				near(t, what+", fastest", math.Abs(float64(p.Act(net, f).Left)), 1.3e-6, 1e-6)
			} else if what != "passive" {
				t.Errorf("%s, %v: fastest %v", what, net, f)
			}
			f, err := p.Fit(net, net*0.9, 3)
			if err != nil {
				t.Fatal(err)
			}
			near(t, what+", fitted", float64(f.Act(net, 3).Left), float64(net)*0.9, 1e-6)
		}
		if !math.IsNaN(float64(p.Current(units.SurfaceChargeDensity(math.NaN())))) {
			t.Errorf("%s: a current to nothing", what)
		}
	}
}
