package cure

import (
	"errors"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func goodsOf(t testing.TB, file string) *Goods {
	t.Helper()
	f, err := os.Open("testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	g, err := ReadGoods(f)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func route(t testing.TB, g *Goods) *Route {
	t.Helper()
	site := nobody()
	site.Prices.FreshAir = units.VolumeFlow(4000.0 / 3600)
	r, err := NewRoute(g, &site)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func tryGoods(t testing.TB, r *Route, c ...GoodsChange) *Route {
	t.Helper()
	out, err := r.Try(c...)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// left is the middle charge at the last stop in micro-units.
func left(r *Route) float64 {
	x := r.walk(Draws, r.goods.Rate, 0)
	return x[len(x)-1] / micro
}

// TestSheetByHumidity: RUN-1, what a sheet of 6 µC/m² still carries when the next is
// picked 0.3 s later, τ = 10^(2.9 − 0.085·RH) s.
func TestSheetByHumidity(t *testing.T) {
	r := route(t, goodsOf(t, "plant_b.json"))
	for rh, want := range map[float64]float64{29.5: 5.31348, 32: 4.9212, 37: 3.54091, 45: 0.480741, 51: 0.00170133} {
		near(t, "residual", r.walk(Draws, r.goods.Rate, rh)[2]/micro, want, 0.003)
	}
}

// TestFeederAir: CHA-10 and PLA-8, the feeder of plant B with the same water at other
// temperatures, at another dew point and at another rate.
func TestFeederAir(t *testing.T) {
	r := route(t, goodsOf(t, "plant_b.json"))
	for c, want := range map[float64][2]float64{27: {29.5109, 5.31211}, 24: {35.2641, 4.1218}, 22: {39.7991, 2.41006}} {
		w := tryGoods(t, r, Warm{"feeder", units.Celsius(c)})
		near(t, "RH", 100*float64(w.airs["feeder"].RelativeHumidity()), want[0], 0.2)
		near(t, "residual", left(w), want[1], 0.06)
	}
	dew, err := humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(27)),
		humidity.DewPoint(units.Celsius(13)))
	if err != nil {
		t.Fatal(err)
	}
	damp := Moisten{"feeder", dew.RelativeHumidity()}
	near(t, "Td 13", left(tryGoods(t, r, damp)), 1.46414, 0.06)
	fast := Pace{units.Frequency(15000.0 / 3600)}
	near(t, "15000/h", left(tryGoods(t, r, fast)), 5.44306, 0.06)
	near(t, "15000/h at 22 °C", left(tryGoods(t, r, fast, Warm{"feeder", units.Celsius(22)})), 2.89236, 0.06)
	near(t, "15000/h, Td 13", left(tryGoods(t, r, damp, fast)), 1.94132, 0.06)
	// The duct carries the feeder with it: 64 %RH at 20 °C are a dew point of 13 °C.
	near(t, "by the duct", left(tryGoods(t, r, Moisten{"duct", 64.1 * units.PercentRH})), 1.46414, 0.1)
	if got := left(r); got != r.walk(Draws, r.goods.Rate, 0)[3]/micro || !(math.Abs(got-5.312) <= 0.06) {
		t.Errorf("the way itself changed: %v", got)
	}
}

// TestInertBody: of an inert body moisture changes no bit, and the plan says so.
func TestInertBody(t *testing.T) {
	g := goodsOf(t, "plant_b.json")
	g.Leak.Class = humidity.Inert
	r := route(t, g)
	wet := tryGoods(t, r, Moisten{"duct", 0.9}, Warm{"feeder", units.Celsius(15)})
	for i := range Draws + 1 {
		if a, b := r.walk(i, g.Rate, 0)[3], wet.walk(i, g.Rate, 0)[3]; a != b {
			t.Fatalf("draw %d: %g, damp %g", i, a, b)
		}
	}
	p := r.Plan(0)
	if k := slices.IndexFunc(p.Refused, func(c GoodsCure) bool { return c.Step == Leaking }); k < 0 ||
		!strings.Contains(p.Refused[k].Reason, "inert") {
		t.Errorf("%+v", p.Refused)
	}
}

// exact is plant B without spreads at a limit, as the closed forms have it.
func exact(t testing.TB, limit float64) *Goods {
	g := goodsOf(t, "plant_b.json")
	g.Limit, g.Leak.Spread = limit*micro, 0
	g.Stations[1].Change = known.Band{Value: 6 * micro}
	for i := range g.Airs {
		g.Airs[i].Spread = 1e-9
	}
	g.Airs[0].RelativeHumidity = 0.2950
	g.Airs[0].Temperature = units.Celsius(27)
	return g
}

// TestSlowestThatHelps: CHA-13, 3600/(τ·ln(6/limit)) sheets an hour at 29.5 %RH.
func TestSlowestThatHelps(t *testing.T) {
	for limit, want := range map[float64]float64{1.74: 1177.95, 4.5: 5068.62} {
		r := route(t, exact(t, limit))
		near(t, "rate", float64(r.maxRate())*3600, want, 0.005*want)
		p := r.Plan(0)
		last := p.Cures[len(p.Cures)-1]
		if last.Step != SlowDown || last.After > 0.05 || !last.Reaches {
			t.Errorf("%+v", last)
		}
	}
}

// TestWholePace: 5068.6 an hour by the table are 5000 in the cure that slows down.
func TestWholePace(t *testing.T) {
	p := route(t, exact(t, 4.5)).Plan(0)
	last := p.Cures[len(p.Cures)-1]
	pace, ok := last.Change.(Pace)
	if !ok || last.What != "run at 5000 1/h" || !(math.Abs(float64(pace.Rate)*3600-5000) <= 1e-9) {
		t.Errorf("%+v", last)
	}
}

// TestPlanOfSheets: plant B at 4.5 µC/m²: feeder air of 22 °C cures, at 1.74 it does
// not; 13 K of dew point take 13 kg/h more water and wet pallets of 8 °C (HAZ-3).
func TestPlanOfSheets(t *testing.T) {
	offer := []GoodsChange{Warm{"feeder", units.Celsius(22)}, Moisten{"duct", 64.1 * units.PercentRH}}
	g := goodsOf(t, "plant_b.json")
	g.Airs[0].Spread = 0.005
	p := route(t, g).Plan(units.Celsius(8), offer...)
	if p.Before < 0.8 || !p.Cures[0].Reaches || p.Cures[0].Change != offer[0] {
		t.Errorf("before %v, cures %+v", p.Before, p.Cures)
	}
	wet := p.Cures[1]
	near(t, "water", float64(wet.Water)*3600, 13, 0.7)
	if !strings.Contains(wet.Reason, "wets goods") || p.Cures[0].Water != 0 {
		t.Errorf("%+v", wet)
	}
	g.Limit = 1.74 * micro
	if q := route(t, g).Plan(0, offer...); q.Cures[0].Reaches {
		t.Errorf("at 1.74 µC/m²: %+v", q.Cures[0])
	}
	if v := p.Verdict; v[0].Name != "pick" || v[0].Chance != 1 {
		t.Errorf("%+v", v)
	}
	// A wish of 15000 an hour makes it worse.
	r := route(t, g)
	if slow, fast := r.Predict(0)[3], r.Predict(units.Frequency(15000.0 / 3600))[3]; !(fast.Charge[1] > slow.Charge[1]) {
		t.Errorf("%v at 12000/h, %v at 15000/h", slow.Charge, fast.Charge)
	}
}

// TestNozzle: CHA-12, what a nozzle at 400 mm brings: 155, 126 and 88 nA over the
// recombination coefficient, 503 nA at 100 mm, 192 at 262 mm.
func TestNozzle(t *testing.T) {
	r := route(t, goodsOf(t, "plant_c.json"))
	n := *r.goods.Stations[3].Nozzle
	for i, alpha := range []float64{1.3e-12, 1.6e-12, 2.3e-12} {
		r.alpha = same(alpha)
		near(t, "bound", float64(r.bound(&n, 0))*1e9, []float64{154.873, 125.835, 87.5372}[i], 0.1)
	}
	r = route(t, goodsOf(t, "plant_c.json"))
	n.Distance = 0.1
	near(t, "at 100 mm", float64(r.bound(&n, Draws))*1e9, 503.339, 0.5)
	n.Distance = 262.156e-3
	near(t, "at 262 mm", float64(r.bound(&n, Draws))*1e9, 192, 0.2)
	n.Supply = 50e-9
	near(t, "by its supply", float64(r.bound(&n, Draws))*1e9, 50, 1e-9)
	// 126 nA serve 96 nC in 0.763 s, 0.655 of them in 0.5 s: 39.3 doses a minute.
	g := goodsOf(t, "plant_c.json")
	g.Readings, g.Stations[1].Change, g.Stations[2].Change = nil, known.Band{}, known.Band{Value: -8e-6}
	r = route(t, g)
	x := r.walk(Draws, r.goods.Rate, 35)
	near(t, "left", x[4]/-8e-6, 1-0.655389, 1e-3)
	for perMinute, want := range map[float64]float64{39.3: 0, 39.4: 1} {
		c := tryGoods(t, r, Pace{units.Frequency(perMinute / 60)})
		if got := c.walk(Draws, c.goods.Rate, 35)[4]; (!(math.Abs(got) <= 1e-12)) != (want == 1) {
			t.Errorf("%v a minute leave %g", perMinute, got)
		}
	}
}

// TestScatter: CHA-11 and PLA-9, the scatter by the two states of plant C.
func TestScatter(t *testing.T) {
	r := route(t, goodsOf(t, "plant_c.json"))
	for _, c := range []struct{ q, power, want float64 }{{-8, 1, 0.21}, {-8, 2, 0.21}, {-0.4, 1, 0.05}, {-0.4, 2, 0.05},
		{-5.3, 1, 0.143875}, {-5.3, 2, 0.102536}} {
		near(t, "SD", float64(r.Scatter(units.ChargePerMass(c.q*micro), c.power))*1e3, c.want, 2e-5)
	}
	near(t, "outside before", r.Outside(-8e-6, 1), 0.567709, 1e-3)
	near(t, "outside after", r.Outside(-0.4e-6, 1), 0.0163951, 1e-4)
}

// TestFitsPails: DIA-6, three pails at 35 %RH and one at 50 %RH, of 12 g: brought to
// 35 % their mean is −92.68 ± 5.80 nC, or −7.72 µC/kg; a wide prior leaves that.
func TestFitsPails(t *testing.T) {
	g := goodsOf(t, "plant_c.json")
	g.Stations[0].Change, g.Stations[1].Change = known.Band{}, known.Band{}
	g.Stations[2].Change.Spread = 5e-5
	g.Readings = nil
	// The scatter of one: 5.8032·√4 nC, and in proportion at 50 %RH.
	for _, x := range [][3]float64{{-77, 35, 1}, {-105, 35, 1}, {-95, 35, 1}, {-61, 50, math.Exp(-0.028635 * 15)}} {
		g.Readings = append(g.Readings, GoodsReading{Station: "liner", Charge: x[0] * 1e-9 / 0.012,
			Spread: 11.6064e-9 / 0.012 * x[2], RelativeHumidity: units.RelativeHumidity(x[1] / 100)})
	}
	r := route(t, g)
	q := quantiles(slices.Clone(r.gains[2][:Draws]))
	near(t, "mean", q[1]*0.012*1e9, -92.682, 0.5)
	near(t, "sd", (q[2]-q[0])/(2*known.Z95)*0.012*1e9, 5.8032, 0.5)
}

// TestVerdictAndPlanOfDoses: plant C: the jump is at the liner; the order of PLA-9; only
// taking the liner out reaches 5 %.
func TestVerdictAndPlanOfDoses(t *testing.T) {
	r := route(t, goodsOf(t, "plant_c.json"))
	v := r.Sources()
	if v[0].Name != "liner" || v[0].Chance < 0.99 || !(v[0].Gain[0] < -7.3e-6 && v[0].Gain[2] > -7.4e-6) {
		t.Errorf("%+v", v)
	}
	p := r.Plan(0)
	var steps []Step
	for _, c := range p.Cures {
		steps = append(steps, c.Step)
	}
	if want := []Step{Earthing, AtSource, Leaking, Neutralise}; !slices.Equal(steps, want) {
		t.Fatalf("%v, want %v", steps, want)
	}
	if lid := p.Cures[0]; !strings.Contains(lid.What, "hopper lid") || !strings.Contains(lid.Reason, "20 MΩ") ||
		len(p.Ground) != 2 {
		t.Errorf("%+v", lid)
	}
	if out := p.Cures[1]; !out.Reaches || out.Before != 1 {
		t.Errorf("liner out: %+v", out)
	}
	if damp := p.Cures[2]; damp.Reaches || !(math.Abs(damp.Charge[1]) <= 5.3e-6) {
		t.Errorf("moistened: %+v", damp)
	}
	near4 := p.Cures[3]
	near(t, "needed", float64(near4.Needed)*1e9, 185.4, 6) // 7.7235 µC/kg · 12 g / 0.5 s
	near(t, "brought", float64(near4.Brought[1])*1e9, 503.339, 5)
	if near4.Reaches || near4.Charge[1] != 0 || !strings.Contains(near4.Reason, "grains") {
		t.Errorf("nozzle: %+v", near4)
	}
	g := goodsOf(t, "plant_c.json")
	for _, s := range []upkeep.SafetyAnswers{{}, {Zone: upkeep.NoZone, Flammables: upkeep.NoFlammables}} {
		shut, err := NewRoute(g, &Site{Safety: s})
		if err != nil {
			t.Fatal(err)
		}
		q := shut.Plan(0, Nearer{"nozzle", 0.1}, Replace{"liner"})
		if q.Stop == "" || len(q.Cures) != 1 || q.Cures[0].Step != Earthing || len(q.Ground) != 2 || len(q.Refused) != 0 {
			t.Errorf("zone open: %+v", q)
		}
		for _, c := range []GoodsChange{Nearer{"nozzle", 0.1}, Moisten{"room", 0.5}, Warm{"room", units.Celsius(30)}} {
			if _, err := shut.Try(c); err == nil {
				t.Errorf("zone open: %v tried", c)
			}
		}
	}
}

// TestProfile: 2 µC/m of cable at 3 m/s ask for 6 µA; a ring of a supply of 4.5 µA
// leaves a quarter, and half the speed nothing.
func TestProfile(t *testing.T) {
	g := &Goods{Schema: GoodsSchema, Name: "cable", Kind: ProfileBody, Speed: 3, Limit: 1e-7, Stations: []Stop{
		{Name: "die", Kind: DieStop, Change: known.Band{Value: 2e-6}},
		{Name: "ring", Kind: IoniserStop, Nozzle: &IonStream{Distance: 0.01, Air: 20, HalfRadius: 0.5, Supply: 4.5e-6}},
		{Name: "coiler", Kind: CoilerStop}}}
	r := route(t, g)
	near(t, "left", r.walk(Draws, 0, 0)[2], 0.5e-6, 1e-12)
	need, brought := r.ions("ring", g.Stations[1].Nozzle)
	near(t, "needed", float64(need), 6e-6, 1e-12)
	near(t, "brought", float64(brought[0]), 4.5e-6, 1e-12)
	g.Speed = 1.5
	near(t, "at half the speed", route(t, g).walk(Draws, 0, 0)[2], 0, 1e-15)
}

// TestGoodsRefused: an error names the field; a kind that a body cannot have is named.
func TestGoodsRefused(t *testing.T) {
	for field, spoil := range map[string]func(g *Goods){
		"schema": func(g *Goods) { g.Schema = "x" }, "kind": func(g *Goods) { g.Kind = 9 },
		"rate": func(g *Goods) { g.Rate = 0 }, "basis": func(g *Goods) { g.Basis = 0 },
		"stations[1] (pick).kind":    func(g *Goods) { g.Stations[1].Kind = HopperStop },
		"stations[0] (pile).kind":    func(g *Goods) { g.Stations[0].Kind = BoardStop },
		"stations[3] (board).name":   func(g *Goods) { g.Stations[2].Name, g.Stations[3].Name = "board", "board" },
		"stations[2] (board).air":    func(g *Goods) { g.Stations[2].Name, g.Stations[2].Air = "board", "x" },
		"stations[2] (board).path":   func(g *Goods) { g.Stations[2].Name, g.Leak = "board", nil },
		"stations[2] (board).nozzle": func(g *Goods) { g.Stations[2].Name, g.Stations[2].Kind = "board", IoniserStop },
		"airs[1].from":               func(g *Goods) { g.Airs[1].From = "x" },
		"leak.time":                  func(g *Goods) { g.Leak.Time = 0 },
		"readings[0].station":        func(g *Goods) { g.Readings = []GoodsReading{{Station: "x", Spread: 1}} },
		"limit":                      func(g *Goods) { g.Limit = math.NaN() },
		"stations":                   func(g *Goods) { g.Stations = nil }} {
		g := goodsOf(t, "plant_b.json")
		spoil(g)
		_, err := NewRoute(g, nil)
		var f *known.FieldError
		if !errors.As(err, &f) || !strings.Contains(err.Error(), field+":") {
			t.Errorf("%v, want the field %q", err, field)
		}
	}
	for _, s := range []string{"", "{", `{"schema": "pithball goods 1", "x": 1}`} {
		if _, err := ReadGoods(strings.NewReader(s)); err == nil {
			t.Errorf("%q read", s)
		}
	}
}
