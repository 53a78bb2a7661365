package humidity

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func inRoom(t *testing.T, celsius, percent float64) Air {
	t.Helper()
	return mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(celsius)), RH(rh(percent)))
}

// TestTableIsWhole finds an entry of the table that its own constructor refused,
// and a law that does not say what it rests on or prints the same in frost, room
// and oven without a flag.
func TestTableIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range append(Materials(), UnknownPolymer()) {
		if seen[m.Key] || m.Name == "" || m.Class == 0 || m.ClassSource.Provenance == known.Unstated {
			t.Errorf("%q: repeated, or without name, class or source", m.Key)
		}
		seen[m.Key] = true
		if len(m.Missing()) == 5 {
			t.Errorf("%s holds nothing", m.Key)
		}
		check := func(what string, missing bool, law Law[units.SheetResistance], src known.Source) {
			if missing {
				if !strings.Contains(m.String(), what) {
					t.Errorf("%v does not say that %s is missing", m, what)
				}
				return
			}
			recalled := src.Provenance == known.Memory || src.Provenance == known.CommonPractice
			room := law.Validity(inRoom(t, 23, 50))
			if recalled != (room&known.Unpublished != 0) {
				t.Errorf("%s, %s: %v, from %v", m.Key, what, room, src.Provenance)
			}
			if room&(known.BelowRange|known.AboveRange|known.WrongShape) != 0 {
				t.Errorf("%s, %s: %v in a room", m.Key, what, room)
			}
			if v := law.Validity(inRoom(t, -40, 50)); v&known.BelowRange == 0 {
				t.Errorf("%s, %s: %v at −40 °C", m.Key, what, v)
			}
			if v := law.Validity(inRoom(t, 120, 20)); v&known.AboveRange == 0 {
				t.Errorf("%s, %s: %v at 120 °C", m.Key, what, v)
			}
			if v := float64(law.Value(inRoom(t, 23, 50))); !(v > 1e2 && v < 1e18) {
				t.Errorf("%s, %s: %g", m.Key, what, v)
			}
			if hot, cold := law.Decades(inRoom(t, 120, 20)), law.Decades(inRoom(t, 23, 20)); !(hot > cold+1) {
				t.Errorf("%s, %s: spread %g at 120 °C, %g at 23 °C", m.Key, what, hot, cold)
			}
		}
		check("surface resistivity", m.Surface.IsZero(), m.Surface, m.Surface.Source())
		check("volume resistivity", m.Volume.IsZero(), ohmLaw{m.Volume}, m.Volume.Source())
		if !m.Sorption.IsZero() {
			b := m.Sorption.Band(rh(50), units.Celsius(23))
			if !(b.Value > 0 && b.Value < 0.2 && b.Spread > 0) || m.Sorption.Validity(rh(50),
				units.Celsius(23))&(known.BelowRange|known.AboveRange) != 0 {
				t.Errorf("%s: regain %v, %v", m.Key, b, m.Sorption.Validity(rh(50), units.Celsius(23)))
			}
			if v := m.Sorption.Validity(rh(50), units.Celsius(150)); v&known.AboveRange == 0 {
				t.Errorf("%s: isotherm %v at 150 °C", m.Key, v)
			}
		}
		if d := m.Diffusion; d.Across > 0 && !(d.Along >= d.Across && d.Factor > 1 && d.Source.Provenance != 0) {
			t.Errorf("%s: %+v", m.Key, d)
		}
		if h := m.Heat; h.Across > 0 && !(h.Along >= h.Across && h.Capacity > 1e5 && h.Factor > 1 &&
			h.Source.Provenance != 0) {
			t.Errorf("%s: %+v", m.Key, h)
		}
	}
}

// ohmLaw shows a law of volume resistivity as one of surface resistivity, for the
// checks that both share.
type ohmLaw struct{ Law[units.VolumeResistivity] }

func (l ohmLaw) Value(a Air) units.SheetResistance { return units.SheetResistance(l.Law.Value(a)) }

// TestPrintedLimits: a printed "> 1e16 Ω" is a lower limit and has no median.
func TestPrintedLimits(t *testing.T) {
	m, err := MaterialFor("ptfe")
	if err != nil {
		t.Fatal(err)
	}
	a := inRoom(t, 23, 50)
	if v := m.Surface.Validity(a); v != known.LowerLimit {
		t.Error(v)
	}
	b := Band(m.Surface, a)
	lo, hi := b.Limits()
	if b.Kind != known.AtLeast || lo != 1e16 || !math.IsInf(hi, 1) {
		t.Error(b, lo, hi)
	}
	// Hot, the limit itself comes down by the spread.
	if hot, _ := Band(m.Surface, inRoom(t, 100, 5)).Limits(); !(hot < 1e15) {
		t.Error(hot)
	}
}

// TestSplitMaterials holds what was one material and is several.
func TestSplitMaterials(t *testing.T) {
	value := func(key string, percent float64) float64 {
		m, err := MaterialFor(key)
		if err != nil {
			t.Fatal(err)
		}
		if m.Surface.IsZero() {
			return float64(m.Volume.Value(inRoom(t, 23, percent)))
		}
		return float64(m.Surface.Value(inRoom(t, 23, percent)))
	}
	// In drying air glazed and unglazed porcelain become alike; in moist air the
	// glaze is a hundred times better (E. Rosenthal, 1942).
	near(t, "porcelain at 30 %RH", value("porcelain-glazed", 30)/value("porcelain-unglazed", 30), 1, 0.05)
	near(t, "at 98 %RH", value("porcelain-glazed", 98)/value("porcelain-unglazed", 98), 100, 1)
	if g := value("glass", 90); !(g > 1e6 && g < 1e8) {
		t.Errorf("glass at 90 %%RH: %g", g)
	}
	// The less water a nylon takes, the better it insulates in moist air.
	last := 0.0
	for _, key := range []string{"pa6", "pa66", "pa610", "pa12"} {
		if v := value(key, 80); !(v > 2*last) {
			t.Errorf("%s: %g at 80 %%RH after %g", key, v, last)
		} else {
			last = v
		}
	}
}

// TestPulpWithTemperature: C and K of the heats at 80 °C as printed, 7.591 and
// 0.6283 (J. Tryding et al., 2022), and what they do to the regain of a paper is
// what Simpson's equation says of wood to a tenth, at 30 … 65 %RH.
func TestPulpWithTemperature(t *testing.T) {
	g, err := NewGAB(0.0578, 12.906, 0.88, 0, rh(100))
	if err != nil {
		t.Fatal(err)
	}
	if g, err = g.WithHeats(PulpHeats()); err != nil {
		t.Fatal(err)
	}
	c, k := g.constants(units.Celsius(80))
	near(t, "C", c, 7.591, 0.001)
	near(t, "K", k, 0.6283, 0.0002)
	m, _ := MaterialFor("paper-bond")
	for _, h := range []float64{30, 50, 65} {
		paper := float64(m.Sorption.Regain(rh(h), units.Celsius(80))) / float64(m.Sorption.Regain(rh(h), units.Celsius(24)))
		wood := float64(Wood{}.Regain(rh(h), units.Celsius(80))) / float64(Wood{}.Regain(rh(h), units.Celsius(24)))
		near(t, "paper over wood", paper/wood, 1, 0.1)
	}
	if _, err := g.WithHeats(GABHeats{At: units.Celsius(80), K: 297.7e3, Low: units.Celsius(-60),
		High: units.Celsius(80)}); err == nil {
		t.Error("K above 1 accepted")
	}
}
