// Package hazard has what charge can do to people and to what burns: isolated
// conductors and their sparks, brush and propagating brush discharges, least
// ignition energies, shocks, and the notices that say whom to ask.
//
// # Where to start
//
//   - A metal part or a person that is not earthed: [NewConductor], then
//     [Conductor.Charged], [Conductor.After] and [Conductor.Induced].
//     The voltage of a charge on a capacitance: [VoltageOf].
//   - Does its spark reach what may ignite: [Conductor.Spark] with [FindIgnitable],
//     judged by the low end of what is held ([Ignitable.LowEnd]).
//   - An insulating surface has no ½CV²: the charge of one discharge against the
//     minimum igniting charge, [Transfer], [AreaHolding]; its potential, [Brush]; limits,
//     [BrushLimitsFromMemory]; a thin layer over metal: [PropagatingBrush]. What the
//     discharges can release: [DischargeEnergies].
//   - Will a person feel it, hurt, start: [FeltThreshold], [PainThreshold],
//     [FrightThreshold]. Capacitance of a body: [FindBodyCapacitance]; what it stands on:
//     [FindFloor].
//   - What to say and whom to ask: [NoticeIsolatedConductor] and the other notices.
//
// # Cautions
//
// A hazard is raised by its condition, whether or not anybody measured it. A value
// that is missing clears nothing. None of this is an approval: where charge can
// ignite or hurt, local codes and licensed practice decide.
package hazard
