// Package line puts a whole production line together, forward:
//
//	Description ──▶ New (checks everything once) ──▶ Line (immutable)
//	Line.RunTo          walks the path once: charge on each face, what ruled, notices
//	Line.Expect         what a meter shows at a place, with its band
//	Line.With           the line with other contacts and bars, as a survey found them
//
// Of a Description the types that are looked for most: [StationSpec] is one station,
// [Bar] an ioniser by its maker's data (in [IonSpec]), [Meter] a meter, [ChangeSpec] what
// a contact gives. [Start] makes a first description of eight answers. Quantities in the file
// are texts with units, read by [example.org/pithball/units.Parse].
//
// The way back, from readings to what each contact does, is package
// [example.org/pithball/line/survey].
//
// It owns no physics formula: what contact makes, what the gas caps, what leaks
// and what ions remove come from packages charge, decay, ionflow and humidity.
// line owns the order and the bookkeeping of both faces.
//
// # Conventions
//
// The state is the charge density on each face, σ_A and σ_B (C/m², signed).
// Faces are fixed to the web at the unwind. Every contact and device names the
// face it meets. Stations are ordered along the web path. Net charge leaks only
// along a named path; without one, bulk conduction only pairs the two faces.
//
// The air is one for the line. A web that is heated or cooled has its own temperature from a station
// on, at which the water of that air counts ([Description.WebTemperature], [Description.LeakTime]).
package line
