//go:build !unix

package survey_test

import "time"

var began = time.Now()

// processor is the time of the wall where there is no other.
func processor() time.Duration { return time.Since(began) }
