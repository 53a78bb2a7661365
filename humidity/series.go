package humidity

import (
	"math"

	"example.org/pithball/internal/numeric"
)

// axis is one direction of a [Body] with the terms of its series: half a slab of
// thickness 2l, or a cylinder of radius l.
type axis struct {
	l, d   float64 // [m], [m²/s]
	rate   float64 // [1/s] D/l²
	round  bool
	open   bool // no film resistance
	zeta   []float64
	weight []float64 // of the mean
	centre []float64 // of the centre
}

const (
	diffusionTerms = 200
	shortFo        = 1e-3 // [1] below it closed forms replace the slowly converging series
)

// slab finds the terms of half a slab of thickness 2l [m] whose face has the Biot
// number bi, +Inf for an open one.
func slab(l, d, bi float64) axis {
	a := axis{l: l, d: d, rate: d / (l * l), open: math.IsInf(bi, 1)}
	if d == 0 {
		return a
	}
	for n := range diffusionTerms {
		if a.open {
			z := (float64(n) + 0.5) * math.Pi
			a.add(z, 2/(z*z), 2*math.Sin(z)/z)
			continue
		}
		// One root of ζ sin ζ = Bi cos ζ in each (nπ, nπ + π/2).
		z := root(float64(n)*math.Pi, (float64(n)+0.5)*math.Pi, func(z float64) float64 {
			return z*math.Sin(z) - bi*math.Cos(z)
		})
		a.add(z, 2*bi*bi/(z*z*(z*z+bi*bi+bi)), 2*math.Sin(z)/(z+math.Sin(z)*math.Cos(z)))
	}
	return a
}

// cylinder finds the terms of a cylinder of radius l [m].
func cylinder(l, d, bi float64) axis {
	a := axis{l: l, d: d, rate: d / (l * l), round: true, open: math.IsInf(bi, 1)}
	if d == 0 {
		return a
	}
	for n := range diffusionTerms {
		// Zeros of J₀ and J₁ interlace; McMahon's first term brackets them.
		j0 := root((float64(n)+0.5)*math.Pi, (float64(n)+1)*math.Pi, math.J0)
		if a.open {
			a.add(j0, 4/(j0*j0), 2/(j0*math.J1(j0)))
			continue
		}
		lo := 0.0
		if n > 0 {
			lo = root(float64(n)*math.Pi, (float64(n)+0.5)*math.Pi, math.J1)
		}
		z := root(lo, j0, func(z float64) float64 { return z*math.J1(z) - bi*math.J0(z) })
		a.add(z, 4*bi*bi/(z*z*(z*z+bi*bi)), 2*math.J1(z)/(z*(math.J0(z)*math.J0(z)+math.J1(z)*math.J1(z))))
	}
	return a
}

func (a *axis) add(z, mean, centre float64) {
	a.zeta = append(a.zeta, z)
	a.weight = append(a.weight, mean)
	a.centre = append(a.centre, centre)
}

// root finds the one sign change of f in [lo, hi].
func root(lo, hi float64, f func(float64) float64) float64 {
	z, err := numeric.Brent(f, lo, hi, 0, 1e-15)
	if err != nil {
		return math.NaN()
	}
	return z
}

// mean returns the unaccomplished share of the mean of the axis after t [s]. At
// short times an open one is 1 − 2√(Fo/π) (slab) or 1 − 4√(Fo/π) + Fo + Fo√(Fo/π)/3
// (cylinder).
func (a *axis) mean(t float64) float64 {
	fo := a.rate * t
	switch {
	case fo == 0:
		return 1
	case fo < shortFo && a.open && a.round:
		r := math.Sqrt(fo / math.Pi)
		return 1 - 4*r + fo + fo*r/3
	case fo < shortFo && a.open:
		return 1 - 2*math.Sqrt(fo/math.Pi)
	}
	return a.sum(fo, func(n int) float64 { return a.weight[n] })
}

// at returns the unaccomplished share after t [s] at a distance of pos times l from
// the middle. At short times an open slab is erf[(1 − pos)/(2√Fo)], an open cylinder
// 1 − erfc[(1 − pos)/(2√Fo)]/√pos, and the middle has not moved.
func (a *axis) at(t, pos float64) float64 {
	fo := a.rate * t
	switch {
	case fo == 0 && pos < 1:
		return 1
	case a.open && pos >= 1:
		if fo == 0 && a.rate == 0 {
			return 1
		}
		return 0
	case fo == 0:
		return 1
	case fo < shortFo && a.open && a.round && pos > 0:
		return 1 - numeric.Erfc((1-pos)/(2*math.Sqrt(fo)))/math.Sqrt(pos)
	case fo < shortFo && a.open:
		return numeric.Erf((1 - pos) / (2 * math.Sqrt(fo)))
	case fo < shortFo && pos == 0:
		return 1
	}
	return a.sum(fo, func(n int) float64 {
		if a.round {
			return a.centre[n] * math.J0(a.zeta[n]*pos)
		}
		return a.centre[n] * math.Cos(a.zeta[n]*pos)
	})
}

func (a *axis) sum(fo float64, weight func(n int) float64) float64 {
	var s float64
	for i := len(a.zeta) - 1; i >= 0; i-- {
		if x := a.zeta[i] * a.zeta[i] * fo; x < 700 {
			s += weight(i) * numeric.Exp(-x)
		}
	}
	return math.Min(1, math.Max(0, s))
}
