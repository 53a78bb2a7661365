package known

// Origin is what every row of a shipped table carries.
type Origin struct {
	Source    Source `json:"source"`    // where the value was found
	Condition string `json:"condition"` // under which the value was measured
	Licence   string `json:"licence"`   // of the work that the value was taken from
}

// FactsOnly is the licence of single figures that are quoted from a work that is
// not openly licensed.
const FactsOnly = "facts only"
