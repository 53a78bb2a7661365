package cure

import (
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
)

// TestGoodsHazards: each condition raises its notice at plant C (a dose over a liner, past
// a nozzle) or B (sheets on a board), and without its condition none does.
func TestGoodsHazards(t *testing.T) {
	none := upkeep.SafetyAnswers{Flammables: upkeep.NoFlammables, Zone: upkeep.NoZone, DecidedBy: "somebody"}
	quiet := none
	quiet.Fines, quiet.Silo, quiet.Liner, quiet.Humidifier = line.No, line.No, line.No, line.No
	quiet.Radioactive, quiet.Agents, quiet.Electronics = line.No, line.No, line.No
	all := func(file string, s upkeep.SafetyAnswers, spoil func(*Goods)) []string {
		g := goodsOf(t, file)
		if spoil != nil {
			spoil(g)
		}
		r, err := NewRoute(g, &Site{Safety: s})
		if err != nil {
			t.Fatal(err)
		}
		var out []string
		for i, h := range r.Hazards() {
			if h.Rank != i+1 {
				t.Errorf("rank %d at %d", h.Rank, i)
			}
			mark := ""
			if h.Open {
				mark = "?"
			}
			out = append(out, h.Notice.Code+mark+" "+h.Notice.Figure)
		}
		return out
	}
	for _, c := range []struct {
		name, file string
		site       upkeep.SafetyAnswers
		spoil      func(*Goods)
		has, lacks string
	}{
		{"zone open", "plant_c.json", upkeep.SafetyAnswers{}, nil, "not-an-approval? safety.zone: not answered", ""},
		{"zone decided", "plant_c.json", none, nil, "not-an-approval flammables none, zone none, decided by somebody",
			"ioniser-in-zone"},
		{"isolated", "plant_c.json", none, nil, "isolated-conductor hopper lid: 20 MΩ to earth", "chute"},
		{"not measured", "plant_c.json", none, func(g *Goods) { g.Conductors[1].Resistance = 0 },
			"isolated-conductor? chute: resistance to earth not measured", ""},
		{"none listed", "plant_c.json", none, func(g *Goods) { g.Conductors = nil },
			"isolated-conductor? no metal part is listed: none was measured", "hopper lid"},
		{"people", "plant_b.json", none, nil, "isolated-conductor? people at the line", ""},
		{"stack", "plant_b.json", none, nil, "brush-discharge stack: charged goods gather there", "cone-discharge"},
		{"bulk", "plant_c.json", none, nil, "cone-discharge? bulk in a vessel", "brush-discharge"},
		{"no silo", "plant_c.json", quiet, nil, "", "cone-discharge"},
		{"liner", "plant_c.json", none, nil, "propagating-brush liner: an insulating liner or cover on metal", ""},
		{"no liner", "plant_c.json", quiet, func(g *Goods) { g.Stations[2].Without = nil }, "", "propagating-brush"},
		{"fines", "plant_c.json", none, nil, "dust? fines: not answered", ""},
		{"no fines", "plant_c.json", quiet, nil, "", "dust"},
		{"sheets have none", "plant_b.json", none, nil, "", "dust"},
		{"in a zone", "plant_c.json", upkeep.SafetyAnswers{Flammables: upkeep.FlammableVapour, Zone: upkeep.Zone1,
			DecidedBy: "somebody"}, nil,
			"ioniser-in-zone nozzle: no certificate is named", ""},
		{"certified", "plant_c.json", upkeep.SafetyAnswers{Flammables: upkeep.FlammableVapour, Zone: upkeep.Zone1,
			DecidedBy: "somebody",
			Certified: []string{"nozzle"}}, nil, "", "ioniser-in-zone"},
		{"blown", "plant_c.json", quiet, nil, "compressed-air nozzle", "chemicals"},
		{"voltage", "plant_c.json", quiet, nil, "high-voltage nozzle", "electronics"},
		{"pins", "plant_c.json", none, nil, "chemicals? nozzle: with what its pins are cleaned is not answered", ""},
		{"no nozzle", "plant_b.json", none, nil, "implant", "compressed-air"},
		{"damp", "plant_b.json", none, nil, "humidity? whether the air is or shall be humidified", ""},
		{"inert", "plant_b.json", none, func(g *Goods) { g.Leak.Class = humidity.Inert }, "", "humidity"},
	} {
		list := all(c.file, c.site, c.spoil)
		begins := func(s string) func(string) bool {
			return func(x string) bool { return strings.HasPrefix(x, s) }
		}
		if c.has != "" && !slices.ContainsFunc(list, begins(c.has)) ||
			c.lacks != "" && slices.ContainsFunc(list, func(x string) bool { return strings.Contains(x, c.lacks) }) {
			t.Errorf("%s: want %q and no %q in\n%s", c.name, c.has, c.lacks, strings.Join(list, "\n"))
		}
		if !strings.HasPrefix(list[0], "not-an-approval") || !strings.HasPrefix(list[1], "isolated-conductor") {
			t.Errorf("%s: begins with %q", c.name, list[:2])
		}
	}
}

// TestExpect: a reading at another humidity is expected there: the liner gives −8 nC/g at
// 35 %RH and e^(−0.43) of it, −5.2, at 50.
func TestExpect(t *testing.T) {
	g := goodsOf(t, "plant_c.json")
	g.Readings = nil
	g.Stations[0].Change.Spread, g.Stations[1].Change.Value = 1e-12, 0
	g.Stations[1].Change.Spread, g.Stations[2].Change.Value, g.Stations[2].Change.Spread = 1e-12, -8e-6, 1e-12
	r := route(t, g)
	for rh, want := range map[float64]float64{0.35: -8, 0.50: -8 * math.Exp(-0.028635*15)} {
		q := r.Expect(&GoodsReading{Station: "liner", RelativeHumidity: units.RelativeHumidity(rh)})
		near(t, "expected", q[1]*1e6, want, 1e-3)
	}
	if q := r.Expect(&GoodsReading{Station: "nowhere"}); !math.IsNaN(q[1]) {
		t.Error(q)
	}
}

// TestReadingsOfGoods: by hand, a pail of −77 nC of a dose of 12 g is −6.4167 µC/kg, and a
// display of 13,800 V at 25 mm before a sheet 200 mm off metal is 8.8542e-12·552,000·1.125 =
// 5.4984 µC/m²; a share is of the mean of what was read there in the same air.
func TestReadingsOfGoods(t *testing.T) {
	c := goodsOf(t, "plant_c.json")
	c.Readings = []GoodsReading{{Station: "liner", Pail: -77e-9, Share: 0.1}}
	x := route(t, c).Readings()[0]
	near(t, "pail", x.Charge*1e6, -6.41667, 1e-4)
	near(t, "share", x.Spread*1e6, 0.641667, 1e-5)
	c.Readings = append(c.Readings, GoodsReading{Station: "liner", Pail: -43e-9, Share: 0.1},
		GoodsReading{Station: "liner", Pail: -12e-9, Share: 0.1, RelativeHumidity: 0.5})
	for i, want := range []float64{0.5, 0.5, 0.1} { // a tenth of 60 and of 12 nC over 12 g
		near(t, "share", route(t, c).Readings()[i].Spread*1e6, want, 1e-9)
	}
	b := goodsOf(t, "plant_b.json")
	b.Readings = []GoodsReading{{Station: "pick", Display: 13800, Gap: 0.2, Spread: 1e-6},
		{Station: "pick", Display: 13800, Spread: 1e-6},
		{Station: "pick", Display: 13800, Nominal: 0.05, Distance: 0.1, Gap: 0.2,
			Spread: 1e-6}}
	for i, want := range []float64{5.4984, 4.8875, 3.6656} { // free: ε₀·552 kV/m; 276 kV/m · 1.5
		near(t, "display", route(t, b).Readings()[i].Charge*1e6, want, 2e-4)
	}
	for want, bad := range map[string]GoodsReading{"readings[0].display": {Station: "liner", Display: 10, Share: 0.1},
		"readings[0].spread": {Station: "liner", Pail: 1e-9, Share: 0.1, Spread: 1},
		"readings[0].charge": {Station: "liner", Pail: 1e-9, Charge: 1, Share: 0.1},
		"readings[0].share":  {Station: "liner", Pail: 1e-9, Share: 2}} {
		c.Readings = []GoodsReading{bad}
		if _, err := NewRoute(c, nil); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
	b.Readings = []GoodsReading{{Station: "pick", Pail: 1e-9, Share: 0.1}}
	if _, err := NewRoute(b, nil); err == nil || !strings.Contains(err.Error(), "readings[0].pail") {
		t.Error(err)
	}
}

// TestGoodsBounds: no number of a description is without a bound, and no text can print a
// line of its own: each is named, or the way runs and every figure is one.
func TestGoodsBounds(t *testing.T) {
	b, err := os.ReadFile("testdata/plant_c.json")
	if err != nil {
		t.Fatal(err)
	}
	text := string(b)
	number := regexp.MustCompile(`-?[0-9][0-9.]*(e-?[0-9]+)?`)
	tried := 0
	for _, at := range number.FindAllStringIndex(text, -1) {
		for _, x := range []string{"1e300", "-1e300", "1e-300", "1e160", "-1"} {
			g, err := ReadGoods(strings.NewReader(text[:at[0]] + x + text[at[1]:]))
			if err != nil {
				continue
			}
			tried++
			r, err := NewRoute(g, &Site{Safety: nobody().Safety})
			if err != nil {
				continue
			}
			for _, s := range r.Predict(0) {
				if math.IsNaN(s.Charge[1]) || math.IsInf(s.Charge[1], 0) || math.IsNaN(s.Over) {
					t.Errorf("%s for %s: %+v", x, text[at[0]:at[1]], s)
				}
			}
		}
	}
	if tried < 100 {
		t.Errorf("%d tried", tried)
	}
	for field, spoil := range map[string]func(*Goods){
		"stations[2].name":   func(g *Goods) { g.Stations[2].Name = "liner\n1. Earth: all" },
		"airs[0].name":       func(g *Goods) { g.Airs[0].Name = "a\x1b[2J" },
		"conductors[0].name": func(g *Goods) { g.Conductors[0].Name = "a\u202eb" },
		"note":               func(g *Goods) { g.Note = "a\nb" },
		"name:":              func(g *Goods) { g.Name = " " }, "limit": func(g *Goods) { g.Limit = 1e300 },
		"stations[2].change": func(g *Goods) { g.Stations[2].Change.Spread = 1e300 },
		"readings[0].spread": func(g *Goods) { g.Readings[0].Spread = 1e-170 }} {
		g := goodsOf(t, "plant_c.json")
		spoil(g)
		if _, err := NewRoute(g, nil); err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("%v, want %s", err, field)
		}
	}
}
