package unitstest_test

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/unitstest"
	"pgregory.net/rapid"
)

// TestUnits runs every law on every quantity type.
func TestUnits(t *testing.T) {
	list := everyType()
	if n := len(units.Catalogue()) - 1; len(list) != n { // all but StandardFlow, which is no float64
		t.Fatalf("%d types are tried, the catalogue has %d", len(list), n)
	}
	for _, c := range list {
		t.Run(c.Name(), func(t *testing.T) { unitstest.Run(t, c) })
	}
}

// TestBroken shows that each law can fail: its broken codec breaks it on drawn
// inputs, and the sound codec beside it does not.
func TestBroken(t *testing.T) {
	all := unitstest.Broken()
	for _, l := range unitstest.Laws() {
		c := all[l.Name]
		if c == nil || l.Says == "" || l.Source == "" {
			t.Errorf("%s: no broken codec, sentence or source", l.Name)
			continue
		}
		delete(all, l.Name)
		in := unitstest.Inputs(c)
		var v *unitstest.Violation
		for seed := range 400 {
			if err := l.Check(c, in.Example(seed)); errors.As(err, &v) {
				break
			}
		}
		if v == nil || v.Law != l.Name || v.Got == "" || v.Want == "" {
			t.Errorf("%s: the broken codec passes", l.Name)
		}
	}
	for name := range all {
		t.Errorf("%s is broken, but no law", name)
	}
}

// TestCheck runs without an engine.
func TestCheck(t *testing.T) {
	in := unitstest.Input{Value: 0.0254, Number: 1, Other: 2, A: "in", B: "mm", C: "ft"}
	if err := unitstest.Check(unitstest.Of[units.Length](), in); err != nil {
		t.Error(err)
	}
	var v *unitstest.Violation
	if err := unitstest.Check(unitstest.Broken()["back"], in); !errors.As(err, &v) {
		t.Errorf("got %v, want a violation", err)
	}
}

// TestSkip leaves a broken law out.
func TestSkip(t *testing.T) {
	unitstest.Run(t, unitstest.Broken()["shortest"], unitstest.Skip("shortest", "proves that Skip skips"),
		unitstest.Skip("json", "its JSON is that of the sound codec"))
}

func TestEquivalent(t *testing.T) {
	unitstest.Equivalent(t, unitstest.Of[units.Length](), unitstest.Of[units.Length]())
}

// TestStandardFlow gives the laws of text to the one type that is no float64.
func TestStandardFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := unitstest.Values().Draw(t, "volume")
		r := rapid.SampledFrom(units.GasReferences()).Draw(t, "reference")
		f, err := units.NewStandardFlow(units.VolumeFlow(v), r)
		if err != nil {
			t.Fatal(err)
		}
		g, err := units.ParseStandardFlow(f.String())
		if err != nil || g.Reference() != r || math.Float64bits(float64(g.Volume())) != math.Float64bits(v) {
			t.Fatalf("%v reads back as %v, %v", f, g, err)
		}
	})
}

func FuzzLength(f *testing.F) { unitstest.Fuzz(f, unitstest.Of[units.Length]()) }

func FuzzTemperature(f *testing.F) { unitstest.Fuzz(f, unitstest.Of[units.Temperature]()) }
