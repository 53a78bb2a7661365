package survey_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

// TestNotListed: the step lies between two places with nothing between them.
func TestNotListed(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), place("Q", 2), place("T", 2.5), roller("S", 3, line.FaceA))
	d := read(t, desc, over("R", line.FaceA, 0), fields("P", 0), fields("Q", 6*perNet), fields("T", 6*perNet),
		over("S", line.FaceB, 0),
		ohms("R", 1), ohms("S", 1))
	v, f := said(t, d)
	if d.Answer.Kind != survey.NotListed || d.Answer.Between != [2]int{2, 3} {
		t.Fatalf("%+v", d.Answer)
	}
	if !strings.Contains(v.Source, "something that is not on the list, between the readings at P and Q") ||
		!strings.Contains(v.Do, "walk the stretch between the readings at P and Q") {
		t.Errorf("%q, %q", v.Source, v.Do)
	}
	// The voltmeter over S sees nothing on face B: what came is on face A.
	faces := f.Source.Faces[0]
	if len(faces) == 0 || faces[0].Face != line.FaceA || !(math.Abs(faces[0].Change.Value/micro-6) <= 1) {
		t.Errorf("%+v", faces)
	}
}

// TestTwoSources: two rollers give 8 µC/m² each to faces A and B.
func TestTwoSources(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), roller("S", 2, line.FaceA), place("Q", 3),
		roller("U", 4, line.FaceB), place("T", 5))
	desc.Meters[0].FullScale = 100e3
	d := read(t, desc, over("R", line.FaceA, 0), fields("P", 0), over("S", line.FaceB, 0), fields("Q", 8*perNet),
		over("U", line.FaceA, 8*perFace), fields("T", 16*perNet))
	v, _ := said(t, d)
	if d.Answer.Kind != survey.TwoSources || len(d.Answer.Sets) != 2 || d.Answer.Sets[0][0] != 3 ||
		d.Answer.Sets[1][0] != 5 {
		t.Fatalf("%+v", d.Answer)
	}
	if !strings.Contains(v.Source, "two of like size: S, face A +") || !strings.Contains(v.Source, "; and U, face B +") {
		t.Error(v.Source)
	}
}

// TestOpinionIsNoEvidence: 3 µC/m² come off the roll and stay. Behind the last reading
// stands a roller of which nothing was read and which is said to do up to 60: in most
// of what is possible it does most, and it is not named for that.
func TestOpinionIsNoEvidence(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), place("Q", 2), roller("W", 3, line.FaceA))
	desc.Stations[4].Change[0].Spread = 60 * micro
	d := read(t, desc, over("R", line.FaceA, 3*perFace), over("R", line.FaceA, 3*perFace), ohms("R", 1),
		fields("P", 3*perNet), fields("Q", 3*perNet))
	if len(d.Leads) == 0 || d.Leads[0].Station != 4 {
		t.Fatalf("%+v", d.Leads)
	}
	for _, set := range d.Answer.Sets {
		if slices.Contains(set, 4) {
			t.Errorf("%+v, %+v", d.Answer, d.Leads)
		}
	}
	if v, f := said(t, d); !slices.Equal(f.Source.Beyond, []int{4}) || strings.Contains(v.Do, "cure W") {
		t.Errorf("%+v, %q", f.Source, v.Do)
	}
}

// TestOneOrBoth: two rollers, ten stations apart, give 8 µC/m² to face A and a share
// of it to face B. Of like size is more than 0.4: a share of 0.12 leaves one source,
// 0.46 leaves open whether there are two, and the sentence says so.
func TestOneOrBoth(t *testing.T) {
	for _, share := range []float64{0.12, 0.46} {
		rows := []line.StationSpec{roller("R", 0.5, line.FaceB), place("P", 1), roller("S", 2, line.FaceA), place("Q", 3)}
		for i := range 8 {
			rows = append(rows, place("unread "+string(rune('a'+i)), 3.1+0.1*float64(i)))
		}
		rows = append(rows, roller("U", 4, line.FaceB), place("T", 5))
		desc := hand(rows...)
		desc.Meters[0].FullScale = 100e3
		d := read(t, desc, over("R", line.FaceA, 0), fields("P", 0), over("S", line.FaceB, 0), fields("Q", 8*perNet),
			over("U", line.FaceA, 8*perFace), fields("T", 8*(1+share)*perNet), ohms("R", 1), ohms("S", 1), ohms("U", 1))
		v, _ := said(t, d)
		if share < 0.2 {
			if d.Answer.Kind != survey.OneSource || d.Answer.Sets[0][0] != 3 || d.Answer.Both != 0 {
				t.Errorf("share %v: %+v", share, d.Answer)
			}
			continue
		}
		if a := d.Answer; a.Kind != survey.OneOf || !slices.Equal(a.Sets[0], []int{3, 13}) || a.Both < 0.05 || a.Both > 0.5 {
			t.Errorf("share %v: %+v", share, a)
		}
		if !strings.Contains(v.Source, "Main source: one of S and U, or both, of like size (") {
			t.Error(v.Source)
		}
	}
}

// TestOneOf: two rollers between the same two readings cannot be told apart; the
// voltmeter over the second would tell, and is what is suggested.
func TestOneOf(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), roller("S", 2, line.FaceA), roller("U", 2.5, line.FaceB),
		place("Q", 3))
	d := read(t, desc, over("R", line.FaceA, 0), fields("P", 0), fields("Q", 6*perNet))
	v, f := said(t, d)
	if d.Answer.Kind != survey.OneOf || len(d.Answer.Sets[0]) != 2 || d.Answer.Sets[0][0] != 3 ||
		d.Answer.Sets[0][1] != 4 || d.Answer.Between != [2]int{2, 5} {
		t.Fatalf("%+v", d.Answer)
	}
	if !strings.Contains(v.Source, "one of S and U") || !strings.Contains(v.Source, "cannot separate them") {
		t.Error(v.Source)
	}
	if f.Next == nil || f.Next.Quantity != line.OverRoller || f.Next.Station != 3 && f.Next.Station != 4 ||
		f.Next.To < f.Next.From+0.2 {
		t.Errorf("%+v", f.Next)
	}
}

// TestSignsContradict: what the voltmeter shows as +8 µC/m² on the only charged
// face the field meter shows as −8, at three places.
func TestSignsContradict(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), roller("S", 2, line.FaceA), place("Q", 3),
		roller("U", 4, line.FaceB),
		place("T", 5), roller("W", 6, line.FaceA), place("X", 7))
	desc.Meters[0].FullScale = 100e3
	d := read(t, desc, over("R", line.FaceA, 7*perFace), fields("P", -7*perNet), over("S", line.FaceB, 0),
		fields("Q", -7*perNet),
		over("U", line.FaceA, 7*perFace), fields("T", -7*perNet), over("W", line.FaceB, 0), fields("X", -7*perNet))
	v, _ := said(t, d)
	if d.Answer.Kind != survey.Contradict || !strings.Contains(v.Source, "disagree about the sign") {
		t.Errorf("%+v, %q", d.Answer, v.Source)
	}
}

// TestOddReadings: of four displays one has the wrong sign, or is kilovolts typed
// as volts; a voltmeter reading is ten times too much. Each is named with what
// would explain it and moves nothing.
func TestOddReadings(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), roller("S", 2, line.FaceB), place("Q", 3),
		roller("U", 4, line.FaceB), place("T", 5))
	rows := [][]survey.Reading{
		over("R", line.FaceA, 5*perFace), fields("P", 5*perNet), over("S", line.FaceA, 50*perFace), fields("Q", 5*perNet),
		over("U", line.FaceA, 5*perFace), fields("T", 5*perNet),
	}
	rows[1][2].Value = -5 * perNet
	rows[3][1].Value = 5 * perNet / 1000
	d := read(t, desc, rows...)
	within(t, "net", d.States[2].Net, 5, 0.5)
	within(t, "face A", d.States[6].A, 5, 0.8)
	v, f := said(t, d)
	want := map[int]survey.Blunder{3: survey.WrongSign, 5: survey.TenTimes, 7: survey.KiloAsVolts}
	if len(f.Agreement.Odd) != 3 {
		t.Fatalf("%+v", f.Agreement)
	}
	for _, o := range f.Agreement.Odd {
		if o.Blunder != want[o.Reading] || o.Chance < 0.5 {
			t.Errorf("%+v, want %v", o, want[o.Reading])
		}
	}
	if !strings.Contains(v.Agree, "3 of 15 readings used do not fit the others") ||
		!strings.Contains(v.Agree, "reading 4 (P: −13 kV, the others say +13), the sign?") {
		t.Error(v.Agree)
	}
}

// TestATenth: of three voltmeter readings of 5 µC/m² one shows a tenth.
func TestATenth(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), roller("S", 2, line.FaceB), place("Q", 3),
		roller("U", 4, line.FaceB), place("T", 5))
	d := read(t, desc, over("R", line.FaceA, 5*perFace), fields("P", 5*perNet), over("S", line.FaceA, 0.5*perFace),
		fields("Q", 5*perNet), over("U", line.FaceA, 5*perFace), fields("T", 5*perNet), ohms("R", 1), ohms("S", 1),
		ohms("U", 1))
	if odd := d.Agreement().Odd; len(odd) != 1 || odd[0].Reading != 5 || odd[0].Blunder != survey.ATenth {
		t.Errorf("%+v", odd)
	}
}

// TestPriorNamesNobody: an idler and a nip touch face A between the same two
// readings. The step of 9 µC/m² is less than the nip's described spread and 18 times the
// idler's; the readings cannot tell, and the opinion does not.
func TestPriorNamesNobody(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), roller("S", 2, line.FaceA), nip("N", 2.5), place("Q", 3),
		roller("U", 4, line.FaceA))
	desc.Meters[0].FullScale = 100e3
	desc.Stations[3].Change[0].Spread = 0.5 * micro
	d := read(t, desc, over("R", line.FaceA, 0), fields("P", 0), over("N", line.FaceA, 9*perFace),
		fields("Q", 9*perNet), over("U", line.FaceB, 0),
		ohms("R", 1), ohms("N", 1), ohms("U", 1))
	a := d.Answer
	if a.Kind != survey.OneOf || !slices.Contains(a.Sets[0], 3) || !slices.Contains(a.Sets[0], 4) {
		t.Errorf("%+v, chances %v", a, d.Leads)
	}
}

// TestOffset: a display of nothing with an offset of 500 V is a net of 0 ± 0.19.
func TestOffset(t *testing.T) {
	desc := hand(place("P", 1))
	desc.Meters[0].Offset = 500
	for i := range desc.Stations[0].Change {
		desc.Stations[0].Change[i].Spread = 1 * micro // little charge, little scatter
	}
	e := read(t, desc, fields("P", 0)).States[1].Net
	if sd := e.SD / micro; !(math.Abs(sd-500/perNet) <= 0.05) {
		t.Errorf("sd %.3f, by hand %.3f", sd, 500/perNet)
	}
}

// TestNameRestsOnOneReading: 5 µC/m² come between P and T, where S may give ± 3 and U ± 4. The readings at Q between
// the two say that S gave them. Without Q their sum alone is known, of which by the spreads U has 16/(9 + 16), 3.2,
// and S 1.8: U leads. One reading at Q names nobody and is told to be the one; four name S. So it is with 7 µC/m²,
// where U is so far off with the reading at Q that no sample with U is left to see it by (S was named there, 94 %).
func TestNameRestsOnOneReading(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), roller("S", 2, line.FaceA), place("Q", 3),
		roller("U", 4, line.FaceA), place("T", 5))
	desc.Stations[5].Change[0].Spread = 4 * micro
	for _, x := range []float64{5, -5, 7, -7} {
		at := func(n int) *survey.Diagnosis { // readings 0, 1 … 4, 5 … 8; those at Q from 9 on
			return read(t, desc, over("R", line.FaceA, 0), fields("P", 0), fields("T", x*perNet), fields("Q", x*perNet)[:n])
		}
		if d := at(0); d.Leads[0].Station != 5 {
			t.Errorf("%v without Q: %+v", x, d.Leads)
		}
		if a := at(1).Answer; a.Kind != survey.CannotTell || a.Why != survey.OneReading || a.Rests != 9 ||
			!slices.Equal(a.Sets[0], []int{3}) {
			t.Errorf("%v with one reading at Q: %+v", x, a)
		}
		if a := at(4).Answer; a.Kind != survey.OneSource || a.Rests != -1 || !slices.Equal(a.Sets[0], []int{3}) {
			t.Errorf("%v with four: %+v", x, a)
		}
	}
}

// TestWeakContactsAddUp: five rollers of which none needs to give more than 0.6 of the limit of
// 2 µC/m² make a net of 3 at Q. Nobody says then that what was read stays below the limit;
// of a net of 1 that is said.
func TestWeakContactsAddUp(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceA), place("P", 1), roller("S", 2, line.FaceA), roller("U", 3, line.FaceB),
		roller("W", 4, line.FaceA), roller("X", 5, line.FaceB), roller("Y", 6, line.FaceA), place("Q", 7))
	for net, kind := range map[float64]survey.AnswerKind{3: survey.CannotTell, -3: survey.CannotTell, 1: survey.NoneAbove,
		-1: survey.NoneAbove} {
		d := read(t, desc, over("R", line.FaceB, 0), fields("P", 0), fields("Q", net*perNet), ohms("R", 1))
		v, f := said(t, d)
		if d.Answer.Kind != kind || (kind == survey.CannotTell) != (f.Source.Net != nil) {
			t.Errorf("net %v: %+v, quiet %v, %s", net, d.Answer, d.Quiet, v.Source)
		}
		if f.Source.Net != nil && (d.Answer.Why != survey.NetOpen || f.Source.Net.Station != 8) {
			t.Errorf("net %v: %+v", net, f.Source.Net)
		}
	}
}

// TestNoneDismissesNoPlace: S gives −9 µC/m² to face B and U takes 8.5 of it away; between
// them displays stand at the end of the range, −20 kV or −7.7 µC/m². A quiet line explains
// all else, with these as wrong. One reading may be; several that agree at one place are
// not dismissed; and of neither anybody says that nothing comes near the limit of 2 µC/m²,
// because the net charge there may be beyond it.
func TestNoneDismissesNoPlace(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceA), place("P", 1), roller("S", 2, line.FaceB), place("Q", 3),
		roller("U", 4, line.FaceB), place("T", 5), roller("W", 6, line.FaceA))
	for _, out := range []bool{true, false} {
		for n := 1; n <= 4; n++ {
			q := fields("Q", -20e3)[:n]
			for i := range q {
				q[i].AtLeast = out
				if !out {
					q[i].Value = -19e3
				}
			}
			d := read(t, desc, over("R", line.FaceB, 0), over("W", line.FaceB, -0.5*perFace), fields("P", 0), q,
				fields("T", -0.5*perNet), ohms("R", 1), ohms("W", 1))
			if d.Answer.Kind == survey.NoneAbove || n == 1 && d.Dismissed() || out && n > 1 && !d.Dismissed() {
				t.Errorf("%d out of range %v: %+v, quiet %v, dismissed %v", n, out, d.Answer, d.Quiet, d.Dismissed())
			}
		}
	}
}
