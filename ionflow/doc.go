// Package ionflow has ions in air streams: what they are, the air that carries
// them, what becomes of them on the way, what reaches a charged surface and what
// it leaves there.
//
// # Where to start
//
//   - How much current does my web ask for? [Demand]. What can arrive at all?
//     [RecombinationLimit], [AirBar.At].
//   - A source as a moving web meets it: [NewNeutraliser] and [Neutraliser.Act],
//     [NewPassive], [NewUnassisted], [NewAirBar] with [AirBarSpec.Blown] for the air
//     supply; [AirBar.FarthestFor], [AirBar.LeastCurrentFor] and [LeastGaugeFor]
//     search backwards.
//   - A double layer has no outside field and needs [NewDrivenPair]. Parts and
//     powder: [Collect], [PowderDemand].
//   - Ions: [SmallIons] with their bands, [Recombination], [MobilityAt]. Air:
//     [Nozzle.Flow], [ISO6358Flow], [NewJet], [CompressionWork]. Ions on the way:
//     [Recombine] and its kin in closed form, [Path] for any composition of them.
//   - The steady and the time-dependent one-dimensional problem of both ion
//     species with space charge: [Problem] and [NewSolver].
//
// # Conventions
//
// SI throughout; densities in 1/m³. A positive field along x points away from the
// source. Only the opposite polarity neutralises. An ioniser sees the net charge of
// a web through the field factor of its place, the same function h/(d+h) of distance
// and backing as a field meter, which is an argument here. Sources act on the face
// that they meet and on no other.
//
// Whatever the source, a bipolar stream brings no more than e·Q0'·U0/(α·x) per metre of
// width to a distance x, and a stream of one polarity no more than ε0·Q0'·U0/(μ·x):
// momentum of the air, not emitter current, is what carries ions far.
//
// # How good the quick model is
//
// The current density λ·σ/ε0 of [Neutraliser.Act] with an abundant supply, divided by
// that of the full problem ([Problem]: stagnation flow of speed u from an inlet 30 mm before a
// wall of charge σ, equal densities n at the inlet, μ 1.4e-4 and 1.6e-4, α 1.6e-12):
//
//	u, m/s   n, 1/m³    σ = 0.01   0.1   0.3     1     3    10 µC/m²
//	     2     1e+11        1.00  1.00  1.00  1.00  1.00  1.00
//	     2     1e+12        1.06  1.03  1.01  1.01  1.00  1.00
//	     2     1e+13        1.76  1.31  1.14  1.05  1.02  1.01
//	     2     1e+14        9.15  4.66  2.85  1.55  1.17  1.05
//	    10     1e+11        0.97  1.00  1.00  1.00  1.00  1.00
//	    10     1e+12        0.98  1.01  1.01  1.00  1.00  1.00
//	    10     1e+13        1.17  1.12  1.08  1.04  1.01  1.00
//	    10     1e+14        3.14  2.29  1.84  1.44  1.16  1.05
//	    30     1e+11        0.91  1.00  1.00  1.00  1.00  1.00
//	    30     1e+12        0.92  1.00  1.00  1.00  1.00  1.00
//	    30     1e+13        0.99  1.05  1.04  1.02  1.01  1.00
//	    30     1e+14        1.71  1.57  1.41  1.25  1.13  1.04
//
// What is above 1 is recombination inside the last 30 mm; below 1, diffusion. The inlet
// of the full problem never runs dry, so that nothing there is supply-limited: with a
// supply the quick model takes less, by 1/(1 + λσ/(ε0·s)), s the supply per area, because
// ions that were drawn are gone. Mobility (±20 %) and recombination (±40 %) weigh more than
// the model wherever the table is below 1.2.
//
// [OffsetField], from which an [AirBar] has its offset, is that of air that ends at the
// surface: an upper bound. The full problem gives the same (0.92–1.00 of it for u = 2–30 m/s and n
// up to 1e12, 0.47–0.95 at 1e13) in uniform flow on to the surface, but next to nothing in
// stagnation flow, where the surplus leaves sideways with the air.
//
// # Cautions
//
// Compressed air, high voltage, ozone and coronas in explosive atmospheres can
// injure and kill: results carry notices ([Emitter.Notices], [PassiveSpec.Notices],
// [DrivenPair.Notices], [AirNotices]) that name what to
// consult, and none of them says that a place is free of danger.
package ionflow
