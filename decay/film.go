package decay

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// FilmModes returns the two relaxation times of a film in a free span for a
// charge that varies along it with the given wavelength, by bulk conduction
// only, with k = 2π/λ and thickness d:
//
//	even (net charge):       τ = ρ·ε0·[εr + coth(kd/2)]
//	odd (faces opposite):    τ = ρ·ε0·[εr + tanh(kd/2)]
//
// Bulk conduction in a free span pairs the two faces, in about ε0·εr·ρ; the net
// charge stays: its time grows without limit with λ/d. For a film of 20 µm and
// λ = 1 m it is about 7000 times ε0·εr·ρ. [NewFloatingFilm] adds surface
// conduction, also unequal on the two faces.
//
// Source: Laplace's equation in the film and in the air on both sides, charge
// conservation on each face.
func FilmModes(film Layer, wavelength units.Length) (even, odd units.Time, err error) {
	if err = errors.Join(film.Check("film"), known.Positive("wavelength", wavelength)); err != nil {
		nan := units.Time(math.NaN())
		return nan, nan, err
	}
	th := numeric.Tanh(math.Pi * float64(film.Thickness) / float64(wavelength)) // tanh(kd/2) [1]
	tau := units.Epsilon0 * float64(film.Resistivity)                           // [s]
	return units.Time(tau * (film.Permittivity + 1/th)), units.Time(tau * (film.Permittivity + th)), nil
}

// NoConduction stands for a face that does not conduct: the sheet resistance 0
// that a [ConductingFilm] without a value for it has. A face of zero resistance would be a
// metal and is no film.
const NoConduction units.SheetResistance = 0

// ConductingFilm is a film in air with conduction through its bulk and along its faces.
type ConductingFilm struct {
	Layer
	FaceA units.SheetResistance // of face A; [NoConduction] if it has none
	FaceB units.SheetResistance // of face B; [NoConduction] if it has none
}

// FaceMode is one way in which the charge of both faces decays together, with one
// time.
type FaceMode struct {
	Tau  units.Time // relaxation time
	A, B float64    // [1] shares of the faces, A² + B² = 1; equal signs: net charge
}

func (m FaceMode) orNaN() FaceMode {
	if m.Tau == 0 {
		nan := math.NaN()
		return FaceMode{units.Time(nan), nan, nan}
	}
	return m
}

// FloatingFilm is a film in a free span with charge on both faces that varies
// along it with one wavelength: the two-face problem
//
//	dσ/dt = −G·φ,  σ = C·φ
//	C = ε0·k·[[1 + εr·coth kd, −εr·csch kd], [−εr·csch kd, 1 + εr·coth kd]]
//	G = (k/ρ)·[[coth kd, −csch kd], [−csch kd, coth kd]] + diag(k²/ρs_A, k²/ρs_B)
//
// with k = 2π/λ, film thickness d, air on both sides and nothing earthed nearer
// than about a wavelength. A field meter sees σ_A + σ_B only; the difference
// decays separately and can outlive or undercut it.
type FloatingFilm struct {
	slow, fast FaceMode
	// σ = C·v: left[i] turns (σ_A, σ_B) into the amount of mode i.
	left [2][2]float64
}

// NewFloatingFilm returns the two modes of a film for a wavelength > 0.
func NewFloatingFilm(film ConductingFilm, wavelength units.Length) (FloatingFilm, error) {
	err := errors.Join(film.Check("film"),
		known.NotNegative("film.face_a", film.FaceA), known.NotNegative("film.face_b", film.FaceB),
		known.Positive("wavelength", wavelength))
	if err != nil {
		return FloatingFilm{}, err
	}
	k := 2 * math.Pi / float64(wavelength)                // [1/m]
	th := numeric.Tanh(0.5 * k * float64(film.Thickness)) // tanh(kd/2), coth kd ∓ csch kd = th, 1/th
	eps, rho := film.Permittivity, float64(film.Resistivity)
	g := [2]float64{}
	for i, s := range [2]units.SheetResistance{film.FaceA, film.FaceB} {
		if s != NoConduction {
			g[i] = k * k / float64(s) // [S/m²]
		}
	}
	// In the basis e = (A+B)/√2, o = (A−B)/√2 both C and the bulk part of G are
	// diagonal; unequal faces couple e and o by δ.
	ce, co := units.Epsilon0*k*(1+eps*th), units.Epsilon0*k*(1+eps/th) // [F/m²]
	ge, gO := k/rho*th, k/(rho*th)                                     // [S/m²]
	mean, delta := 0.5*(g[0]+g[1]), 0.5*(g[0]-g[1])
	// Symmetric form M = C^(−1/2)·G·C^(−1/2).
	m11, m22, m12 := (ge+mean)/ce, (gO+mean)/co, delta/math.Sqrt(ce*co)
	h := 0.5 * (m11 - m22)
	r := math.Hypot(h, m12)
	big := 0.5*(m11+m22) + r
	// The small one from the determinant, whose terms are all positive:
	// (ge+mean)(go+mean) − δ² = ge·go + mean·(ge+go) + gA·gB. No cancellation.
	small := (ge*gO + mean*(ge+gO) + g[0]*g[1]) / (ce * co) / big
	// Eigenvector of the big one: angle θ with tan 2θ = 2·m12/(m11 − m22).
	th2 := 0.5 * math.Atan2(m12, h)
	sin, cos := math.Sincos(th2)
	f := FloatingFilm{}
	se, so := math.Sqrt(ce), math.Sqrt(co)
	for i, v := range [2][2]float64{{-sin, cos}, {cos, sin}} { // slow, fast in (e, o)
		lambda := small
		if i == 1 {
			lambda = big
		}
		// σ of the mode is C^(1/2)·v; the amount of it in σ is v·C^(−1/2)·σ.
		ve, vo := se*v[0], so*v[1]
		a, b := (ve+vo)/math.Sqrt2, (ve-vo)/math.Sqrt2
		n := math.Hypot(a, b)
		if a < 0 {
			n = -n
		}
		mode := FaceMode{units.Time(1 / lambda), a / n, b / n}
		le, lo := n*v[0]/se, n*v[1]/so
		f.left[i] = [2]float64{(le + lo) / math.Sqrt2, (le - lo) / math.Sqrt2}
		if i == 0 {
			f.slow = mode
		} else {
			f.fast = mode
		}
	}
	return f, nil
}

// Slow returns the slower mode; with equal faces on a thin film the net charge.
func (f FloatingFilm) Slow() FaceMode { return f.slow.orNaN() }

// Fast returns the faster mode; with equal faces on a thin film the pairing of
// the faces.
func (f FloatingFilm) Fast() FaceMode { return f.fast.orNaN() }

// At returns the amplitudes of both faces at time t from those at the start; the
// start before t = 0, NaN for NaN.
func (f FloatingFilm) At(t units.Time,
	a, b units.SurfaceChargeDensity) (units.SurfaceChargeDensity, units.SurfaceChargeDensity) {
	switch {
	case f.slow.Tau == 0:
		return units.SurfaceChargeDensity(math.NaN()), units.SurfaceChargeDensity(math.NaN())
	case t <= 0:
		return a, b
	}
	s := (f.left[0][0]*float64(a) + f.left[0][1]*float64(b)) * numeric.Exp(-float64(t)/float64(f.slow.Tau))
	q := (f.left[1][0]*float64(a) + f.left[1][1]*float64(b)) * numeric.Exp(-float64(t)/float64(f.fast.Tau))
	return units.SurfaceChargeDensity(f.slow.A*s + f.fast.A*q), units.SurfaceChargeDensity(f.slow.B*s + f.fast.B*q)
}

// Net returns the decay of the net charge σ_A + σ_B, which is what a field meter
// sees, from the given start on each face. It fails if the start has no net
// charge. The fraction can rise above 1 or change sign: pairing hides and shows
// charge without moving any to earth.
func (f FloatingFilm) Net(a, b units.SurfaceChargeDensity) (Function, error) {
	if f.slow.Tau == 0 {
		return nil, notMade("FloatingFilm")
	}
	if err := errors.Join(known.Finite("a", a), known.Finite("b", b)); err != nil {
		return nil, err
	}
	start := a + b
	if start == 0 {
		return nil, known.Wrong("b", start, "a net charge other than 0")
	}
	return func(t units.Time) float64 {
		x, y := f.At(t, a, b)
		return float64(x+y) / float64(start)
	}, nil
}
