package survey_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// TestRisesByHand: displays of a field meter in free spans, in 2588 V per µC/m² of net charge, against a limit of
// 2 µC/m². A stretch passes the limit if its contacts add more than that, and the net charge behind it is more than
// that of the same sign.
func TestRisesByHand(t *testing.T) {
	type want struct {
		between   [2]int
		contacts  []int
		step, net float64
	}
	for _, c := range []struct {
		what    string
		p, q, s float64 // net charge at three places, read at two meters of each [µC/m²]
		want    []want
	}{
		{"one step", 1, 6, 6.2, []want{{[2]int{2, 4}, []int{3}, 5, 6}}},
		{"at the start, then a weak one", -6, -7, -7, []want{{[2]int{-1, 1}, []int{0}, -6, -6}}},
		{"a strong step that brings the net charge down", -6, -3, -3, []want{{[2]int{-1, 1}, []int{0}, -6, -6}}},
		{"a strong step to the other sign, below the limit", -6, 1, 1, []want{{[2]int{-1, 1}, []int{0}, -6, -6}}},
		{"steps below the limit that add up to more", 1, 2.2, 3.4, nil},
		{"2.02 of 2, of spots that scatter by 5 %: not for certain", 2.02, 2.02, 2.02, nil},
		{"two steps, the stronger one first", 3, 3.1, 7.2, []want{{[2]int{5, 8}, []int{6, 7}, 4.1, 7.2},
			{[2]int{-1, 1}, []int{0}, 3, 3}}},
	} {
		d := read(t, hand(place("p", 1), place("p2", 1.5), roller("r", 2, line.FaceA), place("q", 3), place("q2", 3.5),
			nip("n", 4), roller("o", 5, line.FaceB), place("s", 6), place("s2", 6.5)),
			fields("p", c.p*perNet), fields("p2", c.p*perNet), fields("q", c.q*perNet), fields("q2", c.q*perNet),
			fields("s", c.s*perNet), fields("s2", c.s*perNet))
		got := d.Rises()
		if len(got) != len(c.want) {
			t.Errorf("%s: %d rises, by hand %d: %+v", c.what, len(got), len(c.want), got)
			continue
		}
		for i, w := range c.want {
			if got[i].Between != w.between || !slices.Equal(got[i].Contacts, w.contacts) {
				t.Errorf("%s: between %v at %v, by hand %v at %v", c.what, got[i].Between, got[i].Contacts, w.between, w.contacts)
			}
			within(t, c.what+": step", got[i].Step, w.step, 0.35)
			within(t, c.what+": net", got[i].Net, w.net, 0.35)
		}
	}
	if new(survey.Diagnosis).Rises() != nil {
		t.Error("the zero Diagnosis has rises")
	}
}

// TestRisesBesideOthers: what a bar does is no rise, and a voltmeter over a roller, which sees one face, no place at
// which the net charge was read.
func TestRisesBesideOthers(t *testing.T) {
	bar := line.StationSpec{Name: "bar", Kind: line.Ioniser, At: 2, Gap: 275 * units.Millimetre,
		Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre, Conductivity: 1.6e-9,
			Zone: 50 * units.Millimetre, Supply: 3e-4}}
	d := read(t, hand(place("p", 1), place("p2", 1.5), bar, nip("n", 2.5), place("q", 3), place("q2", 3.5)),
		fields("p", 6*perNet), fields("p2", 6*perNet), fields("q", -6*perNet), fields("q2", -6*perNet))
	got := d.Rises() // the bar took some part of 6, so that the nip gave −12 … −6
	if len(got) != 2 || !slices.Equal(got[0].Contacts, []int{4}) {
		t.Fatalf("a nip behind a bar: %+v", got)
	}
	within(t, "a nip behind a bar: step", got[0].Step, -9, 2.5)
	d = read(t, hand(place("p", 1), place("p2", 1.5), roller("r", 2, line.FaceA), place("q", 3), place("q2", 3.5)),
		fields("p", perNet), fields("p2", perNet), over("r", line.FaceB, perFace), ohms("r", 1), fields("q", 6*perNet),
		fields("q2", 6*perNet))
	if got := d.Rises(); len(got) != 1 || got[0].Between != [2]int{2, 4} {
		t.Errorf("a voltmeter over the roller: %+v", got)
	}
}

// TestRiseIsSaid: 5 µC/m² of net charge come on at a roller that is read on both sides. The nip before it may hide as
// much in two faces that cancel, so that neither is the source for certain; that the net charge passes the limit at the
// roller is said all the same, and to look at it: 4.9 of 5, since a contact that does little is likelier.
func TestRiseIsSaid(t *testing.T) {
	d := read(t, hand(place("p", 1), nip("n", 2), place("q", 3), place("q2", 3.5), roller("r", 4, line.FaceA),
		place("s", 5), place("s2", 5.5)), fields("p", 0.5*perNet), fields("q", 0.8*perNet), fields("q2", 0.8*perNet),
		fields("s", 5.8*perNet), fields("s2", 5.8*perNet))
	v, err := d.Verdict()
	if err != nil {
		t.Fatal(err)
	}
	if d.Answer.Kind == survey.OneSource {
		t.Fatal("a nip whose faces nobody read was ruled out: ", v.Source)
	}
	if !strings.Contains(v.Source, "passes the limit between the readings at q2 and s (r) by +4.9") {
		t.Error(v.Source)
	}
	if !strings.HasPrefix(v.Do, "Do next: look at r (slip, wrap, bearing drag, cover); ") {
		t.Error(v.Do)
	}
}
