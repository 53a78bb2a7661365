package cure

import (
	"math"
	"slices"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// threeSources is a line of three rollers that each bring face A to 6 µC/m² whatever arrives, with a
// way to earth behind each, 10 s on half a second at 20 %RH: 5.7 µC/m² at each place. A cover of a
// fifth of the strength leaves 1.14 there; moistened to 45 %RH (0.05 decades per %RH: 0.562 s) each
// has 6·e^(−0.5/0.562) = 2.47, still above the limit of 2.
func threeSources(t *testing.T) (*Calibrated, []Change) {
	t.Helper()
	const uC = units.MicrocoulombPerSquareMetre
	d := oneContact(line.Roller, line.ChangeSpec{Face: line.FaceA, Median: 6 * uC, Spread: 1e-12, Exposure: 50})
	d.Speed, d.Limit.Net = units.MetrePerSecond, 2*uC
	d.Air.RelativeHumidity, d.Web.Humidity = 20*units.PercentRH, humidity.Adsorbing
	one := d.Stations[1]
	d.Stations = d.Stations[:1]
	offer := []Change{Moisten{To: 45 * units.PercentRH}}
	for i, name := range []string{"first", "second", "third"} {
		c, p := one, line.StationSpec{Name: "behind " + name, Kind: line.Place, Gap: 300 * units.Millimetre}
		c.Name, c.At = name, units.Length(i+1)*units.Metre
		c.Change = slices.Clone(one.Change)
		if i > 0 { // what arrives is 6·e^−0.05 already
			c.Change[0].Median = units.SurfaceChargeDensity(-math.Expm1(-0.05)) * c.Change[0].Median
		}
		c.Leak = &line.LeakSpec{Path: decay.EarthedEdge, Time: 10 * units.Second}
		p.At = c.At + 0.5*units.Metre
		d.Stations = append(d.Stations, c, p)
		offer = append(offer, Cover{Station: name, Face: line.FaceA, Strength: known.Band{Value: 0.2}})
	}
	d.Stations = append(d.Stations, line.StationSpec{Name: "winder", Kind: line.Winder, At: 3.6 * units.Metre})
	l, err := line.New(d)
	if err != nil {
		t.Fatal(err)
	}
	site := nobody()
	site.Leak = &LeakLaw{Class: humidity.Adsorbing, Decades: 0.05}
	m, err := Assume(l, &site)
	if err != nil {
		t.Fatal(err)
	}
	return m, offer
}

// TestThreeThatGreedMisses: damp air lowers the load of the line most, by (5.7 − 2.47)/2 at each of four
// places, a cover by 1 + 1.85 at one or two of them; begun with it three cures do not reach the aim.
// The three covers do: the plan finds them, and says that it has tried all sets.
func TestThreeThatGreedMisses(t *testing.T) {
	m, offer := threeSources(t)
	s := m.Predict().Stations
	near(t, "behind the first", s[2].Net[1]/micro, 6*math.Exp(-0.05), 0.01)
	// Each of four places is over: 1 for that, and 5.707/2 − 1 for how far.
	near(t, "load", m.load(m.run(1), &Aim{}), 4*6*math.Exp(-0.05)/2, 0.02)
	near(t, "in damp air", try(t, m, offer[0]).Predict().Stations[2].Net[1]/micro, 2.47, 0.02)
	p := planned(t, m, Aim{Offer: offer})
	if !p.Reached || !p.Proven || len(p.Set) != 3 {
		t.Fatalf("set %v, reached %v, proven %v", p.Set, p.Reached, p.Proven)
	}
	for _, k := range p.Set {
		if _, ok := p.Cures[k].Changes[0].(Cover); !ok {
			t.Errorf("in the set: %v", p.Cures[k])
		}
	}
	g := &planner{Plan: *p, ctx: t.Context()}
	if best := g.greedy(m, &p.Aim); best.chance <= p.Aim.Chance {
		t.Errorf("the greedy search alone reaches it by %v: nothing is tested", best.set)
	}
	// Of two no set reaches it, which is proven too; nor is more than what was tried.
	if p := planned(t, m, Aim{Offer: offer, Most: 2}); p.Reached || !p.Proven {
		t.Errorf("of two: %v, proven %v", p.Set, p.Proven)
	}
	if p := planned(t, m, Aim{Offer: offer[:3], Most: 5}); p.Reached || p.Proven {
		t.Errorf("up to five of three: %v, proven %v", p.Set, p.Proven)
	}
}

// TestSetsOfThreeByForce: every set of up to three cures of plans that need three, tried by itself on all draws: what
// a plan calls proven no set beats, by its size, then by the order of its steps.
func TestSetsOfThreeByForce(t *testing.T) {
	m, offer := threeSources(t)
	offer = append(offer, Load{Station: "first", Times: 0.3}, Wrap{Station: "second", Times: 0.5},
		Add{line.StationSpec{Name: "bar", Kind: line.Ioniser, At: 3.25 * units.Metre,
			Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre}}})
	for _, chance := range []float64{0.05, 0.3} {
		p := planned(t, m, Aim{Offer: offer, Chance: chance})
		if !p.Proven {
			t.Fatalf("%v: not proven", p.Set)
		}
		steps := func(set []int) (s []Step) {
			for _, k := range set {
				s = append(s, p.Cures[k].Step)
			}
			slices.Sort(s)
			return s
		}
		n := len(p.Cures)
		for mask := range 1 << n {
			var set []int
			var list []Change
			stations := map[string]bool{}
			for k := range n {
				if mask>>k&1 == 1 {
					set = append(set, k)
					list = append(list, p.Cures[k].Changes...)
					stations[stationOf(p.Cures[k].Changes[0])] = true
				}
			}
			if len(set) > 3 || len(stations) < len(set) {
				continue
			}
			c, err := m.Try(list...)
			if err != nil || c.chance(c.run(float64(c.at)), &p.Aim) > p.Aim.Chance {
				continue
			}
			if !p.Reached || len(set) < len(p.Set) || len(set) == len(p.Set) && slices.Compare(steps(set), steps(p.Set)) < 0 {
				t.Errorf("chance %v: set %v, reached %v, and %v reaches it", chance, p.Set, p.Reached, set)
			}
		}
	}
}
