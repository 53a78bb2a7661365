package field

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// A bare disc before a charged sheet of radius 0.6 m with an earthed plane
// behind it, by an axisymmetric moment method, given to two or three digits.
func TestBareFaceFactor(t *testing.T) {
	for _, c := range []struct {
		b    float64
		want [3]float64
	}{{35, [3]float64{1.78, 3.5, 5.0}}, {50, [3]float64{1.37, 2.6, 3.6}}, {100, [3]float64{0.94, 1.56, 2.1}}, {300,
		[3]float64{0.80, 0.97, 1.12}}} {
		for i, h := range []units.Length{0.1, 0.3, 1} {
			got := BareFaceFactor(units.Length(c.b/1e3), 0.6, 0.025, h)
			if !(math.Abs(got-c.want[i]) <= 0.05) && !near(got, c.want[i], 0.01) {
				t.Errorf("b %g mm, h %v: got %.3f, want %g", c.b, h, got, c.want[i])
			}
		}
	}
	// The same equation with 200 nodes, written apart: the error of 24 is below 1e-4.
	for _, c := range [][5]float64{{.4, .025, .005, 1, 0.16666666667}, {.05, .025, .3, .03, 0.36725969202},
		{.1, .005, .1, .05, 0.8975610974555125}, {.2, .01, .02, .1, 0.6666011370939481},
		{.3, .01, .1, .05, 0.7985774705135295}} {
		got := BareFaceFactor(units.Length(c[0]), units.Length(c[3]), units.Length(c[1]), units.Length(c[2]))
		if !near(got, c[4], 1e-4) {
			t.Errorf("%v: got %.8f", c, got)
		}
	}
	// A very wide face before a very wide sheet is a guarded one.
	for _, h := range []units.Length{0.02, 0.1, 0.3} {
		if got, want := BareFaceFactor(50, 1000, 0.025, h), FieldFactor(0.025, h); !near(got, want, 2e-3) {
			t.Errorf("wide, h %v: got %g, want %g", h, got, want)
		}
	}
	// A small disc far from the plane: 2V/(πb) with V = σh/ε0 over it (isolated
	// disc); the image lifts it by the order of b/H.
	if got, want := BareFaceFactor(1e-4, 1e4, 1e-3, 0.1), 0.1*2/(math.Pi*1e-4); !near(got, want, 3e-3) {
		t.Errorf("small: got %g, want %g", got, want)
	}
	// Before a wide plate a wide disc needs no correction, a small one far away 2d/(πb).
	if got := bareCalibration(1, 0.025); !near(got, 1, 1e-6) {
		t.Errorf("calibration of a wide disc: %g", got)
	}
	if got := bareCalibration(1e-4, 0.025); !near(got, 2*0.025/(math.Pi*1e-4), 3e-3) {
		t.Errorf("calibration of a small disc: %g", got)
	}
}

func testMeter(t testing.TB, guarded bool) FieldMeter {
	m, err := NewFieldMeter(FieldMeterSpec{Nominal: 25 * units.Millimetre, FaceRadius: 35 * units.Millimetre,
		SheetRadius: 0.5,
		Guarded:     guarded, FullScale: 30000, Gain: known.Band{Value: 0.97, Spread: 0.06, Kind: known.Normal},
		Offset: known.Band{Value: 40}})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Net undoes Display, for both faces, below full scale; display is affine in σ;
// the sensitivity is the derivative.
func TestFieldMeterLaws(t *testing.T) {
	meters := []FieldMeter{testMeter(t, true), testMeter(t, false)}
	rapid.Check(t, func(t *rapid.T) {
		m := meters[rapid.IntRange(0, 1).Draw(t, "bare")]
		d := units.Length(rapid.Float64Range(0.01, 0.1).Draw(t, "d/m"))
		h := units.Length(rapid.Float64Range(0.005, 1).Draw(t, "h/m"))
		s := units.SurfaceChargeDensity(rapid.Float64Range(-1.2e-6, 1.2e-6).Draw(t, "σ"))
		v := m.Display(s, d, h)
		if m.Saturated(v) {
			t.Skip("full scale")
		}
		if back := m.Net(v, d, h); !(math.Abs(float64(back-s)) <= 1e-12*math.Abs(float64(s))+1e-20) {
			t.Fatalf("σ %v: display %v: back %v", s, v, back)
		}
		mirror := m.Display(-s, d, h)
		if got := float64(v + mirror); !(math.Abs(got-80) <= 1e-9*math.Abs(float64(v))+1e-9) {
			t.Fatalf("not affine: %v and %v", v, mirror)
		}
		const e = 1e-5
		f := func(k float64) float64 { return math.Log(m.Factor(units.Length(float64(d)*math.Exp(k)), h)) }
		if want, got := (f(e)-f(-e))/(2*e), m.DistanceSensitivity(d, h); !(math.Abs(got-want) <= 1e-4) {
			t.Fatalf("sensitivity %g, difference %g", got, want)
		}
		at, _ := m.Corrected(v, d, 0, h)
		if want := m.Display(s, 25*units.Millimetre, h); !m.Saturated(want) &&
			!(math.Abs(float64(at-want)) <= 1e-9*math.Abs(float64(want))+1e-9) {
			t.Fatalf("corrected %v, want %v", at, want)
		}
	})
}

func TestFieldMeterBad(t *testing.T) {
	good := FieldMeterSpec{Nominal: 0.025, Guarded: true, FullScale: 30000}
	for field, breakIt := range map[string]func(*FieldMeterSpec){
		"field_meter.nominal":      func(s *FieldMeterSpec) { s.Nominal = 0 },
		"field_meter.full_scale":   func(s *FieldMeterSpec) { s.FullScale = units.DisplayVoltage(math.NaN()) },
		"field_meter.gain":         func(s *FieldMeterSpec) { s.Gain.Value = -1 },
		"field_meter.offset":       func(s *FieldMeterSpec) { s.Offset.Value = math.Inf(1) },
		"field_meter.face_radius":  func(s *FieldMeterSpec) { s.Guarded = false; s.SheetRadius = 1 },
		"field_meter.sheet_radius": func(s *FieldMeterSpec) { s.Guarded = false; s.FaceRadius = 1 },
	} {
		s := good
		breakIt(&s)
		_, err := NewFieldMeter(s)
		var fe *known.FieldError
		if !errors.As(err, &fe) || fe.Field != field || fe.Value == "" || fe.Want == "" {
			t.Errorf("%s: got %v", field, err)
		}
	}
	m := testMeter(t, true)
	if got := m.Display(1e-3, 0.025, 1); got != 30000 || !m.Saturated(got) {
		t.Errorf("full scale: %v", got)
	}
	if got := m.Display(units.SurfaceChargeDensity(math.NaN()), 0.025, 1); !math.IsNaN(float64(got)) {
		t.Errorf("NaN: %v", got)
	}
}

func TestReadingAllocatesNothing(t *testing.T) {
	guarded, bare := testMeter(t, true), testMeter(t, false)
	if n := testing.AllocsPerRun(100, func() {
		guarded.Display(1e-6, 0.025, 0.3)
		bare.Display(1e-6, 0.025, 0.3)
		RollerFieldFactor(0.05, 0.03, 0.025)
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkReading(b *testing.B) {
	m := testMeter(b, true)
	b.ReportAllocs()
	for b.Loop() {
		m.Display(1e-6, 0.025, 0.3)
	}
}

func BenchmarkReadingBareFace(b *testing.B) {
	m := testMeter(b, false)
	b.ReportAllocs()
	for b.Loop() {
		m.Display(1e-6, 0.025, 0.3)
	}
}

func BenchmarkRollerFieldFactor(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		RollerFieldFactor(0.05, 0.03, 0.025)
	}
}

// A column is the readings one by one; bad rows are NaN and named.
func TestColumns(t *testing.T) {
	m := testMeter(t, true)
	nan := math.NaN()
	net := []units.SurfaceChargeDensity{1e-6, units.SurfaceChargeDensity(nan), -2e-7, 1e-6, 0}
	d := []units.Length{0.025, 0.025, 0.03, -1, 0.025}
	h := []units.Length{0.3, 0.3, 0.008, 0.3, 0}
	dst := make([]units.DisplayVoltage, 5)
	err := m.DisplayTo(dst, net, d, h)
	var fe *known.FieldError
	if !errors.As(err, &fe) || fe.Value != "rows 1 3" {
		t.Errorf("%v", err)
	}
	for i, bad := range []bool{false, true, false, true, false} {
		if math.IsNaN(float64(dst[i])) != bad || !bad && dst[i] != m.Display(net[i], d[i], h[i]) {
			t.Errorf("row %d: %v", i, dst[i])
		}
	}
	back := make([]units.SurfaceChargeDensity, 5)
	err = m.NetTo(back, dst, d, h)
	if !errors.As(err, &fe) || fe.Value != "rows 1 3 4" || !near(float64(back[2]), -2e-7, 1e-12) ||
		!math.IsNaN(float64(back[4])) {
		t.Errorf("%v: %v", back, err)
	}
	if err := m.DisplayTo(dst[:2], net, d, h); err == nil {
		t.Error("columns of different length accepted")
	}
	good := func() { _ = m.DisplayTo(dst[:1], net[:1], d[:1], h[:1]) }
	if n := testing.AllocsPerRun(100, good); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkReadingColumn(b *testing.B) {
	m := testMeter(b, true)
	const n = 4096
	dst, net, d, h := make([]units.DisplayVoltage, n), make([]units.SurfaceChargeDensity, n), make([]units.Length, n),
		make([]units.Length, n)
	for i := range n {
		net[i], d[i], h[i] = units.SurfaceChargeDensity(1e-9*float64(i)), 0.025, units.Length(0.01+1e-4*float64(i))
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := m.DisplayTo(dst, net, d, h); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/elem")
}

// The propagated spread against a Monte Carlo of the same errors: 20 000 draws
// give the spread to 0.5 % (1/√(2n)); the terms of second order that the
// propagation leaves out are below 2 % at these spreads.
func TestNetWithSD(t *testing.T) {
	spec := FieldMeterSpec{Nominal: 0.025, Guarded: true, FullScale: 30000,
		Gain: known.Band{Value: 1.05, Spread: 0.06, Kind: known.Normal}, Offset: known.Band{Spread: 40, Kind: known.Normal}}
	m, err := NewFieldMeter(spec)
	if err != nil {
		t.Fatal(err)
	}
	const d, sd, h, sh = 0.03, 0.002, 0.02, 0.001
	shown := m.Display(-2e-6, d, h)
	net, spread := m.NetWithSD(shown, d, sd, h, sh)
	if !near(float64(net), -2e-6, 1e-12) {
		t.Errorf("%v", net)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	var sum, sum2 float64
	const n = 20000
	for range n {
		x := m.With(1.05+0.06*rng.NormFloat64(), units.DisplayVoltage(40*rng.NormFloat64()))
		v := float64(x.Net(shown, units.Length(d+sd*rng.NormFloat64()), units.Length(h+sh*rng.NormFloat64())))
		sum += v
		sum2 += v * v
	}
	want := math.Sqrt(sum2/n - sum/n*sum/n)
	if !near(float64(spread), want, 0.03) {
		t.Errorf("got %v, Monte Carlo %g", spread, want)
	}
	// Alone, each relative error is what the formula says.
	spec.Gain, spec.Offset = known.Band{}, known.Band{}
	m, err = NewFieldMeter(spec)
	if err != nil {
		t.Fatal(err)
	}
	if _, got := m.NetWithSD(1000, d, sd, h, 0); !near(float64(got)/float64(m.Net(1000, d, h)), d/(d+h)*sd/d, 1e-12) {
		t.Errorf("distance alone: %v", got)
	}
	if _, got := m.NetWithSD(1000, d, 0, h, sh); !near(float64(got)/float64(m.Net(1000, d, h)), d/(d+h)*sh/h, 1e-4) {
		t.Errorf("gap alone: %v", got)
	}
}

// TestDisplayOfField: 1 kV/cm at the face of a meter marked for 25 mm is 2.5 kV on its
// scale, 1 kV/in of a one-inch meter 1 kV; the way back gives the field.
func TestDisplayOfField(t *testing.T) {
	for _, c := range []struct {
		nominal units.Length
		field   units.ElectricField
		want    float64
	}{{25 * units.Millimetre, 1e5, 2500}, {units.Inch, units.ElectricField(1e3 / 0.0254), 1000}} {
		m, err := NewFieldMeter(FieldMeterSpec{Nominal: c.nominal, Guarded: true, FullScale: 20 * units.KilovoltDisplayed})
		if err != nil {
			t.Fatal(err)
		}
		v := m.DisplayOf(c.field)
		if !near(float64(v), c.want, 1e-12) || !near(float64(m.FieldShown(v)), float64(c.field), 1e-12) {
			t.Errorf("%v: %v, back %v", c.field, v, m.FieldShown(v))
		}
	}
}
