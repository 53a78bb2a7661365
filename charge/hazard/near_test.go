package hazard

import "math"

func near(got, want, rel float64) bool { return math.Abs(got-want) <= rel*math.Abs(want) }
