// Package field has what charge looks like from outside: the field of webs,
// sheets and parts at a place, what a meter shows of it, and how readings are
// read back.
//
// # Where to start
//
//   - The field before a web: [FieldFactor]; behind a roller [RollerFieldFactor],
//     where FieldFactor with [GapBehindRoller] is 5 … 8 % low from a radius past
//     the roller on and by more than half closer than a fifth of it (meter at half
//     a radius); near an edge [EdgeFactor], of a strip [StripFactor], of lanes
//     [ProfileField], of patches [PatchShare], [BarePatchShare]. With both faces and the film
//     between them: [Film.Between]. Parts: [SphereField], [CylinderField], [BoxField],
//     [StreamField].
//   - Meters: what it shows at another distance than its nominal one, [NewFieldMeter] and
//     [FieldMeter.Display]; a bare face [BareFaceFactor], [NewVoltmeter].
//   - Readings: what one reading can say of both faces [SeparateFaces], what is wrong
//     with the way it was taken [ReadingConditions.Flaws], how many are needed
//     [Repeats].
//   - Piles and rolls, and where they break down: [NewChargedPile], [NewRoll]. Cling:
//     [ClingLimit], [Film.Pull], [SheetPull], [PatchedPull]. Dust: [DustPickUp].
//     Current that a web carries: [units.SurfaceChargeDensity.Current], that a roller
//     takes: [RollerCurrent].
//   - Capacitance: [SphereCapacitance], [RodCapacitance],
//     [CylinderOverPlaneCapacitance] and their kin.
//
// # Conventions
//
// Charge densities are per face, signed, in C/m². A field factor is the field at the
// meter over σ/ε0 of the net charge; it is an argument wherever a place matters. A
// double layer has no outside field.
package field
