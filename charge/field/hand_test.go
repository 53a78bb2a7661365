package field

import (
	"math"
	"slices"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestMeterByHand: a guarded meter for 25 mm with a gain of 0.8 and an offset of 50 V
// before 1 µC/m² (112.941 kV/m) at 25 mm and 75 mm of gap: three quarters of 2823.5 V,
// times 0.8, and 50 V.
func TestMeterByHand(t *testing.T) {
	meter := func(gain, offset known.Band) FieldMeter {
		m, err := NewFieldMeter(FieldMeterSpec{Nominal: 0.025, Guarded: true, FullScale: 2000, Gain: gain, Offset: offset})
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	m := meter(known.Band{Value: 0.8}, known.Band{Value: 50})
	shown := m.Display(1e-6, 0.025, 0.075)
	const field = 112941.0
	check := func(what string, got, want float64) {
		t.Helper()
		if !near(got, want, 1e-5) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	check("display", float64(shown), 0.8*0.75*0.025*field+50)
	check("field", float64(m.FieldShown(shown)), 0.75*field)
	check("display of a field", float64(m.DisplayOf(1000)), 0.8*25+50)
	check("net", float64(m.Net(shown, 0.025, 0.075)), 1e-6)
	check("cut above", float64(m.Display(1e-4, 0.025, 0.075)), 2000)
	check("cut below", float64(m.Display(-1e-4, 0.025, 0.075)), -2000)
	if !m.Saturated(-2000) || !m.Saturated(2000) || m.Saturated(1999) {
		t.Error("the end of the scale")
	}
	// From 15 mm, 5/6, to 25 mm, 3/4; an error of 1 mm there is 15/90·1/15 of it.
	at, spread := m.Corrected(m.Display(1e-6, 0.015, 0.075), 0.015, 0.001, 0.075)
	check("at the nominal distance", float64(at), float64(shown))
	check("its spread", spread, 1.0/90)
	// Standard deviations by hand, each alone: gain, offset of 8 V over 0.8·0.75·0.025/ε0,
	// 1 mm of distance (−1/4·1/25) and 3 mm of gap (1/4·3/75).
	perVolt := units.Epsilon0 / (0.8 * 0.75 * 0.025)
	for _, c := range []struct {
		what         string
		gain, offset known.Band
		d, h         units.Length
		want         float64
	}{
		{"gain", known.Band{Value: 0.8, Spread: 0.08, Kind: known.Normal}, known.Band{}, 0, 0, 0.1e-6},
		{"gain, lognormal", known.Band{Value: 0.8, Spread: 0.1, Kind: known.LogNormal}, known.Band{}, 0, 0, 0.1e-6},
		{"gain, uniform", known.Band{Value: 0.8, Spread: 0.08 * math.Sqrt(3), Kind: known.Uniform}, known.Band{}, 0, 0,
			0.1e-6},
		{"offset", known.Band{Value: 0.8}, known.Band{Value: -50, Spread: 8, Kind: known.Normal}, 0, 0, 8 * perVolt},
		{"offset, lognormal", known.Band{Value: 0.8}, known.Band{Value: -50, Spread: 0.16, Kind: known.LogNormal}, 0, 0,
			8 * perVolt},
		{"offset, uniform", known.Band{Value: 0.8}, known.Band{Value: -50, Spread: 8 * math.Sqrt(3), Kind: known.Uniform},
			0, 0, 8 * perVolt},
		{"distance", known.Band{Value: 0.8}, known.Band{}, 0.001, 0, 0.01e-6},
		{"gap", known.Band{Value: 0.8}, known.Band{}, 0, 0.003, 0.01e-6},
		{"two", known.Band{Value: 0.8}, known.Band{}, 0.003, 0.012, 0.05e-6},
	} {
		m := meter(c.gain, c.offset)
		_, sd := m.NetWithSD(m.Display(1e-6, 0.025, 0.075), 0.025, c.d, 0.075, c.h)
		if !near(float64(sd), c.want, 1e-5) {
			t.Errorf("%s: %v, want %g", c.what, sd, c.want)
		}
	}
}

// TestVoltmeterOverFilm: a film of 32 µm, εr 3.2, is 10 µm of air: 1 µC/m² is 1.12941 V.
func TestVoltmeterOverFilm(t *testing.T) {
	film := Film{Thickness: 32e-6, RelativePermittivity: 3.2}
	m, err := NewVoltmeter(VoltmeterSpec{FullScale: 100, Floor: 0.3, Gain: known.Band{Value: 0.5, Spread: 0.05,
		Kind: known.Normal}, Offset: known.Band{Value: 2, Spread: 0.4, Kind: known.Normal}})
	if err != nil {
		t.Fatal(err)
	}
	const perMicro = 1.12941
	check := func(what string, got, want float64) {
		t.Helper()
		if !near(got, want, 1e-5) {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	check("on metal", float64(m.Shows(10e-6, -4e-6, film, 0)), 0.5*10*perMicro+2)
	check("20 µm over it", float64(m.Shows(10e-6, -4e-6, film, 20e-6)), 0.5*(10*3-4*2)*perMicro+2)
	check("cut", float64(m.Shows(-1e-3, 0, film, 0)), -100)
	check("cut", float64(m.Shows(1e-3, 0, film, 0)), 100)
	outer, sd := m.OuterFace(0.5*10*perMicro+2, film, 0.2, 0.2)
	check("outer", float64(outer), 10e-6)
	// 10 % of gain, 20 and 20 % of the film: 30 % of 11.2941 V; floor and offset 0.5/0.5 V.
	check("its deviation", float64(sd), 1e-6*math.Hypot(3, 1/perMicro))
	check("detectable", float64(m.Detectable(film)), 0.9e-6/perMicro)
	if !math.IsNaN(float64(m.Shows(1, 1, film, -1))) || !m.Saturated(-100) || m.Saturated(99) {
		t.Error("ends of a voltmeter")
	}
	check("surface", float64(film.SurfaceVoltage(1e-6)), perMicro)
	check("back", float64(film.OuterCharge(perMicro)), 1e-6)
	check("over a roller", film.OverRollerFactor(90e-6), 0.1)
	check("capacitance", film.CapacitancePerArea(), 1e-6/perMicro)
	// Between two earths, 20 and 30 µm off: [3·(10 + 30) + 1·30]/60 of 112.941 kV/m.
	b := film.Between(3e-6, 1e-6, 20e-6, 30e-6)
	const field = 112941.0
	check("at the meter", float64(b.AtMeter), 2.5*field)
	check("behind", float64(b.Behind), 1.5*field)
	check("near face", float64(b.NearFace), 2.5*field*20e-6)
	check("far face", float64(b.FarFace), 1.5*field*30e-6)
}

// TestColumnsMatch: every column of another length is told.
func TestColumnsMatch(t *testing.T) {
	m := testMeter(t, true)
	lengths := func(n int) []units.Length { return slices.Repeat([]units.Length{0.025}, n) }
	for i := range 3 {
		n := []int{2, 2, 2}
		n[i] = 3
		if m.DisplayTo(make([]units.DisplayVoltage, 2), make([]units.SurfaceChargeDensity, n[0]), lengths(n[1]),
			lengths(n[2])) == nil {
			t.Errorf("DisplayTo takes columns of %v beside 2", n)
		}
		if m.NetTo(make([]units.SurfaceChargeDensity, 2), make([]units.DisplayVoltage, n[0]), lengths(n[1]),
			lengths(n[2])) == nil {
			t.Errorf("NetTo takes columns of %v beside 2", n)
		}
	}
}

// TestRollByHand: wraps of 10 mm on a core of 100 mm, 1 µC/m² outside: after three the
// flux is 0.11 + 0.12 + 0.13 = 0.36 at 130 mm; inside the third wrap 0.23 at 120 mm,
// inside the first none. With the charge inside: 0.10 at 100 mm in the first and 0.33 at
// 120 mm in the third.
func TestRollByHand(t *testing.T) {
	spec := RollSpec{CoreRadius: 0.1, Thickness: 0.01, RelativePermittivity: 2, Outer: 1e-6, Surroundings: 1.3}
	const field = 112941.0
	for _, c := range []struct {
		outer, inner  units.SurfaceChargeDensity
		n             int
		out, inside   float64 // in field
		free, freeAlt float64
	}{
		{1e-6, 0, 0, 0, 0, 0, 0}, {1e-6, 0, 1, 1, 0, 0, 0}, {1e-6, 0, 3, 0.36 / 0.13, 0.23 / 0.12, 0, 0},
		{0, 1e-6, 1, 0.10 / 0.11, 1, 0, 0}, {0, 1e-6, 3, 0.33 / 0.13, 0.33 / 0.12, 0, 0},
		{1e-6, -1e-6, 3, 0.03 / 0.13, 1, 0, 0}, // −0.10 at 0.10 m
	} {
		spec.Outer, spec.Inner = c.outer, c.inner
		r, err := NewRoll(spec)
		if err != nil {
			t.Fatal(err)
		}
		x := r.At(c.n)
		radius := 0.1 + 0.01*float64(c.n)
		for _, y := range []struct {
			what      string
			got, want float64
		}{{"radius", float64(x.Radius), radius}, {"field", float64(x.Field), c.out * field},
			{"inside", float64(x.Inside), c.inside * field / 2},
			{"voltage", float64(x.Voltage), c.out * field * radius * math.Log(1.3/radius)}} {
			if !near(y.got, y.want, 1e-5) && !(math.Abs(y.got-y.want) <= 1e-6) {
				t.Errorf("%+v: %s %g, want %g", c, y.what, y.got, y.want)
			}
		}
	}
	// A hundredth of the radius of the surroundings is left free: 0.5 mm wraps on 100 mm in
	// 200 mm end at 196.
	spec.Outer, spec.Inner, spec.Thickness, spec.Surroundings = 1e-6, 0, 0.0005, 0.2
	r, err := NewRoll(spec)
	if err != nil {
		t.Fatal(err)
	}
	at := func(n float64) units.ElectricField {
		return units.ElectricField(field * (n*0.1 + 0.0005*n*(n+1)/2) / (0.1 + 0.0005*n))
	}
	if n, ok := r.WrapsTo(at(195.5)); n != 196 || !ok {
		t.Errorf("%d wraps, %v", n, ok)
	}
	if n, ok := r.WrapsTo(at(197.5)); ok {
		t.Errorf("%d wraps, where 196 are the most", n)
	}
}

// TestPileSheetsByHand: the least number of sheets to a voltage, in units s of one sheet's
// 1 µC/m²: with 10 above and −9 below n·(9.5 + 0.5·n), which is 21 at two; with −10 above
// and 9 below of the other sign; with −5 and 6 n·(−5.5 + 0.5·n): a hump of 15 at five and
// six, 0 at eleven and 6.5 at twelve.
func TestPileSheetsByHand(t *testing.T) {
	const s = 1e-6 * 1e-4 / (2 * units.Epsilon0)
	for _, c := range []struct {
		upper, lower units.SurfaceChargeDensity
		v            float64
		n            int
		ok           bool
	}{
		{10e-6, -9e-6, 20, 2, true}, {10e-6, -9e-6, 10.1, 2, true}, {10e-6, -9e-6, 9.9, 1, true}, {-10e-6, 9e-6, 20, 2, true},
		{-5e-6, 6e-6, 4.9, 1, true}, {-5e-6, 6e-6, 14.9, 5, true}, {-5e-6, 6e-6, 15.1, 14, true}, {1e-6, -1e-6, 7.5, 8, true},
		{0, 0, 1, 0, false}, {1e-6, 0, 0, 0, false}, {1e-6, 0, -1, 0, false},
	} {
		k, err := NewChargedPile(ChargedPileSpec{Thickness: 1e-4, RelativePermittivity: 2, Upper: c.upper, Lower: c.lower,
			Width: 1, AirStrength: 1e12, SheetStrength: 1e12})
		if err != nil {
			t.Fatal(err)
		}
		if n, ok := k.SheetsTo(units.Voltage(c.v * s)); n != c.n || ok != c.ok {
			t.Errorf("%+v: %d, %v", c, n, ok)
		}
	}
}

// TestPileSparksUpTo: the edge of n sheets stands at n·σ/(2ε0·εr), 3 MV/m at 2·3e6·ε0/σ of
// εr 1; what would take more than 1e9 is told as never.
func TestPileSparksUpTo(t *testing.T) {
	for at, want := range map[float64]bool{0.97e9: true, 1.03e9: false} {
		k, err := NewChargedPile(ChargedPileSpec{Thickness: 1e-4, RelativePermittivity: 1, Width: 1,
			Upper: units.SurfaceChargeDensity(2 * 3e6 * units.Epsilon0 / at)})
		if err != nil {
			t.Fatal(err)
		}
		n, _, ok := k.SheetsToSpark()
		if ok != want || ok && !near(float64(n), at, 1e-6) {
			t.Errorf("sparks at %d, %v, want %g", n, ok, at)
		}
	}
}

// TestFacesByHand: 3 and 1 µC/m² from each face and their sum.
func TestFacesByHand(t *testing.T) {
	const u = 1e-6
	for _, c := range []struct {
		what string
		obs  []FaceObservation
		want FaceCharges
	}{
		{"both faces", []FaceObservation{ObservedFaceA(3*u, 0.3*u), ObservedFaceB(u, 0.4*u)},
			FaceCharges{BothFacesKnown, 3 * u, u, 0.3 * u, 0.4 * u, 4 * u, 0.5 * u, 0}},
		{"one face and the net", []FaceObservation{ObservedNet(4*u, 0.4*u), ObservedFaceA(3*u, 0.3*u)},
			FaceCharges{BothFacesKnown, 3 * u, u, 0.3 * u, 0.5 * u, 4 * u, 0.4 * u, 0}},
		// Two readings of one face, 2 and 4 ± 1: 3 ± 1/√2, misfit 2.
		{"one face twice", []FaceObservation{ObservedFaceB(2*u, u), ObservedFaceB(4*u, u)},
			FaceCharges{OneCombination, nan(), 3 * u, nan(), u / math.Sqrt2, nan(), nan(), 2}},
		{"the net twice", []FaceObservation{ObservedNet(2*u, u), ObservedNet(4*u, u)},
			FaceCharges{OneCombination, nan(), nan(), nan(), nan(), 3 * u, u / math.Sqrt2, 2}},
		{"nothing", nil, FaceCharges{NothingKnown, nan(), nan(), nan(), nan(), nan(), nan(), 0}},
	} {
		got, err := SeparateFaces(c.obs...)
		if err != nil {
			t.Fatal(err)
		}
		same := func(a, b units.SurfaceChargeDensity) bool {
			return math.IsNaN(float64(a)) && math.IsNaN(float64(b)) || math.Abs(float64(a-b)) <= 1e-15
		}
		w := c.want
		if got.Known != w.Known || !same(got.A, w.A) || !same(got.B, w.B) || !same(got.SDA, w.SDA) ||
			!same(got.SDB, w.SDB) || !same(got.Net, w.Net) || !same(got.SDNet, w.SDNet) ||
			!(math.Abs(got.Misfit-w.Misfit) <= 1e-9) {
			t.Errorf("%s: %+v, want %+v", c.what, got, w)
		}
	}
}

func nan() units.SurfaceChargeDensity { return units.SurfaceChargeDensity(math.NaN()) }

// TestFlawLimits: a reading just inside and just outside of each limit that the comment of
// Flaws states, at 25 mm.
func TestFlawLimits(t *testing.T) {
	good := ReadingConditions{Distance: 0.025, Nominal: 0.025, Gap: 0.3, Width: 1.2, Repeats: 3, Zeroed: true,
		Earthed: true, BothFaces: true, HumidityHere: true, Running: true}
	for _, c := range []struct {
		set  func(r *ReadingConditions)
		want ReadingFlaws
	}{
		{func(r *ReadingConditions) { r.Gap = 0.0751 }, 0}, {func(r *ReadingConditions) { r.Gap = 0.0749 }, NearMetal},
		{func(r *ReadingConditions) { r.Gap = 0.00251 }, NearMetal},
		{func(r *ReadingConditions) { r.Gap = 0.00249 }, NearMetal | OverMetal},
		{func(r *ReadingConditions) { r.Width = 0.251 }, 0}, {func(r *ReadingConditions) { r.Width = 0.249 }, NarrowSheet},
		{func(r *ReadingConditions) { r.Width = 0 }, 0}, {func(r *ReadingConditions) { r.Repeats = 2 }, SingleRepeat},
		{func(r *ReadingConditions) { r.Distance, r.Gap = 0, 0.001 }, NoDistance},
		{func(r *ReadingConditions) { r.Distance, r.Gap = 0, 0 }, NoDistance | OverMetal},
		{func(r *ReadingConditions) { r.Running = false }, 0},
		{func(r *ReadingConditions) { r.Distance = 0.0276 }, OffNominal},
		{func(r *ReadingConditions) { r.Distance = 0.0274 }, 0},
	} {
		r := good
		c.set(&r)
		if got := r.Flaws(); got != c.want {
			t.Errorf("%+v: %v, want %v", r, got, c.want)
		}
	}
}
