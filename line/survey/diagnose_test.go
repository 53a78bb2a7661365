package survey_test

import (
	"encoding/json"
	"io/fs"
	"math"
	"os"
	"strings"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/testdata"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func demoDescription(t testing.TB) *line.Description {
	t.Helper()
	f, err := os.Open("../../examples/survey/demo/line.json")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	d, err := line.ReadDescription(f)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func demoSurvey(t testing.TB) *survey.Survey {
	t.Helper()
	f, err := os.Open("../../examples/survey/demo/survey.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	s, err := survey.ReadSurvey(f)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func newLine(t testing.TB, d *line.Description) *line.Line {
	t.Helper()
	l, err := line.New(d)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

type truth struct {
	States []struct {
		Place string  `json:"place"`
		A     float64 `json:"a"`
		B     float64 `json:"b"`
	} `json:"states"`
	OverRoller []struct {
		Station string    `json:"station"`
		Face    line.Face `json:"face"`
		Charge  float64   `json:"charge"`
	} `json:"over_roller"`
	Isolated struct {
		Station string  `json:"station"`
		Voltage float64 `json:"voltage_kV"`
	} `json:"isolated"`
	Forecast struct {
		A float64 `json:"a"`
		B float64 `json:"b"`
	} `json:"forecast_300_m_per_min"`
	Main      string   `json:"main_source"`
	Forbidden []string `json:"demo_must_not_contain"`
}

func plantA(t testing.TB) truth {
	t.Helper()
	b, err := fs.ReadFile(testdata.FS(), "plant_a_truth.json")
	if err != nil {
		t.Fatal(err)
	}
	var v truth
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// TestDemoHidesTheTruth: what the plant cannot know stands in no file of the demo.
func TestDemoHidesTheTruth(t *testing.T) {
	v := plantA(t)
	if len(v.Forbidden) < 10 {
		t.Fatal("the list of hidden truths is empty")
	}
	for _, name := range []string{"line.json", "survey.csv"} {
		b, err := os.ReadFile("../../examples/survey/demo/" + name)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range v.Forbidden {
			// A truth is a whole number: "15 µC" does not stand in "115 µC".
			for rest := string(b); ; {
				i := strings.Index(rest, w)
				if i < 0 {
					break
				}
				if i == 0 || !strings.ContainsAny(rest[i-1:i], "0123456789.") {
					t.Errorf("%s holds the hidden truth %q", name, w)
				}
				rest = rest[i+len(w):]
			}
		}
	}
}

// TestReadingsInsideBands puts the invented true charges in and compares the
// survey's readings with the bands predicted for them. The bands hold 90 %; of
// 35 readings at most 8 may fall outside (binomial, 99.2 %), and none further
// than four standard deviations.
func TestReadingsInsideBands(t *testing.T) {
	l, s, v := newLine(t, demoDescription(t)), demoSurvey(t), plantA(t)
	a, b := map[string]float64{}, map[string]float64{}
	for _, p := range v.States {
		a[p.Place], b[p.Place] = p.A, p.B
	}
	n, outside := 0, 0
	for i := range s.Readings {
		r := &s.Readings[i]
		var qa, qb float64
		switch r.Quantity {
		case line.FieldMeter:
			qa, qb = a[r.Station], b[r.Station]
			if qa == 0 {
				t.Fatalf("no truth for %s", r.Station)
			}
		case line.OverRoller:
			for _, o := range v.OverRoller {
				if o.Station == r.Station && o.Face == r.Face {
					qa, qb = o.Charge, o.Charge
				}
			}
			if qa == 0 {
				t.Fatalf("no truth for %s face %s", r.Station, r.Face)
			}
		default:
			continue
		}
		band, err := l.Expect(&r.Look, units.SurfaceChargeDensity(qa*1e-6), units.SurfaceChargeDensity(qb*1e-6))
		if err != nil {
			t.Fatal(err)
		}
		n++
		sd := (band[2] - band[0]) / (2 * known.Z95)
		if r.Value < band[0] || r.Value > band[2] {
			outside++
			t.Logf("%s: %v outside %.0f … %.0f", r.Station, r.Value, band[0], band[2])
		}
		if !(math.Abs(r.Value-band[1]) <= 4*sd) {
			t.Errorf("%s: %v is more than four standard deviations from %.0f", r.Station, r.Value, band[1])
		}
	}
	if n != 35 || outside > 8 {
		t.Errorf("%d of %d readings outside their 5 … 95 %% bands", outside, n)
	}
}

func diagnose(t testing.TB, l *line.Line, s *survey.Survey) *survey.Diagnosis {
	t.Helper()
	d, err := survey.Diagnose(l, s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// TestOverRollerNamesTheNip: with the over-roller readings the nip is the main
// source and the true charges lie inside the bands.
func TestOverRollerNamesTheNip(t *testing.T) {
	l, v := newLine(t, demoDescription(t)), plantA(t)
	d := diagnose(t, l, demoSurvey(t))
	if d.Answer.Kind != survey.OneSource || l.Description().Stations[d.Answer.Sets[0][0]].Name != v.Main {
		t.Fatalf("answer %+v, want %s; chances %v", d.Answer, v.Main, d.Leads)
	}
	out := 0
	for _, p := range v.States {
		st := d.States[l.Station(p.Place)]
		for _, f := range []struct {
			e    survey.Estimate
			want float64
		}{{st.A, p.A * 1e-6}, {st.B, p.B * 1e-6}} {
			if !(math.Abs(f.e.Value-f.want) <= 3*f.e.SD) {
				t.Errorf("%s: %v ± %v, truth %v", p.Place, f.e.Value, f.e.SD, f.want)
			}
			if math.Abs(f.e.Value-f.want) > known.Z95*f.e.SD {
				out++
			}
		}
	}
	if out > 4 { // of 16, strongly correlated, at 10 % each
		t.Errorf("%d of 16 true charges outside the 5 … 95 %% bands", out)
	}
	o, err := d.At(300 * units.MetrePerMinute)
	if err != nil {
		t.Fatal(err)
	}
	at := l.Station("A7 after lay-on")
	if q := o.A[at]; !(q[0] < v.Forecast.A*1e-6 && v.Forecast.A*1e-6 < q[2]) {
		t.Errorf("forecast of face A %v does not hold %v µC/m²", q, v.Forecast.A)
	}
	if q := o.B[at]; !(q[0] < v.Forecast.B*1e-6 && v.Forecast.B*1e-6 < q[2]) {
		t.Errorf("forecast of face B %v does not hold %v µC/m²", q, v.Forecast.B)
	}
	for _, g := range d.Ground {
		if name := l.Description().Stations[g.Station].Name; g.Isolated != (name == v.Isolated.Station) {
			t.Errorf("ground check of %s: isolated %v", name, g.Isolated)
		}
		if iso, ok := d.Isolated(g); ok &&
			!(float64(iso.Voltage) <= v.Isolated.Voltage*1e3 && v.Isolated.Voltage*1e3 <= 1.1*float64(iso.HighVoltage)) {
			t.Errorf("isolated roller %v … %v, truth %v kV", iso.Voltage, iso.HighVoltage, v.Isolated.Voltage)
		}
	}
}

// TestNobodysVoltage: an isolated roller without a sparkover voltage whose current would drive it beyond 30 kV has no
// stated voltage: below, its steady I·R is told and does not spark, above it nothing is.
func TestNobodysVoltage(t *testing.T) {
	desc := demoDescription(t)
	for i := range desc.Stations {
		if r := desc.Stations[i].Roller; r != nil {
			c := *r
			c.Sparkover = 0
			desc.Stations[i].Roller = &c
		}
	}
	for _, factor := range []float64{0.1, 10} {
		s := demoSurvey(t)
		for i := range s.Readings {
			if r := &s.Readings[i]; r.Quantity == line.EarthResistance && r.Value > float64(survey.GroundLimit) {
				r.Value *= factor
			}
		}
		d := diagnose(t, newLine(t, desc), s)
		n := 0
		for _, g := range d.Ground {
			if !g.Isolated {
				continue
			}
			n++
			iso, ok := d.Isolated(g)
			if ok != (factor < 1) || iso.Sparks {
				t.Errorf("%v: told %v, %+v", g.Resistance, ok, iso)
			}
			if free := float64(iso.High) * float64(g.Resistance); ok && !(math.Abs(float64(iso.HighVoltage)/free-1) <= 1e-9) {
				t.Errorf("%v, I·R = %g V", iso.HighVoltage, free)
			}
		}
		if n == 0 {
			t.Error("no roller is isolated")
		}
	}
}

// TestFreeSpanCannotTell: free-span readings see only the sum of both faces; a
// nip that charges both with opposite signs stays hidden.
func TestFreeSpanCannotTell(t *testing.T) {
	s := demoSurvey(t)
	var free survey.Survey
	for _, r := range s.Readings {
		if r.Quantity != line.OverRoller {
			free.Readings = append(free.Readings, r)
		}
	}
	l := newLine(t, demoDescription(t))
	d := diagnose(t, l, &free)
	if d.Answer.Kind == survey.OneSource {
		t.Errorf("free-span readings alone named %q", l.Description().Stations[d.Answer.Sets[0][0]].Name)
	}
	v, err := d.Verdict()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(v.Source, "cannot tell") {
		t.Errorf("source line %q", v.Source)
	}
	if n := d.Next(); n == nil || n.Quantity != line.OverRoller {
		t.Errorf("suggested %+v, want an over-roller reading", n)
	}
	if len(v.Lines()) > 7 {
		t.Errorf("%d lines", len(v.Lines()))
	}
	nip := l.Station("tension nip")
	for _, c := range d.Changes {
		if c.Station == nip && c.Identified {
			t.Errorf("face %s of the nip counts as fixed by net readings", c.Face)
		}
	}
}

// TestConservation: what the stations gave to the faces, less what leaked, is
// what the web carries, at every station and to rounding.
func TestConservation(t *testing.T) {
	desc := demoDescription(t)
	desc.Stations[2].Leak = &line.LeakSpec{Path: decay.EarthedEdge, Time: 0.4}
	l := newLine(t, desc)
	d := diagnose(t, l, demoSurvey(t))
	c, err := d.Calibrated()
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []units.Speed{0.01, 1, 220 * units.MetrePerMinute, 30} {
		res := make([]line.Result, c.Len())
		c.RunTo(res, v)
		var given, lost, gross float64
		for i, r := range res {
			given += float64(r.GainA) + float64(r.GainB)
			lost += float64(r.Lost)
			gross += math.Abs(float64(r.GainA)) + math.Abs(float64(r.GainB)) + math.Abs(float64(r.Lost))
			if net := float64(r.Net()); !(math.Abs(net-(given-lost)) <= 1e-14*gross) {
				t.Errorf("v %v, station %d: net %v, given less lost %v", v, i, net, given-lost)
			}
		}
		if gross == 0 {
			t.Fatal("nothing moved: the test shows nothing")
		}
	}
}

// TestCalibratedReproduces: the calibrated line carries at the survey's speed what the
// leading explanation says, changes and their sums along the path, to 0.03 standard
// deviations: nothing is drawn on the way there, and statements that stay open in that
// explanation shift it by their chances, here by 0.024 at most.
func TestCalibratedReproduces(t *testing.T) {
	l := newLine(t, demoDescription(t))
	d := diagnose(t, l, demoSurvey(t))
	c, err := d.Calibrated()
	if err != nil {
		t.Fatal(err)
	}
	res := make([]line.Result, c.Len())
	c.RunTo(res, d.Speed)
	_, mean, _ := d.Posterior().Mode(0)
	var sum [2]float64
	k := 0
	for i, r := range res {
		gains := [2]units.SurfaceChargeDensity{r.GainA, r.GainB}
		for ; k < len(d.Changes) && d.Changes[k].Station == i; k++ {
			ch := &d.Changes[k]
			f := ch.Face - line.FaceA
			sum[f] += mean[k]
			if got := float64(gains[f]) / micro; !(math.Abs(got-mean[k]) <= 0.03*ch.Found.SD/micro) {
				t.Errorf("station %d, face %v gives %.4f µC/m², explained by %.4f ± %.4f", i, ch.Face, got, mean[k],
					ch.Found.SD/micro)
			}
		}
		sd := [2]float64{d.States[i].A.SD, d.States[i].B.SD}
		for f, q := range []units.SurfaceChargeDensity{r.A, r.B} {
			if got := float64(q) / micro; !(math.Abs(got-sum[f]) <= 0.03*sd[f]/micro) {
				t.Errorf("station %d, face %d holds %.4f µC/m², explained by %.4f ± %.4f", i, f, got, sum[f], sd[f]/micro)
			}
		}
	}
}

// TestMedianOfTheMixture: the middle of a state lies where the explanations together, each a
// normal distribution by its mean and factor, have half of their weight: to four standard errors
// of 512 samples, 4·½/√512 = 0.09. The leading explanation alone is up to half a standard
// deviation off: the second one weighs as much.
func TestMedianOfTheMixture(t *testing.T) {
	l := newLine(t, demoDescription(t))
	d := diagnose(t, l, demoSurvey(t))
	p := d.Posterior()
	unknowns := p.Unknowns()
	for i := range d.States {
		if len(l.Description().Stations[i].Off) > 0 {
			continue // its state is told with a bar off
		}
		for f, e := range []survey.Estimate{d.States[i].A, d.States[i].B} {
			in := make([]bool, len(unknowns)) // what adds to this face
			for k, u := range unknowns {
				in[k] = u.Face-line.FaceA == line.Face(f) && (u.Kind == survey.ChangeUnknown && u.Station <= i ||
					u.Kind == survey.UnlistedUnknown && u.Station < i)
			}
			var below float64
			for m := range p.Modes() {
				weight, mean, lower := p.Mode(m)
				mid, variance, at := 0.0, 0.0, 0
				for c := range mean {
					if in[c] {
						mid += mean[c]
					}
					var x float64
					for r := c; r < len(mean); r++ {
						if in[r] {
							x += lower[at+r-c]
						}
					}
					variance += x * x
					at += len(mean) - c
				}
				below += weight * 0.5 * math.Erfc((mid-e.Value/micro)/math.Sqrt(2*variance))
			}
			if !(math.Abs(below-0.5) <= 0.09) {
				t.Errorf("station %d, face %d: %.3f of the mixture lies below the median", i, f, below)
			}
		}
	}
}

// TestSamplesRepeat: same seed, same bits, in any order.
func TestSamplesRepeat(t *testing.T) {
	l := newLine(t, demoDescription(t))
	d := diagnose(t, l, demoSurvey(t))
	run := func(i uint64) line.Result {
		c, err := d.Sample(5, i)
		if err != nil {
			t.Fatal(err)
		}
		res := make([]line.Result, c.Len())
		c.RunTo(res, 4)
		return res[len(res)-1]
	}
	a, b := run(0), run(1)
	if run(1) != b || run(0) != a || a == b {
		t.Error("samples depend on order or do not differ")
	}
}

func BenchmarkRunTo(b *testing.B) {
	l := newLine(b, demoDescription(b))
	d := diagnose(b, l, demoSurvey(b))
	c, err := d.Calibrated()
	if err != nil {
		b.Fatal(err)
	}
	res := make([]line.Result, c.Len())
	b.ReportAllocs()
	for b.Loop() {
		c.RunTo(res, 3.5)
	}
}

// TestSuggestsOnlyEarthedMetal: a voltmeter over a roller that is insulating or
// found isolated reads against nothing; it is neither suggested nor used.
func TestSuggestsOnlyEarthedMetal(t *testing.T) {
	s := demoSurvey(t)
	var free survey.Survey
	for _, r := range s.Readings {
		if r.Quantity != line.OverRoller {
			free.Readings = append(free.Readings, r)
		}
	}
	desc := demoDescription(t)
	for i := range desc.Stations {
		if r := desc.Stations[i].Roller; r != nil {
			r.Kind, r.Cover = line.InsulatingCover, 5*units.Second
		}
	}
	l := newLine(t, desc)
	if n := diagnose(t, l, &free).Next(); n != nil && n.Quantity == line.OverRoller {
		t.Errorf("suggests a voltmeter over an insulating roller: %+v", n)
	}
	d := diagnose(t, l, s)
	for _, f := range d.Fits {
		if s.Readings[f.Reading].Quantity == line.OverRoller && f.Used {
			t.Error("uses a voltmeter reading over an insulating roller")
		}
	}
}

// TestVerdictInUS: speeds and distances follow the system.
func TestVerdictInUS(t *testing.T) {
	d := diagnose(t, newLine(t, demoDescription(t)), demoSurvey(t))
	v, err := d.VerdictIn(units.US)
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(v.Lines(), "\n")
	if !strings.Contains(all, "984 ft/min") || strings.Contains(all, "m/min:") ||
		!strings.Contains(all, "25 mm (1 in)") || strings.Contains(strings.ToLower(all), "earth") {
		t.Error(all)
	}
}
