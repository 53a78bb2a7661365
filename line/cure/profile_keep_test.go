package cure

import (
	"strings"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestKeepProfile: by hand. 0.5 µC/m make λ/(2π·ε₀) = 8988 V, so that a meter that calls field × 25 mm volts shows
// 8988·25/100 = 2247 V at 100 mm from the axis, half of it at 200 mm, and with a nominal distance of 50 mm twice; the
// mean
// of readings that scatter by 30 % must stay below (1 − 1.645·0.3) of that.
func TestKeepProfile(t *testing.T) {
	g := &Goods{Schema: GoodsSchema, Name: "cable", Kind: ProfileBody, Speed: 2, Limit: 5e-7, Stations: []Stop{
		{Name: "die", Kind: DieStop, Change: known.Band{Value: 4e-7, Spread: 1e-7, Kind: known.Normal}},
		{Name: "coiler", Kind: CoilerStop}}}
	for _, c := range []struct {
		distance, nominal units.Length
		limit             float64
	}{{0.1, 0, 2247}, {0.2, 0, 1123.5}, {0.1, 0.05, 4494}} {
		g.Readings = []GoodsReading{{Station: "die", Charge: 4e-7, Share: 0.3, Distance: c.distance, Nominal: c.nominal}}
		u := kept(t, route(t, g), GoodsCare{})
		if len(u.Watches) != 1 || u.Watches[0].Pail || u.Watches[0].Distance != c.distance {
			t.Fatalf("%+v", u.Watches)
		}
		near(t, "limit", u.Watches[0].Limit, c.limit, 1)
		near(t, "action", u.Watches[0].Action, c.limit*(1-1.645*0.3), 1)
		found := false
		for _, x := range u.Tasks {
			found = found || strings.Contains(x.What, "the running profile") &&
				strings.Contains(x.What, c.distance.String()+" from its axis, behind die")
		}
		if !found {
			t.Errorf("no task: %+v", u.Tasks)
		}
	}
	g.Readings = []GoodsReading{{Station: "die", Charge: 4e-7, Share: 0.3}}
	if w := kept(t, route(t, g), GoodsCare{}).Watches[0]; !strings.Contains(w.Unused, "give the reading distance") ||
		w.Limit != 0 || w.Action != 0 {
		t.Errorf("%+v", w)
	}
}
