package ensemble

import (
	"math"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// half is a contact that goes half the way to a saturation known beforehand.
func half(f line.Face, mean, sd float64) Step {
	return Step{Read: true, Contact: &Contact{Face: f, Exposure: known.Band{Value: math.Ln2},
		Saturation: known.Band{Value: mean, Spread: sd, Kind: known.Normal}}}
}

// TestTwoPriorsByHand, in µC/m²: contacts that go half the way, known before as 8 ± 2 on face A and −4 ± 1 on face B,
// read as 5 behind the first and 1 behind the second with a noise of 1. The normal equations
//
//	(1/4 + 1/4 + 1/4)·x + 1/4·y = 8/4 + 5/2 + 1/2
//	1/4·x + (1 + 1/4)·y        = −4 + 1/2
//
// have the determinant 0.875: x = 7.125/0.875 ± √(1.25/0.875), y = −3.875/0.875 ± √(0.75/0.875).
func TestTwoPriorsByHand(t *testing.T) {
	const uC = 1e-6
	l, err := New(&Spec{Steps: []Step{half(line.FaceA, 8*uC, 2*uC), half(line.FaceB, -4*uC, uC)}})
	if err != nil {
		t.Fatal(err)
	}
	f, err := l.Fit()
	if err != nil {
		t.Fatal(err)
	}
	var mean, sd [2]float64
	if err := f.All(mean[:], sd[:], []float64{5 * uC, uC}, uC, nil); err != nil {
		t.Fatal(err)
	}
	for k, want := range [2][2]float64{{7.125 / 0.875, math.Sqrt(1.25 / 0.875)},
		{-3.875 / 0.875, math.Sqrt(0.75 / 0.875)}} {
		if !(math.Abs(mean[k]/uC-want[0]) <= 1e-12) || !(math.Abs(sd[k]/uC-want[1]) <= 1e-12) {
			t.Errorf("%d: %v ± %v, by hand %v ± %v", k, mean[k]/uC, sd[k]/uC, want[0], want[1])
		}
	}
}

// TestMoreWaysThanContacts: 2 µC/m² keep e^−(1 + 2 + 4)/8 on three unlike ways along a path of 8 s; the ends of the
// quantiles are the least and the greatest line, and without a limit nothing is over it.
func TestMoreWaysThanContacts(t *testing.T) {
	l, err := New(&Spec{Leak: &Leak{Time: 8 * units.Second}, Steps: []Step{
		{Contact: &Contact{Face: line.FaceA, Exposure: known.Band{Value: 50}, Saturation: known.Band{Value: 2e-6}}},
		{Way: units.Second}, {Way: 2 * units.Second}, {Way: 4 * units.Second}}})
	if err != nil {
		t.Fatal(err)
	}
	s, err := l.Run(10, 1, 0, 0, 0.5, 1)
	if err != nil {
		t.Fatal(err)
	}
	for j, dwell := range []float64{0, 1, 3, 7} {
		for _, q := range s.Quantiles[j] {
			if want := 2e-6 * math.Exp(-dwell/8); !(math.Abs(float64(q)/want-1) <= 1e-12) {
				t.Errorf("behind step %d: %v, by hand %v", j, q, want)
			}
		}
		if s.Over[j] != 0 {
			t.Errorf("over no limit behind step %d: %v", j, s.Over[j])
		}
	}
	if _, err := New(&Spec{Leak: &Leak{Time: 8, Decades: 1.5}, Steps: []Step{{Way: 1}}}); err == nil {
		t.Error("a leak of 1.5 decades a per cent of humidity")
	}
}

// TestValueBetweenTheParts: of four values of 0, one of 0.5 and five of 0.9 the quantile at place 3.5 lies between 0
// and
// 0.5, whose part is needed although the parts before and behind it are kept: 0.25.
func TestValueBetweenTheParts(t *testing.T) {
	b := bins{scale: parts, keep: make([]bool, parts)}
	b.keep[b.part(0)], b.keep[b.part(0.9)] = true, true
	x := []float64{0, 0.9, 0, 0.9, 0.5, 0, 0.9, 0, 0.9, 0.9}
	b.clear()
	b.add(x)
	if !b.missed(10, []float64{3.5 / 9}) {
		t.Fatal("the part of 0.5 was not kept")
	}
	b.clear()
	b.add(x)
	if got := b.quantiles(10, []float64{3.5 / 9}); b.missed(10, []float64{3.5 / 9}) || !(math.Abs(got[0]-0.25) <= 1e-12) {
		t.Errorf("%v, by hand 0.25", got)
	}
}

// TestDampRunByHand: 2 µC/m² on a way of 4 s with a leak of 8 s at 30 %RH that halves with every 15 %RH more: at 45 %RH
// 4 s, so that 1/e is left; beyond the dampest, 60 %RH, it stays at 2 s: e^−2. The single walk says the same, and
// without a leak nothing is lost.
func TestDampRunByHand(t *testing.T) {
	steps := []Step{{Contact: &Contact{Face: line.FaceA, Exposure: known.Band{Value: 50},
		Saturation: known.Band{Value: 2e-6}}}, {Way: 4 * units.Second}}
	for rh, want := range map[float64]float64{0.30: 0.5, 0.45: 1, 0.60: 2, 0.80: 2, 0.15: 0.25, 0.10: 0.25} {
		l, err := New(&Spec{Humidity: known.Band{Value: rh}, Driest: 0.15, Dampest: 0.60,
			Leak: &Leak{Time: 8 * units.Second, At: 0.30, Decades: math.Log10(2) / 15}, Steps: steps})
		if err != nil {
			t.Fatal(err)
		}
		s, err := l.Run(10, 1, 0, 0, 0.5, 1)
		if err != nil {
			t.Fatal(err)
		}
		var one [2]units.SurfaceChargeDensity
		l.Walk(one[:], make([]float64, l.Draws()))
		for _, got := range []float64{s.Quantiles[1][1], float64(one[1])} {
			if x := 2e-6 * math.Exp(-want); !(math.Abs(got/x-1) <= 1e-9) {
				t.Errorf("at %v: %v, by hand %v", rh, got, x)
			}
		}
	}
	if got := (&Lines{}).rate(0.5); got != 0 {
		t.Errorf("without a leak a rate of %v", got)
	}
}

// TestPartsOfARange: 2048 parts of a range of 2 are 1024 for each 1; of a range of nothing all lies in the first.
func TestPartsOfARange(t *testing.T) {
	for top, want := range map[float64]float64{2: 1024, 0: 0} {
		var b bins
		b.place([]float64{0, top / 2, top}, []float64{0.5})
		if b.scale != want || b.part(top) != int(min(top*1024, parts-1)) {
			t.Errorf("to %v: %v parts a unit", top, b.scale)
		}
	}
}

// TestLastRank: between the last value but one and the last, of nine of 0 and one of 0.5, the part of the last is
// needed; no rank lies behind it.
func TestLastRank(t *testing.T) {
	b := bins{scale: parts, keep: make([]bool, parts)}
	b.keep[b.part(0)] = true
	b.clear()
	b.add([]float64{0, 0, 0, 0, 0.5, 0, 0, 0, 0, 0})
	if !b.missed(10, []float64{8.5 / 9}) {
		t.Error("the part of 0.5 was not kept")
	}
	for p, want := range map[float64]int{0: 0, 0.5: 1, 1: 3, 1.5: 3} {
		if rank, _ := rankOf(p, 4); rank != want {
			t.Errorf("rank %d of chance %v, by hand %d", rank, p, want)
		}
	}
}
