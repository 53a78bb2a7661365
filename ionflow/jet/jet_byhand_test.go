package jet

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// five is the spread √(ln2/2)/5 with which a round jet has B = 5, and, for K² = 2B/√π, a plane one a core of
// 10/√π heights.
var five = math.Sqrt(math.Ln2/2) / 5

// Jets whose cores have simple lengths: U_c = U0·B·d/x, Q/Q0 = 2x/(B·d) of a round jet and √2·√(x/(K²h)) of a plane
// one, from 1 at the source to 2 and √2 at the end of the core. All jets blow with 40 m/s; lengths in mm.
//
// Of a row with B = 5 and holes of 1 mm the equivalent slot is h = π/(4p), its core K²h = 5√π/(2p), and the plane law
// takes over at B²/(2K²h) = 5p/√π. A pitch of 4√π gives 0.625 and 20 mm. One of √π/1.6 gives 4 and 3.125 mm: such
// holes merge in their cores, which end at 5 mm with the flow 2; it stays until the plane law gives 2 at 8 mm.
func TestJetsByHand(t *testing.T) {
	root := math.Sqrt(math.Pi)
	spec := func(kind JetKind, pitch, origin float64) JetSpec {
		return JetSpec{Kind: kind, Width: 1e-3, Pitch: units.Length(pitch * 1e-3), Speed: 40, Spread: five,
			Origin: units.Length(origin * 1e-3)}
	}
	plane := spec(Plane, 0, 0)
	plane.Width = units.Length(root / 2.5 * 1e-3) // K²h = 4 mm
	ahead := plane
	ahead.Origin = 0.5e-3
	for _, c := range []struct {
		name                               string
		spec                               JetSpec
		x, centre, flow, dilution, age, br float64 // mm, m/s, 1, 1/mm, mm of way at U0, mm; 0: not looked at
	}{
		{"round, core", spec(Round, 0, 0), 2.5, 40, 1.5, 1. / 7.5, 2.5 + 0.625, 1.5},
		{"round", spec(Round, 0, 0), 20, 10, 8, 1. / 20, 7.5 + 75, 8}, // (400 − 25)/5
		{"round from 2 mm ahead, core", spec(Round, 0, 2), 3.5, 40, 1.5, 1. / 10.5, 3.5 + 0.875, 1.5},
		{"round from 2 mm ahead", spec(Round, 0, 2), 12, 20, 4, 1. / 10, 10.5 + 15, 4},
		{"round from 2 mm behind", spec(Round, 0, -2), 8, 20, 4, 1. / 10, 4.5 + 15, 4},
		{"plane, core", plane, 2, 40, 1 + (math.Sqrt2-1)/2, (math.Sqrt2 - 1) / (4 + 2*(math.Sqrt2-1)),
			2 + (math.Sqrt2-1)/2, 0},
		// √2·⅔·(64 − 8)/2 beyond the core; breadth h·Q² = 8h
		{"plane", plane, 16, 20, 2 * math.Sqrt2, 1. / 32, 4 + 2*(math.Sqrt2-1) + math.Sqrt2*56/3, 8 * root / 2.5},
		{"plane from ½ mm ahead", ahead, 16.5, 20, 2 * math.Sqrt2, 1. / 32,
			4.5 + 2.25*(math.Sqrt2-1) + math.Sqrt2*56/3, 8 * root / 2.5},
		{"row, as one hole", spec(Row, 4*root, 0), 10, 0, 4, 1. / 10, 7.5 + 15, root},  // h = √π/16
		{"row, as a slot", spec(Row, 4*root, 0), 80, 0, 16, 1. / 160, 0, 16 * root},    // 256h
		{"row, where it merges", spec(Row, 4*root, 0), 20, 0, 8, 1. / 20, 7.5 + 75, 0}, // (400 − 25)/5
		{"close row, core", spec(Row, root/1.6, 0), 2.5, 40, 1.5, 1. / 7.5, 2.5 + 0.625, 0},
		{"close row, flat", spec(Row, root/1.6, 0), 7, 0, 2, 0, 7.5 + 4, 1.6 * root}, // 4h, h = 0.4√π
		{"close row, just beyond", spec(Row, root/1.6, 0), 10, 0, math.Sqrt(5), 1. / 20,
			7.5 + 6 + math.Sqrt2/3*(10*math.Sqrt(10)-8*math.Sqrt(8)), 2 * root},
		{"close row", spec(Row, root/1.6, 0), 32, 0, 4, 1. / 64,
			7.5 + 6 + math.Sqrt2/3*(32*math.Sqrt(32)-8*math.Sqrt(8)), 6.4 * root},
		{"close row from 1 mm ahead", spec(Row, root/1.6, 1), 33, 0, 4, 1. / 64,
			9 + 6 + math.Sqrt2/3*(32*math.Sqrt(32)-8*math.Sqrt(8)), 6.4 * root},
	} {
		j, x := mustJet(t, c.spec), units.Length(c.x*1e-3)
		for _, l := range []struct {
			what      string
			got, want float64
		}{
			{"centre", float64(j.CentreSpeed(x)), c.centre}, {"flow", float64(j.Entrainment(x)), c.flow},
			{"mean", float64(j.MeanSpeed(x)), 40 / c.flow}, {"age", float64(j.Age(x)), c.age * 1e-3 / 40},
			{"breadth", float64(j.Breadth(x)), c.br * 1e-3},
		} {
			if l.want != 0 {
				near(t, c.name+": "+l.what, l.got, l.want, 1e-12)
			}
		}
		if got := j.Dilution(x); !(math.Abs(got-c.dilution*1e3) <= 1e-12*1e3) {
			t.Errorf("%s: dilution %v, want %v", c.name, got, c.dilution*1e3)
		}
	}
	// From the hole of the row above the age at 80 mm: 5 to 20 mm as a round jet, then √2·⅔·(s√s)/√0.625 as a slot.
	row := mustJet(t, spec(Row, 4*root, 0))
	near(t, "age of the row", float64(row.Age(0.08)),
		(7.5+75+math.Sqrt2*2/3*(80*math.Sqrt(80)-20*math.Sqrt(20))/math.Sqrt(0.625))*1e-3/40, 1e-12)
	for _, c := range []struct {
		name        string
		spec        JetSpec
		core, merge float64 // [mm]
		perWidth    float64 // [m²/s]
	}{
		{"round", spec(Round, 0, 2), 7, math.Inf(1), math.NaN()}, {"plane", ahead, 4.5, math.Inf(1), 40 * root / 2500},
		{"row", spec(Row, 4*root, 2), 7, 22, root / 400}, {"close row", spec(Row, root/1.6, -2), 3, 3, 0.016 * root},
	} {
		j := mustJet(t, c.spec)
		near(t, c.name+": core", float64(j.Core()), c.core*1e-3, 1e-12)
		if got := float64(j.Merge()); got != c.merge && !(math.Abs(got/c.merge-1e-3) <= 1e-15) {
			t.Errorf("%s: merges at %v m, want %v mm", c.name, got, c.merge)
		}
		if got := j.FlowPerWidth(); !(math.Abs(got/c.perWidth-1) <= 1e-12) && !(math.IsNaN(got) && math.IsNaN(c.perWidth)) {
			t.Errorf("%s: %v m²/s to the metre, want %v", c.name, got, c.perWidth)
		}
	}
	near(t, "half-width", float64(mustJet(t, spec(Round, 0, 2)).HalfWidth(0.022)), five*0.02, 1e-12)
	near(t, "half-width in the core", float64(mustJet(t, spec(Round, 0, 2)).HalfWidth(3e-3)), 0.5e-3, 1e-12)
	near(t, "round decay", RoundDecay(five), 5, 1e-12)
	near(t, "plane decay", PlaneDecay(five)*PlaneDecay(five), 10/root, 1e-12)
	near(t, "default spread, 0.32·x/d", 2/RoundDecay(RoundSpread), 0.32, 1e-5)
	if s := mustJet(t, JetSpec{Kind: Plane, Width: 1, Speed: 1}).Spec(); s.Spread != 0.105 || s.Viscosity != 1.51e-5 {
		t.Errorf("defaults %+v", s)
	}
	if s := mustJet(t, JetSpec{Kind: Row, Width: 1, Pitch: 1, Speed: 1}).Spec(); s.Spread != 0.094193 {
		t.Errorf("defaults %+v", s)
	}
	j := mustJet(t, spec(Round, 0, 0))
	for what, v := range map[string]float64{"centre": float64(j.CentreSpeed(-1e-9)), "flow": float64(j.Entrainment(-1e-9)),
		"age": float64(j.Age(-1e-9)), "dilution": j.Dilution(-1e-9)} {
		if !math.IsNaN(v) {
			t.Errorf("%s before the source: %v", what, v)
		}
	}
	near(t, "at the source", float64(j.Entrainment(0)), 1, 1e-15)
	near(t, "dilution at the source", j.Dilution(0), 200, 1e-12)
}

// The sum over the jets of a row, term by term; a row cannot be faster than its holes.
func TestRowSumsItsJets(t *testing.T) {
	for a := 0.02; a < 4; a *= 1.13 {
		sum := 0.0
		for k := -600; k <= 600; k++ {
			sum += math.Exp(-2 * math.Ln2 * float64(k*k) * a * a)
		}
		near(t, "comb", comb(a), sum, 1e-13)
	}
	// Where both sums are equally long, c = π, the fourth term is 5e-13.
	q := math.Exp(-math.Pi)
	near(t, "comb", comb(math.Sqrt(math.Pi/(2*math.Ln2))), 1+2*q+2*math.Pow(q, 4)+2*math.Pow(q, 9), 5e-15)
	const pitch = 4e-3
	row := mustJet(t, JetSpec{Kind: Row, Width: 1e-3, Pitch: pitch, Speed: 40, Spread: five})
	// At 20 mm the half-width is a: Σ 2^(−2(k·4/a)²) of the squares of 10 m/s.
	a, sum := five*0.02, 0.0
	for k := -9; k <= 9; k++ {
		sum += math.Exp2(-2 * math.Pow(float64(k)*pitch/a, 2))
	}
	near(t, "four holes a half-width", float64(row.CentreSpeed(0.02)), 10*math.Sqrt(sum), 1e-12)
	close := mustJet(t, JetSpec{Kind: Row, Width: 1e-3, Pitch: 1e-3, Speed: 40, Spread: 0.5})
	near(t, "touching holes", float64(close.CentreSpeed(close.Core()*1.001)), 40, 1e-12)
}

// Jets on walls: 3.5/√100 of the speed, 0.073 of the way; ρU²b/R; 245° − 391°·0.08/1.09 for b/R = 0.08.
func TestWallsByHand(t *testing.T) {
	w := WallJetAt(50, 2e-3, 0.2)
	near(t, "peak", float64(w.Peak), 17.5, 1e-12)
	near(t, "half-width", float64(w.HalfWidth), 0.0146, 1e-12)
	near(t, "where it begins to slow", float64(WallJetAt(50, 2e-3, 2*12.2e-3).Peak), 50, 1e-12)
	near(t, "Coanda pressure", float64(CoandaPressure(1.2, 50, 2e-3, 0.03)), 200, 1e-12)
	a, _ := CoandaSeparation(2e-3, 25e-3)
	near(t, "Coanda angle", float64(a)*180/math.Pi, 245-391*0.08/1.09, 1e-12)
	// A round jet of 5 mm core: at 85 mm U0/17, and half of the rest of the way to 100 mm half of that.
	j := mustJet(t, JetSpec{Width: 1e-3, Speed: 68, Spread: five})
	for x, want := range map[units.Length]float64{0.02: 17, 0.085: 4, 0.0925: 2, 0.097: 0.8} {
		v, flag := j.ImpingingSpeed(x, 0.1)
		near(t, "impinging", float64(v), want, 1e-9)
		if flag != known.Unpublished|known.BelowRange {
			t.Errorf("flag %v", flag)
		}
	}
	if v, _ := j.ImpingingSpeed(-1e-9, 0.1); !math.IsNaN(float64(v)) {
		t.Errorf("before the source: %v", v)
	}
}

// Both ends of every range of NewJet, and of its two flags.
func TestJetRanges(t *testing.T) {
	good := JetSpec{Kind: Row, Width: 0.01, Pitch: 0.02, Speed: 20, Viscosity: 1e-5}
	for _, c := range []struct {
		change func(*JetSpec)
		field  string
	}{
		{func(*JetSpec) {}, ""}, {func(s *JetSpec) { s.Width, s.Pitch = 10, 10 }, ""},
		{func(s *JetSpec) { s.Kind, s.Width = Round, 10.1 }, "width"}, {func(s *JetSpec) { s.Width = 0 }, "width"},
		{func(s *JetSpec) { s.Speed = 700 }, ""}, {func(s *JetSpec) { s.Speed = 701 }, "speed"},
		{func(s *JetSpec) { s.Speed = 0 }, "speed"}, {func(s *JetSpec) { s.Speed = 0.5 }, ""},
		{func(s *JetSpec) { s.Spread = 0.01 }, ""}, {func(s *JetSpec) { s.Spread = 0.5 }, ""},
		{func(s *JetSpec) { s.Spread = 0.0099 }, "spread"}, {func(s *JetSpec) { s.Spread = 0.501 }, "spread"},
		{func(s *JetSpec) { s.Length = -1e-6 }, "length"}, {func(s *JetSpec) { s.Origin = 0.1 }, ""},
		{func(s *JetSpec) { s.Origin = -0.1 }, ""}, {func(s *JetSpec) { s.Origin = 0.101 }, "origin"},
		{func(s *JetSpec) { s.Origin = -0.101 }, "origin"}, {func(s *JetSpec) { s.Viscosity = -1 }, "viscosity"},
		{func(s *JetSpec) { s.Pitch = 0.01 }, ""}, {func(s *JetSpec) { s.Pitch = 0.0099 }, "pitch"},
		{func(s *JetSpec) { s.Pitch = 10.1 }, "pitch"}, {func(s *JetSpec) { s.Kind, s.Pitch = Round, 0 }, ""},
		{func(s *JetSpec) { s.Kind = Row + 1 }, "kind"},
	} {
		s := good
		c.change(&s)
		_, err := NewJet(s)
		hold(t, c.field, err)
	}
	for _, c := range []struct {
		kind          JetKind
		speed, length float64
		flag          known.Validity
	}{
		{Round, 10.1, 0.1, known.Inside}, {Round, 9.9, 0, known.BelowRange}, {Row, 9.9, 0.1, known.BelowRange},
		{Plane, 20, 0, known.Inside}, {Plane, 20, 0.201, known.Inside}, {Plane, 20, 0.199, known.WrongShape},
		{Plane, 9, 0.1, known.WrongShape | known.BelowRange}, {Row, 20, 0.1, known.Inside},
	} {
		s := good
		s.Kind, s.Speed, s.Length = c.kind, units.Speed(c.speed), units.Length(c.length)
		j := mustJet(t, s)
		if j.Validity() != c.flag {
			t.Errorf("%+v: %v", c, j.Validity())
		}
		near(t, "Reynolds", j.Reynolds(), c.speed*1e3, 1e-12)
	}
}

// hold wants an error about the field, none for "".
func hold(t *testing.T, field string, err error) {
	t.Helper()
	var fe *known.FieldError
	switch {
	case field == "" && err != nil:
		t.Error(err)
	case field != "" && (!errors.As(err, &fe) || fe.Field != field):
		t.Errorf("%v, want an error about %s", err, field)
	}
}
