package cure

import (
	"errors"
	"strings"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestPatchesByHand: a profile of 2 µC/m at 3 m/s before a bar of 4.5 µA that reaches one side
// whole and the other one to a tenth: 2 − 4.5/3 = 0.5 and 2 − 0.45/3 = 1.85 µC/m are left; a
// side with half of the charge is cleared. At half the speed 0 and 1.7. The side that stays is
// the far one; with 1.5 µC/m allowed the near one is within the limit, the profile is not.
func TestPatchesByHand(t *testing.T) {
	g := &Goods{Schema: GoodsSchema, Name: "tube", Kind: ProfileBody, Speed: 3, Limit: 1.5e-6, Stations: []Stop{
		{Name: "die", Kind: DieStop, Change: known.Band{Value: 2e-6}},
		{Name: "bar", Kind: IoniserStop, Nozzle: &IonStream{Distance: 0.01, Air: 20, HalfRadius: 0.5, Supply: 4.5e-6}},
		{Name: "coiler", Kind: CoilerStop}},
		Patches: []BodyPatch{{"near", 1, 1}, {"far", 1, 0.1}, {"seam", 0.5, 1}}}
	r := route(t, g)
	for speed, want := range map[units.Speed][3]float64{3: {0.5, 1.85, 0}, 1.5: {0, 1.7, 0}} {
		g.Speed = speed
		r := route(t, g)
		for k, p := range r.PredictPatches(0) {
			near(t, p.Name, p.Stops[2].Charge[1]/micro, want[k], 1e-9)
			near(t, p.Name+" from the die", p.Stops[0].Charge[1]/micro, 2*float64(g.Patches[k].Share), 1e-9)
		}
	}
	p := r.PredictPatches(0)
	if p[0].Ends != 0 || p[1].Ends != 1 || p[2].Ends != 0 {
		t.Errorf("chances %v %v %v", p[0].Ends, p[1].Ends, p[2].Ends)
	}
	plan := r.Plan(0)
	if plan.Stays != "far" || plan.Before != 1 {
		t.Errorf("%q stays, before %v", plan.Stays, plan.Before)
	}
	g.Patches = nil
	if plan := route(t, g).Plan(0); plan.Stays != "" || plan.Before != 0 {
		t.Errorf("%q stays of one charge, before %v", plan.Stays, plan.Before)
	}
}

// TestWhereItWasConditioned: sheets from a pile that came to rest at 35 %RH, on a board in air of 45 %RH,
// with the law of RUN-1. An absorbing body keeps the 35 % in the 0.3 s, τ 0.84 s: 6·e^(−0.3/0.84) =
// 4.20 µC/m²; an adsorbing one follows the air of the board, τ 0.12 s: 0.48.
func TestWhereItWasConditioned(t *testing.T) {
	g := &Goods{Schema: GoodsSchema, Name: "sheets", Kind: SheetBody, Rate: units.Frequency(12000.0 / 3600), Limit: 1e-6,
		Airs: []NamedAir{{Name: "pile", Temperature: units.Celsius(22), RelativeHumidity: 35 * units.PercentRH},
			{Name: "board", Temperature: units.Celsius(22), RelativeHumidity: 45 * units.PercentRH}},
		Leak: &LeakLaw{Class: humidity.Absorbing, At: 35 * units.PercentRH, Time: units.Time(0.841395), Decades: 0.085},
		Stations: []Stop{{Name: "pile", Kind: PileStop}, {Name: "pick", Kind: PickStop, Change: known.Band{Value: 6e-6}},
			{Name: "board", Kind: BoardStop, Air: "board", Conditioned: "pile", Path: decay.EarthedEdge},
			{Name: "stack", Kind: StackStop}}}
	near(t, "absorbing", left(route(t, g)), 4.2005, 0.005)
	g.Leak.Class, g.Stations[2].Conditioned = humidity.Adsorbing, ""
	near(t, "adsorbing", left(route(t, g)), 0.480741, 0.003)
	g.Stations[2].Conditioned = "pile"
	_, err := NewRoute(g, nil)
	var f *known.FieldError
	if !errors.As(err, &f) || !strings.Contains(err.Error(), "conditioned") {
		t.Errorf("an adsorbing body is conditioned elsewhere: %v", err)
	}
}

// TestPatchesRefused: an error names the field.
func TestPatchesRefused(t *testing.T) {
	for field, spoil := range map[string]func(g *Goods){
		"patches[0].name":  func(g *Goods) { g.Patches = []BodyPatch{{"", 1, 1}} },
		"patches[1].name":  func(g *Goods) { g.Patches = []BodyPatch{{"a", 1, 1}, {"a", 1, 1}} },
		"patches[0].share": func(g *Goods) { g.Patches = []BodyPatch{{"a", 200, 1}} },
		"patches[0].reach": func(g *Goods) { g.Patches = []BodyPatch{{"a", 1, 2}} },
	} {
		g := goodsOf(t, "plant_b.json")
		spoil(g)
		if _, err := NewRoute(g, nil); err == nil || !strings.Contains(err.Error(), field+":") {
			t.Errorf("%v, want the field %q", err, field)
		}
	}
}
