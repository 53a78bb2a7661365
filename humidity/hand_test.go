package humidity

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestMeasuresByHand: air of 20 °C and 101.325 kPa of which 1 % is vapour:
// W = 0.621945/99 = 6.28227 g/kg, q = 6.28227/1.00628227 = 6.24305 g/kg, vapour
// 1013.25/(461.523·293.15) = 7.48916 g/m³, dry air 0.99·101325/(287.042·293.15) =
// 1.192110 kg/m³, h = 1.006·20 + W(2501 + 1.86·20) = 36.06566 kJ/kg.
func TestMeasuresByHand(t *testing.T) {
	a := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(20)), VapourPressure(1013.25))
	near(t, "W", 1e3*float64(a.HumidityRatio()), 6.28227, 1e-5)
	near(t, "q", 1e3*float64(a.SpecificHumidity()), 6.24305, 1e-5)
	near(t, "vapour", 1e3*float64(a.VapourDensity()), 7.48916, 1e-5)
	near(t, "dry air", float64(a.DryAirDensity()), 1.192110, 1e-6)
	near(t, "density", float64(a.Density()), 1.192110+7.48916e-3, 1e-6)
	near(t, "h", 1e-3*float64(a.Enthalpy()), 36.06566, 1e-5)
}

// TestLawsByHand: values, spreads and bands of the stated laws.
func TestLawsByHand(t *testing.T) {
	type second = units.Time
	// Half a second at 40 %RH, 0.08 decades per %RH: 0.5·10^−1.6 at 60 %RH. Beyond 60 %RH
	// 30 % of what it changes: at 70 %RH 0.24 decades beside 0.3.
	line, err := NewLogLinear(Point[second]{rh(40), 0.5}, 0.08, 0.3, rh(20), rh(60))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "line at 60 %RH", float64(line.At(rh(60))), 0.5*math.Pow(10, -1.6), 1e-12)
	near(t, "line back", float64(line.RelativeHumidity(0.5*units.Second*units.Time(math.Pow(10, -1.6)))), 0.6, 1e-12)
	near(t, "spread inside", line.DecadesAt(rh(60)), 0.3, 1e-15)
	near(t, "spread at 70 %RH", line.DecadesAt(rh(70)), math.Hypot(0.3, 0.24), 1e-12)
	near(t, "spread at 10 %RH", line.DecadesAt(rh(10)), math.Hypot(0.3, 0.24), 1e-12)
	near(t, "slope", line.DecadesPerPercent(), 0.08, 1e-15)
	if lo, hi := line.Range(); lo != rh(20) || hi != rh(60) {
		t.Error("range", lo, hi)
	}
	if l, h := line.BandAt(rh(40)).Limits(); !(math.Abs(math.Log10(h/0.5)-0.3*known.Z95) < 1e-12) ||
		!(math.Abs(h*l-0.25) < 1e-12) {
		t.Error("band", l, h)
	}

	// exp[10·(1 − 0.5)²] = exp 2.5; between 0 and 50 %RH (1 − h)² changes by 0.75:
	// 0.3·0.75·10/ln 10 decades.
	film, err := NewAdsorbedFilm(units.SheetResistance(1e5), 10, 0.3, rh(50), rh(80))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "film at 50 %RH", float64(film.At(rh(50)))/1e5, math.Exp(2.5), 1e-9)
	near(t, "film above saturation", float64(film.At(rh(120)))/1e5, 1, 1e-9)
	near(t, "k", film.K(), 10, 1e-12)
	near(t, "film, spread when dry", film.Decades(inRoom(t, 20, 0)), math.Hypot(0.3, 0.3*0.75*10/math.Ln10), 1e-9)

	// Twice the moisture, exponent 10: ÷1024. Beyond 10 % of moisture 0.3·10·log10 2.
	wet, err := NewMoisturePower(WetPoint[second, Regain]{0.08, 512}, 10, 0.2, 0.05, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "wet at 16 %", float64(wet.At(0.16)), 0.5, 1e-12)
	near(t, "wet, spread at 20 %", wet.DecadesAt(0.2), math.Hypot(0.2, 3*math.Log10(2)), 1e-12)
	near(t, "wet, spread at 2.5 %", wet.DecadesAt(0.025), math.Hypot(0.2, 3*math.Log10(2)), 1e-12)

	// 41.2 kJ/mol: ×1.746 from 30 to 20 °C; ±10 kJ/mol are log10(1.746)·10/41.2 decades.
	hot, err := NewArrhenius(ArrheniusSpec[second]{At: HotPoint[second]{units.Celsius(30), 0.5}, Activation: 41.2e3,
		Error: 10e3, Decades: 0.1, Low: units.Celsius(10), High: units.Celsius(60)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "hot at 20 °C", float64(hot.At(units.Celsius(20)))/0.5, 1.746, 0.001)
	near(t, "hot, spread at 20 °C", hot.Decades(inRoom(t, 20, 50)), math.Hypot(0.1, math.Log10(1.746)*10/41.2), 1e-4)

	// An unknown activation energy, 95 % below 100 kJ/mol: 100e3/1.644854/(8.314463·ln 10)
	// = 3175.6 decades·K.
	c, err := NewConstant[second](0.5, 0.2)
	if err != nil {
		t.Fatal(err)
	}
	sourced, err := NewSourced[second](c, guessed(), units.Celsius(15), units.Celsius(30))
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct{ at, end float64 }{{60, 303.15}, {0, 288.15}, {20, 293.15}, {15, 288.15}} {
		near(t, "sourced", sourced.Decades(inRoom(t, x.at, 10)),
			math.Hypot(0.2, 3175.6*math.Abs(1/(273.15+x.at)-1/x.end)), 1e-5)
	}
	// 5 to 95 % of the samples within ×/÷ 1.25.
	s, err := NewSourcedIsotherm(Wood{}, guessed(), units.Celsius(15), units.Celsius(30), 1.25)
	if err != nil {
		t.Fatal(err)
	}
	b := s.Band(rh(50), units.Celsius(20))
	lo, hi := b.Limits()
	near(t, "low end", b.Value/lo, 1.25, 1e-12)
	near(t, "high end", hi/b.Value, 1.25, 1e-12)
}

// TestIsothermsByHand: the formulas of the comments at round numbers.
func TestIsothermsByHand(t *testing.T) {
	gab, err := NewGAB(0.05, 10, 0.7, 0, rh(100))
	if err != nil {
		t.Fatal(err)
	}
	up, err := NewHysteresis(gab, rh(10), FromDry)
	if err != nil {
		t.Fatal(err)
	}
	down, err := NewHysteresis(gab, rh(10), FromWet)
	if err != nil {
		t.Fatal(err)
	}
	straight, err := NewProportional(0.003)
	if err != nil {
		t.Fatal(err)
	}
	cold := units.Celsius(0)
	for _, c := range []struct {
		what string
		got  Regain
		want float64
	}{
		// K a = 0.35: 0.05·10·0.35/(0.65·(0.65 + 3.5)).
		{"GAB", gab.Regain(rh(50), cold), 0.175 / (0.65 * 4.15)},
		{"GAB above saturation", gab.Regain(rh(120), cold), 0.35 / (0.3 * 7.3)},
		// 50 %RH from the wet side is 60 % from the dry one, 20 % is 20 + 10·4·0.2·0.8.
		{"from dry", up.Regain(rh(50), cold), 0.175 / (0.65 * 4.15)},
		{"from wet", down.Regain(rh(50), cold), 0.21 / (0.58 * 4.78)},
		{"from wet at 20 %RH", down.Regain(rh(20), cold), 0.5 * 0.1848 / (0.8152 * 2.6632)},
		{"straight", straight.Regain(rh(50), cold), 0.0015},
		// 0 °C: W 349, K 0.805, K₁ 6.27, K₂ 1.91; with x = 0.4025: 18/349·[x/(1 − x) +
		// (6.27x + 2·11.9757x²)/(1 + 6.27x + 11.9757x²)].
		{"wood", Wood{}.Regain(rh(50), cold), 0.095194},
		// 100 °C: W 613, K 0.8513, K₁ 2.302, K₂ 3.05.
		{"hot wood", Wood{}.Regain(rh(20), units.Celsius(100)), 0.0207305},
	} {
		near(t, c.what, float64(c.got), c.want, 1e-6)
	}
	if !math.IsNaN(float64(gab.Regain(rh(-1), cold))) {
		t.Error("a regain at −1 %RH")
	}
	near(t, "back", float64(HumidityFor(gab, Regain(0.175/(0.65*4.15)), cold)), 0.5, 1e-11)
}

// TestRangesAreFlagged: the published ranges of the laws, just inside and just outside.
func TestRangesAreFlagged(t *testing.T) {
	const in, below, above = known.Inside, known.BelowRange, known.AboveRange
	type ohm = units.SheetResistance
	line, err := NewLogLinear(Point[ohm]{rh(40), 1}, 0.08, 0.3, rh(20), rh(60))
	if err != nil {
		t.Fatal(err)
	}
	film, err := NewAdsorbedFilm[ohm](1, 10, 0.3, rh(20), rh(60))
	if err != nil {
		t.Fatal(err)
	}
	hot, err := NewArrhenius(ArrheniusSpec[ohm]{At: HotPoint[ohm]{293, 0.5}, Low: units.Celsius(10),
		High: units.Celsius(30)})
	if err != nil {
		t.Fatal(err)
	}
	gab, err := NewGAB(0.05, 10, 0.7, rh(20), rh(60))
	if err != nil {
		t.Fatal(err)
	}
	gab, err = gab.WithHeats(GABHeats{At: units.Celsius(20), Low: units.Celsius(10), High: units.Celsius(30)})
	if err != nil {
		t.Fatal(err)
	}
	small, err1 := NewConstant[ohm](0.5, 0)
	limit, err2 := NewAtLeast[ohm](0.5)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	humid := func(l Law[ohm]) func(v float64) known.Validity {
		return func(v float64) known.Validity { return l.Validity(inRoom(t, 20, v)) }
	}
	warm := func(l Law[ohm]) func(v float64) known.Validity {
		return func(v float64) known.Validity { return l.Validity(inRoom(t, v, 10)) }
	}
	for _, c := range []struct {
		what string
		of   func(v float64) known.Validity
		v    float64
		want known.Validity
	}{
		{"line, %RH", humid(line), 20.1, in}, {"line, %RH", humid(line), 59.9, in}, {"line, %RH", humid(line), 19.9, below},
		{"line, %RH", humid(line), 60.1, above},
		{"film, %RH", humid(film), 20.1, in}, {"film, %RH", humid(film), 59.9, in}, {"film, %RH", humid(film), 19.9, below},
		{"film, %RH", humid(film), 60.1, above},
		{"Arrhenius, °C", warm(hot), 10.1, in}, {"Arrhenius, °C", warm(hot), 29.9, in},
		{"Arrhenius, °C", warm(hot), 9.9, below}, {"Arrhenius, °C", warm(hot), 30.1, above},
		{"below 1", humid(small), 50, in}, {"limit below 1", humid(limit), 50, known.LowerLimit},
		{"GAB, %RH", func(v float64) known.Validity { return gab.Validity(rh(v), 293) }, 19.9, below},
		{"GAB, %RH", func(v float64) known.Validity { return gab.Validity(rh(v), 293) }, 60.1, above},
		{"GAB, °C", func(v float64) known.Validity { return gab.Validity(rh(50), units.Celsius(v)) }, 9.9, below},
		{"GAB, °C", func(v float64) known.Validity { return gab.Validity(rh(50), units.Celsius(v)) }, 29.9, in},
		{"GAB, °C", func(v float64) known.Validity { return gab.Validity(rh(50), units.Celsius(v)) }, 30.1, above},
		{"wood, °C", woodAt, -0.9, known.Unpublished}, {"wood, °C", woodAt, 129.9, known.Unpublished},
		{"wood, °C", woodAt, -1.1, known.Unpublished | below}, {"wood, °C", woodAt, 130.1, known.Unpublished | above},
		{"wood, %RH", woodIn, 99, known.Unpublished}, {"wood, %RH", woodIn, 101, known.Unpublished | above},
		{"straight, %RH", straightIn, 99, in}, {"straight, %RH", straightIn, 101, above},
		// Greenspan: 0 … 100 °C over water, −100 … 0 °C over ice, up to 2 MPa.
		{"f over water, °C", enhancedWater, 0.1, in}, {"f over water, °C", enhancedWater, 99.9, in},
		{"f over water, °C", enhancedWater, -0.1, below}, {"f over water, °C", enhancedWater, 100.1, above},
		{"f over ice, °C", enhancedIce, -99.9, in}, {"f over ice, °C", enhancedIce, 0, in},
		{"f over ice, °C", enhancedIce, -100.1, below}, {"f over ice, °C", enhancedIce, 0.1, above},
		{"f, MPa", enhancedAt, 1.99, in}, {"f, MPa", enhancedAt, 2.01, above},
		// CIPM-2007: 15 … 27 °C, 600 … 1100 hPa.
		{"CIPM, °C", cipmAt, 14.9, below}, {"CIPM, °C", cipmAt, 15.1, in}, {"CIPM, °C", cipmAt, 26.9, in},
		{"CIPM, °C", cipmAt, 27.1, above},
		{"CIPM, hPa", cipmUnder, 599, below}, {"CIPM, hPa", cipmUnder, 601, in}, {"CIPM, hPa", cipmUnder, 1099, in},
		{"CIPM, hPa", cipmUnder, 1101, above},
		// Standard atmosphere: −5 … 11 km.
		{"altitude, km", altitude, -5.01, below}, {"altitude, km", altitude, -4.99, in},
		{"altitude, km", altitude, 10.99, in},
		{"altitude, km", altitude, 11.01, above},
		// Rod gaps: δ of 0.8 … 1.05, p/101.3 kPa at 20 °C.
		{"δ", correctedAt, 0.799, known.Unpublished | below}, {"δ", correctedAt, 0.801, known.Unpublished},
		{"δ", correctedAt, 1.049, known.Unpublished}, {"δ", correctedAt, 1.051, known.Unpublished | above},
	} {
		if got := c.of(c.v); got != c.want {
			t.Errorf("%s %g: %v, want %v", c.what, c.v, got, c.want)
		}
	}
}

func woodAt(celsius float64) known.Validity { return Wood{}.Validity(rh(50), units.Celsius(celsius)) }

func woodIn(percent float64) known.Validity { return Wood{}.Validity(rh(percent), 293) }

func straightIn(percent float64) known.Validity {
	return Proportional{0.003}.Validity(rh(percent), 293)
}

func enhancedWater(celsius float64) known.Validity {
	_, v := IAPWS.EnhancementWater(units.Celsius(celsius), 1e5)
	return v
}

func enhancedIce(celsius float64) known.Validity {
	_, v := IAPWS.EnhancementIce(units.Celsius(celsius), 1e5)
	return v
}

func enhancedAt(mpa float64) known.Validity {
	_, v := IAPWS.EnhancementWater(293, units.Pressure(mpa*1e6))
	return v
}

// cipmAt joins the flags of density and enhancement, which have the same ranges.
func cipmAt(celsius float64) known.Validity { return cipmFlags(celsius, 1000) }

func cipmUnder(hpa float64) known.Validity { return cipmFlags(20, hpa) }

func cipmFlags(celsius, hpa float64) known.Validity {
	a, _ := NewAir(units.Celsius(celsius), rh(50), units.Pressure(100*hpa))
	_, density := DensityCIPM(a, 4e-4)
	_, f := EnhancementCIPM(a.Temperature(), a.Pressure())
	if density != f {
		return known.WrongShape
	}
	return f
}

func altitude(km float64) known.Validity {
	_, v := StandardPressure(units.Length(1e3 * km))
	return v
}

func correctedAt(delta float64) known.Validity {
	a, _ := NewAir(units.Celsius(20), rh(50), units.Pressure(101.3e3*delta))
	c, _ := BreakdownCorrection(a, AC, 1)
	return c.Validity
}

// TestSpellFromTheFirstRow: a spell that is on when the series begins.
func TestSpellFromTheFirstRow(t *testing.T) {
	dry, damp := inRoom(t, 22, 30), inRoom(t, 22, 50)
	s, err := SpellsBelow([]Air{dry, dry, damp, dry, {}, dry, damp}, 0.5*units.Hour, units.Celsius(22), rh(40))
	if want := (Spells{Total: 2 * units.Hour, Longest: units.Hour, Count: 3, First: 0, Last: 5}); err != nil || s != want {
		t.Errorf("%+v, want %+v, %v", s, want, err)
	}
}

// TestWetByHand: a body that hardly cools the air beside it warms up as
// T = T_a − (T_a − T_0)·exp(−h t/C), and passes the condensation point T_c at
// C/h·ln[(T_a − T_0)/(T_a − T_c)]; the heat of condensation makes it earlier. With
// convection h_c of 0.5 and radiation of 10 W/(m²·K) that is at most
// L·h_c·(ρ_v − ρ_v,sat)/(ρ c_p Le^⅔)/(h·(T_a − T)): by hand, from 23 °C, 50 %RH
// (10.3 g/m³) to 5 °C (6.8 g/m³), 2.5e6·0.5·3.5e-3/(1200·0.908)/(10.5·11) = 3.5 %, half
// of it on the way. A light body in a gale takes seconds where that one takes hours.
func TestWetByHand(t *testing.T) {
	hall := inRoom(t, 23, 50)
	tc := hall.CondensationPoint().Celsius()
	for _, c := range []struct {
		s           ColdBodySpec
		least, most float64 // of the share by which it is earlier
	}{
		{ColdBodySpec{HeatPerArea: 1e5, Convection: 0.5, Radiation: 10}, 0.005, 0.035},
		// Without radiation all of it counts: 2.5e6·3.5e-3/(1200·0.908)/18 = 45 % at first.
		{ColdBodySpec{HeatPerArea: 100, Convection: 500}, 0.1, 0.45},
	} {
		body, err := NewColdBody(c.s)
		if err != nil {
			t.Fatal(err)
		}
		w, err := body.Wet(hall, units.Celsius(5))
		if err != nil || !w.Condenses {
			t.Fatal(w, err)
		}
		bare := c.s.HeatPerArea / (c.s.Convection + c.s.Radiation) * math.Log((23-5)/(23-tc))
		early := 1 - float64(w.WetUntil)/bare
		if !(early >= c.least && early <= c.most) || !(w.DryAt > w.WetUntil) {
			t.Errorf("%+v: wet until %v, %.4g s without the heat of condensation (%.3f earlier), dry at %v", c.s, w.WetUntil,
				bare, early, w.DryAt)
		}
	}
}

// TestSharesOfAChange: what is asked for outside 0.001 … 0.999 has no time, nor has a
// body that was not made.
func TestSharesOfAChange(t *testing.T) {
	b, err := NewSheet(2*units.Millimetre, 1e-9, true)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		of     Body
		share  units.Ratio
		number bool
	}{{b, 0.001, true}, {b, 0.999, true}, {b, 0.0009, false}, {b, 0.9991, false}, {Body{}, 0.5, false}} {
		for i, v := range []units.Time{c.of.TimeTo(c.share), c.of.CentreTimeTo(c.share),
			c.of.DepthTimeTo(c.share, 0.5*units.Millimetre)} {
			if math.IsNaN(float64(v)) == c.number {
				t.Errorf("%d: share %v: %v", i, c.share, v)
			}
		}
	}
	// Half of the change: 0.0492 L²/D (Crank, 1975, 4.3.3); the middle of a slab has made
	// half of its way at D t/l² = ln(8/π)·4/π² = 0.3788 (first term of the series, the
	// second is below 0.1 %).
	near(t, "half, s", float64(b.TimeTo(0.5)), 0.0492*4e-6/1e-9, 0.1)
	near(t, "middle, s", float64(b.CentreTimeTo(0.5)), 4/(math.Pi*math.Pi)*math.Log(8/math.Pi)*1e-6/1e-9, 1)
}

// TestEnhancementSlopeOfTheColumns: the slope that the column kernels use is the
// difference quotient of the factor beside it.
func TestEnhancementSlopeOfTheColumns(t *testing.T) {
	f := fastModel[IAPWS].Get()
	const v, step = 1 / 101325.0, 1e-4
	for _, k := range []int{0, 1} {
		for i := 110; i < 200; i += 9 { // −45 … 0 °C, where the factors over water and ice both stand
			for _, d := range []float64{-0.2, 0, 0.2} {
				up, _ := f.enhancement(i, k, d+step, v)
				down, _ := f.enhancement(i, k, d-step, v)
				_, slope := f.enhancement(i, k, d, v)
				near(t, "slope over its quotient", slope/((up-down)/(2*step)), 1, 1e-6)
			}
		}
	}
}

// TestShortTimesByHand: near a face a body is without end on the other side, and the
// share at √(D t) below it is erfc(1/2) = 0.479500 (tables of the error function); in a
// roll of radius a that is more by √(a/r).
func TestShortTimesByHand(t *testing.T) {
	sheet, err := NewSheet(2, 1e-9, true)
	if err != nil {
		t.Fatal(err)
	}
	roll, err := NewRoll(2, 1, 0, 1e-9)
	if err != nil {
		t.Fatal(err)
	}
	depth := units.Length(math.Sqrt(1e-9 * 1e4)) // 3.16 mm of 1 m
	near(t, "sheet", float64(sheet.AtDepth(1e4, depth)), 0.479500, 1e-6)
	near(t, "roll", float64(roll.AtDepth(1e4, depth)), 0.479500/math.Sqrt(1-float64(depth)), 1e-6)
	// 2√(Fo/π) of the slab, 4√(Fo/π) − Fo of the cylinder, Fo = 1e-5.
	near(t, "sheet, mean", float64(sheet.Uptake(1e4)), 2*math.Sqrt(1e-5/math.Pi), 1e-9)
	near(t, "roll, mean", float64(roll.Uptake(1e4)), 4*math.Sqrt(1e-5/math.Pi)-1e-5, 1e-7)
}

// TestSmallArguments: what is asked to be above 0 may lie below 1.
func TestSmallArguments(t *testing.T) {
	if p, _ := IAPWSIce.Pressure(0.5); !(p >= 0) {
		t.Error("ice at 0.5 K:", p)
	}
	if s := IAPWSIce.SaturationSlope(0.5); !(s > 0) {
		t.Error("its slope:", s)
	}
	l, err := NewAtLeast(0.5 * units.Second)
	if err != nil {
		t.Fatal(err)
	}
	if a := inRoom(t, 20, 50); l.Value(a) != 0.5*units.Second || l.Decades(a) != 0 {
		t.Error(l.Value(a), l.Decades(a))
	}
}

// TestGainThatAirCarries: 0.1 m³/s of dry outdoor air of 1.2 kg/m³ carry 7 kg/s of
// vapour at a humidity ratio just below 60, and give off none that they do not hold.
func TestGainThatAirCarries(t *testing.T) {
	out := inRoom(t, 20, 0)
	for _, c := range []struct {
		ratio float64
		taken bool
	}{{59.9, true}, {0, true}, {60.1, false}, {-0.001, false}} {
		r, err := NewRoom(RoomSpec{Volume: 3000, Ventilation: 0.1, CountedAt: AtOutdoor,
			Gain: units.MassFlow(c.ratio * 0.1 * float64(out.DryAirDensity()))})
		if err != nil {
			t.Fatal(err)
		}
		a, err := r.Steady(out, units.Celsius(200))
		var f *known.FieldError
		if c.taken && (err != nil || !(math.Abs(float64(a.HumidityRatio())-c.ratio) <= 1e-9)) ||
			!c.taken && (!errors.As(err, &f) || f.Field != "gain") {
			t.Errorf("%g kg/kg: %v, %v", c.ratio, a, err)
		}
	}
}

// TestHeldEnhancement: below −50 °C over water and −100 °C over ice the factor is that at
// the end; Greenspan's polynomials would grow without bound.
func TestHeldEnhancement(t *testing.T) {
	for _, p := range []units.Pressure{1e4, 1e5} {
		at, _ := IAPWS.EnhancementWater(units.Celsius(-50), p)
		far, _ := IAPWS.EnhancementWater(units.Celsius(-80), p)
		near(t, "over water", float64(far), float64(at), 1e-8)
		at, _ = IAPWS.EnhancementIce(units.Celsius(-100), p)
		far, _ = IAPWS.EnhancementIce(units.Celsius(-120), p)
		near(t, "over ice", float64(far), float64(at), 1e-8)
	}
}

// TestSurfaceTemperatures: one air at many temperatures, 29.5 %RH at 27 °C and 45 % at 20
// (Magnus, whole tenths); what is no temperature is named.
func TestSurfaceTemperatures(t *testing.T) {
	a := inRoom(t, 20, 45)
	got := make([]units.RelativeHumidity, 2)
	if err := a.RelativeHumidityAtTo(got, []units.Temperature{units.Celsius(20), units.Celsius(27)}); err != nil {
		t.Error(err)
	}
	near(t, "at 20 °C", 100*float64(got[0]), 45, 1e-9)
	near(t, "at 27 °C", 100*float64(got[1]), 29.5, 0.06)
	var f *known.FieldError
	err := a.RelativeHumidityAtTo(got, []units.Temperature{units.Celsius(20), units.Temperature(math.NaN())})
	if !errors.As(err, &f) || f.Field != "rows" || f.Value != "1" || !math.IsNaN(float64(got[1])) {
		t.Error(err, got)
	}
	if err := a.RelativeHumidityAtTo(got, nil); !errors.As(err, &f) || f.Field != "dst" {
		t.Error(err)
	}
}

// TestColumnKernels: ordinary air never leaves the fast path, and the factors where
// the phase changes are those of the model.
func TestColumnKernels(t *testing.T) {
	ts, rh, p := ruleStates(4096)
	for _, m := range Models() {
		f := fastModel[m].Get()
		slow := 0
		for lo := 0; lo < len(ts); lo += fastRows {
			var z fastBlock
			f.rows(&z, ts[lo:lo+fastRows], rh[lo:lo+fastRows], p[lo:lo+fastRows], OverWater)
			for r, ok := range z.ok {
				// Above saturation over ice, near the triple point or drier than the fast path
				// takes it, the slow one may answer.
				if !ok && ts[lo+r] > units.Celsius(1) {
					slow++
				}
			}
		}
		if slow > 0 {
			t.Errorf("%v: %d of %d states above 1 °C on the slow path", m, slow, len(ts))
		}
	}
	f := fastModel[IAPWS].Get()
	for _, p := range []float64{7e4, 101325, 3e5} {
		ice, water := f.atTriple(p)
		wantIce, _ := IAPWS.EnhancementIce(TriplePoint, units.Pressure(p))
		wantWater, _ := IAPWS.EnhancementWater(273.15, units.Pressure(p))
		near(t, "over ice", ice, float64(wantIce), 1e-9)
		near(t, "over water", water, float64(wantWater), 1e-9)
	}
}
