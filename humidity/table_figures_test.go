package humidity

import (
	"math"
	"slices"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestTableFigures: figures of the material table against what their sources are
// said to print. Springer Handbook of Condensed Matter and Materials Data (2005),
// table 3.3-12: lower limits of fluoropolymers in Ω·m and Ω. NPAOP 0.00-1.29-97,
// appendix 6: polystyrene 1e16, PMMA 6e16, two polyethylenes 8e15 Ω, whose geometric
// mean is 1.4e16 Ω. The others are orders of magnitude of common practice or from memory.
func TestTableFigures(t *testing.T) {
	a := inRoom(t, 23, 50)
	for _, c := range []struct {
		key             string
		surface, volume float64 // [Ω], [Ω·m] 0: none held
	}{
		{"ptfe", 1e16, 1e16}, {"pctfe", 1e16, 1e16}, {"fep", 1e16, 1e16}, {"etfe", 1e14, 1e14}, {"ectfe", 1e12, 1e13},
		{"pe", math.Pow(1e16*6e16*8e15*8e15, 0.25), 1e15}, {"ps", math.Pow(1e16*6e16*8e15*8e15, 0.25), 1e15},
		{"pp", 1e16, 1e15}, {"pet", 1e16, 1e15}, {"pi", 0, 1e16},
		{"pa6", 0, 1e10}, {"pa66", 0, 5e10}, {"pa610", 0, 5e11}, {"pa12", 0, 1e12},
		{"paper-bond", 1e10, 1e12 * math.Pow(10, -8*3.0/38)}, {"board", 1e10, 1e12 * math.Pow(10, -8*3.0/38)},
		{"cotton", 1e10 * math.Pow(10, 15*3.0/35), 0},
		// exp(32·0.25) from 1.4e7 Ω: 5e10 Ω of plate glass within 20 %.
		{"glass", 1.4e7 * math.Exp(8), 0},
	} {
		m, err := MaterialFor(c.key)
		if err != nil {
			t.Fatal(err)
		}
		// A median of four is given to two figures.
		if m.Surface.IsZero() != (c.surface == 0) || c.surface != 0 &&
			!(math.Abs(float64(m.Surface.Value(a))/c.surface-1) <= 0.02) {
			t.Errorf("%s: %v, want %g Ω", c.key, m.Surface.Value(a), c.surface)
		}
		if m.Volume.IsZero() != (c.volume == 0) || c.volume != 0 &&
			!(math.Abs(float64(m.Volume.Value(a))/c.volume-1) <= 1e-9) {
			t.Errorf("%s: %v, want %g Ω·m", c.key, m.Volume.Value(a), c.volume)
		}
	}
	u := UnknownPolymer()
	if u.Surface.Value(a) != 1e16 || u.Volume.Value(a) != 1e15 || u.Surface.Decades(a) != 1 || u.Volume.Decades(a) != 1 {
		t.Error("unknown polymer:", u.Surface.Value(a), u.Volume.Value(a), u.Surface.Decades(a), u.Volume.Decades(a))
	}
	// A limit comes down with what 100 kJ/mol make of 72 K above the table's 28 °C.
	ptfe, err := MaterialFor("ptfe")
	if err != nil {
		t.Fatal(err)
	}
	limit, _ := Band(ptfe.Surface, inRoom(t, 100, 5)).Limits()
	near(t, "ln of the hot limit", math.Log(limit/1e16), -100e3/8.314463*(1/301.15-1/373.15), 1e-4)
	// What is held and what is not.
	for key, want := range map[string][]string{"paper-bond": nil,
		"pp":     {"isotherm", "moisture diffusivity", "thermal conductivity"},
		"pet":    {"thermal conductivity"},
		"cotton": {"volume resistivity", "moisture diffusivity", "thermal conductivity"}} {
		m, err := MaterialFor(key)
		if got := m.Missing(); err != nil || !slices.Equal(got, want) {
			t.Errorf("%s misses %q, want %q, %v", key, got, want, err)
		}
	}
	// Temperatures at which the numbers stand: a room of 15 … 30 °C; the table of limits 23
	// ± 5 °C; the appendix 20 °C, taken as 18 … 25.
	for key, want := range map[string][2]float64{"pp": {15, 30}, "ptfe": {18, 28}, "pe": {18, 25}, "glass": {15, 30}} {
		m, err := MaterialFor(key)
		if err != nil {
			t.Fatal(err)
		}
		lo, hi := m.Surface.Temperatures()
		near(t, key+" from", lo.Celsius(), want[0], 1e-9)
		near(t, key+" to", hi.Celsius(), want[1], 1e-9)
	}
	// Water in films: 0.3 % by mass in polyester and 0.2 % in polyethylene at saturation, by
	// half with humidity, within ×/÷ 1.5; diffusivities 4e-13 and 2e-11 m²/s, ×/÷ 3.
	for _, c := range []struct {
		key       string
		regain, d float64
	}{{"pet", 0.0015, 4e-13}, {"pe", 0.001, 2e-11}} {
		m, err := MaterialFor(c.key)
		if err != nil {
			t.Fatal(err)
		}
		b := m.Sorption.Band(rh(50), units.Celsius(23))
		lo, hi := b.Limits()
		near(t, c.key+" regain", b.Value, c.regain, 1e-12)
		near(t, c.key+" band", hi/lo, 2.25, 1e-9)
		if x := m.Diffusion; float64(x.Across) != c.d || x.Along != x.Across || x.Factor != 3 {
			t.Errorf("%s: %+v", c.key, x)
		}
	}
	// Isotherms: temperatures at which they were found [°C] and 5 to 95 % of samples, ×/÷.
	for _, c := range []struct {
		key            string
		lo, hi, factor float64
	}{{"cotton", 20, 28, 1.15}, {"paper-bond", 20, 80, 1.25}, {"pulp", 20, 80, 1.1}, {"wood", -1, 130, 1.15},
		{"pa6", 20, 28, 1.25}} {
		m, err := MaterialFor(c.key)
		if err != nil {
			t.Fatal(err)
		}
		const flags = known.BelowRange | known.AboveRange
		for at, want := range map[float64]known.Validity{c.lo - 0.1: known.BelowRange, c.lo + 0.1: known.Inside,
			c.hi - 0.1: known.Inside, c.hi + 0.1: known.AboveRange} {
			if v := m.Sorption.Validity(rh(50), units.Celsius(at)); v&flags != want {
				t.Errorf("%s: %v at %g °C", c.key, v, at)
			}
		}
		lo, hi := m.Sorption.Band(rh(50), units.Celsius(25)).Limits()
		near(t, c.key+" band", hi/lo, c.factor*c.factor, 1e-9)
	}
	// Paper: 0.1 and 0.35 W/(m·K); 800 kg/m³, 6 % of water: 800/1.06·(1.4 + 0.06·4.19) =
	// 1.246 MJ/(m³·K), rounded to 1.25; diffusivities of one solid board, 6e-10 (2 % more than its
	// 5.87e-10) and 3e-11 m²/s.
	m, err := MaterialFor("paper-kraft")
	if err != nil {
		t.Fatal(err)
	}
	if h, d := m.Heat, m.Diffusion; h.Across != 0.1 || h.Along != 0.35 || h.Factor != 2 || d.Across != 3e-11 ||
		d.Along != 6e-10 || d.Factor != 4 || m.Shift != 0.1 {
		t.Errorf("paper: %+v %+v %v", h, d, m.Shift)
	}
	near(t, "heat capacity over by hand", m.Heat.Capacity/(800/1.06*(1.4e3+0.06*4.19e3)), 1, 0.004)
}
