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
//	decaytest.Laws                     holds a law of your own to what a decay must do, in a test
//	Layer, NewStack, NewFloatingFilm   films in layers, on earth and in a free span
//	NewLiquid                          liquids, and when the ohmic law is refused
//	NewRing, NewBars, ClassScheme      resistance tests: factors and classes
//	NewPlateMonitor, PassLimits        charged plate, limits of test methods
//	FitDecay, PlanFit                  laws fitted to readings, and what they prove
//
// # How far an interval holds
//
// Records of 1000 V times a law, read at n times equal in ln t from 0.3 to 60 s, drawn
// from a seed; shares in per cent in which the nominal 95 % interval of a parameter
// holds the truth: the mean over all parameters of all eight laws, and the worst and
// the best of them (300 records each: chance alone spreads those by ±3). Tables by
// TestTables. Profile intervals ([Fit.Profile]):
//
//	noise                                 n = 8        n = 16       n = 24       n = 60       n = 400
//	Gaussian, 5 % of the voltage          96 (94–98)   97 (96–99)   97 (95–98)   96 (94–98)   95 (93–97)
//	Gaussian, 10 % of the voltage         96 (94–98)   97 (95–99)   97 (95–98)   96 (94–98)   95 (92–98)
//	Gaussian, 20 % of the voltage         96 (94–98)   97 (95–99)   97 (95–98)   96 (94–98)   95 (92–98)
//	Gaussian, 30 % of the voltage         96 (93–98)   97 (94–99)   97 (95–99)   96 (94–98)   95 (92–98)
//	lognormal, 30 % of the voltage        96 (93–98)   97 (95–99)   97 (94–98)   96 (93–98)   95 (93–97)
//	even, 30 % of the voltage             97 (95–98)   97 (95–99)   97 (94–99)   96 (93–98)   95 (92–97)
//	Gaussian, 10 % of V0                  96 (94–98)   97 (95–99)   97 (95–98)   96 (94–98)   95 (93–97)
//
// The same at 10 % noise whose neighbours go together. Fewer than about 20 readings
// cannot show it: state it, if a long record of the same meter has shown it:
//
//	errors                                n = 8        n = 16       n = 24       n = 60       n = 400
//	neighbours correlated by 0.3          93 (90–96)   95 (90–98)   97 (94–98)   96 (94–99)   95 (93–98)
//	neighbours correlated by 0.6          85 (75–92)   89 (84–92)   96 (93–98)   96 (94–99)   95 (93–98)
//	neighbours correlated by 0.8          76 (62–90)   79 (72–86)   92 (89–95)   96 (94–99)   95 (94–98)
//	drift over 5 s                        82 (70–92)   88 (82–92)   98 (95–100)  99 (97–100)  99 (97–100)
//	drift over 30 s                       65 (39–90)   78 (67–88)   95 (91–98)   96 (92–99)   96 (92–100)
//	correlated by 0.8, and that stated    95 (93–98)   95 (92–98)   95 (93–98)   96 (93–98)   95 (93–98)
//
// The robust fit at 10 % noise, wild readings 10 standard deviations off
// ([Fit.Param]; it needs about 16 readings):
//
//	readings                              n = 8        n = 16       n = 24       n = 60       n = 400
//	no wild reading                       95 (92–97)   96 (94–99)   96 (95–98)   96 (94–98)   94 (91–97)
//	5 % wild, both sides                  94 (87–99)   95 (89–98)   96 (94–98)   95 (88–98)   95 (93–97)
//	5 % wild, upwards                     94 (91–96)   96 (93–98)   97 (93–98)   95 (93–98)   95 (93–96)
//
// The time to half and to a tenth of 1000 V, 500 records a law of 40 readings from 0.3
// to 100 s with noise of 2 % of V0 and 5 % of the voltage, all laws fitted: own is the
// interval by the true law ([Fit.TimeToVoltageInterval]), laws the one over all laws
// (Low … High of [TimeSpread]), outer the envelope (Least … Most):
//
//	                                      time to half     to a tenth
//	true law                              own laws outer   own laws outer
//	exponential                            96   97    98    97   96    99
//	exponential with offset                97   97    98   100  100   100
//	two exponentials                       96   96    96    97   96    97
//	stretched exponential                  96   96    99    95   96    99
//	power law                              95   96   100    96   96    99
//	hyperbola                              95   97    99    94   97   100
//	ohmic and mobility                     95   96    99    95   96    99
//	transit                                94   94    95    94   94    95
//	(The exponential with offset ends at 150 V: its tenth is never reached.)
//
// # How far a warning holds
//
// How often a warning of [ModelComparison.Findings] is false or missing, over seeded records of
// the eight laws, of a line and a spot of charge under a probe and of two laws whose clock
// was started 3 s late, read perfectly (0.1 % of V0), well, fairly (2 % and 5 %), for too
// short, from too late on, with a drifting meter and with the noise stated right and at
// half; 300 records each. Laws count as alike if the noise hides the difference (χ² up by
// less than 1), and as different if nearly every record shows it (by more than 25); what
// lies between is counted neither way.
//
//	warning                         false alarms              missed
//	laws alike                    0.8 % of 10500       8.1 % of 3600
//	hyperbola proves nothing       0.0 % of 6300       1.7 % of 3000
//	record short                  0.0 % of 25200       0.0 % of 3300
//	late start                    0.1 % of 14700       0.0 % of 3000
//	clock late                    1.1 % of 24000       1.5 % of 1500
//	poor fit                       0.1 % of 3000       0.3 % of 3000
//	patterned residuals           0.8 % of 21000      10.5 % of 3000
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
