package cure

import (
	"math"
	"os"
	"runtime"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/pithball/decay"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
)

// diagnosed is plant A from its readings.
func diagnosed(t testing.TB, site *Site) *Calibrated {
	t.Helper()
	l, err := line.New(plantDescription(t))
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.Open("../../examples/survey/demo/survey.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	s, err := survey.ReadSurvey(f)
	if err != nil {
		t.Fatal(err)
	}
	d, err := survey.Diagnose(l, s)
	if err != nil {
		t.Fatal(err)
	}
	m, err := Calibrate(d, site)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// TestCalibrateHoldsTheTruth: from the readings of plant A the 5 … 95 % bands at the
// survey's speed hold nearly all faces and nets of the hidden truth, and the medians
// are the survey's own.
func TestCalibrateHoldsTheTruth(t *testing.T) {
	m := diagnosed(t, nil)
	p := m.Predict()
	in, n := 0, 0
	for place, x := range map[string][2]float64{"A3": {-1.5, -0.9}, "A4": {14, -15.5}, "A5": {13.9, -16.5},
		"A6": {16.3, -16.5}, "A7": {17.4, -16.5}} {
		s := p.Stations[m.station(places[place])]
		for _, q := range []struct {
			band Quantiles
			true float64
		}{{s.A, x[0]}, {s.B, x[1]}, {s.Net, x[0] + x[1]}} {
			n++
			if q.band[0]/micro <= q.true && q.true <= q.band[2]/micro {
				in++
			}
		}
		if s.Display[0] > s.Display[1] || s.Display[1] > s.Display[2] || math.IsNaN(s.Display[1]) {
			t.Errorf("%s shows %v", place, s.Display)
		}
	}
	if in < n-3 {
		t.Errorf("%d of %d true values inside their 90 %% bands", in, n)
	}
	if p.Extrapolated || p.Assumed || p.AnyOver < 0.9 || len(p.Notices) == 0 {
		t.Errorf("%+v", p)
	}
	if c := m.Conductors(); len(c) < 5 {
		t.Errorf("%d conductors", len(c))
	}
}

// TestDescriptionGivesMedians: New of the calibrated description runs as the middle
// line does, to 1e-9, before changes and after.
func TestDescriptionGivesMedians(t *testing.T) {
	site := nobody()
	found := diagnosed(t, &site)
	for name, m := range map[string]*Calibrated{"survey": found, "truth": free(t, nil),
		"moved": try(t, found, Move{Station: "bar B1", To: 3 * units.Metre}, Load{Station: "tension nip", From: 2, To: 1})} {
		d, err := m.Description()
		if err != nil {
			t.Fatal(name, err)
		}
		l, err := line.New(&d)
		if err != nil {
			t.Fatal(name, err)
		}
		res := make([]line.Result, l.Len())
		l.RunTo(res, d.Speed)
		w := m.run(m.speed)
		for s := range res {
			a, b := w.a[s][Draws], w.b[s][Draws]
			if !(math.Abs(float64(res[s].A)-a) <= 1e-9*(micro+math.Abs(a))) ||
				!(math.Abs(float64(res[s].B)-b) <= 1e-9*(micro+math.Abs(b))) {
				t.Errorf("%s, %s: %v/%v, calibrated %g/%g", name, m.stages[s].name, res[s].A, res[s].B, a, b)
			}
		}
	}
}

// TestWalkIsThatOfLine: without ionisers the quick walk is line.RunTo at every speed,
// with leak, pairing of the faces, insulating rollers and the cap of the gas.
func TestWalkIsThatOfLine(t *testing.T) {
	d := plantDescription(t)
	d.Web.VolumeResistivity = 1e11
	var kept []line.StationSpec
	for _, s := range d.Stations {
		if s.Kind == line.Ioniser {
			continue
		}
		s.Off = nil
		if s.Kind == line.Nip {
			s.Roller = &line.RollerSpec{Radius: 60 * units.Millimetre, Kind: line.InsulatingCover, Cover: 0.4 * units.Second}
		}
		if s.Name == "idler 4" {
			s.Leak = &line.LeakSpec{Path: decay.EarthedEdge, Time: 0.3 * units.Second}
		}
		kept = append(kept, s)
	}
	d.Stations = kept
	l, err := line.New(d)
	if err != nil {
		t.Fatal(err)
	}
	capped := false
	for _, nip := range [][2]float64{{15.5, -9.6}, {23, -1}} { // the net of the second is capped at 20 m/s
		f := found{speed: 3, low: 3, high: 3, exposed: true}
		x := []float64{-2.1, 0.6, -0.8, -0.7, nip[0], nip[1], -0.1, -0.5, -0.5, 1.1}
		si := make([]float64, len(x))
		for k := range x {
			si[k] = x[k] * micro
			f.changes = append(f.changes, same(si[k]))
		}
		m, err := build(d, f, nil)
		if err != nil {
			t.Fatal(err)
		}
		ref, err := l.With(si, 3, nil)
		if err != nil {
			t.Fatal(err)
		}
		res := make([]line.Result, l.Len())
		for _, v := range []float64{0.05, 1, 3, 7, 20} {
			ref.RunTo(res, units.Speed(v))
			w := m.run(v)
			for s := range res {
				if a, b := w.a[s][Draws], w.b[s][Draws]; !(math.Abs(float64(res[s].A)-a) <= 1e-9*micro) ||
					!(math.Abs(float64(res[s].B)-b) <= 1e-9*micro) {
					t.Errorf("%v at %g m/s, %s: %g/%g, line %v/%v", nip, v, m.stages[s].name, a, b, res[s].A, res[s].B)
				}
				capped = capped || res[s].Ruled == line.GasCap
				if got := w.ruled[s][Draws]; res[s].Ruled != got {
					t.Errorf("at %g m/s, %s: ruled %v, line %v", v, m.stages[s].name, got, res[s].Ruled)
				}
			}
		}
	}
	if !capped {
		t.Error("no case reaches the cap of the gas")
	}
}

// TestSameBits: on one goroutine and on many, and again.
func TestSameBits(t *testing.T) {
	old := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(old)
	site := nobody()
	one := try(t, diagnosed(t, &site), Run{4}).Predict()
	runtime.GOMAXPROCS(7)
	many := try(t, diagnosed(t, &site), Run{4}).Predict()
	for s := range one.Stations {
		// NaN is not equal to itself.
		for _, q := range []*Quantiles{&one.Stations[s].Back, &many.Stations[s].Back, &one.Stations[s].Display,
			&many.Stations[s].Display} {
			for i := range q {
				if math.IsNaN(q[i]) {
					q[i] = 0
				}
			}
		}
	}
	if diff := cmp.Diff(one, many); diff != "" {
		t.Errorf("other bits on many goroutines: %s", diff)
	}
}

// TestAssume: before any survey the description's own spreads, marked so.
func TestAssume(t *testing.T) {
	l, err := line.New(plantDescription(t))
	if err != nil {
		t.Fatal(err)
	}
	m, err := Assume(l, nil)
	if err != nil {
		t.Fatal(err)
	}
	p := m.Predict()
	// A normal prior of ±5 µC/m² on each face of the unwind.
	near(t, "A of the unwind", p.Stations[0].A[2]/micro, 5*1.645, 0.4)
	if !p.Assumed {
		t.Error("not marked as assumed")
	}
	if _, err := Assume(nil, nil); err == nil {
		t.Error("no line accepted")
	}
	if _, err := Calibrate(nil, nil); err == nil {
		t.Error("no diagnosis accepted")
	}
	if _, err := Assume(l, &Site{Safety: upkeep.SafetyAnswers{Zone: 99}}); err == nil {
		t.Error("zone 3 accepted")
	}
}
