package survey

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.6g, by hand %.6g ± %.2g", what, got, want, tolerance)
	}
}

// TestAloneInWords: of five pails and decays three are told and how many more there are; four are told in full.
func TestAloneInWords(t *testing.T) {
	for n, more := range map[int]string{4: "", 5: "2 more", 7: "4 more"} {
		f := &Findings{}
		for range n {
			f.Alone = append(f.Alone, AloneFinding{Station: 3, Quantity: line.DecayTime, Value: 2})
		}
		w := wordsFor(f)
		got := w.alone()
		if told := strings.Count(got, "fell to 1/e in 2 s"); told != min(n, 4) && more == "" || more != "" && told != 3 ||
			strings.Contains(got, "more") != (more != "") || !strings.Contains(got, more) {
			t.Errorf("%d alone: %s", n, got)
		}
	}
}

// TestTogetherByHand: changes 0 and 1 trade 0.64 of their variance, 1 and 2 a quarter, so that the three go together
// although 0 and 2 know nothing of each other; 3 is known by the readings, 4 stands alone, 5 is that of a bar.
func TestTogetherByHand(t *testing.T) {
	const n = 6
	f := &free{n: n, cov: make([]float64, n*n)}
	set := func(a, b int, x float64) { f.cov[a*n+b], f.cov[b*n+a] = x, x }
	for k := range n {
		set(k, k, sq(freeSpread))
	}
	set(0, 1, 0.8*sq(freeSpread))
	set(1, 2, -0.5*sq(freeSpread))
	set(2, 4, 0.3*sq(freeSpread)) // 0.09 of it: less than a tenth
	set(3, 3, 0.04*sq(freeSpread))
	d := &Diagnosis{free: f, model: &model{lay: &layout{bar: []bool{5: true}}}}
	if fixed := d.identify(); !slices.Equal(fixed, []bool{3: true, 5: true}) {
		t.Errorf("fixed %v", fixed)
	}
	if len(d.Together) != 2 || !slices.Equal(d.Together[0], []int{0, 1, 2}) || !slices.Equal(d.Together[1], []int{4}) {
		t.Errorf("together %v", d.Together)
	}
	within(t, "trade", f.trade(1, 0), 0.64, 1e-12)
	within(t, "left", f.left(3), 0.04, 1e-12)
	within(t, "deviation", f.sd(3), 0.2*freeSpread, 1e-9)
}

// TestExpectedByHand: two samples of weights 3 and 2 that show 0 V and differ in what leads, and one of 5 that shows
// 10 V: what is read exactly is 0 V in half of the outcomes, where 0.6 is the best, and 10 V in the other half, where
// all is settled: 0.8. A reading that says nothing leaves 0.5.
func TestExpectedByHand(t *testing.T) {
	c := &contest{stations: []int{0, 1, 2}, top: []int{0, 1, 2}, weight: []float64{3, 2, 5}, total: 10}
	within(t, "exact", c.expected([]float64{0, 0, 10}, []float64{0.1, 0.1, 0.1}), 0.8, 1e-9)
	within(t, "blind", c.expected([]float64{0, 0, 10}, []float64{1e6, 1e6, 1e6}), 0.5, 1e-6)
	// The last sample is an outcome too, whatever the order they come in.
	within(t, "exact, turned", c.expected([]float64{10, 10, 0}, []float64{0.1, 0.1, 0.1}), 0.8, 1e-9)
}

// TestCandidatesByHand: behind a roller a field can be read where the web goes on freely, not where the next station
// stands at the same place; over it the face that it does not touch, over a nip both; not over what is isolated.
func TestCandidatesByHand(t *testing.T) {
	metal := &line.RollerSpec{Kind: line.BareMetal}
	d := &Diagnosis{model: &model{}, desc: line.Description{Stations: []line.StationSpec{
		{Name: "unwind", Kind: line.Unwind},
		{Name: "N", Kind: line.Nip, At: 1, Roller: metal},
		{Name: "R", Kind: line.Roller, At: 2, Roller: metal, Change: []line.ChangeSpec{{Face: line.FaceA}}},
		{Name: "P", Kind: line.Place, At: 2},
		{Name: "C", Kind: line.Roller, At: 3, Roller: &line.RollerSpec{Kind: line.InsulatingCover},
			Change: []line.ChangeSpec{{Face: line.FaceA}}},
		{Name: "winder", Kind: line.Winder, At: 4}}}}
	field := func(i int, behind bool) Suggestion {
		return Suggestion{Quantity: line.FieldMeter, Station: i, Behind: behind}
	}
	over := func(i int, f line.Face) Suggestion { return Suggestion{Quantity: line.OverRoller, Station: i, Face: f} }
	want := []Suggestion{over(1, line.FaceA), over(1, line.FaceB), field(1, true), over(2, line.FaceB), field(3, false),
		field(4, true)}
	if got := d.candidates(); !slices.Equal(got, want) {
		t.Errorf("%+v, by hand %+v", got, want)
	}
	d.Ground = []GroundFinding{{Station: 1, Measured: true, Isolated: true}}
	if got := d.candidates(); !slices.Equal(got, want[2:]) {
		t.Errorf("isolated: %+v, by hand %+v", got, want[2:])
	}
}

// TestTakenByHand: what was read at a place, or at another one of the same free stretch with the same bars on, is
// taken; a place that is read with a bar off tells of another web.
func TestTakenByHand(t *testing.T) {
	stations := func(off ...string) []line.StationSpec {
		return []line.StationSpec{{Name: "unwind", Kind: line.Unwind}, {Name: "bar", Kind: line.Ioniser},
			{Name: "P", Kind: line.Place, Off: off}, {Name: "Q", Kind: line.Place}, {Name: "R", Kind: line.Roller},
			{Name: "S", Kind: line.Place}, {Name: "winder", Kind: line.Winder}}
	}
	read := func(station int, film bool, a, b float64) *group {
		return &group{View: line.View{Station: station, OverFilm: film, OnA: a, OnB: b}}
	}
	for _, c := range []struct {
		what string
		off  []string
		of   *group
		s    Suggestion
		want bool
	}{
		{"there", nil, read(3, false, 1, 1), Suggestion{Quantity: line.FieldMeter, Station: 3}, true},
		{"beside it", nil, read(2, false, 1, 1), Suggestion{Quantity: line.FieldMeter, Station: 3}, true},
		{"with the bar off", []string{"bar"}, read(2, false, 1, 1), Suggestion{Quantity: line.FieldMeter, Station: 3}, false},
		{"behind a roller", nil, read(3, false, 1, 1), Suggestion{Quantity: line.FieldMeter, Station: 5}, false},
		{"at the winder", nil, read(5, false, 1, 1), Suggestion{Quantity: line.FieldMeter, Station: 6}, true},
		{"by the voltmeter", nil, read(4, true, 1, 0), Suggestion{Quantity: line.FieldMeter, Station: 4}, false},
		{"face A", nil, read(4, true, 1, 0), Suggestion{Quantity: line.OverRoller, Station: 4, Face: line.FaceA}, true},
		{"face B", nil, read(4, true, 1, 0), Suggestion{Quantity: line.OverRoller, Station: 4, Face: line.FaceB}, false},
		{"in the field", nil, read(4, false, 1, 1), Suggestion{Quantity: line.OverRoller, Station: 4, Face: line.FaceA},
			false},
	} {
		d := &Diagnosis{desc: line.Description{Stations: stations(c.off...)}, model: &model{groups: []*group{c.of}}}
		if got := d.taken(&c.s); got != c.want {
			t.Errorf("%s: taken %t", c.what, got)
		}
	}
}

// TestDisplayByHand: five readings about 1000 V with a placing of 1 % and steps of 10 V, 10/√12 V: of a sum of
// squares of 3000 V² they take 4·(10² + 8.333) = 433.3; what is left counts twice if all stand at one spot. Steps are
// 100 V from 2 kV on and 0.1 V over a film.
func TestDisplayByHand(t *testing.T) {
	g := &group{View: line.View{Sensitivity: 0.01}, n: 5, spots: 5}
	m := &model{groups: []*group{g}}
	within(t, "of five spots", m.lessDisplay(0, 1000, 3000), 3000-433.3333, 1e-3)
	within(t, "never below 0", m.lessDisplay(0, 1000, 400), 0, 0)
	g.spots = 1
	within(t, "of one spot", m.lessDisplay(0, 1000, 3000), 2*(3000-433.3333), 1e-3)
	for _, c := range []struct {
		film bool
		fit  float64
		want float64
	}{{false, 1000, 10}, {false, -1999, 10}, {false, 2001, 100}, {false, -2001, 100}, {true, 5000, 0.1}} {
		g.OverFilm = c.film
		within(t, "step", displayStep(g, c.fit), c.want/math.Sqrt(12), 1e-12)
	}
	for film, want := range map[bool]float64{true: 0.1, false: 1} {
		within(t, "last digit", (&group{View: line.View{OverFilm: film}}).step(), want, 0)
	}
}

// TestTailByHand: ln Φ and φ/Φ: at −1 of the tables, Φ 0.1586553 and φ 0.2419707; at −20 the continued fraction 20 +
// 1/(20 + 2/(20 + 3/20.2)) = 20.04975, and ln Φ −203.9172, which the asymptote knows to 1/20².
func TestTailByHand(t *testing.T) {
	for z, want := range map[float64][3]float64{-1: {math.Log(0.1586553), 0.2419707 / 0.1586553, 1e-6},
		0: {math.Log(0.5), 0.7978846, 1e-6}, -20: {-203.9172, 20.04975, 1.0 / 400}} {
		log, mills := tail(z)
		within(t, "ln Φ", log, want[0], want[2]+1e-4)
		within(t, "φ/Φ", mills, want[1], 1e-5)
	}
}

// TestOwnedByHand: a station owns the stretches between readings that it stands in or ends.
func TestOwnedByHand(t *testing.T) {
	c := &contest{stations: []int{1, 3, 4}, spans: []span{{0, 2}, {2, 4}, {4, 6}}}
	for _, x := range [][2][]int{{{1}, {1, 4}}, {{0}, {0, 3}}, {{2}, {2, 4, 5}}, {{0, 1}, {0, 1, 3, 4}}, {nil, nil}} {
		if got := c.owned(x[0]); !slices.Equal(got, x[1]) {
			t.Errorf("%v owns %v, by hand %v", x[0], got, x[1])
		}
	}
}

// TestBetweenByHand: a step of 5 µC/m² on face A at station 2 lies between the readings at 1 and 4; what happens
// elsewhere does not hide it. One of both faces that cancel is seen by no field meter, and over the film by that of
// its face.
func TestBetweenByHand(t *testing.T) {
	at := func(station int, f line.Face) line.Unknown { return line.Unknown{Station: station, Face: f} }
	field := func(i int) *group { return &group{View: line.View{Station: i, OnA: 1, OnB: 1}} }
	film := func(i int, a, b float64) *group {
		return &group{View: line.View{Station: i, OverFilm: true, OnA: a, OnB: b}}
	}
	d := &Diagnosis{model: &model{lay: &layout{changes: []line.Unknown{at(0, line.FaceB), at(2, line.FaceA),
		at(5, line.FaceA), at(5, line.FaceB), at(7, line.FaceB)}, bar: make([]bool, 5)},
		groups: []*group{field(0), field(1), field(4), film(5, 1, 0), film(6, 0, 1), field(8)}}}
	d.posterior = &Posterior{modes: []mode{{mean: []float64{-5, 5, 6, -6, -5}}}}
	for _, c := range []struct {
		from, to int
		want     [2]int
	}{
		{2, 2, [2]int{1, 4}}, {5, 5, [2]int{-1, 5}}, {7, 7, [2]int{6, 8}}, {0, 0, [2]int{-1, 0}}} {
		if got := d.between(c.from, c.to); got != c.want {
			t.Errorf("%d … %d: between %v, by hand %v", c.from, c.to, got, c.want)
		}
	}
	d.desc.Meters = []line.Meter{{Name: "F"}, {Name: "V"}}
	for name, want := range map[string]int{"F": 0, "V": 1, "": -1} {
		r := Reading{}
		if r.Meter = name; d.meterOf(&r) != want {
			t.Errorf("%q is meter %d", name, d.meterOf(&r))
		}
	}
}

// TestNoReadings: a survey of a head alone lacks its first reading in line 2.
func TestNoReadings(t *testing.T) {
	_, faults := readRows(strings.NewReader(strings.Join(Columns(), ",") + "\n"))
	if len(faults) != 1 || !strings.Contains(faults[0].Error(), "no readings") {
		t.Fatalf("%v", faults)
	}
	if e, ok := faults[0].(*RowError); !ok || e.Line != 2 {
		t.Errorf("%+v", faults[0])
	}
}

// TestResidualIsOfTheReading: a residual is the reading less the middle of its band, in deviations of which the band
// has 1.645 each way: ½ if the reading lies halfway to the deviation above.
func TestResidualIsOfTheReading(t *testing.T) {
	d := smallDiagnosis(t)
	n := 0
	for i := range d.model.rows {
		r := &d.model.rows[i]
		if r.group == nil || r.group.over != 0 {
			continue
		}
		for j, reading := range r.group.readings {
			f := d.Fits[reading]
			sd := (f.Band[2] - f.Band[0]) / (2 * 1.644854)
			within(t, "residual", f.Residual, (r.group.values[j]-f.Band[1])/sd, 1e-4)
			n++
		}
	}
	if n < 3 {
		t.Errorf("%d readings", n)
	}
}

// TestGroundAlone: a survey of the resistance of a roller alone is an answer of its own and tells nothing of charge.
func TestGroundAlone(t *testing.T) {
	d := smallDiagnosis(t)
	alone, err := Diagnose(d.line, &Survey{Readings: []Reading{{Repeat: 1, Value: 10,
		Look: line.Look{Station: "R", Quantity: line.EarthResistance}}}})
	if err != nil {
		t.Fatal(err)
	}
	a := alone.Answer
	if a.Kind != CannotTell || a.Why != NoCharge || a.Between != [2]int{-1, -1} || a.Rests != -1 || len(a.Sets) != 0 {
		t.Errorf("%+v", a)
	}
}

// TestWalkByHand: on the metre before the winder, with a way to earth of 2 s at 1 m/s, the net falls to e^−0.5; on the
// others it stays, and behind the winder there is no way.
func TestWalkByHand(t *testing.T) {
	desc := smallDiagnosis(t).desc
	desc.Stations = slices.Clone(desc.Stations)
	desc.Stations[3].Leak = &line.LeakSpec{Path: decay.EarthedEdge, Time: 2}
	l, err := line.New(&desc)
	if err != nil {
		t.Fatal(err)
	}
	d, err := Diagnose(l, &Survey{Readings: smallDiagnosis(t).survey.Readings})
	if err != nil {
		t.Fatal(err)
	}
	f := newForward(d.line, &d.desc, d.model.lay, make([]float64, d.model.lay.n))
	for i, want := range []float64{1, 1, 1, math.Exp(-0.5), 1} {
		within(t, "net left", f.steps[i].net, want, 1e-9)
	}
}

// TestLayerBeforeReadings: of a contact of both faces with 5 µC/m² described on each a double layer is thought of as a
// thousandth of that while it is calm; a contact of one face has none.
func TestLayerBeforeReadings(t *testing.T) {
	l := smallDiagnosis(t).model.lay
	if !slices.Equal(l.layerOf, []int{l.layer, l.layer, -1}) || l.drawn != l.layer+1 {
		t.Fatalf("layers of %v, from %d to %d", l.layerOf, l.layer, l.drawn)
	}
	within(t, "calm", math.Sqrt(l.prior[l.layer]), 0.005, 1e-9)
}

// smallDiagnosis is an unwind and a roller, read in front of and behind it.
func smallDiagnosis(t *testing.T) *Diagnosis {
	t.Helper()
	const uC = units.MicrocoulombPerSquareMetre
	spread := []line.ChangeSpec{{Face: line.FaceA, Spread: 5 * uC}, {Face: line.FaceB, Spread: 5 * uC}}
	l, err := line.New(&line.Description{Schema: line.Schema, Name: "small", Speed: 1,
		Web: line.Web{Material: "film", Thickness: 40 * units.Micrometre, Width: 2, Density: 900,
			RelativePermittivity: known.Band{Value: 2}, VolumeResistivity: 1e18, Humidity: humidity.Inert},
		Air:   line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 0.3, Pressure: units.Atmosphere},
		Limit: line.Limit{Kind: line.OwnLimit, Net: 2 * uC},
		Meters: []line.Meter{{Name: "F", Kind: line.FieldMeterKind, Nominal: 25 * units.Millimetre, Guarded: true,
			FullScale: 20e3, Gain: 0.03, Offset: 20, Spots: 0.2}},
		Stations: []line.StationSpec{{Name: "unwind", Kind: line.Unwind, Change: spread},
			{Name: "P", Kind: line.Place, At: 1, Gap: 0.3},
			{Name: "R", Kind: line.Roller, At: 2, Roller: &line.RollerSpec{Radius: 0.05, Kind: line.BareMetal},
				Change: spread[:1]},
			{Name: "Q", Kind: line.Place, At: 3, Gap: 0.3}, {Name: "winder", Kind: line.Winder, At: 4}}})
	if err != nil {
		t.Fatal(err)
	}
	s := &Survey{}
	for _, volts := range []float64{2000, 2600, 2300} {
		for _, at := range []string{"P", "Q"} {
			n := len(s.Readings)
			s.Readings = append(s.Readings, Reading{Repeat: n/2 + 1, Speed: 1, HasZero: true, Value: volts,
				Look: line.Look{Station: at, Quantity: line.FieldMeter, Face: line.FaceA, Distance: 25 * units.Millimetre,
					Running: true, Meter: "F", Cross: units.Length(0.7 + 0.2*float64(n/2))}})
		}
	}
	d, err := Diagnose(l, s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}
