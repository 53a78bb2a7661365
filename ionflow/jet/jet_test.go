package jet

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.10g, want %.10g within %g", what, got, want, rel)
	}
}

func mustJet(t testing.TB, s JetSpec) Jet {
	t.Helper()
	j, err := NewJet(s)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// The momentum and the flow of the Gaussian profile, integrated across the jet, must
// be those of the source: the constants have no other freedom.
func TestJetProfileCarriesMomentumAndFlow(t *testing.T) {
	const u0, w = 100, 2e-3
	for _, kind := range []JetKind{Round, Plane} {
		j := mustJet(t, JetSpec{Kind: kind, Width: w, Speed: u0})
		for _, x := range []units.Length{0.05, 0.2, 1} {
			uc, b := float64(j.CentreSpeed(x)), float64(j.HalfWidth(x))
			mom, flow := 0.0, 0.0
			const n = 4000
			for k := range n { // midpoint rule over six half-widths: error below 1e-6
				y := (float64(k) + 0.5) / n * 6 * b
				u := uc * math.Exp2(-(y/b)*(y/b))
				da := 2 * 6 * b / n
				if kind == Round {
					da *= math.Pi * y
				}
				mom += u * u * da
				flow += u * da
			}
			m0, q0 := u0*u0*w, u0*w
			if kind == Round {
				m0, q0 = m0*math.Pi/4*w, q0*math.Pi/4*w
			}
			near(t, kind.String()+" momentum", mom, m0, 1e-5)
			near(t, kind.String()+" flow", float64(j.Entrainment(x)), flow/q0, 1e-5)
			near(t, kind.String()+" mean speed", float64(j.MeanSpeed(x)), mom/flow, 1e-5)
		}
	}
}

func TestRowTendsToRoundAndToPlane(t *testing.T) {
	const d, pitch, u0 = 1e-3, 0.02, 150
	row := mustJet(t, JetSpec{Kind: Row, Width: d, Pitch: pitch, Speed: u0})
	hole := mustJet(t, JetSpec{Kind: Round, Width: d, Speed: u0})
	slot := mustJet(t, JetSpec{Kind: Plane, Width: units.Length(math.Pi * d * d / (4 * pitch)), Speed: u0,
		Spread: RoundSpread})
	near(t, "near the hole", float64(row.CentreSpeed(0.02)), float64(hole.CentreSpeed(0.02)), 1e-12)
	near(t, "far away", float64(row.CentreSpeed(1)), float64(slot.CentreSpeed(1)), 1e-6)
	near(t, "flow far away", float64(row.Entrainment(1)), float64(slot.Entrainment(1)), 1e-12)
	near(t, "flow per width", row.FlowPerWidth(), slot.FlowPerWidth(), 1e-12)
	last := 0.0
	for x := units.Length(0); x < 2; x += units.Length(1e-3) {
		q := float64(row.Entrainment(x))
		if x > 0 && !(q > last && q-last < 0.4) { // 0.32 per diameter of 1 mm is the steepest slope
			t.Fatalf("entrainment at %v: %g after %g", x, q, last)
		}
		last = q
	}
}

func TestJetAge(t *testing.T) {
	for _, s := range []JetSpec{{Kind: Round, Width: 2e-3, Speed: 80}, {Kind: Plane, Width: 1e-3, Speed: 40},
		{Kind: Row, Width: 1e-3, Pitch: 0.01, Speed: 100}} {
		j := mustJet(t, s)
		for _, x := range []units.Length{1e-3, 0.01, 0.1, 0.7} {
			sum := 0.0
			const n = 20000
			for k := range n {
				sum += 1 / float64(j.MeanSpeed(x*units.Length((float64(k)+0.5)/n)))
			}
			near(t, s.Kind.String()+" age", float64(j.Age(x)), sum*float64(x)/n, 1e-7) // the midpoint sum, on a kink
		}
	}
	// Far away half, or two thirds, of the time at the local mean speed.
	j := mustJet(t, JetSpec{Kind: Round, Width: 1e-4, Speed: 80})
	near(t, "round", float64(j.Age(1)), 1/(2*float64(j.MeanSpeed(1))), 1e-3)
	j = mustJet(t, JetSpec{Kind: Plane, Width: 1e-5, Speed: 80})
	near(t, "plane", float64(j.Age(1)), 2/(3*float64(j.MeanSpeed(1))), 1e-3)
}

func TestJetFlagsAndRefuses(t *testing.T) {
	// 1 mm at 100 m/s has a Reynolds number of 6600: too low for settled constants.
	if j := mustJet(t, JetSpec{Kind: Round, Width: 1e-3, Speed: 100}); j.Validity() != known.BelowRange {
		t.Errorf("1 mm at 100 m/s: %v", j.Validity())
	} else {
		near(t, "Reynolds", j.Reynolds(), 6600, 0.01)
	}
	if j := mustJet(t, JetSpec{Kind: Plane, Width: 0.01, Length: 0.1, Speed: 30}); j.Validity() != known.WrongShape {
		t.Errorf("aspect ratio 10: %v", j.Validity())
	}
	for field, s := range map[string]JetSpec{
		"width": {Speed: 1}, "speed": {Width: 1e-3, Speed: -1}, "pitch": {Kind: Row, Width: 1e-3, Speed: 1, Pitch: 1e-4},
		"kind": {Kind: 9, Width: 1e-3, Speed: 1}, "spread": {Width: 1e-3, Speed: 1, Spread: math.NaN()},
	} {
		_, err := NewJet(s)
		var fe *known.FieldError
		if !errors.As(err, &fe) || fe.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}

func TestWallJetAndCoanda(t *testing.T) {
	w := WallJetAt(50, 1e-3, 0.1)
	near(t, "wall jet", float64(w.Peak), 50*3.5/10, 1e-12)
	if w.Flag != known.Unpublished {
		t.Error("wall jet not flagged")
	}
	near(t, "slot", float64(WallJetAt(50, 1e-3, 1e-3).Peak), 50, 1e-12)
	if a, f := CoandaSeparation(1e-6, 1); f != known.Unpublished || !(math.Abs(float64(a)*180/math.Pi-245) < 0.01) {
		t.Errorf("thin sheet leaves at %v", a)
	}
}

func TestImpingingSpeed(t *testing.T) {
	j := mustJet(t, JetSpec{Kind: Plane, Width: 1e-3, Speed: 50})
	a, flag := j.ImpingingSpeed(0.0849999, 0.1)
	b, _ := j.ImpingingSpeed(0.0850001, 0.1)
	near(t, "joins the free jet", float64(a), float64(b), 1e-4)
	near(t, "free", float64(a), float64(j.CentreSpeed(0.0849999)), 1e-12)
	if w, _ := j.ImpingingSpeed(0.1, 0.1); w != 0 || flag&known.Unpublished == 0 {
		t.Errorf("at the wall %v, flag %v", w, flag)
	}
	if w, _ := j.ImpingingSpeed(0.2, 0.1); !math.IsNaN(float64(w)) {
		t.Error("behind the wall")
	}
}
