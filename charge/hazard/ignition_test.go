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
		l      ChargedLayer
		raised bool
		v, w   float64
	}{
		{"100 µm, breakdown 8 kV", ChargedLayer{250e-6, 8000, 1e-4, 2.3}, true, 1228, 0.1535},
		{"100 µm, breakdown not known", ChargedLayer{-250e-6, 0, 1e-4, 2.3}, true, -1228, 0.1535},
		{"1 mm, weak layer", ChargedLayer{250e-6, 3900, 1e-3, 2.3}, false, 12280, 1.535},
		{"at 4 kV exactly", ChargedLayer{400e-6, 4000, 1e-3, 2.3}, false, 19643, 3.929},
		{"20 µC/m²: 8 % of 250", ChargedLayer{20e-6, 8000, 20e-6, 2.2}, false, 20.54, 2.054e-4},
	} {
		f, err := PropagatingBrush(c.l)
		if err != nil || f.Raised != c.raised || !near(float64(f.ChargeVoltage), c.v, 1e-3) ||
			!near(float64(f.Energy), c.w, 1e-3) {
			t.Errorf("%s: %+v, %v", c.what, f, err)
		}
		// A share of the 250 µC/m² says that it is no margin.
		if n := f.Notice(); n.Code != "propagating-brush" || strings.Contains(n.Figure, "no margin") == f.DensityReached {
			t.Errorf("%s: %+v", c.what, n)
		}
	}
	if f, _ := PropagatingBrush(ChargedLayer{20e-6, 0, 20e-6, 2.2}); !near(f.DensityShare, 0.08, 1e-12) {
		t.Errorf("%+v", f)
	}
	if f, _ := PropagatingBrush(ChargedLayer{300e-6, 0, 9e-3, 2.2}); !f.Raised || f.Validity&known.Unpublished == 0 {
		t.Errorf("thick layer cleared: %+v", f)
	}
	_, err := PropagatingBrush(ChargedLayer{units.SurfaceChargeDensity(math.NaN()), -1, 0, 0})
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
	if f := c.Spark(units.Voltage(math.NaN()), propane); !f.Reaches || !math.IsNaN(f.Ratio) ||
		f.Notice().Figure != "energy not known" {
		t.Errorf("nobody measured: %+v, %v", f, f.Notice())
	}
	if f := Brush(units.Voltage(math.NaN()), propane); !f.Raised || f.Notice().Figure != "potential not known" {
		t.Errorf("nobody measured: %+v, %v", f, f.Notice())
	}
	// Classes as printed: below 0.1 mJ, 0.1 to 1 mJ, above 1 mJ; both ends belong to the middle.
	for mie, want := range map[units.Energy]units.Voltage{1.9e-5: 1000, 0.0999e-3: 1000, 0.1e-3: 5000, 2.5e-4: 5000,
		1e-3: 5000, 1.001e-3: 10000, 1e-2: 10000, 0: 1000, -1: 0, units.Energy(math.NaN()): 0,
		units.Energy(math.Inf(1)): 10000} {
		if got := BrushPotential(mie); got != want {
			t.Errorf("%v: %v", mie, got)
		}
	}
	if f := Brush(-6000, propane); !f.Raised || !near(f.Ratio, 1.2, 1e-12) || f.Notice().Figure == "" {
		t.Errorf("%+v", f)
	}
	// At the figure itself both are raised: a limit reached is not a limit kept.
	if f := c.Spark(1000, Ignitable{MIE: c.Energy(1000), High: c.Energy(1000)}); !f.Reaches || f.Ratio != 1 || f.AtLeast {
		t.Errorf("at the ignition energy itself: %+v", f)
	}
	if f := Brush(5000, propane); !f.Raised || f.Ratio != 1 {
		t.Errorf("at the guide value itself: %+v", f)
	}
	if l, err := BrushLimitsFromMemory(1, IIC); err != nil || l.Source.Provenance != known.Memory ||
		l.Validity != known.Unpublished || l.Area != 20e-4 {
		t.Errorf("%+v, %v", l, err)
	}
	if _, err := BrushLimitsFromMemory(2, IIA); err == nil {
		t.Error("zone 2 accepted")
	}
	for _, g := range []GasGroup{NoGroup, 7} {
		if _, err := BrushLimitsFromMemory(0, g); err == nil {
			t.Errorf("group %v accepted", g)
		}
	}
	if l, _ := BrushLimitsFromMemory(0, IIA); l.Area != 50e-4 || !near(float64(l.Transferred), 60e-9, 1e-12) ||
		l.Layer != 2e-3 {
		t.Errorf("%+v", l)
	}
}

// Every limit as remembered from IEC TS 60079-32-1 (from memory): a slip of a
// factor of ten in one of them would reach a sentence.
func TestBrushLimitsTable(t *testing.T) {
	for _, c := range []struct {
		group                     GasGroup
		zone0, zone1, layer, nano float64 // [cm²], [cm²], [mm], [nC]
	}{{IIA, 50, 100, 2, 60}, {IIB, 25, 100, 2, 25}, {IIC, 4, 20, 0.2, 10}} {
		for zone, area := range []float64{c.zone0, c.zone1} {
			l, err := BrushLimitsFromMemory(zone, c.group)
			if err != nil || !near(float64(l.Area)*1e4, area, 1e-12) || !near(float64(l.Layer)*1e3, c.layer, 1e-12) ||
				!near(float64(l.Transferred)*1e9, c.nano, 1e-12) {
				t.Errorf("zone %d, %v: %+v, %v", zone, c.group, l, err)
			}
		}
	}
}
