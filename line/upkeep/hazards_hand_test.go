package upkeep

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/charge/gas"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

func contains(s, want string) bool { return strings.Contains(s, want) }

// decided is an answer to the first question that says what and by whom.
func decided(f Flammables, z Zone) SafetyAnswers {
	return SafetyAnswers{Flammables: f, Zone: z, DecidedBy: "EHS officer"}
}

// The first line tells the answer as it was given, and stays open until it is whole.
func TestApprovalInWords(t *testing.T) {
	for _, c := range []struct {
		site SafetyAnswers
		open bool
		want string
	}{
		{SafetyAnswers{}, true, "safety.zone: not answered: until then only earthing and reading"},
		{SafetyAnswers{Zone: NoZone}, true, "safety.flammables: not answered: until then only earthing and reading"},
		{SafetyAnswers{Zone: NoZone, Flammables: NoFlammables}, true,
			"safety.decidedBy: nobody has decided: until then only earthing and reading"},
		{decided(NoFlammables, NoZone), false, "flammables and zone: none, decided by EHS officer"},
		{decided(FlammableGas, NoZone), false, "gas, zone none, decided by EHS officer"},
		{decided(NoFlammables, Zone2), false, "none, zone 2, decided by EHS officer"},
	} {
		got := hazards(t, shortLine(), c.site, nil)[0]
		if got.Notice.Figure != c.want || got.Open != c.open {
			t.Errorf("%+v: %q, want %q", c.site, got.Notice.Figure, c.want)
		}
	}
}

// A metal roller is listed if it is isolated or was not measured, a covered one if it was measured isolated; people
// always.
func TestConductorsByHand(t *testing.T) {
	covered := shortLine()
	covered.Stations[1].Roller.Kind = line.InsulatingCover
	for _, c := range []struct {
		name  string
		d     *line.Description
		found *survey.Diagnosis
		want  []string
	}{
		{"nothing read", shortLine(), nil, []string{"idler: resistance to earth not measured"}},
		{"not measured", shortLine(), ground(survey.GroundFinding{Station: 1}),
			[]string{"idler: resistance to earth not measured"}},
		{"earthed", shortLine(), ground(survey.GroundFinding{Station: 1, Measured: true, Resistance: 500}), nil},
		{"isolated", shortLine(), ground(survey.GroundFinding{Station: 1, Measured: true, Resistance: 5e9, Isolated: true}),
			[]string{"idler: 5 GΩ to earth; what it charges to is not known"}},
		{"beyond the meter", shortLine(), ground(survey.GroundFinding{Station: 1, Measured: true, Resistance: 2e9,
			Isolated: true, AtLeast: true}), []string{"idler: at least 2 GΩ to earth; what it charges to is not known"}},
		{"cover", covered, nil, nil},
		{"cover, isolated", covered, ground(survey.GroundFinding{Station: 1, Measured: true, Resistance: 5e9,
			Isolated: true}),
			[]string{"idler: 5 GΩ to earth; what it charges to is not known"}},
	} {
		got := (&scene{c.d, &SafetyAnswers{}, c.found}).conductors()
		var figures []string
		for _, h := range got[:len(got)-1] {
			figures = append(figures, h.Notice.Figure)
			if h.Open != contains(h.Notice.Figure, "not measured") || h.Station != "idler" {
				t.Errorf("%s: %+v", c.name, h)
			}
		}
		if last := got[len(got)-1]; !slices.Equal(figures, c.want) || !contains(last.Notice.Figure, "people") || !last.Open {
			t.Errorf("%s: %q, want %q", c.name, figures, c.want)
		}
	}
}

func ground(g ...survey.GroundFinding) *survey.Diagnosis { return &survey.Diagnosis{Ground: g} }

// What a spark of 4.9 mJ is told beside: 25 times 0.2 mJ where nobody says what is there, 306 times the 16 µJ of
// hydrogen (the table of BGR 132) where it is named, nothing where flammables are excluded. Of two isolated rollers
// the one whose spark is stronger comes first: through 2 MΩ idler 4 stays at some volts.
func TestSparksByHand(t *testing.T) {
	d, found := demoPlant(t)
	named := decided(FlammableGas, Zone1)
	named.Substance = "hydrogen"
	for _, c := range []struct {
		site         SafetyAnswers
		with, absent string
	}{
		{SafetyAnswers{}, "25 times 200 µJ, from which ordinary vapours ignite", "least ignition energy"},
		{named, "3.1e+02 times the least ignition energy of hydrogen", "ordinary vapours"},
		{decided(NoFlammables, NoZone), "charges to 7 kV and 4.9 mJ", "times"},
	} {
		h := (&scene{d, &c.site, found}).conductors()[0]
		if !contains(h.Notice.Figure, c.with) || contains(h.Notice.Figure, c.absent) ||
			!(math.Abs(float64(h.Energy)-4.9e-3) <= 1e-6) {
			t.Errorf("%+v", h)
		}
	}
	i := slices.IndexFunc(d.Stations, func(s line.StationSpec) bool { return s.Name == "idler 5" })
	of := slices.IndexFunc(found.Ground, func(g survey.GroundFinding) bool { return g.Station == i })
	weak := found.Ground[of]
	weak.Station, weak.Resistance = i-1, 2*units.Megohm
	two := *found
	two.Ground = []survey.GroundFinding{weak, found.Ground[of]}
	list := (&scene{d, &SafetyAnswers{}, &two}).conductors()
	if list[0].Station != "idler 5" || list[1].Station != "idler 4" || !(list[1].Energy > 0 && list[1].Energy < 1e-6) {
		t.Errorf("%s and %s", list[0].Notice.Figure, list[1].Notice.Figure)
	}
	weak.Resistance = found.Ground[of].Resistance // as strong: in the order of the path
	two.Ground = []survey.GroundFinding{found.Ground[of], weak}
	list = (&scene{d, &SafetyAnswers{}, &two}).conductors()
	if list[0].Station != "idler 4" || list[1].Station != "idler 5" || list[0].Energy != list[1].Energy {
		t.Errorf("%s and %s", list[0].Notice.Figure, list[1].Notice.Figure)
	}
	shock := (&scene{d, &SafetyAnswers{}, found}).shock()
	if len(shock) != 1 || shock[0].Notice.Figure != "idler 5: 4.9 mJ at 7 kV" || shock[0].Open {
		t.Errorf("%+v", shock)
	}
}

// Of insulating goods the roll at the end is told, and that it was not read; with earthed metal inside; where
// flammables are not excluded the goods themselves.
func TestBrushInWords(t *testing.T) {
	const earthed = "; metal inside the roll only delays it"
	inside := shortLine()
	inside.Stations[3].Earthed = true
	for _, c := range []struct {
		d     *line.Description
		site  SafetyAnswers
		found *survey.Diagnosis
		want  []string
		open  []bool
	}{
		{shortLine(), decided(NoFlammables, NoZone), nil,
			[]string{"winder: what the wound roll or pile carries was not read"},
			[]bool{true}},
		{inside, decided(FlammableGas, Zone2), nil,
			[]string{"winder: what the wound roll or pile carries was not read" + earthed,
				"insulating goods, and flammables are not excluded"}, []bool{true, false}},
		{shortLine(), SafetyAnswers{}, &survey.Diagnosis{}, []string{"winder: reaches the strength of the air as it grows " +
			"only if more charge comes", "insulating goods, and flammables are not excluded"}, []bool{false, true}},
		{conducting(), SafetyAnswers{}, nil, nil, nil},
	} {
		var figures []string
		var open []bool
		for _, h := range (&scene{c.d, &c.site, c.found}).brush() {
			figures, open = append(figures, h.Notice.Figure), append(open, h.Open)
		}
		if !slices.Equal(figures, c.want) || !slices.Equal(open, c.open) {
			t.Errorf("%q %v, want %q %v", figures, open, c.want, c.open)
		}
	}
}

// The bound B of a cover is that of the gas over 10 mm of ε_r 3. A cover of 50 mm radius turns in 2π·0.05 m/(2 m/s) =
// 0.15708 s; one that leaks with 0.22662 s keeps a half in it, so that of a change of 3·B 2.5·B leave it through the
// air: times 2 m/s and 1 m. What no more than leaks leaves nothing to the air, and nobody knows it without a
// diagnosis.
func TestCoverByHand(t *testing.T) {
	_, bound, _ := gas.CapBackedLimits(10*units.Millimetre, 3, 1)
	d := shortLine()
	d.Stations[1].Roller.Kind, d.Stations[1].Roller.Cover = line.InsulatingCover, units.Time(0.1570796/math.Ln2)
	for change, want := range map[float64]float64{3: 2.5, -3: 2.5, 0.49: 0, 0: 0} {
		found := &survey.Diagnosis{Speed: 2, Changes: []survey.FaceGain{gained(0, 1), gained(1, change*float64(bound)),
			gained(1, 0)}}
		got, ok := (&scene{d, &SafetyAnswers{}, found}).gasCurrent(1)
		near(t, "current", float64(got)/float64(bound), 2*want, 1e-6)
		if ok != (want > 0) {
			t.Errorf("%g bounds: %v, %t", change, got, ok)
		}
	}
	if _, ok := (&scene{d, &SafetyAnswers{}, nil}).gasCurrent(1); ok {
		t.Error("a current without a diagnosis")
	}
	// In words: 1 mC/m² at 2 m²/s is 2 mA, less what leaks; or that nobody knows it.
	unread := (&scene{d, &SafetyAnswers{}, nil}).propagating()
	if len(unread) != 1 || unread[0].Notice.Figure != "idler: insulating cover on a core, its charge not known" ||
		!unread[0].Open {
		t.Errorf("%+v", unread)
	}
	read := (&scene{d, &SafetyAnswers{}, &survey.Diagnosis{Speed: 2, Changes: []survey.FaceGain{gained(1,
		1e-3)}}}).propagating()
	if len(read) != 1 || !contains(read[0].Notice.Figure, "insulating cover on a core, about 1.9 mA leaves it") ||
		read[0].Open {
		t.Errorf("%+v of bound %v", read, bound)
	}
}

// gained is a change of a face at a station [C/m²].
func gained(station int, x float64) survey.FaceGain {
	return survey.FaceGain{Unknown: line.Unknown{Station: station}, Found: survey.Estimate{Value: x}}
}

// What can stand behind a nip or a bar, and liners in the way of powder.
func TestPropagatingInWords(t *testing.T) {
	bar := withBar(false)
	bar.Stations[1].Kind = line.Nip
	for _, c := range []struct {
		d    *line.Description
		site SafetyAnswers
		want string
		open bool
	}{
		{bar, SafetyAnswers{}, "faces not read; opposite charge can stand behind idler, bar", true},
		{shortLine(), SafetyAnswers{Goods: PowderGoods}, "insulating liners or coats on metal in the way of the goods", true},
		{shortLine(), SafetyAnswers{Goods: PowderGoods, Liner: line.Yes},
			"insulating liners or coats on metal in the way of the goods", false},
		{shortLine(), SafetyAnswers{Goods: PowderGoods, Liner: line.No}, "", false},
		{shortLine(), SafetyAnswers{Goods: PartGoods, Liner: line.Yes}, "", false},
		{shortLine(), SafetyAnswers{}, "", false},
	} {
		got := (&scene{c.d, &c.site, nil}).propagating()
		if c.want == "" {
			if len(got) != 0 {
				t.Errorf("%+v: %+v", c.site, got)
			}
			continue
		}
		if len(got) != 1 || got[0].Notice.Figure != c.want || got[0].Open != c.open {
			t.Errorf("%+v: %+v", c.site, got)
		}
	}
}

// Bulk in a vessel is told unless nobody heaps any; of goods other than powder only where somebody says so.
func TestConeByHand(t *testing.T) {
	for _, c := range []struct {
		site         SafetyAnswers
		listed, open bool
	}{{SafetyAnswers{}, false, false}, {SafetyAnswers{Silo: line.Yes}, true, false},
		{SafetyAnswers{Goods: PartGoods}, false, false},
		{SafetyAnswers{Goods: PowderGoods}, true, true}, {SafetyAnswers{Goods: PowderGoods, Silo: line.Yes}, true, false},
		{SafetyAnswers{Goods: PowderGoods, Silo: line.No}, false, false}} {
		got := (&scene{site: &c.site}).cone()
		if (len(got) == 1) != c.listed || c.listed && got[0].Open != c.open {
			t.Errorf("%+v: %+v", c.site, got)
		}
	}
}

// A bar is listed in a zone unless its certificate is named and somebody has answered for the zone; which notices an
// ioniser raises hangs on its supply, and each says of whom.
func TestIonisersByHand(t *testing.T) {
	for _, c := range []struct {
		name string
		d    *line.Description
		site SafetyAnswers
		code string
		want string // "" for none
		open bool
	}{
		{"excluded", withBar(false), decided(NoFlammables, NoZone), "ioniser-in-zone", "", false},
		{"zone", withBar(false), decided(FlammableGas, Zone2), "ioniser-in-zone", "bar: no certificate is named", false},
		{"nobody said", withBar(false), SafetyAnswers{Certified: []string{"bar"}}, "ioniser-in-zone",
			"bar: no certificate is named", true},
		{"high voltage", withBar(false), SafetyAnswers{}, "high-voltage", "bar", false},
		{"no supply", withBar(true), SafetyAnswers{}, "high-voltage", "", false},
		{"passive", withBar(true), SafetyAnswers{}, "radioactive", "bar: whether it is radioactive is not answered", true},
		{"supplied", withBar(false), SafetyAnswers{}, "radioactive", "", false},
		{"air", withBar(false), SafetyAnswers{}, "compressed-air", "bar: whether it blows air is not answered", true},
		{"air, yes", withBar(false), SafetyAnswers{BlownAir: line.Yes}, "compressed-air", "bar", false},
		{"air, no", withBar(false), SafetyAnswers{BlownAir: line.No}, "compressed-air", "", false},
	} {
		list := hazards(t, c.d, c.site, nil)
		i := slices.Index(codes(list), c.code)
		if (i >= 0) != (c.want != "") || i >= 0 && (list[i].Notice.Figure != c.want || list[i].Open != c.open) {
			t.Errorf("%s: %d in %v", c.name, i, codes(list))
		}
	}
}
