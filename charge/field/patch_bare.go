package field

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"example.org/pithball/internal/lazy"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

const (
	patchDisc  = 64    // nodes on the radius of the face [1]
	panelNodes = 16    // of a panel of the sheet, four distances wide [1]
	widest     = 250.0 // greatest radius of the sheet over the distance [1]
)

var patchDiscRule = lazy.Value[*[2][patchDisc]float64]{Make: func() *[2][patchDisc]float64 {
	var r [2][patchDisc]float64
	quad.Legendre{}.FixedLocations(r[0][:], r[1][:], 0, 1)
	return &r
}}

var panelRule = lazy.Value[*[2][panelNodes]float64]{Make: func() *[2][panelNodes]float64 {
	var r [2][panelNodes]float64
	quad.Legendre{}.FixedLocations(r[0][:], r[1][:], 0, 1)
	return &r
}}

// BarePatchShare is [PatchShare] for the bare disc of [BareFaceFactor]: the standard
// deviation of the field at the middle of the face over σ_rms/ε0, for patchy charge
// on a sheet of radius S at the gap h before earthed metal. With K(r)·dr the field
// by a ring of the sheet of unit charge density over ε0,
//
//	share² = 2∫_0^∞ u·e^(−u²)·T(2u/L)² du,  T(k) = ∫_0^S K(r)·J0(kr) dr
//
// because the field at the middle takes of any charge only its mean round the axis,
// and a stationary field is a sum of waves. T(0) is [BareFaceFactor]. Derived here;
// the rings by the same integral equation, with 64 nodes.
//
// Limits: L → ∞ gives the bare face's factor, above 1; patches small against the
// face are seen as a guarded face sees them, so that on one and the same goods the
// spread over the mean is less than with a guarded one; L → 0 on a wide face gives
// L/(d·√8). The error is below 1e-3 for faces up to ten distances wide. NaN unless all
// lengths are positive and finite and the sheet is at most 250 distances wide. It takes
// some milliseconds.
func BarePatchShare(correlation, face, sheet, distance, gap units.Length) float64 { // [1]
	L, b, S, d, h := float64(correlation), float64(face), float64(sheet), float64(distance), float64(gap)
	if !(L > 0 && b > 0 && S > 0 && d > 0 && h > 0 && S <= widest*d) || math.IsInf(L+b+h, 1) {
		return math.NaN()
	}
	b = min(b, 2*(d+h)/narrowest)
	r, k := bareRings(b, S, d, h)
	a := 2 * d / L
	// As for a guarded face, but no wave that the rings do not resolve: T falls as e^(−kd), so that
	// what lies beyond kd = 8 is 2e-6 of the square of the share.
	top := min(40/(a+math.Sqrt(a*a+40)), 8/a)
	rule := patchRule.Get()
	var sum float64
	for i, x := range rule[0] {
		u := x * x * top
		var t float64
		for j, at := range r {
			t += k[j] * math.J0(2*u/L*at)
		}
		sum += rule[1][i] * 2 * x * u * numeric.Exp(-u*u) * t * t
	}
	return math.Sqrt(2 * sum * top)
}

// bareRings returns radii of rings of the sheet and the field at the middle of the
// disc by each, K(r)·Δr.
func bareRings(b, S, d, h float64) (radius, field []float64) { // [m]; [1]
	weights, zero := centreWeights(b, d+h)
	disc, panel := patchDiscRule.Get(), panelRule.Get()
	panels := int(math.Ceil(S / (4 * d)))
	width := S / float64(panels)
	radius = make([]float64, 0, panels*panelNodes)
	field = make([]float64, 0, panels*panelNodes)
	for p := range panels {
		for i, x := range panel[0] {
			r := (float64(p) + x) * width
			// Re F(it) of the ring and of its image, as in BareFaceFactor.
			rhs := func(t float64) float64 {
				return -r / (2 * math.Pi) * (reInverseRoot(r, d, t*b) - reInverseRoot(r, d+2*h, t*b))
			}
			e := zero * rhs(0)
			for j, w := range weights {
				e += w * rhs(disc[0][j])
			}
			near, far := math.Hypot(r, d), math.Hypot(r, d+2*h)
			e += r / 2 * (d/(near*near*near) - (d+2*h)/(far*far*far))
			radius = append(radius, r)
			field = append(field, e*panel[1][i]*width)
		}
	}
	return radius, field
}

// reInverseRoot returns Re 1/√(s² + (z+it)²).
func reInverseRoot(s, z, t float64) float64 { // [1/m]
	return reRoot(s, z, t) / math.Hypot(s*s+z*z-t*t, 2*z*t)
}

// reRoot returns Re √(s² + (z+it)²).
func reRoot(s, z, t float64) float64 { // [m]
	p, q := s*s+z*z-t*t, 2*z*t
	m := math.Hypot(p, q)
	if p >= 0 {
		return math.Sqrt((m + p) / 2)
	}
	return math.Abs(q) / math.Sqrt(2*(m-p))
}

// centreWeights returns the field at the middle of the disc of radius b at the height
// H over an earthed plane, −own + image of [discField], as weights of the right side
// at the nodes and at 0: the equation is solved once, transposed.
func centreWeights(b, H float64) (w [patchDisc]float64, zero float64) { // [1/m]
	const n = patchDisc
	rule := patchDiscRule.Get()
	x, q := &rule[0], &rule[1]
	k := 2 * H / b
	kernel := func(t, s float64) float64 {
		return k / math.Pi * (1/(k*k+(t-s)*(t-s)) + 1/(k*k+(t+s)*(t+s)))
	}
	all := 1.0
	for j := range n {
		all += q[j] / (x[j] * x[j])
	}
	var a [n][n + 1]float64
	for i := range n {
		s2 := x[i] * x[i]
		for j := range n {
			a[i][j] = -kernel(x[j], x[i]) * q[i]
		}
		a[i][i]++
		a[i][n] = -all*kernel(0, x[i])*q[i] + q[i]/s2 - q[i]*(k*k-s2)/((k*k+s2)*(k*k+s2))
	}
	for c := range n { // without pivoting, as in discField
		for r := c + 1; r < n; r++ {
			f := a[r][c] / a[c][c]
			for j := c; j <= n; j++ {
				a[r][j] -= f * a[c][j]
			}
		}
	}
	for i := n - 1; i >= 0; i-- {
		v := a[i][n]
		for j := i + 1; j < n; j++ {
			v -= a[i][j] * w[j]
		}
		w[i] = v / a[i][i]
	}
	for i := range w {
		w[i] *= 2 / b
	}
	return w, -2 / b * all
}
