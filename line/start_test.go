package line

import (
	"slices"
	"strings"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func answers() Answers {
	return Answers{Name: "slitter", Material: "BOPP", Thickness: 20 * units.Micrometre, Width: 1.25,
		Speed:   220 * units.MetrePerMinute,
		Trouble: TroubleShock, Stations: "unwind, idler, bar, nip, winder", Temperature: units.Celsius(22),
		RelativeHumidity: 0.3}
}

// A starter has the stations of the words with a place behind each, and lists what it took.
func TestStart(t *testing.T) {
	d, assumed, err := Start(answers())
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, s := range d.Stations {
		names = append(names, s.Name)
	}
	want := []string{"unwind", "after unwind", "idler 1", "after idler 1", "bar 1", "after bar 1", "nip 1",
		"after nip 1", "winder"}
	if !slices.Equal(names, want) {
		t.Errorf("%q", names)
	}
	if d.Web.Density != 905 || d.Limit.Kind != ClingLimit || d.Stations[2].At != 0.6 {
		t.Errorf("%+v", d.Web)
	}
	for _, field := range []string{"web.volumeResistivity", "stations[].at", "meters", "idler 1 touches", "limit"} {
		if !slices.ContainsFunc(assumed, func(a Assumption) bool {
			return a.Field == field && a.Value != "" &&
				a.Range != ""
		}) {
			t.Errorf("%s is taken and not told", field)
		}
	}
	a := answers()
	a.Material, a.Trouble, a.Stations = "unobtainium", TroubleMisplaced, "unwind, brush, winder"
	if d, _, err = Start(a); err != nil || d.Limit.Kind != OwnLimit || !d.Stations[2].Ioniser.Passive {
		t.Errorf("%+v %v", d, err)
	}
	for field, spoil := range map[string]func(*Answers){
		"stations":    func(a *Answers) { a.Stations = "idler, winder" },
		"stations[1]": func(a *Answers) { a.Stations = "unwind, dragon, winder" },
		"trouble":     func(a *Answers) { a.Trouble = 99 },
		"thickness":   func(a *Answers) { a.Thickness = 0 },
		"speed":       func(a *Answers) { a.Speed = -1 },
	} {
		a := answers()
		spoil(&a)
		if _, _, err := Start(a); err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// TestStarterIsAsTold: what a starter takes is what it tells: 0.6 m from station to station and a place half-way,
// metal rollers of Ø 100 mm with 200 pF that spark over at 7 kV, contacts of nothing ± 3 µC/m² (nip 12, unwind 5)
// with an exponent of 0.5 ± 0.3, a bar on face A 25 mm off in mid-span, a guarded meter of 25 mm with 6 %, 40 V, 3 mm
// and 25 %; the limits are 2.5 kV/in·ε0 = 98425 V/m·8.854e-12 = 0.871464 µC/m² and 20 kV/cm·ε0 = 17.7084 µC/m².
func TestStarterIsAsTold(t *testing.T) {
	const uC = units.MicrocoulombPerSquareMetre
	a := answers()
	a.Stations, a.Meter = "unwind, idler, nip, bar, brush, roller, winder", No
	d, assumed, err := Start(a)
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]*StationSpec{}
	for i := range d.Stations {
		at[d.Stations[i].Name] = &d.Stations[i]
	}
	for i, name := range []string{"unwind", "idler 1", "nip 1", "bar 1", "brush 1", "roller 1", "winder"} {
		byHand(t, "place of "+name, float64(at[name].At), 0.6*float64(i))
		if p := at["after "+name]; p != nil {
			byHand(t, "place behind "+name, float64(p.At), 0.6*float64(i)+0.3)
			byHand(t, "gap behind "+name, float64(p.Gap), 0.3)
		} else if name != "winder" {
			t.Errorf("nothing to read behind %s", name)
		}
	}
	for name, spread := range map[string]units.SurfaceChargeDensity{"unwind": 5 * uC, "idler 1": 3 * uC, "nip 1": 12 * uC,
		"roller 1": 3 * uC} {
		for _, c := range at[name].Change {
			if c.Median != 0 || c.Spread != spread || c.Speed != (known.Band{Value: 0.5, Spread: 0.3, Kind: known.Normal}) {
				t.Errorf("%s: %+v", name, c)
			}
		}
	}
	// Idlers alternate from the unwind on: the second word touches B, the sixth too, the third would A.
	if f := at["idler 1"].Change[0].Face; f != FaceB || at["roller 1"].Change[0].Face != FaceB {
		t.Errorf("the idler touches %v", f)
	}
	if r := *at["idler 1"].Roller; r != (RollerSpec{Radius: 50 * units.Millimetre, Kind: BareMetal,
		Capacity: 200 * units.Picofarad, Sparkover: 7 * units.Kilovolt}) {
		t.Errorf("%+v", r)
	}
	if r := *at["nip 1"].Roller; r != (RollerSpec{Radius: 60 * units.Millimetre, Kind: BareMetal,
		Capacity: 200 * units.Picofarad, Sparkover: 7 * units.Kilovolt}) {
		t.Errorf("%+v", r)
	}
	bar := IonSpec{Face: FaceA, Distance: 25 * units.Millimetre, Conductivity: units.Conductivity(1.6e-9),
		Zone: 50 * units.Millimetre, Supply: 300 * units.MicroamperePerMetre}
	if *at["bar 1"].Ioniser != bar || at["bar 1"].Gap != 300*units.Millimetre {
		t.Errorf("%+v", *at["bar 1"].Ioniser)
	}
	bar.Passive, bar.Onset = true, 1.5*uC
	if *at["brush 1"].Ioniser != bar {
		t.Errorf("%+v", *at["brush 1"].Ioniser)
	}
	if m := d.Meters[1]; len(d.Meters) != 2 || m != (Meter{Name: "voltmeter", Kind: VoltmeterKind, FullScale: 500,
		Gain: 0.04, Offset: 3 * units.Volt, Spots: 0.25}) {
		t.Errorf("%+v", m)
	}
	if m := d.Meters[0]; m != (Meter{Name: "field meter", Kind: FieldMeterKind, Nominal: 25 * units.Millimetre,
		Guarded:   true,
		FullScale: 20e3, Gain: 0.06, Offset: 40 * units.Volt, Placing: 3 * units.Millimetre, Spots: 0.25}) {
		t.Errorf("%+v", m)
	}
	if d.Web.ThicknessSpread != 0.03 || d.Web.RelativePermittivity != (known.Band{Value: 2.2, Spread: 0.05,
		Kind: known.LogNormal}) {
		t.Errorf("%+v", d.Web)
	}
	if i := slices.IndexFunc(assumed, func(a Assumption) bool { return a.Field == "meters" }); !strings.Contains(
		assumed[i].Value, "none at hand") {
		t.Errorf("%+v", assumed[i])
	}
	for trouble, want := range map[Trouble]float64{TroubleMisplaced: 0.871464e-6, TroubleSparkMark: 17.7084e-6} {
		a := answers()
		a.Trouble, a.Density, a.Meter = trouble, 950, Yes
		d, _, err := Start(a)
		if err != nil {
			t.Fatal(err)
		}
		byHand(t, "limit of "+trouble.String(), float64(d.Limit.Net), want)
		if d.Web.Density != 950 {
			t.Errorf("density %v", d.Web.Density)
		}
	}
	a = answers()
	a.Stations = "unwind, nip, idler, winder"
	if d, _, err = Start(a); err != nil || d.Stations[4].Change[0].Face != FaceA {
		t.Errorf("%v %+v", err, d)
	}
}

// TestFaultsOfTheAnswers: a fault of what was answered is told beside any other, by the name of the answer; one of the
// description alone only if no answer explains it.
func TestFaultsOfTheAnswers(t *testing.T) {
	a := answers()
	a.Trouble, a.Speed = Trouble(99), -1 // a limit of its own follows from the trouble
	if _, _, err := Start(a); err == nil || !strings.Contains(err.Error(), "trouble: ") ||
		!strings.Contains(err.Error(), "speed: ") || strings.Contains(err.Error(), "limit: ") {
		t.Errorf("got %v, want trouble and speed, and not limit", err)
	}
	a = answers()
	a.Stations = "unwind, idler, unwind, winder" // each answer is in order: one line has two unwinds
	if _, _, err := Start(a); err == nil || !strings.Contains(err.Error(), "stations[4]") {
		t.Errorf("got %v, want the second unwind", err)
	}
}
