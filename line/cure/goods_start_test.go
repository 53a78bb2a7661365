package cure

import (
	"strings"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
)

// answersOf are eight answers for each body.
func answersOf(kind BodyKind) GoodsAnswers {
	a := GoodsAnswers{Name: "a " + kind.String(), Kind: kind, Moisture: AbsorbingMoisture, Temperature: units.Celsius(22),
		RelativeHumidity: 0.3, Limit: 1e-7}
	switch kind {
	case SheetBody:
		a.Rate, a.Basis, a.Limit, a.Stations = 3, 0.1, 0, "pile, pick, roller, board, stack"
	case PartBody:
		a.Rate, a.Stations = 1, "mould, slide, ioniser, drop, bin"
	case ProfileBody:
		a.Speed, a.Stations = 2, "die, roller, haul-off, ioniser, coiler"
	case DoseBody:
		a.Rate, a.Mass, a.Tolerance, a.Limit, a.Stations = 1, 0.012, 1e-4, 0, "hopper, slide, slide, container"
	}
	return a
}

// TestStartGoods: eight answers make a description of each body that runs, says what it
// assumed, names no source before a reading, and finds it with one.
func TestStartGoods(t *testing.T) {
	for kind, at := range map[BodyKind]string{SheetBody: "pick", PartBody: "slide", ProfileBody: "haul-off",
		DoseBody: "slide 2"} {
		g, assumed, err := StartGoods(answersOf(kind))
		if err != nil {
			t.Fatalf("%s: %v", kind, err)
		}
		var fields []string
		for _, a := range assumed {
			fields = append(fields, a.Field)
		}
		if all := strings.Join(fields, " "); !strings.Contains(all, "stations[].change") || !strings.Contains(all, "leak") ||
			!strings.Contains(all, "conductors") {
			t.Errorf("%s: assumed %s", kind, all)
		}
		if s := route(t, g).Sources(); s[0].Chance > 0.7 {
			t.Errorf("%s: %+v without a reading", kind, s[0])
		}
		before := ""
		for i := range g.Stations {
			if g.Stations[i].Name == at {
				before = g.Stations[i-1].Name
			}
		}
		step := 4 * bodies[kind].guess
		g.Readings = []GoodsReading{{Station: before, Charge: 0.01 * step, Spread: 0.01 * step},
			{Station: at, Charge: step, Spread: 0.05 * step}}
		if s := route(t, g).Sources(); s[0].Name != at || s[0].Chance < 0.9 {
			t.Errorf("%s: %+v, want %s", kind, s[0], at)
		}
	}
	for want, spoil := range map[string]func(*GoodsAnswers){"kind": func(a *GoodsAnswers) { a.Kind = 9 },
		"moisture": func(a *GoodsAnswers) { a.Moisture = 9 }, "name": func(a *GoodsAnswers) { a.Name = " " },
		"rate":             func(a *GoodsAnswers) { a.Rate = 0 },
		"stations[1]: hop": func(a *GoodsAnswers) { a.Stations = "pile, hop, stack" }} {
		a := answersOf(SheetBody)
		spoil(&a)
		if _, _, err := StartGoods(a); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
	a := answersOf(SheetBody)
	a.Moisture = InertMoisture
	if g, _, err := StartGoods(a); err != nil || g.Leak.Class != humidity.Inert || g.Leak.Decades != 0 {
		t.Errorf("%+v %v", g, err)
	}
	for m, class := range map[MoistureAnswer]humidity.Class{UnknownMoisture: humidity.Absorbing,
		AdsorbingMoisture: humidity.Adsorbing, AbsorbingMoisture: humidity.Absorbing} {
		if a.Moisture = m; m.class() != class {
			t.Errorf("%v is taken as %v", m, m.class())
		}
		if g, _, err := StartGoods(a); err != nil || g.Leak.Class != class {
			t.Errorf("%v: %+v %v", m, g, err)
		}
	}
}
