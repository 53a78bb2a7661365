package humidity

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"example.org/pithball/units/known"
)

// SampleDecades is the standard deviation of log10 of a resistivity from sample
// to sample where nothing else is known, 0.304: a 5 to 95 % band of ±0.5 decade.
// Common practice, no source. [1]
const SampleDecades = 0.5 / known.Z95

// FitSettings are the choices of a fit. The zero value lets the points speak.
type FitSettings struct {
	// Scatter is the standard deviation of log10 of a single test where earlier
	// tests have fixed it, 0 … 3. 0: three or more points tell it by their
	// residuals, and the band is Student's with n − 2 degrees of freedom: wide for
	// three points (a factor of 3.8 in decades against a known scatter), because
	// three points say little about their own scatter. Two points leave no
	// residual and take [SampleDecades]. A stated scatter that the points
	// contradict (χ² beyond its 99.9 % quantile) is refused. [1]
	Scatter float64
	// BetweenSamples is the standard deviation of log10 from sample to sample
	// where all points come from one and the same specimen, so that the points do
	// not show it; 0 … 3. It is added in quadrature. 0 if each point is a sample
	// of its own. [1]
	BetweenSamples float64
}

func (s *FitSettings) filled() (FitSettings, error) {
	if s == nil {
		return FitSettings{}, nil
	}
	return *s, errors.Join(known.InRange("settings.scatter", s.Scatter, 0, 3),
		known.InRange("settings.between_samples", s.BetweenSamples, 0, 3))
}

// leastScatter is the least scatter that points are taken to have, a reading error
// of 5 %: three of them can lie on a line by chance. [1]
const leastScatter = 0.02

// slopeDoubt is the relative standard deviation that a stated slope has outside
// the range it stands for: common practice, no source. [1]
const slopeDoubt = 0.3

// spread tells the spread of log10 of a prediction by a straight line at an
// abscissa x. The zero value gives NaN.
type spread struct {
	one     float64 // [1] of one test, Student's factor included
	between float64 // [1] from sample to sample
	x, n    float64 // mean of the abscissas, number of points; n = 0 for a stated law
	sxx     float64 // Σ(x − mean)²
	slope   float64 // decades per unit of x
	lo, hi  float64 // range of x
	made    bool
}

// statedSpread is that of a law that was stated with its spread between lo and hi.
func statedSpread(decades, slope, lo, hi float64) spread {
	return spread{one: decades, slope: slope, lo: lo, hi: hi, made: true}
}

// at returns the spread at x: for a fit s·t·√(1 + 1/n + (x − mean)²/Sxx), for a
// stated law its spread with 30 % of what the value changes outside its range.
func (s spread) at(x float64) float64 {
	if !s.made {
		return math.NaN()
	}
	if s.n == 0 {
		out := math.Max(0, math.Max(s.lo-x, x-s.hi))
		return math.Hypot(s.one, slopeDoubt*s.slope*out) + 0*x
	}
	dx := x - s.x
	return math.Hypot(s.one*math.Sqrt(1+1/s.n+dx*dx/s.sxx), s.between)
}

// ofSlope returns the spread of the slope, decades per unit of x; 0 for a stated law.
func (s spread) ofSlope() float64 {
	if !s.made {
		return math.NaN()
	}
	if s.n == 0 {
		return 0
	}
	return s.one / math.Sqrt(s.sxx)
}

func (s spread) validity(x float64) known.Validity {
	if !s.made {
		return known.WrongShape
	}
	return rangeOf(x, s.lo, s.hi)
}

// line is a straight line y + slope·(x − spread.x) with its spread.
type line struct {
	y, slope float64
	spread
}

// fitLine fits log10 values y against x by least squares.
func fitLine(x, y []float64, settings FitSettings, field string) (line, error) {
	f := line{spread: spread{n: float64(len(x)), between: settings.BetweenSamples, lo: math.Inf(1), hi: math.Inf(-1),
		made: true}}
	for i := range x {
		f.x += x[i] / f.n
		f.y += y[i] / f.n
		f.lo, f.hi = math.Min(f.lo, x[i]), math.Max(f.hi, x[i])
	}
	var sxy, syy float64
	for i := range x {
		dx, dy := x[i]-f.x, y[i]-f.y
		f.sxx += dx * dx
		sxy += dx * dy
		syy += dy * dy
	}
	if !(f.hi > f.lo) || !(f.sxx > 1e-12*math.Max(f.x*f.x, 1e-12)) {
		return line{}, known.Wrong(field, f.lo, "at least two different values")
	}
	f.slope = sxy / f.sxx
	f.spread.slope = f.slope
	rest, dof := math.Max(0, syy-f.slope*sxy), f.n-2
	switch {
	case settings.Scatter > 0:
		f.one = settings.Scatter
		if dof > 0 && (distuv.ChiSquared{K: dof}).Survival(rest/(f.one*f.one)) < 1e-3 {
			return line{}, known.Wrong("settings.scatter", settings.Scatter,
				fmt.Sprintf("at least the scatter that the points show, about %.2g decades", math.Sqrt(rest/dof)))
		}
	case dof > 0:
		f.one = math.Max(leastScatter, math.Sqrt(rest/dof)*distuv.StudentsT{Sigma: 1, Nu: dof}.Quantile(0.95)/known.Z95)
	default:
		f.one = SampleDecades
	}
	return f, nil
}

// pointsOf collects the abscissas f(p) and the logarithms of checked points.
func pointsOf[P interface{ check(field string) error }](points []P, x func(P) float64, v func(P) float64) (xs,
	ys []float64, err error) {
	if len(points) < 2 {
		err = known.Wrong("points", len(points), "two or more")
	}
	for i, p := range points {
		err = errors.Join(err, p.check(fmt.Sprintf("points[%d]", i)))
		xs, ys = append(xs, x(p)), append(ys, math.Log10(v(p)))
	}
	return xs, ys, err
}

// fitPoints is pointsOf and fitLine.
func fitPoints[P interface{ check(field string) error }](points []P, settings *FitSettings, field string, x,
	v func(P) float64) (line, error) {
	s, err := settings.filled()
	xs, ys, err2 := pointsOf(points, x, v)
	if err = errors.Join(err, err2); err != nil {
		return line{}, err
	}
	return fitLine(xs, ys, s, "points[]."+field)
}
