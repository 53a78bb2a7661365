// Package gas has the breakdown of air between a charged face and a body that
// leaves it, and the greatest charge that it leaves on the face.
//
// # Where to start
//
//   - At which voltage does a gap break down: [BreakdownVoltage], with
//     [units.Pressure.RelativeDensity] for the air of the place; median and limits of
//     measured voltages [BreakdownLimits]. Humidity: [HumidityFactor].
//   - How much charge stays: [CapBacked] on a film over earthed metal,
//     [CapFreeWeb] in a free span, [CapSphere] on a metal ball, [CapSquare] on a small
//     part, [CapUniform] and [CapBulk] for a stated strength. All are made of [Least];
//     with limits, [CapBackedLimits] and [LeastLimits].
//   - What breaks down first before a film on earthed metal, the air or the film: the
//     lesser of [CapBacked] and, for the strength of the film itself, [CapBulk].
//   - Another gas: [NewPaschen] and [Paschen.CapBacked], [FindSparkingMinimum].
//
// Charge density in air is set by this breakdown, not by the difference of work
// functions. Charge densities are in C/m², gaps in m; δ is the density of air
// relative to 20 °C and 101.325 kPa. Outside the published range of a law a value
// is computed and flagged ([known.Validity]).
package gas
