package ionflow

import "example.org/pithball/units/compute"

func solveComputations() []compute.Entry { return nil }
