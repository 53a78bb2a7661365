package charge

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestNoNumber: what is not given or lies outside has no number, what lies at the end
// of a range has one.
func TestNoNumber(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	surface := func(exit, rs, thickness, epsr float64) float64 {
		return float64(SurfaceRelaxation(units.Length(exit), units.SheetResistance(rs), units.Length(thickness), epsr))
	}
	bulk := func(rho, epsr float64) float64 { return float64(bulkRelaxation(units.VolumeResistivity(rho), epsr)) }
	liquid := func(epsr, kappa float64) float64 { return float64(liquidRelaxation(epsr, units.Conductivity(kappa))) }
	back := func(v, exit, tau float64) float64 {
		return BackFlow(units.Speed(v), units.Length(exit), units.Time(tau))
	}
	both := func(a, b float64) float64 { return float64(Relaxation(units.Time(a), units.Time(b))) }
	kept := func(x, tau float64) float64 { return ResidenceKept(units.Time(x), units.Time(tau)) }
	modulus := func(e1, nu1, e2, nu2 float64) float64 {
		return float64(EffectiveModulus(units.Pressure(e1), nu1, units.Pressure(e2), nu2))
	}
	elsewhere := func(from, to, rh, scatter float64) float64 {
		_, mid, _ := SlideContact.Elsewhere(1, units.Speed(from), units.Speed(to), 0.5, units.RelativeHumidity(rh), scatter)
		return float64(mid)
	}
	piece := func(from, to float64) float64 {
		_, mid, _, _ := PieceCharge(1, units.Length(from), units.Length(to), true)
		return float64(mid)
	}
	rubbed := func(c, area float64) float64 {
		return float64(RubbedDensity(units.Capacitance(c), 1, units.Area(area)))
	}
	// 8.854188 pF/m.
	const eps0 = 8.8541878e-12
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"surface, 1 mm, 1e9 Ω, 20 µm, εr 1", surface(1e-3, 1e9, 20e-6, 1), 1e-6 * 1e9 * eps0 / 20e-6},
		{"surface, exit", surface(-1, 1, 1, 1), nan}, {"surface, resistance", surface(1, -1, 1, 1), nan},
		{"surface, thickness", surface(1, 1, 0, 1), nan}, {"surface, εr", surface(1, 1, 1, 0.9), nan},
		{"bulk, 1e12 Ω·m, εr 1", bulk(1e12, 1), 1e12 * eps0}, {"bulk, εr", bulk(1, 0.9), nan},
		{"bulk, resistivity", bulk(-1, 3), nan}, {"bulk, conductor", bulk(0, 3), 0},
		{"liquid, εr 1, 1 pS/m", liquid(1, 1e-12), eps0 / 1e-12}, {"liquid, εr", liquid(0.9, 1), nan},
		{"liquid, conductivity", liquid(2, -1), nan}, {"liquid, none", liquid(2, 0), inf},
		// 1 mm at 1 m/s is 1 ms.
		{"back-flow", back(-1, 1e-3, 1e-3), math.Exp(-1)}, {"back-flow, fast", back(inf, 1e-3, 1e-6), 1},
		{"back-flow, insulator", back(1, 1e-3, inf), 1}, {"back-flow, no exit", back(1, 0, 1), 1},
		{"back-flow, standstill", back(0, 1e-3, inf), 0}, {"back-flow, conductor", back(inf, 1e-3, 0), 0},
		{"back-flow, negative exit", back(1, -1, 1), nan}, {"back-flow, negative time", back(1, 1, -1), nan},
		{"back-flow, no speed", back(nan, 1, 1), nan},
		{"two paths", both(0.5, 0.25), 1.0 / 6}, {"two paths, one idle", both(0.5, inf), 0.5}, {"one at once", both(3, 0), 0},
		{"two paths, negative", both(-1, 2), nan}, {"two paths, negative", both(2, -1), nan},
		{"liquid kept", kept(0.5, 0.5), math.Exp(-1)}, {"kept at once", kept(0, 0), 1},
		{"kept by a perfect one", kept(5, inf), 1},
		{"kept by a conductor", kept(5, 0), 0}, {"kept at last", kept(inf, inf), 0}, {"kept, negative", kept(-1, 1), nan},
		{"kept, negative", kept(1, -1), nan},
		// ν 0.5: E/(1 − 0.25) on a rigid wall, half of that on itself.
		{"modulus", modulus(3e6, 0.5, inf, 0), 4e6}, {"of two", modulus(3e6, 0.5, 3e6, 0.5), 2e6},
		{"of an odd one", modulus(0.5, 0, inf, -1), 0.5}, {"modulus of nothing", modulus(0, 0, 1, 0), nan},
		{"of nothing", modulus(1, 0, 0, 0), nan}, {"Poisson", modulus(1, 0.51, 1, 0), nan},
		{"Poisson", modulus(1, 0, 1, -1.1), nan},
		{"elsewhere, standstill", elsewhere(1, 0, 0.5, 0.4), nan}, {"from standstill", elsewhere(0, 1, 0.5, 0.4), nan},
		{"elsewhere, humidity", elsewhere(1, 1, 1.01, 0.4), nan}, {"elsewhere, scatter", elsewhere(1, 1, 0.5, -0.1), nan},
		{"the same", elsewhere(1, 1, 0.5, 0), 1},
		{"piece of nothing", piece(0, 1), nan}, {"piece of nothing", piece(1, 0), nan},
		{"piece, 2 m of 1 m", piece(1, 2), math.Exp2(1.24)},
		{"rubbed", rubbed(0.5, 0.25), 2}, {"rubbed, area", rubbed(1, 0), nan}, {"rubbed, capacitance", rubbed(-1, 1), nan},
		{"slip", SlipExposure(0.5, 0.001, 0.1, 20e-6), 0.5 * 6}, {"slip, spot", SlipExposure(1, 1, 1, 0), nan},
		{"slip, contact", SlipExposure(1, 1, -1, 1), nan}, {"slip", SlipExposure(1, -1, 1, 1), nan},
		{"slip, exposure", SlipExposure(-1, 1, 1, 1), nan},
		{"cut-off", float64(CondenserSaturation(1, 0, 0)), nan},
		// Gent, 60 Shore A: 0.0981·(56 + 457.4016)/(0.137505·101.6) = 3.6051 MPa.
		{"rubber, MPa", 1e-6 * float64(ModulusOfRubber(60)), 3.6051}, {"too soft", float64(ModulusOfRubber(4.9)), nan},
		{"too hard", float64(ModulusOfRubber(95.1)), nan},
	} {
		if math.IsNaN(c.want) != math.IsNaN(c.got) || !math.IsNaN(c.want) && c.got != c.want &&
			!(math.Abs(c.got/c.want-1) <= 1e-4) {
			t.Errorf("%s: %g, want %g", c.what, c.got, c.want)
		}
	}
}

// TestContactEnds: a contact at a standstill, without load and at no end of speed.
func TestContactEnds(t *testing.T) {
	plain := mustContact(t, ContactSpec{Saturation: 15 * uC, Exposure: 1})
	none := mustContact(t, ContactSpec{Saturation: 15 * uC})
	// Twice the speed, twice the saturation; half the load, half of it.
	straight := mustContact(t, ContactSpec{Saturation: 15 * uC, Exposure: 1, SpeedExponent: 1, LoadExponent: 1,
		ReferenceSpeed: 2, ReferenceLoad: 1000})
	checkNear(t, "twice the speed", float64(straight.Saturation(4, 1000)), 30e-6, 1e-18)
	checkNear(t, "half the load", float64(straight.Saturation(-2, 500)), 7.5e-6, 1e-18)
	for what, c := range map[string]*Contact{"plain": &plain, "no exposure": &none, "straight": &straight} {
		for _, x := range []struct {
			v    units.Speed
			load units.ForcePerWidth
		}{{0, 1000}, {2, 0}, {2, -1}} {
			if s := c.Saturation(x.v, x.load); s != 0 {
				t.Errorf("%s: tends to %v at %v, %v", what, s, x.v, x.load)
			}
			if after := c.Transfer(5*uC, x.v, x.load); after != 5*uC {
				t.Errorf("%s: %v left at %v, %v", what, after, x.v, x.load)
			}
			if keep, made := c.At(x.v, x.load); keep != 1 || made != 0 {
				t.Errorf("%s: %v, %v made at %v, %v", what, keep, made, x.v, x.load)
			}
		}
		nan := units.Speed(math.NaN())
		if s := c.Transfer(5*uC, nan, 0); !math.IsNaN(float64(s)) {
			t.Errorf("%s: NaN passes: %v", what, s)
		}
		if s := c.Saturation(units.Speed(math.Inf(1)), 1e31); !(s > 0) || math.IsInf(float64(s), 0) {
			t.Errorf("%s: %v at an endless speed", what, s)
		}
	}
	var zero Contact
	if !math.IsNaN(float64(zero.Transfer(1, 0, 1))) || !math.IsNaN(float64(zero.Saturation(0, 1))) {
		t.Error("the zero Contact has a charge at a standstill")
	}
	// Bands reach beyond what a contact may be: moved to the limit.
	wide := func(v float64) known.Band { return known.Band{Value: 0, Spread: v, Kind: known.Normal} }
	b := ContactBands{Saturation: wide(1), Exposure: wide(1e3), SpeedExponent: wide(5), LoadExponent: wide(5)}
	if s := b.At([4]float64{-1, -1, -1, -1}); s.Saturation != -0.1 || s.Exposure != 0 || s.SpeedExponent != -1 ||
		s.LoadExponent != -1 {
		t.Errorf("low end %+v", s)
	}
	if s := b.At([4]float64{1, 1, 1, 1}); s.Saturation != 0.1 || s.Exposure != 700 || s.SpeedExponent != 2 ||
		s.LoadExponent != 2 {
		t.Errorf("high end %+v", s)
	}
}

// TestContactFlags: a factor of 3 on either side of the references, exponents of
// published support.
func TestContactFlags(t *testing.T) {
	for _, c := range []struct {
		v, load, a, b float64
		want          known.Validity
	}{
		{2.9, 1, 1, 1, known.Inside}, {0.34, 1, 1, 1, known.Inside}, {3.1, 1, 1, 1, known.AboveRange},
		{0.33, 1, 1, 1, known.BelowRange}, {-2.9, 1, 1, 1, known.Inside},
		{1, 2.9, 1, 1, known.Inside}, {1, 3.1, 1, 1, known.AboveRange}, {1, 0.33, 1, 1, known.BelowRange},
		{9, 1, 0, 1, known.Inside}, {1, 9, 1, 0, known.Inside},
		{1, 1, -0.59, 1, known.Inside}, {1, 1, -0.61, 1, known.Unpublished}, {1, 1, 1.01, 1, known.Unpublished},
		{1, 1, 1, 0.31, known.Inside}, {1, 1, 1, 0.29, known.Unpublished}, {1, 1, 1, 1.01, known.Unpublished},
	} {
		x := mustContact(t, ContactSpec{Saturation: uC, Exposure: 1, SpeedExponent: c.a, LoadExponent: c.b,
			ReferenceSpeed: 1, ReferenceLoad: 1})
		if got := x.Validity(units.Speed(c.v), units.ForcePerWidth(c.load)); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// TestSpreadsByHand: what spreads and limits of fits and priors are by hand.
func TestSpreadsByHand(t *testing.T) {
	// n = ln 2: half of the way. From 2 to 7 µC/m², ±0.5: 2 + 5/0.5 = 12, ±1.
	r := ContactReading{Before: 2 * uC, After: 7 * uC, Deviation: 0.5 * uC, Speed: 0.5, Load: 0.5}
	s, err := FitSaturation(r, math.Ln2)
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "saturation, µC/m²", 1e6*s.Value, 12, 1e-12)
	checkNear(t, "its deviation", 1e6*s.Spread, 1, 1e-12)
	// 0.5 ± 0.1 of a scale of 20 ± 4 µC/m²: 10 ± √(2² + 2²); of 20 µC/m² lognormal by 0.2
	// the relative ones: √(0.2² + 0.2²).
	p := PairStrength{Relative: 0.5, Spread: 0.1}
	for _, c := range []struct {
		scale  known.Band
		spread float64
	}{{known.Band{Value: 20e-6, Spread: 4e-6, Kind: known.Normal}, 1e-6 * math.Sqrt(8)},
		{known.Band{Value: 20e-6, Spread: 4e-6 * math.Sqrt(3), Kind: known.Uniform}, 1e-6 * math.Sqrt(8)},
		{known.Band{Value: 20e-6, Spread: 0.2, Kind: known.LogNormal}, 0.2 * math.Sqrt2}} {
		b, err := p.Calibrated(c.scale)
		if err != nil {
			t.Fatal(err)
		}
		checkNear(t, "calibrated", b.Value, 10e-6, 1e-18)
		checkNear(t, "its spread", b.Spread, c.spread, 1e-12*c.spread)
	}
	// A pair that stands more than two deviations from 0 carries a scale.
	measured := known.Band{Value: 10e-6, Spread: 1e-6, Kind: known.Normal}
	back, err := CalibrateSeries(PairStrength{Relative: 0.5, Spread: 0.2}, measured)
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "scale", back.Value, 20e-6, 1e-18)
	checkNear(t, "its spread", back.Spread, math.Hypot(0.1, 0.4), 1e-12)
	if _, err := CalibrateSeries(PairStrength{Relative: 0.5, Spread: 0.26}, measured); err == nil {
		t.Error("a pair of less than two deviations carries a scale")
	}
	// Humidity: −6 … +3 in ln (5 … 95 %) for 0 … 100 %RH, temperature ±3 % a kelvin.
	prior := PriorSurroundings()
	lo, hi := prior.Humidity.Limits()
	checkNear(t, "humidity, 5 %", lo, -6, 0.01)
	checkNear(t, "humidity, 95 %", hi, 3, 0.01)
	lo, hi = prior.Temperature.Limits()
	checkNear(t, "temperature, 5 %", lo, -0.03, 0.0005)
	checkNear(t, "temperature, 95 %", hi, 0.03, 0.0005)
	// Twice the side: like on like 2^1.05 … 2^1.43, unlike 2^2.0 … 2^2.8.
	for _, c := range []struct {
		like                bool
		least, middle, most float64
	}{{true, 1.05, 1.24, 1.43}, {false, 2.0, 2.4, 2.8}} {
		lo, mid, hi, v := PieceCharge(1, 2*units.Millimetre, 4*units.Millimetre, c.like)
		checkNear(t, "least", math.Log2(float64(lo)), c.least, 0.006)
		checkNear(t, "middle", math.Log2(float64(mid)), c.middle, 1e-12)
		checkNear(t, "most", math.Log2(float64(hi)), c.most, 0.006)
		if v != known.Inside {
			t.Error(v)
		}
	}
	for side, want := range map[units.Length]known.Validity{1.84e-3: known.BelowRange, 1.86e-3: known.Inside,
		10.09e-3: known.Inside, 10.11e-3: known.AboveRange} {
		if _, _, _, v := PieceCharge(1, side, 5*units.Millimetre, true); v != want {
			t.Errorf("%v: %v", side, v)
		}
	}
	// Scatter alone: exp(∓1.645·0.4).
	a, mid, b := SlideContact.Elsewhere(-1, 3, 3, 0.5, 0.5, 0.4)
	checkNear(t, "scatter, most", float64(a), -math.Exp(0.4*known.Z95), 1e-12)
	checkNear(t, "scatter, middle", float64(mid), -1, 1e-12)
	checkNear(t, "scatter, least", float64(b), -math.Exp(-0.4*known.Z95), 1e-12)
	// A slide at twice the speed: 2^0.75, at 5 and 95 % 2^(0.75 ∓ 0.25·0.9).
	a, mid, b = SlideContact.Elsewhere(1, 1, 2, 0.5, 0.5, 0)
	checkNear(t, "speed, least", math.Log2(float64(a)), 0.525, 1e-9)
	checkNear(t, "speed, middle", math.Log2(float64(mid)), 0.75, 1e-12)
	checkNear(t, "speed, most", math.Log2(float64(b)), 0.975, 1e-9)
}

// TestFitHumidityRefuses: two saturations of one sign, 2 %RH apart or more.
func TestFitHumidityRefuses(t *testing.T) {
	of := func(v float64) known.Band { return known.Band{Value: v, Spread: 1e-7, Kind: known.Normal} }
	for _, c := range []struct {
		a, b   float64
		ha, hb units.RelativeHumidity
		field  string
	}{{1e-5, 2e-5, 0.3, 0.325, ""}, {1e-5, 2e-5, 0.325, 0.3, ""}, {1e-5, 2e-5, 0.3, 0.315, "b.humidity"},
		{1e-5, 0, 0.3, 0.5, "b"}, {0, 1e-5, 0.3, 0.5, "b"}, {1e-5, -1e-5, 0.3, 0.5, "b"}, {-1e-5, -1e-5, 0.3, 0.5, ""},
		{1e-5, 2e-5, -0.01, 0.5, "a.humidity"}, {1e-5, 2e-5, 0, 1.01, "b.humidity"}, {1e-5, 2e-5, 0, 1, ""}} {
		_, err := FitHumidity(of(c.a), of(c.b), c.ha, c.hb)
		var f *known.FieldError
		if (err == nil) != (c.field == "") || err != nil && (!errors.As(err, &f) || f.Field != c.field) {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

// TestCoveredRollerByHand: a cover that keeps nothing is earthed metal: half of the way
// with n = ln 2. What comes in with w and does not change has S = w/2.
func TestCoveredRollerByHand(t *testing.T) {
	c := mustContact(t, ContactSpec{Saturation: 8 * uC, Exposure: math.Ln2})
	r := mustRoller(t, CoveredRollerSpec{Contact: c, Radius: 0.1})
	s := r.Steady(2*uC, 1, 1000)
	// d = 1 µC/m² moves to 8 − 7/2 = 4.5: 3.5 onto the web.
	checkNear(t, "web, µC/m²", 1e6*float64(s.Web), 5.5, 1e-9)
	checkNear(t, "cover", float64(s.Cover), 0, 0)
	still, err := r.SaturationFor(4*uC, 0, 1, 1000)
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "no change, µC/m²", 1e6*float64(still), 2, 1e-12)
	same, err := r.SaturationFor(2*uC, 3.5*uC, 1, 1000)
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "back, µC/m²", 1e6*float64(same), 8, 1e-9)
}

// TestImpactByHand: an impact adds σ_c·A as long as nothing saturates, and goes half of
// the way where that is half of the charge at which it moves nothing.
func TestImpactByHand(t *testing.T) {
	spec := ImpactSpec{Radius: units.Millimetre, Density: 1000, Modulus: 1e9, Hardness: 1e7, Transferred: 10 * uC}
	i, err := NewImpact(spec)
	if err != nil {
		t.Fatal(err)
	}
	// Plastic: m = 4.18879 mg, A = 10·√(2π·1e-3·4.18879e-6/1e7) = 5.1302e-7 m²; elastic:
	// π·1e-6·(1250·π·100/1e9)^0.4 = 9.96e-8 m², less.
	area := float64(i.Area(-10))
	checkNear(t, "area, mm²", 1e6*area, 0.51302, 1e-4)
	checkNear(t, "charge, pC", 1e12*float64(i.Charge(-2e-12, 10)), -2+1e12*10e-6*area, 1e-9)
	spec.Equilibrium = units.Charge(2 * 10e-6 * area)
	if i, err = NewImpact(spec); err != nil {
		t.Fatal(err)
	}
	checkNear(t, "half of the way", float64(i.Charge(0, 10)/spec.Equilibrium), 0.5, 1e-12)
	checkNear(t, "the other half", float64(i.Charge(spec.Equilibrium/2, 10)/spec.Equilibrium), 0.75, 1e-12)
	// Soft: without hardness the elastic area alone, as v^0.8.
	spec.Hardness = 0
	if i, err = NewImpact(spec); err != nil {
		t.Fatal(err)
	}
	checkNear(t, "elastic, mm²", 1e6*float64(i.Area(10)), 1e6*math.Pi*1e-6*math.Pow(1.25*math.Pi*1000*100/1e9, 0.4), 1e-9)
	checkNear(t, "v^0.8", float64(i.Area(20)/i.Area(10)), math.Pow(2, 0.8), 1e-12)
}

// TestNipByHand: two rollers of 100 mm, E 3.6 MPa, 10 mm of cover, a = 5 mm (q = 0.5).
// ν 0.5: E·π·20/(4·0.75) = 75.3982 MPa/m, F = 75.3982e6·25e-6·1.19 = 2243.10 N/m, peak
// 448619·(0.636620 + 0.049·ln 1.25) = 290.505 kPa, dlnF/dlna = 2 + 0.38/1.19 = 2.319.
// ν 0.4: β = 0.5/1.27, 67.3198 MPa/m, F = 67.3198e6·25e-6·(1 + 0.19/1.196850) = 1950.17
// N/m, peak 390034·(0.636620 + 0.049·ln 1.25/1.056572) = 252.340 kPa.
func TestNipByHand(t *testing.T) {
	for _, c := range []struct{ nu, load, peak float64 }{{0.5, 2243.097, 290505}, {0.4, 1950.172, 252340}} {
		n, err := NewNip(NipSpec{Load: units.ForcePerWidth(c.load), RadiusA: 0.1, RadiusB: 0.1, Modulus: 3.6e6,
			Poisson: c.nu, Thickness: 0.01})
		if err != nil {
			t.Fatal(err)
		}
		checkNear(t, "half-width, mm", 1e3*float64(n.HalfWidth), 5, 1e-5)
		checkNear(t, "peak, kPa", 1e-3*float64(n.Peak), 1e-3*c.peak, 1e-3)
		checkNear(t, "mean, kPa", 1e-3*float64(n.Mean), 1e-3*c.load/0.01, 1e-3)
		checkNear(t, "time, ms", 1e3*float64(n.Time(-2)), 5, 1e-5)
		if c.nu == 0.5 {
			checkNear(t, "width exponent", n.WidthExponent, 1/2.319328, 1e-5)
		}
		if n.Validity != known.Inside {
			t.Error(n.Validity)
		}
	}
}

// TestPowderAndLiquidByHand: classes at their ends, the cone's formula at 1 m and 1 mm,
// and limits of velocity.
func TestPowderAndLiquidByHand(t *testing.T) {
	for _, c := range []struct {
		rho  units.VolumeResistivity
		want PowderClass
	}{{0, LowResistivity}, {0.5, LowResistivity}, {0.99e6, LowResistivity}, {1e6, MediumResistivity},
		{0.99e10, MediumResistivity}, {1e10, HighResistivity}} {
		if got, err := ClassifyPowder(c.rho); err != nil || got != c.want {
			t.Errorf("%v: %v, %v", c.rho, got, err)
		}
	}
	for _, rho := range []units.VolumeResistivity{-0.5, units.VolumeResistivity(math.NaN())} {
		if _, err := ClassifyPowder(rho); err == nil {
			t.Errorf("%v is taken", rho)
		}
	}
	const memory, below, above = known.Unpublished, known.BelowRange, known.AboveRange
	for _, c := range []struct {
		silo, grain, mJ float64
		want            known.Validity
	}{{1, 1e-3, 5.22, memory}, {2, 1e-3, 5.22 * math.Pow(2, 3.36), memory}, {1, 2e-3, 5.22 * math.Pow(2, 1.46), memory},
		{0.49, 1e-3, 5.22 * math.Pow(0.49, 3.36), memory | below}, {0.51, 1e-3, 5.22 * math.Pow(0.51, 3.36), memory},
		{3.01, 1e-3, 5.22 * math.Pow(3.01, 3.36), memory | above}, {2.99, 1e-3, 5.22 * math.Pow(2.99, 3.36), memory},
		{1, 0.099e-3, 5.22 * math.Pow(0.099, 1.46), memory | below}, {1, 0.11e-3, 5.22 * math.Pow(0.11, 1.46), memory},
		{1, 3.1e-3, 5.22 * math.Pow(3.1, 1.46), memory | above}, {1, 2.9e-3, 5.22 * math.Pow(2.9, 1.46), memory}} {
		w, v := ConeEnergy(units.Length(c.silo), units.Length(c.grain))
		checkNear(t, "cone, mJ", 1e3*float64(w), c.mJ, 1e-9*c.mJ)
		if v != c.want {
			t.Errorf("%+v: %v", c, v)
		}
	}
	for _, c := range []struct {
		state LiquidFlow
		bore  units.Length
		want  units.Speed
	}{{TwoPhase, 0.05, 1}, {LowConductivity, 0.1, 5}, {LowConductivity, 0.05, 7}, {Conducting, 0.5, 7}} {
		if v, flag := VelocityLimit(c.state, c.bore); !(math.Abs(float64(v-c.want)) <= 1e-12) || flag != memory {
			t.Errorf("%+v: %v, %v", c, v, flag)
		}
	}
	// Schön: 3.75e-6·v²·d²·(1 − 1/e) with L = v·τ.
	i, v := StreamingCurrent(-2, 0.1, 1, 0.5)
	checkNear(t, "streaming, µA", 1e6*float64(i), 3.75*0.04*(1-math.Exp(-1)), 1e-9)
	if v != memory {
		t.Error(v)
	}
	i, _ = StreamingCurrent(2, 0.1, units.Length(math.Inf(1)), 0.5)
	checkNear(t, "long pipe, µA", 1e6*float64(i), 3.75*0.04, 1e-9)
	rho, _ := StreamingDensity(-2)
	checkNear(t, "streaming, µC/m³", 1e6*float64(rho), 2*4.775, 0.001)
}
