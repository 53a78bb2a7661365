package decay_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// near reports a relative difference above tol; want 0 compares absolutely.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if d := math.Abs(got - want); !(d <= tol*math.Abs(want) || want == 0 && d <= tol) {
		t.Errorf("%s: got %.15g, want %.15g (relative difference %.3g, tolerance %.3g)", what, got, want, d/math.Abs(want),
			tol)
	}
}

func TestLossAlong(t *testing.T) {
	const s = units.SurfaceChargeDensity(-5e-6)
	for _, c := range []struct {
		dwell, tau units.Time
		path       decay.Path
		want       float64 // [1] of the start
	}{
		{1, 1, decay.NoPath, 1},
		{1e9, 0, decay.NoPath, 1},
		{1, 1, decay.EarthedEdge, 1 / math.E},
		{0, 0, decay.EarthedBacking, 1},
		{1, 0, decay.ConductiveRoller, 0},
		{math.Ln2, 1, decay.IonisedAir, 0.5},
		{-1, 1, decay.EarthedEdge, math.NaN()},
		{1, -1, decay.EarthedEdge, math.NaN()},
		{1, 1, decay.Path(200), math.NaN()},
	} {
		got := float64(decay.LossAlong(s, c.dwell, c.tau, c.path) / s)
		if math.IsNaN(c.want) != math.IsNaN(got) || !math.IsNaN(got) && !(math.Abs(got-c.want) <= 1e-15) {
			t.Errorf("LossAlong(dwell %v, tau %v, %v): got %g of the start, want %g", c.dwell, c.tau, c.path, got, c.want)
		}
	}
}

func TestPathText(t *testing.T) {
	for p := decay.NoPath; p <= decay.IonisedAir; p++ {
		b, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		var q decay.Path = 99
		if err := json.Unmarshal(b, &q); err != nil || q != p {
			t.Errorf("%v: %s came back as %v, %v", p, b, q, err)
		}
		if p.Leads() != (p != decay.NoPath) {
			t.Errorf("%v.Leads() = %v", p, p.Leads())
		}
	}
	var p decay.Path
	var f *known.FieldError
	if err := p.UnmarshalText([]byte("wet string")); !errors.As(err, &f) {
		t.Errorf("unknown path: got %v", err)
	}
	if _, err := decay.Path(77).MarshalText(); !errors.As(err, &f) || decay.Path(77).Leads() {
		t.Errorf("Path(77): %v", err)
	}
}

func TestBulkOutOfRange(t *testing.T) {
	for what, v := range map[string]float64{
		"rho < 0":    float64(decay.RelaxationTime(-1, 2)),
		"epsr < 1":   float64(decay.RelaxationTime(1, 0.9)),
		"rho NaN":    float64(decay.RelaxationTime(units.VolumeResistivity(math.NaN()), 2)),
		"no current": float64(decay.GroundResistance(100, 0)),
	} {
		if !math.IsNaN(v) {
			t.Errorf("%s: got %g, want NaN", what, v)
		}
	}
}

// A web that no earthed thing touches keeps its net charge; the same web over an
// earthed roller loses it in the bulk relaxation time.
func ExampleLossAlong() {
	tau := decay.RelaxationTime(1e12, 2.26) // 8.854e-12 · 2.26 · 1e12 = 20 s
	sigma := 10 * units.MicrocoulombPerSquareMetre
	fmt.Printf("tau %.1f s\n", tau)
	for _, p := range []decay.Path{decay.NoPath, decay.EarthedBacking} {
		fmt.Printf("%s: %.2f µC/m²\n", p, 1e6*decay.LossAlong(sigma, 20*units.Second, tau, p))
	}
	// Output:
	// tau 20.0 s
	// no path: 10.00 µC/m²
	// earthed backing: 3.68 µC/m²
}

// A BOPP film of 20 µm in a free span: the two faces pair within the bulk time,
// the net charge of a 10 mm stripe takes 73 times as long.
func ExampleFilmModes() {
	film := decay.Layer{Thickness: 20 * units.Micrometre, Permittivity: 2.2, Resistivity: 1e15}
	even, odd, err := decay.FilmModes(film, 10*units.Millimetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("net charge %.1f, opposite faces %.3f bulk relaxation times\n", even/film.Tau(), odd/film.Tau())
	// Output:
	// net charge 73.3, opposite faces 1.003 bulk relaxation times
}

func ExampleGroundResistance() {
	// A roller that collects 1.8 µA, to stay below 100 V: 100/1.8e-6 = 56 MΩ.
	fmt.Printf("%.2g Ω\n", decay.GroundResistance(100*units.Volt, 1.8e-6))
	// Output:
	// 5.6e+07 Ω
}
