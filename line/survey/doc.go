// Package survey finds the sources of charge on a line from readings: the inverse
// of package line.
//
//	ReadSurvey         reads a surveyor's table: displays, places, speeds, airs, resistances
//	Diagnose           what each contact changed on each face, with bands; what can be said
//	                   of the source (Answer), and how well the readings fit together
//	Diagnosis.Next     the measurement that would settle most
//	Diagnosis.Findings all there is to say, as data
//	Diagnosis.Verdict  the same in at most seven sentences
//	Diagnosis.At       the line at another speed
//	Diagnosis.Posterior samples of everything that is unknown
//
// # Airs
//
// Readings of one survey may be taken in several airs. An air that was recorded is that of the whole line while
// the reading was taken; none is that of one zone. Where the web is heated or cooled a station gives its
// temperature ([line.StationSpec], webTemperature): the water stays that of the room, and the leak there follows
// the humidity at the web. At 27 °C the water of 22 °C and 45 %RH is 33 %RH, and by 0.085 decades per %RH a leak
// takes ten times as long. An error of that temperature is part of the doubt of the leak; air that would leave dew
// on such a web is refused. Of an absorbing web a stretch needs a leak time that was measured in it, and follows
// the air at the temperature of the rest. The charge of contacts differs by a quarter or so from air to air (a
// judgement); the leak times of a web that takes up water follow the humidity at its own temperature by the law of
// the description ([line.Web], its decadesPerPercent), which the readings correct for all paths together
// ([LeakFound]). An inert web leaks alike in all airs. Airs within 10 %RH are one, within 5 %RH where a leak
// follows them.
//
// # How it decides
//
// An answer is one of: one source; two of like size; one of two or three that the
// readings cannot separate, perhaps with something unlisted among them, perhaps with
// two of them of like size, and then with the chance of that (Answer.Both); something
// that is not on the list, between two readings; none above the limit; the readings
// contradict each other; the readings cannot tell, and why. A wrong name counts as
// nine that are missed. A contact is named alone only if the readings and not
// the description's opinion single it out, if it still leads without any one of
// them, and if nothing of like size shows beside it. No chance above 97 % is stated.
// Where no voltmeter saw the faces behind a contact of both, the scatter of the spots
// is heard: faces that cancel outside have patches that do not (Answer.Scatter). It
// gives a set, never a name, and never makes a line quiet.
//
// Where the source is not named, the verdict still says where the net charge, which is what a
// field meter shows, passes the limit (Diagnosis.Rises): the largest change of a face may hide in
// faces that cancel, the step of the net charge does not.
//
// What the answers and the bands are worth is counted on two kinds of invented
// plants that share no model with this package; the table stands in DEVELOPERS.md,
// and go run ./line/survey/internal/coverage makes it. Sources that lie between the
// same two readings cannot be told apart by any arithmetic: the sentence says where
// the step lies. Two neighbours that cancel between readings are invisible, and what
// cancels between the faces is invisible to a field meter.
package survey
