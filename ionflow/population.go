package ionflow

import (
	"example.org/pithball/units"
)

// Recombine returns the density of each polarity after time t, when equal
// densities n0 of both recombine and nothing else happens:
//
//	n = n0/(1 + α·n0·t)
//
// so that n stays below 1/(αt) whatever the source. n0, α and t must be 0 or
// more; NaN gives NaN.
//
// Source: J. J. Thomson and E. Rutherford, "On the passage of electricity through
// gases exposed to Röntgen rays", Phil. Mag. 42 (1896) 392.
func Recombine(n0 units.NumberDensity, alpha units.RecombinationCoefficient, t units.Time) units.NumberDensity {
	return n0 / units.NumberDensity(1+float64(alpha)*float64(n0)*float64(t)) // α n0 t is a pure number
}
