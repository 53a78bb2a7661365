package ionflow

import "example.org/pithball/units/compute"

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry { return quickComputations() }
