package sheet

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/internal/lazy"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// slotModes is the decay of charge on a sheet that fills an opening of
// half-width (or radius) 1 in an earthed plane, air on both faces,
//
//	−∇²φ = μ Λφ in the opening, φ = 0 outside it, Λ = (−∇²)^{1/2},
//
// at rates μ_j in units of v_s over the half-width. Mean and centre are the
// charge left of a uniform start, Σ w_j exp(−μ_j v_s t/a).
type slotModes struct {
	mu, mean, centre []float64
}

// newSlotModes solves the Galerkin problem. The potential is expanded in
// functions φ_n for which Λφ_n = λ_n p_n in closed form, with
// ∫φ_n p_m = h_n δ_nm; energy[n][m] = ∫∇(Kp_n)·∇(Kp_m), K the inverse of −∇²
// with zero on the rim. Then μ⁻¹ are the eigenvalues of the symmetric matrix
// √(λ_nλ_m/(h_nh_m))·energy. A uniform charge is p_0; total_n is the mean of p_n
// over the opening and mid_n its value at the centre.
func newSlotModes(lambda, h, total, mid []float64, energy *mat.SymDense) *slotModes {
	n := len(lambda)
	m := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			m.SetSym(i, j, energy.At(i, j)*math.Sqrt(lambda[i]*lambda[j]/(h[i]*h[j])))
		}
	}
	var e mat.EigenSym
	if !e.Factorize(m, true) {
		return nil // gonum: the QL iteration did not converge; never seen for these matrices
	}
	var v mat.Dense
	e.VectorsTo(&v)
	inv := e.Values(nil) // rising
	s := &slotModes{mu: make([]float64, n), mean: make([]float64, n), centre: make([]float64, n)}
	for j := range n {
		c := n - 1 - j // slowest first
		s.mu[j] = 1 / inv[c]
		for i := range n {
			// b_i = √(λ_i h_i) a_i; the charge is Σ λ_i a_i p_i.
			p := v.At(0, c) * v.At(i, c) * math.Sqrt(h[0]/lambda[0]) * math.Sqrt(lambda[i]/h[i])
			s.mean[j] += p * total[i]
			s.centre[j] += p * mid[i]
		}
	}
	return s
}

// at sums weights over modes at the spread v_s t/a.
func (s *slotModes) at(w []float64, spread float64) float64 {
	sum := 0.0
	for j := len(w) - 1; j >= 0; j-- {
		sum += w[j] * math.Exp(-s.mu[j]*spread)
	}
	return sum
}

// slotOrder is the number of functions. By doubling: the first eigenvalue is good
// to 1e-9, the mean to 5e-5 and the centre to 2e-4.
const slotOrder = 96

// stripModes are the modes of the strip, even (0) and odd (1): φ_n = sin nθ with
// x = cos θ, Λφ_n = n U_{n−1}(x), of odd n for even modes.
var stripModes = [2]lazy.Value[*slotModes]{
	{Make: func() *slotModes { return newStripModes(slotOrder, 1) }},
	{Make: func() *slotModes { return newStripModes(slotOrder, 2) }},
}

// newStripModes takes n = first, first+2, …
func newStripModes(order, first int) *slotModes {
	lambda, h := make([]float64, order), make([]float64, order)
	total, mid := make([]float64, order), make([]float64, order)
	energy := mat.NewSymDense(order, nil)
	n := func(i int) float64 { return float64(first + 2*i) }
	// Mean of T_n over −1 … 1, which the zero potential at both rims takes out;
	// it is zero for odd n.
	mean := func(i int) float64 {
		if first%2 == 1 {
			return 0
		}
		return 1 / (1 - n(i)*n(i))
	}
	for i := range order {
		lambda[i], h[i] = n(i), math.Pi/2 // ∫ sin nθ U_{m−1}(cos θ) sin θ dθ
		if first%2 == 1 {
			total[i] = 1 / n(i) // mean of U_{n−1}
			mid[i] = 1 - float64(i%2)*2
		}
		for j := i; j < order; j++ {
			// d(K U_{n−1})/dx = −T_n/n + its mean; ∫T_nT_m = 1/(1−(n+m)²) + 1/(1−(n−m)²).
			a, b := n(i)+n(j), n(i)-n(j)
			energy.SetSym(i, j, (1/(1-a*a)+1/(1-b*b)-2*mean(i)*mean(j))/(n(i)*n(j)))
		}
	}
	return newSlotModes(lambda, h, total, mid, energy)
}

// SlotStrip is a resistive sheet in a slot of width w of an earthed plane, air
// on both faces: a web at rest between two wide earthed bodies in one plane,
// far from any other earth. Charge leaves over both edges.
//
//	−φ″ = μ (−d²/dx²)^{1/2} φ on the half-width 1,  rate_j = μ_j v_s/(w/2)
//
// with μ = 2.0061, 3.4533, 5.1253, …: the first time constant is
// 2ε0ρ_s(w/2)/2.0061, close to ½ε0ρ_s w. The eigenvalues are computed, by a
// Galerkin method in Chebyshev functions, and equal those of the strip
// "ice-fishing" problem of sloshing (P. Henrici, B. A. Troesch, L. Wuytack, Z.
// angew. Math. Phys. 21 (1970) 285; not read). For a moving web the sharp
// slot is ill-posed: see [FreeSpanWeb], and [AntistatOnSpan] for how far the time
// constant promises too much there. Immutable; see [NewSlotStrip].
type SlotStrip struct {
	rate float64 // v_s/(w/2) [1/s]
}

// NewSlotStrip checks width and ρ_s, both > 0. Errors are [known.FieldError]s.
func NewSlotStrip(width units.Length, rhoS units.SheetResistance) (*SlotStrip, error) {
	if err := errors.Join(known.Positive("width", width), known.Positive("surface_resistivity", rhoS)); err != nil {
		return nil, err
	}
	return &SlotStrip{rate: 2 * float64(SpreadingSpeed(rhoS)) / float64(width)}, nil
}

// Eigenvalue returns μ of mode j = 0, 1, …, 39: even j are symmetric. Others give
// NaN. [1]
func (s *SlotStrip) Eigenvalue(j int) float64 { // [1]
	if j < 0 || j >= 40 || s.rate == 0 {
		return math.NaN()
	}
	return stripModes[j%2].Get().mu[j/2]
}

// Rate returns the decay rate of mode j; see Eigenvalue.
func (s *SlotStrip) Rate(j int) units.Frequency {
	return units.Frequency(made(s.rate) * s.Eigenvalue(j))
}

// TimeConstant returns the time constant of the slowest mode.
func (s *SlotStrip) TimeConstant() units.Time { return units.Time(1 / float64(s.Rate(0))) }

// MeanAt returns the share of a uniform charge that is left after t ≥ 0. [1]
// Special cases: t < 0 and NaN give NaN. It does not allocate.
func (s *SlotStrip) MeanAt(t units.Time) float64 { // [1]
	return slotAt(stripModes[0].Get(), stripModes[0].Get().mean, made(s.rate)*float64(t))
}

// CentreAt returns the charge density at the centre after t > 0 over that of a
// uniform start. [1] It is good to 2e-4 for v_s t above 0.005 w and to 5e-3 below,
// where the expansion does not resolve the edges. Special cases as for MeanAt.
func (s *SlotStrip) CentreAt(t units.Time) float64 { // [1]
	return slotAt(stripModes[0].Get(), stripModes[0].Get().centre, made(s.rate)*float64(t))
}

func slotAt(m *slotModes, w []float64, spread float64) float64 {
	switch {
	case !(spread >= 0):
		return math.NaN()
	case spread == 0:
		return 1
	}
	return m.at(w, spread)
}
