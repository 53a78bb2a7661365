package ionflow

import (
	"example.org/pithball/internal/caution"
	"example.org/pithball/units/known"
)

// AirNotices returns the caution that goes with any use of compressed air, and its noise.
func AirNotices() []known.Notice { return []known.Notice{caution.Of(caution.CompressedAir, "")} }

// PassiveNotices returns the cautions that go with any use of passive points: they are a
// corona, and points that lose their earth are an isolated conductor.
func PassiveNotices() []known.Notice {
	return []known.Notice{caution.Of(caution.IsolatedConductor, ""), caution.Of(caution.IoniserZone, "")}
}
