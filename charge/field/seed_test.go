package field_test

import "flag"

// The drawn tests start from one seed, so that a run repeats; -rapid.seed=0 draws
// anew, and the fuzz targets explore.
func init() { _ = flag.Set("rapid.seed", "1") }
