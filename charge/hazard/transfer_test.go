package hazard

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/units"
)

// The criterion for an insulator: 200 nC, as a bulk bag moved, against the
// minimum igniting charges as printed (hexane 60, ethyl acetate 120, ammonia
// 1500 nC); carbon disulfide has none and takes hydrogen's 12 nC, acetaldehyde
// benzene's 45 nC, acrolein without a group the least of all.
func TestTransfer(t *testing.T) {
	for _, c := range []struct {
		name  string
		ratio float64
		held  bool
	}{
		{"hexane", 200.0 / 60, true}, {"ethyl acetate", 200.0 / 120, true}, {"ammonia", 200.0 / 1500, true},
		{"carbon disulfide", 200.0 / 12, false}, {"acetaldehyde", 200.0 / 45, false}, {"acrolein", 200.0 / 12, false},
		{"propylene oxide", 200.0 / 32, false},
	} {
		in, err := FindIgnitable(c.name)
		if err != nil {
			t.Fatal(err)
		}
		f := Transfer(-200*units.Nanocoulomb, in)
		if !near(f.Ratio, c.ratio, 1e-9) || f.StandIn == c.held || f.Reaches != (c.ratio >= 1) {
			t.Errorf("%s: %+v, want %.4g, held %v", c.name, f, c.ratio, c.held)
		}
		if n := f.Notice(); n.Code != "brush-discharge" ||
			strings.Contains(n.Figure, "least igniting charge held") == c.held {
			t.Errorf("%+v", n)
		}
	}
	if f := Transfer(60e-9, Ignitable{Charge: 60e-9}); !f.Reaches {
		t.Errorf("at the limit: %+v", f)
	}
	flour, _ := FindIgnitable("wheat flour")
	if f := Transfer(1e-6, flour); !math.IsNaN(f.Ratio) || f.Reaches ||
		!strings.Contains(f.Notice().Figure, "no minimum igniting charge") {
		t.Errorf("%+v", f)
	}
	if f := Transfer(units.Charge(math.NaN()), Ignitable{Charge: 60e-9}); !f.Reaches || !math.IsNaN(f.Ratio) ||
		f.Notice().Figure != "charge of a discharge not known" {
		t.Errorf("nobody measured: %+v, %v", f, f.Notice())
	}
	// What a reader sees, figures by hand: 200/60 = 3.3, 200/12 = 17, 1200/12 = 100.
	for _, c := range []struct {
		name string
		q    units.Charge
		want string
	}{
		{"hexane", 200e-9, "200 nC a discharge, 3.3 times the minimum igniting charge"},
		{"acrolein", 200e-9, "200 nC a discharge, 17 times the least igniting charge held of all"},
		{"carbon disulfide", 1.2e-6, "1200 nC a discharge, 100 times the least igniting charge held of its gas group"},
		{"wheat flour", 0.5e-9, "0.5 nC a discharge; no minimum igniting charge is held for a dust"},
	} {
		in, err := FindIgnitable(c.name)
		if f := Transfer(c.q, in); err != nil || f.Notice().Figure != c.want {
			t.Errorf("%s: %q, %v, want %q", c.name, f.Notice().Figure, err, c.want)
		}
	}
	// 60 nC at 3 µC/m²: 0.02 m².
	if a := AreaHolding(60e-9, -3e-6); !near(float64(a), 0.02, 1e-12) || !math.IsNaN(float64(AreaHolding(-1, 1))) ||
		!math.IsInf(float64(AreaHolding(1e-9, 0)), 1) {
		t.Errorf("%v", a)
	}
}

func TestVoltageOf(t *testing.T) {
	if v := VoltageOf(-50e-9, 100e-12); !near(float64(v), -500, 1e-12) { // 50 nC on 100 pF
		t.Errorf("%v", v)
	}
	for _, c := range []units.Capacitance{0, -1, units.Capacitance(math.NaN())} {
		if v := VoltageOf(1e-9, c); !math.IsNaN(float64(v)) {
			t.Errorf("%v gives %v", c, v)
		}
	}
}
