package sheet

import (
	"errors"
	"math"
	"strings"
	"sync"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func freeSheet(t testing.TB, rhoS units.SheetResistance) *Sheet {
	return mustSheet(t, SheetSpec{Support: FreeSpan, RelativePermittivity: 1, SurfaceResistivity: rhoS})
}

func mustMap(t testing.TB, spec MapSpec) *ChargeMap {
	t.Helper()
	m, err := NewChargeMap(spec)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Closed form and spectral solution share no code and agree to 1e-9 of the
// greatest value: periodic lines and stripes on a free sheet, for lengths that
// take the own FFT and gonum's, and both directions of a map. The start is the
// closed form after it has receded by 12 pixels, so that the waves which the mesh
// does not hold are below e^{−12π} = 4e-17 and nothing folds back.
func TestSpectralAgainstPeriodicClosedForms(t *testing.T) {
	const rho, l = 1e12, 0.6
	vs := float64(SpreadingSpeed(rho))
	for _, n := range []int{1024, 600, 4096} {
		pixel := l / float64(n)
		h0 := 12 * pixel // e^{−12π} = 4e-17: nothing folds
		start := make([]float64, n)
		for i := range start {
			start[i] = float64(LinesOnFreeSheet(1, units.Length(float64(i)*pixel), units.Length(h0), l))
		}
		m := mustMap(t, MapSpec{Charge: start, Pixel: units.Length(pixel), Law: freeSheet(t, rho)})
		dst := make([]float64, n)
		for _, h := range []float64{h0, 0.02, 0.07, 0.5} {
			if err := m.MapTo(dst, units.Time((h-h0)/vs)); err != nil {
				t.Fatal(err)
			}
			peak := float64(LinesOnFreeSheet(1, 0, units.Length(h), l))
			for i := range dst {
				want := float64(LinesOnFreeSheet(1, units.Length(float64(i)*pixel), units.Length(h), l))
				if !(math.Abs(dst[i]-want) <= 1e-9*peak) {
					t.Fatalf("n %d, h %g, sample %d: %.12g, want %.12g", n, h, i, dst[i], want)
				}
			}
		}
	}
	// Stripes, as the columns of a map and as its rows.
	const rows, cols = 64, 256
	for _, across := range []bool{false, true} {
		r, c := rows, cols
		if across {
			r, c = cols, rows
		}
		start := make([]float64, r*c)
		fill := func(dst []float64, h float64) {
			for i := range dst {
				x := i % c
				if across {
					x = i / c
				}
				dst[i] = StripesOnFreeSheet(units.Length(float64(x)*l/cols), 0.1, units.Length(h), l)
			}
		}
		h0 := 12 * l / cols
		fill(start, h0)
		m := mustMap(t, MapSpec{Charge: start, Rows: r, Pixel: l / cols, Law: freeSheet(t, rho)})
		got, want := make([]float64, r*c), make([]float64, r*c)
		for _, h := range []float64{0.04, 0.2} {
			if err := m.MapTo(got, units.Time((h-h0)/vs)); err != nil {
				t.Fatal(err)
			}
			fill(want, h)
			for i := range got {
				if !(math.Abs(got[i]-want[i]) <= 1e-9) {
					t.Fatalf("across %v, h %g, value %d: %.12g, want %.12g", across, h, i, got[i], want[i])
				}
			}
		}
	}
}

// Near earth, and with charge that falls to the edge as sin(πx/w), the strip
// earthed at both edges is one odd periodic wave: rate π²D/w² both ways, with the
// general rate's own departure from D k².
func TestSpectralAgainstEarthedStrip(t *testing.T) {
	const n, w = 512, 0.3
	sheet := mustSheet(t, SheetSpec{Thickness: 20e-6, RelativePermittivity: 2.2, SurfaceResistivity: 1e10})
	start := make([]float64, n)
	strip := mustStrip(t, StripSpec{Width: w, Diffusivity: SheetDiffusivity(20e-6, 1e10, 2.2)})
	t0 := strip.TimeConstant() / 2
	odd := func(dst []float64, tm units.Time) {
		for i := range dst {
			x := 2 * w * float64(i) / n
			if x <= w {
				dst[i] = strip.At(units.Length(x), tm)
			} else {
				dst[i] = -strip.At(units.Length(2*w-x), tm)
			}
		}
	}
	odd(start, t0)
	law := RateFunc(func(k float64) units.Frequency {
		return units.Frequency(float64(SheetDiffusivity(20e-6, 1e10, 2.2)) * k * k)
	})
	m := mustMap(t, MapSpec{Charge: start, Pixel: 2 * w / n, Law: law})
	got, want := make([]float64, n), make([]float64, n)
	for _, tm := range []units.Time{0, t0, 5 * t0} {
		if err := m.MapTo(got, tm); err != nil {
			t.Fatal(err)
		}
		odd(want, t0+tm)
		for i := range got {
			if !(math.Abs(got[i]-want[i]) <= 1e-9*want[n/4]) {
				t.Fatalf("t %v, sample %d: %.12g, want %.12g", tm, i, got[i], want[i])
			}
		}
	}
	// The sheet itself, to what its own flag promises.
	m = mustMap(t, MapSpec{Charge: start, Pixel: 2 * w / n, Law: sheet})
	if err := m.MapTo(got, t0); err != nil {
		t.Fatal(err)
	}
	odd(want, 2*t0)
	near(t, "general rate near earth", got[n/4], want[n/4], 1e-4) // d/λ = 3e-5
}

// Charge is conserved on a free sheet, waves do not grow, and decay(t1) then
// decay(t2) is decay(t1+t2), for own and gonum's transforms.
func TestSpectralConservesAndComposes(t *testing.T) {
	for _, shape := range [][2]int{{1, 2048}, {1, 1000}, {32, 64}, {20, 30}} {
		n := shape[0] * shape[1]
		v := make([]float64, n)
		s := uint64(9)
		for i := range v {
			s = s*6364136223846793005 + 1442695040888963407
			v[i] = float64(s>>40)/(1<<24) - 0.3
		}
		law := freeSheet(t, 1e12)
		m := mustMap(t, MapSpec{Charge: v, Rows: shape[0], Pixel: 1e-3, Law: law})
		a, b, c := make([]float64, n), make([]float64, n), make([]float64, n)
		energy := math.Inf(1)
		for _, tm := range []units.Time{0, 0.01, 0.1, 1, 30} {
			if err := m.MapTo(a, tm); err != nil {
				t.Fatal(err)
			}
			sum, e := 0.0, 0.0
			for i := range a {
				sum += a[i]
				e += a[i] * a[i]
				if tm == 0 && !(math.Abs(a[i]-v[i]) <= 1e-14) {
					t.Fatalf("%v: start %d: %g, want %g", shape, i, a[i], v[i])
				}
			}
			near(t, "total charge", sum/float64(n), m.Mean(), 1e-12)
			if e > energy*(1+1e-14) {
				t.Errorf("%v: energy grows at %v", shape, tm)
			}
			energy = e
		}
		_ = m.MapTo(a, 0.02)
		_ = m.MapTo(b, 0.05)
		if err := mustMap(t, MapSpec{Charge: a, Rows: shape[0], Pixel: 1e-3, Law: law}).MapTo(c, 0.03); err != nil {
			t.Fatal(err)
		}
		for i := range b {
			if !(math.Abs(b[i]-c[i]) <= 1e-14) {
				t.Fatalf("%v: composition, value %d: %g, want %g", shape, i, c[i], b[i])
			}
		}
	}
}

// A probe over a line sees 1/(1 + v_s t/h): the view, with the periodic line as
// closed form at h + v_s t.
func TestProbeView(t *testing.T) {
	const n, l, h = 1024, 0.8, 0.02
	v := make([]float64, n)
	for i := range v {
		v[i] = float64(LinesOnFreeSheet(1, units.Length(l*float64(i)/n), 0.01, l))
	}
	m := mustMap(t, MapSpec{Charge: v, Pixel: l / n, Law: freeSheet(t, 1e12), View: ProbeView(h)})
	dst := make([]float64, n)
	if err := m.MapTo(dst, units.Time(0.05/float64(SpreadingSpeed(1e12)))); err != nil {
		t.Fatal(err)
	}
	near(t, "probe", dst[0], float64(LinesOnFreeSheet(1, 0, 0.08, l)), 1e-12)
	if v := ProbeView(-1)(0); !math.IsNaN(v) {
		t.Errorf("negative height: %g", v)
	}
}

func TestChargeMapRefuses(t *testing.T) {
	law := freeSheet(t, 1e12)
	good := MapSpec{Charge: make([]float64, 32), Pixel: 1e-3, Law: law}
	for _, c := range []struct {
		field string
		spoil func(*MapSpec)
	}{
		{"charge", func(s *MapSpec) { s.Charge = nil }},
		{"charge", func(s *MapSpec) { s.Rows = 5 }},
		{"rows", func(s *MapSpec) { s.Rows = -1 }},
		{"charge[3]", func(s *MapSpec) { s.Charge = []float64{0, 0, 0, math.NaN()} }},
		{"pixel", func(s *MapSpec) { s.Pixel = 0 }},
		{"pitch", func(s *MapSpec) { s.Pitch = -1 }},
		{"law", func(s *MapSpec) { s.Law = nil }},
		{"law", func(s *MapSpec) { s.Law = RateFunc(func(k float64) units.Frequency { return -1 }) }},
		{"law", func(s *MapSpec) {
			s.Law = RateFunc(func(k float64) units.Frequency { return units.Frequency(math.Inf(1)) })
		}},
		{"view", func(s *MapSpec) { s.View = ProbeView(-1) }},
	} {
		s := good
		c.spoil(&s)
		_, err := NewChargeMap(s)
		var fe *known.FieldError
		if !errors.As(err, &fe) || !strings.Contains(err.Error(), c.field) {
			t.Errorf("%s: got %v", c.field, err)
		}
	}
	m := mustMap(t, good)
	dst := make([]float64, 32)
	if err := m.MapTo(dst[:5], 1); err == nil {
		t.Error("short dst accepted")
	}
	if err := m.MapTo(dst, units.Time(math.NaN())); err == nil || !math.IsNaN(dst[0]) {
		t.Errorf("t NaN: %v, %g", err, dst[0])
	}
	if m.Len() != 32 {
		t.Errorf("Len %d", m.Len())
	}
}

// One map serves many goroutines, and a call does not allocate.
func TestChargeMapConcurrent(t *testing.T) {
	v := make([]float64, 4096)
	v[5] = 1
	m := mustMap(t, MapSpec{Charge: v, Pixel: 1e-3, Law: freeSheet(t, 1e12)})
	want := make([]float64, len(v))
	if err := m.MapTo(want, 0.1); err != nil {
		t.Fatal(err)
	}
	var g sync.WaitGroup
	for range 4 {
		g.Go(func() {
			dst := make([]float64, len(v))
			for range 5 {
				_ = m.MapTo(dst, 0.1)
				for i := range dst {
					if dst[i] != want[i] {
						t.Errorf("value %d differs", i)
						return
					}
				}
			}
		})
	}
	g.Wait()
	if n := testing.AllocsPerRun(10, func() { _ = m.MapTo(want, 0.2) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}
