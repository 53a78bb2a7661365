package charge

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func checkOrigin(t *testing.T, what string, o known.Origin) {
	t.Helper()
	if p := o.Source.Provenance; p == known.Unstated || p == known.Demo || o.Source.Cite == "" || o.Condition == "" || o.Licence == "" {
		t.Errorf("%s: origin %+v", what, o)
	}
	if o.Source.Provenance == known.Memory && !strings.Contains(o.Source.Note, "recalled") {
		t.Errorf("%s: a memory row must say so", what)
	}
}

// Every row carries its source, and the files hold what they are said to hold.
func TestTables(t *testing.T) {
	for _, e := range Series(known.Memory) {
		checkOrigin(t, e.Name, e.Origin)
		if !(math.Abs(float64(e.Density)) <= 200e-6) || !(e.Spread > 0) {
			t.Errorf("%+v", e)
		}
	}
	for _, e := range WorkFunctions(known.Memory) {
		checkOrigin(t, e.Set+" "+e.Name, e.Origin)
		if err := e.Phi.Check(e.Name); err != nil || e.Phi.Value < 3 || e.Phi.Value > 6 {
			t.Errorf("%+v: %v", e, err)
		}
	}
	for _, e := range sparkingTable() {
		checkOrigin(t, e.Name, e.Origin)
	}
	for _, e := range PowderOperations() {
		checkOrigin(t, e.Name, e.Origin)
		if !(0 < e.Low && e.Low < e.High) {
			t.Errorf("%+v", e)
		}
	}
	for _, e := range Liquids() {
		checkOrigin(t, e.Name, e.Origin)
		if l, err := FindLiquid(strings.ToUpper(e.Name)); err != nil || l.Relaxation() <= 0 {
			t.Errorf("%s: %v, %v", e.Name, l, err)
		}
	}
}

// Memory rows are for those who ask for them.
func TestMemoryRowsAreRefused(t *testing.T) {
	if n := len(Series(known.Published)); n != 7 {
		t.Errorf("%d published entries, want the 7 that were read", n)
	}
	var f *known.FieldError
	if _, err := FindSeries("natural rubber", known.Published); !errors.As(err, &f) || !strings.Contains(f.Want, "memory") {
		t.Errorf("memory row: %v", err)
	}
	if e, err := FindSeries("natural rubber", known.Memory); err != nil || e.Source.Provenance != known.Memory {
		t.Errorf("asked by name: %v, %v", e, err)
	}
	if _, err := FindSeries("unobtainium", known.Memory); !errors.As(err, &f) || !strings.Contains(f.Want, "PTFE") {
		t.Errorf("unknown: %v", err)
	}
	if _, err := FindWorkFunction("Davies 1969", "PTFE", known.Published); !errors.As(err, &f) {
		t.Errorf("memory set: %v", err)
	}
	if _, err := FindWorkFunction("nobody", "PTFE", known.Memory); !errors.As(err, &f) || !strings.Contains(f.Want, "CRC 2008") {
		t.Errorf("unknown set: %v", err)
	}
	if _, err := FindSparkingMinimum("Ar", known.Published); !errors.As(err, &f) {
		t.Errorf("argon: %v", err)
	}
	if m, err := FindSparkingMinimum("Ar", known.Memory); err != nil || m.Voltage != 137 {
		t.Errorf("argon: %v, %v", m, err)
	}
	if _, err := FindPowderOperation("stirring"); !errors.As(err, &f) {
		t.Errorf("unknown operation: %v", err)
	}
	// A caller cannot change the tables.
	Series(known.Memory)[0].Density = 1
	Liquids()[0].Name = ""
	if Series(known.Memory)[0].Density == 1 || Liquids()[0].Name == "" {
		t.Error("the tables can be changed from outside")
	}
}

func TestPairStrength(t *testing.T) {
	find := func(n string) SeriesEntry {
		e, err := FindSeries(n, known.Published)
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	nylon, ptfe, pmma := find("nylon 6"), find("PTFE"), find("PMMA")
	p, q := SeriesPair(nylon, ptfe), SeriesPair(ptfe, nylon)
	if p.Relative != -q.Relative || p.Relative <= 0 || SeriesPair(ptfe, ptfe).Relative != 0 {
		t.Errorf("pair %+v, swapped %+v", p, q)
	}
	// No charge density without calibration.
	var f *known.FieldError
	if _, err := p.Calibrated(known.Band{Value: 20e-6}); !errors.As(err, &f) || f.Field != "scale.spread" {
		t.Errorf("an exact scale: %v", err)
	}
	// Calibrated on one pair, another follows in proportion, with a wider band.
	scale, err := CalibrateSeries(p, known.Band{Value: 12e-6, Spread: 2e-6, Kind: known.Normal})
	if err != nil {
		t.Fatal(err)
	}
	r := SeriesPair(nylon, pmma)
	s, err := r.Calibrated(scale)
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "in proportion", s.Value, 12e-6*(49.0-18)/(113-18), 1e-18)
	if s.Kind != known.LogNormal || s.Spread <= 2.0/12 {
		t.Errorf("band %+v", s)
	}
	if s, err = (PairStrength{Spread: 0.1}).Calibrated(scale); err != nil || s.Value != 0 || !(s.Spread > 0) {
		t.Errorf("equal materials: %+v, %v", s, err)
	}
	if s, err = p.Calibrated(known.Band{Value: 20e-6, Spread: 10e-6, Kind: known.Uniform}); err != nil || s.Kind != known.Normal {
		t.Errorf("uniform scale: %+v, %v", s, err)
	}
	for _, c := range []struct {
		p PairStrength
		m known.Band
	}{{PairStrength{Relative: 0.1, Spread: 0.1}, known.Band{Value: 1e-6, Spread: 1e-7, Kind: known.Normal}}, {p, known.Band{Spread: 1e-7, Kind: known.Normal}}, {p, known.Band{Value: math.NaN()}}} {
		if _, err := CalibrateSeries(c.p, c.m); !errors.As(err, &f) {
			t.Errorf("%+v: %v", c, err)
		}
	}
	if _, err := (PairStrength{Relative: math.NaN()}).Calibrated(scale); !errors.As(err, &f) {
		t.Errorf("NaN: %v", err)
	}
}

// Sets of different authors are never combined.
func TestContactPotentialKeepsSets(t *testing.T) {
	find := func(set, n string) WorkFunction {
		e, err := FindWorkFunction(set, n, known.Memory)
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	var f *known.FieldError
	if _, err := ContactPotential(find("Davies 1969", "PTFE"), find("Strella", "PTFE")); !errors.As(err, &f) || f.Field != "b.set" {
		t.Errorf("two authors: %v", err)
	}
	if _, err := ContactPotential(WorkFunction{}, WorkFunction{}); err == nil {
		t.Error("entries without a set accepted")
	}
	b, err := ContactPotential(find("Davies 1969", "nylon 66"), find("Davies 1969", "PVC"))
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "nylon 66 against PVC", b.Value, 0.77, 1e-12)
	checkNear(t, "its deviation", b.Spread, 0.2088, 1e-4) // √(0.06² + 0.2²)
	// A uniform band of half-width 0.1 has the deviation 0.1/√3.
	c, _ := ContactPotential(find("CRC 2008", "Al"), find("CRC 2008", "Hg"))
	checkNear(t, "Al against Hg", c.Value, 4.475-4.16, 1e-12)
	checkNear(t, "its deviation", c.Spread, 0.1/math.Sqrt(3), 1e-9)
	if p := PotentialPair(c); p.Relative != c.Value || p.Spread != c.Spread {
		t.Errorf("pair %+v", p)
	}
}

func TestPaschenForm(t *testing.T) {
	p, err := NewPaschen(AirPaschen())
	if err != nil {
		t.Fatal(err)
	}
	v0, pd0 := p.Minimum()
	// The minimum is one: smaller on neither side, and the closed form agrees.
	at, f := p.Voltage(pd0)
	checkNear(t, "at the minimum", float64(at), float64(v0), 1e-9)
	for _, k := range []float64{0.9, 1.1} {
		if v, _ := p.Voltage(pd0 * k); v <= v0 {
			t.Errorf("V(%g·pd) = %v, below the minimum %v", k, v, v0)
		}
	}
	if f != known.Inside {
		t.Errorf("at the minimum: %v", f)
	}
	// Left of the singularity there is no breakdown, and no negative voltage.
	for pd := 0.0; pd < pd0/math.E; pd += pd0 / 100 {
		if v, f := p.Voltage(pd); !math.IsInf(float64(v), 1) || f != known.BelowRange {
			t.Errorf("pd %g: %v, %v", pd, v, f)
		}
	}
	if _, f := p.Voltage(1013.25); f != known.AboveRange { // 1 cm at 1 atm: 35 V/(cm·Torr)
		t.Errorf("1 cm: %v", f)
	}
	if _, f := p.Voltage(pd0 / math.E * 1.2); f != known.BelowRange {
		t.Errorf("near the singularity: %v", f)
	}
	if v, _ := p.Voltage(math.NaN()); !math.IsNaN(float64(v)) {
		t.Errorf("NaN: %v", v)
	}
	var e *known.FieldError
	if _, err := NewPaschen(PaschenSpec{A: -1, B: 1, Gamma: 2}); !errors.As(err, &e) || e.Field != "a" {
		t.Errorf("bad constants: %v", err)
	}
}

func TestPaschenCap(t *testing.T) {
	p, err := NewPaschen(AirPaschen())
	if err != nil {
		t.Fatal(err)
	}
	// Where the composite uses the same form, both caps are one.
	a, za, f := p.CapBacked(100*um, 3.2, units.Atmosphere)
	b, zb, _ := CapBacked(100*um, 3.2, 1)
	checkNear(t, "cap in air", float64(a)/float64(b), 1, 1e-7) // 1013.25 hPa is 760.0000 Torr to 2e-7
	checkNear(t, "gap in air", float64(za)/float64(zb), 1, 1e-6)
	if f != known.Inside {
		t.Errorf("flag %v", f)
	}
	// Proportional to B: the residual charge follows the strength of the gas.
	s := AirPaschen()
	s.B /= 2
	h, _ := NewPaschen(s)
	half, _, _ := h.CapBacked(100*um, 3.2, units.Atmosphere)
	checkNear(t, "half of B", float64(half/a), 0.5, 1e-12)
	// More pressure keeps more on the right of the minimum.
	if more, _, _ := p.CapBacked(100*um, 3.2, 2*units.Atmosphere); more <= a {
		t.Errorf("twice the pressure: %v, not above %v", more, a)
	}
	// W·e^W = x over every size.
	for x := 1e-9; x < 1e12; x *= 3 {
		w := lambertW(x)
		checkNear(t, "W·e^W/x", w*math.Exp(w)/x, 1, 1e-13*(1+w))
	}
	if c, _, _ := p.CapBacked(0, 2, 1e5); !math.IsNaN(float64(c)) {
		t.Error("thickness 0 accepted")
	}
	if _, _, f := p.CapBacked(5*units.Millimetre, 2, units.Atmosphere); f&known.AboveRange == 0 {
		t.Errorf("thick film: %v", f)
	}
}

func TestHumidityFactor(t *testing.T) {
	k, f := HumidityFactor(8.5e-3, 1)
	if k != 1 || f != known.Unpublished {
		t.Errorf("8.5 g/m³: %g, %v", k, f)
	}
	// A few per cent at most, rising with humidity.
	last := 0.0
	for h := 0.0; h < 30e-3; h += 1e-3 {
		k, _ := HumidityFactor(units.VapourDensity(h), 1)
		if k < last || !(math.Abs(k-1) <= 0.05) {
			t.Errorf("%g kg/m³: %g", h, k)
		}
		last = k
	}
	if _, f := HumidityFactor(20e-3, 1); f&known.AboveRange == 0 {
		t.Errorf("20 g/m³: %v", f)
	}
	if k, _ := HumidityFactor(-1, 1); !math.IsNaN(k) {
		t.Errorf("negative: %g", k)
	}
	d := RelativeDensity(units.Pressure(math.NaN()), 300)
	if !math.IsNaN(d) || !math.IsNaN(RelativeDensity(1e5, 0)) {
		t.Error("bad air accepted")
	}
}

func TestCapSphere(t *testing.T) {
	// Capacitance of a sphere above a plane: series of mpmath nsum, 20 digits.
	checkNear(t, "a = z", spherePlane(1, 1)/(4*math.Pi*units.Epsilon0), 1.34105981307843023, 1e-14)
	checkNear(t, "1.5 mm, 10 µm", spherePlane(1.5e-3, 10e-6), 5.7370439191347844e-13, 1e-26)
	// Far away it is an isolated sphere.
	checkNear(t, "far", spherePlane(1e-3, 1e3)/(4*math.Pi*units.Epsilon0*1e-3), 1, 1e-6)
	// Thinner air leaves less; the least over the gap is no more than at any gap.
	last := 0.0
	for _, delta := range []float64{0.7, 0.8, 0.9, 1, 1.1} {
		q, z, _ := CapSphere(1.5*units.Millimetre, delta)
		if float64(q) < last {
			t.Errorf("δ %g: %v falls below %g", delta, q, last)
		}
		last = float64(q)
		for y := 7.5e-6 / delta; y < 1e-3; y *= 1.01 {
			if c := spherePlane(1.5e-3, y) * air.volts(y, delta); c < float64(q)*(1-1e-12) {
				t.Fatalf("δ %g: %g C at %g m is below the cap %v at %v", delta, c, y, q, z)
			}
		}
	}
	if _, _, f := CapSphere(10*units.Micrometre, 1); f&known.WrongShape == 0 {
		t.Error("a sphere smaller than the gap: not flagged")
	}
	if q, _, _ := CapSphere(0, 1); !math.IsNaN(float64(q)) {
		t.Error("radius 0 accepted")
	}
}
