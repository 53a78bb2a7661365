package cure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// tube is a profile of exactly 2 µC/m from a die, at 3 m/s before a bar and a coiler.
func tube() *Goods {
	return &Goods{Schema: GoodsSchema, Name: "tube", Kind: ProfileBody, Speed: 3, Limit: 1e-6, Stations: []Stop{
		{Name: "die", Kind: DieStop, Change: known.Band{Value: 2e-6}},
		{Name: "bar", Kind: IoniserStop, Nozzle: &IonStream{Distance: 0.01, Air: 20, HalfRadius: 0.5, Supply: 4.5e-6}},
		{Name: "coiler", Kind: CoilerStop}}}
}

// moulded is a part of exactly 40 nC, one a second, that slides on an earthed chute in an air of 45 %RH; τ 1 s there, a
// tenth for each 10 %RH more.
func moulded() *Goods {
	return &Goods{Schema: GoodsSchema, Name: "parts", Kind: PartBody, Rate: 1, Limit: 20e-9,
		Airs: []NamedAir{{Name: "hall", Temperature: units.Celsius(20), RelativeHumidity: 0.45, Spread: 1e-9}},
		Leak: &LeakLaw{Class: humidity.Adsorbing, At: 0.45, Time: 1, Decades: 0.1},
		Stations: []Stop{{Name: "mould", Kind: MouldStop, Change: known.Band{Value: 40e-9}},
			{Name: "chute", Kind: SlideStop, Air: "hall", Path: decay.EarthedEdge, Dwell: 0.5},
			{Name: "bin", Kind: BinStop}}}
}

// TestEndsOfGoods: both ends of each range of a description are taken, and what lies just beyond is refused by its
// field.
func TestEndsOfGoods(t *testing.T) {
	sheets := func() *Goods {
		g := goodsOf(t, "plant_b.json")
		g.Patches = []BodyPatch{{"edge", 1, 1}}
		return g
	}
	doses := func() *Goods { return goodsOf(t, "plant_c.json") }
	read := func(g *Goods) *GoodsReading {
		at := g.Stations[1].Name
		g.Readings = []GoodsReading{{Station: at, Share: 0.3}}
		return &g.Readings[0]
	}
	for _, c := range []struct {
		field  string
		of     func() *Goods
		set    func(g *Goods, x float64)
		lo, hi float64 // NaN: open, or 0 means something else
	}{
		{"speed", tube, func(g *Goods, x float64) { g.Speed = units.Speed(x) }, 1e-4, 100},
		{"rate", moulded, func(g *Goods, x float64) { g.Rate = units.Frequency(x) }, 1e-4, 1e3},
		{"mass", doses, func(g *Goods, x float64) { g.Mass = units.Mass(x) }, 1e-6, 100},
		{"basis", sheets, func(g *Goods, x float64) { g.Limit, g.Basis = 0, units.BasisWeight(x) }, 1e-4, 100},
		{"limit", moulded, func(g *Goods, x float64) { g.Limit = x }, 1e-18, 1},
		{"airs[0].temperature", moulded, func(g *Goods, x float64) { g.Airs[0].Temperature = units.Temperature(x) },
			233.15, 353.15},
		{"airs[0].relativeHumidity", moulded, func(g *Goods, x float64) {
			g.Airs[0].RelativeHumidity = units.RelativeHumidity(x)
		}, math.NaN(), 1},
		{"airs[0].spread", moulded, func(g *Goods, x float64) { g.Airs[0].Spread = units.RelativeHumidity(x) }, 0, 0.3},
		{"leak.at", moulded, func(g *Goods, x float64) { g.Leak.At = units.RelativeHumidity(x) }, 0, 1},
		{"leak.time", moulded, func(g *Goods, x float64) { g.Leak.Time = units.Time(x) }, 1e-9, 1e12},
		{"leak.decades", moulded, func(g *Goods, x float64) { g.Leak.Decades = x }, 0, 1},
		{"leak.spread", moulded, func(g *Goods, x float64) { g.Leak.Spread = x }, 0, 3},
		{"patches[0].share", sheets, func(g *Goods, x float64) { g.Patches[0].Share = units.Ratio(x) }, -100, 100},
		{"patches[0].reach", sheets, func(g *Goods, x float64) { g.Patches[0].Reach = units.Ratio(x) }, 0, 1},
		{"stations[1] (chute).slope", moulded, func(g *Goods, x float64) { g.Stations[1].Slope = x }, 0, 1},
		{"stations[1] (chute).at", moulded, func(g *Goods, x float64) { g.Stations[1].At = units.RelativeHumidity(x) }, 0, 1},
		{"stations[1] (chute).dwell", moulded, func(g *Goods, x float64) { g.Stations[1].Dwell = units.Time(x) }, 0, 1e6},
		{"stations[1] (bar).nozzle.distance", tube, func(g *Goods, x float64) {
			g.Stations[1].Nozzle.Distance = units.Length(x)
		}, 1e-3, 5},
		{"stations[1] (bar).nozzle.air", tube, func(g *Goods, x float64) { g.Stations[1].Nozzle.Air = units.Speed(x) },
			1e-3, 340},
		{"stations[1] (bar).nozzle.halfRadius", tube, func(g *Goods, x float64) {
			g.Stations[1].Nozzle.HalfRadius = units.Length(x)
		}, 1e-4, 2},
		{"stations[1].nozzle.supply", tube, func(g *Goods, x float64) { g.Stations[1].Nozzle.Supply = units.Current(x) }, 0,
			1},
		{"stations[0].change", tube, func(g *Goods, x float64) { g.Stations[0].Change.Value = x }, -1, 1},
		{"stations[0].change", tube, func(g *Goods, x float64) {
			g.Stations[0].Change = known.Band{Value: 1e-6, Spread: x, Kind: known.Normal}
		}, 1e-18, 1},
		{"stations[0].change", tube, func(g *Goods, x float64) {
			g.Stations[0].Change = known.Band{Value: 1e-6, Spread: x, Kind: known.LogNormal}
		}, math.NaN(), 5},
		{"stations[0].without.value", tube, func(g *Goods, x float64) { g.Stations[0].Without = &known.Band{Value: x} }, 0,
			10},
		{"stations[0].without.spread", tube, func(g *Goods, x float64) {
			g.Stations[0].Without = &known.Band{Value: 1, Spread: x, Kind: known.Normal}
		}, math.NaN(), 10},
		{"conductors[0].resistance", moulded, func(g *Goods, x float64) {
			g.Conductors = []Metal{{Name: "frame", Resistance: units.Resistance(x)}}
		}, 0, 1e24},
		{"conductors[0].current", moulded, func(g *Goods, x float64) {
			g.Conductors = []Metal{{Name: "frame", Current: units.Current(x)}}
		}, -1, 1},
		{"scatter.tolerance", doses, func(g *Goods, x float64) { g.Scatter.Tolerance = units.Mass(x) }, 1e-9, 100},
		{"scatter.nowCharge", doses, func(g *Goods, x float64) { g.Scatter.NowCharge = units.ChargePerMass(x) }, -1, 1},
		{"readings[0].pail", moulded, func(g *Goods, x float64) { read(g).Pail = units.Charge(x) }, -1, 1},
		{"readings[0].charge", moulded, func(g *Goods, x float64) { read(g).Charge = x }, -1, 1},
		{"readings[0].spread", moulded, func(g *Goods, x float64) {
			r := read(g)
			r.Charge, r.Share, r.Spread = 1e-9, 0, x
		}, 1e-18, 1},
		{"readings[0].share", moulded, func(g *Goods, x float64) {
			r := read(g)
			r.Charge, r.Share = 1e-9, units.Ratio(x)
		}, math.NaN(), 1},
		{"readings[0].display", sheets, func(g *Goods, x float64) { read(g).Display = units.DisplayVoltage(x) }, -1e7, 1e7},
		{"readings[0].gap", sheets, func(g *Goods, x float64) {
			r := read(g)
			r.Display, r.Gap = 1000, units.Length(x)
		}, 0, 100},
		{"readings[0].distance", sheets, func(g *Goods, x float64) {
			r := read(g)
			r.Display, r.Distance = 1000, units.Length(x)
		}, 0, 10},
		{"readings[0].nominal", sheets, func(g *Goods, x float64) {
			r := read(g)
			r.Display, r.Nominal = 1000, units.Length(x)
		}, 0, 1},
		{"readings[0].relativeHumidity", moulded, func(g *Goods, x float64) {
			r := read(g)
			r.Charge, r.RelativeHumidity = 1e-9, units.RelativeHumidity(x)
		}, 0, 1},
	} {
		try := func(x float64) error {
			g := c.of()
			c.set(g, x)
			return g.check()
		}
		beyond := func(x, sign float64) float64 {
			if x == 0 {
				return sign * 1e-9
			}
			return x + sign*1e-3*math.Abs(x)
		}
		for x, out := range map[float64]float64{c.lo: beyond(c.lo, -1), c.hi: beyond(c.hi, 1)} {
			if math.IsNaN(x) {
				continue
			}
			if err := try(x); err != nil && strings.Contains(err.Error(), c.field+":") {
				t.Errorf("%s = %g: %v", c.field, x, err)
			}
			if err := try(out); err == nil || !strings.Contains(err.Error(), c.field+":") {
				t.Errorf("%s = %g is taken: %v", c.field, out, err)
			}
		}
		if err := try(math.NaN()); err == nil || !strings.Contains(err.Error(), c.field) {
			t.Errorf("%s of NaN: %v", c.field, err)
		}
	}
	// Numbers of things.
	stops := func(n int) *Goods {
		g := tube()
		for i := range n - 3 {
			g.Stations = slices.Insert(g.Stations, 1, Stop{Name: fmt.Sprint("place", i), Kind: PlaceStop})
		}
		return g
	}
	if err := stops(200).check(); err != nil {
		t.Error(err)
	}
	if err := stops(201).check(); err == nil || !strings.Contains(err.Error(), "201 stations") {
		t.Errorf("%v", err)
	}
	for n, ok := range map[int]bool{1000: true, 1001: false} {
		g := moulded()
		for i := range n {
			g.Conductors = append(g.Conductors, Metal{Name: fmt.Sprint("bolt", i), Resistance: 10})
		}
		if err := g.check(); (err == nil) != ok {
			t.Errorf("%d conductors: %v", n, err)
		}
	}
	if err := bounded("change", known.Band{Value: 1e-6, Kind: known.Normal}); err != nil {
		t.Errorf("a normal band without spread: %v", err)
	}
}

// TestGoodsChangesByHand: what each change does to a way worked out by hand, and where it is refused. The part keeps
// e^(−0.5) of 40 nC on the chute, 24.26 nC; at 55 %RH e^(−5); at half the rate it is there for 1 s; a liner taken away
// leaves a fifth.
func TestGoodsChangesByHand(t *testing.T) {
	g := moulded()
	g.Stations[0].Without = &known.Band{Value: 0.2}
	r := route(t, g)
	near(t, "as it is", left(r), 0.04*math.Exp(-0.5), 1e-6)
	for _, c := range []struct {
		x    GoodsChange
		want float64 // nC
	}{
		{Replace{"mould"}, 8 * math.Exp(-0.5)},
		{Moisten{"hall", 0.55}, 40 * math.Exp(-5)},
		{Pace{0.5}, 40 * math.Exp(-1)},
		{Pace{2}, 40 * math.Exp(-0.25)},
	} {
		near(t, c.x.String(), 1e3*left(tryGoods(t, r, c.x)), c.want, 0.002)
	}
	ring := tube()
	ring.Stations[1].Nozzle.Off = true
	s := route(t, ring)
	near(t, "off", left(s), 2, 1e-9)
	near(t, "on and nearer", left(tryGoods(t, s, Nearer{"bar", 0.02})), 0.5, 1e-9) // 2 − 4.5 µA/(3 m/s)
	for field, x := range map[string][]GoodsChange{
		"station": {Replace{"chute"}, Replace{"nowhere"}, Nearer{"chute", 0.1}, Nearer{"nowhere", 0.1}},
		"air":     {Moisten{"nowhere", 0.5}, Warm{"nowhere", 293}},
		"to":      {Moisten{"hall", 0.0099}, Moisten{"hall", 1.001}, Warm{"hall", 233}, Warm{"hall", 353.3}},
		"rate":    {Pace{0.99e-4}, Pace{1001}},
	} {
		for _, c := range x {
			if _, err := r.Try(c); err == nil || !strings.Contains(err.Error(), "changes[0]."+field+":") {
				t.Errorf("%v: %v", c, err)
			}
		}
	}
	for _, c := range []GoodsChange{Moisten{"hall", 0.01}, Moisten{"hall", 1}, Warm{"hall", units.Celsius(-40)},
		Warm{"hall", units.Celsius(80)}, Pace{1e-4}, Pace{1e3}} {
		if _, err := r.Try(c); err != nil {
			t.Errorf("%v: %v", c, err)
		}
	}
	for d, ok := range map[units.Length]bool{1e-3: true, 0.9e-3: false, 5: true, 5.01: false} {
		if _, err := s.Try(Nearer{"bar", d}); (err == nil) != ok {
			t.Errorf("a nozzle at %v: %v", d, err)
		}
	}
}

// TestDryByHand: why moisture does nothing: without a law, of an inert body, where nothing earthed is touched; a source
// that falls with humidity is reason enough.
func TestDryByHand(t *testing.T) {
	for want, set := range map[string]func(g *Goods){
		"": func(*Goods) {},
		"no law": func(g *Goods) {
			g.Leak, g.Stations[1].Path = nil, decay.NoPath
		},
		"an inert body":    func(g *Goods) { g.Leak.Class = humidity.Inert },
		"no path to earth": func(g *Goods) { g.Stations[1].Path = decay.NoPath },
	} {
		g := moulded()
		set(g)
		if got := route(t, g).dry(); !strings.HasPrefix(got, want) || (got == "") != (want == "") {
			t.Errorf("%q, want %q", got, want)
		}
		g.Stations[0].Slope, g.Stations[0].At, g.Stations[0].Air = 0.01, 0.4, "hall"
		if got := route(t, g).dry(); got != "" {
			t.Errorf("with a source that follows the air: %q", got)
		}
	}
}

// TestChangedBehind: a stop behind which another one gives, leaks or takes is no place for a limit; one that does
// nothing more is.
func TestChangedBehind(t *testing.T) {
	for what, c := range map[string]struct {
		set  func(s *Stop)
		want string
	}{
		"nothing":        {func(*Stop) {}, ""},
		"a gain":         {func(s *Stop) { s.Change = known.Band{Value: 1e-9} }, "chute"},
		"a gain of 0 ±":  {func(s *Stop) { s.Change = known.Band{Spread: 1e-9, Kind: known.Normal} }, "chute"},
		"a leak":         {func(s *Stop) { s.Path = decay.EarthedEdge }, "chute"},
		"ions":           {func(s *Stop) { s.Nozzle = &IonStream{} }, "chute"},
		"ions, off":      {func(s *Stop) { s.Nozzle = &IonStream{Off: true} }, ""},
		"both of a gain": {func(s *Stop) { s.Change = known.Band{Value: 1e-9, Spread: 1e-9, Kind: known.Normal} }, "chute"},
	} {
		g := moulded()
		g.Stations[1].Path = decay.NoPath
		c.set(&g.Stations[1])
		r := &Route{goods: *g}
		if got := r.changed(0); got != c.want {
			t.Errorf("%s behind the mould: %q", what, got)
		}
		if got := r.changed(1); got != "" {
			t.Errorf("%s at the chute, of what is behind it: %q", what, got)
		}
	}
}

// TestKeepInWords: which metal is named, what stands behind a sheet, and a limit that no reading of such an error can
// show: 70 % of scatter takes 1.645·0.7 > 1 of it.
func TestKeepInWords(t *testing.T) {
	text := func(g *Goods) string {
		var b strings.Builder
		for _, x := range kept(t, route(t, g), GoodsCare{}).Tasks {
			b.WriteString(x.What + "; " + x.Limit + "\n")
		}
		return b.String()
	}
	g := moulded()
	if s := text(g); !strings.Contains(s, "earth of each: every metal part: none is listed yet") {
		t.Error(s)
	}
	g.Conductors = []Metal{{Name: "chute"}}
	if s := text(g); !strings.Contains(s, "earth of each: chute;") {
		t.Error(s)
	}
	b := goodsOf(t, "plant_b.json")
	for gap, want := range map[units.Length]string{0: "25 mm off four sheets behind stack, no metal near behind it",
		0.2: "25 mm off four sheets behind stack, 200 mm of air behind it"} {
		b.Readings = []GoodsReading{{Station: "stack", Display: 3000, Gap: gap, Share: 0.3}}
		if s := text(b); !strings.Contains(s, want) {
			t.Errorf("%v: %s", gap, s)
		}
	}
	for share, action := range map[units.Ratio]float64{0.6: 1 - 1.644854*0.6, 0.7: 0} {
		for _, at := range []string{"stack", "pick"} {
			b.Readings = []GoodsReading{{Station: at, Display: 3000, Share: share}}
			w := kept(t, route(t, b), GoodsCare{}).Watches
			last := w[len(w)-1]
			if last.Station != "stack" || last.Limit == 0 || !(math.Abs(last.Action/last.Limit-action) <= 1e-6) {
				t.Errorf("%v of scatter read behind %s: %+v", share, at, last)
			}
		}
	}
}

// TestDirtOfANozzle: a nozzle that falls from 400 to 200 nA in so many days, each ±5 %, does so at ln 2 ± 0.05·√2 of
// them; what arrives, 2 µC/m at 3 m/s, asks for 6 µA: from 40 µA it takes ln(40/6)/(ln 2 + 1.645·0.0707) = 2.344
// times as long.
func TestDirtOfANozzle(t *testing.T) {
	for days, want := range map[float64]string{30: "every 70 days", 0.6: "every day", 0.9: "every 2 days"} {
		u := kept(t, route(t, tube()), GoodsCare{Outputs: []NozzleOutput{{Station: "bar",
			Age: []units.Time{0, units.Time(days) * units.Day}, Current: []units.Current{40e-6, 20e-6}}}})
		near(t, "needed in µA", float64(u.Cleaning[0].Needed)/micro, 6, 1e-9)
		near(t, "days", float64(u.Cleaning[0].Every/units.Day), 2.344*days, 1e-3*days)
		if !slices.ContainsFunc(u.Tasks, func(x upkeep.Task) bool { return x.What == "clean bar" && x.When == want }) {
			t.Errorf("%g days: %+v", days, u.Tasks)
		}
	}
}

// TestOneHygrometer: airs that go back to one reading share its error, others have their own.
func TestOneHygrometer(t *testing.T) {
	g := moulded()
	g.Airs = []NamedAir{{Name: "hall", Temperature: 293, RelativeHumidity: 0.45},
		{Name: "store", Temperature: 288, RelativeHumidity: 0.4}, {Name: "press", Temperature: 298, From: "hall"},
		{Name: "feeder", Temperature: 300, From: "press"}}
	r := route(t, g)
	for name, like := range map[string]bool{"press": true, "feeder": true, "store": false} {
		if got := slices.Equal(r.damp["hall"], r.damp[name]); got != like {
			t.Errorf("hall and %s share their error: %t", name, got)
		}
	}
	if r.damp["hall"][Draws] != 0 {
		t.Error("the middle has an error")
	}
	q := quantiles(slices.Clone(r.damp["store"][:Draws]))
	near(t, "2.5 %RH where none is given", (q[2]-q[0])/(2*known.Z95), 2.5, 0.05)
}

// TestPatchesAtARate: a sheet on a board for 0.5 s at the described rate keeps e^(−0.5), at half of it e^(−1); so
// does its patch, which has a third of the charge.
func TestPatchesAtARate(t *testing.T) {
	g := moulded()
	g.Patches = []BodyPatch{{"corner", 1.0 / 3, 1}}
	r := route(t, g)
	for rate, dwell := range map[units.Frequency]float64{0: 0.5, 1: 0.5, 0.5: 1, 2: 0.25} {
		whole, patch := r.Predict(rate), r.PredictPatches(rate)[0].Stops
		near(t, "whole", 1e9*whole[2].Charge[1], 40*math.Exp(-dwell), 1e-6)
		near(t, "corner", 1e9*patch[2].Charge[1], 40.0/3*math.Exp(-dwell), 1e-6)
	}
}

// TestNullOfJSON: what is no number is null, either infinity too.
func TestNullOfJSON(t *testing.T) {
	for q, want := range map[Quantiles]string{{1, 2, 3}: "[1,2,3]", {math.Inf(-1), 0, math.Inf(1)}: "[null,0,null]"} {
		if b, err := q.MarshalJSON(); err != nil || string(b) != want {
			t.Errorf("%v: %s, %v", q, b, err)
		}
	}
}
