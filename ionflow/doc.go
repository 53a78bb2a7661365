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
//     [jet.Nozzle.Flow], [jet.ISO6358Flow], [jet.NewJet], [jet.CompressionWork]. Ions on the way:
//     [Recombine] and its kin in closed form, [Path] for any composition of them.
//   - The steady and the time-dependent one-dimensional problem of both ion
//     species with space charge: [example.org/pithball/ionflow/transport].
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
// that of the full problem (package transport: stagnation flow of speed u from an inlet 30 mm before a
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
// What is above 1 is space charge and recombination inside the last 30 mm; below 1, diffusion.
// Where drift is much faster than the air (μσ/ε0 ≫ u) it is space charge alone, and no air at all
// would give b + √(1 + b²) with b = e·n·L/σ, L the gap. Mobility (±20 %) and recombination (±40 %)
// weigh more than the model wherever the table is below 1.2.
//
// # Other gaps
//
// But for diffusion the problem depends on the gap L only through n·L. From 0.1 µC/m² up the
// table holds, row by row, at gaps of 10 and 100 mm for the same n·L, which is 3e9 to 3e12 1/m²
// (n = 3e11 in 10 mm is the row 1e+11, n = 3e13 in 100 mm the row 1e+14), within 0.01.
// At 0.01 µC/m² diffusion tells the gaps apart:
//
//	u, m/s   n·L, 1/m²   L = 10    30   100 mm
//	     2       3e+09      0.98  1.00  1.00
//	     2       3e+10      1.05  1.06  1.07
//	     2       3e+11      1.72  1.75  1.77
//	     2       3e+12      8.85  9.15  9.26
//	    10       3e+09      0.91  0.97  0.99
//	    10       3e+10      0.93  0.98  1.01
//	    10       3e+11      1.10  1.17  1.21
//	    10       3e+12      2.89  3.14  3.27
//	    30       3e+09      0.85  0.91  0.97
//	    30       3e+10      0.85  0.92  0.97
//	    30       3e+11      0.92  0.99  1.05
//	    30       3e+12      1.56  1.71  1.85
//
// # Other ions
//
// The ratio with both mobilities 20 % lower and higher, and α 40 % lower and higher, in both
// models, at 30 mm:
//
//	u, m/s   n, 1/m³  σ, µC/m²     middle   μ−20 %  μ+20 %  α−40 %  α+40 %
//	     2      1e13        0.1       1.312   1.293   1.335   1.285   1.336
//	     2      1e14        0.1       4.661   4.512   4.806   4.054   5.116
//	     2      1e14          1       1.551   1.542   1.557   1.551   1.551
//	    10      1e13        0.1       1.117   1.114   1.121   1.091   1.141
//	    10      1e14        0.1       2.290   2.253   2.333   1.983   2.565
//	    10      1e14          1       1.438   1.404   1.460   1.435   1.440
//	    30      1e13        0.1       1.053   1.052   1.054   1.039   1.067
//	    30      1e14        0.1       1.568   1.558   1.581   1.413   1.716
//	    30      1e14          1       1.249   1.237   1.264   1.218   1.278
//
// # Drawn sources
//
// The current density μσ²/(2·ε0·d) of a source with a Gap d and an abundant supply, divided by
// that of the full problem with one polarity, no air and 1e18 1/m³ at the inlet, where only
// space charge limits the current:
//
//	gap, mm   σ = 0.3      1      3     10     20 µC/m²
//	     10     0.994  0.997  0.999  1.000  1.000
//	     25     0.997  0.998  0.999  1.000  1.000
//	     50     0.998  0.999  1.000  1.000  1.000
//	    100     0.999  0.999  1.000  1.000  1.000
//
// What is below 1 is diffusion. With a backing behind the web at a distance h the drawn law
// understates: it takes the field factor h/(h + d) of ion-free space, but the ions in the gap d make
// it h/(h + 2d/3), so that the current is (h + d)²/(h + 2d/3)² times larger: up to 2.25, for h ≪ d.
//
// # What the map cannot show
//
// The inlet of the full one-dimensional problem never runs dry, so nothing in these tables is
// supply-limited. With a supply the quick model takes less, by 1/(1 + λσ/(ε0·s)), s the supply
// per area, because ions that were drawn are gone; this cap has no second method behind it: it is
// checked by its limits and by the charge balance only. Nor does the map show what needs a second
// dimension: the edge of the plume, the distance between emitter points, the air that the web drags along.
//
// # The offset
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
