// Package pithball is about electrostatic charge on production lines: how
// contact makes it, how it leaks, what an ionised air stream takes away, what
// humidity does to all of it, and what a meter will show.
//
// # Map
//
//	units     quantities in SI with exact text; units/known: provenance, bands, errors, notices;
//	          units/compute: the registry of public computations
//	humidity  moist air, the winter chain, moisture in materials, resistivity against humidity
//	charge    charge made by contact and left after parting; charge/gas: the breakdown
//	          of air that caps it; charge/field: what a meter shows; charge/hazard: what
//	          it can do, and whom to ask
//	decay     how charge leaks: laws, layers, liquids, test methods, fitting;
//	          decay/sheet: along resistive sheets and moving webs
//	ionflow   ions: sources, populations on the way, neutralisation of a surface;
//	          ionflow/jet: the air that carries them; ionflow/ioniser: what bars and passive
//	          points leave on a web; ionflow/transport: the coupled one-dimensional problem
//	line      a whole production line; line/survey: from readings to the source. Start
//	          here for the main job; line/cure: what changes bring; line/upkeep: what
//	          makes a cure last
//	…test     models of your own held to the laws of their kind, by one call in a test:
//	          charge/chargetest, decay/decaytest, humidity/humiditytest, ionflow/ionflowtest,
//	          line/linetest, units/unitstest
//
// The three physics packages do not import each other; what they share is a
// number with a unit. Start with [example.org/pithball/line/survey], or run
//
//	go run ./examples/survey
//
// # Conventions
//
// State is charge per area on each face of the web, σ_A and σ_B in C/m²,
// signed. Faces A and B are fixed to the web at the unwind and carried through
// turns. Volts are a view: what a meter of a stated kind shows at a stated place.
// A meter that reads zero proves a net of zero, never that there is no charge.
//
// Quantities are float64 types in coherent SI units. A positive field points
// away from positive charge. Relative humidity is over liquid water unless its
// type says ice. Constants are CODATA 2022.
//
// Constructors check every field and return errors that name field, value and
// allowed range ([example.org/pithball/units/known.FieldError]); what they
// return is immutable, never panics and is used from many goroutines at once.
//
// No result says that a place or a machine is free of danger. Hazard notices
// name a condition and the standard to consult, and leave the decision to a
// competent, where required licensed, person.
package pithball
