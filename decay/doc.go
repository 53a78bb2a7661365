// Package decay has how charge leaks: laws, layers, liquids, test methods and the
// fitting of measured decays. Charge that spreads along resistive sheets and moving
// webs is in decay/sheet.
//
// # Ask first where the charge goes
//
// Charge leaves a body along a path: an earthed edge, an earthed backing, a
// conductive roller, ions ([Path]). A free span of web that touches nothing earthed
// loses nothing by conduction; its bulk relaxation time ε0·εr·ρ only pairs the
// charges of the two faces ([FilmModes], [FloatingFilm]). So [LossAlong] takes the
// path as an argument, and without one returns what it was given.
//
// # Where to start
//
//	RelaxationTime, LossAlong          one time constant, one path
//	RelaxationBand, LeftAfter          the same for a resistivity known to a decade
//	NewExponential … NewTransit        laws: value, rate and time to a fraction
//	NewParallel, NewMixture, After, Then   laws made of laws
//	TimeTo, Rate                       for any law, also one of your own
//	Layer, NewStack, NewFloatingFilm   films in layers, on earth and in a free span
//	NewLiquid                          liquids, and when the ohmic law is refused
//	NewRing, NewBars, ClassScheme      resistance tests: factors and classes
//	NewPlateMonitor, PassLimits        charged plate, limits of test methods
//	FitDecay, PlanFit                  laws fitted to readings, and what they prove
//
// # Conventions
//
// A [Law] gives the fraction of the start value: 1 at and before t = 0. Charge,
// field and voltage are different outputs: bringing a web onto a roller lowers its
// voltage and loses no charge. The geometry is part of every law: a sample tested on
// metal does not predict the free span. Volume resistivity is in Ω·m, surface
// resistivity in Ω per square, ring resistance in Ω (a factor of about 10 below
// it): the types keep them apart.
//
// Resistivities of real surfaces are known to a factor of ten or worse and move by
// decades with humidity. Give ranges. A one-minute resistance test overrates the
// leak of a good insulator; no exponential holds decades beyond its data.
//
// Laws with an age ([Stretched], [PowerLaw], [CurieSchweidler], [Logarithmic]) must
// not be restarted on what is left: [After] says what an aged charge does.
//
// Sources stand at the laws; those that rest on memory say so.
package decay
