package hazard

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// 250 µC/m² on 0.1 mm of polyethylene, ε_r 2.3: 1228 V and 0.1535 J/m², on 1 mm
// 12.28 kV, by hand. The voltage of the charge decides nothing; the breakdown
// voltage of the layer and the charge density do, and an unknown breakdown
// voltage clears nothing.
func TestPropagatingBrush(t *testing.T) {
	for _, c := range []struct {
		what   string
		l      Layer
		raised bool
		v, w   float64
	}{
		{"100 µm, breakdown 8 kV", Layer{250e-6, 8000, 1e-4, 2.3}, true, 1228, 0.1535},
		{"100 µm, breakdown not known", Layer{-250e-6, 0, 1e-4, 2.3}, true, -1228, 0.1535},
		{"1 mm, weak layer", Layer{250e-6, 3900, 1e-3, 2.3}, false, 12280, 1.535},
		{"at 4 kV exactly", Layer{400e-6, 4000, 1e-3, 2.3}, false, 19643, 3.929},
		{"20 µC/m²: 8 % of 250", Layer{20e-6, 8000, 20e-6, 2.2}, false, 20.54, 2.054e-4},
	} {
		f, err := PropagatingBrush(c.l)
		if err != nil || f.Raised != c.raised || !near(float64(f.ChargeVoltage), c.v, 1e-3) || !near(float64(f.Energy), c.w, 1e-3) {
			t.Errorf("%s: %+v, %v", c.what, f, err)
		}
		if n := f.Notice(); n.Code != "propagating-brush" || n.Figure == "" {
			t.Errorf("%s: %+v", c.what, n)
		}
	}
	if f, _ := PropagatingBrush(Layer{20e-6, 0, 20e-6, 2.2}); !near(f.DensityShare, 0.08, 1e-12) {
		t.Errorf("%+v", f)
	}
	if f, _ := PropagatingBrush(Layer{300e-6, 0, 9e-3, 2.2}); !f.Raised || f.Validity&known.Unpublished == 0 {
		t.Errorf("thick layer cleared: %+v", f)
	}
	_, err := PropagatingBrush(Layer{units.SurfaceChargeDensity(math.NaN()), -1, 0, 0})
	for _, field := range []string{"layer.density", "layer.breakdown", "layer.thickness", "layer.relative_permittivity"} {
		if err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("%s not named in %v", field, err)
		}
	}
}

func TestSparkAndBrush(t *testing.T) {
	c, err := NewConductor(ConductorSpec{Body: Metal, Capacitance: 180e-12, Resistance: 4e9})
	if err != nil {
		t.Fatal(err)
	}
	propane, err := FindIgnitable("propane")
	if err != nil {
		t.Fatal(err)
	}
	// 7.3 kV on 180 pF: 4.80 mJ, 19 times 0.25 mJ.
	if f := c.Spark(7300, propane); !f.Reaches || !near(f.Ratio, 19.2, 2e-3) || f.Notice().Code != "isolated-conductor" {
		t.Errorf("%+v", f)
	}
	if f := c.Spark(units.Voltage(math.NaN()), propane); f.Reaches || !math.IsNaN(f.Ratio) {
		t.Errorf("%+v", f)
	}
	for mie, want := range map[units.Energy]units.Voltage{1.9e-5: 1000, 2.5e-4: 5000, 1e-2: 10000, -1: 0} {
		if got := BrushPotential(mie); got != want {
			t.Errorf("%v: %v", mie, got)
		}
	}
	if f := Brush(-6000, propane); !f.Raised || !near(f.Ratio, 1.2, 1e-12) || f.Notice().Figure == "" {
		t.Errorf("%+v", f)
	}
	if l, err := BrushLimitsFromMemory(1, IIC); err != nil || l.Source.Provenance != known.Memory || l.Validity != known.Unpublished || l.Area != 20e-4 {
		t.Errorf("%+v, %v", l, err)
	}
	if _, err := BrushLimitsFromMemory(2, IIA); err == nil {
		t.Error("zone 2 accepted")
	}
	if _, err := BrushLimitsFromMemory(0, 7); err == nil {
		t.Error("group 7 accepted")
	}
}

// A table of energies must not err on the side that lets a spark pass. Acetone
// takes 0.55 mJ at 6.5 % by volume and ammonia 14 mJ at 20 % (BGR 132 Table 14, as
// printed); fine aluminium dust is in the class below 1 mJ, whose low end nobody
// states; hydrogen takes 0.016 mJ. The energies of the sparks are ½CV² by hand:
// 100 pF at 3.5 kV 0.6125 mJ, at 4 kV 0.8 mJ; 10 nF at 2 kV 20 mJ.
func TestIgnitionIsJudgedByTheLowEnd(t *testing.T) {
	for _, c := range []struct {
		name  string
		c     units.Capacitance
		v     units.Voltage
		ratio float64
	}{
		{"acetone", 100e-12, 3500, 0.6125 / 0.55},
		{"ammonia", 10e-9, 2000, 20.0 / 14},
		{"aluminium dust", 100e-12, 4000, 0.8}, // 0.8 of an upper bound clears nothing
		{"hydrogen", 100e-12, 600, 0.018 / 0.016},
		{"sugar dust", 10e-9, 1500, 11.25 / 10},
	} {
		in, err := FindIgnitable(c.name)
		if err != nil {
			t.Fatal(err)
		}
		body, err := NewConductor(ConductorSpec{Body: Metal, Capacitance: c.c, Resistance: 1e12})
		if err != nil {
			t.Fatal(err)
		}
		if f := body.Spark(c.v, in); !f.Reaches || f.AtLeast != in.Below || !near(f.Ratio, c.ratio, 1e-9) {
			t.Errorf("%s at %v: %+v, want a ratio of %.4g that reaches", c.name, c.v, f, c.ratio)
		}
		if !(in.MIE <= in.High) {
			t.Errorf("%s: %v … %v", c.name, in.MIE, in.High)
		}
	}
	// No low end: the lowest guide potential, 1 kV.
	if al, _ := FindIgnitable("aluminium dust"); !Brush(1100, al).Raised || Brush(1100, al).Ratio != 1.1 {
		t.Errorf("%+v", Brush(1100, al))
	}
	// The glossary gives the maximum of a bulking brush as 10 to 20 mJ; it has no low end.
	if d := DischargeEnergies()[BulkingBrush]; d.Low != 0 || d.High != 20*units.Millijoule {
		t.Errorf("%+v", d)
	}
}

// The distribution has the stated quantiles, grows with energy, and a person
// charged slowly is charged as by the steady current, suddenly by ε0·E·A/C.
func TestShockAndInduced(t *testing.T) {
	m := DefaultShockModel()
	if err := m.Check(); err != nil {
		t.Fatal(err)
	}
	p, err := NewConductor(ConductorSpec{Body: Person, Capacitance: 100e-12, Resistance: 1e9})
	if err != nil {
		t.Fatal(err)
	}
	for v, want := range map[units.Voltage]float64{2500: 0.5, 0: 0, 1e6: 1} {
		if got := m.Felt(p.Energy(v)); math.Abs(got-want) > 1e-12 {
			t.Errorf("%v: %g", v, got)
		}
	}
	// 1.5 and 4 kV are 4/1.5 apart around their geometric mean 2.449 kV.
	if lo, hi := m.Felt(p.Energy(1500)), m.Felt(p.Energy(4000)); math.Abs(lo-0.05) > 0.01 || math.Abs(hi-0.95) > 0.01 {
		t.Errorf("%g … %g", lo, hi)
	}
	if !math.IsNaN(m.Felt(-1)) || !math.IsNaN(m.Felt(units.Energy(math.NaN()))) {
		t.Error("negative energy")
	}
	if (ShockModel{}).Check() == nil {
		t.Error("zero model accepted")
	}
	const e, a = 100e3, 0.5 // 100 kV/m on 0.5 m²: 0.443 µC, 4.43 kV on 100 pF
	if r := p.Induced(e, a, 0); !near(float64(r.Voltage), 4427.1, 1e-4) {
		t.Errorf("%+v", r)
	}
	i := units.Current(units.Epsilon0 * e * a / 2)
	if got, want := p.Induced(e, a, 2).Voltage, p.After(2, i); !near(float64(got), float64(want), 1e-12) {
		t.Errorf("%v, want %v", got, want)
	}
	if r := p.Induced(e, -1, 0); !math.IsNaN(float64(r.Voltage)) {
		t.Errorf("%+v", r)
	}
}
