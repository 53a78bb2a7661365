package ioniser

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Accuracy by hand: 0.7 … 3 in moving air; else 0.65 … 8.5 to 30 mm, 0.65/2^¼ and 4.25 at 60 mm, 0.65/10^¼ and 3 at
// 0.3 m.
func TestAccuracyByHand(t *testing.T) {
	slow := blownSpec(t, 0.06, 1)
	slow.Air.Stream = flat(0.99, 0.01)
	moving := slow
	moving.Air.Stream = flat(1.01, 0.01)
	for _, c := range []struct {
		s         Spec
		low, high float64
	}{
		{blownSpec(t, 0.03, 100), 0.7, 3}, {moving, 0.7, 3}, {slow, 0.65 / math.Pow(2, 0.25), 4.25},
		{pointSpec(t, 0.01), 0.65, 8.5}, {pointSpec(t, 0.03), 0.65, 8.5},
		{pointSpec(t, 0.06), 0.65 / math.Pow(2, 0.25), 4.25},
		{pointSpec(t, 0.3), 0.65 / math.Pow(10, 0.25), 3},
	} {
		src, err := New(c.s)
		if err != nil {
			t.Fatal(err)
		}
		low, high := src.Accuracy().Limits()
		near(t, "low", low, c.low, 1e-9)
		near(t, "high", high, c.high, 1e-9)
	}
	// 1 µA/m with a balance of ½ are 1.5 µA/m of positive and 0.5 of negative ions, whatever the factor.
	few := blownSpec(t, 0.1, 100)
	few.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.DC, Current: 1e-6, Balance: 0.5})
	p := at(t, few, 0.3)
	for net, takes := range map[units.SurfaceChargeDensity]float64{10e-6: -0.25e-6, -10e-6: 0.75e-6} {
		most, least := p.Band(net, 2)
		near(t, "the most", float64(least.Deposited), takes, 1e-9)
		near(t, "what it leaves", float64(least.Left), float64(net)+takes, 1e-9)
		if !(math.Abs(float64(most.Left)) > math.Abs(float64(least.Left))) {
			t.Errorf("%v: %v … %v", net, most.Left, least.Left)
		}
	}
	brush := tinsel(0.02, 0.1)
	brush.Points.Most = 2e-6
	_, least := at(t, brush, 0.3).Band(50e-6, 1)
	near(t, "passive points", float64(least.Deposited), -2e-6, 1e-9)
}

// What a pass says of webs at rest, of speeds and of faces; efficiency and residual of −4 µC/m².
func TestResultsByHand(t *testing.T) {
	brush := at(t, tinsel(0.02, 0.1), 0.3)
	_, on := brush.DeadBand()
	if lo, hi := brush.Offset(); lo != 0 || hi != 0 {
		t.Errorf("passive points with an offset %v … %v", lo, hi)
	}
	if i := brush.Current(on / 2); i != 0 {
		t.Errorf("a current below the onset: %v", i)
	}
	for net, want := range map[units.SurfaceChargeDensity]ionflow.Regime{0: ionflow.Idle, on / 2: ionflow.BelowOnset,
		-on / 2: ionflow.BelowOnset} {
		if r := brush.Act(net, 1); r.Regime != want || r.Left != net || r.Deposited != 0 {
			t.Errorf("%v: %+v", net, r)
		}
	}
	p := at(t, blownSpec(t, 0.1, 100), 0.3)
	if r := p.Act(0, 1); r.Regime != ionflow.Idle {
		t.Errorf("uncharged: %+v", r)
	}
	r := p.Act(-4e-6, 30)
	left, flag := p.Residual(-4e-6, 30)
	eff, _ := p.Efficiency(-4e-6, 30)
	near(t, "residual", float64(left), -float64(r.Left), 0)
	near(t, "efficiency", float64(eff), 1-float64(r.Left)/-4e-6, 1e-12)
	if flag != r.Validity || !(left > 1e-7 && left < 3.9e-6) {
		t.Errorf("residual %v, %v", left, flag)
	}
	faces, one := p.ActOn(ionflow.Faces{Near: -5e-6, Far: 1e-6}, 30)
	near(t, "the near face", float64(faces.Near), -5e-6+float64(r.Deposited), 1e-12)
	if faces.Far != 1e-6 || one.Regime != r.Regime || one.Validity != r.Validity || !(faces.Near > -5e-6) {
		t.Errorf("%+v", faces)
	}
	bad, _ := p.ActOn(ionflow.Faces{Near: 1, Far: 1}, -1)
	if !math.IsNaN(float64(bad.Near)) || !math.IsNaN(float64(bad.Far)) {
		t.Errorf("undefined: %+v", bad)
	}
	if !math.IsNaN(float64(p.FastestFor(units.SurfaceChargeDensity(math.NaN()), 1e-6))) ||
		!math.IsInf(float64(p.FastestFor(2e-6, -2e-6)), 1) || p.FastestFor(0, 1e-6) != 0 {
		t.Error("ends of FastestFor")
	}
	if r := p.Times(0).Act(4e-6, 0); r.Deposited != 0 {
		t.Errorf("nothing for ever: %+v", r)
	}
	for factor, want := range map[float64]known.Validity{0.333: known.BelowRange, 0.334: 0, 10: 0,
		10.01: known.AboveRange} {
		if r := p.Times(factor).Act(4e-6, 30); r.Validity&(known.BelowRange|known.AboveRange) != want {
			t.Errorf("factor %v: %v", factor, r.Validity)
		}
	}
	// A reading nearer to rest than 0.5 % of the way is taken there, and one as high as before gives 0.
	for _, net := range []units.SurfaceChargeDensity{4e-6, -4e-6} {
		a, err := p.Fit(net, net*0.005, 2)
		b, err2 := p.Fit(net, -net, 2)
		c, err3 := p.Fit(net, net*0.006, 2)
		if errors.Join(err, err2, err3) != nil || a.Factor() != b.Factor() || !(c.Factor() < a.Factor()) {
			t.Errorf("near rest: %v, %v, %v", a.Factor(), b.Factor(), c.Factor())
		}
		if d, err := brush.Fit(5*net, units.SurfaceChargeDensity(math.Copysign(float64(on), float64(net))),
			2); err != nil || !(d.Factor() > 0) || math.IsInf(d.Factor(), 0) {
			t.Errorf("down to an onset: %v, %v", d.Factor(), err)
		}
	}
	if _, err := brush.Fit(on, 0, 1); err == nil {
		t.Error("a web at its onset was fitted")
	}
}

// The sources of a series add up their flags; who is off is left out; neither a place nor a number that does not exist
// is taken.
func TestSeriesByHand(t *testing.T) {
	a, b := at(t, pointSpec(t, 0.03), 0.3), at(t, blownSpec(t, 0.1, 100), 0.3)
	s, err := NewSeries(Station{a, 1}, Station{b, 2}, Station{a, 3})
	if err != nil {
		t.Fatal(err)
	}
	var two [2]Result
	left, flag := s.Act(two[:], -9e-6, 20)
	x := a.Act(-9e-6, 20)
	y := b.Act(x.Left, 20)
	z := a.Act(y.Left, 20)
	if left != z.Left || two[0] != x || two[1] != y || flag != x.Validity|y.Validity|z.Validity ||
		x.Validity == y.Validity {
		t.Errorf("%v, %v of %v, %v, %v", left, flag, x, y, z)
	}
	f := s.IfOneFails(-9e-6, 20)
	if len(f) != 3 || f[1].Off != 1 || f[1].Left != a.Act(x.Left, 20).Left || f[1].Validity&known.Estimate != 0 ||
		f[2].Left != y.Left {
		t.Errorf("%+v", f)
	}
	least := (a.Zone() + b.Zone()) / 2
	if _, err := NewSeries(Station{a, 1}, Station{b, 1 + least*1.001}); err != nil {
		t.Error(err)
	}
	for _, bad := range [][]Station{{}, {{a, 0}, {nil, 1}}, {{new(Place), 0}}, {{a, units.Length(math.NaN())}},
		{{a, 1}, {b, 1 + least*0.999}}} {
		if _, err := NewSeries(bad...); err == nil {
			t.Errorf("%v accepted", bad)
		}
	}
	for _, c := range [][2]float64{{0, 1}, {1, 0}, {-1, 1}, {1, -1}, {math.NaN(), 1}, {1, math.NaN()}} {
		lo, hi := PlateOffset(1, units.Length(c[0]), units.Length(c[1]))
		if v := Shown(1e-6, units.Length(c[0]), units.Length(c[1])); !math.IsNaN(float64(v)) || !math.IsNaN(float64(lo)) ||
			!math.IsNaN(float64(hi)) {
			t.Errorf("distances %v: %v, %v, %v", c, v, lo, hi)
		}
	}
	if g := GapOf(0.1, 0); g != 0 || !math.IsNaN(float64(GapOf(0.1, -0.01))) || !math.IsNaN(float64(GapOf(0.1, 1.01))) {
		t.Errorf("a share of 0: %v", g)
	}
	codes := func(s Spec) string {
		src, err := New(s)
		if err != nil {
			t.Fatal(err)
		}
		var out []string
		for _, n := range src.Notices() {
			out = append(out, n.Code)
		}
		return strings.Join(out, " ")
	}
	for s, want := range map[*Spec]string{
		ptr(blownSpec(t, 0.1, 100)): "high-voltage ioniser-in-zone ozone compressed-air",
		ptr(pointSpec(t, 0.03)):     "high-voltage ioniser-in-zone ozone", ptr(tinsel(0.02,
			0.1)): "isolated-conductor ioniser-in-zone",
	} {
		if got := codes(*s); got != want {
			t.Errorf("cautions %q, want %q", got, want)
		}
	}
	if p, o, a, err := (MakerSheet{20, 3e-9, 0.002}).Totals(1.5); err != nil || p != 30 || a != 0.003 ||
		!(math.Abs(float64(o)/4.5e-9-1) <= 1e-12) {
		t.Errorf("a bar of 1.5 m: %v, %v, %v, %v", p, o, a, err)
	}
	if _, _, _, err := (MakerSheet{}).Totals(0); err == nil {
		t.Error("a bar without length")
	}
}

func ptr(s Spec) *Spec { return &s }

// Searches end at an edge: a little beyond it too much is left. What does it at the near end of the range is that end.
func TestSearchesEndAtAnEdge(t *testing.T) {
	left := func(s Spec, w Web) float64 {
		r, _ := at(t, s, w.Gap).Residual(w.Net, w.Speed)
		return float64(r)
	}
	edge := func(what string, err error, want float64, in, out float64) {
		t.Helper()
		if err != nil || !(in <= want) || !(out > want) || !(out < want*1.01) {
			t.Errorf("%s: %g at the edge, %g beyond it, want %g: %v", what, in, out, want, err)
		}
	}
	w := Web{Net: 3e-6, Speed: 1, Gap: 0.3}
	bar := blownSpec(t, 0.1, 100)
	of := func(i units.LineCurrent) Spec {
		s := bar
		s.Emitter = emitter(t, ionflow.EmitterSpec{Current: i})
		return s
	}
	i, err := bar.LeastCurrent(0.5e-6, w, 1e-6, 1e-3)
	edge("current", err, 0.5e-6, left(of(i.Value), w), left(of(i.Value*(1-1.01e-6)), w))
	if all, err := bar.LeastCurrent(0.5e-6, w, 2*i.Value, 1e-3); err != nil || all.Value != 2*i.Value {
		t.Errorf("the near end: %v, %v", all.Value, err)
	}
	weak := bar // a worn emitter searched for its current counts as clean
	weak.Emitter = emitter(t, ionflow.EmitterSpec{Current: 3e-4, Output: 0.5})
	if again, err := weak.LeastCurrent(0.5e-6, w, 1e-6, 1e-3); err != nil || again != i {
		t.Errorf("worn: %v, %v", again, err)
	}
	// Half of the emission is left after ln 2 less.
	rate := known.Band{Value: 1e-7}
	full, _, _, err := bar.CleanAfter(0.5e-6, w, rate)
	half, _, _, err2 := weak.CleanAfter(0.5e-6, w, rate)
	if errors.Join(err, err2) != nil {
		t.Fatal(err, err2)
	}
	near(t, "cleaning of half", float64(full-half), math.Ln2/1e-7, 1e-4)
	var no *UnreachableError
	if _, _, _, err := bar.CleanAfter(1e-9, Web{9e-6, 90, 0.3}, rate); !errors.As(err, &no) {
		t.Errorf("never clean enough: %v", err)
	}

	far := func(d units.Length) Spec { s := bar; s.Distance = d; return s }
	x, err := bar.Farthest(0.5e-6, w, 0.02, 2)
	edge("distance", err, 0.5e-6, left(far(x.Value), w), left(far(x.Value*(1+1.01e-6)), w))
	if all, err := bar.Farthest(0.5e-6, w, 0.02, x.Value/2); err != nil || all.Value != x.Value/2 {
		t.Errorf("the far end: %v, %v", all.Value, err)
	}
	// A body that was told stays where it is, one that stands for the distance goes along.
	w10 := Web{Net: 3e-6, Speed: 10, Gap: 0.3}
	for _, body := range []units.Length{0, 0.03, 0.4} {
		s := pointSpec(t, 0.03)
		s.Points.Body = body
		x, err := s.Farthest(0.5e-6, w10, 0.01, 0.35)
		there := s
		if there.Distance = x.Value; body == 0.03 {
			there.Points.Body = 0
		}
		if err != nil || float64(x.Left) != left(there, w10) {
			t.Errorf("body %v: %v leaves %v, again %v: %v", body, x.Value, x.Left, left(there, w10), err)
		}
	}
	volts := func(v units.Voltage) Spec {
		s := pointSpec(t, 0.05)
		s.Emitter = emitter(t, ionflow.EmitterSpec{Current: 3e-4, Voltage: v})
		return s
	}
	v, err := volts(7000).LeastVoltage(0.5e-6, w10, 3600, 2e4)
	edge("voltage", err, 0.5e-6, left(volts(v.Value), w10), left(volts(v.Value*(1-1.01e-6)), w10))
	brush := tinsel(0.02, 0.1)
	m, err := brush.LeastCurrent(3e-6, Web{9e-6, 2, 0.3}, 1e-7, 1e-2)
	most := func(i units.LineCurrent) Spec { s := brush; s.Points.Most = i; return s }
	edge("passive points", err, 3e-6, left(most(m.Value), Web{9e-6, 2, 0.3}), left(most(m.Value*(1-1.01e-6)), Web{9e-6, 2,
		0.3}))
	// The captured share goes with the speed at the mouth of the bar's own air.
	air := func(u units.Speed) (Stream, error) { return Plume{Speed: u, Width: 1e-3, Core: 6.3e-3}, nil }
	told := blownSpec(t, 0.3, 80)
	told.Air.At = 80
	silent := told
	silent.Air.At = 0
	a, err := LeastAir(told, air, 1e-7, w, 1, 300)
	b, err2 := LeastAir(silent, air, 1e-7, w, 1, 300)
	if errors.Join(err, err2) != nil || a != b {
		t.Errorf("%v, %v: %v, %v", a, b, err, err2)
	}
	blown := func(u units.Speed) Spec { s := told; s.Air.Stream, _ = air(u); return s }
	edge("air", err, 1e-7, left(blown(a.Value), w), left(blown(a.Value*(1-1.01e-6)), w))
	// What cannot be had says what can, and where.
	_, err = bar.Farthest(1e-9, Web{5e-6, 50, 0.3}, 0.02, 2)
	if !errors.As(err, &no) || no.Want != 1e-9 || no.Search != "distance" ||
		!(math.Abs(float64(no.Best)/left(far(0.02), Web{5e-6, 50, 0.3})-1) < 0.2) {
		t.Errorf("%v", err)
	}
	for field, f := range map[string]func() error{
		"distance":    func() error { _, err := bar.Farthest(1e-6, w, 11, 20); return err },
		"want":        func() error { _, err := bar.Farthest(0, w, 0.1, 1); return err },
		"distance lo": func() error { _, err := bar.Farthest(1e-6, w, 0, 1); return err },
		"distance hi": func() error { _, err := bar.Farthest(1e-6, w, 0.1, -1); return err },
		"web.net":     func() error { _, err := bar.Farthest(1e-6, Web{0, 1, 1}, 0.1, 1); return err },
		"web.speed":   func() error { _, err := bar.Farthest(1e-6, Web{1, 0, 1}, 0.1, 1); return err },
		"web.gap":     func() error { _, err := bar.Farthest(1e-6, Web{1, 1, 0}, 0.1, 1); return err },
	} {
		var fe *known.FieldError
		if err := f(); !errors.As(err, &fe) || fe.Field != field {
			t.Errorf("%v, want an error about %s", err, field)
		}
	}
	if _, err := bar.Farthest(1e-6, w, 0.1, 0.1); err == nil {
		t.Error("a range without width")
	}
}

// A nozzle by hand: a round jet of 4 mm at 160 m/s, of which at 0.4 m Q is 2x/(B·d) times that of the hole and the mean
// speed that much less.
func TestSpotByHand(t *testing.T) {
	air, err := jet.NewJet(jet.JetSpec{Kind: jet.Round, Width: 4e-3, Speed: 160})
	if err != nil {
		t.Fatal(err)
	}
	base := SpotSpec{Emitter: emitter(t, ionflow.EmitterSpec{Current: 1e-4, Balance: 0.2, Output: 0.5}), Points: 2e-5,
		Captured: 0.3, Jet: air, Distance: 0.4, Ions: testIons}
	s, err := NewSpot(base)
	if err != nil {
		t.Fatal(err)
	}
	grown := 2 * 0.4 / (math.Sqrt(math.Ln2/2) / jet.RoundSpread * 4e-3)
	q0 := 160 * math.Pi / 4 * 16e-6
	plus, minus := s.Carried(0)
	for _, l := range []struct {
		what      string
		got, want float64
	}{
		{"positive", s.plus, 3.6e-6 / elementary}, {"negative", s.minus, 2.4e-6 / elementary}, // 20 µA·½·0.3·(1 ± 0.2)
		{"carried +", float64(plus), 3.6e-6}, {"carried −", float64(minus), 2.4e-6}, {"flow", s.flow, q0 * grown},
		{"speed", s.speed, 160 / grown}, {"source", s.source, q0}, {"exit", s.exit, 160},
	} {
		near(t, l.what, l.got, l.want, 1e-9)
	}
	for _, x := range []units.Length{-1e-6, 10.01} {
		if p, m := s.Carried(x); !math.IsNaN(float64(p)) || !math.IsNaN(float64(m)) {
			t.Errorf("at %v: %v, %v", x, p, m)
		}
	}
	p, m := s.Carried(0.4)
	for _, c := range []struct {
		q      units.Charge
		supply units.Current
		mu     float64
	}{{-20e-9, p, 1.4e-4}, {20e-9, m, 1.6e-4}} {
		r := s.Act(c.q, 0.05, 0.4)
		// λ·exposed·q/ε0 and the supply in a row: t = ε0/(λ·exposed)·ln(q/left) + (q − left)/I_s
		lambda := float64(c.supply) / s.flow * c.mu
		a, b := math.Abs(float64(c.q)), math.Abs(float64(r.Left))
		near(t, "dwell", eps0/(lambda*0.4)*math.Log(a/b)+(a-b)/float64(c.supply), 0.05, 1e-9)
		near(t, "dwell for it", float64(s.DwellFor(units.Charge(b), c.q, 0.4)), 0.05, 1e-9)
		// what the pull of 20 nC takes before it recombines: √(μ·q/(4π·ε0·u)) nearer to the nozzle
		nearer := 0.4 - math.Sqrt(c.mu*20e-9/(4*math.Pi*eps0*s.speed))
		if nearer < 0 {
			t.Fatal(nearer)
		}
		x, y := s.Carried(units.Length(nearer))
		if c.q > 0 {
			x = y
		}
		near(t, "supply", float64(r.Supply), float64(c.supply), 0)
		near(t, "most", float64(r.Most), float64(x), 1e-12)
		if estimate := float64(x) > 1.3*float64(c.supply); (r.Validity&known.Estimate != 0) != estimate || r.Left*c.q <= 0 ||
			math.Abs(float64(r.Least)) >= b {
			t.Errorf("%+v", r)
		}
	}
	if r := s.Act(-1e-4, 1, 1); r.Most != units.Current(3.6e-6) && !(math.Abs(float64(r.Most)/3.6e-6-1) <= 1e-9) ||
		r.Validity&known.Estimate == 0 {
		t.Errorf("a pull to the nozzle: %+v", r)
	}
	if r := s.Act(1e-15, 1, 1); r.Validity&known.Estimate != 0 {
		t.Errorf("next to no pull: %+v", r)
	}
	inf := func(x units.Time) bool { return math.IsInf(float64(x), 1) }
	if !inf(s.DwellFor(0, 1e-9, 1)) || !inf(s.DwellFor(1e-10, 1e-9, 0)) || s.DwellFor(1e-9, -1e-9, 1) != 0 {
		t.Error("ends of a dwell")
	}
	for i, v := range []units.Time{s.DwellFor(1e-10, 1e-9, -0.1), s.DwellFor(1e-10, 1e-9, 1.1), s.DwellFor(-1, 1e-9, 1),
		s.DwellFor(1e-10, units.Charge(math.NaN()), 1)} {
		if !math.IsNaN(float64(v)) {
			t.Errorf("dwell %d: %v", i, v)
		}
	}
	// Bunches of an alternating nozzle longer than the plume is broad, u/(2f) over d·2x/(B·d): an estimate.
	broad := 4e-3 * grown
	for f, soft := range map[float64]bool{0.98: true, 1.02: false} {
		c := base
		c.Emitter = emitter(t, ionflow.EmitterSpec{Kind: ionflow.AC, Current: 1e-4,
			Switch: units.Frequency(f * 160 / grown / (2 * broad))})
		s, err := NewSpot(c)
		if err != nil {
			t.Fatal(err)
		}
		if (s.flag&known.Estimate != 0) != soft {
			t.Errorf("bunches of %v: %v", 1/f, s.flag)
		}
		m := 1 / (1 + 1/(f*f))
		near(t, "loss", float64(s.alpha), m*1.6e-12+(1-m)*2*elementary*1.5e-4/eps0, 1e-9)
	}
	for _, c := range []struct {
		change func(*SpotSpec)
		field  string
	}{
		{func(s *SpotSpec) { s.Points, s.Captured = 1, 1e-6 }, ""},
		{func(s *SpotSpec) { s.Points, s.Captured = 1.5, 1e-6 }, "points"},
		{func(s *SpotSpec) { s.Points = -1e-6 }, "points"}, {func(s *SpotSpec) { s.Captured = 1 }, ""},
		{func(s *SpotSpec) { s.Captured = 1.01 }, "captured"}, {func(s *SpotSpec) { s.Captured = 0.9e-6 }, "captured"},
		{func(s *SpotSpec) { s.Distance = 1e-3 }, ""}, {func(s *SpotSpec) { s.Distance = 0.9e-3 }, "distance"},
		{func(s *SpotSpec) { s.Distance = 10 }, ""}, {func(s *SpotSpec) { s.Distance = 10.1 }, "distance"},
		{func(s *SpotSpec) { s.Ions.Alpha = -1 }, "alpha"}, {func(s *SpotSpec) { s.Jet = jet.Jet{} }, "jet"},
		{func(s *SpotSpec) {
			s.Jet, _ = jet.NewJet(jet.JetSpec{Kind: jet.Plane, Width: 4e-3, Speed: 160})
		}, "jet"},
		// e·N·μ/Q0 of 1.2·½·I·1.4e-4 and 0.8·½·I·1.6e-4: above 1 S/m from 24 A on
		{func(s *SpotSpec) { s.Points, s.Captured = 1, 1; s.Jet = thinJet(t) }, "points"},
	} {
		n := base
		c.change(&n)
		_, err := NewSpot(n)
		var fe *known.FieldError
		if c.field == "" && err != nil || c.field != "" && (!errors.As(err, &fe) || fe.Field != c.field) {
			t.Errorf("%v, want an error about %q", err, c.field)
		}
	}
	var list []string
	for _, n := range s.Notices() {
		list = append(list, n.Code)
	}
	if got := strings.Join(list, " "); got != "high-voltage ioniser-in-zone ozone compressed-air" {
		t.Errorf("cautions %q", got)
	}
}

// thinJet is a jet of 10 µm at 1 m/s: 8e-11 m³/s hold no ampere of ions.
func thinJet(t *testing.T) jet.Jet {
	t.Helper()
	j, err := jet.NewJet(jet.JetSpec{Kind: jet.Round, Width: 1e-5, Speed: 1})
	if err != nil {
		t.Fatal(err)
	}
	return j
}
