package cure

import (
	"slices"
	"strings"
	"testing"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/decay"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestWhatStaysBehind: a bar that is taken away leaves what the web meets behind it: a gain on one face or on the
// other, 2 µC/m² beside the 3 that come, or a way to earth of 0.125 s, on 0.5 m at 4 m/s e^−1 of them; with neither
// its place goes too.
func TestWhatStaysBehind(t *testing.T) {
	for what, c := range map[string]struct {
		face int // that gains; -1 for none
		leak bool
		want float64
	}{"face A": {0, false, 5}, "face B": {1, false, 5}, "a leak": {-1, true, 3 * 0.367879}, "nothing": {-1, false, 3}} {
		m := foundBar(t, barLine(strong(), func(d *line.Description) {
			if c.leak {
				d.Stations[1].Leak = &line.LeakSpec{Path: decay.EarthedEdge, Time: 0.125}
			}
		}), 1.2e-6)
		if c.face >= 0 {
			m.stages[1].hidden[c.face] = same(2e-6)
		}
		gone := try(t, m, Remove{"bar"})
		near(t, what, behindBar(gone)/micro, c.want, 1e-5)
		if kept := slices.ContainsFunc(gone.desc.Stations, func(s line.StationSpec) bool {
			return s.Name == "bar, its place"
		}); kept != (what != "nothing") {
			t.Errorf("%s: a place stays %t", what, kept)
		}
		moved := try(t, m, Switch{Station: "bar"}, Move{Station: "bar", To: 0.5})
		near(t, what+", the bar off and moved", behindBar(moved)/micro, c.want, 1e-5)
	}
}

// TestMoveWhereItPays: 300 mm before metal a bar at 25 mm sees 300/325 = 92 % of the best field, 1 m before it 98 %:
// it is offered another place from below 95 % on. Between unwind and winder without a roller the field is as good
// anywhere: a tenth of a metre off the roll, not on it.
func TestMoveWhereItPays(t *testing.T) {
	for gap, want := range map[units.Length][]units.Length{0.3: {0.1}, 1: nil} {
		m := foundBar(t, barLine(strong(), func(d *line.Description) { d.Stations[1].Gap = gap }), 1.2e-6)
		p := planned(t, m, Aim{Places: []string{"unwind"}}) // no new bar is asked for behind it
		var got []units.Length
		for _, c := range slices.Concat(p.Cures, p.Refused) {
			if x, ok := c.Changes[0].(Move); ok {
				got = append(got, x.To)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%v: moves to %v are offered, by hand %v", gap, got, want)
		}
	}
}

// TestLeadingByHand: the contact leads whose change has the greatest median, not the one that may be great: 5 µC/m²
// before 3 ± 3, of which a twentieth is beyond 7.9.
func TestLeadingByHand(t *testing.T) {
	d := oneContact(line.Roller, line.ChangeSpec{Face: line.FaceA, Median: 5e-6, Spread: 1e-9})
	second := d.Stations[1]
	second.Name, second.At = "wide", 1.5
	second.Change = []line.ChangeSpec{{Face: line.FaceB, Median: 3e-6, Spread: 3e-6}}
	d.Stations = slices.Insert(d.Stations, 2, second)
	m, err := Assume(lineOf(t, d), nil)
	if err != nil {
		t.Fatal(err)
	}
	if s := m.leading(); s != 1 {
		t.Errorf("station %d leads", s)
	}
}

// TestLoadByHand: what is over the limit of 1 µC/m², in limits, and one for being over at all: 3 µC/m² count 2 + 1, 0.5
// nothing, a face of −4 beside a net of −1 counts 3 + 1 where faces are judged.
func TestLoadByHand(t *testing.T) {
	m := foundBar(t, barLine(strong(), nil), 1.2e-6)
	for _, c := range []struct {
		a, b  float64
		faces bool
		want  float64
	}{{3, 0, false, 3}, {-3, 0, false, 3}, {0.5, 0, false, 0}, {3, -4, false, 0}, {3, -4, true, 4}, {1, 0, false, 0}} {
		w := m.blank()
		s := m.station("behind")
		w.a[s], w.b[s] = same(c.a*micro), same(c.b*micro)
		near(t, "load", m.load(w, &Aim{Places: []string{"behind"}, Faces: c.faces}), c.want, 1e-9)
	}
}

// TestPairByHand: two opposed emitters are asked for where the faces oppose each other, by the greater face: 6 and −5
// µC/m² at 4 m/s ask for 24 µA/m a face. A net of more than half of the greater face is no layer, nor is one below the
// limit of 1 µC/m².
func TestPairByHand(t *testing.T) {
	for _, c := range []struct{ a, b, want float64 }{{6, -5, 24}, {-5, 6, 24}, {6, -2.9, 0}, {6, 5, 0}, {0.9, -0.9, 0}} {
		f := found{speed: 4, low: 4, high: 4, exposed: true, changes: []column{same(c.a * micro), same(c.b * micro)}}
		d := barLine(strong(), nil)
		d.Stations = slices.Delete(d.Stations, 1, 2)
		m, err := build(d, f, ptr(nobody()))
		if err != nil {
			t.Fatal(err)
		}
		p := m.pair()
		if (p != nil) != (c.want > 0) || p != nil && p.Station != "unwind" {
			t.Errorf("%v and %v: %+v", c.a, c.b, p)
		}
		if p != nil {
			near(t, "per face", float64(p.PerFace)/micro, c.want, 1e-6)
		}
	}
}

// TestCappedInWords: the air caps a net of 100 µC/m² at a contact and not one of 5.
func TestCappedInWords(t *testing.T) {
	for median, want := range map[units.SurfaceChargeDensity]bool{100e-6: true, 5e-6: false} {
		m, err := Assume(lineOf(t, oneContact(line.Roller, line.ChangeSpec{Face: line.FaceA, Median: median, Spread: 1e-9})),
			ptr(nobody()))
		if err != nil {
			t.Fatal(err)
		}
		if got := slices.ContainsFunc(m.Predict().Notices, func(n known.Notice) bool {
			return n.Code == hazard.NoticeBrush.Code()
		}); got != want {
			t.Errorf("%v: the air caps it %t", median, got)
		}
	}
}

// TestSourcesInOrder: the stop that gives most leads, those that never do stand in the order of the way.
func TestSourcesInOrder(t *testing.T) {
	g := moulded()
	g.Stations = []Stop{{Name: "mould", Kind: MouldStop, Change: known.Band{Value: 10e-9}},
		{Name: "first", Kind: DropStop, Change: known.Band{Value: 20e-9}},
		{Name: "second", Kind: SlideStop, Change: known.Band{Value: -40e-9}},
		{Name: "third", Kind: DropStop}, {Name: "bin", Kind: BinStop, Change: known.Band{Value: 5e-9}}}
	var names []string
	for _, s := range route(t, g).Sources() {
		names = append(names, s.Name)
		if (s.Chance == 1) != (s.Name == "second") || s.Chance != 0 && s.Chance != 1 {
			t.Errorf("%+v", s)
		}
	}
	if got := strings.Join(names, " "); got != "second mould first bin" {
		t.Errorf("%s", got)
	}
}

// TestStartOfSlides: what slides may be covered: a tenth is left when that is taken away, and the list of what was
// assumed says so; of other stops it is not said.
func TestStartOfSlides(t *testing.T) {
	g, assumed, err := StartGoods(answersOf(PartBody))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range g.Stations {
		told := slices.ContainsFunc(assumed,
			func(a line.Assumption) bool { return a.Field == "stations ("+s.Name+").without" })
		if want := s.Kind == SlideStop; (s.Without != nil) != want || told != want {
			t.Errorf("%s: without %+v, told %t", s.Name, s.Without, told)
		}
		if s.Without != nil && *s.Without != (known.Band{Value: 0.1, Spread: 0.1, Kind: known.Normal}) {
			t.Errorf("%+v", s.Without)
		}
	}
}
