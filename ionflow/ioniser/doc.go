// Package ioniser has one reduced model for every source of ions that a charged web passes: a powered bar
// without air, direct or alternating, a blown bar, direct, alternating or pulsed, and passive points. An
// ionising nozzle on parts and doses stands beside it.
//
// # Where to start
//
//   - [New] checks a [Spec] and makes the characteristic curves of a source at its distance; [Source.At] puts it
//     before a web with metal at some gap behind; [Place.Act] takes a web through. Keep the Place: a pass is two
//     look-ups.
//   - Backwards: [Spec.Farthest], [Spec.LeastCurrent], [Spec.LeastVoltage], [LeastAir], [Place.FastestFor],
//     [Spec.CleanAfter].
//   - Several bars and what is left when one fails: [NewSeries]. Balance in volts of a plate monitor:
//     [PlateOffset], Spec.Offset, [Shown].
//   - Parts, doses, powder: [NewSpot].
//
// # The model
//
// A source at a place is three numbers along one parameter: the current I per metre of width that it delivers,
// the field F at the web and the voltage V across the gap. With earthed metal at h behind the web Gauss' law
// makes of them
//
//	σ(I) = ε0·(F + V/h)
//
// and since F and V know neither h nor the web's charge or speed, they are made once. A pass at speed v is
// T(σ1) − T(σ2) = 1/v with T = ∫dσ/I: exact for any mixture of regimes. It takes that the web changes slowly
// against the transit of the ions, that the zone is stirred, that charge does not move on the web, and that
// only the net counts.
//
// Blown: a march from the mouth to the web along mean speed and breadth of the jet, both polarities with
// recombination and the field of their charge, and at the mouth the field of the web against the bar's own
// return of ions. Like ions do not reach a web that repels them: before the web the stream turns and they leave
// sideways. Drawn: counter-ions alone against their own space charge, I = B·ε0·μ·F²/(2d). Points: the
// saturation law of a row of points at ±V before a web at φ, K·Σ|x|(|x| − V_s) with x = φ ± V; K·φ·(2V − V_s)
// for a weak web and K·φ² for a strong one, and nothing below φ = V_s for V = 0.
//
// A bar takes the largest of what these deliver to the same web. Where all are equal this is up to a factor of
// 2 cautious. That air never makes a bar worse is imposed: [Place.Bracket] has both ends.
//
// Exchange of polarities changes only the sign. There is no law for: faster air (beyond an optimum the same
// emission is spread thinner and mixed longer: 20 % more air lowered the current by up to 16 % in 47 of 600
// draws), a larger captured share (it brings like ions as well, up to 28 %), a longer contact length (it also
// spreads the field), and passive points that come nearer (they start later).
//
// # Flags
//
// Results carry [known.Validity]. Estimate says that a closure which nobody has measured decided: the contact
// length, the reach of an alternating bar, a cross-wind or the air that the web drags along, mixing of bunches,
// or the way out of like ions. Unpublished says that the constant of the saturation law (±40 %) or the law of
// the tips (×/÷ 1.6) rests on memory.
//
// # What each assumption costs
//
// Mobility ±20 % changes currents by ±20 % at most, recombination ±40 % by 15–40 % where both polarities
// overlap. Drawn currents are proportional to the breadth over which the field spreads (±40 %). The contact
// length weighs in full where the air conducts, not where supply or drift limits. A stream that slows down over
// the whole gap ages more than one that turns in the last 15 %: up to 2.5 times less in weak field where
// n·α·d/u > 0.2.
//
// # Cautions
//
// Compressed air, high voltage, ozone and coronas in explosive atmospheres can injure and kill:
// [Source.Notices] and [Spot.Notices] name what to consult, and none of them says that a place is free of
// danger.
package ioniser
