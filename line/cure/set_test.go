package cure

import (
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestNoSmallerSet tries every set of one and of two cures of a plan by itself: none that is
// smaller than the plan's reaches the aim, and a plan that says that it is not reached has
// no pair that does.
func TestNoSmallerSet(t *testing.T) {
	if testing.Short() {
		t.Skip("tries all pairs of four plans")
	}
	m := free(t, nil)
	for _, a := range []Aim{{Places: []string{places["A3"], places["A5"], places["A7"]}},
		{Places: []string{places["A3"], places["A5"]}, Chance: 0.2}, {Speed: 5, Places: []string{places["A5"], places["A7"]}},
		{Most: 2}} {
		p := planned(t, m, a)
		fast := try(t, m, Run{p.Aim.Speed})
		reaches := func(set ...int) bool {
			var list []Change
			for _, k := range set {
				if s := p.Cures[k].Step; s == Earthing || s == SlowDown {
					return false
				}
				list = append(list, p.Cures[k].Changes...)
			}
			c, err := fast.Try(list...)
			if err != nil {
				return false
			}
			return c.chance(c.run(float64(c.at)), &p.Aim) <= p.Aim.Chance
		}
		for i := range p.Cures {
			if (len(p.Set) > 1 || !p.Reached) && reaches(i) {
				t.Errorf("set %v, reached %v, but %v alone does", p.Set, p.Reached, p.Cures[i])
			}
			for j := range i {
				if (len(p.Set) > 2 || !p.Reached) && reaches(j, i) &&
					stationOf(p.Cures[i].Changes[0]) != stationOf(p.Cures[j].Changes[0]) {
					t.Errorf("set %v, reached %v, but %v and %v do", p.Set, p.Reached, p.Cures[i], p.Cures[j])
				}
			}
		}
	}
}

// TestNoBarOnAContact: the unwind itself is over the limit, so that a bar is proposed in the
// first span: in free web, a tenth of a metre off the roll and not at "0 m"; where the web
// lies on something a bar is refused by its place.
func TestNoBarOnAContact(t *testing.T) {
	const uC = units.MicrocoulombPerSquareMetre
	d := oneContact(line.Roller, line.ChangeSpec{Face: line.FaceA, Spread: 1e-12})
	d.Stations[0].Change[0].Median = 5 * uC
	d.Stations = append(d.Stations[:1], append([]line.StationSpec{{Name: "first", Kind: line.Place,
		At: 0.5 * units.Metre, Gap: 300 * units.Millimetre}}, d.Stations[1:]...)...)
	l, err := line.New(d)
	if err != nil {
		t.Fatal(err)
	}
	site := nobody()
	m, err := Assume(l, &site)
	if err != nil {
		t.Fatal(err)
	}
	bars := 0
	for _, c := range planned(t, m, Aim{}).Cures {
		x, ok := c.Changes[0].(Add)
		if !ok {
			continue
		}
		bars++
		if at := x.Station.At; at < 100*units.Millimetre || at > 0.9*units.Metre && at < 1.1*units.Metre {
			t.Errorf("a bar at %v", at)
		}
		if strings.Contains(c.String(), " 0 m") {
			t.Error(c)
		}
	}
	if bars == 0 {
		t.Error("no bar is proposed")
	}
	for _, at := range []units.Length{0, 5 * units.Millimetre, units.Metre, 1.009 * units.Metre, 3 * units.Metre} {
		_, err := m.Try(Add{line.StationSpec{Name: "bar", Kind: line.Ioniser, At: at,
			Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre}}})
		if err == nil || !strings.Contains(err.Error(), "station.at") || !strings.Contains(err.Error(), "free web") {
			t.Errorf("a bar at %v: %v", at, err)
		}
	}
	in := try(t, m, Add{line.StationSpec{Name: "bar", Kind: line.Ioniser, At: 0.4 * units.Metre,
		Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre}}})
	if _, err := in.Try(Move{Station: "bar", To: units.Metre}); err == nil || !strings.Contains(err.Error(), "free web") {
		t.Errorf("moved onto a roller: %v", err)
	}
}

// TestTiesOfSets: of cures that each reach the aim alone the one of the earlier step is chosen, although a bar leaves
// less; of two bars the one that costs less by the year, 100 against 300 for a price over 10 years, whichever it is,
// and
// without prices the one that leaves less.
func TestTiesOfSets(t *testing.T) {
	const uC = units.MicrocoulombPerSquareMetre
	d := oneContact(line.Roller, line.ChangeSpec{Face: line.FaceA, Median: 3 * uC, Spread: 1e-12})
	d.Limit.Net = 2 * uC
	l, err := line.New(d)
	if err != nil {
		t.Fatal(err)
	}
	bar := func(name string, at units.Length) Change {
		return Add{line.StationSpec{Name: name, Kind: line.Ioniser, At: at,
			Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre}}}
	}
	mid, side := bar("mid", 1.5), bar("side", 1.08) // nearer to the roller it sees less
	cover := Cover{Station: "contact", Face: line.FaceA, Strength: known.Band{Value: 0.6}}
	chosen := func(mid, side units.Ratio, offer ...Change) string {
		site := nobody()
		site.Prices.Currency = "EUR"
		site.Devices = map[string]Device{"mid": {Price: 1000 * float64(mid), Life: 10 * 365.25 * units.Day},
			"side": {Price: 1000 * float64(side), Life: 10 * 365.25 * units.Day}}
		if mid+side == 0 {
			site.Devices = nil
		}
		m, err := Assume(l, &site)
		if err != nil {
			t.Fatal(err)
		}
		p := planned(t, m, Aim{Offer: offer})
		if !p.Reached || len(p.Set) != 1 {
			t.Fatalf("set %v of %v: %v", p.Set, p.Cures, p.After)
		}
		return p.Cures[p.Set[0]].String()
	}
	for _, c := range []struct {
		mid, side units.Ratio
		offer     []Change
		want      string
	}{
		{0, 0, []Change{side, mid}, "mid"}, {0, 0, []Change{mid, side}, "mid"},
		{1, 3, []Change{side, mid}, "mid"}, {3, 1, []Change{mid, side}, "side"},
		{1, 1, []Change{mid, cover, side}, "cover"},
	} {
		if got := chosen(c.mid, c.side, c.offer...); !strings.Contains(got, c.want) {
			t.Errorf("prices %v and %v: %q, want %q", c.mid, c.side, got, c.want)
		}
	}
}
