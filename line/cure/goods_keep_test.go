package cure

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/humidity"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func kept(t *testing.T, r *Route, care GoodsCare) *GoodsUpkeep {
	t.Helper()
	u, err := r.Keep(care)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// TestKeepSheets: by hand. A sheet gets 6 µC/m² and has 0.3 s (12,000 an hour) on an earthed board, τ = 10^(2.9 −
// 0.085·RH) s;
// it is below 1.74 µC/m² from RH = (2.9 − lg(t/ln(6/1.74)))/0.085 on: 41.4 %, and 42.5 % at 0.24 s. A meter that
// calls field ×
// 25 mm volts shows 1.74 µC/m²·25 mm/ε₀·200/225 = 4,367 V 25 mm off a sheet with 200 mm of air behind it; readings
// that scatter by 30 % must stay below (1 − 1.645·0.3) of that, 2,212 V. Whoever cools the feeder needs the same
// humidity
// there, and less water: dew point 12.8 °C at 27 °C (Magnus), 8.3 °C at 22 °C.
func TestKeepSheets(t *testing.T) {
	for _, c := range []struct {
		perHour, celsius, floor, dew float64
	}{{12000, 27, 41.36, 12.8}, {15000, 27, 42.50, 13.3}, {12000, 22, 41.36, 8.3}} {
		g := goodsOf(t, "plant_b.json")
		g.Rate = units.Frequency(c.perHour / 3600)
		g.Limit = 1.74e-6
		g.Leak = &LeakLaw{Class: humidity.Absorbing, At: 0.35, Time: units.Time(math.Pow(10, 2.9-0.085*35)), Decades: 0.085}
		for i := range g.Airs {
			g.Airs[i].Spread = 1e-9
		}
		g.Airs[1].Temperature = units.Celsius(c.celsius)
		for i := range g.Stations {
			g.Stations[i].Change = known.Band{}
			if g.Stations[i].Kind == PickStop {
				g.Stations[i].Change = known.Band{Value: 6e-6}
			}
		}
		g.Readings = []GoodsReading{{Station: "feed board", Display: 12000, Gap: 0.2, Share: 0.3}}
		u := kept(t, route(t, g), GoodsCare{})
		if len(u.Floors) != 1 || u.Floors[0].Air != "feeder" {
			t.Fatalf("floors: %+v", u.Floors)
		}
		near(t, "floor", 100*float64(u.Floors[0].Humidity), c.floor, 0.02)
		near(t, "dew point", float64(u.Floors[0].DewPoint)-273.15, c.dew, 0.15)
		if n := u.Notices; n[len(n)-1].Code != hazard.NoticeHumidity.Code() {
			t.Errorf("nothing on humidifying: %+v", n)
		}
		w := u.Watches[0]
		if len(u.Watches) != 1 || w.Station != "feed board" || w.Pail || w.Distance != 25*units.Millimetre || w.Unused != "" {
			t.Fatalf("watches: %+v", u.Watches)
		}
		near(t, "limit", w.Limit, 4367, 1)
		near(t, "action", w.Action, 2212, 1)
	}
}

// TestKeepWhereItCounts: a sheet is judged at the end of its way. Behind the pick the charge is there in any air, so
// that
// a check there would fail whatever the board takes: the stack is watched instead, once.
func TestKeepWhereItCounts(t *testing.T) {
	g := goodsOf(t, "plant_b.json")
	g.Limit = 1.74e-6
	g.Readings = []GoodsReading{{Station: "pile", Display: 300, Share: 0.3},
		{Station: "pick", Display: 12000, Gap: 0.2, Share: 0.3}}
	w := kept(t, route(t, g), GoodsCare{}).Watches
	if len(w) != 3 || w[2].Station != "stack" || w[2].Unused != "" ||
		w[0].Unused != "pick comes behind it and changes the charge: check behind stack" || w[0].Action != 0 ||
		w[1].Unused != "feed board comes behind it and changes the charge: check behind stack" || w[1].Limit != 0 {
		t.Fatalf("%+v", w)
	}
	// With the meter as it stands nearest to the end, behind the pick.
	near(t, "limit", w[2].Limit, 4367, 1)
	near(t, "action", w[2].Action, 2212, 1)
	// Readings behind the stack itself: 1.74 µC/m²·25 mm/ε₀ before a free sheet.
	g.Readings = append(g.Readings, GoodsReading{Station: "stack", Display: 3000, Share: 0.3})
	if w = kept(t, route(t, g), GoodsCare{}).Watches; len(w) != 3 || w[2].Station != "stack" {
		t.Fatalf("%+v", w)
	}
	near(t, "limit", w[2].Limit, 4913, 1)
}

// TestKeepDoses: by hand. 5 % of the doses are outside ±0.12 g at SD 61.2 mg. With SD² = SD₀² + k·|q|^(2m) between 50
// mg at
// 0.4 nC/g and 210 mg at 8 nC/g that is reached at 1.55 nC/g for m = 1.05, the lower 5 % of m from 1 to 2: 18.6 nC
// in a dose of 12 g. The current of the nozzle falls from 400 to 200 nA in 30 days, each ±5 %: rate ln 2/30 d,
// deviation
// 0.05·√2/30 d, so that the early end of the fall to what is needed is ln(400/needed)/(rate + 1.645·deviation).
func TestKeepDoses(t *testing.T) {
	r := route(t, goodsOf(t, "plant_c.json"))
	u := kept(t, r, GoodsCare{
		History: []GoodsHistory{{Station: "liner", Pails: []units.Charge{-4e-9, -6e-9, -4e-9, -6e-9}}},
		Outputs: []NozzleOutput{{Station: "nozzle", Age: []units.Time{0, 30 * units.Day},
			Current: []units.Current{4e-7, 2e-7}}},
	})
	k := slices.IndexFunc(u.Watches, func(w GoodsWatch) bool { return w.Station == "liner" })
	if k < 0 {
		t.Fatalf("watches: %+v", u.Watches)
	}
	w := u.Watches[k]
	near(t, "limit", 1e9*w.Limit, 18.6, 0.2)
	// −5 ± 3·1.1547 nC (the sample's deviation of ±1 four times).
	near(t, "control", 1e9*w.Control[0], -5-3*1.1547, 1e-3)
	near(t, "control", 1e9*w.Control[1], -5+3*1.1547, 1e-3)
	if !w.Pail || !(w.Action > 0 && w.Action < w.Limit) {
		t.Errorf("%+v", w)
	}
	// 96 nC in 0.5 s, as the middle of the pails has it: 184 nA.
	c := u.Cleaning[0]
	near(t, "needed", 1e9*float64(c.Needed), 184, 4)
	rate, sd := math.Ln2/30, 0.05*math.Sqrt2/30
	near(t, "interval", float64(c.Every/units.Day), math.Log(4e-7/float64(c.Needed))/(rate+1.645*sd), 0.5)
	text := ""
	for _, x := range u.Tasks {
		text += x.What + "; " + x.Who + "; " + x.When + "; " + x.Limit + "\n"
	}
	for _, want := range []string{"earth of each: hopper lid, chute; maintenance; monthly", "at most 1 MΩ",
		"what charges at liner", "clean nozzle; qualified person", "four doses from behind liner, each in a pail",
		"50 doses; operator; weekly, and after the hopper is filled; at most 61 mg", "no forecast names the month"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	// The charge of the liner falls with humidity, yet no air brings it below what the doses stand.
	if len(u.Floors) != 0 {
		t.Errorf("floors: %+v", u.Floors)
	}
	if all := strings.Join(u.Triggers, "; "); !strings.Contains(all, "a rate beyond 5400 an hour (described 3600)") ||
		!strings.Contains(all, "an ioniser moved") {
		t.Errorf("triggers: %s", all)
	}
	if n := len(u.Notices); n != 4 {
		t.Errorf("%d notices", n)
	}
}

// TestKeepByScatter: the same with a good state at 4 nC/g: k = (0.21² − 0.05²)/(8^2.1 − 4^2.1), and 4.18 nC/g, 50.2
// nC, put 5 % of
// the doses outside (51.5 nC if the two charges were added).
func TestKeepByScatter(t *testing.T) {
	g := goodsOf(t, "plant_c.json")
	g.Scatter.GoodCharge = -4e-6
	w := kept(t, route(t, g), GoodsCare{}).Watches
	near(t, "limit", 1e9*w[0].Limit, 50.2, 0.3)
}

// TestKeepRefuses: faults name their field; without history the nozzle is cleaned monthly; a scatter that is too wide
// in
// the good state leaves nothing to watch.
func TestKeepRefuses(t *testing.T) {
	g := goodsOf(t, "plant_c.json")
	r := route(t, g)
	_, err := r.Keep(GoodsCare{
		History: []GoodsHistory{{Station: "lid", Pails: []units.Charge{2}, Values: []units.DisplayVoltage{1e8}}},
		Outputs: []NozzleOutput{{Station: "liner", Age: []units.Time{0}, Current: []units.Current{1e-9}}}})
	if err == nil {
		t.Fatal("no error")
	}
	for _, want := range []string{"history[0].station", "history[0].pails[0]", "history[0].values[0]",
		"outputs[0].station",
		"outputs[0].current"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("no %s in %v", want, err)
		}
	}
	var none Route
	var f *known.FieldError
	if _, err := none.Keep(GoodsCare{}); !errors.As(err, &f) {
		t.Errorf("the zero value: %v", err)
	}
	u := kept(t, r, GoodsCare{})
	if c := u.Cleaning[0]; c.Every != 0 || !slices.ContainsFunc(u.Tasks, func(x upkeep.Task) bool {
		return x.When == "monthly until its fall is known"
	}) {
		t.Errorf("%+v", c)
	}
	g.Scatter.Good, g.Scatter.Now = 0.07*units.Gram, 0.21*units.Gram
	if w := kept(t, route(t, g), GoodsCare{}).Watches[0]; w.Limit != 0 || w.Action != 0 || w.Unused == "" {
		t.Errorf("%+v", w)
	}
}
