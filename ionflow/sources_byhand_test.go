package ionflow

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// What charge asks for and air brings, each product by pencil.
func TestSurfaceByHand(t *testing.T) {
	pair := mustPair(t, DrivenPairSpec{Current: 40e-6, Imbalance: 0.25})
	d := pair.Act(2)
	back := mustPair(t, DrivenPairSpec{Current: -40e-6, Imbalance: -1}).Act(0.5)
	spec, err := PairFor(Faces{Near: -3e-6, Far: 1e-6}, 5)
	if err != nil {
		t.Fatal(err)
	}
	holdTable(t, 1e-12, []byHand{
		{"facing field of 8.854 µC/m²", float64(FacingField(e0 * 1e6)), 1e6},
		{"carried: 1e13 ions at 3 m/s", float64(CarriedCurrent(1e13, 3)), 4.806529902e-6},
		{"removed: 6 mA/m² along 50 mm at 2 m/s", float64(Removed(6e-3, 0.05, 2)), 1.5e-4},
		{"crossing field of 3 m/s", float64(CrossingField(3, 1.5e-4)), 2e4},
		{"speed: 200 µA/m, 4 times 10 µC/m²", float64(SpeedForMargin(200e-6, -10e-6, 4)), 5},
		// 1.602176634e-19·100/(2e-12·0.5)
		{"recombination limit", float64(RecombinationLimit(2e-12, 10, 0.5)), 1.602176634e-5},
		// −5·1e12/(1e-4·3e12 + 2e-4·2e12) = −5e12/7e8
		{"offset field", float64(OffsetField(5, 3e12, 2e12, Ions{Plus: 1e-4, Minus: 2e-4})), -5e4 / 7},
		{"offset of a ratio e²", float64(DiffusionOffset(math.E*math.E, 1, 300)), 2 * kB * 300 / eC},
		{"net", float64(Faces{Near: 3, Far: -5}.Net()), -2},
		{"pair, near", float64(d.Near), 25e-6}, {"pair, far", float64(d.Far), -15e-6},
		{"far side alone", float64(back.Far), 160e-6},
		// the layer is (−3 − 1)/2 = −2 µC/m²
		{"pair that clears", float64(spec.Current), 10e-6},
	})
	if back.Near != 0 {
		t.Errorf("a near side without current: %v", back.Near)
	}
	for _, v := range []units.Speed{0, -1, units.Speed(math.NaN())} {
		if d := pair.Act(v); !math.IsNaN(float64(d.Near)) || !math.IsNaN(float64(d.Far)) {
			t.Errorf("speed %v: %+v", v, d)
		}
	}
	for _, c := range []struct {
		f     Faces
		v     units.Speed
		field string
	}{
		{Faces{1e-6, -1e-6}, 0, "speed"}, {Faces{units.SurfaceChargeDensity(math.Inf(1)), 0}, 1, "near"},
		{Faces{0, units.SurfaceChargeDensity(math.NaN())}, 1, "far"}, {Faces{0.1001, -0.1001}, 1, "current"},
		{Faces{-0.1001, 0.1001}, 1, "current"}, {Faces{0.1, -0.1}, 1, ""}, {Faces{-0.1, 0.1}, 1, ""},
	} {
		_, err := PairFor(c.f, c.v)
		hold(t, c.field, err)
	}
	for _, c := range []struct {
		spec  DrivenPairSpec
		field string
	}{
		{DrivenPairSpec{0.1, 1}, ""}, {DrivenPairSpec{-0.1, -1}, ""}, {DrivenPairSpec{0.101, 0}, "current"},
		{DrivenPairSpec{-0.101, 0}, "current"}, {DrivenPairSpec{0.01, 1.01}, "imbalance"},
		{DrivenPairSpec{0.01, -1.01}, "imbalance"}, {DrivenPairSpec{0, 0}, "current"},
	} {
		_, err := NewDrivenPair(c.spec)
		hold(t, c.field, err)
	}
}

func mustPair(t *testing.T, s DrivenPairSpec) DrivenPair {
	t.Helper()
	p, err := NewDrivenPair(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// hold wants an error about the field, none for "".
func hold(t *testing.T, field string, err error) {
	t.Helper()
	if field != "" {
		wantField(t, field, err, field)
	} else if err != nil {
		t.Error(err)
	}
}

// A source by hand: its currents, pitches, ripple, ageing, ozone.
func TestEmitterByHand(t *testing.T) {
	e := emitter(t, EmitterSpec{Kind: AC, Current: 80e-6, Balance: -0.25, Switch: 40, Output: 0.5})
	plus, minus := e.Currents()
	full := emitter(t, EmitterSpec{Current: 80e-6})
	p, m := full.Currents()
	// From 100 to 50 in 30 s of work the rate is ln 2/30 s; to an eighth it takes 90 s.
	rate := AgeingRate(100e-6, 50e-6, 30)
	band := known.Band{Value: float64(rate), Spread: math.Ln2 / known.Z95, Kind: known.LogNormal} // ×/÷ 2
	median, early, late := TimeToLimit(80e-6, 10e-6, band)
	stripe := func(f, l, v, tau float64) float64 {
		return float64(Stripe(2e-6, units.Frequency(f), units.Length(l), units.Speed(v), units.Time(tau)))
	}
	holdTable(t, 1e-12, []byHand{
		{"+", float64(plus), 30e-6}, {"−", float64(minus), 50e-6}, {"full +", float64(p), 80e-6},
		{"full −", float64(m), 80e-6},
		{"bunches", float64(e.BunchPitch(8)), 0.2}, {"stripes", float64(e.StripePitch(2)), 0.05},
		{"rate", float64(rate), math.Ln2 / 30}, {"median", float64(median), 90}, {"early", float64(early), 45},
		{"late", float64(late), 180},
		// half a cycle in the zone, ωT = π, with e^(−T/τ) = ½: j·1.5/√(ω² + 1/τ²)
		{"half a cycle", stripe(5, 0.2, 2, 0.1/math.Ln2), 2e-6 * 1.5 / math.Hypot(10*math.Pi, 10*math.Ln2)},
		// a whole cycle: j·0.5/√(…)
		{"whole cycle", stripe(10, 0.2, 2, 0.1/math.Ln2), 2e-6 * 0.5 / math.Hypot(20*math.Pi, 10*math.Ln2)},
		// a quarter, e^(−T/τ) = ½: |i − ½| = √1.25
		{"quarter", stripe(2.5, 0.2, 2, 0.1/math.Ln2), 2e-6 * math.Sqrt(1.25) / math.Hypot(5*math.Pi, 10*math.Ln2)},
		// 1 µA/m²·0.02 m²/(2·5 Hz·20 pF)
		{"ripple", float64(PlateRipple(1e-6, 0.02, 5, 20e-12)), 100},
		{"ozone", float64(OzoneRate(2e-3, 4e-9)), 8e-12},
		// a mole a second of 47.9982 g in 1 m³/s at 300 K and 2 bar: 8.31446261815324·300/2e5
		{"share of ozone", float64(OzoneConcentration(0.0479982, 1, 300, 2e5)), 8.31446261815324 * 300 / 2e5},
		{"in twice the air", float64(OzoneConcentration(0.0479982, 2, 300, 1e5)), 8.31446261815324 * 300 / 2e5},
	})
	if full.BunchPitch(8) != 0 || full.StripePitch(2) != 0 {
		t.Error("pitches of a direct source")
	}
	if !e.Mixes(8, 0.2) || e.Mixes(8, 0.199) {
		t.Error("bunches as long as the plume is broad")
	}
	nan := math.NaN()
	for i, c := range [][4]float64{
		{0, 1, 1, 1}, {1, -1, 1, 1}, {1, 1, 0, 1}, {1, 1, 1, 0}, {nan, 1, 1, 1}, {1, nan, 1, 1},
	} {
		if s := stripe(c[0], c[1], c[2], c[3]); !math.IsNaN(s) {
			t.Errorf("stripe %d: %v", i, s)
		}
	}
	if s := stripe(0.5, 0, 0.5, 0.5); s != 0 {
		t.Errorf("a zone without length: %v", s)
	}
	steady := known.Band{Value: 1}
	for i, c := range []struct {
		i0, limit units.LineCurrent
		rate      known.Band
		want      float64
	}{
		{math.E, 1, steady, 1}, {1, 1, steady, 0}, {1, 2, steady, 0}, {2, 1, known.Band{}, math.Inf(1)},
		{2, 1, known.Band{Value: -1}, math.Inf(1)}, {units.LineCurrent(nan), 1, steady, nan},
		{2, 1, known.Band{Value: nan}, nan}, {1, 2, known.Band{Value: nan}, nan},
	} {
		got, _, _ := TimeToLimit(c.i0, c.limit, c.rate)
		if g := float64(got); !(math.Abs(g-c.want) <= 1e-12) && g != c.want && !(math.IsNaN(g) && math.IsNaN(c.want)) {
			t.Errorf("limit %d: %v, want %v", i, g, c.want)
		}
	}
	good := EmitterSpec{Current: 1e-4}
	for _, c := range []struct {
		change func(*EmitterSpec)
		field  string
	}{
		{func(s *EmitterSpec) { s.Current = 0.1 }, ""}, {func(s *EmitterSpec) { s.Current = 0.101 }, "current"},
		{func(s *EmitterSpec) { s.Current = -1e-6 }, "current"}, {func(s *EmitterSpec) { s.Current = 0 }, "current"},
		{func(s *EmitterSpec) { s.Balance = 1 }, ""}, {func(s *EmitterSpec) { s.Balance = -1 }, ""},
		{func(s *EmitterSpec) { s.Balance = 1.01 }, "balance"}, {func(s *EmitterSpec) { s.Balance = -1.01 }, "balance"},
		{func(s *EmitterSpec) { s.Voltage = 50e3 }, ""}, {func(s *EmitterSpec) { s.Voltage = 50.1e3 }, "voltage"},
		{func(s *EmitterSpec) { s.Voltage = -1 }, "voltage"}, {func(s *EmitterSpec) { s.Output = 1 }, ""},
		{func(s *EmitterSpec) { s.Output = 1.01 }, "output"}, {func(s *EmitterSpec) { s.Output = -0.01 }, "output"},
		{func(s *EmitterSpec) { s.Switch = 0.5 }, "switch"}, {func(s *EmitterSpec) { s.Kind = AC }, "switch"},
		{func(s *EmitterSpec) { s.Kind, s.Switch = Pulsed, 0.5 }, ""},
		{func(s *EmitterSpec) { s.Kind, s.Switch = AC, 1e5 }, ""},
		{func(s *EmitterSpec) { s.Kind, s.Switch = AC, 1.01e5 }, "switch"},
		{func(s *EmitterSpec) { s.Kind, s.Switch = Pulsed, -1 }, "switch"},
		{func(s *EmitterSpec) { s.Kind = Passive }, "kind"},
	} {
		s := good
		c.change(&s)
		_, err := NewEmitter(s)
		hold(t, c.field, err)
	}
}

// Parts and plates by hand; airborne collection by its equation solved for the dwell: with rate 1/s (λ = ε0, all
// exposed) and β = |q|/(ε0-rate·supply), what leaves the share e^(−q) takes q + β(1 − e^(−q)) seconds.
func TestPlateByHand(t *testing.T) {
	holdTable(t, 1e-12, []byHand{
		{"free decay", float64(FreeDecayTime(2 * e0)), 0.5},
		{"mean current: 20 pF from 1000 to 100 V in 0.5 s", float64(MeanPlateCurrent(20e-12, 1000, 100, 0.5)), 36e-9},
		{"exponential: 20 pF, 1000 V, a factor e² in 0.5 s",
			float64(ExponentialPlateCurrent(20e-12, 1000, units.Voltage(1000/(math.E*math.E)), 0.5)), 80e-9},
		// ε0 of conductivity, 10 pF at 100 V: 1 nA that air could take; of 3 nA that come it is ¾ nA
		{"plate", float64(PlateCurrent(100, 10e-12, e0, 3e-9)), -0.75e-9},
		{"plate, negative", float64(PlateCurrent(-100, 10e-12, e0, 1e-9)), 0.5e-9},
		// 0.3667896·4π·8.8541878188e-12·0.15
		{"150 mm square", float64(SquarePlateCapacitance(0.15)), 0.05501844 * 4 * math.Pi * e0},
		{"powder", float64(PowderDemand(2, -3e-6)), -6e-6},
		{"capture", float64(CaptureArea(units.Charge(-2*e0), 1.5e-4, 10)), 3e-5},
	})
	for i, c := range [][3]float64{{-1, 1, 1}, {1, -1, 1}, {1, 1, -1}, {math.NaN(), 1, 1}} {
		got := PlateCurrent(1, units.Capacitance(c[0]), units.Conductivity(c[1]), units.Current(c[2]))
		if !math.IsNaN(float64(got)) {
			t.Errorf("plate %d: %v", i, got)
		}
	}
	if !math.IsNaN(float64(PlateCurrent(units.Voltage(math.NaN()), 1, 1, 1))) || PlateCurrent(1, 1e-12, 1e-9, 0) != 0 ||
		PlateCurrent(1, 0, 1e-9, 1) != 0 || PlateCurrent(1, 1e-12, 0, 1) != 0 {
		t.Error("plates that take nothing")
	}
	for _, beta := range []float64{1e-16, 1e-13, 1e-6, 0.01, 0.3, 1, 2, 10, 1e3, 1e6, 1e10, 1e13, 1e15} {
		for _, q := range []float64{1e-20, 1e-9, 1e-3, 0.1, 0.5, math.Ln2, 1, 2, 5, 20} {
			const supply = 1e-9
			z := beta * supply
			gone := -math.Expm1(-q)
			got, why := Collect(units.Charge(-z), units.Time(q+beta*gone), 0.5, 2*e0, supply)
			near(t, "collected", float64(got), z*gone, 1e-13)
			if want := beta*gone > q; (why == SupplyLimited) != want && !(math.Abs(beta*gone/q-1) <= 1e-6) {
				t.Errorf("β %g, q %g: %v", beta, q, why)
			}
		}
	}
	// Both ends: a dwell without end takes all; conductivity rules where β is below τ − β.
	for i, c := range []struct {
		q, dwell, exposed, lambda, supply, want float64
		why                                     Regime
	}{
		{1, 1e16, 1, e0, 1, -1, ConductivityLimited}, {-4, 9, 0.25, 4 * e0, 1e-16, 9e-16, SupplyLimited},
		{2e3, math.Inf(1), 1, e0, 1e3, -2e3, ConductivityLimited}, {3, math.Ln2, 1, e0, 1e3, -1.4989, ConductivityLimited},
		{1e-9, 0, 1, e0, 1e-9, 0, ConductivityLimited}, {0, 1, 1, 1, 1, 0, Idle}, {1, 1, 0, 1, 1, 0, Idle},
		{1, 1, 1, 0, 1, 0, Idle}, {1, 1, 1, 1, 0, 0, Idle},
	} {
		got, why := Collect(units.Charge(c.q), units.Time(c.dwell), c.exposed, units.Conductivity(c.lambda),
			units.Current(c.supply))
		if !(math.Abs(float64(got)-c.want) <= 1e-3*math.Abs(c.want)) || why != c.why {
			t.Errorf("collect %d: %v, %v", i, float64(got), why)
		}
	}
	for i, c := range [][5]float64{{1, -1, 1, 1, 1}, {1, 1, -0.1, 1, 1}, {1, 1, 1.1, 1, 1}, {1, 1, 1, -1, 1},
		{1, 1, 1, 1.1, 1}, {1, 1, 1, 1, -1}, {1, 1, 1, 1, 1001}, {math.Inf(1), 1, 1, 1, 1}, {math.NaN(), 1, 1, 1, 1}} {
		got, why := Collect(units.Charge(c[0]), units.Time(c[1]), c[2], units.Conductivity(c[3]), units.Current(c[4]))
		if !math.IsNaN(float64(got)) || why != Undefined {
			t.Errorf("undefined %d: %v, %v", i, got, why)
		}
	}
	if got, why := Collect(1, 1, 1, 1, 1e3); math.IsNaN(float64(got)) || why == Undefined {
		t.Errorf("the most of each: %v, %v", got, why)
	}
}

// Populations where the products are whole: α·n0·t = 3, e^(−λt) = ½, ln of a ratio 2.
func TestPopulationsByHand(t *testing.T) {
	// y = αNt = ln 2: m = 1e13·2/(3·2 − 1)
	up, um := RecombineUnequal(3e13, 1e13, 1e-12, units.Time(math.Ln2/20))
	lp, lm := LangevinParcel(2e13, 1e13, units.Mobility(e0/eC*4e-13), 0.25)             // e·μ·3e13·t/ε0 = 3
	rate := units.Mobility(e0 / eC * 1e-12)                                             // eμ/ε0 = 1e-12 m³/s
	j, w0, _ := UnipolarFlux(1e13, rate, 1, 0.15, units.ElectricField(1/float64(rate))) // Kl = 1.5, w_l = 2: w0 = 1
	holdTable(t, 1e-12, []byHand{
		{"recombine", float64(Recombine(3e13, 1e-12, 0.1)), 3e13 / 4},
		{"ceiling", float64(RecombinationCeiling(2e-12, 0.1)), 5e12},
		{"unequal +", float64(up), 2.4e13}, {"unequal −", float64(um), 0.4e13},
		// ½n0/(1 + αn0t·(½/ln 2)) with αn0t = 2·ln 2
		{"losing", float64(RecombineLosing(2e13, 1e-12, 10, units.Time(math.Ln2/10))), 1e13 / (1 + 1)},
		// λ² + 4αq = 9 + 16
		{"steady", float64(SteadyDensity(4e12, 1e-12, 3)), 1e12},
		{"steady, no recombination", float64(SteadyDensity(4e12, 0, 4)), 1e12},
		{"repel", float64(Repel(3e13, rate, 0.1)), 3e13 / 4},
		{"repulsion ceiling", float64(RepulsionCeiling(rate, 0.1)), 1e13},
		{"parcel +", float64(lp), 0.5e13}, {"parcel −", float64(lm), 0.25e13},
		// α·n0·x/U0 = 1e-12·4e13·0.5/20 = 1; entrained to four times
		{"in a jet", float64(InJet(4e13, 1e-12, 0.5, 20, 4)), 0.5e13},
		// (α·n0·L/U0)·ln 4 = 1e-12·2e14·0.1/20·2·ln 2
		{"in stagnation", float64(InStagnation(2e14, 1e-12, 0.075, 0.1, 20)), 2e14 / (1 + 2*math.Ln2)},
		{"at the mouth", float64(InStagnation(2e14, 1e-12, 0, 0.1, 20)), 2e14},
		// m = 0.064: e-functions; m = 0.027: cube root 0.3
		{"tube, long", float64(TubePenetration(1)), 0.819*math.Exp(-3.657) + 0.097*math.Exp(-22.3) + 0.032*math.Exp(-57)},
		{"tube, middle", float64(TubePenetration(0.0501)),
			0.819*math.Exp(-0.1832157) + 0.097*math.Exp(-1.11723) + 0.032*math.Exp(-2.8557)},
		{"tube, short", float64(TubePenetration(0.027)), 1 - 0.2304 + 0.0324 + 0.0014337},
		{"tube, at the switch", float64(TubePenetration(0.05)), 1 - 2.56*math.Pow(0.05, 2./3) + 0.06 +
			0.177*math.Pow(0.05, 4./3)},
		{"tube parameter", TubeParameter(4e-6, 0.5, 1e-5), math.Pi / 5},
		{"unipolar flux", float64(j), eC * 1e13}, {"speed at the inlet", float64(w0), 1},
	})
	if n := InStagnation(2e14, 1e-12, 0.1, 0.1, 20); n != 0 {
		t.Errorf("the wall is reached by %v", n)
	}
	for _, x := range []units.Length{-1e-3, 0.101} {
		for _, u := range []units.Speed{20, -20} {
			if n := InStagnation(2e14, 1e-12, x, 0.1, u); !math.IsNaN(float64(n)) {
				t.Errorf("beyond the flow: %v", n)
			}
		}
	}
	if !math.IsNaN(float64(TubePenetration(-1e-9))) || TubePenetration(0) != 1 {
		t.Error("a tube without length")
	}
	if SteadyDensity(0, 0, 0) != 0 {
		t.Error("nothing made")
	}
	if n := Recombine(1e13, 1e-12, 0); n != 1e13 {
		t.Errorf("at once: %v", n)
	}
	if _, w, _ := UnipolarFlux(0, 1e-4, -1, 1, 0); w != 0 {
		t.Errorf("nothing moves: %v", w)
	}
	for i, c := range [][4]float64{
		{-1, 1e12, 1e-12, 1}, {1e12, -1, 1e-12, 1}, {1e12, 1e12, -1, 1}, {1e12, 1e12, 1e-12, -1},
	} {
		p, m := RecombineUnequal(units.NumberDensity(c[0]), units.NumberDensity(c[1]),
			units.RecombinationCoefficient(c[2]), units.Time(c[3]))
		l := RecombineLosing(units.NumberDensity(c[0]), units.RecombinationCoefficient(c[2]), units.Frequency(c[1]),
			units.Time(c[3]))
		if !math.IsNaN(float64(p)) || !math.IsNaN(float64(m)) || !math.IsNaN(float64(l)) {
			t.Errorf("population %d: %v, %v, %v", i, p, m, l)
		}
	}
	if !math.IsNaN(float64(SteadyDensity(1, 1, -1))) {
		t.Error("a loss below nothing")
	}
}

// One ion alone along a way that takes a rate for each cause: 10 s⁻¹ over 0.1 s is the logarithm 1.
func TestPathByHand(t *testing.T) {
	rate := units.Mobility(e0 / eC * 1e-12) // eμ/ε0 = 1e-12 m³/s
	i := Ions{Plus: rate, Minus: 2 * rate, Alpha: 1e-12}
	a := arrive(t, Uniform{Speed: 2, LossPlus: 10, LossMinus: 30, Dilution: 5}, i, 1, 1, 0.2)
	both := arrive(t, Uniform{Speed: 1, Repulsion: 0.5}, i, 0, 3e13, 0.1) // ½·2e-12·3e13·0.1 = 3
	made := arrive(t, Uniform{Speed: 4, Source: 1e9}, Ions{Plus: rate, Minus: rate}, 1e9, 0, 4)
	few := arrive(t, Uniform{Speed: 4, Source: 1e9}, Ions{Plus: rate, Minus: rate}, 1e9, 1, 4)
	holdTable(t, 1e-8, []byHand{
		{"lost +", a.PlusLoss.By[Lost], 1}, {"lost −", a.MinusLoss.By[Lost], 3},
		{"diluted +", a.PlusLoss.By[Diluted], 1}, {"diluted −", a.MinusLoss.By[Diluted], 1},
		{"left +", float64(a.Plus), math.Exp(-2)}, {"left −", float64(a.Minus), math.Exp(-4)},
		{"age", float64(a.Age), 0.1}, {"ceiling", float64(a.Recombination), 1e13},
		{"ceiling of the slower", float64(a.Repulsion), 1e13},
		{"half repelled", float64(both.Minus), 3e13 / 4}, {"its tally", both.MinusLoss.By[Repelled], math.Log(4)},
		{"made +", float64(made.Plus), 2e9}, {"made −", float64(made.Minus), 1e9},
		{"what was made", made.PlusLoss.Made, math.Ln2}, {"of much less", few.MinusLoss.Made, math.Log(1e9 + 1)},
	})
	if both.Plus != 0 || both.PlusLoss.Made != 0 || !math.IsInf(made.MinusLoss.Made, 1) {
		t.Errorf("nothing stays nothing, and from nothing all is made: %v, %v", both, made)
	}
	if got := (Tally{By: [losses]float64{1, 3, 2, 3}}).Ruled(); got != Repelled {
		t.Errorf("the largest: %v", got)
	}
	if got := (Tally{By: [losses]float64{-1, -3, -2, -0.5}}).Ruled(); got != Diluted {
		t.Errorf("the least gain: %v", got)
	}
	base := Local{LossPlus: 7, LossMinus: 8, Source: 9, Repulsion: 0.5, Speed: 1, Dilution: 1}
	j := mustJet(t, jet.JetSpec{Kind: jet.Plane, Width: 1e-3, Speed: 40})
	want := base
	want.Speed, want.Dilution = j.MeanSpeed(0.1), j.Dilution(0.1)
	if got := (InFreeJet{Jet: j, Base: base}).At(0.1); got != want {
		t.Errorf("in a jet: %+v", got)
	}
	for _, c := range []struct {
		plus, minus units.NumberDensity
		l           units.Length
		tol         float64
		field       string
	}{
		{1e25, 0, 1e-3, 1e-2, ""}, {0, 1e25, 1e-3, 1e-13, ""}, {1.01e25, 0, 1, 0, "plus"}, {0, 1.01e25, 1, 0, "minus"},
		{0, -1, 1, 0, "minus"}, {0, 0, 0, 0, "length"}, {0, 0, 1, 0.9e-13, "tolerance"}, {0, 0, 1, 1.1e-2, "tolerance"},
	} {
		_, err := Path(Uniform{Speed: 1}, i, c.plus, c.minus, c.l, c.tol)
		hold(t, c.field, err)
	}
	// A tolerance is kept to what it says: the first step of a looser one is longer.
	loose, err := Path(Uniform{Speed: 1}, i, 1e13, 1e13, 1, 1e-3)
	tight, err2 := Path(Uniform{Speed: 1}, i, 1e13, 1e13, 1, 1e-12)
	if errors.Join(err, err2) != nil || !(loose.Steps < tight.Steps) {
		t.Errorf("%d and %d steps, %v, %v", loose.Steps, tight.Steps, err, err2)
	}
	near(t, "loose", float64(loose.Plus), 1e13/11, 1e-2)
	near(t, "tight", float64(tight.Plus), 1e13/11, 1e-11)
	var ce *ConvergenceError
	for what, l := range map[string]Local{"standing": {}, "endless": {Speed: units.Speed(math.Inf(1))},
		"a sink": {Speed: 1, Source: -1}, "unknown": {Speed: units.Speed(math.NaN())}} {
		if _, err := Path(Uniform(l), i, 1, 1, 1, 0); !errors.As(err, &ce) || ce.At != 0 || ce.Steps != 0 {
			t.Errorf("%s air: %v", what, err)
		}
	}
	// Of 1e9 s⁻¹ each time constant costs a step: over a second these are too many.
	if _, err := Path(Uniform{Speed: 1, LossPlus: 1e7}, i, 1, 1, 1, 0); !errors.As(err, &ce) || ce.Steps != 100000 {
		t.Errorf("a stiff way: %v", err)
	}
}
