package sheet

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"

	"example.org/pithball/internal/lazy"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// discModes are the axisymmetric modes of the disc.
var discModes = lazy.Value[*slotModes]{Make: func() *slotModes { return newDiscModes(slotOrder) }}

// newDiscModes expands in φ_n = √(1−r²) p_n(r), p_n = P_n^{(1/2,0)}(2r²−1), for
// which Λφ_n = λ_n p_n with λ_n = 2 [Γ(n+3/2)/n!]² (B. Dyda, A. Kuznetsov, M.
// Kwaśnicki, J. London Math. Soc. 95 (2017) 500, doi 10.1112/jlms.12024, for
// order 1/2 in two dimensions; not read, proven here by the test against
// Bessel functions).
func newDiscModes(order int) *slotModes {
	lambda, h := make([]float64, order), make([]float64, order)
	total, mid := make([]float64, order), make([]float64, order)
	g := math.Gamma(1.5)
	for n := range order {
		lambda[n] = 2 * g * g
		g *= (float64(n) + 1.5) / (float64(n) + 1)
		h[n] = 1 / float64(4*n+3) // ∫ √(1−r²) p_n² r dr
		mid[n] = 1 - float64(n%2)*2
	}
	// With t = 2r²−1 the flux of K p_n through the circle r is
	// q_n = ∫p_n r dr = ¼∫P_n dt = P_{n+1}^{(−1/2,−1)}(t)/(2n+1), and the energy
	// ∫q_nq_m/r dr = ½∫q_nq_m/(1+t) dt, a polynomial that Gauss's rule integrates
	// exactly. (Not with 26 nodes: the table of gonum v0.17.0 is wrong there.)
	nodes, weights := make([]float64, order+2), make([]float64, order+2)
	quad.Legendre{}.FixedLocations(nodes, weights, -1, 1)
	q := make([]float64, order)
	energy := mat.NewSymDense(order, nil)
	for k, t := range nodes {
		discFlux(q, t)
		for i := range order {
			for j := i; j < order; j++ {
				energy.SetSym(i, j, energy.At(i, j)+weights[k]*q[i]*q[j]/(2*(1+t)))
			}
		}
	}
	discFlux(q, 1)
	for n := range order {
		total[n] = 2 * q[n]
	}
	return newSlotModes(lambda, h, total, mid, energy)
}

// discFlux sets q[n] = P_{n+1}^{(−1/2,−1)}(t)/(2n+1) by the recurrence of the
// Jacobi polynomials (Abramowitz & Stegun 22.7.1; DLMF 18.9.2).
func discFlux(q []float64, t float64) {
	const a, b = -0.5, -1.0
	prev, cur := 1.0, (a+1)+(a+b+2)*(t-1)/2
	for n := range q {
		q[n] = cur / float64(2*n+1)
		m := float64(n + 2)
		c := 2*m + a + b
		next := ((c-1)*(c*(c-2)*t+a*a-b*b)*cur - 2*(m+a-1)*(m+b-1)*c*prev) / (2 * m * (m + a + b) * (c - 2))
		prev, cur = cur, next
	}
}

// SlotDisc is a resistive sheet in a round hole of an earthed plane, air on both
// faces, by the machinery of [SlotStrip]:
//
//	rate_j = μ_j v_s/a,  μ computed for the axisymmetric modes
//
// Immutable; see [NewSlotDisc].
type SlotDisc struct {
	rate float64 // v_s/a [1/s]
}

// NewSlotDisc checks radius and ρ_s, both > 0. Errors are [known.FieldError]s.
func NewSlotDisc(radius units.Length, rhoS units.SheetResistance) (*SlotDisc, error) {
	if err := errors.Join(known.Positive("radius", radius), known.Positive("surface_resistivity", rhoS)); err != nil {
		return nil, err
	}
	return &SlotDisc{rate: float64(SpreadingSpeed(rhoS)) / float64(radius)}, nil
}

// Eigenvalue returns μ of the axisymmetric mode j = 0, 1, …, 19. Others give
// NaN. [1]
func (s *SlotDisc) Eigenvalue(j int) float64 { // [1]
	if j < 0 || j >= 20 || s.rate == 0 {
		return math.NaN()
	}
	return discModes.Get().mu[j]
}

// Rate returns the decay rate of mode j; see Eigenvalue.
func (s *SlotDisc) Rate(j int) units.Frequency {
	return units.Frequency(made(s.rate) * s.Eigenvalue(j))
}

// TimeConstant returns the time constant of the slowest mode.
func (s *SlotDisc) TimeConstant() units.Time { return units.Time(1 / float64(s.Rate(0))) }

// MeanAt returns the share of a uniform charge that is left after t ≥ 0. [1]
// Special cases: t < 0 and NaN give NaN. It does not allocate.
func (s *SlotDisc) MeanAt(t units.Time) float64 { // [1]
	return slotAt(discModes.Get(), discModes.Get().mean, made(s.rate)*float64(t))
}
