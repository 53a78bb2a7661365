package gas

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// uniform is the counter generator (SplitMix64) of the comparison with other
// programs: bit-exact in every language.
func uniform(seed, i uint64) float64 {
	z := seed + (i+1)*0x9E3779B97F4A7C15
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9
	z = (z ^ (z >> 27)) * 0x94D049BB133111EB
	z ^= z >> 31
	return float64(z>>11) * 0x1p-53
}

// films draws n films of 10 to 500 µm, εr 2 to 4, with a contact charge of 1 to
// 1000 µC/m².
func films(n int) (thickness []units.Length, epsr []float64, charge []units.SurfaceChargeDensity) {
	for i := range uint64(n) {
		thickness = append(thickness, units.Length(10e-6*math.Pow(50, uniform(601, i))))
		epsr = append(epsr, 2+2*uniform(602, i))
		charge = append(charge, units.SurfaceChargeDensity(1e-6*math.Pow(1000, uniform(603, i))))
	}
	return thickness, epsr, charge
}

// The law of the comparison joins at the rounded 16.7 µm.
var peerAir = newAirLaw(16.7e-6)

// BenchmarkFilms is the work that a program of array expressions with a vectorised Newton
// iteration does on one core: columns of thickness, εr and contact charge of 1e5
// films in; σ_max, its gap and the kept charge out.
func BenchmarkFilms(b *testing.B) {
	const n = 100000
	th, er, q := films(n)
	cap, gap, kept := make([]units.SurfaceChargeDensity, n), make([]units.Length, n), make([]units.SurfaceChargeDensity, n)
	b.ReportAllocs()
	for b.Loop() {
		if err := peerAir.backedTo(cap, gap, th, er, 1); err != nil {
			b.Fatal(err)
		}
		for i, c := range cap {
			kept[i] = min(q[i], c)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/film")
}

// Against the Newton iteration of a program of array expressions on the same films (ε0 8.8541878128e-12): means over
// 1e5 films and the first three.
func TestFilmsAgainstArrays(t *testing.T) {
	const n = 100000
	if u := uniform(201, 1); u != 0.46305873441982515 {
		t.Fatalf("generator gives %.17g", u)
	}
	th, er, q := films(n)
	cap, gap := make([]units.SurfaceChargeDensity, n), make([]units.Length, n)
	if err := peerAir.backedTo(cap, gap, th, er, 1); err != nil {
		t.Fatal(err)
	}
	const eps = 8.8541878128e-12 / units.Epsilon0
	var sc, sz, sk float64
	limited := 0
	for i, c := range cap {
		s := float64(c) * eps
		sc += s / n
		sz += float64(gap[i]) / n
		sk += min(s, float64(q[i])) / n
		if s <= float64(q[i]) {
			limited++
		}
	}
	checkNear(t, "mean σ_max", sc, 0.0003665446702830353, 1e-10*3.7e-4)
	checkNear(t, "mean gap", sz, 3.542967325015099e-05, 1e-8*3.5e-5)
	checkNear(t, "mean kept", sk, 9.483520058010906e-05, 1e-10*9.5e-5)
	if limited != 17413 {
		t.Errorf("%d films limited by the gas, want 17413", limited)
	}
	for i, want := range []float64{0.0003914087799585757, 0.00016222811434656235, 0.00021860264378049607} {
		checkNear(t, "σ_max", float64(cap[i])*eps, want, 1e-10*want)
	}
	for i, want := range []float64{2.0611011229123788e-05, 5.001489417054422e-05, 3.384796207002837e-05} {
		checkNear(t, "gap", float64(gap[i]), want, 1e-8*want)
	}
	if a := testing.AllocsPerRun(2, func() { _ = CapBackedTo(cap[:1000], gap[:1000], th[:1000], er[:1000], 1) }); a != 0 {
		t.Errorf("%g allocations", a)
	}
}
