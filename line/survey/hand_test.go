package survey_test

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Small lines whose figures are worked out by hand. The film is 40 µm thick with
// εr = 2: t/(εr·ε0) = 20 µm/8.854 pF/m = 2.2588 V per µC/m² over an earthed roller.
// A place has 275 mm behind a web 2 m wide; at 25 mm the meter, whose display is
// field × 25 mm, sees 275/300 of it: 1 µC/m²/ε0·25 mm·275/300 = 2588 V.
const (
	perNet  = 2588.0 // V per µC/m²
	perFace = 2.2588 // V per µC/m²
	micro   = 1e-6   // C/m²
)

// hand describes a line of the stations between an unwind and a winder; the meters
// are exact to a thousandth.
func hand(between ...line.StationSpec) *line.Description {
	sd := func(s float64) []line.ChangeSpec {
		e := known.Band{Value: 0.5, Spread: 0.3, Kind: known.Normal}
		return []line.ChangeSpec{
			{Face: line.FaceA, Spread: units.SurfaceChargeDensity(s * micro), Speed: e},
			{Face: line.FaceB, Spread: units.SurfaceChargeDensity(s * micro), Speed: e},
		}
	}
	d := &line.Description{
		Schema: line.Schema, Name: "by hand",
		Web: line.Web{
			Material: "film", Thickness: 40 * units.Micrometre, Width: 2 * units.Metre, Density: 900,
			RelativePermittivity: known.Band{Value: 2}, VolumeResistivity: 1e18, Humidity: humidity.Inert,
		},
		Speed: 1 * units.MetrePerSecond,
		Air:   line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 0.3, Pressure: units.Atmosphere},
		Limit: line.Limit{Kind: line.OwnLimit, Net: 2 * units.MicrocoulombPerSquareMetre},
		Meters: []line.Meter{
			{Name: "F", Kind: line.FieldMeterKind, Nominal: 25 * units.Millimetre, Guarded: true, FullScale: 20e3, Gain: 0.001,
				Offset: 1, Spots: 0.05},
			{Name: "V", Kind: line.VoltmeterKind, FullScale: 500, Gain: 0.001, Offset: 0.01, Spots: 0.05},
		},
		Stations: []line.StationSpec{{Name: "unwind", Kind: line.Unwind, Change: sd(10)}},
	}
	d.Stations = append(d.Stations, between...)
	last := d.Stations[len(d.Stations)-1].At
	d.Stations = append(d.Stations, line.StationSpec{Name: "winder", Kind: line.Winder, At: last + 1})
	return d
}

func place(name string, at float64) line.StationSpec {
	return line.StationSpec{Name: name, Kind: line.Place, At: units.Length(at), Gap: 275 * units.Millimetre}
}

func roller(name string, at float64, face line.Face) line.StationSpec {
	e := known.Band{Value: 0.5, Spread: 0.3, Kind: known.Normal}
	return line.StationSpec{
		Name: name, Kind: line.Roller, At: units.Length(at),
		Roller: &line.RollerSpec{Radius: 50 * units.Millimetre, Kind: line.BareMetal, Capacity: 200e-12, Sparkover: 7000},
		Change: []line.ChangeSpec{{Face: face, Spread: 3 * micro, Speed: e}},
	}
}

func nip(name string, at float64) line.StationSpec {
	s := roller(name, at, line.FaceA)
	s.Kind = line.Nip
	s.Change[0].Spread = 12 * micro
	b := s.Change[0]
	b.Face = line.FaceB
	s.Change = append(s.Change, b)
	return s
}

// fields are four displays of a field meter, all the same [V].
func fields(station string, volts float64) []survey.Reading {
	var out []survey.Reading
	for i := range 4 {
		r := survey.Reading{Repeat: i + 1, Speed: 1, HasZero: true, Value: volts}
		r.Look = line.Look{
			Station: station, Quantity: line.FieldMeter, Face: line.FaceA, Distance: 25 * units.Millimetre,
			Running: true, Meter: "F", Cross: units.Length(0.7 + 0.2*float64(i)),
		}
		out = append(out, r)
	}
	return out
}

// over is a display of a voltmeter over a roller [V].
func over(station string, face line.Face, volts float64) []survey.Reading {
	r := survey.Reading{Repeat: 1, Speed: 1, HasZero: true, Value: volts}
	r.Look = line.Look{Station: station, Quantity: line.OverRoller, Face: face, Running: true, Meter: "V", Cross: 1}
	return []survey.Reading{r}
}

// ohms is a resistance to earth.
func ohms(station string, value float64) []survey.Reading {
	return []survey.Reading{{Look: line.Look{Station: station, Quantity: line.EarthResistance}, Repeat: 1, Value: value}}
}

func read(t *testing.T, d *line.Description, rows ...[]survey.Reading) *survey.Diagnosis {
	t.Helper()
	s := &survey.Survey{}
	for _, r := range rows {
		s.Readings = append(s.Readings, r...)
	}
	return diagnose(t, newLine(t, d), s)
}

// within compares an estimate in µC/m² with a figure worked out by hand.
func within(t *testing.T, what string, e survey.Estimate, want, tol float64) {
	t.Helper()
	if got := e.Value / micro; !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.3f µC/m², by hand %.3f ± %.3f", what, got, want, tol)
	}
	if !(e.Low < e.Value && e.Value < e.High) || !(math.Abs(e.Low+e.High-2*e.Value) <= 0.5*(e.High-e.Low)) {
		t.Errorf("%s: band %v … %v about %v", what, e.Low, e.High, e.Value)
	}
}

func said(t *testing.T, d *survey.Diagnosis) (survey.Verdict, survey.Findings) {
	t.Helper()
	v, err := d.Verdict()
	if err != nil {
		t.Fatal(err)
	}
	f, err := d.Findings()
	if err != nil {
		t.Fatal(err)
	}
	return v, f
}

// TestZeroIsTakenOff: a display of 3088 V that showed 500 V away from charge is
// 2588 V, 1 µC/m²; with the zero added it would be 1.4, left alone 1.2. The geometry
// is known to 8 %.
func TestZeroIsTakenOff(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		rows := fields("P", sign*3088)
		for i := range rows {
			rows[i].Zero = sign * 500
		}
		d := read(t, hand(place("P", 1)), rows)
		within(t, "net", d.States[1].Net, sign*1, 0.06)
	}
}

// TestBandIsNinety: with a gain known to 30 % and a geometry to 8 % a net of
// 2 µC/m² is known to 0.62, and 5 to 95 % are 1.645 of that either way.
func TestBandIsNinety(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		desc := hand(place("P", 1))
		desc.Meters[0].Gain = 0.3
		e := read(t, desc, fields("P", sign*2*perNet)).States[1].Net
		want := 2 * math.Hypot(0.3, 0.08)
		if !(math.Abs(e.SD/micro-want) <= 0.1*want) {
			t.Errorf("sd %.3f, by hand %.3f", e.SD/micro, want)
		}
		for side, got := range map[string]float64{"low": e.Value - e.Low, "high": e.High - e.Value} {
			if r := got / micro / want; !(math.Abs(r-1.645) <= 0.2) {
				t.Errorf("sign %v, %s end: %.2f standard deviations off, want 1.645", sign, side, r)
			}
		}
	}
}

// TestOutOfRange: four displays at the end of a range of 20 kV say no more than
// "at least 7.7 µC/m²" of that sign. Taken as read they would say 7.7 ± 0.6; of a
// web that leaves the roll with 10 on each face they say a band from about 7 on.
func TestOutOfRange(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		desc := hand(place("P", 1))
		desc.Stations[0].Change[0].Spread = 30 * micro
		rows := fields("P", sign*20e3)
		for i := range rows {
			rows[i].AtLeast = i%2 == 0 // the display says so or stands at full scale
		}
		e := read(t, desc, rows).States[1].Net
		if got := sign * e.Value / micro; got < 14 {
			t.Errorf("sign %v: %.1f µC/m², a truncated opinion of ± 32 has its median near 26", sign, got)
		}
		near := e.Low
		if sign < 0 {
			near = e.High
		}
		if got := sign * near / micro; got < 5.5 || got > 12 {
			t.Errorf("sign %v: the near end of the band is %.1f µC/m², want about 8", sign, got)
		}
	}
}

// TestEarth: 10 MΩ is not earthed, 1 MΩ is; of repeated resistances the greatest
// counts, whatever the order; what nobody measured is said.
func TestEarth(t *testing.T) {
	desc := hand(roller("one", 1, line.FaceB), roller("two", 2, line.FaceB), roller("three", 3, line.FaceB),
		roller("four", 4, line.FaceB))
	d := read(t, desc, ohms("one", 10e6), ohms("two", 1e6), ohms("three", 2), ohms("three", 5e9), ohms("three", 3))
	v, f := said(t, d)
	if len(f.Earth.Isolated) != 2 || f.Earth.Measured != 3 || len(f.Earth.Missing) != 1 || f.Earth.Missing[0] != 4 {
		t.Fatalf("%+v", f.Earth)
	}
	if r := f.Earth.Isolated[1].Finding; r.Station != 3 || r.Resistance != 5e9 {
		t.Errorf("%+v", r)
	}
	for _, want := range []string{"Earth first: one (10 MΩ to earth", "three (5 GΩ to earth", "Not measured: four."} {
		if !strings.Contains(v.Earth, want) {
			t.Errorf("%q lacks %q", v.Earth, want)
		}
	}
	if strings.Contains(v.Earth, "two") {
		t.Errorf("%q", v.Earth)
	}
	// A ground check alone has an answer of its own, and no source.
	if d.Answer.Kind != survey.CannotTell || d.Answer.Why != survey.NoCharge ||
		!strings.Contains(v.Source, "none of them sees the charge") {
		t.Errorf("%+v, %q", d.Answer, v.Source)
	}
}

// TestIsolatedRoller: a roller at 100 MΩ whose face takes 1 µC/m² from a web of
// 2 m at 1 m/s carries 2 µA: 200 V, and ½·200 pF·V² at the far end of its band.
// Its voltmeter reading is not used.
func TestIsolatedRoller(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		desc := hand(place("P", 0.5), roller("R", 1, line.FaceB), place("Q", 2))
		d := read(t, desc, fields("P", 0), fields("Q", sign*perNet), ohms("R", 100e6), over("R", line.FaceA, sign*300))
		if f := d.Fits[len(d.Fits)-1]; f.Used || !strings.Contains(f.Why, "isolated") {
			t.Errorf("%+v", f)
		}
		_, f := said(t, d)
		s := f.Earth.Isolated[0]
		if !(math.Abs(float64(s.Current)-2e-6) <= 0.3e-6) || !(math.Abs(float64(s.Voltage)-200) <= 30) {
			t.Errorf("sign %v: %v, %v; by hand 2 µA, 200 V", sign, s.Current, s.Voltage)
		}
		var far float64
		for _, c := range d.Changes {
			if c.Station == 2 {
				far = math.Max(math.Abs(c.Found.Low), math.Abs(c.Found.High))
			}
		}
		if v := far * 2 * 100e6; !(math.Abs(float64(s.HighVoltage)-v) <= 0.01*v) ||
			!(math.Abs(float64(s.Energy)-100e-12*v*v) <= 0.02*100e-12*v*v) || s.Sparks {
			t.Errorf("sign %v: %v and %v at %v V", sign, s.HighVoltage, s.Energy, v)
		}
	}
}

// TestHalfSeenLayer: +22.6 V over the nip is +10 µC/m² on face A, and no display
// behind it is a net of 0: the face that nobody saw holds −10. Read twice, over a
// roller whose earth was measured: one reading could be wrong.
func TestHalfSeenLayer(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), nip("N", 2), place("Q", 3))
		d := read(t, desc, over("R", line.FaceA, 0), fields("P", 0), over("N", line.FaceA, sign*10*perFace), fields("Q", 0),
			ohms("N", 2), over("N", line.FaceA, sign*10*perFace))
		within(t, "face A", d.States[4].A, sign*10, 0.8)
		within(t, "face B", d.States[4].B, -sign*10, 1.2)
		v, f := said(t, d)
		if f.Layer == nil || !(math.Abs(float64(f.Layer.Shown)) <= 1500) ||
			!strings.Contains(v.DoNot, "the two faces cancel") {
			t.Errorf("%+v, %q", f.Layer, v.DoNot)
		}
		if d.Answer.Kind != survey.OneSource || d.Answer.Sets[0][0] != 3 ||
			!strings.Contains(v.Source, "Main source: N, face A") {
			t.Errorf("%+v, %q", d.Answer, v.Source)
		}
	}
}

// TestFreeSpansNameNoLayer: the same nip without the voltmeter shows nothing at all,
// and is not named; the verdict says what would show it.
func TestFreeSpansNameNoLayer(t *testing.T) {
	d := read(t, hand(roller("R", 0.5, line.FaceB), place("P", 1), nip("N", 2), place("Q", 3)), fields("P", 0),
		fields("Q", 0))
	v, f := said(t, d)
	if d.Answer.Kind != survey.CannotTell || d.Answer.Why != survey.FacesUnread ||
		!strings.Contains(v.Source, "no voltmeter saw a face behind unwind and N") {
		t.Errorf("%+v, %q", d.Answer, v.Source)
	}
	if f.Next == nil || f.Next.Quantity != line.OverRoller {
		t.Errorf("%+v", f.Next)
	}
}

// TestBar: a bar 30 mm past a roller of 50 mm sees 27.7 % of the field at 25 mm
// (package field, by quadrature in two dimensions). 4 µC/m² before it and 3 behind
// are a quarter taken; of a net of nothing no share is said.
func TestBar(t *testing.T) {
	bar := line.StationSpec{
		Name: "bar", Kind: line.Ioniser, At: 1.03, Past: &line.PastSpec{Radius: 0.05, X: 0.03},
		Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 0.025, Conductivity: 1e-9, Zone: 0.05, Supply: 3e-4},
	}
	desc := hand(place("P", 1), bar, place("Q", 2))
	v, f := said(t, read(t, desc, fields("P", 4*perNet), fields("Q", 3*perNet)))
	if len(f.Bars) != 1 || !(math.Abs(f.Bars[0].Factor-0.277) <= 0.002) || !f.Bars[0].Known ||
		!(math.Abs(f.Bars[0].Share.Value-0.25) <= 0.06) {
		t.Errorf("%+v", f.Bars)
	}
	// A share whose band holds nothing is not said as a figure.
	if f.Bars[0].Share.Low > 0 || !strings.Contains(v.Do, "move bar to mid-span: where it stands it sees 28 % of the "+
		"field; "+
		"whether it took anything") {
		t.Error(v.Do)
	}
	v, f = said(t, read(t, desc, fields("P", 0), fields("Q", 20)))
	if f.Bars[0].Known || strings.Contains(v.Do, "took about") || !strings.Contains(v.Do, "28 % of the field") {
		t.Errorf("%+v, %q", f.Bars, v.Do)
	}
}

// TestLeak: on a span of 1 m at 1 m/s with a leak of 1 s 5 µC/m² fall to
// 5/e = 1.84; with half the time it would be 0.68.
func TestLeak(t *testing.T) {
	desc := hand(place("P", 1), place("Q", 2))
	desc.Stations[1].Leak = &line.LeakSpec{Path: decay.EarthedEdge, Time: 1}
	d := read(t, desc, fields("P", 5*perNet))
	if r := d.States[2].Net.Value / d.States[1].Net.Value; !(math.Abs(r-1/math.E) <= 0.03) {
		t.Errorf("%.3f of the net is left, by hand %.3f", r, 1/math.E)
	}
	// Where both were read the roller between did what the leak does not explain:
	// nothing.
	desc = hand(place("P", 1), roller("R", 1.5, line.FaceB), place("Q", 2))
	desc.Stations[1].Leak = &line.LeakSpec{Path: decay.EarthedEdge, Time: 0.5}
	d = read(t, desc, fields("P", 5*perNet), fields("Q", 5/math.E*perNet))
	for _, c := range d.Changes {
		if c.Station == 2 {
			within(t, "roller", c.Found, 0, 0.5)
		}
	}
	within(t, "net at Q", d.States[3].Net, 5/math.E, 0.3)
}

// TestBarOff: 4 µC/m² come and are there at a place that is read with the bar off; with it on
// 1 is left: the bar brings −3.
func TestBarOff(t *testing.T) {
	bar := line.StationSpec{
		Name: "bar", Kind: line.Ioniser, At: 1.5, Gap: 0.3,
		Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 0.03, Conductivity: 1e-9, Zone: 0.05, Supply: 3e-4},
	}
	without := place("Q", 2)
	without.Off = []string{"bar"}
	d := read(t, hand(place("P", 1), bar, without, place("T", 2.5)), fields("P", 4*perNet), fields("Q", 4*perNet),
		fields("T", perNet))
	for _, c := range d.Changes {
		if c.Station == 2 {
			within(t, "bar", c.Found, -3, 0.4)
		}
	}
	within(t, "net at Q", d.States[3].Net, 4, 0.4)
	within(t, "net at T", d.States[4].Net, 1, 0.2)
}

// TestOhmsAtTheLimit: an ohmmeter that ends at 1 MΩ and shows that it is more tells of no earth.
func TestOhmsAtTheLimit(t *testing.T) {
	for _, out := range []bool{false, true} {
		rows := ohms("one", 1e6)
		rows[0].AtLeast = out
		if g := read(t, hand(roller("one", 1, line.FaceB)), rows).Ground[0]; g.Isolated != out {
			t.Errorf("at least %v: %+v", out, g)
		}
	}
}

// TestTwoSpeeds: 2 µC/m² at 1 m/s and 2·½^0.8 = 1.149 at ½ m/s are an exponent of
// 0.8 against the described 0.5 ± 0.3: at 2 m/s more than the described 2·2^0.5 =
// 2.83 and at most 2·2^0.8 = 3.48.
func TestTwoSpeeds(t *testing.T) {
	desc := hand(place("P", 0.5), roller("R", 1, line.FaceB), place("Q", 2))
	desc.Stations[2].Change[0].Exposure = 1e-3 // what arrives does not matter
	for i := range desc.Stations[0].Change {
		desc.Stations[0].Change[i].Spread = 0.2 * micro // and the roll brings little
	}
	rows := [][]survey.Reading{fields("P", 0), fields("Q", 2*perNet), fields("Q", 1.149*perNet), fields("P", 0)}
	for _, slow := range rows[2:] {
		for i := range slow {
			slow[i].Speed = 0.5
		}
	}
	d := read(t, desc, rows...)
	if d.Speed != 1 {
		t.Errorf("reference speed %v", d.Speed)
	}
	within(t, "net", d.States[3].Net, 2, 0.2)
	o, err := d.At(2)
	if err != nil {
		t.Fatal(err)
	}
	if got := o.Net[3][1] / micro; got < 2.95 || got > 3.6 {
		t.Errorf("%.2f µC/m² at twice the speed, by hand between 2.83 and 3.48", got)
	}
	// With one speed the description is all that is known.
	d = read(t, desc, rows[0], rows[1])
	if o, err = d.At(2); err != nil {
		t.Fatal(err)
	}
	if got := o.Net[3][1] / micro; !(math.Abs(got-2.83) <= 0.25) {
		t.Errorf("%.2f µC/m² at twice the speed, by hand 2.83", got)
	}
	// The exponent's ± 0.3 alone gives a ratio of 2^(2·1.645·0.3) = 1.98, the 8 % of
	// the geometry make it 2.1.
	if lo, hi := o.Net[3][0]/micro, o.Net[3][2]/micro; hi/lo < 1.8 || hi/lo > 2.6 {
		t.Errorf("band %.2f … %.2f", lo, hi)
	}
}

// TestAllZeros: nothing is found, said or divided by.
func TestAllZeros(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), nip("N", 2), place("Q", 3))
	d := read(t, desc, over("R", line.FaceA, 0), fields("P", 0), over("N", line.FaceA, 0), fields("Q", 0), ohms("R", 1),
		ohms("N", 1))
	v, _ := said(t, d)
	if d.Answer.Kind != survey.NoneAbove || !strings.Contains(v.Source, "none worth correcting") ||
		!strings.Contains(v.Source, "limit of 2.0 µC/m²") {
		t.Errorf("%+v, %q", d.Answer, v.Source)
	}
	within(t, "net", d.States[4].Net, 0, 0.1)
	if strings.Contains(strings.Join(v.Lines(), ""), "NaN") {
		t.Error(v)
	}
	if want := "Earth: the 2 conductors measured read at most 1 MΩ to earth."; v.Earth != want {
		t.Errorf("%q, want %q", v.Earth, want)
	}
}

// TestRollerStep: between 0 and 6 µC/m² net stands one roller: it is named with
// its face, and with the readings around the step. 6 µC/m² is twice its described
// spread.
func TestRollerStep(t *testing.T) {
	desc := hand(roller("R", 0.5, line.FaceB), place("P", 1), roller("S", 2, line.FaceA), place("Q", 3))
	d := read(t, desc, over("R", line.FaceA, 0), fields("P", 0), over("S", line.FaceB, 0), fields("Q", 6*perNet))
	v, f := said(t, d)
	if d.Answer.Kind != survey.OneSource || d.Answer.Sets[0][0] != 3 || d.Answer.Between != [2]int{2, 4} {
		t.Fatalf("%+v", d.Answer)
	}
	within(t, "S", f.Source.Faces[0][0].Change, 6, 0.8)
	if want := "the step lies between the readings at P and Q"; !strings.Contains(v.Source, want) ||
		!strings.Contains(v.Source, "Main source: S, face A +6.") && !strings.Contains(v.Source, "face A +5.") {
		t.Errorf("%q", v.Source)
	}
	if !strings.Contains(v.Do, "correct the cause at S (slip, wrap, bearing drag, cover)") {
		t.Error(v.Do)
	}
}
