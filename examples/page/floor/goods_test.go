package floor

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"example.org/pithball/line/cure"
)

// cups is the invented filler of cups: granulate of 12 g picks up −8 nC/g in a liner behind a chute that gives −0.4.
const cups = `{"goods": {"name": "cup filler", "kind": "dose", "rate": "60 1/min", "mass": "12 g", "limit": "3 nC/g",
	"temperature": "21 °C", "humidity": "35 %RH",
	"stops": [{"name": "hopper", "kind": "hopper"}, {"name": "chute", "kind": "slide"},
		{"name": "liner", "kind": "slide", "part": true},
		{"name": "nozzle", "kind": "ioniser", "dwell": "0.5 s", "distance": "400 mm", "air": "10 m/s", "radius": "40 mm"},
		{"name": "cup", "kind": "container"}],
	"conductors": [{"name": "hopper lid", "resistance": "20 MΩ"}, {"name": "chute", "resistance": "0.4 Ω"}, {"name": "frame"}],
	"readings": [{"station": "chute", "charge": "-0.4 nC/g"}, {"station": "liner", "charge": "-8 nC/g"}]}, SAFETY CHANGES}`

func askGoods(t *testing.T, safety, changes string) GoodsAnswer {
	t.Helper()
	in := strings.NewReplacer("SAFETY", `"safety": `+safety, "CHANGES", `, "changes": `+changes).Replace(cups)
	var a GoodsAnswer
	if err := json.Unmarshal(Do("goods", []byte(in)), &a); err != nil {
		t.Fatal(err)
	}
	return a
}

const nothing, zoned = `{}`, `{"flammables": "none", "zone": "none", "decidedBy": "invented"}`

// TestGoods: the liner is the source, the readings are kept, and what is isolated or not measured is said.
func TestGoods(t *testing.T) {
	a := askGoods(t, nothing, `[]`)
	if len(a.Faults) > 0 {
		t.Fatal(a.Faults)
	}
	if len(a.Sources) == 0 || a.Sources[0].Name != "liner" || first(t, "x"+a.Sources[0].Chance, "x") < 90 {
		t.Errorf("sources: %+v", a.Sources)
	}
	// By hand: −8 nC/g behind the liner, of which it gives −7.6.
	if v := first(t, "x"+a.Stops[2].Charge, "x"); !(math.Abs(v+8) <= 0.5) ||
		!strings.HasSuffix(a.Stops[2].Charge, "nC/g") {
		t.Errorf("behind the liner %s, want −8 nC/g", a.Stops[2].Charge)
	}
	if v := first(t, "x"+a.Sources[0].Gain, "x"); !(math.Abs(v+7.6) <= 0.5) {
		t.Errorf("the liner gives %s, want −7.6 nC/g", a.Sources[0].Gain)
	}
	if a.Stops[1].Over != "below 1 %" || a.Stops[2].Over != "above 99 %" {
		t.Errorf("over 3 nC/g: %s at the chute, %s at the liner", a.Stops[1].Over, a.Stops[2].Over)
	}
	if g := a.Ground; len(g) != 3 || !g[0].Isolated || g[1].Isolated || !g[1].Measured || g[2].Measured {
		t.Errorf("ground: %+v", g)
	}
	// Unanswered, the way stays shut but for earthing.
	if a.Stop == "" {
		t.Error("nothing stops a plan of which nobody answered whether anything may burn")
	}
	for _, c := range a.Cures {
		if c.Step != "earth" {
			t.Errorf("unanswered, the plan holds %q", c.What)
		}
	}
	// The file is the library's own.
	g, err := cure.ReadGoods(strings.NewReader(a.File))
	if err != nil || g.Kind != cure.DoseBody || len(g.Stations) != 5 {
		t.Errorf("%+v %v", g, err)
	}
}

// TestGoodsChanges: without the liner's charge the cup is within the limit, and a nozzle nearer brings more ions;
// neither is worked out before the question of fire is answered.
func TestGoodsChanges(t *testing.T) {
	if a := askGoods(t, nothing, `[{"do": "replace", "station": "liner"}]`); len(a.Faults) != 1 ||
		!strings.Contains(a.Faults[0].Text, "not before") {
		t.Errorf("%+v", a.Faults)
	}
	cup := func(changes string) (now, then float64) {
		a := askGoods(t, zoned, changes)
		if len(a.Faults) > 0 {
			t.Fatal(a.Faults)
		}
		s := a.Stops[4]
		return first(t, "x"+s.Charge, "x"), first(t, "x"+s.Then, "x")
	}
	if now, then := cup(`[{"do": "replace", "station": "liner"}]`); !(now < -2 && math.Abs(then) < 1) {
		t.Errorf("without the liner %v, then %v nC/g", now, then)
	}
	if now, then := cup(`[{"do": "nearer", "station": "nozzle", "to": "100 mm"}]`); !(math.Abs(then) < 0.7*math.Abs(now)) {
		t.Errorf("nozzle at 100 mm: %v, then %v nC/g", now, then)
	}
	if now, then := cup(`[{"do": "pace", "to": "120 1/min"}]`); !(then <= now) {
		t.Errorf("twice the rate: %v, then %v nC/g", now, then)
	}
	for _, bad := range []string{`[{"do": "fly"}]`, `[{"do": "nearer", "station": "cup", "to": "1 m"}]`,
		`[{"do": "pace", "to": "fast"}]`} {
		if a := askGoods(t, zoned, bad); len(a.Faults) == 0 {
			t.Errorf("%s was tried", bad)
		}
	}
}

// TestGoodsBodies: sheets, parts and profiles go the same way, in their own units; what is missing is told by its name.
func TestGoodsBodies(t *testing.T) {
	for kind, c := range map[cure.BodyKind][3]string{
		cure.SheetBody:   {`"rate": "12000 1/h", "basis": "115 g/m²"`, "pile", "stack"},
		cure.PartBody:    {`"rate": "10 1/min", "limit": "50 nC"`, "mould", "bin"},
		cure.ProfileBody: {`"speed": "60 m/min", "limit": "1 µC/m"`, "die", "coiler"},
	} {
		in := `{"goods": {"name": "press", "kind": "` + kind.String() + `", ` + c[0] + `, "temperature": "27 °C", "humidity": "30 %RH",
			"stops": [{"name": "first", "kind": "` + c[1] + `"}, {"name": "last", "kind": "` + c[2] + `"}]}}`
		var a GoodsAnswer
		if err := json.Unmarshal(Do("goods", []byte(in)), &a); err != nil || len(a.Faults) > 0 || len(a.Stops) != 2 {
			t.Errorf("%s: %v %+v", kind, err, a)
			continue
		}
		if !strings.HasSuffix(a.Stops[0].Charge, bodies[kind].unit) || len(a.Assumed) == 0 {
			t.Errorf("%s: %+v, assumed %q", kind, a.Stops[0], a.Assumed)
		}
	}
	for in, want := range map[string]string{`{"goods": {"kind": "web"}}`: "kind",
		`{"goods": {"kind": "dose"}}`:                  "mass of a dose",
		`{"goods": {"kind": "sheet", "rate": "fast"}}`: "rate", `{}`: "kind"} {
		var a GoodsAnswer
		if err := json.Unmarshal(Do("goods", []byte(in)), &a); err != nil || len(a.Faults) == 0 {
			t.Errorf("%s: %v %+v", in, err, a)
			continue
		}
		all := ""
		for _, f := range a.Faults {
			all += f.Text + "; "
		}
		if !strings.Contains(all, want) {
			t.Errorf("%s: %s", in, all)
		}
	}
}

// TestForecast: sheets of 6 µC/m² that have 0.3 s to fall below 1.74 µC/m² need, by hand, τ < 0.3/ln(6/1.74) = 0.242
// s, which the decay times of 0.84 s at 35 %RH and 0.12 s at 45 %RH give above 41.4 %RH; at 27 °C that is a dew point
// of 12.7 °C. A hall without a source of water has the dew point outdoors.
func TestForecast(t *testing.T) {
	decay := func(s, humidity string) Row {
		return Row{"station": "A4 after nip", "quantity": "decay time", "date and time": "2026-01-14 12:00",
			"line speed": "0 m/min", "running or stopped": "stopped", "air temperature": "27 °C", "air humidity": humidity,
			"value": s, "unit": "s", "repeat": "1"}
	}
	season := map[string]any{"charge": "6 µC/m²", "limit": "1.74 µC/m²", "dwell": "0.3 s", "temperature": "27 °C",
		"hall": "22 °C", "months": strings.Split("-9 °C,-8 °C,-3 °C,2 °C,8 °C,13 °C,15 °C,15 °C,10 °C,5 °C,-1 °C,-6 °C", ",")}
	q := map[string]any{"rows": []Row{decay("0.84", "35%RH"), decay("0.12", "45%RH")}, "season": season}
	var f Foreseen
	ask(t, "forecast", q, &f)
	if len(f.Faults) > 0 {
		t.Fatal(f.Faults)
	}
	if v := first(t, "x"+f.Below, "x"); !(math.Abs(v-41.4) <= 0.6) {
		t.Errorf("over the limit below %s, want 41.4 %%RH", f.Below)
	}
	if v := first(t, "x"+f.Outdoor, "x"); !(math.Abs(v-12.7) <= 0.6) || !strings.HasPrefix(f.DewPoint, "1") {
		t.Errorf("dew point %s, outdoors %s, want 12.7 °C", f.DewPoint, f.Outdoor)
	}
	if f.Months[0] < 0.99 || f.Months[6] > 0.5 || f.Months[6] < 0.05 || f.Driest != "January" {
		t.Errorf("%+v", f)
	}
	// Sheets, which have no line of a web, bring their decay times with them, and their limit.
	sheets := map[string]any{"decays": []decayed{{"0.84 s", "35 %RH"}, {"0.12 s", "45 %RH"}}}
	for k, v := range season {
		sheets[k] = v
	}
	var g Foreseen
	if ask(t, "forecast", map[string]any{"line": nil, "rows": nil, "season": sheets}, &g); g.Below != f.Below ||
		g.Hours != f.Hours {
		t.Errorf("sheets %+v, web %+v", g, f)
	}
	delete(sheets, "limit")
	g = Foreseen{}
	if ask(t, "forecast", map[string]any{"line": nil, "rows": nil, "season": sheets}, &g); len(g.Faults) != 1 {
		t.Errorf("without a limit: %+v", g)
	}
	season["charge"] = "1 µC/m²"
	f = Foreseen{}
	if ask(t, "forecast", q, &f); !f.Never {
		t.Errorf("1 of 1.74 µC/m²: %+v", f)
	}
	season["months"] = []string{"1 °C"}
	f = Foreseen{}
	if ask(t, "forecast", q, &f); len(f.Faults) == 0 {
		t.Error("a year of one month")
	}
	f = Foreseen{}
	if ask(t, "forecast", map[string]any{"season": season}, &f); len(f.Faults) != 1 ||
		!strings.Contains(f.Faults[0].Text, "decay times") {
		t.Errorf("%+v", f.Faults)
	}
}

// TestGoodsKeep: a list of what is checked, hazards first; what was not measured is asked for.
func TestGoodsKeep(t *testing.T) {
	in := strings.NewReplacer("SAFETY", `"safety": `+zoned, "CHANGES", ``).Replace(cups)
	var k Kept
	if err := json.Unmarshal(Do("goodskeep", []byte(in)), &k); err != nil {
		t.Fatal(err)
	}
	if len(k.Faults) > 0 || len(k.Hazards) == 0 || len(k.Tasks) < 3 || len(k.Triggers) == 0 {
		t.Fatalf("%+v", k)
	}
	var all strings.Builder
	for _, x := range k.Tasks {
		all.WriteString(x.What + "; ")
	}
	for _, want := range []string{"frame", "nozzle"} { // a conductor nobody measured, an ioniser that ages
		if !strings.Contains(all.String(), want) {
			t.Errorf("no task for %s: %s", want, all.String())
		}
	}
	// By hand: doses of 12 g at a limit of 3 nC/g.
	if w := k.Watches[len(k.Watches)-1]; w.Name != "cup" || w.Limit != "36 nC" {
		t.Errorf("watched: %+v, want the cup at 36 nC", k.Watches)
	}
}
