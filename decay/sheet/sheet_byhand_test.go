package sheet

import (
	"errors"
	"math"
	"slices"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestSheetsByHand: speeds, rates and shares from their printed formulae, worked out by hand, and what lies outside.
func TestSheetsByHand(t *testing.T) {
	const e0 = 8.8541878188e-12
	// 1 mm of ε_r 3 and 1e12 Ω·m on earth, a plate at 2 mm, air of 4e-13 S/m: 1e-9 + 2e-10 S/m² over ε0·(500 + 3000)/m.
	plate := mustSheet(t, SheetSpec{Thickness: 1e-3, RelativePermittivity: 3, VolumeResistivity: 1e12,
		PlateDistance: 2e-3, AirConductivity: 4e-13})
	free := mustSheet(t, SheetSpec{Support: FreeSpan, RelativePermittivity: 1, AirConductivity: 1e-14})
	block := mustSheet(t, SheetSpec{Support: OnDielectric, RelativePermittivity: 3, VolumeResistivity: 1e13,
		AirConductivity: 1e-13})
	web, err := NewNearEarthWeb(NearEarthSpec{Length: 1, Speed: 0.5, Diffusivity: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	disc, err := NewEarthedDisc(0.1, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	for what, c := range map[string][2]float64{
		"speed at ½ Ω":            {float64(SpreadingSpeed(0.5)), 1.12940906661e11}, // 1/ε0
		"up-web, no web speed":    {UpWebShare(1, 0), 0.5},
		"up-web, alike":           {UpWebShare(2, 2), 0.25},
		"up-web, at rest":         {UpWebShare(0, 0), 0.5},
		"rate under a plate":      {float64(plate.Rate(0)), 1.2e-9 / (e0 * 3500)},
		"rate by the air":         {float64(free.Rate(0)), 1e-14 / e0},
		"rate on a block":         {float64(block.Rate(0)), 2e-13 / (e0 * 4)},
		"Péclet number":           {web.Peclet(), 2.5},
		"slowest rate":            {float64(web.SlowestRate()), 2.2864208802},   // π²·0.2 + 0.25/0.8
		"share half-way":          {web.DownstreamShare(0.5), 0.7772998612},     // 1/(1 + e^−1.25)
		"disc":                    {float64(disc.TimeConstant()), 1.7291506903}, // 10/2.4048255577²
		"10 µm, 1e12 Ω/sq, ε_r 2": {float64(SheetDiffusivity(1e-5, 1e12, 2)), 1e-17 / (e0 * 2)},
		"half of a stripe":        {float64(StripeReceded(0.03, 0.5)), 0.03},
		"half of a disc":          {float64(DiscReceded(0.03, 0.5)), 0.03 / math.Sqrt(3)},
		"a quarter over a line":   {float64(ProbeReceded(0.02, 0.25, false)), 0.06},
		"a quarter over a spot":   {float64(ProbeReceded(0.02, 0.25, true)), 0.02},
		"a line, as far as high":  {float64(LineOnFreeSheet(2, 0.3, 0.3)), 1 / (math.Pi * 0.3)},
		"a point, 3-4-5":          {float64(PointOnFreeSheet(1, 0.4, 0.3)), 0.3 / (2 * math.Pi * 0.125)},
		"a step, as far as high":  {StepOnFreeSheet(0.3, 0.3), 0.75},
		"a stripe's edge":         {StripeOnFreeSheet(0.5, 0.5, 1), 0.25},
		"a disc, 3-4-5":           {DiscCentreOnFreeSheet(0.4, 0.3), 0.4},
	} {
		near(t, what, c[0], c[1], 1e-10)
	}
	if v := UpWebShare(0, 1); v != 0 {
		t.Errorf("a perfect insulator leaves %g up-web", v)
	}
	slow := mustSheet(t, SheetSpec{Thickness: 1e-3, RelativePermittivity: 2, VolumeResistivity: 1e14})
	face := mustSheet(t, SheetSpec{Thickness: 1e-3, RelativePermittivity: 2, SurfaceResistivity: 1e9})
	if !slow.Decays() || face.Decays() {
		t.Errorf("bulk decays %v, face alone %v", slow.Decays(), face.Decays())
	}
	still := mustSheet(t, SheetSpec{Support: FreeSpan, RelativePermittivity: 1})
	inf := math.Inf(1)
	for what, c := range map[string][2]float64{
		"line at its place":            {float64(LineOnFreeSheet(2, 0, 0)), inf},
		"negative line at its place":   {float64(LineOnFreeSheet(-2, 0, 0)), -inf},
		"line beside its place":        {float64(LineOnFreeSheet(2, 0.1, 0)), 0},
		"point at its place":           {float64(PointOnFreeSheet(2, 0, 0)), inf},
		"point beside its place":       {float64(PointOnFreeSheet(2, 0.1, 0)), 0},
		"no resistance":                {float64(SpreadingSpeed(0)), inf},
		"share at the inlet":           {web.DownstreamShare(0), 0},
		"wave that nothing decays":     {float64(still.TimeConstant(1)), inf},
		"profile at the outlet roller": {web.ProfileAt(1), 0},
	} {
		if c[0] != c[1] {
			t.Errorf("%s: %g, want %g", what, c[0], c[1])
		}
	}
	nan := units.Length(math.NaN())
	for what, v := range map[string]float64{
		"no thickness":    float64(SheetDiffusivity(0, 1e12, 2)),
		"no resistivity":  float64(SheetDiffusivity(1e-5, 0, 2)),
		"ε_r below 1":     float64(SheetDiffusivity(1e-5, 1e12, 0.9)),
		"before the web":  web.ProfileAt(-0.5),
		"behind the web":  web.DownstreamShare(1.5),
		"no place":        web.ProfileAt(nan),
		"no speed":        UpWebShare(1, units.Speed(math.NaN())),
		"negative speed":  UpWebShare(-1, 1),
		"negative rho":    float64(SpreadingSpeed(-1)),
		"stripe of 0":     float64(StripeReceded(0, 0.5)),
		"share of 1":      float64(StripeReceded(1, 1)),
		"disc of 0":       float64(DiscReceded(0, 0.5)),
		"disc, share 0":   float64(DiscReceded(1, 0)),
		"probe of 0":      float64(ProbeReceded(0, 0.5, true)),
		"probe, share 1":  float64(ProbeReceded(1, 1, false)),
		"before the line": float64(LineOnFreeSheet(1, 0, -1)),
		"before a point":  float64(PointOnFreeSheet(1, 0, -1)),
		"before a step":   StepOnFreeSheet(0, -1),
		"before a disc":   DiscCentreOnFreeSheet(1, -1),
		"wave of 0":       float64(slow.TimeConstant(0)),
	} {
		if !math.IsNaN(v) {
			t.Errorf("%s: %g, want NaN", what, v)
		}
	}
	if _, v := slow.NearEarth(nan); v != known.WrongShape {
		t.Errorf("no wavelength: %v", v)
	}
}

// TestSlotsDecayByTheirRates: late everything falls as e^(−μ0·v_s·t/a), of a sheet half as wide twice as fast; at
// once what is gone is of the order of √(v_s t/a), 1e-2 here: three times that is allowed.
func TestSlotsDecayByTheirRates(t *testing.T) {
	vs := float64(SpreadingSpeed(1e13))
	for _, a := range []float64{0.2, 0.4} {
		strip, err := NewSlotStrip(units.Length(2*a), 1e13)
		if err != nil {
			t.Fatal(err)
		}
		disc, err := NewSlotDisc(units.Length(a), 1e13)
		if err != nil {
			t.Fatal(err)
		}
		for what, c := range map[string]struct {
			at func(units.Time) float64
			mu float64
		}{
			"mean of a strip": {strip.MeanAt, 2.006119}, "centre of a strip": {strip.CentreAt, 2.006119},
			"mean of a disc": {disc.MeanAt, 2.754755},
		} {
			late := units.Time(8 * a / vs)
			near(t, what, math.Log(c.at(late)/c.at(late+1))*a/vs, c.mu, 1e-5)
			near(t, what+" at once", c.at(units.Time(1e-4*a/vs)), 1, 0.03)
		}
		near(t, "rate", float64(disc.Rate(0)), 2.754755*vs/a, 1e-5)
	}
}

// TestContactSeries: before D t/b² = 2e-4 a strip behind a poor contact has lost the integral of what flows through
// it, Bi ∫erfcx(Bi√s) ds over D s/b² (Crank 1975, section 3.3.4), by Simpson's rule in √s: below and above u = 1e-2,
// where a series takes over.
func TestContactSeries(t *testing.T) {
	for _, bi := range []float64{0.3, 0.6, 0.8, 0.99, 40} {
		s := mustStrip(t, StripSpec{Width: 2, Diffusivity: 1, ContactLength: units.Length(1 / bi)})
		const fo, n = 1e-4, 200
		top, sum := math.Sqrt(fo), 0.0
		f := func(v float64) float64 { return 2 * v * bi * math.Exp(bi*v*bi*v) * math.Erfc(bi*v) }
		for i := range n {
			a, h := top*float64(i)/n, top/n
			sum += h / 6 * (f(a) + 4*f(a+h/2) + f(a+h))
		}
		near(t, "lost", 1-s.MeanAt(fo), sum, 2e-16/sum+1e-9*math.Min(1, bi))
	}
}

// TestInterpolateByHand: a cubic through four nodes is itself; beyond the ends straight lines go to what holds there.
func TestInterpolateByHand(t *testing.T) {
	x := []float64{2, 3, 4, 6, 7}
	y := make([]float64, len(x))
	cubic := func(v float64) float64 { return 2 + v*(1+v*(-3+v)) }
	for i, v := range x {
		y[i] = cubic(v)
	}
	for _, v := range []float64{2, 2.5, 3, 3.5, 5, 6.5, 7} {
		near(t, "cubic", interpolate(x, y, v, 0, 0, 9), cubic(v), 1e-13)
	}
	near(t, "below", interpolate(x, y, 0.5, 9, 0, 9), 9+(0-9)*0.25, 1e-14)
	near(t, "above", interpolate(x, y, 8.5, 0, 40, 9), 40+(205-40)*0.25, 1e-14)
	// A hundredth of the gap, of 2 v_s h0/U where that is thinner, and of a thousandth of the gap at the least.
	near(t, "mesh at rest", reach(1e-4, 0, 1), math.Log(1e6), 1e-14)
	near(t, "mesh of a web as fast as its charge", reach(1e-4, 0.6, 0.4), math.Log(1e6), 1e-14)
	near(t, "mesh of a somewhat faster web", reach(1e-4, 0.7, 0.28), math.Log(1.25e6), 1e-14)
	near(t, "mesh of a faster web", reach(1e-4, 0.8, 0.2), math.Log(2e6), 1e-14)
	near(t, "mesh of an insulator", reach(1e-4, 1, 0), math.Log(1e9), 1e-14)
	near(t, "mesh of sharp edges", reach(0, 0, 1), 21, 1e-14)
}

// TestSpanClosestToRollers: close to a roller the operator is that of the gap in w = 1/x, whose kernel has the first
// moment 0 and the second 1/(3R) over the whole line, at both ends and however coarse the mesh.
func TestSpanClosestToRollers(t *testing.T) {
	const r = 0.1
	for _, step := range []float64{0.5, 0.2} {
		m := newSpanMesh(step, 12)
		sharp, _, _ := m.operator(t.Context(), 0, 0)
		for _, c := range []struct {
			r1, r2 float64
			near   []float64
		}{{r, 0, m.x}, {0, r, m.xi}} {
			a, _, _ := m.operator(t.Context(), c.r1, c.r2)
			seen := 0
			for i := 1; i < len(m.s)-1; i++ {
				x := c.near[i]
				if x > 0.15*r {
					continue
				}
				first, second := 0.0, 0.0
				for j := range m.s {
					if j != i {
						k := -(a.At(i, j) - sharp.At(i, j)/2) * x * x // one of the two sharp edges is left in a
						d := 1/c.near[j] - 1/x
						first, second = first+k*d, second+k*d*d
					}
				}
				seen++
				near(t, "second moment", second*3*r, 1, 1e-6)
				if !(math.Abs(first*r/second) <= 1e-6) {
					t.Errorf("first moment %g of %g at %g", first, second, x)
				}
			}
			if seen < 10 {
				t.Errorf("only %d nodes are close", seen)
			}
		}
	}
}

// TestSpanStaysPositive: what leaves the inlet stays of its sign on a mesh that does not resolve the layers; the rest
// holds the ends of ranges.
func TestSpanStaysPositive(t *testing.T) {
	for _, vs := range []float64{1e-3, 0.03, 0.3, 3} {
		w := mustSpan(t, vs, 0.5)
		c := w.FromInlet(1)
		for i, q := range c.Sigma {
			if !(q >= 0) {
				t.Errorf("v_s %g: %g at %v", vs, q, c.X[i])
			}
		}
		if w.p[0] < 0 || slices.Max(w.p) > 1+1e-9 || !slices.IsSorted(w.p[:len(w.p)/2]) {
			t.Errorf("v_s %g: shares from %g to %g, sorted %v", vs, w.p[0], slices.Max(w.p), slices.IsSorted(w.p))
		}
		for _, x := range []units.Length{-0.1, 1.1} {
			if v := w.DownstreamShare(x); !math.IsNaN(v) {
				t.Errorf("share at %v: %g", x, v)
			}
		}
		near(t, "laid at the outlet", w.FromDeposit(1-1e-12, 1).DownstreamShare, 1, 1e-3)
	}
	good := FreeSpanSpec{Length: 1, Speed: 1, SurfaceResistivity: 1e11, InletRadius: 1e-5, OutletRadius: 10,
		ContactGap: 1e-6}
	if _, err := NewFreeSpanWeb(good, &FreeSpanSettings{Step: 0.5}); err != nil {
		t.Errorf("the ends of the ranges: %v", err)
	}
	for _, set := range []FreeSpanSettings{{Step: 0.51}, {Step: 0.019}, {Step: -0.1}} {
		if _, err := NewFreeSpanWeb(good, &set); err == nil {
			t.Errorf("a step of %g is taken", set.Step)
		}
	}
	for _, r := range []units.Length{0.99e-5, 10.1} {
		s := good
		s.OutletRadius, s.ContactGap = r, 1e-7
		if _, err := NewFreeSpanWeb(s, &FreeSpanSettings{Step: 0.5}); err == nil {
			t.Errorf("a radius of %v is taken", r)
		}
	}
	short := AntistatSpec{Span: FreeSpanSpec{Length: 0.4, Speed: 1, InletRadius: 0.03, OutletRadius: 0.03,
		ContactGap: 2e-6}, At: 0.9, Enough: 0.5, Resistivity: known.Band{Value: 1e10}}
	var field *known.FieldError
	if _, err := AntistatOnSpan(short); !errors.As(err, &field) || field.Field != "at" {
		t.Errorf("a place behind the span: %v", err)
	}
}

// TestMapsByHand: small maps of sides that are no powers of two against the sum over their waves, written out.
func TestMapsByHand(t *testing.T) {
	for _, c := range [][2]int{{1, 5}, {2, 3}, {3, 2}, {3, 5}, {4, 6}, {6, 4}} {
		rows, cols := c[0], c[1]
		v := make([]float64, rows*cols)
		for i := range v {
			v[i] = float64((7*i)%5) - 1.5
		}
		const pixel, pitch, tm = 0.1, 0.3, 0.02
		law := RateFunc(func(k float64) units.Frequency { return units.Frequency(k * k / 9) })
		m := mustMap(t, MapSpec{Charge: v, Rows: rows, Pixel: pixel, Pitch: pitch, Law: law, View: ProbeView(0.01)})
		got := make([]float64, len(v))
		if err := m.MapTo(got, tm); err != nil {
			t.Fatal(err)
		}
		for i := range got {
			want := 0.0
			for y := range rows {
				for x := range cols {
					kx := 2 * math.Pi * float64(min(x, cols-x)) / (float64(cols) * pixel)
					ky := 2 * math.Pi * float64(min(y, rows-y)) / (float64(rows) * pitch)
					k := math.Hypot(kx, ky)
					for j, q := range v {
						turn := float64(x*(i%cols-j%cols))/float64(cols) + float64(y*(i/cols-j/cols))/float64(rows)
						want += q / float64(len(v)) * math.Exp(-k*k/9*tm-0.01*k) * math.Cos(2*math.Pi*turn)
					}
				}
			}
			if !(math.Abs(got[i]-want) <= 1e-13) {
				t.Errorf("%d × %d, value %d: %g, want %g", rows, cols, i, got[i], want)
			}
		}
	}
}

// TestEndsOfRanges: what lies just inside is taken, what lies just outside is refused or flagged.
func TestEndsOfRanges(t *testing.T) {
	span := FreeSpanSpec{Length: 1, Speed: 1, SurfaceResistivity: 1e11, InletRadius: 0.2, OutletRadius: 0.2}
	for gap, want := range map[units.Length]bool{9.95e-3: true, 1.01e-2: false, 1e-9: true, 0.9e-9: false} {
		span.ContactGap = gap
		if err := span.check(); (err == nil) != want {
			t.Errorf("gap %v: %v", gap, err)
		}
	}
	span.SurfaceResistivity, span.ContactGap = 0, 1e-5
	for rho, want := range map[float64]bool{0.5: true, 0: false, -1: false} {
		s := AntistatSpec{Span: span, Enough: 0.5, Resistivity: known.Band{Value: rho}}
		if err := s.check(); (err == nil) != want {
			t.Errorf("resistivity %g: %v", rho, err)
		}
	}
	for r, want := range map[units.Length]known.Validity{0.095: known.Inside, 0.105: known.WrongShape} {
		w := FreeSpanWeb{spec: FreeSpanSpec{Length: 1, InletRadius: r, OutletRadius: 0.05, SameFace: true}, x: []float64{0.5}}
		if v := w.Validity(); v != want {
			t.Errorf("radius %v: %v", r, v)
		}
	}
	if _, err := NewNearEarthWeb(NearEarthSpec{Length: 1}); err == nil {
		t.Error("a web that nothing moves is taken")
	}
	web, err := NewNearEarthWeb(NearEarthSpec{Length: 2, Speed: 0.5, Diffusivity: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Péclet number", web.Peclet(), 5, 1e-15)
	// D k² is above the rate by kd/ε_r + (kd)²/3: 1.4 % at kd = 0.04 and ε_r 3, 2.5 % at 0.07.
	film := mustSheet(t, SheetSpec{Thickness: 1e-4, RelativePermittivity: 3, SurfaceResistivity: 1e10})
	for kd, want := range map[float64]known.Validity{0.04: known.Inside, 0.07: known.WrongShape} {
		if _, v := film.NearEarth(units.Length(2 * math.Pi * 1e-4 / kd)); v != want {
			t.Errorf("kd %g: %v", kd, v)
		}
	}
	s := mustStrip(t, StripSpec{Width: 2, Diffusivity: 1})
	for x, want := range map[units.Length]float64{0: 0, 0.5: 1, 1: 1, 2: 0} {
		if v := s.At(x, 0); v != want {
			t.Errorf("at once at %v: %g", x, v)
		}
	}
	// The early form of the disc is its series of 150 zeros, of which the last is e^−44.
	disc, err := NewEarthedDisc(1, 1)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, j := range disc.zero {
		sum += 4 / (j * j) * math.Exp(-2.5e-4*j*j)
	}
	near(t, "disc, early", disc.MeanAt(2.5e-4), sum, 2e-13)
}

// TestSmallResistivities: below 1 Ω a face and a body conduct as above; both and a plate in the diffusivity.
func TestSmallResistivities(t *testing.T) {
	const e0 = 8.8541878188e-12
	free := mustSheet(t, SheetSpec{Support: FreeSpan, RelativePermittivity: 1, SurfaceResistivity: 0.5})
	near(t, "face of ½ Ω", float64(free.Rate(3)), 3/e0, 1e-12)
	bulk := mustSheet(t, SheetSpec{Thickness: 1e-3, RelativePermittivity: 2, VolumeResistivity: 0.5})
	near(t, "body of ½ Ω·m", float64(bulk.Rate(0)), 1/e0, 1e-12)
	near(t, "ε_r 1.5", float64(SheetDiffusivity(1e-5, 1e12, 1.5)), 1e-17/(e0*1.5), 1e-12)
	film := mustSheet(t, SheetSpec{Thickness: 1e-4, RelativePermittivity: 3, SurfaceResistivity: 1e10,
		VolumeResistivity: 1e12, PlateDistance: 1e-4})
	d, v := film.NearEarth(1)
	near(t, "under a plate", float64(d), 1e-14/(e0*4), 1e-12)
	if v != known.Inside {
		t.Errorf("a film that conducts: %v", v)
	}
	w := mustSpan(t, 1, 0.5)
	if in, out := w.DownstreamShare(0), w.DownstreamShare(1); in != 0 || out != 1 {
		t.Errorf("shares at the rollers: %g and %g", in, out)
	}
	for enough, want := range map[float64]bool{0.012: true, 0.009: false, 0.985: true, 0.995: false} {
		s := AntistatSpec{Span: FreeSpanSpec{Length: 1, Speed: 1, InletRadius: 0.2, OutletRadius: 0.2, ContactGap: 1e-5},
			Enough: enough, Resistivity: known.Band{Value: 1e10}}
		if err := s.check(); (err == nil) != want {
			t.Errorf("enough at %g: %v", enough, err)
		}
	}
}

// TestLongerSpan: at rest between sharp edges a current of 1 µA/m at the middle of 3 m of 1e12 Ω lifts it to ρ_s I L/4.
func TestLongerSpan(t *testing.T) {
	w, err := NewFreeSpanWeb(FreeSpanSpec{Length: 3, SurfaceResistivity: 1e12}, &FreeSpanSettings{Step: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	c := w.FromDeposit(1.5, 1e-6)
	near(t, "potential", c.Potential[len(c.X)/2], 7.5e5, 1e-9)
	near(t, "place", float64(c.X[len(c.X)/2]), 1.5, 1e-15)
}
