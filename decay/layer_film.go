package decay

import (
	"errors"
	"math"

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
	th := math.Tanh(math.Pi * float64(film.Thickness) / float64(wavelength)) // tanh(kd/2) [1]
	tau := units.Epsilon0 * float64(film.Resistivity)                        // [s]
	return units.Time(tau * (film.Permittivity + 1/th)), units.Time(tau * (film.Permittivity + th)), nil
}
