package charge

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/pithball/units/known"
)

func checkOrigin(t *testing.T, what string, o known.Origin) {
	t.Helper()
	if err := o.Source.Check(what); err != nil {
		t.Error(err)
	}
	if p := o.Source.Provenance; p == known.Unstated || p == known.Demo || o.Source.Cite == "" || o.Condition == "" ||
		o.Licence == "" {
		t.Errorf("%s: origin %+v", what, o)
	}
	if o.Source.Provenance == known.Memory && !strings.Contains(o.Source.Note, "not compared") {
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
	if n := len(Series(known.Quoted)); n != 7 || len(Series(known.Published)) != 0 {
		t.Errorf("%d quoted entries, want the 7 that were seen, and none published", n)
	}
	var f *known.FieldError
	if _, err := FindSeries("PTFE", known.Published); !errors.As(err, &f) || !strings.Contains(f.Want, "quoted") {
		t.Errorf("quoted row: %v", err)
	}
	if e, err := FindWorkFunction("Davies 1969", "PTFE", known.Memory); err != nil || e.Source.Provenance != known.Memory {
		t.Errorf("asked by name: %v, %v", e, err)
	}
	if _, err := FindSeries("unobtainium", known.Memory); !errors.As(err, &f) || !strings.Contains(f.Want, "PTFE") {
		t.Errorf("unknown: %v", err)
	}
	if _, err := FindWorkFunction("Davies 1969", "PTFE", known.Quoted); !errors.As(err, &f) ||
		!strings.Contains(f.Want, "memory") {
		t.Errorf("memory set: %v", err)
	}
	if _, err := FindWorkFunction("nobody", "PTFE", known.Memory); !errors.As(err, &f) ||
		!strings.Contains(f.Want, "CRC 2008") {
		t.Errorf("unknown set: %v", err)
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
		e, err := FindSeries(n, known.Quoted)
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
	if s, err = p.Calibrated(known.Band{Value: 20e-6, Spread: 10e-6, Kind: known.Uniform}); err != nil ||
		s.Kind != known.Normal {
		t.Errorf("uniform scale: %+v, %v", s, err)
	}
	for _, c := range []struct {
		p PairStrength
		m known.Band
	}{{PairStrength{Relative: 0.1, Spread: 0.1}, known.Band{Value: 1e-6, Spread: 1e-7, Kind: known.Normal}}, {p,
		known.Band{Spread: 1e-7, Kind: known.Normal}}, {p, known.Band{Value: math.NaN()}}} {
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
	if _, err := ContactPotential(find("Davies 1969", "PTFE"), find("CRC 2008", "Hg")); !errors.As(err, &f) ||
		f.Field != "b.set" {
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
