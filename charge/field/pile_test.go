package field

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Balanced sheets of 50 µm, ε_r 3.2, ±10 µC/m²: 17.6 V a sheet, 8.8 kV for 500, by
// hand from σt/(ε0ε_r).
func TestPileBalanced(t *testing.T) {
	k, err := NewChargedPile(ChargedPileSpec{Thickness: 50e-6, RelativePermittivity: 3.2, Upper: 10e-6, Lower: -10e-6,
		AirGap: 10e-6,
		Width:  0.7})
	if err != nil {
		t.Fatal(err)
	}
	for n, want := range map[int]float64{1: 17.648, 500: 8824} {
		if x := k.At(n); !near(float64(x.Voltage), want, 1e-4) || x.Voltage != x.Free || x.Validity != known.Inside ||
			x.Spark != NoSpark || x.Gap != 0 {
			t.Errorf("%d sheets: %+v", n, x)
		}
	}
	if n, ok := k.SheetsTo(8000); !ok || n != 454 { // 8000/17.648 = 453.3
		t.Errorf("%d sheets to 8 kV", n)
	}
	if x := k.At(5000); x.Validity != known.Inside { // 0.3 m of 0.7
		t.Errorf("5000 sheets: %+v", x)
	}
	if x := k.At(10000); x.Validity != known.WrongShape { // 0.6 m
		t.Errorf("10000 sheets: %+v", x)
	}
	if n, _, ok := k.SheetsToSpark(); ok {
		t.Errorf("balanced sheets spark at %d", n)
	}
}

// The sum over the layers, and ρH²/(2ε) for many sheets with net charge.
func TestPileNet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := ChargedPileSpec{Thickness: units.Length(rapid.Float64Range(1e-5, 1e-3).Draw(t, "t")),
			RelativePermittivity: rapid.Float64Range(1, 6).Draw(t, "εr"),
			Upper:                units.SurfaceChargeDensity(rapid.Float64Range(-1e-5, 1e-5).Draw(t, "up")),
			Lower:                units.SurfaceChargeDensity(rapid.Float64Range(-1e-5, 1e-5).Draw(t, "low")),
			AirGap:               units.Length(rapid.Float64Range(0, 1e-4).Draw(t, "g")), Width: 1}
		k, err := NewChargedPile(s)
		if err != nil {
			t.Fatal(err)
		}
		n := rapid.IntRange(0, 200).Draw(t, "n")
		// Walk down from the top; D is the charge above.
		var v, flux, scale float64
		for range n {
			flux += float64(s.Upper)
			v += flux * float64(s.Thickness) / s.RelativePermittivity / units.Epsilon0
			flux += float64(s.Lower)
			v += flux * float64(s.AirGap) / units.Epsilon0
			scale += 1e-5 * float64(n) * 1e-3 / units.Epsilon0
		}
		if got := k.At(n).Free; !(math.Abs(float64(got)-v) <= 1e-12*scale+1e-12) {
			t.Fatalf("%d sheets: %v, walked %g", n, got, v)
		}
		if target := rapid.Float64Range(10, 1e5).Draw(t, "target"); true {
			m, ok := k.SheetsTo(units.Voltage(target))
			if at := k.At(m).Voltage; ok && math.Abs(float64(at)) < target {
				t.Fatalf("%d sheets give %v, not %g", m, at, target)
			}
			if before := k.At(m - 1).Voltage; ok && m > 1 && math.Abs(float64(before)) >= target {
				t.Fatalf("%d sheets give %v already", m-1, before)
			}
			if first, _, sparks := k.SheetsToSpark(); ok && sparks && m >= first {
				t.Fatalf("%d sheets to the voltage, %d to the first spark", m, first)
			}
		}
	})
	k, err := NewChargedPile(ChargedPileSpec{Thickness: 1e-4, RelativePermittivity: 2.5, Upper: 1e-6, Width: 10})
	if err != nil {
		t.Fatal(err)
	}
	const n = 1000
	if v := k.At(n).Free; !near(float64(v), 1e-2*0.1*0.1/(2*2.5*units.Epsilon0), 2e-3) { // 1/n from the discrete sheets
		t.Errorf("%v", v)
	}
}

// 250 sheets of 0.1 mm, ε_r 2.5, with 3 µC/m² each: 425 kV if nothing broke down
// (σt/(ε0ε_r)·n²/2 = 13.55 V·31375), 17 MV/m along an edge of 25 mm, which holds
// 75 kV at 3 MV/m. The first edge flash comes where n·3e-6/(2·2.5·ε0) = 3 MV/m, at 44.
func TestPileBreaksDown(t *testing.T) {
	spec := ChargedPileSpec{Thickness: 100e-6, RelativePermittivity: 2.5, Upper: 3e-6, Width: 1}
	k, err := NewChargedPile(spec)
	if err != nil {
		t.Fatal(err)
	}
	x := k.At(250)
	if !near(float64(x.Free), 425.3e3, 1e-3) || !near(float64(x.Voltage), 75e3, 1e-9) || x.Spark != SparkOutside ||
		x.Validity&known.AboveRange == 0 {
		t.Errorf("%+v", x)
	}
	if !near(float64(x.Edge), 17.0e6, 2e-3) || !near(float64(x.Sheet), 750e-6/(2.5*units.Epsilon0), 1e-9) {
		t.Errorf("%+v", x)
	}
	if n, at, ok := k.SheetsToSpark(); !ok || at != SparkOutside || n != 44 { // 2·2.5·ε0·3e6/3e-6 − 1 = 43.3
		t.Errorf("first spark at %d, %v", n, at)
	}
	if _, ok := k.SheetsTo(200e3); ok {
		t.Error("200 kV are reached past the first spark")
	}
	// Air of 1 mm under each sheet holds 3 kV: n·3e-6/ε0 = 3 MV/m at 9 sheets, before the edge.
	spec.AirGap = 1e-3
	k, _ = NewChargedPile(spec)
	if n, at, ok := k.SheetsToSpark(); !ok || at != SparkInGap || n != 9 { // 8.85
		t.Errorf("gap: %d, %v", n, at)
	}
	// Air of 10 µm holds 327 V, 33 MV/m: 97 sheets; the edge comes first.
	spec.AirGap = 10e-6
	k, _ = NewChargedPile(spec)
	if _, at, _ := k.SheetsToSpark(); at != SparkOutside {
		t.Errorf("thin gap: %v", at)
	}
	if x := k.At(250); float64(x.Voltage) > 3e6*float64(x.Height)*1.0000001 {
		t.Errorf("%+v", x)
	}
	// A weak sheet breaks through: 20 MV/m at 443 µC/m² of flux, with the edge held off.
	spec.AirGap, spec.SheetStrength, spec.AirStrength = 0, 20e6, 1e9
	k, _ = NewChargedPile(spec)
	if n, at, ok := k.SheetsToSpark(); !ok || at != SparkInFilm || n != 148 { // 20e6·2.5·ε0/3e-6 = 147.6
		t.Errorf("sheet: %d, %v", n, at)
	}
	for _, x := range []PileState{k.At(-1), (ChargedPile{}).At(3)} {
		if !math.IsNaN(float64(x.Voltage)) || x.Validity == known.Inside {
			t.Errorf("%+v", x)
		}
	}
	if x := k.At(0); x.Voltage != 0 || x.Spark != NoSpark {
		t.Errorf("no sheet: %+v", x)
	}
}

func TestPileRollBad(t *testing.T) {
	for _, s := range []ChargedPileSpec{{}, {Thickness: 1, RelativePermittivity: 0, Width: 1},
		{Thickness: 1, RelativePermittivity: 2, Width: 1, AirGap: -1}} {
		if _, err := NewChargedPile(s); err == nil {
			t.Errorf("%+v accepted", s)
		}
	}
	for _, s := range []RollSpec{{}, {CoreRadius: 1, Thickness: 1e-5, RelativePermittivity: 2, Surroundings: 0.5}} {
		if _, err := NewRoll(s); err == nil {
			t.Errorf("%+v accepted", s)
		}
	}
}

// TestPileSheetFlux: where the faces nearly cancel the flux is greatest in the top
// sheet. Three sheets of +10 and −10.1 µC/m², εr 2: the flux above the middle of a
// sheet is 10, 9.9 and 9.8 µC/m² from the top down, so that the top one stands in
// 10e-6/(2·ε0) = 564.705 kV/m. With −9.9 it is the lowest, 10.2 µC/m², 575.999 kV/m.
func TestPileSheetFlux(t *testing.T) {
	for _, c := range []struct{ lower, want float64 }{{-10.1e-6, 564.705e3}, {-9.9e-6, 575.999e3}} {
		k, err := NewChargedPile(ChargedPileSpec{Thickness: 0.1 * units.Millimetre, RelativePermittivity: 2, Upper: 10e-6,
			Lower: units.SurfaceChargeDensity(c.lower), Width: units.Metre})
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(k.At(3).Sheet); !(math.Abs(got/c.want-1) < 1e-5) {
			t.Errorf("lower %g: %g V/m, want %g", c.lower, got, c.want)
		}
	}
}

// TestSheetsToHump: faces that nearly cancel, +10 and −10.2 µC/m², make the voltage of
// the pile rise to a top and fall: V(n) = 5.64705 V·(10.1·n − 0.1·n²) for 0.1 mm of εr 2,
// 254.8 at 49 sheets, 255.0 at 50 and 51, and as much again below zero past 101.
func TestSheetsToHump(t *testing.T) {
	k, err := NewChargedPile(ChargedPileSpec{Thickness: 0.1 * units.Millimetre, RelativePermittivity: 2, Upper: 10e-6,
		Lower: -10.2e-6, Width: units.Metre})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		volts float64
		want  int
	}{{254.9, 50}, {254.7, 49}, {9.9, 1}, {255.1, 122}} { // 10.1·122 − 0.1·122² = −256.2, of 121 −242.0
		if n, ok := k.SheetsTo(units.Voltage(c.volts * 5.64705)); !ok || n != c.want {
			t.Errorf("%g: %d, %v, want %d", c.volts, n, ok, c.want)
		}
	}
}
