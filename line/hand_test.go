package line

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// uncharged is an unwind and a winder 3 m apart that leave the web as it was, in air of 20 °C and 101.325 kPa.
func uncharged(between ...StationSpec) *Description {
	const s = units.MicrocoulombPerSquareMetre
	d := &Description{Schema: Schema, Name: "by hand", Speed: units.MetrePerSecond, Limit: Limit{Kind: ClingLimit},
		Web: Web{Material: "film", Thickness: 20 * units.Micrometre, Width: units.Metre, Density: 900,
			RelativePermittivity: known.Band{Value: 2.2}, VolumeResistivity: 1e10, Humidity: humidity.Inert},
		Air: AirSpec{Temperature: units.Celsius(20), RelativeHumidity: 30 * units.PercentRH, Pressure: units.Atmosphere}}
	unwind := StationSpec{Name: "unwind", Kind: Unwind, Change: []ChangeSpec{{Face: FaceA, Spread: s},
		{Face: FaceB, Spread: s}}}
	d.Stations = append([]StationSpec{unwind}, between...)
	d.Stations = append(d.Stations, StationSpec{Name: "winder", Kind: Winder, At: 3})
	return d
}

func place(name string, at units.Length) StationSpec {
	return StationSpec{Name: name, Kind: Place, At: at, Gap: 300 * units.Millimetre}
}

func made(t *testing.T, d *Description) *Line {
	t.Helper()
	l, err := New(d)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestKeepByHand: of the net 1 − e^−dwell/10 s goes to earth on the span with the edge on metal; the difference of
// the faces pairs with τ = ε0·2.2·1e10 Ω·m = 0.19479213 s, also on the last span. Where two stations stand at one
// place nothing is lost.
func TestKeepByHand(t *testing.T) {
	d := uncharged(place("p", 2), place("q", 2), place("r", 2.5))
	d.Stations[0].Leak = &LeakSpec{Path: decay.EarthedEdge, Time: 10}
	l := made(t, d)
	for i, want := range [][2]float64{{math.Exp(-0.2), math.Exp(-2 / 0.19479213)}, {1, 1}, {1, 0.07677787},
		{1, 0.07677787}, {1, 1}} {
		net, diff := l.Keep(i, 1)
		byHand(t, fmt.Sprint("net behind station ", i), net, want[0])
		byHand(t, fmt.Sprint("difference behind station ", i), diff, want[1])
	}
	for _, i := range []int{-1, 5} {
		if net, diff := l.Keep(i, 1); !math.IsNaN(net) || !math.IsNaN(diff) {
			t.Errorf("behind no station %d: %v, %v", i, net, diff)
		}
	}
	if i := l.Station("nobody"); i != -1 {
		t.Errorf("nobody is station %d", i)
	}
}

// TestFacesPair: 5 and −3 µC/m² have the net 2 and the difference 8, of which 0.5 s leave 8·0.07677787 = 0.614223:
// the faces go on with (2 ± 0.614223)/2.
func TestFacesPair(t *testing.T) {
	d := uncharged(place("p", 0.5))
	d.Stations[0].Change[0].Median, d.Stations[0].Change[1].Median = 5e-6, -3e-6
	res := make([]Result, 3)
	made(t, d).RunTo(res, 1)
	byHand(t, "face A", float64(res[1].A), 1.3071115e-6)
	byHand(t, "face B", float64(res[1].B), 0.6928885e-6)
	if r := res[1]; r.GainA != 0 || r.GainB != 0 || r.Lost != 0 || r.Ruled != Nothing {
		t.Errorf("a place gives and takes nothing: %+v", r)
	}
}

// TestBarOnFaceB: the share 1 − e^−1 of a net of 4 µC/m² comes onto face B, and face A keeps its own.
func TestBarOnFaceB(t *testing.T) {
	// κ = λL/ε0 = v of 1 m/s: λ = 8.8541878e-12/0.05 S/m; no metal near, so that the factor is 1.
	bar := StationSpec{Name: "bar", Kind: Ioniser, At: 1, Gap: 100,
		Ioniser: &IonSpec{Face: FaceB, Distance: 0.001, Conductivity: 8.8541878e-12 / 0.05, Zone: 0.05, Supply: 1}}
	d := uncharged(bar)
	d.Web.Width, d.Web.VolumeResistivity = 20, 1e24
	d.Stations[0].Change[0].Median = 4e-6
	res := make([]Result, 3)
	made(t, d).RunTo(res, 1)
	byHand(t, "face A", float64(res[1].A), 4e-6)
	if want := -4e-6 * 0.63212056; !(math.Abs(float64(res[1].B)/want-1) <= 1e-3) ||
		!(math.Abs(float64(res[1].GainB-res[1].B)) <= 1e-18) {
		t.Errorf("face B %v, gained %v, by hand %g", res[1].B, res[1].GainB, want)
	}
}

// TestExposureUnsaid: with none stated one pass closes 1 − e^−1 of the way: 3 µC/m² from nothing are a saturation of
// 3/0.63212056, and 4 µC/m² that arrive leave as 4·e^−1 + 3 = 4.4715178.
func TestExposureUnsaid(t *testing.T) {
	d := uncharged(StationSpec{Name: "roller", Kind: Roller, At: 1, Roller: &RollerSpec{Radius: 0.05, Kind: BareMetal},
		Change: []ChangeSpec{{Face: FaceA, Median: 3e-6, Spread: 1e-6}}})
	d.Web.VolumeResistivity = 1e24
	d.Stations[0].Change[0].Median = 4e-6
	res := make([]Result, 3)
	made(t, d).RunTo(res, 1)
	byHand(t, "face A", float64(res[1].A), 4.4715178e-6)
}

// TestLimitsByHand: 5 kV/in are 196,850 V/m, times ε0 1.7429504 µC/m². Over 10 cm air of 20 °C and 1 atm holds
// 24.22 kV/cm + 6.08 kV/cm½/√(10 cm) = 26.142667 kV/cm, times ε0 23.147206 µC/m².
func TestLimitsByHand(t *testing.T) {
	d := uncharged()
	d.Limit.Kind = FieldLimit
	l := made(t, d)
	byHand(t, "5 kV/in", float64(l.Limit()), 1.7429504e-6)
	byHand(t, "cap of the net", float64(l.NetCap()), 23.147206e-6)
}

// TestExponentsAreHeld: a contact that a survey found is read at other speeds with an exponent of −1 … 2: at half
// the speed 3 µC/m² become 3·2 = 6 and 3/4 = 0.75, whatever lies beyond.
func TestExponentsAreHeld(t *testing.T) {
	d := uncharged()
	d.Web.VolumeResistivity = 1e24
	l := made(t, d)
	for e, want := range map[float64]float64{-5: 6e-6, -1: 6e-6, 1: 1.5e-6, 2: 0.75e-6, 5: 0.75e-6} {
		found, err := l.With([]float64{3e-6, 0}, 1, func(int) float64 { return e })
		if err != nil {
			t.Fatal(err)
		}
		res := make([]Result, 2)
		found.RunTo(res, 0.5)
		byHand(t, fmt.Sprint("face A with exponent ", e), float64(res[0].A), want)
	}
}

// TestShareFitByHand, of a share law at 3 m/s behind metal that leaves half the field. It takes a quarter of 4 µC/m²:
// 1 − e^−κ/2v = 0.25, κ = −2·3·ln 0.75 = 1.7260924 m/s. A supply of less than 1.01·1 µC/m²·3 m/s is raised to
// twice what was found, one of more stays. At most 0.995 of the net is believed, and at most 0.995 of what lies
// beyond the onset. What takes nothing has no strength.
func TestShareFitByHand(t *testing.T) {
	fit := func(s shareLaw, net, share float64, v units.Speed) shareLaw { s.fit(net, share, v); return s }
	for _, c := range []struct {
		what                string
		law                 shareLaw
		net, share          float64
		v                   units.Speed
		wantStrength, wantS float64
	}{
		{"weak supply", shareLaw{factor: 0.5, supply: 1e-7}, 4e-6, 0.25, 3, 1.7260924, 6e-6},
		{"almost enough", shareLaw{factor: 0.5, supply: 3.02e-6}, 4e-6, 0.25, 3, 1.7260924, 6e-6},
		{"enough", shareLaw{factor: 0.5, supply: 3.04e-6}, -4e-6, 0.25, 3, 1.7260924, 3.04e-6},
		{"all", shareLaw{factor: 1, supply: 1e-7}, 4e-6, 1.2, 2, 10.5966347, 15.92e-6},                 // −2·ln 0.005
		{"beyond the onset", shareLaw{factor: 1, supply: 1, onset: 3e-6}, 5e-6, 0.5, 2, 10.5966347, 1}, // 2.5 of 2
		{"share of nothing", shareLaw{factor: 1, supply: 1, strength: 1}, 4e-6, 0, 2, 0, 1},
		{"gave", shareLaw{factor: 1, supply: 1, strength: 1}, 4e-6, -0.1, 2, 0, 1},
		{"over metal", shareLaw{supply: 1, strength: 1, offset: 1e-6}, 4e-6, 0.5, 2, 0, 1},
		{"below the onset", shareLaw{factor: 1, supply: 1, strength: 1, onset: 5e-6}, 4e-6, 0.5, 2, 0, 1},
	} {
		got := fit(c.law, c.net, c.share, c.v)
		byHand(t, c.what+": strength", got.strength, c.wantStrength)
		byHand(t, c.what+": supply", got.supply, c.wantS)
	}
}

// TestSpanOfABar: free web reaches from the roller before to the roller behind, over places and other bars, and at
// the ends from the unwind and to the winder.
func TestSpanOfABar(t *testing.T) {
	roller := StationSpec{Name: "roller", Kind: Roller, At: 2, Roller: &RollerSpec{Radius: 0.05, Kind: BareMetal},
		Change: []ChangeSpec{{Face: FaceA, Spread: 1e-6}}}
	l := made(t, uncharged(place("p", 0.5), place("q", 1), place("r", 1.5), roller, place("s", 2.25), place("t", 2.5)))
	for i, want := range map[int]units.Length{1: 2, 2: 2, 3: 2, 5: 1, 6: 1} {
		if got := l.span(i); got != want {
			t.Errorf("about station %d: %v, by hand %v", i, got, want)
		}
	}
}

// TestAirUseByHand: 0.3 bar over 101,325 Pa of air at 22 °C blow through 1 m² without loss
// √(2γ/(γ−1)·p0ρ0·(r^(2/γ) − r^((γ+1)/γ))) = 265.07 kg/s, r = 0.77156, ρ0 = 1.5501 kg/m³. A slot of 0.1 mm, of which
// the coefficient leaves 0.7, takes 0.018555 kg/(s·m): 2 m of it 0.031121 m³/s of room air of 1.19242 kg/m³. Holes of
// 1 mm at 20 mm have π/4·50 mm² a metre: 0.012221 m³/s.
func TestAirUseByHand(t *testing.T) {
	air, err := humidity.NewAir(units.Celsius(22), 0.3, units.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	slot := Bar{Kind: ionflow.DC, Gauge: 3e4, Slot: 1e-4}
	holes := Bar{Kind: ionflow.DC, Gauge: 3e4, Hole: 1e-3, HolePitch: 0.02}
	for what, c := range map[string]struct {
		bar  Bar
		want float64
	}{"slot": {slot, 0.031121}, "holes": {holes, 0.012221}} {
		use, err := c.bar.AirUse(2, air)
		if err != nil || !(math.Abs(float64(use)/c.want-1) <= 1e-3) {
			t.Errorf("%s: %v, %v, by hand %g m³/s", what, use, err, c.want)
		}
	}
	if _, err := slot.AirUse(0, air); err == nil || !strings.Contains(err.Error(), "width") {
		t.Errorf("no width: %v", err)
	}
	slot.Hole = 1e-3
	if use, err := slot.AirUse(1, air); err == nil || use != 0 {
		t.Errorf("a slot and holes: %v, %v", use, err)
	}
}

// TestSpecOfABar: the ions are those of the middle of their bands, 1.4e-4 and 1.7e-4 m²/(V·s) at 1 atm and 20 °C;
// passive points have the density of the air and no supply.
func TestSpecOfABar(t *testing.T) {
	air, err := humidity.NewAir(units.Celsius(20), 0.3, units.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	passive := Bar{Kind: ionflow.Passive, Current: 1e-4, Pitch: 0.01, Body: 0.05}
	s, err := passive.Spec(0.03, 2, air)
	if err != nil {
		t.Fatal(err)
	}
	byHand(t, "density", s.Points.Delta, 1)
	byHand(t, "most of them", float64(s.Points.Most), 1e-4)
	// Mobility goes as the temperature at one pressure: 20 °C may stand beside another reference.
	if r := float64(s.Ions.Minus / s.Ions.Plus); !(math.Abs(r-1.7/1.4) <= 1e-9) {
		t.Errorf("mobilities %v and %v", s.Ions.Plus, s.Ions.Minus)
	}
	if m := float64(s.Ions.Plus); !(math.Abs(m/1.4e-4-1) <= 0.03) {
		t.Errorf("mobility %v", m)
	}
	if a := float64(s.Ions.Alpha); !(math.Abs(a/1.6e-12-1) <= 0.05) {
		t.Errorf("recombination %v", a)
	}
	for what, spoil := range map[string]func(b *Bar){
		"gauge": func(b *Bar) { b.Gauge = 3e4 }, "voltage": func(b *Bar) { b.Voltage = 5e3 },
		"frequency": func(b *Bar) { b.Frequency = 50 }, "balance": func(b *Bar) { b.Balance = 20 },
		"output": func(b *Bar) { b.Output = 0.5 },
	} {
		b := passive
		spoil(&b)
		if _, err := b.Spec(0.03, 2, air); err == nil || !strings.Contains(err.Error(), "no air, voltage") {
			t.Errorf("passive points with a %s: %v", what, err)
		}
	}
}

// TestRefusedJustBeyond: what lies just beyond a bound, with the words of the refusal.
func TestRefusedJustBeyond(t *testing.T) {
	const most = 1 << 20 // bytes
	for what, c := range map[string]struct {
		spoil func(d *Description)
		want  string
	}{
		"humidity none":   {func(d *Description) { d.Web.Humidity = humidity.Inert - 1 }, "web.humidity"},
		"humidity beyond": {func(d *Description) { d.Web.Humidity = humidity.Absorbing + 1 }, "web.humidity"},
		"order":           {func(d *Description) { d.Stations[0].At = 3.5 }, `stations[1] (winder).at`},
		"no kind": {func(d *Description) { d.Stations[1].Kind = 0 },
			"one of unwind, roller, nip, ioniser, place, winder"},
		"many": {func(d *Description) {
			for len(d.Stations) <= 1000 {
				d.Stations = append(d.Stations, place("p", 1))
			}
		}, "1001 stations"},
		"bare face": {func(d *Description) {
			d.Meters = []Meter{{Name: "m", Kind: FieldMeterKind, Nominal: 0.025}}
		}, "a meter that is not guarded"},
		"wide band": {func(d *Description) {
			d.Web.RelativePermittivity = known.Band{Value: 2, Spread: 100, Kind: known.Normal}
		}, "relativePermittivity.spread: 100: want at most 99"},
	} {
		d := uncharged()
		c.spoil(d)
		if _, err := New(d); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", what, err, c.want)
		}
	}
	for what, c := range map[string]struct{ text, want string }{
		"nothing":   {" \n", `a JSON object with schema "pithball line 1"`},
		"1 MiB":     {"{}" + strings.Repeat(" ", most-2), "air: missing"},
		"1 MiB + 1": {"{}" + strings.Repeat(" ", most-1), "more than 1 MiB"},
	} {
		if _, err := ReadDescription(strings.NewReader(c.text)); err == nil ||
			!strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", what, err, c.want)
		}
	}
}

// TestViewByHand: a display of 2 kV and less ends in tens of volts, a greater one in hundreds; over a roller the
// whole of the charge is seen; a charge without end is refused.
func TestViewByHand(t *testing.T) {
	d := uncharged(place("p", 1), StationSpec{Name: "roller", Kind: Roller, At: 2,
		Roller: &RollerSpec{Radius: 0.05, Kind: BareMetal}, Change: []ChangeSpec{{Face: FaceB, Spread: 1e-6}}})
	d.Meters = []Meter{{Name: "fm", Kind: FieldMeterKind, Nominal: 0.025, Guarded: true},
		{Name: "vm", Kind: VoltmeterKind}}
	l := made(t, d)
	for shown, digit := range map[float64]float64{2000: 10, -2000: 10, 2000.5: 100} {
		byHand(t, fmt.Sprint("last digit at ", shown), l.Noise(&View{OverFilm: true}, shown).Own, digit/math.Sqrt(12))
	}
	w, err := l.View(&Look{Station: "roller", Quantity: OverRoller, Face: FaceA, Running: true, Meter: "vm"})
	if err != nil || w.Edge != 1 || w.OnB != 0 {
		t.Errorf("%+v, %v", w, err)
	}
	// σ·t/(ε0·εr): 1 µC/m² on 20 µm with 2.2 stands at 1.0267355 V.
	byHand(t, "volts over a roller", w.OnA*1e-6, 1.0267355)
	look := Look{Station: "p", Quantity: FieldMeter, Face: FaceA, Distance: 0.025, Running: true, Meter: "fm"}
	for _, a := range []float64{math.Inf(1), math.Inf(-1), math.NaN()} {
		if _, err := l.Expect(&look, units.SurfaceChargeDensity(a), 0); err == nil {
			t.Errorf("a band for %v", a)
		}
	}
}

// TestStartOfTheUnknown: a material that is not held is told as what it is taken for, a density that is given is
// used, be it ever so small, and an unwind with a winder is a line.
func TestStartOfTheUnknown(t *testing.T) {
	a := answers()
	a.Material, a.Stations = "unobtainium", "unwind, winder"
	d, _, err := Start(a)
	if err != nil {
		t.Fatal(err)
	}
	if w := d.Web; w.Density != 1000 || w.RelativePermittivity.Value != 2.5 || w.VolumeResistivity != 1e13 ||
		w.Humidity != humidity.Adsorbing {
		t.Errorf("%+v", w)
	}
	a.Density = 1
	if d, _, err = Start(a); err != nil || d.Web.Density != 1 {
		t.Errorf("density %v: %v", d.Web.Density, err)
	}
}

// A line goes from an unwind to a winder, and so do its words.
func TestWordsOfALine(t *testing.T) {
	for _, words := range []string{"idler, winder", "unwind, idler", "unwind", "winder", "", "winder, unwind"} {
		a := answers()
		a.Stations = words
		if _, _, err := Start(a); err == nil || !strings.Contains(err.Error(), "words with commas from unwind to winder") {
			t.Errorf("%q: %v", words, err)
		}
	}
}
