package field

import (
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
)

func bodyComputations() []compute.Entry {
	const c = "-> capacitance: to earth"
	const e = "-> field: before the body"
	return []compute.Entry{
		compute.Of11("SphereCapacitance", SphereCapacitance, electrostatics, aRadius, c),
		compute.Of11("DiscCapacitance", DiscCapacitance, electrostatics, aRadius, c),
		compute.Of21("RodCapacitance", RodCapacitance, electrostatics, aLength, "diameter 1e-9…1e6: not above the length", c),
		compute.Of21("SphereOverPlaneCapacitance", SphereOverPlaneCapacitance, electrostatics, aRadius,
			"gap 1e-12…1e6: sphere to plane", c),
		compute.Of31("PlateCapacitance", PlateCapacitance, electrostatics,
			"area 0…1e6: of a plate; distance 1e-12…1e3: between them",
			"relative_permittivity 1…1e4: of what is between", c),
		compute.Of31("CylinderOverPlaneCapacitance", CylinderOverPlaneCapacitance, electrostatics, aRadius, aLength,
			"axis 1e-12…1e6: height of the axis, above the radius", c),
		compute.Of41("CoaxialCapacitance", CoaxialCapacitance, electrostatics,
			"inner 1e-9…1e3: radius; outer 1e-9…1e3: radius, above the inner", aLength,
			"relative_permittivity 1…1e4: of what is between", c),
		compute.Of41("SphereField", SphereField, electrostatics, aCharge,
			"radius 0…1e3: of the sphere; distance 1e-9…1e6: from the surface", aFacing, e),
		compute.Of51("CylinderField", CylinderField, electrostatics, aCharge,
			"radius 0…1e3: of the bottle; length 0…1e6: of the bottle",
			"distance 1e-9…1e6: from the side", aFacing, e),
		compute.Of61("BoxField", BoxField, electrostatics,
			"density"+density+"on all faces; width"+anyLength+"of the face; height"+anyLength+
				"of the face; depth"+anyLength+"of the box; distance"+anyLength+"from the face", aFacing, e),
		compute.Of51("StreamField", StreamField, electrostatics, "charge_per_mass -1…1: of the material; "+
			"flow 0…1e4: of the material",
			"speed"+anyLength+"of the fall; distance"+anyLength+"from the stream", aFacing, "-> field: beside the stream"),
		compute.Of34("ChargedPile.At", func(s ChargedPileSpec, sheets int, target units.Voltage) (x PileState, n, first int,
			err error) {
			k, err := NewChargedPile(s)
			if err != nil {
				return
			}
			n, first = -1, -1
			if m, found := k.SheetsTo(target); found {
				n = m
			}
			if m, _, found := k.SheetsToSpark(); found {
				first = m
			}
			return k.At(sheets), n, first, nil
		}, electrostatics, "= Potential of the top of a pile of charged sheets on an earthed plate, its fields and what "+
			"breaks down first.",
			aFilm, "upper"+density+"upper face; lower"+density+"lower face; air_gap 0…1: under each sheet; "+
				"width 1e-3…1e3: least width of the pile",
			"air_strength 0…1e9: field at which air breaks down, 0 for 3 MV/m; "+
				"sheet_strength 0…1e10: of a sheet, 0 for 100 MV/m",
			"sheets 0…1e9: number; target 1e-9…1e12: for the number of sheets to reach it",
			"! brush-discharge", "-> voltage: of the top, cut by breakdown; free: if nothing broke down; height: of the pile; "+
				"edge: mean field along the edge; "+
				"gap: field in the lowest air gap; sheet: greatest field in a sheet; spark: what breaks down first; "+
				"validity: flags; "+
				"sheets_to_target: −1 for none; sheets_to_spark: −1 for none"),
		compute.Of33("Roll.At", func(s RollSpec, wraps int, target units.ElectricField) (RollState, int, error) {
			w, err := NewRoll(s)
			if err != nil {
				return RollState{}, 0, err
			}
			n, found := w.WrapsTo(target)
			if !found {
				n = -1
			}
			return w.At(wraps), n, nil
		}, electrostatics, "= Field and potential at the surface of a winding roll, on an insulating or an earthed core.",
			"core_radius 1e-4…10: outer radius of the core; core {insulating|earthed}: kind of core", aFilm,
			"outer"+density+"outward face; inner"+density+"inward face; surroundings 1e-3…1e3: radius of the earthed room",
			"air_strength 0…1e9: field at which air breaks down, 0 for 3 MV/m; film_strength 0…1e10: of a wrap, 0 for 100 MV/m",
			"wraps 0…1e6: number; target 1…1e9: field for the number of wraps to reach it",
			"! brush-discharge", "-> radius: outer; field: at the surface; inside: greatest field in a wrap; "+
				"voltage: of the surface, cut by breakdown; "+
				"free: if nothing broke down; spark: what breaks down first; validity: flags; wraps_to_target: −1 for none"),
		compute.Of41("Film.Pull", Film.Pull, electrostatics, aFilm,
			"outer"+density+"outer face; inner"+density+"inner face; other 0…1e6: other earth over the film",
			"-> pull: force per area to the metal"),
		compute.Of21("SheetPull", SheetPull, electrostatics,
			"a"+density+"net charge; b"+density+"net charge of the other -> pull: force per area"),
		compute.Of41("PatchedPull", PatchedPull, electrostatics,
			"amplitude"+density+"of the charge of a face; wavelength 1e-9…1e3: of the patches",
			"thickness 1e-9…1: of a sheet; gap 0…1: air between two sheets -> pull: force per area"),
		compute.Of41("DustPickUp", DustPickUp, electrostatics, "field -1e8…1e8: at the surface; "+
			"reference -1e8…1e8: field of the reference, not 0",
			"time 0…1e9: exposed; reference_time 1e-3…1e9: of the reference -> relative: dust over that of the reference"),
	}
}
