// Package charge has the charge that contact makes and parting leaves. The gas
// that caps it is in charge/gas, what a field meter shows of it in charge/field, and
// what it can do in charge/hazard.
//
// # From contact to what is left
//
// Three separate stages, each public and testable alone:
//
//   - transfer: [Contact] (strength of the pair, number of contacts, speed and
//     load as exponents with a spread, charge already on the face);
//   - back-flow while parting: [BackFlow], the race of the exit from the nip
//     with conduction;
//   - the gas: [gas.BreakdownVoltage] and the caps that follow from it,
//     [gas.CapFreeWeb], [gas.CapBacked], [gas.CapSphere]; behind a roller
//     [CapBehindRoller].
//
// [Parting] runs the last two on a face and says which stage ruled; a discharge
// leaves a part of the cap ([DischargeLeaves], [Parting.LeftLimits]). What is known
// before any test: [Mode.Prior], [Surroundings], [Mode.Elsewhere], the mechanics of a
// nip ([NewNip]), the swap of a cover ([CoveredRoller], [CoverSwap]), small pieces
// ([PieceCharge]), and signs that turn ([Reversals]). Charge
// density in air is set by the breakdown of the gas, not by the difference of
// work functions: the strength of a pair is a parameter with a spread, to be
// calibrated on the line ([FitSpeedExponent], [FitTwoContacts]); the gas and the
// geometry are law.
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
