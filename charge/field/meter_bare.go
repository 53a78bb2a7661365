package field

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/integrate/quad"

	"example.org/pithball/internal/lazy"
	"example.org/pithball/units"
)

// discNodes is the number of Gauss nodes on the radius of the face.
const discNodes = 24 // [1]

// narrowest is the least κ = 2H/b that discNodes resolves to 1e-4; a face that
// is wider than 2H/narrowest is as good as an endless one.
const narrowest = 0.15 // [1]

var discRule = lazy.Value[*[2][discNodes]float64]{Make: func() *[2][discNodes]float64 {
	var r [2][discNodes]float64
	quad.Legendre{}.FixedLocations(r[0][:], r[1][:], 0, 1)
	return &r
}}

// BareFaceFactor returns the field at the middle of a bare earthed disc over
// σ/ε0. The disc of radius b stands for the face of a meter without guard, at
// the distance d from a charged sheet of radius S that lies at the gap h over an
// endless earthed plane:
//
//	Φ(r) = 2∫_0^r g(t)/√(r²−t²) dt,  g(t) − (1/π)∫_{−1}^{1} κ g(s)/(κ²+(t−s)²) ds = −Re F(it)/π,  κ = 2(d+h)/b
//
// Φ is the potential of the charge on the disc, F the potential of the sheet and
// of its image on the axis, continued to complex distance; lengths in units of b
// (Love 1949, Quart. J. Mech. Appl. Math. 2, 428, for two discs; the right side
// for a given outer potential by Abel inversion, derived here). The integral
// equation is solved with 24 Gauss nodes; the field of the front side is that
// of the charge, of its image and of the sheet at the centre.
//
// A bare face shows more than a wide one, because the potential of the whole
// sheet drives field lines to it: with S = 0.6 m, d = 25 mm, b = 35 mm it is 1.78,
// 3.5 and 5.0 for h of 0.1, 0.3 and 1 m, where [FieldFactor] is 0.80, 0.92, 0.98.
// So its display depends on the size of the sheet and on the room; nobody should
// turn it into a charge density without a comparison on the spot.
//
// The face has no thickness and no handle; the error of the model is that, not
// that of the method, which is below 1e-4 for b <= 30·d (compared with 200 nodes). Faces wider than 13·(d+h) are
// computed as 13·(d+h). An argument that is not positive and finite gives NaN. It allocates nothing
// and takes some microseconds.
func BareFaceFactor(face, sheet, distance, gap units.Length) float64 { // [1]
	b, S, d, h := float64(face), float64(sheet), float64(distance), float64(gap)
	if !(b > 0 && S > 0 && d > 0 && h > 0) || math.IsInf(b+S+d+h, 1) {
		return math.NaN()
	}
	b = min(b, 2*(d+h)/narrowest)
	// Re F(it)/σ·2ε0 with the sheet at d and its image at e = d+2h.
	e := d + 2*h
	rhs := func(t float64) float64 { return -rePotential(S, d, e, h, t*b) / (2 * math.Pi) }
	own, image := discField(b, d+h, rhs)
	// (e/√(S²+e²) − d/√(S²+d²))/2 without the difference: the sheet may be small, or near its image.
	rd, re := math.Hypot(S, d), math.Hypot(S, e)
	outer := S / rd * (S / re) * 2 * h * (d + h) / (e*rd + d*re)
	return -own + image + outer
}

// rePotential returns Re(√(S² + D²) − √(S² + E²)) + 2h with D = d+it, E = e+it,
// e = d+2h. With A = √(S²+D²) + D, B so from E, it is
// 2h·S²·Re((1/A + 1/B)/(√(S²+D²) + √(S²+E²))): all real parts are positive, and
// nothing cancels where the sheet is small or lies near its image.
func rePotential(s, d, e, h, t float64) float64 { // [m]
	one, two := complex(d, t), complex(e, t)
	// S²+D² as (D+iS)(D−iS), whose factors lose nothing.
	r1, r2 := cmplx.Sqrt(complex(d, t+s)*complex(d, t-s)), cmplx.Sqrt(complex(e, t+s)*complex(e, t-s))
	return 2 * h * s * real(complex(s, 0)*(1/(r1+one)+1/(r2+two))/(r1+r2))
}

// bareCalibration returns the field at the middle of a bare disc at the
// distance d0 from a wide plate at 1 V, times d0: above 1, because the disc
// gathers field at its edge.
func bareCalibration(b, d0 float64) float64 { // [1]; b, d0 [m]
	b = min(b, 2*d0/narrowest)
	// The plate at 1 V and the disc at 0 is the disc at −1 V before an earthed
	// plate, seen from the plate's side.
	own, image := discField(b, d0, func(float64) float64 { return -1 / math.Pi })
	return d0 * (-own + image)
}

// discField solves Love's equation with the image of opposite sign for the disc
// of radius b at the height H over an earthed plane, with right side rhs(t) for t
// in units of b, and returns the outward field of the disc's own charge at its
// centre and the field of its image there along the axis away from the plane.
func discField(b, H float64, rhs func(float64) float64) (own, image float64) { // b, H [m]; fields [rhs/m]
	const n = discNodes
	rule := discRule.Get()
	x, w := &rule[0], &rule[1]
	k := 2 * H / b
	kernel := func(t, s float64) float64 {
		return k / math.Pi * (1/(k*k+(t-s)*(t-s)) + 1/(k*k+(t+s)*(t+s)))
	}
	var a [n][n + 1]float64
	for i := range n {
		for j := range n {
			a[i][j] = -kernel(x[i], x[j]) * w[j]
		}
		a[i][i]++
		a[i][n] = rhs(x[i])
	}
	// Elimination without pivoting: the operator has norm (2/π)·atan(1/κ) < 1, so
	// the matrix is diagonally dominant up to quadrature error.
	for c := range n {
		for r := c + 1; r < n; r++ {
			f := a[r][c] / a[c][c]
			for j := c; j <= n; j++ {
				a[r][j] -= f * a[c][j]
			}
		}
	}
	var g [n]float64
	for i := n - 1; i >= 0; i-- {
		v := a[i][n]
		for j := i + 1; j < n; j++ {
			v -= a[i][j] * g[j]
		}
		g[i] = v / a[i][i]
	}
	g0 := rhs(0)
	for j := range n {
		g0 += kernel(0, x[j]) * w[j] * g[j]
	}
	own = g0
	for j := range n {
		s2 := x[j] * x[j]
		own -= w[j] * (g[j] - g0) / s2
		image -= w[j] * g[j] * (k*k - s2) / ((k*k + s2) * (k*k + s2))
	}
	return 2 * own / b, 2 * image / b
}
