package charge

import "example.org/pithball/units/compute"

func transferComputations() []compute.Entry { return nil }
