package survey_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// one reads a file of one row.
func one(t *testing.T, set map[string]string) survey.Reading {
	t.Helper()
	s, err := survey.ReadSurvey(strings.NewReader(sheet(set)))
	if err != nil {
		t.Fatal(err)
	}
	return s.Readings[0]
}

// TestFieldDisplays: 2 kV/cm and 5.08 kV/in are 200 kV/m, which a meter of 25 mm
// calls 5 kV.
func TestFieldDisplays(t *testing.T) {
	for _, c := range []map[string]string{
		{"value": "2", "unit": "kV/cm"}, {"value": "5.08", "unit": "kV/in"}, {"value": "5", "unit": "kV"},
		{"value": "2.4", "unit": "kV/cm", "zero": "0.4 kV/cm"},
	} {
		c["station"], c["meter"], c["line speed"] = "P", "F", "1 m/s"
		r := one(t, c)
		d := diagnose(t, newLine(t, hand(place("P", 1))), &survey.Survey{Readings: []survey.Reading{r}})
		if v := d.Fits[0].Value; !(math.Abs(v-5000) <= 1e-6) {
			t.Errorf("%v: %v V, by hand 5000", c, v)
		}
	}
	if _, err := survey.ReadSurvey(strings.NewReader(sheet(map[string]string{"value": "2", "unit": "kV/cm",
		"zero": "10 V"}))); err == nil ||
		!strings.Contains(err.Error(), "same kind") {
		t.Errorf("%v", err)
	}
}

// TestOverRange: "OL" stands for the full scale of the row or of the meter, with the
// sign that it showed; without a sign it says nothing of the charge.
func TestOverRange(t *testing.T) {
	for _, c := range []struct {
		set  map[string]string
		want float64
	}{
		{map[string]string{"value": "OL"}, 0},
		{map[string]string{"value": "+OL"}, 20000},
		{map[string]string{"value": "-over range", "full scale": "10 kV"}, -10000},
		{map[string]string{"value": "−ol"}, -20000},
	} {
		c.set["station"], c.set["meter"], c.set["line speed"] = "P", "F", "1 m/s"
		r := one(t, c.set)
		s := &survey.Survey{Readings: append([]survey.Reading{r}, fields("P", 100)...)}
		d := diagnose(t, newLine(t, hand(place("P", 1))), s)
		f := d.Fits[0]
		if f.Used != (c.want != 0) || f.Used && f.Value != c.want {
			t.Errorf("%v: %+v", c.set, f)
		}
	}
	// An ohmmeter that shows OL at 20 MΩ has found no earth.
	r := one(t, map[string]string{"station": "R", "quantity": "resistance to ground", "value": "OL", "unit": "MΩ",
		"full scale": "20 MΩ"})
	d := diagnose(t, newLine(t, hand(roller("R", 1, line.FaceB))), &survey.Survey{Readings: []survey.Reading{r}})
	v, _ := said(t, d)
	if !strings.Contains(v.Earth, "R (at least 20 MΩ to earth") {
		t.Error(v.Earth)
	}
	for _, set := range []map[string]string{
		{"quantity": "resistance to ground", "value": "OL", "unit": "MΩ"}, {"value": "OLX"},
		{"value": "OL", "full scale": "-3 V"},
	} {
		if _, err := survey.ReadSurvey(strings.NewReader(sheet(set))); err == nil {
			t.Errorf("%v accepted", set)
		}
	}
}

// TestUsedOrNot: what a reading is read against decides whether it is used.
func TestUsedOrNot(t *testing.T) {
	covered := roller("C", 2, line.FaceB)
	covered.Roller.Kind, covered.Roller.Cover, covered.Roller.Capacity = line.InsulatingCover, 0.05, 0
	desc := hand(roller("R", 1, line.FaceB), covered, place("P", 3))
	behind := fields("R", 500)[:1]
	behind[0].Gap = 275 * units.Millimetre
	edge := fields("P", 500)[:1]
	edge[0].Cross = 2 * units.Millimetre
	roll := fields("winder", 500)[:1]
	wound := fields("winder", 500)[:1]
	wound[0].Roll = 82 * units.Millimetre // 25 wraps on the core
	full := fields("winder", 500)[:1]
	full[0].Roll, full[0].Value = 600*units.Millimetre, 40e3
	full[0].FullScale = 100e3
	for name, c := range map[string]struct {
		r    []survey.Reading
		used bool
		why  string
	}{
		"outer face":      {over("R", line.FaceA, 3), true, ""},
		"inner face":      {over("R", line.FaceB, 3), false, "face B lies on the roller; a voltmeter over it sees face A"},
		"covered":         {over("C", line.FaceA, 3), false, "insulating roller"},
		"over a roller":   {fields("R", 500)[:1], false, "needs the gap behind the web"},
		"behind a roller": {behind, true, ""},
		"at the edge":     {edge, false, "too near the edge"},
		"a wound roll":    {roll, false, "needs the roll's diameter"},
		"with diameter":   {wound, true, ""},
		"a full roll":     {full, false, "the air at the roll has given way"},
	} {
		rows := append(fields("P", 500), c.r...)
		d := read(t, desc, rows)
		if f := d.Fits[len(rows)-1]; f.Used != c.used || !strings.Contains(f.Why, c.why) {
			t.Errorf("%s: used %v, %q", name, f.Used, f.Why)
		}
	}
}

// TestNearTheEdge: at the edge itself a meter sees half of a wide sheet's field and
// 20 mm inside more; the same charge is found from there. The field of two earthed
// planes at 25 and 275 mm, by quadrature of its kernel: 0.5 of it at the edge.
func TestNearTheEdge(t *testing.T) {
	near := fields("P", 0)
	// E(y)/E(∞) = ½ + (1/π)·atan(cot(πd/2D)·tanh(πy/2D))·(D/h), D = 300 mm, y = 20 mm.
	const d, h, y = 0.025, 0.275, 0.02
	w := math.Pi / (2 * (d + h))
	share := 0.5 + math.Atan(math.Tanh(w*y)/math.Tan(w*d))/math.Pi*(d+h)/h
	for i := range near {
		near[i].Cross, near[i].Value = y, 2*perNet*share
	}
	if share < 0.6 || share > 0.9 {
		t.Fatal(share)
	}
	d0 := read(t, hand(place("P", 1)), near)
	within(t, "net", d0.States[1].Net, 2, 0.06)
	if f := d0.Fits[0]; !(math.Abs(f.Value-near[0].Value) <= 1e-6*near[0].Value) {
		t.Errorf("read %v V, told as %v", near[0].Value, f.Value)
	}
}

// TestPailAlone: a pail has an answer of its own.
func TestPailAlone(t *testing.T) {
	r := survey.Reading{Look: line.Look{Station: "winder", Quantity: line.PailCharge}, Repeat: 1, Value: -12.5e-9,
		Zero: -0.5e-9}
	decays := survey.Reading{Look: line.Look{Station: "P", Quantity: line.DecayTime}, Repeat: 1, Value: 3.2}
	v, f := said(t, read(t, hand(place("P", 1)), []survey.Reading{r, decays}))
	want := "what the pail at winder held carried -12 nC net, whatever made it and charge at P fell to 1/e in 3.2 s"
	if !strings.Contains(v.Source, want) || len(f.Alone) != 2 {
		t.Errorf("%q", v.Source)
	}
}

// TestBadNumbers: a number that is none names its row.
func TestBadNumbers(t *testing.T) {
	for name, spoil := range map[string]func(r *survey.Reading){
		"value":    func(r *survey.Reading) { r.Value = math.NaN() },
		"zero":     func(r *survey.Reading) { r.Zero = math.Inf(1) },
		"distance": func(r *survey.Reading) { r.Distance = units.Length(math.NaN()) },
		"speed":    func(r *survey.Reading) { r.Speed = -1 },
	} {
		rows := fields("P", 500)
		spoil(&rows[2])
		_, err := survey.Diagnose(newLine(t, hand(place("P", 1))), &survey.Survey{Readings: rows})
		if err == nil || !strings.Contains(err.Error(), "readings[2]: ") || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
		rows[2].Line = 7
		if _, err = survey.Diagnose(newLine(t, hand(place("P", 1))), &survey.Survey{Readings: rows}); err == nil ||
			!strings.Contains(err.Error(), "line 7: ") {
			t.Errorf("%s: %v", name, err)
		}
	}
	stopped := fields("P", 500)
	for i := range stopped {
		stopped[i].Running = false
	}
	if _, err := survey.Diagnose(newLine(t, hand(place("P", 1))), &survey.Survey{Readings: stopped}); err == nil ||
		!strings.Contains(err.Error(), "none usable") {
		t.Error(err)
	}
}

// TestAtLeast: every way to write that a display ran out of its range says the same.
func TestAtLeast(t *testing.T) {
	for _, c := range []struct {
		value string
		want  float64
	}{{">20", 20e3}, {"> 20", 20e3}, {"≥ 20", 20e3}, {">=20", 20e3}, {"<-20", -20e3}, {"≤ −20", -20e3},
		{"<= -20", -20e3}} {
		r := one(t, map[string]string{"station": "P", "meter": "F", "line speed": "1 m/s", "value": c.value, "unit": "kV"})
		if !r.AtLeast || r.Value != c.want {
			t.Errorf("%q: at least %v, %v V, want %v", c.value, r.AtLeast, r.Value, c.want)
		}
	}
}

// TestDates: with seconds, without them, and a day alone.
func TestDates(t *testing.T) {
	day := time.Date(2026, 1, 14, 0, 0, 0, 0, time.UTC)
	for s, want := range map[string]time.Time{"2026-01-14": day, "2026-01-14 10:05": day.Add(605 * time.Minute),
		"2026-01-14 10:05:30": day.Add(605*time.Minute + 30*time.Second), "2026-01-14T10:05": day.Add(605 * time.Minute)} {
		r := one(t, map[string]string{"station": "P", "meter": "F", "line speed": "1 m/s", "value": "2", "unit": "kV",
			"date and time": s})
		if !r.Time.Equal(want) {
			t.Errorf("%q: %v, want %v", s, r.Time, want)
		}
	}
	if _, err := survey.ReadSurvey(strings.NewReader(sheet(map[string]string{"value": "2", "unit": "kV",
		"date and time": "14.1.2026"}))); err == nil || !strings.Contains(err.Error(), "2026-01-14 10:05:30") {
		t.Error(err)
	}
}
