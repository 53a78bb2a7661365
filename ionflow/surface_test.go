package ionflow

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// pathError is the error of anything that should have named a field.
func wantField(t *testing.T, what string, err error, field string) {
	t.Helper()
	var fe *known.FieldError
	if !errors.As(err, &fe) || fe.Field != field {
		t.Errorf("%s: got %v, want field %s", what, err, field)
	}
}

func testBar(t testing.TB, change func(*AirBarSpec)) AirBar {
	t.Helper()
	e, err := NewEmitter(EmitterSpec{Kind: DC, Current: 300e-6})
	if err != nil {
		t.Fatal(err)
	}
	s := AirBarSpec{Emitter: e, Captured: 0.3, Jet: jet.JetSpec{Kind: jet.Row, Width: 1.2e-3, Pitch: 0.02, Speed: 200},
		Distance: 0.3, Ions: testIons}
	if change != nil {
		change(&s)
	}
	b, err := NewAirBar(s)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func emitter(t testing.TB, s EmitterSpec) Emitter {
	t.Helper()
	e, err := NewEmitter(s)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// The closed forms of the bar against the path integrator through the same jet: balanced, slightly
// and strongly imbalanced, and of one polarity.
func TestAirBarAgainstPath(t *testing.T) {
	for _, c := range []struct{ balance, tol, diff float64 }{
		{0, 1e-6, 0}, {0.02, 1e-3, 2e-3}, {-0.1, 1e-2, 2e-2}, {0.5, 1e-5, 1e-3}, {1, 1e-6, 1e-6}, {-1, 1e-6, 1e-6},
	} {
		b := testBar(t, func(s *AirBarSpec) {
			s.Emitter = emitter(t, EmitterSpec{Kind: DC, Current: 300e-6, Balance: c.balance})
			s.Ions.Plus, s.Ions.Minus = 1.5e-4, 1.5e-4
		})
		p0, m0 := b.Source()
		for _, x := range []units.Length{0.02, 0.3, 1} {
			got := b.At(x)
			a := arrive(t, InFreeJet{Jet: b.Jet(), Base: Local{Repulsion: 1}}, b.Spec().Ions, float64(p0), float64(m0),
				float64(x))
			near(t, "plus", float64(got.Plus), float64(a.Plus), c.tol)
			near(t, "minus", float64(got.Minus), float64(a.Minus), c.tol)
			near(t, "difference", float64(got.Plus-got.Minus), float64(a.Plus-a.Minus), c.diff+1e-6)
			if c.balance == 0 && !(got.PlusCurrent < got.Recombination) || math.Abs(c.balance) == 1 &&
				!(got.PlusCurrent+got.MinusCurrent < got.Repulsion) {
				t.Errorf("balance %g at %v: a ceiling is pierced: %+v", c.balance, x, got)
			}
		}
	}
}

// The accuracy that is claimed for a nearly balanced stream, with the mobilities of real ions. The
// negative surplus is the worse one: the faster ions drive themselves out.
func TestAirBarNearBalance(t *testing.T) {
	for _, c := range []struct {
		plus, minus                   units.Mobility
		balance, currents, difference float64
	}{
		{1.5e-4, 1.5e-4, 0.1, 0.004, 0.02}, {1.5e-4, 1.5e-4, -0.1, 0.004, 0.02},
		{1.4e-4, 1.7e-4, 0.1, 0.011, 0.05}, {1.4e-4, 1.7e-4, -0.1, 0.011, 0.0505}, // 5 % as written, rounded
	} {
		b := testBar(t, func(s *AirBarSpec) {
			s.Emitter = emitter(t, EmitterSpec{Kind: DC, Current: 300e-6, Balance: c.balance})
			s.Ions.Plus, s.Ions.Minus = c.plus, c.minus
		})
		p0, m0 := b.Source()
		for x := units.Length(1e-4); x < 1; x *= 2 {
			got := b.At(x)
			a := arrive(t, InFreeJet{Jet: b.Jet(), Base: Local{Repulsion: 1}}, b.Spec().Ions, float64(p0), float64(m0),
				float64(x))
			near(t, "plus", float64(got.Plus), float64(a.Plus), c.currents)
			near(t, "minus", float64(got.Minus), float64(a.Minus), c.currents)
			if d := float64(a.Plus - a.Minus); math.Abs(d) > 1e-6*float64(a.Plus) { // below it the path keeps no digits of it
				near(t, "difference", float64(got.Plus-got.Minus), d, c.difference)
			}
		}
	}
}

func TestAirBarCurrentFallsWithDistance(t *testing.T) {
	b := testBar(t, nil)
	plus, _ := b.spec.Emitter.Currents()
	near(t, "at the source all that was captured", float64(b.At(1e-9).PlusCurrent), 0.3*float64(plus), 1e-6)
	last := math.Inf(1)
	for x := units.Length(0.01); x < 2; x *= 1.1 {
		d := b.At(x)
		if !(float64(d.PlusCurrent) < last) || d.Loss != Recombined || !(d.Kept > 0 && d.Kept < 1) {
			t.Fatalf("at %v: %+v", x, d)
		}
		last = float64(d.PlusCurrent)
	}
	one := testBar(t, func(s *AirBarSpec) { s.Emitter = emitter(t, EmitterSpec{Kind: DC, Current: 300e-6, Balance: 1}) })
	if d := one.At(0.3); d.Loss != Repelled {
		t.Errorf("one polarity: %v", d.Loss)
	}
}

// Where there is no stream there is no finite number, whatever the balance.
func TestAirBarOutsideItsRange(t *testing.T) {
	for _, balance := range []float64{0, 0.5, 1} {
		b := testBar(t, func(s *AirBarSpec) {
			s.Emitter = emitter(t, EmitterSpec{Kind: DC, Current: 300e-6, Balance: balance})
		})
		for _, x := range []float64{-0.01, math.NaN(), 1e4, math.Inf(1)} {
			d := b.At(units.Length(x))
			for i, v := range []float64{float64(d.Plus), float64(d.Minus), float64(d.PlusCurrent), float64(d.MinusCurrent),
				float64(d.Speed), float64(d.Breadth), float64(d.Recombination), float64(d.Repulsion), d.Kept} {
				if !math.IsNaN(v) {
					t.Errorf("balance %g at %g: number %d is %g", balance, x, i, v)
				}
			}
		}
		if d := b.At(0); d.Kept != 1 {
			t.Errorf("balance %g at the source: kept %g", balance, d.Kept)
		}
	}
}

// A surplus of positive ions leaves the web positive, and the offset scales with the air.
func TestAirBarOffset(t *testing.T) {
	b := testBar(t, func(s *AirBarSpec) { s.Emitter = emitter(t, EmitterSpec{Kind: DC, Current: 300e-6, Balance: 0.05}) })
	n, err := b.Neutraliser()
	if err != nil {
		t.Fatal(err)
	}
	off := n.Spec().Offset
	if !(off > 0) {
		t.Fatalf("offset %v", off)
	}
	d, _ := n.Act(0, 1e-6, 1)
	near(t, "a clean web takes it on", float64(d), float64(off), 1e-6)
	dev := b.At(0.3)
	want := units.Epsilon0 * float64(dev.Speed) * float64(dev.Plus-dev.Minus) /
		(1.4e-4*float64(dev.Plus) + 1.6e-4*float64(dev.Minus))
	near(t, "size", float64(off), want, 1e-12)
}

func TestAirBarFromPressure(t *testing.T) {
	e := emitter(t, EmitterSpec{Kind: DC, Current: 300e-6})
	s := AirBarSpec{Emitter: e, Captured: 0.3,
		Jet: jet.JetSpec{Kind: jet.Row, Width: units.Millimetre, Pitch: 25 * units.Millimetre}, Distance: 0.3, Ions: testIons}
	air := Blow{Gauge: 0.3e5, Ambient: 101325, Temperature: units.Celsius(20), Discharge: 0.7}
	b, m, err := s.Blown(air)
	if err != nil {
		t.Fatal(err)
	}
	// 40 holes of 1 mm per metre at 0.3 bar(g): 290 L/min of free air.
	near(t, "air per metre", m/float64(jet.AirDensity(units.Celsius(20), 101325))*60000, 290, 0.015)
	near(t, "jet speed", float64(b.Spec().Jet.Speed), 205, 0.005)
	// A slot of the same area per metre moves the same air and momentum.
	s.Jet = jet.JetSpec{Kind: jet.Plane, Width: units.Length(math.Pi / 4 * 1e-6 / 0.025)}
	p, m2, err := s.Blown(air)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "slot air", m2, m, 1e-12)
	near(t, "slot flow", p.Jet().FlowPerWidth(), b.Jet().FlowPerWidth(), 1e-9)
	_, _, err = s.Blown(Blow{Ambient: 101325, Temperature: 293, Discharge: 0.7})
	wantField(t, "no pressure", err, "gauge")
}

func TestInverseSearches(t *testing.T) {
	b := testBar(t, nil)
	const sigma, v, f = 3e-6, 1.0, 0.9
	want := units.SurfaceChargeDensity(0.5e-6)
	x, err := b.FarthestFor(want, sigma, v, f, 0.02, 3)
	if err != nil {
		t.Fatal(err)
	}
	c := testBar(t, func(s *AirBarSpec) { s.Distance = x })
	near(t, "residual at the distance found", float64(c.Residual(sigma, v, f)), float64(want), 1e-6)
	if d := testBar(t, func(s *AirBarSpec) { s.Distance = x * units.Length(1.01) }); !(d.Residual(sigma, v, f) > want) {
		t.Error("not the farthest")
	}
	b = testBar(t, func(s *AirBarSpec) { s.Distance = 0.05 })
	i, err := b.LeastCurrentFor(want, sigma, v, f, 1e-6, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	c = testBar(t, func(s *AirBarSpec) { s.Distance, s.Emitter = 0.05, emitter(t, EmitterSpec{Kind: DC, Current: i}) })
	near(t, "residual with the current found", float64(c.Residual(sigma, v, f)), float64(want), 1e-6)

	s := b.Spec()
	s.Jet.Speed = 0
	air := Blow{Ambient: 101325, Temperature: units.Celsius(20), Discharge: 0.7}
	g, err := LeastGaugeFor(s, air, want, sigma, v, f, 100, 6e5)
	if err != nil {
		t.Fatal(err)
	}
	air.Gauge = g
	c, _, _ = s.Blown(air)
	near(t, "residual with the pressure found", float64(c.Residual(sigma, v, f)), float64(want), 1e-5)

	var ue *UnreachableError
	if _, err := b.FarthestFor(1e-12, 20e-6, 20, 0.9, 0.02, 3); !errors.As(err, &ue) || !(ue.Best > 1e-12) {
		t.Errorf("unreachable: %v", err)
	}
	_, err = b.FarthestFor(want, 0, v, f, 0.02, 3)
	wantField(t, "no charge", err, "sigma")
	_, err = b.FarthestFor(want, sigma, v, f, 3, 0.02)
	wantField(t, "range", err, "distance")
}

func TestUnassisted(t *testing.T) {
	spec := UnassistedSpec{Emitter: emitter(t, EmitterSpec{Kind: AC, Current: 300e-6, Voltage: 7e3, Switch: 50}),
		Distance: 0.03, Pitch: 0.01, Start: 3e3, Ions: testIons}
	// Within the reach of the bar's own field nothing holds the ions back.
	near(t, "reach", float64(spec.Reach()), math.Sqrt(1.4e-4*7e3/100), 1e-12)
	if spec.Floor() != 0 {
		t.Errorf("floor within reach: %v", spec.Floor())
	}
	spec.Distance = 0.2
	near(t, "floor beyond reach", float64(spec.Floor()), units.Epsilon0*(2*50*0.2/1.4e-4-7e3/0.2), 1e-12)
	last := -1.0
	for d := units.Length(0.02); d < 0.4; d *= 1.2 {
		spec.Distance = d
		n, err := NewUnassisted(spec)
		if err != nil {
			t.Fatal(err)
		}
		dep, _ := n.Act(3e-6, 3, 0.9)
		left := 3e-6 + float64(dep)
		if !(left >= 0 && left >= last-1e-12) {
			t.Errorf("at %v: %g left after %g nearer by", d, left, last)
		}
		last = left
	}
	// The farthest place, and one a little beyond.
	far, err := FarthestUnassisted(spec, 1e-6, 3e-6, 3, 0.9, 0.01, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	spec.Distance = far
	n, err := NewUnassisted(spec)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "efficiency at the farthest place", float64(n.Efficiency(3e-6, 3, 0.9)), 2./3, 1e-6)
	spec.Distance = far * units.Length(1.01)
	if n, err = NewUnassisted(spec); err != nil || !(n.Efficiency(3e-6, 3, 0.9) < 2./3) {
		t.Errorf("not the farthest: %v", err)
	}
	var ue *UnreachableError
	if _, err := FarthestUnassisted(spec, 1e-12, 30e-6, 30, 0.9, 0.05, 0.5); !errors.As(err, &ue) {
		t.Errorf("unreachable: %v", err)
	}
	_, err = NewUnassisted(UnassistedSpec{})
	wantField(t, "zero value", err, "distance")
	spec.Start = 8e3
	_, err = NewUnassisted(spec)
	wantField(t, "start above the voltage", err, "start")
}

func TestPassiveResidual(t *testing.T) {
	// Body at 10, 25 and 50 mm, needle tips there too: 2.46, 1.12 and 0.61 µC/m² by Peek's
	// cylinder form (hand calculation): too near is worse.
	for d, want := range map[units.Length]float64{0.010: 2.46e-6, 0.025: 1.12e-6, 0.050: 0.61e-6} {
		s := PassiveSpec{Tip: 50 * units.Micrometre, Distance: d, Body: d, Ions: testIons}
		on, _, flag := s.Onset()
		near(t, "onset", float64(on), want, 0.005)
		if flag != known.Unpublished {
			t.Errorf("flag %v", flag)
		}
		n, err := NewPassive(s)
		if err != nil {
			t.Fatal(err)
		}
		dep, _ := n.Act(10e-6, 0, 1)
		near(t, "what stays at standstill", 10e-6+float64(dep), float64(on), 1e-9)
		if dep, r := n.Act(0, 1, 1); dep != 0 || r != Idle {
			t.Errorf("double layer: %v %v", dep, r)
		}
	}
	// A far body leaves the needle its field.
	near25, _, _ := PassiveSpec{Tip: 5e-5, Distance: 0.025, Body: 0.025, Ions: testIons}.Onset()
	far, _, _ := PassiveSpec{Tip: 5e-5, Distance: 0.025, Body: 0.25, Ions: testIons}.Onset()
	near(t, "far body", float64(far), float64(near25)/10, 1e-12)
	// The sphere form is 1.41 times the cylinder form at 50 µm.
	a, _ := OnsetVoltage(PeekCylinder, 5e-5, 0.025, 1)
	b, _ := OnsetVoltage(PeekSphere, 5e-5, 0.025, 1)
	near(t, "tip laws", float64(b)/float64(a), 1.41, 0.005)
	_, err := NewPassive(PassiveSpec{Tip: 5e-5, Distance: 0.025, Body: 0.01, Ions: testIons})
	wantField(t, "body nearer than the tips", err, "body")
}

func TestDrivenPair(t *testing.T) {
	f := Faces{Near: 16.3e-6, Far: -16.5e-6}
	v := 220 * units.MetrePerMinute
	s, err := PairFor(f, v)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "60 µA/m per face at 220 m/min", float64(s.Current), -60e-6, 0.01) // scenario figure: 16.3 µC/m² × 3.67 m/s
	p, err := NewDrivenPair(s)
	if err != nil {
		t.Fatal(err)
	}
	d := p.Act(v)
	near(t, "both faces end at half the net", float64(f.Near+d.Near), float64(f.Net())/2, 1e-9)
	near(t, "far", float64(f.Far+d.Far), float64(f.Net())/2, 1e-9)
	if !(math.Abs(float64(d.Near+d.Far)) < 1e-18) {
		t.Error("a balanced pair changes no net")
	}
	if d := p.Act(0); !math.IsNaN(float64(d.Near)) {
		t.Error("standing web")
	}
	_, err = PairFor(Faces{Near: 1e-6, Far: 1e-6}, 1)
	wantField(t, "no double layer", err, "faces")
	_, err = PairFor(Faces{Near: 1, Far: -1}, 1)
	wantField(t, "more than any source gives", err, "current")
	_, err = NewDrivenPair(DrivenPairSpec{})
	wantField(t, "no current", err, "current")
}

func TestActOnChangesTheNearFaceOnly(t *testing.T) {
	n := mustNeutraliser(t, air(2.4e-9, 1e-3))
	f, r := n.ActOn(Faces{Near: 0, Far: 5e-6}, 0, 1)
	near(t, "near", float64(f.Near), -5e-6, 1e-12)
	if f.Far != 5e-6 || r != ConductivityLimited {
		t.Errorf("%v %v", f, r)
	}
}

func TestStripe(t *testing.T) {
	// Without relaxation: j·|sin(πfL/v)|/(πf).
	got := Stripe(1e-6, 50, 0.05, 3, units.Time(math.Inf(1)))
	near(t, "no relaxation", float64(got), 1e-6*math.Abs(math.Sin(math.Pi*50*0.05/3))/(math.Pi*50), 1e-12)
	// Whole cycles in the zone leave nothing.
	if got := Stripe(1e-6, 60, 0.05, 3, units.Time(math.Inf(1))); !(math.Abs(float64(got)) < 1e-22) {
		t.Errorf("whole cycle: %v", got)
	}
	// A long zone forgets its entry: j/√(ω² + 1/τ²).
	near(t, "long zone", float64(Stripe(1e-6, 50, 10, 1, 0.01)), 1e-6/math.Hypot(2*math.Pi*50, 100), 1e-9)
	if !math.IsNaN(float64(Stripe(1, 0, 1, 1, 1))) || !math.IsNaN(float64(Stripe(1, 1, -1, 1, 1))) {
		t.Error("no frequency")
	}
}

func TestEmitter(t *testing.T) {
	e := emitter(t, EmitterSpec{Kind: Pulsed, Current: 100e-6, Balance: 0.1, Switch: 2, Output: 0.5})
	p, m := e.Currents()
	near(t, "+", float64(p), 55e-6, 1e-12)
	near(t, "−", float64(m), 45e-6, 1e-12)
	if e.Mixes(10, 0.1) || !e.Mixes(0.1, 0.1) {
		t.Error("mixing")
	}
	for i, ns := range [][]known.Notice{e.Notices(), AirNotices(), PassiveSpec{}.Notices(), DrivenPair{}.Notices()} {
		codes := map[string]bool{}
		for _, n := range ns {
			if codes[n.Code] || n.Condition == "" || n.Consult == "" || n.Decide == "" {
				t.Errorf("caution %+v", n)
			}
			codes[n.Code] = true
		}
		if want := [...]int{3, 2, 2, 1}[i]; len(ns) != want {
			t.Errorf("source %d has %d cautions, want %d", i, len(ns), want)
		}
	}
	for field, s := range map[string]EmitterSpec{
		"current": {}, "balance": {Current: 1e-4, Balance: 2}, "switch": {Kind: AC, Current: 1e-4}, "kind": {Kind: Passive,
			Current: 1e-4},
		"voltage": {Current: 1e-4, Voltage: -1}, "output": {Current: 1e-4, Output: 2},
	} {
		_, err := NewEmitter(s)
		wantField(t, field, err, field)
	}
	// Falls from 100 to 80 in 10 days; half is reached after 10·ln2/ln1.25 = 31.06 days.
	k := AgeingRate(100e-6, 80e-6, 10*units.Day)
	med, early, late := TimeToLimit(100e-6, 50e-6, known.Band{Value: float64(k), Spread: 0.3, Kind: known.LogNormal})
	near(t, "days", float64(med/units.Day), 31.063, 1e-4)
	near(t, "band", float64(late)/float64(early), math.Exp(2*0.3*known.Z95), 1e-9)
	if m, _, _ := TimeToLimit(1, 2, known.Band{Value: 1}); m != 0 {
		t.Error("already below")
	}
	if m, _, _ := TimeToLimit(2, 1, known.Band{Value: -1}); !math.IsInf(float64(m), 1) {
		t.Error("rising output")
	}
}

func TestPartsAndPlates(t *testing.T) {
	// Invented filling line: −96 nC cups, 0.5 s in a plume that brings at most 126 nA: at best
	// two thirds, 63 nC.
	supply := units.Current(float64(RecombinationLimit(1.6e-12, 10, 0.4)) * 50e-4)
	near(t, "ceiling of the plume", float64(supply), 126e-9, 0.01)
	q, r := Collect(-96e-9, 0.5, 1, 1e-3, supply)
	near(t, "at best", float64(q), 63e-9, 0.01)
	if r != SupplyLimited {
		t.Errorf("%v", r)
	}
	q, r = Collect(96e-9, 0.5, 0.5, 2e-11, 1)
	near(t, "thin air", float64(q), -96e-9*(1-math.Exp(-0.5*2e-11*0.5/units.Epsilon0)), 1e-6)
	if r != ConductivityLimited {
		t.Errorf("%v", r)
	}
	if q, r := Collect(1e-9, 1, 2, 1e-9, 1); !math.IsNaN(float64(q)) || r != Undefined {
		t.Errorf("exposed 2: %v %v", q, r)
	}
	// 60 doses of 12 g a minute with −8 nC/g: 96 nA.
	near(t, "dose", float64(PowderDemand(12e-3, -8e-6)), -96e-9, 1e-12)
	// All field lines of the cup end on ions that come with the air: μE at a capture area A carries
	// the same flux as u.
	area := float64(CaptureArea(-96e-9, 1.5e-4, 10))
	near(t, "capture area", area*10*units.Epsilon0/1.5e-4, 96e-9, 1e-12)
	// Plate: small voltage conducts, large voltage takes all.
	near(t, "low", float64(PlateCurrent(1e-3, 6e-12, 2e-11, 1e-6)), -2e-11*6e-12*1e-3/units.Epsilon0, 1e-6)
	near(t, "high", float64(PlateCurrent(-1e9, 6e-12, 2e-9, 1e-9)), 1e-9, 2e-3)
	if !math.IsNaN(float64(PlateCurrent(1, -1, 1, 1))) || PlateCurrent(0, 1e-12, 1e-9, 1) != 0 {
		t.Error("special cases")
	}
	// With relaxation toward mobility alone: −3.4 mV for 1.4/1.6.
	near(t, "diffusion offset", float64(DiffusionOffset(1.4, 1.6, units.Celsius(20))), -3.37e-3, 0.002)
}

func TestOzone(t *testing.T) {
	// 1 mg/h in 1 m³/s at 20 °C and 1 atm: 0.2778 µg/m³, and 1 ppb of ozone is 2.00 µg/m³ there
	// (48 g over 24.06 L per mole).
	c := OzoneConcentration(1e-6/3600, 1, units.Celsius(20), 101325)
	near(t, "ozone", float64(c), 0.2778e-6/2.0e-6*1e-9, 0.005)
	near(t, "rate", float64(OzoneRate(1e-3, 5e-8)), 5e-11, 1e-12)
}

func BenchmarkAirBarAt(b *testing.B) {
	bar := testBar(b, nil)
	b.ReportAllocs()
	x := units.Length(0.3)
	for b.Loop() {
		x += 1e-9
		bar.At(x)
	}
}

// The whole quick model: what the bar carries at a distance, and what it leaves on a web.
func BenchmarkAirBarResidual(b *testing.B) {
	bar := testBar(b, nil)
	b.ReportAllocs()
	s := units.SurfaceChargeDensity(3e-6)
	for b.Loop() {
		s += 1e-14
		bar.Residual(s, 3, 0.9)
	}
}
