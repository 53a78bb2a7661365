package ionflow

import "example.org/pithball/units/compute"

func quickComputations() []compute.Entry { return nil }
