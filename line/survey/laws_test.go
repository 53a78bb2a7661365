package survey_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/survey/internal/plants"
)

// some gives invented surveys of every kind.
func some(t *testing.T, each int, visit func(t *testing.T, c *plants.Case)) {
	t.Helper()
	for name, g := range plants.Generators() {
		for _, k := range plants.Kinds() {
			for seed := range uint64(each) {
				c := g(k, 6_000_000+seed)
				t.Run(name+"/"+string(k), func(t *testing.T) { visit(t, c) })
			}
		}
	}
}

// near says how many standard deviations two diagnoses lie apart at most.
func near(a, b *survey.Diagnosis, of func(d *survey.Diagnosis, i int) survey.Estimate, n int) (worst float64) {
	for i := range n {
		x, y := of(a, i), of(b, i)
		if sd := math.Max(x.SD, y.SD); sd > 0 {
			worst = math.Max(worst, math.Abs(x.Value-y.Value)/sd)
		}
	}
	return worst
}

func netOf(d *survey.Diagnosis, i int) survey.Estimate { return d.States[i].Net }

// TestOrder: the order of the rows does not matter.
func TestOrder(t *testing.T) {
	some(t, 1, func(t *testing.T, c *plants.Case) {
		l := newLine(t, c.Description)
		a := diagnose(t, l, c.Survey)
		s := &survey.Survey{Readings: slices.Clone(c.Survey.Readings)}
		rand.New(rand.NewPCG(1, 2)).Shuffle(len(s.Readings),
			func(i, j int) { s.Readings[i], s.Readings[j] = s.Readings[j], s.Readings[i] })
		b := diagnose(t, l, s)
		if a.Answer.Kind != b.Answer.Kind || !slices.EqualFunc(a.Answer.Sets, b.Answer.Sets, slices.Equal) {
			t.Errorf("%v and %v", a.Answer, b.Answer)
		}
		if w := near(a, b, netOf, len(a.States)); w > 1e-4 { // means are summed in the order of the rows
			t.Errorf("%v standard deviations apart", w)
		}
	})
}

// TestSameBits: the same survey gives the same bits.
func TestSameBits(t *testing.T) {
	some(t, 1, func(t *testing.T, c *plants.Case) {
		l := newLine(t, c.Description)
		a, b := diagnose(t, l, c.Survey), diagnose(t, l, c.Survey)
		for i := range a.States {
			if a.States[i] != b.States[i] {
				t.Fatalf("station %d: %+v and %+v", i, a.States[i], b.States[i])
			}
		}
		if a.Quiet != b.Quiet || a.Answer.Chance != b.Answer.Chance {
			t.Errorf("%+v and %+v", a.Answer, b.Answer)
		}
	})
}

// TestRoomIsTheirOwn: diagnoses share room for what they only need while they are made;
// several at a time say what each says alone, and say it again once others have used it.
func TestRoomIsTheirOwn(t *testing.T) {
	type work struct {
		l    *line.Line
		s    *survey.Survey
		d    *survey.Diagnosis
		said string
	}
	said := func(d *survey.Diagnosis) string {
		o, err := d.At(0.7 * d.Speed)
		return fmt.Sprintf("%+v %+v %+v %+v %+v %+v %v", d.Changes, d.States, d.Fits, d.Agreement(), d.Next(), o, err)
	}
	var list []*work
	for _, main := range []float64{5, 8} {
		l, s := sixty(t, main)
		list = append(list, &work{l: l, s: s})
	}
	l, s := floor(t, 9)
	list = append(list, &work{l: l, s: s}, &work{l: newLine(t, demoDescription(t)), s: demoSurvey(t)})
	for _, w := range list {
		w.d = diagnose(t, w.l, w.s)
		w.said = said(w.d)
	}
	var wait sync.WaitGroup
	for range 3 {
		for i, w := range list {
			wait.Go(func() {
				if d, err := survey.Diagnose(w.l, w.s); err != nil || said(d) != w.said {
					t.Errorf("survey %d says something else beside others: %v", i, err)
				}
			})
		}
	}
	wait.Wait()
	for i, w := range list {
		if said(w.d) != w.said {
			t.Errorf("survey %d says something else after others", i)
		}
	}
}

// TestMirror: all readings negated negate all charges and change nothing of the
// answer.
func TestMirror(t *testing.T) {
	some(t, 1, func(t *testing.T, c *plants.Case) {
		l := newLine(t, c.Description)
		a := diagnose(t, l, c.Survey)
		s := &survey.Survey{Readings: slices.Clone(c.Survey.Readings)}
		for i := range s.Readings {
			if q := s.Readings[i].Quantity; q == line.FieldMeter || q == line.OverRoller {
				s.Readings[i].Value, s.Readings[i].Zero = -s.Readings[i].Value, -s.Readings[i].Zero
			}
		}
		b := diagnose(t, l, s)
		if a.Answer.Kind != b.Answer.Kind || !slices.EqualFunc(a.Answer.Sets, b.Answer.Sets, slices.Equal) ||
			!(math.Abs(a.Answer.Chance-b.Answer.Chance) <= 0.01) {
			t.Errorf("%+v and %+v", a.Answer, b.Answer)
		}
		for i := range a.States {
			x, y := a.States[i].A, b.States[i].A
			// Positions across the web are counted in the order of the displays, so that
			// the scales may differ a little.
			if !(math.Abs(x.Low+y.High) <= 0.2*x.SD) || !(math.Abs(x.Value+y.Value) <= 0.1*x.SD) ||
				!(math.Abs(x.SD-y.SD) <= 0.1*x.SD) {
				t.Errorf("station %d: %+v and %+v", i, x, y)
			}
		}
	})
}

// TestFaces: the names of the faces do not matter, to the noise of the samples.
func TestFaces(t *testing.T) {
	differ := 0
	n := 0
	some(t, 1, func(t *testing.T, c *plants.Case) {
		a := diagnose(t, newLine(t, c.Description), c.Survey)
		d := *c.Description
		d.Stations = slices.Clone(d.Stations)
		for i := range d.Stations {
			s := &d.Stations[i]
			s.Change = slices.Clone(s.Change)
			for j := range s.Change {
				s.Change[j].Face = s.Change[j].Face.Other()
			}
			if s.Ioniser != nil {
				ion := *s.Ioniser
				ion.Face = ion.Face.Other()
				s.Ioniser = &ion
			}
		}
		r := &survey.Survey{Readings: slices.Clone(c.Survey.Readings)}
		for i := range r.Readings {
			r.Readings[i].Face = r.Readings[i].Face.Other()
		}
		b := diagnose(t, newLine(t, &d), r)
		n++
		if a.Answer.Kind != b.Answer.Kind {
			differ++ // at a threshold
		}
		for i := range a.States {
			x, y := a.States[i].A, b.States[i].B
			if sd := math.Max(x.SD, y.SD); !(math.Abs(x.Value-y.Value) <= 0.5*sd) {
				t.Errorf("station %d: %+v and %+v", i, x, y)
			}
		}
	})
	if differ > n/7 {
		t.Errorf("%d of %d answers differ", differ, n)
	}
}

// TestImpossibleReading: one display of a million volts more at a place is dropped,
// named and moves nothing.
func TestImpossibleReading(t *testing.T) {
	moved, n := 0, 0
	some(t, 1, func(t *testing.T, c *plants.Case) {
		l := newLine(t, c.Description)
		a := diagnose(t, l, c.Survey)
		s := &survey.Survey{Readings: slices.Clone(c.Survey.Readings)}
		i := slices.IndexFunc(s.Readings, func(r survey.Reading) bool { return r.Quantity == line.FieldMeter })
		r := s.Readings[i]
		r.Value, r.AtLeast, r.FullScale = 1e6, false, 2e6
		s.Readings = append(s.Readings, r)
		b := diagnose(t, l, s)
		last := len(s.Readings) - 1
		if !slices.ContainsFunc(b.Agreement().Odd, func(o survey.OddReading) bool { return o.Reading == last }) {
			t.Errorf("not named: %+v", b.Agreement().Odd)
		}
		n++
		if near(a, b, netOf, len(a.States)) > 1 {
			moved++ // what was doubted of the others at that place may now be believed
		}
	})
	if moved > n/10 {
		t.Errorf("%d of %d surveys moved by more than a standard deviation", moved, n)
	}
}

// TestTotal: whatever finite numbers stand in a survey, all that comes out is finite
// and in order.
func TestTotal(t *testing.T) {
	d := rand.New(rand.NewPCG(7, 8))
	some(t, 1, func(t *testing.T, c *plants.Case) {
		for _, spoil := range []func(i int, v float64) float64{
			func(int, float64) float64 { return 0 },
			func(_ int, v float64) float64 { return v * 1e-9 },
			func(i int, _ float64) float64 { return 10e6 * float64(1-2*(i%2)) },
			func(int, float64) float64 { return 1e6 * d.NormFloat64() },
		} {
			s := &survey.Survey{Readings: slices.Clone(c.Survey.Readings)}
			for i := range s.Readings {
				if q := s.Readings[i].Quantity; q == line.FieldMeter || q == line.OverRoller {
					s.Readings[i].Value = spoil(i, s.Readings[i].Value)
				}
			}
			g := diagnose(t, newLine(t, c.Description), s)
			v, err := g.Verdict()
			if err != nil {
				t.Fatal(err)
			}
			for _, text := range v.Lines() {
				if slices.Contains([]byte(text), 0) || len(text) > 2000 {
					t.Errorf("%q", text)
				}
			}
			for i, st := range g.States {
				for _, e := range []survey.Estimate{st.A, st.B, st.Net} {
					if !(e.Low <= e.Value && e.Value <= e.High) || math.IsInf(e.Low, 0) || math.IsInf(e.High, 0) || !(e.SD >= 0) {
						t.Fatalf("station %d: %+v", i, e)
					}
				}
			}
			for _, x := range g.Changes {
				if !(x.Found.Low <= x.Found.Value && x.Found.Value <= x.Found.High) || !(x.Told >= 0 && x.Told <= 1) {
					t.Fatalf("%+v", x)
				}
			}
			if a := g.Answer; !(a.Chance >= 0 && a.Chance <= 0.97) || a.Beside < -1e-9 || a.Beside > 1 {
				t.Errorf("%+v", a)
			}
		}
	})
}

// TestOneReading: a survey of one reading has an answer for each of its readings.
func TestOneReading(t *testing.T) {
	c := plants.Patchy(plants.One, 6_000_000)
	l := newLine(t, c.Description)
	for i := range c.Survey.Readings {
		g := diagnose(t, l, &survey.Survey{Readings: c.Survey.Readings[i : i+1]})
		if g.Answer.Kind == survey.OneSource {
			t.Errorf("reading %d alone names a source", i)
		}
	}
}

// TestIsolatedLikeUnread: a roller that the survey finds isolated gives what the
// survey gives without its voltmeter rows.
func TestIsolatedLikeUnread(t *testing.T) {
	for name, g := range plants.Generators() {
		for seed := range uint64(4) {
			c := g(plants.Isolated, 6_000_000+seed)
			l := newLine(t, c.Description)
			a := diagnose(t, l, c.Survey)
			s := &survey.Survey{}
			for i, r := range c.Survey.Readings {
				if f := a.Fits[i]; r.Quantity != line.OverRoller || f.Used {
					s.Readings = append(s.Readings, r)
				}
			}
			b := diagnose(t, l, s)
			if len(s.Readings) == len(c.Survey.Readings) {
				continue // the plan had none over it
			}
			if w := near(a, b, netOf, len(a.States)); w > 1e-9 || a.Answer.Kind != b.Answer.Kind {
				t.Errorf("%s: %v standard deviations apart, %v and %v", name, w, a.Answer, b.Answer)
			}
		}
	}
}

// TestNamesSurvive: a name survives leaving out any one reading: the same station
// still leads, tried by diagnosing the survey anew without it.
func TestNamesSurvive(t *testing.T) {
	named, tried, lost := 0, 0, 0
	for _, g := range plants.Generators() {
		for seed := range uint64(24) {
			c := g(plants.One, 7_000_000+seed)
			l := newLine(t, c.Description)
			a := diagnose(t, l, c.Survey)
			if a.Answer.Kind != survey.OneSource {
				continue
			}
			named++
			for i, r := range c.Survey.Readings {
				if r.Quantity == line.EarthResistance {
					continue
				}
				s := &survey.Survey{Readings: slices.Delete(slices.Clone(c.Survey.Readings), i, i+1)}
				tried++
				if b := diagnose(t, l, s); len(b.Leads) == 0 || b.Leads[0].Station != a.Answer.Sets[0][0] {
					lost++
					t.Logf("%v: without reading %d %v leads with %v", c, i, b.Leads[0].Station, b.Leads[0].Chance)
				}
			}
		}
	}
	t.Logf("%d names, %d readings left out, %d names lost", named, tried, lost)
	if named < 12 || lost > 0 {
		t.Errorf("%d names, %d readings left out, %d names lost", named, tried, lost)
	}
}

// TestSuggestionsAreUsed: what is suggested, simulated and added to the survey, is
// used, and was not there before; after it something else is suggested.
func TestSuggestionsAreUsed(t *testing.T) {
	n := 0
	some(t, 1, func(t *testing.T, c *plants.Case) {
		l := newLine(t, c.Description)
		a := diagnose(t, l, c.Survey)
		x := a.Next()
		if x == nil {
			return
		}
		n++
		r := survey.Reading{Repeat: 1, Speed: c.Description.Speed, HasZero: true}
		r.Look = line.Look{Station: c.Description.Stations[x.Station].Name, Quantity: x.Quantity, Face: x.Face,
			Running: true, Meter: "VM"}
		if x.Quantity == line.FieldMeter {
			r.Face, r.Distance, r.Meter = line.FaceA, 0.025, "FM"
		}
		if x.Behind {
			r.Gap = 0.3
		}
		for _, o := range c.Survey.Readings {
			if o.Station == r.Station && o.Quantity == r.Quantity && o.Face == r.Face && !x.Behind {
				i := slices.IndexFunc(c.Survey.Readings, func(p survey.Reading) bool { return p == o })
				if a.Fits[i].Used {
					t.Errorf("%+v was taken already", x)
				}
			}
		}
		s := &survey.Survey{Readings: append(slices.Clone(c.Survey.Readings), r)}
		b := diagnose(t, l, s)
		if f := b.Fits[len(b.Fits)-1]; !f.Used {
			t.Errorf("%+v: %s", x, f.Why)
		}
		if y := b.Next(); y != nil && y.Station == x.Station && y.Quantity == x.Quantity && y.Face == x.Face {
			t.Errorf("suggested again: %+v", y)
		}
		if !(x.To > x.From) || x.To > 1 || len(a.Leads) > 0 && x.From < a.Leads[0].Chance {
			t.Errorf("%+v beside %+v", x, a.Leads)
		}
	})
	if n < 8 {
		t.Errorf("only %d suggestions", n)
	}
}

// TestDrawsRepeat: a sample depends on seed and number only, on any goroutine.
func TestDrawsRepeat(t *testing.T) {
	c := plants.Patchy(plants.Strong, 6_000_001)
	p := diagnose(t, newLine(t, c.Description), c.Survey).Posterior()
	if len(p.Unknowns()) != p.Len() || p.Modes() < 1 {
		t.Fatal(p.Len(), p.Modes())
	}
	const n = 200
	want := make([][]float64, n)
	for i := range want {
		want[i] = make([]float64, p.Len())
		p.Draw(want[i], 11, uint64(i))
	}
	var wait sync.WaitGroup
	for g := range 4 {
		wait.Add(1)
		go func() {
			defer wait.Done()
			x := make([]float64, p.Len())
			for i := n - 1 - g; i >= 0; i -= 3 {
				p.Draw(x, 11, uint64(i))
				if !slices.Equal(x, want[i]) {
					t.Errorf("sample %d depends on who draws it", i)
					return
				}
			}
		}()
	}
	wait.Wait()
	x := make([]float64, p.Len())
	if a := testing.AllocsPerRun(50, func() { p.Draw(x, 3, 8) }); a != 0 {
		t.Errorf("%v allocations", a)
	}
	p.Draw(x, 12, 0)
	if slices.Equal(x, want[0]) {
		t.Error("the seed does not matter")
	}
	var sum float64
	for i := range p.Modes() {
		w, mean, lower := p.Mode(i)
		sum += w
		if len(mean) != p.Len() || len(lower) != p.Len()*(p.Len()+1)/2 {
			t.Error(len(mean), len(lower))
		}
	}
	if !(math.Abs(sum-1) <= 1e-12) {
		t.Errorf("weights sum to %v", sum)
	}
}
