package ensemble

import (
	"math"
	"testing"

	"example.org/pithball/internal/counter"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestSharedIsEach: surveys that share a leak time by the common matrix, and each by its own normal equations; also
// with what was known before, and with an odd number of unknowns.
func TestSharedIsEach(t *testing.T) {
	for name, f := range map[string]*Fit{"six": six(t), "known before": before(t)} {
		const n = 40
		y := make([]float64, n*f.Readings())
		for i := range y {
			y[i] = 1e-5 * counter.Normal(9, uint64(i))
		}
		tau := make([]units.Time, n)
		for i := range tau {
			tau[i] = units.Time(f.leak)
		}
		k := f.Unknowns()
		one, sd1, all, sd2 := make([]float64, n*k), make([]float64, n*k), make([]float64, n*k), make([]float64, n*k)
		const noise = 0.5 * units.MicrocoulombPerSquareMetre
		if err := f.All(one, sd1, y, noise, tau); err != nil {
			t.Fatal(err)
		}
		if err := f.All(all, sd2, y, noise, nil); err != nil {
			t.Fatal(err)
		}
		for i := range one {
			if !(math.Abs(one[i]-all[i]) <= 1e-12*2e-5) || sd1[i] != sd2[i] {
				t.Errorf("%s: %d: %v ± %v, shared %v ± %v", name, i, one[i], sd1[i], all[i], sd2[i])
			}
		}
	}
}

// before is a line of one contact of which something is known, read twice.
func before(t *testing.T) *Fit {
	t.Helper()
	l, err := New(&Spec{Leak: &Leak{Time: 2 * units.Second}, Steps: []Step{
		{Read: true, Contact: &Contact{Face: line.FaceB, Exposure: known.Band{Value: 0.7},
			Saturation: known.Band{Value: 4e-6, Spread: 3e-6, Kind: known.Normal}}},
		{Read: true, Way: units.Second}}})
	if err != nil {
		t.Fatal(err)
	}
	f, err := l.Fit()
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// BenchmarkFitShared is BenchmarkFit with one leak time for all.
func BenchmarkFitShared(b *testing.B) {
	const n = 1000
	y, truth, _ := surveys(n)
	f := six(b)
	mean, sd := make([]float64, len(truth)), make([]float64, len(truth))
	for b.Loop() {
		if err := f.All(mean, sd, y, 0.5e-6, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/survey")
}
