package ioniser

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Small imbalance of points: φ_off = β·V(V − V_s)/(2V − V_s); all of it: V − V_s. An uncharged web goes there and
// none is carried past it.
func TestOffsetOfPoints(t *testing.T) {
	s := pointSpec(t, 0.03)
	for _, beta := range []float64{0.01, -0.01} {
		e := s.Emitter.Spec()
		e.Balance = beta
		c := s
		c.Emitter = emitter(t, e)
		p := at(t, c, NoMetal())
		lo, hi := p.Offset()
		if lo != hi {
			t.Fatal("an interval")
		}
		// Full space charge: F = 1.5·φ/d.
		near(t, "offset", float64(lo), eps0*1.5/0.03*beta*7000*3500/10500, 0.01)
		near(t, "uncharged web", float64(p.Act(0, 0.001).Left), float64(lo), 1e-6)
		near(t, "charged web", float64(p.Act(3e-6, 0.001).Left), float64(lo), 1e-6)
		// The same source, known by its plate monitor.
		c = s
		c.Offset = units.Voltage(beta * 7000 * 3500 / 10500)
		l2, _ := at(t, c, NoMetal()).Offset()
		near(t, "by the plate", float64(l2), float64(lo), 0.01)
		low, high := PlateOffset(c.Offset, 0.03, NoMetal())
		if l2 < low-1e-12 || l2 > high+1e-12 {
			t.Errorf("%v outside %v … %v", l2, low, high)
		}
	}
}

// One polarity alone drives an uncharged web up to V − V_s and does nothing to a web beyond.
func TestOnePolarity(t *testing.T) {
	s := pointSpec(t, 0.03)
	e := s.Emitter.Spec()
	e.Balance = 1
	s.Emitter = emitter(t, e)
	p := at(t, s, NoMetal())
	near(t, "uncharged web", float64(p.Act(0, 0.001).Left), eps0*1.5*3500/0.03, 0.35) // field between φ/d and 1.5φ/d
	if r := p.Act(2e-5, 1); r.Deposited != 0 {
		t.Errorf("a positive web under positive points: %v", r)
	}
	b := blownSpec(t, 0.1, 100)
	b.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 3e-4, Balance: -1})
	q := at(t, b, NoMetal())
	lo, hi := q.Offset()
	// Against u/μ at the web no more negative ions arrive; next to nothing where they leave sideways.
	u := float64(b.Air.Stream.MeanSpeed(0.1))
	near(t, "far end", float64(lo), -eps0*u/1.6e-4, 1e-6)
	if hi != 0 {
		t.Errorf("near end %v", hi)
	}
	if r := q.Act(0, 0.5); !(r.Left < 0) {
		t.Errorf("uncharged: %v", r)
	}
}

// The offset of an unbalanced stream is that of air which ends at the web, ε0·u·(n+ − n−)/(μ+n+ + μ−n−), less
// space charge.
func TestOffsetOfStream(t *testing.T) {
	s := blownSpec(t, 0.03, 20)
	s.Air.Stream = flat(20, 0.05)
	s.Air.Captured = 1e-3 // a mouth of fixed density, as in the formula
	s.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 1e-7, Balance: 0.05})
	s.Ions.Alpha = 0
	lo, hi := at(t, s, NoMetal()).Offset()
	want := eps0 * 20 * (1.05 - 0.95) / (1.4e-4*1.05 + 1.6e-4*0.95)
	near(t, "thin plume", float64(hi), want, 0.01)
	if lo != 0 {
		t.Errorf("near end %v", lo)
	}
	// Space charge in a dense plume takes of it.
	s.Air.Captured = 0.3
	s.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 1e-4, Balance: 0.05})
	_, dense := at(t, s, NoMetal()).Offset()
	if !(dense > 0 && float64(dense) < 0.9*want) {
		t.Errorf("dense plume %v, thin %g", dense, want)
	}
}

// Passive points: nothing below the onset, exactly; the onset falls as the body recedes; flush points do not exist.
func TestPassive(t *testing.T) {
	last := units.SurfaceChargeDensity(1)
	for _, body := range []float64{0.03, 0.05, 0.1, 0.3, 1} {
		s := tinsel(0.025, body)
		p := at(t, s, 0.3)
		lo, hi := p.DeadBand()
		// Points 5 mm apart shield each other: the potential half a pitch before the edge of an earthed fin.
		on, _ := ionflow.OnsetVoltage(ionflow.PeekCylinder, 5e-5, 0.0025, 1)
		row := float64(on) * math.Pi / 2 * math.Sqrt(5)
		one, _ := ionflow.OnsetVoltage(ionflow.PeekCylinder, 5e-5, 0.025, 1)
		if v := float64(one) * body / (body - 0.025); v > row {
			near(t, "onset", float64(hi), eps0*v*(1/body+1/0.3), 1e-9)
		} else {
			near(t, "onset", float64(hi), eps0*row*(1/min(body, 0.075)+1/0.3), 1e-9)
		}
		if lo != -hi || hi > last {
			t.Errorf("body %g: dead band %v … %v, before %v", body, lo, hi, last)
		}
		last = hi
		r := p.Act(hi*0.999, 0.1)
		if r.Deposited != 0 || r.Regime != ionflow.BelowOnset {
			t.Errorf("below onset: %v", r)
		}
		if r = p.Act(20e-6, 1e-6); !(math.Abs(float64(r.Left-hi)) <= 1e-6*float64(hi)) {
			t.Errorf("unlimited dwell leaves %v, onset %v", r.Left, hi)
		}
		if r.Validity&known.Unpublished == 0 {
			t.Errorf("flags %v", r.Validity)
		}
		// Far apart each stands alone.
		s.Points.Pitch = 0.1
		_, hi = at(t, s, 0.3).DeadBand()
		near(t, "alone", float64(hi), eps0*float64(one)*body/(body-0.025)*(1/body+1/0.3), 1e-9)
	}
}

// Balance, dirt and voltage change the answer in the right direction.
func TestDirections(t *testing.T) {
	left := func(change func(e *ionflow.EmitterSpec, p *Points)) float64 {
		s := pointSpec(t, 0.03)
		e := s.Emitter.Spec()
		change(&e, &s.Points)
		s.Emitter = emitter(t, e)
		return float64(at(t, s, 0.3).Act(3e-6, 10).Left)
	}
	clean := left(func(*ionflow.EmitterSpec, *Points) {})
	for what, f := range map[string]func(e *ionflow.EmitterSpec, p *Points){
		"less voltage":       func(e *ionflow.EmitterSpec, p *Points) { e.Voltage = 5000 },
		"dirt on the points": func(e *ionflow.EmitterSpec, p *Points) { e.Output = 0.2 },
		"dirt raises start":  func(e *ionflow.EmitterSpec, p *Points) { p.Start = 5000 },
		"more positive ions": func(e *ionflow.EmitterSpec, p *Points) { e.Balance = 0.2 },
		"alternating":        func(e *ionflow.EmitterSpec, p *Points) { e.Kind, e.Switch = ionflow.AC, 50 },
		"fewer points":       func(e *ionflow.EmitterSpec, p *Points) { p.Pitch = 0.1 },
	} {
		if got := left(f); !(got > clean*1.01) {
			t.Errorf("%s: leaves %g, clean %g", what, got, clean)
		}
	}
	if got := left(func(e *ionflow.EmitterSpec, p *Points) { e.Balance = -0.05 }); !(got < clean) {
		t.Errorf("more negative ions on a positive web: leaves %g, balanced %g", got, clean)
	}
}

func TestFlags(t *testing.T) {
	flag := func(s Spec, net, v float64) known.Validity {
		return at(t, s, 0.3).Act(units.SurfaceChargeDensity(net), units.Speed(v)).Validity
	}
	air, err := jet.NewJet(jet.JetSpec{Kind: jet.Plane, Width: 1e-3, Speed: 50})
	if err != nil {
		t.Fatal(err)
	}
	thin := blownSpec(t, 0.1, 100)
	thin.Air.Stream = air // Reynolds number below 1e4
	many := blownSpec(t, 0.1, 100)
	many.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 3e-3})
	narrow := blownSpec(t, 0.3, 100)
	narrow.Span = 0.02
	still := pointSpec(t, 0.03)
	windy := still
	windy.Wind = 20
	slow := pointSpec(t, 0.2)
	slow.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.AC, Current: 3e-4, Voltage: 7000, Switch: 50})
	for _, c := range []struct {
		what   string
		s      Spec
		net, v float64
		want   known.Validity
	}{
		{"jet", thin, 1e-6, 1, known.BelowRange},
		{"emission", many, 1e-6, 1, known.AboveRange},
		{"discharge", still, 9e-5, 1, known.AboveRange},
		{"beyond the table", blownSpec(t, 0.1, 100), 2e-3, 1, known.AboveRange},
		{"narrow span", narrow, 1e-6, 1, known.WrongShape},
		{"saturation law", still, 1e-6, 1, known.Unpublished},
		{"contact length", blownSpec(t, 0.1, 100), 1e-8, 1, known.Estimate},
		{"cross-wind", windy, 1e-8, 1, known.Estimate},
		{"beyond the reach", slow, 1e-7, 0.1, known.Estimate},
		{"less than a period", slow, 1e-6, 50, known.Estimate},
		{"air dragged along", still, 1e-6, 900, known.Estimate},
	} {
		if got := flag(c.s, c.net, c.v); got&c.want == 0 {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
		}
	}
	// Drift goes with the breadth over which the field spreads, a closure of a stream that turns.
	if got := flag(blownSpec(t, 0.1, 100), 5e-6, 5); got != known.Estimate {
		t.Errorf("an ordinary bar: %v", got)
	}
	through := blownSpec(t, 0.1, 100)
	through.Air.Through = true
	if got := flag(through, 5e-6, 5); got != known.Inside {
		t.Errorf("a stream that goes on: %v", got)
	}
	if got := flag(still, 1e-6, 5); got != known.Unpublished {
		t.Errorf("an ordinary bar without air: %v", got)
	}
	// A contact length that was measured is none of ours.
	m := blownSpec(t, 0.1, 100)
	m.Air.Contact = 0.08
	if got := flag(m, 1e-8, 1); got&known.Estimate != 0 {
		t.Errorf("measured contact: %v", got)
	}
}

// Inverse searches give what forward runs give, at both ends of a range and with the error that says what can be had.
func TestSearch(t *testing.T) {
	w := Web{Net: 3e-6, Speed: 1, Gap: 0.3}
	check := func(what string, left units.SurfaceChargeDensity, err error) {
		t.Helper()
		if err != nil || left > 0.5e-6 || left < 0.49e-6 {
			t.Errorf("%s: %v %v", what, left, err)
		}
	}
	b := blownSpec(t, 0.1, 100)
	x, err := b.Farthest(0.5e-6, w, 0.02, 2)
	s := b
	s.Distance = x.Value
	check("distance", at(t, s, w.Gap).Act(w.Net, w.Speed).Left, err)
	if got, _ := at(t, s, w.Gap).Residual(w.Net, w.Speed); !(math.Abs(float64(got-x.Left)) <= 1e-12) {
		t.Errorf("left %v, again %v", x.Left, got)
	}
	i, err := b.LeastCurrent(0.5e-6, w, 1e-6, 1e-3)
	s = b
	s.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: i.Value})
	check("current", at(t, s, w.Gap).Act(w.Net, w.Speed).Left, err)
	air := func(u units.Speed) (Stream, error) { return Plume{Speed: u, Width: 1e-3, Core: 6.3e-3}, nil }
	far := blownSpec(t, 0.6, 100)
	u, err := LeastAir(far, air, 1e-6, Web{3e-6, 0.3, 0.3}, 1, 300)
	s = far
	s.Air.Stream, _ = air(u.Value)
	if left, _ := at(t, s, w.Gap).Residual(3e-6, 0.3); err != nil || !(math.Abs(float64(left-u.Left)) <= 1e-12) ||
		left > 1e-6 {
		t.Errorf("air %v: %v %v %v", u.Value, left, u.Left, err)
	}
	p := pointSpec(t, 0.05)
	v, err := p.LeastVoltage(0.5e-6, Web{3e-6, 10, 0.3}, 3600, 2e4)
	s = p
	e := p.Emitter.Spec()
	e.Voltage = v.Value
	s.Emitter = emitter(t, e)
	check("voltage", at(t, s, w.Gap).Act(w.Net, 10).Left, err)
	pl := at(t, b, 0.3)
	f := pl.FastestFor(0.5e-6, 3e-6)
	near(t, "fastest", float64(pl.Act(3e-6, f).Left), 0.5e-6, 1e-6)
	if pl.FastestFor(4e-6, 3e-6) != units.Speed(math.Inf(1)) || at(t, tinsel(0.025, 0.05),
		0.3).FastestFor(1e-7, 5e-6) != 0 {
		t.Error("ends of FastestFor")
	}
	var no *UnreachableError
	if _, err := b.Farthest(1e-9, Web{5e-6, 50, 0.3}, 0.02, 2); !errors.As(err, &no) || !(no.Best > 1e-9) {
		t.Errorf("unreachable: %v", err)
	}
	for _, bad := range []Web{{}, {Net: 1e-6, Speed: 1}, {Net: 1e-6, Gap: 1}} {
		if _, err := b.Farthest(1e-7, bad, 0.02, 2); err == nil {
			t.Errorf("%v accepted", bad)
		}
	}
	if _, err := b.Farthest(1e-7, w, 2, 0.02); err == nil {
		t.Error("range turned")
	}
	// An unbalanced bar is searched on both sides of its offset.
	ub := b
	ub.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 3e-4, Balance: 0.3})
	if _, err := ub.Farthest(1e-12, Web{-3e-6, 1, 0.3}, 0.02, 2); err == nil {
		t.Error("nothing is left under a bar with an offset")
	}
}

// Cleaning: the emission that just does it, after ln(now/needed)/rate.
func TestCleanAfter(t *testing.T) {
	s := blownSpec(t, 0.1, 100)
	w := Web{3e-6, 1, 0.3}
	i, err := s.LeastCurrent(0.5e-6, w, 3e-10, 3e-4)
	if err != nil {
		t.Fatal(err)
	}
	m, early, late, err := s.CleanAfter(0.5e-6, w, known.Band{Value: 1e-7, Spread: 0.2, Kind: known.LogNormal})
	if err != nil || !(early < m && m < late) {
		t.Fatal(m, early, late, err)
	}
	near(t, "time", float64(m), math.Log(3e-4/float64(i.Value))/1e-7, 1e-6)
	if _, _, _, err := tinsel(0.025, 0.1).CleanAfter(0.5e-6, w, known.Band{Value: 1e-7}); err == nil {
		t.Error("passive points have no emission to lose")
	}
}

// Sources one after another act one after another; zones that overlap are refused, and each loss is told.
func TestSeries(t *testing.T) {
	a, b := at(t, pointSpec(t, 0.03), 0.3), at(t, blownSpec(t, 0.1, 100), 0.3)
	s, err := NewSeries(Station{a, 0}, Station{b, 1})
	if err != nil {
		t.Fatal(err)
	}
	var each [2]Result
	left, flag := s.Act(each[:], 5e-6, 10)
	one := a.Act(5e-6, 10)
	two := b.Act(one.Left, 10)
	if left != two.Left || each[0] != one || each[1] != two || flag != one.Validity|two.Validity {
		t.Errorf("%v %v %v", left, each, flag)
	}
	f := s.IfOneFails(5e-6, 10)
	if f[0].Left != b.Act(5e-6, 10).Left || f[1].Left != one.Left {
		t.Error(f)
	}
	least := (a.Zone() + b.Zone()) / 2
	if _, err := NewSeries(Station{a, 0}, Station{b, least * 0.99}); err == nil {
		t.Error("overlap accepted")
	}
	if _, err := NewSeries(Station{a, 0}, Station{b, -1}); err == nil {
		t.Error("order not checked")
	}
	if _, err := NewSeries(Station{}); err == nil {
		t.Error("nil accepted")
	}
}

// A web comes to the voltage that the plate showed; a meter shows E·d.
func TestPlateAndDisplay(t *testing.T) {
	lo, hi := PlateOffset(100, 0.05, 0.3)
	near(t, "low", float64(lo), eps0*100*(1/0.05+1/0.3), 1e-12)
	near(t, "high", float64(hi), eps0*100*(1.5/0.05+1/0.3), 1e-12)
	lo, hi = PlateOffset(-100, 0.05, NoMetal())
	if !(lo < hi && hi < 0) {
		t.Error(lo, hi)
	}
	// 1 µC/m² on a free web before a close earthed meter: 1.13 kV/cm, so 2.8 kV at 25 mm.
	near(t, "display", float64(Shown(1e-6, 0.025, NoMetal())), 2823.5, 1e-4)
	near(t, "over metal", float64(Shown(1e-6, 0.025, 0.025)), 2823.5/2, 1e-4)
	p, o, a, err := MakerSheet{Power: 20, Ozone: math.NaN(), Air: 0.002}.Totals(1.5)
	if err != nil || p != 30 || !math.IsNaN(float64(o)) || a != 0.003 {
		t.Error(p, o, a, err)
	}
}

// The mean of a sine: ∫ over the phases of the law for each level, by a fine sum.
func TestSineIsTheMeanOfItsPhases(t *testing.T) {
	s := pointSpec(t, 0.03)
	s.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.AC, Current: 0.1, Voltage: 7000, Switch: 50})
	src, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	r, _ := src.row(1e9, 1e9)
	k := saturation(1.4e-4, 0.03, 0.01)
	for _, phi := range []float64{200, 2000, 6000, 3e4} {
		sum := 0.0
		const n = 100000
		for i := range n {
			x := phi - 7000*math.Sin((float64(i)+0.5)*2*math.Pi/n)
			sum += x * math.Max(math.Abs(x)-3500, 0) / n
		}
		near(t, "sine", r.current(phi), k*sum, 0.06) // sixteen phases
	}
}

func TestSpot(t *testing.T) {
	air, err := jet.NewJet(jet.JetSpec{Kind: jet.Round, Width: 4e-3, Speed: 160})
	if err != nil {
		t.Fatal(err)
	}
	spec := SpotSpec{Emitter: emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 1e-4}), Points: 2e-5,
		Captured: 0.3, Jet: air, Distance: 0.4, Ions: testIons}
	s, err := NewSpot(spec)
	if err != nil {
		t.Fatal(err)
	}
	// Closed form of a balanced plume: N = N0/(1 + αN0x/(Q0·U0)).
	p, m := s.Carried(0.4)
	n0, q0 := 6e-6/elementary, 160*math.Pi/4*16e-6
	near(t, "carried", float64(p), elementary*n0/(1+1.6e-12*n0/q0*0.4/160), 1e-4)
	near(t, "carried", float64(m), float64(p), 1e-4)
	r := s.Act(-96e-9, 0.5, 1)
	if !(r.Left < 0 && r.Least > r.Left && r.Supply == p && r.Most > p) || r.Validity&known.Estimate == 0 {
		t.Errorf("%+v", r)
	}
	dwell := s.DwellFor(10e-9, -96e-9, 1)
	near(t, "dwell", float64(s.Act(-96e-9, dwell, 1).Left), -10e-9, 1e-6)
	if s.DwellFor(1e-7, -96e-9, 1) != 0 || !math.IsNaN(float64(s.DwellFor(-1, 1, 1))) ||
		!math.IsNaN(float64(s.Act(1e-9, -1, 1).Left)) {
		t.Error("ends")
	}
	for _, change := range []func(s *SpotSpec){
		func(s *SpotSpec) { s.Points = 0 }, func(s *SpotSpec) { s.Captured = 2 }, func(s *SpotSpec) { s.Distance = 0 },
		func(s *SpotSpec) { s.Jet = jet.Jet{} }, func(s *SpotSpec) { s.Emitter = ionflow.Emitter{} },
		func(s *SpotSpec) { s.Ions.Plus = 0 },
	} {
		c := spec
		change(&c)
		if _, err := NewSpot(c); err == nil {
			t.Errorf("%+v accepted", c)
		}
	}
}

// Without relaxation stripes are j·|sin(πfL/v)|/(πf); never more than the mean current would leave in half a period.
func TestStripe(t *testing.T) {
	s := pointSpec(t, 0.03)
	s.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.AC, Current: 3e-4, Voltage: 7000, Switch: 50})
	p := at(t, s, 0.3)
	if x := p.Stripe(10); !(x > 0 && float64(x) < 3e-4/float64(p.Zone())/(math.Pi*50)) {
		t.Errorf("%v", x)
	}
	if at(t, pointSpec(t, 0.03), 0.3).Stripe(10) != 0 {
		t.Error("a direct source leaves no stripes")
	}
}
