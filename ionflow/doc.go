// Package ionflow has ions in air streams: what they are, the air that carries
// them, what becomes of them on the way, what reaches a charged surface and what
// it leaves there.
//
// # Where to start
//
//   - How much current does my web ask for? [units.SurfaceChargeDensity.Current]. What can
//     arrive at all? [RecombinationLimit].
//   - A source as a moving web meets it, blown, powered without air or passive, and searches
//     backwards: [example.org/pithball/ionflow/ioniser]. Here are the emitters that it takes
//     ([NewEmitter]) and the laws of a tip ([OnsetVoltage]).
//   - A double layer has no outside field and needs [NewDrivenPair]. Parts and
//     powder: [Collect], [PowderDemand].
//   - Ions: [SmallIons] with their bands, [Recombination], [MobilityAt]. Air:
//     [jet.Nozzle.Flow], [jet.ISO6358Flow], [jet.NewJet], [jet.CompressionWork]. Ions on the way:
//     [Recombine] and its kin in closed form, [Path] for any composition of them.
//   - The steady and the time-dependent one-dimensional problem of both ion
//     species with space charge: [example.org/pithball/ionflow/transport].
//
// # Conventions
//
// SI throughout; densities in 1/m³. A positive field along x points away from the
// source. Only the opposite polarity neutralises. Sources act on the face that they meet
// and on no other.
//
// Whatever the source, a bipolar stream brings no more than e·Q0'·U0/(α·x) per metre of
// width to a distance x, and a stream of one polarity no more than ε0·Q0'·U0/(μ·x):
// momentum of the air, not emitter current, is what carries ions far.
//
// # The offset
//
// [OffsetField] is that of air that ends at the
// surface: an upper bound. The full problem gives the same (0.92–1.00 of it for u = 2–30 m/s and n
// up to 1e12, 0.47–0.95 at 1e13) in uniform flow on to the surface, but next to nothing in
// stagnation flow, where the surplus leaves sideways with the air.
//
// # Cautions
//
// Compressed air, high voltage, ozone and coronas in explosive atmospheres can
// injure and kill: results carry notices ([Emitter.Notices], [PassiveNotices],
// [DrivenPair.Notices], [AirNotices]) that name what to consult, and none of them says that a place is free of danger.
package ionflow
