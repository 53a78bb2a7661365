package cure

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Most draws rule; of none nothing does.
func TestMostOfTheDraws(t *testing.T) {
	for _, c := range []struct {
		draws []line.Mechanism
		want  line.Mechanism
	}{{nil, line.Nothing}, {[]line.Mechanism{line.Nothing, line.Nothing, line.Transfer}, line.Transfer},
		{[]line.Mechanism{line.Transfer, line.GasCap, line.Nothing, line.GasCap}, line.GasCap},
		{[]line.Mechanism{line.GasCap, line.GasCap, line.Transfer}, line.GasCap}} {
		if got := most(c.draws); got != c.want {
			t.Errorf("%v: %v, by hand %v", c.draws, got, c.want)
		}
	}
}

// Of 5 µC/m² less an offset of −1 a passive bar that sees half of it, with an onset of 1 µC/m², has 6 − 1/0.5 = 4
// beyond its onset; a powered one has 6.
func TestBeyondTheOnset(t *testing.T) {
	b := &bar{factor: 0.5, offset: same(-1e-6), onset: 1e-6}
	near(t, "passive", b.seen(0, 5e-6)/micro, 4, 1e-9)
	b.onset = 0
	near(t, "powered", b.seen(0, 5e-6)/micro, 6, 1e-9)
}

// PLA-2: between rollers of 100 mm, 0.8 m apart, 400 mm is best, and 185 … 615 mm give 95 % of it.
func TestBestSpotByTheTable(t *testing.T) {
	s, err := BestSpot(50*units.Millimetre, 50*units.Millimetre, 0.8, 25*units.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "best", float64(s.At), 0.4, 1e-3)
	near(t, "from", float64(s.From), 0.185, 5e-3)
	near(t, "to", float64(s.To), 0.615, 5e-3)
}

// Without a roller or nip no contact leads, and no load, wrap or cover is offered.
func TestNoContactLeads(t *testing.T) {
	m, err := Assume(lineOf(t, barLine(strong(), nil)), ptr(nobody()))
	if err != nil {
		t.Fatal(err)
	}
	if s := m.leading(); s != -1 {
		t.Errorf("station %d leads", s)
	}
	for _, c := range planned(t, m, Aim{}).Cures {
		if c.Step == AtSource {
			t.Errorf("%v of a line without contacts", c)
		}
	}
}

func lineOf(t *testing.T, d *line.Description) *line.Line {
	t.Helper()
	l, err := line.New(d)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func ptr[T any](x T) *T { return &x }

// A bar that goes is struck off where it stood switched off; the others stay.
func TestOffAfterRemoval(t *testing.T) {
	m := free(t, nil)
	at := m.station("A2 mid span, bar B1 off")
	if got := try(t, m, Remove{Station: "bar B2"}).desc.Stations; !slices.Equal(
		got[try(t, m, Remove{Station: "bar B2"}).station("A2 mid span, bar B1 off")].Off, []string{"bar B1"}) {
		t.Errorf("without B2: %+v", got)
	}
	gone := try(t, m, Remove{Station: "bar B1"})
	if off := gone.desc.Stations[gone.station("A2 mid span, bar B1 off")].Off; len(off) != 0 {
		t.Errorf("without B1: off %q", off)
	}
	if off := m.desc.Stations[at].Off; !slices.Equal(off, []string{"bar B1"}) {
		t.Errorf("the line itself: off %q", off)
	}
}

// Switching off needs no answer on the zone, switching on what was off does.
func TestSwitchAndTheZone(t *testing.T) {
	m := plant(t, nil)
	m.site = Site{}
	off := try(t, m, Switch{Station: "bar B1"})
	if _, err := off.Try(Switch{Station: "bar B1", On: true}); err == nil ||
		!strings.Contains(err.Error(), "safety.zone") {
		t.Errorf("%v", err)
	}
	try(t, m, Switch{Station: "bar B1", On: true}) // it is on already
}

// A bar without data is as good as its like one in half of the draws: with the like one far stronger, half of the
// strengths change, to within 4·√(0.25/2000).
func TestCleanInHalf(t *testing.T) {
	m := free(t, func(d *line.Description) {
		for i := range d.Stations {
			if s := &d.Stations[i]; s.Name == "bar B2" {
				s.Ioniser = &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre, Conductivity: 1.6e-9,
					Zone: 50 * units.Millimetre, Supply: 3e-4}
			}
		}
	})
	s := m.station("bar B1")
	for i := range m.stages[s].bar.twin {
		m.stages[s].bar.twin[i] = 100
	}
	then := try(t, m, Clean{Station: "bar B1"})
	changed := 0
	for i := range Draws {
		if then.stages[s].bar.strength[i] != m.stages[s].bar.strength[i] {
			changed++
		}
	}
	near(t, "share of the draws", float64(changed)/Draws, 0.5, 0.045)
}

// An earthed core goes into a winder and nowhere else, and the net stays.
func TestShieldOfAWinder(t *testing.T) {
	m := free(t, nil)
	then := try(t, m, Shield{Station: "winder"})
	if !then.desc.Stations[then.station("winder")].Earthed || m.desc.Stations[m.station("winder")].Earthed {
		t.Error("the core of the winder")
	}
	if a, b := m.Predict().Stations, then.Predict().Stations; a[len(a)-1].Net != b[len(b)-1].Net {
		t.Error("an earthed core takes charge off")
	}
	var f *known.FieldError
	if _, err := m.Try(Shield{Station: "idler 2"}); !errors.As(err, &f) || f.Field != "changes[0].station" {
		t.Errorf("%v", err)
	}
}

// What nobody gave of a device is named, and nothing else.
func TestMissingOfADevice(t *testing.T) {
	all := Device{Power: 60, Current: 1e-4, Yield: 5e-6, Air: 1e-3, Noise: 70, Price: 1000}
	for what, c := range map[string]struct {
		device   Device
		freshAir units.VolumeFlow
		passive  bool
		want     []string
	}{
		"all":          {all, 1, false, nil},
		"hall unknown": {all, 0, false, []string{"ozone"}},
		"no current":   {Device{Power: 60, Yield: 5e-6, Air: 1e-3, Noise: 70, Price: 1000}, 1, false, []string{"ozone"}},
		"no yield":     {Device{Power: 60, Current: 1e-4, Air: 1e-3, Noise: 70, Price: 1000}, 1, false, []string{"ozone"}},
		"nothing":      {Device{}, 1, false, []string{"power", "ozone", "compressed air, if", "noise", "price"}},
		"passive":      {Device{}, 1, true, []string{"price"}},
	} {
		var s SideEffects
		x := &taken{s: &s, p: &Prices{FreshAir: c.freshAir}}
		x.unknown("bar", &line.IonSpec{Passive: c.passive}, &c.device)
		got := ""
		for _, n := range s.Notices {
			if strings.Contains(n, "not given") {
				got = n
			}
		}
		for _, w := range []string{"power", "ozone", "compressed air, if", "noise", "price"} {
			if strings.Contains(got, w) != slices.Contains(c.want, w) {
				t.Errorf("%s: %q, want %q named", what, got, c.want)
			}
		}
	}
}

// A body is where its stop says: at a given humidity, in the named air, or as the stop has it.
func TestHumidityOfAStop(t *testing.T) {
	g := exact(t, 1.74)
	r := route(t, g)
	near(t, "given", r.humidityAt(&Stop{Air: "duct", At: 0.45}, 0, 30), 30, 0)
	near(t, "as the stop has it", r.humidityAt(&Stop{At: 0.45}, 0, 0), 45, 1e-12)
	near(t, "named", r.humidityAt(&Stop{Air: "duct", At: 0.9}, 0, 0), 29.5, 0.01)
}

// The chance of a patch is that behind the last stop, where a bar has taken 2 µC/m off to 0.5, and not before.
func TestPatchBehindTheLastStop(t *testing.T) {
	g := &Goods{Schema: GoodsSchema, Name: "tube", Kind: ProfileBody, Speed: 3, Limit: 1e-6, Stations: []Stop{
		{Name: "die", Kind: DieStop, Change: known.Band{Value: 2e-6}},
		{Name: "bar", Kind: IoniserStop, Nozzle: &IonStream{Distance: 0.01, Air: 20, HalfRadius: 0.5, Supply: 4.5e-6}},
		{Name: "coiler", Kind: CoilerStop, Change: known.Band{Value: 1e-6}}},
		Patches: []BodyPatch{{"side", 1, 1}}}
	p := route(t, g).PredictPatches(0)[0]
	last := p.Stops[len(p.Stops)-1]
	if p.Ends != last.Over || last.Over != 1 || p.Stops[1].Over != 0 {
		t.Errorf("ends %v, stops %+v", p.Ends, p.Stops)
	}
}

// More than 1 A charges no conductor of a plant; a cure without a change is read as one.
func TestGoodsEdges(t *testing.T) {
	g := exact(t, 1.74)
	g.Conductors = []Metal{{Name: "frame", Current: 1.5}}
	if _, err := NewRoute(g, nil); err == nil || !strings.Contains(err.Error(), "conductors[0].current") {
		t.Errorf("%v", err)
	}
	for _, text := range []string{`{"Step":"earth","What":"earth the frame"}`,
		`{"Change":null,"What":"earth the frame"}`} {
		c := GoodsCure{Change: Pace{1}}
		if err := json.Unmarshal([]byte(text), &c); err != nil || c.Change != nil || c.What != "earth the frame" {
			t.Errorf("%s: %+v, %v", text, c, err)
		}
	}
}

// A passive bar that was found to leave 2.6 of 3 µC/m² leaves that again: what it takes of is the net beyond its dead
// band, and the band is added back.
func TestPassiveFoundAgain(t *testing.T) {
	passive := &line.Bar{Kind: ionflow.Passive, Pitch: 5 * units.Millimetre, Body: 50 * units.Millimetre,
		Tip: 50 * units.Micrometre}
	for _, sign := range []float64{1, -1} {
		f := found{speed: 4, low: 4, high: 4, exposed: true,
			changes: []column{same(sign * 8e-6), same(0), same(-sign * 1e-6)}}
		site := nobody()
		m, err := build(barLine(passive, nil), f, &site)
		if err != nil {
			t.Fatal(err)
		}
		lo, hi := m.stages[1].bar.curve.place.DeadBand()
		if !(lo < 0 && hi > 0) {
			t.Fatalf("dead band %v … %v", lo, hi)
		}
		near(t, "left", behindBar(m)/micro, sign*7, 1e-3)
	}
}

// The charge of each body has its unit, that of none has no unit.
func TestUnitsOfBodies(t *testing.T) {
	for k, want := range map[BodyKind]string{SheetBody: "C/m²", ProfileBody: "C/m", PartBody: "C", DoseBody: "C/kg",
		200: ""} {
		if got := k.unit(); got != want {
			t.Errorf("%v: %q, want %q", k, got, want)
		}
	}
}
