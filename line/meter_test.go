package line

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// metered is a web of 1 m with a guarded field meter, a voltmeter and a place with 25 mm to the metal behind it.
func metered(t *testing.T, change func(d *Description)) *Line {
	t.Helper()
	const s = units.SurfaceChargeDensity(1e-6)
	spec := func(f Face) ChangeSpec { return ChangeSpec{Face: f, Spread: s} }
	d := &Description{Schema: Schema, Name: "metered",
		Web: Web{Material: "film", Thickness: 20e-6, ThicknessSpread: 0.03, Width: 1, Density: 905,
			RelativePermittivity: known.Band{Value: 2.2, Spread: 0.1, Kind: known.Normal}, VolumeResistivity: 1e15, Humidity: 1},
		Speed: 4, Limit: Limit{Kind: ClingLimit},
		Air: AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 0.3, Pressure: units.Atmosphere},
		Meters: []Meter{{Name: "VM", Kind: VoltmeterKind, Spots: 0.2, Gain: 0.02},
			{Name: "FM", Kind: FieldMeterKind, Nominal: 0.025, Guarded: true, Gain: 0.08, Offset: 40, Placing: 0.003,
				Spots: 0.2}},
		Stations: []StationSpec{
			{Name: "unwind", Kind: Unwind, Change: []ChangeSpec{spec(FaceA), spec(FaceB)}},
			{Name: "roller", Kind: Roller, At: 1, Roller: &RollerSpec{Radius: 0.05, Kind: BareMetal},
				Change: []ChangeSpec{spec(FaceA)}},
			{Name: "nip", Kind: Nip, At: 2, Roller: &RollerSpec{Radius: 0.05, Kind: BareMetal},
				Change: []ChangeSpec{spec(FaceA), spec(FaceB)}},
			{Name: "place", Kind: Place, At: 3, Gap: 0.025},
			{Name: "behind", Kind: Place, At: 4, Past: &PastSpec{Radius: 0.03, X: 0.04}},
			{Name: "winder", Kind: Winder, At: 5},
		}}
	if change != nil {
		change(d)
	}
	l, err := New(d)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func byHand(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 2e-5*math.Abs(want)) {
		t.Errorf("%s: %.8g, by hand %.8g", what, got, want)
	}
}

func (l *Line) seen(t *testing.T, r Look) View {
	t.Helper()
	r.Running = true
	w, err := l.View(&r)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// TestDisplayByHand: at 25 mm with 25 mm behind the web half the field is seen: 0.025·½/ε0 = 1.411770e9 V per C/m²
// of either face, and of 3 mm in 25 half counts, 0.06. With 100 mm behind it, given by the reading, it is 0.8 and
// 0.12·0.2 = 0.024.
func TestDisplayByHand(t *testing.T) {
	l := metered(t, nil)
	for _, c := range []struct {
		gap                  units.Length
		perNet, sense, place float64
	}{{0, 1.411770e9, 0.06, 0.08}, {0.1, 2.258832e9, 0.024, 0.08}} {
		w := l.seen(t, Look{Station: "place", Quantity: FieldMeter, Face: FaceA, Distance: 0.025, Gap: c.gap, Meter: "FM"})
		byHand(t, "display of A", w.OnA, c.perNet)
		byHand(t, "display of B", w.OnB, c.perNet)
		byHand(t, "error of placing", w.Sensitivity, c.sense)
		byHand(t, "geometry", w.PlaceSD, c.place)
		if w.Station != 3 || w.Meter != 1 || w.Edge != 1 || w.Most != 0 || w.OverFilm || w.Unused != "" {
			t.Errorf("%+v", w)
		}
	}
	if far := gapFor(0.025, 1); far != 1000 || gapFor(0.025, 1-1e-9) != 1000 || gapFor(0.025, 1.1) != 1000 {
		t.Errorf("the gap of a free web is %v", far)
	}
}

// TestEdgeByHand: with d = h = 25 mm, D = 50 mm, the field y inside an edge is ¼ + atan(tanh(πy/2D))/π of σ/ε0 and ½
// in mid-web. At 10 mm: tanh 0.314159 = 0.304216, ¼ + 0.295320/π = 0.344003, 0.688007 of mid-web, from either edge.
// At 5.2 mm 0.602198, at 5 mm 0.598384: under 0.6 it is not used. Behind a roller of 30 mm, 40 mm on, the gap
// is √(30² + 40²) − 30 = 20 mm: with d = 20 mm and y = 10 mm tanh 0.392699 = 0.373685, ¼ + 0.357617/π = 0.363833,
// 0.727666 of mid-web.
func TestEdgeByHand(t *testing.T) {
	l := metered(t, nil)
	at := func(station string, distance, gap, cross units.Length) View {
		return l.seen(t, Look{Station: station, Quantity: FieldMeter, Face: FaceA, Distance: distance, Gap: gap,
			Cross: cross, Meter: "FM"})
	}
	for _, cross := range []units.Length{0.01, 0.99} {
		w := at("place", 0.025, 0, cross)
		byHand(t, "edge", w.Edge, 0.688007)
		byHand(t, "display", w.OnA, 0.688007*1.411770e9)
	}
	byHand(t, "edge with the gap of the reading", at("behind", 0.025, 0.025, 0.01).Edge, 0.688007)
	byHand(t, "edge behind a roller", at("behind", 0.02, 0, 0.01).Edge, 0.727666)
	byHand(t, "edge at 5.2 mm", at("place", 0.025, 0, 0.0052).Edge, 0.602198)
	byHand(t, "mid-web", at("place", 0.025, 0, 0.5).Edge, 1)
	if w := at("place", 0.025, 0, 0.005); !strings.Contains(w.Unused, "edge of the web") {
		t.Errorf("%+v", w)
	}
}

// TestNoiseByHand: 1 kV of 20 % from spot to spot, 6 % by placing and a digit of 10 V, 2.887 V: √(200² + 60² + 8.333)
// = 208.826 V; with 8 % of gain and of geometry and 40 V of offset √(43608.33 + 6400 + 6400 + 1600) = 240.849 V.
// Above 2 kV the digit is 100 V: of −3 kV √(600² + 180² + 833.3) = 627.083 V, of 2 kV √(400² + 120² + 8.333)
// = 417.623 V. A voltmeter over 20 µm of εr 2.2 ± 0.1: of 100 V 20 V, by film and 1 µm of air √(3 %² + (0.1/2.2)²
// + (2.2/20)²) = 12.2744 %, with 2 % of gain √(20² + 2² + 12.2744²) = 23.5512 V.
func TestNoiseByHand(t *testing.T) {
	l := metered(t, nil)
	w := l.seen(t, Look{Station: "place", Quantity: FieldMeter, Face: FaceA, Distance: 0.025, Meter: "FM"})
	for fit, own := range map[float64]float64{1000: 208.826, -3000: 627.083, 2000: 417.623} {
		n := l.Noise(&w, fit)
		byHand(t, "own", n.Own, own)
		if n.Gain != fit || n.Place != fit || n.Offset != 1 {
			t.Errorf("%+v", n)
		}
	}
	byHand(t, "deviation", l.Deviation(&w, 1000), 240.849)
	w = l.seen(t, Look{Station: "nip", Quantity: OverRoller, Face: FaceA, Meter: "VM"})
	byHand(t, "own of a voltmeter", l.Noise(&w, 100).Own, 20)
	byHand(t, "geometry of a voltmeter", w.PlaceSD, 0.122744)
	byHand(t, "deviation of a voltmeter", l.Deviation(&w, 100), 23.5512)
	for _, w.Meter = range []int{-1, 2} {
		if got := l.Deviation(&w, 100); got == got {
			t.Errorf("meter %d of two: deviation %v, want NaN", w.Meter, got)
		}
	}
}

// TestOverRollerByHand: t/(ε0·εr) = 20e-6/(8.854188e-12·2.2) = 1.026735e6 V per C/m² of the face looked at; the
// face that lies on the roller is not seen, at a nip both are, over an insulating roller none.
func TestOverRollerByHand(t *testing.T) {
	l := metered(t, nil)
	look := func(station string, f Face) View {
		return l.seen(t, Look{Station: station, Quantity: OverRoller, Face: f, Meter: "VM"})
	}
	a, b := look("nip", FaceA), look("nip", FaceB)
	byHand(t, "A", a.OnA, 1.026735e6)
	byHand(t, "B", b.OnB, 1.026735e6)
	if a.OnB != 0 || b.OnA != 0 || a.Unused != "" || b.Unused != "" || !a.OverFilm {
		t.Errorf("%+v, %+v", a, b)
	}
	if w := look("roller", FaceB); w.Unused != "" {
		t.Error(w.Unused)
	}
	if w := look("roller", FaceA); !strings.Contains(w.Unused,
		"face A lies on the roller; a voltmeter over it sees face B") {
		t.Errorf("%q", w.Unused)
	}
	if _, err := l.View(&Look{Station: "place", Quantity: OverRoller, Running: true, Meter: "VM"}); err == nil {
		t.Error("a voltmeter over nothing")
	}
	l = metered(t, func(d *Description) { d.Stations[2].Roller.Kind, d.Stations[2].Roller.Cover = InsulatingCover, 100 })
	if w := look("nip", FaceA); !strings.Contains(w.Unused, "insulating roller") {
		t.Errorf("%q", w.Unused)
	}
	factor, _ := l.PlaceFactor(1, 0.025, 0) // (t/εr)/(d + t/εr)
	byHand(t, "share of the film", factor, 9.090909e-6/(0.025+9.090909e-6))
}

// TestRollByHand: a roll of Ø 200 mm on a core of Ø 80 mm has 3000 wraps of 20 µm. The outer faces stand at the radii
// 40 mm + k·20 µm, k = 1 … 3000, 210.03 m in all, the inner faces at k = 0 … 2999, 209.97 m; by Gauss the field of
// 1 C/m² on them is 210.03/(0.1·ε0). The meter at 25 mm doubles it as 0.2/0.125 = 1.6; its 25 mm make
// 84.012/ε0 = 9.48839e12 V and 83.988/ε0 = 9.48568e12 V. The air holds out to half the cap of a web of net charge.
func TestRollByHand(t *testing.T) {
	l := metered(t, nil)
	look := Look{Station: "winder", Quantity: FieldMeter, Face: FaceA, Distance: 0.025, Roll: 0.2, Meter: "FM"}
	w := l.seen(t, look)
	byHand(t, "outer", w.OnA, 9.48839e12)
	byHand(t, "inner", w.OnB, 9.48568e12)
	byHand(t, "most", w.Most, 0.5*float64(l.NetCap())/8.8541878e-12*0.025)
	if w.PlaceSD != 0.3 || w.Unused != "" {
		t.Errorf("%+v", w)
	}
	for roll, want := range map[units.Length]string{0: "needs the roll's diameter", 0.08: "not thicker than its core",
		0.081: ""} {
		look.Roll = roll
		if w := l.seen(t, look); want == "" && w.Unused != "" || !strings.Contains(w.Unused, want) {
			t.Errorf("a roll of %v: %q", roll, w.Unused)
		}
	}
	// A core of Ø 100 mm: 2500 wraps, 2500·0.05 + 20e-6·2500·2501/2 = 187.525 m; ·1.6·0.25/ε0.
	look.Roll = 0.2
	l = metered(t, func(d *Description) { d.Stations[5].Core = 0.05 })
	byHand(t, "of a wide core", l.seen(t, look).OnA, 187.525*0.4/8.8541878e-12)
	l = metered(t, func(d *Description) { d.Stations[5].Earthed = true })
	if w := l.seen(t, look); !strings.Contains(w.Unused, "earthed metal inside the roll") {
		t.Errorf("%q", w.Unused)
	}
}

// TestPlaceFactors: each geometry has its own share and doubt.
func TestPlaceFactors(t *testing.T) {
	l := metered(t, nil)
	for i, want := range []struct{ factor, sd float64 }{{1, 0.08}, {0, 0.1}, {0, 0.1}, {0.5, 0.08}, {0, 0.02}, {1, 0.08}} {
		factor, sd := l.PlaceFactor(i, 0.025, 0)
		if sd != want.sd || want.factor != 0 && !(math.Abs(factor-want.factor) <= 1e-9) {
			t.Errorf("%d: %g ± %g, want %+v", i, factor, sd, want)
		}
		// The gap of a reading stands before all of them: 100/(100 + 25).
		if factor, sd = l.PlaceFactor(i, 0.025, 0.1); !(math.Abs(factor-0.8) <= 1e-5) || sd != 0.08 {
			t.Errorf("%d with a gap: %g ± %g", i, factor, sd)
		}
	}
}

// TestUnusedLooks: what says nothing of the charge of a running web is told, not estimated from.
func TestUnusedLooks(t *testing.T) {
	l := metered(t, nil)
	for want, r := range map[string]Look{
		"ground check":           {Station: "roller", Quantity: EarthResistance, Running: true},
		"pail charge does not":   {Station: "winder", Quantity: PailCharge, Running: true},
		"decay time does not":    {Station: "place", Quantity: DecayTime, Running: true},
		"the line stood still":   {Station: "place", Quantity: FieldMeter, Distance: 0.025, Meter: "FM"},
		"over a roller sees":     {Station: "roller", Quantity: FieldMeter, Distance: 0.025, Meter: "FM", Running: true},
		"leaves nothing":         {Station: "place", Quantity: FieldMeter, Distance: -1, Meter: "FM", Running: true},
		"needs the roll's diame": {Station: "unwind", Quantity: FieldMeter, Distance: 0.025, Meter: "FM", Running: true},
	} {
		if w, err := l.View(&r); err != nil || !strings.Contains(w.Unused, want) {
			t.Errorf("%s: %q, %v", want, w.Unused, err)
		}
	}
	if w := l.seen(t, Look{Station: "roller", Quantity: FieldMeter, Distance: 0.025, Gap: 0.025,
		Meter: "FM"}); w.Unused != "" {
		t.Error(w.Unused)
	}
	for _, r := range []Look{{Station: "nowhere", Quantity: FieldMeter, Meter: "FM", Running: true},
		{Station: "place", Quantity: FieldMeter, Meter: "VM", Running: true},
		{Station: "nip", Quantity: OverRoller, Meter: "FM", Running: true},
		{Station: "nip", Quantity: OverRoller, Meter: "", Running: true}} {
		if _, err := l.View(&r); err == nil {
			t.Errorf("%+v was taken", r)
		}
	}
}

// TestSheetOfABareMeter: a web of 1 m is a sheet of 0.5 m radius to a meter without a guard.
func TestSheetOfABareMeter(t *testing.T) {
	l := metered(t, func(d *Description) { d.Meters[1].Guarded, d.Meters[1].FaceRadius = false, 0.01 })
	m, err := l.FieldMeter("FM")
	if a, b := m.Spec().SheetRadius, l.meters[1].Spec().SheetRadius; err != nil || a != 0.5 || b != 0.5 {
		t.Errorf("%v and %v, %v", a, b, err)
	}
}
