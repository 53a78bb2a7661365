package decay

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
)

// Finding is a doubt about a fit or a comparison of fits.
type Finding uint8

// The findings.
const (
	// LawsAlike: another law fits so well that the readings cannot tell (AICc
	// within 4 of the best). A law that has collapsed into the best one
	// ([Fit.CollapsedInto]) is no other law.
	LawsAlike Finding = iota + 1
	// HyperbolaProvesNothing: the best law is a hyperbola or a power law, its order n
	// in (1 + t/t0)^(−n) is near 1 to 2, and an exponential is ruled out. Plain ohmic spreading on a free sheet reads the
	// same under a probe (order 1 over a line of charge, 2 over a spot), so that no mobility and no
	// trapping follows from it. Repeat at two or three start voltages: a linear
	// leak keeps its time, a mobility law does not.
	HyperbolaProvesNothing
	// RecordShort: the fitted voltage does not fall to 1/e of the first one within
	// the record.
	RecordShort
	// LateStart: by the fitted law more than a tenth of the decay was over at the
	// first reading; faster processes are hidden.
	LateStart
	// ClockLate: a law that was on its way before t = 0 fits better than every law
	// that starts there: the charge was deposited before the clock was started. Fit
	// again with StartTime.
	ClockLate
	// AtBound: a parameter ended at the limit of its range, where the law turns
	// into a simpler one.
	AtBound
	// Undetermined: the readings do not determine a parameter.
	Undetermined
	// PoorFit: with noise of the stated size such residuals have a chance below
	// 1 in 1000.
	PoorFit
	// PatternedResiduals: neighbouring residuals are more alike than chance makes
	// them once in 100 records: another law, or a drift of the meter.
	PatternedResiduals
	findings
)

// The names of the findings as text, and what they say.
var findingNames = [findings]string{
	LawsAlike: "laws alike", HyperbolaProvesNothing: "hyperbola proves nothing", RecordShort: "record short",
	LateStart: "late start", ClockLate: "clock late", AtBound: "at bound", Undetermined: "undetermined",
	PoorFit: "poor fit", PatternedResiduals: "patterned residuals",
}

var findingTexts = [findings]string{
	LawsAlike: "the readings cannot tell the best laws apart",
	HyperbolaProvesNothing: "a hyperbola fits, which does not prove mobility or trapping: " +
		"ohmic spreading on a free sheet reads the same",
	RecordShort:        "the readings do not reach 1/e of the first one",
	LateStart:          "a good part of the decay was over at the first reading",
	ClockLate:          "the clock was started after the charge was deposited",
	AtBound:            "a parameter ended at the limit of its range",
	Undetermined:       "the readings do not determine a parameter",
	PoorFit:            "the residuals are too large for the stated noise",
	PatternedResiduals: "the residuals follow a pattern",
}

// String returns the finding in words, or "Finding(n)".
func (x Finding) String() string { return enum.Name("Finding", findingTexts[:], x) }

// MarshalText writes the short name of the finding, such as "record short"; a
// value without one is a [*known.FieldError].
func (x Finding) MarshalText() ([]byte, error) { return enum.Write("finding", findingNames[:], x) }

// UnmarshalText reads a short name; anything else is a [*known.FieldError] and
// leaves the value as it was.
func (x *Finding) UnmarshalText(b []byte) error { return enum.Read("finding", findingNames[:], b, x) }

// judge adds the findings that one fit shows by itself.
func (f *Fit) judge() {
	n := len(f.v)
	first, last := f.fitted[0], f.fitted[n-1]
	if math.Abs(last/first) > 1/math.E {
		f.add(RecordShort)
	}
	if a := f.law.Fraction(units.Time(f.t[0]) + f.Start()); a < 0.9 {
		f.add(LateStart)
	}
	chi2 := distuv.ChiSquared{K: float64(f.dof)}
	if f.settings.Known && !f.settings.Robust && chi2.Survival(f.Chi2()) < 1e-3 {
		f.add(PoorFit)
	}
	// Φ(−2.33) = 0.01; for fewer readings the score is not Gaussian. At 0.001 40
	// readings correlated by 0.7 would pass unnoticed in a fourth of the records.
	if f.regular && n >= 20 && pattern(f.moving, f.jac, f.inverse, n, len(f.x)) > 2.33 {
		f.add(PatternedResiduals)
	}
}

// pattern returns the standard score of the correlation of neighbouring
// residuals e, r = Σ e_i·e_(i+1)/Σ e_i²: positive for slow patterns. Mean and
// variance are the exact ones for independent Gaussian errors: with A the matrix
// of r and M = 1 − J·F⁻¹·Jᵀ that of the residuals,
//
//	mean = tr(MA)/ν,  variance = 2·[ν·tr((MA)²) − tr(MA)²]/(ν²·(ν + 2))
//
// jac is J (n×m, weighted), inverse F⁻¹.
//
// Source: J. Durbin and G. S. Watson, Biometrika 37 (1950) 409.
func pattern(e, jac, inverse []float64, n, m int) float64 { // [1]
	b, c := make([]float64, m*m), make([]float64, m*m) // JᵀAJ, JᵀA²J
	side := make([]float64, m)                         // a row of AJ
	r, ss := 0.0, 0.0
	for i := range n {
		row := jac[i*m : i*m+m]
		clear(side)
		ss += e[i] * e[i]
		if i > 0 {
			r += e[i] * e[i-1]
			for j, v := range jac[i*m-m : i*m] {
				side[j] += 0.5 * v
			}
		}
		if i < n-1 {
			for j, v := range jac[i*m+m : i*m+2*m] {
				side[j] += 0.5 * v
			}
		}
		for j, v := range row {
			for k := range m {
				b[j*m+k] += v * side[k]
				c[j*m+k] += side[j] * side[k]
			}
		}
	}
	fb, fc := make([]float64, m*m), make([]float64, m*m)
	product(fb, inverse, b, m)
	product(fc, inverse, c, m)
	mean, square := 0.0, 0.5*float64(n-1)
	for j := range m {
		mean -= fb[j*m+j]
		square -= 2 * fc[j*m+j]
		for k := range m {
			square += fb[j*m+k] * fb[k*m+j]
		}
	}
	nu := float64(n - m)
	variance := 2 * (nu*square - mean*mean) / (nu * nu * (nu + 2))
	if !(variance > 0) || !(ss > 0) {
		return 0
	}
	return (r/ss - mean/nu) / math.Sqrt(variance)
}
