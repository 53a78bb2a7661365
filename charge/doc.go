// Package charge has the charge that contact makes and parting leaves. The gas
// that caps it is in charge/gas, what a field meter shows of it in charge/field, and
// what it can do in charge/hazard.
//
// # Where to start
//
// Three separate stages, each public and testable alone:
//
//   - What contact transfers: [NewContact], with strength, number of contacts and the
//     exponents of speed and load; [Contact.Transfer] counts the charge that is there
//     already. A roller whose cover keeps charge: [NewCoveredRoller], its swap
//     [CoverSwap]. The mechanics under a load exponent: [NewNip].
//   - What flows back while parting: [BackFlow], the race of the exit from the nip with
//     conduction.
//   - What the gas leaves: the caps of package gas, behind a roller
//     [CapBehindRoller]; a discharge leaves a part of the cap ([DischargeLeaves]).
//
// [NewParting] runs the last two on a face; [Parting.Part] says what is left, between
// which limits, and which stage ruled.
//
// What is known before any test, as parameters with a spread:
//
//   - exponents by kind of contact [Mode.Prior], humidity and temperature
//     [PriorSurroundings], both at another speed and humidity [Mode.Elsewhere], small
//     pieces [PieceCharge], signs that turn [Reversals];
//   - strength of a pair: the triboelectric series [FindSeries] and [SeriesPair], or
//     [FindWorkFunction] and [ContactPotential]; a scale from one measured pair,
//     [CalibrateSeries].
//
// What readings tell: [FitSaturation], [FitSpeedExponent], [FitLoadExponent],
// [FitSwap], [FitTwoContacts], [FitHumidity].
//
// Goods that are no web: particles [NewImpact]; powder [FindPowderOperation],
// [ClassifyPowder], [CloudField], [ConeEnergy]; liquids [FindLiquid],
// [StreamingCurrent], [VelocityLimit].
//
// Charge density in air is set by the breakdown of the gas, not by the difference of
// work functions: the strength of a pair is to be calibrated on the line; the gas
// and the geometry are law.
//
// # Sign and state
//
// Charge densities are per face, signed, in C/m². What one body gains in a
// contact the other loses ([CoveredRoller] keeps the account). A value outside
// the published range of a law is computed and flagged ([known.Validity]) or
// refused, as its comment says.
//
// None of this is an approval of anything: where charge can ignite or hurt,
// local codes and licensed practice decide.
package charge
