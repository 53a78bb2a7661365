package charge

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/pithball/units"
)

// Charge after a discharge over that before it, as digitised from five works (R. G.
// Horn and D. T. Smith 1992; with A. Grabbe 1993; B. A. Kwetkus et al. 1992 and
// 1991; L. S. McCarty et al. 2006–07).
var dischargeSets = [][]float64{
	{0.917, 0.900, 0.793}, {0.915, 0.315}, {0.478, 0.546, 0.721, 0.667, 0.512, 0.464, 0.897, 0.333, 0.815}, {0.651, 0.712},
	{0.513, 0.331, 0.542},
}

// The band of one discharge holds nine of ten of them; what is left of the cap in the
// end has the quantiles of the renewal process, summed here over the measured ratios.
func TestDischargeBands(t *testing.T) {
	all := slices.Concat(dischargeSets...)
	lo, hi := DischargeRatio().Limits()
	in := 0
	for _, r := range all {
		if r >= lo-0.02*r && r <= hi+0.02*r { // digitised ±2 %
			in++
		}
	}
	if n := len(all); in < n*85/100 || n != 19 {
		t.Errorf("%d of %d ratios in %.2f … %.2f", in, n, lo, hi)
	}
	// No wider than the ratios themselves, which reach from 0.315 to 0.917.
	if lo < 0.31 || hi > 0.93 {
		t.Errorf("%.3f … %.3f is wider than what was measured", lo, hi)
	}
	// P(U < u) = Σ min(J, u)/Σ J.
	below := func(left float64) float64 {
		u, sum, whole := -math.Log(left), 0.0, 0.0
		for _, r := range all {
			j := -math.Log(r)
			sum, whole = sum+min(j, u), whole+j
		}
		return 1 - sum/whole // share of partings that leave less than left
	}
	lo, hi = DischargeLeaves().Limits()
	if a, b := below(lo), below(hi); !(a > 0.03 && a < 0.07 && b > 0.92 && b < 0.97) || b-a < 0.85 {
		t.Errorf("%.3f below %.2f, %.3f below %.2f", a, lo, b, hi)
	}
}

// A generator that shares nothing with the model's band: each parting draws its gas
// (a factor on the law drawn from measured voltages between 8 and 130 µm, by set),
// its laboratory and discharge after discharge from that laboratory's ratios, until
// it is below the cap. Nine of ten must be left between the limits.
func TestLeftLimitsHold(t *testing.T) {
	gases := [][]float64{ // measured voltage over the law, medians and ends of the sets
		{1.32, 1.20, 1.47, 1.40, 1.22, 1.50, 1.30, 1.16, 1.04}, {1.18, 1.27, 1.18, 1.26}, {1.23, 1.25, 1.25, 1.17, 1.10},
		{1.16, 1.26},
		{1.03, 1.15, 1.19, 1.22, 1.13, 1.04, 0.96, 0.95}, {1.22, 1.24, 1.39, 1.50, 1.37, 1.32, 1.29},
	}
	rng := rand.New(rand.NewPCG(1, 2))
	pick := func(sets [][]float64) []float64 { return sets[rng.IntN(len(sets))] }
	p, err := NewParting(PartingSpec{Place: BackedPlace(50*um, 2.1), Density: 1})
	if err != nil {
		t.Fatal(err)
	}
	law, err := NewParting(PartingSpec{Place: BackedPlace(50*um, 2.1), Density: 1, Strength: 1})
	if err != nil {
		t.Fatal(err)
	}
	cap, _, _ := law.Cap()
	insulator := units.Time(math.Inf(1))
	const n = 20000
	for _, start := range []float64{1.6, 3, 10} { // of the law's cap
		in := 0
		var left []float64
		for range n {
			gas, lab := pick(gases), pick(dischargeSets)
			limit := float64(cap) * gas[rng.IntN(len(gas))]
			q := start * float64(cap) * math.Exp(0.3*(rng.Float64()-0.5))
			before := q
			for q > limit {
				q *= lab[rng.IntN(len(lab))]
			}
			lo, hi := p.LeftLimits(units.SurfaceChargeDensity(before), 0, 1, insulator)
			if q >= float64(lo) && q <= float64(hi) {
				in++
			}
			left = append(left, q/float64(cap))
		}
		slices.Sort(left)
		if share := float64(in) / n; share < 0.85 || share > 0.97 {
			t.Errorf("start %g: %.3f inside; 5, 50 and 95 %% of left/law's cap %.2f, %.2f, %.2f", start, share, left[n/20],
				left[n/2], left[n*19/20])
		}
	}
	// Below every limit of the cap nothing happens; between them both can.
	low, mid, high := p.CapLimits()
	if a, b := p.LeftLimits(low*0.99, 0, 1, insulator); a != b || !(math.Abs(float64(a/low)-0.99) < 1e-12) {
		t.Errorf("below the cap: %v … %v", a, b)
	}
	if a, b := p.LeftLimits(-mid, 0, 1, insulator); b <= a || !(math.Abs(float64(a/mid)+1) < 1e-12) {
		t.Errorf("between the limits: %v … %v", a, b)
	}
	if a, b := p.LeftLimits(5*high, 0, 1, insulator); !(a > 0 && b < high && a < b) {
		t.Errorf("above: %v … %v", a, b)
	}
	if a, b := p.LeftLimits(units.SurfaceChargeDensity(math.NaN()), 0, 1, 1); !math.IsNaN(float64(a)) ||
		!math.IsNaN(float64(b)) {
		t.Errorf("NaN: %v … %v", a, b)
	}
	if a, b := (&Parting{}).LeftLimits(1, 0, 1, 1); !math.IsNaN(float64(a)) || !math.IsNaN(float64(b)) {
		t.Errorf("zero parting: %v … %v", a, b)
	}
	// The middle of the band for a film of 50 µm of FEP is near 240 µC/m², the charge
	// measured on it (S. Wang et al., Adv. Mater. 26 (2014) 6720, from memory).
	if l, s := p.Left(1e-3, 0, 1, insulator); s != GasRuled || !(l > 200*uC && l < 280*uC) {
		t.Errorf("FEP: %v, %v", l, s)
	}
}

// TestLeftLimitsByHand: 60 µC/m² over 1 mm of free span, one face. The law gives
// 24.22e5·1e-3 + 6.08e4·√1e-3 = 4344.66 V, a cap of 38.468 µC/m²; measured voltages
// there lie at 0.95, 1.04 and 1.10 of it, and discharges leave 0.392, 0.68 and 0.968,
// so that with ln as distance from the median 40.007·0.68 = 27.205 µC/m²
//
//	down √(ln²(1.04/0.95) + ln²(0.68/0.392)) = √(0.09050² + 0.55080²) = 0.55818
//	up   √(ln²(1.10/1.04) + ln²(0.968/0.68)) = √(0.05609² + 0.35314²) = 0.35756
func TestLeftLimitsByHand(t *testing.T) {
	p, err := NewParting(PartingSpec{Place: FreePlace(1, units.Millimetre), Exit: units.Millimetre, Density: 1})
	if err != nil {
		t.Fatal(err)
	}
	near := func(name string, got units.SurfaceChargeDensity, want float64) {
		t.Helper()
		if !(math.Abs(float64(got)*1e6/want-1) < 2e-4) {
			t.Errorf("%s: %.5g µC/m², want %.5g", name, float64(got)*1e6, want)
		}
	}
	const fresh = 60 * units.MicrocoulombPerSquareMetre
	insulator := units.Time(math.Inf(1))
	lo, hi := p.LeftLimits(fresh, 0, 1, insulator)
	near("low", lo, 15.568)
	near("high", hi, 38.899)
	left, _ := p.Left(fresh, 0, 1, insulator)
	near("middle", left, 27.205)
	// The other face counts: −20 beside +60 leaves a net of 40 µC/m², between the
	// limits of the cap (36.545, 42.315), so that it may stay or discharge.
	lo, hi = p.LeftLimits(fresh, -20*units.MicrocoulombPerSquareMetre, 1, insulator)
	near("low beside the other face", lo, 35.568)
	near("high beside the other face", hi, 60)
	// The same with all signs turned.
	lo, hi = p.LeftLimits(-fresh, 0, 1, insulator)
	near("low of a negative face", lo, -38.899)
	near("high of a negative face", hi, -15.568)
}
