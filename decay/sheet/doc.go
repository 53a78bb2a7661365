// Package sheet has charge that spreads and leaks along resistive sheets: at rest
// and moving, near earth and in a free span.
//
// # Where to start
//
//	SpreadingSpeed, UpWebShare         charge on a free sheet, at rest and moving
//	NewSheet                           the rate of every wave number, for three supports
//	NewEarthedStrip, NewSlotStrip      strips with earthed edges, over earth and free
//	LineOnFreeSheet … StripesOnFreeSheet   patterns on an endless free sheet in closed form
//	NewEarthedDisc, NewSlotDisc        discs with an earthed rim
//	NewChargeMap                       any pattern of charge on a row or a plane, in time
//	NewNearEarthWeb, NewFreeSpanWeb    the moving web between earthed rollers
//	AntistatOnSpan                     whether a finish helps on a span, in this air, at this speed
//
// # Conventions
//
// Surface resistivity is in Ω per square, charge densities in C/m², places in m.
// Charge leaves a sheet at an earthed edge or roller only: a sheet that touches
// nothing earthed keeps its total. Values at one place are not the total.
//
// Resistivities of real surfaces are known to a factor of ten or worse and move by
// decades with humidity. Give ranges.
package sheet
