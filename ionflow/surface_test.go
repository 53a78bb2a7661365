package ionflow

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// pathError is the error of anything that should have named a field.
func wantField(t *testing.T, what string, err error, field string) {
	t.Helper()
	var fe *known.FieldError
	if !errors.As(err, &fe) || fe.Field != field {
		t.Errorf("%s: got %v, want field %s", what, err, field)
	}
}

func emitter(t testing.TB, s EmitterSpec) Emitter {
	t.Helper()
	e, err := NewEmitter(s)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func TestDrivenPair(t *testing.T) {
	f := Faces{Near: 16.3e-6, Far: -16.5e-6}
	v := 220 * units.MetrePerMinute
	s, err := PairFor(f, v)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "60 µA/m per face at 220 m/min", float64(s.Current), -60e-6, 0.01) // scenario figure: 16.3 µC/m² × 3.67 m/s
	p, err := NewDrivenPair(s)
	if err != nil {
		t.Fatal(err)
	}
	d := p.Act(v)
	near(t, "both faces end at half the net", float64(f.Near+d.Near), float64(f.Net())/2, 1e-9)
	near(t, "far", float64(f.Far+d.Far), float64(f.Net())/2, 1e-9)
	if !(math.Abs(float64(d.Near+d.Far)) < 1e-18) {
		t.Error("a balanced pair changes no net")
	}
	if d := p.Act(0); !math.IsNaN(float64(d.Near)) {
		t.Error("standing web")
	}
	_, err = PairFor(Faces{Near: 1e-6, Far: 1e-6}, 1)
	wantField(t, "no double layer", err, "faces")
	_, err = PairFor(Faces{Near: 1, Far: -1}, 1)
	wantField(t, "more than any source gives", err, "current")
	_, err = NewDrivenPair(DrivenPairSpec{})
	wantField(t, "no current", err, "current")
}

func TestStripe(t *testing.T) {
	// Without relaxation: j·|sin(πfL/v)|/(πf).
	got := Stripe(1e-6, 50, 0.05, 3, units.Time(math.Inf(1)))
	near(t, "no relaxation", float64(got), 1e-6*math.Abs(math.Sin(math.Pi*50*0.05/3))/(math.Pi*50), 1e-12)
	// Whole cycles in the zone leave nothing.
	if got := Stripe(1e-6, 60, 0.05, 3, units.Time(math.Inf(1))); !(math.Abs(float64(got)) < 1e-22) {
		t.Errorf("whole cycle: %v", got)
	}
	// A long zone forgets its entry: j/√(ω² + 1/τ²).
	near(t, "long zone", float64(Stripe(1e-6, 50, 10, 1, 0.01)), 1e-6/math.Hypot(2*math.Pi*50, 100), 1e-9)
	if !math.IsNaN(float64(Stripe(1, 0, 1, 1, 1))) || !math.IsNaN(float64(Stripe(1, 1, -1, 1, 1))) {
		t.Error("no frequency")
	}
}

func TestEmitter(t *testing.T) {
	e := emitter(t, EmitterSpec{Kind: Pulsed, Current: 100e-6, Balance: 0.1, Switch: 2, Output: 0.5})
	p, m := e.Currents()
	near(t, "+", float64(p), 55e-6, 1e-12)
	near(t, "−", float64(m), 45e-6, 1e-12)
	if e.Mixes(10, 0.1) || !e.Mixes(0.1, 0.1) {
		t.Error("mixing")
	}
	for i, ns := range [][]known.Notice{e.Notices(), AirNotices(), PassiveNotices(), DrivenPair{}.Notices()} {
		codes := map[string]bool{}
		for _, n := range ns {
			if codes[n.Code] || n.Condition == "" || n.Consult == "" || n.Decide == "" {
				t.Errorf("caution %+v", n)
			}
			codes[n.Code] = true
		}
		if want := [...]int{3, 1, 2, 1}[i]; len(ns) != want {
			t.Errorf("source %d has %d cautions, want %d", i, len(ns), want)
		}
	}
	for field, s := range map[string]EmitterSpec{
		"current": {}, "balance": {Current: 1e-4, Balance: 2}, "switch": {Kind: AC, Current: 1e-4}, "kind": {Kind: Passive,
			Current: 1e-4},
		"voltage": {Current: 1e-4, Voltage: -1}, "output": {Current: 1e-4, Output: 2},
	} {
		_, err := NewEmitter(s)
		wantField(t, field, err, field)
	}
	// Falls from 100 to 80 in 10 days; half is reached after 10·ln2/ln1.25 = 31.06 days.
	k := AgeingRate(100e-6, 80e-6, 10*units.Day)
	med, early, late := TimeToLimit(100e-6, 50e-6, known.Band{Value: float64(k), Spread: 0.3, Kind: known.LogNormal})
	near(t, "days", float64(med/units.Day), 31.063, 1e-4)
	near(t, "band", float64(late)/float64(early), math.Exp(2*0.3*known.Z95), 1e-9)
	if m, _, _ := TimeToLimit(1, 2, known.Band{Value: 1}); m != 0 {
		t.Error("already below")
	}
	if m, _, _ := TimeToLimit(2, 1, known.Band{Value: -1}); !math.IsInf(float64(m), 1) {
		t.Error("rising output")
	}
}

func TestPartsAndPlates(t *testing.T) {
	// Invented filling line: −96 nC cups, 0.5 s in a plume that brings at most 126 nA: at best
	// two thirds, 63 nC.
	supply := units.Current(float64(RecombinationLimit(1.6e-12, 10, 0.4)) * 50e-4)
	near(t, "ceiling of the plume", float64(supply), 126e-9, 0.01)
	q, r := Collect(-96e-9, 0.5, 1, 1e-3, supply)
	near(t, "at best", float64(q), 63e-9, 0.01)
	if r != SupplyLimited {
		t.Errorf("%v", r)
	}
	q, r = Collect(96e-9, 0.5, 0.5, 2e-11, 1)
	near(t, "thin air", float64(q), -96e-9*(1-math.Exp(-0.5*2e-11*0.5/units.Epsilon0)), 1e-6)
	if r != ConductivityLimited {
		t.Errorf("%v", r)
	}
	if q, r := Collect(1e-9, 1, 2, 1e-9, 1); !math.IsNaN(float64(q)) || r != Undefined {
		t.Errorf("exposed 2: %v %v", q, r)
	}
	// 60 doses of 12 g a minute with −8 nC/g: 96 nA.
	near(t, "dose", float64(PowderDemand(12e-3, -8e-6)), -96e-9, 1e-12)
	// All field lines of the cup end on ions that come with the air: μE at a capture area A carries
	// the same flux as u.
	area := float64(CaptureArea(-96e-9, 1.5e-4, 10))
	near(t, "capture area", area*10*units.Epsilon0/1.5e-4, 96e-9, 1e-12)
	// Plate: small voltage conducts, large voltage takes all.
	near(t, "low", float64(PlateCurrent(1e-3, 6e-12, 2e-11, 1e-6)), -2e-11*6e-12*1e-3/units.Epsilon0, 1e-6)
	near(t, "high", float64(PlateCurrent(-1e9, 6e-12, 2e-9, 1e-9)), 1e-9, 2e-3)
	if !math.IsNaN(float64(PlateCurrent(1, -1, 1, 1))) || PlateCurrent(0, 1e-12, 1e-9, 1) != 0 {
		t.Error("special cases")
	}
	// With relaxation toward mobility alone: −3.4 mV for 1.4/1.6.
	near(t, "diffusion offset", float64(DiffusionOffset(1.4, 1.6, units.Celsius(20))), -3.37e-3, 0.002)
}

func TestOzone(t *testing.T) {
	// 1 mg/h in 1 m³/s at 20 °C and 1 atm: 0.2778 µg/m³, and 1 ppb of ozone is 2.00 µg/m³ there
	// (48 g over 24.06 L per mole).
	c := OzoneConcentration(1e-6/3600, 1, units.Celsius(20), 101325)
	near(t, "ozone", float64(c), 0.2778e-6/2.0e-6*1e-9, 0.005)
	near(t, "rate", float64(OzoneRate(1e-3, 5e-8)), 5e-11, 1e-12)
}
