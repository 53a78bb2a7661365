// Package cure goes from a diagnosis to a decision: what to change on a line and
// what that brings at every station.
//
//	Calibrate (a diagnosis) or Assume (a description) ──▶ Calibrated: many lines that fit
//	Calibrated.Try        the line with changes; nothing is changed in place
//	Calibrated.Predict    faces, net, display and chances over the limit at each station
//	Calibrated.Plan       the order of cures, what is refused, what happens if one fails
//	NewRoute (goods)      sheets, parts, profiles and doses: Sources (the verdict), Predict, Try, Plan, Keep
//
// # How it answers
//
// A survey of one state fixes what each contact changed, not how it answers to
// another arriving charge. The calibrated line is therefore a set of [Draws] lines:
// the changes come from the posterior of the survey, the exposure of each contact,
// its exponent of speed and the law of each ioniser from their priors, and the
// strength of each contact is solved so that every line matches the survey. What one
// draw of a station is depends on the seed, its number, the quantity and the name of
// the station only: adding a bar moves no other draw, so that a difference between
// two cures carries no noise of sampling, and the bits are the same on any number
// of goroutines.
//
// The walk is a quick form of [line.Line.RunTo] (a test holds it to that). A bar whose
// maker's data the description has is its characteristic curve (package ioniser) at its
// place, times one factor that each draw takes from the readings before and behind it;
// at another speed, place, distance, air or charge it is the curve of that, and the
// factor moves with the error of the curve's shape, as far as a two-dimensional
// reference that does not share its assumptions shows one. A bar that nobody has read,
// and a new one, has its factor within the accuracy of the model. The flags of the curve
// stand at the bar in every prediction.
//
// A bar without data goes by its measured share, and is flagged an estimate: the
// strength κ of one that takes the share s of the net at a place with the field factor f
// is −ln(1−s)/f. Moved to another place it takes 1 − e^(−κf'), or 1/σ' = 1/σ + c·f'² by
// the law of drifting ions, or what a like bar of the same line takes there: three
// opinions that a band must hold. At another distance d from the web κ and c go as 1/d,
// what recombination leaves of the ions on their way; nothing tells how far an air stream carries them, so that
// a bar without air of its own is flattered beyond some 50 mm. Maker's data do better.
// What a device that is added takes (compressed air, power, ozone, noise, price) is told where
// the site describes it ([Device]) or the maker's data give it; the rest is named as not given.
//
// Goods that are no web have a description of their own ([Goods]): one charge per body,
// or one for each of its patches ([BodyPatch]: faces and corners of a large part, sides of a
// profile, edges of a sheet, each going the way by itself), the air in which it is or was
// conditioned, at its own temperature, and a leak along a named path by a law of the body
// against humidity. Readings correct what is thought of the stops.
//
// What is not in it. Of a sheet only the net of both faces is a state: an ioniser and a field
// meter see their sum, and of one face by itself no more than t/(εr·d), 0.13 % for 0.1 mm of
// εr 3 at 25 mm, so that the two faces must not be described as two patches, each of which would
// be treated as if it stood alone. A layer that is balanced on the two faces, which blocks
// piles, stands in no prediction of a sheet: read the upper face over the earthed board with a
// voltmeter (σ·t/(ε0·εr), 3.8 V per µC/m² there), or describe the sheets as a web, whose faces
// both go along. Patches do not act on one another either: what each gets of an ioniser is its
// reach, which has to be measured or judged with the others in place.
//
// A web has one air, at the temperature of [Site].WebTemperature, and where a station of the description gives the
// web another (webTemperature), at that: a leak on the stretch behind it follows the humidity there. [Moisten] and
// [Warm] change the air along the line or at one leak path, and are refused where water would condense on such a
// stretch. What heat itself does to a resistivity (that of the bulk, which pairs the faces, too) is not in it: no
// law of a line has an activation energy. No change heats or cools the web. No contact of a line follows humidity
// by a law. Readings that were taken in unlike airs are brought to one by the law of its leak in package survey,
// and the line is calibrated in the air of most readings.
//
// No result says that anything is free of danger. Without an answer to the questions of zone
// and flammables a plan holds earthing only.
package cure
