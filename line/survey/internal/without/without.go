// Package without takes single ingredients out of the diagnosis, for the table of what
// each of them is worth. Only a build with the tag ablate can: in every other one [Is] is
// false as a constant, which the compiler takes out with all that hangs on it.
package without

// Ingredient is a part of the model of a diagnosis.
type Ingredient uint8

// The ingredients.
const (
	Nothing        Ingredient = iota
	FacePatches               // spots scatter with the charge of each face, not with the net display
	Stripes                   // repeats share stripes that stay with the web
	FoundScatter              // scatter as found, not as described
	ContactDoubt              // what the description says of a contact may be wrong
	Layers                    // a contact of both faces may make a double layer
	CalmShare                 // how calm the contacts are is learnt
	ReadingDoubt              // a reading may be wrong
	UnlistedSource            // a span may hide a source
	SharedErrors              // gain, offset, place and film are shared by the readings
	Misfit                    // readings that disagree widen the bands
	Explanations              // other explanations beside the best one
	RareSecond                // sources of like size are rare
	EvidenceAsked             // a name asks for evidence, not for a wide prior
	Survival                  // a name survives leaving out any one reading
	Spots                     // the scatter of the spots of a place speaks of what its faces hold
	Count
)

var names = [Count]string{
	"nothing", "patches of each face", "stripes of repeats", "scatter as found", "doubt of contacts", "double layers",
	"calm as learnt", "doubt of readings", "unlisted source", "shared errors", "widening by misfit", "other explanations",
	"rarity of a second", "evidence asked", "survival of a name", "scatter of spots",
}

// String returns the name of the ingredient.
func (i Ingredient) String() string {
	if i >= Count {
		return "none"
	}
	return names[i]
}
