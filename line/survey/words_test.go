package survey

import (
	"slices"
	"strings"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
)

// wordsFor is a line of five stations with findings made by hand.
func wordsFor(f *Findings) words {
	d := &Diagnosis{
		desc: line.Description{
			Web: line.Web{Material: "BOPP film", Humidity: humidity.Inert},
			Stations: []line.StationSpec{
				{Name: "unwind", Kind: line.Unwind}, {Name: "P", Kind: line.Place}, {Name: "N", Kind: line.Nip},
				{Name: "R", Kind: line.Roller}, {Name: "Q", Kind: line.Place},
				{Name: "bar", Kind: line.Ioniser, Ioniser: &line.IonSpec{}},
			},
		},
		survey: &Survey{Readings: make([]Reading, 12)},
	}
	for i := range d.survey.Readings {
		d.survey.Readings[i].Line = i + 2
		d.survey.Readings[i].Station, d.survey.Readings[i].Quantity = "P", line.FieldMeter
	}
	return words{d, f, units.Metric}
}

// micros5 is an estimate in µC/m².
func micros5(lo, mid, hi float64) Estimate {
	return Estimate{Value: mid * 1e-6, Low: lo * 1e-6, High: hi * 1e-6}
}

// TestSourceSentences: each answer in words, from findings made by hand.
func TestSourceSentences(t *testing.T) {
	nip := [][]FaceChange{{{line.FaceA, micros5(12, 15.04, 18)}, {line.FaceB, micros5(-18, -14, -9.6)}}}
	roller := []FaceChange{{line.FaceA, micros5(5, 6, 7)}}
	for _, c := range []struct {
		f    SourceFinding
		want string
	}{
		{SourceFinding{Answer: Answer{Kind: OneSource, Sets: [][]int{{2}}, Between: [2]int{1, 4}, Beside: 0.03}, Faces: nip},
			"Main source: N, face A +15 (+12 … +18) µC/m² and face B −14 (−18 … −9.6) µC/m²; " +
				"the step lies between the readings at P and Q " +
				"(something there that is not on the list: 3 %)."},
		{SourceFinding{Answer: Answer{Kind: OneSource, Sets: [][]int{{3}}, Between: [2]int{-1, 4}},
			Faces: [][]FaceChange{roller}},
			"Main source: R, face A +6.0 (+5.0 … +7.0) µC/m²; the step lies before the reading at Q."},
		{SourceFinding{Answer: Answer{Kind: TwoSources, Sets: [][]int{{0, 2}, {3}}}, Faces: [][]FaceChange{roller}},
			"Main source: two of like size: unwind or N; and R, face A +6.0 (+5.0 … +7.0) µC/m²; " +
				"correcting one leaves the other."},
		{SourceFinding{Answer: Answer{Kind: OneOf, Sets: [][]int{{0, 2, 3}}, Between: [2]int{-1, 4}}},
			"Main source: one of unwind, N and R; these readings cannot separate them."},
		{SourceFinding{Answer: Answer{Kind: OneOf, Sets: [][]int{{2}}, Between: [2]int{1, 4}, Scatter: true}},
			"Main source: N, between the readings at P and Q, by the spots alone: they scatter by more than the charge " +
				"outside explains, so that the faces hold charges that cancel; no voltmeter saw them."},
		{SourceFinding{Answer: Answer{Kind: OneOf, Sets: [][]int{{0, 2}}, Between: [2]int{-1, 4}, Scatter: true,
			Unlisted: true}},
			"Main source: one of unwind and N, or something that is not on the list, before the reading at Q, by the " +
				"spots alone: they scatter by more than the charge outside explains, so that the faces hold charges that " +
				"cancel; no voltmeter saw them."},
		{SourceFinding{Answer: Answer{Kind: OneOf, Sets: [][]int{{2, 3}}, Between: [2]int{-1, 4}, Both: 0.05}},
			"Main source: one of N and R, or both, of like size (5 %); these readings cannot separate them."},
		{SourceFinding{Answer: Answer{Kind: OneOf, Sets: [][]int{{2, 3}}, Between: [2]int{-1, 4}, Both: 0.049}},
			"Main source: one of N and R; these readings cannot separate them."},
		{SourceFinding{Answer: Answer{Kind: OneOf, Sets: [][]int{{0, 2, 3}}, Between: [2]int{-1, 4}, Both: 0.31,
			Unlisted: true}},
			"Main source: one of unwind, N and R, or two of them, of like size (31 %), or something that is not on the list, " +
				"before the reading at Q; these readings cannot separate them."},
		{SourceFinding{Answer: Answer{Kind: OneOf, Sets: [][]int{{3}}, Between: [2]int{1, 4}, Unlisted: true}},
			"Main source: R, or something that is not on the list, between the readings at P and Q; " +
				"these readings cannot separate them."},
		{SourceFinding{Answer: Answer{Kind: OneOf, Sets: [][]int{{2, 3}}, Between: [2]int{1, -1}, Unlisted: true}},
			"Main source: one of N and R, or something that is not on the list, after the reading at P; " +
				"these readings cannot separate them."},
		{SourceFinding{Answer: Answer{Kind: OneOf, Sets: [][]int{{2}}, Between: [2]int{1, 4}}},
			"Main source: N by its net charge, between the readings at P and Q; what its faces hold was not read."},
		{SourceFinding{Answer: Answer{Kind: NotListed, Between: [2]int{1, 4}}, Faces: [][]FaceChange{roller}},
			"Main source: something that is not on the list, between the readings at P and Q: face A +6.0 (+5.0 … +7.0) µC/m²."},
		{SourceFinding{Answer: Answer{Kind: Contradict, Clash: &Clash{Sign: true}}},
			"Main source: these readings contradict each other: the field meter and the voltmeter disagree about the sign; " +
				"one of them is read or connected the wrong way round."},
		{SourceFinding{Answer: Answer{Kind: Contradict, Clash: &Clash{Readings: []int{0, 3, 7}}}},
			"Main source: these readings contradict each other (line 2, line 5 and line 9)."},
		{SourceFinding{Answer: Answer{Kind: CannotTell, Why: NoCharge}},
			"Main source: these readings cannot tell: none of them sees the charge of the running web."},
		{SourceFinding{Answer: Answer{Kind: CannotTell, Why: OneReading, Sets: [][]int{{3}}, Rests: 4}},
			"Main source: these readings cannot tell: R leads by line 6 alone, and falls back without it."},
		{SourceFinding{Answer: Answer{Kind: CannotTell, Why: FacesUnread}, Unread: []int{0, 2}},
			"Main source: these readings cannot tell: the net charge stays below the limit where it was read, but no " +
				"voltmeter saw a face " +
				"behind unwind and N, and two faces that cancel stay hidden from a field meter."},
		{SourceFinding{Answer: Answer{Kind: CannotTell, Why: NetOpen}, Leads: []Leads{{2, 0.51}, {3, 0.2}},
			Net: &PlaceNet{1, micros5(3, 4, 5), 2e-6}},
			"Main source: these readings cannot tell: the net charge at P, +4.0 (+3.0 … +5.0) µC/m², is not below the limit " +
				"of 2.0 µC/m², and no single contact stands out: several may add up (N 51 %, R 20 %)."},
		{SourceFinding{Answer: Answer{Kind: CannotTell, Why: SeveralOpen}, Leads: []Leads{{2, 0.97}}},
			"Main source: these readings cannot tell: N 97 %, but what it gave is not clearly above the limit and above what " +
				"the others gave."},
		{SourceFinding{Answer: Answer{Kind: OneOf, Sets: [][]int{{2}}, Between: [2]int{1, 4}, Scatter: true}, Step: true},
			"Main source: N, between the readings at P and Q; the step by itself may be weak contacts that add up, and how " +
				"the spots scatter speaks against that; what the faces hold was not read."},
		{SourceFinding{Answer: Answer{Kind: CannotTell, Why: NothingStands}, Leads: []Leads{{2, 0.51}, {3, 0.2}}},
			"Main source: these readings cannot tell: no step between two places is large enough against what the readings " +
				"leave open (N 51 %, R 20 %)."},
		{SourceFinding{Answer: Answer{Kind: CannotTell, Why: SeveralOpen}, Leads: []Leads{{2, 0.51}, {3, 0.2}},
			Unread: []int{2}},
			"Main source: these readings cannot tell: several remain open (N 51 %, R 20 %); no voltmeter saw a face behind N, " +
				"and a field meter in a free span sees only the sum of both."},
		{SourceFinding{Answer: Answer{Kind: OneOf, Sets: [][]int{{0, 2, 3}}, Between: [2]int{-1, 4}}, Rises: []NetRise{
			{Between: [2]int{1, 4}, Contacts: []int{2, 3}, Step: micros5(3, 5, 7)},
			{Between: [2]int{-1, 1}, Step: micros5(-5, -4, -3)}}},
			"Main source: one of unwind, N and R; these readings cannot separate them. The net charge, which a field meter " +
				"shows, passes the limit between the readings at P and Q (N and R) by +5.0 (+3.0 … +7.0) µC/m² and before the " +
				"reading at P by −4.0 (−5.0 … −3.0) µC/m²."},
	} {
		w := wordsFor(&Findings{Source: c.f})
		if got := w.source(); got != c.want {
			t.Errorf("%v:\n got %s\nwant %s", c.f.Kind, got, c.want)
		}
	}
}

// TestOtherSentences: the other lines of a verdict, from findings made by hand.
func TestOtherSentences(t *testing.T) {
	layer := &LayerFinding{Station: 4, A: micros5(14, 16, 18), B: micros5(-19, -17, -15),
		Nominal: 25 * units.Millimetre, Shown: -2800, Brush: 0.068}
	out := &OutlookFinding{Speed: 300 * units.MetrePerMinute, Station: 4, A: [3]float64{14e-6, 20e-6, 28e-6},
		B: [3]float64{-30e-6, -21e-6, -15e-6}, Worst: 0.8, At: 3}
	one := SourceFinding{Answer: Answer{Kind: OneSource, Sets: [][]int{{2}}, Between: [2]int{1, 4}}}
	iso := IsolatedState{Finding: GroundFinding{Station: 3, Measured: true, Isolated: true, Resistance: 3.6e9},
		Voltage: 3900, HighVoltage: 7000, Energy: 4.9e-3, Sparks: true}
	least := IsolatedState{Finding: GroundFinding{Station: 2, Measured: true, Isolated: true, Resistance: 20e6,
		AtLeast: true}}
	for _, c := range []struct {
		name string
		f    Findings
		say  func(w *words) string
		want string
	}{
		{"isolated", Findings{Earth: EarthFinding{Isolated: []IsolatedState{iso, least}, Measured: 3, Missing: []int{0}}},
			(*words).earth,
			"Earth first: R (3.6 GΩ to earth; charges to about 3.9 kV, perhaps 7.0 kV and 4.9 mJ, and sparks); " +
				"N (at least 20 MΩ to earth). Not measured: unwind."},
		{"earthed", Findings{Earth: EarthFinding{Measured: 1, Missing: []int{2, 3}}}, (*words).earth,
			"Earth: the one conductor measured reads at most 1 MΩ to earth. Not measured: N and R."},
		{"not measured", Findings{Earth: EarthFinding{Missing: []int{2, 3}}}, (*words).earth,
			"Earth: no conductor's resistance to earth was measured; do that before anything else."},
		{"agree", Findings{Agreement: Agreement{Used: 35, Scatter: 0.2, Described: 0.2, Strain: 1}}, (*words).agree,
			"Agreement: all 35 readings used fit together within their errors."},
		{"odd", Findings{Agreement: Agreement{Used: 35, Scatter: 0.4, Described: 0.2, Strain: 1.24, Odd: []OddReading{
			{Reading: 3, Shown: -4000, Expected: 3900, Blunder: WrongSign},
			{Reading: 4, Shown: 39000, Expected: 3900, Blunder: TenTimes},
			{Reading: 5, Shown: 390, Expected: 3900, Blunder: ATenth}, {Reading: 6}}}}, (*words).agree,
			"Agreement: 4 of 35 readings used do not fit the others: line 5 (P: −4.0 kV, the others say +3.9), the sign?; " +
				"line 6 (P: +39 kV, the others say +3.9), ten times too much?; " +
				"line 7 (P: +0.39 kV, the others say +3.9), a tenth of it?; 1 more; " +
				"spots scatter by 40 % where 20 % is described, and the bands are wider for it; " +
				"places disagree by 1.2 times their errors, and the bands are wider for it."},
		{"place", Findings{Agreement: Agreement{Used: 9,
			Odd: []OddReading{{Reading: 0, Shown: 4, Expected: 3900, Blunder: KiloAsVolts},
				{Reading: 1, Shown: 2000, Expected: 3900, Blunder: WrongPlace, Place: 4}}}}, (*words).agree,
			"Agreement: 2 of 9 readings used do not fit the others: line 2 (P: +0.0040 kV, the others say +3.9), kilovolts " +
				"written as volts?; " +
				"line 3 (P: +2.0 kV, the others say +3.9), the reading of Q?."},
		{"measure", Findings{Next: &Suggestion{Quantity: line.OverRoller, Station: 3, Face: line.FaceB, From: 0.48,
			To: 0.81}}, (*words).measure,
			"Measure next: face B with a non-contact voltmeter over R, earthed; " +
				"it would take the chance of the likeliest source from 48 to about 81 %."},
		{"measure behind", Findings{Next: &Suggestion{Quantity: line.FieldMeter, Station: 3, Behind: true, From: 0.48,
			To: 0.99}}, (*words).measure,
			"Measure next: the field in the free span after R, mid-span, four spots across, with the gap behind the web; " +
				"it would take the chance of the likeliest source from 48 to about 97 %."},
		{"measure place", Findings{Next: &Suggestion{Quantity: line.FieldMeter, Station: 4, From: 0.2, To: 0.3}},
			(*words).measure,
			"Measure next: the field at Q, four spots across; " +
				"it would take the chance of the likeliest source from 20 to about 30 %."},
		{"cure", Findings{Source: one, Bars: []BarFinding{{Station: 5, Factor: 0.28,
			Share: Estimate{Value: 0.19, Low: -0.02, High: 0.4}, Known: true}}}, (*words).do,
			"Do next: correct the cause at N (cover material, load, slip); " +
				"move bar to mid-span: where it stands it sees 28 % of the field; whether it took anything of the " +
				"net charge cannot be told from these readings (at most 40 %)."},
		{"bar unknown", Findings{Source: SourceFinding{Answer: Answer{Kind: CannotTell}},
			Bars: []BarFinding{{Station: 5, Factor: 0.28}}}, (*words).do,
			"Do next: move bar to mid-span: where it stands it sees 28 % of the field."},
		{"two cures", Findings{Source: SourceFinding{Answer: Answer{Kind: TwoSources, Sets: [][]int{{0}, {3}}}}}, (*words).do,
			"Do next: look at the roll as delivered and at its peel; correct the cause at R (slip, wrap, bearing drag, cover)."},
		{"take it", Findings{Source: SourceFinding{Answer: Answer{Kind: CannotTell}}, Next: &Suggestion{}}, (*words).do,
			"Do next: take that measurement before any money is spent."},
		{"look and take it", Findings{Source: SourceFinding{Answer: Answer{Kind: OneOf}, Rises: []NetRise{
			{Contacts: []int{3}}, {Contacts: []int{2}}}}, Next: &Suggestion{}}, (*words).do,
			"Do next: look at R (slip, wrap, bearing drag, cover); take that measurement before any money is " +
				"spent."},
		{"look at a nip", Findings{Source: SourceFinding{Rises: []NetRise{{Contacts: []int{2}}}},
			Bars: []BarFinding{{Station: 5, Factor: 0.28}}}, (*words).do,
			"Do next: look at N (cover material, load, slip); move bar to mid-span: where it stands it sees 28 % of the field."},
		{"look at the roll", Findings{Source: SourceFinding{Rises: []NetRise{{Contacts: []int{0}}}},
			Next: &Suggestion{}}, (*words).do,
			"Do next: look at the roll as delivered and at its peel; take that measurement before any money " +
				"is spent."},
		{"two in the stretch", Findings{Source: SourceFinding{Rises: []NetRise{{Contacts: []int{2, 3}}}},
			Next: &Suggestion{}}, (*words).do,
			"Do next: take that measurement before any money is spent."},
		{"nothing left", Findings{Source: SourceFinding{Answer: Answer{Kind: CannotTell}}}, (*words).do,
			"Do next: repeat the survey at a second speed, on a dry day."},
		{"none", Findings{Source: SourceFinding{Answer: Answer{Kind: NoneAbove}}}, (*words).do,
			"Do next: keep this survey as the record, and repeat it on a dry day."},
		{"again", Findings{Source: SourceFinding{Answer: Answer{Kind: Contradict, Clash: &Clash{}}}}, (*words).do,
			"Do next: zero both meters away from charge, check their signs on a known charge, and take those readings again."},
		{"walk", Findings{Source: SourceFinding{Answer: Answer{Kind: NotListed, Between: [2]int{1, 4}}}}, (*words).do,
			"Do next: walk the stretch between the readings at P and Q and look for whatever touches or charges the web there."},
		{"do not", Findings{Layer: layer, Inert: true}, (*words).doNot,
			"Do not: trust a small reading after Q: a meter 25 mm off in mid-span shows only −2.8 kV there while " +
				"the faces hold +16 and −17 µC/m²; " +
				"at a distance the two faces cancel, so no ordinary or passive bar removes them; " +
				"nor humidify for this: BOPP film takes up no water and a free span has no path to earth."},
		{"nothing not to do", Findings{}, (*words).doNot, ""},
		{"outlook", Findings{Outlook: out, Layer: layer, Source: one}, (*words).outlook,
			"At 300 m/min: after Q face A +20 (+14 … +28), face B −21 (−30 … −15) µC/m²; not before N is corrected."},
		{"over", Findings{Outlook: out}, (*words).outlook,
			"At 300 m/min: after Q face A +20 (+14 … +28), face B −21 (−30 … −15) µC/m²; " +
				"the net charge would be above the limit after R: not before the source is corrected."},
		{"no wish", Findings{}, (*words).outlook, ""},
	} {
		w := wordsFor(&c.f)
		if got := c.say(&w); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

// TestNotices: each condition raises its notice, and nothing else does.
func TestNotices(t *testing.T) {
	spark := IsolatedState{Finding: GroundFinding{Station: 3, Resistance: 3.6e9}, HighVoltage: 7000, Energy: 4.9e-3,
		Sparks: true}
	weak := IsolatedState{Finding: GroundFinding{Station: 2, Resistance: 20e6}, HighVoltage: 2000, Energy: 9}
	for _, c := range []struct {
		name string
		f    Findings
		bar  *line.IonSpec
		us   bool
		want []string // code, figure
	}{
		{"nothing", Findings{}, nil, false, []string{"not-an-approval", "", "reach-in",
			"stop and lock out for any work at rollers"}},
		{"isolated", Findings{Earth: EarthFinding{Isolated: []IsolatedState{weak}}}, nil, false,
			[]string{"not-an-approval", "", "isolated-conductor", "N, 20 MΩ to earth", "reach-in",
				"stop and lock out for any work at rollers"}},
		{"not measured", Findings{Earth: EarthFinding{Missing: []int{2, 3}}}, nil, false,
			[]string{"not-an-approval", "", "isolated-conductor", "not measured: N and R", "reach-in",
				"stop and lock out for any work at rollers"}},
		{"sparks", Findings{Earth: EarthFinding{Isolated: []IsolatedState{weak, spark}}}, nil, true,
			[]string{"not-an-approval", "", "isolated-conductor", "N, 20 MΩ to ground", "isolated-conductor",
				"R, 3.6 GΩ to ground", "shock", "R sparks, 4.9 mJ at 7.0 kV", "reach-in",
				"stop and lock out for any work at rollers"}},
		{"roll", Findings{Wraps: 30}, nil, false, []string{"not-an-approval", "", "brush-discharge",
			"bar can spark from about 30 wraps", "reach-in", "stop and lock out for any work at rollers"}},
		{"layer", Findings{Layer: &LayerFinding{Brush: 0.068}}, nil, false,
			[]string{"not-an-approval", "", "propagating-brush", "17 µC/m² on a face, 7 % of 250 µC/m²; the layer's " +
				"breakdown voltage is a second, separate condition", "reach-in", "stop and lock out for any work at rollers"}},
		{"powered bar", Findings{}, &line.IonSpec{}, false, []string{"not-an-approval", "", "ioniser-in-zone",
			"bar: the zone is not part of a survey, ask for it first", "high-voltage", "bar", "ozone", "bar", "reach-in",
			"stop and lock out for any work at rollers"}},
		{"passive bar", Findings{}, &line.IonSpec{Passive: true}, false, []string{"not-an-approval", "",
			"ioniser-in-zone", "bar: the zone is not part of a survey, ask for it first", "isolated-conductor",
			"points of bar: they must be earthed to work", "reach-in", "stop and lock out for any work at rollers"}},
	} {
		w := wordsFor(&c.f)
		if c.us {
			w.system = units.US
		}
		last := &w.d.desc.Stations[5]
		if last.Ioniser = c.bar; c.bar == nil {
			last.Kind = line.Winder
		}
		var got []string
		for _, n := range w.notices() {
			got = append(got, n.Code, n.Figure)
			if us := strings.Contains(n.Condition+n.Decide, "earth"); us == c.us && n.Code == "isolated-conductor" {
				t.Errorf("%s: earth or ground: %s", c.name, n.Condition)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.want)
		}
	}
}

// TestReadersUnits: earth is ground for a reader of inches, and the distance of a meter
// stays the one that its maker set.
func TestReadersUnits(t *testing.T) {
	iso := IsolatedState{Finding: GroundFinding{Station: 3, Measured: true, Isolated: true, Resistance: 3.6e9}}
	f := &Findings{Earth: EarthFinding{Isolated: []IsolatedState{iso}}, Inert: true,
		Next: &Suggestion{Quantity: line.OverRoller, Station: 3, Face: line.FaceB},
		Layer: &LayerFinding{Station: 4, A: micros5(14, 16, 18), B: micros5(-19, -17, -15), Nominal: 25 * units.Millimetre,
			Shown: -2800}}
	w := wordsFor(f)
	w.system = units.US
	for _, c := range [][2]string{{w.earth(), "Ground first: R (3.6 GΩ to ground)."},
		{w.measure(), "over R, grounded"}, {w.doNot(), "a meter 25 mm (1 in) off"}, {w.doNot(), "no path to ground"}} {
		if !strings.Contains(c[0], c[1]) || strings.Contains(strings.ToLower(c[0]), "earth") {
			t.Errorf("%q lacks %q", c[0], c[1])
		}
	}
	f.Earth = EarthFinding{Missing: []int{3}}
	if got := w.earth(); got != "Ground: no conductor's resistance to ground was measured; do that before anything else." {
		t.Error(got)
	}
}

// TestFigures: two significant figures, a true minus, no exponent.
func TestFigures(t *testing.T) {
	for _, c := range []struct {
		x            float64
		plain, signs string
	}{{0, "0", "0"}, {15.04, "15", "+15"}, {-14.6, "−15", "−15"}, {9.96, "10", "+10"}, {0.0352, "0.035", "+0.035"},
		{-123.4, "−120", "−120"}, {99.6, "100", "+100"}} {
		if figure(c.x) != c.plain || signed2(c.x) != c.signs {
			t.Errorf("%v: %q, %q; want %q, %q", c.x, figure(c.x), signed2(c.x), c.plain, c.signs)
		}
	}
}
