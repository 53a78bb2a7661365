package gas

import (
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Counter is what a small charged part leaves.
type Counter uint8

// The counter-bodies.
const (
	OverPlane   Counter = iota // an earthed plane, in which the part has its image
	EqualSquare                // an equal part with the opposite charge
)

var counterNames = [...]string{"earthed plane", "equal square"}

// String returns the name of the counter-body, or "Counter(n)".
func (c Counter) String() string { return enum.Name("Counter", counterNames[:], c) }

// MarshalText writes the name; a value that is no counter-body is a
// [*known.FieldError].
func (c Counter) MarshalText() ([]byte, error) { return enum.Write("counter", counterNames[:], c) }

// UnmarshalText reads a name as written by String.
func (c *Counter) UnmarshalText(b []byte) error { return enum.Read("counter", counterNames[:], b, c) }

// squareRise returns ∫₀^z Ω(s) ds in m, Ω the solid angle of a square of the
// half-side h seen from the distance s on its axis. It is the potential that an
// evenly charged square loses from its centre to z, in units of σ/(4π·ε0):
//
//	8h·ln(1+√2) − 4h·ln((w+h)/(w−h)) + 4z·atan(h²/(z·w)),  w = √(2h²+z²).
func squareRise(h, z float64) float64 {
	w := math.Sqrt(2*h*h + z*z)
	// ln((w+h)/(w−h)) = 2·artanh(h/w), w² − h² = h² + z²
	return 8*h*math.Asinh(1) - 8*h*math.Asinh(h/math.Sqrt(h*h+z*z)) + 4*z*math.Atan2(h*h, z*w)
}

// CapSquare returns the greatest charge density, as a mean over the part, that an
// evenly charged square of the given side keeps while it leaves its counter-body,
// and the gap of the last discharge:
//
//	σ_max = min over z of ε0·V_b(z)/L(z),
//	L = (1/2π)·∫₀^z Ω ds between two equal squares, (1/4π)·∫₀^{2z} Ω ds over a plane,
//
// with V_b along the axis, where the field is greatest. The field of a small part
// spreads as the gap opens, so that it keeps more than a wide web: two squares of
// 5 mm keep 47 µC/m² where a web 1 mm over earth keeps 39. The same count for a
// patch of 1 mm gives 73 µC/m² against its opposite: charge is patchy, and the means
// that caps stand for do not bound the densest spot. Maps of peeled silicone
// rubber show local maxima of 72 to 95 µC/m² at means of 12 to 47 (Y. I. Sobolev et
// al., Nat. Phys., 2022).
//
// Derived from the potential of a charged square; NaN unless the side is between
// 10 µm and 1 m, the counter-body known and 0 < δ ≤ 5 [1].
func CapSquare(side units.Length, counter Counter,
	delta float64) (units.SurfaceChargeDensity, units.Length, known.Validity) { // delta [1]
	a := float64(side)
	if !(a >= 10e-6 && a <= 1) || int(counter) >= len(counterNames) || !(delta > 0 && delta <= MaxDensity) {
		return units.SurfaceChargeDensity(math.NaN()), units.Length(math.NaN()), known.WrongShape
	}
	f, y := valley(func(y float64) float64 {
		z := numeric.Exp(y)
		rise := squareRise(a/2, z) / (2 * math.Pi)
		if counter == OverPlane {
			rise = squareRise(a/2, 2*z) / (4 * math.Pi)
		}
		return air.volts(z, delta) / rise
	}, math.Log(airJoin/delta), math.Log(max(100*a, 1e-3)/delta))
	z := numeric.Exp(y)
	return units.SurfaceChargeDensity(units.Epsilon0 * f), units.Length(z), gapValidity(z, delta)
}

// valley returns the least value of f between lo and hi and where it is met: a
// coarse walk finds the valley, a golden section its foot.
func valley(f func(float64) float64, lo, hi float64) (least, at float64) {
	const steps = 64
	best, k := f(lo), 0
	for i := 1; i <= steps; i++ {
		if q := f(lo + (hi-lo)*float64(i)/steps); q < best {
			best, k = q, i
		}
	}
	y := lo + (hi-lo)*float64(k)/steps
	if k > 0 || f(lo+1e-6) < best {
		w := (hi - lo) / steps
		l, r := lo+w*math.Max(float64(k-1), 0), lo+w*float64(min(k+1, steps))
		const golden = 0.61803398874989484820
		for r-l > 1e-9 {
			p, q := r-golden*(r-l), l+golden*(r-l)
			if f(p) < f(q) {
				r = q
			} else {
				l = p
			}
		}
		if q := f((l + r) / 2); q < best {
			best, y = q, (l+r)/2
		}
	}
	return best, y
}
